//! Choosing works under limits.

use crate::{Computation, Error, Inputs, computation};
use campaign::{Limits, Options, Plan, Problem, Route, Work, solve};

/// Computations of this area.
pub fn computations() -> Vec<Computation> {
    vec![
        computation("knapsack_gain", |i| Ok(plan(&knapsack(i)?)?.gain)),
        computation("campaign_gain", |i| Ok(plan(&campaign(i)?)?.gain)),
        computation("campaign_money", |i| Ok(plan(&campaign(i)?)?.money)),
        computation("campaign_hours_missing", |i| match solve(&campaign(i)?, &EXACT) {
            Err(campaign::CampaignError::MustNotFit(shortfalls)) => shortfalls
                .iter()
                .find(|s| s.resource == campaign::Resource::Hours)
                .map(campaign::Shortfall::over_by)
                .ok_or_else(|| Error::model("hours are not among the limits that fail")),
            Err(other) => Err(Error::model(other)),
            Ok(_) => Err(Error::model("the musts fit")),
        }),
    ]
}

/// Search until the optimum is proved.
const EXACT: Options = Options { gap: 0.0, node_limit: 100_000 };

fn plan(problem: &Problem) -> Result<Plan, Error> {
    let plan = solve(problem, &EXACT).map_err(Error::model)?;
    if plan.gap == 0.0 { Ok(plan) } else { Err(Error::model("the optimum was not proved")) }
}

/// Items with weights and profits, one limit, no visits.
fn knapsack(i: &Inputs) -> Result<Problem, Error> {
    let works = i.numbers("weights")?.into_iter().zip(i.numbers("profits")?);
    let money = i.number("capacity")?;
    Ok(Problem {
        works: works.enumerate().map(|(n, (weight, profit))| work(n, 0, profit, 0.0, weight)).collect(),
        routes: vec![Route { name: "wall".into(), visit_hours: 0.0, visit_cost: 0.0 }],
        stock: Vec::new(),
        limits: Limits { money, hours: 0.0 },
    })
}

/// Works on routes with visit hours; routes and musts are counted from 1.
fn campaign(i: &Inputs) -> Result<Problem, Error> {
    let visits = i.numbers("visit_h")?;
    let (routes, gains) = (i.numbers("route")?, i.numbers("gain")?);
    let (hours, costs) = (i.numbers("h")?, i.numbers("cost")?);
    let count = routes.len();
    if [gains.len(), hours.len(), costs.len()] != [count; 3] {
        return Err(Error::model("route, gain, h and cost must be lists of the same length"));
    }
    let mut works: Vec<Work> = (0..count)
        .map(|n| work(n, (routes[n] as usize).wrapping_sub(1), gains[n], hours[n], costs[n]))
        .collect();
    for must in i.numbers("must")? {
        let index = (must as usize).wrapping_sub(1);
        works.get_mut(index).ok_or_else(|| Error::model("a must that is not a work"))?.must = true;
    }
    Ok(Problem {
        works,
        routes: visits
            .into_iter()
            .enumerate()
            .map(|(n, visit_hours)| Route { name: n.to_string(), visit_hours, visit_cost: 0.0 })
            .collect(),
        stock: Vec::new(),
        limits: Limits { money: i.number("money")?, hours: i.number("hours")? },
    })
}

fn work(n: usize, route: usize, gain: f64, hours: f64, cost: f64) -> Work {
    Work { placement: (n + 1).to_string(), route, gain, hours, cost, uses: Vec::new(), must: false }
}
