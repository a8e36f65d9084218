//! `man`: the manual page.

use crate::cli::Cli;
use crate::desk::Desk;
use crate::exit::{Exit, Failure};
use clap::CommandFactory;
use std::path::PathBuf;

/// Options.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Examples:
  holdproof man | man -l -
  holdproof man --out /usr/local/share/man/man1    one page for each command")]
pub struct Args {
    /// Write one page for each command into this folder instead
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
}

/// Prints the page, or writes all pages.
pub fn run(args: &Args, desk: &mut Desk) -> Result<Exit, Failure> {
    match &args.out {
        None => {
            let mut page = Vec::new();
            clap_mangen::Man::new(Cli::command()).render(&mut page)?;
            desk.out.write_all(&page)?;
        }
        Some(folder) => {
            std::fs::create_dir_all(folder).map_err(|e| Failure::file("make the folder", folder, e))?;
            clap_mangen::generate_to(Cli::command(), folder)
                .map_err(|e| Failure::file("write manual pages to", folder, e))?;
        }
    }
    Ok(Exit::Fine)
}
