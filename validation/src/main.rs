//! Writes VALIDATION.md.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use validation::{SourceOutcome, page, read_folder, registry, run};

const USAGE: &str = "Runs the check values and shows the page on the screen.
Options: --write <file>   write the page to a file instead";

fn main() -> ExitCode {
    match work() {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::from(1),
        Err(why) => {
            let _ = writeln!(std::io::stderr(), "{why}");
            ExitCode::from(2)
        }
    }
}

/// True if all cases agree.
fn work() -> Result<bool, String> {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let target: Option<PathBuf> = match arguments.as_slice() {
        [] => None,
        [flag, path] if flag == "--write" => Some(path.into()),
        _ => return Err(USAGE.into()),
    };
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("cases");
    let done = run(read_folder(&folder).map_err(|e| e.to_string())?, &registry());
    let text = page(&done);
    match target {
        None => std::io::stdout().write_all(text.as_bytes()).map_err(|e| e.to_string())?,
        Some(path) => {
            std::fs::write(&path, text).map_err(|e| format!("cannot write {}: {e}", path.display()))?;
        }
    }
    let complaints: Vec<String> =
        done.iter().flat_map(|s: &SourceOutcome| &s.outcomes).filter_map(|o| o.complaint()).collect();
    for complaint in &complaints {
        let _ = writeln!(std::io::stderr(), "{complaint}");
    }
    Ok(complaints.is_empty())
}
