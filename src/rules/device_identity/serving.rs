//! One enclosure as the labels of its devices need it: what each of them disconnects there, and what remains.

use super::super::index::handle;
use super::super::met::Met;
use super::super::several_isolators::are_apart;
use super::{Devices, Settled, ambiguous};
use crate::network::spelling;
use crate::network::upstream::{feeds_isolators, said_to_stay_live};
use crate::network::{DescribedBy, Device, DeviceId, EnclosureId, Isolated, Network, ProofResult, Way};
use crate::survey::value::InterlockKind;
use crate::survey::{Column, Enclosure, Row};

/// One enclosure, and which devices alone disconnect which of its rows.
pub(super) struct Serving<'a> {
    pub(super) enclosure: &'a Enclosure,
    pub(super) network: &'a Network,
    pub(super) ways: &'a [Way],
    settled: Settled,
    /// Every device that the rows name as their isolator, each once, in their order; left empty without a supplies file.
    listed: Vec<DeviceId>,
    /// For each row that one device alone disconnects, that device; sorted.
    alone: Vec<DeviceId>,
    one_handle: bool,
    /// The devices of rows with a number in the sequence, each once with the first of its numbers.
    orders: Vec<(DeviceId, u16)>,
    /// The isolators of all rows, sorted; left empty where no row names a device upstream.
    isolators: Vec<DeviceId>,
}

impl<'a> Serving<'a> {
    pub(super) fn new(network: &'a Network, enclosure: &'a Enclosure, id: EnclosureId, settled: Settled) -> Self {
        let ways = network.ways(id);
        let mut seen = Met::default();
        let listed = ways.iter().filter(|_| network.is_described()).flat_map(|way| way.isolated.devices()).copied();
        let listed = listed.filter(|device| seen.is_new(*device)).collect();
        let (one_handle, orders) = (has_one_handle(network, ways), orders(enclosure, ways));
        let are_wanted = ways.iter().any(|way| way.upstream.is_some());
        let mut isolators: Vec<DeviceId> =
            ways.iter().filter(|_| are_wanted).flat_map(|way| way.isolated.devices()).copied().collect();
        isolators.sort_unstable();
        let mut alone: Vec<_> = Vec::with_capacity(ways.len());
        let rows = enclosure.rows.iter().zip(ways);
        rows.for_each(|(row, way)| alone.extend(sole_devices(network, (row, way), &isolators)));
        alone.sort_unstable();
        Self { enclosure, network, ways, settled, listed, alone, one_handle, orders, isolators }
    }

    /// Whether a part of this row may stay live inside with a device open that stands there or elsewhere.
    pub(super) fn leaves_live(&self, row: &Row, way: &Way, device: DeviceId, stands_here: bool) -> bool {
        let is_own = way.isolated.devices().contains(&device);
        let may_stay = said_to_stay_live(row).is_some() || row.not_known.contains(Column::LiveAfter);
        is_own && (may_stay || stands_here || self.settled.parts_may_stay)
    }

    /// What must be opened beside a device, and whether other supplies remain with all of that open.
    ///
    /// The supplies file can tell that what the enclosure lists leaves no path; then all of that is named, if it is
    /// little enough for a notice. Without it, only the further devices of the row are.
    pub(super) fn also(
        &self,
        site: &Devices<'_>,
        device: DeviceId,
        row: &Row,
        way: &Way,
        devices: &[DeviceId],
    ) -> (Vec<String>, bool) {
        let mut also: Vec<DeviceId> = self.row_mates(device, devices).collect();
        let is_own = way.isolated.devices().contains(&device);
        if !self.network.is_described() || !is_own {
            // Of a device upstream that the supplies file does not have it cannot be told what it parts.
            let is_in_doubt = self.network.is_described() && !self.is_described(device);
            return (self.names(site, device, &also), is_in_doubt || self.others_remain(device, row, way));
        }
        let further = self.listed.iter().filter(|other| !devices.contains(other) && !self.opens_with(device, **other));
        let further: Vec<DeviceId> = further.copied().take(MOST_ALSO + 1).collect();
        let rows = site.rows.isolated(device);
        let are_named = also.len() + further.len() <= MOST_ALSO && (rows <= MOST_ROWS || further.is_empty());
        if are_named {
            also.extend(further);
        }
        (self.names(site, device, &also), !are_named || self.settled.proof != ProofResult::NoPathFound)
    }

    /// What is opened before a device by the numbers of the rows, in their order; of more than a notice names, those with the
    /// next lower number, whose own notices name what comes before them.
    pub(super) fn first(&self, site: &Devices<'_>, device: DeviceId) -> Vec<String> {
        let own = self.orders.iter().find(|(other, _)| *other == device).map(|(_, order)| *order);
        let lower = self.orders.iter().filter(|(_, order)| own.is_some_and(|own| *order < own));
        let mut lower: Vec<(DeviceId, u16)> = lower.copied().collect();
        lower.sort_by_key(|(_, order)| *order);
        let next = lower.last().map(|(_, order)| *order);
        if lower.len() > MOST_ALSO {
            lower.retain(|(_, order)| Some(*order) == next);
        }
        self.names(site, device, &lower.into_iter().map(|(other, _)| other).collect::<Vec<_>>())
    }

    /// Of a device upstream, whether it is the isolator of a row here; and whether more than one of them is none.
    pub(super) fn among_upstream(&self, device: DeviceId, upstream: &[DeviceId]) -> (bool, bool) {
        let is_isolator = |device: &DeviceId| self.isolators.binary_search(device).is_ok();
        let others = upstream.iter().filter(|device| !is_isolator(device)).count();
        (upstream.contains(&device) && is_isolator(&device), others > 1)
    }

    pub(super) fn is_described(&self, device: DeviceId) -> bool {
        let node = self.network.device_node(device).and_then(|node| self.network.graph().node(node));
        node.is_some_and(|node| node.described_by() == DescribedBy::SuppliesFile)
    }

    /// The further devices of a row that must be opened by hand of their own.
    pub(super) fn row_mates(&self, device: DeviceId, devices: &[DeviceId]) -> impl Iterator<Item = DeviceId> {
        devices.iter().copied().filter(move |other| *other != device && !self.one_handle)
    }

    /// Whether the handle of a device opens another one too.
    pub(super) fn opens_with(&self, device: DeviceId, other: DeviceId) -> bool {
        let handle = |id| handle(self.network, id, None);
        self.one_handle || (handle(device).is_some() && handle(device) == handle(other))
    }

    /// Designations, with their places where another device bears the same one.
    pub(super) fn names(&self, site: &Devices<'_>, device: DeviceId, others: &[DeviceId]) -> Vec<String> {
        let ambiguous = || site.ambiguous.get_or_init(|| ambiguous(self.network));
        let needs_place = |other: &Device| ambiguous().contains(&spelling::key(&other.designation));
        let others = others.iter().filter(|other| **other != device).filter_map(|other| self.network.device(*other));
        others
            .map(|other| if needs_place(other) { other.phrase() } else { other.designation.as_ref().to_owned() })
            .collect()
    }

    /// Whether other rows than this one remain with the device open.
    pub(super) fn others_remain(&self, device: DeviceId, row: &Row, way: &Way) -> bool {
        if self.one_handle {
            return false;
        }
        let start = self.alone.partition_point(|other| *other < device);
        let end = self.alone.partition_point(|other| *other <= device);
        let mut sole = sole_devices(self.network, (row, way), &self.isolators);
        let itself_remains = usize::from(!sole.any(|other| other == device));
        self.ways.len() > end - start + itself_remains
    }
}

/// What a device upstream of a row isolates, where that need not be of the row's own circuit: `crankcase heater`. It is
/// declared to make this dead, and nothing else. Where several do so together, which of them does what `is_untold`. What
/// by the supplies file does not feed the row's isolator isolates nothing of its circuit.
pub(super) fn part_upstream<'a>(
    network: &Network,
    (row, way): (&'a Row, &Way),
    device: DeviceId,
    is_untold: bool,
) -> Option<&'a str> {
    let is_elsewhere = || network.is_off_the_way(device, way.isolated.devices());
    said_to_stay_live(row).filter(|_| !feeds_isolators(row, is_untold) || is_elsewhere())
}

fn orders(enclosure: &Enclosure, ways: &[Way]) -> Vec<(DeviceId, u16)> {
    let mut orders: Vec<(DeviceId, u16)> = Vec::new();
    let mut seen: Met<DeviceId> = Met::default();
    for (row, way) in enclosure.rows.iter().zip(ways) {
        let Some(order) = row.order else { continue };
        let new = way.isolated.devices().iter().filter(|device| seen.is_new(**device));
        orders.extend(new.map(|device| (*device, order)));
    }
    orders
}

/// A notice names at most so many further devices for one circuit; of more it says that other supplies may remain.
const MOST_ALSO: usize = 4;

/// The notice of a device that isolates more rows than this names for none of them what else its enclosure lists: it would
/// be larger than any that is fixed at a device.
const MOST_ROWS: usize = 8;

/// The devices each of which alone disconnects a row: its only isolator, its only device upstream, unless that is one of the
/// isolators of the rows beside it, which feeds another circuit, or isolates a part that need not be of this one; each once.
fn sole_devices(
    network: &Network,
    (row, way): (&Row, &Way),
    isolators: &[DeviceId],
) -> impl Iterator<Item = DeviceId> + use<> {
    let sole = |isolated: &Isolated| match isolated.devices() {
        [only] => Some(*only),
        [] | [_, _, ..] => None,
    };
    let own = sole(&way.isolated);
    let is_other = |device: &DeviceId| {
        Some(*device) != own
            && isolators.binary_search(device).is_err()
            && part_upstream(network, (row, way), *device, false).is_none()
    };
    let upstream = way.upstream.as_deref().and_then(sole).filter(is_other);
    own.into_iter().chain(upstream)
}

/// Whether one handle opens every row.
fn has_one_handle(network: &Network, ways: &[Way]) -> bool {
    let Some(first) = ways.first().and_then(|way| way.interlock) else { return false };
    let coupled = network.interlock(first).is_some_and(|it| it.kind == Some(InterlockKind::Coupled));
    let isolated = |way: &Way| matches!(way.isolated, Isolated::By(_)) && way.interlock == Some(first);
    let devices = || ways.iter().flat_map(|way| way.isolated.devices()).copied().collect::<Vec<_>>();
    coupled && ways.iter().all(isolated) && !are_apart(network, &devices())
}
