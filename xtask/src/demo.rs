//! The main job, once, on the demo's files.

use crate::step::{cargo, root, say};
use anyhow::{Context, Result, bail, ensure};
use std::path::Path;
use std::process::{Command, Stdio};

/// The day after the scenario ends: judged as of then, the demo gives the same answer on every day.
const TODAY: &str = "2025-11-02";
const OUT: &str = "out/demo";
const REGISTER: &str = "out/demo/sallow-ridge.holdproof";
const MEANS: &str = "demo/input/campaign.toml";
/// What the program ends with when it is done but something needs repair or attention.
const FINDINGS: i32 = 1;

/// Writes `demo/input` and `demo/truth` anew.
pub(crate) fn data() -> Result<()> {
    for folder in ["demo/input", "demo/truth"] {
        clear(&root().join(folder))?;
    }
    cargo(&["run", "--quiet", "--locked", "-p", "demo-generator", "--", "demo"])
}

/// Imports, judges, plans and reports, then tells what came out.
pub(crate) fn run() -> Result<()> {
    say("Building holdproof (the first time takes some minutes) ...");
    cargo(&["build", "--release", "--locked", "-p", "holdproof"])?;
    let out = root().join(OUT);
    clear(&out)?;
    std::fs::create_dir_all(&out).with_context(|| format!("cannot make the folder {OUT}"))?;

    show(&["init"])?;
    show(&["import", "demo/input"])?;
    let judged = read(&["judge", "--all"])?;
    std::fs::write(out.join("judgements.txt"), &judged)?;
    std::fs::write(out.join("judgements.json"), read(&["judge", "--all", "--json"])?)?;
    let plan = read(&["plan", "--limits", MEANS])?;
    std::fs::write(out.join("plan.txt"), &plan)?;
    show(&["report", "--all", "--out", OUT, "--limits", MEANS, "--group", "Sallow Ridge Bolting Group"])?;

    say("\n================ The three most urgent placements ================");
    let urgent: Vec<&str> = judged.lines().filter_map(placement).take(3).collect();
    ensure!(urgent.len() == 3, "the judgements name no placements");
    for placement in urgent {
        say(&read(&["judge", placement])?);
    }
    say("================ What was written ================");
    for name in names(&out)? {
        say(&format!("{OUT}/{name}"));
    }
    Ok(())
}

/// The identity at the start of a line of the table of judgements.
fn placement(line: &str) -> Option<&str> {
    line.split_whitespace().next().filter(|word| word.matches('/').count() == 2)
}

fn holdproof(arguments: &[&str]) -> Result<Command> {
    // This program lies in the folder `debug` beside `release`.
    let own = std::env::current_exe()?;
    let target = own.parent().and_then(Path::parent).context("cannot find the build folder")?;
    let program = target.join("release").join(format!("holdproof{}", std::env::consts::EXE_SUFFIX));
    let mut command = Command::new(program);
    command.args(arguments).args(["--register", REGISTER, "--today", TODAY]).current_dir(root());
    Ok(command)
}

/// Runs a command of the program and lets it speak.
fn show(arguments: &[&str]) -> Result<()> {
    say(&format!("\n> holdproof {}", arguments.join(" ")));
    let status = holdproof(arguments)?.status().context("cannot start holdproof")?;
    match status.code() {
        Some(0 | FINDINGS) => Ok(()),
        _ => bail!("holdproof {} failed ({status})", arguments.join(" ")),
    }
}

/// Runs a command of the program and keeps what it says.
fn read(arguments: &[&str]) -> Result<String> {
    say(&format!("\n> holdproof {}", arguments.join(" ")));
    let output = holdproof(arguments)?.stderr(Stdio::inherit()).output().context("cannot start holdproof")?;
    ensure!(
        matches!(output.status.code(), Some(0 | FINDINGS)),
        "holdproof {} failed ({})",
        arguments.join(" "),
        output.status
    );
    Ok(String::from_utf8_lossy(&output.stdout).into_owned())
}

fn clear(folder: &Path) -> Result<()> {
    if folder.exists() {
        std::fs::remove_dir_all(folder).with_context(|| format!("cannot clear {}", folder.display()))?;
    }
    Ok(())
}

/// Names of the files in a folder, sorted.
fn names(folder: &Path) -> Result<Vec<String>> {
    let mut names = Vec::new();
    for entry in std::fs::read_dir(folder)? {
        names.push(entry?.file_name().to_string_lossy().into_owned());
    }
    names.sort();
    Ok(names)
}
