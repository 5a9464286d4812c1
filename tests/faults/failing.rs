//! Every command whose n-th write, sync or renaming fails: each file is as it was or wholly new, and the message is true.
//! `strace` injects the failures into the built program from outside.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::Command;

use rayon::prelude::*;

use crate::site;

/// Every command that writes, with all its outputs at once.
const COMMANDS: [&[&str]; 18] = [
    &["labels", "survey.csv", "-o", "n.pdf", "--texts", "texts.csv", "--svg", "drawings"],
    &["labels", "survey.csv", "-o", "n.pdf", "--sheet", "roll-a7-203", "--png", "pictures"],
    &["labels", "survey.csv", "-o", "n.pdf", "--read-back", "--record", "--date", "2026-12-01", "--svg", "drawings"],
    &["labels", "survey.csv", "-o", "n.pdf", "--approval"],
    &["schedule", "survey.csv", "-o", "s.pdf", "-o", "s.csv", "-o", "s.xlsx"],
    &["cards", "survey.csv", "-o", "cards.pdf"],
    &["fixing", "survey.csv", "-o", "fixing.pdf"],
    &["changes", "before/survey.csv", "survey.csv", "-o", "c.pdf", "-o", "c.csv", "--labels", "delta.pdf"],
    &["records", "pages", "survey.csv", "-o", "pages"],
    &["records", "check", "survey.csv", "-o", "check.pdf"],
    &["records", "list", "-o", "list.xlsx"],
    &["records", "due", "-o", "due.csv"],
    &["records", "again", "survey.csv", "-o", "again.pdf", "--number", "CH1/1", "--record", "--date", "2026-12-01"],
    &["why", "survey.csv", "CH1", "--svg", "why.svg"],
    &["new", "starter"],
    &["ruler", "-o", "ruler.pdf"],
    &["sheets", "a4-a7-4", "-o", "sheet.pdf"],
    &["notice", "CH9", "--isolator", "Q1 @ Room 1", "--to-earth", "400", "-o", "notice.pdf"],
];

/// What fails, and how the system says so.
const FAILURES: [(&str, &str); 4] =
    [("write", "ENOSPC"), ("fsync", "EIO"), ("/^(rename|link)", "EIO"), ("ftruncate", "EIO")];

/// More than any of these runs has of one call; what is beyond is not tried.
const MOST: usize = 9;

type Files = BTreeMap<String, Vec<u8>>;

/// The program under `strace`, with what that is to do.
fn traced(folder: &Path, options: &[&str], words: &[&str]) -> Command {
    let mut command = Command::new("strace");
    command.args(["-f", "-qq", "--seccomp-bpf"]).args(options).arg(env!("CARGO_BIN_EXE_noticewright")).args(words);
    site::set(&mut command, folder);
    command
}

/// Whether programs can be watched here: some machines forbid it.
fn can_inject() -> bool {
    let tried = Command::new("strace")
        .args(["-f", "-qq", "--seccomp-bpf", "-e", "trace=fsync", "-o", "/dev/null", "true"])
        .status();
    let required = std::env::var_os("REQUIRE_OUTSIDE").is_some_and(|value| value == "1");
    assert!(tried.is_ok() || !required, "strace is not installed");
    let can = tried.is_ok_and(|status| status.success());
    if !can {
        eprintln!("SKIPPED: strace is not installed or may not watch, so nobody made the disk fail under the commands");
    }
    can
}

#[test]
fn whatever_fails_of_a_command_each_file_is_old_or_new_and_the_message_is_true() {
    if !can_inject() {
        return;
    }
    let tried: usize = COMMANDS
        .par_iter()
        .map(|words| {
            let folder = site::site();
            try_all(folder.path(), words, false) + try_all(folder.path(), words, true)
        })
        .sum();
    assert!(tried > 150, "only {tried} failures were tried");
}

/// Tries every failure of one command, onto nothing or over old files; the answer is how many were tried.
fn try_all(folder: &Path, words: &[&str], over: bool) -> usize {
    let forced = [words, &["--force"]].concat();
    let words = if over { &forced } else { words };
    let mut before = site::contents(folder);
    let counts = FAILURES.map(|(call, _)| {
        site::restore(folder, &before);
        let log = tempfile::NamedTempFile::new().unwrap();
        let trace = format!("trace={call}");
        let log_name = log.path().to_str().unwrap();
        let ran = traced(folder, &["-e", &trace, "-o", log_name], words).output().unwrap();
        assert_eq!(ran.status.code(), Some(expected(words)), "{words:?}: {}", String::from_utf8_lossy(&ran.stderr));
        fs::read_to_string(log.path()).unwrap().lines().count().min(MOST)
    });
    let after = site::contents(folder);
    let made: Vec<String> = after.keys().filter(|name| !before.contains_key(*name)).cloned().collect();
    assert!(!made.is_empty(), "{words:?} wrote nothing");
    let clean = before.clone();
    if over {
        made.iter().for_each(|name| drop(before.insert(name.clone(), b"old".to_vec())));
    }
    let mut tried = 0;
    for ((call, error), count) in FAILURES.into_iter().zip(counts) {
        // Over old files it is the renaming that differs.
        let most = if !over || call.contains("rename") { MOST } else { 1 };
        for when in 1..=count.min(most) {
            site::restore(folder, &before);
            let (trace, inject) = (format!("trace={call}"), format!("inject={call}:error={error}:when={when}"));
            let ran = traced(folder, &["-e", &trace, "-e", &inject, "-o", "/dev/null"], words).output().unwrap();
            let said = String::from_utf8_lossy(&ran.stderr).into_owned();
            let what = format!("{words:?} over: {over} {call} {when}: {said}");
            judge(ran.status.code(), &said, (&before, &site::contents(folder), &after), expected(words), &what);
            tried += 1;
        }
    }
    site::restore(folder, &clean);
    tried
}

/// `records check` tells by its exit code that a notice is not true here.
fn expected(words: &[&str]) -> i32 {
    i32::from(words.starts_with(&["records", "check"]))
}

/// Holds what is on the disk against before and after, and what was said against what is there.
fn judge(code: Option<i32>, said: &str, (before, now, after): (&Files, &Files, &Files), good: i32, what: &str) {
    for (name, bytes) in now {
        let is_old = before.get(name) == Some(bytes);
        assert!(is_old || after.get(name) == Some(bytes), "half written or left behind: {name}\n{what}");
    }
    let lost = before.keys().find(|name| !now.contains_key(*name));
    assert_eq!(lost, None, "lost\n{what}");
    let written: Vec<&String> =
        now.iter().filter(|(name, bytes)| before.get(*name) != Some(bytes)).map(|(name, _)| name).collect();
    if code == Some(good) {
        assert_eq!(now, after, "called done\n{what}");
        return;
    }
    assert_eq!(code, Some(2), "{what}");
    assert!(said.contains("error: ") && !said.contains(".part"), "{what}");
    if said.contains("nothing was written") {
        assert!(written.is_empty(), "{written:?} are there\n{what}");
    }
    // What is there all the same is named, unless everything is and only the report was lost.
    for name in written.iter().filter(|_| !said.contains("standard output")) {
        assert!(said.contains(name.as_str()), "{name} is there, and nobody says so\n{what}");
    }
}
