//! Bytes into typed rows: the survey as its author wrote it, each value knowing its place.
//!
//! Reading never fails: it returns what could be understood together with everything that was wrong.

pub mod column;
pub mod record;
pub mod value;

mod reader;

mod decoding;
mod delimited;

mod archive;
mod markup;
mod workbook;

mod source;

mod desk;
mod header;
mod rows;

mod cell;
mod enclosures;
mod names;
mod row;

pub use column::{Column, Level};
pub use reader::{Form, ReadOptions, Reading, read};
pub use record::{Enclosure, Row, Survey};
pub use rows::is_hidden;

#[cfg(test)]
mod code_tests;
#[cfg(test)]
mod properties;
#[cfg(test)]
mod tests;
