//! Refuses problems with numbers that mean nothing.

use crate::{CampaignError, Options, Problem};

/// Greatest number accepted for money, hours, gains and quantities. Source: judgement; keeps the
/// solver's tables well scaled.
const GREATEST: f64 = 1e9;
/// Greatest quantity of one stock item in one work. Source: judgement.
const GREATEST_QUANTITY: f64 = 1e4;

fn number(value: f64, greatest: f64, what: impl FnOnce() -> String) -> Result<(), CampaignError> {
    if (0.0..=greatest).contains(&value) {
        Ok(())
    } else {
        Err(CampaignError::BadNumber { what: what(), value, greatest })
    }
}

/// Checks every number and index.
pub(crate) fn check(problem: &Problem, options: &Options) -> Result<(), CampaignError> {
    number(options.gap, 1.0, || "the gap".into())?;
    number(problem.limits.money, GREATEST, || "the money limit".into())?;
    number(problem.limits.hours, GREATEST, || "the limit of person-hours".into())?;
    for route in &problem.routes {
        number(route.visit_hours, GREATEST, || format!("the visit time of route {}", route.name))?;
        number(route.visit_cost, GREATEST, || format!("the visit cost of route {}", route.name))?;
    }
    for item in &problem.stock {
        number(item.price.unwrap_or(0.0), GREATEST, || format!("the price of {}", item.name))?;
    }
    for work in &problem.works {
        let placement = &work.placement;
        number(work.gain, GREATEST, || format!("the gain of the work on {placement}"))?;
        number(work.hours, GREATEST, || format!("the time of the work on {placement}"))?;
        number(work.cost, GREATEST, || format!("the cost of the work on {placement}"))?;
        index(work.route, problem.routes.len(), "route", placement)?;
        for need in &work.uses {
            index(need.item, problem.stock.len(), "stock item", placement)?;
            number(need.quantity, GREATEST_QUANTITY, || {
                format!("the quantity of {} for {placement}", problem.stock[need.item].name)
            })?;
        }
    }
    Ok(())
}

fn index(index: usize, count: usize, what: &'static str, placement: &str) -> Result<(), CampaignError> {
    if index < count {
        Ok(())
    } else {
        Err(CampaignError::BadIndex { placement: placement.to_owned(), what, index, count })
    }
}
