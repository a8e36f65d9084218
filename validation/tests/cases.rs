//! Every case file is run; the committed page must be the one that the program writes.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use validation::{SourceOutcome, page, read_folder, registry, run};

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

fn done() -> Vec<SourceOutcome> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("cases");
    run(read_folder(&folder).unwrap_or_else(|e| panic!("{e}")), &registry())
}

#[test]
fn every_check_value_is_met() {
    let done = done();
    let complaints: Vec<String> = done
        .iter()
        .flat_map(|s| s.outcomes.iter().filter_map(move |o| Some((s, o.complaint()?))))
        .map(|(s, c)| format!("  {}: {c}", s.slug))
        .collect();
    assert!(
        complaints.is_empty(),
        "{} check values are not met:\n{}",
        complaints.len(),
        complaints.join("\n")
    );
}

#[test]
fn there_are_cases_and_published_sources() {
    let done = done();
    let published = done.iter().filter(|s| s.source.kind.is_published() && !s.outcomes.is_empty()).count();
    let cases: usize = done.iter().map(|s| s.outcomes.len()).sum();
    assert!(published >= 8 && cases >= 40, "{cases} check values from {published} published sources");
}

#[test]
fn no_two_computations_share_a_name_and_each_is_used() {
    let done = done();
    let used: BTreeSet<&str> =
        done.iter().flat_map(|s| &s.outcomes).map(|o| o.case.quantity.as_str()).collect();
    let mut names = BTreeSet::new();
    for (name, _) in registry() {
        assert!(names.insert(name), "two computations are named '{name}'");
        assert!(used.contains(name), "no case uses the computation '{name}'");
    }
}

#[test]
fn the_committed_page_is_up_to_date() {
    let committed = std::fs::read_to_string(root().join("VALIDATION.md")).unwrap_or_default();
    let fresh = page(&done());
    // line ends may be changed by a checkout
    let lines = |text: &str| text.lines().map(str::to_owned).collect::<Vec<_>>();
    let (old, new) = (lines(&committed), lines(&fresh));
    let first = old.iter().zip(&new).position(|(a, b)| a != b).unwrap_or(old.len().min(new.len()));
    assert!(
        old == new,
        "VALIDATION.md is out of date from line {}: run `cargo run -p validation -- --write VALIDATION.md`\n was: {}\n now: {}",
        first + 1,
        old.get(first).map_or("(end)", String::as_str),
        new.get(first).map_or("(end)", String::as_str),
    );
}
