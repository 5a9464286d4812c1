//! Bytes as a survey: every finding lies inside the file, what was understood hangs together, and a cell that is corrected is
//! the only one that says something else.
#![no_main]

use std::collections::BTreeSet;

use libfuzzer_sys::fuzz_target;
use noticewright::survey::{Correction, ReadOptions, Survey, read};
use noticewright_fuzz::{place, safety};

fuzz_target!(|bytes: &[u8]| {
    let options = ReadOptions::new("site.csv");
    let reading = read(bytes, &options);
    assert_eq!(reading, read(bytes, &options), "two readings differ");
    assert!(
        !reading.findings.is_empty() || !reading.survey.enclosures.is_empty(),
        "nothing was read, and nothing said"
    );
    place::inside(bytes, "site.csv", &reading.findings);
    safety::rows(&reading.survey, place::most_records(bytes));
    let places: Vec<_> = rows(&reading.survey).map(|record| reading.survey.row_place(record).line).collect();
    assert!(places.iter().collect::<BTreeSet<_>>().len() == places.len(), "two rows share a line: {places:?}");
    corrected(bytes, &reading.survey, &options);
});

/// So many rows are compared.
const COMPARED: usize = 64;

fn corrected(bytes: &[u8], survey: &Survey, options: &ReadOptions) {
    let (Ok(rows @ 1..), columns @ 1..) = (u32::try_from(survey.rows()), survey.headers().len()) else { return };
    let (Ok(seed), cell) = (u32::try_from(bytes.len()), bytes.len() % columns) else { return };
    let row = seed % rows;
    let before = survey.cells(row).get(cell).cloned().unwrap_or_default();
    let correction = Correction { row, cell, before, after: "x\"y, z".to_owned() };
    let Ok(new) = survey.corrected(bytes, None, &correction) else { return };
    let again = read(&new, options).survey;
    assert_eq!(again.rows(), survey.rows(), "rows come or go");
    for other in (0..rows).take(COMPARED).chain([row]) {
        let (mut expected, found) = (survey.cells(other), again.cells(other));
        if other == row {
            expected.resize(expected.len().max(cell + 1), String::new());
            expected[cell].clone_from(&correction.after);
        }
        assert_eq!(found, expected, "row {other}");
    }
}

fn rows(survey: &Survey) -> impl Iterator<Item = u32> + '_ {
    survey.enclosures.iter().flat_map(|enclosure| enclosure.rows.iter().map(|row| row.record))
}
