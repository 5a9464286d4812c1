//! What the supplies file tells beyond the survey: which sources feed a row, what lies on the way, and what is so where a
//! row does not say it itself.

use std::collections::{BTreeSet, HashSet};

use foldhash::fast::RandomState;

use super::statement::{Missing, SourceIsolation};
use super::upstream::Upstream;
use crate::network::{
    DescribedBy, DeviceId, Named, Nature, Network, Neutral, Node, NodeId, NodeKind, OfRow, Side, Source, Way, WayId,
    spelling,
};
use crate::supplies::Starting;
use crate::survey::value::{Poles, SourceKind};
use crate::table::WordList;

/// What the supplies file tells of the whole installation; nothing where there is none.
#[derive(Default)]
pub(super) struct Described {
    sources: Vec<DescribedSource>,
    /// Their names, in the form in which names are compared.
    keys: HashSet<String>,
    /// The names of converters and UPSs, in the same form.
    keepers: HashSet<String>,
    /// What feeds every node in the end.
    above: Upstream,
    /// What lies upstream of each UPS, with that UPS; sorted.
    upstream_of_ups: Vec<(NodeId, NodeId)>,
}

/// A source that the supplies file describes, or a UPS with a battery of its own.
pub(super) struct DescribedSource {
    node: NodeId,
    pub(super) name: String,
    /// The name in the form in which names are compared.
    key: String,
    pub(super) nature: Nature,
    /// Direct current from what its name calls modules, strings or an array: solar where a row says so.
    may_be_solar: bool,
    /// Whether it may start without warning: as the file says, else by what it is; `None` where neither tells.
    pub(super) may_start: Option<bool>,
}

impl Described {
    pub(super) fn of(network: &Network) -> Self {
        let graph = network.graph();
        let nodes = graph.nodes().iter().enumerate().map(|(index, node)| (NodeId::new(index), *node));
        let described: Vec<_> = nodes.filter(|(_, node)| node.described_by() == DescribedBy::SuppliesFile).collect();
        let sources = described.iter().filter_map(|(id, node)| {
            let name = network.node_name(*id);
            let nature = Nature::of_node(node.kind, &name)?;
            let by_nature = (nature != Nature::NotTold).then_some(nature == Nature::Generator);
            let is_startable = |said| matches!(said, Starting::ByItself | Starting::ByHand);
            let may_start = network.starts_by_itself(*id).map(is_startable).or(by_nature);
            let key = spelling::key(&name);
            let is_direct = graph.lines(*id) == Some(2);
            let may_be_solar = nature == Nature::NotTold && is_direct && spelling::has_word(&name, &MODULES);
            Some(DescribedSource { node: *id, name, key, nature, may_be_solar, may_start })
        });
        let sources: Vec<DescribedSource> = sources.collect();
        let source_at = |node| sources.binary_search_by_key(&node, |source| source.node).ok();
        let above = if network.is_described() { Upstream::of(network, source_at) } else { Upstream::default() };
        let upses = described.iter().filter(|(_, node)| is_ups(node.kind)).map(|(id, _)| *id);
        let mut upstream_of_ups: Vec<_> =
            upses.flat_map(|ups| upstream(network, ups).into_iter().map(move |node| (node, ups))).collect();
        upstream_of_ups.sort_unstable();
        let keys = sources.iter().map(|source| source.key.clone()).collect();
        let keepers = described.iter().filter(|(_, node)| node.kind == NodeKind::Converter || is_ups(node.kind));
        let keepers = keepers.map(|(id, _)| spelling::key(&network.node_name(*id))).collect();
        Self { sources, keys, keepers, above, upstream_of_ups }
    }

    /// The sources that feed a row by way of its isolators, in any position of a changeover, up to and with a UPS; and
    /// whether the file describes all of the way to them.
    pub(super) fn feeding<'a>(&'a self, network: &Network, way: WayId) -> (Vec<&'a DescribedSource>, bool) {
        let nodes = above_live_parts(network, way);
        let sources = self.above.sources(&nodes).into_iter().filter_map(|place| self.sources.get(place));
        (sources.collect(), self.above.is_whole(&nodes))
    }

    /// Whether the neutral of a row can be live by the supplies file; `NotKnown` where that does not say.
    pub(super) fn neutral(&self, network: &Network, way: WayId) -> Neutral {
        self.above.neutral(&above_live_parts(network, way))
    }

    /// The sources that no row of the survey can mean.
    pub(super) fn unnamed(&self, network: &Network) -> impl Iterator<Item = &DescribedSource> {
        let (mut keys, mut loose) = (HashSet::new(), Vec::new());
        for named in network.sources() {
            let key = spelling::key(named.word());
            if !self.is_name_of_one(named, &key) {
                loose.push(named);
            }
            keys.insert(key);
        }
        let is_named = move |source: &DescribedSource| {
            keys.contains(&source.key) || loose.iter().any(|named| source.is_alike(named))
        };
        self.sources.iter().filter(move |source| !is_named(source))
    }

    /// Whether a converter or UPS of this name is described, which keeps a charge.
    pub(super) fn keeps_charge(&self, name: &str) -> bool {
        !self.keepers.is_empty() && self.keepers.contains(&spelling::key(name))
    }

    /// The designations of the UPSs whose output a row is: its own name as a source, or the supplies that bear one and that
    /// the file does not describe; with those that feed the row by the file. Only `UPS` where nothing names one, none where it
    /// comes from none.
    pub(super) fn upses_of(&self, network: &Network, id: WayId, way: &Way) -> Vec<String> {
        let source = way.source.and_then(|id| network.source(id)).filter(|source| source.nature == Nature::Ups);
        let Some(source) = source else { return Vec::new() };
        let tells = |name: &str| spelling::has_word(name, &spelling::UPS);
        let mut names: Vec<String> = Vec::new();
        if tells(source.word()) && !source.word().eq_ignore_ascii_case("ups") {
            names.push(source.word().to_owned());
        } else {
            let supplies = way.supplies.iter().filter_map(|id| network.supply(*id));
            let of_survey = supplies.filter(|supply| supply.described_by == DescribedBy::Survey);
            let named = of_survey.filter(|supply| tells(&supply.designation));
            names.extend(named.map(|supply| supply.designation.as_str().to_owned()));
        }
        if network.is_described() {
            let known: Vec<String> = names.iter().map(|name| spelling::key(name)).collect();
            let feeding = self.feeding(network, id).0.into_iter().filter(|source| source.nature == Nature::Ups);
            names.extend(feeding.filter(|ups| !known.contains(&ups.key)).map(|ups| ups.name.clone()));
        }
        if names.is_empty() {
            names.push("UPS".to_owned());
        }
        names
    }

    /// The only UPS that feeds a row by the file, by name.
    pub(super) fn only_ups_above(&self, network: &Network, id: WayId) -> Option<String> {
        let feeding = self.feeding(network, id).0;
        let mut upses = feeding.into_iter().filter(|source| source.nature == Nature::Ups);
        upses.next().filter(|_| upses.next().is_none()).map(|ups| ups.name.clone())
    }

    /// The described source that bears the name of one of the survey.
    pub(super) fn named(&self, source: &Source) -> Option<&DescribedSource> {
        let key = spelling::key(source.word());
        self.sources.iter().find(|described| described.key == key)
    }

    /// The devices that the energy of a source of the survey passes first: of the described one of its name, or, where the
    /// survey only says what kind it is, of all of that kind. None where that would leave a part of the energy.
    pub(super) fn first_isolators(&self, network: &Network, source: &Source) -> Vec<NodeId> {
        let key = spelling::key(source.word());
        let is_kind = !matches!(source.kind, SourceKind::Named(_));
        let meant = self.sources.iter().filter(|it| it.key == key || is_kind && it.nature == source.nature);
        let each: Option<Vec<_>> = meant.map(|described| described.first_isolators(network)).collect();
        let mut isolators: Vec<NodeId> = each.unwrap_or_default().into_iter().flatten().collect();
        isolators.sort_unstable();
        isolators.dedup();
        isolators
    }

    /// Whether a source that the survey names can be this described one: by name, or by what it is, unless it bears the
    /// name of another.
    pub(super) fn is_named_by(&self, described: &DescribedSource, source: &Source) -> bool {
        let is_kind = !matches!(source.kind, SourceKind::Named(_));
        if described.name == source.word() || is_kind && described.is_alike(source) {
            return true;
        }
        let key = spelling::key(source.word());
        described.key == key || described.is_alike(source) && !self.is_name_of_one(source, &key)
    }

    /// The described sources that one of the survey can be.
    pub(super) fn named_by(&self, source: &Source) -> impl Iterator<Item = &DescribedSource> {
        self.sources.iter().filter(move |described| self.is_named_by(described, source))
    }

    /// Whether the survey gives a name, not only a kind of source, and a described source bears it.
    fn is_name_of_one(&self, source: &Source, key: &str) -> bool {
        matches!(source.kind, SourceKind::Named(_)) && self.keys.contains(key)
    }

    /// The UPSs of which the supplies file says what feeds them, by name in the form in which names are compared.
    pub(super) fn fed_upses(&self, network: &Network) -> impl Iterator<Item = String> {
        let upses: BTreeSet<NodeId> = self.upstream_of_ups.iter().map(|(_, ups)| *ups).collect();
        upses.into_iter().map(|ups| spelling::key(&network.node_name(ups)))
    }

    /// The UPSs upstream of which a device stands, and away from which it is, by name.
    pub(super) fn upses_below(&self, network: &Network, device: DeviceId) -> Vec<String> {
        let Some(node) = network.device_node(device) else { return Vec::new() };
        let start = self.upstream_of_ups.partition_point(|(upstream, _)| *upstream < node);
        let from = self.upstream_of_ups.get(start..).unwrap_or_default();
        let below = from.iter().take_while(|(upstream, _)| *upstream == node).map(|(_, ups)| *ups);
        let location = network.device(device).map_or("", |device| &*device.location);
        below.filter(|ups| !stands_at(location, network, *ups)).map(|ups| network.node_name(ups)).collect()
    }
}

impl DescribedSource {
    /// What the file says in so many words of how it starts.
    pub(super) fn says_how_it_starts(&self, network: &Network) -> Option<Starting> {
        network.starts_by_itself(self.node)
    }

    pub(super) const fn node(&self) -> NodeId {
        self.node
    }

    /// Its place in a list in the order of the file.
    pub(super) fn place_among(&self, sources: &[&Self]) -> Option<usize> {
        sources.binary_search_by_key(&self.node, |source| source.node).ok()
    }

    /// What kind of source it is in a word of the survey; its name where that does not tell.
    fn word(&self) -> &str {
        match self.nature {
            Nature::Mains => "mains",
            Nature::Generator => "generator",
            Nature::Solar => "solar",
            Nature::Battery => "battery",
            Nature::Ups => "ups",
            Nature::Vehicle => "vehicle",
            Nature::NotTold => &self.name,
        }
    }

    /// Where it is isolated for all of the installation: the first devices suitable for isolation that its energy passes,
    /// before it meets another supply.
    pub(super) fn isolation(&self, network: &Network) -> SourceIsolation {
        let isolators = self.first_isolators(network).unwrap_or_default();
        let are_few = !isolators.is_empty() && isolators.len() <= MOST_ISOLATORS;
        let named = isolators.iter().filter(|_| are_few);
        SourceIsolation {
            source: self.word().to_owned(),
            isolated_at: named.map(|node| name_and_place(network, *node)).collect(),
            missing: (!are_few).then_some(Missing::NotKnown),
        }
    }

    /// `None` where its energy meets another supply behind none of them: opened, they would leave it where the two meet.
    fn first_isolators(&self, network: &Network) -> Option<Vec<NodeId>> {
        let graph = network.graph();
        let mut order = vec![self.node];
        let mut seen: HashSet<NodeId> = HashSet::from([self.node]);
        let mut isolators = Vec::new();
        let mut next = 0;
        while let Some(at) = order.get(next).copied() {
            next += 1;
            let Some(node) = graph.node(at) else { continue };
            if matches!(node.kind, NodeKind::Isolator | NodeKind::Changeover { off_position: true }) {
                isolators.push(at);
                continue;
            }
            order.extend(graph.out_of_node(at).iter().map(|feed| feed.to).filter(|next| seen.insert(*next)));
        }
        let joins = |at: &&NodeId| **at != self.node && graph.node(**at).is_some_and(|node| passes_back(node.kind));
        let mut feeds = order.iter().filter(joins).flat_map(|at| graph.into_node(*at));
        feeds.all(|feed| seen.contains(&feed.from)).then_some(isolators)
    }

    /// Whether it is what a source of the survey is called.
    fn is_alike(&self, source: &Source) -> bool {
        use Nature::{Battery, Mains, NotTold, Ups};
        source.nature == self.nature
            || matches!((self.nature, source.nature), (NotTold, Mains) | (Battery, Ups) | (Ups, Battery))
            || self.may_be_solar && source.nature == Nature::Solar
    }
}

/// What solar modules are called where nothing says that they are solar. Batteries have modules and strings too, so that it
/// tells nothing by itself.
static MODULES: WordList = WordList::new(&["module", "modules", "string", "strings", "array", "arrays"]);

/// Whether what is no isolator passes energy on to what feeds it.
const fn passes_back(kind: NodeKind) -> bool {
    matches!(kind, NodeKind::Cutout | NodeKind::Switch | NodeKind::Transformer | NodeKind::Busbar)
}

/// Designation and location of a node.
pub(super) fn name_and_place(network: &Network, node: NodeId) -> (String, String) {
    let named = network.graph().node(node).map(|node| node.named);
    let device = match named {
        Some(Named::Device(id)) => network.device(id),
        Some(Named::Described(_) | Named::Supply(_) | Named::Source(_) | Named::Mentioned(_)) | None => None,
    };
    let location = network.node_location(node);
    let name = device.map_or_else(|| network.node_name(node), |device| device.designation.as_ref().to_owned());
    // Where several bear one designation, the name has the place beside it.
    let designation = name.strip_suffix(&format!(" ({location})")).unwrap_or(&name).to_owned();
    (designation, location.to_owned())
}

/// A notice lists all devices that isolate a source, or none.
pub(super) const MOST_ISOLATORS: usize = 4;

/// Whether a device stands at a UPS: in its place, or in the UPS by name.
fn stands_at(location: &str, network: &Network, ups: NodeId) -> bool {
    let place = network.node_location(ups);
    let is_same = !place.is_empty() && spelling::key(place) == spelling::key(location);
    is_same || spelling::is_inside(location, None, &network.node_name(ups))
}

pub(super) const fn is_ups(kind: NodeKind) -> bool {
    matches!(kind, NodeKind::Ups { .. })
}

/// Walks against the feeds, each node once and the nearest first, with how many steps away it is; goes on beyond a node
/// where `visit` says so.
pub(super) fn walk_up(
    network: &Network,
    start: impl IntoIterator<Item = NodeId>,
    mut visit: impl FnMut(NodeId, &Node, u32) -> bool,
) {
    let mut order: Vec<(NodeId, u32)> = start.into_iter().map(|node| (node, 0)).collect();
    let mut seen: HashSet<NodeId, RandomState> = order.iter().map(|(node, _)| *node).collect();
    let mut next = 0;
    while let Some((at, steps)) = order.get(next).copied() {
        next += 1;
        let goes_on = network.graph().node(at).is_some_and(|node| visit(at, &node, steps));
        if goes_on {
            let feeds = network.graph().into_node(at).iter().map(|feed| feed.from);
            order.extend(feeds.filter(|from| seen.insert(*from)).map(|from| (from, steps + 1)));
        }
    }
}

/// Everything that lies between a node and its sources and that it can feed back to, itself left out. Nothing comes back
/// through a converter, but for one that charges a battery.
fn upstream(network: &Network, start: NodeId) -> Vec<NodeId> {
    let mut found = Vec::new();
    walk_up(network, [start], |at, node, _| {
        let conducts_back = node.kind != NodeKind::Converter || network.graph().is_charging(at);
        found.extend((at != start && conducts_back).then_some(at));
        conducts_back
    });
    found
}

/// Whether all energy that the supplies file leads to a row passes one of some nodes first.
pub(super) fn stands_behind(network: &Network, way: WayId, is_before: impl Fn(NodeId) -> bool) -> bool {
    let (mut is_met, mut is_passed_by) = (false, false);
    walk_up(network, above_live_parts(network, way), |at, node, _| {
        let is_here = is_before(at);
        is_met |= is_here;
        is_passed_by |= !is_here && network.graph().into_node(at).is_empty();
        !is_here && node.described_by() == DescribedBy::SuppliesFile
    });
    is_met && !is_passed_by
}

/// The nodes on whose load side the live parts of a row hang: for the supply side of a device, those that feed it, and
/// what it feeds, from where energy comes back.
fn above_live_parts(network: &Network, way: WayId) -> OfRow {
    above_live_parts_with(network, way, |_| false)
}

/// The same with some nodes open: nothing comes back through those.
fn above_live_parts_with(network: &Network, way: WayId, opened: impl Fn(NodeId) -> bool) -> OfRow {
    let mut nodes = OfRow::new();
    for terminal in network.live_parts(way) {
        match terminal.side {
            Side::Load => nodes.push(terminal.node),
            Side::Supply => {
                let graph = network.graph();
                nodes.extend(graph.into_node(terminal.node).iter().map(|feed| feed.from));
                let below = graph.out_of_node(terminal.node).iter().filter(|_| !opened(terminal.node));
                nodes.extend(below.map(|feed| feed.to));
            }
        }
    }
    nodes.sort_unstable();
    nodes.dedup();
    nodes
}

/// What the supplies file says that a device switches; `None` where the survey alone describes it.
pub(super) fn poles(network: &Network, device: DeviceId) -> Option<Poles> {
    let node = network.graph().node(network.device_node(device)?)?;
    node.poles.filter(|_| node.described_by() == DescribedBy::SuppliesFile)
}

/// Whether a node is only a device in a circuit, not what the circuit comes from.
const fn is_passed(kind: NodeKind) -> bool {
    matches!(kind, NodeKind::Isolator | NodeKind::Cutout | NodeKind::Switch)
}

/// The boards, transformers or sources from which a row comes by the supplies file, by name; `None` where the file does
/// not describe all of the way to them.
pub(super) fn supplies(network: &Network, way: WayId) -> Option<Vec<String>> {
    let mut names: Vec<String> = Vec::new();
    let mut is_whole = true;
    walk_up(network, above_live_parts(network, way), |at, node, _| {
        let is_passed = is_passed(node.kind);
        is_whole &= node.described_by() == DescribedBy::SuppliesFile;
        is_whole &= !is_passed || !network.graph().into_node(at).is_empty();
        if !is_passed {
            names.push(network.node_name(at));
        }
        is_passed && is_whole
    });
    (is_whole && !names.is_empty()).then_some(names)
}

/// A described converter or UPS that stays connected to the live parts of a row once its isolators are open: it comes
/// next above them, with nothing but devices and boards between, and is not one whose charge is `told`. By name.
pub(super) fn keeper_on_the_way(
    network: &Network,
    id: WayId,
    opened: impl Fn(NodeId) -> bool,
    told: impl Fn(NodeId) -> bool,
) -> Option<String> {
    let mut found = None;
    walk_up(network, above_live_parts_with(network, id, &opened), |at, node, _| {
        let is_keeper = is_ups(node.kind) || node.kind == NodeKind::Converter;
        if is_keeper && node.described_by() == DescribedBy::SuppliesFile && !told(at) {
            found = found.or(Some(at));
        }
        let conducts = is_passed(node.kind) || matches!(node.kind, NodeKind::Changeover { .. } | NodeKind::Busbar);
        conducts && !opened(at)
    });
    found.map(|node| network.node_name(node))
}

/// The described devices suitable for isolation that come next upstream of one of these, by name; each of the others is
/// passed.
pub(super) fn next_upstream(network: &Network, devices: &[DeviceId], device: DeviceId) -> Vec<String> {
    let own: Vec<NodeId> = devices.iter().filter_map(|id| network.device_node(*id)).collect();
    let mut names = Vec::new();
    walk_up(network, network.device_node(device), |at, node, _| {
        let is_described = node.described_by() == DescribedBy::SuppliesFile;
        let is_isolator = node.kind == NodeKind::Isolator && !own.contains(&at);
        names.extend((is_isolator && is_described).then(|| network.node_phrase(at)));
        is_described && !is_isolator
    });
    names
}
