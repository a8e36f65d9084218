//! What is asked wrongly is answered with what to do.
#![allow(clippy::unwrap_used)]

mod common;
use common::{Group, run};

#[test]
fn wrong_usage_ends_with_two() {
    for arguments in [
        &[][..],
        &["fly"],
        &["judge", "--on", "yesterday"],
        &["list", "--call", "perfect"],
        &["list", "--kind", "magic"],
        &["judge"],
        &["plan"],
        &["plan", "--money", "10"],
        &["report"],
        &["completions", "klingon"],
    ] {
        let answer = run(arguments);
        assert_eq!(answer.code, 2, "{arguments:?}: {}", answer.err);
        assert!(!answer.err.is_empty(), "{arguments:?}");
        assert!(!answer.err.contains("panicked"), "{arguments:?}");
    }
}

#[test]
fn names_that_do_not_exist_get_a_hint() {
    let group = Group::new();
    let placement = group.run(&["judge", "harl-quarry/blind-corner/99"]);
    assert_eq!(placement.code, 2);
    assert!(placement.err.contains("harl-quarry/blind-corner/1"), "{}", placement.err);
    assert_eq!(group.run(&["list", "--crag", "Nowhere"]).code, 2);
    assert_eq!(group.run(&["list", "--route", "Nothing"]).code, 2);
    assert_eq!(group.run(&["show", ""]).code, 2);
    assert_eq!(group.run(&["explain", "///"]).code, 2);
}

#[test]
fn numbers_out_of_range_are_refused() {
    let group = Group::new();
    for arguments in [
        &["plan", "--money", "-5", "--days", "2"][..],
        &["plan", "--money=-5", "--days", "2"],
        &["plan", "--money", "nan", "--days", "2"],
        &["plan", "--money", "5", "--days", "inf"],
        &["plan", "--money", "5", "--days", "1", "--hours-per-day", "25"],
    ] {
        let answer = group.run(arguments);
        assert_eq!(answer.code, 2, "{arguments:?}: {}", answer.out);
    }
}

#[test]
fn a_policy_with_nonsense_is_refused_by_name() {
    let group = Group::new();
    group.write("policy.toml", "[thresholds]\nshun_below = 7\n");
    let answer = group.run(&["judge", "--all", "--policy", "policy.toml"]);
    assert_eq!(answer.code, 2);
    assert!(answer.err.contains("policy.toml"), "{}", answer.err);
}
