//! Findings for a person at a terminal: each with its place, the cell underlined, and how to mend it.

use std::ops::Range;

use annotate_snippets::{AnnotationKind, Element, Group, Level, Origin, Renderer, Snippet};

use super::{counted, escape_for_terminal, push_escaped};
use crate::finding::{Finding, Place, Severity};

/// How many findings of one kind are shown in full; the others are counted and named by their place.
const SHOWN_OF_A_KIND: usize = 4;

/// How many further places are named.
const NAMED_PLACES: usize = 8;

/// Columns of the terminal that the source lines keep to.
const WIDTH: usize = 100;

/// Characters of a row that are marked where all of it is meant: what is marked is never shortened.
const SHOWN_OF_A_ROW: usize = 80;

/// Stands for the path while a finding is drawn: a character that no escaped text holds.
const PATH: &str = "\u{FFFE}";

/// All findings, the most important last, and a last line that counts them. Empty if there are none.
#[must_use]
pub fn render(findings: &[Finding], colour: bool) -> String {
    if findings.is_empty() {
        return String::new();
    }
    let renderer = if colour { Renderer::styled() } else { Renderer::plain() }.term_width(WIDTH);
    let mut text = String::new();
    for kind in kinds(findings) {
        let shown = kind.len().min(SHOWN_OF_A_KIND);
        for (number, finding) in kind.iter().take(shown).enumerate() {
            let others = if number + 1 == shown { kind.get(shown..).unwrap_or_default() } else { &[] };
            text.push_str(&block(&renderer, finding, others));
            text.push_str("\n\n");
        }
    }
    text.push_str(&counts(findings));
    text.push('\n');
    text
}

/// The findings by kind, kinds in the order of their first finding, advice before warnings before errors.
fn kinds(findings: &[Finding]) -> Vec<Vec<&Finding>> {
    let mut kinds: Vec<Vec<&Finding>> = Vec::new();
    for finding in findings {
        match kinds.iter_mut().find(|kind| kind.first().is_some_and(|first| first.code == finding.code)) {
            Some(kind) => kind.push(finding),
            None => kinds.push(vec![finding]),
        }
    }
    kinds.sort_by_key(|kind| kind.first().map(|finding| finding.severity()));
    kinds
}

fn block(renderer: &Renderer, finding: &Finding, others: &[&Finding]) -> String {
    let shown = finding.place.as_ref().map(Shown::of);
    let level = match finding.severity() {
        Severity::Advice => Level::NOTE.with_name("advice"),
        Severity::Warning => Level::WARNING,
        Severity::Error => Level::ERROR,
    };
    let title = level.primary_title(escape_for_terminal(&finding.message)).id(finding.code.name);
    let mut group = Group::with_title(title);
    if let Some(shown) = &shown {
        group = group.element(shown.element());
    }
    if let Some(help) = &finding.help {
        group = group.element(Level::HELP.message(escape_for_terminal(help)));
    }
    if !others.is_empty() {
        group = group.element(Level::NOTE.message(more(others)));
    }
    let text = renderer.render(&[group]);
    match &shown {
        Some(shown) => with_origin(&text, &shown.origin),
        None => text,
    }
}

/// Puts the place where the renderer wrote the path, with a line and column of its own, which know nothing of escapes
/// and spreadsheets.
fn with_origin(text: &str, origin: &str) -> String {
    let Some((before, rest)) = text.split_once(PATH) else { return text.to_owned() };
    let after = rest.find('\n').and_then(|end| rest.get(end..)).unwrap_or_default();
    format!("{before}{origin}{after}")
}

/// "and 300 more like it: line 15 (F15), line 16 (F16), ..."
fn more(others: &[&Finding]) -> String {
    let places: Vec<_> = others.iter().take(NAMED_PLACES).filter_map(|other| other.place.as_ref()).map(brief).collect();
    let ellipsis = if others.len() > NAMED_PLACES { ", ..." } else { "" };
    match places.as_slice() {
        [] => format!("and {} more like it", others.len()),
        _ => format!("and {} more like it: {}{ellipsis}", others.len(), places.join(", ")),
    }
}

fn brief(place: &Place) -> String {
    match place.address.as_str() {
        "" => format!("line {}", place.line),
        address => format!("line {} ({address})", place.line),
    }
}

/// A place as it is drawn.
struct Shown {
    origin: String,
    line: usize,
    source: String,
    cell: Range<usize>,
    label: &'static str,
}

impl Shown {
    fn of(place: &Place) -> Self {
        let (source, cell) = if place.line_text.is_empty() {
            let text = escape_for_terminal(&place.cell);
            let end = text.len();
            (text, 0..end)
        } else {
            marked(place)
        };
        let label = if cell.is_empty() && !place.column_name.is_empty() { "empty" } else { "" };
        Self { origin: origin(place), line: usize::try_from(place.line).unwrap_or(0), source, cell, label }
    }

    fn element(&self) -> Element<'_> {
        if self.source.is_empty() {
            return Origin::path(PATH).into();
        }
        let annotation = AnnotationKind::Primary.span(self.cell.clone());
        let annotation = if self.label.is_empty() { annotation } else { annotation.label(self.label) };
        Snippet::source(self.source.as_str()).path(PATH).line_start(self.line).annotation(annotation).into()
    }
}

/// "site.csv:14:6 (column `isolator`, F14)"
fn origin(place: &Place) -> String {
    let mut origin = format!("{}:{}:{}", escape_for_terminal(&place.file), place.line, place.column);
    match (place.column_name.is_empty(), place.address.is_empty()) {
        (false, false) => {
            origin.push_str(&format!(" (column `{}`, {})", escape_for_terminal(&place.column_name), place.address));
        }
        (true, false) => origin.push_str(&format!(" ({})", place.address)),
        (false, true) | (true, true) => {}
    }
    origin
}

/// The source line, escaped, and the bytes of it that the cell covers. A cell of several lines is marked to the end of
/// its first.
fn marked(place: &Place) -> (String, Range<usize>) {
    let start = usize::try_from(place.column).unwrap_or(1).saturating_sub(1);
    let length = place.cell.split(['\r', '\n']).next().unwrap_or_default().chars().count();
    let whole = || place.line_text.chars().count().min(SHOWN_OF_A_ROW);
    let length = if place.column_name.is_empty() { whole() } else { length };
    let mut source = String::with_capacity(place.line_text.len());
    let (mut from, mut to) = (None, None);
    for (number, c) in place.line_text.chars().enumerate() {
        if number == start {
            from = Some(source.len());
        }
        if number == start + length {
            to = Some(source.len());
        }
        if c == '\t' { source.push_str("    ") } else { push_escaped(&mut source, c) }
    }
    let from = from.unwrap_or(source.len());
    let to = to.unwrap_or(source.len()).max(from);
    (source, from..to)
}

/// "2 errors, 1 warning, 3 advice"
fn counts(findings: &[Finding]) -> String {
    let count = |severity| findings.iter().filter(|finding| finding.severity() == severity).count();
    let (errors, warnings, advice) = (count(Severity::Error), count(Severity::Warning), count(Severity::Advice));
    let mut parts = Vec::new();
    if errors > 0 {
        parts.push(counted(errors, "error"));
    }
    if warnings > 0 {
        parts.push(counted(warnings, "warning"));
    }
    if advice > 0 {
        parts.push(format!("{advice} advice"));
    }
    format!("{}; `noticewright why CODE` explains each", parts.join(", "))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::finding::code;
    use crate::survey::{ReadOptions, read};

    const HEADER: &str = "enclosure,circuit,voltage_to_earth,isolator,isolator_location,nominal\n";

    fn rendered(rows: &str) -> String {
        render(&read(format!("{HEADER}{rows}").as_bytes(), &ReadOptions::new("site.csv")).findings, false)
    }

    #[test]
    fn a_finding_shows_its_place_its_cell_and_how_to_mend_it() {
        assert_eq!(
            rendered("CH1,C1,230,,Room 1,230\n"),
            "error[needed-cell-empty]: the needed cell `isolator` is empty
 --> site.csv:2:12 (column `isolator`, D2)
  |
2 | CH1,C1,230,,Room 1,230
  |            ^ empty
  |
  = help: name the device; write `none` if it cannot be isolated, `?` if it is not known

1 error; `noticewright why CODE` explains each
"
        );
    }

    #[test]
    fn errors_come_last_and_the_counts_after_them() {
        let text = rendered("CH1,C1,x,Q7,Room 1,240\nCH1,C2,230,\"Heater, fan\",Room 1,230\n");
        let order: Vec<_> =
            text.lines().filter(|line| line.contains('[')).map(|line| line.split('[').next().unwrap()).collect();
        assert_eq!(order, ["advice", "warning", "error"]);
        assert!(text.ends_with("\n\n1 error, 1 warning, 1 advice; `noticewright why CODE` explains each\n"));
    }

    #[test]
    fn equal_findings_are_grouped() {
        let rows: String = (0..20).map(|number| format!("CH{number},C1,x,Q7,Room 1,230\n")).collect();
        let text = rendered(&rows);
        assert_eq!(text.matches("error[not-a-number]").count(), SHOWN_OF_A_KIND);
        assert!(text.contains("= note: and 16 more like it: line 6 (C6), line 7 (C7), "), "{text}");
        assert!(text.ends_with("20 errors; `noticewright why CODE` explains each\n"));
    }

    #[test]
    fn nothing_of_the_users_text_reaches_the_terminal_as_a_command() {
        let text = rendered("CH1,C\u{1B}[2J1,230,Q7,Room\u{202E} 1,230\n\u{9B}1m,C1,230,Q7,R,230\n");
        assert!(text.chars().all(|c| c == '\n' || !crate::survey::is_hidden(c)), "{text}");
        assert!(text.contains("C\\u{1b}[2J1"));
    }

    #[test]
    fn what_has_no_place_or_no_line_is_shown_as_far_as_it_goes() {
        let bare = render(&[Finding::new(code::NO_SHEET_FOR_SIZE, "no sheet").help("see `sheets`")], false);
        assert!(bare.starts_with("error[no-sheet-for-size]: no sheet\n"), "{bare}");
        assert!(bare.contains("= help: see `sheets`"), "{bare}");
        let bytes = include_bytes!("../../../tests/hostile/designation-turned-into-date-cell.xlsx");
        let sheet = render(&read(bytes, &ReadOptions::new("site.xlsx")).findings, false);
        assert!(
            sheet.contains(" --> site.xlsx:2:2 (column `circuit`, B2)\n  |\n2 | 2026-01-07\n  | ^^^^^^^^^^\n"),
            "{sheet}"
        );
    }

    #[test]
    fn a_long_row_is_shown_as_far_as_the_terminal_is_wide() {
        let row = format!("CH1,C1,230,Q7,{},230", "Room 1, board ".repeat(12));
        let header = HEADER.trim_end();
        let text = format!("{header}\n{row}\n{row}\n");
        let text = render(&read(text.as_bytes(), &ReadOptions::new("site.csv")).findings, false);
        assert!(text.contains("warning[row-repeated]"), "{text}");
        assert!(text.lines().filter(|line| !line.contains("error[")).all(|line| line.chars().count() <= 110), "{text}");
    }

    #[test]
    fn colour_changes_nothing_but_colour() {
        let findings =
            read(format!("{HEADER}CH1,C1,x,Q7,Room 1,240\n").as_bytes(), &ReadOptions::new("s.csv")).findings;
        let mut plain = String::new();
        let coloured = render(&findings, true);
        assert!(coloured.contains('\u{1B}'));
        for (number, part) in coloured.split('\u{1B}').enumerate() {
            plain.push_str(if number == 0 { part } else { part.split_once('m').unwrap().1 });
        }
        assert_eq!(plain, render(&findings, false));
    }

    #[test]
    fn no_findings_no_text() {
        assert_eq!(render(&[], true), "");
    }
}
