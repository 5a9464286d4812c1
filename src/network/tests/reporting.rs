//! Every finding of the joining of two files, provoked.

use super::super::testing::{described, joined, surveyed};
use crate::finding::Finding;

const HEADER: &str = "enclosure,circuit,fed_from,voltage_to_earth,isolator,isolator_location";
const ROW: &str = "E1,C/7,DB-C,230,Q7,Board C";
const SITE: [&str; 3] = ["Network,source,,", "DB-C,busbar,Network,", "Q7,breaker,DB-C,Board C"];

fn found(header: &str, lines: &[&str], survey_header: &str, rows: &[&str]) -> Vec<Finding> {
    joined(&surveyed(survey_header, rows), &described(header, lines)).1
}

fn with(lines: &[&str], rows: &[&str]) -> Vec<Finding> {
    found("device,kind,fed_from,location", &[&SITE[..], lines].concat(), HEADER, &[&[ROW][..], rows].concat())
}

fn codes(findings: &[Finding]) -> Vec<&'static str> {
    findings.iter().map(|finding| finding.code.name).collect()
}

/// The code, where it was found, and what to do.
fn only(findings: &[Finding]) -> (&'static str, u32, &str, &str) {
    let [finding] = findings else { panic!("{findings:#?}") };
    let place = finding.place.as_ref().unwrap();
    (finding.code.name, place.line, place.column_name.as_str(), finding.help.as_deref().unwrap_or_default())
}

#[test]
fn what_is_described_in_full_is_faultless() {
    assert_eq!(with(&[], &[]), []);
}

#[test]
fn an_isolator_that_the_file_does_not_describe() {
    let findings = with(&[], &["E2,C/8,DB-C,230,Q 7.1,Board C", "E3,C/9,DB-C,230,Q 7.1,Board C"]);
    let (code, line, column, help) = only(&findings);
    assert_eq!((code, line, column), ("isolator-not-described", 3, "isolator"));
    assert!(help.contains("give `Q 7.1` a row"), "{help}");
    let findings = with(&["Q 7 1,breaker,DB-C,Board D", "L,busbar,Q 7 1,"], &["E2,L,DB-C,230,Q 7.1,Board D"]);
    assert!(only(&findings).3.contains("did you mean `Q 7 1`"), "{findings:?}");
}

#[test]
fn a_supply_that_the_file_does_not_describe() {
    let findings = with(&[], &["E2,C/8,DB-D,230,Q7,Board C", "E3,C/9,DB-D,230,Q7,Board C"]);
    assert_eq!((only(&findings).0, only(&findings).1, only(&findings).2), ("supply-not-described", 3, "fed_from"));
    let alike = found("device,kind", &["DB-C,source", "Q7,breaker"], HEADER, &["E1,Q7,DB C,230,?,"]);
    assert_eq!(codes(&alike), ["supply-not-described", "device-not-fed", "device-feeds-nothing"]);
    assert!(only(&alike[..1]).3.contains("did you mean `DB-C`"), "{alike:?}");
}

#[test]
fn a_device_at_another_location_is_another_device() {
    let findings = with(&[], &["E2,C/8,DB-C,230,Q7,Board D"]);
    assert_eq!(only(&findings).0, "device-at-another-location");
    assert_eq!(only(&findings).2, "isolator_location");
    assert!(findings[0].message.contains("at `Board C`"), "{}", findings[0].message);
}

#[test]
fn a_designation_that_several_devices_bear() {
    let second = ["Q7,breaker,DB-C,Board D", "L,busbar,Q7,"];
    let findings = with(&second, &["E2,L,DB-C,230,Q7,Board D"]);
    assert_eq!((only(&findings).0, only(&findings).1, only(&findings).2), ("designation-means-several", 6, "fed_from"));
    assert!(only(&findings).3.contains("write `Q7@`"), "{findings:?}");
    let findings = with(&second[..1], &["E2,C/8,Q7,230,Q7,Board D"]);
    assert_eq!((only(&findings).0, only(&findings).1, only(&findings).2), ("designation-means-several", 3, "fed_from"));
}

#[test]
fn a_feed_that_no_row_describes() {
    let findings =
        with(&["L,busbar,Netwrok,", "M,busbar,Netwrok,", "N,busbar,Net-work,"], &["E2,L,M,230,?,", "E3,N,,230,?,"]);
    let places: Vec<_> = findings.iter().map(|it| (it.code.name, it.place.as_ref().unwrap().line)).collect();
    assert_eq!(places, [("feed-not-described", 5), ("feed-not-described", 7)]);
    assert!(findings[1].help.as_deref().unwrap().contains("did you mean `Network`"));
    let elsewhere = with(&["L,busbar,Q7@Board D,"], &["E2,L,,230,?,"]);
    assert!(only(&elsewhere).3.contains("at `Board C`"), "{elsewhere:?}");
    let steps = found("device,kind,fed_from,in_step_with", &["A,source,,B", "L,busbar,A,"], HEADER, &["E1,L,,230,?,"]);
    assert_eq!((only(&steps).0, only(&steps).2), ("feed-not-described", "in_step_with"));
}

#[test]
fn devices_that_feed_each_other_in_a_circle() {
    let findings = with(&["A,busbar,B,", "B,busbar,C + Q7,", "C,busbar,A,"], &[]);
    assert_eq!((only(&findings).0, only(&findings).1), ("fed-in-a-circle", 5));
    assert!(findings[0].message.starts_with("`A`, `B` and `C` feed each other"), "{}", findings[0].message);
    let itself = with(&["A,busbar,A + Q7,", "B,busbar,A,"], &["E2,B,,230,?,"]);
    assert_eq!(only(&itself).0, "fed-in-a-circle");
}

#[test]
fn a_device_that_nothing_feeds() {
    let findings = with(&["A,busbar,,"], &["A,C/8,DB-C,230,Q7,Board C"]);
    assert_eq!((only(&findings).0, only(&findings).1, only(&findings).2), ("device-not-fed", 5, "fed_from"));
}

#[test]
fn a_device_that_feeds_nothing_and_that_nobody_names() {
    let findings = with(&["A,busbar,Q7,"], &[]);
    assert_eq!((only(&findings).0, only(&findings).1, only(&findings).2), ("device-feeds-nothing", 5, "device"));
    assert_eq!(with(&["A,busbar,Q7,"], &["A,C/8,DB-C,230,Q7,Board C"]), []);
    let findings = with(&["Q7,breaker,DB-C,Board D"], &[]);
    assert_eq!((only(&findings).0, only(&findings).1), ("device-feeds-nothing", 5), "the one at Board C is named");
}

#[test]
fn two_files_that_contradict_each_other() {
    let survey_header = format!("{HEADER},device_kind,poles,locking");
    let clash = |line: &str, row: &str| {
        let lines = [SITE[0], SITE[1]].map(|line| format!("{line},,"));
        let lines = [lines[0].as_str(), lines[1].as_str(), line];
        found("device,kind,fed_from,location,poles,locking", &lines, &survey_header, &[row])
    };
    let row = "E1,C/7,DB-C,230,Q7,Board C,breaker,3,padlock";
    let described =
        |kind: &str, poles: &str, locking: &str| clash(&format!("Q7,{kind},DB-C,Board C,{poles},{locking}"), row);
    assert_eq!(described("breaker", "3", "Padlock"), []);
    assert_eq!(described("isolator", "", ""), []);
    assert_eq!(only(&described("fuse", "3", "")).2, "device_kind");
    assert_eq!(only(&described("switch", "", "")).2, "device_kind");
    assert_eq!(only(&described("breaker", "3+N", "")).2, "poles");
    let findings = described("breaker", "3", "key");
    assert_eq!((only(&findings).0, only(&findings).1, only(&findings).2), ("device-contradiction", 2, "locking"));
    assert!(findings[0].message.ends_with("as `key` in line 4 of the supplies file"), "{}", findings[0].message);
}

#[test]
fn interlocks_that_are_not_fully_described() {
    let with = |lines: &[&str], row: &str| {
        let survey_header = format!("{HEADER},interlock,interlock_kind");
        let lines = [&["DB-C,source,,,"], lines].concat();
        found("device,kind,fed_from,interlock,interlock_kind", &lines, &survey_header, &[row])
    };
    let row = "E1,C/7,DB-C,230,Q7,Board C,IL-1,coupled";
    assert_eq!(codes(&with(&["Q7,breaker,DB-C,IL-1,coupled"], row)), [""; 0]);
    assert_eq!(codes(&with(&["Q7,breaker,DB-C,IL-1,no-parallel"], row)), ["interlock-incomplete"]);
    assert_eq!(codes(&with(&["Q7,breaker,DB-C,IL-2,"], row)), [""; 0], "reported when it was read");
    let twice = with(&["Q7,breaker,DB-C,IL-2,coupled"], row);
    assert_eq!((only(&twice).0, only(&twice).1, only(&twice).2), ("interlock-incomplete", 2, "interlock"));
}

#[test]
fn without_a_supplies_file_nothing_is_missing_from_it() {
    let survey = surveyed(HEADER, &[ROW]);
    let findings = super::super::Network::join(&survey, None, &super::super::NetworkOptions::default()).1;
    assert_eq!(findings, []);
}
