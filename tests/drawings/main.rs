//! Drawings of notices: what they hold and where, for many notices, and a gallery in `target/gallery` to look at.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "a check that cannot go on fails, as it should"
)]

mod code_and_captions;
mod diagram;
mod gallery;
mod look;
mod misfits;
mod properties;
mod sample;
mod standing;
mod tags;
