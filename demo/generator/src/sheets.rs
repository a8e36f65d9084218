//! The group's sheets, as untidy as people leave them.

mod cell;
mod dates;
mod mess;
mod placements;
mod pulls;
mod sightings;
mod small;
pub(crate) mod words;

pub(crate) use placements::{harl, otter, tern};
pub(crate) use pulls::sheet as pulls;
pub(crate) use sightings::sheet as sightings;
pub(crate) use small::{batches, campaign, crags, routes, stock};
