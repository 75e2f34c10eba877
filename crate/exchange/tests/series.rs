//! Series plans as files and as parts of links: exact, and refused when anything
//! is wrong with them, without harm to the family beside them.

use loftkin_exchange::any;
use loftkin_exchange::family_json;
use loftkin_exchange::point_list::Reading;
use loftkin_exchange::series::{
    BLENDS, PlannedStation, SeriesFileError, SeriesPlan, is_file, read, write,
};
use loftkin_exchange::share::{
    SeriesCodeError, Shared, decode, decode_all, decode_series, encode, encode_series,
    encode_with_series, parts,
};
use loftkin_form::stations::{Setting, Station};
use loftkin_kernel::family::Family;
use loftkin_kernel::profile::{Node, Profile};
use num_bigint::BigUint;
use proptest::prelude::*;

fn number() -> impl Strategy<Value = f64> {
    prop_oneof![
        3 => (-7200..7200i32).prop_map(|tenths| f64::from(tenths) / 10.0),
        2 => (0..24u8).prop_map(|index| f64::from(index) * 360.0 / 7.0),
        1 => (any::<i32>(), 0..9i32).prop_map(|(n, k)| f64::from(n) / 10f64.powi(k)),
        1 => prop::num::f64::NORMAL | prop::num::f64::ZERO | prop::num::f64::SUBNORMAL,
    ]
}

fn station() -> impl Strategy<Value = PlannedStation> {
    let rare = |usual: f64| prop_oneof![4 => Just(usual), 1 => number()];
    let list = prop::option::of(prop::collection::vec(
        prop_oneof![8 => 0..256usize, 1 => 0..2_000_000_000usize],
        0..9,
    ));
    (number(), rare(1.0), rare(0.0), rare(0.0), rare(0.0), list).prop_map(
        |(at, scale, right, up, turn, profiles)| PlannedStation {
            place: Station::at(at)
                .scaled(scale)
                .shifted(right, up)
                .turned(turn),
            profiles,
        },
    )
}

fn plan() -> impl Strategy<Value = SeriesPlan> {
    let setting = prop_oneof![
        Just(Setting::Stack),
        any::<bool>().prop_map(|all_round| Setting::Ring { all_round }),
    ];
    let piece = prop::option::of(prop::collection::vec(any::<u8>(), 1..40));
    (
        setting,
        prop::sample::select(BLENDS.to_vec()),
        any::<bool>(),
        prop::collection::vec(station(), 0..26),
        piece,
    )
        .prop_map(
            |(setting, (_, blend), no_equal_neighbours, stations, piece)| SeriesPlan {
                setting,
                blend,
                no_equal_neighbours,
                stations,
                piece: piece.map(|bytes| BigUint::from_bytes_be(&bytes) + 1_u32),
            },
        )
}

fn family() -> Family {
    let hood = Profile::open(vec![Node::smooth(0, 24_000), Node::smooth(15_000, 0)]);
    Family {
        name: "Hoods of the quay".to_owned(),
        profiles: vec![hood.named("Bell")],
        ..Family::default()
    }
}

/// All numbers by bits, for -0 equals 0.
fn bits(plan: &SeriesPlan) -> Vec<[u64; 5]> {
    let stations = plan.stations.iter();
    stations
        .map(|PlannedStation { place, .. }| {
            let shift = place.shift;
            [place.at, place.scale, shift.x, shift.y, place.turn].map(f64::to_bits)
        })
        .collect()
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_plan_comes_back_exactly(plan in plan()) {
        let file = write(&plan);
        prop_assert!(is_file(&file));
        let back = read(&file).unwrap();
        prop_assert_eq!((&back, bits(&back)), (&plan, bits(&plan)), "{}", file);
        let code = encode_series(&plan);
        prop_assert!(code.bytes().all(|b| b.is_ascii_alphanumeric() || b"-_.".contains(&b)));
        let back = decode_series(&code).unwrap();
        prop_assert_eq!((&back, bits(&back)), (&plan, bits(&plan)));
    }

    #[test]
    fn a_series_cut_short_is_called_so_and_leaves_the_family(plan in plan(), part in 0.0..1.0f64) {
        let code = encode_with_series(&family(), &plan);
        let from = encode(&family()).len() + 1;
        let kept = from + (part * (code.len() - from) as f64) as usize;
        let shared = decode_all(&code[..kept]).unwrap();
        prop_assert_eq!(&shared.family, &family());
        prop_assert!(matches!(shared.series, Some(Err(SeriesCodeError::CutShort { .. }))), "{:?}", shared.series);
        prop_assert_eq!(decode(&code[..kept]), Ok(family()));
    }

    #[test]
    fn a_changed_series_is_refused_and_leaves_the_family(plan in plan(), at in any::<prop::sample::Index>(), to in "[-_.~A-Za-z0-9é]") {
        let (family_code, series) = (encode(&family()), encode_series(&plan));
        let at = at.index(series.len());
        prop_assume!(series[at..=at] != to);
        let changed = format!("{family_code}~{}{to}{}", &series[..at], &series[at + 1..]);
        let shared = decode_all(&changed).unwrap();
        prop_assert_eq!(shared.family, family());
        prop_assert!(matches!(shared.series, Some(Err(_))), "{:?}", shared.series);
    }

    #[test]
    fn any_text_after_the_joint_is_refused_without_panic(text in "(series1?\\.?)?\\PC*") {
        prop_assert!(decode_series(&text).is_err());
    }

    /// Past the checksum too, the reader stays upright.
    #[test]
    fn any_body_with_a_right_checksum_is_read_or_refused(body in prop::collection::vec(any::<u8>(), 0..200)) {
        if let Ok(plan) = decode_series(&sealed(&body)) {
            let again = decode_series(&encode_series(&plan)).unwrap();
            prop_assert_eq!(bits(&again), bits(&plan));
        }
    }
}

/// A code around any body, as a hostile program would make it.
fn sealed(body: &[u8]) -> String {
    use base64::Engine;
    let mut bytes = crc32fast::hash(body).to_le_bytes().to_vec();
    bytes.extend(body);
    let payload = base64::engine::general_purpose::URL_SAFE_NO_PAD.encode(bytes);
    let letters = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
    let (low, high) = (payload.len() & 31, payload.len() >> 5);
    let digits = [letters[low + 32], letters[high]].map(char::from);
    format!("series1.{}{}{payload}", digits[0], digits[1])
}

fn ring() -> SeriesPlan {
    let mut plan = read(
        r#"{"format": "loftkin-series", "version": 1, "placement": "ring", "all_round": true,
            "blend": "eased", "no_equal_neighbours": true, "piece": "117656", "stations": [
            {"at": 0, "profiles": [1, 2]}, {"at": 60}, {"at": 120, "scale": 0.9}]}"#,
    )
    .unwrap();
    plan.stations
        .extend([180.0, 240.0, 300.0].map(|at| PlannedStation::any(Station::at(at))));
    plan
}

#[test]
fn a_link_carries_both_and_old_links_still_open() {
    let (family, plan) = (family(), ring());
    let code = encode_with_series(&family, &plan);
    let both = Shared {
        family: family.clone(),
        series: Some(Ok(plan.clone())),
    };
    let link = format!(" https://example.org/~hoods/#{code}\n");
    assert_eq!(decode_all(&link), Ok(both.clone()));
    assert_eq!(decode_all(&link.replace("~series", "%7Eseries")), Ok(both));
    let import = any::read("", link.as_bytes(), Reading::default()).unwrap();
    assert_eq!(import.family, family);
    let series = encode_series(&plan);
    assert_eq!(parts(&link), (encode(&family).as_str(), Some(&*series)));
    let alone = Shared {
        family: family.clone(),
        series: None,
    };
    assert_eq!(decode_all(&encode(&family)), Ok(alone));
}

#[test]
fn other_and_later_series_are_named() {
    let with = |series: &str| {
        let code = format!("{}~{series}", encode(&family()));
        let shared = decode_all(&code).unwrap();
        assert_eq!(shared.family, family());
        shared.series.unwrap().unwrap_err()
    };
    assert_eq!(with("series2.AAAA"), SeriesCodeError::Newer { version: 2 });
    assert_eq!(with("colour=red"), SeriesCodeError::Foreign);
    assert_eq!(with("series0.AAAA"), SeriesCodeError::Foreign);
    assert_eq!(with("series1.AAAA"), SeriesCodeError::Damaged);
    assert_eq!(with(""), SeriesCodeError::CutShort { missing: 8 });
    // A damaged family takes the link with it, whatever follows.
    let broken = encode_with_series(&family(), &ring()).replacen("loft1.", "loft1.-", 1);
    assert!(decode_all(&broken).is_err());
}

/// The goal is the project's own: a usual series adds less than a line to a link.
#[test]
fn usual_series_are_short() {
    let short = encode_series(&ring()).len();
    let mut long = ring();
    long.stations = (0..24u8)
        .map(|index| PlannedStation {
            place: Station::at(f64::from(index) * 15.0)
                .scaled(f64::from(40 - index) / 40.0)
                .turned(f64::from(index) * 2.5),
            profiles: Some((0..8).filter(|n| n % 3 != usize::from(index) % 3).collect()),
        })
        .collect();
    long.piece = Some(BigUint::from(5_u32).pow(24));
    let long = encode_series(&long).len();
    println!("6 stations: {short} characters; 24 with lists: {long}");
    assert!(short < 50 && long < 200, "{short} {long}");
}

fn refusal(change: (&str, &str)) -> String {
    let file = write(&ring());
    let changed = file.replacen(change.0, change.1, 1);
    assert_ne!(file, changed, "{change:?}");
    read(&changed).unwrap_err().to_string()
}

#[test]
fn refusals_name_the_place() {
    let told = [
        (
            ("\"at\": 60", "\"at\": \"60\""),
            "station 2, at: expected a number, found a text (line 10, column 12)",
        ),
        (
            ("\"at\": 60", "\"scale\": 1"),
            "station 2: the field \"at\" is missing (line 10, column 5)",
        ),
        (
            ("\"at\": 60", "\"at\": 60, \"colour\": 1"),
            "station 2: there is no field \"colour\" here, only \"at\", \"scale\", \"right\", \"up\", \"turn\", \"profiles\" (line 10, column 26)",
        ),
        (
            ("[1, 2]", "[0, 2]"),
            "station 1, profiles: profiles are whole numbers from 1 (line 9, column 28)",
        ),
        (
            ("[1, 2]", "[1.5]"),
            "station 1, profiles: profiles are whole numbers from 1 (line 9, column 28)",
        ),
        (
            ("\"eased\"", "\"cubic\""),
            "blend: expected \"ruled\" or \"eased\" or \"b-spline-2\" or \"b-spline-3\", found \"cubic\" (line 6, column 12)",
        ),
        (
            ("\"ring\"", "\"stack\""),
            "all_round: only a ring can be joined all round: say \"placement\": \"ring\", or false (line 5, column 16)",
        ),
        (
            ("\"117656\"", "117656"),
            "piece: expected a text in quotes, found a number (line 16, column 12)",
        ),
        (
            ("\"117656\"", "\"0\""),
            "piece: a piece number is digits in quotes, from \"1\" (line 16, column 12)",
        ),
        (
            ("\"version\": 1", "\"version\": 0"),
            "version: expected 1, found 0 (line 3, column 14)",
        ),
    ];
    let found: Vec<String> = told.iter().map(|(change, _)| refusal(*change)).collect();
    assert_eq!(found, told.map(|(_, sentence)| sentence));
}

#[test]
fn other_files_and_newer_ones_are_told_apart() {
    let text = write(&ring());
    assert_eq!(
        read(&family_json::write(&family())),
        Err(SeriesFileError::Foreign)
    );
    assert!(!is_file(&family_json::write(&family())) && !is_file("0 0\n1 1"));
    let newer = text.replace("\"version\": 1", "\"version\": 2, \"new\": {}");
    assert_eq!(read(&newer), Err(SeriesFileError::Newer { version: 2 }));
    assert!(is_file(&newer));
    assert!(matches!(read("{"), Err(SeriesFileError::Form { .. })));
    let large = format!("{text}{}", " ".repeat(1 << 20));
    assert!(matches!(
        read(&large),
        Err(SeriesFileError::TooLarge { .. })
    ));
    assert_eq!(read(&format!("\u{feff}{text}")), Ok(ring()));
}
