//! The lines of text of every plate as a table, for engraving machines that have a font of their own.
//!
//! The form is RFC 4180 in UTF-8. Every text stands in quotation marks and exactly as it is engraved: nothing is put
//! before one that looks like a formula, because a machine would cut that too. [`is_like_a_formula`] says which ones a
//! spreadsheet must not open by itself.

use std::fmt;
use std::io::{self, Write};
use std::sync::Arc;

use crate::drawing::{Drawing, Face, GlyphLine, Ink, Item};
use crate::length::{Length, Point, Size};
use crate::typesetting::fonts;

/// The columns, all lengths in millimetres.
const COLUMNS: [&str; 15] = [
    "notice",
    "plate_width_mm",
    "plate_height_mm",
    "line",
    "text",
    "typeface",
    "weight",
    "capital_height_mm",
    "from_left_mm",
    "from_bottom_mm",
    "text_width_mm",
    "surface",
    "document",
    "sheet",
    "cell",
];

/// A plate and where it lies.
#[derive(Clone, Debug)]
pub struct Plate<'a> {
    /// Its number.
    pub notice: &'a str,
    /// What it shows.
    pub drawing: Arc<Drawing>,
    /// File name of the document in which it lies.
    pub document: &'a str,
    /// Sheet of that document, from 1.
    pub sheet: usize,
    /// Cell of that sheet, from 1.
    pub cell: usize,
}

/// One line of text on a drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct TextLine<'a> {
    /// What it says, in which face.
    pub line: &'a GlyphLine,
    /// The left end of its baseline: from the left edge of the plate, and **up** from its lower edge, as machines count.
    pub start: Point,
    /// Height of its capitals.
    pub capital: Length,
    /// From its left to its right end.
    pub width: Length,
    /// Whether the letters are cut; else they are left standing in what is cut around them.
    pub engraved: bool,
}

/// The lines of text of a drawing, in painting order. Groups hold none.
#[must_use]
pub fn lines(drawing: &Drawing) -> Vec<TextLine<'_>> {
    drawing.items.iter().filter_map(|item| text_line(item, drawing.size)).collect()
}

fn text_line(item: &Item, plate: Size) -> Option<TextLine<'_>> {
    let Item::Text { line, origin, em, ink } = item else { return None };
    let heights = fonts::heights(line.face);
    let share = |units: i32| em.scaled(f64::from(units) / f64::from(heights.units_per_em));
    Some(TextLine {
        line,
        start: Point::new(origin.x, plate.height - origin.y),
        capital: share(heights.capital),
        width: share(line.width),
        engraved: matches!(ink, Ink::Black | Ink::Grey),
    })
}

/// Writes the table.
///
/// # Errors
/// The error of the writer below.
pub fn write<'a>(out: &mut impl Write, plates: impl IntoIterator<Item = Plate<'a>>) -> io::Result<u64> {
    let mut text = COLUMNS.join(",") + "\r\n";
    let mut bytes = 0;
    for plate in plates {
        for (number, line) in (1..).zip(lines(&plate.drawing)) {
            text.push_str(&Row { plate: &plate, number, line: &line }.to_string());
        }
        out.write_all(text.as_bytes())?;
        bytes += u64::try_from(text.len()).unwrap_or(u64::MAX);
        text.clear();
    }
    out.write_all(text.as_bytes())?;
    Ok(bytes + u64::try_from(text.len()).unwrap_or(u64::MAX))
}

struct Row<'a> {
    plate: &'a Plate<'a>,
    number: usize,
    line: &'a TextLine<'a>,
}

impl fmt::Display for Row<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { plate, number, line } = self;
        let size = plate.drawing.size;
        write!(f, "{},{},{},{number},{},", Quoted(plate.notice), size.width, size.height, Quoted(&line.line.text))?;
        write!(f, "{},{},", Quoted(fonts::name(line.line.face)), Quoted(weight(line.line.face)))?;
        write!(f, "{},{},{},{},", line.capital, line.start.x, line.start.y, line.width)?;
        let surface = if line.engraved { "engraved" } else { "left-standing" };
        write!(f, "{},{},{},{}\r\n", Quoted(surface), Quoted(plate.document), plate.sheet, plate.cell)
    }
}

const fn weight(face: Face) -> &'static str {
    match face {
        Face::Regular => "regular",
        Face::Medium => "medium",
        Face::Bold => "bold",
    }
}

/// A text in quotation marks, with those within doubled (RFC 4180, 2.7).
struct Quoted<'a>(&'a str);

impl fmt::Display for Quoted<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "\"{}\"", self.0.replace('"', "\"\""))
    }
}

/// Whether a spreadsheet would calculate a cell with this text instead of showing it: it begins with one of the signs
/// that spreadsheets take for the start of a formula (common practice), blanks before it not counted.
#[must_use]
pub fn is_like_a_formula(text: &str) -> bool {
    text.trim_start().starts_with(['=', '+', '-', '@', '\u{ff1d}', '\u{ff0b}', '\u{ff0d}', '\u{ff20}'])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::Path;
    use crate::typesetting::Typesetter;

    const HOSTILE: [&str; 9] = [
        "=A1+B2-Q3",
        "+Q1",
        "-Q2, board \"C\"",
        "@SUM(A1)",
        "Q7;\u{a0}Q8",
        "'Q9'",
        "007",
        "3-4",
        "Łódź – 400\u{a0}V ≥ 230\u{a0}V",
    ];

    fn plate() -> Drawing {
        let mut drawing = Drawing::new(Size::whole_mm(105, 74));
        drawing.fill(Path::circle(Point::default(), Length::mm(3.0)), Ink::Black);
        let typesetter = Typesetter::new();
        for (number, text) in (1..).zip(HOSTILE) {
            let line = typesetter.line(Face::Medium, text).unwrap();
            let ink = if number == 1 { Ink::White } else { Ink::Black };
            drawing.text(line, Point::new(Length::mm(10.0), Length::mm(7.0) * number), Length::mm(5.0), ink);
        }
        drawing
    }

    fn rows(notice: &str) -> Vec<csv::StringRecord> {
        let (drawing, mut out) = (Arc::new(plate()), Vec::new());
        let plate = Plate { notice, drawing, document: "plates.pdf", sheet: 2, cell: 4 };
        let bytes = write(&mut out, [plate]).unwrap();
        assert_eq!(u64::try_from(out.len()).unwrap(), bytes);
        assert!(out.is_ascii() || std::str::from_utf8(&out).is_ok());
        let mut reader = csv::ReaderBuilder::new().has_headers(false).from_reader(out.as_slice());
        reader.records().collect::<Result<_, _>>().unwrap()
    }

    #[test]
    fn hostile_texts_are_read_back_unchanged() {
        // Read by the csv crate, which is not what writes.
        let rows = rows("=1+2\"/1");
        assert_eq!(rows[0].iter().collect::<Vec<_>>(), COLUMNS);
        let texts: Vec<&str> = rows[1..].iter().map(|row| &row[4]).collect();
        assert_eq!(texts, HOSTILE);
        assert!(rows[1..].iter().all(|row| &row[0] == "=1+2\"/1" && row.len() == COLUMNS.len()));
    }

    #[test]
    fn a_line_says_where_it_stands_as_machines_count() {
        let rows = rows("CH3-JB2/1");
        let row: Vec<&str> = rows[3].iter().collect();
        // 74 - 21 mm from the lower edge; capitals of 698 thousandths of 5 mm.
        assert_eq!(row[1..4], ["105", "74", "3"]);
        assert_eq!(row[5..10], ["IBMPlexSans-Medium", "medium", "3.49", "10", "53"]);
        assert_eq!(row[11..], ["engraved", "plates.pdf", "2", "4"]);
        assert_eq!(&rows[1][11], "left-standing");
        let line = Typesetter::new().line(Face::Medium, HOSTILE[2]).unwrap();
        assert_eq!(row[10], Length::mm(5.0).scaled(f64::from(line.width) / 1_000.0).to_string());
    }

    #[test]
    fn lines_end_and_quotation_marks_double_as_the_form_asks() {
        // RFC 4180, 2.1 and 2.7.
        let drawing = Arc::new(plate());
        let mut out = Vec::new();
        write(&mut out, [Plate { notice: "Q", drawing, document: "-", sheet: 1, cell: 1 }]).unwrap();
        let text = String::from_utf8(out).unwrap();
        assert!(text.ends_with("\r\n") && text.matches('\n').count() == text.matches("\r\n").count());
        assert!(text.contains(",\"-Q2, board \"\"C\"\"\","), "{text}");
    }

    #[test]
    fn what_a_spreadsheet_would_calculate_is_known() {
        let found: Vec<&str> = HOSTILE.into_iter().filter(|text| is_like_a_formula(text)).collect();
        assert_eq!(found, HOSTILE[..4]);
        assert!(
            is_like_a_formula(" =1")
                && is_like_a_formula("\t-1")
                && !is_like_a_formula("")
                && !is_like_a_formula("1-2")
        );
    }
}
