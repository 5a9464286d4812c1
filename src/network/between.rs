//! The highest voltage between conductors of one enclosure, alternating and direct apart.
//!
//! Each live conductor is a phasor of its source. Two lines of one system stand at the voltage between lines; line 1 of
//! another board may not be line 1 here; sources that are not held in step drift through every angle, so their
//! voltages add up.

use super::Way;
use super::id::{SourceId, SupplyId};
use super::lines::Lines;
use super::supply::Nature;
use super::voltage::{EarthRule, WayVoltage, between_lines_of};
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
    /// Two systems of different voltage or earthing.
    TwoSystems,
    /// A battery and what charges it: one d.c. system.
    OneStore,
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
    rule: Option<EarthRule>,
    is_battery: bool,
    may_have_lines: bool,
}

/// The highest voltage between conductors of one kind of current; `None` where no two conductors are known to differ.
#[must_use]
pub fn highest(rows: &[Row], ways: &[Way], current: Current) -> Option<Between> {
    let mut best = None;
    let mut circuits: Vec<(usize, Circuit<'_>)> = Vec::new();
    for (index, (row, way)) in rows.iter().zip(ways).enumerate() {
        let Some(circuit) = circuit_of(row, way, current) else { continue };
        keep_higher(&mut best, within(index, &circuit, current));
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
    let lines = Lines::of(&row.conductors);
    Some(Circuit {
        supplies: &way.supplies,
        source: way.source,
        lines,
        to_earth,
        between: computed.between,
        rule: computed.to_earth.map(|(_, rule)| rule),
        is_battery: row.source.as_ref().map(Nature::of) == Some(Nature::Battery),
        may_have_lines: if lines.is_known() {
            lines.count() >= 2
        } else {
            row.nominal.is_none_or(|nominal| nominal.between.is_some())
        },
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
fn within(index: usize, circuit: &Circuit<'_>, current: Current) -> Option<Between> {
    if !circuit.may_have_lines {
        return None;
    }
    let declared = circuit.between.map(|value| (value, false));
    // Without a nominal voltage the table tells which pair the voltage to earth belongs to, and that is a bound.
    let of_table = || between_lines_of(circuit.to_earth).filter(|_| current == Current::Ac).map(|value| (value, true));
    let (value, bound) = declared.or_else(of_table)?;
    Some(Between { value, bound, apart: Apart::OneCircuit, rows: (index, index) })
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
    if current == Current::Dc && is_one_store(one, other) {
        let value = one.between.max(other.between)?;
        return Some(Between { value, bound: false, apart: Apart::OneStore, rows });
    }
    let one_board = is_one_board(one, other);
    if !one_board && !is_one_source(one, other) {
        return sum(Apart::NotInStep);
    }
    if !is_one_system(one, other) || (!one_board && one.rule == Some(EarthRule::FirstFault)) {
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
            let Some(value) = between_lines_of(one.to_earth) else { return sum(apart) };
            // Another line than the first shows that the system has three.
            let is_certain = (one_board && said) || one.lines.union(other.lines).has_further_line();
            Some(Between { value, bound: !is_certain, apart, rows })
        }
        (None, Current::Dc) => sum(apart),
    }
}

/// A battery and a circuit of the same voltage and earthing that is none: what charges a battery is one system with it.
fn is_one_store(one: &Circuit<'_>, other: &Circuit<'_>) -> bool {
    let is_alike = one.to_earth == other.to_earth && one.between.is_some() && one.between == other.between;
    is_alike && one.rule == other.rule && one.is_battery != other.is_battery
}

/// Nothing shows that the two are systems of different voltage or earthing.
fn is_one_system(one: &Circuit<'_>, other: &Circuit<'_>) -> bool {
    let differ = |one: Option<Volts>, other: Option<Volts>| one.is_some() && other.is_some() && one != other;
    let earthed_apart = one.rule.is_some() && other.rule.is_some() && one.rule != other.rule;
    one.to_earth == other.to_earth && !differ(one.between, other.between) && !earthed_apart
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

/// So little adds nothing that could be told apart from nominal values: 50 V a.c. (extra-low voltage, BS 7671), 60 V d.c.
/// (common practice; the 120 V of that definition would hide a battery of 110 V).
const fn extra_low_limit(current: Current) -> Volts {
    match current {
        Current::Ac => Volts::whole(50),
        Current::Dc => Volts::whole(60),
    }
}
