//! The survey as its author wrote it: typed rows, each value knowing its place.
//!
//! Reading never fails: it returns what could be understood together with everything that was wrong.

pub mod column;
pub mod record;

mod reader;

mod enclosures;
mod likeness;
mod row;
mod together;

pub use crate::table::{Correction, Form, Uncorrectable, is_hidden, value};
pub use column::{Column, Level};
pub use reader::{ReadOptions, Reading, read};
pub use record::{Enclosure, Further, Particulars, Row, Survey};

#[cfg(test)]
mod code_tests;
#[cfg(test)]
mod properties;
#[cfg(test)]
mod tests;
