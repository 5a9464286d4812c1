//! The local page: asked as a browser asks it, and used in a browser that is not ours.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::string_slice,
    clippy::print_stderr,
    clippy::disallowed_methods,
    reason = "a test that cannot go on stops, and looks at the disk by itself"
)]

#[path = "judge/mod.rs"]
mod judge;

#[path = "page/browser.rs"]
mod browser;
#[path = "page/requests.rs"]
mod requests;
#[path = "page/served.rs"]
mod served;
#[path = "page/used.rs"]
mod used;
