//! `plan`: what to renew first.

use crate::answer::{FORMAT, tidy};
use crate::desk::Desk;
use crate::exit::{Exit, Failure};
use crate::judging::{Judge, Judged, Judging};
use crate::planning::{Budget, Campaign, Means, solve};
use crate::select::{self, Selection};
use crate::table::{Side, Table, hanging};
use crate::works::Defaults;
use crate::{caution, open, words};
use campaign::{Proof, Route, ShoppingLine, by_route, shopping_list, split_into_days};
use jiff::civil::Date;
use judgement::Call;
use serde::Serialize;
use std::collections::{BTreeSet, HashMap};
use std::io::Write;

/// Options.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Chooses the works that avoid most expected failures within money, days and stock. Stock in hand is
used first; the way to a route is paid once; the choice is the best there is, or the distance from
the best is printed.

Examples:
  holdproof plan --money 1500 --days 12
  holdproof plan --money 1500 --days 12 --crag \"Tern Head\" --must tern-head/salt-line/4
  holdproof plan --limits campaign.toml --works our-kits.toml
  holdproof plan --show-works > our-kits.toml     the built-in kits, times and prices, to be edited")]
pub struct Args {
    #[command(flatten)]
    means: Means,
    #[command(flatten)]
    selection: Selection,
    #[command(flatten)]
    judging: Judging,
    /// Print the built-in file of kits, times and prices and do nothing else
    #[arg(long)]
    show_works: bool,
}

#[derive(Serialize)]
struct Answer<'a> {
    format: u32,
    judged_on: Date,
    currency: &'a str,
    money_limit: f64,
    hours_limit: f64,
    money: f64,
    hours: f64,
    /// Expected failures avoided over the horizon.
    gain: f64,
    gain_bound: f64,
    gap: f64,
    proof: Proof,
    horizon_years: f64,
    works_offered: usize,
    works: Vec<WorkAnswer<'a>>,
    routes: Vec<RouteAnswer<'a>>,
    shopping: Vec<ShoppingLine>,
    drilling: Drilling,
    days: Vec<DayAnswer>,
    prices_from_defaults: &'a [String],
    items_without_price: &'a [String],
    placements_without_kit: &'a [String],
    placements_without_route: &'a [String],
    caution: &'static str,
}

#[derive(Serialize)]
struct WorkAnswer<'a> {
    placement: &'a str,
    route: &'a str,
    call: Option<Call>,
    todo: String,
    gain: f64,
    hours: f64,
    must: bool,
}

#[derive(Serialize)]
struct RouteAnswer<'a> {
    route: &'a str,
    works: usize,
    gain: f64,
    work_hours: f64,
    visit_hours: f64,
    visit_cost: f64,
}

/// What the drill has to do.
#[derive(Serialize)]
struct Drilling {
    holes: usize,
    battery_charges: u32,
}

#[derive(Serialize)]
struct DayAnswer {
    day: usize,
    hours: f64,
    works: Vec<String>,
}

/// Prints the plan.
pub fn run(args: &Args, desk: &mut Desk) -> Result<Exit, Failure> {
    if args.show_works {
        desk.out.write_all(Defaults::BUILT_IN.as_bytes())?;
        return Ok(Exit::Fine);
    }
    let defaults = args.means.defaults()?;
    let budget = args.means.budget(&defaults)?;
    let state = open::state(desk)?;
    let on = args.judging.date(desk.today);
    let placements = args.selection.placements(&state)?;
    let mut must = BTreeSet::new();
    for name in &args.means.must {
        let id = select::placement(&state, name)?.id;
        if !placements.iter().any(|placement| placement.id == id) {
            return Err(Failure::usage(format!(
                "'{name}' must be done but is not among the placements chosen"
            ))
            .advise("Leave out --crag or --route, or the must."));
        }
        must.insert(id);
    }
    let judge = Judge::new(&state, args.judging.policy()?, on);
    let judged = judge.judge_all(&placements, desk.json);
    let stock = args.means.stock(&state, desk.today)?;
    let campaign = solve(&judge, &judged, &must, &stock, &budget, &defaults)?;
    if desk.json {
        let answer = answer(&campaign, &judged, &budget, &defaults, on);
        desk.write_json(&answer)?;
    } else {
        print(&mut desk.out, &campaign, &judged, &budget, &defaults)?;
        writeln!(desk.out, "\nJudged on {on}.")?;
        caution::print(&mut desk.out)?;
    }
    Ok(Exit::Fine)
}

fn drilling(campaign: &Campaign) -> Drilling {
    let todo = campaign.plan.chosen.iter().map(|choice| &campaign.offer.todo[choice.work]);
    let charges: f64 = todo.clone().map(|todo| todo.charges()).sum();
    Drilling {
        holes: todo.filter(|todo| todo.charges() > 0.0).count(),
        battery_charges: (charges - 1e-9).ceil() as u32,
    }
}

fn calls<'a>(judged: &'a [Judged]) -> HashMap<&'a str, Call> {
    judged.iter().map(|one| (one.placement.id, one.judgement.call)).collect()
}

fn print(
    out: &mut dyn Write,
    campaign: &Campaign,
    judged: &[Judged],
    budget: &Budget,
    defaults: &Defaults,
) -> Result<(), Failure> {
    let Campaign { offer, plan, .. } = campaign;
    let problem = &offer.problem;
    let currency = &defaults.currency;
    if problem.works.is_empty() {
        writeln!(out, "No judgement asks for work: there is nothing to plan.")?;
        return left_out(out, campaign);
    }
    let everything: f64 = problem.works.iter().map(|work| work.gain).sum();
    writeln!(
        out,
        "{} of {} that the judgements ask for, on {}.",
        words::heading(&words::count(plan.chosen.len(), "work")),
        problem.works.len(),
        words::count(by_route(problem, plan).len(), "route"),
    )?;
    writeln!(
        out,
        "  money   {} of {} {currency}",
        words::money(plan.money),
        words::money(budget.limits.money)
    )?;
    writeln!(
        out,
        "  time    {:.1} of {:.1} person-hours ({:.1} people-days of {:.1} h)",
        plan.hours, budget.limits.hours, budget.people_days, budget.hours_per_day
    )?;
    writeln!(
        out,
        "  gain    {:.1} of {everything:.1} if all were done (expected failures avoided over {:.0} years by these estimates,\n          weighted by consequence: it ranks works, it is no forecast)",
        plan.gain, defaults.gain.horizon_years
    )?;
    writeln!(out, "  proof   {}", proof(campaign))?;
    let chosen: BTreeSet<&str> =
        plan.chosen.iter().map(|choice| problem.works[choice.work].placement.as_str()).collect();
    let undone = judged
        .iter()
        .filter(|one| one.judgement.call == Call::Shun && !chosen.contains(one.placement.id))
        .count();
    if undone > 0 {
        let note = format!(
            "{} that should not be used stay undone by this plan: warn of them, or close their routes, now.",
            words::count(undone, "placement")
        );
        writeln!(out, "  {note}")?;
    }

    if plan.chosen.is_empty() {
        writeln!(out, "\nNothing fits into these means.")?;
        return left_out(out, campaign);
    }
    let calls = calls(judged);
    writeln!(out)?;
    let mut table = Table::new(&[
        ("", Side::Right),
        ("placement", Side::Left),
        ("call", Side::Left),
        ("what to do", Side::Left),
        ("hours", Side::Right),
        ("gain", Side::Right),
    ]);
    for (index, choice) in plan.chosen.iter().enumerate() {
        let work = &problem.works[choice.work];
        let call = calls.get(work.placement.as_str()).copied();
        table.row([
            (index + 1).to_string(),
            work.placement.clone(),
            call.map_or_else(String::new, words::call_mark),
            offer.todo[choice.work].words() + if work.must { " (must)" } else { "" },
            format!("{:.2}", work.hours),
            format!("{:.4}", work.gain),
        ]);
    }
    table.write(out)?;

    let list = shopping_list(problem, plan);
    if !list.is_empty() {
        writeln!(out, "\n{}", words::heading("Hardware"))?;
        let mut table = Table::new(&[
            ("item", Side::Left),
            ("used", Side::Right),
            ("in hand", Side::Right),
            ("to buy", Side::Right),
            ("cost", Side::Right),
        ]);
        for line in &list {
            let cost = if line.buy > 0 { words::money(line.cost) } else { String::new() };
            table.row([
                line.name.clone(),
                line.used.to_string(),
                line.from_hand.to_string(),
                line.buy.to_string(),
                cost,
            ]);
        }
        table.write(out)?;
        let assumed: Vec<&str> = list
            .iter()
            .filter(|line| line.buy > 0 && offer.assumed_prices.contains(&line.name))
            .map(|line| line.name.as_str())
            .collect();
        if !assumed.is_empty() {
            writeln!(out, "Prices assumed, since the stock list gives none: {}.", assumed.join(", "))?;
        }
    }
    if !offer.without_price.is_empty() {
        writeln!(
            out,
            "Nothing was bought of these, since no price is known: {}.",
            offer.without_price.join(", ")
        )?;
    }

    left_out(out, campaign)?;

    let drilling = drilling(campaign);
    if drilling.holes > 0 {
        writeln!(
            out,
            "\n{} {}, about {} of the drill",
            words::heading("Drilling"),
            words::count(drilling.holes, "hole"),
            words::count(drilling.battery_charges as usize, "battery charge"),
        )?;
    }

    if let Some(people) = budget.people {
        let days = split_into_days(problem, plan, budget.hours_per_day * people, crag_of);
        writeln!(out, "\n{} with {people:.0} at work", words::heading("Days"))?;
        for (index, day) in days.iter().enumerate() {
            let stops: Vec<String> = day
                .stops
                .iter()
                .map(|stop| {
                    let again = if stop.again { ", again" } else { "" };
                    format!("{} ({}{again})", problem.routes[stop.route].name, stop.works.len())
                })
                .collect();
            let lead = format!("  day {:<3} {:>6.1} person-hours  ", index + 1, day.hours);
            writeln!(out, "{}", hanging(&lead, &stops.join(", "), 96))?;
        }
    }
    Ok(())
}

/// The crag part of a route's identity: a day is spent at one crag.
fn crag_of(route: &Route) -> String {
    route.name.split('/').next().unwrap_or_default().to_owned()
}

/// Tells which placements ask for work and could not be planned.
fn left_out(out: &mut dyn Write, campaign: &Campaign) -> Result<(), Failure> {
    let reasons = [
        ("no kit fits them", &campaign.offer.without_kit),
        ("their route is not recorded", &campaign.without_route),
    ];
    for (why, placements) in reasons {
        if !placements.is_empty() {
            writeln!(out, "Left out, since {why}: {}.", placements.join(", "))?;
        }
    }
    Ok(())
}

fn proof(campaign: &Campaign) -> String {
    let plan = &campaign.plan;
    match plan.proof {
        Proof::Optimal => "no choice is better".to_owned(),
        Proof::WithinGap | Proof::NodeLimit => {
            format!("no choice avoids more than {:.3}: at most {:.2} % better", plan.bound, plan.gap * 100.0)
        }
        Proof::Greedy => {
            format!(
                "a good choice, not proved: the exact search failed (bound {:.3}, gap {:.0} %)",
                plan.bound,
                plan.gap * 100.0
            )
        }
    }
}

fn answer<'a>(
    campaign: &'a Campaign,
    judged: &[Judged],
    budget: &Budget,
    defaults: &'a Defaults,
    on: Date,
) -> Answer<'a> {
    let Campaign { offer, plan, without_route } = campaign;
    let problem = &offer.problem;
    let calls = calls(judged);
    Answer {
        format: FORMAT,
        judged_on: on,
        currency: &defaults.currency,
        money_limit: tidy(budget.limits.money),
        hours_limit: tidy(budget.limits.hours),
        money: tidy(plan.money),
        hours: tidy(plan.hours),
        gain: tidy(plan.gain),
        gain_bound: tidy(plan.bound),
        gap: tidy(plan.gap),
        proof: plan.proof,
        horizon_years: defaults.gain.horizon_years,
        works_offered: problem.works.len(),
        works: plan
            .chosen
            .iter()
            .map(|choice| {
                let work = &problem.works[choice.work];
                WorkAnswer {
                    placement: &work.placement,
                    route: &problem.routes[work.route].name,
                    call: calls.get(work.placement.as_str()).copied(),
                    todo: offer.todo[choice.work].words(),
                    gain: tidy(work.gain),
                    hours: tidy(work.hours),
                    must: work.must,
                }
            })
            .collect(),
        routes: by_route(problem, plan)
            .into_iter()
            .map(|share| RouteAnswer {
                route: &problem.routes[share.route].name,
                works: share.works.len(),
                gain: tidy(share.gain),
                work_hours: tidy(share.work_hours),
                visit_hours: tidy(share.visit_hours),
                visit_cost: tidy(problem.routes[share.route].visit_cost),
            })
            .collect(),
        shopping: shopping_list(problem, plan),
        drilling: drilling(campaign),
        days: budget
            .people
            .map(|people| split_into_days(problem, plan, budget.hours_per_day * people, crag_of))
            .unwrap_or_default()
            .into_iter()
            .enumerate()
            .map(|(index, day)| DayAnswer {
                day: index + 1,
                hours: tidy(day.hours),
                works: day
                    .stops
                    .iter()
                    .flat_map(|stop| stop.works.iter().map(|work| problem.works[*work].placement.clone()))
                    .collect(),
            })
            .collect(),
        prices_from_defaults: &offer.assumed_prices,
        items_without_price: &offer.without_price,
        placements_without_kit: &offer.without_kit,
        placements_without_route: without_route,
        caution: caution::SHORT,
    }
}
