//! Lists as text: what is understood, and what is found wrong in them.

use super::*;
use crate::finding::{Finding, code};

const HEADER: &str = "number,kind,last_inspection,next_inspection,words,size\n";

fn reading(rows: &str) -> Reading {
    read(format!("{HEADER}{rows}").as_bytes(), &ReadOptions::new("standing.csv"))
}

fn found(rows: &str) -> Vec<&'static str> {
    reading(rows).findings.iter().map(|finding| finding.code.name).collect()
}

#[test]
fn every_kind_is_read_and_the_cells_beside_it() {
    let rows: String =
        Kind::ALL.iter().enumerate().map(|(number, kind)| format!("STN-{number},{},,,,A7\n", kind.name())).collect();
    let reading = reading(&rows);
    assert_eq!(reading.findings, []);
    let kinds: Vec<Kind> = reading.standing.entries.iter().map(|entry| entry.kind).collect();
    assert_eq!(kinds, Kind::ALL);
    let dates = |rows: &str| {
        let entry = super::tests::reading(rows).standing.entries.remove(0);
        [entry.last_inspection, entry.next_inspection].map(|date| date.map(|date| date.to_string()))
    };
    let both = [Some("2026-05-14".to_owned()), Some("2031-05-14".to_owned())];
    assert_eq!(dates("STN-1,periodic-inspection,2026-05-14,14 May 2031,,\n"), both);
    assert_eq!(dates("STN-1,Periodic inspection,14/05/2026,14.5.2031,,\n"), both);
    assert_eq!(dates("STN-1,periodic-inspection,?,,,\n"), [None, None], "a date that nobody knows is written later");
}

#[test]
fn a_kind_that_is_none_is_told_what_was_meant() {
    let finding = |rows: &str| -> Finding { reading(rows).findings.remove(0) };
    let near = finding("STN-1,rcd-tset,,,,\n");
    assert_eq!(near.code, code::STANDING_KIND_UNKNOWN);
    assert_eq!(near.help.as_deref(), Some("did you mean `rcd-test`?"));
    assert_eq!(near.place.unwrap().address, "B2");
    assert!(finding("STN-1,no smoking,,,,\n").help.unwrap().contains("`surge-protection`"));
    assert_eq!(reading("STN-1,no smoking,,,,\n").standing.entries, [], "nobody knows what it would say");
}

#[test]
fn dates_that_cannot_be_are_errors() {
    assert_eq!(found("STN-1,periodic-inspection,31 June 2026,,,\n"), ["standing-date-not-understood"]);
    assert_eq!(found("STN-1,periodic-inspection,05/14/2026,,,\n"), ["standing-date-not-understood"]);
    assert_eq!(found("STN-1,periodic-inspection,2031-05-14,2026-05-14,,\n"), ["standing-dates-reversed"]);
    assert_eq!(found("STN-1,periodic-inspection,2026-05-14,2026-05-14,,\n"), ["standing-dates-reversed"]);
    assert_eq!(found("STN-1,rcd-test,2026-05-14,,,\n"), ["standing-date-not-shown"]);
}

#[test]
fn a_number_is_one_notices_own() {
    assert_eq!(found("STN-1,rcd-test,,,,\nstn-1,surge-protection,,,,\n"), ["standing-number-taken"]);
    assert_eq!(found(",rcd-test,,,,\n"), ["needed-cell-empty"]);
    assert_eq!(found("STN-1,,,,,\n"), ["needed-cell-empty"]);
}

#[test]
fn words_of_ones_own_are_kept_as_they_stand() {
    let words = |cell: &str| reading(&format!("STN-1,rcd-test,,,{cell},\n")).standing.entries.remove(0).words;
    assert_eq!(words("\"Test six-monthly, by pressing 'T'\"").as_deref(), Some("Test six-monthly, by pressing 'T'"));
    assert_eq!(words(""), None);
    assert_eq!(words("-"), None);
}

#[test]
fn a_survey_in_its_place_is_recognised() {
    let survey = "enclosure,circuit,isolator\nCH1,C1,Q7\n";
    let findings = read(survey.as_bytes(), &ReadOptions::new("survey.csv")).findings;
    assert!(findings.iter().any(|finding| finding.help.as_deref().is_some_and(|help| help.contains("--standing"))));
}

#[test]
fn a_date_that_can_be_read_in_two_ways_says_which_it_was_read_as() {
    let reading = reading("STN-1,periodic-inspection,03/04/2026,2031-05-14,,\n");
    let [finding] = reading.findings.as_slice() else { panic!("{:?}", reading.findings) };
    assert_eq!(finding.code, code::STANDING_DATE_AMBIGUOUS);
    assert_eq!(finding.message, "`03/04/2026` is read with the day first, as 2026-04-03");
    assert_eq!(found("STN-1,periodic-inspection,2026-04-03,14/05/2031,,\n"), [""; 0]);
}
