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
use crate::table::WordList;

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
    // Of several that bear one name but for spelling, or are spelt like one device, it is not known which is meant.
    let mut by_name: HashMap<String, Vec<usize>, RandomState> = HashMap::default();
    let mut alike: HashMap<NodeId, Vec<usize>, RandomState> = HashMap::default();
    for (index, enclosure) in survey.enclosures.iter().enumerate() {
        let designation = &enclosure.designation;
        by_name.entry(spelling::key(designation)).or_default().push(index);
        if !designation.is_empty() && names.find(designation) == Found::Nowhere {
            let device = names.alike(designation).map(NodeId::new);
            if let Some(device) = device {
                alike.entry(device).or_default().push(index);
            }
        }
    }
    let place = |device: NodeId| {
        let held = move |is_said| move |enclosure: &usize| Held { enclosure: *enclosure, device, is_said };
        let location = file.devices.get(device.index()).map_or("", |device| device.location.as_str());
        let mut named = enclosures_in(location).into_iter();
        let placed = named.find_map(|(name, is_said)| Some((by_name.get(&spelling::key(name))?, is_said)));
        let alike = alike.get(&device).map_or(&[][..], Vec::as_slice);
        // The one that is spelt alike may be the device, and what the file says holds all the same.
        let placed = placed.filter(|(_, is_said)| *is_said || alike.is_empty());
        let placed = placed.into_iter().flat_map(move |(enclosures, is_said)| enclosures.iter().map(held(is_said)));
        placed.chain(alike.iter().map(held(false))).collect::<Vec<_>>()
    };
    devices.into_iter().flat_map(place).collect()
}

/// The enclosures that a location may be, what is likelier first: `RACK-U` of `inside RACK-U`, of `Comms room, inside rack RACK-U`
/// and of `RACK-U` alone; and whether it says so. A room is an enclosure only where it does.
fn enclosures_in(location: &str) -> Vec<(&str, bool)> {
    let mut found = Vec::new();
    for part in location.split(',').map(str::trim) {
        let mut rest = part;
        while let Some((first, after)) = rest.split_once(' ').filter(|(first, _)| !first.eq_ignore_ascii_case("not")) {
            rest = after.trim();
            // `in` is said of rooms too.
            if is_inside(first) && !(first.eq_ignore_ascii_case("in") && is_room(rest)) {
                found.push((rest, true));
                // `inside rack RACK-U`, but not `in front of RACK-U`.
                let named = rest.split_once(' ').filter(|(what, _)| spelling::has_word(what, &HOUSINGS));
                found.extend(named.map(|(_, name)| (name.trim(), true)));
                break;
            }
        }
    }
    let whole = location.trim();
    let first = whole.split(',').next().unwrap_or_default().trim();
    found
        .extend([whole, first].into_iter().filter(|name| !name.is_empty() && !is_room(name)).map(|name| (name, false)));
    found
}

/// What an enclosure is called before its name.
static HOUSINGS: WordList =
    WordList::new(&["rack", "cabinet", "cubicle", "enclosure", "panel", "board", "box", "switchboard", "housing"]);

fn is_room(location: &str) -> bool {
    let words = spelling::words(location).filter(|word| !word.bytes().all(|byte| byte.is_ascii_digit()));
    words.last().is_some_and(|last| spelling::has_word(last, &spelling::ROOMS))
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
    use super::enclosures_in;
    use crate::network::testing::{described, joined, surveyed};
    use crate::network::{EnclosureId, Gap};

    /// Of two that are both spelt like it the first may be the device, whichever other one there is.
    #[test]
    fn the_first_of_two_that_are_spelt_alike_is_told() {
        let rows = ["CHG 1,A/1,230,QC,Room 1", "CHG_1,A/2,230,QC,Room 1"];
        let survey = surveyed("enclosure,circuit,voltage_to_earth,isolator,isolator_location", &rows);
        let devices = [
            "Network,source,,,,230/400,TN-S",
            "QC,breaker,Network,Room 1,3+N,,",
            "CHG-1,converter,QC,Relay room,,110 dc,unearthed",
            "BAT,source,,,,110 dc,unearthed",
            "DCB,busbar,CHG-1 + BAT,Relay room,,,",
        ];
        let file = described("device,kind,fed_from,location,poles,nominal,earthing", &devices);
        let proof = joined(&survey, &file).0.proof(EnclosureId::new(0));
        assert!(proof.gaps.iter().any(|gap| matches!(gap, Gap::OutputNotProved(_))), "{:?}", proof.gaps);
    }

    #[test]
    fn a_location_may_be_an_enclosure_and_a_room_is_none() {
        for location in [
            "inside RACK-U",
            " In  RACK-U ",
            "within rack RACK-U",
            "Comms room, mounted in RACK-U",
            "inside RACK-U, bottom",
        ] {
            assert!(enclosures_in(location).contains(&("RACK-U", true)), "{location}");
        }
        for location in ["RACK-U", "RACK-U, U12"] {
            assert!(enclosures_in(location).contains(&("RACK-U", false)), "{location}");
        }
        assert_eq!(enclosures_in("Pump room panel").first(), Some(&("Pump room panel", false)));
        for location in ["not in RACK-U", "in front of RACK-U", "in front RACK-U", "UPS not inside RACK-U"] {
            assert!(!enclosures_in(location).iter().any(|(name, _)| *name == "RACK-U"), "{location}");
        }
        for location in ["", "  ", "UPS room", "Switchroom 1", "in Switchroom 1"] {
            assert_eq!(enclosures_in(location), [], "{location}");
        }
        assert_eq!(enclosures_in("inside Switchroom 1").first(), Some(&("Switchroom 1", true)));
    }
}
