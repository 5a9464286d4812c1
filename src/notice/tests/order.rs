//! What the notice of an enclosure says of the order of its points.

use super::*;

/// Points by device, place and number in the sequence.
fn situation(points: &[(&str, &str, Option<u16>)]) -> Situation {
    let numbered = |(device, place, order): &(&str, &str, Option<u16>)| PointOfIsolation {
        order: *order,
        ..point(device, place, &[])
    };
    Situation::new("CH3-JB2", points.iter().map(numbered).collect()).states([two_supplies()])
}

fn remarks(points: &[(&str, &str, Option<u16>)]) -> Vec<Vec<String>> {
    let notice = situation(points).notice();
    assert_eq!(notice.cautions, Vec::<Said>::new());
    notice.points.iter().map(|point| point.remarks.iter().map(|said| said.main().to_owned()).collect()).collect()
}

#[test]
fn no_order_is_claimed_that_nobody_gave() {
    let none = [Vec::<String>::new(), Vec::new()];
    assert_eq!(remarks(&[("QA", "A", None), ("QB", "B", None)]), none);
    assert_eq!(remarks(&[("QA", "A", Some(1)), ("QB", "B", Some(1))]), none);
    assert_eq!(remarks(&[("QB", "B", None), ("QA", "A", Some(2))]), none);
}

#[test]
fn of_an_order_in_part_each_point_says_what_comes_before_it() {
    let tie = [("QA", "A", Some(1)), ("QB", "B", Some(1)), ("QC", "C", Some(2)), ("QD", "D", None)];
    let said: Vec<String> = remarks(&tie).concat();
    assert_eq!(said, ["First open QA and QB"]);
    assert_eq!(remarks(&tie)[2].len(), 1);
}

/// Two devices of one designation are told apart by their places.
#[test]
fn what_comes_first_is_named_with_its_place_where_another_bears_its_name() {
    let twins = [("Q1", "Board A", Some(1)), ("Q1", "Board B", Some(2)), ("Q2", "Board B", Some(2))];
    assert_eq!(remarks(&twins).concat(), ["First open Q1 (Board A)", "First open Q1 (Board A)"]);
}

#[test]
fn of_very_many_that_come_first_none_is_named() {
    let mut points: Vec<_> = ["QA", "QB", "QC", "QD", "QE"].iter().map(|device| (*device, "A", Some(1))).collect();
    points.push(("QF", "B", Some(2)));
    assert_eq!(remarks(&points).concat(), ["Others may have to be opened first"]);
}
