//! The voltages of two versions of a notice, held against each other whatever language they are in.

/// A figure with its meaning taken apart: `up to 460 V between conductors`.
#[derive(Clone, Debug, PartialEq)]
struct Shown<'a> {
    /// What stands between the number and the end of the figure, and the meaning: `V`, `between conductors`.
    of: (&'a str, &'a str),
    /// The number; `None` where there is none to be read.
    volts: Option<f64>,
}

impl<'a> Shown<'a> {
    /// The figure is held together by no-break spaces, so its meaning begins behind the first plain one.
    fn of(text: &'a str) -> Self {
        let (figure, meaning) = text.split_once(' ').unwrap_or((text, ""));
        let start = figure.find(|c: char| c.is_ascii_digit()).unwrap_or(figure.len());
        let number = figure.get(start..).unwrap_or_default();
        let end = number.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(number.len());
        let (number, unit) = number.split_at_checked(end).unwrap_or((number, ""));
        Self { of: (unit, meaning), volts: number.parse().ok() }
    }
}

/// What an older figure says of a newer one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Covered<'a> {
    /// It is the same.
    Same,
    /// It shows as much or more, in other words.
    Enough(&'a str),
    /// It shows less.
    TooLow(&'a str),
    /// There is none of its kind.
    No,
}

/// What the older figures say of a newer one. A figure whose number cannot be read covers nothing but itself.
pub(super) fn covered<'a>(new: &str, old: &[&'a str]) -> Covered<'a> {
    if old.contains(&new) {
        return Covered::Same;
    }
    let shown = Shown::of(new);
    let alike = old.iter().map(|text| (*text, Shown::of(text))).filter(|(_, one)| one.of == shown.of);
    let highest =
        alike.filter_map(|(text, one)| Some((text, one.volts?))).max_by(|one, other| one.1.total_cmp(&other.1));
    match (highest, shown.volts) {
        (Some((text, old)), Some(new)) if old >= new => Covered::Enough(text),
        (Some((text, _)), _) => Covered::TooLow(text),
        (None, _) => Covered::No,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_compared_by_kind_and_meaning() {
        let old =
            ["230\u{a0}V to earth", "up\u{a0}to\u{a0}460\u{a0}V between conductors", "600\u{a0}V\u{a0}d.c. to earth"];
        let of = |new: &str| covered(new, &old);
        assert_eq!(of("230\u{a0}V to earth"), Covered::Same);
        assert_eq!(of("400\u{a0}V between conductors"), Covered::Enough(old[1]));
        assert_eq!(of("up\u{a0}to\u{a0}461\u{a0}V between conductors"), Covered::TooLow(old[1]));
        assert_eq!(of("400\u{a0}V to earth"), Covered::TooLow(old[0]), "600 V d.c. is another kind");
        assert_eq!(of("650.1\u{a0}V\u{a0}d.c. to earth"), Covered::TooLow(old[2]));
        assert_eq!(of("600\u{a0}V\u{a0}d.c. between conductors"), Covered::No);
        assert_eq!(of("a figure without a number"), Covered::No);
        assert_eq!(
            covered("1000\u{a0}V to earth", &["999.5\u{a0}V to earth"]),
            Covered::TooLow("999.5\u{a0}V to earth")
        );
    }
}
