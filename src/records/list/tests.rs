//! What is listed, and what comes back when it was filled in.

use super::*;
use crate::finding::{Finding, code};
use crate::records::due::{Asked, Due};
use crate::records::{Condition, Entry, Event, Kind, Ledger, Part, Print, Statement};
use crate::schedule::csv;
use crate::standing::Date;
use crate::writers::pdf::DocumentInfo;

fn day(text: &str) -> Date {
    Date::parse(text).unwrap()
}

fn printed(number: &str, area: &str, revision: &str) -> Entry {
    let part = |kind, text: &str| Part { kind, text: text.into() };
    let points = (1..7).flat_map(|point| [part(Kind::Point, &format!("Q{point}")), part(Kind::At, "Room 1")]);
    let print = Print {
        designation: number.trim_end_matches("/1").into(),
        area: area.into(),
        says: Statement(std::iter::once(part(Kind::Do, "Isolate at all points")).chain(points).collect()),
        ..crate::records::testing::print()
    };
    let print = Some(Box::new(print));
    let fingerprint = format!("{number} says {revision}");
    Entry { revision: revision.into(), fingerprint, print, ..Entry::new(day("2024-01-10"), Event::Printed, number) }
}

fn event(date: &str, event: Event, number: &str, revision: &str) -> Entry {
    let fingerprint = if revision.is_empty() { String::new() } else { format!("{number} says {revision}") };
    Entry { revision: revision.into(), fingerprint, ..Entry::new(day(date), event, number) }
}

/// Two revisions printed of a notice that names what a spreadsheet would calculate, the older one fixed; one not fixed; one
/// withdrawn; one fixed of which no printing is recorded.
fn record() -> Vec<Entry> {
    let damaged = Entry {
        condition: Some(Condition::Damaged),
        place: "on the frame".into(),
        ..event("2024-05-01", Event::Inspected, "=A1+B2/1", "A")
    };
    vec![
        printed("=A1+B2/1", "Chamber 10", "A"),
        printed("=A1+B2/1", "Chamber 10", "B"),
        printed("CH2-JB10/1", "Chamber 2", "A"),
        printed("CH2-JB9/1", "Chamber 2", "A"),
        printed("CH2-JB1/1", "Chamber 2", "A"),
        event("2024-01-11", Event::Fixed, "=A1+B2/1", "A"),
        event("2024-01-11", Event::Fixed, "CH2-JB9/1", "A"),
        event("2024-01-11", Event::Fixed, "CH2-JB1/1", "A"),
        event("2024-03-01", Event::Withdrawn, "CH2-JB1/1", "A"),
        event("2024-01-11", Event::Fixed, "OLD/1", ""),
        damaged,
    ]
}

fn listed(entries: &[Entry], only_due: bool) -> Vec<ListRow<'_>> {
    let ledger = Ledger::of(entries);
    let on = day("2024-12-01");
    rows(&ledger, &Due::of(&ledger, Asked { on, until: on, interval: 12 }), only_due)
}

/// A list with these cells filled in, by number and column.
fn filled(entries: &[Entry], cells: &[(&str, &str, &str)]) -> Vec<u8> {
    let mut bytes = Vec::new();
    csv::write(&mut bytes, listed(entries, false)).unwrap();
    let mut table = csv::read(&bytes).unwrap();
    for (number, column, cell) in cells {
        let place = table[0].iter().position(|name| name == column).unwrap();
        let row = table.iter_mut().find(|row| row[0] == *number).unwrap();
        (*cell).clone_into(&mut row[place]);
    }
    let mut bytes = Vec::new();
    csv::write_cells(&mut bytes, table).unwrap();
    bytes
}

/// What a filled list comes to, with how many rows say nothing.
fn taken(entries: &[Entry], list: &[u8], today: &str) -> (Taken, usize) {
    let reading = read(list, &ReadOptions::new("list.csv"));
    let usual = Usual { date: Some(day("2024-12-02")), by: "JD".into() };
    let mut taken = take(&reading, &Ledger::of(entries), &usual, day(today));
    taken.findings.splice(0..0, reading.findings);
    (taken, reading.left_out)
}

fn found(findings: &[Finding]) -> Vec<(&'static str, String)> {
    let address = |finding: &Finding| finding.place.as_ref().map(|place| place.address.clone()).unwrap_or_default();
    findings.iter().map(|finding| (finding.code.name, address(finding))).collect()
}

#[test]
fn notices_are_listed_as_people_walk_and_count() {
    let entries = record();
    let rows = listed(&entries, false);
    let told: Vec<_> = rows.iter().map(|row| (row.number, row.area, row.revision, row.position)).collect();
    assert_eq!(
        told,
        [
            ("OLD/1", "", "not known", ""),
            ("CH2-JB9/1", "Chamber 2", "A", "usual place"),
            ("CH2-JB10/1", "Chamber 2", "", "usual place"),
            ("=A1+B2/1", "Chamber 10", "A", "on the frame"),
        ]
    );
    assert_eq!(rows[3].says, "Isolate at all points: Q1 (Room 1), Q2 (Room 1), Q3 (Room 1), Q4 (Room 1) and 2 more");
    assert_eq!(rows[3].last_inspection, "2024-05-01 damaged");
    assert_eq!(rows[3].due, "replace it by rev B, printed 2024-01-10 (superseded 2024-01-11)");
    let numbers: Vec<_> = listed(&entries, true).iter().map(|row| row.number).collect();
    assert_eq!(numbers, ["CH2-JB10/1", "=A1+B2/1"]);
}

#[test]
fn a_list_that_nobody_filled_in_tells_nothing() {
    let entries = record();
    let (taken, left_out) = taken(&entries, &filled(&entries, &[]), "2024-12-02");
    assert_eq!((taken.entries.len(), taken.known, left_out), (0, 0, 4));
    assert_eq!(found(&taken.findings), []);
}

#[test]
fn what_was_filled_in_becomes_entries_once() {
    let mut entries = record();
    let list = filled(
        &entries,
        &[
            ("=A1+B2/1", "event", "replaced"),
            ("=A1+B2/1", "place", "=on the lid"),
            ("CH2-JB9/1", "condition", "FADED"),
            ("CH2-JB9/1", "date", "30 November 2024"),
            ("CH2-JB9/1", "by", "AB"),
            ("CH2-JB9/1", "note", "-"),
            ("CH2-JB10/1", "condition", "-"),
        ],
    );
    let (first, left_out) = taken(&entries, &list, "2024-12-02");
    assert_eq!((found(&first.findings), left_out, first.known), (vec![], 2, 0));
    let [faded, replaced] = &first.entries[..] else { panic!("{:?}", first.entries) };
    assert_eq!((replaced.revision.as_str(), replaced.by.as_str(), replaced.date), ("B", "JD", day("2024-12-02")));
    assert_eq!((replaced.number.as_str(), replaced.place.as_str()), ("=A1+B2/1", "=on the lid"));
    assert_eq!((faded.condition, faded.by.as_str(), faded.date), (Some(Condition::Faded), "AB", day("2024-11-30")));
    assert_eq!(faded.note, "");
    entries.extend(first.entries);
    let (second, _) = taken(&entries, &list, "2025-01-01");
    assert_eq!((second.entries.len(), second.known, second.findings.len()), (0, 2, 0));
}

#[test]
fn another_revision_that_an_inspection_finds_is_believed() {
    let mut entries = record();
    let list = filled(&entries, &[("=A1+B2/1", "condition", "good"), ("=A1+B2/1", "revision", "B")]);
    let (first, _) = taken(&entries, &list, "2024-12-02");
    assert_eq!(first.entries[0].revision, "B");
    assert_eq!(found(&first.findings), [("other-copy-found", "E5".to_owned())]);
    entries.extend(first.entries);
    let (second, _) = taken(&entries, &list, "2024-12-02");
    assert_eq!((second.entries.len(), second.known), (0, 1));
    let never = filled(&entries, &[("=A1+B2/1", "condition", "good"), ("=A1+B2/1", "revision", "Z")]);
    assert_eq!(found(&taken(&entries, &never, "2024-12-02").0.findings), [("list-not-possible", "E5".to_owned())]);
}

#[test]
fn what_cannot_be_so_is_found_at_its_cell() {
    let entries = record();
    let found =
        |cells: &[(&str, &str, &str)]| found(&taken(&entries, &filled(&entries, cells), "2024-12-02").0.findings);
    let at = |code: crate::finding::Code, address: &str| vec![(code.name, address.to_owned())];
    let good = ("CH2-JB9/1", "condition", "good");
    for (date, code) in [
        ("03/04/2024", code::LIST_DATE_NOT_UNDERSTOOD),
        ("2024-02-30", code::LIST_DATE_NOT_UNDERSTOOD),
        ("?", code::LIST_DATE_NOT_UNDERSTOOD),
        ("2024-01-09", code::LIST_DATE_NOT_POSSIBLE),
        ("2024-12-04", code::LIST_DATE_NOT_POSSIBLE),
    ] {
        assert_eq!(found(&[good, ("CH2-JB9/1", "date", date)]), at(code, "K3"), "{date}");
    }
    assert_eq!(found(&[good, ("CH2-JB9/1", "number", "CH2-JB8/1")]), at(code::LIST_NUMBER_UNKNOWN, "A3"));
    for word in ["goof", "ok", "?", "not known"] {
        let not_understood = at(code::LIST_CONDITION_NOT_UNDERSTOOD, "J3");
        assert_eq!(found(&[("CH2-JB9/1", "condition", word)]), not_understood, "{word}");
        assert_eq!(found(&[("CH2-JB9/1", "event", word)]), at(code::LIST_EVENT_NOT_UNDERSTOOD, "I3"), "{word}");
    }
    assert_eq!(found(&[good, ("CH2-JB9/1", "event", "replaced")]), at(code::LIST_CONDITION_NOT_UNDERSTOOD, "J3"));
    assert_eq!(found(&[("CH2-JB9/1", "event", "inspected")]), at(code::LIST_CONDITION_MISSING, "J3"));
    assert_eq!(found(&[("CH2-JB9/1", "event", "printed")]), at(code::LIST_EVENT_NOT_UNDERSTOOD, "I3"));
    assert_eq!(found(&[("CH2-JB9/1", "event", "fixed")]), at(code::LIST_NOT_POSSIBLE, "I3"));
    assert_eq!(found(&[("CH2-JB10/1", "condition", "missing")]), at(code::LIST_NOT_POSSIBLE, "J4"));
    assert_eq!(found(&[("CH2-JB9/1", "note", "lifts")]), at(code::LIST_ROW_LEFT_OUT, "O3"));
}

#[test]
fn a_row_without_a_day_needs_one_for_all() {
    let entries = record();
    let list = filled(&entries, &[("CH2-JB9/1", "condition", "good")]);
    let reading = read(&list, &ReadOptions::new("list.csv"));
    let taken = take(&reading, &Ledger::of(&entries), &Usual::default(), day("2024-12-02"));
    assert_eq!(found(&taken.findings), [(code::LIST_DATE_MISSING.name, "K3".to_owned())]);
    assert_eq!(taken.entries, []);
}

#[test]
fn the_same_list_gives_the_same_workbook() {
    let entries = record();
    let info = DocumentInfo { title: "Saltmere, inspection list".into(), ..DocumentInfo::default() };
    let made = || make(&listed(&entries, false), &info).unwrap();
    assert_eq!((made().bytes, made().shortened), (made().bytes, 0));
    let reading = read(&made().bytes, &ReadOptions::new("list.xlsx"));
    assert_eq!((reading.rows.len(), reading.left_out, reading.findings.len()), (0, 4, 0));
}

#[test]
fn a_header_that_is_passed_over_is_never_the_one_that_says_it() {
    let entries = record();
    let list = |header: &str, row: &str| format!("{header}\n{row}\n").into_bytes();
    let codes = |header: &str, row: &str| {
        let (taken, _) = taken(&entries, &list(header, row), "2024-12-02");
        found(&taken.findings).into_iter().filter(|(code, _)| *code != code::UNKNOWN_COLUMN.name).collect::<Vec<_>>()
    };
    let at = |address: &str| (code::LIST_COLUMN_NOT_UNDERSTOOD.name, address.to_owned());
    let row = "CH2-JB9/1,good,2024-11-30";
    assert_eq!(codes("number,condition,dat", row), [at("C1"), at("C1"), at("C1")], "for itself, for day and name");
    assert_eq!(codes("number,condition,bye,date,by", &format!("{row},,")), []);
    assert_eq!(codes("number,condition,bye,date", &format!("{row},")), [at("C1"), at("C1")]);
    assert_eq!(codes("number,condition,when", row), [at("C1"), at("C1")]);
    let by = "number,condition,Inspected by,when";
    assert_eq!(
        codes(by, "CH2-JB9/1,good,JD,2024-11-30"),
        [at("D1"), at("C1")],
        "a name is no day, another column may be"
    );
    assert_eq!(codes("number,condition,Inspected by", "CH2-JB9/1,good,JD"), [at("C1")], "for the name alone");
    assert_eq!(codes("number,condition,when,date,by", &format!("{row},,")), [], "somebody's own column");
    assert_eq!(codes("number,condition,when", "CH2-JB9/1,good,"), [], "with nothing in it");
    assert_eq!(codes("number,state", "CH2-JB9/1,good"), [at("B1")]);
    let left_out = (code::LIST_ROW_LEFT_OUT.name, "B2".to_owned());
    assert_eq!(codes("number,date,state", "CH2-JB9/1,2024-11-30,good"), [left_out, at("C1")]);
}

#[test]
fn other_files_are_told_by_their_columns() {
    let told = |bytes: &[u8]| found(&read(bytes, &ReadOptions::new("list.csv")).findings);
    let other = vec![(code::OTHER_FILE.name, "A1".to_owned())];
    let record = format!("{}{}", crate::records::line::header(), crate::records::line::written(&record()[0]));
    assert_eq!(told(record.as_bytes()), other);
    assert_eq!(told(b"enclosure,circuit,isolator\nA,B,C\n"), other);
    let empty = read(b"", &ReadOptions::new("list.csv")).findings;
    assert!(empty[0].help.as_ref().is_some_and(|help| help.contains("records list")), "{empty:?}");
    let list = filled(&self::record(), &[]);
    let of_survey = crate::survey::read(&list, &crate::survey::ReadOptions::new("survey.csv")).findings;
    assert_eq!(found(&of_survey), other);
    let of_standing = crate::standing::read(&list, &crate::standing::ReadOptions::new("standing.csv")).findings;
    assert_eq!(found(&of_standing), other);
}

#[test]
fn a_list_takes_no_patterns() {
    let entries = record();
    let list = b"number,condition\nCH2-*,good\n";
    let (taken, _) = taken(&entries, list, "2024-12-02");
    assert_eq!(found(&taken.findings), [(code::LIST_NUMBER_UNKNOWN.name, "A2".to_owned())]);
    assert!(taken.findings[0].help.as_ref().is_some_and(|help| help.contains("not patterns")), "{:?}", taken.findings);
}

#[test]
fn a_day_on_which_a_notice_is_found_twice_is_told_once_and_wholly() {
    let mut entries = record();
    let list = |conditions: &[&str]| {
        let row = |condition: &&str| format!("CH2-JB9/1,{condition},2024-11-30,visited again\n");
        let rows: String = conditions.iter().map(row).collect();
        format!("number,condition,date,note\n{rows}").into_bytes()
    };
    // Rows that are wholly alike are pointed out where the list is read, and kept.
    let found = |findings: &[Finding]| -> Vec<_> {
        let alike = [code::ROW_REPEATED.name, code::FOUND_OTHERWISE_THAT_DAY.name];
        found(findings).into_iter().filter(|(code, _)| !alike.contains(code)).collect()
    };
    let (first, _) = taken(&entries, &list(&["wrong", "good", "wrong"]), "2024-12-02");
    assert_eq!((found(&first.findings), first.entries.len()), (vec![], 3));
    entries.extend(first.entries);
    let (again, _) = taken(&entries, &list(&["wrong", "good", "wrong"]), "2024-12-02");
    assert_eq!((found(&again.findings), again.entries.len(), again.known), (vec![], 0, 3));
    let (grown, _) = taken(&entries, &list(&["wrong", "good", "wrong", "good"]), "2024-12-02");
    assert_eq!((found(&grown.findings), grown.entries.len(), grown.known), (vec![], 1, 3));
    // It may be the row of the second visit once more, or a fourth one: nobody guesses.
    let (doubt, _) = taken(&entries, &list(&["good"]), "2024-12-02");
    assert_eq!(found(&doubt.findings).first().map(|(code, _)| *code), Some(code::LIST_ROW_TOLD_BEFORE.name));
    assert_eq!((doubt.entries.len(), doubt.known), (0, 0));
    let noted = b"number,condition,date,note\nCH2-JB9/1,good,2024-11-30,after the repair\n";
    let (noted, _) = taken(&entries, noted, "2024-12-02");
    assert_eq!((found(&noted.findings), noted.entries.len()), (vec![], 1));
}

/// Whoever typed two rows for one notice may have lost that it was found wrong.
#[test]
fn two_conditions_of_one_day_are_refused_until_a_note_tells_what_was_done() {
    let entries = record();
    let codes = |rows: &str| {
        let list = format!("number,condition,date,event,note\n{rows}").into_bytes();
        found(&taken(&entries, &list, "2024-12-02").0.findings)
    };
    let refused = |at: &str| vec![(code::LIST_FOUND_OTHERWISE.name, at.to_owned())];
    let row = |condition: &str, rest: &str| format!("CH2-JB9/1,{condition},2024-11-30,{rest}\n");
    for (first, second) in [("wrong", "good"), ("good", "wrong"), ("faded", "good"), ("missing", "good")] {
        assert_eq!(codes(&(row(first, ",") + &row(second, ","))), refused("B3"), "{first}, {second}");
    }
    assert_eq!(codes(&(row("wrong", ",") + &row("good", ",Q7 is back at its place"))), []);
    let pointed_out = [(code::FOUND_OTHERWISE_THAT_DAY.name, "B3".to_owned())];
    let twice = row("wrong", ",visited") + &row("good", ",visited");
    assert_eq!(codes(&twice), pointed_out, "a note of both tells nothing of the one");
    assert_eq!(codes(&(row("wrong", ",") + &row("", "replaced,") + &row("good", ","))), [], "a new copy");
    // On a later day it is pointed out, and believed.
    let later = row("wrong", ",") + "CH2-JB9/1,good,2024-12-01,,\n";
    assert_eq!(codes(&later), [(code::WRONG_TAKEN_BACK.name, "B3".to_owned())]);
    assert_eq!(codes(&(row("faded", ",") + "CH2-JB9/1,good,2024-12-01,,\n")), []);
}
