//! When a reader takes two designations of enclosures for one, though they are not written alike.

use crate::table::spelling;

/// A designation without case, blanks, hyphens and `_`; between two figures one blank is left for them. Only what is alike
/// in this form may be taken for one: `JB-1` and `JB1`, and neither `JB-1-12` and `JB-11-2` nor `JB1-2` and `JB12`.
pub(super) fn folded(name: &str) -> String {
    let mut folded = String::with_capacity(name.len());
    let (mut last, mut is_apart) = (None::<char>, false);
    for c in spelling::as_seen(name).chars() {
        if c.is_whitespace() || matches!(c, '-' | '_') {
            is_apart = true;
            continue;
        }
        if is_apart && c.is_numeric() && last.is_some_and(char::is_numeric) {
            folded.push(' ');
        }
        folded.extend(c.to_lowercase());
        (last, is_apart) = (Some(c), false);
    }
    folded
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn parts_of_other_figures_are_no_other_spelling() {
        for (one, other) in [
            ("JB-1", "JB1"),
            ("JB 1-2", "jb-1_2"),
            ("JB\u{2013}1", "JB 1"),
            ("Main board A", "Mainboard-A"),
            ("JB1 A", "JB1A"),
            ("CH1-A", "ch 1A"),
        ] {
            assert_eq!(folded(one), folded(other));
        }
        for (one, other) in [("JB-1-12", "JB-11-2"), ("JB1-2", "JB12"), ("1 12", "11 2")] {
            assert_ne!(folded(one), folded(other));
        }
    }
}
