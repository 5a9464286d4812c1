//! Whether the markup of a workbook is sound, and how many cells it stands for, told before anything is built from it.
//!
//! The workbook library waits for ever where an element is not closed, and fails where a cell lies beyond every sheet.

/// Bytes of a tag that are looked at; no spreadsheet writes longer ones.
const TAG_BYTES: usize = 65_536;

/// Bytes between two tags; a cell of a spreadsheet holds at most 32 767 characters (common practice).
const TEXT_BYTES: usize = 1 << 20;

/// How deep elements may be nested.
const DEPTH: usize = 200;

/// What was seen of a file of markup so far.
#[derive(Debug, Default)]
pub(super) struct Markup {
    tag: Vec<u8>,
    inside: bool,
    /// Bytes since the last tag.
    text: usize,
    /// The quotation mark that opened the present attribute value.
    quote: Option<u8>,
    /// The elements that are open, by name.
    open: Vec<Vec<u8>>,
    /// Whether something was seen that no spreadsheet writes.
    foreign: bool,
    /// Cells of the present row up to its last one with content, and those after it.
    used: u64,
    trailing: u64,
    /// How often the present row stands.
    repeats: u64,
    /// Rows up to the last one with content, and those after it.
    rows: u64,
    trailing_rows: u64,
    widest: u64,
}

impl Markup {
    /// Whether bytes begin a file of markup. In a coding of two bytes a sign it is taken for one, and is not sound.
    pub(super) fn begins(bytes: &[u8]) -> bool {
        let text = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes);
        let wide = bytes.starts_with(b"\xFF\xFE") || bytes.starts_with(b"\xFE\xFF") || bytes.starts_with(b"\0<");
        wide || text.trim_ascii_start().starts_with(b"<")
    }

    /// Takes the next byte.
    pub(super) fn take(&mut self, byte: u8) {
        self.foreign |= byte == 0 || self.tag.len() > TAG_BYTES;
        if !self.inside {
            self.inside = byte == b'<';
            self.text = if self.inside { 0 } else { self.text + 1 };
            self.foreign |= self.text > TEXT_BYTES;
            return;
        }
        if self.is_comment() {
            self.take_comment(byte);
            return;
        }
        self.foreign |= byte == b'<';
        match self.quote {
            None if byte == b'>' => self.end_tag(),
            None => self.quote = Some(byte).filter(|byte| matches!(byte, b'"' | b'\'')),
            Some(quote) if quote == byte => self.quote = None,
            Some(_) => {}
        }
        if self.inside && self.tag.len() <= TAG_BYTES {
            self.tag.push(byte);
        }
    }

    /// Whether every element was closed, in order, and nothing was seen that no spreadsheet writes.
    pub(super) fn is_sound(&self) -> bool {
        !self.foreign && !self.inside && self.open.is_empty()
    }

    /// How many cells an `.ods` sheet unfolds to: a few bytes can stand for millions of them.
    pub(super) fn cells(&self) -> u64 {
        self.rows.saturating_mul(self.widest)
    }

    fn is_comment(&self) -> bool {
        self.tag.starts_with(b"!--") || self.tag.starts_with(b"![CDATA[")
    }

    /// A comment or a passage of plain characters ends only with its own mark.
    fn take_comment(&mut self, byte: u8) {
        self.text += 1;
        self.foreign |= self.text > TEXT_BYTES;
        let is_end = byte == b'>' && (self.tag.ends_with(b"--") || self.tag.ends_with(b"]]"));
        if is_end {
            self.inside = false;
            self.tag.clear();
        } else if self.tag.len() <= TAG_BYTES {
            self.tag.push(byte);
        }
    }

    fn end_tag(&mut self) {
        self.inside = false;
        let tag = std::mem::take(&mut self.tag);
        match tag.first() {
            Some(b'?') => {}
            Some(b'!') | None => self.foreign = true,
            Some(b'/') => self.close(tag.get(1..).unwrap_or_default().trim_ascii_end()),
            Some(_) => self.start(&tag),
        }
        self.tag = tag;
        self.tag.clear();
    }

    fn start(&mut self, tag: &[u8]) {
        let is_empty = tag.ends_with(b"/");
        let tag = tag.strip_suffix(b"/").unwrap_or(tag);
        let end = tag.iter().position(u8::is_ascii_whitespace).unwrap_or(tag.len());
        let (name, attributes) = tag.split_at_checked(end).unwrap_or((tag, b""));
        self.look_at(local(name), attributes);
        if is_empty {
            self.ended(name);
        } else {
            self.foreign |= self.open.len() >= DEPTH;
            if !self.foreign {
                self.open.push(name.to_owned());
            }
        }
    }

    fn close(&mut self, name: &[u8]) {
        self.foreign |= self.open.pop().as_deref() != Some(name);
        self.ended(name);
    }

    fn look_at(&mut self, name: &[u8], attributes: &[u8]) {
        match name {
            b"table-row" => {
                (self.used, self.trailing) = (0, 0);
                self.repeats = self.repeats_of(attributes, b"table:number-rows-repeated");
            }
            b"table-cell" | b"covered-table-cell" => self.cell(attributes),
            b"row" | b"c" | b"f" | b"dimension" | b"mergeCell" => {
                let places = Attributes(attributes).filter(|(name, _)| matches!(*name, b"r" | b"ref" | b"si"));
                self.foreign |= places.map(|(_, value)| value).any(|value| !is_reference(value));
            }
            _ => {}
        }
    }

    fn ended(&mut self, name: &[u8]) {
        if local(name) == b"table-row" {
            self.end_row();
        }
    }

    fn cell(&mut self, attributes: &[u8]) {
        self.trailing = self.trailing.saturating_add(self.repeats_of(attributes, b"table:number-columns-repeated"));
        if Attributes(attributes).any(|(name, _)| name.ends_with(b"value-type") || name == b"table:formula") {
            self.used = self.used.saturating_add(std::mem::take(&mut self.trailing));
        }
    }

    fn end_row(&mut self) {
        self.trailing_rows = self.trailing_rows.saturating_add(self.repeats);
        if self.used > 0 {
            self.rows = self.rows.saturating_add(std::mem::take(&mut self.trailing_rows));
            self.widest = self.widest.max(self.used);
        }
    }

    /// The number that an attribute holds, 1 without it. One that is no plain number is foreign.
    fn repeats_of(&mut self, attributes: &[u8], wanted: &[u8]) -> u64 {
        let Some((_, value)) = Attributes(attributes).find(|(name, _)| *name == wanted) else { return 1 };
        self.foreign |= value.is_empty() || value.len() > 9 || !value.iter().all(u8::is_ascii_digit);
        value
            .iter()
            .filter(|byte| byte.is_ascii_digit())
            .take(9)
            .fold(0, |sum, digit| sum * 10 + u64::from(digit - b'0'))
    }
}

/// A name without its prefix.
fn local(name: &[u8]) -> &[u8] {
    name.rsplit(|byte| *byte == b':').next().unwrap_or_default()
}

/// The attributes of a tag, name and value, without decoding either.
struct Attributes<'a>(&'a [u8]);

impl<'a> Iterator for Attributes<'a> {
    type Item = (&'a [u8], &'a [u8]);

    fn next(&mut self) -> Option<Self::Item> {
        let text = self.0.trim_ascii_start();
        let equals = text.iter().position(|byte| *byte == b'=')?;
        let (name, value) = text.split_at_checked(equals)?;
        let value = value.get(1..)?.trim_ascii_start();
        let quote = *value.first()?;
        let value = value.get(1..)?;
        let end = value.iter().position(|byte| *byte == quote)?;
        self.0 = value.get(end + 1..)?;
        Some((name.trim_ascii_end(), value.get(..end)?))
    }
}

/// Whether a value names cells as spreadsheets do: at most three letters and seven figures each.
fn is_reference(value: &[u8]) -> bool {
    value.split(|byte| matches!(byte, b':' | b' ' | b'$')).all(|cell| {
        let letters = cell.iter().take_while(|byte| byte.is_ascii_alphabetic()).count();
        let figures = cell.get(letters..).unwrap_or_default();
        letters <= 3 && figures.len() <= 7 && figures.iter().all(u8::is_ascii_digit)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn seen(xml: &str) -> Markup {
        let mut markup = Markup::default();
        xml.bytes().for_each(|byte| markup.take(byte));
        markup
    }

    #[test]
    fn repeats_without_content_after_them_do_not_count() {
        let row = "<table:table-row><table:table-cell office:value-type=\"string\"/>\
                   <table:table-cell table:number-columns-repeated=\"16383\"/></table:table-row>";
        let end = "<table:table-row table:number-rows-repeated=\"1048575\">\
                   <table:table-cell table:number-columns-repeated=\"16384\"/></table:table-row>";
        assert_eq!(seen(&format!("{row}{end}")).cells(), 1);
        assert_eq!(seen(&format!("{end}{row}")).cells(), 1_048_576);
    }

    #[test]
    fn a_repeated_row_with_content_counts_in_full() {
        let bomb = "<table:table-row table:number-rows-repeated=\"1000000\">\
                    <table:table-cell table:number-columns-repeated=\"1000\" office:value-type=\"float\"/></table:table-row>";
        assert_eq!(seen(bomb).cells(), 1_000_000_000);
    }

    #[test]
    fn what_no_spreadsheet_writes_is_seen() {
        for xml in ["<a><b/></a>", "<?xml version=\"1.0\"?><a b='>'><!-- < --></a>", "<a><![CDATA[<b>]]></a>"] {
            assert!(seen(xml).is_sound(), "{xml}");
        }
        for xml in ["<a>", "<a><b></a></b>", "</a>", "<a b=\"<\"/>", "<!DOCTYPE a><a/>", "<a", "<a>\0</a>"] {
            assert!(!seen(xml).is_sound(), "{xml:?}");
        }
        for long in
            [format!("<a>{}</a>", "x".repeat(TEXT_BYTES + 1)), format!("<![CDATA[{}]]>", "x".repeat(TEXT_BYTES + 1))]
        {
            assert!(!seen(&long).is_sound());
        }
        assert!(seen(&format!("<a>{}</a>", "x".repeat(TEXT_BYTES))).is_sound());
        for good in [
            "<row r=\"1048576\" ht=\"15.0000000001\">",
            "<c r=\"XFD1048576\">",
            "<c t=\"b\" r=\"A1\"/>",
            "<dimension ref=\"A1:F14\"/>",
        ] {
            assert!(!seen(good).foreign, "{good}");
        }
        for bad in
            ["<row r=\"9999999999\">", "<c r=\"ABCDE1\">", "<f t=\"shared\" si=\"77777777777\"/>", "<c r=\"-1\">"]
        {
            assert!(seen(bad).foreign, "{bad}");
        }
    }
}
