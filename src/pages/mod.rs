//! Running text, tables and pictures that flow over pages: everything for documents that are read, not fixed.
//!
//! A [`Section`] is a list of [`Block`]s and starts on a page of its own. [`Stationery`] lays it onto [`Leaf`]s, which
//! do not know their number yet; so a long document can be laid section by section, on any thread, first to count its
//! pages and then to write them. What the faces cannot show is shown as the number of its character, never left out.

mod block;
mod letters;
mod style;

mod form;
mod picture;
mod strip;
mod table;

mod flow;
mod stationery;

mod book;
pub mod cautions;
mod enlarge;
mod identity;
mod logo;
pub mod texts;

pub use block::{Block, Cell, Column, Field, Form, Inside, Picture, Section, Table, Target, Text};
pub use book::{Book, Document};
pub use identity::{Identity, Revision};
pub use logo::{LogoFault, logo};
pub use stationery::{House, Laid, Leaf, Stationery};
pub use style::Style;

#[cfg(test)]
mod tests;
