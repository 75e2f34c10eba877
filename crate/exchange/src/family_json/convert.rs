//! From the JSON form to the kernel's types, by hand: ranges and the grid.
//!
//! Rounds what lies between grid points and notes it; never drops a profile.

use super::JsonError;
use super::form::{
    FamilyForm, PacingForm, PathForm, PlacementForm, ProfileForm, SettingsForm, SpanForm,
};
use crate::import::{Import, Note, cut_name, notes_on_faulty_drawings};
use crate::rounding::Rounding;
use loftkin_kernel::family::{
    Family, FamilyError, MOST_PROFILES, Pacing, Placement, Settings, TenthsOfDegree,
};
use loftkin_kernel::grid::GridError;
use loftkin_kernel::profile::{Node, Outline, PathSpan, Profile};
use loftkin_kernel::quote::quoted;

/// The family of `form`, with notes on what was rounded or cannot be judged.
pub(super) fn convert(form: FamilyForm) -> Result<Import, JsonError> {
    let count = form.profiles.len();
    if MOST_PROFILES < count {
        return Err(JsonError::Family(FamilyError::TooManyProfiles { count }));
    }
    let mut notes = Vec::new();
    let settings = convert_settings(&form.settings, &mut notes)?;
    let mut profiles = Vec::with_capacity(count);
    for (index, profile) in form.profiles.into_iter().enumerate() {
        let mut rounding = Rounding::default();
        let mut profile = convert_profile(index, profile, &mut rounding)?;
        profile.name = cut_name(profile.name, index, &mut notes);
        profiles.push(profile);
        notes.extend(rounding.note(index));
    }
    let family = Family {
        name: form.name,
        settings,
        profiles,
    };
    notes.extend(notes_on_faulty_drawings(&family));
    Ok(Import { family, notes })
}

fn convert_settings(form: &SettingsForm, notes: &mut Vec<Note>) -> Result<Settings, JsonError> {
    let mut settings = Settings::default();
    if let Some(pacing) = form.pacing {
        settings.pacing = match pacing {
            PacingForm::Parameter => Pacing::Parameter,
            PacingForm::Node => Pacing::Node,
        };
    }
    if let Some(placement) = form.placement {
        settings.placement = match placement {
            PlacementForm::Stack => Placement::Stack,
            PlacementForm::Ring => Placement::Ring,
        };
    }
    if let Some(degrees) = form.twist_limit {
        settings.twist_limit = tenths("twist", degrees, notes);
    }
    if let Some(degrees) = form.crease_limit {
        settings.crease_limit = tenths("crease", degrees, notes);
    }
    settings.validate().map_err(JsonError::Family)?;
    Ok(settings)
}

/// `degrees` in tenths; what lies out of range stays out of range for
/// [`Settings::validate`] to refuse.
fn tenths(limit: &str, degrees: f64, notes: &mut Vec<Note>) -> TenthsOfDegree {
    let tenths = TenthsOfDegree((degrees * 10.0).round().clamp(0.0, 65_535.0) as u16);
    if tenths.degrees() != degrees {
        notes.push(Note::general(format!(
            "The {limit} limit of {} degrees was rounded to {} degrees.",
            quoted(&degrees.to_string()),
            tenths.degrees()
        )));
    }
    tenths
}

fn convert_profile(
    index: usize,
    form: ProfileForm,
    rounding: &mut Rounding,
) -> Result<Profile, JsonError> {
    let number = index + 1;
    let place = |part: &str, error| JsonError::Coordinate {
        place: format!("profile {number}, {part}"),
        error,
    };
    let outline = match (form.nodes, form.path) {
        (Some(nodes), None) => {
            let mut kept = Vec::with_capacity(nodes.len());
            for (position, node) in nodes.iter().enumerate() {
                let part = format!("node {}", position + 1);
                kept.push(Node {
                    at: rounding
                        .point(node.at, &part)
                        .map_err(|error| place(&part, error))?,
                    corner: node.corner,
                });
            }
            Outline::Nodes(kept)
        }
        (None, Some(path)) => {
            convert_path(&path, rounding).map_err(|(part, error)| place(&part, error))?
        }
        _ => return Err(JsonError::Outline { profile: number }),
    };
    Ok(Profile {
        name: form.name,
        closed: form.closed,
        outline,
    })
}

fn convert_path(form: &PathForm, rounding: &mut Rounding) -> Result<Outline, (String, GridError)> {
    let mut point = |at, part: &str| {
        rounding
            .point(at, part)
            .map_err(|error| (part.to_owned(), error))
    };
    let start = point(form.start, "start")?;
    let mut spans = Vec::with_capacity(form.spans.len());
    for (position, span) in form.spans.iter().enumerate() {
        let part = format!("span {}", position + 1);
        spans.push(match *span {
            SpanForm::Line(to) => PathSpan::Line {
                to: point(to, &part)?,
            },
            SpanForm::Cubic([first, second, to]) => PathSpan::Cubic {
                first: point(first, &part)?,
                second: point(second, &part)?,
                to: point(to, &part)?,
            },
        });
    }
    Ok(Outline::Path { start, spans })
}
