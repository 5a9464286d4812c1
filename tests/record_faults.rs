//! A record under several writers at once, killed at any moment, on a full disk, and locked: the built program loses nothing
//! that it has acknowledged.
#![cfg(unix)]
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::disallowed_methods,
    reason = "a test that cannot go on stops, and looks at the disk by itself"
)]

use std::collections::BTreeSet;
use std::fs::{self, File};
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::thread;
use std::time::Duration;

use noticewright::finding::code;
use noticewright::records::{self, Deed, Entry, Event, Reading};
use noticewright::standing::Date;

/// A folder with a record in which one notice is printed and fixed.
struct Site {
    folder: tempfile::TempDir,
}

impl Site {
    fn new() -> Self {
        let site = Self { folder: tempfile::tempdir().unwrap() };
        let printed = "2026-11-24,printed,CH3-JB2/1,B,,,,,,enclosure,CH3-JB2,,,2026-11,148x105,a4-a6-2,vinyl-cast,laser,,\
                       ,,,1,1,984131d0382f5a70,do: Isolate | point: Q7,v1\n";
        let fixed = Entry { revision: "B".into(), ..Entry::new(day(), Event::Fixed, "CH3-JB2/1") };
        let head = format!("{}{}", records::MARK, records::line::header());
        fs::write(site.path(), head + printed + &records::line::written(&fixed)).unwrap();
        assert_eq!(site.read().findings, []);
        site
    }

    fn path(&self) -> PathBuf {
        self.folder.path().join("records.csv")
    }

    fn read(&self) -> Reading {
        records::read(&fs::read(self.path()).unwrap(), "records.csv")
    }

    fn length(&self) -> u64 {
        self.path().metadata().unwrap().len()
    }

    /// The notes of the record's inspections, in order.
    fn notes(&self) -> Vec<String> {
        let inspected = |entry: &Entry| entry.event == Deed::Inspected(records::Condition::Good).event();
        self.read().entries.into_iter().filter(inspected).map(|entry| entry.note).collect()
    }

    /// One inspection by the program, told apart by its note.
    fn inspect(&self, note: &str) -> Command {
        inspect(&self.path(), note)
    }
}

fn day() -> Date {
    Date::parse("2026-11-25").unwrap()
}

fn inspect(path: &Path, note: &str) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_noticewright"));
    let words = ["records", "inspected", "CH3-JB2/1", "--condition", "good", "--date", "2027-01-01", "--job"];
    command.args(words).arg("/dev/null").arg("--records").arg(path).args(["--note", note]);
    // The day of a run is 2028-01-01, whatever the clock says.
    command.env("SOURCE_DATE_EPOCH", "1830297600").stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::piped());
    command
}

fn said(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

#[test]
fn of_many_writers_at_once_every_entry_is_there_once() {
    let site = Site::new();
    let (writers, marks) = (8, 25);
    thread::scope(|scope| {
        for writer in 0..writers {
            let site = &site;
            scope.spawn(move || {
                for mark in 0..marks {
                    let output = site.inspect(&format!("writer {writer} mark {mark}")).output().unwrap();
                    assert!(output.status.success(), "{}", said(&output));
                }
            });
        }
    });
    let notes = site.notes();
    let once: BTreeSet<&String> = notes.iter().collect();
    assert_eq!((notes.len(), once.len(), site.read().findings.len()), (writers * marks, writers * marks, 0));
}

/// Numbers that look random and are the same in every run: the generator of Park and Miller (1988), minimal standard.
struct Delays(u64);

impl Delays {
    fn next(&mut self, below: u64) -> u64 {
        self.0 = self.0 * 16_807 % 2_147_483_647;
        self.0 % below
    }
}

#[test]
fn killed_at_any_moment_what_was_acknowledged_is_there() {
    let site = Site::new();
    let mut delays = Delays(20_261_128);
    // How long one takes here, so that the kills fall onto every part of it.
    let started = std::time::Instant::now();
    assert!(site.inspect("first").status().unwrap().success());
    let whole = u64::try_from(started.elapsed().as_micros()).unwrap().max(1_000);
    let (mut acknowledged, mut killed) = (vec!["first".to_owned()], 0);
    for run in 0..400 {
        let note = format!("run {run}");
        let mut child = site.inspect(&note).spawn().unwrap();
        if run % 2 == 0 {
            thread::sleep(Duration::from_micros(delays.next(whole + whole / 4)));
        } else {
            // Killed as soon as the file grows, or a little later: before it is known to be on the disk.
            let before = site.length();
            while site.length() == before && child.try_wait().unwrap().is_none() {}
            thread::sleep(Duration::from_micros(delays.next(300)));
        }
        child.kill().unwrap();
        let status = child.wait().unwrap();
        let reading = site.read();
        assert!(
            reading.findings.iter().all(|finding| finding.code == code::RECORD_LINE_TORN),
            "{:?}",
            reading.findings
        );
        let notes = site.notes();
        match status.code() {
            Some(0) => acknowledged.push(note.clone()),
            Some(other) => panic!("{note} ended with {other}"),
            // Nobody was told of it: it may be there, whole.
            None => {
                killed += 1;
                acknowledged.extend(notes.last().filter(|last| **last == note).cloned());
            }
        }
        assert_eq!(notes, acknowledged, "after {note}");
        if killed >= 40 && acknowledged.len() > 10 {
            break;
        }
    }
    assert!(killed >= 40, "only {killed} runs were killed in time");
    let output = site.inspect("last").output().unwrap();
    assert!(output.status.success(), "{}", said(&output));
    assert_eq!((site.notes().len(), site.read().findings.len()), (acknowledged.len() + 1, 0));
}

/// The shell's limit on the length of files stands for a full disk: the write that crosses it is cut short, and the next one
/// fails, if the signal is ignored (`setrlimit`, POSIX.1).
#[test]
fn on_a_full_disk_the_record_stays_as_it_was() {
    let site = Site::new();
    let start = fs::read_to_string(site.path()).unwrap();
    for room in [0, 1, 60, 200] {
        let filler =
            |note: &str| records::line::written(&Entry { note: note.into(), ..Entry::new(day(), Event::Fixed, "X") });
        let filler = filler(&"y".repeat(4_096 - room - start.len() - filler("").len()));
        let before = format!("{start}{filler}");
        assert_eq!(before.len(), 4_096 - room);
        fs::write(site.path(), &before).unwrap();
        let program = site.inspect(&"n".repeat(300));
        let mut shell = Command::new("bash");
        shell.args(["-c", "trap '' XFSZ; ulimit -f 4; exec \"$0\" \"$@\""]).arg(program.get_program());
        shell.args(program.get_args()).env("SOURCE_DATE_EPOCH", "1830297600").stdin(Stdio::null());
        let output = shell.output().unwrap();
        assert_eq!(output.status.code(), Some(2), "{}", said(&output));
        assert!(said(&output).starts_with("error: cannot write `"), "{}", said(&output));
        assert_eq!(fs::read_to_string(site.path()).unwrap(), before, "{room} bytes of room");
    }
    assert!(site.inspect("room again").status().unwrap().success());
    assert_eq!((site.notes(), site.read().findings), (vec!["room again".to_owned()], Vec::new()));
}

#[test]
fn whoever_comes_second_waits() {
    let site = Site::new();
    let held = File::options().read(true).write(true).open(site.path()).unwrap();
    held.lock().unwrap();
    let mut child = site.inspect("second").spawn().unwrap();
    thread::sleep(Duration::from_millis(400));
    assert!(child.try_wait().unwrap().is_none(), "it did not wait");
    assert_eq!(site.notes(), [""; 0]);
    held.unlock().unwrap();
    assert!(child.wait().unwrap().success());
    assert_eq!(site.notes(), ["second"]);
}

#[test]
fn nobody_waits_for_a_pipe() {
    let folder = tempfile::tempdir().unwrap();
    let pipe = folder.path().join("pipe");
    assert!(Command::new("mkfifo").arg(&pipe).status().unwrap().success());
    let mut look = Command::new(env!("CARGO_BIN_EXE_noticewright"));
    look.args(["records", "history", "CH3-JB2/1", "--job", "/dev/null", "--records"]).arg(&pipe);
    for mut command in [inspect(&pipe, ""), look] {
        let output = command.output().unwrap();
        assert_eq!(output.status.code(), Some(2));
        assert!(said(&output).ends_with("/pipe`: it is no plain file\n"), "{}", said(&output));
    }
}
