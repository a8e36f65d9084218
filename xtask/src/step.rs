//! Running other programs, one step at a time.

use anyhow::{Context, Result, ensure};
use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::process::Command;

/// The root of the workspace.
pub(crate) fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

#[allow(clippy::print_stdout)]
pub(crate) fn say(text: &str) {
    println!("{text}");
}

/// Runs a program in the root folder and passes its output through.
///
/// # Errors
/// If it cannot be started or fails.
pub(crate) fn run(program: impl AsRef<OsStr>, arguments: &[&str]) -> Result<()> {
    let program = program.as_ref();
    let shown = format!(
        "{} {}",
        Path::new(program).file_stem().unwrap_or(program).to_string_lossy(),
        arguments.join(" ")
    );
    say(&format!("\n> {shown}"));
    let status = Command::new(program)
        .args(arguments)
        .current_dir(root())
        .status()
        .with_context(|| format!("cannot start {}", program.to_string_lossy()))?;
    ensure!(status.success(), "this step failed ({status}): {shown}");
    Ok(())
}

/// Runs the cargo that runs this program.
///
/// # Errors
/// If it fails.
pub(crate) fn cargo(arguments: &[&str]) -> Result<()> {
    run(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()), arguments)
}
