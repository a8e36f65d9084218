//! `completions`: completions for a shell.

use crate::cli::Cli;
use crate::desk::Desk;
use crate::exit::{Exit, Failure};
use clap::CommandFactory;

/// Options.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Examples:
  holdproof completions bash > ~/.local/share/bash-completion/completions/holdproof
  holdproof completions fish > ~/.config/fish/completions/holdproof.fish")]
pub struct Args {
    /// Which shell
    pub shell: clap_complete::Shell,
}

/// Prints them.
pub fn run(args: &Args, desk: &mut Desk) -> Result<Exit, Failure> {
    let mut text = Vec::new();
    clap_complete::generate(args.shell, &mut Cli::command(), "holdproof", &mut text);
    desk.out.write_all(&text)?;
    Ok(Exit::Fine)
}
