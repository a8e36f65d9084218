//! A good plan fast: the start of the exact search, and the answer if it fails.

use crate::{Problem, tally::Tally};

/// Adds works to `start` as long as something fits, each time the bundle of works of one route with
/// the greatest gain per effort, where effort is the sum of the shares of money and hours it spends
/// (the visit included where the route is not visited yet). Bundles are the leading works of a route
/// by gain per own effort. Source: greedy rule for the knapsack with fixed charges, common practice.
pub(crate) fn extend<'a>(problem: &'a Problem, start: Tally<'a>) -> Tally<'a> {
    let mut plan = start;
    let mut alone = Tally::empty(problem);
    let mut own_worth = |work: usize| {
        alone.add(work);
        let worth = problem.works[work].gain / alone.effort().max(f64::MIN_POSITIVE);
        alone.remove(work);
        worth
    };
    let mut open: Vec<Vec<usize>> = vec![Vec::new(); problem.routes.len()];
    for (index, work) in problem.works.iter().enumerate() {
        if work.gain > 0.0 && !plan.chosen[index] {
            open[work.route].push(index);
        }
    }
    for works in &mut open {
        let mut keyed: Vec<(f64, usize)> = works.iter().map(|&w| (own_worth(w), w)).collect();
        keyed.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        *works = keyed.into_iter().map(|(_, w)| w).collect();
    }
    let mut bundle = Vec::new();
    loop {
        let effort_before = plan.effort();
        let mut best: (f64, Vec<usize>) = (0.0, Vec::new());
        for works in &open {
            let mut gain = 0.0;
            for &work in works {
                plan.add(work);
                if !plan.fits() {
                    plan.remove(work);
                    continue;
                }
                bundle.push(work);
                gain += problem.works[work].gain;
                let worth = gain / (plan.effort() - effort_before).max(1e-12);
                if worth > best.0 {
                    best = (worth, bundle.clone());
                }
            }
            while let Some(work) = bundle.pop() {
                plan.remove(work);
            }
        }
        let Some(&first) = best.1.first() else { return plan };
        open[problem.works[first].route].retain(|work| !best.1.contains(work));
        for work in best.1 {
            plan.add(work);
        }
    }
}
