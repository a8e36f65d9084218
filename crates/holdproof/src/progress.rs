//! Progress bars on the error stream, only where it is a terminal.

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

/// A bar of `length` steps; silent where the error stream is no terminal or JSON is asked for.
pub fn bar(length: u64, what: &'static str, quiet: bool) -> ProgressBar {
    let target = if quiet { ProgressDrawTarget::hidden() } else { ProgressDrawTarget::stderr_with_hz(10) };
    let bar = ProgressBar::with_draw_target(Some(length), target);
    if let Ok(style) = ProgressStyle::with_template("{msg} [{bar:30}] {pos}/{len} {eta}") {
        bar.set_style(style.progress_chars("=> "));
    }
    bar.set_message(what);
    bar
}
