//! Enclosures of so many circuits that not every pair is looked at.

use super::super::testing::surveyed;
use super::super::{EnclosureId, Network, NetworkOptions};
use super::*;

const SURVEY: &str =
    "enclosure,circuit,fed_from,source,nominal,conductors,earthing,voltage_to_earth,isolator,isolator_location";

/// The highest voltage between these circuits, each by its board, its line and its voltage to earth.
fn highest_of(circuits: impl Iterator<Item = (usize, &'static str, u32)>) -> Option<(u32, bool)> {
    let row = |(index, (board, line, volts)): (usize, (usize, &str, u32))| {
        format!("E1,C/{index},DB{board},mains,{volts},{line} N,TN-S,{volts},Q{index},Board A")
    };
    let rows: Vec<String> = circuits.enumerate().map(row).collect();
    let survey = surveyed(SURVEY, &rows.iter().map(String::as_str).collect::<Vec<_>>());
    let (network, _) = Network::join(&survey, None, &NetworkOptions::default());
    let between = highest(&network, EnclosureId::new(0), &survey.enclosures[0].rows, Current::Ac);
    between.map(|between| (between.value.to_milli() / 1_000, between.bound))
}

/// On boards of one source by their names, line 1 of the one is perhaps not line 1 of the other: 400 V, not 460 V.
#[test]
fn pairs_are_looked_at_one_by_one_as_far_as_the_limit() {
    assert_eq!(highest_of((0..PAIRS_LIMIT).map(|board| (board, "L1", 230))), Some((400, true)));
    assert_eq!(highest_of((0..=PAIRS_LIMIT).map(|board| (board, "L1", 230))), Some((460, true)));
}

#[test]
fn circuits_that_are_alike_count_as_two() {
    let alike = (0..3 * PAIRS_LIMIT).map(|_| (0, "L1", 230));
    assert_eq!(highest_of(alike.clone()), None);
    assert_eq!(highest_of(alike.chain([(0, "L2", 230)])), Some((400, false)));
}

/// Wherever the two highest stand among the others.
#[test]
fn above_the_limit_the_two_highest_add() {
    let volts = |high: usize, higher: usize| {
        (0..PAIRS_LIMIT + 8).map(move |board| {
            let volts = if board == higher { 400 } else { 230 };
            (board, "L1", if board == high { 277 } else { volts })
        })
    };
    let last = PAIRS_LIMIT + 7;
    for (high, higher) in [(0, 1), (1, 0), (0, last), (last, 0), (last - 1, last), (last, last - 1), (5, 40)] {
        assert_eq!(highest_of(volts(high, higher)), Some((677, true)), "{high} {higher}");
    }
}
