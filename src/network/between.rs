//! The highest voltage between conductors of one enclosure, alternating and direct apart.
//!
//! Each live conductor is a phasor of its source. Two lines of one system stand at the voltage between lines; line 1 of
//! another board may not be line 1 here; sources that are not held in step drift through every angle, so their
//! voltages add up.

use super::Way;
use super::id::{SourceId, SupplyId};
use super::lines::Lines;
use super::voltage::{WayVoltage, between_lines_of};
use crate::survey::Row;
use crate::survey::value::{Current, Volts};

/// Why two conductors can be so far apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Apart {
    /// Two conductors of one circuit.
    OneCircuit,
    /// Two lines of one board.
    OneBoard,
    /// Circuits of one board, and the survey does not say which lines.
    OneBoardLinesNotSaid,
    /// Circuits of two boards of one source; that line 1 is line 1 is not proved.
    TwoBoards,
    /// Sources that are not known to be held in step.
    NotInStep,
    /// Two systems of different voltage.
    TwoSystems,
}

/// The highest voltage between two conductors.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Between {
    /// Nominal value.
    pub value: Volts,
    /// True for an upper bound.
    pub bound: bool,
    /// Why.
    pub apart: Apart,
    /// The rows concerned, counted within the enclosure; twice the same for one circuit.
    pub rows: (usize, usize),
}

/// Above so many different circuits the pairs are no longer looked at one by one.
const PAIRS_LIMIT: usize = 64;

/// The circuits of one enclosure, as far as they bear on voltages.
#[derive(Clone, Copy, PartialEq, Eq)]
struct Circuit<'a> {
    supplies: &'a [SupplyId],
    source: Option<SourceId>,
    lines: Lines,
    to_earth: Volts,
    between: Option<Volts>,
    three_phase_possible: bool,
}

/// The highest voltage between conductors of one kind of current; `None` where no two conductors are known to differ.
#[must_use]
pub fn highest(rows: &[Row], ways: &[Way], current: Current) -> Option<Between> {
    let mut best = None;
    let mut circuits: Vec<(usize, Circuit<'_>)> = Vec::new();
    for (index, (row, way)) in rows.iter().zip(ways).enumerate() {
        let Some(circuit) = circuit_of(row, way, current) else { continue };
        keep_higher(&mut best, within(index, &circuit));
        let is_extra_low = circuit.to_earth <= extra_low_limit(current);
        // Two alike stand for all of their kind: every pair of them comes to the same.
        let alike = circuits.iter().filter(|(_, other)| *other == circuit).count();
        if !is_extra_low && circuits.len() <= PAIRS_LIMIT && alike < 2 {
            circuits.push((index, circuit));
        }
    }
    if circuits.len() > PAIRS_LIMIT {
        keep_higher(&mut best, coarse_bound(rows, ways, current));
        return best;
    }
    for (place, (index, circuit)) in circuits.iter().enumerate() {
        for (other_index, other) in circuits.iter().skip(place + 1) {
            keep_higher(&mut best, apart((*index, circuit), (*other_index, other), current));
        }
    }
    best
}

fn circuit_of<'a>(row: &Row, way: &'a Way, current: Current) -> Option<Circuit<'a>> {
    let WayVoltage { current: own, computed, to_earth, .. } = way.voltage;
    let to_earth = to_earth.filter(|_| own == current)?;
    Some(Circuit {
        supplies: &way.supplies,
        source: way.source,
        lines: Lines::of(&row.conductors),
        to_earth,
        between: computed.between,
        three_phase_possible: row.nominal.is_none_or(|nominal| nominal.between.is_some()),
    })
}

fn keep_higher(best: &mut Option<Between>, candidate: Option<Between>) {
    let Some(candidate) = candidate else { return };
    let rank = |between: &Between| (between.value, !between.bound);
    if best.as_ref().is_none_or(|known| rank(&candidate) > rank(known)) {
        *best = Some(candidate);
    }
}

/// Within one circuit: between its lines where it has, or may have, two.
fn within(index: usize, circuit: &Circuit<'_>) -> Option<Between> {
    let may_differ = if circuit.lines.is_known() { circuit.lines.count() >= 2 } else { circuit.three_phase_possible };
    let value = circuit.between.filter(|_| may_differ)?;
    Some(Between { value, bound: false, apart: Apart::OneCircuit, rows: (index, index) })
}

/// Between two circuits.
fn apart(
    (index, one): (usize, &Circuit<'_>),
    (other_index, other): (usize, &Circuit<'_>),
    current: Current,
) -> Option<Between> {
    let rows = (index, other_index);
    let sum = |apart| {
        let value = Volts::milli(one.to_earth.to_milli().saturating_add(other.to_earth.to_milli()));
        Some(Between { value, bound: true, apart, rows })
    };
    let one_board = is_one_board(one, other);
    if !one_board && !is_one_source(one, other) {
        return sum(Apart::NotInStep);
    }
    if one.to_earth != other.to_earth {
        return sum(Apart::TwoSystems);
    }
    let said = one.lines.is_known() && other.lines.is_known();
    if one_board && said && one.lines.union(other.lines).count() < 2 {
        return None;
    }
    let apart = match (one_board, said) {
        (false, _) => Apart::TwoBoards,
        (true, false) => Apart::OneBoardLinesNotSaid,
        (true, true) => Apart::OneBoard,
    };
    match (one.between.max(other.between), current) {
        (Some(value), _) => Some(Between { value, bound: false, apart, rows }),
        (None, Current::Ac) => {
            let value = between_lines_of(one.to_earth)?;
            // Another line than the first shows that the system has three.
            let is_certain = (one_board && said) || one.lines.union(other.lines).has_further_line();
            Some(Between { value, bound: !is_certain, apart, rows })
        }
        (None, Current::Dc) => sum(apart),
    }
}

/// One known board feeds both, and no source is known to be another.
fn is_one_board(one: &Circuit<'_>, other: &Circuit<'_>) -> bool {
    let differ = one.source.is_some() && other.source.is_some() && one.source != other.source;
    !differ && one.supplies.len() == 1 && one.supplies == other.supplies
}

fn is_one_source(one: &Circuit<'_>, other: &Circuit<'_>) -> bool {
    one.source.is_some() && one.source == other.source
}

/// The two highest voltages to earth together: no two conductors can be further apart.
fn coarse_bound(rows: &[Row], ways: &[Way], current: Current) -> Option<Between> {
    let mut highest: [Option<(Volts, usize)>; 2] = [None, None];
    for (index, (row, way)) in rows.iter().zip(ways).enumerate() {
        let Some(circuit) = circuit_of(row, way, current) else { continue };
        let here = Some((circuit.to_earth, index));
        let [first, second] = highest;
        if here.map(|(volts, _)| volts) > first.map(|(volts, _)| volts) {
            highest = [here, first];
        } else if here.map(|(volts, _)| volts) > second.map(|(volts, _)| volts) {
            highest = [first, here];
        }
    }
    let [Some((one, index)), Some((other, other_index))] = highest else { return None };
    let value = Volts::milli(one.to_milli().saturating_add(other.to_milli()));
    Some(Between { value, bound: true, apart: Apart::NotInStep, rows: (index, other_index) })
}

/// Extra-low voltage adds too little to be told apart from nominal values: 50 V a.c., 120 V d.c. (BS 7671 definitions).
const fn extra_low_limit(current: Current) -> Volts {
    match current {
        Current::Ac => Volts::whole(50),
        Current::Dc => Volts::whole(120),
    }
}
