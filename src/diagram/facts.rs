//! What a diagram and a text tree say of one node: name, place, what it is, and its number on the notice.

use crate::network::{DescribedBy, Device, DeviceId, EnclosureId, Named, Nature, Network, NodeId, NodeKind, Proof};
use crate::rules::Decision;
use crate::supplies::{DescribedDevice, Kind, Supplies};
use crate::survey::value::{Current, DeviceKind, Earthing, Nominal, SourceKind};
use crate::survey::{Enclosure, Survey};

/// What a node is, as it is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) enum Shape {
    /// Where energy comes from.
    Source(Nature),
    /// A device suitable for isolation, of a kind where it is said.
    Isolator(Option<DeviceKind>),
    /// The network operator's cut-out.
    Cutout,
    /// A device that is not suitable for isolation.
    Switch,
    /// A changeover, with or without an off position.
    Changeover {
        /// Whether it has one.
        off_position: bool,
    },
    /// A transformer.
    Transformer,
    /// A UPS, with a battery of its own or one that is drawn by itself.
    Ups {
        /// Whether the battery is part of it.
        own_battery: bool,
    },
    /// A converter.
    Converter,
    /// A busbar or board.
    Board,
    /// Known by name only.
    NotKnown,
}

/// What is said of one node.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Facts {
    /// Designation.
    pub(super) name: String,
    /// Where it is; empty if no file says.
    pub(super) place: String,
    /// What it is.
    pub(super) shape: Shape,
    /// Nominal voltage and earthing of what begins here; empty if no file says.
    pub(super) system: String,
    /// The numbers that the notice gives it.
    pub(super) points: Vec<usize>,
    /// Which file describes it.
    pub(super) described_by: DescribedBy,
}

/// The files and the decision about one enclosure.
pub(super) struct Case<'a> {
    pub(super) survey: &'a Survey,
    pub(super) supplies: Option<&'a Supplies>,
    pub(super) network: &'a Network,
    pub(super) decision: &'a Decision,
    /// The proof with all of its gaps, where the decision keeps none.
    proof: Option<Proof>,
    numbers: Vec<(NodeId, usize)>,
}

impl<'a> Case<'a> {
    /// Finds the nodes of the points of isolation.
    pub(super) fn new(
        survey: &'a Survey,
        supplies: Option<&'a Supplies>,
        network: &'a Network,
        decision: &'a Decision,
    ) -> Self {
        let whole = (!network.is_described()).then(|| network.proof(EnclosureId::new(decision.enclosure)));
        let mut case = Self { survey, supplies, network, decision, proof: whole, numbers: Vec::new() };
        case.numbers = case.numbered();
        case
    }

    /// The enclosure.
    pub(super) fn enclosure(&self) -> Option<&'a Enclosure> {
        self.survey.enclosures.get(self.decision.enclosure)
    }

    /// The number of the enclosure.
    pub(super) const fn id(&self) -> EnclosureId {
        EnclosureId::new(self.decision.enclosure)
    }

    /// The proof for the enclosure.
    pub(super) fn proof(&self) -> &Proof {
        self.proof.as_ref().unwrap_or(&self.decision.proof)
    }

    /// The nodes of the points of isolation, each with its number on the notice.
    fn numbered(&self) -> Vec<(NodeId, usize)> {
        let devices = self.network.ways(self.id()).iter().flat_map(|way| way.isolated.devices());
        let mut numbers: Vec<_> = devices
            .filter_map(|id| {
                let device = self.network.device(*id)?;
                let is_it = |point: &&crate::rules::PointOfIsolation| {
                    *point.device == *device.designation && *point.location == *device.location
                };
                let place = self.decision.points.iter().position(|point| is_it(&point))?;
                Some((self.network.device_node(*id)?, place + 1))
            })
            .collect();
        numbers.sort_unstable_by_key(|(node, number)| (*number, *node));
        numbers.dedup();
        numbers
    }

    /// The nodes that must be shown one by one.
    pub(super) fn kept(&self) -> Vec<NodeId> {
        self.numbers.iter().map(|(node, _)| *node).collect()
    }

    /// Whether a proved path of energy passes between two nodes.
    pub(super) fn is_live(&self, one: NodeId, other: NodeId) -> bool {
        let joins = |pair: &[NodeId]| pair == [one, other] || pair == [other, one];
        self.proof().paths.iter().any(|path| path.nodes.windows(2).any(joins))
    }

    /// What is said of a node.
    pub(super) fn facts(&self, node: NodeId) -> Facts {
        let kind = self.network.graph().node(node);
        let described_by = kind.map_or(DescribedBy::Survey, |node| node.described_by());
        let row = kind.and_then(|node| match node.named {
            Named::Described(row) => self.supplies?.devices.get(usize::try_from(row).ok()?),
            Named::Device(_) | Named::Supply(_) | Named::Source(_) | Named::Mentioned(_) => None,
        });
        let device = self.device_of(node);
        let name = match (row, device) {
            (Some(row), _) => row.designation.clone(),
            (None, Some(device)) => device.designation.as_ref().to_owned(),
            (None, None) => self.network.node_name(node),
        };
        let place = row.map(|row| row.location.as_str()).filter(|place| !place.is_empty());
        let place = place.or_else(|| device.map(|device| &*device.location)).unwrap_or_default().to_owned();
        let kind = kind.map_or(NodeKind::NotKnown, |node| node.kind);
        let nature = match (self.nature(node, &name), row.and_then(|row| row.nominal)) {
            // A direct voltage named after its UPS is that of the battery.
            (Nature::Ups, Some(Nominal { current: Current::Dc, .. })) => Nature::Battery,
            (nature, _) => nature,
        };
        let shape = shape_of(kind, row, device, nature);
        let points = self.numbers.iter().filter(|(other, _)| *other == node).map(|(_, number)| *number).collect();
        Facts { name, place, shape, system: row.map_or_else(String::new, system_in_words), points, described_by }
    }

    fn device_of(&self, node: NodeId) -> Option<&'a Device> {
        if let Some(Named::Device(id)) = self.network.graph().node(node).map(|node| node.named) {
            return self.network.device(id);
        }
        let ids = (0..self.network.devices().len()).map(DeviceId::new);
        let mut same = ids.filter(|id| self.network.device_node(*id) == Some(node));
        same.next().and_then(|id| self.network.device(id))
    }

    fn nature(&self, node: NodeId, name: &str) -> Nature {
        match self.network.graph().node(node).map(|node| node.named) {
            Some(Named::Source(id)) => self.network.source(id).map_or(Nature::NotTold, |source| source.nature),
            Some(Named::Described(_) | Named::Device(_) | Named::Supply(_) | Named::Mentioned(_)) | None => {
                Nature::of(&SourceKind::Named(name.into()))
            }
        }
    }
}

fn shape_of(kind: NodeKind, row: Option<&DescribedDevice>, device: Option<&Device>, nature: Nature) -> Shape {
    let said = row.and_then(|row| row.kind).and_then(Kind::device);
    let device_kind = said.or_else(|| device.and_then(|device| device.kind.as_ref()).map(|told| told.value));
    match kind {
        NodeKind::Source => Shape::Source(nature),
        NodeKind::Isolator => match device_kind {
            Some(DeviceKind::NetworkCutout) => Shape::Cutout,
            kind => Shape::Isolator(kind),
        },
        NodeKind::Cutout => Shape::Cutout,
        NodeKind::Switch => Shape::Switch,
        NodeKind::Changeover { off_position } => Shape::Changeover { off_position },
        NodeKind::Transformer => Shape::Transformer,
        NodeKind::Ups { own_battery } => Shape::Ups { own_battery },
        NodeKind::Converter => Shape::Converter,
        NodeKind::Busbar => Shape::Board,
        NodeKind::NotKnown => Shape::NotKnown,
    }
}

fn system_in_words(row: &DescribedDevice) -> String {
    let voltage = row.nominal.map(nominal_in_words);
    let parts: Vec<String> =
        voltage.into_iter().chain(row.earthing.map(|earthing| earthing_name(earthing).to_owned())).collect();
    parts.join(" ")
}

/// `230/400 V`, `600 V d.c.`
pub(super) fn nominal_in_words(nominal: Nominal) -> String {
    let volts = match (nominal.to_neutral, nominal.between) {
        (Some(neutral), Some(between)) => format!("{neutral}/{between}"),
        (Some(only), None) | (None, Some(only)) => only.to_string(),
        (None, None) => return String::new(),
    };
    match nominal.current {
        Current::Ac => format!("{volts} V"),
        Current::Dc => format!("{volts} V d.c."),
    }
}

const fn earthing_name(earthing: Earthing) -> &'static str {
    match earthing {
        Earthing::TnS => "TN-S",
        Earthing::TnCS => "TN-C-S",
        Earthing::TnC => "TN-C",
        Earthing::Tt => "TT",
        Earthing::It => "IT",
        Earthing::LineEarthed => "one line earthed",
        Earthing::Midpoint => "midpoint earthed",
        Earthing::PoleEarthed => "one pole earthed",
        Earthing::PositiveEarthed => "positive pole earthed",
        Earthing::NegativeEarthed => "negative pole earthed",
        Earthing::Unearthed => "unearthed",
        Earthing::Selv => "SELV",
        Earthing::Pelv => "PELV",
        Earthing::Felv => "FELV",
    }
}

impl Facts {
    /// Designation and place in one phrase: `Q7 (Switchroom 1)`.
    pub(super) fn phrase(&self) -> String {
        if self.place.is_empty() { self.name.clone() } else { format!("{} ({})", self.name, self.place) }
    }

    /// What the node is where its symbol or name does not tell, and what must be known of it.
    pub(super) fn remark(&self) -> Option<&'static str> {
        match self.shape {
            Shape::Source(_) => Some("source"),
            Shape::Isolator(kind) => kind.map(DeviceKind::name),
            Shape::Cutout => Some("network operator's cut-out, not yours to open"),
            Shape::Switch => Some("not suitable for isolation"),
            Shape::Changeover { off_position: true } => Some("changeover with off position"),
            Shape::Changeover { off_position: false } => Some("changeover, does not isolate"),
            Shape::Transformer => Some("transformer"),
            Shape::Ups { own_battery: true } => Some("UPS, live from its own battery"),
            Shape::Ups { own_battery: false } => Some("UPS"),
            Shape::Converter => Some("converter"),
            Shape::Board => Some("board"),
            Shape::NotKnown => None,
        }
    }

    /// Whether what feeds this node is not known in full.
    pub(super) fn is_open_end(&self) -> bool {
        self.described_by == DescribedBy::Survey
    }
}
