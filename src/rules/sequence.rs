//! In which order the points of an enclosure are opened, and what a survey leaves open of that.
//!
//! A blank cell means any order, but beside numbers it is the usual slip of a list that is filled in by halves. Then, and
//! where several points have one number, only what the numbers tell is said: which points come before which.

use super::case::Case;
use super::decision::PointOfIsolation;
use super::phrases::list;
use crate::finding::{Finding, code};
use crate::network::DeviceId;
use crate::survey::{Column, Row};

/// How far the points of an enclosure stand in a sequence.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sequence {
    /// The survey gives none.
    None,
    /// Some come before others, and others have no number or share one.
    InPart,
    /// Every point has a number of its own.
    Whole,
}

impl Sequence {
    /// That of some points.
    #[must_use]
    pub fn of(points: &[PointOfIsolation]) -> Self {
        let mut numbers: Vec<u16> = points.iter().filter_map(|point| point.order).collect();
        let numbered = numbers.len();
        numbers.sort_unstable();
        numbers.dedup();
        match numbers.len() {
            0 | 1 => Self::None,
            distinct if distinct == numbered && numbered == points.len() => Self::Whole,
            _ => Self::InPart,
        }
    }
}

/// The points with the highest number below that of one of them: they are opened before it, and say themselves what comes
/// before them.
#[must_use]
pub fn before<'a>(points: &'a [PointOfIsolation], point: &PointOfIsolation) -> Vec<&'a PointOfIsolation> {
    let lower = points.iter().filter(|other| other.order.is_some() && other.order < point.order);
    let next = lower.clone().map(|other| other.order).max();
    lower.filter(|other| Some(other.order) == next).collect()
}

/// The order in which points are listed: those without a number last, but first where no point is number 1.
pub(super) fn sort(points: &mut [PointOfIsolation]) {
    let begins = points.iter().filter_map(|point| point.order).min().is_none_or(|first| first <= 1);
    points.sort_by_key(|point| point.order.unwrap_or(if begins { u16::MAX } else { 0 }));
}

/// Reports points without a number beside others with one, and a number before which others are lacking.
pub(super) fn report(case: &Case<'_>, points: &[(DeviceId, &PointOfIsolation)], findings: &mut Vec<Finding>) {
    let numbered: Vec<&PointOfIsolation> =
        points.iter().map(|(_, point)| *point).filter(|point| point.order.is_some()).collect();
    let Some(first) = numbered.iter().min_by_key(|point| point.order) else { return };
    let names = |points: &[&PointOfIsolation]| {
        let names: Vec<String> = points.iter().take(NAMED).map(|point| format!("`{}`", point.device)).collect();
        let more = points.len().saturating_sub(NAMED);
        let more = (more > 0).then(|| format!("{more} more"));
        list(names.iter().map(String::as_str).chain(more.as_deref()))
    };
    let blank: Vec<&(DeviceId, &PointOfIsolation)> = points.iter().filter(|(_, point)| point.order.is_none()).collect();
    if let Some(row) = blank.first().and_then(|(device, _)| row_of(case, *device)) {
        let blank: Vec<&PointOfIsolation> = blank.iter().map(|(_, point)| *point).collect();
        let have = if blank.len() == 1 { "has" } else { "have" };
        let message = format!(
            "{} {have} no number in the sequence of `{}`, in which `{}` is number {}",
            names(&blank),
            case.designation(),
            first.device,
            first.order.unwrap_or_default()
        );
        findings.push(
            case.finding(code::ORDER_INCOMPLETE, message, row, Column::Order)
                .help("number every isolator, or none; those of one number are opened in any order among themselves"),
        );
    }
    let mut orders: Vec<u16> = numbered.iter().filter_map(|point| point.order).collect();
    orders.sort_unstable();
    // So many come before it as its place says: of those with one number the first is met.
    let lacking = orders.iter().enumerate().find(|(place, order)| place + 1 < usize::from(**order));
    let Some((place, order)) = lacking else { return };
    let Some((device, point)) = points.iter().find(|(_, point)| point.order == Some(*order)) else { return };
    let come = match place {
        0 => "nothing comes".to_owned(),
        1 => "1 comes".to_owned(),
        count => format!("{count} come"),
    };
    let message = format!(
        "`{}` is number {order} in the sequence of `{}`, and {come} before it",
        point.device,
        case.designation()
    );
    let Some(row) = row_of(case, *device) else { return };
    let help = "count from 1 without a gap; if an isolator is missing, add its row";
    findings.push(case.finding(code::ORDER_INCOMPLETE, message, row, Column::Order).help(help));
}

/// So many points are named, the others counted.
const NAMED: usize = 4;

/// The first row that a device isolates.
fn row_of<'a>(case: &Case<'a>, device: DeviceId) -> Option<&'a Row> {
    case.rows().find(|(_, way)| way.isolated.devices().contains(&device)).map(|(row, _)| row)
}

#[cfg(test)]
mod tests {
    use crate::finding::code;
    use crate::rules::sequence::{Sequence, before};
    use crate::rules::testing::{PLAIN, decided};

    /// Points in the order of the list with their numbers, how far they stand in a sequence, and what is reported.
    fn told(orders: &[&str]) -> (String, Sequence, Vec<String>) {
        let row = |(index, order): (usize, &&str)| {
            let row = PLAIN.replace("C/1", &format!("C/{index}")).replace("Q1", &format!("Q{index}"));
            format!("{row},{order}")
        };
        let rows: Vec<String> = orders.iter().enumerate().map(row).collect();
        let rows: Vec<&str> = rows.iter().map(String::as_str).collect();
        let (mut decisions, findings) = decided("order", &rows);
        let points = decisions.enclosures.swap_remove(0).points;
        let listed = points.iter().map(|point| {
            let before: Vec<_> = before(&points, point).iter().map(|other| other.device.as_str()).collect();
            format!("{}<{}", before.join("+"), point.device)
        });
        let found = findings.into_iter().filter(|finding| finding.code == code::ORDER_INCOMPLETE);
        let listed = listed.collect::<Vec<_>>().join(" ");
        (listed, Sequence::of(&points), found.map(|finding| finding.message).collect())
    }

    #[test]
    fn a_number_for_each_is_a_sequence() {
        assert_eq!(told(&["2", "1", "3"]), ("<Q1 Q1<Q0 Q0<Q2".to_owned(), Sequence::Whole, vec![]));
    }

    #[test]
    fn no_number_is_none_and_one_isolator_is_in_no_sequence() {
        assert_eq!(told(&["", ""]), ("<Q0 <Q1".to_owned(), Sequence::None, vec![]));
        assert_eq!(told(&["1"]), ("<Q0".to_owned(), Sequence::None, vec![]));
    }

    #[test]
    fn of_points_with_one_number_none_comes_first() {
        assert_eq!(told(&["1", "1"]), ("<Q0 <Q1".to_owned(), Sequence::None, vec![]));
        assert_eq!(told(&["2", "1", "1"]), ("<Q1 <Q2 Q1+Q2<Q0".to_owned(), Sequence::InPart, vec![]));
        assert_eq!(told(&["1", "1", "3"]), ("<Q0 <Q1 Q0+Q1<Q2".to_owned(), Sequence::InPart, vec![]));
    }

    #[test]
    fn a_blank_beside_numbers_is_reported_and_stands_in_no_order() {
        let blank = |names: &str| vec![format!("{names} no number in the sequence of `E1`, in which `Q0` is number 1")];
        assert_eq!(told(&["1", ""]), ("<Q0 <Q1".to_owned(), Sequence::None, blank("`Q1` has")));
        let several = told(&["1", "", "2", ""]);
        assert_eq!(several, ("<Q0 Q0<Q2 <Q1 <Q3".to_owned(), Sequence::InPart, blank("`Q1` and `Q3` have")));
        let many = told(&["1", "", "", "", "", "", ""]).2;
        assert_eq!(many, blank("`Q1`, `Q2`, `Q3`, `Q4` and 2 more have"));
    }

    #[test]
    fn a_sequence_begins_at_one_and_has_no_gap() {
        let lacks = |device: &str, number: u16, come: &str| {
            format!("`{device}` is number {number} in the sequence of `E1`, and {come} before it")
        };
        assert_eq!(told(&["2", "3"]), ("<Q0 Q0<Q1".to_owned(), Sequence::Whole, vec![lacks("Q0", 2, "nothing comes")]));
        assert_eq!(told(&["1", "3"]).2, [lacks("Q1", 3, "1 comes")]);
        assert_eq!(told(&["1", "1", "4", "4"]).2, [lacks("Q2", 4, "2 come")]);
        assert_eq!(told(&["2"]).2, [lacks("Q0", 2, "nothing comes")]);
    }

    /// The blank one is the likelier first, though nothing claims it.
    #[test]
    fn where_no_point_is_number_one_those_without_a_number_stand_first() {
        let (listed, sequence, found) = told(&["2", ""]);
        assert_eq!((listed.as_str(), sequence, found.len()), ("<Q1 <Q0", Sequence::None, 2));
    }
}
