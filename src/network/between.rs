//! The highest voltage between conductors of one enclosure, alternating and direct apart.
//!
//! Each live conductor is a phasor of its source. Two lines of one system stand at the voltage between lines; line 1 of
//! another board may not be line 1 here; sources that are not held in step drift through every angle, so their
//! voltages add up. What the survey says of boards and sources counts where the supplies file does not describe both
//! circuits in full.

mod phasor;

use super::id::{EnclosureId, SourceId, SupplyId};
use super::lines::Lines;
use super::supply::Nature;
use super::system::{Held, Place, Tie};
use super::voltage::{EarthRule, REDUCED_THREE_PHASE, WayVoltage, between_lines_of};
use super::{Network, Way};
use crate::survey::Row;
use crate::survey::value::{Current, Earthing, SourceKind, Volts};

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
    /// Two lines of two boards, line 1 of the one proved to be line 1 of the other.
    PhasingProved,
    /// Proved to be of one numbering, and the survey does not say which lines.
    LinesNotSaid,
    /// Two sources that are held in step; that line 1 is line 1 is not proved.
    InStep,
    /// The angle between two transformers, or a transformer and what feeds it, is known from their vector groups.
    VectorGroups,
    /// A transformer lies between, and its vector group or the numbering of the lines is not proved.
    AngleNotKnown,
    /// Two systems one of which is unearthed, so that a first fault may lift it.
    Floating,
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
    /// Which pole is earthed, where nothing that tells its earthing says otherwise.
    earthed_pole: Option<Earthing>,
    is_battery: bool,
    /// SELV or PELV, by all that tells its earthing.
    is_separated: bool,
    may_have_lines: bool,
    /// Where the supplies file has it; `None` where it is not described.
    place: Option<Place>,
}

/// What the circuits of one enclosure are held against.
#[derive(Clone, Copy)]
struct Pairs<'a> {
    network: &'a Network,
    current: Current,
}

/// The highest voltage between conductors of one kind of current; `None` where no two conductors are known to differ.
#[must_use]
pub fn highest(network: &Network, enclosure: EnclosureId, rows: &[Row], current: Current) -> Option<Between> {
    let mut best = None;
    let mut circuits: Vec<(usize, Circuit<'_>)> = Vec::new();
    for (index, circuit) in circuits_of(network, enclosure, rows, current) {
        keep_higher(&mut best, within(index, &circuit, current));
        let adds_nothing = adds_nothing(&circuit, current);
        // Two alike stand for all of their kind: every pair of them comes to the same.
        let alike = circuits.iter().filter(|(_, other)| *other == circuit).count();
        if !adds_nothing && circuits.len() <= PAIRS_LIMIT && alike < 2 {
            circuits.push((index, circuit));
        }
    }
    if circuits.len() > PAIRS_LIMIT {
        keep_higher(&mut best, coarse_bound(circuits_of(network, enclosure, rows, current)));
        return best;
    }
    let pairs = Pairs { network, current };
    for (place, (index, circuit)) in circuits.iter().enumerate() {
        for (other_index, other) in circuits.iter().skip(place + 1) {
            keep_higher(&mut best, pairs.apart((*index, circuit), (*other_index, other)));
        }
    }
    best
}

/// The circuits of an enclosure whose voltage of this kind is known, with their place among the rows.
fn circuits_of<'a>(
    network: &'a Network,
    enclosure: EnclosureId,
    rows: &'a [Row],
    current: Current,
) -> impl Iterator<Item = (usize, Circuit<'a>)> {
    let ways = network.way_ids(enclosure).zip(network.ways(enclosure));
    let places = ways.map(|(id, way)| (way, network.systems().certain_place(id)));
    let circuits = rows.iter().zip(places).map(move |(row, (way, place))| circuit_of(row, way, place, current));
    circuits.enumerate().filter_map(|(index, circuit)| circuit.map(|circuit| (index, circuit)))
}

fn circuit_of<'a>(row: &Row, way: &'a Way, place: Option<Place>, current: Current) -> Option<Circuit<'a>> {
    let WayVoltage { current: own, computed, to_earth, is_separated, earthed_pole, .. } = *way.voltage;
    let to_earth = to_earth.filter(|_| own == current)?;
    let lines = Lines::of(row.conductors);
    Some(Circuit {
        supplies: &way.supplies,
        source: way.source,
        lines,
        to_earth,
        between: computed.between,
        rule: computed.to_earth.map(|(_, rule)| rule),
        is_separated,
        earthed_pole,
        is_battery: row.source.as_ref().map(Nature::of) == Some(Nature::Battery),
        may_have_lines: if lines.is_known() {
            lines.count() >= 2
        } else {
            row.nominal
                .map_or(computed.to_earth.is_none() || computed.between.is_some(), |nominal| nominal.between.is_some())
        },
        place,
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

impl Pairs<'_> {
    /// Between two circuits.
    fn apart(
        self,
        (index, one): (usize, &Circuit<'_>),
        (other_index, other): (usize, &Circuit<'_>),
    ) -> Option<Between> {
        let rows = (index, other_index);
        if self.current == Current::Dc && is_one_store(one, other) {
            let value = one.between.max(other.between)?;
            return Some(Between { value, bound: false, apart: Apart::OneStore, rows });
        }
        // The poles that are not earthed stand on one side of earth: no two are further apart than the higher one from it.
        if self.current == Current::Dc && one.earthed_pole.is_some() && one.earthed_pole == other.earthed_pole {
            return None;
        }
        let figure = match self.network.systems().tie(one.place, other.place) {
            Tie::NotDescribed => self.by_survey(one, other),
            Tie::NotInStep => sum(one, other, Apart::NotInStep),
            Tie::InStep(held) => self.by_supplies_file(one, other, held),
        };
        // Two of extra-low voltage that come to no more than it together are of no other danger than one.
        let is_little =
            |value: Volts| one.to_earth.max(other.to_earth) < value && value <= extra_low_limit(self.current);
        let (value, bound, apart) = figure.filter(|(value, ..)| !is_little(*value))?;
        Some(Between { value, bound, apart, rows })
    }

    /// One source by its name. A bare word is one source only of the public network: two circuits from `ups` can come from
    /// two of them.
    fn is_one_source(self, one: &Circuit<'_>, other: &Circuit<'_>) -> bool {
        let source = one.source.filter(|_| one.source == other.source).and_then(|id| self.network.source(id));
        source.is_some_and(|source| matches!(source.kind, SourceKind::Mains | SourceKind::Named(_)))
    }

    /// What the survey says of boards and sources.
    fn by_survey(self, one: &Circuit<'_>, other: &Circuit<'_>) -> Option<Figure> {
        let one_board = is_one_board(one, other);
        if !one_board && !self.is_one_source(one, other) {
            return sum(one, other, Apart::NotInStep);
        }
        if !is_one_system(one, other) || (!one_board && one.rule == Some(EarthRule::FirstFault)) {
            return sum(one, other, Apart::TwoSystems);
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
        self.between_lines(one, other, apart, one_board && said)
    }

    /// What the supplies file says of junctions, transformers and line numbers.
    fn by_supplies_file(self, one: &Circuit<'_>, other: &Circuit<'_>, held: Held) -> Option<Figure> {
        let floats = is_floating(one) || is_floating(other);
        let is_connected = held.is_joined || held.is_one_source || (is_earthed(one) && is_earthed(other));
        let is_one_voltage = held.is_one_voltage && is_one_system(one, other) && is_connected;
        if is_one_voltage {
            return self.of_one_voltage(one, other, held);
        }
        let is_turned = self.current == Current::Ac && !held.is_one_voltage && is_star(one) && is_star(other);
        if let Some(hours) = held.hours.filter(|_| is_turned) {
            return self.of_known_angle(one, other, hours);
        }
        let apart = match (floats, held.is_one_voltage) {
            (true, _) => Apart::Floating,
            (false, false) if self.current == Current::Ac => Apart::AngleNotKnown,
            (false, true | false) => Apart::TwoSystems,
        };
        sum(one, other, apart)
    }

    fn of_one_voltage(self, one: &Circuit<'_>, other: &Circuit<'_>, held: Held) -> Option<Figure> {
        let said = one.lines.is_known() && other.lines.is_known();
        let is_one_numbering = held.hours == Some(0);
        if is_one_numbering && said && one.lines.union(other.lines).count() < 2 {
            return None;
        }
        let apart = match (is_one_numbering, said, is_one_board(one, other)) {
            (true, true, true) => Apart::OneBoard,
            (true, false, true) => Apart::OneBoardLinesNotSaid,
            (true, true, false) => Apart::PhasingProved,
            (true, false, false) => Apart::LinesNotSaid,
            (false, ..) if held.is_one_source || held.is_joined => Apart::TwoBoards,
            (false, ..) => Apart::InStep,
        };
        self.between_lines(one, other, apart, is_one_numbering && said)
    }

    /// Two star-connected systems, the second turned against the first by a known angle: the widest pair of lines.
    fn of_known_angle(self, one: &Circuit<'_>, other: &Circuit<'_>, hours: u8) -> Option<Figure> {
        let nominal = one.between.max(other.between).filter(|_| is_one_system(one, other));
        let pairs = one.lines.angles().flat_map(|angle| other.lines.angles().map(move |other| (angle + hours, other)));
        let values = pairs.map(|angles| phasor::apart((one.to_earth, angles.0), (other.to_earth, angles.1), nominal));
        values.max().map(|value| (value, false, Apart::VectorGroups))
    }

    /// The voltage between lines of one system, as declared or as the table pairs it.
    fn between_lines(self, one: &Circuit<'_>, other: &Circuit<'_>, apart: Apart, is_certain: bool) -> Option<Figure> {
        match (one.between.max(other.between), self.current) {
            (Some(value), _) => Some((value, false, apart)),
            (None, Current::Ac) => {
                let Some(value) = between_lines_of(one.to_earth) else { return sum(one, other, apart) };
                // Another line than the first shows that the system has three.
                let is_certain = is_certain || one.lines.union(other.lines).has_further_line();
                Some((value, !is_certain, apart))
            }
            (None, Current::Dc) => sum(one, other, apart),
        }
    }
}

/// A value, whether it is an upper bound, and why.
type Figure = (Volts, bool, Apart);

/// The two voltages to earth together: no two conductors can be further apart.
#[expect(clippy::unnecessary_wraps, reason = "it stands beside figures that there may not be")]
fn sum(one: &Circuit<'_>, other: &Circuit<'_>, apart: Apart) -> Option<Figure> {
    Some((Volts::milli(one.to_earth.to_milli().saturating_add(other.to_earth.to_milli())), true, apart))
}

fn is_floating(circuit: &Circuit<'_>) -> bool {
    matches!(circuit.rule, Some(EarthRule::FirstFault | EarthRule::UnearthedPoles))
}

/// Its earthing is known to hold it, so that no fault lifts it.
fn is_earthed(circuit: &Circuit<'_>) -> bool {
    circuit.rule.is_some() && !is_floating(circuit)
}

/// Three lines that stand at one voltage to an earthed star point.
fn is_star(circuit: &Circuit<'_>) -> bool {
    match circuit.rule {
        Some(EarthRule::LineToNeutral) => true,
        Some(EarthRule::ReducedLowVoltage) => circuit.to_earth == REDUCED_THREE_PHASE.0,
        _ => false,
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
    let is_alike = one.to_earth == other.to_earth && !differ(one.between, other.between) && !earthed_apart;
    is_alike || is_one_centre(one, other)
}

/// Lines of a winding that is earthed at its centre, and of the high leg beside it: not as far from earth as each other,
/// and one system.
fn is_one_centre(one: &Circuit<'_>, other: &Circuit<'_>) -> bool {
    let is_of_it = |circuit: &Circuit<'_>| {
        matches!(circuit.rule, Some(EarthRule::Half | EarthRule::HighLeg | EarthRule::PerhapsHighLeg))
    };
    one.between.is_some() && one.between == other.between && is_of_it(one) && is_of_it(other)
}

/// One known board feeds both, and no source is known to be another.
fn is_one_board(one: &Circuit<'_>, other: &Circuit<'_>) -> bool {
    let differ = one.source.is_some() && other.source.is_some() && one.source != other.source;
    !differ && one.supplies.len() == 1 && one.supplies == other.supplies
}

/// The two highest voltages to earth together: no two conductors can be further apart.
fn coarse_bound<'a>(circuits: impl Iterator<Item = (usize, Circuit<'a>)>) -> Option<Between> {
    let mut highest: [Option<(Volts, usize)>; 2] = [None, None];
    for (index, circuit) in circuits {
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

/// Whether a circuit is left out of what two add up to. So little alternating voltage cannot be told apart from nominal
/// values; of direct voltages, which add up pole to pole, only what is separated from all others adds nothing.
fn adds_nothing(circuit: &Circuit<'_>, current: Current) -> bool {
    circuit.to_earth <= extra_low_limit(current) && (current == Current::Ac || circuit.is_separated)
}

/// 50 V a.c. (extra-low voltage, BS 7671), 60 V d.c. (common practice; the 120 V of that definition would hide a battery of
/// 110 V).
const fn extra_low_limit(current: Current) -> Volts {
    match current {
        Current::Ac => Volts::whole(50),
        Current::Dc => Volts::whole(60),
    }
}

#[cfg(test)]
mod tests;
