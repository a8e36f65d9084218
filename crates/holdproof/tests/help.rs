//! Help, manual page and completions as people see them.
#![allow(clippy::unwrap_used)]

mod common;
use common::{golden, run};

const COMMANDS: [&str; 16] = [
    "init",
    "import",
    "repairs",
    "list",
    "show",
    "judge",
    "explain",
    "plan",
    "report",
    "chart",
    "check",
    "backup",
    "restore",
    "history",
    "completions",
    "man",
];

#[test]
fn help_of_the_program() {
    let help = run(&["--help"]);
    assert_eq!(help.code, 0);
    golden("help.txt", &help.out);
    for words in ["Exit codes:", "Examples:", "No inspection sees inside the hole"] {
        assert!(help.out.contains(words), "{words}");
    }
}

#[test]
fn help_of_every_command_has_an_example() {
    let mut all = String::new();
    for command in COMMANDS {
        let help = run(&[command, "--help"]);
        assert_eq!(help.code, 0, "{command}");
        assert!(help.out.contains(&format!("holdproof {command}")), "{command}: {}", help.out);
        assert!(help.out.contains("Examples:") || help.out.contains("Example:"), "{command} has no example");
        all += &format!("$ holdproof {command} --help\n{}\n", help.out);
    }
    golden("commands.txt", &all);
}

#[test]
fn manual_page_and_completions_name_every_command() {
    let page = run(&["man"]);
    assert_eq!(page.code, 0);
    assert!(page.out.starts_with(".ie") || page.out.starts_with(".TH"), "not a manual page");
    for shell in ["bash", "zsh", "fish", "powershell", "elvish"] {
        let completions = run(&["completions", shell]);
        assert_eq!(completions.code, 0, "{shell}");
        for command in COMMANDS {
            assert!(completions.out.contains(command), "{shell} does not complete {command}");
        }
    }
    for command in COMMANDS {
        assert!(page.out.contains(command), "the manual page lacks {command}");
    }
}
