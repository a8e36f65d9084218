//! A plan cut into days.

use crate::{Plan, Problem, Route, RouteShare, by_route, tally::within};
use serde::{Deserialize, Serialize};

/// A stay on one route during one day.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Stop {
    /// Index into [`Problem::routes`].
    pub route: usize,
    /// Indices into [`Problem::works`].
    pub works: Vec<usize>,
    /// Person-hours, the visit included.
    pub hours: f64,
    /// The route was begun on an earlier day: its visit is paid for a second time here and is not part
    /// of the plan's hours.
    pub again: bool,
}

/// One day.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Day {
    /// Routes in order of doing.
    pub stops: Vec<Stop>,
    /// Person-hours of the day.
    pub hours: f64,
}

/// Cuts a plan into days of `hours_per_day` person-hours (> 0) that stay within one area each, as `area`
/// tells it of a route (a crag). Every day begins with the first route that is left, and is filled up
/// with the next routes of that area that still fit. A route longer than a day is carried on the day
/// after, at the price of another visit; a single work longer than a day gets a day of its own. Without
/// a positive `hours_per_day` there is no limit to a day.
pub fn split_into_days<A: PartialEq>(
    problem: &Problem,
    plan: &Plan,
    hours_per_day: f64,
    area: impl Fn(&Route) -> A,
) -> Vec<Day> {
    let room = if hours_per_day > 0.0 { hours_per_day } else { f64::INFINITY };
    let mut left = by_route(problem, plan);
    let mut days: Vec<Day> = Vec::new();
    while !left.is_empty() {
        let first = left.remove(0);
        let here = area(&problem.routes[first.route]);
        let mut day = begin(problem, &first, room, &mut days);
        left.retain(|share| {
            let hours = share.visit_hours + share.work_hours;
            let fits = area(&problem.routes[share.route]) == here && within(day.hours + hours, room);
            if fits {
                let stop = Stop { route: share.route, works: share.works.clone(), hours, again: false };
                close(&mut day, stop);
            }
            !fits
        });
        days.push(day);
    }
    days
}

/// The day that a route begins; days that it fills by itself go to `days`.
fn begin(problem: &Problem, share: &RouteShare, room: f64, days: &mut Vec<Day>) -> Day {
    let mut day = Day::default();
    let visit = |again| Stop { route: share.route, works: Vec::new(), hours: share.visit_hours, again };
    let mut stop = visit(false);
    for &work in &share.works {
        let hours = problem.works[work].hours;
        if !stop.works.is_empty() && !within(stop.hours + hours, room) {
            close(&mut day, std::mem::replace(&mut stop, visit(true)));
            days.push(std::mem::take(&mut day));
        }
        stop.works.push(work);
        stop.hours += hours;
    }
    close(&mut day, stop);
    day
}

fn close(day: &mut Day, stop: Stop) {
    day.hours += stop.hours;
    day.stops.push(stop);
}
