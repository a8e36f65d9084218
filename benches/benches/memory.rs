//! Peak memory of the whole jobs, each in a process of its own, with the time it took once.
//!
//! Peak memory is `VmHWM` of `/proc/self/status`; elsewhere than on Linux it is not known.

#![allow(clippy::print_stdout)]

use benches::{importing, invented, judging};
use register::State;
use std::process::Command;
use std::time::Instant;

const SCENARIOS: [(&str, fn()); 5] = [
    ("register of 10,000 placements, judged", || judge(10_000)),
    ("register of 1,000,000 placements, in memory", || drop(State::of(invented::facts(1_000_000)))),
    ("register of 1,000,000 placements, judged", || judge(1_000_000)),
    ("sheet of 10,000 rows, imported", || import(10_000)),
    ("sheet of 100,000 rows, imported", || import(100_000)),
];

/// Keeps all judgements, as a list of all placements does.
fn judge(placements: usize) {
    let state = State::of(invented::facts(placements));
    assert_eq!(judging::all(&state).len(), placements);
}

fn import(rows: usize) {
    let folder = tempfile::tempdir().expect("a folder");
    let sheet = folder.path().join("bolts.csv");
    std::fs::write(&sheet, invented::sheet(rows)).expect("a sheet");
    assert!(importing::sheet(&sheet, &folder.path().join("bench.holdproof")).is_ok());
}

/// Peak memory of this process in MB; `None` where the system does not tell.
fn peak_mb() -> Option<f64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"))?;
    let kib: f64 = line.trim().strip_suffix("kB")?.trim().parse().ok()?;
    Some(kib * 1024.0 / 1e6)
}

fn main() {
    let wanted = std::env::args().find_map(|word| word.strip_prefix("--scenario=").map(str::to_owned));
    if let Some((name, run)) = wanted.and_then(|name| SCENARIOS.into_iter().find(|s| s.0 == name)) {
        let start = Instant::now();
        run();
        let seconds = start.elapsed().as_secs_f64();
        let peak = peak_mb().map_or_else(|| "unknown".to_owned(), |mb| format!("{mb:.0} MB"));
        println!("{name:<50} peak memory {peak:>9}, {seconds:6.2} s with making the data");
        return;
    }
    let program = std::env::current_exe().expect("the program's own path");
    for (name, _) in SCENARIOS {
        let status = Command::new(&program).arg(format!("--scenario={name}")).status();
        assert!(status.is_ok_and(|s| s.success()), "{name} failed");
    }
}
