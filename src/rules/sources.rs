//! Where each source of an installation is isolated, as far as the survey tells.
//!
//! What isolates a source for the whole installation is what its energy passes first. A row whose `fed_from` is an
//! enclosure of the survey that has the same source behind an isolator of its own lies further down, and its device
//! isolates only a part. So does a row that by the supplies file stands behind what isolates the source in another
//! enclosure, or behind a device that this file alone knows: then that device is named.

use std::collections::{HashMap, HashSet};

use foldhash::fast::RandomState;

use super::described::{Described, MOST_ISOLATORS, name_and_place, stands_behind};
use super::met::Met;
use super::statement::{Missing, SourceIsolation};
use crate::network::{
    DeviceId, EnclosureId, Isolated, Nature, Network, NodeId, SourceId, SupplyId, Way, WayId, spelling,
};
use crate::survey::{Enclosure, Survey};

/// The devices that isolate one source.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Isolators {
    pub(super) devices: Vec<DeviceId>,
    /// Further ones that only the supplies file names.
    pub(super) described: Vec<NodeId>,
    pub(super) missing: Option<Missing>,
}

impl Isolators {
    /// What isolates these rows, each device once; `None` where there are more devices than the most that are wanted, and
    /// then the rest of the rows are not looked at.
    fn of<'a>(ways: impl Iterator<Item = &'a Way>, most: usize) -> Option<Self> {
        let (mut found, mut met) = (Self::default(), Met::default());
        for way in ways {
            let new = way.isolated.devices().iter().copied().filter(|device| met.is_new(*device));
            found.devices.extend(new);
            if found.devices.len() > most {
                return None;
            }
            found.missing = found.missing.max(match way.isolated {
                Isolated::By(_) => None,
                Isolated::Unknown => Some(Missing::NotKnown),
                Isolated::Impossible => Some(Missing::CannotBeIsolated),
            });
        }
        Some(found)
    }

    /// Adds devices of the supplies file, as what the survey calls them where it names them.
    fn add(&mut self, nodes: impl Iterator<Item = NodeId>, network: &Network) {
        for node in nodes {
            let mut devices = (0..network.devices().len()).map(DeviceId::new);
            match devices.find(|device| network.device_node(*device) == Some(node)) {
                Some(device) => self.devices.push(device),
                None => self.described.push(node),
            }
        }
    }

    /// As a notice says it.
    pub(super) fn said(&self, source: &str, network: &Network) -> SourceIsolation {
        let devices = self.devices.iter().filter_map(|id| network.device(*id));
        let surveyed =
            devices.map(|device| (device.designation.as_ref().to_owned(), device.location.as_ref().to_owned()));
        let described = self.described.iter().map(|node| name_and_place(network, *node));
        SourceIsolation {
            source: source.to_owned(),
            isolated_at: surveyed.chain(described).collect(),
            missing: self.missing,
        }
    }
}

/// What isolates a source from the enclosure that these ways reach; `None` for rows without a source.
pub(super) fn here(ways: &[Way], source: Option<SourceId>) -> Isolators {
    Isolators::of(ways.iter().filter(|way| way.source == source), usize::MAX).unwrap_or_default()
}

/// What isolates each source for the whole installation, by the number of the source.
pub(super) fn of_installation(survey: &Survey, network: &Network, described: &Described) -> Vec<Isolators> {
    let map = Map::new(survey, network, described);
    (0..network.sources().len()).map(|index| map.isolators(SourceId::new(index))).collect()
}

struct Map<'a> {
    survey: &'a Survey,
    network: &'a Network,
    described: &'a Described,
    /// The enclosures by designation, in the form in which names are compared.
    by_name: HashMap<String, EnclosureId, RandomState>,
    /// Enclosures in which a source stands behind an isolator.
    isolated_in: HashSet<(EnclosureId, SourceId), RandomState>,
    /// The enclosures that name a device as what isolates a source; left empty without a supplies file.
    isolated_at: HashMap<(NodeId, SourceId), Vec<EnclosureId>, RandomState>,
    /// The rows of each source.
    rows: Vec<Vec<(EnclosureId, WayId, &'a Way)>>,
}

impl<'a> Map<'a> {
    fn new(survey: &'a Survey, network: &'a Network, described: &'a Described) -> Self {
        let mut by_name = HashMap::with_capacity_and_hasher(survey.enclosures.len(), RandomState::default());
        let mut isolated_in = HashSet::with_capacity_and_hasher(survey.enclosures.len(), RandomState::default());
        let mut isolated_at: HashMap<_, Vec<_>, _> = HashMap::default();
        let mut rows: Vec<Vec<_>> = network.sources().iter().map(|_| Vec::new()).collect();
        for (index, enclosure) in survey.enclosures.iter().enumerate() {
            let id = EnclosureId::new(index);
            by_name.entry(spelling::key(&enclosure.designation)).or_insert(id);
            for (way_id, way) in network.way_ids(id).zip(network.ways(id)) {
                let Some(source) = way.source else { continue };
                rows.get_mut(source.index()).into_iter().for_each(|rows| rows.push((id, way_id, way)));
                if !way.isolated.devices().is_empty() {
                    isolated_in.insert((id, source));
                }
                let devices = way.isolated.devices().iter().filter(|_| network.is_described());
                for node in devices.filter_map(|device| network.device_node(*device)) {
                    isolated_at.entry((node, source)).or_default().push(id);
                }
            }
        }
        Self { survey, network, described, by_name, isolated_in, isolated_at, rows }
    }

    fn isolators(&self, source: SourceId) -> Isolators {
        let is_mains = self.network.source(source).is_some_and(|source| source.nature == Nature::Mains);
        // The public network arrives at the origin, whatever stands before that and wherever the survey loses its track.
        let nearest = if is_mains { Vec::new() } else { self.nearest(source) };
        let are_few = nearest.len() <= MOST_ISOLATORS;
        let mut found = self.surveyed(source, is_mains, if are_few { &nearest } else { &[] });
        let surveyed: HashSet<_> = found.devices.iter().filter_map(|it| self.network.device_node(*it)).collect();
        let further = nearest.into_iter().filter(|node| !surveyed.contains(node));
        if are_few {
            found.add(further, self.network);
        } else if further.count() > 0 {
            found.missing = found.missing.max(Some(Missing::Elsewhere));
        }
        found
    }

    /// The devices that a source passes first by the supplies file.
    fn nearest(&self, source: SourceId) -> Vec<NodeId> {
        let source = self.network.source(source);
        source.map_or_else(Vec::new, |source| self.described.first_isolators(self.network, source))
    }

    /// What isolates a source by the rows that do not lie behind the devices nearest to it.
    fn surveyed(&self, source: SourceId, is_mains: bool, nearest: &[NodeId]) -> Isolators {
        let rows = self.rows.get(source.index()).map_or(&[][..], Vec::as_slice);
        let first = |wanted: bool| {
            let of_role = rows.iter().filter(move |(enclosure, ..)| self.has_role(*enclosure) == wanted);
            of_role.filter(move |row| self.is_first(row, source, nearest)).map(|(.., way)| *way)
        };
        // A row that nothing isolates counts too: what the others name leaves its part live.
        let mut found = Isolators::of(first(true), usize::MAX).unwrap_or_default();
        if found.devices.is_empty() {
            let all_lie_behind = !nearest.is_empty() && first(true).chain(first(false)).next().is_none();
            let mut without_role = match all_lie_behind {
                true => Isolators::default(),
                false if is_mains => nowhere(),
                false => without_role(first(false)),
            };
            without_role.missing = without_role.missing.max(found.missing);
            return without_role;
        }
        let supplies: HashSet<SupplyId> = first(true).flat_map(|way| &way.supplies).copied().collect();
        let is_covered = |way: &Way| way.supplies.iter().any(|supply| supplies.contains(supply));
        if !is_mains && !first(false).all(is_covered) {
            found.missing = found.missing.max(Some(Missing::Elsewhere));
        }
        found
    }

    fn has_role(&self, enclosure: EnclosureId) -> bool {
        self.survey.enclosures.get(enclosure.index()).is_some_and(has_role)
    }

    /// Whether no enclosure of the survey isolates the source further up, by its cells or by the supplies file.
    fn is_first(
        &self,
        (enclosure, id, way): &(EnclosureId, WayId, &Way),
        source: SourceId,
        nearest: &[NodeId],
    ) -> bool {
        let comes_from = |supply: &SupplyId| {
            let supply = self.network.supply(*supply)?;
            self.by_name.get(&spelling::key(&supply.designation)).copied()
        };
        let isolates = |above: EnclosureId| above != *enclosure && self.isolated_in.contains(&(above, source));
        let comes_from_others =
            !way.supplies.is_empty() && way.supplies.iter().all(|supply| comes_from(supply).is_some_and(isolates));
        !comes_from_others && !self.stands_behind_others(*enclosure, *id, way, source, nearest)
    }

    fn stands_behind_others(
        &self,
        enclosure: EnclosureId,
        id: WayId,
        way: &Way,
        source: SourceId,
        nearest: &[NodeId],
    ) -> bool {
        let own = |node| way.isolated.devices().iter().any(|device| self.network.device_node(*device) == Some(node));
        let is_others = |node: NodeId| {
            let named_by = self.isolated_at.get(&(node, source));
            let is_named = named_by.is_some_and(|named_by| named_by.iter().any(|other| *other != enclosure));
            !own(node) && (is_named || nearest.contains(&node))
        };
        self.network.is_described() && stands_behind(self.network, id, is_others)
    }
}

fn has_role(enclosure: &Enclosure) -> bool {
    enclosure.particulars().roles.as_ref().is_some_and(|roles| !roles.is_empty())
}

fn nowhere() -> Isolators {
    Isolators { missing: Some(Missing::NotKnown), ..Isolators::default() }
}

/// A source that no enclosure with a role isolates: all of its first isolators, if they are few.
fn without_role<'a>(first: impl Iterator<Item = &'a Way>) -> Isolators {
    let found = Isolators::of(first, MOST_ISOLATORS);
    found.filter(|found| !found.devices.is_empty() || found.missing.is_some()).unwrap_or_else(nowhere)
}

#[cfg(test)]
mod tests {
    use std::cell::Cell;

    use super::*;
    use crate::network::NetworkOptions;
    use crate::network::testing::surveyed;

    #[test]
    fn isolators_of_a_source_without_a_role_are_not_gathered_beyond_those_that_a_notice_names() {
        let row = |number: usize| format!("E{number},C/{number},generator,230,Q{number},Board C");
        let rows: Vec<String> = (0..50).map(row).collect();
        let rows: Vec<&str> = rows.iter().map(String::as_str).collect();
        let survey = surveyed("enclosure,circuit,source,voltage_to_earth,isolator,isolator_location", &rows);
        let (network, _) = Network::join(&survey, None, &NetworkOptions::default());
        let looks = Cell::new(0);
        let ways = (0..50).flat_map(|index| network.ways(EnclosureId::new(index)));
        let ways = ways.inspect(|_| looks.set(looks.get() + 1));
        assert_eq!(without_role(ways), nowhere());
        assert_eq!(looks.get(), MOST_ISOLATORS + 1);
    }
}
