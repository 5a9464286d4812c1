//! Which devices are points of isolation of a source, and where the further points are.
//!
//! Such is a device that isolates a source for the whole installation, and one that isolates a source from a board in
//! which it meets another. A device that only stands in the way of one circuit is none.

use super::decision::SourcePoint;
use super::installation::Installation;
use super::sources::{self, Isolators};
use crate::network::{DeviceId, EnclosureId, Network, SourceId};
use crate::survey::Survey;
use crate::survey::value::Role;

/// A source, `None` where rows do not say theirs, with what isolates it.
type Isolated = (Option<SourceId>, Isolators);

/// The point of isolation that each device is, by its number; `None` where it is none.
pub(super) fn of_devices(survey: &Survey, network: &Network, installation: &Installation) -> Vec<Option<SourcePoint>> {
    let mut points: Vec<Option<SourcePoint>> = network.devices().iter().map(|_| None).collect();
    if installation.sources.len() < 2 {
        return points;
    }
    let ids = installation.source_ids.iter().copied();
    let everywhere: Vec<Isolated> = ids.map(|id| (Some(id), installation.isolators(id))).collect();
    fill(&mut points, &everywhere, network);
    for point in points.iter_mut().flatten() {
        point.others.extend(installation.unnamed.iter().cloned());
    }
    for (index, enclosure) in survey.enclosures.iter().enumerate() {
        if !enclosure.roles.as_ref().is_some_and(|roles| roles.contains(&Role::Board)) {
            continue;
        }
        let ways = network.ways(EnclosureId::new(index));
        let known = installation.source_ids.iter().copied().map(Some).chain([None]);
        let reaching = known.filter(|source| ways.iter().any(|way| way.source == *source));
        let meeting: Vec<Isolated> = reaching.map(|source| (source, sources::here(ways, source))).collect();
        if meeting.len() >= 2 {
            fill(&mut points, &meeting, network);
        }
    }
    points
}

/// Fills in the devices that these sources name and that are no points yet.
fn fill(points: &mut [Option<SourcePoint>], isolated: &[Isolated], network: &Network) {
    let devices = isolated.iter().flat_map(|(_, isolators)| &isolators.devices);
    for device in devices {
        let Some(point) = points.get_mut(device.index()) else { continue };
        if point.is_none() {
            *point = Some(point_of(*device, isolated, network)).filter(|point| !point.sources.is_empty());
        }
    }
}

fn point_of(device: DeviceId, isolated: &[Isolated], network: &Network) -> SourcePoint {
    let mut point = SourcePoint::default();
    for (source, isolators) in isolated {
        let word = source.and_then(|id| network.source(id)).map_or("", |source| source.word());
        let mut rest = isolators.clone();
        rest.devices.retain(|other| *other != device);
        let is_isolated = rest.devices.len() < isolators.devices.len();
        if is_isolated && !word.is_empty() {
            point.sources.push(word.to_owned());
        }
        if !is_isolated || !rest.devices.is_empty() || rest.missing.is_some() {
            point.others.push(rest.said(word, network));
        }
    }
    point
}
