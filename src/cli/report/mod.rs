//! Reports: the same findings and decisions for people, for editors and for scripts.

pub mod changes;
pub mod due;
mod escape;
pub mod following;
pub mod json;
pub mod marks;
pub mod quantities;
pub mod short;
mod standing;
pub mod text;

pub use escape::escape_for_terminal as visible;

use escape::{escape_for_terminal, push_escaped};

/// `1 notice`, `2 notices`.
#[must_use]
pub fn counted(count: usize, word: &str) -> String {
    format!("{count} {word}{}", if count == 1 { "" } else { "s" })
}
