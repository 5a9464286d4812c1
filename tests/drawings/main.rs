//! Drawings of notices, as lists of what they hold, and a gallery in `target/gallery` to look at.

mod gallery;
mod sample;
