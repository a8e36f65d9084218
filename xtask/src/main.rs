//! The one door: `cargo xtask demo`, `test`, `bench`, `validation`, `demo-data`.

mod demo;
mod step;
mod test;

use anyhow::{Result, bail};
use step::{cargo, say};

const USAGE: &str = "\
cargo xtask demo         run the main job on the demo: import, judge, plan, report, charts
cargo xtask test         run all checks and tests
cargo xtask bench        run all benchmarks
cargo xtask validation   write VALIDATION.md anew
cargo xtask demo-data    write demo/input and demo/truth anew";

fn main() -> Result<()> {
    let words: Vec<String> = std::env::args().skip(1).collect();
    match words.iter().map(String::as_str).collect::<Vec<_>>()[..] {
        ["demo"] => demo::run(),
        ["test"] => test::run(),
        ["bench"] => cargo(&["bench", "--locked", "--workspace", "--bench", "*"]),
        ["validation"] => {
            cargo(&["run", "--quiet", "--locked", "-p", "validation", "--", "--write", "VALIDATION.md"])
        }
        ["demo-data"] => demo::data(),
        [] | ["help" | "--help" | "-h"] => {
            say(USAGE);
            Ok(())
        }
        _ => bail!("no such task\n{USAGE}"),
    }
}
