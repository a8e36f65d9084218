//! The account of a calculation: each step with its formula, numbers, units and source.

use serde::Serialize;
use std::borrow::Cow;

/// Where a number came from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Origin {
    /// Measured at this placement.
    Measured,
    /// Written down by somebody when it was placed or seen.
    Recorded,
    /// Not known: a stated assumption with wide scatter.
    Assumed,
    /// Computed from the numbers above it.
    Computed,
    /// A constant or table value of a standard, paper or named judgement.
    Table,
}

/// One quantity in a step.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Term {
    /// Symbol as in the formula, e.g. `h_ef`.
    pub symbol: Cow<'static, str>,
    /// Value in `unit`.
    pub value: f64,
    /// Unit symbol, e.g. `mm`, `kN`, `MPa`, `1`.
    pub unit: &'static str,
    /// Standard deviation of the logarithm, where the value is uncertain.
    pub sd_ln: Option<f64>,
    /// Where the value came from.
    pub origin: Origin,
}

impl Term {
    /// A term without scatter.
    pub fn new(symbol: impl Into<Cow<'static, str>>, value: f64, unit: &'static str, origin: Origin) -> Self {
        Self { symbol: symbol.into(), value, unit, sd_ln: None, origin }
    }
    /// The same term with a logarithmic standard deviation.
    pub fn with_sd(mut self, sd_ln: f64) -> Self {
        self.sd_ln = Some(sd_ln);
        self
    }
}

/// One step of an account.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Step {
    /// Chapter it belongs to, in plain words: "rock", "steel", "cone breakout", "corrosion" ...
    pub chapter: &'static str,
    /// What is computed, in plain words.
    pub what: Cow<'static, str>,
    /// The formula as text, with the symbols of the terms.
    pub formula: Cow<'static, str>,
    /// The numbers that went in.
    pub inputs: Vec<Term>,
    /// The number that came out.
    pub result: Term,
    /// Standard clause, paper, or "judgement".
    pub source: Cow<'static, str>,
}

/// Receives the steps of a calculation. Models take `&mut impl Scribe` and hand over a closure, so
/// that with [`Silent`] nothing is built.
pub trait Scribe {
    /// Takes down a step; `make` runs only if the account is wanted.
    fn step(&mut self, make: impl FnOnce() -> Step);
}

/// A scribe that keeps nothing.
#[derive(Clone, Copy, Debug, Default)]
pub struct Silent;

impl Scribe for Silent {
    #[inline]
    fn step(&mut self, _make: impl FnOnce() -> Step) {}
}

/// A scribe that keeps every step in order.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Account {
    /// The steps in the order they were made.
    pub steps: Vec<Step>,
}

impl Scribe for Account {
    fn step(&mut self, make: impl FnOnce() -> Step) {
        self.steps.push(make());
    }
}
