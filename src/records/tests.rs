//! Entries on their way to the file and back, and what stands on site by them.

use proptest::prelude::*;

use super::*;
use crate::finding::code;
use crate::length::{Length, Size};
use crate::material::Life;
use crate::notice::Subject;
use crate::standing::Date;

fn day(text: &str) -> Date {
    Date::parse(text).unwrap()
}

fn entry(date: &str, event: Event) -> Entry {
    Entry::new(day(date), event, "CH3-JB2/1")
}

fn printed(date: &str, revision: &str) -> Entry {
    let print = Print {
        subject: Subject::Enclosure,
        designation: "CH3-JB2".into(),
        area: "Chamber 3".into(),
        position: "left of the door".into(),
        issued: "2026-11".into(),
        size: Size::new(Length::mm(105.0), Length::mm(74.25)),
        letters: Some(Length::mm(3.663)),
        sign: Some(Length::mm(17.5)),
        format: "a4-a7-8".into(),
        material: "vinyl-polymeric".into(),
        process: "laser".into(),
        environment: "outdoor, sun".into(),
        lasts: Lasts(Some(Life { least: 5, most: Some(7) })),
        file: "notices.pdf".into(),
        page: 3,
        cell: 5,
        copies: 1,
        run: 1,
        says: Statement(vec![
            Part { kind: Kind::Do, text: "Isolate at both points".into() },
            Part { kind: Kind::Point, text: "=A1|B2\\".into() },
            Part { kind: Kind::At, text: "Switchroom 1, \"board\" C".into() },
            Part { kind: Kind::Point, text: "Q9".into() },
            Part { kind: Kind::Shows, text: "400\u{a0}V between conductors".into() },
        ]),
    };
    Entry {
        revision: revision.into(),
        fingerprint: format!("fingerprint of {revision}"),
        print: Some(Box::new(print)),
        ..entry(date, Event::Printed)
    }
}

fn file(entries: &[Entry]) -> String {
    let lines: String = entries.iter().map(line::written).collect();
    format!("{MARK}{}{lines}", line::header())
}

#[test]
fn what_is_written_is_read_back() {
    let found = Entry {
        condition: Some(Condition::Faded),
        by: "=JD".into(),
        note: "sun, \"all\" day".into(),
        ..entry("2028-02-29", Event::Inspected)
    };
    let entries = [printed("2026-11-24", "B"), entry("2026-11-25", Event::Fixed), found];
    let reading = read(file(&entries).as_bytes(), "records.csv");
    assert_eq!((reading.entries.as_slice(), reading.findings.as_slice()), (&entries[..], &[][..]));
    let print = reading.entries[0].print.as_ref().unwrap();
    assert_eq!(print.says.points(), [("=A1|B2\\", "Switchroom 1, \"board\" C"), ("Q9", "")]);
    assert_eq!(reading.before_next, "");
}

proptest! {
    #[test]
    fn every_text_comes_back_on_one_line(text in "\\PC{0,40}") {
        let text = crate::wording::one_line(&text).trim().to_owned();
        let says = Statement(vec![Part { kind: Kind::Heed, text: text.clone() }; 2]);
        // What says nothing is not written.
        prop_assert_eq!(Statement::parse(&says.cell()), Some(says).filter(|_| !text.is_empty()));
        let kept = Entry { note: text.clone(), photo: text, ..entry("2026-11-25", Event::Fixed) };
        let line = line::written(&kept);
        prop_assert_eq!(line.matches('\n').count(), 1);
        prop_assert_eq!(line::LineReader::default().entry(line.trim_end_matches('\n')), Ok(kept));
    }

    #[test]
    fn a_file_cut_off_anywhere_keeps_every_whole_entry(cut in 0_usize..2_000) {
        let entries = [printed("2026-11-24", "B"), entry("2026-11-25", Event::Fixed), entry("2026-11-26", Event::Withdrawn)];
        let whole = file(&entries);
        let cut = cut.min(whole.len());
        let reading = read(&whole.as_bytes()[..cut], "records.csv");
        prop_assert!(entries.starts_with(&reading.entries));
        prop_assert!(reading.findings.iter().all(|finding| finding.code == code::RECORD_LINE_TORN));
        // The next entry goes behind the last whole one.
        let complete = usize::try_from(reading.complete).unwrap();
        let next = entry("2027-01-01", Event::Fixed);
        let again = [&whole.as_bytes()[..complete], reading.before_next.as_bytes(), line::written(&next).as_bytes()].concat();
        let again = read(&again, "records.csv");
        let expected: Vec<Entry> = reading.entries.into_iter().chain([next]).collect();
        prop_assert_eq!((again.entries, again.findings), (expected, Vec::new()));
    }
}

#[test]
fn what_is_no_entry_is_named_with_its_line() {
    let found = |change: fn(String) -> String| {
        let reading =
            read(change(file(&[printed("2026-11-24", "B"), entry("2026-11-25", Event::Fixed)])).as_bytes(), "r.csv");
        let finding = reading.findings.first().expect("a finding").clone();
        (reading.entries.len(), finding.code, finding.place.map(|place| (place.line, place.address)))
    };
    let not_understood = code::RECORD_LINE_NOT_UNDERSTOOD;
    assert_eq!(
        found(|file| file.replace("2026-11-25", "25/11/2026")),
        (1, not_understood, Some((3, "A3".to_owned()))),
        "a spreadsheet wrote the date in its own form"
    );
    assert_eq!(found(|file| file.replace(",fixed,", ",mended,")), (1, not_understood, Some((3, "B3".to_owned()))));
    assert_eq!(found(|file| file.replace("74.25", "")), (1, not_understood, Some((2, "O2".to_owned()))));
    assert_eq!(
        found(|file| file.replacen(",v1\n", ",v2\n", 1)),
        (1, code::RECORD_OF_LATER_VERSION, Some((2, String::new())))
    );
    assert_eq!(found(|file| file.replacen(",v1\n", "\n", 1)), (1, not_understood, Some((2, String::new()))));
    assert_eq!(found(|file| file.replacen("date,", "date;", 1)), (0, code::NOT_A_RECORD, None));
}

#[test]
fn a_whole_last_line_that_is_not_understood_is_never_taken_for_one_that_was_cut_off() {
    let whole = file(&[printed("2026-11-24", "B"), entry("2026-11-25", Event::Withdrawn)]);
    let without_end = whole.trim_end();
    for (from, to, code) in [
        ("2026-11-25", "25.11.2026", code::RECORD_LINE_NOT_UNDERSTOOD),
        (
            "withdrawn,CH3-JB2/1,,,,,,,,,,,,,,,,,,,,,,,,v1",
            "withdrawn,CH3-JB2/1,,,,,,,,,,,,,,,,,,,,,,,,v2",
            code::RECORD_OF_LATER_VERSION,
        ),
    ] {
        let changed = without_end.replace(from, to);
        assert_ne!(changed, without_end);
        let reading = read(changed.as_bytes(), "records.csv");
        let found: Vec<_> =
            reading.findings.iter().map(|finding| (finding.code, finding.place.as_ref().unwrap().line)).collect();
        assert_eq!((found, &reading.torn, reading.entries.len()), (vec![(code, 3)], &None, 1));
        assert_eq!(
            (reading.complete, &*reading.before_next),
            (changed.len() as u64, "\n"),
            "an entry would overwrite it"
        );
    }
}

#[test]
fn an_entry_behind_a_lone_return_is_not_lost_without_a_word() {
    let entries = [printed("2026-11-24", "A"), entry("2026-12-01", Event::Fixed)];
    let whole = file(&entries);
    let joined = whole.replacen(",v1\n", ",v1\r", 1);
    assert_ne!(joined, whole);
    let reading = read(joined.as_bytes(), "records.csv");
    let found: Vec<_> = reading.findings.iter().map(|finding| finding.code).collect();
    assert_eq!((reading.entries.len(), found), (0, vec![code::RECORD_LINE_NOT_UNDERSTOOD]));
    let ended = whole.replace(",v1\n", ",v1\r\r\n");
    assert_eq!(read(ended.as_bytes(), "records.csv").entries, entries, "returns alone hide nothing");
}

#[test]
fn how_long_a_label_lasts_is_written_and_read() {
    for (cell, years) in [
        ("", None),
        ("5 to 7 years", Some((5, Some(7)))),
        ("10 years", Some((10, Some(10)))),
        ("10 years and more", Some((10, None))),
        ("none", Some((0, Some(0)))),
    ] {
        let lasts = Lasts(years.map(|(least, most)| Life { least, most }));
        assert_eq!((Lasts::parse(cell), lasts.cell()), (Some(lasts), cell.to_owned()));
    }
    assert_eq!(Lasts::parse("10"), None, "a spreadsheet makes this of 10+");
}

#[test]
fn the_last_day_decides_and_not_the_last_line() {
    let replaced = Entry { revision: "B".into(), ..entry("2027-03-03", Event::Replaced) };
    let late = Entry { condition: Some(Condition::Damaged), ..entry("2027-03-01", Event::Inspected) };
    let entries = [printed("2026-11-24", "A"), printed("2027-03-02", "B"), replaced, late];
    let ledger = Ledger::of(&entries);
    let Standing::Fixed { by, print, inspected } = ledger.find("CH3-JB2/1").unwrap().standing() else { panic!() };
    assert_eq!((by, print, inspected), (&entries[2], Some(&entries[1]), None), "the list was filled in before");
}

#[test]
fn what_stands_is_the_copy_that_was_fixed_and_not_the_last_printed() {
    let entries = [
        printed("2026-01-01", "A"),
        Entry { revision: "A".into(), ..entry("2026-01-02", Event::Fixed) },
        printed("2026-06-01", "B"),
        Entry { condition: Some(Condition::Good), ..entry("2026-07-01", Event::Inspected) },
    ];
    let standing = |entries: &[Entry]| format!("{:?}", Ledger::of(entries).find("CH3-JB2/1").unwrap().standing());
    let ledger = Ledger::of(&entries);
    let Standing::Fixed { print, inspected, .. } = ledger.notices[0].standing() else { panic!() };
    assert_eq!((print, inspected), (Some(&entries[0]), Some(&entries[3])));
    assert!(standing(&entries[..1]).starts_with("NotFixed"));
    let missing = Entry { condition: Some(Condition::Missing), ..entry("2026-08-01", Event::Inspected) };
    assert!(standing(&[&entries[..], &[missing]].concat()).starts_with("Missing"));
    assert!(standing(&[&entries[..], &[entry("2026-08-01", Event::Withdrawn)]].concat()).starts_with("Withdrawn"));
}

#[test]
fn a_header_in_quotation_marks_is_a_header() {
    let entries = [printed("2026-11-24", "A")];
    let quoted: Vec<String> = line::COLUMNS.iter().map(|column| format!("\"{column}\"")).collect();
    let file = format!("{}\r\n{}", quoted.join(","), line::written(&entries[0]));
    assert!(is_record(file.as_bytes()));
    let reading = read(file.as_bytes(), "records.csv");
    assert_eq!((reading.entries.as_slice(), reading.findings.len()), (&entries[..], 0));
}

#[test]
fn a_record_saved_in_another_form_is_told_as_one_thing_first() {
    let codes = |mistakes: usize, whole: usize| {
        let line = line::written(&printed("2026-11-24", "A"));
        let lines = line.replace("2026-11-24", "24/11/26").repeat(mistakes) + &line.repeat(whole);
        let findings = read(format!("{}{lines}", line::header()).as_bytes(), "records.csv").findings;
        findings.iter().map(|finding| finding.code).collect::<Vec<_>>()
    };
    let one = code::RECORD_LINE_NOT_UNDERSTOOD;
    assert_eq!(codes(3, 2), [code::NOT_A_RECORD, one, one, one]);
    assert_eq!(codes(3, 3), [one, one, one]);
    assert_eq!(codes(1, 0), [one], "a slip of a hand");
}

#[test]
fn heights_are_read_back_or_called_a_fault() {
    let one = printed("2026-11-24", "B");
    let line = line::written(&one);
    assert!(line.contains(",105x74.25 capitals 3.663 sign 17.5,"), "{line}");
    let read_back = |cell: &str| {
        let line = line.replace("105x74.25 capitals 3.663 sign 17.5", cell);
        line::LineReader::default().entry(line.trim_end_matches('\n'))
    };
    let heights = |cell: &str| read_back(cell).map(|entry| entry.print.map(|print| (print.letters, print.sign)));
    assert_eq!(heights("105x74.25"), Ok(Some((None, None))), "a line of before");
    assert_eq!(heights("105x74.25 capitals 3.5"), Ok(Some((Some(Length::mm(3.5)), None))));
    assert_eq!(heights("105x74.25 sign 9"), Ok(Some((None, Some(Length::mm(9.0))))));
    for cell in ["105x74.25 capitals", "105x74.25 capitals -1", "105x74.25 sign 9 capitals 3", "105x74.25 letters 3"] {
        assert!(matches!(read_back(cell), Err(line::Fault::Cell { column: 14, .. })), "{cell}");
    }
}

/// At the end of a cell a part without text would lose its blank when it is written again, and be no part any more.
#[test]
fn a_part_of_a_statement_says_something() {
    for cell in ["do: QI1 | point: TX2/1 | at: ", "do: QI1 | at:  | serves: pump", "do:   ", "do:", "do"] {
        assert_eq!(Statement::parse(cell), None, "{cell}");
    }
    assert_eq!(Statement::parse("do: QI1 | at: x").map(|says| says.cell()), Some("do: QI1 | at: x".to_owned()));
}
