//! A problem of the size a group really has.

use campaign::{Limits, Options, Problem, Proof, Route, StockItem, Use, Work, solve};

/// Numbers between 0 and 1 from a fixed linear congruential sequence (Knuth's MMIX constants).
struct Sequence(u64);

impl Sequence {
    fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6364136223846793005).wrapping_add(1442695040888963407);
        (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }
}

fn group(routes: usize, works: usize, money: f64, hours: f64) -> Problem {
    let mut r = Sequence(7);
    Problem {
        works: (0..works)
            .map(|i| {
                let glue_in = r.next() < 0.5;
                let uses = if glue_in {
                    vec![
                        Use { item: 0, quantity: 1.0 },
                        Use { item: 1, quantity: 0.12 },
                        Use { item: 3, quantity: 0.1 },
                    ]
                } else {
                    vec![Use { item: 2, quantity: 1.0 }, Use { item: 3, quantity: 0.05 }]
                };
                Work {
                    placement: i.to_string(),
                    route: (r.next() * routes as f64) as usize,
                    // chances of failure spread over three decades, as judgements give
                    gain: 10f64.powf(-3.0 * r.next()),
                    hours: if glue_in { 1.0 } else { 0.6 },
                    cost: 0.0,
                    uses,
                    must: r.next() < 0.03,
                }
            })
            .collect(),
        routes: (0..routes)
            .map(|i| Route {
                name: i.to_string(),
                visit_hours: 0.5 + 2.0 * r.next(),
                visit_cost: if i % 3 == 0 { 4.0 } else { 0.0 },
            })
            .collect(),
        stock: vec![
            StockItem { name: "glue-in".into(), in_hand: 40, price: Some(9.5) },
            StockItem { name: "resin".into(), in_hand: 3, price: Some(24.0) },
            StockItem { name: "wedge bolt with hanger".into(), in_hand: 25, price: Some(7.2) },
            StockItem { name: "drill bit".into(), in_hand: 4, price: Some(14.0) },
        ],
        limits: Limits { money, hours },
    }
}

#[test]
fn one_group_one_season() {
    let problem = group(120, 400, 1500.0, 180.0);
    let plan = solve(&problem, &Options::default()).unwrap();
    assert_eq!(plan.proof, Proof::Optimal, "gap {}", plan.gap);
    // a tolerance saves time and costs at most that share of the gain
    let rough = solve(&problem, &Options { gap: 1e-3, ..Options::default() }).unwrap();
    assert!(rough.gap <= 1e-3 && rough.nodes < plan.nodes);
    assert!(rough.gain >= plan.gain * (1.0 - 1e-3) && plan.gain <= rough.bound * (1.0 + 1e-9));
}
