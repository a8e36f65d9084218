//! The crag report: it is made for every shape of input, and the same input gives the same bytes.

#[path = "../examples/specimen/sample.rs"]
#[allow(dead_code)]
mod sample;

use judgement::{Chance, YearsLeft};
use proptest::prelude::*;
use report::{CragReport, Paper, crag_report};
use units::{Force, UnitSystem};

fn pdf(report: &CragReport) -> Vec<u8> {
    crag_report(report).expect("a report")
}

/// Number of page objects.
fn page_count(bytes: &[u8]) -> usize {
    let text = String::from_utf8_lossy(bytes);
    let start = text.find("/Count ").expect("a page count") + 7;
    text[start..].chars().take_while(char::is_ascii_digit).collect::<String>().parse().expect("a number")
}

#[test]
fn it_is_a_tagged_document_with_language_title_and_bookmarks() {
    let bytes = pdf(&sample::crag(6, 4));
    assert!(bytes.starts_with(b"%PDF-1.7"));
    let text = String::from_utf8_lossy(&bytes);
    for part in ["/StructTreeRoot", "/Lang", "/Outlines", "/MarkInfo", "pdfuaid:part", "/FontFile"] {
        assert!(text.contains(part), "{part}");
    }
}

#[test]
fn the_same_input_gives_the_same_bytes() {
    let report = sample::crag(10, 5);
    assert_eq!(pdf(&report), pdf(&report));
    let mut later = report.clone();
    later.date = jiff::civil::date(2026, 11, 26);
    assert_ne!(pdf(&report), pdf(&later));
}

#[test]
fn every_size_of_crag_gives_a_report() {
    for (routes, each) in [(0, 0), (1, 0), (1, 1), (3, 1), (80, 5), (400, 1)] {
        let pages = page_count(&pdf(&sample::crag(routes, each)));
        assert!(pages > routes / 60, "{routes} × {each}: {pages} pages");
    }
}

#[test]
fn certainty_infinity_and_unknown_places_do_no_harm() {
    let mut report = sample::crag(8, 6);
    report.paper = Paper::Letter;
    report.units = UnitSystem::Us;
    report.plan = None;
    for r in &mut report.routes {
        r.point = None;
        for p in &mut r.placements {
            let j = &mut p.judgement;
            j.holds_hard_fall = Chance { best: 1.0, low: 1.0, high: 1.0 };
            j.years_left = YearsLeft { best: Some(f64::INFINITY), low: None, high: None, horizon: 50.0 };
            j.characteristic = Force::kn(f64::NAN);
            j.reasons.clear();
            j.missing.clear();
            p.set_year = None;
        }
    }
    pdf(&report);
}

#[test]
fn a_cell_taller_than_a_page_is_broken() {
    let mut report = sample::crag(2, 3);
    let long = "word ".repeat(4000);
    if let Some(plan) = &mut report.plan {
        for row in &mut plan.rows {
            row.why = long.clone();
        }
        assert!(!plan.rows.is_empty());
    }
    assert!(page_count(&pdf(&report)) > 8);
}

#[test]
fn shared_pieces_are_carried_whole() {
    // The sample uses a tenth of a cartridge for each new glue-in; the few of a route still need a whole one.
    let plan = sample::crag(24, 8).plan.expect("a plan");
    let cartridges = |r: &report::RouteGain| r.carry.iter().any(|c| c == "1 × resin cartridge, vinylester");
    assert!(plan.routes.iter().any(cartridges), "{:?}", plan.routes);
    let glue_ins: usize = plan
        .routes
        .iter()
        .flat_map(|r| &r.carry)
        .filter_map(|c| c.strip_suffix(" × glue-in 12 × 100, 316"))
        .map(|n| n.parse::<usize>().expect("a whole number"))
        .sum();
    assert_eq!(glue_ins, plan.rows.iter().filter(|w| w.carry.iter().any(|c| c.contains("glue-in"))).count());
}

#[test]
fn a_plan_shown_in_part_says_so() {
    let mut plan = sample::crag(24, 8).plan.expect("a plan");
    assert!(!plan.is_part());
    let svg = report::plan(&plan, &report::Style::wall()).to_svg();
    assert!(!svg.contains("Part of a plan"));
    plan.routes.truncate(2);
    assert!(plan.is_part());
    let svg = report::plan(&plan, &report::Style::wall()).to_svg();
    assert!(svg.contains("Part of a plan over several crags") && svg.contains("at all crags"));
}

#[test]
fn plans_for_all_some_and_none_of_the_crag_are_reported() {
    let whole = sample::crag(24, 8);
    let mut part = whole.clone();
    if let Some(plan) = &mut part.plan {
        plan.rows.truncate(1);
        plan.routes.truncate(1);
    }
    let mut none = whole.clone();
    if let Some(plan) = &mut none.plan {
        plan.rows.clear();
        plan.routes.clear();
    }
    for report in [&whole, &part, &none] {
        assert!(page_count(&pdf(report)) >= 6);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_text_can_be_printed(text in "\\PC{0,120}", other in ".{0,60}") {
        let mut report = sample::crag(2, 2);
        report.crag = text.clone();
        report.group = other.clone();
        report.setting = text.clone();
        report.notes = vec![other.clone()];
        for r in &mut report.routes {
            r.name = text.clone();
            r.sector = Some(other.clone());
            for p in &mut r.placements {
                p.label = other.clone();
                p.fitting = text.clone();
                for reason in &mut p.judgement.reasons {
                    reason.statement = judgement::Statement::KindFloor(text.clone());
                }
            }
        }
        prop_assert!(crag_report(&report).is_ok(), "{:?}", crag_report(&report).err());
    }
}
