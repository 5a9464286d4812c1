//! Every kind of finding of this stage, provoked by the smallest survey that shows it.

use super::{Form, ReadOptions, Reading, read};
use crate::limits::Limits;

const NEEDED: &str = "enclosure,circuit,voltage_to_earth,isolator,isolator_location";
const ROW: &str = "CH1,C1,230,Q7,Room 1";

fn codes(reading: &Reading) -> Vec<&'static str> {
    reading.findings.iter().map(|finding| finding.code.name).collect()
}

fn found(text: &str) -> Vec<&'static str> {
    codes(&read(text.as_bytes(), &ReadOptions::new("site.csv")))
}

/// What is found in a whole file but for its header.
fn in_rows(rows: &str) -> Vec<&'static str> {
    found(&format!("{NEEDED}\n{rows}\n"))
}

/// What is found in one cell of a further column.
fn in_cell(column: &str, cell: &str) -> Vec<&'static str> {
    found(&format!("{NEEDED},{column}\n{ROW},\"{cell}\"\n"))
}

fn limited(text: &str, change: impl FnOnce(&mut Limits)) -> Vec<&'static str> {
    let mut options = ReadOptions::new("site.csv");
    change(&mut options.limits);
    codes(&read(text.as_bytes(), &options))
}

#[test]
fn whole_files() {
    assert_eq!(found(""), ["empty-file"]);
    assert_eq!(found(" \r\n\t\n"), ["empty-file"]);
    assert_eq!(found(NEEDED), ["no-rows"]);
    assert_eq!(found("CH1,C1,230,Q7,Room 1\n"), ["no-header"]);
    assert_eq!(found("device,kind,fed_from,nominal\nQ1,breaker,MSB,\n"), ["other-file"]);
    assert_eq!(codes(&read(b"%PDF-1.7", &ReadOptions::new("x"))), ["foreign-file"]);
    assert_eq!(codes(&read(b"PK\x03\x04 nothing", &ReadOptions::new("x"))), ["workbook-unreadable"]);
    let workbook = ReadOptions { form: Form::Workbook, ..ReadOptions::new("x") };
    assert_eq!(codes(&read(b"a,b", &workbook)), ["workbook-unreadable"]);
    assert_eq!(found(&format!("{NEEDED}\r{ROW}\r")), ["old-line-endings"]);
    assert_eq!(found(&format!("{NEEDED}\r\n{ROW}\r\n")), [""; 0]);
}

#[test]
fn encodings() {
    let bytes = |text: &str| text.chars().map(|c| u8::try_from(u32::from(c)).unwrap()).collect::<Vec<_>>();
    let text = format!("{NEEDED}\nCH1,K\u{FC}hlung,230,Q7,S\u{FC}d\nCH2,K\u{FC}hlung,230,Q8,Room\n");
    let latin = bytes(&text);
    assert_eq!(codes(&read(&latin, &ReadOptions::new("x"))), ["assumed-encoding"; 2], "each text once");
    let told = ReadOptions { encoding: Some(encoding_rs::WINDOWS_1252), ..ReadOptions::new("x") };
    assert_eq!(codes(&read(&latin, &told)), [""; 0]);
    let wrong = ReadOptions { encoding: Some(encoding_rs::UTF_8), ..ReadOptions::new("x") };
    assert_eq!(codes(&read(&latin, &wrong)), ["character-lost"; 3]);
    assert_eq!(in_rows("CH1,C\u{202E}1,230,Q7,Room 1"), ["hidden-character"]);
    assert_eq!(in_rows("CH1,C\u{0}1,230,Q7,Room 1"), ["hidden-character"]);
}

#[test]
fn quotes_and_shapes() {
    assert_eq!(in_rows("CH1,C1,230,Q7,\"Room 1\nCH2,C2,230,Q8,Room 2"), ["unclosed-quote"]);
    assert_eq!(in_rows("CH1,\"C\"1,230,Q7,Room 1"), ["text-after-quote"]);
    assert_eq!(in_rows("CH1,C1,230,Q7, \"Room 1\""), ["space-before-quote"]);
    assert_eq!(in_rows("CH1,C1,x,Q7,Room 1, left"), ["row-too-long"]);
    assert_eq!(in_rows("CH1,C1,230,Q7,Room 1,,,"), [""; 0], "surplus cells that are empty");
    assert_eq!(in_rows("CH1,C1,230,Q7"), ["row-too-short"]);
    assert_eq!(found(&format!("{NEEDED},note\n{ROW}\n")), [""; 0], "nothing needed is lost");
    assert_eq!(in_rows(&format!("{ROW}\n{ROW}")), ["row-repeated"]);
}

#[test]
fn headers() {
    assert_eq!(found("enclosure,circuit,voltage_to_earth,isolator\nCH1,C1,230,Q7\n"), ["missing-column"]);
    assert_eq!(found(&format!("{NEEDED},Circuit\n{ROW},C2\n")), ["duplicate-column"]);
    assert_eq!(found(&format!("{NEEDED},checked by\n{ROW},JD\n")), ["unknown-column"]);
    assert_eq!(
        found(&format!("{NEEDED},site\n{ROW},S\n")),
        ["unknown-column"],
        "near `size`, and too short to be sure"
    );
    assert_eq!(found(&format!("{}\n{ROW}\n", NEEDED.replace("isolator,", "isolater,"))), ["misspelt-column"]);
    assert_eq!(found(&format!("{NEEDED},locking arrangement\n{ROW},x\n")), ["unknown-column"]);
    assert_eq!(found(&format!("{NEEDED},live_aftr\n{ROW},x\n")), ["misspelt-column"]);
}

#[test]
fn answers_where_words_are_asked_for() {
    for column in ["before_isolating", "live_after", "interlock", "neutral_from"] {
        assert_eq!(in_cell(column, "yes"), ["answer-without-words"], "{column}");
        assert_eq!(in_cell(column, "no"), [""; 0], "{column}");
    }
    assert_eq!(in_cell("serves", "ditto"), ["cell-repeats-another"]);
    assert_eq!(in_cell("note", "ditto"), [""; 0]);
}

#[test]
fn limits_hold_on_both_sides() {
    let two = format!("{NEEDED}\n{ROW}\nCH2,C2,230,Q7,Room 1\n");
    let size = u64::try_from(two.len()).unwrap();
    assert_eq!(limited(&two, |l| l.file_bytes = size), [""; 0]);
    assert_eq!(limited(&two, |l| l.file_bytes = size - 1), ["file-too-large"]);
    assert_eq!(limited(&two, |l| l.rows = 2), [""; 0]);
    assert_eq!(limited(&two, |l| l.rows = 1), ["too-many-rows"]);
    assert_eq!(limited(&two, |l| l.columns = 5), [""; 0]);
    assert_eq!(limited(&two, |l| l.columns = 4), ["too-many-columns"]);
    assert_eq!(limited(&two, |l| l.enclosures = 2), [""; 0]);
    assert_eq!(limited(&two, |l| l.enclosures = 1), ["too-many-enclosures"]);
    assert_eq!(limited(&two, |l| l.cell_chars = 6), [""; 0]);
    assert_eq!(limited(&two, |l| l.cell_chars = 5), ["cell-too-long"; 2]);
}

#[test]
fn limits_of_lists_and_findings_hold_on_both_sides() {
    let devices = format!("{NEEDED}\nCH1,C1,230,Q7 + Q8,Room 1\n");
    assert_eq!(limited(&devices, |l| l.devices_per_row = 2), [""; 0]);
    assert_eq!(limited(&devices, |l| l.devices_per_row = 1), ["too-many-devices"]);
    let positions = format!("{NEEDED},positions\n{ROW},left; right\n");
    assert_eq!(limited(&positions, |l| l.positions = 2), [""; 0]);
    assert_eq!(limited(&positions, |l| l.positions = 1), ["too-many-positions"]);
    let faulty = format!("{NEEDED}\nCH1,C1,x,Q7,Room 1\nCH1,C2,y,Q7,Room 1\n");
    assert_eq!(limited(&faulty, |l| l.findings = 2), ["not-a-number"; 2]);
    assert_eq!(limited(&faulty, |l| l.findings = 1), ["not-a-number", "findings-left-out"]);
}

#[test]
fn needed_cells() {
    assert_eq!(in_rows(",C1,230,Q7,Room 1"), ["needed-cell-empty"]);
    assert_eq!(in_rows("CH1,,230,Q7,Room 1"), ["needed-cell-empty"]);
    assert_eq!(in_rows("CH1,?,230,Q7,Room 1"), ["needed-cell-empty"]);
    assert_eq!(in_rows("CH1,C1,,Q7,Room 1"), ["needed-cell-empty"]);
    assert_eq!(in_rows("CH1,C1,230,,"), ["needed-cell-empty"]);
    assert_eq!(in_rows("CH1,C1,230,-,"), ["needed-cell-empty"]);
    // Whether a location may be missing is for the network to say: it knows what the enclosure declares.
    assert_eq!(in_rows("CH1,C1,230,Q7,"), [""; 0]);
    assert_eq!(in_cell("live_after", "?"), ["value-not-known"]);
}

#[test]
fn enclosures() {
    let rows = |second: &str| found(&format!("{NEEDED},reading_distance\n{ROW},1.5\n{second}\n"));
    assert_eq!(rows("CH1,C2,230,Q8,Room 1,2"), ["cells-contradict"]);
    assert_eq!(rows("CH1,C2,230,Q8,Room 1,1.50 m"), [""; 0]);
    assert_eq!(rows("CH1,C2,230,Q8,Room 1,"), [""; 0]);
    assert_eq!(in_rows("CH1-A,C1,230,Q7,Room 1\nch 1A,C2,230,Q8,Room 1"), ["enclosures-alike"]);
    let two_ways = "CH1,C1,230,Q7,Room 1\nch 1,C2,230,Q8,Room 1\nCH1,C3,230,Q9,Room 1";
    assert_eq!(in_rows(two_ways), ["enclosure-spelt-two-ways"]);
    let reading = read(format!("{NEEDED}\n{two_ways}\n").as_bytes(), &ReadOptions::new("site.csv"));
    assert_eq!(reading.findings[0].enclosure, None, "leaving out one of the two would not mend the other");
}

#[test]
fn a_contradiction_names_both_places() {
    let text = format!("{NEEDED},area\n{ROW},Chamber 3\nCH1,C2,230,Q8,Room 1,Chamber 4\n");
    let reading = read(text.as_bytes(), &ReadOptions::new("site.csv"));
    let finding = &reading.findings[0];
    assert_eq!(finding.message, "`area` of `CH1` is `Chamber 4` here and `Chamber 3` in F2 (line 2)");
    assert_eq!(finding.place.as_ref().unwrap().address, "F3");
}

#[test]
fn words_and_figures() {
    assert_eq!(in_cell("basis", "guessed"), ["unknown-word"]);
    assert_eq!(in_cell("source", "mians"), ["source-like-a-kind"]);
    assert_eq!(in_cell("source", "turbine hall"), [""; 0]);
    assert_eq!(in_cell("stored_v", "lots"), ["not-a-number"]);
    assert_eq!(in_cell("reading_distance", "700"), ["out-of-range"]);
    assert_eq!(in_cell("pv_voc", "400"), ["unusual-value"]);
    assert_eq!(in_cell("nominal", "mains"), ["nominal-not-understood"]);
    assert_eq!(in_cell("nominal", "230/500"), ["nominal-pair-unlikely"]);
    assert_eq!(in_cell("nominal", "400"), ["nominal-read-as-pair"]);
    assert_eq!(in_cell("nominal", "110"), ["voltage-needs-earthing"]);
    assert_eq!(in_cell("conductors", "L1 PE"), ["conductors-not-understood"]);
    assert_eq!(in_cell("conductors", "L N"), ["line-not-named"]);
    assert_eq!(in_cell("no_confusion", "yes"), ["declaration-incomplete"]);
    assert_eq!(in_cell("size", "small"), ["size-not-understood"]);
    assert_eq!(in_cell("environment", "sun; heat"), ["heat-without-temperature"]);
    assert_eq!(in_cell("environment", "indoor; cold"), ["cold-without-temperature"]);
    // A cold that lacks its sign, and a heat that has one.
    assert_eq!(in_cell("environment", "cold 28"), ["out-of-range"]);
    assert_eq!(in_cell("environment", "heat -28"), ["out-of-range"]);
    assert_eq!(in_cell("environment", "indoor; cold -28 °C; heat 40"), [""; 0]);
    for voltage in ["2300000", "0", "-230", "NaN", "1e3"] {
        let expected = if voltage.contains(['N', 'e']) { "not-a-number" } else { "out-of-range" };
        assert_eq!(in_rows(&format!("CH1,C1,{voltage},Q7,Room 1")), [expected], "{voltage}");
    }
}

#[test]
fn devices() {
    assert_eq!(in_rows("CH1,C1,230,Q7 + Q8 + Q9,Room 1 + Room 2"), ["locations-do-not-match"]);
    assert_eq!(in_rows("CH1,C1,230,none,Room 1"), ["location-without-device"]);
    assert_eq!(in_rows("CH1,C1,230,Q7 + ?,Room 1"), ["isolator-list-incomplete"]);
    assert_eq!(in_rows("CH1,C1,230,Q7 and Q8,Room 1"), ["perhaps-several-devices"]);
    assert_eq!(in_rows("CH1,C1,230,Fan and heater,Room 1"), ["isolator-list-unclear"]);
    assert_eq!(in_cell("upstream_location", "Room 2"), ["location-without-device"]);
}

#[test]
fn spreadsheet_damage() {
    assert_eq!(in_rows("CH1,7-Jan,230,Q7,Room 1"), ["turned-into-date"]);
    assert_eq!(in_rows("CH1,C1,230,01/07/2026,Room 1"), ["turned-into-date"]);
    assert_eq!(in_rows("CH1,C1,230,01/07/26,Room 1"), ["perhaps-a-date"]);
    assert_eq!(in_rows("CH1,1.2E+05,230,Q7,Room 1"), ["turned-into-exponent"]);
    assert_eq!(in_rows("CH1,C1,230,Q7,#REF!"), ["spreadsheet-error"]);
    assert_eq!(in_rows("007,C1,230,Q7,Room 1\n8,C2,230,Q8,Room 1"), ["leading-zeros-lost"]);
    assert_eq!(in_rows("007,C1,230,Q7,Room 1\n123,C2,230,Q8,Room 1"), [""; 0]);
    let serial = "CH1,DB-1,230,Q7,Room 1\nCH1,DB-2,230,Q7,Room 1\nCH1,44927,230,Q7,Room 1";
    assert_eq!(in_rows(serial), ["perhaps-a-date"]);
    assert_eq!(in_rows("CH1,44927,230,Q7,Room 1\nCH1,44928,230,Q7,Room 1"), [""; 0], "all are numbers");
}
