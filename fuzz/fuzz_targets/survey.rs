//! Bytes as a survey: every finding lies inside the file, and what was understood hangs together.
#![no_main]

use std::collections::BTreeSet;

use libfuzzer_sys::fuzz_target;
use noticewright::survey::{ReadOptions, read};
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
});

fn rows(survey: &noticewright::survey::Survey) -> impl Iterator<Item = u32> + '_ {
    survey.enclosures.iter().flat_map(|enclosure| enclosure.rows.iter().map(|row| row.record))
}
