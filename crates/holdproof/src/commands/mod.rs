//! The commands, one file each.

pub mod backup;
pub mod chart;
pub mod check;
pub mod completions;
pub mod explain;
pub mod history;
pub mod import;
pub mod init;
pub mod judge;
pub mod list;
pub mod man;
pub mod plan;
pub mod repairs;
pub mod report;
pub mod restore;
pub mod show;

use crate::cli::{Cli, Command};
use crate::desk::{Desk, pardon_closed_pipe};
use crate::exit::{Exit, Failure};

/// Runs what was asked for.
pub fn run(cli: Cli) -> Result<Exit, Failure> {
    let desk = &mut Desk::new(&cli.common);
    let ended = match &cli.command {
        Command::Init(args) => init::run(args, desk),
        Command::Import(args) => import::run(args, desk),
        Command::Repairs(args) => repairs::run(args, desk),
        Command::List(args) => list::run(args, desk),
        Command::Show(args) => show::run(args, desk),
        Command::Judge(args) => judge::run(args, desk),
        Command::Explain(args) => explain::run(args, desk),
        Command::Plan(args) => plan::run(args, desk),
        Command::Report(args) => report::run(args, desk),
        Command::Chart(args) => chart::run(args, desk),
        Command::Check(args) => check::run(args, desk),
        Command::Backup(args) => backup::run(args, desk),
        Command::Restore(args) => restore::run(args, desk),
        Command::History(args) => history::run(args, desk),
        Command::Completions(args) => completions::run(args, desk),
        Command::Man(args) => man::run(args, desk),
    };
    pardon_closed_pipe(ended.and_then(|exit| {
        desk.out.flush()?;
        Ok(exit)
    }))
}
