//! Files of rows: bytes into cells by column, each knowing its place, whatever the columns are.
//!
//! A survey and a supplies file are read by the same machinery; each brings its columns and what a row comes to.

pub mod column;
pub mod spelling;
pub mod value;

mod alike;
mod columns;
mod few;
mod keyed;
mod reader;
pub(crate) mod word_list;

mod decoding;
mod delimited;

mod archive;
mod markup;
mod shown;
mod workbook;

mod source;

mod correction;

mod desk;
mod header;
mod records;
mod rows;

mod cells;
mod names;

pub(crate) mod cell;

pub use column::{Heading, OtherFile};
pub use columns::Columns;
pub use correction::{Correction, Uncorrectable};
pub use few::Few;
pub use reader::{Form, ReadOptions};
pub use rows::is_hidden;
pub use word_list::WordList;

pub(crate) use alike::Alike;
pub(crate) use cells::RowCells;
pub(crate) use column::columns;
pub(crate) use columns::MOST_COLUMNS;
pub(crate) use desk::{Aside, Desk};
pub(crate) use keyed::Keyed;
pub(crate) use reader::{Table, read};
pub(crate) use rows::Onward;
pub(crate) use source::{Source, index, number};

#[cfg(test)]
pub(crate) mod testing;
