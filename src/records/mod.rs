//! What became of every notice: printed, fixed, inspected, replaced, withdrawn, destroyed; kept in a file that only grows,
//! one line an entry, and what follows from it.
//!
//! An [`Entry`] is a line of the file ([`mod@line`]), [`read`] takes the file apart, and a [`Ledger`] knows what stands on site
//! by it. A [`Statement`] is what a notice said when it was printed, kept so that it can be held against what a survey says
//! now.

pub mod changes;
pub mod due;
pub mod line;
pub mod list;
pub mod pages;

mod again;
mod entry;
mod file;
mod ledger;
mod marking;
mod refusal;
mod revision;
mod statement;
mod words;

pub use again::{PrintedFile, Spot, as_one_run};
pub use entry::{Condition, Entry, Event, Lasts, Print};
pub use file::{MARK, Reading, Torn, is_record, read};
pub use ledger::{Known, Ledger, Standing};
pub use marking::{Deed, Mark, Marked, Marking, Told};
pub use refusal::Refusal;
pub use revision::{Issue, issue};
pub use statement::{Kind, Part, Statement};

#[cfg(test)]
pub(crate) mod testing;

#[cfg(test)]
mod tests;
