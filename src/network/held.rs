//! UPSs and converters that stand in an enclosure of another name.
//!
//! Only an enclosure that bears the name of such a device is proved as one. That the supplies file places one in another
//! enclosure, or that the survey writes `UPS 1` for its `UPS-1`, shifts no row: it is only said where its output is not
//! proved.

use std::collections::{HashMap, HashSet};

use foldhash::fast::RandomState;

use super::designations::{Designations, Found};
use super::graph::{Graph, NodeKind};
use super::id::NodeId;
use super::spelling;
use crate::supplies::Supplies;
use crate::survey::Survey;

/// A device in the enclosure with this number.
pub(super) struct Held {
    pub(super) enclosure: usize,
    pub(super) device: NodeId,
    /// Whether the supplies file says that it is inside. A place may be a room that is called like an enclosure, and a
    /// designation that is that of an enclosure but for punctuation may be another thing.
    pub(super) is_said: bool,
}

/// The devices with an output that enclosures hold; none of those that are themselves an enclosure of the survey.
pub(super) fn held(
    survey: &Survey,
    file: &Supplies,
    names: &Designations,
    graph: &Graph,
    own: &[Option<NodeId>],
) -> Vec<Held> {
    let own: HashSet<NodeId> = own.iter().flatten().copied().collect();
    let rows = (0..file.devices.len()).map(NodeId::new);
    let devices: Vec<NodeId> = rows.filter(|node| has_output(graph, *node) && !own.contains(node)).collect();
    if devices.is_empty() {
        return Vec::new();
    }
    let mut by_name: HashMap<String, Option<usize>, RandomState> = HashMap::default();
    let mut alike: HashMap<NodeId, usize, RandomState> = HashMap::default();
    for (index, enclosure) in survey.enclosures.iter().enumerate() {
        let designation = &enclosure.designation;
        by_name.entry(spelling::key(designation)).and_modify(|other| *other = None).or_insert(Some(index));
        if !designation.is_empty() && names.find(designation) == Found::Nowhere {
            let device = names.alike(designation).map(NodeId::new);
            if let Some(device) = device {
                alike.entry(device).or_insert(index);
            }
        }
    }
    let place = |device: NodeId| {
        if let Some(enclosure) = alike.get(&device) {
            return Some(Held { enclosure: *enclosure, device, is_said: false });
        }
        let location = file.devices.get(device.index()).map_or("", |device| device.location.as_str());
        let (name, is_said) = enclosure_in(location)?;
        let enclosure = by_name.get(&spelling::key(name)).copied().flatten()?;
        Some(Held { enclosure, device, is_said })
    };
    devices.into_iter().filter_map(place).collect()
}

/// The enclosure that a location is, if it is one: `RACK-U` of `inside RACK-U`, and of `RACK-U` alone; and whether it says
/// so. A room is an enclosure only where it does.
fn enclosure_in(location: &str) -> Option<(&str, bool)> {
    let location = location.trim();
    if let Some((_, name)) = location.split_once(' ').filter(|(first, _)| is_inside(first)) {
        return Some((name.trim(), true));
    }
    let words = spelling::words(location).filter(|word| !word.bytes().all(|byte| byte.is_ascii_digit()));
    let is_room = words.last().is_some_and(|last| spelling::has_word(last, &spelling::ROOMS));
    (!is_room && !location.is_empty()).then_some((location, false))
}

fn is_inside(word: &str) -> bool {
    ["inside", "in", "within"].iter().any(|inside| word.eq_ignore_ascii_case(inside))
}

/// Whether a node has terminals at which it gives out what it made, apart from those where it is fed.
pub(super) fn has_output(graph: &Graph, node: NodeId) -> bool {
    let kind = graph.node(node).map(|node| node.kind);
    matches!(kind, Some(NodeKind::Ups { .. } | NodeKind::Converter))
}

#[cfg(test)]
mod tests {
    use super::enclosure_in;

    #[test]
    fn a_whole_location_is_an_enclosure_and_a_room_is_none() {
        for location in ["inside RACK-U", " In  RACK-U ", "within RACK-U"] {
            assert_eq!(enclosure_in(location), Some(("RACK-U", true)), "{location}");
        }
        for location in ["RACK-U", "Pump room panel", "Comms room, RACK-U"] {
            assert_eq!(enclosure_in(location), Some((location, false)), "{location}");
        }
        for location in ["", "  ", "UPS room", "Switchroom 1"] {
            assert_eq!(enclosure_in(location), None, "{location}");
        }
        assert_eq!(enclosure_in("inside Switchroom 1"), Some(("Switchroom 1", true)));
    }
}
