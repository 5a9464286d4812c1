//! Whole supplies files, read from text, and every kind of finding of this stage, provoked by the smallest file.

use super::*;
use crate::finding::code;
use crate::length::Length;
use crate::limits::Limits;
use crate::table::testing::workbook;
use crate::table::value::{
    Current, DeviceKind, Earthing, Environment, InterlockKind, Poles, RecordLink, Surface, Volts,
};

const NEEDED: &str = "device,kind,fed_from,nominal";
const SOURCE: &str = "Mains,source,,230/400";

fn reading(text: &str) -> Reading {
    read(text.as_bytes(), &ReadOptions::new("supplies.csv"))
}

fn codes(reading: &Reading) -> Vec<&'static str> {
    reading.findings.iter().map(|finding| finding.code.name).collect()
}

fn found(text: &str) -> Vec<&'static str> {
    codes(&reading(text))
}

/// What is found in rows of the four columns above.
fn in_rows(rows: &str) -> Vec<&'static str> {
    found(&format!("{NEEDED}\n{SOURCE}\n{rows}\n"))
}

/// What is found in one cell of a further column, at a device of this kind.
fn in_cell(kind: &str, column: &str, cell: &str) -> Vec<&'static str> {
    found(&format!("{NEEDED},{column}\nX1,{kind},{},230,\"{cell}\"\n", if kind == "source" { "" } else { "Q1" }))
}

#[test]
fn every_column_is_read() {
    let header: Vec<_> = SupplyColumn::ALL.iter().map(|column| column.name()).collect();
    let text = format!(
        "{}\nTX1,transformer,QM3 + QG1@Plant room + QM3,\"Plant room, bay 2\",key,IL-2,coupled,3+N,400/690,TN-S,\
         Mains + GEN,Dyn11,no,?,A8,0.5,outdoor; heat 60,plastic,SCS-D-1,\"one, two\"\n",
        header.join(",")
    );
    let Reading { supplies, findings } = reading(&text);
    assert_eq!(findings, []);
    let [device] = supplies.devices.as_slice() else { panic!("one device") };
    assert_eq!((device.record, device.designation.as_str(), device.kind), (0, "TX1", Some(Kind::Transformer)));
    assert_eq!(device.fed_from, ["QM3", "QG1@Plant room"], "each once, as written");
    assert_eq!((device.location.as_str(), device.locking.as_deref()), ("Plant room, bay 2", Some("key")));
    assert_eq!((device.interlock.as_deref(), device.interlock_kind), (Some("IL-2"), Some(InterlockKind::Coupled)));
    assert_eq!(device.poles, Some(Poles { lines: 3, neutral: true }));
    assert_eq!(device.nominal.and_then(|nominal| nominal.between), Some(Volts::whole(690)));
    assert_eq!((device.earthing, device.phasing), (Some(Earthing::TnS), Some(Phasing::Clock(11))));
    assert_eq!(device.in_step_with, ["Mains", "GEN"]);
    assert_eq!((device.starts_by_itself, device.off_position), (Some(Starting::NotByItself), None));
    assert_eq!(device.size.map(|size| size.0.to_string()).as_deref(), Some("74 x 52 mm"));
    assert_eq!(device.reading_distance, Some(Length::mm(500.0)));
    assert_eq!(device.environment, Some(Environment { outdoor: true, heat: Some(60), ..Environment::default() }));
    assert_eq!((device.surface, device.note.as_deref()), (Some(Surface::Plastic), Some("one, two")));
    assert_eq!(device.record_link, RecordLink::Given("SCS-D-1".to_owned()));
    assert_eq!(device.not_known, [SupplyColumn::OffPosition].into_iter().collect());
}

#[test]
fn every_example_can_be_read() {
    let header: Vec<_> = SupplyColumn::ALL.iter().map(|column| column.name()).collect();
    let cells: Vec<_> = SupplyColumn::ALL.iter().map(|column| format!("\"{}\"", column.example())).collect();
    let text = format!("{}\n{}\n", header.join(","), cells.join(","));
    // A breaker is no changeover, so that one example cannot stand beside the others.
    assert_eq!(found(&text), ["off-position-without-changeover"]);
}

#[test]
fn every_kind_is_a_word_of_its_own_and_is_read() {
    let mut names: Vec<_> = Kind::ALL.iter().map(|kind| kind.name()).collect();
    for kind in Kind::ALL {
        let text = format!("device,kind,nominal\nX1,{},230\n", kind.name().to_uppercase().replace('-', " "));
        assert_eq!(reading(&text).supplies.devices[0].kind, Some(kind));
    }
    assert!(DeviceKind::ALL.iter().all(|kind| names.contains(&kind.name())), "every kind of the survey too");
    names.sort_unstable();
    names.dedup();
    assert_eq!(names.len(), Kind::ALL.len());
}

#[test]
fn the_two_needed_columns_are_enough() {
    let Reading { supplies, findings } = reading("kind;device\nbusbar;MSB\nisolator;Q1\n");
    assert_eq!(findings, []);
    assert_eq!(supplies.devices.iter().map(|one| one.designation.as_str()).collect::<Vec<_>>(), ["MSB", "Q1"]);
}

#[test]
fn places_are_those_of_the_file() {
    let text = format!("{NEEDED}\r\n\r\n{SOURCE}\r\n\"Q1\",breakr,\"Mains\n+ GEN\",\r\n");
    let Reading { supplies, findings } = reading(&text);
    let [finding] = findings.as_slice() else { panic!("{findings:?}") };
    assert_eq!(finding.code, code::UNKNOWN_WORD);
    assert_eq!(finding.help.as_deref(), Some("did you mean `breaker`?"));
    assert_eq!(finding.enclosure, None, "no notice of one enclosure alone");
    // Counted by hand: a blank line, and a cell that takes two lines and is one row of a spreadsheet.
    let place = finding.place.as_ref().unwrap();
    assert_eq!((&*place.file, place.line, place.column, place.address.as_str()), ("supplies.csv", 4, 6, "B4"));
    assert_eq!(place.line_text, "\"Q1\",breakr,\"Mains");
    let feed = supplies.place(1, SupplyColumn::FedFrom);
    assert_eq!((feed.line, feed.column, feed.cell.as_str()), (4, 13, "\"Mains\n+ GEN\""));
    assert_eq!(feed.column_name, "fed_from");
    assert_eq!(supplies.devices[1].fed_from, ["Mains", "GEN"]);
    let row = supplies.row_place(1);
    assert_eq!((row.line, row.column, row.address.as_str(), row.column_name.as_str()), (4, 1, "A4", ""));
    assert_eq!(supplies.place(1, SupplyColumn::Surface), row, "the file has no such column");
}

#[test]
fn whole_files() {
    assert_eq!(found(""), ["empty-file"]);
    assert_eq!(found(NEEDED), ["no-rows"]);
    assert_eq!(found("Q1,breaker,MSB,\n"), ["no-header"]);
    assert_eq!(codes(&read(b"%PDF-1.7", &ReadOptions::new("x"))), ["foreign-file"]);
    assert_eq!(codes(&read(b"PK\x03\x04 nothing", &ReadOptions::new("x"))), ["workbook-unreadable"]);
    assert_eq!(found(&format!("{NEEDED}\r{SOURCE}\r")), ["old-line-endings"]);
    assert_eq!(in_rows("Q1,breaker,Mains,\nQ1,breaker,Mains,"), ["row-repeated", "device-described-twice"]);
    assert_eq!(in_rows("Q1,breaker,Mains,,\"\",x"), ["row-too-long"]);
    assert_eq!(in_rows("Q1"), ["row-too-short"]);
    assert_eq!(in_rows("Q\u{202E}1,breaker,Mains,"), ["hidden-character"]);
    assert_eq!(in_rows("7-Jan,breaker,Mains,"), ["turned-into-date"]);
    assert_eq!(in_rows("007,breaker,Mains,\n8,breaker,Mains,"), ["leading-zeros-lost"]);
    let notes = reading("enclosure,circuit,voltage_to_earth,isolator,isolator_location\nCH1,C1,230,Q7,Room 1\n");
    assert_eq!(notes.findings[0].message, "the columns are those of a survey, not of a supplies file");
    assert_eq!(codes(&notes), ["other-file"]);
}

#[test]
fn headers() {
    assert_eq!(found("device,fed_from\nQ1,MSB\n"), ["missing-column"]);
    assert_eq!(found("kind,fed_from\nbreaker,MSB\n"), ["missing-column"]);
    assert_eq!(found(&format!("{NEEDED},fed_form\n{SOURCE},x\n")), ["unknown-column"], "`fed_from` is there");
    assert_eq!(found("device,kind,fed_form,nominal\nMains,source,,230\n"), ["misspelt-column"]);
    assert_eq!(found(&format!("{NEEDED},checked by\n{SOURCE},JD\n")), ["unknown-column"]);
    let mut options = ReadOptions::new("supplies.csv");
    options.header_map.insert("Supplied by".to_owned(), SupplyColumn::FedFrom);
    let mapped = read(b"device,kind,supplied-by\nQ1,breaker,MSB\n", &options);
    assert_eq!((codes(&mapped), mapped.supplies.devices[0].fed_from.as_slice()), (vec![], &["MSB".to_owned()][..]));
}

#[test]
fn limits_hold_on_both_sides() {
    let limited = |text: &str, change: &dyn Fn(&mut Limits)| {
        let mut options = ReadOptions::new("supplies.csv");
        change(&mut options.limits);
        codes(&read(text.as_bytes(), &options))
    };
    let two = format!("{NEEDED}\n{SOURCE}\nMSB,busbar,Mains + GEN,\n");
    let size = u64::try_from(two.len()).unwrap();
    assert_eq!(limited(&two, &|limits| limits.file_bytes = size), [""; 0]);
    assert_eq!(limited(&two, &|limits| limits.file_bytes = size - 1), ["file-too-large"]);
    assert_eq!(limited(&two, &|limits| limits.rows = 2), [""; 0]);
    assert_eq!(limited(&two, &|limits| limits.rows = 1), ["too-many-rows"]);
    assert_eq!(limited(&two, &|limits| limits.columns = 3), ["too-many-columns"]);
    assert_eq!(limited(&two, &|limits| limits.devices_per_row = 2), [""; 0]);
    assert_eq!(limited(&two, &|limits| limits.devices_per_row = 1), ["too-many-devices"]);
    assert_eq!(limited(&two, &|limits| limits.cell_chars = 10), ["cell-too-long"]);
}

#[test]
fn what_a_row_needs() {
    assert_eq!(in_rows("Q1,,Mains,"), ["needed-cell-empty"]);
    assert_eq!(in_rows("Q1,?,Mains,"), ["needed-cell-empty"]);
    assert_eq!(in_rows(",breaker,Mains,"), ["needed-cell-empty"]);
    assert_eq!(in_rows("-,breaker,Mains,"), ["needed-cell-empty"]);
    assert_eq!(in_rows("Q1,bus,Mains,"), ["unknown-word"]);
    assert_eq!(in_rows("Q1 + Q2,breaker,Mains,"), ["several-devices-in-one-row"]);
    assert_eq!(in_rows("+A1-Q1,breaker,Mains,"), [""; 0]);
    let nameless = reading(&format!("{NEEDED}\n?,breaker,Mains,\n"));
    assert_eq!(nameless.supplies.devices, [], "nothing could name it");
}

#[test]
fn the_same_device_twice() {
    let rows = |rows: &str| found(&format!("device,kind,location\n{rows}\n"));
    assert_eq!(rows("Q1,breaker,Room 1\nQ1,breaker,Room 2"), [""; 0]);
    assert_eq!(rows("Q1,breaker,Room 1\nQ2,breaker,Room 1\nq1,fuse,room  1"), ["device-described-twice"]);
    assert_eq!(rows("Q1,breaker,Room 1\nQ 1,fuse,Room1"), ["device-described-twice"]);
    assert_eq!(rows("Q1,breaker,Room 1 1\nQ1,fuse,Room 11"), [""; 0]);
    assert_eq!(rows("Q1,breaker,\nQ1,fuse,"), ["device-described-twice"]);
    let twice = reading("device,kind,location\nQ1,breaker,Room 1\n\nQ1,fuse,Room 1\n");
    assert_eq!(twice.findings[0].message, "`Q1` at `Room 1` is described in line 2 already");
    assert_eq!(twice.findings[0].place.as_ref().unwrap().line, 4);
}

#[test]
fn sources() {
    assert_eq!(in_rows("GEN,source,MSB,230/400"), ["source-is-fed"]);
    assert_eq!(in_rows("GEN,source,,"), ["source-without-voltage"]);
    assert_eq!(in_rows("GEN,source,,?"), ["source-without-voltage"]);
    assert_eq!(in_rows("GEN,source,,lots"), ["nominal-not-understood"], "one thing is said once");
    assert_eq!(found("device,kind\nGEN,source\n"), ["source-without-voltage"]);
    assert_eq!(in_rows("Q1,breaker,?,"), [""; 0], "not to know is no fault of the file");
    assert_eq!(
        reading("device,kind,fed_from\nQ1,breaker,tbc\n").supplies.devices[0].not_known,
        [SupplyColumn::FedFrom].into_iter().collect()
    );
    assert_eq!(in_cell("busbar", "earthing", "TT"), [""; 0], "an outbuilding's board has an earthing of its own");
}

#[test]
fn feeds_and_steps() {
    assert_eq!(in_rows("MSB,busbar,Mains + ?,"), ["isolator-list-incomplete"]);
    assert_eq!(in_rows("MSB,busbar,Mains and GEN,"), ["isolator-list-unclear"]);
    assert_eq!(in_rows("MSB,busbar,\"Q1@Room 1, left + Q2\","), [""; 0]);
    assert_eq!(in_cell("source", "in_step_with", "Mains, GEN"), ["isolator-list-unclear"]);
    assert_eq!(in_cell("source", "in_step_with", "?"), ["value-not-known"], "a blank would say that it is not in step");
}

/// Not taken for a transformer, whose windings are apart.
#[test]
fn an_autotransformer_is_no_kind_and_is_told_what_it_is() {
    for kind in ["autotransformer", "Auto-transformer", "auto transformer"] {
        let reading = reading(&format!("{NEEDED}\n{SOURCE}\nAT1,{kind},Mains,115/200\n"));
        let [finding] = &*reading.findings else { panic!("{kind}: {:?}", codes(&reading)) };
        assert_eq!(finding.code, code::UNKNOWN_WORD);
        assert!(finding.help.as_deref().is_some_and(|help| help.contains("as `busbar`")), "{kind}: {:?}", finding.help);
    }
    assert_eq!(in_cell("transformer", "phasing", "YNa0"), ["phasing-not-understood"]);
}

#[test]
fn cells_against_the_kind() {
    for answer in ["yes", "no"] {
        assert_eq!(in_cell("breaker", "off_position", answer), ["off-position-without-changeover"]);
        assert_eq!(in_cell("changeover", "off_position", answer), [""; 0]);
    }
    assert_eq!(in_cell("transformer", "phasing", "Dyn11"), [""; 0]);
    assert_eq!(in_cell("busbar", "phasing", "proved"), [""; 0]);
    assert_eq!(in_cell("busbar", "phasing", "Dyn11"), ["vector-group-without-transformer"]);
    assert_eq!(in_cell("transformer", "phasing", "Dyn12"), ["phasing-not-understood"]);
    assert_eq!(in_cell("breaker", "interlock", "IL-1"), ["interlock-incomplete"]);
    assert_eq!(in_cell("breaker", "interlock_kind", "coupled"), ["interlock-incomplete"]);
    let both = |kind: &str| found(&format!("device,kind,interlock,interlock_kind\nQ1,breaker,IL-1,{kind}\n"));
    assert_eq!(
        (both("no-parallel"), both("coupld"), both("?")),
        (vec![], vec!["unknown-word"], vec!["value-not-known"])
    );
    assert_eq!(in_cell("breaker", "poles", "4"), ["unknown-word"]);
    assert_eq!(in_cell("ups", "starts_by_itself", "perhaps"), ["unknown-word"]);
    assert_eq!(in_cell("ups", "starts_by_itself", "by-hand"), [""; 0]);
    assert_eq!(in_cell("breaker", "size", "small"), ["size-not-understood"]);
    assert_eq!(in_cell("breaker", "reading_distance", "700"), ["out-of-range"]);
    assert_eq!(in_cell("breaker", "environment", "heat"), ["heat-without-temperature"]);
    assert_eq!(in_cell("breaker", "environment", "cold"), ["cold-without-temperature"]);
}

#[test]
fn a_house_may_say_what_empty_cells_mean() {
    let mut options = ReadOptions::new("supplies.csv");
    options.defaults.insert(SupplyColumn::Locking, "padlock".to_owned());
    options.defaults.insert(SupplyColumn::Surface, "wood".to_owned());
    let reading = read(b"device,kind,locking\nQ1,breaker,\nQ2,breaker,key\n", &options);
    let locking: Vec<_> = reading.supplies.devices.iter().map(|device| device.locking.as_deref()).collect();
    assert_eq!(locking, [Some("padlock"), Some("key")]);
    let [finding] = reading.findings.as_slice() else { panic!("the default's own fault, once") };
    assert_eq!((finding.code, finding.place.as_ref()), (code::UNKNOWN_WORD, None));
}

#[test]
fn direct_current_needs_its_word() {
    let devices = reading(&format!("{NEEDED}\nB1,source,,384 dc\nG1,source,,240\n"));
    assert_eq!(codes(&devices), ["nominal-read-as-pair"]);
    assert_eq!(devices.supplies.devices[0].nominal.map(|nominal| nominal.current), Some(Current::Dc));
}

#[test]
fn one_workbook_may_hold_both_files() {
    let survey: [&[&str]; 2] = [
        &["enclosure", "circuit", "voltage_to_earth", "isolator", "isolator_location"],
        &["CH1", "C1", "230", "Q7", "Room 1"],
    ];
    let network: [&[&str]; 3] = [&["device", "kind", "fed_from"], &["Q7", "breaker", "MSB"], &["MSB", "bus bar", "Q0"]];
    let bytes = workbook(&[("survey", &survey), ("network", &network)]);
    let Reading { supplies, findings } = read(&bytes, &ReadOptions::new("site.xlsx"));
    assert_eq!(findings, []);
    assert_eq!(supplies.devices.iter().map(|one| one.designation.as_str()).collect::<Vec<_>>(), ["Q7", "MSB"]);
    assert_eq!(supplies.devices[1].kind, Some(Kind::Busbar));
    assert_eq!(supplies.place(1, SupplyColumn::Kind).address, "B3");
    let survey = crate::survey::read(&bytes, &crate::survey::ReadOptions::new("site.xlsx"));
    assert_eq!((survey.findings, survey.survey.enclosures.len()), (Vec::new(), 1));
}
