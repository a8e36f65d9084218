//! Which placements a command is about.

use crate::exit::Failure;
use register::{Known, PlacementRecord, State, identity};

/// Choice by crag and route.
#[derive(Clone, Debug, Default, clap::Args)]
pub struct Selection {
    /// Only this crag (name or identity)
    #[arg(long, value_name = "CRAG")]
    pub crag: Option<String>,
    /// Only this route (name or identity)
    #[arg(long, value_name = "ROUTE")]
    pub route: Option<String>,
}

impl Selection {
    /// True where nothing is chosen.
    pub fn is_empty(&self) -> bool {
        self.crag.is_none() && self.route.is_none()
    }

    /// The placements chosen, in the order of the register. Names that fit nothing are an error.
    pub fn placements<'a>(&self, state: &'a State) -> Result<Vec<Known<'a, PlacementRecord>>, Failure> {
        let crag = self.crag.as_deref().map(|name| crag(state, name)).transpose()?;
        let routes = self.route.as_deref().map(|name| routes(state, name, crag)).transpose()?;
        Ok(state
            .placements()
            .filter(|placement| match (&routes, crag) {
                (Some(routes), _) => placement.record.route.as_deref().is_some_and(|id| routes.contains(&id)),
                (None, Some(crag)) => state.crag_of(placement.id) == Some(crag),
                (None, None) => true,
            })
            .collect())
    }
}

/// Identity of the crag that a name or identity means.
pub fn crag<'a>(state: &'a State, name: &str) -> Result<&'a str, Failure> {
    let wanted = path(name);
    state
        .crags()
        .find(|known| {
            known.id == wanted || known.record.name.as_deref().is_some_and(|n| identity::slug(n) == wanted)
        })
        .map(|known| known.id)
        .ok_or_else(|| {
            let known: Vec<&str> = state.crags().map(|known| known.id).take(20).collect();
            missing("crag", name, &known)
        })
}

/// Identities of the routes that a name or identity means, in one crag if given.
fn routes<'a>(state: &'a State, name: &str, crag: Option<&str>) -> Result<Vec<&'a str>, Failure> {
    let wanted = path(name);
    let found: Vec<&str> = state
        .routes()
        .filter(|known| crag.is_none_or(|crag| known.record.crag.as_deref() == Some(crag)))
        .filter(|known| {
            known.id == wanted || known.record.name.as_deref().is_some_and(|n| identity::slug(n) == wanted)
        })
        .map(|known| known.id)
        .collect();
    if found.is_empty() {
        let near = near(&wanted, state.routes().map(|known| known.id));
        return Err(missing("route", name, &near));
    }
    Ok(found)
}

/// The placement that an identity means; capitals and blanks do not matter.
pub fn placement<'a>(state: &'a State, name: &str) -> Result<Known<'a, PlacementRecord>, Failure> {
    let wanted = path(name);
    state.placements().find(|known| known.id == wanted).ok_or_else(|| {
        let near = near(&wanted, state.placements().map(|known| known.id));
        missing("placement", name, &near)
    })
}

/// An identity from what a person typed: every step between slashes as the register writes it.
pub fn path(name: &str) -> String {
    name.split('/').map(identity::slug).collect::<Vec<_>>().join("/")
}

fn missing(what: &str, name: &str, near: &[&str]) -> Failure {
    let failure = Failure::usage(format!("there is no {what} '{name}' in this register"));
    if near.is_empty() {
        failure.advise("`holdproof list` shows what there is.")
    } else {
        failure.advise(format!("Did you mean {}?", near.join(", ")))
    }
}

/// Up to three identities that hold the last step of what was asked for, or else begin like it.
fn near<'a>(wanted: &str, ids: impl Iterator<Item = &'a str>) -> Vec<&'a str> {
    let ids: Vec<&str> = ids.collect();
    let begins = wanted.rsplit_once('/').map_or(wanted, |(route, _)| route);
    let last = begins.rsplit('/').next().unwrap_or(begins);
    let stem: String = last.chars().take(5).collect();
    let mut found: Vec<&str> = ids.iter().copied().filter(|id| id.starts_with(begins)).take(3).collect();
    if found.is_empty() && !stem.is_empty() {
        found = ids.into_iter().filter(|id| id.contains(&stem)).take(3).collect();
    }
    found
}
