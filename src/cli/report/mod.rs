//! Reports: the same findings and decisions for people, for editors and for scripts.

mod escape;
pub mod json;
pub mod quantities;
pub mod short;
pub mod text;

use crate::rules::{Voltage, Voltages};
use crate::survey::value::Current;

pub use escape::escape_for_terminal as visible;

use escape::{escape_for_terminal, push_escaped};

/// `1 notice`, `2 notices`.
#[must_use]
pub fn counted(count: usize, word: &str) -> String {
    format!("{count} {word}{}", if count == 1 { "" } else { "s" })
}

/// The highest voltages in words: `230 V to earth, up to 460 V between conductors`.
#[must_use]
pub fn voltages_in_words(voltages: &Voltages) -> String {
    let mut parts: Vec<String> = voltages.to_earth.iter().map(|one| format!("{} to earth", figure(*one))).collect();
    parts.extend(voltages.between.iter().map(|one| format!("{} between conductors", figure(*one))));
    if parts.is_empty() { "voltage unknown".to_owned() } else { parts.join(", ") }
}

fn figure(voltage: Voltage) -> String {
    let bound = if voltage.bound { "up to " } else { "" };
    let kind = match voltage.current {
        Current::Ac => "",
        Current::Dc => " d.c.",
    };
    format!("{bound}{} V{kind}", voltage.value)
}
