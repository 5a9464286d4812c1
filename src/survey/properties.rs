//! What must hold for every file: places agree with a naive count, and no bytes make the reading fail.

use std::io::{Cursor, Write};

use proptest::prelude::*;
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipWriter};

use super::{Column, Form, ReadOptions, read};

const COLUMNS: [Column; 5] =
    [Column::Enclosure, Column::Circuit, Column::VoltageToEarth, Column::Isolator, Column::IsolatorLocation];

/// A survey as it is typed, field by field, with what a naive count says of each.
#[derive(Debug, Default)]
struct Typed {
    text: String,
    /// The same text with every line break within quotes taken out.
    skeleton: String,
    /// Line, character and spreadsheet row of every field of the records that are not blank.
    expected: Vec<Vec<(usize, usize, usize)>>,
}

impl Typed {
    fn end_line(&mut self, ending: &str) {
        self.text.push_str(ending);
        self.skeleton.push_str(ending);
    }

    fn row(&mut self, fields: &[(String, bool)]) {
        let mut places = Vec::new();
        for (number, (field, quoted)) in fields.iter().enumerate() {
            if number > 0 {
                self.end_line(",");
            }
            let (line, column) = end_of(&self.text);
            places.push((line, column, end_of(&self.skeleton).0));
            if *quoted || field.contains(['"', ',', '\r', '\n']) {
                self.text.push_str(&format!("\"{}\"", field.replace('"', "\"\"")));
                self.skeleton.push_str("\"\"");
            } else {
                self.end_line(field);
            }
        }
        if fields.iter().any(|(field, _)| !field.trim().is_empty()) {
            self.expected.push(places);
        }
    }
}

/// Line and character at which a text ends, counted the plain way.
fn end_of(text: &str) -> (usize, usize) {
    let plain = text.replace("\r\n", "\n").replace('\r', "\n");
    let last = plain.rsplit('\n').next().unwrap().chars().count();
    (plain.matches('\n').count() + 1, last + 1)
}

/// Pieces of a sheet, right and wrong.
const PARTS: [&str; 20] = [
    "<row r=\"1\">",
    "</row>",
    "<row r=\"9999999999\">",
    "<c r=\"A1\" t=\"inlineStr\"><is><t>enclosure</t></is></c>",
    "<c r=\"B1\" t=\"inlineStr\"><is><t>circuit</t></is></c>",
    "<c r=\"C2\"><v>230</v></c>",
    "<c r=\"XFD1048577\"><v>1</v></c>",
    "<c r=\"\"><v>1</v></c>",
    "<c><v>1e308</v></c>",
    "<c t=\"s\"><v>99</v></c>",
    "<c t=\"b\"><v>7</v></c>",
    "<c t=\"e\"><v>#REF!</v></c>",
    "<c t=\"d\"><v>2026-07-01</v></c>",
    "<c s=\"1\"><v>-1</v></c>",
    "<c s=\"1\"><v>99999999</v></c>",
    "<c r=\"D1\"><f t=\"shared\" si=\"0\" ref=\"D1:D9\">A1</f></c>",
    "<c r=\"D2\"><f t=\"shared\" si=\"0\"/></c>",
    "<c r=\"D3\"><f t=\"shared\" si=\"7777777\"/></c>",
    "<c r=\"E1\"><f>",
    "&bad;",
];

/// The smallest workbook with one sheet of these rows.
fn workbook(rows: &str) -> Vec<u8> {
    const MAIN: &str = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
    const OFFICE: &str = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
    const PACKAGE: &str = "http://schemas.openxmlformats.org/package/2006/relationships";
    let relation = |kind: &str, target: &str| {
        let relation = format!("<Relationship Id=\"{kind}\" Type=\"{OFFICE}/{kind}\" Target=\"{target}\"/>");
        format!("<Relationships xmlns=\"{PACKAGE}\">{relation}</Relationships>")
    };
    zipped(&[
        ("_rels/.rels", relation("officeDocument", "xl/workbook.xml")),
        ("xl/_rels/workbook.xml.rels", relation("worksheet", "worksheets/sheet1.xml")),
        (
            "xl/workbook.xml",
            format!(
                "<workbook xmlns=\"{MAIN}\" xmlns:r=\"{OFFICE}\"><sheets>\
                 <sheet name=\"S\" sheetId=\"1\" r:id=\"worksheet\"/></sheets></workbook>"
            ),
        ),
        (
            "xl/styles.xml",
            format!(
                "<styleSheet xmlns=\"{MAIN}\"><cellXfs><xf numFmtId=\"0\"/><xf numFmtId=\"14\"/></cellXfs></styleSheet>"
            ),
        ),
        ("xl/worksheets/sheet1.xml", format!("<worksheet xmlns=\"{MAIN}\"><sheetData>{rows}</sheetData></worksheet>")),
    ])
}

/// Pieces of an open document sheet, right and wrong.
const OPEN_PARTS: [&str; 14] = [
    "<table:table-row>",
    "<table:table-row table:number-rows-repeated=\"40\">",
    "<table:table-row table:number-rows-repeated=\"0\">",
    "<table:table-row table:number-rows-repeated='1048576'>",
    "</table:table-row>",
    "<table:table-cell/>",
    "<table:table-cell table:number-columns-repeated=\"16384\"/>",
    "<table:table-cell office:value-type=\"float\" office:value=\"230\"/>",
    "<table:table-cell table:number-columns-repeated=\"0\" office:value-type=\"float\" office:value=\"1\"/>",
    "<table:table-cell office:value-type=\"string\"><text:p>enclosure</text:p></table:table-cell>",
    "<table:table-cell table:formula=\"of:=A1\"/>",
    "<table:table-cell office:value-type=\"date\" office:date-value=\"2026-07-01\"/>",
    "<table:covered-table-cell/>",
    "<text:p>",
];

/// The smallest open document with one sheet of these rows.
fn open_document(rows: &str) -> Vec<u8> {
    let names = "xmlns:office=\"o\" xmlns:table=\"t\" xmlns:text=\"x\"";
    zipped(&[
        ("mimetype", "application/vnd.oasis.opendocument.spreadsheet".to_owned()),
        ("META-INF/manifest.xml", "<manifest:manifest xmlns:manifest=\"m\"/>".to_owned()),
        (
            "content.xml",
            format!(
                "<office:document-content {names}><office:body><office:spreadsheet><table:table table:name=\"S\">\
                 {rows}</table:table></office:spreadsheet></office:body></office:document-content>"
            ),
        ),
    ])
}

fn zipped(entries: &[(&str, String)]) -> Vec<u8> {
    let mut archive = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, text) in entries {
        archive.start_file(*name, SimpleFileOptions::default().compression_method(CompressionMethod::Stored)).unwrap();
        archive.write_all(text.as_bytes()).unwrap();
    }
    archive.finish().unwrap().into_inner()
}

#[test]
fn the_smallest_workbook_is_one() {
    let row = "<row r=\"1\"><c r=\"A1\" t=\"inlineStr\"><is><t>enclosure</t></is></c></row>";
    let codes: Vec<_> =
        read(workbook(row), &ReadOptions::new("x")).findings.iter().map(|finding| finding.code.name).collect();
    assert!(codes.starts_with(&["missing-column"]), "{codes:?}");
    let row = "<table:table-row><table:table-cell office:value-type=\"string\"><text:p>enclosure</text:p>\
               </table:table-cell></table:table-row>";
    let codes: Vec<_> =
        read(open_document(row), &ReadOptions::new("x")).findings.iter().map(|finding| finding.code.name).collect();
    assert!(codes.starts_with(&["missing-column"]), "{codes:?}");
}

proptest! {
    #[test]
    fn places_agree_with_a_naive_count(
        rows in prop::collection::vec(
            (prop::collection::vec(("[aé\",\r\n ]{0,5}", any::<bool>()), 5), "(\n|\r\n|\r){1,3}"),
            0..8,
        ),
        before in "(\r\n|\n){0,2}",
    ) {
        let mut typed = Typed::default();
        typed.end_line(&before);
        typed.row(&COLUMNS.map(|column| (column.name().to_owned(), false)));
        typed.end_line("\r\n");
        for (fields, endings) in &rows {
            typed.row(fields);
            typed.end_line(endings);
        }
        let survey = read(typed.text.as_bytes(), &ReadOptions::new("site.csv")).survey;
        for (record, places) in typed.expected.iter().skip(1).enumerate() {
            for (column, expected) in COLUMNS.into_iter().zip(places) {
                let place = survey.place(u32::try_from(record).unwrap(), column);
                let row: usize = place.address.trim_start_matches(|c: char| c.is_ascii_uppercase()).parse().unwrap();
                prop_assert_eq!((place.line as usize, place.column as usize, row), *expected, "{:?}", typed.text);
            }
        }
    }

    #[test]
    fn no_bytes_make_the_reading_fail(bytes in prop::collection::vec(any::<u8>(), 0..300)) {
        for form in [Form::Detect, Form::Text, Form::Workbook] {
            let options = ReadOptions { form, ..ReadOptions::new("site.csv") };
            let reading = read(&bytes, &options);
            prop_assert!(!reading.findings.is_empty());
        }
    }

    #[test]
    fn no_cells_make_the_reading_fail(rows in "([-?+0-9a-zA-Z#!/.;:@éΩ\u{202E}\u{0} ,\"\n]{0,60}\n){0,6}") {
        let header: Vec<_> = Column::ALL.iter().map(|column| column.name()).collect();
        let text = format!("{}\n{rows}", header.join(","));
        let reading = read(text.as_bytes(), &ReadOptions::new("site.csv"));
        for finding in &reading.findings {
            let place = finding.place.as_ref().unwrap();
            prop_assert!(place.line as usize <= text.split('\n').count());
        }
    }

    #[test]
    fn no_sheet_makes_the_reading_fail(parts in prop::collection::vec(prop::sample::select(&PARTS[..]), 0..30)) {
        let bytes = workbook(&parts.concat());
        let reading = read(&bytes, &ReadOptions::new("site.xlsx"));
        prop_assert!(!reading.survey.enclosures.is_empty() || !reading.findings.is_empty());
    }

    #[test]
    fn no_open_document_makes_the_reading_fail(
        parts in prop::collection::vec(prop::sample::select(&OPEN_PARTS[..]), 0..30),
    ) {
        let reading = read(open_document(&parts.concat()), &ReadOptions::new("site.ods"));
        prop_assert!(!reading.survey.enclosures.is_empty() || !reading.findings.is_empty());
    }

    #[test]
    fn a_damaged_workbook_is_a_finding(position in 0_usize..6_000, byte in any::<u8>()) {
        let mut bytes = include_bytes!("../../tests/survey_forms/survey.xlsx").to_vec();
        if let Some(slot) = bytes.get_mut(position) {
            *slot = byte;
        }
        let reading = read(&bytes, &ReadOptions::new("site.xlsx"));
        prop_assert!(!reading.survey.enclosures.is_empty() || !reading.findings.is_empty());
    }
}
