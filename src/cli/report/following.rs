//! Findings that only follow from another one at the same cell, and go when that is mended.

use std::borrow::Cow;
use std::collections::HashSet;

use crate::finding::{Code, Finding, Place, Severity, code};
use crate::table::cell::is_not_known;

/// All findings but that nobody knows what isolates a circuit where the cell that should say so is an error already, or names
/// devices that only the cell of the locations does not match. A
/// report leaves it out; what is printed goes by all of them, because only so many faulty cells are kept.
#[must_use]
pub fn without_following(findings: &[Finding]) -> Cow<'_, [Finding]> {
    if findings.iter().all(|finding| finding.code != FOLLOWS) {
        return Cow::Borrowed(findings);
    }
    Cow::Owned(kept(findings).cloned().collect())
}

/// What follows from another one at its cell.
const FOLLOWS: Code = code::ISOLATOR_NOT_KNOWN;

/// The same, one after the other.
pub(super) fn kept(findings: &[Finding]) -> impl Iterator<Item = &Finding> {
    let follow = findings.iter().any(|finding| finding.code == FOLLOWS);
    let errors = findings.iter().filter(|it| follow && it.severity() == Severity::Error && it.code != FOLLOWS);
    let faulty: HashSet<_> = errors.filter_map(|finding| finding.place.as_ref().map(cell)).collect();
    let unmatched = findings.iter().filter(|it| follow && it.code == code::LOCATIONS_DO_NOT_MATCH);
    let unmatched: HashSet<_> = unmatched.filter_map(|finding| finding.place.as_ref().map(line)).collect();
    findings.iter().filter(move |finding| {
        let names_devices = |place: &Place| !place.cell.is_empty() && !is_not_known(&place.cell);
        let is_faulty =
            |place: &Place| faulty.contains(&cell(place)) || unmatched.contains(&line(place)) && names_devices(place);
        finding.code != FOLLOWS || !finding.place.as_ref().is_some_and(is_faulty)
    })
}

fn line(place: &Place) -> (&str, u32) {
    (&*place.file, place.line)
}

fn cell(place: &Place) -> (&str, u32, u32) {
    (&*place.file, place.line, place.column)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(code: Code, line: u32, column: u32) -> Finding {
        let place = Place {
            file: "survey.csv".into(),
            line,
            column,
            column_name: "isolator".to_owned(),
            address: String::new(),
            cell: "ditto".to_owned(),
            line_text: String::new(),
        };
        Finding::new(code, "something").at(place)
    }

    #[test]
    fn what_follows_from_a_faulty_cell_is_left_out_and_nothing_else() {
        let findings = [
            at(code::CELL_REPEATS_ANOTHER, 3, 9),
            at(code::ISOLATOR_NOT_KNOWN, 3, 9),
            at(code::ISOLATOR_NOT_KNOWN, 4, 9),
            at(code::VALUE_NOT_KNOWN, 4, 9),
            at(code::ISOLATOR_NOT_KNOWN, 3, 10),
            Finding::new(code::ISOLATOR_NOT_KNOWN, "something"),
        ];
        let left: Vec<_> =
            without_following(&findings).iter().map(|it| (it.code, it.place.as_ref().map(|it| it.line))).collect();
        assert_eq!(
            left,
            [
                (code::CELL_REPEATS_ANOTHER, Some(3)),
                (code::ISOLATOR_NOT_KNOWN, Some(4)),
                (code::VALUE_NOT_KNOWN, Some(4)),
                (code::ISOLATOR_NOT_KNOWN, Some(3)),
                (code::ISOLATOR_NOT_KNOWN, None),
            ]
        );
    }

    #[test]
    fn a_device_whose_locations_do_not_match_is_not_called_unknown() {
        let mut unknown = at(code::ISOLATOR_NOT_KNOWN, 4, 9);
        unknown.place.as_mut().unwrap().cell = "?".to_owned();
        let findings = [
            at(code::LOCATIONS_DO_NOT_MATCH, 3, 10),
            at(code::ISOLATOR_NOT_KNOWN, 3, 9),
            at(code::LOCATIONS_DO_NOT_MATCH, 4, 30),
            unknown,
            at(code::ISOLATOR_NOT_KNOWN, 5, 9),
        ];
        let left: Vec<_> =
            without_following(&findings).iter().map(|it| (it.code, it.place.as_ref().map(|it| it.line))).collect();
        assert_eq!(
            left,
            [
                (code::LOCATIONS_DO_NOT_MATCH, Some(3)),
                (code::LOCATIONS_DO_NOT_MATCH, Some(4)),
                (code::ISOLATOR_NOT_KNOWN, Some(4)),
                (code::ISOLATOR_NOT_KNOWN, Some(5)),
            ]
        );
    }

    #[test]
    fn the_report_for_scripts_leaves_it_out_too() {
        let findings = [at(code::CELL_REPEATS_ANOTHER, 3, 9), at(code::ISOLATOR_NOT_KNOWN, 3, 9)];
        let told = |findings: &[Finding]| {
            let mut out = Vec::new();
            crate::cli::report::json::Report::new("an edition", findings).write(&mut out).unwrap();
            let text = String::from_utf8(out).unwrap();
            findings.iter().map(|it| it.code.name).filter(|name| text.contains(name)).collect::<Vec<_>>()
        };
        assert_eq!(told(&findings), ["cell-repeats-another"]);
        assert_eq!(told(&findings[1..]), ["isolator-not-known"]);
    }
}
