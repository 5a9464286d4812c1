//! The highest voltages in one enclosure, with where each figure comes from.

use super::case::Case;
use super::decision::{Voltage, Voltages};
use crate::network::between::highest;
use crate::network::{Agreement, Apart, Between, Way};
use crate::survey::Row;
use crate::survey::value::{Current, Nominal, Volts};

/// The highest voltages, alternating and direct apart.
pub(super) fn voltages(case: &Case<'_>) -> Voltages {
    let mut voltages = Voltages::default();
    for current in [Current::Ac, Current::Dc] {
        let Some((row, way, to_earth)) = highest_to_earth(case, current) else { continue };
        voltages.to_earth.push(Voltage { value: to_earth, current, bound: false });
        voltages.explanation.push(earth_in_words(row, way, to_earth, current));
        let between =
            highest(case.network, case.id, &case.enclosure.rows, current).filter(|between| between.value > to_earth);
        if let Some(between) = between {
            voltages.between.push(Voltage { value: between.value, current, bound: between.bound });
            voltages.explanation.push(between_in_words(case, &between, current));
        }
    }
    voltages.explanation.extend(peak_in_words(&voltages.to_earth));
    for (row, _) in case.rows().filter(|(_, way)| way.voltage.to_earth.is_none()) {
        voltages.explanation.push(format!("the voltage of circuit {} is not known", row.circuit));
    }
    voltages
}

fn highest_to_earth<'a>(case: &Case<'a>, current: Current) -> Option<(&'a Row, &'a Way, Volts)> {
    let of_kind = case.rows().filter(|(_, way)| way.voltage.current == current);
    let known = of_kind.filter_map(|(row, way)| way.voltage.to_earth.map(|volts| (row, way, volts)));
    known.reduce(|known, next| if next.2 > known.2 { next } else { known })
}

const fn unit(current: Current) -> &'static str {
    match current {
        Current::Ac => "V",
        Current::Dc => "V d.c.",
    }
}

fn earth_in_words(row: &Row, way: &Way, value: Volts, current: Current) -> String {
    let voltage = &way.voltage;
    let source = match (voltage.agreement, voltage.computed.to_earth) {
        (Agreement::NotComputed, _) => "as declared; nominal voltage and earthing do not tell".to_owned(),
        (Agreement::Overstated, Some((volts, _))) => format!("as declared, though {volts} V follows"),
        (_, Some((_, rule))) => match row.nominal {
            Some(nominal) => format!("{} V, {}", nominal_in_words(nominal), rule.words()),
            None => rule.words().to_owned(),
        },
        (_, None) => "as declared".to_owned(),
    };
    let taken = if voltage.current_is_said { "" } else { "; alternating or direct is not said" };
    format!("{value} {} to earth: {source} (circuit {}){taken}", unit(current), row.circuit)
}

fn nominal_in_words(nominal: Nominal) -> String {
    match (nominal.to_neutral, nominal.between) {
        (Some(neutral), Some(between)) => format!("{neutral}/{between}"),
        (Some(only), None) | (None, Some(only)) => only.to_string(),
        (None, None) => String::new(),
    }
}

fn between_in_words(case: &Case<'_>, between: &Between, current: Current) -> String {
    let circuit = |index: usize| case.enclosure.rows.get(index).map_or("", |row| row.circuit.as_str());
    let (one, other) = (circuit(between.rows.0), circuit(between.rows.1));
    let why = match between.apart {
        Apart::OneCircuit => format!("between conductors of circuit {one}"),
        Apart::OneBoard => format!("circuits {one} and {other} are on different lines of one board"),
        Apart::OneBoardLinesNotSaid => {
            format!("circuits {one} and {other} come from one board, and on which lines is not said")
        }
        Apart::TwoBoards => format!("circuits {one} and {other} come from two boards, and line 1 may not be line 1"),
        Apart::NotInStep => format!(
            "circuits {one} and {other} come from sources that are not known to be held in step, so their voltages add"
        ),
        Apart::TwoSystems => {
            format!("circuits {one} and {other} belong to systems of different voltage or earthing, so they add")
        }
        Apart::OneStore => {
            format!("circuits {one} and {other} are taken for one d.c. system, a battery and what charges it")
        }
        Apart::PhasingProved => format!(
            "circuits {one} and {other} are on different lines, line 1 of the one being proved to be line 1 of the other"
        ),
        Apart::LinesNotSaid => format!("on which lines circuits {one} and {other} are is not said"),
        Apart::InStep => {
            format!("circuits {one} and {other} come from sources that are held in step, and line 1 may not be line 1")
        }
        Apart::VectorGroups => format!(
            "circuits {one} and {other} are turned against each other by transformers; computed from the vector groups, rounded up"
        ),
        Apart::AngleNotKnown => format!(
            "a transformer lies between circuits {one} and {other}, and the angle between them is not proved, so they add"
        ),
        Apart::Floating => format!(
            "of circuits {one} and {other} at least one is unearthed, and a first fault may lift it, so they add"
        ),
    };
    let bound = if between.bound { ", at most" } else { "" };
    format!("{} {} between conductors{bound}: {why}", between.value, unit(current))
}

/// The peak between alternating and direct parts, Vdc + sqrt 2 x Vac: only for the explanation.
fn peak_in_words(to_earth: &[Voltage]) -> Option<String> {
    let of = |current| to_earth.iter().find(|voltage| voltage.current == current).map(|voltage| voltage.value);
    let (alternating, direct) = (of(Current::Ac)?, of(Current::Dc)?);
    let peak = direct.to_volts() + alternating.to_volts() * std::f64::consts::SQRT_2;
    Some(format!("up to {peak:.0} V peak between a.c. and d.c. parts: {direct} V d.c. and the peak of {alternating} V"))
}
