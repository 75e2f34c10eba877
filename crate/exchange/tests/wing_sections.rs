//! The wing sections among the demo families, from their published formula.
//!
//! NACA four-digit sections: "The
//! characteristics of 78 related airfoil sections from tests in the
//! variable-density wind tunnel", NACA Report 460 (1933). With LOFTKIN_RENEW=1
//! in the environment the files are written anew instead of compared.

use loftkin_exchange::any;
use loftkin_exchange::family_json;
use loftkin_exchange::point_list::Reading;
use loftkin_kernel::family::Family;
use loftkin_kernel::grid::GridPoint;
use loftkin_kernel::profile::{Node, Profile};
use std::fmt::Write;
use std::path::PathBuf;

/// The chord of the promenade's wind vanes, in mm.
const CHORD: f64 = 240.0;
/// Points on each side, the leading edge left out.
const SIDE: usize = 16;

/// Camber, its place and the thickness, in fractions of the chord.
struct Section {
    camber: f64,
    place: f64,
    thickness: f64,
}

impl Section {
    /// The section of `digits`: camber in hundredths, its place in tenths, the
    /// thickness in hundredths.
    fn new(digits: &str) -> Self {
        let digit = |at: usize| f64::from(digits.as_bytes()[at] - b'0');
        Self {
            camber: digit(0) / 100.0,
            place: digit(1) / 10.0,
            thickness: (10.0 * digit(2) + digit(3)) / 100.0,
        }
    }

    /// Half the thickness at `x` in 0 to 1.
    fn half_thickness(&self, x: f64) -> f64 {
        let series = 0.2969 * x.sqrt() + x * (-0.126 + x * (-0.3516 + x * (0.2843 + x * -0.1015)));
        self.thickness / 0.2 * series
    }

    /// The height of the mean line at `x`, and its slope.
    fn mean_line(&self, x: f64) -> (f64, f64) {
        let (m, p) = (self.camber, self.place);
        if m == 0.0 {
            return (0.0, 0.0);
        }
        let scale = if x < p {
            m / (p * p)
        } else {
            m / ((1.0 - p) * (1.0 - p))
        };
        let start = if x < p { 0.0 } else { 1.0 - 2.0 * p };
        (scale * (start + 2.0 * p * x - x * x), scale * 2.0 * (p - x))
    }

    /// The points of one run from the trailing edge over the upper side to the
    /// leading edge and back below, in fractions of the chord. They stand
    /// densest at the edges: x = (1 - cos b) / 2 for even steps of b.
    fn run(&self) -> Vec<[f64; 2]> {
        let steps = SIDE as i32;
        (-steps..=steps)
            .map(|step| {
                let angle = std::f64::consts::PI * f64::from(step) / f64::from(steps);
                let x = (1.0 - libm::cos(angle)) / 2.0;
                let side = if step < 0 { 1.0 } else { -1.0 };
                let half = side * self.half_thickness(x);
                let (height, slope) = self.mean_line(x);
                let length = (1.0 + slope * slope).sqrt();
                [x - half * slope / length, height + half / length]
            })
            .collect()
    }
}

fn demo_file(name: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
        .join("../../demo-curves")
        .join(name)
}

/// Compares the demo file `name` with `text`, or writes it.
fn compare(name: &str, text: &str) {
    let path = demo_file(name);
    if std::env::var_os("LOFTKIN_RENEW").is_some() {
        std::fs::write(&path, text).unwrap();
    }
    let kept = std::fs::read_to_string(&path).unwrap();
    assert!(
        kept == text,
        "{name} is not what the formula gives: run this test with LOFTKIN_RENEW=1"
    );
}

#[test]
fn the_family_of_wind_vanes_is_what_the_formula_gives() {
    let digits = [
        "0006", "0009", "0012", "0015", "0018", "0021", "0024", "2412", "4415",
    ];
    let profiles = digits.iter().map(|digits| {
        let nodes = Section::new(digits).run().into_iter().map(|[x, y]| Node {
            at: GridPoint::from_mm(CHORD * x, CHORD * y).unwrap(),
            corner: false,
        });
        Profile::open(nodes.collect()).named(&format!("Vane, NACA {digits}"))
    });
    let family = Family {
        name: "Wind vanes of the promenade, NACA four-digit sections".to_owned(),
        profiles: profiles.collect(),
        ..Family::default()
    };
    compare("wind-vanes.json", &family_json::write(&family));
}

#[test]
fn the_list_of_wind_vanes_is_what_the_formula_gives() {
    let mut text = "# Wind vanes of the promenade: NACA four-digit sections (NACA Report 460, 1933), in fractions of the chord.\n".to_owned();
    for digits in ["0012", "0018", "2412"] {
        writeln!(text, "\nVane, NACA {digits}").unwrap();
        for [x, y] in Section::new(digits).run() {
            // Adding zero makes a positive zero of a negative one.
            writeln!(text, "{:9.6} {:9.6}", x + 0.0, y + 0.0).unwrap();
        }
    }
    compare("wind-vanes.txt", &text);
}

/// The ordinates of the 0012 in percent, computed from the formula apart from
/// this code (the project's list of check values).
#[test]
fn ordinates_of_the_0012() {
    let section = Section::new("0012");
    let table = [
        (0.5, 1.2213),
        (1.25, 1.8939),
        (2.5, 2.6147),
        (5.0, 3.5547),
        (10.0, 4.6828),
        (20.0, 5.7375),
        (30.0, 6.0017),
        (40.0, 5.8030),
        (50.0, 5.2940),
        (60.0, 4.5634),
        (80.0, 2.6231),
        (90.0, 1.4477),
        (100.0, 0.1260),
    ];
    for (x, y) in table {
        let computed = 100.0 * section.half_thickness(x / 100.0);
        assert!((computed - y).abs() < 6e-5, "at {x} %: {computed}, not {y}");
    }
}

/// The list read at the vanes' chord gives the very nodes of the family file.
#[test]
fn list_and_family_file_agree() {
    let read = |name: &str| {
        let bytes = std::fs::read(demo_file(name)).unwrap();
        let reading = Reading {
            scale: Some(CHORD),
            ..Reading::default()
        };
        any::read(name, &bytes, reading).unwrap().family
    };
    let (family, list) = (read("wind-vanes.json"), read("wind-vanes.txt"));
    for vane in &list.profiles {
        assert!(family.profiles.contains(vane), "{} differs", vane.name);
    }
}
