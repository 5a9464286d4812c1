//! What the cells of a row and the systems of the supplies file give together: the highest, and who tells it.

use super::{Computed, Other, ToldBy, alternating, direct, has_solar_figures, solar};
use crate::network::lines::Lines;
use crate::network::needs::is_earthed_otherwise;
use crate::network::system::System;
use crate::survey::Row;
use crate::survey::value::{Current, Earthing, Nominal, Volts};

/// What follows for a row on which any of these systems can stand.
pub(super) fn computed_among(row: &Row, current: Current, systems: &[System], are_all: bool) -> (Computed, ToldBy) {
    let own = follows(row, current, row.nominal, row.earthing);
    let comparable: Vec<_> = systems.iter().filter(|system| may_be(**system, current)).collect();
    let mut highest = own;
    let mut told_by = ToldBy::Row;
    let mut is_certain = own.to_earth.is_some() || (are_all && !comparable.is_empty());
    for system in comparable {
        let there = follows_in(row, current, *system);
        if there.to_earth.is_none() || one_leaves_it_open(row, current, *system) {
            is_certain &= told(&own).max(told(&there)).is_some_and(|known| covers(known, &there));
        }
        if figure(&there) > figure(&highest) {
            told_by = ToldBy::SuppliesFile(*system);
        } else if told_by == ToldBy::Row && agrees(row, current, &own, &there, *system) {
            told_by = ToldBy::Both(*system);
        }
        highest = higher(highest, there);
    }
    if !is_certain {
        highest.at_least = highest.at_least.max(told(&highest));
        highest.to_earth = None;
    }
    (highest, told_by)
}

/// The highest to earth of the other kind of current, which the row's own voltage does not cover: what a system brings, and
/// what modules give whose figures stand beside an alternating voltage.
pub(super) fn of_other_current(row: &Row, current: Current, systems: &[System]) -> Option<Other> {
    let others = systems.iter().filter(|system| !may_be(**system, current));
    let brought = others.filter_map(|system| {
        let current = system.nominal?.current;
        let to_earth = figure(&follows(row, current, system.nominal, system.earthing))?;
        Some(Other { system: Some(*system), current, to_earth })
    });
    let has_own = current == Current::Ac && has_solar_figures(row);
    let own = has_own.then(|| figure(&solar(row, row.earthing))).flatten();
    let own = own.map(|to_earth| Other { system: None, current: Current::Dc, to_earth });
    own.into_iter().chain(brought).reduce(|known, next| if next.to_earth > known.to_earth { next } else { known })
}

/// Whether a voltage to earth is no lower than what a system can bring that leaves it open. It may stand with all that lies
/// between its conductors; where of an alternating one nothing tells that, with about the square root of three times its
/// only figure.
fn covers(known: Volts, there: &Computed) -> bool {
    let tenfold = u64::from(known.to_milli()) * 10;
    match (there.between, there.at_least) {
        (Some(between), _) => known >= between,
        (None, Some(single)) => tenfold >= u64::from(single.to_milli()) * 17,
        (None, None) => true,
    }
}

/// Whether row and system each say how they are earthed, and one of the two leaves open what then stands to earth: one
/// figure of a system that is unearthed.
fn one_leaves_it_open(row: &Row, current: Current, system: System) -> bool {
    let nominal = completed(row.nominal, system.nominal);
    let is_told = |earthing| told(&follows(row, current, nominal, Some(earthing))).is_some();
    let both = row.earthing.zip(system.earthing);
    both.is_some_and(|(own, there)| is_told(own) != is_told(there))
}

/// Whether a system tells what the row's own cells tell.
fn agrees(row: &Row, current: Current, own: &Computed, there: &Computed, system: System) -> bool {
    told(own).is_some() && told(own) == told(there) && differing(row, current, system).is_none()
}

/// The voltage to earth, or what it cannot be lower than.
fn figure(computed: &Computed) -> Option<Volts> {
    told(computed).or(computed.at_least)
}

fn told(computed: &Computed) -> Option<Volts> {
    computed.to_earth.map(|(volts, _)| volts)
}

/// The higher of each figure; the first where they are alike.
fn higher(one: Computed, other: Computed) -> Computed {
    Computed {
        to_earth: if told(&other) > told(&one) { other.to_earth } else { one.to_earth },
        at_least: one.at_least.max(other.at_least),
        between: one.between.max(other.between),
    }
}

/// What follows for a row on which one system stands. Where the two agree on the nominal voltage, each may complete the
/// other, and the higher counts; else the system stands for itself.
fn follows_in(row: &Row, current: Current, system: System) -> Computed {
    let is_another = row.nominal.zip(system.nominal).is_some_and(|(own, there)| !is_one_nominal(own, there));
    if is_another {
        return follows(row, current, system.nominal, system.earthing);
    }
    let nominal = completed(row.nominal, system.nominal);
    let here = follows(row, current, nominal, row.earthing.or(system.earthing));
    let there = follows(row, current, nominal, system.earthing.or(row.earthing));
    higher(here, there)
}

fn follows(row: &Row, current: Current, nominal: Option<Nominal>, earthing: Option<Earthing>) -> Computed {
    match current {
        Current::Dc if has_solar_figures(row) => solar(row, earthing),
        Current::Dc => nominal.map_or_else(Computed::default, |nominal| direct(nominal, earthing)),
        Current::Ac => {
            nominal.map_or_else(Computed::default, |nominal| alternating(nominal, earthing, Lines::of(row.conductors)))
        }
    }
}

/// The row's nominal voltage with the figure that it leaves out; the system's where the two differ.
fn completed(own: Option<Nominal>, system: Option<Nominal>) -> Option<Nominal> {
    let (Some(own), Some(system)) = (own, system) else { return own.or(system) };
    let is_pair = own.to_neutral.is_some() && own.between.is_some();
    Some(if is_pair && is_one_nominal(own, system) { own } else { system })
}

/// Nothing shows that the two are different: a single figure may be either of a pair.
pub(in crate::network) fn is_one_nominal(one: Nominal, other: Nominal) -> bool {
    let has = |nominal: Nominal, figure| nominal.to_neutral == Some(figure) || nominal.between == Some(figure);
    let is_alike = match (figures(one), figures(other)) {
        ((Some(neutral), Some(lines)), (Some(other_neutral), Some(other_lines))) => {
            neutral == other_neutral && lines == other_lines
        }
        ((Some(only), None) | (None, Some(only)), _) => has(other, only),
        (_, (Some(only), None) | (None, Some(only))) => has(one, only),
        ((None, None), _) | (_, (None, None)) => true,
    };
    one.current == other.current && is_alike
}

const fn figures(nominal: Nominal) -> (Option<Volts>, Option<Volts>) {
    (nominal.to_neutral, nominal.between)
}

/// The cell of a row that says another thing than a system; the later, the nearer the two are.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::network) enum Differing {
    /// The kind of current, which the row's conductors tell.
    Current,
    /// The nominal voltage.
    Nominal,
    /// The earthing, in a way that changes the voltage to earth, which pole may stay connected, or what is separated.
    Earthing,
}

/// In what a row and a system differ, if they do.
pub(in crate::network) fn differing(row: &Row, current: Current, system: System) -> Option<Differing> {
    if !may_be(system, current) {
        return Some(Differing::Current);
    }
    if let (Some(own), Some(there)) = (row.nominal, system.nominal)
        && !is_one_nominal(own, there)
    {
        return Some(Differing::Nominal);
    }
    if is_earthed_otherwise(row.earthing, system.earthing) || is_one_functional(row.earthing, system.earthing) {
        return Some(Differing::Earthing);
    }
    let nominal = completed(row.nominal, system.nominal);
    let to_earth = |earthing: Option<Earthing>| {
        earthing.and_then(|earthing| told(&follows(row, current, nominal, Some(earthing))))
    };
    match (to_earth(row.earthing), to_earth(system.earthing)) {
        (Some(own), Some(there)) if own != there => Some(Differing::Earthing),
        (Some(_), None) | (None, Some(_)) if one_leaves_it_open(row, current, system) => Some(Differing::Earthing),
        (Some(_) | None, _) => None,
    }
}

/// Whether one of two is functional extra-low voltage, and the other one is separated.
const fn is_one_functional(one: Option<Earthing>, other: Option<Earthing>) -> bool {
    use Earthing::{Felv, Pelv, Selv};
    matches!((one, other), (Some(Felv), Some(Selv | Pelv)) | (Some(Selv | Pelv), Some(Felv)))
}

/// Whether the current of a system is this one, or not said.
fn may_be(system: System, current: Current) -> bool {
    system.nominal.is_none_or(|nominal| nominal.current == current)
}

/// The current of all systems, where they say one and the same.
pub(in crate::network) fn only_current(systems: &[System]) -> Option<Current> {
    let mut currents = systems.iter().map(|system| system.nominal.map(|nominal| nominal.current));
    let first = currents.next().flatten()?;
    currents.all(|current| current == Some(first)).then_some(first)
}
