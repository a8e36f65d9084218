//! The charts, one file each. Every chart states its finding as its title, labels its parts in place
//! and carries source and caution below.

mod ageing;
mod calls;
mod frame;
mod margin;
mod plan;
mod sketch;
mod years;

pub use ageing::{AgeingPoint, AgeingView, ageing};
pub use calls::{calls_by_decade, calls_by_group};
pub use frame::Style;
pub use margin::{MarginView, margin};
pub use plan::plan;
pub(crate) use sketch::sketch_height;
pub use sketch::{Sketch, SketchRoute, sketch};
pub use years::{YearsGroup, years_left};
