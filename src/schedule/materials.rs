//! Materials and quantities: what is to be ordered, and how long it may be expected to last.

use super::column::{Column, Listed, Value};
use crate::sheets::{Quantity, paper_name};

/// What is needed of one sheet format.
#[derive(Clone, Copy, Debug)]
pub struct MaterialRow<'a> {
    /// The quantity.
    pub quantity: &'a Quantity,
}

impl MaterialRow<'_> {
    /// Square metres to four decimals: the material that is used up, and the notices in it.
    #[must_use]
    pub fn areas(&self) -> (f64, f64) {
        let rounded = |area: f64| (area * 10_000.0).round() / 10_000.0;
        (rounded(self.quantity.material_area()), rounded(self.quantity.notice_area()))
    }

    /// `8 of 105 x 74 mm, 2 of 148 x 105 mm`
    #[must_use]
    pub fn sizes(&self) -> String {
        self.quantity.sizes.iter().map(|one| format!("{} of {}", one.notices, one.size)).collect::<Vec<_>>().join(", ")
    }

    /// How the mark is tried, and what is expected of it.
    #[must_use]
    pub fn rub_test(&self) -> String {
        self.quantity.rub_test.map_or_else(|| "not known".to_owned(), |test| test.to_string())
    }

    /// Usual life indoors and in the open.
    #[must_use]
    pub fn lives(&self) -> (String, String) {
        let unknown = || ("not known".to_owned(), "not known".to_owned());
        self.quantity.lives.map_or_else(unknown, |(indoors, outdoors)| (indoors.to_string(), outdoors.to_string()))
    }
}

impl Listed for MaterialRow<'_> {
    const SHEET: &'static str = "Materials and quantities";
    const TABLE: &'static str = "materials";

    fn columns() -> Vec<Column<Self>> {
        vec![
            Column::new("sheet format", 18, |row| Value::text(&row.quantity.format.name)),
            Column::new("paper", 14, |row| paper_name(row.quantity.format.paper).into()),
            Column::new("sheets or labels off a roll", 12, |row| Value::count(row.quantity.sheets)),
            Column::new("notices", 9, |row| Value::count(row.quantity.notices())),
            Column::new("sizes", 30, |row| row.sizes().into()),
            Column::new("material", 26, |row| Value::text(row.quantity.material())),
            Column::new("stock", 9, |row| Value::text(row.quantity.stock().name())),
            Column::new("process", 16, |row| Value::text(row.quantity.process().name())),
            Column::new("material, m²", 10, |row| Value::Number(row.areas().0)),
            Column::new("notices, m²", 10, |row| Value::Number(row.areas().1)),
            Column::new("rub test", 34, |row| row.rub_test().into()),
            Column::new("usual life indoors", 18, |row| row.lives().0.into()),
            Column::new("usual life in the open", 18, |row| row.lives().1.into()),
            Column::new("notices whose environment is not said", 14, |row| {
                Value::count(row.quantity.environment_unknown)
            }),
            Column::new("notices whose surface is not said", 14, |row| Value::count(row.quantity.surface_unknown)),
        ]
    }
}
