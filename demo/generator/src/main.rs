//! Writes the demo's files: `demo-generator <out dir>`.

use anyhow::{Context, Result};
use std::path::PathBuf;

fn main() -> Result<()> {
    let out =
        PathBuf::from(std::env::args_os().nth(1).context("say where to write: demo-generator <out dir>")?);
    for file in demo_generator::files()? {
        let path = out.join(&file.path);
        if let Some(folder) = path.parent() {
            std::fs::create_dir_all(folder)
                .with_context(|| format!("cannot make the folder {}", folder.display()))?;
        }
        std::fs::write(&path, &file.bytes).with_context(|| format!("cannot write {}", path.display()))?;
    }
    Ok(())
}
