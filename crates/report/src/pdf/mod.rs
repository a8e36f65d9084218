//! The crag report as PDF: composed into blocks, laid out on pages, then drawn.

mod compose;
mod draw;
mod flow;
mod rich;
mod table;
mod tags;

use crate::view::CragReport;

/// Why a report could not be made.
#[derive(Debug, thiserror::Error)]
pub enum ReportError {
    /// The PDF could not be written.
    #[error("the report could not be written as PDF: {0}; please report this with the data that led to it")]
    Pdf(String),
}

/// The crag report as a PDF document: summary, sketch, charts, route table, works in order, what is worth
/// finding out, cautions and method. Tagged for screen readers (PDF/UA-1), with bookmarks; the same input
/// gives the same bytes.
///
/// # Errors
/// [`ReportError::Pdf`] where the document does not pass the writer's own checks.
pub fn crag_report(report: &CragReport) -> Result<Vec<u8>, ReportError> {
    draw::pdf(&compose::pages(report), report)
}
