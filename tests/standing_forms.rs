//! One list of standing notices saved by an office suite reads alike in every form, dates that became cells of dates too.
#![expect(clippy::disallowed_methods, clippy::unwrap_used, reason = "the tests read their own cases")]

use std::fs;
use std::path::Path;

use noticewright::standing::{Date, Entry, Kind, ReadOptions, read};

fn entries(form: &str) -> Vec<Entry> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/standing_forms").join(form);
    let reading = read(fs::read(path).unwrap(), &ReadOptions::new(form));
    assert_eq!(reading.findings, [], "{form}");
    reading.standing.entries
}

#[test]
fn every_form_reads_alike() {
    let first = entries("comma-utf8.csv");
    for form in ["standing.xlsx", "standing.ods"] {
        assert_eq!(entries(form), first, "{form}");
    }
    let one = first.first().unwrap();
    assert_eq!((one.kind, one.last_inspection), (Kind::PeriodicInspection, Date::new(2026, 5, 14)));
    assert_eq!(one.next_inspection, Date::new(2031, 5, 14));
    assert_eq!(first.len(), 10);
}
