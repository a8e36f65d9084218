//! What a set of works spends.

use crate::{Problem, Resource, Shortfall};

/// Slack for sums of decimal fractions (0.1 + 0.2), relative to the size of the sum.
const ROUND_OFF: f64 = 1e-9;

/// True where `spent` is at most `limit`, allowing for round-off.
pub(crate) fn within(spent: f64, limit: f64) -> bool {
    spent <= limit + ROUND_OFF * limit.abs().max(1.0)
}

/// Whole pieces for a sum of quantities.
pub(crate) fn whole(quantity: f64) -> u32 {
    // the cast saturates; quantities are checked to be >= 0
    (quantity - ROUND_OFF * quantity.max(1.0)).ceil().max(0.0) as u32
}

/// Running totals of a set of works.
#[derive(Clone, Debug)]
pub(crate) struct Tally<'a> {
    problem: &'a Problem,
    /// Chosen or not, per work.
    pub chosen: Vec<bool>,
    works_on: Vec<u32>,
    used: Vec<f64>,
    fees: f64,
    hours: f64,
}

impl<'a> Tally<'a> {
    /// No work chosen.
    pub fn empty(problem: &'a Problem) -> Self {
        Self {
            problem,
            chosen: vec![false; problem.works.len()],
            works_on: vec![0; problem.routes.len()],
            used: vec![0.0; problem.stock.len()],
            fees: 0.0,
            hours: 0.0,
        }
    }

    /// The given works chosen.
    pub fn of(problem: &'a Problem, works: impl IntoIterator<Item = usize>) -> Self {
        let mut tally = Self::empty(problem);
        for work in works {
            tally.add(work);
        }
        tally
    }

    /// Chooses one more work; a work that is already chosen changes nothing.
    pub fn add(&mut self, index: usize) {
        if std::mem::replace(&mut self.chosen[index], true) {
            return;
        }
        self.works_on[self.problem.works[index].route] += 1;
        self.book(index, 1.0);
    }

    /// Gives up a work; one that is not chosen changes nothing. Sums may keep a round-off: a final
    /// answer is counted afresh with [`Tally::of`].
    pub fn remove(&mut self, index: usize) {
        if !std::mem::replace(&mut self.chosen[index], false) {
            return;
        }
        self.book(index, -1.0);
        self.works_on[self.problem.works[index].route] -= 1;
    }

    /// Adds (sign 1) or takes away (sign -1) what a work spends; the visit counts with the only
    /// work on the route.
    fn book(&mut self, index: usize, sign: f64) {
        let work = &self.problem.works[index];
        let route = &self.problem.routes[work.route];
        if self.works_on[work.route] == 1 {
            self.fees += sign * route.visit_cost;
            self.hours += sign * route.visit_hours;
        }
        self.fees += sign * work.cost;
        self.hours += sign * work.hours;
        for need in &work.uses {
            self.used[need.item] += sign * need.quantity;
        }
    }

    /// Indices of the chosen works, ascending.
    pub fn works(&self) -> impl Iterator<Item = usize> + '_ {
        self.chosen.iter().enumerate().filter(|(_, chosen)| **chosen).map(|(index, _)| index)
    }

    /// Sum of gains, added in the order of the problem.
    pub fn gain(&self) -> f64 {
        // from plus zero: the sum of nothing would be minus zero
        self.works().map(|work| self.problem.works[work].gain).fold(0.0, |sum, gain| sum + gain)
    }

    /// Person-hours, visits included.
    pub fn hours(&self) -> f64 {
        self.hours
    }

    /// Pieces used of an item, rounded up.
    pub fn used(&self, item: usize) -> u32 {
        whole(self.used[item])
    }

    /// Pieces of an item beyond what is in hand.
    pub fn missing(&self, item: usize) -> u32 {
        self.used(item).saturating_sub(self.problem.stock[item].in_hand)
    }

    /// Money: fees, visits and purchases.
    pub fn money(&self) -> f64 {
        let purchases: f64 = self
            .problem
            .stock
            .iter()
            .enumerate()
            .map(|(item, stock)| f64::from(self.missing(item)) * stock.price.unwrap_or(0.0))
            .sum();
        self.fees + purchases
    }

    /// Every limit that is broken.
    pub fn shortfalls(&self) -> Vec<Shortfall> {
        let mut out = Vec::new();
        let limits = &self.problem.limits;
        for (resource, needed, available) in
            [(Resource::Money, self.money(), limits.money), (Resource::Hours, self.hours, limits.hours)]
        {
            if !within(needed, available) {
                out.push(Shortfall { resource, needed, available });
            }
        }
        for (item, stock) in self.problem.stock.iter().enumerate() {
            if stock.price.is_none() && self.missing(item) > 0 {
                out.push(Shortfall {
                    resource: Resource::Stock(stock.name.clone()),
                    needed: f64::from(self.used(item)),
                    available: f64::from(stock.in_hand),
                });
            }
        }
        out
    }

    /// True where no limit is broken.
    pub fn fits(&self) -> bool {
        within(self.hours, self.problem.limits.hours)
            && within(self.money(), self.problem.limits.money)
            && self
                .problem
                .stock
                .iter()
                .enumerate()
                .all(|(item, stock)| stock.price.is_some() || self.missing(item) == 0)
    }

    /// Share of the limits that the set spends: the sum of the shares of money and of hours. A limit
    /// of zero counts nothing.
    pub fn effort(&self) -> f64 {
        let share = |spent: f64, limit: f64| if limit > 0.0 { spent / limit } else { 0.0 };
        share(self.money(), self.problem.limits.money) + share(self.hours, self.problem.limits.hours)
    }
}
