//! Cells that hold a size in millimetres or by its ISO 216 name.

use super::super::value::NoticeSize;
use super::number::{self, Decimals, Range};
use super::{Fault, Parsed};
use crate::finding::code;
use crate::length::{ISO_216, Length, Size};

/// Smaller sizes of ISO 216 than A8 are no notices.
const SMALLEST_NAMED: Length = Length::um(74_000);

/// The wanted size of a notice, from a tag to an A3 sheet.
pub(crate) fn notice(text: &str, decimals: Decimals) -> Parsed<NoticeSize> {
    let parsed = size(text, decimals, &Range { sensible: (10.0, 420.0), usual: (20.0, 420.0), unit: "mm" });
    Parsed { value: parsed.value.map(NoticeSize), fault: parsed.fault }
}

/// Free flat area, width first.
pub(crate) fn space(text: &str, decimals: Decimals) -> Parsed<Size> {
    size(text, decimals, &Range { sensible: (10.0, 10_000.0), usual: (20.0, 3_000.0), unit: "mm" })
}

fn size(text: &str, decimals: Decimals, range: &Range) -> Parsed<Size> {
    if let Some(size) = named(text) {
        return Parsed::good(size);
    }
    let text = text.strip_suffix("mm").unwrap_or(text).trim_end();
    let Some((width, height)) = text.split_once(['x', 'X', '×', '*']) else { return not_understood(text).into() };
    let side = |part: &str| number::with_unit(part, &["mm"], decimals).map(|value| number::checked(value, range));
    let (Ok(width), Ok(height)) = (side(width), side(height)) else { return not_understood(text).into() };
    let fault = width.fault.or(height.fault);
    let value = width.value.zip(height.value).map(|(w, h)| Size::new(Length::mm(w), Length::mm(h)));
    Parsed { value, fault }
}

/// A size by its name: lying, unless `portrait` follows.
fn named(text: &str) -> Option<Size> {
    let (name, turn) = text.split_once(char::is_whitespace).unwrap_or((text, ""));
    let (_, lying) = ISO_216.into_iter().find(|(known, _)| known.eq_ignore_ascii_case(name))?;
    if lying.width < SMALLEST_NAMED {
        return None;
    }
    match turn.trim() {
        "" => Some(lying),
        turn if turn.eq_ignore_ascii_case("landscape") => Some(lying),
        turn if turn.eq_ignore_ascii_case("portrait") => Some(lying.turned()),
        _ => None,
    }
}

fn not_understood(text: &str) -> Fault {
    Fault::new(code::SIZE_NOT_UNDERSTOOD, format!("`{text}` is not a size"))
        .help("write `A8` to `A3`, `A7 portrait`, or width x height in millimetres, `120x80`")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(text: &str) -> Option<(f64, f64)> {
        notice(text, Decimals::Point).value.map(|NoticeSize(size)| (size.width.to_mm(), size.height.to_mm()))
    }

    #[test]
    fn a_named_size_lies_unless_it_is_to_stand() {
        assert_eq!(mm("A7"), Some((105.0, 74.0)));
        assert_eq!(mm("a7 Portrait"), Some((74.0, 105.0)));
        assert_eq!(mm("A5 landscape"), Some((210.0, 148.0)));
    }

    #[test]
    fn millimetres_come_with_any_times_sign() {
        for text in ["120x80", "120 X 80", "120×80 mm", "120 mm * 80 mm"] {
            assert_eq!(mm(text), Some((120.0, 80.0)), "{text}");
        }
        for text in ["A9", "120", "x80", "large", "A7 upright"] {
            assert_eq!(notice(text, Decimals::Point).fault.map(|f| f.code), Some(code::SIZE_NOT_UNDERSTOOD), "{text}");
        }
        assert_eq!(notice("5x80", Decimals::Point).fault.map(|f| f.code), Some(code::OUT_OF_RANGE));
    }
}
