//! One supplies file saved in every form that a spreadsheet offers reads alike in all of them, and so do attacks on it.
#![expect(clippy::disallowed_methods, clippy::unwrap_used, reason = "the tests read their own cases")]

use std::fs;
use std::path::{Path, PathBuf};

use noticewright::finding::Finding;
use noticewright::supplies::{DescribedDevice, Kind, Phasing, ReadOptions, Reading, Starting, SupplyColumn, read};
use noticewright::survey::value::{DeviceKind, RecordLink, Volts};

const FORMS: [&str; 5] =
    ["supplies.ods", "supplies.xlsx", "comma-utf8.csv", "semicolon-windows-1252.csv", "tab-utf16.csv"];

fn folder(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests").join(name)
}

fn read_file(path: &Path) -> Reading {
    read(fs::read(path).unwrap(), &ReadOptions::new(path.file_name().unwrap().to_str().unwrap()))
}

fn reading(form: &str) -> Reading {
    read_file(&folder("supplies_forms").join(form))
}

fn devices(form: &str) -> Vec<DescribedDevice> {
    reading(form).supplies.devices
}

/// The files of a folder that are read, whatever their form.
fn files(name: &str) -> Vec<PathBuf> {
    let mut paths: Vec<_> = fs::read_dir(folder(name)).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.retain(|path| matches!(path.extension().and_then(|ending| ending.to_str()), Some("csv" | "xlsx" | "ods")));
    paths.sort();
    paths
}

#[test]
fn every_form_reads_alike() {
    let first = devices(FORMS[0]);
    for form in FORMS {
        assert_eq!(devices(form), first, "{form}");
    }
    assert_eq!(files("supplies_forms").len(), FORMS.len(), "every form of the folder is read");
}

#[test]
fn only_what_the_file_does_not_say_is_found() {
    for form in FORMS {
        let codes: Vec<_> = reading(form).findings.iter().map(|finding| finding.code.name).collect();
        // Three texts hold letters beyond ASCII, and only one form does not say its encoding.
        let expected = if form.contains("1252") { vec!["assumed-encoding"; 3] } else { Vec::new() };
        assert_eq!(codes, expected, "{form}");
    }
}

#[test]
fn the_network_is_what_was_typed() {
    let devices = devices("supplies.ods");
    let named = |designation: &str| devices.iter().find(|device| device.designation == designation).unwrap();
    assert_eq!(devices.len(), 9);
    assert_eq!(named("QM0").kind, Some(Kind::Device(DeviceKind::SwitchDisconnector)));
    assert_eq!(named("QM0").fed_from, ["Mains", "QPV1"]);
    assert_eq!(named("QM0").location, "Switchroom 1, main board");
    assert_eq!(named("QM0").note.as_deref(), Some("first line second line"));
    assert_eq!(named("QM0").reading_distance.unwrap().to_mm(), 750.0);
    assert_eq!(named("007").note.as_deref(), Some("marked \"007\" outside"));
    assert_eq!(named("007").record_link, RecordLink::None);
    assert_eq!(named("007").environment.unwrap().heat, Some(45));
    assert_eq!(named("TX2").fed_from, ["007"]);
    assert_eq!(named("TX2").nominal.unwrap().to_neutral, Some(Volts::milli(63_500)));
    assert_eq!(named("TX2").phasing, Some(Phasing::Clock(11)));
    assert_eq!(named("TX2").location, "Plant room – north");
    assert_eq!(named("QPV1").fed_from, ["INV-1@Évaporator roof"]);
    assert_eq!(named("INV-1").in_step_with, ["Mains"]);
    assert_eq!((named("CO1").off_position, named("CO1").phasing), (Some(true), Some(Phasing::Proved)));
    let starts = |name| named(name).starts_by_itself;
    assert_eq!((starts("GEN"), starts("INV-1")), (Some(Starting::ByItself), Some(Starting::NotByItself)));
    assert_eq!(named("GEN").not_known, [SupplyColumn::Environment].into_iter().collect());
}

#[test]
fn addresses_are_those_of_the_spreadsheet() {
    // The cell references that supplies.xlsx itself stores: the transformer's vector group is in L5, behind a row of two
    // lines.
    for form in FORMS {
        let supplies = reading(form).supplies;
        assert_eq!(supplies.place(3, SupplyColumn::Phasing).address, "L5", "{form}");
        assert_eq!(supplies.row_place(3).address, "A5", "{form}");
    }
}

/// The attacks: each is read to the end, and shows exactly the findings that stand beside it.
#[test]
fn each_attack_shows_its_findings() {
    let described = |finding: &Finding| {
        let place = finding.place.as_ref().unwrap();
        format!("{}:{} {} {}\n", place.line, place.column, place.address, finding.code.name).replace("  ", " ")
    };
    let cases = files("hostile/supplies");
    assert!(cases.len() >= 12, "{}", cases.len());
    let mut wrong = Vec::new();
    for case in cases {
        let actual: String = read_file(&case).findings.iter().map(described).collect();
        let beside = PathBuf::from(format!("{}.codes", case.display()));
        if fs::read_to_string(&beside).ok().as_deref() != Some(&actual) {
            wrong.push(format!("{}\n{actual}", beside.display()));
        }
    }
    assert!(wrong.is_empty(), "these differ from what stands beside them:\n{}", wrong.join("\n"));
}
