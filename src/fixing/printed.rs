//! Where a record says that a notice was printed.

use std::collections::HashMap;

/// By the number of a notice what a record tells of its printing.
pub type Printings<'a> = HashMap<&'a str, Printed<'a>>;

/// What a record tells of the last printing of a notice.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Printed<'a> {
    /// It has none.
    #[default]
    Not,
    /// The copy of that day says something else than the notice.
    Otherwise(String),
    /// It says what the notice says.
    At {
        /// The day.
        day: String,
        /// The document; empty where it is not known.
        file: &'a str,
        /// Page and cell, from 1; 0 where they are not known.
        cell: (u32, u32),
        /// How many copies there are, of which the cell is the first.
        copies: u32,
        /// The sheet format.
        format: &'a str,
    },
}

impl Printed<'_> {
    /// Where to look for it; `fresh` says where it will lie on a fresh sheet.
    pub(super) fn in_words(&self, fresh: &str) -> String {
        match self {
            Self::Not => format!("not printed by the record; on fresh sheets: {fresh}"),
            Self::Otherwise(day) => {
                format!("do not fix the copy printed on {day}, it says something else; on fresh sheets: {fresh}")
            }
            Self::At { day, file, cell, copies, format } => {
                let place = match (*file, *cell) {
                    ("", _) => "document not known".to_owned(),
                    (file, (0, _)) => format!("{file}, cell not known"),
                    (file, (page, cell)) => format!("{file}, page {page}, cell {cell}"),
                };
                let first = if *copies > 1 { format!(", the first of {copies} copies") } else { String::new() };
                format!("printed on {day}: {place}{first} ({format})")
            }
        }
    }
}
