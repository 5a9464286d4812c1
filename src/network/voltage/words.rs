//! Nominal voltages and earthing in words.

use crate::survey::value::{Current, Earthing, Nominal};

/// A nominal voltage and its earthing as far as they are said: `230/400 TN-S`, `600 d.c.`; empty where neither is.
#[must_use]
pub fn system_in_words(nominal: Option<Nominal>, earthing: Option<Earthing>) -> String {
    let nominal = nominal.map(nominal_in_words);
    let words = [nominal.as_deref(), earthing.map(earthing_in_words)];
    words.into_iter().flatten().filter(|word| !word.is_empty()).collect::<Vec<_>>().join(" ")
}

/// A nominal voltage without its unit: `230/400`, `600 d.c.`.
#[must_use]
pub fn nominal_in_words(nominal: Nominal) -> String {
    let figures = match (nominal.to_neutral, nominal.between) {
        (Some(neutral), Some(between)) => format!("{neutral}/{between}"),
        (Some(only), None) | (None, Some(only)) => only.to_string(),
        (None, None) => String::new(),
    };
    match nominal.current {
        Current::Ac => figures,
        Current::Dc => format!("{figures} d.c."),
    }
}

/// An earthing arrangement as the files spell it.
#[must_use]
pub const fn earthing_in_words(earthing: Earthing) -> &'static str {
    match earthing {
        Earthing::TnS => "TN-S",
        Earthing::TnCS => "TN-C-S",
        Earthing::TnC => "TN-C",
        Earthing::Tt => "TT",
        Earthing::It => "IT",
        Earthing::LineEarthed => "line-earthed",
        Earthing::Midpoint => "midpoint",
        Earthing::PoleEarthed => "pole-earthed",
        Earthing::PositiveEarthed => "positive-earthed",
        Earthing::NegativeEarthed => "negative-earthed",
        Earthing::Unearthed => "unearthed",
        Earthing::Selv => "SELV",
        Earthing::Pelv => "PELV",
        Earthing::Felv => "FELV",
    }
}
