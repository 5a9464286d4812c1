//! The columns of a table: one place for what CSV and workbook say of a row.

use std::borrow::Cow;

/// What stands in one cell.
#[derive(Clone, Debug, PartialEq)]
pub enum Value<'a> {
    /// Words; always words, whatever they look like.
    Text(Cow<'a, str>),
    /// A number, in the unit that the column's name gives.
    Number(f64),
    /// Nothing is said.
    Nothing,
}

impl<'a> Value<'a> {
    /// Words that are there already.
    #[must_use]
    pub const fn text(words: &'a str) -> Self {
        Self::Text(Cow::Borrowed(words))
    }

    /// Its words; of a number, none.
    pub(super) fn words(&self) -> &str {
        match self {
            Self::Text(words) => words,
            Self::Number(_) | Self::Nothing => "",
        }
    }

    /// A count, such as that of notices.
    #[must_use]
    pub fn count(count: usize) -> Self {
        Self::Number(u32::try_from(count).map_or(f64::INFINITY, f64::from))
    }
}

impl From<String> for Value<'_> {
    fn from(words: String) -> Self {
        Self::Text(Cow::Owned(words))
    }
}

impl From<Option<f64>> for Value<'_> {
    fn from(number: Option<f64>) -> Self {
        number.map_or(Value::Nothing, Value::Number)
    }
}

/// One column of a table of rows.
#[derive(Clone, Copy, Debug)]
pub struct Column<R> {
    /// What stands over it; names its unit where it holds numbers.
    pub name: &'static str,
    /// How many characters wide it is in a workbook.
    pub width: u8,
    /// What it holds of a row.
    pub value: fn(&R) -> Value<'_>,
}

impl<R> Column<R> {
    /// A column.
    pub(super) const fn new(name: &'static str, width: u8, value: fn(&R) -> Value<'_>) -> Self {
        Self { name, width, value }
    }
}

/// A kind of row that stands in a table of its own.
pub trait Listed: Sized {
    /// The name of its sheet in a workbook: at most 31 characters, none of `[]:*?/\`.
    const SHEET: &'static str;
    /// The name of its table there: letters and underscores.
    const TABLE: &'static str;

    /// Its columns from left to right.
    fn columns() -> Vec<Column<Self>>;
}

/// Words with semicolons between.
pub(super) fn joined(words: impl IntoIterator<Item = String>) -> String {
    words.into_iter().collect::<Vec<_>>().join("; ")
}
