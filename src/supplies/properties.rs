//! What must hold for every file: no bytes and no cells make the reading fail, and nothing said is lost without a word.

use proptest::prelude::*;

use super::{Kind, ReadOptions, SupplyColumn, read};
use crate::table::Form;

fn header() -> String {
    SupplyColumn::ALL.iter().map(|column| column.name()).collect::<Vec<_>>().join(",")
}

proptest! {
    #[test]
    fn no_bytes_make_the_reading_fail(bytes in prop::collection::vec(any::<u8>(), 0..300)) {
        for form in [Form::Detect, Form::Text, Form::Workbook] {
            let options = ReadOptions { form, ..ReadOptions::new("supplies.csv") };
            prop_assert!(!read(&bytes, &options).findings.is_empty());
        }
    }

    #[test]
    fn no_cells_make_the_reading_fail(rows in "([-?+@0-9a-zA-Z#!/.;:é\u{202E}\u{0} ,\"\n]{0,60}\n){0,6}") {
        let text = format!("{}\n{rows}", header());
        let reading = read(text.as_bytes(), &ReadOptions::new("supplies.csv"));
        for finding in &reading.findings {
            let place = finding.place.as_ref().unwrap();
            prop_assert!(place.line as usize <= text.split('\n').count());
            prop_assert_eq!(finding.enclosure.as_deref(), None);
        }
        for device in &reading.supplies.devices {
            prop_assert!(!device.designation.is_empty());
            prop_assert!(device.fed_from.iter().chain(&device.in_step_with).all(|name| !name.trim().is_empty()));
        }
    }

    /// Each cell holds something that a practitioner could write, right or wrong.
    #[test]
    fn no_believable_cells_make_the_reading_fail(
        cells in prop::collection::vec(
            prop::sample::select(&["", "?", "-", "none", "yes", "Q1", "Q1 + Q2", "230/400", "110", "TT", "Dyn11",
                "proved", "3+N", "padlock", "coupled", "A8", "0.7", "sun; heat 70", "7-Jan", "#REF!"][..]),
            SupplyColumn::COUNT,
        ),
        kind in prop::sample::select(&Kind::ALL[..]),
    ) {
        let mut cells: Vec<&str> = cells;
        cells[SupplyColumn::Device as usize] = "X1";
        cells[SupplyColumn::Kind as usize] = kind.name();
        let reading = read(format!("{}\n{}\n", header(), cells.join(",")).as_bytes(), &ReadOptions::new("x"));
        prop_assert_eq!(reading.supplies.devices.len(), 1);
        let device = &reading.supplies.devices[0];
        prop_assert_eq!(device.kind, Some(kind));
        // What could not be understood is a finding or is said to be unknown, never silently nothing.
        let silent = ["", "-", "none"];
        if !silent.contains(&cells[SupplyColumn::Phasing as usize]) && device.phasing.is_none() {
            prop_assert!(!reading.findings.is_empty() || device.not_known.contains(SupplyColumn::Phasing));
        }
    }
}
