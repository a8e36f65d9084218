//! From a register to a plan: candidates, limits, the solved campaign.

use crate::exit::Failure;
use crate::importing::Pen;
use crate::judging::{Judge, Judged};
use crate::works::{Candidate, Defaults, Offer, Visit, offer};
use campaign::{Limits, Plan, StockItem};
use evidence::{Extent, Finding, Sign};
use jiff::civil::Date;
use judgement::{Call, Reason, Statement};
use register::State;
use serde::Deserialize;
use std::collections::{BTreeSet, HashMap};
use std::path::{Path, PathBuf};

/// What there is to spend.
#[derive(Clone, Debug, Default, clap::Args)]
pub struct Means {
    /// Money to spend, in your group's currency
    #[arg(long, value_name = "AMOUNT")]
    pub money: Option<f64>,
    /// Days of one volunteer (two people for three days = 6)
    #[arg(long, value_name = "PEOPLE-DAYS")]
    pub days: Option<f64>,
    /// How many volunteers work on the same day; the plan is then cut into days
    #[arg(long, value_name = "NUMBER")]
    pub people: Option<f64>,
    /// Hours that a volunteer works on the rope in a day
    #[arg(long, value_name = "HOURS")]
    pub hours_per_day: Option<f64>,
    /// A file with money, volunteers, days_per_volunteer and hours_per_day instead
    #[arg(long, value_name = "FILE")]
    pub limits: Option<PathBuf>,
    /// Your own file of kits, times and prices (see the built-in one with --show-works)
    #[arg(long, value_name = "FILE")]
    pub works: Option<PathBuf>,
    /// Take stock and prices from this sheet instead of the register's stock list
    #[arg(long, value_name = "FILE")]
    pub stock: Option<PathBuf>,
    /// Plan as if nothing were in stock; prices stay
    #[arg(long)]
    pub no_stock: bool,
    /// Be content with a plan that is at most this much short of the best, in per cent
    #[arg(long, value_name = "PER CENT", default_value_t = 0.0)]
    pub gap: f64,
    /// This placement must be done whatever its gain (may be given several times)
    #[arg(long, value_name = "PLACEMENT")]
    pub must: Vec<String>,
}

/// The file of `--limits`.
#[derive(Debug, Default, Deserialize)]
struct LimitsFile {
    money: Option<f64>,
    volunteers: Option<f64>,
    days_per_volunteer: Option<f64>,
    hours_per_day: Option<f64>,
}

/// What there is to spend, worked out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Budget {
    /// Money and person-hours.
    pub limits: Limits,
    /// Days of one volunteer.
    pub people_days: f64,
    /// Hours of such a day.
    pub hours_per_day: f64,
    /// How far from the best a plan may be, 0..1.
    pub gap: f64,
    /// People who work on the same day, where given.
    pub people: Option<f64>,
}

impl Means {
    /// Kits, times and prices.
    pub fn defaults(&self) -> Result<Defaults, Failure> {
        match &self.works {
            None => Defaults::from_toml(Defaults::BUILT_IN).map_err(Failure::other),
            Some(path) => Defaults::from_toml(&read(path)?)
                .map_err(|e| Failure::usage(format!("{}: {e}", path.display()))),
        }
    }

    /// The stock list: a sheet, or what the register holds.
    pub fn stock(&self, state: &State, today: Date) -> Result<Vec<StockItem>, Failure> {
        let own;
        let state = match &self.stock {
            None => state,
            Some(path) => {
                own = read_stock(path, today)?;
                &own
            }
        };
        Ok(state
            .stock()
            .map(|item| StockItem {
                name: item.record.name.clone().unwrap_or_else(|| item.id.to_owned()),
                in_hand: if self.no_stock { 0 } else { item.record.in_hand.unwrap_or(0) },
                price: item.record.price.filter(|price| price.is_finite() && *price >= 0.0),
            })
            .collect())
    }

    /// Money and hours, from the options or the file; an option wins over the file.
    pub fn budget(&self, defaults: &Defaults) -> Result<Budget, Failure> {
        let file: LimitsFile = match &self.limits {
            None => LimitsFile::default(),
            Some(path) => toml::from_str(&read(path)?)
                .map_err(|e| Failure::usage(format!("{} is not a file of limits: {e}", path.display())))?,
        };
        let file_days = file.days_per_volunteer.map(|days| days * file.volunteers.unwrap_or(1.0));
        let people = self.people.or(file.volunteers);
        let missing = |what: &str, option: &str| {
            Failure::usage(format!("how much {what} is there? Give {option}, or a file with --limits"))
                .advise("Example: holdproof plan --money 1500 --days 12")
        };
        let money = self.money.or(file.money).ok_or_else(|| missing("money", "--money"))?;
        let people_days = self.days.or(file_days).ok_or_else(|| missing("time", "--days"))?;
        let hours_per_day = self.hours_per_day.or(file.hours_per_day).unwrap_or(defaults.day.hours);
        for (what, value, least, most) in [
            ("money", money, 0.0, 1e9),
            ("days", people_days, 0.0, 1e6),
            ("hours a day", hours_per_day, 0.1, 24.0),
            ("gap", self.gap, 0.0, 100.0),
            ("people", people.unwrap_or(1.0), 1.0, 1e6),
        ] {
            if !(least..=most).contains(&value) {
                return Err(Failure::usage(format!("{what}: {value} must lie between {least} and {most}")));
            }
        }
        let limits = Limits { money, hours: people_days * hours_per_day };
        Ok(Budget { limits, people_days, hours_per_day, gap: self.gap / 100.0, people })
    }
}

/// The items of a stock sheet. Rows that cannot be read are an error: a plan should not miss them unseen.
fn read_stock(path: &Path, today: Date) -> Result<State, Failure> {
    let name = path.display().to_string();
    let trouble =
        |e: &dyn std::fmt::Display| Failure::usage(format!("cannot use the stock list {name}: {e}"));
    let file = std::fs::File::open(path).map_err(|e| trouble(&e))?;
    let mut options = exchange::Options::new(today);
    options.kind = Some(exchange::SheetKind::Stock);
    let imports = exchange::read_file(&name, std::io::BufReader::new(file), &options, &State::default())
        .map_err(|e| trouble(&e))?;
    if let Some(repair) = imports.iter().flat_map(|import| &import.repairs).next() {
        return Err(trouble(&format!("row {}: {}; {}", repair.row, repair.reason, repair.advice)));
    }
    let mut pen = Pen::new(String::new(), String::new(), None, 0);
    let drafts = imports.into_iter().flat_map(|import| import.drafts);
    Ok(State::of(drafts.map(|draft| pen.write(String::new(), draft.subject, draft.body))))
}

fn read(path: &Path) -> Result<String, Failure> {
    std::fs::read_to_string(path).map_err(|e| Failure::usage(format!("cannot read {}: {e}", path.display())))
}

/// True for a reason that the rock around the hole is hollow, cracked or crushed, beyond a slight trace.
fn tells_of_bad_rock(reason: &Reason) -> bool {
    let bad = |sign| matches!(sign, Sign::RockHollow | Sign::RockCrack | Sign::RockCrushed);
    match reason.statement {
        Statement::StopSign(sign) => bad(sign),
        Statement::LookAt(seen) | Statement::Sign(seen) => {
            bad(seen.sign) && seen.finding >= Finding::Present(Extent::Marked)
        }
        _ => false,
    }
}

/// A solved campaign.
pub struct Campaign<'d> {
    /// What was chosen from.
    pub offer: Offer<'d>,
    /// The choice.
    pub plan: Plan,
    /// Placements whose call asks for work but whose route is not recorded: they cannot be planned.
    pub without_route: Vec<String>,
}

/// Solves the campaign that judgements and means ask for. `must` holds identities of placements.
pub fn solve<'d>(
    judge: &Judge,
    judged: &[Judged],
    must: &BTreeSet<&str>,
    stock: &[StockItem],
    budget: &Budget,
    defaults: &'d Defaults,
) -> Result<Campaign<'d>, Failure> {
    let state = judge.state();
    let mut visits = HashMap::new();
    let candidates: Vec<Candidate> = judged
        .iter()
        .filter_map(|one| {
            let record = one.placement.record;
            let route = record.route.clone()?;
            let must = must.contains(one.placement.id);
            if one.judgement.call < Call::Tend && !must {
                return None;
            }
            let crag = state.crag_of(one.placement.id).and_then(|id| state.crag(id));
            visits.entry(route.clone()).or_insert_with(|| Visit {
                hours: crag.and_then(|crag| crag.visit_hours),
                cost: crag.and_then(|crag| crag.visit_cost),
            });
            Some(Candidate {
                placement: one.placement.id.to_owned(),
                route,
                call: one.judgement.call,
                fails: judge.assess(one.placement.id).ok()?.fails_within(defaults.gain.horizon_years),
                role: record.role,
                number: record.number,
                setting: crag.and_then(|crag| crag.setting),
                rock: record.rock_type.or(crag.and_then(|crag| crag.rock_type)),
                bad_rock: one.judgement.reasons.iter().any(tells_of_bad_rock),
                must,
            })
        })
        .collect();
    let offer = offer(&candidates, &visits, stock, budget.limits, defaults);
    let options = campaign::Options { gap: budget.gap, ..campaign::Options::default() };
    let plan = campaign::solve(&offer.problem, &options).map_err(|e| {
        Failure::usage(e.to_string()).advise("Raise the limits, or ask for fewer works with --must.")
    })?;
    let without_route = judged
        .iter()
        .filter(|one| one.placement.record.route.is_none() && one.judgement.call >= Call::Tend)
        .map(|one| one.placement.id.to_owned())
        .collect();
    Ok(Campaign { offer, plan, without_route })
}
