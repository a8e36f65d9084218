//! From judgements to the works a campaign chooses from.
//!
//! A placement that is to be renewed or shunned offers a renewal, one that is to be tended offers
//! tending; sound and watched placements offer nothing. The gain of a work is
//!
//! ```text
//! gain = w (F - F')
//! ```
//!
//! with `F` the chance that the placement fails within the horizon in the use its route gets, `F'` the
//! same after the work and `w` the weight of the consequence. Source: expected failures avoided, with
//! the strength of a placement drawn once for the whole horizon (time-dependent reliability).

mod defaults;

pub use defaults::{Defaults, Kit};

use campaign::{Limits, Problem, Route, StockItem, Use, Work};
use decay::Setting;
use demand::Role;
use judgement::Call;
use rock::RockType;
use std::collections::{BTreeMap, HashMap};

/// A judged placement as far as works are concerned.
#[derive(Clone, Debug, PartialEq)]
pub struct Candidate {
    /// Identity of the placement.
    pub placement: String,
    /// Identity of its route.
    pub route: String,
    /// The call.
    pub call: Call,
    /// Chance that it fails within the horizon in the use it gets, 0..1.
    pub fails: f64,
    /// What it is for.
    pub role: Option<Role>,
    /// Number from the ground up.
    pub number: Option<u16>,
    /// Setting of the crag.
    pub setting: Option<Setting>,
    /// Rock at the placement.
    pub rock: Option<RockType>,
    /// Signs say that the rock around it is bad: hollow, cracked or crushed.
    pub bad_rock: bool,
    /// Has to be done whatever the gain.
    pub must: bool,
}

/// What a visit to a route takes, where the records say.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Visit {
    /// Person-hours.
    pub hours: Option<f64>,
    /// Money.
    pub cost: Option<f64>,
}

/// A work in words.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Todo<'d> {
    /// Replace with this kit.
    Renew(&'d Kit),
    /// The rock here is bad: replace with this kit in good rock nearby, or take the placement out of use.
    Move(&'d Kit),
    /// Tighten, clean.
    Tend,
}

impl Todo<'_> {
    /// What to do, in plain words.
    pub fn words(&self) -> String {
        match self {
            Self::Renew(kit) => format!("renew: {}", kit.name),
            Self::Move(kit) => format!("renew in good rock nearby, or take out of use: {}", kit.name),
            Self::Tend => "tend: tighten, clean".to_owned(),
        }
    }

    /// Battery charges for the hole.
    pub fn charges(&self) -> f64 {
        match self {
            Self::Renew(kit) | Self::Move(kit) => 1.0 / f64::from(kit.holes_per_charge),
            Self::Tend => 0.0,
        }
    }
}

/// A campaign's problem and what each of its works is.
#[derive(Clone, Debug)]
pub struct Offer<'d> {
    /// The problem.
    pub problem: Problem,
    /// What each work of the problem is, same index.
    pub todo: Vec<Todo<'d>>,
    /// Items whose price comes from the defaults, not from the stock list.
    pub assumed_prices: Vec<String>,
    /// Placements that ask for renewal but fit no kit: they are not among the works.
    pub without_kit: Vec<String>,
    /// Items that have no price at all: works need them but none can be bought.
    pub without_price: Vec<String>,
}

/// Lists the works that the judgements ask for, most gain first on each route, as a problem to be
/// solved. `visits` says what a visit to a route takes by the route's identity, `stock` is the
/// register's stock list.
pub fn offer<'d>(
    candidates: &[Candidate],
    visits: &HashMap<String, Visit>,
    stock: &[StockItem],
    limits: Limits,
    defaults: &'d Defaults,
) -> Offer<'d> {
    let mut shelf = Shelf::new(stock, defaults);
    let mut route_index: BTreeMap<&str, usize> = BTreeMap::new();
    let mut routes = Vec::new();
    let mut works: Vec<(Work, Todo<'d>)> = Vec::new();
    let mut without_kit = Vec::new();
    for candidate in candidates {
        let todo = match todo(candidate, defaults) {
            Asked::Nothing => continue,
            Asked::NoKit => {
                without_kit.push(candidate.placement.clone());
                continue;
            }
            Asked::Work(todo) => todo,
        };
        let route = *route_index.entry(&candidate.route).or_insert_with(|| {
            let visit = visits.get(&candidate.route).copied().unwrap_or_default();
            routes.push(Route {
                name: candidate.route.clone(),
                visit_hours: visit.hours.unwrap_or(defaults.visit.hours),
                visit_cost: visit.cost.unwrap_or(defaults.visit.cost),
            });
            routes.len() - 1
        });
        let (hours, needs) = match todo {
            Todo::Renew(kit) | Todo::Move(kit) => (kit.hours, &kit.uses),
            Todo::Tend => (defaults.tending.hours, &defaults.tending.uses),
        };
        let uses =
            needs.iter().map(|need| Use { item: shelf.item(&need.item), quantity: need.pieces }).collect();
        let work = Work {
            placement: candidate.placement.clone(),
            route,
            gain: gain(candidate, &todo, defaults),
            hours,
            cost: 0.0,
            uses,
            must: candidate.must,
        };
        works.push((work, todo));
    }
    works.sort_by(|(a, _), (b, _)| {
        a.route.cmp(&b.route).then(b.gain.total_cmp(&a.gain)).then_with(|| a.placement.cmp(&b.placement))
    });
    let (works, todo) = works.into_iter().unzip();
    let problem = Problem { works, routes, stock: shelf.items, limits };
    Offer { problem, todo, assumed_prices: shelf.assumed, without_kit, without_price: shelf.without_price }
}

/// The work a call asks for: none, or one for which there may be no kit. A must without a call for work
/// is renewed.
fn todo<'d>(candidate: &Candidate, defaults: &'d Defaults) -> Asked<'d> {
    match candidate.call {
        Call::Tend => Asked::Work(Todo::Tend),
        Call::Sound | Call::Watch if !candidate.must => Asked::Nothing,
        _ => defaults.kit_for(candidate).map_or(Asked::NoKit, |kit| {
            Asked::Work(if candidate.bad_rock { Todo::Move(kit) } else { Todo::Renew(kit) })
        }),
    }
}

enum Asked<'d> {
    Nothing,
    Work(Todo<'d>),
    NoKit,
}

/// Expected failures avoided over the horizon, weighted by consequence, >= 0.
fn gain(candidate: &Candidate, todo: &Todo, defaults: &Defaults) -> f64 {
    let before = candidate.fails.clamp(0.0, 1.0);
    let after = match todo {
        Todo::Renew(_) | Todo::Move(_) => {
            (defaults.gain.fails_per_year_after_renewal * defaults.gain.horizon_years).min(before)
        }
        Todo::Tend => before * (1.0 - defaults.gain.tending_removes),
    };
    let gain = defaults.consequence.weight(candidate.role, candidate.number) * (before - after);
    if gain.is_finite() { gain.max(0.0) } else { 0.0 }
}

/// Stock items by name, those of the register first, then what kits need beyond them.
struct Shelf<'d> {
    items: Vec<StockItem>,
    by_name: HashMap<String, usize>,
    defaults: &'d Defaults,
    assumed: Vec<String>,
    without_price: Vec<String>,
}

impl<'d> Shelf<'d> {
    fn new(stock: &[StockItem], defaults: &'d Defaults) -> Self {
        let mut shelf = Self {
            items: Vec::new(),
            by_name: HashMap::new(),
            defaults,
            assumed: Vec::new(),
            without_price: Vec::new(),
        };
        for item in stock {
            shelf.by_name.insert(register::identity::stock(&item.name), shelf.items.len());
            shelf.items.push(item.clone());
        }
        shelf
    }

    /// Index of an item; fills in what the stock list lacks.
    fn item(&mut self, name: &str) -> usize {
        let key = register::identity::stock(name);
        let index = *self.by_name.entry(key).or_insert_with(|| {
            self.items.push(StockItem { name: name.to_owned(), in_hand: 0, price: None });
            self.items.len() - 1
        });
        if self.items[index].price.is_none() {
            match self.defaults.price(name) {
                Some(price) => {
                    self.items[index].price = Some(price);
                    self.assumed.push(self.items[index].name.clone());
                }
                None if !self.without_price.contains(&self.items[index].name) => {
                    self.without_price.push(self.items[index].name.clone());
                }
                None => {}
            }
        }
        index
    }
}

#[cfg(test)]
mod tests;
