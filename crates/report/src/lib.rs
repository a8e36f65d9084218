//! Charts (SVG) and the crag report (PDF).
//!
//! Belongs here: pictures and pages made from judgements, plans and plain view types; their layout,
//! colours, symbols and wording.
//! May not come in: computing a judgement, reading records, files, clocks. Every function returns
//! text or bytes, and the same input gives the same bytes.
//!
//! `cargo run -p report --example specimen -- FOLDER` writes specimens of everything from invented numbers.
//!
//! The typeface is Noto Sans (Regular and Bold), licensed under the SIL Open Font License 1.1 and
//! shipped by the `notosans` crate; it is embedded as a subset in every PDF.

mod axis;
mod chart;
mod font;
mod format;
mod palette;
mod pdf;
mod scene;
mod svg;
mod symbol;
mod view;
pub mod wording;

pub use chart::{
    AgeingPoint, AgeingView, MarginView, Sketch, SketchRoute, Style, YearsGroup, ageing, calls_by_decade,
    calls_by_group, margin, plan, sketch, years_left,
};
pub use palette::{Palette, Rgb, Theme, contrast};
pub use pdf::{ReportError, crag_report};
pub use scene::{Anchor, Area, Item, Line, Outline, Point, Scene};
pub use view::{
    CallCounts, CragReport, GeoPoint, Paper, PlacementRow, PlanRow, PlanView, Purchase, RouteGain, RouteRow,
    WorkNote, by_decade, urgency,
};
