//! What a workbook shows of a cell and does not store in it: letters that a number format adds, words struck through.
//!
//! The workbook library gives neither. The markup was found sound before (`archive`), so tags are taken as they come.

use std::collections::{HashMap, HashSet};
use std::io::{Cursor, Read};

use zip::ZipArchive;

/// How what is seen of a cell differs from what is stored.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Otherwise {
    /// A number format adds letters: `7` is shown as `Q7`.
    Lettered,
    /// Some of the words, or all of them, are struck through.
    Struck,
}

/// The cells of one sheet that are shown otherwise, by row and column from 0.
pub(super) type Cells = HashMap<(u32, u32), Otherwise>;

/// The cells of every sheet, by its name, that are shown otherwise than they are stored.
pub(super) fn otherwise(bytes: &[u8]) -> HashMap<String, Cells> {
    let Ok(mut archive) = ZipArchive::new(Cursor::new(bytes)) else { return HashMap::new() };
    let mut part = |name: &str| -> Option<String> {
        let mut text = Vec::new();
        archive.by_name(name).ok()?.read_to_end(&mut text).ok()?;
        Some(String::from_utf8_lossy(&text).into_owned())
    };
    if let Some(content) = part("content.xml") {
        return open_document(&content);
    }
    let styles = part("xl/styles.xml").map(|xml| Styles::read(&xml)).unwrap_or_default();
    let struck = part("xl/sharedStrings.xml").map(|xml| struck_texts(&xml)).unwrap_or_default();
    if styles.is_plain() && struck.is_empty() {
        return HashMap::new();
    }
    let related = part("xl/_rels/workbook.xml.rels").unwrap_or_default();
    let paths = targets(&related);
    let book = part("xl/workbook.xml").unwrap_or_default();
    let named: Vec<_> = tags(&book)
        .filter(|(_, tag)| local(tag) == "sheet")
        .filter_map(|(_, tag)| Some((unescaped(attribute(tag, "name")?), paths.get(attribute(tag, "r:id")?)?)))
        .collect();
    let sheets = named.into_iter().filter_map(|(name, path)| Some((name, sheet(&part(path)?, &styles, &struck))));
    sheets.collect()
}

/// The styles of cells, by number, that add letters or strike through.
#[derive(Default)]
struct Styles {
    lettered: HashSet<usize>,
    struck: HashSet<usize>,
}

impl Styles {
    fn is_plain(&self) -> bool {
        self.lettered.is_empty() && self.struck.is_empty()
    }

    fn read(xml: &str) -> Self {
        let (mut formats, mut fonts) = (HashSet::new(), HashSet::new());
        let (mut styles, mut font, mut style) = (Self::default(), 0, 0);
        let (mut in_fonts, mut in_cells) = (false, false);
        for (_, tag) in tags(xml) {
            match local(tag) {
                "fonts" => in_fonts = true,
                "/fonts" => in_fonts = false,
                "cellXfs" => in_cells = true,
                "/cellXfs" => in_cells = false,
                "numFmt" if attribute(tag, "formatCode").is_some_and(adds_letters) => {
                    formats.extend(attribute(tag, "numFmtId"));
                }
                "font" if in_fonts => font += 1,
                "strike" if in_fonts && is_on(tag) => {
                    fonts.insert(font);
                }
                "xf" if in_cells => {
                    if attribute(tag, "numFmtId").is_some_and(|id| formats.contains(id)) {
                        styles.lettered.insert(style);
                    }
                    let font = attribute(tag, "fontId").and_then(|id| id.parse::<usize>().ok());
                    if font.is_some_and(|id| fonts.contains(&(id + 1))) {
                        styles.struck.insert(style);
                    }
                    style += 1;
                }
                _ => {}
            }
        }
        styles
    }
}

/// Whether a number format writes letters of its own: `"Q"0`, `\Q0`. What stands in brackets is a colour or a condition.
fn adds_letters(format: &str) -> bool {
    let format = unescaped(format);
    let (mut quoted, mut bracketed, mut escaped) = (false, false, false);
    for letter in format.chars() {
        if (quoted || escaped) && letter != '"' && letter.is_alphabetic() {
            return true;
        }
        match letter {
            _ if escaped => escaped = false,
            '"' if !bracketed => quoted = !quoted,
            '[' if !quoted => bracketed = true,
            ']' if !quoted => bracketed = false,
            '\\' if !quoted && !bracketed => escaped = true,
            _ => {}
        }
    }
    false
}

/// The numbers of the shared texts of which a part is struck through.
fn struck_texts(xml: &str) -> HashSet<usize> {
    let (mut struck, mut count) = (HashSet::new(), 0_usize);
    for (_, tag) in tags(xml) {
        match local(tag) {
            "si" => count += 1,
            "strike" if is_on(tag) => {
                struck.insert(count.saturating_sub(1));
            }
            _ => {}
        }
    }
    struck
}

/// Where the parts of a workbook lie, by the name of their relation.
fn targets(xml: &str) -> HashMap<&str, String> {
    let related = tags(xml).filter(|(_, tag)| local(tag) == "Relationship");
    let path = |target: &str| match target.strip_prefix('/') {
        Some(whole) => whole.to_owned(),
        None => format!("xl/{target}"),
    };
    related.filter_map(|(_, tag)| Some((attribute(tag, "Id")?, path(attribute(tag, "Target")?)))).collect()
}

fn sheet(xml: &str, styles: &Styles, struck: &HashSet<usize>) -> Cells {
    let mut cells = Cells::new();
    let mut cell: Option<((u32, u32), bool, bool)> = None;
    for (before, tag) in tags(xml) {
        match (local(tag), cell) {
            ("c", _) => {
                let style = attribute(tag, "s").and_then(|style| style.parse::<usize>().ok());
                let has = |among: &HashSet<usize>| style.is_some_and(|style| among.contains(&style));
                let is_shared = attribute(tag, "t") == Some("s");
                cell = attribute(tag, "r").and_then(place).map(|place| (place, has(&styles.lettered), is_shared));
                if let Some((place, ..)) = cell.filter(|_| has(&styles.struck)) {
                    cells.insert(place, Otherwise::Struck);
                }
            }
            ("/v", Some((place, is_lettered, is_shared))) => {
                if is_shared && before.trim().parse().is_ok_and(|text: usize| struck.contains(&text)) {
                    cells.insert(place, Otherwise::Struck);
                } else if is_lettered {
                    cells.entry(place).or_insert(Otherwise::Lettered);
                }
            }
            _ => {}
        }
    }
    cells
}

/// `D2` as row and column, from 0.
fn place(address: &str) -> Option<(u32, u32)> {
    let (letters, figures) = address.split_at_checked(address.find(|c: char| c.is_ascii_digit())?)?;
    let column = letters.bytes().try_fold(0_u32, |column, letter| {
        let letter = letter.is_ascii_uppercase().then(|| u32::from(letter - b'A') + 1)?;
        column.checked_mul(26)?.checked_add(letter)
    })?;
    Some((figures.parse::<u32>().ok()?.checked_sub(1)?, column.checked_sub(1)?))
}

fn open_document(xml: &str) -> HashMap<String, Cells> {
    let mut sheets: HashMap<String, Cells> = HashMap::new();
    let (mut name, mut row, mut column, mut repeats) = (String::new(), 0_u32, 0_u32, (1_u32, 1_u32));
    let (mut style, mut struck_styles) = ("", HashSet::new());
    // Of the present cell: whether it is a number, and what was seen of it.
    let (mut is_number, mut shown): (bool, Option<Otherwise>) = (false, None);
    for (before, tag) in tags(xml) {
        let repeated = |which| attribute(tag, which).and_then(|count| count.parse().ok()).unwrap_or(1);
        let is_struck = |of: Option<&str>| of.is_some_and(|style| struck_styles.contains(style));
        match local(tag) {
            "style" => style = attribute(tag, "style:name").unwrap_or_default(),
            "text-properties" if line_through(tag) => {
                struck_styles.insert(style);
            }
            "table" => (name, row) = (unescaped(attribute(tag, "table:name").unwrap_or_default()), 0),
            "table-row" => (column, repeats.0) = (0, repeated("table:number-rows-repeated")),
            "/table-row" => row = row.saturating_add(repeats.0),
            "table-cell" | "covered-table-cell" => {
                repeats.1 = repeated("table:number-columns-repeated");
                is_number = attribute(tag, "office:value-type") == Some("float");
                shown = is_struck(attribute(tag, "table:style-name")).then_some(Otherwise::Struck);
                if tag.ends_with('/') {
                    column = column.saturating_add(repeats.1);
                }
            }
            "span" if is_struck(attribute(tag, "text:style-name")) => shown = Some(Otherwise::Struck),
            "/p" if is_number && before.contains(char::is_alphabetic) => {
                shown = shown.or(Some(Otherwise::Lettered));
            }
            "/table-cell" => {
                if let Some(shown) = shown.take() {
                    sheets.entry(name.clone()).or_default().insert((row, column), shown);
                }
                column = column.saturating_add(repeats.1);
            }
            _ => {}
        }
    }
    sheets
}

fn line_through(tag: &str) -> bool {
    let through = |name| attribute(tag, name).is_some_and(|line| line != "none");
    through("style:text-line-through-style") || through("style:text-line-through-type")
}

/// Whether a property without a value, or with one that is not nought, holds.
fn is_on(tag: &str) -> bool {
    !matches!(attribute(tag, "val"), Some("0" | "false"))
}

/// The tags of a markup, each with the text before it.
fn tags(xml: &str) -> impl Iterator<Item = (&str, &str)> {
    let mut rest = xml;
    std::iter::from_fn(move || {
        let (before, behind) = rest.split_once('<')?;
        let mut quote = None;
        let end = behind.bytes().position(|byte| {
            match quote {
                Some(open) if byte == open => quote = None,
                None if matches!(byte, b'"' | b'\'') => quote = Some(byte),
                _ => {}
            }
            quote.is_none() && byte == b'>'
        })?;
        rest = behind.get(end + 1..)?;
        Some((before, behind.get(..end)?))
    })
}

/// The name of a tag without its prefix, with the stroke of one that closes.
fn local(tag: &str) -> &str {
    let name = tag.split(|c: char| c.is_whitespace()).next().unwrap_or_default();
    match name.split_once(':') {
        Some((prefix, _)) if prefix.starts_with('/') => closing(name),
        Some((_, local)) => local.trim_end_matches('/'),
        None if name.starts_with('/') => name,
        None => name.trim_end_matches('/'),
    }
}

/// The name of a closing tag with a prefix.
fn closing(name: &str) -> &'static str {
    match name.rsplit(':').next() {
        Some("table-row") => "/table-row",
        Some("table-cell" | "covered-table-cell") => "/table-cell",
        Some("p") => "/p",
        Some("v") => "/v",
        Some("fonts") => "/fonts",
        Some("cellXfs") => "/cellXfs",
        _ => "",
    }
}

/// The value of an attribute, as it is written.
fn attribute<'a>(tag: &'a str, name: &str) -> Option<&'a str> {
    let mut from = 0;
    loop {
        let at = from + tag.get(from..)?.find(name)?;
        let behind = tag.get(at + name.len()..)?;
        let begins = tag.get(..at)?.ends_with(char::is_whitespace);
        let quoted = behind.trim_start().strip_prefix('=').map(str::trim_start).filter(|_| begins);
        if let Some(quoted) = quoted {
            let quote = quoted.chars().next().filter(|quote| matches!(quote, '"' | '\''))?;
            return quoted.get(1..)?.split(quote).next();
        }
        from = at + name.len();
    }
}

/// A text of the markup with its characters as such.
fn unescaped(text: &str) -> String {
    if !text.contains('&') {
        return text.to_owned();
    }
    let plain = [("&quot;", "\""), ("&apos;", "'"), ("&lt;", "<"), ("&gt;", ">"), ("&#34;", "\""), ("&amp;", "&")];
    plain.iter().fold(text.to_owned(), |text, (written, plain)| text.replace(written, plain))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn formats_that_add_letters_are_told() {
        for format in ["&quot;Q&quot;0", "\\Q0", "0&quot; V&quot;", "&quot;Q&quot;@", "[Red]\\Q0"] {
            assert!(adds_letters(format), "{format}");
        }
        for format in ["0.00", "General", "yyyy-mm-dd", "[Red]0", "0.0E+00", "&quot;-&quot;0", "#,##0;\\-0"] {
            assert!(!adds_letters(format), "{format}");
        }
    }

    #[test]
    fn tags_and_attributes_are_read() {
        let xml = "<a x='1>2' y=\"3\"/>text<p:b z=\"4\">5</p:b>";
        let found: Vec<_> = tags(xml).map(|(before, tag)| (before, local(tag))).collect();
        assert_eq!(found, [("", "a"), ("text", "b"), ("5", "")]);
        assert_eq!(attribute("a x='1>2' y=\"3\"/", "x"), Some("1>2"));
        assert_eq!(attribute("a xy=\"2\" y=\"3\"", "y"), Some("3"));
        assert_eq!((place("A1"), place("AB12"), place("1A"), place("A0")), (Some((0, 0)), Some((11, 27)), None, None));
    }

    #[test]
    fn an_open_document_tells_what_it_shows() {
        let xml = "<style:style style:name=\"T1\" style:family=\"text\"><style:text-properties \
                   style:text-line-through-style=\"solid\"/></style:style><table:table table:name=\"S\">\
                   <table:table-row table:number-rows-repeated=\"2\"><table:table-cell/></table:table-row>\
                   <table:table-row><table:table-cell table:number-columns-repeated=\"3\"/>\
                   <table:table-cell office:value-type=\"float\" office:value=\"7\"><text:p>Q7</text:p></table:table-cell>\
                   <table:table-cell office:value-type=\"float\" office:value=\"7\"><text:p>7.00</text:p></table:table-cell>\
                   <table:table-cell office:value-type=\"string\"><text:p><text:span text:style-name=\"T1\">Q1</text:span> \
                   Q2</text:p></table:table-cell></table:table-row></table:table>";
        let sheets = open_document(xml);
        let mut found: Vec<_> = sheets.get("S").into_iter().flatten().map(|(place, shown)| (*place, *shown)).collect();
        found.sort_by_key(|(place, _)| *place);
        assert_eq!(found, [((2, 3), Otherwise::Lettered), ((2, 5), Otherwise::Struck)]);
    }
}
