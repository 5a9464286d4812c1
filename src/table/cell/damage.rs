//! What spreadsheets do to the names of things: dates, exponents, error values.

use super::super::column::Heading;
use super::Fault;
use crate::finding::code;

/// The damage that a cell plainly shows, if any.
pub(crate) fn damage(text: &str, column: impl Heading) -> Option<Fault> {
    let first = text.bytes().next()?;
    if text == "0" && column.is_worded() {
        let message = "`0` stands where words belong: a spreadsheet gives it for a reference to an empty cell";
        let help = "empty the cell, or write what is meant; the figure would be printed";
        return Some(Fault::new(code::ZERO_FOR_WORDS, message).help(help));
    }
    if first == b'#' || first == b'E' {
        return error_value(text).then(|| {
            Fault::new(
                code::SPREADSHEET_ERROR,
                format!("`{text}` is what a spreadsheet shows for a formula that failed"),
            )
            .help("mend the formula, or type the value itself")
        });
    }
    if !column.is_free() && repeats(text) {
        let message = format!("`{text}` says only that this cell is like another");
        let help = "write out what is meant: every row is read by itself, and the word would be printed";
        return Some(Fault::new(code::CELL_REPEATS_ANOTHER, message).help(help));
    }
    // Nearly every cell is told apart by a few of its bytes.
    let may_be_damaged = text.len() <= LONGEST && (first.is_ascii_digit() || starts_with_month(text));
    if !may_be_damaged || column.is_free() || !text.bytes().any(|byte| matches!(byte, b'/' | b'-' | b'.' | b'E')) {
        return None;
    }
    let damage = |code, message: String| {
        let help = "format the column as text in the spreadsheet, then type the cell again as it was";
        Some(Fault::new(code, message).help(help))
    };
    if is_exponent(text) {
        return damage(code::TURNED_INTO_EXPONENT, format!("`{text}` is what a spreadsheet makes of a long number"));
    }
    if is_date(text) {
        return damage(code::TURNED_INTO_DATE, format!("`{text}` is a date, and a spreadsheet may have made it one"));
    }
    if column.is_designation() && is_short_date(text) {
        return damage(
            code::PERHAPS_A_DATE,
            format!("`{text}` may be a date that a spreadsheet made of a designation"),
        );
    }
    None
}

/// The longest text that a date or a number with an exponent comes to.
const LONGEST: usize = 24;

/// Words and marks by which a list says that a line is like the one above it: inverted commas below each other, `ditto`.
fn repeats(text: &str) -> bool {
    const MARKS: [&str; 8] = ["\"", "\"\"", "''", "-\"-", "- \" -", "\u{2033}", "\u{201D}", "\u{3003}"];
    const WORDS: [&str; 12] = [
        "ditto",
        "ditto.",
        "do.",
        "dto",
        "dto.",
        "idem",
        "as above",
        "see above",
        "same",
        "same as above",
        "as row above",
        "row above",
    ];
    const LONGEST: usize = 13;
    let may_begin = |first: u8| matches!(first, b'"' | b'\'' | b'-' | b'a' | b'd' | b'i' | b'r' | b's' | 0xE2..);
    text.len() <= LONGEST
        && text.bytes().next().is_some_and(|first| may_begin(first.to_ascii_lowercase()))
        && (MARKS.contains(&text) || WORDS.iter().any(|word| text.eq_ignore_ascii_case(word)))
}

/// `#REF!` and its like; LibreOffice also writes `Err:502`.
fn error_value(text: &str) -> bool {
    const VALUES: [&str; 9] = ["#REF!", "#N/A", "#NAME?", "#VALUE!", "#DIV/0!", "#NULL!", "#NUM!", "#SPILL!", "#CALC!"];
    let numbered = text.strip_prefix("Err:").is_some_and(|rest| all_digits(rest, 3..=3));
    numbered || VALUES.contains(&text) || (text.len() > 2 && text.bytes().all(|byte| byte == b'#'))
}

/// `1.2E+05`: figures, `E`, a sign, figures.
fn is_exponent(text: &str) -> bool {
    let Some((figures, exponent)) = text.split_once('E') else { return false };
    let Some(exponent) = exponent.strip_prefix(['+', '-']) else { return false };
    let (whole, part) = figures.split_once(['.', ',']).unwrap_or((figures, "0"));
    all_digits(whole, 1..=1) && all_digits(part, 1..=15) && all_digits(exponent, 1..=3)
}

/// `01/07/2026`, `2026-07-01`, `7-Jan`, `Jan-07`, `7-Jan-26`, with a time behind it or not.
fn is_date(text: &str) -> bool {
    let date = text.split_once([' ', 'T']).filter(|(_, time)| time.contains(':')).map_or(text, |(date, _)| date);
    match split_date(date) {
        Some((a, b, Some(c))) if is_month_name(b) => is_day(a) && is_year(c),
        Some((a, b, Some(c))) if all_digits(a, 4..=4) => is_year(a) && is_month(b) && is_day(c),
        Some((a, b, Some(c))) if all_digits(c, 4..=4) => {
            is_year(c) && is_day(a) && is_day(b) && (is_month(a) || is_month(b))
        }
        Some((a, b, None)) => (is_month_name(a) && all_digits(b, 2..=4)) || (is_month_name(b) && is_day(a)),
        Some((_, _, Some(_))) | None => false,
    }
}

/// `01/07/26` with every figure padded, which could still be a designation.
fn is_short_date(text: &str) -> bool {
    let Some((a, b, Some(c))) = split_date(text) else { return false };
    let are_padded = [a, b, c].into_iter().all(|part| all_digits(part, 2..=2));
    are_padded && (is_day_of(a, b) || is_day_of(b, a)) && c != "00"
}

/// Whether a month has such a day: no month has a thirty-first that has only thirty.
fn is_day_of(day: &str, month: &str) -> bool {
    const DAYS: [u16; 12] = [31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
    let days = month.parse::<usize>().ok().and_then(|month| DAYS.get(month.checked_sub(1)?));
    days.is_some_and(|days| is_between(day, 1, *days))
}

/// The two or three parts of what could be a date.
fn split_date(text: &str) -> Option<(&str, &str, Option<&str>)> {
    let mut parts = text.split(['/', '-', '.']).map(str::trim);
    let split = (parts.next()?, parts.next()?, parts.next());
    parts.next().is_none().then_some(split)
}

fn all_digits(text: &str, length: std::ops::RangeInclusive<usize>) -> bool {
    length.contains(&text.len()) && text.bytes().all(|byte| byte.is_ascii_digit())
}

fn is_between(text: &str, low: u16, high: u16) -> bool {
    all_digits(text, 1..=4) && text.parse().is_ok_and(|value: u16| (low..=high).contains(&value))
}

fn is_day(text: &str) -> bool {
    text.len() <= 2 && is_between(text, 1, 31)
}

fn is_month(text: &str) -> bool {
    text.len() <= 2 && is_between(text, 1, 12)
}

fn is_year(text: &str) -> bool {
    (text.len() == 4 && is_between(text, 1900, 2099)) || (text.len() == 2 && is_between(text, 0, 99))
}

const MONTHS: [&str; 12] = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];

fn is_month_name(text: &str) -> bool {
    starts_with_month(text) && (text.len() == 3 || text == "Sept")
}

fn starts_with_month(text: &str) -> bool {
    let is_initial =
        matches!(text.as_bytes(), [b'J' | b'F' | b'M' | b'A' | b'S' | b'O' | b'N' | b'D', b'a'..=b'u', ..]);
    is_initial && text.get(..3).is_some_and(|start| MONTHS.contains(&start))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::survey::Column;

    fn found(text: &str) -> Option<&'static str> {
        damage(text, Column::Circuit).map(|fault| fault.code.name)
    }

    #[test]
    fn damage_is_recognised() {
        for text in
            ["01/07/2026", "7/1/2026", "2026-07-01", "2026-07-01T00:00:00", "7-Jan", "Jan-07", "7-Jan-26", "1.7.2026"]
        {
            assert_eq!(found(text), Some("turned-into-date"), "{text}");
        }
        for text in ["1.2E+05", "1E+10", "1,20E+05"] {
            assert_eq!(found(text), Some("turned-into-exponent"), "{text}");
        }
        for text in ["#REF!", "#N/A", "#NAME?", "Err:502", "####"] {
            assert_eq!(found(text), Some("spreadsheet-error"), "{text}");
        }
        for text in ["01/07/26", "10-12-14", "29/02/24"] {
            assert_eq!(found(text), Some("perhaps-a-date"), "{text}");
        }
        for text in [
            "\"",
            "\"\"",
            "''",
            "\u{3003}",
            "\u{2033}",
            "Ditto",
            "DO.",
            "as above",
            "same",
            "Same as above",
            "idem",
            "As row above",
        ] {
            assert_eq!(found(text), Some("cell-repeats-another"), "{text}");
            assert_eq!(damage(text, Column::Note), None, "{text}");
        }
    }

    #[test]
    fn nought_is_no_word() {
        for column in [Column::Serves, Column::BeforeIsolating, Column::LiveAfter, Column::Locking, Column::FedFrom] {
            assert_eq!(damage("0", column).map(|fault| fault.code.name), Some("zero-for-words"), "{column:?}");
            assert_eq!(damage("0 A", column), None, "{column:?}");
        }
        for column in [Column::Circuit, Column::StoredV, Column::OnLoad, Column::Order, Column::NoConfusion] {
            assert_eq!(damage("0", column), None, "{column:?}");
        }
    }

    #[test]
    fn a_quick_look_overlooks_nothing() {
        for month in MONTHS {
            assert!(starts_with_month(month), "{month}");
            assert_eq!(found(&format!("{month}-07")), Some("turned-into-date"), "{month}");
        }
        for text in ["Sept-07", "Sept 07", "1E+5", "1.7.2026 12:00"] {
            let expected =
                (text != "Sept 07").then_some(if text == "1E+5" { "turned-into-exponent" } else { "turned-into-date" });
            assert_eq!(found(text), expected, "{text}");
        }
    }

    #[test]
    fn designations_are_left_alone() {
        for text in [
            "DB-C/7",
            "1/2/3",
            "7-1",
            "1E5",
            "E7",
            "Mar",
            "12-MAR-B",
            "2026",
            "31/12",
            "#7",
            "1-2-3",
            "Err",
            "13/13/2026",
            "30-02-14",
            "31-04-06",
            "14-16-18",
        ] {
            assert_eq!(found(text), None, "{text}");
        }
        assert_eq!(damage("01/07/2026", Column::Note), None);
    }
}
