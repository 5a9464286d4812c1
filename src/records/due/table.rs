//! What is due as a table, for CSV.

use super::Row;
use crate::schedule::{Column, Listed, Value};

/// The names of the columns.
#[must_use]
pub fn columns() -> Vec<&'static str> {
    Row::columns().iter().map(|column| column.name).collect()
}

impl Row<'_> {
    /// The further causes, `; ` between.
    #[must_use]
    pub fn also(&self) -> String {
        let also = |cause: &super::Cause| format!("{} {}: {}", cause.reason.name(), cause.day, cause.why);
        self.causes.iter().skip(1).map(also).collect::<Vec<_>>().join("; ")
    }

    fn of_print(&self, text: fn(&crate::records::Print) -> &str) -> Value<'_> {
        self.print.map_or(Value::Nothing, |print| Value::text(text(print)))
    }
}

impl Listed for Row<'_> {
    const SHEET: &'static str = "Due";
    const TABLE: &'static str = "Due";

    fn columns() -> Vec<Column<Self>> {
        let column = |name, width, value: fn(&Self) -> Value<'_>| Column { name, width, value };
        vec![
            column("number", 16, |row| Value::text(row.number)),
            column("designation", 14, |row| row.of_print(|print| &print.designation)),
            column("area", 16, |row| row.of_print(|print| &print.area)),
            column("position", 18, |row| row.of_print(|print| &print.position)),
            column("place", 18, |row| Value::text(row.place)),
            column("state", 8, |row| Value::text(row.state())),
            column("reason", 12, |row| row.first().map_or(Value::Nothing, |cause| Value::text(cause.reason.name()))),
            column("since", 12, |row| row.first().map_or(Value::Nothing, |cause| cause.day.to_string().into())),
            column("to_do", 32, |row| row.to_do().into()),
            column("why", 40, |row| row.first().map_or(Value::Nothing, |cause| Value::text(&cause.why))),
            column("also", 40, |row| row.also().into()),
        ]
    }
}
