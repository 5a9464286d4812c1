//! Workbooks put together from hostile parts, so that what comes in gets behind the layer of the archive.

use std::io::{Cursor, Write};

use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipWriter};

const MAIN: &str = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
const OFFICE: &str = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
const PACKAGE: &str = "http://schemas.openxmlformats.org/package/2006/relationships";

/// Parts the parts of a workbook in the input: a byte that no UTF-8 has.
const BETWEEN: u8 = 0xff;

/// A workbook as the first byte asks: `0` the bytes themselves, `1` rows of a sheet with its shared strings, `2` rows of
/// an open document, `3` sheet, strings, styles and workbook as whole parts, `4` a whole open document.
#[must_use]
pub fn of(bytes: &[u8]) -> Vec<u8> {
    let Some((kind, rest)) = bytes.split_first() else { return Vec::new() };
    let mut parts = rest.split(|byte| *byte == BETWEEN);
    let mut next = || parts.next().unwrap_or_default();
    match kind.wrapping_sub(b'0') % 5 {
        0 => rest.to_vec(),
        1 => {
            let sheet = framed("worksheet", &framed_in("sheetData", next()));
            office(&sheet, &framed("sst", next()), &styles(), &workbook())
        }
        2 => open(&open_document(next())),
        3 => office(next(), next(), next(), next()),
        _ => open(rest),
    }
}

fn framed(name: &str, inside: &[u8]) -> Vec<u8> {
    [format!("<{name} xmlns=\"{MAIN}\">").as_bytes(), inside, format!("</{name}>").as_bytes()].concat()
}

fn framed_in(name: &str, inside: &[u8]) -> Vec<u8> {
    [format!("<{name}>").as_bytes(), inside, format!("</{name}>").as_bytes()].concat()
}

fn styles() -> Vec<u8> {
    framed("styleSheet", b"<cellXfs><xf numFmtId=\"0\"/><xf numFmtId=\"14\"/></cellXfs>")
}

fn workbook() -> Vec<u8> {
    format!(
        "<workbook xmlns=\"{MAIN}\" xmlns:r=\"{OFFICE}\"><sheets><sheet name=\"S\" sheetId=\"1\" r:id=\"worksheet\"/></sheets></workbook>"
    )
    .into_bytes()
}

fn relations(targets: &[(&str, &str)]) -> Vec<u8> {
    let relation = |(kind, target): &(&str, &str)| {
        format!("<Relationship Id=\"{kind}\" Type=\"{OFFICE}/{kind}\" Target=\"{target}\"/>")
    };
    let relations: String = targets.iter().map(relation).collect();
    format!("<Relationships xmlns=\"{PACKAGE}\">{relations}</Relationships>").into_bytes()
}

fn office(sheet: &[u8], strings: &[u8], styles: &[u8], workbook: &[u8]) -> Vec<u8> {
    let parts =
        [("worksheet", "worksheets/sheet1.xml"), ("sharedStrings", "sharedStrings.xml"), ("styles", "styles.xml")];
    zipped(&[
        ("_rels/.rels", &relations(&[("officeDocument", "xl/workbook.xml")])),
        ("xl/_rels/workbook.xml.rels", &relations(&parts)),
        ("xl/workbook.xml", workbook),
        ("xl/styles.xml", styles),
        ("xl/sharedStrings.xml", strings),
        ("xl/worksheets/sheet1.xml", sheet),
    ])
}

fn open_document(rows: &[u8]) -> Vec<u8> {
    let names = "xmlns:office=\"o\" xmlns:table=\"t\" xmlns:text=\"x\"";
    let before =
        format!("<office:document-content {names}><office:body><office:spreadsheet><table:table table:name=\"S\">");
    let behind = "</table:table></office:spreadsheet></office:body></office:document-content>";
    [before.as_bytes(), rows, behind.as_bytes()].concat()
}

fn open(content: &[u8]) -> Vec<u8> {
    zipped(&[
        ("mimetype", b"application/vnd.oasis.opendocument.spreadsheet"),
        ("META-INF/manifest.xml", b"<manifest:manifest xmlns:manifest=\"m\"/>"),
        ("content.xml", content),
    ])
}

fn zipped(entries: &[(&str, &[u8])]) -> Vec<u8> {
    let mut archive = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, bytes) in entries {
        archive.start_file(*name, SimpleFileOptions::default().compression_method(CompressionMethod::Stored)).unwrap();
        archive.write_all(bytes).unwrap();
    }
    archive.finish().unwrap().into_inner()
}
