//! Importing a sheet of 100,000 rows into a new register on disk.
//!
//! Aim: less than 2 s.

use benches::{importing, invented};
use divan::Bencher;
use divan::counter::ItemsCount;

fn main() {
    divan::main();
}

#[divan::bench(args = [10_000, 100_000], sample_count = 5, sample_size = 1)]
fn sheet_into_register(bencher: Bencher, rows: usize) {
    let folder = tempfile::tempdir().expect("a folder");
    let sheet = folder.path().join("bolts.csv");
    std::fs::write(&sheet, invented::sheet(rows)).expect("a sheet");
    let mut number = 0;
    bencher.counter(ItemsCount::new(rows)).bench_local(|| {
        number += 1;
        let added = importing::sheet(&sheet, &folder.path().join(format!("{number}.holdproof")));
        assert!(added.is_ok_and(|added| added > 2 * rows));
    });
}
