//! What the program makes, held against published standards, handbook tables and reference libraries. Each check names
//! its source; a figure that was recalled rather than read says so.
#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "a check that cannot go on fails, as it should")]

mod letters;
mod packing;
mod qr;
mod qr_reader;
mod standing;
