//! The highest voltages in one enclosure, with where each figure comes from.

use super::apart::why_apart;
use super::because::Telling;
use super::case::Case;
use super::decision::{Voltage, Voltages};
use super::phrases;
use crate::network::between::highest;
use crate::network::voltage::Other;
use crate::network::voltage::words::system_in_words;
use crate::network::{Agreement, Between, Others, System, ToldBy, Way, WayId};
use crate::survey::Row;
use crate::survey::value::{Current, Nominal, Volts};

/// The highest voltages, alternating and direct apart; and where each comes from, if somebody will read it.
pub(super) fn voltages(case: &Case<'_>) -> (Voltages, Vec<String>) {
    let (mut voltages, mut explanation) = (Voltages::default(), Vec::new());
    for current in [Current::Ac, Current::Dc] {
        let own = highest_to_earth(case, current);
        let brought = highest_brought(case, current);
        let volts = own.map(|(.., volts)| volts).max(brought.map(|(_, other)| other.to_earth));
        let Some(to_earth) = volts else { continue };
        add(&mut voltages.to_earth, Voltage { value: to_earth, current, bound: false });
        let own_words =
            own.map(|(row, way, volts)| case.telling.line(|| earth_in_words(case, row, way, volts, current)));
        explanation.extend(own_words.flatten());
        let brought_words = brought.map(|(row, other)| case.telling.line(|| brought_in_words(case, row, other)));
        explanation.extend(brought_words.flatten());
        let between = highest(case.network, case.id, &case.enclosure.rows, current);
        if let Some(between) = between.filter(|between| between.value > to_earth) {
            add(&mut voltages.between, Voltage { value: between.value, current, bound: between.bound });
            explanation.extend(case.telling.line(|| between_in_words(case, &between, current)));
        }
    }
    if case.telling == Telling::Words {
        explanation.extend(peak_in_words(&voltages.to_earth));
        let unknown = case.rows().filter(|(_, way)| way.voltage.to_earth.is_none());
        explanation.extend(unknown.map(|(row, _)| format!("the voltage of circuit {} is not known", row.circuit)));
        explanation.extend(not_described_in_words(case));
    }
    (voltages, explanation)
}

/// Adds to a list that mostly holds one, and no more than two.
fn add(voltages: &mut Vec<Voltage>, voltage: Voltage) {
    voltages.reserve_exact(1);
    voltages.push(voltage);
}

fn highest_to_earth<'a>(case: &Case<'a>, current: Current) -> Option<(&'a Row, &'a Way, Volts)> {
    let of_kind = case.rows().filter(|(_, way)| way.voltage.current == current);
    let known = of_kind.filter_map(|(row, way)| way.voltage.to_earth.map(|volts| (row, way, volts)));
    known.reduce(|known, next| if next.2 > known.2 { next } else { known })
}

/// The highest of the other kind of current on any row.
fn highest_brought<'a>(case: &Case<'a>, current: Current) -> Option<(&'a Row, Other)> {
    let brought = case.rows().filter_map(|(row, way)| way.voltage.other.map(|other| (row, other)));
    let of_kind = brought.filter(|(_, other)| other.current == current);
    of_kind.reduce(|known, next| if next.1.to_earth > known.1.to_earth { next } else { known })
}

fn brought_in_words(case: &Case<'_>, row: &Row, other: Other) -> String {
    let value = other.to_earth;
    let told = match other.system {
        Some(system) => format!("by the supplies file, {}", begun_in_words(case, system)),
        None => "the figures of solar modules".to_owned(),
    };
    format!("{value} {} to earth: {told} (circuit {} too)", unit(other.current), row.circuit)
}

const fn unit(current: Current) -> &'static str {
    match current {
        Current::Ac => "V",
        Current::Dc => "V d.c.",
    }
}

fn earth_in_words(case: &Case<'_>, row: &Row, way: &Way, value: Volts, current: Current) -> String {
    let voltage = &way.voltage;
    let source = match (voltage.agreement, voltage.computed.to_earth) {
        (Agreement::NotComputed, _) => "as declared; nominal voltage and earthing do not tell".to_owned(),
        (Agreement::Overstated, Some((volts, _))) => format!("as declared, though {volts} V follows"),
        (_, Some((_, rule))) => match (voltage.told_by, row.nominal) {
            (ToldBy::SuppliesFile(system), _) => {
                format!("{}, by the supplies file, {}", begun_in_words(case, system), rule.words())
            }
            (ToldBy::Row | ToldBy::Both(_), Some(nominal)) => format!("{} V, {}", figures(nominal), rule.words()),
            (ToldBy::Row | ToldBy::Both(_), None) => rule.words().to_owned(),
        },
        (Agreement::Understated, None) => {
            let told = match voltage.told_by {
                ToldBy::SuppliesFile(system) => format!("{}, by the supplies file", begun_in_words(case, system)),
                ToldBy::Row | ToldBy::Both(_) => "by its other cells".to_owned(),
            };
            let declared = row.voltage_to_earth.unwrap_or_default();
            format!("{told}, no less than that, though {declared} V is declared")
        }
        (Agreement::OldNominal, None) => "the old nominal voltage, now 230 V".to_owned(),
        (_, None) => "as declared".to_owned(),
    };
    let agrees = match voltage.told_by {
        ToldBy::Both(system) => format!("; the supplies file agrees, {}", begun_in_words(case, system)),
        ToldBy::Row | ToldBy::SuppliesFile(_) => String::new(),
    };
    let taken = if voltage.current_is_said { "" } else { "; alternating or direct is not said" };
    format!("{value} {} to earth: {source} (circuit {}){agrees}{taken}", unit(current), row.circuit)
}

/// A system with the place where it begins: `TX2 63.5/110 TN-S`.
fn begun_in_words(case: &Case<'_>, system: System) -> String {
    let words = system_in_words(system.nominal, system.earthing);
    let begins = format!("{} {words}", case.network.node_name(system.began));
    if system.earthed == system.began {
        return begins;
    }
    format!("{begins} (earthed so from {})", case.network.node_name(system.earthed))
}

fn figures(nominal: Nominal) -> String {
    match (nominal.to_neutral, nominal.between) {
        (Some(neutral), Some(between)) => format!("{neutral}/{between}"),
        (Some(only), None) | (None, Some(only)) => only.to_string(),
        (None, None) => String::new(),
    }
}

fn between_in_words(case: &Case<'_>, between: &Between, current: Current) -> String {
    let bound = if between.bound { ", at most" } else { "" };
    format!("{} {} between conductors{bound}: {}", between.value, unit(current), why_apart(case, between, current))
}

/// The peak between alternating and direct parts, Vdc + sqrt 2 x Vac: only for the explanation.
fn peak_in_words(to_earth: &[Voltage]) -> Option<String> {
    let of = |current| to_earth.iter().find(|voltage| voltage.current == current).map(|voltage| voltage.value);
    let (alternating, direct) = (of(Current::Ac)?, of(Current::Dc)?);
    let peak = direct.to_volts() + alternating.to_volts() * std::f64::consts::SQRT_2;
    Some(format!("up to {peak:.0} V peak between a.c. and d.c. parts: {direct} V d.c. and the peak of {alternating} V"))
}

/// The circuits that something may feed of which the supplies file, where there is one, says nothing.
fn not_described_in_words(case: &Case<'_>) -> Option<String> {
    let systems = case.network.systems();
    if systems.is_empty() {
        return None;
    }
    let is_open = |way: &WayId| systems.others_of_way(*way) != Others::None;
    let open = case.network.way_ids(case.id).zip(&case.enclosure.rows).filter(|(way, _)| is_open(way));
    let circuits: Vec<_> = open.map(|(_, row)| &*row.circuit).collect();
    let which = phrases::circuits(circuits.iter().copied());
    let because =
        format!("{which} fed from what the supplies file does not describe in full, so other voltages may stand there");
    (!circuits.is_empty()).then_some(because)
}
