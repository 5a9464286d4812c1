//! The isolator index: for every device the enclosures that list it, and whether it isolates them alone or with others.
//!
//! It answers a person who stands at a device. It goes by what the survey declares, and says "alone" of no enclosure of
//! which something is known to stay live.

use std::collections::{HashMap, HashSet};

use rayon::prelude::*;

use super::decision::{Decision, IsolatedEnclosure, IsolatorEntry, Outcome};
use super::several_isolators::unlisted_lender;
use super::statement::Statement;
use super::{FEWEST_TOGETHER, Rule};
use crate::network::{DeviceId, EnclosureId, InterlockId, Isolated, Network, ProofResult, Way, spelling};
use crate::survey::value::InterlockKind;
use crate::survey::{Enclosure, Survey};

/// One entry for every device that a row names as its isolator, sorted by location and designation.
#[must_use]
pub fn isolators(survey: &Survey, network: &Network, decisions: &[Decision]) -> Vec<IsolatorEntry> {
    let listed = |decision: &Decision| {
        let listing = survey.enclosures.get(decision.enclosure).map(|it| Listing::new(it, network, decision));
        let listed = listing.iter().flat_map(|listing| listing.devices.iter().map(|it| (it.device, listing.entry(it))));
        listed.collect::<Vec<_>>()
    };
    let mut all: Vec<_> = decisions.par_iter().with_min_len(FEWEST_TOGETHER).flat_map_iter(listed).collect();
    all.par_sort_by_key(|(device, _)| *device);
    let mut entries: Vec<(DeviceId, Vec<IsolatedEnclosure>)> = Vec::new();
    for (device, listed) in all {
        match entries.last_mut() {
            Some((known, enclosures)) if *known == device => enclosures.push(listed),
            Some(_) | None => entries.push((device, vec![listed])),
        }
    }
    let mut index: Vec<_> = entries.into_iter().filter_map(|(id, listed)| entry(network, id, listed)).collect();
    index.par_sort_by(|one, other| (&one.location, &one.device).cmp(&(&other.location, &other.device)));
    index
}

fn entry(network: &Network, id: DeviceId, enclosures: Vec<IsolatedEnclosure>) -> Option<IsolatorEntry> {
    let device = network.device(id)?;
    let [device, location] = [&device.designation, &device.location].map(|text| text.as_ref().to_owned());
    Some(IsolatorEntry { device, location, enclosures })
}

/// An enclosure names at most so many further devices in each entry, and counts the rest.
const MOST_NAMED: usize = 200;

/// What opens together: the interlock of one handle, and the place where that stands. A device without one is alone.
type Handle = (InterlockId, String);

/// A device that an enclosure lists.
struct Listed {
    device: DeviceId,
    handle: Option<Handle>,
    /// Each once, in the order of the rows.
    circuits: Vec<String>,
}

/// One enclosure with the devices that it lists.
struct Listing<'a> {
    enclosure: &'a Enclosure,
    network: &'a Network,
    ways: &'a [Way],
    id: EnclosureId,
    /// Each once, in the order of the rows.
    devices: Vec<Listed>,
    /// How many devices each handle opens.
    handles: HashMap<Handle, usize>,
    stays_live: bool,
}

impl<'a> Listing<'a> {
    fn new(enclosure: &'a Enclosure, network: &'a Network, decision: &Decision) -> Self {
        let id = EnclosureId::new(decision.enclosure);
        let ways = network.ways(id);
        let stays_live = stays_live(enclosure, network, ways, decision);
        let (devices, handles) = (Vec::new(), HashMap::new());
        let mut listing = Self { enclosure, network, ways, id, devices, handles, stays_live };
        listing.list();
        listing
    }

    fn list(&mut self) {
        let mut place_of: HashMap<DeviceId, usize> = HashMap::new();
        let mut told: HashSet<(usize, &str)> = HashSet::new();
        let one_handle = one_handle(self.network, self.ways);
        for (row, way) in self.enclosure.rows.iter().zip(self.ways) {
            for device in way.isolated.devices() {
                let place = *place_of.entry(*device).or_insert(self.devices.len());
                if place == self.devices.len() {
                    let handle = handle(self.network, *device, one_handle);
                    handle.iter().for_each(|handle| *self.handles.entry(handle.clone()).or_default() += 1);
                    self.devices.push(Listed { device: *device, handle, circuits: Vec::new() });
                }
                if told.insert((place, &row.circuit)) {
                    self.devices.get_mut(place).into_iter().for_each(|it| it.circuits.push(row.circuit.to_string()));
                }
            }
        }
    }

    fn entry(&self, listed: &Listed) -> IsolatedEnclosure {
        let opened = listed.handle.as_ref().and_then(|handle| self.handles.get(handle)).copied().unwrap_or(1);
        let is_other = |other: &&Listed| {
            other.device != listed.device && (listed.handle.is_none() || other.handle != listed.handle)
        };
        let named = self.devices.iter().filter(is_other).take(MOST_NAMED);
        let others = self.devices.len().saturating_sub(opened);
        IsolatedEnclosure {
            enclosure: self.id.index(),
            circuits: listed.circuits.clone(),
            alone: others == 0 && !self.stays_live,
            with: named.map(|other| other.device).collect(),
            others,
        }
    }
}

/// The `coupled` interlock that covers every row.
fn one_handle(network: &Network, ways: &[Way]) -> Option<InterlockId> {
    let first = ways.first()?.interlock?;
    let is_coupled = network.interlock(first).is_some_and(|it| it.kind == Some(InterlockKind::Coupled));
    (is_coupled && ways.iter().all(|way| way.interlock == Some(first))).then_some(first)
}

/// The handle that opens a device and perhaps others in the same place; `None` for a device without one.
pub(super) fn handle(network: &Network, device: DeviceId, one_handle: Option<InterlockId>) -> Option<Handle> {
    let node = network.device_node(device).and_then(|node| network.graph().node(node));
    let interlock = one_handle.or_else(|| node.and_then(|node| node.coupled))?;
    Some((interlock, spelling::key(&network.device(device)?.location)))
}

/// Whether something of an enclosure is declared or found to stay live, or not all of its rows can be isolated.
fn stays_live(enclosure: &Enclosure, network: &Network, ways: &[Way], decision: &Decision) -> bool {
    let stays = |statement: &Statement| match statement {
        Statement::CannotBeIsolated { .. } | Statement::LineSideLive { .. } | Statement::LiveAtAnyTime { .. } => true,
        Statement::SeveralSupplies { .. }
        | Statement::SeveralIsolators
        | Statement::IsolatorsLeaveParts
        | Statement::UnexpectedVoltage
        | Statement::BackFeed { .. }
        | Statement::StartsByItself { .. }
        | Statement::StoredCharge { .. }
        | Statement::AlternativeSource { .. } => false,
    };
    // With several devices and no handle in the survey the rule only counts them; a handle of the supplies file may
    // open them together.
    let is_counted = decision.points.len() > 1 && one_handle(network, ways).is_none();
    let of_isolators = decision.reasons.iter().find(|reason| reason.rule == Rule::SeveralIsolators);
    decision.proof.result == ProofResult::Live
        || !is_counted && of_isolators.is_some_and(|reason| reason.outcome == Outcome::Required)
        || decision.statements.iter().any(stays)
        || unlisted_lender(enclosure).is_some()
        || !ways.iter().all(|way| matches!(way.isolated, Isolated::By(_)))
}
