//! Bytes as a workbook, whole or as parts that get behind the layer of the archive.
#![no_main]

use libfuzzer_sys::fuzz_target;
use noticewright::survey::{Form, ReadOptions, read};
use noticewright_fuzz::{place, safety, workbook};

fuzz_target!(|bytes: &[u8]| {
    let book = workbook::of(bytes);
    let options = ReadOptions { form: Form::Workbook, ..ReadOptions::new("site.xlsx") };
    let reading = read(&book, &options);
    assert_eq!(reading, read(&book, &options), "two readings differ");
    assert!(
        !reading.findings.is_empty() || !reading.survey.enclosures.is_empty(),
        "nothing was read, and nothing said"
    );
    for place in reading.findings.iter().map(|finding| finding.place.as_ref().unwrap()) {
        // The last row and column that a spreadsheet of either format has.
        assert!((1..=1_048_576).contains(&place.line) && (1..=16_384).contains(&place.column), "{place:?}");
    }
    safety::rows(&reading.survey, place::most_records(b"PK"));
});
