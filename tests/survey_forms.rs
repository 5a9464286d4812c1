//! One survey saved in every form that a spreadsheet offers reads alike in all of them.
#![expect(clippy::disallowed_methods, clippy::unwrap_used, reason = "the tests read their own cases")]

use std::fs;
use std::path::Path;

use noticewright::survey::value::{Isolation, RecordLink, Volts};
use noticewright::survey::{Column, Enclosure, ReadOptions, Reading, read};

const FORMS: [&str; 10] = [
    "survey.ods",
    "survey.xlsx",
    "comma-utf8.csv",
    "comma-unquoted.csv",
    "comma-utf8-mark-crlf.csv",
    "semicolon-crlf.csv",
    "semicolon-decimal-comma.csv",
    "semicolon-windows-1252.csv",
    "tab-utf8.csv",
    "tab-utf16.csv",
];

fn reading(form: &str) -> Reading {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/survey_forms").join(form);
    read(fs::read(path).unwrap(), &ReadOptions::new(form))
}

fn enclosures(form: &str) -> Vec<Enclosure> {
    reading(form).survey.enclosures
}

#[test]
fn every_form_reads_alike() {
    let first = enclosures(FORMS[0]);
    for form in FORMS {
        assert_eq!(enclosures(form), first, "{form}");
    }
}

#[test]
fn every_form_of_the_folder_is_read() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/survey_forms");
    let names = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap());
    let mut forms: Vec<_> = names.filter(|name| !name.starts_with('.') && name != "README.md").collect();
    forms.sort();
    let mut listed = FORMS.map(str::to_owned);
    listed.sort();
    assert_eq!(forms, listed);
}

#[test]
fn only_what_the_file_does_not_say_is_found() {
    for form in FORMS {
        let codes: Vec<_> = reading(form).findings.iter().map(|finding| finding.code.name).collect();
        // Four cells hold letters beyond ASCII, and only one form does not say its encoding.
        let expected = if form.contains("1252") { vec!["assumed-encoding"; 4] } else { Vec::new() };
        assert_eq!(codes, expected, "{form}");
    }
}

#[test]
fn the_survey_is_what_was_typed() {
    let enclosures = enclosures("survey.ods");
    let designations: Vec<_> = enclosures.iter().map(|enclosure| enclosure.designation.as_str()).collect();
    assert_eq!(designations, ["CH3-JB2", "007", "PV-1"]);
    let [box_2, ups, solar] = enclosures.as_slice() else { panic!("three enclosures") };
    assert_eq!(box_2.name.as_deref(), Some("Évaporator junction box"));
    assert_eq!(box_2.area.as_deref(), Some("Chamber 3 – north"));
    assert_eq!(box_2.particulars().note.as_deref(), Some("marked \"JB2\" inside"));
    assert_eq!(box_2.particulars().reading_distance.unwrap().to_mm(), 1_500.0);
    assert_eq!(box_2.rows[1].voltage_to_earth, Some(Volts::milli(63_500)));
    assert!(matches!(&box_2.rows[1].isolation, Some(Isolation::By(devices)) if devices.len() == 2));
    assert_eq!(ups.particulars().note.as_deref(), Some("first line second line"));
    assert_eq!(ups.rows[0].further().stored, Some(Volts::whole(565)));
    assert_eq!(ups.rows[0].further().discharge_seconds, Some(300), "the formula's stored value");
    assert_eq!(ups.rows[0].isolation, Some(Isolation::Unknown));
    assert_eq!(solar.particulars().no_confusion.as_ref().unwrap().by, "JD");
    assert_eq!(solar.particulars().environment.unwrap().heat, Some(70));
    assert_eq!(solar.record_link, RecordLink::Unset);
}

#[test]
fn addresses_are_those_of_the_spreadsheet() {
    // The cell references that survey.xlsx itself stores: the UPS cabinet's isolator is in N4 and the solar combiner's in N5.
    for form in FORMS {
        let survey = reading(form).survey;
        assert_eq!(survey.place(2, Column::Isolator).address, "N4", "{form}");
        assert_eq!(survey.place(3, Column::Isolator).address, "N5", "{form}");
    }
}
