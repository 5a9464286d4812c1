//! Cells written and read again: by our reader, and by a reader that is not ours.

use proptest::prelude::*;

use super::*;

/// Cells that a spreadsheet would calculate, or that look like marked ones.
const HOSTILE: [&str; 16] = [
    "=A1+B2-Q3",
    "'=A1+B2-Q3",
    "''=1",
    "'",
    "''",
    "'Q9'",
    "+Q1",
    "-Q2, board \"C\"",
    "@SUM(A1)",
    "\t=1",
    "\r",
    " =1",
    "\u{ff1d}1",
    "007",
    "line\nbreak",
    "Łódź – 400\u{a0}V",
];

fn written(rows: &[Vec<String>]) -> Vec<u8> {
    let mut out = Vec::new();
    let bytes = write_cells(&mut out, rows.to_vec()).unwrap();
    assert_eq!(usize::try_from(bytes).unwrap(), out.len());
    out
}

/// Read by the csv crate alone, as any other program would.
fn foreign(bytes: &[u8]) -> Vec<Vec<String>> {
    let bytes = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap();
    let mut reader = csv::ReaderBuilder::new().has_headers(false).flexible(true).from_reader(bytes);
    reader.records().map(|record| record.unwrap().iter().map(str::to_owned).collect()).collect()
}

#[test]
fn hostile_cells_are_marked_once_and_read_back_unchanged() {
    let row: Vec<String> = HOSTILE.map(str::to_owned).into();
    let bytes = written(std::slice::from_ref(&row));
    assert_eq!(read(&bytes).unwrap(), [row]);
    let seen = &foreign(&bytes)[0];
    assert_eq!(seen[0], "'=A1+B2-Q3");
    assert_eq!(seen[1], "''=A1+B2-Q3");
    assert_eq!(seen[2], "'''=1");
    assert_eq!(seen[3..6], ["'", "''", "'Q9'"]);
    assert_eq!(seen[13..], HOSTILE[13..]);
    assert!(seen.iter().all(|cell| !cell.trim_start().starts_with(['=', '+', '-', '@', '\t', '\r'])), "{seen:?}");
}

#[test]
fn the_form_is_that_of_rfc_4180() {
    // RFC 4180, 2.1 (CRLF), 2.6 and 2.7 (quotation marks).
    let text = String::from_utf8(written(&[vec!["a,b".into(), "say \"Q\"".into()], vec!["c".into()]])).unwrap();
    assert_eq!(text, "\u{feff}\"a,b\",\"say \"\"Q\"\"\"\r\nc\r\n");
}

/// Cells as they might be, and as an enemy would have them.
fn cell() -> impl Strategy<Value = String> {
    prop_oneof![any::<String>(), "[' ]{0,3}[=+@\t\r\n-]?[a-z\",']{0,3}"]
}

proptest! {
    #[test]
    fn any_cells_read_back_unchanged(rows in prop::collection::vec(prop::collection::vec(cell(), 2..5), 1..6)) {
        let bytes = written(&rows);
        prop_assert_eq!(read(&bytes).unwrap(), rows.clone());
        for cell in foreign(&bytes).iter().flatten() {
            prop_assert!(!cell.starts_with(['=', '+', '-', '@', '\t', '\r']), "{:?}", cell);
        }
    }
}
