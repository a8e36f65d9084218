//! The command line of Holdproof.

mod answer;
mod caution;
mod cli;
mod commands;
mod desk;
mod exit;
mod importing;
mod judging;
mod open;
mod planning;
mod progress;
mod select;
mod table;
mod views;
mod words;
mod works;

use clap::Parser;
use std::process::ExitCode;

fn main() -> ExitCode {
    let cli = cli::Cli::parse();
    cli.common.color.write_global();
    match commands::run(cli) {
        Ok(exit) => exit.into(),
        Err(failure) => {
            let red = anstyle::AnsiColor::Red.on_default().bold();
            let mut err = anstream::stderr().lock();
            // nothing can be done where even the error cannot be written
            let _ = std::io::Write::write_fmt(&mut err, format_args!("{red}holdproof:{red:#} {failure}\n"));
            failure.exit.into()
        }
    }
}
