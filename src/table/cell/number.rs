//! Cells that hold a number, with or without its unit, held against what is sensible.

use std::borrow::Cow;

use super::{Fault, Parsed};
use crate::finding::code;
use crate::length::Length;

/// Which decimal signs a file may use.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Decimals {
    /// The comma separates cells: only the point is one.
    Point,
    /// A comma is one as well.
    PointOrComma,
}

/// What a number may be: outside `sensible` it is an error, outside `usual` a warning.
pub(super) struct Range {
    pub(super) sensible: (f64, f64),
    pub(super) usual: (f64, f64),
    pub(super) unit: &'static str,
}

/// A number that is followed by one of these units, or by none. Units are compared without case, spaces and stops.
pub(super) fn with_unit(text: &str, units: &[&str], decimals: Decimals) -> Result<f64, Fault> {
    let (figures, unit) = split_unit(text);
    if !unit.is_empty() && !units.iter().any(|known| *known == unit) {
        return Err(not_a_number(text));
    }
    plain(figures, decimals)
}

/// The figures at the start of a text, and what follows them in small letters without spaces and stops.
pub(super) fn split_unit(text: &str) -> (&str, String) {
    let text = text.trim();
    if is_figures(text) {
        return (text, String::new());
    }
    let end = text.find(|c: char| !c.is_ascii_digit() && !matches!(c, '+' | '-' | '\u{2212}' | '.' | ',' | ' '));
    let (figures, unit) = text.split_at_checked(end.unwrap_or(text.len())).unwrap_or((text, ""));
    let unit = unit.chars().filter(|c| !c.is_whitespace() && *c != '.').flat_map(char::to_lowercase).collect();
    (figures.trim(), unit)
}

/// A plain decimal number: a sign, figures, one decimal sign. No exponent, no `NaN`, no grouping of thousands.
pub(super) fn plain(text: &str, decimals: Decimals) -> Result<f64, Fault> {
    if let Some(whole) = Some(text).filter(|text| is_figures(text)).and_then(|text| text.parse::<u32>().ok()) {
        return Ok(f64::from(whole));
    }
    let mut written = Cow::Borrowed(text);
    if !text.is_ascii() {
        written = Cow::Owned(text.replace('\u{2212}', "-"));
    }
    if written.contains(',') {
        match decimals {
            Decimals::PointOrComma if !groups_thousands(&written) => {
                written = Cow::Owned(written.replace(',', "."));
            }
            Decimals::PointOrComma | Decimals::Point => {
                return Err(not_a_number(text).help("write it without a thousands separator, and with a decimal point"));
            }
        }
    }
    let figures = written.strip_prefix(['-', '+']).unwrap_or(written.as_ref());
    let (whole, part) = figures.split_once('.').unwrap_or((figures, "0"));
    if !is_figures(whole) || !is_figures(part) {
        return Err(not_a_number(text));
    }
    written.parse().map_err(|_| not_a_number(text))
}

/// Whether a text is figures and nothing else, as nearly every number of a survey is.
fn is_figures(text: &str) -> bool {
    !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit())
}

/// Whether a comma could as well stand between thousands: `1,200`.
fn groups_thousands(text: &str) -> bool {
    text.split_once(',').is_some_and(|(whole, rest)| {
        rest.contains(',') || (rest.len() == 3 && !whole.trim_start_matches(['-', '+']).starts_with('0'))
    })
}

/// `1.500`, where one and a half and fifteen hundred could both be meant.
pub(super) fn perhaps_thousands(text: &str, range: &Range) -> Option<Fault> {
    if !text.contains('.') {
        return None;
    }
    let (figures, _) = split_unit(text);
    let (whole, part) = figures.trim_start_matches(['-', '+', '\u{2212}']).split_once('.')?;
    let may_group = part.len() == 3 && whole.len() <= 3 && is_figures(whole) && is_figures(part);
    let thousands = format!("{whole}{part}").parse::<f64>().ok().filter(|_| may_group && !whole.starts_with('0'))?;
    let decimal = format!("{whole}.{part}").parse::<f64>().ok()?;
    (range.sensible.0..=range.sensible.1).contains(&thousands).then(|| {
        Fault::new(code::PERHAPS_THOUSANDS, format!("`{text}` may be {thousands}, and may be {decimal}"))
            .help(format!("write `{thousands}` or `{decimal}`, whichever is meant"))
    })
}

fn not_a_number(text: &str) -> Fault {
    Fault::new(code::NOT_A_NUMBER, format!("`{text}` is not a number"))
        .help("write figures with a decimal point; the usual unit may follow")
}

/// The value, if it lies within the range; with a remark, if it is unusual there.
pub(super) fn checked(value: f64, range: &Range) -> Parsed<f64> {
    let within = |(low, high): (f64, f64)| (low..=high).contains(&value);
    let bounds = |(low, high): (f64, f64)| format!("{low} to {high} {}", range.unit).trim_end().to_owned();
    if !within(range.sensible) {
        return Fault::new(code::OUT_OF_RANGE, format!("`{value}` lies outside {}", bounds(range.sensible)))
            .help("check the figure and its unit")
            .into();
    }
    if !within(range.usual) {
        let fault = Fault::new(code::UNUSUAL_VALUE, format!("`{value}` is unusual here"))
            .help(format!("usual is {}; check the figure and its unit", bounds(range.usual)));
        return Parsed::remarked(value, fault);
    }
    Parsed::good(value)
}

fn ranged(text: &str, units: &[&str], decimals: Decimals, range: &Range) -> Parsed<f64> {
    if let Some(fault) = perhaps_thousands(text, range) {
        return fault.into();
    }
    match with_unit(text, units, decimals) {
        Ok(value) => checked(value, range),
        Err(fault) => fault.into(),
    }
}

fn whole(text: &str, units: &[&str], decimals: Decimals, range: &Range) -> Parsed<f64> {
    let parsed = ranged(text, units, decimals, range);
    match parsed.value {
        Some(value) if value.fract() != 0.0 => {
            Fault::new(code::NOT_A_NUMBER, format!("`{text}` is not a whole number")).into()
        }
        Some(_) | None => parsed,
    }
}

/// A whole number that its range keeps far below that of `u16`.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "ranges were checked before")]
fn small(parsed: Parsed<f64>) -> Parsed<u16> {
    Parsed { value: parsed.value.map(|value| value as u16), fault: parsed.fault }
}

/// A place in a sequence, from 1.
pub(crate) fn order(text: &str, decimals: Decimals) -> Parsed<u16> {
    small(whole(text, &[], decimals, &Range { sensible: (1.0, 999.0), usual: (1.0, 99.0), unit: "" }))
}

/// Solar modules in series. Strings of 1 500 V d.c. systems have about 30 modules (common practice).
pub(crate) fn modules(text: &str, decimals: Decimals) -> Parsed<u16> {
    small(whole(text, &[], decimals, &Range { sensible: (1.0, 200.0), usual: (1.0, 40.0), unit: "modules" }))
}

/// Seconds until a charge is below the limit; up to a day.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "the range was checked before")]
pub(crate) fn seconds(text: &str, decimals: Decimals) -> Parsed<u32> {
    let range = Range { sensible: (0.0, 86_400.0), usual: (0.0, 3_600.0), unit: "s" };
    let parsed = ranged(text, &["s", "sec", "seconds"], decimals, &range);
    Parsed { value: parsed.value.map(|value| value.ceil() as u32), fault: parsed.fault }
}

/// Per cent per degree Celsius: between -0.2 and -0.5 for the modules in use (common practice).
pub(crate) fn temperature_coefficient(text: &str, decimals: Decimals) -> Parsed<f64> {
    let range = Range { sensible: (-1.0, 1.0), usual: (-0.6, -0.1), unit: "%/°C" };
    ranged(text, &["%/°c", "%/c", "%/k", "%"], decimals, &range)
}

/// A lowest temperature in degrees Celsius.
pub(crate) fn lowest_temperature(text: &str, decimals: Decimals) -> Parsed<f64> {
    let range = Range { sensible: (-70.0, 50.0), usual: (-45.0, 25.0), unit: "°C" };
    ranged(text, &["°c", "c"], decimals, &range)
}

/// A surface temperature in degrees Celsius, as `heat` in the environment gives it.
#[expect(clippy::cast_possible_truncation, reason = "the range was checked before")]
pub(super) fn heat(text: &str, decimals: Decimals) -> Result<i16, Fault> {
    if text.is_empty() {
        return Err(Fault::new(code::HEAT_WITHOUT_TEMPERATURE, "`heat` is named without a temperature")
            .help("write the surface temperature in degrees Celsius behind it: `heat 70`"));
    }
    let help = |value: f64| {
        (value < 30.0).then_some("cold is told as `cold -28`; what is neither hot nor cold needs no temperature")
    };
    Ok(surface(text, decimals, (30.0, 600.0), help)?.ceil() as i16)
}

/// The lowest temperature of a surface in degrees Celsius, as `cold` in the environment gives it. Above freezing it is still
/// that of a chill store; what is warmer is no cold, and more likely lacks its sign.
#[expect(clippy::cast_possible_truncation, reason = "the range was checked before")]
pub(super) fn cold(text: &str, decimals: Decimals) -> Result<i16, Fault> {
    if text.is_empty() {
        return Err(Fault::new(code::COLD_WITHOUT_TEMPERATURE, "`cold` is named without a temperature")
            .help("write the lowest surface temperature in degrees Celsius behind it: `cold -28`"));
    }
    let help = |_| Some("write the sign with it, as in `cold -28`; heat is told as `heat 70`");
    Ok(surface(text, decimals, (-200.0, 10.0), help)?.floor() as i16)
}

/// The temperature of a surface in degrees Celsius within these; `help` says what else may be meant by one beyond them.
fn surface(
    text: &str,
    decimals: Decimals,
    within: (f64, f64),
    help: impl FnOnce(f64) -> Option<&'static str>,
) -> Result<f64, Fault> {
    let value = with_unit(text, &["°c", "c"], decimals)?;
    let parsed = checked(value, &Range { sensible: within, usual: within, unit: "°C" });
    match (parsed.value, parsed.fault) {
        (Some(value), _) => Ok(value),
        (None, Some(fault)) => Err(match help(value) {
            Some(help) => fault.help(help),
            None => fault,
        }),
        (None, None) => Err(not_a_number(text)),
    }
}

/// A distance in metres, from a hand's breadth to 50 m: farther than that no label of a sheet is read.
pub(crate) fn distance(text: &str, decimals: Decimals) -> Parsed<Length> {
    let range = Range { sensible: (0.1, 50.0), usual: (0.3, 15.0), unit: "m" };
    let parsed = ranged(text, &["m", "metre", "metres"], decimals, &range);
    Parsed { value: parsed.value.map(|metres| Length::mm(metres * 1_000.0)), fault: parsed.fault }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_plain_decimals() {
        use Decimals::{Point, PointOrComma};
        assert_eq!(plain("63.5", Point), Ok(63.5));
        assert_eq!(plain("\u{2212}0.27", Point), Ok(-0.27));
        assert_eq!(plain("63,5", PointOrComma), Ok(63.5));
        assert_eq!(plain("0,700", PointOrComma), Ok(0.7));
        for bad in ["NaN", "inf", "1e3", "", ".", "1.", ".5", "--1", "1.2.3", "0x10", "1 2"] {
            assert_eq!(plain(bad, PointOrComma).map_err(|f| f.code), Err(code::NOT_A_NUMBER), "{bad}");
        }
        assert!(plain("63,5", Point).is_err());
        assert!(plain("1,200", PointOrComma).is_err(), "could be thousands");
    }

    #[test]
    fn thousands_and_decimals_are_not_guessed() {
        let code_of = |text| seconds(text, Decimals::Point).fault.map(|fault| fault.code);
        for text in ["1.800", "1.800 s", "12.000"] {
            assert_eq!(code_of(text), Some(code::PERHAPS_THOUSANDS), "{text}");
        }
        let help = seconds("1.800", Decimals::PointOrComma).fault.and_then(|fault| fault.help);
        assert_eq!(help.as_deref(), Some("write `1800` or `1.8`, whichever is meant"));
        assert_eq!((code_of("1.8"), code_of("0.500"), code_of("1.80"), code_of("300")), (None, None, None, None));
        // As thousands it would be farther than anybody reads.
        assert_eq!(distance("1.500", Decimals::Point).value, Some(Length::mm(1_500.0)));
    }

    #[test]
    fn units_are_tolerated_and_foreign_ones_refused() {
        assert_eq!(distance("1.5 m", Decimals::Point).value, Some(Length::mm(1_500.0)));
        assert_eq!(distance("700 mm", Decimals::Point).fault.map(|f| f.code), Some(code::NOT_A_NUMBER));
        assert_eq!(distance("700", Decimals::Point).fault.map(|f| f.code), Some(code::OUT_OF_RANGE));
        assert_eq!(distance("20", Decimals::Point).fault.map(|f| f.code), Some(code::UNUSUAL_VALUE));
        assert_eq!(temperature_coefficient("-0.27 %/°C", Decimals::Point), Parsed::good(-0.27));
    }
}
