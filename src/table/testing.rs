//! Workbooks made in tests.

use std::io::{Cursor, Write};

const MAIN: &str = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
const OFFICE: &str = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
const PACKAGE: &str = "http://schemas.openxmlformats.org/package/2006/relationships";

/// The smallest workbook that spreadsheet programs open (ECMA-376 part 1): sheets by name, each with its rows of texts.
pub(crate) fn workbook(sheets: &[(&str, &[&[&str]])]) -> Vec<u8> {
    let numbered = || (1..).zip(sheets);
    let worksheets: String =
        numbered().map(|(number, _)| relation(number, "worksheet", &format!("worksheets/sheet{number}.xml"))).collect();
    let names: String = numbered()
        .map(|(number, (name, _))| format!("<sheet name=\"{name}\" sheetId=\"{number}\" r:id=\"r{number}\"/>"))
        .collect();
    let mut parts = vec![
        ("_rels/.rels".to_owned(), relations(&relation(1, "officeDocument", "xl/workbook.xml"))),
        ("xl/_rels/workbook.xml.rels".to_owned(), relations(&worksheets)),
        (
            "xl/workbook.xml".to_owned(),
            format!("<workbook xmlns=\"{MAIN}\" xmlns:r=\"{OFFICE}\"><sheets>{names}</sheets></workbook>"),
        ),
    ];
    parts.extend(numbered().map(|(number, (_, rows))| (format!("xl/worksheets/sheet{number}.xml"), worksheet(rows))));
    let mut archive = zip::ZipWriter::new(Cursor::new(Vec::new()));
    for (name, text) in parts {
        archive.start_file(name, zip::write::SimpleFileOptions::default()).unwrap();
        archive.write_all(text.as_bytes()).unwrap();
    }
    archive.finish().unwrap().into_inner()
}

fn relation(number: usize, kind: &str, target: &str) -> String {
    format!("<Relationship Id=\"r{number}\" Type=\"{OFFICE}/{kind}\" Target=\"{target}\"/>")
}

fn relations(inner: &str) -> String {
    format!("<Relationships xmlns=\"{PACKAGE}\">{inner}</Relationships>")
}

fn worksheet(rows: &[&[&str]]) -> String {
    let cell = |text: &&str| format!("<c t=\"inlineStr\"><is><t>{text}</t></is></c>");
    let row = |row: &&[&str]| format!("<row>{}</row>", row.iter().map(cell).collect::<String>());
    let rows: String = rows.iter().map(row).collect();
    format!("<worksheet xmlns=\"{MAIN}\"><sheetData>{rows}</sheetData></worksheet>")
}
