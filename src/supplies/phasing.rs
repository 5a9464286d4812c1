//! What is known of the lines at the output of a device: the word `proved`, or the vector group of a transformer.

use super::record::Phasing;
use crate::finding::code;
use crate::table::cell::{Fault, Parsed};

/// How a winding is connected.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Winding {
    /// Star.
    Star,
    /// Delta.
    Delta,
    /// Zigzag.
    Zigzag,
    /// One phase alone.
    Single,
    /// Common with the first winding.
    Auto,
}

/// How a transformer of one winding is described.
pub(super) const AUTOTRANSFORMER: &str =
    "describe an autotransformer as `busbar`: what comes to one side of it, and the neutral, comes to the other";

/// `proved`, or the vector group of a transformer.
pub(super) fn phasing(text: &str) -> Parsed<Phasing> {
    if text.eq_ignore_ascii_case("proved") {
        return Parsed::good(Phasing::Proved);
    }
    match vector_group(&text.split_whitespace().collect::<String>()) {
        // It would pass for one whose windings are apart.
        Some((_, Winding::Auto, _)) => {
            let message = format!("`{text}` is the group of an autotransformer, whose two sides are joined");
            Fault::new(code::PHASING_NOT_UNDERSTOOD, message).help(AUTOTRANSFORMER).into()
        }
        Some((first, second, clock)) if is_possible(first, second, clock) => Parsed::good(Phasing::Clock(clock)),
        Some(_) => not_understood(format!("windings connected so cannot have the clock number of `{text}`")).into(),
        None => not_understood(format!("`{text}` is neither `proved` nor a vector group")).into(),
    }
}

fn not_understood(message: String) -> Fault {
    Fault::new(code::PHASING_NOT_UNDERSTOOD, message)
        .help("write `proved` where line 1 is line 1 of what feeds it, for a transformer its vector group: `Dyn11`")
}

/// A vector group of two windings (IEC 60076-1, connection symbols): the letters of both, each with an `N` where its
/// neutral is brought out, and the clock number from 0 to 11. Capitals and small letters are not told apart.
fn vector_group(text: &str) -> Option<(Winding, Winding, u8)> {
    let letters = text.trim_end_matches(|c: char| c.is_ascii_digit());
    let number = text.get(letters.len()..).filter(|number| (1..=2).contains(&number.len()))?;
    let clock = number.parse().ok().filter(|clock| *clock <= 11 && number != format!("0{clock}"))?;
    let mut letters = letters.chars().map(|letter| letter.to_ascii_lowercase()).peekable();
    let mut winding = || {
        let winding = match letters.next()? {
            'y' => Winding::Star,
            'd' => Winding::Delta,
            'z' => Winding::Zigzag,
            'i' => Winding::Single,
            'a' => Winding::Auto,
            _ => return None,
        };
        let has_neutral = letters.next_if_eq(&'n').is_some();
        (!has_neutral || matches!(winding, Winding::Star | Winding::Zigzag | Winding::Auto)).then_some(winding)
    };
    let windings = (winding()?, winding()?);
    letters.next().is_none().then_some((windings.0, windings.1, clock))
}

/// A star turns by an even number of hours against a star, a delta or zigzag by an odd one; single phases and common
/// windings do not turn but by half a circle (follows from the geometry of the windings).
fn is_possible(first: Winding, second: Winding, clock: u8) -> bool {
    let is_turned = |winding| matches!(winding, Winding::Delta | Winding::Zigzag);
    match (first, second) {
        (Winding::Auto, _) | (_, Winding::Auto) => false,
        (Winding::Single, Winding::Single) => clock == 0 || clock == 6,
        (Winding::Single, _) | (_, Winding::Single) => false,
        (first, second) => (is_turned(first) != is_turned(second)) == (clock % 2 == 1),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn vector_groups_in_common_use_are_read() {
        // IEC 60076-1, annex on connections in common use; the single-phase and auto-connected symbols: from memory.
        for (text, clock) in [
            ("Dyn11", 11),
            ("Dyn1", 1),
            ("Dyn5", 5),
            ("Yyn0", 0),
            ("YNyn0", 0),
            ("Yzn5", 5),
            ("Yzn11", 11),
            ("Dd0", 0),
            ("Dd6", 6),
            ("Dzn0", 0),
            ("YNd11", 11),
            ("Yd1", 1),
            ("Yy6", 6),
            ("Ii0", 0),
            ("dyn11", 11),
            ("Dyn 11", 11),
        ] {
            assert_eq!(phasing(text), Parsed::good(Phasing::Clock(clock)), "{text}");
        }
        assert_eq!(phasing("Proved"), Parsed::good(Phasing::Proved));
    }

    #[test]
    fn an_autotransformer_is_said_to_be_described_otherwise() {
        let help = |text| phasing(text).fault.and_then(|fault| fault.help).unwrap_or_default();
        assert!(help("YNa0").contains("as `busbar`"), "{}", help("YNa0"));
        assert!(!help("Yx0").contains("as `busbar`"), "{}", help("Yx0"));
    }

    #[test]
    fn what_no_transformer_can_be_is_refused() {
        for text in [
            "yes",
            "11",
            "Dyn",
            "Dyn12",
            "Dyn011",
            "Dyn-1",
            "Dyn1.5",
            "Dn",
            "DNyn11",
            "Dynn11",
            "Dyn11yn11",
            "Xyn0",
            "Dyn6",
            "Yyn5",
            "Yzn0",
            "Dd11",
            "Ii3",
            "Iy0",
            "ay0",
            "YNa0",
            "Da0",
            "proven",
            "Δyn11",
        ] {
            let fault = phasing(text).fault.map(|fault| fault.code);
            assert_eq!(fault, Some(code::PHASING_NOT_UNDERSTOOD), "{text}");
        }
    }
}
