//! The live conductors that a cell names.

use super::super::value::{Conductor, Conductors};
use super::{Fault, Parsed};
use crate::finding::code;

/// Live conductors: `L1 L2 L3 N`, `+ -` or `L+ L-`, `M` for a midpoint, with blanks, `,`, `/` or `;` between, each of them once.
pub(crate) fn conductors(text: &str) -> Parsed<Conductors> {
    let mut found = Conductors::default();
    let mut unnamed_line = false;
    let mut twice = None;
    for word in text.split(|c: char| c.is_whitespace() || matches!(c, ',' | '/' | ';')).filter(|word| !word.is_empty())
    {
        match add(&mut found, word, &mut twice) {
            Some(()) => {}
            None if word.eq_ignore_ascii_case("L") => unnamed_line = true,
            None => return not_understood(format!("`{word}` is not a live conductor")).into(),
        }
    }
    if unnamed_line {
        return Fault::new(code::LINE_NOT_NAMED, format!("`{text}` does not say which line it is"))
            .help("write `L1`, `L2` or `L3`; until then the voltage to the conductors of other circuits is unknown")
            .into();
    }
    if let Some(twice) = twice {
        // Two lines of which one is misspelt stand at more to each other than one to earth.
        return Fault::new(code::CONDUCTORS_NOT_UNDERSTOOD, format!("`{text}` names {twice} twice"))
            .help("name each live conductor once; what another circuit brings stands in a row of its own")
            .into();
    }
    if found.has_pole() && !found.iter().all(is_direct) {
        return not_understood(format!("`{text}` mixes conductors of a.c. and d.c.")).into();
    }
    Parsed::good(found)
}

/// Adds the conductors of one word, which may hold several: `L1L2L3N`. `None` if it holds anything else. Notes
/// one that was there before.
fn add(conductors: &mut Conductors, word: &str, twice: &mut Option<String>) -> Option<()> {
    let mut insert = |conductor: Conductor, name: &str| {
        if conductors.contains(conductor) {
            *twice = Some(format!("`{name}`"));
        }
        conductors.insert(conductor);
    };
    // Designations of the poles with and without the letter: `L+`, `+`.
    let pole = match word {
        "+" | "L+" | "l+" => Some(Conductor::Positive),
        "-" | "\u{2212}" | "\u{2013}" | "L-" | "l-" | "L\u{2212}" | "L\u{2013}" => Some(Conductor::Negative),
        "M" | "m" => Some(Conductor::Midpoint),
        _ => None,
    };
    if let Some(pole) = pole {
        insert(pole, word);
        return Some(());
    }
    let mut letters = word.chars();
    while let Some(letter) = letters.next() {
        let (conductor, name) = match letter.to_ascii_uppercase() {
            'N' => (Conductor::N, "N"),
            'L' => match letters.next()? {
                '1' => (Conductor::L1, "L1"),
                '2' => (Conductor::L2, "L2"),
                '3' => (Conductor::L3, "L3"),
                _ => return None,
            },
            _ => return None,
        };
        insert(conductor, name);
    }
    Some(())
}

fn is_direct(conductor: Conductor) -> bool {
    matches!(conductor, Conductor::Positive | Conductor::Negative | Conductor::Midpoint)
}

fn not_understood(message: String) -> Fault {
    Fault::new(code::CONDUCTORS_NOT_UNDERSTOOD, message)
        .help("name the live conductors only: `L1`, `L2 N`, `L1 L2 L3 N`, or `+ -` for d.c.")
}

#[cfg(test)]
mod tests {
    use super::*;
    use Conductor::{L1, L2, L3, Midpoint, N, Negative, Positive};

    #[test]
    fn conductors_are_read_in_every_usual_form() {
        for (text, expected) in [
            ("L1 L2 L3 N", &[L1, L2, L3, N][..]),
            ("L1,L2, L3/N", &[L1, L2, L3, N]),
            ("l1l2l3n", &[L1, L2, L3, N]),
            ("L2;N", &[L2, N]),
            ("+ -", &[Positive, Negative]),
            ("+/-", &[Positive, Negative]),
            ("+ M -", &[Positive, Negative, Midpoint]),
            ("L+ L-", &[Positive, Negative]),
            ("l+/L\u{2212} M", &[Positive, Negative, Midpoint]),
            ("N", &[N]),
        ] {
            assert_eq!(conductors(text), Parsed::good(expected.into()), "{text}");
        }
    }

    #[test]
    fn what_is_no_live_conductor_is_refused() {
        for (text, expected) in [
            ("L1 PE", code::CONDUCTORS_NOT_UNDERSTOOD),
            ("L4", code::CONDUCTORS_NOT_UNDERSTOOD),
            ("L1 +", code::CONDUCTORS_NOT_UNDERSTOOD),
            ("L N", code::LINE_NOT_NAMED),
            ("L1 L1", code::CONDUCTORS_NOT_UNDERSTOOD),
            ("L1L2L2N", code::CONDUCTORS_NOT_UNDERSTOOD),
            ("L+ +", code::CONDUCTORS_NOT_UNDERSTOOD),
            ("L+ L1", code::CONDUCTORS_NOT_UNDERSTOOD),
            ("+ - +", code::CONDUCTORS_NOT_UNDERSTOOD),
        ] {
            assert_eq!(conductors(text).fault.map(|f| f.code), Some(expected), "{text}");
        }
    }
}
