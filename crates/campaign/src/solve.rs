//! The choice of works.

use crate::{
    CampaignError, Choice, Options, Plan, Problem, Proof, check::check, greedy, model::Model, order,
    tally::Tally,
};
use microlp::{SolveOptions, TerminationReason};

/// Chooses the works with the greatest total gain that fit into money, person-hours and stock.
///
/// Stock in hand is used before anything is bought; purchases are whole pieces; the visit to a route is
/// paid once; works that must be done are always in. The answer is exact to the gap that the plan
/// carries: `gain <= optimum <= bound`. The same problem and options give the same plan on every
/// machine.
///
/// Units: money in the group's currency, time in person-hours, gain in expected failures avoided.
/// Errors: a number out of range or an index that points nowhere; musts that do not fit, with every
/// limit they break and by how much.
/// Method: mixed-integer program solved by branch and bound from a greedy start.
pub fn solve(problem: &Problem, options: &Options) -> Result<Plan, CampaignError> {
    check(problem, options)?;
    let musts = Tally::of(problem, (0..problem.works.len()).filter(|&work| problem.works[work].must));
    let shortfalls = musts.shortfalls();
    if !shortfalls.is_empty() {
        return Err(CampaignError::MustNotFit(shortfalls));
    }
    let start = greedy::extend(problem, musts.clone());
    let found = search(problem, options, &start);
    let improved = found.works.map(|works| {
        let plan = Tally::of(problem, works);
        // rounding to whole works could pass a limit by the solver's tolerance
        if plan.fits() { greedy::extend(problem, plan) } else { musts }
    });
    let best = match improved {
        Some(plan) if plan.gain() > start.gain() => plan,
        _ => start,
    };
    let best = Tally::of(problem, best.works().collect::<Vec<_>>());
    Ok(report(problem, options, &best, found.bound, found.proof, found.nodes))
}

struct Found {
    works: Option<Vec<usize>>,
    bound: f64,
    proof: Proof,
    nodes: u64,
}

fn search(problem: &Problem, options: &Options, start: &Tally) -> Found {
    let everything: f64 = problem.works.iter().map(|work| work.gain).sum();
    let model = Model::new(problem);
    let mut settings = SolveOptions::default();
    settings.node_limit = Some(options.node_limit);
    settings.mip_gap = options.gap;
    settings.warm_start = Some(model.start(problem, start));
    match model.program.solve_with(settings) {
        Ok(outcome) => {
            let stats = outcome.stats();
            let proof = match outcome.termination_reason() {
                TerminationReason::ProvenOptimal => Proof::Optimal,
                TerminationReason::MipGap => Proof::WithinGap,
                _ => Proof::NodeLimit,
            };
            Found {
                works: outcome.solution().map(|solution| model.chosen(solution).collect()),
                bound: stats.best_bound.map_or(everything, |bound| (bound / model.scale).min(everything)),
                proof,
                nodes: stats.nodes_solved,
            }
        }
        Err(_) => Found { works: None, bound: everything, proof: Proof::Greedy, nodes: 0 },
    }
}

/// Relative difference of two sums of gains that round-off explains.
const ROUND_OFF: f64 = 1e-9;

fn report(problem: &Problem, options: &Options, best: &Tally, bound: f64, proof: Proof, nodes: u64) -> Plan {
    let gain = best.gain();
    let (bound, gap) = if bound <= gain * (1.0 + ROUND_OFF) || bound <= 0.0 {
        (gain, 0.0)
    } else {
        (bound, (bound - gain) / bound)
    };
    let proof = if gap == 0.0 {
        Proof::Optimal
    } else if gap <= options.gap && proof == Proof::NodeLimit {
        Proof::WithinGap
    } else {
        proof
    };
    let items = 0..problem.stock.len();
    Plan {
        chosen: order::order(problem, best).into_iter().map(|work| Choice { work }).collect(),
        gain,
        bound,
        gap,
        proof,
        nodes,
        money: best.money(),
        hours: best.hours(),
        buy: items.clone().map(|item| best.missing(item)).collect(),
        used: items.map(|item| best.used(item)).collect(),
    }
}
