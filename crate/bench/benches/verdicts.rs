//! Criterion's view of the same cases: whether a change of the code made one slower.
//!
//! A case about one pair is timed as a row of 255 here; its time for a pair comes from `cargo bench-all`.

use criterion::{Criterion, criterion_group, criterion_main};
use loftkin_bench::cases::CASES;
use std::time::Duration;

fn verdicts(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("verdicts");
    group
        .warm_up_time(Duration::from_millis(500))
        .measurement_time(Duration::from_secs(2))
        .sample_size(20);
    for case in CASES {
        let mut work = (case.work)();
        group.bench_function(case.name, |bencher| bencher.iter(|| work.step()));
    }
    group.finish();
}

criterion_group!(benches, verdicts);
criterion_main!(benches);
