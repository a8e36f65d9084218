//! A plan cut into days.

use crate::{Plan, Problem, by_route, tally::within};
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

/// Cuts a plan into days of `hours_per_day` person-hours (> 0), keeping its order: a route that no
/// longer fits begins the next day; a route longer than a day is carried on the day after, at the price
/// of another visit; a single work longer than a day gets a day of its own. Without a positive,
/// finite `hours_per_day` everything is one day.
pub fn split_into_days(problem: &Problem, plan: &Plan, hours_per_day: f64) -> Vec<Day> {
    let room = if hours_per_day > 0.0 { hours_per_day } else { f64::INFINITY };
    let mut days: Vec<Day> = Vec::new();
    for share in by_route(problem, plan) {
        let whole = share.visit_hours + share.work_hours;
        let mut day = days.pop().unwrap_or_default();
        if !day.stops.is_empty() && !within(day.hours + whole, room) {
            days.push(std::mem::take(&mut day));
        }
        let mut stop = Stop { route: share.route, works: Vec::new(), hours: share.visit_hours, again: false };
        for &work in &share.works {
            let hours = problem.works[work].hours;
            if !stop.works.is_empty() && !within(day.hours + stop.hours + hours, room) {
                let next =
                    Stop { route: share.route, works: Vec::new(), hours: share.visit_hours, again: true };
                close(&mut day, std::mem::replace(&mut stop, next));
                days.push(std::mem::take(&mut day));
            }
            stop.works.push(work);
            stop.hours += hours;
        }
        close(&mut day, stop);
        days.push(day);
    }
    days
}

fn close(day: &mut Day, stop: Stop) {
    day.hours += stop.hours;
    day.stops.push(stop);
}
