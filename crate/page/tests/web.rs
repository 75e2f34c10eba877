//! The same proof on every machine: the verdicts, witnesses and box counts of
//! some hundred pairs have one fingerprint, native and in WebAssembly, bit for
//! bit. In the browser also: the bridge keeps its promises.
//!
//! The number stands in `fingerprint.txt`. After a meant change of the proof
//! the native test, run with LOFTKIN_UPDATE=1, writes it anew.

use loftkin_kernel::family::{Family, Pacing, Placement};
use loftkin_kernel::profile::{Node, Profile};
use loftkin_kernel::table::Table;
use loftkin_page::fingerprint;

const KNOWN: &str = include_str!("fingerprint.txt");
/// Families of each sort, and profiles in each.
const FAMILIES: u64 = 24;
const PROFILES: usize = 5;

/// Knuth's linear congruential generator MMIX: whole numbers only, so that the
/// drawings are the same everywhere.
struct Dice(u64);

impl Dice {
    fn below(&mut self, limit: u32) -> i32 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 33) % u64::from(limit)) as i32
    }
}

/// An arch whose nodes wander; enough of it to fold now and then.
fn arch(dice: &mut Dice, count: i32) -> Profile {
    let nodes = (0..count).map(|i| Node {
        corner: dice.below(5) == 0,
        ..Node::smooth(
            1000 * i + dice.below(1600) + 500,
            400 * i * (count - 1 - i) + dice.below(1500),
        )
    });
    Profile::open(nodes.collect())
}

/// A ring of nodes round a polygon of eight corners, started anywhere.
fn ring(dice: &mut Dice) -> Profile {
    const ROUND: [(i32, i32); 8] = [
        (30, 0),
        (21, 21),
        (0, 30),
        (-21, 21),
        (-30, 0),
        (-21, -21),
        (0, -30),
        (21, -21),
    ];
    let start = dice.below(8) as usize;
    let nodes = (0..8).map(|i| {
        let (x, y) = ROUND[(start + i) % 8];
        let size = 70 + dice.below(60);
        Node::smooth(x * size + 5000, y * size)
    });
    Profile::closed(nodes.collect())
}

fn family(seed: u64) -> Family {
    let mut dice = Dice(seed);
    let closed = seed % 2 == 1;
    let count = 4 + dice.below(6);
    let profiles = (0..PROFILES)
        .map(|_| {
            if closed {
                ring(&mut dice)
            } else {
                arch(&mut dice, count)
            }
        })
        .collect();
    let mut family = Family {
        profiles,
        ..Family::default()
    };
    if seed.is_multiple_of(3) {
        family.settings.pacing = Pacing::Node;
    }
    if seed.is_multiple_of(5) {
        family.settings.placement = Placement::Ring;
    }
    family
}

fn computed() -> String {
    let all = (0..2 * FAMILIES).map(|seed| {
        let table = Table::new(family(seed)).expect("a family of one sort");
        fingerprint::of(&table)
    });
    let sum = all.fold(0_u64, |sum, one| sum.rotate_left(5) ^ one);
    format!("{sum:016x}")
}

#[cfg(not(target_arch = "wasm32"))]
mod native {
    use super::*;
    use loftkin_kernel::table::Totals;

    #[test]
    fn the_fingerprint_is_the_known_one() {
        let found = computed();
        if std::env::var_os("LOFTKIN_UPDATE").is_some() {
            let file = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/fingerprint.txt");
            std::fs::write(file, format!("{found}\n")).expect("the file can be written");
            return;
        }
        assert_eq!(
            found,
            KNOWN.trim(),
            "the proof says something else than it did; if that is meant, write the number anew with \
             LOFTKIN_UPDATE=1 cargo test -p loftkin-page --test web"
        );
    }

    #[test]
    fn the_families_hold_clear_and_faulty_pairs() {
        let totals = (0..2 * FAMILIES).fold(Totals::default(), |mut sum, seed| {
            let one = Table::new(family(seed)).unwrap().totals();
            sum.clear += one.clear;
            sum.faulty += one.faulty;
            sum.unproven += one.unproven;
            sum
        });
        assert!(50 < totals.clear && 50 < totals.faulty, "{totals:?}");
    }
}

#[cfg(target_arch = "wasm32")]
mod browser {
    use super::*;
    use loftkin_page::bridge::{Bridge, PointerMessage};
    use wasm_bindgen::JsCast;
    use wasm_bindgen_test::{wasm_bindgen_test, wasm_bindgen_test_configure};

    wasm_bindgen_test_configure!(run_in_browser);

    #[wasm_bindgen_test]
    fn the_fingerprint_is_the_native_one() {
        assert_eq!(computed(), KNOWN.trim());
    }

    fn press(bridge: &mut Bridge, x: f64, y: f64) {
        let pointer = PointerMessage::new(1, x, y, false, false, false, 0.0);
        bridge
            .press(&pointer)
            .unwrap_or_else(|_| panic!("a press is taken"));
        let said = bridge.release(&pointer);
        assert!(said.is_ok_and(|said| said.is_none()));
    }

    fn sketched() -> Bridge {
        let mut bridge = Bridge::new().unwrap_or_else(|_| panic!("an empty board"));
        bridge.resize(600.0, 400.0);
        for rise in [250.0, 150.0] {
            bridge.set_hand(1);
            for (x, y) in [(100.0, 300.0), (250.0, rise), (400.0, rise), (500.0, 300.0)] {
                press(&mut bridge, x, y);
            }
            press(&mut bridge, 500.0, 300.0);
        }
        bridge
    }

    #[wasm_bindgen_test]
    fn a_sketch_is_judged_and_travels_as_a_link() {
        let bridge = sketched();
        assert_eq!(bridge.cells(), [0, 0, 0, 0, 0, 0]);
        let code = bridge.share_code();
        let mut other = Bridge::new().unwrap_or_else(|_| panic!("an empty board"));
        assert!(other.open_share_code(&code, "Open a link").is_ok());
        assert_eq!(other.share_code(), code);
        assert!(
            other
                .open_share_code("nothing of ours", "Open a link")
                .is_err()
        );
        assert_eq!(other.share_code(), code);
    }

    #[wasm_bindgen_test]
    fn the_board_paints_on_a_canvas() {
        let document = web_sys::window()
            .and_then(|window| window.document())
            .unwrap();
        let canvas: web_sys::HtmlCanvasElement =
            document.create_element("canvas").unwrap().unchecked_into();
        canvas.set_width(600);
        canvas.set_height(400);
        let context: web_sys::CanvasRenderingContext2d =
            canvas.get_context("2d").unwrap().unwrap().unchecked_into();
        let mut bridge = sketched();
        bridge.set_colours(vec![String::from("rgb(200, 10, 10)"); 12]);
        bridge.paint(&context);
        let pixels = context
            .get_image_data(0.0, 0.0, 600.0, 400.0)
            .unwrap()
            .data();
        assert!(pixels.chunks(4).any(|pixel| pixel[..3] == [200, 10, 10]));
    }
}
