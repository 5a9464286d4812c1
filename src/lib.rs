//! From a survey of electrical enclosures to durable warning notices, ready to print.
//!
//! The modules below stand in the order in which a survey flows to paper, and each may use only
//! what stands before it:
//!
//! 1. [`table`] takes a file of rows apart, so that [`survey`] gets typed rows, each value knowing its line, column
//!    and cell;
//! 2. [`supplies`] reads the second file in the same way: the network behind the isolators; [`standing`] a third: notices
//!    that a designer lists whatever the survey says;
//! 3. [`network`] joins the two: what feeds what, what isolates what, how high the voltage is, and whether opening what
//!    a notice lists leaves anything live;
//! 4. [`rules`] decides which notice each enclosure and each isolator needs, and why;
//! 5. [`wording`] and [`notice`] say it in words, without a millimetre;
//! 6. [`typesetting`] gives the words their place and size: one finished [`drawing`] a notice;
//! 7. [`material`] knows what labels are made of and what that stands up to; [`sheets`] lays the drawings out on the
//!    cells of a label sheet;
//! 8. [`writers`] turn the pages into bytes;
//! 9. [`reading_back`] reads those bytes again with a reader that is not ours, and holds them against the survey;
//! 10. [`diagram`] draws the supplies of one enclosure as a one-line diagram;
//! 11. [`pages`] lets text, tables and pictures flow over pages; [`approval`] shows on them every notice beside its
//!     reasons, [`schedule`] lists them all for whoever keeps them, [`cards`] makes an isolation card of each enclosure,
//!     [`fixing`] the list by which notices are fixed;
//! 12. [`records`] keeps what became of every notice, and tells what is due, no longer true, or to be printed again;
//! 13. [`files`] is the only door to the disk, [`cli`] the only part that knows arguments.

pub mod finding;
pub mod length;
pub mod limits;
mod relay;

pub mod drawing;

pub mod table;

pub mod survey;

pub mod supplies;

pub mod standing;

pub mod network;
pub mod rules;

pub mod notice;
pub mod wording;

pub mod typesetting;

pub mod material;

pub mod sheets;
pub mod writers;

pub mod reading_back;

pub mod diagram;

pub mod pages;

pub mod prepared;

pub mod approval;
pub mod cards;
pub mod fixing;
pub mod schedule;

pub mod records;

pub mod files;
pub mod job;

pub mod cli;
