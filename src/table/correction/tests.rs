//! One cell corrected, and all else left alone.

use super::*;
use crate::survey::{Column, ReadOptions, Survey, read};
use proptest::prelude::*;

fn survey(bytes: &[u8]) -> Survey {
    read(bytes, &ReadOptions::new("site.csv")).survey
}

fn corrected(bytes: &[u8], row: u32, cell: usize, after: &str) -> Result<Vec<u8>, Uncorrectable> {
    let survey = survey(bytes);
    let before = survey.cells(row).get(cell).cloned().unwrap_or_default();
    survey.corrected(bytes, None, &Correction { row, cell, before, after: after.to_owned() })
}

fn text(bytes: &str, row: u32, cell: usize, after: &str) -> Result<String, Uncorrectable> {
    corrected(bytes.as_bytes(), row, cell, after).map(|bytes| String::from_utf8(bytes).unwrap())
}

const HEAD: &str = "enclosure,circuit,voltage_to_earth,isolator,isolator_location";

#[test]
fn everything_but_the_cell_is_left_as_it_was() {
    let before =
        format!("\u{FEFF}sep=,\r\n{HEAD}\r\n\r\n CH1 ,\"a, b\" ,230,Q1,Room\r\nCH2,\"a, \"\"b\"\"\",230,Q2,Room\n\n");
    let after = text(&before, 1, 3, "Q3").unwrap();
    assert_eq!(after, before.replace("Q2", "Q3"));
    // A cell in quotation marks stays so; one that needs them gets them.
    assert_eq!(text(&before, 1, 1, "b").unwrap(), before.replace("\"a, \"\"b\"\"\"", "\"b\""));
    assert_eq!(
        text(&before, 1, 4, "Room 1, \"left\"").unwrap(),
        before.replace("Q2,Room\n", "Q2,\"Room 1, \"\"left\"\"\"\n")
    );
}

#[test]
fn no_row_is_swallowed_where_the_quotation_marks_of_the_header_are_flawed() {
    let before = "enclosure;isolator\";circuit\nCH1;Q1;C1\nCH2;Q2;C2\n";
    assert_eq!(text(before, 1, 2, "C3").unwrap(), before.replace("C2", "C3"));
    // With a mark more the header would be told apart by commas, and the file be one row.
    assert_eq!(text(before, 1, 2, "x\"y, z, v"), Err(Uncorrectable::NotReadBack));
}

#[test]
fn a_row_that_is_too_short_gets_the_cells_that_it_lacks() {
    let before = format!("{HEAD}\nCH1,C1\nCH2,C2,230,Q2,Room\n");
    assert_eq!(text(&before, 0, 4, "Room 2").unwrap(), before.replace("CH1,C1\n", "CH1,C1,,,Room 2\n"));
    assert_eq!(text(&before, 0, 5, "x"), Err(Uncorrectable::NoCell));
    assert_eq!(text(&before, 2, 0, "x"), Err(Uncorrectable::NoRow));
}

#[test]
fn what_is_not_plain_is_refused() {
    let before = format!("{HEAD}\nCH1,C1,230,Q1,Room\nCH2,\"C2\"x,230,Q2,Room\n");
    assert_eq!(text(&before, 1, 3, "Q3"), Err(Uncorrectable::Quotes));
    assert_eq!(text(&before, 0, 3, "Q\u{202E}3"), Err(Uncorrectable::Hidden('\u{202E}')));
    assert_eq!(text(&before, 0, 3, "Q3\nQ4"), Err(Uncorrectable::Hidden('\n')));
    let stale = Correction { row: 0, cell: 3, before: "Q9".into(), after: "Q3".into() };
    let refused = survey(before.as_bytes()).corrected(before.as_bytes(), None, &stale);
    assert_eq!(refused, Err(Uncorrectable::Other { holds: "Q1".into() }));
}

#[test]
fn every_encoding_stays_what_it_was() {
    let before = format!("{HEAD}\r\nCH1,Kühlraum,230,Q1,Süd\r\n");
    let after = before.replace("Süd", "Süd 2é");
    let utf_16 = |text: &str, big: bool| -> Vec<u8> {
        text.encode_utf16().flat_map(|unit| if big { unit.to_be_bytes() } else { unit.to_le_bytes() }).collect()
    };
    let marked = |text: &str| format!("\u{FEFF}{text}");
    let latin = |text: &str| encoding_rs::WINDOWS_1252.encode(text).0.into_owned();
    for form in [
        &(|text: &str| text.as_bytes().to_vec()) as &dyn Fn(&str) -> Vec<u8>,
        &|text| marked(text).into_bytes(),
        &|text| utf_16(text, false),
        &|text| utf_16(text, true),
        &|text| utf_16(&marked(text), false),
        &|text| utf_16(&marked(text), true),
        &latin,
    ] {
        assert_eq!(corrected(&form(&before), 0, 4, "Süd 2é"), Ok(form(&after)));
    }
    assert_eq!(corrected(&latin(&before), 0, 4, "Сад"), Err(Uncorrectable::NotInEncoding('С')));
    // Without its only foreign letter the file would be read as UTF-8, and the new letters as others.
    let lone = [HEAD.as_bytes(), b"\nCH1,K\xFC,230,Q1,Room\n"].concat();
    assert_eq!(corrected(&lone, 0, 1, "K\u{C3}\u{BC}"), Err(Uncorrectable::NotReadBack));
    // A byte that Windows-1253 does not have would become another one.
    let (greek, asked) =
        ([before.replace(['ü'], "x").as_bytes(), b"CH2,\xFF,230,Q1,Room\r\n"].concat(), encoding_rs::WINDOWS_1253);
    let options = ReadOptions { encoding: Some(asked), ..ReadOptions::new("site.csv") };
    let correction = Correction { row: 0, cell: 3, before: "Q1".into(), after: "Q2".into() };
    assert_eq!(read(&greek, &options).survey.corrected(&greek, Some(asked), &correction), Err(Uncorrectable::Bytes));
}

#[test]
fn a_workbook_is_only_looked_at() {
    let bytes = include_bytes!("../../../tests/survey_forms/survey.xlsx");
    let survey = survey(bytes);
    assert!(!survey.is_text() && survey.rows() > 0);
    let correction = Correction { row: 0, cell: 0, before: String::new(), after: "x".into() };
    assert_eq!(survey.corrected(bytes, None, &correction), Err(Uncorrectable::Workbook));
}

proptest! {
    /// The reference is the csv crate: it reads the new text in the cell, and every other cell as before.
    #[test]
    fn the_csv_crate_reads_the_new_text_and_nothing_else_anew(
        cells in proptest::collection::vec("[a\",;é ]{0,6}", 10),
        row in 0u32..2,
        cell in 0usize..5,
        after in "[a\",;é ]{0,6}",
    ) {
        // To the csv crate a row that holds nothing is a row like any other.
        prop_assume!(cells.chunks(5).all(|record| record.iter().any(|cell| !cell.trim().is_empty())));
        let mut bytes = format!("{HEAD}\n").into_bytes();
        for record in cells.chunks(5) {
            let mut one = csv::WriterBuilder::new().from_writer(Vec::new());
            one.write_record(record).unwrap();
            bytes.extend(one.into_inner().unwrap());
        }
        let records = |bytes: &[u8]| -> Vec<Vec<String>> {
            let mut reader = csv::ReaderBuilder::new().from_reader(bytes);
            reader.records().map(|record| record.unwrap().iter().map(str::to_owned).collect()).collect()
        };
        let mut expected = records(&bytes);
        let new = corrected(&bytes, row, cell, &after);
        // A row that holds nothing is none, and one that becomes so would move the others.
        prop_assume!(expected.len() == 2 && new.is_ok());
        expected[usize::try_from(row).unwrap()][cell] = after;
        prop_assert_eq!(records(&new.unwrap()), expected);
    }
}

#[test]
fn the_columns_of_the_file_are_where_it_says() {
    let survey = survey(format!("note,{HEAD}\nx,CH1,C1,230,Q1,Room\n").as_bytes());
    assert_eq!(survey.cell_of(Column::Isolator), Some(4));
    assert_eq!((survey.rows(), survey.shown_row(0), survey.headers().len()), (1, 2, 6));
    assert_eq!(survey.cells(0), ["x", "CH1", "C1", "230", "Q1", "Room"]);
}
