//! Maps, forming and finish against cones, cylinders, closed formulas and makers' charts.

use super::tests::{session, stack};
use super::*;

/// A frustum between circles of 60 and 40 mm radius, 30 mm high, drawn up: every
/// wall leans by the half angle of the cone, atan(20 / 30), which is the draft.
#[test]
fn the_map_of_a_cone_is_its_half_angle_and_its_best_draw_is_its_axis() {
    let series = session(&stack(2));
    let piece = series.piece_of(vec![2, 0]).unwrap();
    let half_angle = (20.0_f64 / 30.0).atan().to_degrees();
    let shop = ShopWish {
        least_draft: half_angle - 1.0,
        ..ShopWish::default()
    };
    let map = series.map(&piece.number, &shop, "draft", 40, 10).unwrap();
    let picture = series.picture(&piece.number, 40, 10).unwrap();
    assert_eq!(map.len(), picture.points.len() / 3);
    for value in &map {
        assert!((f64::from(*value) - half_angle).abs() < 0.1, "{value}");
    }
    let reach = series.reach(&piece.number, &shop).unwrap();
    assert!(reach.is_proved && reach.proofs.iter().all(|proof| *proof == 0));
    assert!(reach.parting.is_empty());
    let best = series.best_draw(&piece.number, &shop).unwrap();
    assert!((best.direction[2] - 1.0).abs() < 1e-3, "{best:?}");
    // The other way all of it is undercut, and proved so.
    let down = ShopWish {
        draw: [0.0, 0.0, -3.0],
        ..shop.clone()
    };
    let reach = series.reach(&piece.number, &down).unwrap();
    assert!(!reach.is_proved && reach.proofs.iter().all(|proof| *proof == 1));
    assert!(reach.said[0].contains("100.0 % of the skin is proved undercut"));
    assert!(series.map(&piece.number, &shop, "weight", 4, 4).is_err());
    let nowhere = ShopWish {
        draw: [0.0; 3],
        ..shop
    };
    let told = series.making(&piece.number, &nowhere).unwrap_err();
    assert!(told.to_string().contains("direction of draw"));
}

/// A cylinder drawn sideways in two halves parts along two rulings, each as long
/// as the cylinder is high; its bend radius is its radius less half the gauge.
#[test]
fn a_cylinder_parts_along_two_rulings() {
    let session = session(&stack(3));
    let shop = ShopWish {
        draw: [1.0, 0.0, 0.0],
        halves: HalvesWish::Two,
        gauge: 0.4,
        ..ShopWish::default()
    };
    let reach = session.reach("14", &shop).unwrap();
    assert!(
        reach.said[1].starts_with(
            "2 parting lines, 120.0 mm in all, by sampled places: 60.0 mm long, from edge to edge, 0.00 mm off flat"
        ),
        "{:?}",
        reach.said
    );
    assert!(!reach.parting.is_empty() && reach.parting.len().is_multiple_of(6));
    for end in reach.parting.chunks(3) {
        assert!(end[0].abs() < 0.01 && (end[1].abs() - 50.0).abs() < 0.01);
    }
    // A place of the band is turned by less than 2 degrees from a ruling.
    let wide = 50.0 * 2.0_f64.to_radians();
    let making = session.making("14", &shop).unwrap();
    assert_eq!(making.checks[0].kept, "not at the line");
    let band = reach.band.unwrap();
    assert!(!band.passes && !reach.is_proved);
    assert_eq!((band.kept, band.at.len()), ("not at the line", 6));
    assert!(
        band.side.starts_with("below 2 degrees up to 1.7"),
        "{}",
        band.side
    );
    assert!(band.basis.contains("proved: nowhere farther than"));
    assert!(
        (band.at[0].abs() / wide - 1.0).abs() < 0.02,
        "{:?}",
        band.at
    );
    assert!(
        reach
            .said
            .iter()
            .any(|text| text.contains("a parting land (common practice)"))
    );
    let of_band = |most_band: f64| ShopWish {
        most_band,
        ..shop.clone()
    };
    let kept = |most: f64| {
        session
            .reach("14", &of_band(most))
            .unwrap()
            .band
            .unwrap()
            .kept
    };
    assert_eq!((kept(1.0), kept(2.5)), ("seen wider", "kept"));
    let told = session.reach("14", &of_band(-1.0)).unwrap_err();
    assert!(told.to_string().contains("0 mm or more"));
    let map = session.map("14", &shop, "bend", 20, 4).unwrap();
    // Nodes on the grid of .01 mm, some 10 mm apart, move curvature by about a hundredth.
    assert!(map.iter().all(|radius| (radius - 49.8).abs() < 1.0));
}

/// h = 60 and a = 50 mm give 1 / (1 + 1.44), its square, and an arc of 2 atan(1.2).
#[test]
fn the_help_of_thinning_holds_it_against_dome_and_trough() {
    let session = session(&stack(3));
    let making = session.making("14", &ShopWish::default()).unwrap();
    let beside = &making.checks[4].beside;
    assert!(
        beside[0].contains("0.410 mm") && beside[0].contains("0.168 mm"),
        "{beside:?}"
    );
    let angle = 2.0 * 1.2_f64.atan();
    assert!(
        beside[1].contains(&format!("{:.3} mm", angle.sin() / angle)),
        "{beside:?}"
    );
    // π 50² mm² of sheet cover the wall 2 π 50 60 and the far opening π 50².
    let [whole, upper, lower] = &making.skins[..] else {
        panic!("{:?}", making.skins);
    };
    assert!(
        whole.what.contains("78.") && whole.area.starts_with("26"),
        "{whole:?}"
    );
    assert!(
        whole.stretch.starts_with("240.") && whole.mean.starts_with("0.29"),
        "{whole:?}"
    );
    assert_ne!(upper.mean, lower.mean);
    assert!(making.sharp == 0 && making.edges.len() == 1 && making.sides.is_empty());
    let room = session.room("14", &ShopWish::default()).unwrap();
    assert!(room.passes && room.line.is_empty());
}

fn lift() -> FinishWish {
    FinishWish {
        nm_per_volt: 2.4,
        lowest: 2.0,
        highest: 2.8,
        start: 0.0,
        oxide: 2.5,
        aslant: 60.0,
        linear_to: None,
        breakdown: None,
        rise: None,
        current: None,
        over: false,
        stops: vec![
            StopWish {
                height: 60.0,
                volts: 10.0,
            },
            StopWish {
                height: 0.0,
                volts: 50.0,
            },
        ],
        minutes: 4.0,
        rows: 5,
    }
}

/// Films by the calibration; colours in the order of makers' charts (rising volts:
/// gold, purple, blue, pale blue, straw).
#[test]
fn a_lift_out_has_its_table_its_colours_and_its_uncertainty() {
    let session = session(&stack(3));
    let told = session.finish("14", &lift()).unwrap();
    assert!((told.heights[0]).abs() < 1e-9 && (told.heights[1] - 60.0).abs() < 1e-9);
    let row = &told.rows[2];
    assert_eq!(
        (row.height, row.volts, row.time.as_str()),
        (30.0, 30.0, "2:00")
    );
    assert!((row.film - 72.0).abs() < 1e-9 && (row.range[0] - 60.0).abs() < 1e-9);
    assert_eq!(told.rows[0].words[0], "gold");
    assert!(told.rows[4].words[0].contains("gold") || told.rows[4].words[0].contains("yellow"));
    let blue = told.rows.iter().any(|row| row.words[0].contains("blue"));
    assert!(blue && told.strip.first() != told.strip.last());
    assert_eq!(told.strip[0], told.rows[4].colours[0]);
    assert_eq!(told.csv.lines().count(), 6);
    assert!(told.csv.starts_with("height_mm,"));
    assert!(told.said[1].contains("17 % thinner or 17 % thicker"));
    assert!(
        told.cautions
            .iter()
            .any(|text| text.contains("60 V can kill"))
    );
    for text in [
        "C in all on",
        "breaks down is not given",
        "range in which the film grows linearly is not given",
        "as long as the lower end is open",
    ] {
        assert!(told.said.iter().any(|said| said.contains(text)), "{text}");
    }
    assert_ne!(told.aslant, told.strip);
    // Upside down the foot leaves first, so its stops come first.
    let mut over = lift();
    over.over = true;
    assert!(
        session
            .finish("14", &over)
            .unwrap_err()
            .to_string()
            .contains("in which their heights leave the bath")
    );
    over.stops = vec![
        StopWish {
            height: 0.0,
            volts: 10.0,
        },
        StopWish {
            height: 50.0,
            volts: 50.0,
        },
    ];
    let turned = session.finish("14", &over).unwrap();
    assert_eq!(turned.rows[0].height, 0.0);
    assert!(
        turned
            .said
            .iter()
            .any(|text| text
                .contains("10.00 mm from the end of the piece that leaves the bath last"))
    );
}

#[test]
fn a_finish_that_cannot_be_run_is_refused_in_words() {
    let session = session(&stack(3));
    let refused = |change: fn(&mut FinishWish)| {
        let mut wish = lift();
        change(&mut wish);
        session.finish("14", &wish).unwrap_err().to_string()
    };
    assert!(refused(|wish| wish.stops[1].volts = 5.0).contains("can only rise from stop to stop"));
    assert!(refused(|wish| wish.stops[0].volts = 200.0).contains("0 to 140 V"));
    assert!(refused(|wish| wish.nm_per_volt = 3.0).contains("outside 2 to 2.8"));
    assert!(refused(|wish| wish.minutes = 0.0).contains("minutes"));
    assert!(refused(|wish| wish.oxide = 1.0).contains("index"));
    assert!(refused(|wish| wish.rows = 1).contains("2 to 2000"));
    assert!(refused(|wish| wish.breakdown = Some(50.0)).contains("breaks down at 50 V"));
    assert!(refused(|wish| wish.rise = Some(0.1)).contains("take at least 6.7 minutes"));
    assert!(refused(|wish| wish.aslant = 85.0).contains("0 (straight on) to 80"));
    assert!(refused(|wish| wish.current = Some(0.0)).contains("above 0"));
    let patch = PatchWish {
        film: 60.0,
        volts: 25.0,
        percent: 10.0,
    };
    let [rate, least, most] = calibrated(patch).unwrap();
    assert!(
        (rate - 2.4).abs() < 1e-12 && (least - 2.16).abs() < 1e-12 && (most - 2.64).abs() < 1e-12
    );
    assert!(
        calibrated(PatchWish {
            volts: 0.0,
            ..patch
        })
        .is_err()
    );
    let usual = session.usual_finish("14").unwrap();
    assert!(
        session
            .finish("14", &usual)
            .unwrap()
            .said
            .iter()
            .any(|text| text.starts_with("Not calibrated"))
    );
}

/// 45 nm of 2.4 nm a volt are 18.75 V; by 2.8 and 2.0, 16.1 to 22.5 V.
#[test]
fn a_colour_of_the_chart_leads_back_to_its_film() {
    let told = session(&stack(3)).finish("14", &lift()).unwrap();
    assert_eq!(told.chart.len(), 401);
    let found = wished(&lift(), &told.chart[45]).unwrap();
    assert_eq!(found.colour, told.chart[45]);
    let film = &found.films[0];
    assert!(film.said.starts_with("45 nm, first order"), "{}", film.said);
    assert!((film.volts - 18.75).abs() < 0.11, "{}", film.volts);
    let said = wished(&lift(), "red").unwrap_err().to_string();
    assert!(said.contains("“red” is no colour"), "{said}");
    let wrong = FinishWish {
        oxide: 9.0,
        ..lift()
    };
    let said = wished(&wrong, "#ff0000").unwrap_err().to_string();
    assert!(said.contains("index 9"), "{said}");
}
