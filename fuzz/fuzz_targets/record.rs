//! Bytes as a record: what is read and written again is the same, a torn line is no entry, and what is added survives.
#![no_main]

use libfuzzer_sys::fuzz_target;
use noticewright::records::line::{header, written};
use noticewright::records::{Entry, Event, Ledger, MARK, Reading, due, read};
use noticewright::standing::Date;

fuzz_target!(|bytes: &[u8]| {
    let reading = read(bytes, "records.csv");
    assert_eq!(reading, read(bytes, "records.csv"), "two readings differ");
    assert!(reading.entries.len() <= bytes.iter().filter(|byte| **byte == b'\n').count() + 1);
    assert!(reading.complete <= bytes.len() as u64);
    every_line_is_told_of(bytes, &reading);
    written_again(&reading);
    added(bytes, &reading);
    torn(&reading);
    stands(&reading);
});

fn file(entries: &[Entry]) -> Vec<u8> {
    let lines: String = entries.iter().map(written).collect();
    format!("{MARK}{}{lines}", header()).into_bytes()
}

/// A line is an entry, or a finding, or torn: nothing is passed over.
fn every_line_is_told_of(bytes: &[u8], reading: &Reading) {
    if reading.complete == 0 {
        return;
    }
    let is_said = |line: &&[u8]| line.iter().any(|byte| !matches!(byte, b'\r' | 0));
    let lines = bytes.split(|byte| *byte == b'\n').filter(is_said).count() - 1;
    let of_lines = reading.findings.iter().filter(|finding| finding.place.is_some()).count();
    assert!(reading.entries.len() + of_lines >= lines, "{lines} lines, {reading:?}");
}

/// Blanks at the ends of a cell, which only a hand leaves there, are gone once it is written; after that nothing changes.
fn written_again(reading: &Reading) {
    let again = read(&file(&reading.entries), "records.csv");
    assert!(again.findings.is_empty() && again.torn.is_none(), "{:?}", again.findings);
    let lines = |entries: &[Entry]| entries.iter().map(written).collect::<Vec<_>>();
    assert_eq!(lines(&again.entries), lines(&reading.entries), "written again it reads otherwise");
    assert_eq!(read(&file(&again.entries), "records.csv").entries, again.entries);
}

fn further() -> Entry {
    let date = Date::parse("2026-11-24").unwrap();
    Entry { note: "=1+1, \"so\"".to_owned(), by: "JD".to_owned(), ..Entry::new(date, Event::Fixed, "CH3-JB1/1") }
}

/// Adds an entry as the program does: behind the complete bytes, whatever stood there.
fn added(bytes: &[u8], reading: &Reading) {
    let is_record = reading.before_next.contains(',') || reading.complete > 0;
    if !is_record {
        return;
    }
    let complete = usize::try_from(reading.complete).unwrap();
    let more = [&bytes[..complete], reading.before_next.as_bytes(), written(&further()).as_bytes()].concat();
    let after = read(&more, "records.csv");
    let (last, before) = after.entries.split_last().unwrap();
    assert_eq!(*last, further(), "the added entry reads otherwise");
    assert_eq!(before, reading.entries, "an entry before it is lost");
    assert!(after.torn.is_none());
}

/// Cuts the last line at every byte: before its end it is no entry, and those before it stay.
fn torn(reading: &Reading) {
    let entries = read(&file(&reading.entries), "records.csv").entries;
    let Some((last, before)) = entries.split_last() else { return };
    let (whole, line) = (file(&entries), written(last));
    for cut in (1..=line.len()).take(200) {
        let part = read(&whole[..whole.len() - cut], "records.csv");
        if cut == 1 {
            assert_eq!(part.entries, entries, "only the line end is missing");
        } else {
            assert_eq!(part.entries, before, "a torn line became an entry: cut {cut} of {line:?}");
        }
    }
}

/// What stands by the entries, and what is due.
fn stands(reading: &Reading) {
    let ledger = Ledger::of(&reading.entries);
    let kept: usize = ledger.notices.iter().map(|known| known.entries.len()).sum();
    assert_eq!(kept, reading.entries.len());
    for known in &ledger.notices {
        assert_eq!(ledger.find(known.number).map(|found| found.number), Some(known.number));
        let _ = (known.standing(), known.only_copy());
    }
    let day = Date::parse("2030-01-01").unwrap();
    let _ = due::Due::of(&ledger, due::Asked { on: day, until: day, interval: due::USUAL_INTERVAL });
}
