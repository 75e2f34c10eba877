//! Criterion's view of files for the shop: one piece, from its placed profiles to the bytes.
//!
//! Each case first proves its answer: the mesh keeps its tolerance and closes.

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use loftkin_bench::families::{self, Shape};
use loftkin_exchange::shop::files::{Format, write};
use loftkin_exchange::shop::{Label, Standing};
use loftkin_form::blend::{Blend, Layout};
use loftkin_form::piece::{Arrangement, Piece};
use loftkin_form::solid::mesh::Mesh;
use loftkin_form::solid::net::Net;
use loftkin_form::stations::{Station, Stations};
use loftkin_kernel::curve::Curve;
use loftkin_kernel::family::Pacing;
use std::collections::HashMap;
use std::hint::black_box;
use std::time::Duration;

/// The chordal tolerance, mm: fine enough for a mould of this size.
const TOLERANCE: f64 = 0.05;
/// How far a ring's profiles stand from the axis, mm.
const FROM_AXIS: f64 = 400.0;

fn piece(blend: Blend, ring: bool) -> Piece {
    let family = families::clear(Shape::Closed, 6, 12);
    let curves = family.profiles.iter();
    let curves: Vec<Curve> = curves
        .map(|profile| Curve::new(profile, Pacing::Parameter).expect("a sound profile"))
        .collect();
    let places = (0..6).map(|index| Station::at(50.0 * f64::from(index)));
    let stations = if ring {
        let away = places.map(|station| station.shifted(FROM_AXIS, 0.0));
        Stations::ring(away.collect(), true)
    } else {
        Stations::stack(places.collect())
    };
    let layout = Layout::new(stations.expect("rising"), blend).expect("enough stations");
    let curves: Vec<&Curve> = curves.iter().collect();
    Piece::new(&curves, &layout, Arrangement((0..6).collect())).expect("one profile a station")
}

/// A closed mesh runs each of its edges once in both directions.
fn must_close(mesh: &Mesh) {
    assert!(mesh.chord <= TOLERANCE);
    let mut runs: HashMap<(u32, u32), u32> = HashMap::new();
    for [a, b, c] in &mesh.triangles {
        for side in [(*a, *b), (*b, *c), (*c, *a)] {
            *runs.entry(side).or_default() += 1;
        }
    }
    assert!(
        runs.iter()
            .all(|(&(a, b), &count)| count == 1 && runs.contains_key(&(b, a)))
    );
}

fn files(criterion: &mut Criterion) {
    let label = Label::default();
    let pieces = [
        ("stack ruled", piece(Blend::Ruled, false)),
        ("stack eased", piece(Blend::Eased, false)),
        ("ring ruled", piece(Blend::Ruled, true)),
    ];
    for (name, piece) in pieces {
        let net = Net::new(&piece);
        let mesh = Mesh::new(&net, TOLERANCE).expect("a mesh");
        must_close(&mesh);
        println!(
            "{name}: {} triangles within {:.3} mm",
            mesh.triangles.len(),
            mesh.chord
        );
        let mut group = criterion.benchmark_group(name);
        group
            .warm_up_time(Duration::from_millis(300))
            .measurement_time(Duration::from_secs(2))
            .sample_size(20)
            .throughput(Throughput::Elements(1));
        group.bench_function("net", |bencher| {
            bencher.iter(|| Net::new(black_box(&piece)))
        });
        group.bench_function("mesh", |bencher| {
            bencher.iter(|| Mesh::new(black_box(&net), TOLERANCE));
        });
        for format in Format::ALL {
            let once = || write(&piece, &[format], TOLERANCE, &label, Standing::Unproven);
            let bytes = once()[0].as_ref().expect("a file").len();
            println!("{name}, {format:?}: {bytes} bytes");
            group.bench_function(format!("{format:?}"), |bencher| {
                bencher.iter(|| black_box(once()))
            });
        }
        group.finish();
    }
}

criterion_group!(benches, files);
criterion_main!(benches);
