//! The command line: what can be said to the program.

use crate::{commands, exit::EXIT_CODES};
use clap::{Args, Parser, Subcommand, ValueEnum};
use jiff::civil::Date;
use std::path::PathBuf;
use units::UnitSystem;

const ABOUT: &str = "Keeps a register of climbing anchors and judges from the evidence what each one holds, \
for how long, and what to do next";

const EXAMPLES: &str = "\
Examples:
  holdproof init                                start a register in this folder
  holdproof import bolts.xlsx --dry-run         see what an import would do
  holdproof import bolts.xlsx sightings.csv     import
  holdproof judge --crag \"Harl Quarry\"          what each placement there holds
  holdproof explain harl-quarry/blind-corner/3  every step behind one judgement
  holdproof plan --money 1500 --days 12         what to renew first
  holdproof report --all --out reports          a PDF and charts for every crag
";

/// The program and what it is asked.
#[derive(Debug, Parser)]
#[command(
    name = "holdproof",
    version,
    about = ABOUT,
    long_about = format!("{ABOUT}.\n\n{}", crate::caution::LONG),
    after_help = format!("{EXAMPLES}\n{EXIT_CODES}"),
    subcommand_required = true,
    arg_required_else_help = true,
    max_term_width = 100,
)]
pub struct Cli {
    /// Options of every command.
    #[command(flatten)]
    pub common: Common,
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
}

/// Options of every command.
#[derive(Clone, Debug, Args)]
#[command(next_help_heading = "Options of every command")]
pub struct Common {
    /// The register file
    #[arg(
        long,
        global = true,
        value_name = "FILE",
        env = "HOLDPROOF_REGISTER",
        default_value = "group.holdproof"
    )]
    pub register: PathBuf,
    /// Units to show
    #[arg(long, global = true, value_enum, default_value_t = UnitChoice::Metric)]
    pub units: UnitChoice,
    /// Answer as JSON (fields are described in docs/json.md)
    #[arg(long, global = true)]
    pub json: bool,
    /// Colour: auto is off when the output is piped
    #[arg(long, global = true, value_enum, default_value_t = ColorChoice::Auto, value_name = "WHEN")]
    pub color: ColorChoice,
    /// Take this as today's date (year-month-day), so that an answer can be repeated
    #[arg(long, global = true, value_name = "DATE")]
    pub today: Option<Date>,
}

/// Units to show.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum UnitChoice {
    /// kN, mm, m, N·m, °C
    Metric,
    /// lbf, in, ft, ft·lbf, °F
    Us,
}

impl From<UnitChoice> for UnitSystem {
    fn from(choice: UnitChoice) -> Self {
        match choice {
            UnitChoice::Metric => Self::Metric,
            UnitChoice::Us => Self::Us,
        }
    }
}

/// When to use colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
#[allow(missing_docs)]
pub enum ColorChoice {
    Auto,
    Always,
    Never,
}

impl ColorChoice {
    /// Makes it count for everything written from here on.
    pub fn write_global(self) {
        match self {
            Self::Auto => anstream::ColorChoice::Auto,
            Self::Always => anstream::ColorChoice::Always,
            Self::Never => anstream::ColorChoice::Never,
        }
        .write_global();
    }
}

/// The commands.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Start an empty register
    Init(commands::init::Args),
    /// Bring sheets, waypoints, photos and load traces into the register
    Import(commands::import::Args),
    /// Show the rows of the last imports that need repair
    Repairs(commands::repairs::Args),
    /// List placements
    List(commands::list::Args),
    /// Show all that is recorded of one placement
    Show(commands::show::Args),
    /// Judge placements: what they hold, for how long, what to do
    Judge(commands::judge::Args),
    /// Print every step from the inputs to the call of one placement
    Explain(commands::explain::Args),
    /// Choose what to renew first under money, time and stock
    Plan(commands::plan::Args),
    /// Write a PDF report and charts
    Report(commands::report::Args),
    /// Write one chart as SVG
    Chart(commands::chart::Args),
    /// Look for contradictions in the records and damage in the file
    Check(commands::check::Args),
    /// Copy the register to a file
    Backup(commands::backup::Args),
    /// Bring a backup back
    Restore(commands::restore::Args),
    /// Show the facts recorded about something, oldest first
    History(commands::history::Args),
    /// Print completions for a shell
    Completions(commands::completions::Args),
    /// Print the manual page
    Man(commands::man::Args),
}
