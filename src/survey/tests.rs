//! Whole surveys, read from text.

use super::value::{
    Basis, Conductor, Current, DeviceKind, DeviceRef, Earthing, InterlockKind, Isolation, Poles, RecordLink, Role,
    SourceKind, Surface, Volts,
};
use super::*;
use crate::finding::code;
use crate::length::Length;
use crate::table::testing::workbook;

const NEEDED: &str = "enclosure,circuit,voltage_to_earth,isolator,isolator_location\n";

fn reading(text: &str) -> Reading {
    read(text.as_bytes(), &ReadOptions::new("site.csv"))
}

fn places_of(reading: &Reading, code: &str) -> Vec<String> {
    let places = reading.findings.iter().filter(|finding| finding.code.name == code).filter_map(|f| f.place.as_ref());
    places.map(|place| format!("{}:{} {}", place.line, place.column, place.address)).collect()
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
    assert_eq!(enclosure.particulars().roles, Some(vec![Role::Board]));
    assert_eq!(enclosure.particulars().positions, ["left of the door", "rear panel"]);
    assert_eq!(enclosure.particulars().no_confusion.as_ref().unwrap().by, "JD");
    assert_eq!(enclosure.particulars().space.unwrap().to_string(), "120 x 80 mm");
    assert_eq!(enclosure.particulars().size.unwrap().0.to_string(), "105 x 74 mm");
    assert_eq!(enclosure.particulars().reading_distance, Some(Length::mm(1_500.0)));
    assert_eq!(enclosure.particulars().sign_distance, Some(Length::mm(3_000.0)));
    assert!(enclosure.particulars().environment.unwrap().outdoor && enclosure.particulars().environment.unwrap().sun);
    assert_eq!(enclosure.particulars().surface, Some(Surface::Plastic));
    assert_eq!(enclosure.record_link, RecordLink::Unset);
    let row = &enclosure.rows[0];
    assert_eq!(row.source, Some(SourceKind::Mains));
    assert_eq!(row.nominal.unwrap().current, Current::Ac);
    assert_eq!(row.conductors, [Conductor::L2, Conductor::N].into());
    assert_eq!(row.earthing, Some(Earthing::TnS));
    assert_eq!(row.voltage_to_earth, Some(Volts::whole(230)));
    assert_eq!(row.expected, Some(false));
    let device = DeviceRef { designation: "Q7".into(), location: "Switchroom 1, board C".into() };
    assert_eq!(row.isolation, Some(Isolation::By(vec![device].into())));
    assert_eq!(row.device_kind, Some(DeviceKind::Breaker));
    assert_eq!(row.poles, Some(Poles { lines: 3, neutral: true }));
    assert_eq!((row.on_load, row.order), (Some(false), Some(1)));
    assert_eq!(row.further().interlock_kind, Some(InterlockKind::TrappedKey));
    assert_eq!(row.further().stored, Some(Volts::whole(565)));
    assert_eq!((row.further().discharge_seconds, row.further().pv_series), (Some(300), Some(12)));
    assert_eq!(
        (row.further().pv_voc, row.further().pv_beta, row.further().pv_tmin),
        (Some(Volts::milli(49_500)), Some(-0.27), Some(-10.0))
    );
    assert_eq!(row.basis, Some(Basis::Traced));
    assert!(
        row.further().upstream.is_some() && row.further().live_after.is_some() && row.further().neutral_from.is_some()
    );
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
        let places = places_of(&reading(&text), "not-a-number");
        // Counted by hand: the quoted field takes lines 4 and 5 and is one row of a spreadsheet.
        assert_eq!(places, ["5:14 C4", "7:8 C6"], "{ending:?}");
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
fn a_house_may_map_its_own_headers() {
    let mut options = ReadOptions::new("site.csv");
    options.header_map.insert("Fed by".to_owned(), Column::Circuit);
    options.header_map.insert("Name".to_owned(), Column::Enclosure);
    let text = "NAME,fed-by,Voltage to Earth,ISOLATOR,isolator location\nCH1,C1,230,Q7,Room 1\n";
    let reading = read(text.as_bytes(), &options);
    assert_eq!(reading.findings, []);
    assert_eq!(reading.survey.enclosures[0].designation, "CH1");
    assert_eq!(reading.survey.enclosures[0].rows[0].circuit.as_ref(), "C1");
}

#[test]
fn defaults_hold_where_the_survey_says_nothing() {
    let mut options = ReadOptions::new("site.csv");
    options.defaults.insert(Column::Source, "mains".to_owned());
    options.defaults.insert(Column::Environment, "indoor".to_owned());
    options.defaults.insert(Column::Nominal, "110".to_owned());
    let text = "enclosure,circuit,voltage_to_earth,isolator,isolator_location,source,environment,earthing\n\
         CH1,C1,230,Q7,Room 1,solar,,TT\nCH1,C2,230,Q8,Room 1,,outdoor,TT\nCH2,C3,230,Q9,Room 1,,,\n";
    let reading = read(text.as_bytes(), &options);
    let [first, second] = reading.survey.enclosures.as_slice() else { panic!() };
    assert_eq!(first.rows[0].source, Some(SourceKind::Solar));
    assert_eq!(first.rows[1].source, Some(SourceKind::Mains));
    assert!(first.particulars().environment.unwrap().outdoor && !first.particulars().environment.unwrap().indoor);
    assert!(second.particulars().environment.unwrap().indoor);
    // A default that needs its row is judged there: the third row has no earthing.
    let codes: Vec<_> = reading.findings.iter().map(|finding| finding.code.name).collect();
    assert_eq!(codes, ["voltage-needs-earthing"]);
    assert_eq!(reading.findings[0].enclosure.as_deref(), Some("CH2"));
}

#[test]
fn a_faulty_default_is_reported_once_and_without_a_place() {
    let mut options = ReadOptions::new("site.csv");
    options.defaults.insert(Column::Basis, "guessed".to_owned());
    options.defaults.insert(Column::Surface, "wood".to_owned());
    let text = format!("{NEEDED}CH1,C1,230,Q7,Room 1\nCH2,C2,230,Q8,Room 1\n");
    let findings = read(text.as_bytes(), &options).findings;
    assert_eq!(findings.len(), 2);
    assert!(findings.iter().all(|f| f.code.name == "unknown-word" && f.place.is_none()));
}

#[test]
fn notes_are_gathered_and_rows_need_not_be_adjacent() {
    let text = "enclosure;circuit;voltage_to_earth;isolator;isolator_location;note;area\n\
         CH1;C1;63,5;Q7;Room 1;first;A\nCH2;C2;230;Q8;Room 1;;\nCH1;C3;230;Q9;Room 1;second;\nCH1;C4;230;Q9;Room 1;first;A\n";
    let Reading { survey, findings } = reading(text);
    assert_eq!(findings, []);
    assert_eq!(survey.enclosures.len(), 2);
    assert_eq!(survey.enclosures[0].particulars().note.as_deref(), Some("first; second"));
    assert_eq!(survey.enclosures[0].rows.iter().map(|row| row.record).collect::<Vec<_>>(), [0, 2, 3]);
    assert_eq!(survey.enclosures[0].rows[0].voltage_to_earth, Some(Volts::milli(63_500)));
}

#[test]
fn what_is_not_known_is_not_taken_for_nothing() {
    let text =
        "enclosure,circuit,voltage_to_earth,isolator,isolator_location,stored_v,source\nCH1,C1,230,Q7,Room 1,?,tbc\n";
    let Reading { survey, findings } = reading(text);
    let row = &survey.enclosures[0].rows[0];
    assert_eq!((row.further().stored, row.source.clone()), (None, None));
    assert_eq!(row.not_known, [Column::Source, Column::StoredV].into_iter().collect());
    assert_eq!(findings.len(), 1);
    assert_eq!(findings[0].code.name, "value-not-known");
}

#[test]
fn a_first_line_may_name_the_separator() {
    let text = "sep=;\r\nenclosure;circuit;voltage_to_earth;isolator;isolator_location\r\nCH1;C,1;x;Q7;Room 1\r\n";
    let reading = reading(text);
    assert_eq!(reading.survey.enclosures[0].rows[0].circuit.as_ref(), "C,1");
    // A text editor counts the first line, a spreadsheet does not show it.
    assert_eq!(places_of(&reading, "not-a-number"), ["3:9 C2"]);
}

#[test]
fn a_row_of_a_spreadsheet_ends_at_its_last_filled_cell() {
    let rows: [&[&str]; 4] =
        [&HEADER, &["E1", "C1", "230", "none"], &["E2", "C2", "230"], &["E3", "C3", "230", "Q1", "R"]];
    let reading = read(workbook(&[("s", &rows)]), &ReadOptions::new("site.xlsx"));
    let found: Vec<_> = reading.findings.iter().map(|one| (one.code.name, one.place.as_ref().unwrap())).collect();
    let [(code, place)] = found.as_slice() else { panic!("{found:?}") };
    assert_eq!((*code, place.address.as_str(), place.cell.as_str()), ("needed-cell-empty", "D3", ""));
    assert_eq!(reading.survey.enclosures.len(), 3);
}

const HEADER: [&str; 5] = ["enclosure", "circuit", "voltage_to_earth", "isolator", "isolator_location"];

#[test]
fn a_remark_beside_a_sheet_is_said_to_be_unread_and_displaces_nothing() {
    let rows: [&[&str]; 4] = [
        &HEADER,
        &["E1", "C1", "230", "Q1", "R", "also fed from DB-9"],
        &["E2", "C2", "230", "Q2", "R", "", "ask"],
        &["E3", "C3", "230", "Q3", "R", "twice said is once too often"],
    ];
    let reading = read(workbook(&[("s", &rows)]), &ReadOptions::new("site.xlsx"));
    let found: Vec<_> = reading.findings.iter().map(|it| (it.code.name, it.place.as_ref().unwrap())).collect();
    let said: Vec<_> = found.iter().map(|(code, place)| (*code, place.address.as_str())).collect();
    assert_eq!(said, [("column-without-name", "F2"), ("column-without-name", "G3")]);
    assert_eq!(found[0].1.cell, "also fed from DB-9");
    assert!(reading.survey.enclosures.iter().all(|enclosure| enclosure.rows[0].isolation.is_some()));
}

#[test]
fn a_sheet_looks_like_a_survey_only_with_what_a_survey_needs() {
    let survey: [&[&str]; 2] = [&HEADER, &["E1", "C1", "230", "Q1", "R"]];
    let misspelt: [&[&str]; 2] = [
        &["enclosure", "circuit", "voltage_to_earth", "isolater", "isolator_location"],
        &["E2", "C1", "230", "Q1", "R"],
    ];
    let photos: [&[&str]; 2] = [&["enclosure", "photo"], &["E1", "1.png"]];
    let summary: [&[&str]; 2] = [&["enclosure", "count of circuit", "isolator"], &["E1", "1", "1"]];
    let found = |sheets: &[(&str, &[&[&str]])]| {
        let reading = read(workbook(sheets), &ReadOptions::new("site.xlsx"));
        let codes: Vec<_> = reading.findings.iter().map(|it| it.code.name).collect();
        (codes, reading.survey.enclosures.len())
    };
    assert_eq!(found(&[("Photos", &photos), ("Summary", &summary), ("Survey", &survey)]), (vec![], 1));
    assert_eq!(found(&[("Survey", &survey), ("Today", &survey)]).0, ["several-sheets"]);
    assert_eq!(found(&[("Survey", &survey), ("Yard", &misspelt)]).0, ["several-sheets"]);
    let (codes, _) = found(&[("Photos", &photos)]);
    assert_eq!(
        codes,
        [&["unknown-column"][..], &["missing-column"; 4]].concat(),
        "the only one is read, and what it lacks is said"
    );
}

#[test]
fn a_sheet_that_lacks_one_needed_column_is_not_left_unread_without_a_word() {
    let survey: [&[&str]; 2] = [&HEADER, &["E1", "C1", "230", "Q1", "R"]];
    let lacking: [&[&str]; 2] = [&["enclosure", "circuit", "isolator", "isolator_location"], &["E2", "C1", "Q1", "R"]];
    let titled: [&[&str]; 3] = [&["Roof of the cold store"], &HEADER, &["E3", "C1", "230", "Q1", "R"]];
    let two_lacking: [&[&str]; 2] = [&["enclosure", "circuit", "isolator"], &["E2", "C1", "Q1"]];
    let said = |sheets: &[(&str, &[&[&str]])]| {
        let reading = read(workbook(sheets), &ReadOptions::new("site.xlsx"));
        assert_eq!(reading.survey.enclosures.len(), 1);
        reading.findings.into_iter().map(|it| (it.code, it.message)).collect::<Vec<_>>()
    };
    let needed = "of the columns that a survey needs it has `enclosure`, `circuit`";
    let lacks =
        format!("sheet `Yard` is not read: {needed}, `isolator`, `isolator_location`, and lacks `voltage_to_earth`");
    for sheets in [[("Ground", &survey[..]), ("Yard", &lacking)], [("Yard", &lacking), ("Ground", &survey)]] {
        assert_eq!(said(&sheets), [(code::SHEET_NOT_READ, lacks.clone())]);
    }
    let below = format!(
        "sheet `Roof` is not read: {needed}, `voltage_to_earth`, `isolator`, `isolator_location`, and names them in row 2, \
         below other words"
    );
    assert_eq!(said(&[("Ground", &survey), ("Roof", &titled)]), [(code::SHEET_NOT_READ, below)]);
    assert_eq!(said(&[("Ground", &survey), ("List", &two_lacking), ("Empty", &lacking[..1])]), []);
}

/// More records than are read at a time, some of them at fault.
fn long(rows: usize) -> String {
    let mut text = "enclosure,circuit,voltage_to_earth,isolator,isolator_location\n".to_owned();
    for row in 0..rows {
        let volts = if row % 7 == 0 { "high" } else { "230" };
        let circuit = if row % 11 == 0 { "01/07/2026".to_owned() } else { format!("C/{row}") };
        text.push_str(&format!("E{},{circuit},{volts},Q{row},Room {}\n", row / 2, row % 3));
    }
    text
}

#[test]
fn many_records_are_found_at_fault_in_the_order_of_the_file_on_any_number_of_threads() {
    let text = long(5_000);
    let mut options = ReadOptions::new("long.csv");
    options.limits.findings = usize::MAX;
    let with = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        pool.install(|| read(text.as_bytes(), &options))
    };
    let one = with(1);
    assert_eq!(one, with(4));
    let lines: Vec<u32> = one.findings.iter().map(|finding| finding.place.as_ref().unwrap().line).collect();
    assert!(lines.is_sorted());
    assert_eq!(lines.len(), 5_000_usize.div_ceil(7) + 5_000_usize.div_ceil(11));
    let records = one.survey.enclosures.iter().flat_map(|enclosure| &enclosure.rows).map(|row| row.record);
    assert!(records.eq(0..5_000));
}

#[test]
fn a_limit_stops_within_what_is_read_at_a_time() {
    let mut options = ReadOptions::new("long.csv");
    options.limits.rows = 2_500;
    let reading = read(long(5_000).as_bytes(), &options);
    let rows: usize = reading.survey.enclosures.iter().map(|enclosure| enclosure.rows.len()).sum();
    assert_eq!(rows, 2_500);
    let last = reading.findings.iter().find(|finding| finding.code == code::TOO_MANY_ROWS).unwrap();
    assert_eq!(last.place.as_ref().unwrap().line, 2_502);
}
