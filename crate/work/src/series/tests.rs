//! The series against counts by hand, cylinders by formula, and the first bytes of formats.

use super::*;
use loftkin_kernel::family::Family;
use loftkin_kernel::profile::{Node, Profile};
use sha2::Digest;
use std::f64::consts::PI;

/// A circle of 32 nodes; all in mm.
fn circle(centre: f64, radius: f64) -> Profile {
    let node = |k: i32| {
        let angle = 2.0 * PI * f64::from(k) / 32.0;
        let step = |place: f64| (100.0 * place).round() as i32;
        Node::smooth(
            step(centre + radius * angle.cos()),
            step(radius * angle.sin()),
        )
    };
    Profile::closed((0..32).map(node).collect())
}

/// Three circles about the place `centre` to the right.
fn circles(centre: f64) -> Family {
    Family {
        name: "Rims".to_owned(),
        profiles: [40.0, 50.0, 60.0]
            .map(|radius| circle(centre, radius))
            .to_vec(),
        ..Family::default()
    }
}

pub(super) fn station(at: f64) -> StationWish {
    StationWish {
        at,
        scale: 1.0,
        right: 0.0,
        up: 0.0,
        turn: 0.0,
        allowed: None,
    }
}

pub(super) fn stack(count: usize) -> SeriesWish {
    SeriesWish {
        ring: false,
        all_round: false,
        stations: (0..count)
            .map(|index| station(30.0 * index as f64))
            .collect(),
        blend: BlendWish::Ruled,
        no_equal_neighbours: false,
    }
}

pub(super) fn session(wish: &SeriesWish) -> SeriesSession {
    SeriesSession::new(circles(0.0), wish).unwrap()
}

#[test]
fn pieces_are_counted_and_numbered_both_ways() {
    let mut wish = stack(4);
    assert_eq!(session(&wish).count().count, "81");
    wish.no_equal_neighbours = true;
    let session = session(&wish);
    // 3 for the first, 2 for each after it.
    assert_eq!(session.count().count, "24");
    for number in 1..=24 {
        let piece = session.piece(&number.to_string()).unwrap();
        assert_eq!(session.piece_of(piece.arrangement.clone()).unwrap(), piece);
    }
    assert_eq!(session.piece("1").unwrap().arrangement, [0, 1, 0, 1]);
    let wrong = session.piece_of(vec![0, 0, 1, 2]).unwrap_err().to_string();
    assert!(wrong.contains("beside"), "{wrong}");
    let beyond = session.piece("25").err().unwrap().to_string();
    assert!(beyond.contains("from 1 to 24"), "{beyond}");
    let word = session.piece("a dozen").err().unwrap().to_string();
    assert!(word.contains("whole number"), "{word}");
}

#[test]
fn a_fixed_station_keeps_its_profile_and_none_left_says_why() {
    let mut wish = stack(3);
    wish.stations[1].allowed = Some(vec![2]);
    let session = session(&wish);
    assert_eq!(session.count().count, "9");
    let chosen = session.choose(7, 100).unwrap();
    assert_eq!(chosen.len(), 9);
    assert!(chosen.iter().all(|piece| piece.arrangement[1] == 2));
    wish.stations[2].allowed = Some(vec![2]);
    wish.no_equal_neighbours = true;
    let none = self::session(&wish).count();
    assert_eq!(none.count, "0");
    assert!(none.empty.unwrap().contains("stations 2 and 3"));
}

/// 3 x 2 x 1 pieces where a station takes any of three circles, two, one.
#[test]
fn stations_take_only_the_profiles_that_they_allow() {
    let mut wish = stack(3);
    wish.stations[1].allowed = Some(vec![2, 0]);
    wish.stations[2].allowed = Some(vec![1]);
    let session = session(&wish);
    assert_eq!(session.count().count, "6");
    for number in 1..=6 {
        let piece = session.piece(&number.to_string()).unwrap().arrangement;
        assert!(piece[1] != 1 && piece[2] == 1, "{piece:?}");
    }
    wish.stations[0].allowed = Some(vec![3]);
    let gone = SeriesSession::new(circles(0.0), &wish).err().unwrap();
    let told = gone.to_string();
    assert!(told.contains("station 1 allows profile 4"), "{told}");
}

#[test]
fn a_document_gives_back_what_was_set_and_the_piece() {
    let mut wish = SeriesWish {
        ring: true,
        all_round: false,
        blend: BlendWish::Square,
        no_equal_neighbours: true,
        ..stack(4)
    };
    wish.stations[1] = StationWish {
        at: 12.5,
        scale: 0.75,
        right: -3.25,
        up: 4.0,
        turn: 0.0,
        allowed: Some(vec![0, 2]),
    };
    let piece = "123456789012345678901234567890";
    let code = document::to_code(&wish, Some(piece));
    let read = document::of_code(&code).unwrap();
    assert_eq!((&read.wish, read.piece.as_deref()), (&wish, Some(piece)));
    let file = document::to_file(&wish, None);
    let read = document::of_file(&file).unwrap();
    assert_eq!((&read.wish, read.piece), (&wish, None));
    for (blend, (word, _)) in [
        BlendWish::Ruled,
        BlendWish::Eased,
        BlendWish::Square,
        BlendWish::Cubic,
    ]
    .into_iter()
    .zip(loftkin_exchange::series::BLENDS)
    {
        assert_eq!(
            SeriesWish::of(&SeriesWish { blend, ..stack(4) }.plan(None)).blend,
            blend
        );
        let of_word = loftkin_exchange::series::blend_of(word).unwrap();
        assert_eq!(BlendWish::from(of_word), blend);
    }
    // What cannot be used is kept all the same.
    wish.stations[3].at = 0.0;
    wish.stations[3].allowed = Some(vec![200]);
    assert_eq!(
        document::of_code(&document::to_code(&wish, None))
            .unwrap()
            .wish,
        wish
    );
    assert!(document::of_code(&code[..code.len() - 2]).is_err());
}

/// Necklaces and bracelets of 4 beads in 3 colours, Burnside by hand:
/// (81 + 9 + 3 + 3)/4 = 24 and (96 + 2*27 + 2*9)/8 = 21.
#[test]
fn a_ring_is_counted_up_to_turning_and_mirroring() {
    let family = circles(200.0);
    let wish = SeriesWish {
        ring: true,
        all_round: true,
        stations: (0..4)
            .map(|index| station(90.0 * f64::from(index)))
            .collect(),
        ..stack(2)
    };
    let count = SeriesSession::new(family.clone(), &wish).unwrap().count();
    assert_eq!(count.count, "81");
    assert_eq!(count.turning.as_deref(), Some("24"));
    assert_eq!(count.mirroring.as_deref(), Some("21"));
    let mut uneven = wish;
    uneven.stations[1].at = 80.0;
    let count = SeriesSession::new(family, &uneven).unwrap().count();
    assert!(count.turning.is_none() && !count.apart.is_empty());
}

#[test]
fn a_picture_stands_about_the_middle_and_faces_outward() {
    let picture = session(&stack(3)).picture("14", 60, 12).unwrap();
    let (columns, rows) = (picture.along.len(), picture.across.len());
    assert_eq!(picture.points.len(), 3 * columns * rows);
    assert_eq!(picture.facing.len(), picture.points.len());
    assert_eq!(picture.stations.len(), 3 * 3 * columns);
    assert!(picture.points.iter().all(|part| part.abs() <= 0.5001));
    // Piece 14 of 27 is the cylinder of the second circle: its skin faces away from its axis.
    for (at, facing) in picture.points.chunks(3).zip(picture.facing.chunks(3)) {
        let out = (at[0] * facing[0] + at[2] * facing[2]) / at[0].hypot(at[2]);
        assert!((out - 1.0).abs() < 1e-2, "{out}");
        assert!(facing[1].abs() < 1e-3);
    }
}

/// The point of piece `arrangement` at a level of a sketch, as a picture works it out.
fn sketched(sketch: &Sketch, level: usize, arrangement: &[usize], point: usize) -> [f64; 3] {
    let level = &sketch.levels[Sketch::LEVEL * level..][..Sketch::LEVEL];
    let (mut x, mut y) = (0.0, 0.0);
    for slot in 0..4 {
        let (station, weight) = (level[9 + slot] as usize, level[13 + slot]);
        let at = 2 * ((station * 3 + arrangement[station]) * 9 + point);
        x += weight * sketch.sections[at];
        y += weight * sketch.sections[at + 1];
    }
    [0, 1, 2].map(|axis| f64::from(level[axis] + x * level[3 + axis] + y * level[6 + axis]))
}

/// Against the surface itself, for every blend in a stack and in a ring.
#[test]
fn a_sketch_is_drawn_on_the_skin_of_the_piece() {
    let arrangement = [0, 2, 1, 2, 0];
    for (ring, all_round) in [(false, false), (true, false), (true, true)] {
        for blend in [
            BlendWish::Ruled,
            BlendWish::Eased,
            BlendWish::Square,
            BlendWish::Cubic,
        ] {
            let wish = SeriesWish {
                ring,
                all_round,
                blend,
                ..stack(5)
            };
            let session = SeriesSession::new(circles(200.0), &wish).unwrap();
            let sketch = session.sketch(8);
            let levels = sketch.levels.len() / Sketch::LEVEL;
            assert_eq!(sketch.sections.len(), 5 * 3 * 9 * 2);
            assert_eq!(sketch.stations.len(), 5);
            let number = session.piece_of(arrangement.to_vec()).unwrap().number;
            let piece = session.form(&number.parse().unwrap()).unwrap();
            let layout = piece.layout();
            for (station, &level) in sketch.stations.iter().enumerate() {
                let v = layout.fraction_of(station);
                for point in 0..9 {
                    let there = piece.point(point as f64 / 8.0, v);
                    let drawn = sketched(&sketch, level as usize, &arrangement, point);
                    let off = (there - nalgebra::Point3::from(drawn)).norm();
                    assert!(off < 1e-3, "{blend:?} {ring} station {station}: {off} mm");
                }
            }
            let last = sketched(&sketch, levels - 1, &arrangement, 3);
            let off = (piece.point(3.0 / 8.0, 1.0) - nalgebra::Point3::from(last)).norm();
            assert!(off < 1e-3, "{blend:?} {ring}: {off} mm");
            // Straight from station to station only where the skin is.
            assert_eq!(levels == 5, !ring && blend == BlendWish::Ruled);
        }
    }
}

/// Against the cylinder: lateral area 2 pi r h, volume pi r^2 h.
#[test]
fn a_cylinder_has_its_measures_and_wrong_limits_are_named() {
    let session = session(&stack(3));
    let making = session.making("14", &ShopWish::default()).unwrap();
    let value = |what: &str| {
        let found = making.figures.iter().find(|figure| figure.what == what);
        let text = &found.unwrap().figure;
        text.split(' ').next().unwrap().parse::<f64>().unwrap()
    };
    let (radius, height) = (5.0, 6.0);
    assert!((value("Area of the skin") - 2.0 * PI * radius * height).abs() < 0.1);
    assert!((value("Volume enclosed") - PI * radius * radius * height).abs() < 0.3);
    // Titanium of 1 mm: 4.51 g/cm3 times 18.85 cm3.
    assert!((value("Mass at the flat gauge") - 0.085).abs() < 0.001);
    // Of a blank of pi 50² mm² the walls take 2 pi 50 60 / (1 + c), and 1 + c = g solves
    // g² = 1 + 2.4 g.
    let grown = 1.2 + (1.2_f64 * 1.2 + 1.0).sqrt();
    let formed = 1e-6 * 4.51 * 2.0 * PI * 50.0 * 60.0 / grown;
    assert!((value("Mass, formed") - formed).abs() < 0.001, "{formed}");
    // Tips when the centre, half way up, passes the rim.
    let tips = (radius / (height / 2.0)).atan().to_degrees();
    let rests = making.figures.last().unwrap();
    assert!(
        rests.figure.contains(&format!("{tips:.0}")),
        "{}",
        rests.figure
    );
    assert_eq!(making.checks.len(), 7);
    let draft = &making.checks[0];
    assert!(!draft.passes && draft.worst.contains("0.0"), "{draft:?}");
    assert!(making.cautions[0].contains("estimates for design"));
    let wrong = ShopWish {
        gauge: 0.0,
        ..ShopWish::default()
    };
    let told = session.making("14", &wrong).unwrap_err().to_string();
    assert!(told.contains("gauge"));
}

#[test]
fn temperatures_of_materials_stand_in_both_scales() {
    for note in materials().iter().flat_map(|material| &material.notes) {
        assert_eq!(note.contains("°C"), note.contains("°F"), "{note}");
    }
}

/// The first bytes: ISO 10303-21, 3MF (a zip), glTF 2.0; binary STL by its length.
#[test]
fn files_are_of_their_kind() {
    let session = session(&stack(3));
    let file = |word| session.file("5", word, 0.1).unwrap();
    assert!(file("step").starts_with(b"ISO-10303-21;"));
    assert!(file("3mf").starts_with(b"PK\x03\x04"));
    assert!(file("gltf").starts_with(b"glTF"));
    let mesh = file("stl");
    let count = u32::from_le_bytes(mesh[80..84].try_into().unwrap());
    assert_eq!(mesh.len(), 84 + 50 * count as usize);
    assert!(session.file("5", "stl", 0.0).is_err());
    for word in ["profiles", "trim", "flat"] {
        assert!(
            file(word).windows(4).any(|bytes| bytes == b"<svg"),
            "{word}"
        );
    }
    assert!(session.file("5", "obj", 0.1).is_err());
    assert!(session.file("28", "step", 0.1).is_err());
}

#[test]
fn numbers_that_a_person_writes_are_told_one_by_one() {
    let session = session(&stack(3));
    assert_eq!(session.selected("1-3, 27").unwrap(), ["1", "2", "3", "27"]);
    for (text, told) in [
        ("3,1", "must rise"),
        ("28", "from 1 to 27"),
        ("all", "names no pieces"),
    ] {
        let error = session.selected(text).unwrap_err().to_string();
        assert!(error.contains(told), "{error}");
    }
}

fn words(words: &[&str]) -> Vec<String> {
    words.iter().map(|&word| word.to_owned()).collect()
}

/// Read back by the crate zip, and checksums by the crate sha2 over what was read.
#[test]
fn a_zip_holds_the_files_of_its_pieces_and_a_manifest_that_fits_them() {
    let session = session(&stack(3));
    let mut packing = Packing::new(&words(&["stl", "profiles"]), 0.1).unwrap();
    let mut bytes = Vec::new();
    for number in ["5", "14"] {
        assert!(packing.add(&session, number).unwrap().is_empty());
        bytes.extend(packing.take());
    }
    assert!(
        packing.add(&session, "5").is_err(),
        "a piece stands in it once"
    );
    bytes.extend(packing.finish(&session, 2).unwrap());
    let mut read = zip::ZipArchive::new(std::io::Cursor::new(bytes)).unwrap();
    let mut content = |name: &str| {
        let mut found = Vec::new();
        std::io::Read::read_to_end(&mut read.by_name(name).unwrap(), &mut found).unwrap();
        found
    };
    assert_eq!(
        content("piece-14.stl"),
        session.file("14", "stl", 0.1).unwrap()
    );
    // Piece numbers mean something for this family and this series only: both are there.
    let text = |bytes| String::from_utf8(bytes).unwrap();
    let family = loftkin_exchange::family_json::read(&text(content("family.json"))).unwrap();
    assert_eq!(&family.family, session.table.family());
    let series = document::of_file(&text(content("series.json"))).unwrap();
    assert_eq!(series.wish, stack(3));
    let manifest = text(content("manifest.csv"));
    let lines: Vec<Vec<&str>> = manifest
        .lines()
        .map(|line| line.split(',').collect())
        .collect();
    assert_eq!(lines.len(), 5);
    let column = |name: &str| lines[0].iter().position(|one| *one == name).unwrap();
    for line in &lines[1..] {
        let file = content(line[column("file")]);
        assert_eq!(line[column("bytes")], file.len().to_string());
        let sum: String = sha2::Sha256::digest(&file)
            .iter()
            .map(|byte| format!("{byte:02x}"))
            .collect();
        assert_eq!(line[column("sha256")], sum);
        assert_eq!(line[column("problem")], "");
    }
    assert_eq!((lines[3][0], lines[3][1]), ("14", "2 2 2"));
    // Piece 14 is a cylinder: its skin 2 pi r h, its volume pi r^2 h.
    let figure = |name: &str| lines[3][column(name)].parse::<f64>().unwrap();
    assert!((figure("skin_area_mm2") / (2.0 * PI * 50.0 * 60.0) - 1.0).abs() < 1e-3);
    assert!((figure("volume_mm3") / (PI * 2500.0 * 60.0) - 1.0).abs() < 1e-3);
}

/// Read back by the crate zip, like the whole one.
#[test]
fn a_zip_that_was_stopped_is_whole_and_says_that_it_is_a_part() {
    let session = session(&stack(3));
    let mut packing = Packing::new(&words(&["profiles"]), 0.1).unwrap();
    for number in ["5", "14"] {
        packing.add(&session, number).unwrap();
    }
    let bytes = packing.finish(&session, 27).unwrap();
    let mut read = zip::ZipArchive::new(std::io::Cursor::new(bytes)).unwrap();
    let names = read.file_names().map(|name| name.unwrap().into_owned());
    let mut names: Vec<_> = names.collect();
    names.sort();
    assert_eq!(
        names,
        [
            "family.json",
            "manifest.csv",
            "piece-14-profiles.svg",
            "piece-5-profiles.svg",
            "series.json"
        ]
    );
    let mut manifest = String::new();
    std::io::Read::read_to_string(&mut read.by_name("manifest.csv").unwrap(), &mut manifest)
        .unwrap();
    let lines: Vec<&str> = manifest.lines().collect();
    assert_eq!(lines.len(), 4);
    assert!(lines[1].starts_with("5,") && lines[2].starts_with("14,"));
    let (empty, told) = lines[3].split_once('"').unwrap();
    assert_eq!(empty.len(), lines[0].matches(',').count());
    assert_eq!(
        told,
        "this is a part: 2 of 27 pieces, for the making was stopped\""
    );
}

#[test]
fn what_cannot_be_made_is_told_and_the_rest_goes_on() {
    // From 0.1 m across to 100 m and back: a mesh within 0.001 mm has too many triangles.
    let mut wish = stack(3);
    wish.blend = BlendWish::Eased;
    wish.stations[1].scale = 1000.0;
    let session = session(&wish);
    let mut packing = Packing::new(&words(&["stl", "profiles"]), 0.001).unwrap();
    let problems = packing.add(&session, "5").unwrap();
    assert!(
        problems.len() == 1 && problems[0].starts_with("piece 5, stl: "),
        "{problems:?}"
    );
    let mut read =
        zip::ZipArchive::new(std::io::Cursor::new(packing.finish(&session, 1).unwrap())).unwrap();
    assert!(read.by_name("piece-5-profiles.svg").is_ok());
    assert!(read.by_name("piece-5.stl").is_err());
    let mut manifest = String::new();
    std::io::Read::read_to_string(&mut read.by_name("manifest.csv").unwrap(), &mut manifest)
        .unwrap();
    assert!(
        manifest.lines().nth(1).unwrap().contains(",,,"),
        "{manifest}"
    );
    for (formats, tolerance, told) in [
        (&[][..], 0.1, "no format"),
        (&["obj"][..], 0.1, "not “obj”"),
        (&["stl"][..], 0.0, "tolerance"),
    ] {
        let error = Packing::new(&words(formats), tolerance)
            .err()
            .unwrap()
            .to_string();
        assert!(error.contains(told), "{error}");
    }
}

#[test]
fn a_margin_is_the_least_of_the_joints_at_their_scale_and_none_when_turned() {
    let piece = loftkin_form::piece::Arrangement(vec![0, 1, 2]);
    let of_pair = |low: usize, high: usize| Some([1.0, 3.0][low.min(high)]);
    let mut wish = stack(3);
    assert_eq!(session(&wish).series.margin(&piece, of_pair), Some(1.0));
    wish.stations[2].scale = 0.25;
    assert_eq!(session(&wish).series.margin(&piece, of_pair), Some(0.75));
    assert_eq!(session(&wish).series.margin(&piece, |_, _| None), None);
    wish.stations[1].turn = 5.0;
    assert_eq!(session(&wish).series.margin(&piece, of_pair), None);
}
