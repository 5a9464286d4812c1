//! Every finding lies inside the file that it speaks of, by a naive count of lines and characters.

use noticewright::finding::Finding;

/// A line longer than this is not kept with a finding.
const LONGEST_LINE: usize = 16_384;

/// Lines of a text, whatever ends them.
fn lines(text: &str) -> Vec<&str> {
    let mut lines = Vec::new();
    let mut rest = text;
    while let Some(end) = rest.find(['\r', '\n']) {
        let (line, after) = rest.split_at(end);
        lines.push(line);
        rest = after.strip_prefix("\r\n").unwrap_or(&after[1..]);
    }
    lines.push(rest);
    lines
}

/// The text of a file that can only be read as UTF-8: no mark, no zeros of a wider encoding, no archive.
fn plain_text(bytes: &[u8]) -> Option<&str> {
    let text = std::str::from_utf8(bytes).ok()?;
    (!text.starts_with('\u{feff}') && !text.contains('\0') && !text.starts_with("PK")).then_some(text)
}

/// Holds the place of every finding against the file called `file`.
///
/// # Panics
/// If one lies elsewhere.
pub fn inside(bytes: &[u8], file: &str, findings: &[Finding]) {
    let text = plain_text(bytes);
    let lines = text.map(lines);
    for finding in findings {
        assert!(!finding.message.is_empty(), "{finding:?}");
        let Some(place) = &finding.place else { continue };
        assert_eq!(&*place.file, file);
        assert!(place.line >= 1 && place.column >= 1, "{place:?}");
        assert!(place.line as usize <= bytes.len() + 1 || bytes.starts_with(b"PK"), "{place:?}");
        let Some(lines) = &lines else { continue };
        let line = lines.get(place.line as usize - 1);
        let line = line.unwrap_or_else(|| panic!("there are {} lines: {place:?}", lines.len()));
        assert!(place.column as usize <= line.chars().count() + 1, "{place:?}");
        if !place.line_text.is_empty() && line.len() <= LONGEST_LINE {
            assert_eq!(place.line_text, *line, "{place:?}");
        }
    }
}

/// How many records a file can have at the most: one a line, and as many as it has bytes where nobody can count lines.
#[must_use]
pub fn most_records(bytes: &[u8]) -> usize {
    if bytes.starts_with(b"PK") {
        return 4_000_000;
    }
    plain_text(bytes).map_or(bytes.len() + 1, |text| lines(text).len())
}
