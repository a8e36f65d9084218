//! All checks and tests.

use crate::step::{cargo, root, say};
use anyhow::{Context, Result, ensure};

pub(crate) fn run() -> Result<()> {
    say("1 of 4: formatting");
    cargo(&["fmt", "--all", "--check"])?;
    say("\n2 of 4: lints");
    cargo(&["clippy", "--workspace", "--all-targets", "--locked", "--", "-D", "warnings"])?;
    say("\n3 of 4: tests");
    cargo(&["test", "--workspace", "--locked"])?;
    say("\n4 of 4: VALIDATION.md is up to date");
    validation_is_current()?;
    say("\nAll checks and tests passed.");
    Ok(())
}

/// The page of check values says what the program says now.
fn validation_is_current() -> Result<()> {
    let fresh = root().join("target").join("VALIDATION.md");
    let path = fresh.to_str().context("the folder's name is not Unicode")?;
    cargo(&["run", "--quiet", "--locked", "-p", "validation", "--", "--write", path])?;
    let now = std::fs::read_to_string(&fresh).context("cannot read the fresh page")?;
    let kept = std::fs::read_to_string(root().join("VALIDATION.md")).context("cannot read VALIDATION.md")?;
    let same = now.lines().eq(kept.lines());
    ensure!(same, "VALIDATION.md is out of date: run `cargo xtask validation` and look at what changed");
    Ok(())
}
