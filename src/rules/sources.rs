//! Where each source of an installation is isolated, as far as the survey tells.
//!
//! What isolates a source for the whole installation is what its energy passes first. A row whose `fed_from` is an
//! enclosure of the survey that has the same source behind an isolator of its own lies further down, and its device
//! isolates only a part. So does a row that by the supplies file stands behind what isolates the source in another
//! enclosure.

use std::collections::{HashMap, HashSet};

use super::described::stands_behind;
use super::statement::{Missing, SourceIsolation};
use crate::network::{
    DeviceId, EnclosureId, Isolated, Nature, Network, NodeId, SourceId, SupplyId, Way, WayId, spelling,
};
use crate::survey::{Enclosure, Survey};

/// Above so many devices a source without a role is not listed: a notice must not name only some of them.
const MOST_WITHOUT_ROLE: usize = 4;

/// The devices that isolate one source.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Isolators {
    pub(super) devices: Vec<DeviceId>,
    pub(super) missing: Option<Missing>,
}

impl Isolators {
    /// Adds what isolates a row.
    fn add(&mut self, way: &Way) {
        for device in way.isolated.devices() {
            if !self.devices.contains(device) {
                self.devices.push(*device);
            }
        }
        self.missing = self.missing.max(match way.isolated {
            Isolated::By(_) => None,
            Isolated::Unknown => Some(Missing::NotKnown),
            Isolated::Impossible => Some(Missing::CannotBeIsolated),
        });
    }

    /// As a notice says it.
    pub(super) fn said(&self, source: &str, network: &Network) -> SourceIsolation {
        let devices = self.devices.iter().filter_map(|id| network.device(*id));
        SourceIsolation {
            source: source.to_owned(),
            isolated_at: devices.map(|device| (device.designation.clone(), device.location.clone())).collect(),
            missing: self.missing,
        }
    }
}

/// What isolates a source from the enclosure that these ways reach; `None` for rows without a source.
pub(super) fn here(ways: &[Way], source: Option<SourceId>) -> Isolators {
    let mut isolators = Isolators::default();
    ways.iter().filter(|way| way.source == source).for_each(|way| isolators.add(way));
    isolators
}

/// What isolates each source for the whole installation, by the number of the source.
pub(super) fn of_installation(survey: &Survey, network: &Network) -> Vec<Isolators> {
    let map = Map::new(survey, network);
    (0..network.sources().len()).map(|index| map.isolators(SourceId::new(index))).collect()
}

struct Map<'a> {
    survey: &'a Survey,
    network: &'a Network,
    /// The enclosures by designation, in the form in which names are compared.
    by_name: HashMap<String, EnclosureId>,
    /// Enclosures in which a source stands behind an isolator.
    isolated_in: HashSet<(EnclosureId, SourceId)>,
    /// The enclosures that name a device as what isolates a source; left empty without a supplies file.
    isolated_at: HashMap<(NodeId, SourceId), Vec<EnclosureId>>,
    /// The rows of each source.
    rows: Vec<Vec<(EnclosureId, WayId, &'a Way)>>,
}

impl<'a> Map<'a> {
    fn new(survey: &'a Survey, network: &'a Network) -> Self {
        let mut by_name = HashMap::new();
        let mut isolated_in = HashSet::new();
        let mut isolated_at: HashMap<_, Vec<_>> = HashMap::new();
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
        Self { survey, network, by_name, isolated_in, isolated_at, rows }
    }

    fn isolators(&self, source: SourceId) -> Isolators {
        let rows = self.rows.get(source.index()).map_or(&[][..], Vec::as_slice);
        let first = |wanted: bool| {
            let of_role = rows.iter().filter(move |(enclosure, ..)| self.has_role(*enclosure) == wanted);
            of_role.filter(move |row| self.is_first(row, source)).map(|(.., way)| *way)
        };
        let mut found = Isolators::default();
        first(true).filter(|way| !way.isolated.devices().is_empty()).for_each(|way| found.add(way));
        let is_mains = self.network.source(source).is_some_and(|source| source.nature == Nature::Mains);
        if found.devices.is_empty() {
            return if is_mains { nowhere() } else { without_role(first(false)) };
        }
        let supplies: HashSet<SupplyId> = first(true).flat_map(|way| &way.supplies).copied().collect();
        // The public network arrives at the origin, wherever the survey loses its track.
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
    fn is_first(&self, (enclosure, id, way): &(EnclosureId, WayId, &Way), source: SourceId) -> bool {
        let comes_from = |supply: &SupplyId| {
            let supply = self.network.supply(*supply)?;
            self.by_name.get(&spelling::key(&supply.designation)).copied()
        };
        let isolates = |above: EnclosureId| above != *enclosure && self.isolated_in.contains(&(above, source));
        let comes_from_others =
            !way.supplies.is_empty() && way.supplies.iter().all(|supply| comes_from(supply).is_some_and(isolates));
        !comes_from_others && !self.stands_behind_others(*enclosure, *id, way, source)
    }

    fn stands_behind_others(&self, enclosure: EnclosureId, id: WayId, way: &Way, source: SourceId) -> bool {
        let own = |node| way.isolated.devices().iter().any(|device| self.network.device_node(*device) == Some(node));
        let is_others = |node: NodeId| {
            let named_by = self.isolated_at.get(&(node, source));
            !own(node) && named_by.is_some_and(|named_by| named_by.iter().any(|other| *other != enclosure))
        };
        self.network.is_described() && stands_behind(self.network, id, is_others)
    }
}

fn has_role(enclosure: &Enclosure) -> bool {
    enclosure.roles.as_ref().is_some_and(|roles| !roles.is_empty())
}

fn nowhere() -> Isolators {
    Isolators { devices: Vec::new(), missing: Some(Missing::NotKnown) }
}

/// A source that no enclosure with a role isolates: all of its first isolators, if they are few.
fn without_role<'a>(first: impl Iterator<Item = &'a Way>) -> Isolators {
    let mut found = Isolators::default();
    first.for_each(|way| found.add(way));
    if found.devices.is_empty() || found.devices.len() > MOST_WITHOUT_ROLE { nowhere() } else { found }
}
