//! Every command as a person types it: what it says, where, with which exit code, and which files it leaves behind.
//!
//! A case is a folder of `tests/commands`; its README says how one looks. `UPDATE_COMMANDS=1 cargo test --test commands`
//! writes what the program does now over what was expected, to be read before it is committed.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::print_stderr,
    clippy::wildcard_enum_match_arm,
    clippy::disallowed_methods,
    reason = "a test that cannot go on stops, and looks at the disk by itself"
)]

#[path = "commands/case.rs"]
mod case;
#[path = "commands/hostile_cells.rs"]
mod hostile_cells;
#[path = "commands/hostile_names.rs"]
mod hostile_names;
mod judge;
#[path = "commands/left.rs"]
mod left;
#[path = "commands/left_out.rs"]
mod left_out;
#[path = "commands/limits.rs"]
mod limits;
#[path = "commands/streams.rs"]
mod streams;

use std::collections::BTreeSet;

use case::Case;

const COMMANDS: [&str; 10] =
    ["new", "check", "why", "labels", "notice", "sheets", "ruler", "completions", "man", "help"];

#[test]
fn every_case_goes_as_expected() {
    let update = std::env::var_os("UPDATE_COMMANDS").is_some_and(|value| value == "1");
    let cases = Case::all();
    assert!(cases.len() >= 80, "only {} cases were found", cases.len());
    let mut wrong = Vec::new();
    for case in cases {
        let outcome = case.run();
        wrong.extend(case.differences(&outcome, update));
    }
    assert!(wrong.is_empty(), "{} expectations are not met:\n{}", wrong.len(), wrong.join("\n"));
}

#[test]
fn every_command_and_every_option_is_typed_in_a_case() {
    let typed: BTreeSet<String> = Case::all().iter().flat_map(Case::words).collect();
    let untyped: Vec<String> = COMMANDS
        .into_iter()
        .flat_map(|command| std::iter::once(command.to_owned()).chain(options_of(command)))
        .filter(|word| !typed.contains(word))
        .collect();
    assert!(untyped.is_empty(), "no case types {untyped:?}");
}

/// The long options that the help of a command shows.
fn options_of(command: &str) -> Vec<String> {
    let help = case::noticewright().args([command, "--help"]).output().unwrap();
    let help = String::from_utf8(help.stdout).unwrap();
    let words = help.split(|c: char| c.is_whitespace() || "[],`".contains(c)).filter(|word| word.starts_with("--"));
    words.map(str::to_owned).collect()
}

#[test]
fn completions_and_the_manual_name_every_command_and_option() {
    let outputs = ["bash", "elvish", "fish", "powershell", "zsh"].map(|shell| vec!["completions", shell]);
    for words in outputs.into_iter().chain([vec!["man"]]) {
        let said = String::from_utf8(case::noticewright().args(&words).output().unwrap().stdout).unwrap();
        let said = said.replace("\\-", "-");
        for command in COMMANDS {
            let missing: Vec<_> = options_of(command)
                .into_iter()
                .filter(|option| !said.contains(option.trim_start_matches("--")))
                .collect();
            assert!(said.contains(command) && missing.is_empty(), "{words:?}: {command} {missing:?}");
        }
    }
}

#[test]
fn the_cases_end_in_every_way_that_users_can_provoke() {
    let ends: BTreeSet<String> = Case::all().iter().flat_map(|case| case.expected_exits()).collect();
    for code in ["0", "1", "2"] {
        assert!(ends.contains(code), "no case ends with {code}");
    }
}
