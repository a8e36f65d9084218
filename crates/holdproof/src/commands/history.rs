//! `history`: the facts recorded about something.

use crate::answer::FORMAT;
use crate::desk::Desk;
use crate::exit::{Exit, Failure};
use crate::{open, select, words};
use evidence::Seen;
use register::{Body, Fact};
use serde::Serialize;
use serde_json::Value;
use store::{Position, RegisterStore};

/// Options.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Nothing is ever lost from a register: corrections are facts as well. The history of a placement holds
the facts about its fittings, sightings and pulls too.

Examples:
  holdproof history harl-quarry/blind-corner/3
  holdproof history harl-quarry --json | jq '.facts | length'")]
pub struct Args {
    /// Identity of a crag, route, placement, sighting, pull, batch or item of stock
    #[arg(value_name = "SUBJECT")]
    subject: String,
}

#[derive(Serialize)]
struct Answer<'a> {
    format: u32,
    facts: Vec<Line<'a>>,
}

#[derive(Serialize)]
struct Line<'a> {
    fact: String,
    subject_kind: &'static str,
    subject: &'a str,
    wall_time: String,
    author: &'a str,
    device: &'a str,
    origin: Option<&'a str>,
    says: &'static str,
    record: Value,
}

/// Facts read at a time.
const PAGE: usize = 4096;

/// Prints the facts.
pub fn run(args: &Args, desk: &mut Desk) -> Result<Exit, Failure> {
    let store = open::to_read(desk)?;
    let wanted = select::path(&args.subject);
    let below = format!("{wanted}/");
    let mut facts: Vec<Fact> = Vec::new();
    let mut after = Position(0);
    loop {
        let page = store.facts_after(after, PAGE)?;
        let Some((last, _)) = page.last() else { break };
        after = *last;
        facts.extend(page.into_iter().map(|(_, fact)| fact).filter(|fact| {
            let id = fact.subject.id();
            id == wanted || id.starts_with(&below)
        }));
    }
    if facts.is_empty() {
        return Err(Failure::usage(format!("nothing is recorded about '{}'", args.subject))
            .advise("`holdproof list` shows the identities of placements; a crag's is its first part."));
    }
    facts.sort_by(|a, b| a.stamp.cmp(&b.stamp).then(a.id.cmp(&b.id)));
    if desk.json {
        let facts = facts.iter().map(line).collect::<Result<_, _>>()?;
        desk.write_json(&Answer { format: FORMAT, facts })?;
        return Ok(Exit::Fine);
    }
    for fact in &facts {
        let origin = fact.origin.as_deref().map_or_else(String::new, |origin| format!(", from {origin}"));
        writeln!(
            desk.out,
            "{}  {}, by {}{origin}",
            words::heading(&words::moment(fact.wall_millis)),
            fact.subject,
            fact.author
        )?;
        for (field, value) in fields(&fact.body)? {
            writeln!(desk.out, "    {:<22} {value}", field.replace('_', " "))?;
        }
    }
    writeln!(
        desk.out,
        "\n{}. Numbers without a unit are in metres, newtons, pascals, newton-metres.",
        words::count(facts.len(), "fact")
    )?;
    Ok(Exit::Fine)
}

fn line(fact: &Fact) -> Result<Line<'_>, Failure> {
    Ok(Line {
        fact: fact.id.to_string(),
        subject_kind: fact.subject.kind(),
        subject: fact.subject.id(),
        wall_time: words::moment(fact.wall_millis),
        author: &fact.author,
        device: &fact.stamp.device,
        origin: fact.origin.as_deref(),
        says: fact.body.says(),
        record: serde_json::from_str(&fact.body.to_json()?)?,
    })
}

/// The fields that a fact states, as text.
fn fields(body: &Body) -> Result<Vec<(String, String)>, Failure> {
    let Value::Object(fields) = serde_json::from_str(&body.to_json()?)? else { return Ok(Vec::new()) };
    let mut lines: Vec<(String, String)> = fields
        .into_iter()
        .map(|(field, value)| match value {
            Value::String(text) => (field, text),
            Value::Array(_) if field == "signs" => {
                let signs = serde_json::from_value::<Vec<Seen>>(value).unwrap_or_default();
                (field, signs.iter().map(words::seen).collect::<Vec<_>>().join("; "))
            }
            other => (field, other.to_string()),
        })
        .collect();
    if !matches!(body.says(), "withdrawn" | "retracted") {
        return Ok(lines);
    }
    lines.insert(0, (body.says().to_owned(), String::new()));
    Ok(lines)
}
