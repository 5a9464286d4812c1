//! What was found in survey and supplies file.

use super::column::{Column, Listed, Value};
use crate::finding::{Finding, Place};

/// One finding.
#[derive(Clone, Copy, Debug)]
pub struct FindingRow<'a> {
    /// The finding.
    pub finding: &'a Finding,
}

impl FindingRow<'_> {
    /// Where it was found.
    #[must_use]
    pub fn place(&self) -> String {
        self.finding.place.as_ref().map(Place::in_words).unwrap_or_default()
    }
}

impl Listed for FindingRow<'_> {
    const SHEET: &'static str = "Findings";
    const TABLE: &'static str = "findings";

    fn columns() -> Vec<Column<Self>> {
        vec![
            Column::new("severity", 10, |row| Value::text(row.finding.severity().name())),
            Column::new("code", 28, |row| Value::text(row.finding.code.name)),
            Column::new("enclosure", 16, |row| Value::text(row.finding.enclosure.as_deref().unwrap_or_default())),
            Column::new("what was found", 70, |row| Value::text(&row.finding.message)),
            Column::new("what to do", 60, |row| Value::text(row.finding.help.as_deref().unwrap_or_default())),
            Column::new("where", 44, |row| row.place().into()),
        ]
    }
}
