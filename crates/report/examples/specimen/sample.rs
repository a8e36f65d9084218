//! Invented numbers for specimens and tests: no real crag, group or measurement.

use campaign::{Choice, Limits, Plan, Problem, Proof, Route, StockItem, Use, Work};
use evidence::{Extent, Finding, Seen, Sign};
use judgement::{
    Band, Call, Chance, DemandView, Judgement, MissingEvidence, ModeView, Reason, Statement, YearsLeft,
};
use report::{AgeingPoint, CragReport, GeoPoint, Paper, PlacementRow, PlanView, RouteRow, WorkNote, urgency};
use resistance::{Mode, Source};
use units::{Angle, Force, UnitSystem};

/// A small repeatable source of numbers in 0..1 (a linear congruential generator).
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(2_862_933_555_777_941_757).wrapping_add(3_037_000_493))
    }
    pub fn roll(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }
    pub fn below(&mut self, n: usize) -> usize {
        ((self.roll() * n as f64) as usize).min(n.saturating_sub(1))
    }
}

pub fn band(median: f64, sd_ln: f64) -> Band {
    let k = (1.645 * sd_ln).exp();
    Band { p05: Force::kn(median / k), p50: Force::kn(median), p95: Force::kn(median * k) }
}

pub fn judgement(call: Call, dice: &mut Dice) -> Judgement {
    let level = match call {
        Call::Sound => 24.0 + 6.0 * dice.roll(),
        Call::Watch => 17.0 + 6.0 * dice.roll(),
        Call::Tend => 15.0 + 5.0 * dice.roll(),
        Call::Renew => 8.0 + 5.0 * dice.roll(),
        Call::Shun => 2.5 + 3.0 * dice.roll(),
    };
    let spread = match call {
        Call::Sound => 0.16,
        Call::Watch | Call::Tend => 0.28,
        _ => 0.45,
    };
    let best = match call {
        Call::Sound => 0.9996,
        Call::Watch => 0.985,
        Call::Tend => 0.97,
        Call::Renew => 0.78 + 0.1 * dice.roll(),
        Call::Shun => 0.08 + 0.2 * dice.roll(),
    };
    let years = match call {
        Call::Sound => (None, Some(34.0 + 10.0 * dice.roll()), None),
        Call::Watch => (Some(18.0 + 14.0 * dice.roll()), Some(9.0), None),
        Call::Tend => (Some(12.0 + 8.0 * dice.roll()), Some(6.0), Some(31.0)),
        Call::Renew => (Some(3.0 * dice.roll()), Some(0.0), Some(9.0)),
        Call::Shun => (Some(0.0), Some(0.0), Some(0.0)),
    };
    let reason = |statement: Statement, effect| Reason {
        kind: statement.kind(),
        origin: statement.origin(),
        effect,
        statement,
    };
    let seen = |sign| Seen { sign, finding: Finding::Present(Extent::Marked) };
    let reasons = match call {
        Call::Shun => vec![
            reason(Statement::StopSign(Sign::MovesInHole), 0.25),
            reason(Statement::Sign(seen(Sign::RockHollow)), 0.6),
        ],
        Call::Renew => vec![
            reason(Statement::SteelLost { area_left: 0.61, measured: false }, 0.55),
            reason(Statement::NotKnown { source: Source::Embedment, share: 0.34 }, 1.0),
        ],
        Call::Tend => vec![reason(Statement::Tendable(Sign::NutLoose), 0.9)],
        Call::Watch => vec![reason(Statement::Sign(seen(Sign::RustFromHole)), 0.8)],
        Call::Sound => {
            vec![reason(Statement::Proof { load: Force::kn(8.0), years_ago: 1.0, axial: true }, 1.0)]
        }
    };
    Judgement {
        modes: vec![
            ModeView { mode: Mode::PullOut, band: band(level * 1.02, spread), governs: 0.71 },
            ModeView { mode: Mode::Cone, band: band(level * 1.4, spread * 1.1), governs: 0.23 },
            ModeView { mode: Mode::Steel, band: band(31.0, 0.08), governs: 0.05 },
            ModeView { mode: Mode::Hanger, band: band(38.0, 0.07), governs: 0.01 },
        ],
        governing: Mode::PullOut,
        resistance: band(level, spread),
        characteristic: Force::kn(level / (1.9 * spread).exp()),
        demand: DemandView {
            per_fall: band(3.4, 0.38),
            hard_fall: Force::kn(6.4),
            worst_year: band(5.6, 0.22),
            falls_per_year: 14.0,
            direction: Angle::deg(78.0),
        },
        holds_hard_fall: Chance { best, low: (best - 0.12).max(0.02), high: (best + 0.08).min(0.9999) },
        holds_year: Chance { best, low: (best - 0.12).max(0.02), high: (best + 0.08).min(0.9999) },
        years_left: YearsLeft { best: years.0, low: years.1, high: years.2, horizon: 50.0 },
        call,
        reasons,
        missing: vec![
            MissingEvidence {
                source: Source::Embedment,
                share: 0.41,
                advice: "Measure how deep the bolt sits, or find the length in the setter's notes.",
            },
            MissingEvidence {
                source: Source::RockStrength,
                share: 0.22,
                advice: "Take ten rebound-hammer readings on the wall beside the route.",
            },
        ],
    }
}

const NAMES: [&str; 24] = [
    "Slow Lichen",
    "Kestrel Hour",
    "The Postman's Knee",
    "Brine and Butter",
    "Second Breakfast",
    "Grey Wagtail",
    "Salt Lamp",
    "A Very Long Winter's Walk Along the Upper Ledge to Nowhere in Particular",
    "Undercut",
    "Émile's Wall",
    "Nine Sleepers",
    "Ebb",
    "Rook's Arrow",
    "Low Pressure",
    "Tern About",
    "Fulmar",
    "Thrift",
    "Hard Water",
    "Samphire",
    "Left of Reason",
    "The Long Queue",
    "Pilot Light",
    "Whinstone",
    "Marram",
];

fn draw(dice: &mut Dice) -> Call {
    match dice.below(100) {
        0..=51 => Call::Sound,
        52..=71 => Call::Watch,
        72..=82 => Call::Tend,
        83..=96 => Call::Renew,
        _ => Call::Shun,
    }
}

pub fn route(i: usize, placements: usize, dice: &mut Dice) -> RouteRow {
    let along = i as f64 * 6.0 + 2.0 * dice.roll();
    let (x, y) = (along, 22.0 * (along / 60.0).sin() + 3.0 * dice.roll());
    let point = GeoPoint { latitude: 54.0 + y / 111_195.0, longitude: -3.0 + x / (111_195.0 * 0.5878) };
    let name = NAMES[i % NAMES.len()];
    RouteRow {
        name: if i < NAMES.len() { name.to_owned() } else { format!("{name} {}", i / NAMES.len() + 1) },
        sector: Some(if i % 24 < 10 { "North Buttress" } else { "The Steps" }.to_owned()),
        point: (i % 11 != 7).then_some(point),
        placements: (1..=placements)
            .map(|n| {
                let call = draw(dice);
                PlacementRow {
                    label: if n == placements { "lower-off".to_owned() } else { format!("bolt {n}") },
                    fitting: [
                        "wedge bolt M10 × 75, plated",
                        "glue-in 12 × 100, 316",
                        "sleeve bolt 3/8 in, kind of steel not known",
                    ][dice.below(3)]
                    .to_owned(),
                    set_year: (dice.below(10) > 0).then(|| 1972 + dice.below(54) as i16),
                    point: None,
                    judgement: judgement(call, dice),
                }
            })
            .collect(),
    }
}

/// A crag of `routes` routes with `each` placements.
pub fn crag(routes: usize, each: usize) -> CragReport {
    let mut dice = Dice::new(7);
    let routes: Vec<RouteRow> = (0..routes).map(|i| route(i, each, &mut dice)).collect();
    let plan = plan_for(&routes);
    CragReport {
        group: "Sallow Ridge Bolting Group".to_owned(),
        crag: "Tern Head".to_owned(),
        setting: "county of Marrowdale · limestone sea cliff · warm".to_owned(),
        date: jiff::civil::date(2026, 11, 25),
        units: UnitSystem::Metric,
        paper: Paper::A4,
        routes,
        plan,
        notes: vec!["Nesting birds: the north buttress is closed from 1 March to 31 July.".to_owned()],
    }
}

/// A plan that renews what is most urgent.
pub fn plan_for(routes: &[RouteRow]) -> Option<PlanView> {
    let mut work_rows: Vec<(usize, &PlacementRow)> = routes
        .iter()
        .enumerate()
        .flat_map(|(i, r)| r.placements.iter().map(move |p| (i, p)))
        .filter(|(_, p)| p.judgement.call >= Call::Tend)
        .collect();
    work_rows.sort_by(|a, b| urgency(&a.1.judgement, &b.1.judgement).then(a.0.cmp(&b.0)));
    work_rows.truncate(30);
    let stock = vec![
        StockItem { name: "glue-in 12 × 100, 316".to_owned(), in_hand: 20, price: Some(9.5) },
        StockItem { name: "resin cartridge, vinylester".to_owned(), in_hand: 2, price: Some(22.0) },
        StockItem { name: "nut M10, 316".to_owned(), in_hand: 40, price: Some(0.4) },
    ];
    let works: Vec<Work> = work_rows
        .iter()
        .map(|(route, p)| Work {
            placement: format!("{route}/{}", p.label),
            route: *route,
            gain: (1.0 - p.judgement.holds_hard_fall.best) * 1.4,
            hours: if p.judgement.call == Call::Tend { 0.3 } else { 1.5 },
            cost: 0.0,
            uses: if p.judgement.call == Call::Tend {
                vec![Use { item: 2, quantity: 1.0 }]
            } else {
                vec![Use { item: 0, quantity: 1.0 }, Use { item: 1, quantity: 0.1 }]
            },
            must: p.judgement.call == Call::Shun,
        })
        .collect();
    let problem = Problem {
        routes: routes
            .iter()
            .map(|r| Route { name: r.name.clone(), visit_hours: 1.5, visit_cost: 0.0 })
            .collect(),
        stock,
        limits: Limits { money: 600.0, hours: 70.0 },
        works,
    };
    let mut by_route: Vec<usize> = Vec::new();
    for w in &problem.works {
        if !by_route.contains(&w.route) {
            by_route.push(w.route);
        }
    }
    let chosen: Vec<Choice> = by_route
        .iter()
        .take(14)
        .flat_map(|r| {
            problem
                .works
                .iter()
                .enumerate()
                .filter(move |(_, w)| w.route == *r)
                .map(|(i, _)| Choice { work: i })
        })
        .collect();
    let gain = chosen.iter().map(|c| problem.works[c.work].gain).sum::<f64>();
    let hours =
        chosen.iter().map(|c| problem.works[c.work].hours).sum::<f64>() + 1.5 * by_route.len().min(14) as f64;
    let plan = Plan {
        chosen,
        gain,
        bound: gain,
        gap: 0.0,
        money: 412.0,
        hours,
        buy: vec![9, 2, 0],
        used: vec![20, 3, 5],
        proof: Proof::Optimal,
        nodes: 1,
    };
    let mut notes = work_rows.iter().map(|(_, p)| WorkNote {
        placement: p.label.clone(),
        call: p.judgement.call,
        todo: match p.judgement.call {
            Call::Tend => "Tighten the nut to the maker's torque and look again.".to_owned(),
            _ => "Remove the old fitting and set a new glue-in 20 cm away in good rock.".to_owned(),
        },
        why: p.judgement.reasons.first().map(|r| r.statement.text(UnitSystem::Metric)).unwrap_or_default(),
    });
    let all: Vec<WorkNote> = notes.by_ref().collect();
    Some(PlanView::new(&problem, &plan, "EUR", |w| {
        let i = problem.works.iter().position(|x| x.placement == w.placement).unwrap_or(0);
        all[i].clone()
    }))
}

/// Strength over fifty years of rust.
pub fn ageing_series() -> Vec<AgeingPoint> {
    (0..=25)
        .map(|i| {
            let years = f64::from(i) * 2.0;
            AgeingPoint {
                year: 2026.9 + years,
                resistance: band(21.0 * (1.0 - 0.0125 * years), 0.2 + 0.006 * years),
            }
        })
        .collect()
}
