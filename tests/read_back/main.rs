//! A document read back: what is right reads clean, and each thing that is wrong is found with its page and its notice.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::string_slice,
    clippy::panic,
    reason = "a test that cannot go on stops"
)]

mod codes_and_boxes;
mod declared;
mod fixture;
mod hostile;
mod places;
mod standing;
mod texts;
