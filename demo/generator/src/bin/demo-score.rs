//! Scores judgements of the demo against its truth: `demo-score <judgements.json> <truth.csv>`.
//!
//! `judgements.json` is what `holdproof judge --all --json` prints.

use anyhow::{Context, Result, ensure};
use serde::Deserialize;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::io::Write as _;

#[derive(Deserialize)]
struct Answer {
    placements: Vec<Judged>,
}

#[derive(Deserialize)]
struct Judged {
    placement: String,
    judgement: Judgement,
}

#[derive(Deserialize)]
struct Judgement {
    call: String,
    holds_hard_fall: Chance,
    resistance: Band,
    characteristic_resistance_kn: f64,
    demand: Demand,
}

#[derive(Deserialize)]
struct Chance {
    best: f64,
}

#[derive(Deserialize)]
struct Band {
    p05_kn: f64,
    p95_kn: f64,
}

#[derive(Deserialize)]
struct Demand {
    hard_fall_kn: f64,
}

#[derive(Deserialize)]
struct Truth {
    placement: String,
    resistance_kn: f64,
    annual_failure: f64,
}

type Pair<'a> = (&'a Judgement, &'a Truth);

fn main() -> Result<()> {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let [judgements, truth] = words.as_slice() else {
        anyhow::bail!("demo-score <judgements.json> <truth.csv>");
    };
    let text = std::fs::read_to_string(judgements).with_context(|| format!("cannot read {judgements}"))?;
    let judged: Answer =
        serde_json::from_str(&text).with_context(|| format!("{judgements} holds no judgements"))?;
    let truth: BTreeMap<String, Truth> = csv::Reader::from_path(truth)
        .with_context(|| format!("cannot read {truth}"))?
        .deserialize()
        .map(|row: Result<Truth, csv::Error>| row.map(|row| (row.placement.clone(), row)))
        .collect::<Result<_, _>>()?;
    let pairs: Vec<Pair> = judged
        .placements
        .iter()
        .filter_map(|one| Some((&one.judgement, truth.get(&one.placement)?)))
        .collect();
    ensure!(!pairs.is_empty(), "no placement is both judged and known");
    std::io::stdout().write_all(page(&pairs, judged.placements.len(), truth.len())?.as_bytes())?;
    Ok(())
}

fn page(pairs: &[Pair], judged: usize, known: usize) -> Result<String> {
    let mut out = String::new();
    writeln!(out, "{} placements judged, {known} in truth, {} in both", judged, pairs.len())?;

    let share = |hit: &dyn Fn(&Pair) -> bool| {
        pairs.iter().filter(|pair| hit(pair)).count() as f64 / pairs.len() as f64 * 100.0
    };
    let below = share(&|(j, t)| t.resistance_kn < j.resistance.p05_kn);
    let above = share(&|(j, t)| t.resistance_kn > j.resistance.p95_kn);
    let characteristic = share(&|(j, t)| t.resistance_kn < j.characteristic_resistance_kn);
    writeln!(
        out,
        "true strength below the 5 % fractile: {below:.1} %, above the 95 % fractile: {above:.1} %"
    )?;
    writeln!(out, "true strength below the characteristic resistance: {characteristic:.1} %")?;

    let held = share(&|(j, t)| t.resistance_kn >= j.demand.hard_fall_kn) / 100.0;
    let said = pairs.iter().map(|(j, _)| j.holds_hard_fall.best).sum::<f64>() / pairs.len() as f64;
    let miss = |said: &dyn Fn(&Judgement) -> f64| {
        let squares = pairs.iter().map(|(j, t)| {
            let true_now = f64::from(u8::from(t.resistance_kn >= j.demand.hard_fall_kn));
            (said(j) - true_now) * (said(j) - true_now)
        });
        squares.sum::<f64>() / pairs.len() as f64
    };
    writeln!(
        out,
        "would not hold its hard fall: {:.2} % said, {:.2} % true",
        (1.0 - said) * 100.0,
        (1.0 - held) * 100.0
    )?;
    let (score, blind) = (miss(&|j| j.holds_hard_fall.best), miss(&|_| held));
    writeln!(out, "Brier score {score:.5}; the same chance for all would score {blind:.5}")?;

    writeln!(
        out,
        "\n{:<8}{:>7}{:>26}{:>30}",
        "call", "count", "true strength, median kN", "true failures a year, sum"
    )?;
    let calls: BTreeSet<&str> = pairs.iter().map(|(j, _)| j.call.as_str()).collect();
    for call in calls {
        let mut strengths: Vec<f64> =
            pairs.iter().filter(|(j, _)| j.call == call).map(|(_, t)| t.resistance_kn).collect();
        strengths.sort_by(f64::total_cmp);
        let failures: f64 = pairs.iter().filter(|(j, _)| j.call == call).map(|(_, t)| t.annual_failure).sum();
        writeln!(
            out,
            "{call:<8}{:>7}{:>26.1}{failures:>30.4}",
            strengths.len(),
            strengths[strengths.len() / 2]
        )?;
    }

    let mut order: Vec<&Pair> = pairs.iter().collect();
    order.sort_by(|a, b| a.0.holds_hard_fall.best.total_cmp(&b.0.holds_hard_fall.best));
    let all: f64 = pairs.iter().map(|(_, t)| t.annual_failure).sum();
    for tenth in [20, 10, 5] {
        let first = order.len() / tenth;
        let found: f64 = order.iter().take(first).map(|(_, t)| t.annual_failure).sum();
        writeln!(
            out,
            "the {first} judged weakest hold {:.0} % of the true expected failures",
            found / all * 100.0
        )?;
    }
    Ok(out)
}
