//! What must hold for every file: places agree with a naive count, and no bytes make the reading fail.

use proptest::prelude::*;

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
    fn a_damaged_workbook_is_a_finding(position in 0_usize..6_000, byte in any::<u8>()) {
        let mut bytes = include_bytes!("../../tests/survey_forms/survey.xlsx").to_vec();
        if let Some(slot) = bytes.get_mut(position) {
            *slot = byte;
        }
        let reading = read(&bytes, &ReadOptions::new("site.xlsx"));
        prop_assert!(!reading.survey.enclosures.is_empty() || !reading.findings.is_empty());
    }
}
