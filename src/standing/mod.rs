//! The list of standing notices: a third file, one row for each notice whose words a standard prescribes or that is good
//! practice whatever the survey says: periodic inspection, test of residual current devices, earthing connections.
//!
//! Reading never fails: it returns what could be understood together with everything that was wrong.

pub mod column;
pub mod date;
pub mod record;

mod entries;
mod reader;

pub use column::StandingColumn;
pub use date::Date;
pub use reader::{ReadOptions, Reading, read};
pub use record::{Entry, Kind, Standing};

#[cfg(test)]
mod tests;
