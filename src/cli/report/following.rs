//! Findings that only follow from another one at the same cell, and go when that is mended.

use std::borrow::Cow;
use std::collections::HashSet;

use crate::finding::{Code, Finding, Place, Severity, code};

/// All findings but that nobody knows what isolates a circuit where the cell that should say so is an error already. A
/// report for a person leaves it out; what is printed goes by all of them, because only so many faulty cells are kept.
#[must_use]
pub fn without_following(findings: &[Finding]) -> Cow<'_, [Finding]> {
    const FOLLOWS: Code = code::ISOLATOR_NOT_KNOWN;
    if findings.iter().all(|finding| finding.code != FOLLOWS) {
        return Cow::Borrowed(findings);
    }
    let errors = findings.iter().filter(|it| it.severity() == Severity::Error && it.code != FOLLOWS);
    let faulty: HashSet<_> = errors.filter_map(|finding| finding.place.as_ref().map(cell)).collect();
    let is_faulty = |finding: &Finding| finding.place.as_ref().is_some_and(|place| faulty.contains(&cell(place)));
    let kept = findings.iter().filter(|finding| finding.code != FOLLOWS || !is_faulty(finding));
    Cow::Owned(kept.cloned().collect())
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
}
