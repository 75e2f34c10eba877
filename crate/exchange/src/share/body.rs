//! The body of a share code: which bits stand for which part of a family.
//!
//! In order: settings; the family's name; the number of profiles; for each its
//! name, closed or open, nodes or path, their number, corners or kinds of span,
//! and the row of all its points. Names begin with what they share with the
//! name before, as those of a family often do.

use super::bits::{BitReader, BitWriter};
use super::points;
use loftkin_kernel::family::{Family, MOST_PROFILES, Pacing, Placement, Settings, TenthsOfDegree};
use loftkin_kernel::grid::GridPoint;
use loftkin_kernel::profile::{LONGEST_NAME, Node, Outline, PathSpan, Profile};

/// The order of the code for counts of nodes, spans and letters: short about 8.
const COUNT_ORDER: u32 = 3;

pub(super) fn write(family: &Family) -> Vec<u8> {
    let mut writer = BitWriter::default();
    write_settings(&mut writer, &family.settings);
    write_name(&mut writer, &family.name, "");
    write_count(&mut writer, family.profiles.len());
    let mut name_before = family.name.as_str();
    let mut row_before = Vec::new();
    for profile in &family.profiles {
        write_name(&mut writer, &profile.name, name_before);
        name_before = &profile.name;
        writer.bit(profile.closed);
        let row = write_outline(&mut writer, &profile.outline);
        points::write(&mut writer, &row, &row_before);
        row_before = row;
    }
    writer.into_bytes()
}

/// The family, or nothing when the bits are none that [`write()`] makes.
pub(super) fn read(bytes: &[u8]) -> Option<Family> {
    let mut reader = BitReader::new(bytes);
    let settings = read_settings(&mut reader)?;
    let name = read_name(&mut reader, "")?;
    let count = read_count(&mut reader).filter(|&count| count <= MOST_PROFILES)?;
    let mut name_before = name.clone();
    let mut row_before = Vec::new();
    let mut profiles = Vec::new();
    for _ in 0..count {
        let name = read_name(&mut reader, &name_before)?;
        name_before.clone_from(&name);
        let closed = reader.bit()?;
        let (outline, row) = read_outline(&mut reader, &row_before)?;
        row_before = row;
        profiles.push(Profile {
            name,
            closed,
            outline,
        });
    }
    reader.is_finished().then_some(Family {
        name,
        settings,
        profiles,
    })
}

fn write_settings(writer: &mut BitWriter, settings: &Settings) {
    let usual = Settings::default();
    writer.bit(settings.pacing == Pacing::Node);
    writer.bit(settings.placement == Placement::Ring);
    for (limit, usual) in [
        (settings.twist_limit, usual.twist_limit),
        (settings.crease_limit, usual.crease_limit),
    ] {
        writer.bit(limit != usual);
        if limit != usual {
            writer.bits(u64::from(limit.0), 16);
        }
    }
}

fn read_settings(reader: &mut BitReader<'_>) -> Option<Settings> {
    let mut settings = Settings::default();
    if reader.bit()? {
        settings.pacing = Pacing::Node;
    }
    if reader.bit()? {
        settings.placement = Placement::Ring;
    }
    for limit in [&mut settings.twist_limit, &mut settings.crease_limit] {
        if reader.bit()? {
            *limit = TenthsOfDegree(reader.bits(16)? as u16);
        }
    }
    Some(settings)
}

pub(super) fn write_count(writer: &mut BitWriter, count: usize) {
    writer.golomb(count as u64, COUNT_ORDER);
}

pub(super) fn read_count(reader: &mut BitReader<'_>) -> Option<usize> {
    usize::try_from(reader.golomb(COUNT_ORDER)?).ok()
}

/// The letters that two names begin with alike. At most [`LONGEST_NAME`], so
/// that a hostile code cannot grow one long name out of a few bits again and
/// again.
fn shared_letters(name: &str, before: &str) -> usize {
    name.chars()
        .zip(before.chars())
        .take(LONGEST_NAME)
        .take_while(|(one, other)| one == other)
        .count()
}

fn write_name(writer: &mut BitWriter, name: &str, before: &str) {
    let shared = shared_letters(name, before);
    let rest: String = name.chars().skip(shared).collect();
    if !before.is_empty() {
        write_count(writer, shared);
    }
    write_count(writer, rest.len());
    writer.bit(rest.is_ascii());
    for byte in rest.bytes() {
        writer.bits(u64::from(byte), if rest.is_ascii() { 7 } else { 8 });
    }
}

fn read_name(reader: &mut BitReader<'_>, before: &str) -> Option<String> {
    let shared = if before.is_empty() {
        0
    } else {
        read_count(reader)?
    };
    if LONGEST_NAME < shared {
        return None;
    }
    let mut name: String = before.chars().take(shared).collect();
    let length = read_count(reader)?;
    let width = if reader.bit()? { 7 } else { 8 };
    if reader.left() / 7 < length {
        return None;
    }
    let mut bytes = Vec::with_capacity(length);
    for _ in 0..length {
        bytes.push(reader.bits(width)? as u8);
    }
    name.push_str(std::str::from_utf8(&bytes).ok()?);
    Some(name)
}

/// Writes everything but the points, and returns these in order.
fn write_outline(writer: &mut BitWriter, outline: &Outline) -> Vec<GridPoint> {
    match outline {
        Outline::Nodes(nodes) => {
            writer.bit(false);
            write_count(writer, nodes.len());
            let any_corner = nodes.iter().any(|node| node.corner);
            writer.bit(any_corner);
            if any_corner {
                nodes.iter().for_each(|node| writer.bit(node.corner));
            }
            nodes.iter().map(|node| node.at).collect()
        }
        Outline::Path { start, spans } => {
            writer.bit(true);
            write_count(writer, spans.len());
            let mut row = vec![*start];
            for span in spans {
                match *span {
                    PathSpan::Line { to } => {
                        writer.bit(false);
                        row.push(to);
                    }
                    PathSpan::Cubic { first, second, to } => {
                        writer.bit(true);
                        row.extend([first, second, to]);
                    }
                }
            }
            row
        }
    }
}

/// An outline, and the row of its points.
fn read_outline(
    reader: &mut BitReader<'_>,
    row_before: &[GridPoint],
) -> Option<(Outline, Vec<GridPoint>)> {
    let is_path = reader.bit()?;
    let count = read_count(reader)?;
    let has_flags = is_path || reader.bit()?;
    if reader.left() < count {
        return None;
    }
    let mut flags = vec![false; count];
    if has_flags {
        for flag in &mut flags {
            *flag = reader.bit()?;
        }
    }
    if is_path {
        let points = 1 + flags
            .iter()
            .map(|&cubic| if cubic { 3 } else { 1 })
            .sum::<usize>();
        let row = points::read(reader, points, row_before)?;
        Some((path(&flags, &row)?, row))
    } else {
        let row = points::read(reader, count, row_before)?;
        let node = |(&at, &corner)| Node { at, corner };
        let nodes = row.iter().zip(&flags).map(node).collect();
        Some((Outline::Nodes(nodes), row))
    }
}

fn path(cubics: &[bool], row: &[GridPoint]) -> Option<Outline> {
    let mut points = row.iter().copied();
    let start = points.next()?;
    let mut spans = Vec::with_capacity(cubics.len());
    for &cubic in cubics {
        spans.push(if cubic {
            PathSpan::Cubic {
                first: points.next()?,
                second: points.next()?,
                to: points.next()?,
            }
        } else {
            PathSpan::Line { to: points.next()? }
        });
    }
    Some(Outline::Path { start, spans })
}
