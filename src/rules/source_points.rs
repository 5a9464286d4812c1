//! Which devices are points of isolation of a source, and where the further points are.
//!
//! Such is a device that isolates a source for the whole installation, and one that isolates a source from a board in
//! which it meets another. A device that only stands in the way of one circuit is none. One beside which nothing is known
//! to isolate any source names no further point, and is one all the same. Where rows leave their source blank, further
//! sources are possible.

use std::collections::BTreeMap;

use super::decision::SourcePoint;
use super::described::{MOST_ISOLATORS, name_and_place};
use super::installation::Installation;
use super::sources::{self, Isolators};
use super::statement::{Missing, SourceIsolation};
use crate::network::{DeviceId, EnclosureId, Network, SourceId};
use crate::survey::Survey;
use crate::survey::value::Role;

/// A source, `None` where rows do not say theirs, with what isolates it.
type Isolated = (Option<SourceId>, Isolators);

/// The points of isolation that devices are: of a large survey hardly any.
pub(super) type Points = BTreeMap<DeviceId, SourcePoint>;

/// The devices that are points of isolation.
pub(super) fn of_devices(survey: &Survey, network: &Network, installation: &Installation) -> Points {
    let mut points = Points::new();
    if installation.sources.len() < 2 {
        return points;
    }
    let ids = installation.source_ids.iter().copied();
    let everywhere: Vec<Isolated> = ids.map(|id| (Some(id), installation.isolators(id))).collect();
    let unnamed: Vec<SourceIsolation> = installation.unnamed.clone();
    fill(&mut points, (&everywhere, &[]), &unnamed, network);
    for (index, enclosure) in survey.enclosures.iter().enumerate() {
        if !enclosure.particulars().roles.as_ref().is_some_and(|roles| roles.contains(&Role::Board)) {
            continue;
        }
        let ways = network.ways(EnclosureId::new(index));
        let known = installation.source_ids.iter().copied().map(Some).chain([None]);
        let reaching = known.filter(|source| ways.iter().any(|way| way.source == *source));
        let meeting: Vec<Isolated> = reaching.map(|source| (source, sources::here(ways, source))).collect();
        if meeting.len() >= 2 {
            let elsewhere = everywhere.iter().filter(|(source, _)| meeting.iter().all(|(here, _)| here != source));
            let elsewhere: Vec<Isolated> = elsewhere.cloned().collect();
            fill(&mut points, (&meeting, &elsewhere), &unnamed, network);
        }
    }
    for (device, point) in &mut points {
        point.more_possible = installation.source_is_blank;
        if point.others.is_empty() {
            add_points_before(point, *device, &everywhere, installation, network);
        }
    }
    points
}

/// Adds to a device that isolates every source that it could name what else isolates each for the whole installation, and
/// what the energy of each passes first by the supplies file. Where neither is known it is a point of isolation still, and
/// names no other.
fn add_points_before(
    point: &mut SourcePoint,
    device: DeviceId,
    everywhere: &[Isolated],
    installation: &Installation,
    network: &Network,
) {
    point.others = point_of(device, everywhere, network).others;
    let own = network.device_node(device);
    for (source, _) in everywhere {
        let Some(named) = source.and_then(|id| network.source(id)) else { continue };
        if point.others.iter().any(|other| other.source == named.word()) {
            continue;
        }
        let mut first = installation.described.first_isolators(network, named);
        first.retain(|node| Some(*node) != own);
        if !first.is_empty() && first.len() <= MOST_ISOLATORS {
            let further = Isolators { described: first, ..Isolators::default() };
            point.others.push(further.said(named.word(), network));
        }
    }
}

/// A source in a word of the survey.
fn word(network: &Network, source: Option<SourceId>) -> &str {
    source.and_then(|id| network.source(id)).map_or("", |source| source.word())
}

/// Fills in the devices that isolate one of the first of these sources and that are no points yet, or name no other, with the
/// points of all, and of further ones.
fn fill(
    points: &mut Points,
    (isolated, elsewhere): (&[Isolated], &[Isolated]),
    further: &[SourceIsolation],
    network: &Network,
) {
    let named = isolated.iter().filter(|(source, _)| !word(network, *source).is_empty());
    let devices = named.flat_map(|(_, isolators)| &isolators.devices);
    let all = [isolated, elsewhere].concat();
    for device in devices {
        if points.get(device).is_some_and(|point| !point.others.is_empty()) {
            continue;
        }
        let mut found = point_of(*device, &all, network);
        add_further(&mut found, *device, further, network);
        points.insert(*device, found);
    }
}

/// Adds sources that only the supplies file names: to what the device isolates, or to the further points.
fn add_further(point: &mut SourcePoint, device: DeviceId, further: &[SourceIsolation], network: &Network) {
    let own = network.device_node(device).map(|node| name_and_place(network, node));
    for source in further {
        let mut rest = source.clone();
        rest.isolated_at.retain(|other| own.as_ref() != Some(other));
        if rest.isolated_at.len() == source.isolated_at.len() {
            point.others.push(rest);
            continue;
        }
        point.sources.push(source.source.clone());
        // What is missing of it is not known because there would be too many devices; then none is named.
        point.others.extend(Some(rest).filter(|rest| !rest.isolated_at.is_empty()));
    }
}

fn point_of(device: DeviceId, isolated: &[Isolated], network: &Network) -> SourcePoint {
    let mut point = SourcePoint::default();
    for (source, isolators) in isolated {
        let word = word(network, *source);
        let mut rest = isolators.clone();
        rest.devices.retain(|other| *other != device);
        let is_isolated = rest.devices.len() < isolators.devices.len();
        if is_isolated && !word.is_empty() {
            point.sources.push(word.to_owned());
        }
        if is_isolated && rest.devices.is_empty() && rest.described.is_empty() {
            rest.missing = rest.missing.map(beside_it);
        }
        let is_all = rest.devices.is_empty() && rest.described.is_empty() && rest.missing.is_none();
        if !is_isolated || !is_all {
            point.others.push(rest.said(word, network));
        }
    }
    point
}

/// What is missing of a source beside the one device that isolates the rest of it: that device says so of a part alone.
const fn beside_it(missing: Missing) -> Missing {
    match missing {
        Missing::Elsewhere | Missing::NotKnown => Missing::Elsewhere,
        Missing::CannotBeIsolated | Missing::RestCannotBeIsolated => Missing::RestCannotBeIsolated,
    }
}

#[cfg(test)]
mod tests {
    use crate::network::testing::surveyed;
    use crate::network::{Network, NetworkOptions};
    use crate::rules::{RuleOptions, SourcePoint, decide};
    use crate::supplies;

    const COLUMNS: &str = "enclosure,role,circuit,fed_from,source,voltage_to_earth,isolator,isolator_location";

    /// The point of isolation that a device is: its sources, then the further points.
    fn point(device: &str, rows: &[&str], described: &[&str]) -> Option<String> {
        let survey = surveyed(COLUMNS, rows);
        let text = format!("device,kind,fed_from,location,off_position\n{}\n", described.join("\n"));
        let file = supplies::read(text.as_bytes(), &supplies::ReadOptions::new("supplies.csv")).supplies;
        let file = Some(&file).filter(|_| !described.is_empty());
        let (network, _) = Network::join(&survey, file, &NetworkOptions::default());
        let (decisions, _) = decide(&survey, &network, &RuleOptions::default());
        let found = decisions.devices.into_iter().find(|decision| decision.device == device).unwrap();
        found.source_point.map(|point| words(&point))
    }

    fn words(point: &SourcePoint) -> String {
        let other = |other: &super::SourceIsolation| {
            let devices: Vec<_> = other.isolated_at.iter().map(|(device, _)| device.as_str()).collect();
            format!("{} {}", other.source, devices.join("+"))
        };
        let others: Vec<_> = point.others.iter().map(other).collect();
        let more = if point.more_possible { "; more possible" } else { "" };
        format!("{}; {}{more}", point.sources.join(" "), others.join(", "))
    }

    #[test]
    fn at_a_board_the_sources_that_do_not_reach_it_are_named_too() {
        let rows = [
            "INT,origin,M/0,Network,mains,230,QM,Intake",
            "DB,board,D/0,INT,mains,230,QD,Switchroom",
            "DB,,S/1,INV,solar,230,QI,Roof",
            "INV,,PV,Solar string,solar,600,QDC,Roof",
            "GDB,isolating-point,G/0,Generator,generator,230,QG,Yard",
        ];
        let of = |device: &str| point(device, &rows, &[]).unwrap();
        assert_eq!(of("QD"), "mains; solar QI, generator QG");
        assert_eq!(of("QI"), "solar; mains QD, generator QG");
        assert_eq!(of("QG"), "generator; mains QM, solar QDC");
    }

    /// It isolates the generator for the whole installation, where that does not reach the board.
    #[test]
    fn no_device_is_a_further_point_beside_itself() {
        let rows = [
            "INT,origin,M/0,Network,mains,230,Q0,Intake",
            "INT,,G/0,Generator,generator,230,Q0,Intake",
            "DB,board,D/0,INT,mains,230,Q0,Intake",
            "DB,,X/1,XDB,,230,Q5,Switchroom",
        ];
        assert_eq!(point("Q0", &rows, &[]).unwrap(), "mains generator;  Q5; more possible");
        assert_eq!(point("Q5", &rows, &[]), None);
    }

    #[test]
    fn a_device_isolates_a_source_that_only_the_supplies_file_names_too() {
        let rows = ["DB,origin;board,M/1,Network,mains,230,QM,Intake", "DB,,G/1,Yard,generator,230,QG + QPV,Yard"];
        let described = |more: &str| {
            point(
                "QPV",
                &rows,
                &[
                    "Network,source,,,",
                    "Generator,source,,,",
                    "PV,source,,,",
                    "QM,isolator,Network,Intake,",
                    "QG,isolator,Generator,Yard,",
                    "QPV,isolator,PV,Yard,",
                    more,
                    "Yard,busbar,QG + QPV,Yard,",
                    "DB,busbar,QM + Yard,Switchroom,",
                ],
            )
        };
        assert_eq!(described("X,busbar,DB,Hall,").unwrap(), "generator solar; mains QM, generator QG");
        assert_eq!(described("QP2,isolator,PV,Roof,").unwrap(), "generator solar; mains QM, generator QG, solar QP2");
    }

    #[test]
    fn a_second_device_of_one_source_is_named_though_the_supplies_file_alone_knows_it() {
        let rows = ["INT,origin,M/0,Network,mains,230,QM,Intake", "FP,,F/1,Generator,generator,230,QG2,Pump house"];
        let described = [
            "Network,source,,,",
            "QM,isolator,Network,Intake,",
            "Generator,source,,Yard,",
            "QG1,breaker,Generator,Generator house,",
            "QG2,isolator,Generator,Pump house,",
            "CO1,changeover,QM + QG1,Switchroom,no",
        ];
        assert_eq!(point("QG2", &rows, &described).unwrap(), "generator; mains QM, generator QG1");
    }

    #[test]
    fn one_that_isolates_every_source_names_what_comes_before_it_or_no_other() {
        let rows = ["LDB,board,MSB/4,MSB,mains,230,CO1,Plant room", "LDB,,G1/0,Gen inlet,generator,230,CO1,Plant room"];
        assert_eq!(point("CO1", &rows, &[]).unwrap(), "mains generator; ");
        let blank = "LDB,,X/1,MSB,,230,Q3,Plant room";
        assert_eq!(point("CO1", &[rows[0], rows[1], blank], &[]).unwrap(), "mains generator;  Q3; more possible");
        let described = [
            "Network,source,,,",
            "MSB,busbar,Network,,",
            "QM4,breaker,MSB,Main switchroom,",
            "Gen inlet,source,,Yard,",
            "CO1,changeover,QM4 + Gen inlet,Plant room,yes",
        ];
        assert_eq!(point("CO1", &rows, &described).unwrap(), "mains generator; mains QM4");
    }
}
