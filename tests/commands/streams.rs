//! Readers that go away, and a person who interrupts.

use std::fs;
use std::io::{BufRead as _, BufReader, Read as _, Write as _};
use std::process::{Child, Stdio};

use crate::case::noticewright;

/// A survey of so many enclosures that a report or document of it fills every pipe.
fn large_survey() -> String {
    let rows = (0..3_000).map(|number| format!("CH{number},DB/{number},400,Q{number},Room {}\n", number % 40));
    "enclosure,circuit,voltage_to_earth,isolator,isolator_location\n".to_owned() + &rows.collect::<String>()
}

fn started(place: &tempfile::TempDir, words: &[&str]) -> Child {
    fs::write(place.path().join("survey.csv"), large_survey()).unwrap();
    let mut command = noticewright();
    command.current_dir(place.path()).args(words).stdout(Stdio::piped()).stderr(Stdio::piped());
    command.spawn().unwrap()
}

/// What the run says on standard error when its reader goes away after one line, and its exit code.
fn after_one_line(words: &[&str]) -> (String, Option<i32>) {
    let place = tempfile::tempdir().unwrap();
    let mut child = started(&place, words);
    let mut line = Vec::new();
    BufReader::with_capacity(64, child.stdout.take().unwrap()).read_until(b'\n', &mut line).unwrap();
    assert!(!line.is_empty());
    let mut said = String::new();
    child.stderr.take().unwrap().read_to_string(&mut said).unwrap();
    (said, child.wait().unwrap().code())
}

#[test]
fn a_reader_of_the_report_that_has_seen_enough_is_no_mistake() {
    assert_eq!(after_one_line(&["check", "survey.csv", "--report", "json"]), (String::new(), Some(0)));
    assert_eq!(after_one_line(&["check", "survey.csv"]), (String::new(), Some(0)));
}

#[test]
fn a_reader_of_the_document_that_has_seen_enough_is_no_mistake() {
    assert_eq!(after_one_line(&["labels", "survey.csv", "-o", "-", "--quiet"]), (String::new(), Some(0)));
}

#[test]
fn the_manual_and_the_help_may_be_cut_short() {
    for words in [&["man"][..], &["completions", "bash"], &["help", "labels"]] {
        let (said, code) = after_one_line(words);
        assert_eq!((said.as_str(), code), ("", Some(0)), "{words:?}");
    }
}

#[test]
fn a_run_without_anything_to_write_to_still_ends() {
    // Standard input is closed before the survey is whole: what came is an incomplete survey, not a hang.
    let mut command = noticewright();
    let mut child = command.args(["check", "-"]).stdin(Stdio::piped()).stdout(Stdio::piped()).spawn().unwrap();
    child.stdin.take().unwrap().write_all(b"enclosure,circ").unwrap();
    assert_eq!(child.wait_with_output().unwrap().status.code(), Some(1));
}

/// `script` of util-linux gives a run a terminal of its own and keeps what it showed.
#[cfg(target_os = "linux")]
#[test]
fn a_long_run_shows_on_a_terminal_how_far_it_is_and_leaves_only_its_result() {
    let place = tempfile::tempdir().unwrap();
    fs::write(place.path().join("survey.csv"), large_survey()).unwrap();
    let shown = |quiet: &str| {
        let command = format!(
            "{} labels {} -o {} --force {quiet}",
            env!("CARGO_BIN_EXE_noticewright"),
            place.path().join("survey.csv").display(),
            place.path().join("notices.pdf").display()
        );
        crate::judge::run("script", &["-qec", &command, "FILE"], &place.path().join("shown"))
    };
    let Some(shown_loudly) = shown("") else { return };
    for step in ["setting notices: ", "writing sheets: "] {
        assert!(shown_loudly.contains(step), "{step}: {shown_loudly}");
    }
    // Each line is wiped before the next, and what stands at the end is the result.
    assert!(shown_loudly.contains("\u{1B}[2K"), "{shown_loudly}");
    assert!(shown_loudly.trim_end().ends_with("before use"), "{shown_loudly}");
    assert!(!shown("--quiet").unwrap().contains("setting notices"));
}

#[cfg(unix)]
#[test]
fn an_interrupt_leaves_what_was_there() {
    use std::os::unix::process::ExitStatusExt as _;
    // A shell that starts something in the background has it ignore interrupts, and so do all that it starts.
    let (name, signal) = if ignores_interrupts() { ("-TERM", 15) } else { ("-INT", 2) };
    let place = tempfile::tempdir().unwrap();
    fs::write(place.path().join("notices.pdf"), "old").unwrap();
    // So many copies that the writing goes on until somebody interrupts it.
    let words = ["labels", "survey.csv", "-o", "notices.pdf", "--force", "--quiet", "--copies", "50"];
    let mut child = started(&place, &words);
    // The document is under way as soon as its draft lies beside the destination.
    let draft = || {
        let names = fs::read_dir(place.path()).unwrap().map(|entry| entry.unwrap().file_name());
        names.map(|name| name.to_string_lossy().into_owned()).find(|name| name.ends_with(".part"))
    };
    while draft().is_none() {
        assert!(child.try_wait().unwrap().is_none(), "the run ended before it wrote");
        std::thread::yield_now();
    }
    let interrupted = std::process::Command::new("kill").args([name, &child.id().to_string()]).status();
    let ended = child.wait_with_output().unwrap().status;
    if !interrupted.is_ok_and(|status| status.success()) {
        eprintln!("SKIPPED: there is no `kill`, so nobody interrupted");
        return;
    }
    // A shell shows the end by signal 2 as 130.
    assert_eq!(ended.signal(), Some(signal), "{ended}");
    assert_eq!(fs::read(place.path().join("notices.pdf")).unwrap(), b"old");
    assert!(draft().is_none_or(|name| name.starts_with(".noticewright-notices.pdf-")));
}

/// Whether signal 2 is ignored, as Linux tells; elsewhere nobody knows, and it is taken not to be.
#[cfg(unix)]
fn ignores_interrupts() -> bool {
    let status = fs::read_to_string("/proc/self/status").unwrap_or_default();
    let ignored = status.lines().find_map(|line| line.strip_prefix("SigIgn:"));
    ignored.and_then(|mask| u64::from_str_radix(mask.trim(), 16).ok()).is_some_and(|mask| mask & 2 != 0)
}
