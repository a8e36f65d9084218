//! In which order to do the chosen works.

use crate::{Plan, Problem, tally::Tally};
use serde::{Deserialize, Serialize};

/// One route of a plan.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct RouteShare {
    /// Index into [`Problem::routes`].
    pub route: usize,
    /// Indices into [`Problem::works`], in order of doing.
    pub works: Vec<usize>,
    /// Sum of gains.
    pub gain: f64,
    /// Person-hours of the works, without the visit.
    pub work_hours: f64,
    /// Person-hours of the visit.
    pub visit_hours: f64,
    /// A work on it must be done.
    pub must: bool,
}

impl RouteShare {
    /// Gain per person-hour, the visit included; infinite where it takes no time.
    pub fn gain_per_hour(&self) -> f64 {
        self.gain / (self.work_hours + self.visit_hours)
    }
}

/// Routes with a must first, then by gain per hour, then by the order of the problem.
pub(crate) fn order(problem: &Problem, plan: &Tally) -> Vec<usize> {
    let mut shares: Vec<RouteShare> = Vec::new();
    let mut place = vec![None; problem.routes.len()];
    for work in plan.works() {
        let route = problem.works[work].route;
        let at = *place[route].get_or_insert_with(|| {
            shares.push(empty(problem, route));
            shares.len() - 1
        });
        take(&mut shares[at], problem, work);
    }
    shares.sort_by(|a, b| {
        b.must
            .cmp(&a.must)
            .then_with(|| b.gain_per_hour().total_cmp(&a.gain_per_hour()))
            .then(a.route.cmp(&b.route))
    });
    shares.into_iter().flat_map(|share| share.works).collect()
}

/// The plan route by route, in order of doing.
pub fn by_route(problem: &Problem, plan: &Plan) -> Vec<RouteShare> {
    let mut shares: Vec<RouteShare> = Vec::new();
    for choice in &plan.chosen {
        let Some(work) = problem.works.get(choice.work) else { continue };
        if shares.last().is_none_or(|last| last.route != work.route) {
            shares.push(empty(problem, work.route));
        }
        if let Some(last) = shares.last_mut() {
            take(last, problem, choice.work);
        }
    }
    shares
}

fn empty(problem: &Problem, route: usize) -> RouteShare {
    let visit_hours = problem.routes[route].visit_hours;
    RouteShare { route, works: Vec::new(), gain: 0.0, work_hours: 0.0, visit_hours, must: false }
}

fn take(share: &mut RouteShare, problem: &Problem, index: usize) {
    let work = &problem.works[index];
    share.works.push(index);
    share.gain += work.gain;
    share.work_hours += work.hours;
    share.must |= work.must;
}
