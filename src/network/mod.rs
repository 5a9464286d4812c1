//! Rows into a network: what feeds what, what isolates what, which voltages meet where.
//!
//! Joining never fails: it returns the network together with everything that was contradictory or missing. What a
//! survey alone cannot tell stays unknown, and is said to be.

pub mod between;
pub mod device;
pub mod graph;
pub mod id;
pub mod interlock;
pub mod lines;
pub mod needs;
pub mod proof;
pub mod spelling;
pub mod supply;
pub mod system;
pub mod upstream;
pub mod voltage;
pub mod words;

mod designations;
mod join;

mod ancestry;
mod assembly;
mod attachment;
mod copper;
mod describing;
mod feeding;
mod held;
mod lending;
mod live_parts;
mod loose_ends;
mod naming;
mod nodes;
mod own_place;
mod slips;

use std::collections::HashMap;
use std::ops::Range;
use std::sync::Arc;

use rayon::iter::{IntoParallelIterator, ParallelIterator};

pub use crate::table::Few;
pub use between::{Apart, Between};
pub use device::{Device, OwnNotice, Said, Told};
pub use graph::{DescribedBy, Feed, Graph, Named, Neutral, Node, NodeKind, Side, Terminal};
pub use id::{DeviceId, EnclosureId, InterlockId, NodeId, OfRow, SourceId, SupplyId, WayId};
pub use interlock::Interlock;
pub use needs::{Lender, Needs};
pub use proof::{Carrier, Cut, Gap, LineSide, LineSideAsked, LivePath, Proof, ProofResult};
pub use supply::{Nature, Source, Supply};
pub use system::{Others, Root, System, Systems};
pub use voltage::{Agreement, Computed, EarthRule, ToldBy, WayVoltage};

use live_parts::{LiveParts, Outputs, Unproved};

use crate::finding::Finding;
use crate::supplies::{DescribedDevice, Starting, Supplies};
use crate::survey::Survey;

/// How rows are joined.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NetworkOptions {
    /// How far above the computed value a declared voltage may stand and still be taken for a measured one, per cent.
    /// _Default value_: 10.
    pub measured_tolerance_percent: u32,
}

impl Default for NetworkOptions {
    fn default() -> Self {
        Self { measured_tolerance_percent: voltage::SUPPLY_TOLERANCE_PERCENT }
    }
}

/// What isolates a way, with the devices found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Isolated {
    /// These devices, all of which must be opened; never empty.
    By(Few<DeviceId>),
    /// It cannot be isolated.
    Impossible,
    /// Not known, or the cell is faulty.
    Unknown,
}

impl Isolated {
    /// The devices to open; empty where there are none, or none are known.
    #[must_use]
    pub fn devices(&self) -> &[DeviceId] {
        match self {
            Self::By(devices) => devices,
            Self::Impossible | Self::Unknown => &[],
        }
    }
}

/// A way in which energy reaches, or remains in, an enclosure: one row of the survey.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Way {
    /// What isolates it.
    pub isolated: Isolated,
    /// What makes dead that which stays live after that; `None` where the survey does not say.
    pub upstream: Option<Box<Isolated>>,
    /// The boards, transformers or sources from which it comes; empty where the survey does not say.
    pub supplies: Few<SupplyId>,
    /// Where its energy comes from in the end; `None` is unknown, never mains.
    pub source: Option<SourceId>,
    /// The interlock that covers it.
    pub interlock: Option<InterlockId>,
    /// What its devices must part.
    pub needs: Needs,
    /// Its voltages; of most rows they are alike.
    pub voltage: Arc<WayVoltage>,
}

/// What the supplies file says of a row beside its name and feeds.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
struct Facts {
    location: String,
    starts_by_itself: Option<Starting>,
}

impl Facts {
    fn of(device: &DescribedDevice) -> Self {
        Self { location: device.location.clone(), starts_by_itself: device.starts_by_itself }
    }
}

/// What feeds what, what isolates what.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Network {
    devices: Vec<Device>,
    supplies: Vec<Supply>,
    sources: Vec<Source>,
    interlocks: Vec<Interlock>,
    ways: Vec<Way>,
    enclosures: Vec<Range<usize>>,
    graph: Graph,
    /// The node of each device, by its number.
    device_nodes: Vec<NodeId>,
    /// For each way, where its live parts are connected.
    live_parts: LiveParts,
    /// For each way of a UPS by the supplies file to whose output energy can come from outside, where it comes.
    outputs: HashMap<WayId, Outputs>,
    /// For each enclosure that holds devices under another name, their output terminals of which no row speaks.
    unproved: HashMap<usize, Vec<Unproved>>,
    /// Whose neutral a way shares, of those that share one or may.
    lenders: HashMap<WayId, Lender>,
    /// The rows of circuits that share a neutral, by where they hang.
    sharing: HashMap<Terminal, Vec<WayId>>,
    /// The designations of the supplies file, by the place of the row.
    described: Vec<String>,
    /// The electrical systems by the supplies file.
    systems: Systems,
    /// What else that file says of its rows, by the place of the row.
    facts: Vec<Facts>,
    /// The names that only cells of the supplies file bear.
    mentioned: Vec<String>,
}

impl Network {
    /// Joins the rows of a survey, and of a supplies file where there is one.
    #[must_use]
    pub fn join(survey: &Survey, supplies: Option<&Supplies>, options: &NetworkOptions) -> (Self, Vec<Finding>) {
        join::join(survey, supplies, options)
    }

    /// Every device, in the order in which the survey first names them.
    #[must_use]
    pub fn devices(&self) -> &[Device] {
        &self.devices
    }

    /// Every supply, in the order in which the survey first names them.
    #[must_use]
    pub fn supplies(&self) -> &[Supply] {
        &self.supplies
    }

    /// Every source that the survey names, in the order in which it first names them.
    #[must_use]
    pub fn sources(&self) -> &[Source] {
        &self.sources
    }

    /// Every interlock, in the order in which the survey first names them, then the supplies file.
    #[must_use]
    pub fn interlocks(&self) -> &[Interlock] {
        &self.interlocks
    }

    /// Nodes and feeds.
    #[must_use]
    pub const fn graph(&self) -> &Graph {
        &self.graph
    }

    /// The ways into an enclosure, one for each of its rows and in their order.
    #[must_use]
    pub fn ways(&self, enclosure: EnclosureId) -> &[Way] {
        self.enclosures.get(enclosure.index()).and_then(|range| self.ways.get(range.clone())).unwrap_or_default()
    }

    /// The numbers of the ways into an enclosure.
    pub fn way_ids(&self, enclosure: EnclosureId) -> impl Iterator<Item = WayId> + use<> {
        self.enclosures.get(enclosure.index()).cloned().unwrap_or_default().map(WayId::new)
    }

    /// Every node, what feeds before what is fed; those that feed each other in a circle stand together.
    #[must_use]
    pub fn upstream_first(&self) -> Vec<Vec<NodeId>> {
        system::circles(&self.graph)
    }

    /// A device.
    #[must_use]
    pub fn device(&self, id: DeviceId) -> Option<&Device> {
        self.devices.get(id.index())
    }

    /// A supply.
    #[must_use]
    pub fn supply(&self, id: SupplyId) -> Option<&Supply> {
        self.supplies.get(id.index())
    }

    /// A source.
    #[must_use]
    pub fn source(&self, id: SourceId) -> Option<&Source> {
        self.sources.get(id.index())
    }

    /// An interlock.
    #[must_use]
    pub fn interlock(&self, id: InterlockId) -> Option<&Interlock> {
        self.interlocks.get(id.index())
    }

    /// The electrical systems by the supplies file; nothing is known of them without one.
    #[must_use]
    pub const fn systems(&self) -> &Systems {
        &self.systems
    }

    /// Where the live parts of a way are connected; empty where neither file says.
    #[must_use]
    pub fn live_parts(&self, way: WayId) -> &[Terminal] {
        self.live_parts.of(way)
    }

    /// The UPS at whose output terminals the live parts of a way are held to be, to which energy can come from outside.
    #[must_use]
    pub fn output_of(&self, way: WayId) -> Option<NodeId> {
        self.outputs.get(&way).filter(|outputs| !outputs.own.is_empty()).map(|outputs| outputs.ups)
    }

    /// Whose neutral a way shares.
    #[must_use]
    pub fn lender(&self, way: WayId) -> &Lender {
        self.lenders.get(&way).unwrap_or(&Lender::None)
    }

    /// How many lines the circuits have that share a neutral and hang at a terminal; `None` where that is not said.
    fn lines_sharing(&self, terminal: Terminal) -> Option<u8> {
        let lines = |way: &WayId| self.ways.get(way.index())?.needs.lines_to_part();
        let all: Option<Vec<u8>> = self.sharing.get(&terminal)?.iter().map(lines).collect();
        all?.into_iter().max()
    }

    /// The node of a device.
    #[must_use]
    pub fn device_node(&self, device: DeviceId) -> Option<NodeId> {
        self.device_nodes.get(device.index()).copied()
    }

    /// Whether every device that isolates a way stands in another system than its live parts by the supplies file, beyond a
    /// transformer, a converter or a UPS: how many lines the way has then says nothing of what they must part.
    #[must_use]
    pub fn is_isolated_from_another_system(&self, id: WayId, way: &Way) -> bool {
        let stands_apart =
            |device: &DeviceId| self.device_node(*device).is_some_and(|node| proof::stands_apart(self, node, id));
        let devices = way.isolated.devices();
        self.is_described() && !devices.is_empty() && devices.iter().all(stands_apart)
    }

    /// Whether the supplies file shows that a device does not feed one of these isolators: it describes all that stands
    /// upstream of that, and the device is not among it.
    #[must_use]
    pub fn is_off_the_way(&self, device: DeviceId, isolators: &[DeviceId]) -> bool {
        let is_described =
            |node: &NodeId| self.graph.node(*node).is_some_and(|node| matches!(node.named, Named::Described(_)));
        let Some(device) = self.device_node(device).filter(is_described) else { return false };
        let is_off = |isolator: NodeId| {
            let mut seen = vec![isolator];
            let mut next = 0;
            while let Some(node) = seen.get(next).copied() {
                if node == device || !is_described(&node) {
                    return false;
                }
                let above = self.graph.into_node(node).iter().map(|feed| feed.from);
                let above: Vec<NodeId> = above.filter(|from| !seen.contains(from)).collect();
                seen.extend(above);
                next += 1;
            }
            true
        };
        isolators.iter().filter_map(|isolator| self.device_node(*isolator)).any(is_off)
    }

    /// The nature of the source of a way; `None` where the survey does not say.
    #[must_use]
    pub fn nature(&self, way: &Way) -> Option<Nature> {
        way.source.and_then(|id| self.source(id)).map(|source| source.nature)
    }

    /// Whether energy still reaches an enclosure with everything opened that its notice lists.
    #[must_use]
    pub fn proof(&self, enclosure: EnclosureId) -> Proof {
        proof::prove(self, enclosure)
    }

    /// What still reaches incoming terminals with everything open that an enclosure lists, and what is said to isolate them.
    #[must_use]
    pub fn line_sides(&self, enclosure: EnclosureId, asked: &[LineSideAsked]) -> Vec<LineSide> {
        proof::line_sides(self, enclosure, asked)
    }

    /// The proofs of all enclosures, in their order.
    #[must_use]
    pub fn proofs(&self) -> Vec<Proof> {
        (0..self.enclosures.len()).into_par_iter().map(|index| self.proof(EnclosureId::new(index))).collect()
    }

    /// The name of a node, for messages.
    #[must_use]
    pub fn node_name(&self, node: NodeId) -> String {
        let name = self.graph.node(node).and_then(|node| match node.named {
            Named::Described(row) => self.described.get(row as usize).cloned(),
            Named::Device(id) => self.device(id).map(Device::phrase),
            Named::Supply(id) => self.supply(id).map(|supply| supply.designation.clone()),
            Named::Source(id) => self.source(id).map(|source| source.word().to_owned()),
            Named::Mentioned(place) => self.mentioned.get(place as usize).cloned(),
        });
        name.unwrap_or_default()
    }

    /// Whether a supplies file describes any of it.
    #[must_use]
    pub const fn is_described(&self) -> bool {
        !self.described.is_empty()
    }

    /// Where a node is, by either file; empty where neither says.
    #[must_use]
    pub fn node_location(&self, node: NodeId) -> &str {
        let location = self.graph.node(node).and_then(|node| match node.named {
            Named::Described(row) => self.facts.get(row as usize).map(|facts| facts.location.as_str()),
            Named::Device(id) => self.device(id).map(|device| &*device.location),
            Named::Supply(_) | Named::Source(_) | Named::Mentioned(_) => None,
        });
        location.unwrap_or_default()
    }

    /// Name and location of a node in one phrase, for a message that sends a person there: `Q7 (Switchroom 1)`.
    #[must_use]
    pub fn node_phrase(&self, node: NodeId) -> String {
        let (name, location) = (self.node_name(node), self.node_location(node));
        let is_said = location.is_empty() || name.ends_with(&format!("({location})"));
        if is_said { name } else { format!("{name} ({location})") }
    }

    /// How a source starts by the supplies file; `None` where it does not say.
    #[must_use]
    pub fn starts_by_itself(&self, node: NodeId) -> Option<Starting> {
        match self.graph.node(node)?.named {
            Named::Described(row) => self.facts.get(row as usize)?.starts_by_itself,
            Named::Device(_) | Named::Supply(_) | Named::Source(_) | Named::Mentioned(_) => None,
        }
    }
}

#[cfg(test)]
pub(crate) mod testing;
#[cfg(test)]
mod tests;
