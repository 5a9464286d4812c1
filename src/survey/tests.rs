//! Whole surveys, read from text.

use super::value::{
    Basis, Conductor, Current, DeviceKind, DeviceRef, Earthing, InterlockKind, Isolation, Poles, RecordLink, Role,
    SourceKind, Surface, Volts,
};
use super::*;
use crate::finding::Severity;
use crate::length::Length;

const NEEDED: &str = "enclosure,circuit,voltage_to_earth,isolator,isolator_location\n";

fn reading(text: &str) -> Reading {
    read(text.as_bytes(), &ReadOptions::new("site.csv"))
}

/// Codes of the findings with their address and line, in order.
fn found(text: &str) -> Vec<String> {
    listed(&reading(text))
}

fn listed(reading: &Reading) -> Vec<String> {
    reading.findings.iter().map(described).collect()
}

fn described(finding: &crate::finding::Finding) -> String {
    match &finding.place {
        Some(place) => {
            format!("{}:{} {} {}", place.line, place.column, place.address, finding.code.name).replace("  ", " ")
        }
        None => finding.code.name.to_owned(),
    }
}

/// What is found in one row under the needed columns and some more.
fn in_row(columns: &str, row: &str) -> Vec<String> {
    found(&format!("{},{columns}\nCH1,C1,230,Q7,Room 1,{row}\n", NEEDED.trim_end()))
}

#[test]
fn every_column_is_read() {
    let header: Vec<_> = Column::ALL.iter().map(|column| column.name()).collect();
    let cells: Vec<_> = Column::ALL.iter().map(|column| format!("\"{}\"", column.example())).collect();
    let text = format!("{}\n{}\n", header.join(","), cells.join(","));
    let Reading { survey, findings } = reading(&text);
    assert_eq!(findings, []);
    let enclosure = &survey.enclosures[0];
    assert_eq!(enclosure.designation, "CH3-JB2");
    assert_eq!(enclosure.name.as_deref(), Some("Evaporator junction box"));
    assert_eq!(enclosure.roles, Some(vec![Role::Board]));
    assert_eq!(enclosure.positions, ["left of the door", "rear panel"]);
    assert_eq!(enclosure.no_confusion.as_ref().unwrap().by, "JD");
    assert_eq!(enclosure.space.unwrap().to_string(), "120 x 80 mm");
    assert_eq!(enclosure.size.unwrap().0.to_string(), "105 x 74 mm");
    assert_eq!(enclosure.reading_distance, Some(Length::mm(1_500.0)));
    assert_eq!(enclosure.sign_distance, Some(Length::mm(3_000.0)));
    assert!(enclosure.environment.unwrap().outdoor && enclosure.environment.unwrap().sun);
    assert_eq!(enclosure.surface, Some(Surface::Plastic));
    assert_eq!(enclosure.record_link, RecordLink::Unset);
    let row = &enclosure.rows[0];
    assert_eq!(row.source, Some(SourceKind::Mains));
    assert_eq!(row.nominal.unwrap().current, Current::Ac);
    assert_eq!(row.conductors, [Conductor::L2, Conductor::N]);
    assert_eq!(row.earthing, Some(Earthing::TnS));
    assert_eq!(row.voltage_to_earth, Some(Volts::whole(230)));
    assert_eq!(row.expected, Some(false));
    let device = DeviceRef { designation: "Q7".to_owned(), location: "Switchroom 1, board C".to_owned() };
    assert_eq!(row.isolation, Some(Isolation::By(vec![device])));
    assert_eq!(row.device_kind, Some(DeviceKind::Breaker));
    assert_eq!(row.poles, Some(Poles { lines: 3, neutral: true }));
    assert_eq!((row.on_load, row.order), (Some(false), Some(1)));
    assert_eq!(row.interlock_kind, Some(InterlockKind::TrappedKey));
    assert_eq!(row.stored, Some(Volts::whole(565)));
    assert_eq!((row.discharge_seconds, row.pv_series), (Some(300), Some(12)));
    assert_eq!((row.pv_voc, row.pv_beta, row.pv_tmin), (Some(Volts::milli(49_500)), Some(-0.27), Some(-10.0)));
    assert_eq!(row.basis, Some(Basis::Traced));
    assert!(row.upstream.is_some() && row.live_after.is_some() && row.neutral_from.is_some());
}

#[test]
fn the_five_needed_columns_are_enough() {
    let Reading { survey, findings } =
        reading(&format!("{NEEDED}CH1,C1,230,Q7,Room 1\nCH1,C2,230,none,\nCH1,C3,230,?,\n"));
    assert_eq!(findings, []);
    let isolation: Vec<_> = survey.enclosures[0].rows.iter().map(|row| row.isolation.clone().unwrap()).collect();
    assert!(matches!(isolation.as_slice(), [Isolation::By(_), Isolation::Impossible, Isolation::Unknown]));
}

#[test]
fn places_are_exact_in_every_form() {
    for ending in ["\n", "\r\n", "\r"] {
        let text = format!(
            "{}\n\nCH1,C1,230,Q7,Room 1\nCH2,\"C2\nsecond line\",x,Q8,Room 1\n\nCH3,C3,y,Q9,Room 1\n",
            NEEDED.trim_end()
        )
        .replace('\n', ending);
        let mut places = listed(&reading(&text));
        places.retain(|place| place.contains("not-a-number"));
        // Counted by hand: the quoted field takes lines 4 and 5 and is one row of a spreadsheet.
        assert_eq!(places, ["5:14 C4 not-a-number", "7:8 C6 not-a-number"], "{ending:?}");
    }
}

#[test]
fn later_stages_get_the_place_of_a_row_and_a_column() {
    let survey = reading(&format!("{NEEDED}\nCH1,C1,230,Q7,\"Room 1, left\"\n")).survey;
    let place = survey.place(0, Column::IsolatorLocation);
    assert_eq!((place.line, place.column, place.address.as_str()), (3, 15, "E3"));
    assert_eq!((place.cell.as_str(), place.column_name.as_str()), ("\"Room 1, left\"", "isolator_location"));
    assert_eq!(place.line_text, "CH1,C1,230,Q7,\"Room 1, left\"");
    let row = survey.row_place(0);
    assert_eq!((row.line, row.column, row.address.as_str()), (3, 1, "A3"));
    assert_eq!(survey.place(0, Column::Basis), row);
}

#[test]
fn severities_decide_what_is_printed() {
    assert!(
        reading(&format!("{NEEDED}CH1,C1,230,Q7,Room 1\n")).findings.iter().all(|f| f.severity() < Severity::Error)
    );
}
