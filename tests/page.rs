//! The local page: asked as a browser asks it, and used in a browser that is not ours.

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
