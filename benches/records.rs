//! A record of ten years: reading it, what stands on site by it, and commands as a user runs them.
//!
//! The largest is the one that was promised: 10,000 notices, each printed twice, fixed, replaced and inspected six times,
//! which makes 100,000 entries.

#![allow(
    clippy::unwrap_used,
    clippy::disallowed_methods,
    reason = "a bench that cannot go on stops, and lays its own files"
)]

use std::process::{Command, Stdio};

use noticewright::length::{Length, Size};
use noticewright::material::Life;
use noticewright::notice::Subject;
use noticewright::records::{
    self, Condition, Entry, Event, Kind, Lasts, Ledger, MARK, Part, Print, Standing, Statement, line,
};
use noticewright::standing::Date;

/// Notices of a site.
const SIZES: [usize; 3] = [100, 1_000, 10_000];

fn main() {
    divan::main();
}

fn day(year: u16, month: u8) -> Date {
    Date::new(year, month, 14).unwrap()
}

/// What a notice of two points says.
fn says(number: usize) -> Statement {
    let part = |kind, text: String| Part { kind, text };
    Statement(vec![
        part(Kind::Do, "Isolate at both points".to_owned()),
        part(Kind::Why, format!("More than one supply inside C{}-JB{number}", number / 40)),
        part(Kind::Point, format!("Q{}", number % 90)),
        part(Kind::At, format!("Room {}, board {}", number % 17, number % 23)),
        part(Kind::Point, format!("Q{}", number % 70)),
        part(Kind::At, format!("Room {}, board {}", number % 19, number % 29)),
        part(Kind::Shows, "230\u{a0}V to earth".to_owned()),
        part(Kind::Shows, "400\u{a0}V between conductors".to_owned()),
        part(Kind::Last, "Lock off each. Prove dead before work.".to_owned()),
    ])
}

fn printed(date: Date, number: usize, name: &str, revision: &str) -> Entry {
    let print = Print {
        subject: Subject::Enclosure,
        designation: format!("C{}-JB{number}", number / 40),
        area: format!("Chamber {}", number / 40),
        position: String::new(),
        issued: date.to_string(),
        size: Size::new(Length::mm(105.0), Length::mm(74.0)),
        letters: Some(Length::mm(3.5)),
        sign: Some(Length::mm(17.5)),
        format: "a4-a7-8".to_owned(),
        material: "polyester-laminated".to_owned(),
        process: "laser".to_owned(),
        environment: "indoor, washdown".to_owned(),
        lasts: Lasts(Some(Life { least: 10, most: None })),
        file: "notices.pdf".to_owned(),
        page: u32::try_from(number / 8 + 1).unwrap(),
        cell: u32::try_from(number % 8 + 1).unwrap(),
        copies: 1,
        run: 1,
        says: says(number),
    };
    let fingerprint = format!("{:016x}", number * 7 + revision.len());
    Entry {
        revision: revision.to_owned(),
        fingerprint,
        print: Some(Box::new(print)),
        ..Entry::new(date, Event::Printed, name)
    }
}

/// The file of a site after ten years, in the order in which it grew.
fn file(notices: usize) -> String {
    let mut text = format!("{MARK}{}", line::header());
    let name = |number: usize| format!("C{}-JB{number}/1", number / 40);
    let mut year = |year: u16, event: fn(Date, usize, &str) -> Entry| {
        for number in 0..notices {
            text.push_str(&line::written(&event(day(year, 5), number, &name(number))));
        }
    };
    let inspected = |date, number, name: &str| Entry {
        condition: Some(if number % 50 == 0 { Condition::Faded } else { Condition::Good }),
        by: "JD".to_owned(),
        ..Entry::new(date, Event::Inspected, name)
    };
    year(2016, |date, number, name| printed(date, number, name, "A"));
    year(2016, |date, _, name| Entry { revision: "A".to_owned(), ..Entry::new(date, Event::Fixed, name) });
    (2017..=2019).for_each(|one| year(one, inspected));
    year(2021, |date, number, name| printed(date, number, name, "BB"));
    year(2021, |date, _, name| Entry { revision: "BB".to_owned(), ..Entry::new(date, Event::Replaced, name) });
    (2022..=2024).for_each(|one| year(one, inspected));
    text
}

#[divan::bench(args = SIZES)]
fn read(bencher: divan::Bencher, notices: usize) {
    let file = file(notices);
    bencher
        .counter(divan::counter::BytesCount::new(file.len()))
        .bench(|| records::read(file.as_bytes(), "records.csv"));
}

#[divan::bench(args = SIZES)]
fn what_stands(bencher: divan::Bencher, notices: usize) {
    let reading = records::read(file(notices).as_bytes(), "records.csv");
    assert_eq!(reading.entries.len(), notices * 10);
    bencher.bench(|| {
        let ledger = Ledger::of(&reading.entries);
        let fixed = |known: &&records::Known<'_>| matches!(known.standing(), Standing::Fixed { .. });
        assert_eq!(ledger.notices.iter().filter(fixed).count(), notices);
    });
}

/// One command, as a process of its own.
fn command(bencher: divan::Bencher, notices: usize, words: &[&str]) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("records.csv");
    let file = file(notices);
    bencher.with_inputs(|| std::fs::write(&path, &file).unwrap()).bench_local_values(|()| {
        let mut command = Command::new(env!("CARGO_BIN_EXE_noticewright"));
        command.arg("records").args(words).arg("--records").arg(&path).current_dir(folder.path());
        assert!(command.stdout(Stdio::null()).stderr(Stdio::null()).status().unwrap().success());
    });
}

#[divan::bench(args = SIZES, sample_count = 11, sample_size = 1)]
fn history(bencher: divan::Bencher, notices: usize) {
    command(bencher, notices, &["history", "C1-JB41/1"]);
}
