//! Settles the voltages of every row by both files, and reports where the two differ.

use std::sync::Arc;

use rayon::prelude::*;
use smallvec::SmallVec;

use super::super::designations::Designations;
use super::super::device::{AtRow, Said};
use super::super::graph::{Named, NodeKind, Side, Terminal};
use super::super::id::{EnclosureId, NodeId, WayId};
use super::super::voltage::words::{nominal_in_words, system_in_words};
use super::super::voltage::{self, Differing, ToldBy, WayVoltage};
use super::super::{Needs, Network, NetworkOptions};
use super::apart::direct_feeds;
use super::brought_back::{BroughtBack, further};
use super::descent::descend;
use super::earthing_untold;
use super::{Candidates, Others, Place, System, Systems};
use crate::finding::{Finding, code};
use crate::supplies::{Supplies, SupplyColumn};
use crate::survey::value::Current;
use crate::survey::{Column, Enclosure, Row, Survey};
use crate::table::Alike;

/// Follows the systems of the supplies file to every row, settles the row's voltages with them, and says what does not
/// agree. Without a supplies file nothing changes.
pub(in crate::network) fn settle(
    network: &mut Network,
    survey: &Survey,
    (supplies, names): (Option<&Supplies>, &Designations),
    options: &NetworkOptions,
) -> Vec<Finding> {
    let Some(supplies) = supplies else { return Vec::new() };
    let (systems, contradicted) = descend(&network.graph, supplies);
    network.graph.set_direct(direct_feeds(&network.graph, &systems));
    network.systems = systems;
    let arriving =
        contradicted.into_iter().filter_map(|(node, system)| another_nominal(network, supplies, node, system));
    let mut findings: Vec<_> = arriving.collect();
    let all = rows(network, survey);
    let brought_back = BroughtBack::of(&network.graph, &network.systems);
    for (way, row, _) in &all {
        let terminals = energised_from(network, names, *way, &row.circuit);
        let place = place_of(network, *way, row, &terminals);
        network.systems.ways.push(place);
        if place.is_some() {
            network.systems.note_brought_back(*way, brought_back.at(&network.graph, &terminals));
        }
    }
    // Where a row is tells its voltages without regard to any other row.
    let computed =
        all.par_iter().map(|(way, row, _)| voltage_of(network, *way, row, options.measured_tolerance_percent));
    let computed: Vec<Option<WayVoltage>> = computed.collect();
    let mut voltages = Alike::default();
    for ((way, row, said), voltage) in all.iter().zip(computed) {
        if let Some(voltage) = voltage {
            settle_row(network, &mut voltages, *way, row, voltage);
        }
        report(network, *way, row, *said, survey, &mut findings);
    }
    let rows = all.into_iter().map(|(way, row, _)| (way, row));
    findings.extend(earthing_untold::report(network, supplies, rows, options));
    findings
}

impl Systems {
    /// Notes what comes back to a way.
    fn note_brought_back(&mut self, way: WayId, (known, others): (Vec<System>, Others)) {
        let known = further(self.of_way(way), &known);
        if !known.is_empty() {
            self.brought_back.insert(way, Candidates { known, others });
        }
    }
}

/// Every row with its way, and where it is said.
fn rows<'a>(network: &Network, survey: &'a Survey) -> Vec<(WayId, &'a Row, Said)> {
    let of_enclosure = |(index, enclosure): (usize, &'a Enclosure)| {
        let id = EnclosureId::new(index);
        let said = move |row: &Row| Said { enclosure: id, record: row.record };
        network.way_ids(id).zip(&enclosure.rows).map(move |(way, row)| (way, row, said(row)))
    };
    survey.enclosures.iter().enumerate().flat_map(of_enclosure).collect()
}

/// A row of the supplies file that begins no voltage, and gives another than the one that arrives there.
fn another_nominal(network: &Network, supplies: &Supplies, node: NodeId, arriving: System) -> Option<Finding> {
    let Named::Described(row) = network.graph.node(node)?.named else { return None };
    let device = supplies.devices.get(row as usize)?;
    let message = format!(
        "`{}` is `{}` here, and what feeds it is `{}` from `{}`",
        device.designation,
        nominal_in_words(device.nominal?),
        nominal_in_words(arriving.nominal?),
        network.node_name(arriving.began)
    );
    let finding = Finding::new(code::SYSTEM_CONTRADICTION, message)
        .help("only a source, a transformer, a UPS or a converter begins a voltage; the higher one is used until this is settled");
    Some(finding.at(supplies.place(device.record, SupplyColumn::Nominal)))
}

/// Where the live parts of a row are.
fn place_of(network: &mut Network, way: WayId, row: &Row, terminals: &[Terminal]) -> Option<Place> {
    network.systems.at_terminals(terminals).filter(|place| {
        let own = network.ways.get(way.index()).map(|way| &way.voltage);
        !own.is_some_and(|own| is_other_current(network, way, row, own, *place))
    })
}

/// The voltages of a row by the systems there; `None` where no system is known.
fn voltage_of(network: &Network, way: WayId, row: &Row, tolerance_percent: u32) -> Option<WayVoltage> {
    let (systems, are_all) = network.systems.all_of_way(way);
    let entry = network.ways.get(way.index()).filter(|_| !systems.is_empty())?;
    Some(voltage::of_row_among(row, network.nature(entry), tolerance_percent, &systems, are_all))
}

fn settle_row(network: &mut Network, voltages: &mut Alike<WayVoltage>, way: WayId, row: &Row, mut voltage: WayVoltage) {
    voltage.other = voltage.other.filter(|it| it.system.is_none() || !is_said_elsewhere(network, way, it.current));
    let nature = network.ways.get(way.index()).and_then(|entry| network.nature(entry));
    let (systems, are_all) = network.systems.all_of_way(way);
    let needs = Needs::of(row, nature, &voltage, (&systems, are_all));
    if let Some(entry) = network.ways.get_mut(way.index()) {
        entry.needs = needs;
        entry.voltage = voltages.one(voltage);
    }
}

/// Whether the other kind of current is no news: a device with both inside stands there, or another row of the enclosure
/// speaks of that current at the same terminals.
fn is_said_elsewhere(network: &Network, way: WayId, current: Current) -> bool {
    let here = network.live_parts(way);
    let is_other_row = |other: WayId| {
        let says = network.ways.get(other.index()).is_some_and(|it| it.voltage.current == current);
        says && other != way && network.live_parts(other) == here
    };
    let enclosure = network.place_of(way).map(|(enclosure, _)| enclosure);
    has_both_inside(network, way) || enclosure.is_some_and(|it| network.way_ids(it).any(is_other_row))
}

/// Where the energy of a row comes from: its live parts, and where it comes back from below, also what feeds it there.
fn energised_from(network: &Network, names: &Designations, way: WayId, circuit: &str) -> SmallVec<[Terminal; 4]> {
    let mut terminals: SmallVec<[Terminal; 4]> = SmallVec::from_slice(network.live_parts(way));
    if terminals.iter().all(|terminal| terminal.side == Side::Load) {
        return terminals;
    }
    let supplies = network.ways.get(way.index()).map_or(&[][..], |way| &way.supplies);
    let boards = supplies.iter().filter_map(|id| names.find(&network.supply(*id)?.designation).one());
    let below = boards.chain(names.find(circuit).one());
    terminals.extend(below.map(|row| Terminal { node: NodeId::new(row), side: Side::Load }));
    terminals
}

fn report(network: &mut Network, way: WayId, row: &Row, said: Said, survey: &Survey, findings: &mut Vec<Finding>) {
    let Some(voltage) = network.ways.get(way.index()).map(|way| Arc::clone(&way.voltage)) else { return };
    let contradiction = contradiction(network, way, row, &voltage);
    if contradiction.is_some() {
        network.systems.in_doubt.insert(way);
    }
    let other = contradiction.is_none().then(|| other_current(network, row, &voltage)).flatten();
    findings.extend(contradiction.or(other).map(|(finding, column)| finding.at_row(survey, said, column)));
    let begins = match voltage.told_by {
        ToldBy::Row => String::new(),
        ToldBy::Both(system) | ToldBy::SuppliesFile(system) => network.node_name(system.began),
    };
    voltage::report::report(row, &voltage, &begins, said, survey, findings);
}

/// What a row says, where no system that the supplies file gives for it agrees and all of them are known.
fn contradiction(network: &Network, way: WayId, row: &Row, voltage: &WayVoltage) -> Option<(Finding, Column)> {
    let systems = network.systems.of_way(way);
    if network.systems.others_of_way(way) != Others::None {
        return None;
    }
    let mut nearest: Option<(Differing, System)> = None;
    for system in systems {
        let differing = voltage::differing(row, voltage.current, *system)?;
        if nearest.is_none_or(|(known, _)| differing > known) {
            nearest = Some((differing, *system));
        }
    }
    let (differing, system) = nearest?;
    let column = match differing {
        Differing::Current if row.nominal.is_none() => Column::Conductors,
        Differing::Current | Differing::Nominal => Column::Nominal,
        Differing::Earthing => Column::Earthing,
    };
    Some((differing_finding(network, row, voltage, system), column))
}

/// A row on which the other kind of current can stand too by the supplies file, of which it says nothing.
fn other_current(network: &Network, row: &Row, voltage: &WayVoltage) -> Option<(Finding, Column)> {
    let other = voltage.other?;
    let system = other.system?;
    let kind = |current| match current {
        Current::Ac => "a.c.",
        Current::Dc => "d.c.",
    };
    let message = format!(
        "circuit `{}` is {} here, and by the supplies file {} can stand on it too: `{}` from `{}`",
        row.circuit,
        kind(voltage.current),
        kind(other.current),
        system_in_words(system.nominal, system.earthing),
        network.node_name(system.began)
    );
    let finding = Finding::new(code::SYSTEM_CONTRADICTION, message)
        .help("if it cannot, correct the way between the two; until then both voltages are used");
    Some((finding, if row.nominal.is_none() { Column::Conductors } else { Column::Nominal }))
}

fn differing_finding(network: &Network, row: &Row, voltage: &WayVoltage, system: System) -> Finding {
    let own = match system_in_words(row.nominal, row.earthing) {
        words if words.is_empty() => match voltage.current {
            Current::Ac => "alternating".to_owned(),
            Current::Dc => "direct".to_owned(),
        },
        words => format!("`{words}`"),
    };
    let there = system_in_words(system.nominal, system.earthing);
    let message = format!(
        "circuit `{}` is {own} here, and by the supplies file it is `{there}` from `{}`",
        row.circuit,
        network.node_name(system.began)
    );
    Finding::new(code::SYSTEM_CONTRADICTION, message)
        .help("correct the one that is wrong, or the way between the two; the higher voltage is used until then")
}

/// Live parts at a UPS or a converter, whose current is another than that of its output: such a device has both inside.
fn is_other_current(network: &Network, way: WayId, row: &Row, own: &WayVoltage, place: Place) -> bool {
    let is_there = has_both_inside(network, way);
    let mut systems = network.systems.systems_at(place).0.iter();
    let differs = |system: &System| voltage::differing(row, own.current, *system) == Some(Differing::Current);
    is_there && own.current_is_said && systems.all(differs)
}

/// Whether live parts of a row are at a device that holds direct and alternating current.
fn has_both_inside(network: &Network, way: WayId) -> bool {
    network.live_parts(way).iter().any(|terminal| {
        let kind = network.graph.node(terminal.node).map(|node| node.kind);
        matches!(kind, Some(NodeKind::Ups { .. } | NodeKind::Converter))
    })
}
