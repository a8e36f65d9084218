//! What the caller hands over.

use crate::palette::{CALLS, index};
use campaign::{Limits, Plan, Problem, Use, Work};
use jiff::civil::Date;
use judgement::{Call, Judgement, YearsLeft};
use std::cmp::Ordering;
use units::{Force, UnitSystem};

/// A place on the ground, WGS 84.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GeoPoint {
    /// Degrees north.
    pub latitude: f64,
    /// Degrees east.
    pub longitude: f64,
}

impl GeoPoint {
    /// True for finite coordinates within -90..90 and -180..180 degrees.
    pub fn is_valid(self) -> bool {
        (-90.0..=90.0).contains(&self.latitude) && (-180.0..=180.0).contains(&self.longitude)
    }
}

/// One placement with its judgement.
#[derive(Clone, Debug, PartialEq)]
pub struct PlacementRow {
    /// Where on the route: "bolt 3", "lower-off, left".
    pub label: String,
    /// The hardware in plain words: "wedge bolt M10 × 75, stainless".
    pub fitting: String,
    /// Year it was set, where known.
    pub set_year: Option<i16>,
    /// Own coordinates, where known.
    pub point: Option<GeoPoint>,
    /// The judgement.
    pub judgement: Judgement,
}

/// One route with its placements, in climbing order.
#[derive(Clone, Debug, PartialEq)]
pub struct RouteRow {
    /// Name.
    pub name: String,
    /// Sector, where the crag has sectors.
    pub sector: Option<String>,
    /// Coordinates of its base, where known.
    pub point: Option<GeoPoint>,
    /// Placements, lowest first.
    pub placements: Vec<PlacementRow>,
}

impl RouteRow {
    /// The most urgent call on the route.
    pub fn worst_call(&self) -> Option<Call> {
        self.placements.iter().map(|p| p.judgement.call).max()
    }

    /// The most urgent placement.
    pub fn most_urgent(&self) -> Option<&PlacementRow> {
        self.placements.iter().min_by(|a, b| urgency(&a.judgement, &b.judgement))
    }

    /// Lowest characteristic resistance on the route.
    pub fn weakest(&self) -> Option<Force> {
        self.placements
            .iter()
            .map(|p| p.judgement.characteristic)
            .filter(|f| f.is_finite())
            .min_by(|a, b| a.partial_cmp(b).unwrap_or(Ordering::Equal))
    }

    /// Shortest years left on the route.
    pub fn shortest(&self) -> Option<YearsLeft> {
        let key = |y: &YearsLeft| (y.best.unwrap_or(f64::INFINITY), y.low.unwrap_or(f64::INFINITY));
        self.placements
            .iter()
            .map(|p| p.judgement.years_left)
            .min_by(|a, b| key(a).partial_cmp(&key(b)).unwrap_or(Ordering::Equal))
    }

    /// The route's own coordinates, else the mean of those of its placements.
    pub fn position(&self) -> Option<GeoPoint> {
        if let Some(p) = self.point.filter(|p| p.is_valid()) {
            return Some(p);
        }
        let points: Vec<GeoPoint> =
            self.placements.iter().filter_map(|p| p.point).filter(|p| p.is_valid()).collect();
        if points.is_empty() {
            return None;
        }
        let n = points.len() as f64;
        Some(GeoPoint {
            latitude: points.iter().map(|p| p.latitude).sum::<f64>() / n,
            longitude: points.iter().map(|p| p.longitude).sum::<f64>() / n,
        })
    }
}

/// Order of urgency: call, then the worse end of the chance to hold a hard fall, then years left.
pub fn urgency(a: &Judgement, b: &Judgement) -> Ordering {
    let years = |j: &Judgement| j.years_left.best.unwrap_or(f64::INFINITY);
    b.call
        .cmp(&a.call)
        .then(a.holds_hard_fall.low.total_cmp(&b.holds_hard_fall.low))
        .then(a.holds_hard_fall.best.total_cmp(&b.holds_hard_fall.best))
        .then(years(a).total_cmp(&years(b)))
}

/// One work of a plan.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanRow {
    /// Route, named as in [`RouteRow::name`].
    pub route: String,
    /// Placement on the route, named as in [`PlacementRow::label`].
    pub placement: String,
    /// Call of the placement.
    pub call: Call,
    /// What to do.
    pub todo: String,
    /// Why.
    pub why: String,
    /// What to carry: `2 × hanger`.
    pub carry: Vec<String>,
    /// Expected failures avoided over the horizon.
    pub gain: f64,
    /// Person-hours on the rope.
    pub hours: f64,
}

/// What a route's works bring and ask.
#[derive(Clone, Debug, PartialEq)]
pub struct RouteGain {
    /// Route.
    pub route: String,
    /// Works chosen on it.
    pub works: usize,
    /// Expected failures avoided.
    pub gain: f64,
    /// Person-hours, the visit included.
    pub hours: f64,
    /// What to carry there, shared pieces rounded up: `2 × hanger`.
    pub carry: Vec<String>,
}

/// Something to buy.
#[derive(Clone, Debug, PartialEq)]
pub struct Purchase {
    /// Name.
    pub name: String,
    /// Pieces.
    pub pieces: u32,
    /// Price of all, where known.
    pub price: Option<f64>,
}

/// A plan of works.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanView {
    /// Name of the money: "EUR".
    pub currency: String,
    /// What there is to spend.
    pub limits: Limits,
    /// Money the plan spends.
    pub money: f64,
    /// Person-hours the plan takes, visits included.
    pub hours: f64,
    /// Sum of gains.
    pub gain: f64,
    /// Proved distance from the best possible plan, 0 = none.
    pub gap: f64,
    /// Gain if every work that was offered were done.
    pub possible: f64,
    /// Works in order of doing.
    pub rows: Vec<PlanRow>,
    /// Routes in order of doing.
    pub routes: Vec<RouteGain>,
    /// Shopping list.
    pub buy: Vec<Purchase>,
}

/// What the caller knows of a planned work beyond the plan itself.
#[derive(Clone, Debug, PartialEq)]
pub struct WorkNote {
    /// Placement on the route as people call it.
    pub placement: String,
    /// Call of the placement.
    pub call: Call,
    /// What to do.
    pub todo: String,
    /// Why.
    pub why: String,
}

/// A number of pieces with at most two figures after the first that counts: `3`, `0.3`, `0.04`.
fn amount(pieces: f64) -> String {
    let whole = pieces.round();
    if (pieces - whole).abs() < 1e-9 || pieces >= 10.0 {
        format!("{whole:.0}")
    } else if pieces >= 0.1 {
        format!("{pieces:.1}")
    } else {
        format!("{pieces:.2}")
    }
}

/// The sum of uses by stock item, in the order of the stock list, rounded up to whole pieces.
fn carry(problem: &Problem, uses: &[Use]) -> Vec<String> {
    let items = problem.stock.iter().enumerate();
    let sums = items.map(|(i, item)| {
        let sum: f64 =
            uses.iter().filter(|u| u.item == i && u.quantity.is_finite()).map(|u| u.quantity).sum();
        (item, (sum - 1e-9).ceil())
    });
    sums.filter(|(_, n)| *n > 0.0).map(|(item, n)| format!("{n:.0} × {}", item.name)).collect()
}

impl PlanView {
    /// The view of a plan; `note` gives the words for each chosen work. Indices of the plan that do not
    /// exist in the problem are left out.
    pub fn new(
        problem: &Problem,
        plan: &Plan,
        currency: impl Into<String>,
        mut note: impl FnMut(&Work) -> WorkNote,
    ) -> Self {
        let mut rows = Vec::with_capacity(plan.chosen.len());
        let mut routes: Vec<(usize, RouteGain, Vec<Use>)> = Vec::new();
        for choice in &plan.chosen {
            let Some(work) = problem.works.get(choice.work) else { continue };
            let Some(route) = problem.routes.get(work.route) else { continue };
            let carry = work
                .uses
                .iter()
                .filter_map(|u| {
                    let item = problem.stock.get(u.item)?;
                    Some(format!("{} × {}", amount(u.quantity), item.name))
                })
                .collect();
            let WorkNote { placement, call, todo, why } = note(work);
            rows.push(PlanRow {
                route: route.name.clone(),
                placement,
                call,
                todo,
                why,
                carry,
                gain: work.gain,
                hours: work.hours,
            });
            match routes.iter_mut().find(|(i, ..)| *i == work.route) {
                Some((_, r, carry)) => {
                    carry.extend(&work.uses);
                    r.works += 1;
                    r.gain += work.gain;
                    r.hours += work.hours;
                }
                None => routes.push((
                    work.route,
                    RouteGain {
                        route: route.name.clone(),
                        works: 1,
                        gain: work.gain,
                        hours: work.hours + route.visit_hours,
                        carry: Vec::new(),
                    },
                    work.uses.clone(),
                )),
            }
        }
        let buy = problem
            .stock
            .iter()
            .zip(&plan.buy)
            .filter(|(_, n)| **n > 0)
            .map(|(item, n)| Purchase {
                name: item.name.clone(),
                pieces: *n,
                price: item.price.map(|p| p * f64::from(*n)),
            })
            .collect();
        Self {
            currency: currency.into(),
            limits: problem.limits,
            money: plan.money,
            hours: plan.hours,
            gain: plan.gain,
            gap: plan.gap,
            possible: problem.works.iter().map(|w| w.gain).sum(),
            rows,
            routes: routes
                .into_iter()
                .map(|(_, r, uses)| RouteGain { carry: carry(problem, &uses), ..r })
                .collect(),
            buy,
        }
    }
}

impl PlanView {
    /// Person-hours of the routes shown, visits included.
    pub fn hours_shown(&self) -> f64 {
        self.routes.iter().map(|r| r.hours).sum()
    }

    /// True where routes of the plan are left out, as in the report of one crag of several.
    pub fn is_part(&self) -> bool {
        self.hours_shown() < self.hours - 0.05
    }
}

/// Size of the paper.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Paper {
    /// 210 × 297 mm.
    #[default]
    A4,
    /// 8.5 × 11 in.
    Letter,
}

/// All that the crag report needs.
#[derive(Clone, Debug, PartialEq)]
pub struct CragReport {
    /// Who keeps the register.
    pub group: String,
    /// The crag.
    pub crag: String,
    /// Where it is and what rock: "Marrowdale · granite".
    pub setting: String,
    /// Date of the judgement; also the document's date, so that the same input gives the same bytes.
    pub date: Date,
    /// Units of the reader.
    pub units: UnitSystem,
    /// Paper.
    pub paper: Paper,
    /// Routes in the order of the guide.
    pub routes: Vec<RouteRow>,
    /// The plan, if one was made.
    pub plan: Option<PlanView>,
    /// Further cautions of this crag (access, closures, rows that could not be read), one sentence each.
    pub notes: Vec<String>,
}

impl CragReport {
    /// All placements with their route.
    pub fn placements(&self) -> impl Iterator<Item = (&RouteRow, &PlacementRow)> {
        self.routes.iter().flat_map(|r| r.placements.iter().map(move |p| (r, p)))
    }

    /// How many placements have each call.
    pub fn counts(&self) -> CallCounts {
        CallCounts::of(&self.crag, self.placements().map(|(_, p)| p.judgement.call))
    }

    /// Calls by decade set, oldest first, not known last.
    pub fn by_decade(&self) -> Vec<CallCounts> {
        by_decade(self.placements().map(|(_, p)| (p.set_year, p.judgement.call)))
    }
}

/// Calls by decade set, oldest first, not known last.
pub fn by_decade(placements: impl IntoIterator<Item = (Option<i16>, Call)>) -> Vec<CallCounts> {
    let mut groups: std::collections::BTreeMap<(bool, i16), CallCounts> = std::collections::BTreeMap::new();
    for (year, call) in placements {
        let (key, label) = match year {
            Some(y) => {
                let decade = y.div_euclid(10).saturating_mul(10);
                ((false, decade), format!("{decade}s"))
            }
            None => ((true, 0), "not known".to_owned()),
        };
        let group = groups.entry(key).or_insert_with(|| CallCounts { label, counts: [0; 5] });
        group.counts[index(call)] += 1;
    }
    groups.into_values().collect()
}

/// How many placements of a group have each call.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CallCounts {
    /// Name of the group: a crag, a decade.
    pub label: String,
    /// Counts in the order sound, watch, tend, renew, shun.
    pub counts: [u32; 5],
}

impl CallCounts {
    /// Counts calls.
    pub fn of(label: impl Into<String>, calls: impl IntoIterator<Item = Call>) -> Self {
        let mut counts = [0; 5];
        for call in calls {
            counts[index(call)] += 1;
        }
        Self { label: label.into(), counts }
    }

    /// All placements of the group.
    pub fn total(&self) -> u64 {
        self.counts.iter().map(|n| u64::from(*n)).sum()
    }

    /// Count of one call.
    pub fn get(&self, call: Call) -> u32 {
        self.counts[index(call)]
    }

    /// Calls and counts, least urgent first.
    pub fn iter(&self) -> impl DoubleEndedIterator<Item = (Call, u32)> + '_ {
        CALLS.into_iter().zip(self.counts)
    }
}
