//! Random small problems against the enumeration of every subset of works.

use campaign::{CampaignError, Limits, Options, Plan, Problem, Proof, Route, StockItem, Use, Work, solve};
use proptest::prelude::*;

/// Counts a subset from the definition, independent of the crate's own tally.
/// Returns gain, money, hours, or `None` where an item runs out that cannot be bought.
fn count(problem: &Problem, chosen: &[usize]) -> Option<(f64, f64, f64)> {
    let (mut gain, mut money, mut hours) = (0.0, 0.0, 0.0);
    for (r, route) in problem.routes.iter().enumerate() {
        if chosen.iter().any(|&w| problem.works[w].route == r) {
            money += route.visit_cost;
            hours += route.visit_hours;
        }
    }
    for &w in chosen {
        gain += problem.works[w].gain;
        money += problem.works[w].cost;
        hours += problem.works[w].hours;
    }
    for (k, item) in problem.stock.iter().enumerate() {
        let used: f64 = chosen
            .iter()
            .flat_map(|&w| &problem.works[w].uses)
            .filter(|u| u.item == k)
            .map(|u| u.quantity)
            .sum();
        let missing = (used - f64::from(item.in_hand) - 1e-9).ceil().max(0.0);
        match item.price {
            Some(price) => money += missing * price,
            None if missing > 0.0 => return None,
            None => {}
        }
    }
    Some((gain, money, hours))
}

fn fits(problem: &Problem, chosen: &[usize]) -> bool {
    count(problem, chosen).is_some_and(|(_, money, hours)| {
        money <= problem.limits.money + 1e-6 && hours <= problem.limits.hours + 1e-6
    })
}

/// Best gain over all subsets that hold the musts; `None` where none fits.
fn enumerate(problem: &Problem) -> Option<f64> {
    let n = problem.works.len();
    (0u32..1 << n)
        .map(|bits| (0..n).filter(|i| bits >> i & 1 == 1).collect::<Vec<_>>())
        .filter(|chosen| (0..n).all(|w| !problem.works[w].must || chosen.contains(&w)))
        .filter(|chosen| fits(problem, chosen))
        .filter_map(|chosen| count(problem, &chosen).map(|c| c.0))
        .max_by(f64::total_cmp)
}

fn problems() -> impl Strategy<Value = Problem> {
    let work = (0usize..3, 0u32..40, 0u32..8, 0u32..12, prop::option::of((0usize..2, 1u32..12)), 0u32..12);
    let works = prop::collection::vec(work, 0..10);
    let routes = prop::collection::vec((0u32..6, 0u32..6), 3);
    let stock = prop::collection::vec((0u32..4, prop::option::of(0u32..9)), 2);
    (works, routes, stock, 0u32..60, 0u32..20).prop_map(|(works, routes, stock, money, hours)| Problem {
        works: works
            .into_iter()
            .enumerate()
            .map(|(i, (route, gain, hours, cost, uses, must))| Work {
                placement: i.to_string(),
                route,
                gain: f64::from(gain) / 10.0,
                hours: f64::from(hours) / 2.0,
                cost: f64::from(cost),
                // quarters of a piece: whole and shared use both occur
                uses: uses.map(|(item, q)| Use { item, quantity: f64::from(q) / 4.0 }).into_iter().collect(),
                must: must == 0,
            })
            .collect(),
        routes: routes
            .into_iter()
            .enumerate()
            .map(|(i, (h, c))| Route {
                name: i.to_string(),
                visit_hours: f64::from(h) / 2.0,
                visit_cost: f64::from(c),
            })
            .collect(),
        stock: stock
            .into_iter()
            .enumerate()
            .map(|(i, (in_hand, price))| StockItem {
                name: i.to_string(),
                in_hand,
                price: price.map(f64::from),
            })
            .collect(),
        limits: Limits { money: f64::from(money), hours: f64::from(hours) / 2.0 },
    })
}

fn indices(plan: &Plan) -> Vec<usize> {
    plan.chosen.iter().map(|c| c.work).collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn exact_plan_is_the_best_subset(problem in problems()) {
        let best = enumerate(&problem);
        match solve(&problem, &Options { gap: 0.0, node_limit: 100_000 }) {
            Ok(plan) => {
                let best = best.expect("a plan was found, so one exists");
                prop_assert!((plan.gain - best).abs() < 1e-6, "plan {} best {best}", plan.gain);
                prop_assert_eq!(plan.proof, Proof::Optimal);
                prop_assert!(fits(&problem, &indices(&plan)));
            }
            Err(CampaignError::MustNotFit(shortfalls)) => {
                prop_assert_eq!(best, None);
                prop_assert!(!shortfalls.is_empty() && shortfalls.iter().all(|s| s.over_by() > 0.0));
            }
            Err(other) => prop_assert!(false, "{other}"),
        }
    }

    #[test]
    fn every_plan_is_feasible_repeatable_and_honest(problem in problems(), nodes in 0u64..3, gap in 0.0..0.2) {
        let options = Options { gap, node_limit: nodes };
        let Ok(plan) = solve(&problem, &options) else { return Ok(()) };
        let chosen = indices(&plan);
        prop_assert!(fits(&problem, &chosen));
        for (w, work) in problem.works.iter().enumerate() {
            prop_assert!(!work.must || chosen.contains(&w));
        }
        let (gain, money, hours) = count(&problem, &chosen).unwrap();
        prop_assert!((gain - plan.gain).abs() < 1e-9);
        prop_assert!((money - plan.money).abs() < 1e-9 && (hours - plan.hours).abs() < 1e-9);
        let best = enumerate(&problem).unwrap();
        prop_assert!(plan.gain <= best + 1e-9 && best <= plan.bound + 1e-6, "{} {best} {}", plan.gain, plan.bound);
        prop_assert!((0.0..=1.0).contains(&plan.gap));
        prop_assert_eq!(solve(&problem, &options).unwrap(), plan);
    }
}
