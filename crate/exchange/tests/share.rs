//! Share codes: exact, short, and refused when anything is wrong with them.
//!
//! The goal of 600 characters for 8 profiles of 8 nodes is the project's own.

use loftkin_exchange::share::{ShareError, decode, encode};
use loftkin_kernel::family::{Family, Pacing, Placement, Settings, TenthsOfDegree};
use loftkin_kernel::grid::GridPoint;
use loftkin_kernel::profile::{Node, Outline, PathSpan, Profile};
use proptest::prelude::*;

fn point() -> impl Strategy<Value = GridPoint> {
    let near = (-40_000..40_000, -40_000..40_000);
    let far = (any::<i32>(), any::<i32>());
    prop_oneof![4 => near, 1 => far].prop_map(|(x, y)| GridPoint::new(x, y))
}

fn span() -> impl Strategy<Value = PathSpan> {
    prop_oneof![
        point().prop_map(|to| PathSpan::Line { to }),
        (point(), point(), point()).prop_map(|(first, second, to)| PathSpan::Cubic {
            first,
            second,
            to
        }),
    ]
}

fn outline() -> impl Strategy<Value = Outline> {
    let node = (point(), prop::bool::weighted(0.2)).prop_map(|(at, corner)| Node { at, corner });
    prop_oneof![
        prop::collection::vec(node, 0..20).prop_map(Outline::Nodes),
        (point(), prop::collection::vec(span(), 0..12))
            .prop_map(|(start, spans)| Outline::Path { start, spans }),
    ]
}

fn profile() -> impl Strategy<Value = Profile> {
    ("(Hood )?\\PC{0,12}", any::<bool>(), outline()).prop_map(|(name, closed, outline)| Profile {
        name,
        closed,
        outline,
    })
}

fn settings() -> impl Strategy<Value = Settings> {
    (any::<bool>(), any::<bool>(), 0..3u16, 0..3u16).prop_map(|(node, ring, twist, crease)| {
        Settings {
            pacing: if node {
                Pacing::Node
            } else {
                Pacing::Parameter
            },
            placement: if ring {
                Placement::Ring
            } else {
                Placement::Stack
            },
            twist_limit: TenthsOfDegree(900 + 413 * twist),
            crease_limit: TenthsOfDegree(50 + 77 * crease),
        }
    })
}

fn family() -> impl Strategy<Value = Family> {
    (
        "\\PC{0,20}",
        settings(),
        prop::collection::vec(profile(), 0..10),
    )
        .prop_map(|(name, settings, profiles)| Family {
            name,
            settings,
            profiles,
        })
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_document_comes_back_exactly(family in family()) {
        let code = encode(&family);
        prop_assert!(code.bytes().all(|b| b.is_ascii_alphanumeric() || b"-_.".contains(&b)));
        let back = decode(&code);
        prop_assert_eq!(back.as_ref(), Ok(&family));
        let link = format!(" https://example.org/board/#{code}\n");
        prop_assert_eq!(decode(&link), Ok(family));
    }

    #[test]
    fn every_truncation_is_called_cut_short(family in family(), part in 0.0..1.0f64) {
        let code = encode(&family);
        let kept = "loft1".len() + (part * (code.len() - "loft1".len()) as f64) as usize;
        let refused = decode(&code[..kept]);
        prop_assert!(matches!(refused, Err(ShareError::CutShort { .. })), "{kept}: {refused:?}");
    }

    #[test]
    fn every_changed_character_is_refused(family in family(), at in any::<prop::sample::Index>(), to in "[-_.~#A-Za-z0-9 é]") {
        let code = encode(&family);
        let at = at.index(code.len());
        prop_assume!(code[at..=at] != to);
        let changed = format!("{}{to}{}", &code[..at], &code[at + 1..]);
        prop_assert!(decode(&changed).is_err());
    }

    #[test]
    fn an_added_character_is_refused(family in family(), at in any::<prop::sample::Index>(), extra in "[-_.A-Za-z0-9]") {
        let code = encode(&family);
        let at = 1 + at.index(code.len());
        let longer = format!("{}{extra}{}", &code[..at], &code[at..]);
        prop_assert!(decode(&longer).is_err());
    }

    #[test]
    fn any_text_is_refused_without_panic(text in "(loft1?\\.?)?\\PC*") {
        prop_assert!(decode(&text).is_err());
    }

    /// Past the checksum too, the reader stays upright.
    #[test]
    fn any_body_with_a_right_checksum_is_read_or_refused(body in prop::collection::vec(any::<u8>(), 0..200)) {
        if let Ok(family) = decode(&sealed(&body)) {
            prop_assert_eq!(decode(&encode(&family)), Ok(family));
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
    format!("loft1.{}{}{payload}", digits[0], digits[1])
}

#[test]
fn codes_of_others_and_of_later_versions_are_named() {
    assert_eq!(decode(""), Err(ShareError::Foreign));
    assert_eq!(decode("section=2"), Err(ShareError::Foreign));
    assert_eq!(decode("loft0.AAAA"), Err(ShareError::Foreign));
    assert_eq!(decode("loft2.AAAA"), Err(ShareError::Newer { version: 2 }));
    assert_eq!(decode("loft1.AAAA"), Err(ShareError::Damaged));
}

/// Eight hoods about 220 mm high and eight rims about 300 mm across, every
/// coordinate an uneven number of grid steps.
fn realistic(closed: bool) -> Family {
    let names = [
        "Quay", "Mole", "Jetty", "Buoy", "Beacon", "Ferry", "Capstan", "Slipway",
    ];
    let profiles = names.iter().enumerate().map(|(index, name)| {
        let k = index as f64;
        let nodes = (0..8).map(|i| {
            let t = f64::from(i) / if closed { 8.0 } else { 7.0 };
            let angle = std::f64::consts::TAU * t;
            let (x, y) = if closed {
                let radius = 150.0 + 11.0 * (3.0 * angle + 0.7 * k).sin() + 3.3 * k;
                (radius * angle.cos(), radius * angle.sin())
            } else {
                let x = 31.7 + 113.3 * t.powf(1.0 + 0.13 * k) + 9.0 * (5.0 * t + k).sin();
                (x, 220.0 - 217.0 * t * (0.9 + 0.03 * k * t))
            };
            Node {
                at: GridPoint::from_mm(x, y).unwrap(),
                corner: i == 5 && index % 2 == 0,
            }
        });
        let nodes = nodes.collect();
        let drawn = if closed {
            Profile::closed(nodes)
        } else {
            Profile::open(nodes)
        };
        drawn.named(name)
    });
    Family {
        name: "Lantern hoods for the west promenade".to_owned(),
        profiles: profiles.collect(),
        ..Family::default()
    }
}

#[test]
fn eight_profiles_of_eight_nodes_stay_below_600_characters() {
    for closed in [false, true] {
        let length = encode(&realistic(closed)).len();
        println!("closed {closed}: {length} characters");
        assert!(length < 600, "closed {closed}: {length}");
    }
    // The worst case: nothing can be foretold from anything.
    let mut family = realistic(false);
    let mut state = 1_u64;
    let mut next = || {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1);
        (state >> 33) as i32 % 40_000
    };
    for profile in &mut family.profiles {
        let nodes = (0..8).map(|_| Node::smooth(next(), next())).collect();
        profile.outline = Outline::Nodes(nodes);
    }
    let length = encode(&family).len();
    println!("random nodes within 400 mm: {length} characters");
    assert!(length < 600, "random: {length}");
}
