//! From a survey of electrical enclosures to durable warning notices, ready to print.
//!
//! The modules below stand in the order in which a survey flows to paper, and each may use only
//! what stands before it:
//!
//! 1. [`survey`] reads bytes into typed rows, each value knowing its line, column and cell;
//! 2. [`network`] joins the rows: what feeds what, what isolates what, how high the voltage is;
//! 3. [`rules`] decides which notice each enclosure and each isolator needs, and why;
//! 4. [`wording`] and [`notice`] say it in words, without a millimetre;
//! 5. [`typesetting`] gives the words their place and size: one finished [`drawing`] a notice;
//! 6. [`sheets`] lays the drawings out on the cells of a label sheet;
//! 7. [`writers`] turn the pages into bytes;
//! 8. [`files`] is the only door to the disk, [`cli`] the only part that knows arguments.

pub mod finding;
pub mod length;
pub mod limits;

pub mod drawing;
pub mod survey;

pub mod network;
pub mod rules;

pub mod notice;
pub mod wording;

pub mod typesetting;

pub mod sheets;
pub mod writers;

pub mod files;
pub mod job;

pub mod cli;
