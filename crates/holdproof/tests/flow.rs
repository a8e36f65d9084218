//! The main flow on a small register.
#![allow(clippy::unwrap_used)]

mod common;
use common::{Group, golden};

#[test]
fn lists_what_was_imported() {
    let group = Group::new();
    let list = group.run(&["list"]);
    assert_eq!(list.code, 0, "{}", list.err);
    golden("list.txt", &list.out);
    let crag = group.run(&["list", "--crag", "tern head"]);
    assert_eq!(crag.out.lines().filter(|line| line.starts_with("tern-head/")).count(), 2);
    let kind = group.run(&["list", "--kind", "glue-in"]);
    assert_eq!(kind.out.lines().filter(|line| line.contains("/")).count(), 1);
    let json = group.json(&["list"]);
    assert_eq!(json["placements"].as_array().unwrap().len(), 6);
    assert_eq!(json["placements"][0]["placement"], "harl-quarry/blind-corner/1");
    assert_eq!(json["placements"][0]["diameter_mm"], 12.0);
    assert_eq!(json["placements"][0]["last_seen_on"], "2025-08-14");
}

#[test]
fn filter_by_call_agrees_with_the_judgements() {
    let group = Group::new();
    let all = group.json(&["judge", "--all"]);
    let of = |call: &str| {
        let all = all["placements"].as_array().unwrap();
        all.iter().filter(|one| one["judgement"]["call"] == call).count()
    };
    for call in ["sound", "watch", "tend", "renew", "shun"] {
        let listed = group.json(&["list", "--call", call]);
        assert_eq!(listed["placements"].as_array().unwrap().len(), of(call), "{call}");
    }
}

#[test]
fn judgements_are_ordered_plausible_and_cautious() {
    let group = Group::new();
    let judged = group.json(&["judge", "--all"]);
    let all = judged["placements"].as_array().unwrap();
    let by = |id: &str| all.iter().find(|one| one["placement"] == id).unwrap()["judgement"].clone();
    let new = by("harl-quarry/slow-lichen/1");
    let old = by("harl-quarry/blind-corner/3");
    // a quarter-inch compression bolt of 1972 that moves, against a 12 mm stainless bolt of 2021
    let median = |judgement: &serde_json::Value| judgement["resistance"]["p50_kn"].as_f64().unwrap();
    assert!(median(&old) < 0.5 * median(&new), "{} {}", median(&old), median(&new));
    assert!(["renew", "shun"].contains(&old["call"].as_str().unwrap()));
    assert!(!["renew", "shun"].contains(&new["call"].as_str().unwrap()), "{new}");
    for one in all {
        let j = &one["judgement"];
        let (low, best, high) = (
            j["holds_hard_fall"]["low"].as_f64().unwrap(),
            j["holds_hard_fall"]["best"].as_f64().unwrap(),
            j["holds_hard_fall"]["high"].as_f64().unwrap(),
        );
        assert!(low <= best && best <= high);
        assert!(!j["reasons"].as_array().unwrap().is_empty(), "a call carries its reasons");
    }
    let text = group.run(&["judge", "--all"]);
    assert!(text.out.contains("no inspection sees inside the hole"));
    let first = text.out.lines().nth(1).unwrap();
    assert!(first.contains("shun") || first.contains("renew"), "most urgent first: {first}");
}

#[test]
fn one_placement_says_why() {
    let group = Group::new();
    let one = group.run(&["judge", "harl-quarry/blind-corner/3"]);
    assert_eq!(one.code, 0, "{}", one.err);
    for words in ["Why:", "call", "holds a hard fall", "years left", "no inspection sees inside the hole"] {
        assert!(one.out.contains(words), "{words} in {}", one.out);
    }
    let us = group.run(&["judge", "harl-quarry/blind-corner/3", "--units", "us"]);
    assert!(us.out.contains("lbf") && !us.out.contains(" kN\n"), "{}", us.out);
}

#[test]
fn explain_shows_every_step_with_its_source() {
    let group = Group::new();
    let json = group.json(&["explain", "harl-quarry/blind-corner/2"]);
    let steps = json["steps"].as_array().unwrap();
    assert!(steps.len() > 10, "{}", steps.len());
    for step in steps {
        assert!(!step["source"].as_str().unwrap().is_empty(), "{step}");
        assert!(!step["formula"].as_str().unwrap().is_empty(), "{step}");
    }
    let inputs = json["inputs"].as_array().unwrap();
    assert!(inputs.iter().any(|input| input["field"] == "fitting.diameter"), "{inputs:?}");
    let text = group.run(&["explain", "harl-quarry/blind-corner/2"]);
    assert!(text.out.matches("source: ").count() == steps.len());
    let judged = group.json(&["judge", "harl-quarry/blind-corner/2"]);
    assert_eq!(judged["placements"][0]["judgement"], json["judgement"], "explain and judge agree");
}

#[test]
fn show_tells_what_is_recorded() {
    let group = Group::new();
    let show = group.run(&["show", "Harl Quarry/Blind Corner/3"]);
    assert_eq!(show.code, 0, "{}", show.err);
    for words in ["compression bolt", "1972", "Ines Morrow", "marked"] {
        assert!(show.out.contains(words), "{words} in {}", show.out);
    }
    let json = group.json(&["show", "harl-quarry/slow-lichen/1"]);
    assert_eq!(json["pulls"][0]["peak_kn"], 12.0);
    assert_eq!(json["pulls"][0]["end"], "proof_held");
}

#[test]
fn plan_keeps_to_its_means_and_repeats_itself() {
    let group = Group::new();
    let plan = group.json(&["plan", "--money", "200", "--days", "2"]);
    assert!(plan["money"].as_f64().unwrap() <= 200.0);
    assert!(plan["hours"].as_f64().unwrap() <= 12.0);
    assert!(plan["gain"].as_f64().unwrap() <= plan["gain_bound"].as_f64().unwrap() * (1.0 + 1e-6));
    assert!(!plan["works"].as_array().unwrap().is_empty());
    assert_eq!(plan, group.json(&["plan", "--money", "200", "--days", "2"]));
    let text = group.run(&["plan", "--money", "200", "--days", "2"]);
    for words in ["expected failures avoided", "Hardware", "no choice", "no inspection sees inside the hole"]
    {
        assert!(text.out.contains(words), "{words} in {}", text.out);
    }
    group
        .write("limits.toml", "money = 200.0\nvolunteers = 2\ndays_per_volunteer = 1\nhours_per_day = 6.0\n");
    let from_file = group.json(&["plan", "--limits", "limits.toml"]);
    assert_eq!(from_file["works"], plan["works"]);
    let days = from_file["days"].as_array().unwrap();
    assert!(!days.is_empty() && days.iter().all(|day| day["hours"].as_f64().unwrap() <= 12.0), "{from_file}");
}

#[test]
fn plan_without_means_says_so() {
    let group = Group::new();
    let plan = group.run(&["plan", "--money", "0", "--days", "0"]);
    assert_eq!(plan.code, 0);
    assert!(plan.out.contains("Nothing fits") && plan.out.contains("gain    0.0 of"), "{}", plan.out);
    assert_eq!(group.json(&["plan", "--money", "0", "--days", "0"])["works"], serde_json::json!([]));
}

#[test]
fn plan_says_what_a_must_lacks() {
    let group = Group::new();
    let must = group.run(&["plan", "--money", "5", "--days", "0.1", "--must", "tern-head/salt-line/2"]);
    assert_eq!(must.code, 2);
    assert!(must.err.contains("money needed") && must.err.contains("person-hours needed"), "{}", must.err);
}

#[test]
fn the_built_in_works_can_be_edited_and_handed_back() {
    let group = Group::new();
    let works = group.run(&["plan", "--show-works"]);
    assert_eq!(works.code, 0);
    group.write("works.toml", &works.out);
    let own = group.json(&["plan", "--money", "200", "--days", "2", "--works", "works.toml"]);
    assert_eq!(own, group.json(&["plan", "--money", "200", "--days", "2"]));
    group.write("works.toml", works.out.replace("horizon_years = 10.0", "horizon_years = 0.0"));
    let bad = group.run(&["plan", "--money", "200", "--days", "2", "--works", "works.toml"]);
    assert_eq!(bad.code, 2);
    assert!(bad.err.contains("horizon_years is 0"), "{}", bad.err);
}

#[test]
fn answers_do_not_depend_on_the_day_they_are_asked() {
    let group = Group::new();
    let now = group.json(&["judge", "--all", "--on", "2026-06-01"]);
    assert_eq!(now, group.json(&["judge", "--all"]));
    let later = group.json(&["judge", "--all", "--on", "2046-06-01"]);
    for (now, later) in
        now["placements"].as_array().unwrap().iter().zip(later["placements"].as_array().unwrap())
    {
        let p = |one: &serde_json::Value| one["judgement"]["holds_hard_fall"]["best"].as_f64().unwrap();
        assert!(p(later) <= p(now) + 1e-9, "twenty years do not strengthen {}", now["placement"]);
    }
}

#[test]
fn no_colour_when_piped_and_colour_when_asked() {
    let group = Group::new();
    assert!(!group.run(&["judge", "--all"]).out.contains('\u{1b}'));
    assert!(group.run(&["judge", "--all", "--color", "always"]).out.contains('\u{1b}'));
    assert!(!group.run(&["judge", "--all", "--color", "never"]).out.contains('\u{1b}'));
}

#[test]
fn reports_and_charts_are_written() {
    let group = Group::new();
    let report = group.run(&["report", "--all", "--out", "reports", "--money", "200", "--days", "2"]);
    assert_eq!(report.code, 0, "{}", report.err);
    let pdf = std::fs::read(group.path("reports/harl-quarry.pdf")).unwrap();
    assert!(pdf.starts_with(b"%PDF-"));
    for name in
        ["calls.svg", "decades.svg", "years-left.svg", "plan.svg", "tern-head.pdf", "tern-head-map.svg"]
    {
        assert!(group.path("reports").join(name).exists(), "{name}");
    }
    let chart = group.run(&["chart", "margin", "--placement", "tern-head/salt-line/2"]);
    assert_eq!(chart.code, 0, "{}", chart.err);
    assert!(chart.out.trim_start().starts_with("<svg") || chart.out.starts_with("<?xml"));
    for chart in ["calls", "decades", "years"] {
        assert_eq!(group.run(&["chart", chart]).code, 0, "{chart}");
    }
    assert_eq!(group.run(&["chart", "map"]).code, 2, "a map wants one crag");
    assert_eq!(group.run(&["chart", "ageing", "--placement", "tern-head/salt-line/2"]).code, 0);
}

#[test]
fn stock_can_come_from_a_sheet_or_not_at_all() {
    let group = Group::new();
    let means = ["plan", "--money", "200", "--days", "2"];
    let bought = |plan: &serde_json::Value, item: &str| {
        let lines = plan["shopping"].as_array().unwrap();
        lines.iter().find(|line| line["name"] == item).map(|line| line["buy"].as_u64().unwrap())
    };
    let bolt = "wedge bolt M12x100 stainless 316 with hanger";
    assert_eq!(bought(&group.json(&means), bolt), Some(0), "four are in hand");
    assert_eq!(bought(&group.json(&[&means[..], &["--no-stock"]].concat()), bolt), Some(1));
    group.write("other.csv", format!("Item,In hand,Price\n{bolt},0,9.00\n"));
    let other = group.json(&[&means[..], &["--stock", "other.csv"]].concat());
    assert_eq!(bought(&other, bolt), Some(1));
    group.write(
        "other.csv",
        format!("Item,In hand,Price\ndrill bit 12 mm,2,14\nnozzle,5,2\n{bolt},many,9.00\n"),
    );
    let bad = group.run(&[&means[..], &["--stock", "other.csv"]].concat());
    assert_eq!(bad.code, 2);
    assert!(bad.err.contains("row 4"), "{}", bad.err);
}

#[test]
fn answers_do_not_depend_on_the_number_of_threads() {
    let group = Group::new();
    let judge = ["judge", "--all", "--json"];
    let one = group.run_with(&judge, &[("RAYON_NUM_THREADS", "1")]);
    let many = group.run_with(&judge, &[("RAYON_NUM_THREADS", "7")]);
    assert_eq!(one.code, 0);
    assert_eq!(one.out, many.out);
}

#[test]
fn the_register_can_be_named_in_the_environment() {
    let group = Group::new();
    std::fs::rename(group.path("group.holdproof"), group.path("other.holdproof")).unwrap();
    assert_eq!(group.run(&["list"]).code, 3);
    assert_eq!(group.run_with(&["list"], &[("HOLDPROOF_REGISTER", "other.holdproof")]).code, 0);
    assert_eq!(group.run(&["list", "--register", "other.holdproof"]).code, 0);
}
