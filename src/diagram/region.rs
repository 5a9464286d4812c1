//! The part of the network that matters for one enclosure: everything that feeds its live parts, and the branches by
//! which another source can feed back into it.

use std::collections::VecDeque;

use crate::network::{EnclosureId, Feed, Graph, Lender, Network, NodeId, NodeKind, Side, Terminal, WayId};

/// Sources that are looked for on branches that feed back; the nearest ones are drawn.
const MOST_BRANCHES: usize = 6;

/// Steps that the search for branches may take, so that a very large network costs a bounded time.
const MOST_STEPS: usize = 400_000;

/// Two nodes that are connected, the one nearer to a source above the other.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) struct Joint {
    /// Drawn above.
    pub(super) upper: NodeId,
    /// Drawn below.
    pub(super) lower: NodeId,
}

/// What the live parts of one row hang on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct RegionEnd {
    /// The row.
    pub(super) way: WayId,
    /// The nodes that feed it.
    pub(super) hangs: Vec<NodeId>,
    /// The nodes behind the circuit whose neutral it shares.
    pub(super) lenders: Vec<NodeId>,
}

/// The nodes in the order in which they are met from the enclosure upwards, nearest first.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Region {
    pub(super) nodes: Vec<NodeId>,
    pub(super) joints: Vec<Joint>,
    pub(super) ends: Vec<RegionEnd>,
    /// Sources on branches that are not among the nodes.
    pub(super) sources_left_out: usize,
}

impl Region {
    /// Gathers what matters for an enclosure.
    pub(super) fn of(network: &Network, enclosure: EnclosureId) -> Self {
        let mut gathering = Gathering::new(network.graph());
        for way in network.way_ids(enclosure) {
            gathering.row(network, way);
        }
        gathering.climb(0);
        gathering.turn();
        gathering.branches();
        let mut region = gathering.region;
        region.joints.sort_unstable();
        region.joints.dedup();
        region
    }
}

struct Gathering<'a> {
    graph: &'a Graph,
    region: Region,
    is_met: Vec<bool>,
    /// Nodes on whose supply side live parts hang, each with the row: energy may come up through them.
    turned: Vec<(NodeId, usize)>,
    /// Joints that are drawn the way the energy goes, against the way of the feed.
    reversed: Vec<Joint>,
}

impl<'a> Gathering<'a> {
    fn new(graph: &'a Graph) -> Self {
        Self {
            graph,
            region: Region::default(),
            is_met: vec![false; graph.nodes().len()],
            turned: Vec::new(),
            reversed: Vec::new(),
        }
    }

    fn row(&mut self, network: &Network, way: WayId) {
        let mut end = RegionEnd { way, hangs: Vec::new(), lenders: Vec::new() };
        for terminal in network.live_parts(way) {
            self.hang(*terminal, &mut end.hangs);
            if terminal.side == Side::Supply {
                self.turned.push((terminal.node, self.region.ends.len()));
            }
        }
        if let Lender::At(terminals) = network.lender(way) {
            terminals.iter().for_each(|terminal| self.hang(*terminal, &mut end.lenders));
        }
        self.region.ends.push(end);
    }

    /// Live parts on the supply side of a node are those of whatever feeds it.
    fn hang(&mut self, terminal: Terminal, on: &mut Vec<NodeId>) {
        let graph = self.graph;
        let nodes: Vec<NodeId> = match terminal.side {
            Side::Load => vec![terminal.node],
            Side::Supply => graph.into_node(terminal.node).iter().map(|feed| feed.from).collect(),
        };
        for node in nodes {
            self.meet(node);
            if !on.contains(&node) {
                on.push(node);
            }
        }
    }

    fn meet(&mut self, node: NodeId) {
        if let Some(is_met) = self.is_met.get_mut(node.index())
            && !*is_met
        {
            *is_met = true;
            self.region.nodes.push(node);
        }
    }

    fn is_met(&self, node: NodeId) -> bool {
        self.is_met.get(node.index()).copied().unwrap_or(true)
    }

    /// Everything that feeds what has been met, from a place of the list onwards.
    fn climb(&mut self, first: usize) {
        let mut next = first;
        while let Some(node) = self.region.nodes.get(next).copied() {
            next += 1;
            self.climb_from(node);
        }
    }

    fn climb_from(&mut self, node: NodeId) {
        // The supply side of a node that is drawn upside down is below it, where what is drawn there hangs on it.
        let below = self
            .reversed
            .iter()
            .find(|joint| joint.lower == node)
            .map(|turned| self.reversed.iter().find(|joint| joint.upper == turned.lower).map(|joint| joint.lower));
        for feed in self.graph.into_node(node) {
            if self.reversed.contains(&Joint { upper: feed.to, lower: feed.from }) {
                continue;
            }
            if let Some(lower) = below.unwrap_or(Some(feed.to)) {
                self.region.joints.push(Joint { upper: feed.from, lower });
            }
            self.meet(feed.from);
        }
    }

    /// Live parts on the supply side of a node to which energy comes back through it: what it feeds, up to the first
    /// busbar, is drawn above it, and what feeds that busbar above that.
    fn turn(&mut self) {
        for (node, row) in self.turned.clone() {
            if self.is_met(node) {
                continue;
            }
            let mut search = Search::new(self.graph, self.is_met.clone());
            search.reach(State { node, side: Side::Supply }, None);
            search.run();
            let first = self.region.nodes.len();
            for found in search.found.iter().take(MOST_BRANCHES) {
                self.add_turned(&search.path_to(*found));
            }
            let end = self.region.ends.get_mut(row).filter(|_| !search.found.is_empty());
            end.into_iter().for_each(|end| end.hangs.push(node));
            self.climb(first);
        }
    }

    fn add_turned(&mut self, path: &[NodeId]) {
        path.first().into_iter().for_each(|node| self.meet(*node));
        for pair in path.windows(2) {
            let [near, far] = pair else { continue };
            let is_busbar = self.graph.node(*near).is_some_and(|node| node.kind == NodeKind::Busbar);
            if is_busbar || !self.graph.into_node(*far).contains(&Feed { to: *far, from: *near }) {
                return;
            }
            let joint = Joint { upper: *far, lower: *near };
            self.reversed.push(joint);
            self.region.joints.push(joint);
            self.meet(*far);
        }
    }

    /// The nearest sources that reach what has been met by another way than from above.
    fn branches(&mut self) {
        let mut search = Search::new(self.graph, self.is_met.clone());
        for node in &self.region.nodes {
            let feeds = self.graph.out_of_node(*node).iter();
            feeds.for_each(|feed| search.reach(State::into_supply(self.graph, feed.to), Some(feed.from)));
        }
        search.run();
        self.region.sources_left_out = search.found.len().saturating_sub(MOST_BRANCHES);
        for found in search.found.iter().take(MOST_BRANCHES) {
            self.add_branch(&search.path_to(*found));
        }
    }

    /// A path from what has been met to a source, drawn the way the supplies file feeds it; a UPS at its end with all
    /// that feeds it.
    fn add_branch(&mut self, path: &[NodeId]) {
        path.iter().for_each(|node| self.meet(*node));
        let fed = path
            .last()
            .filter(|last| self.graph.node(**last).is_some_and(|node| matches!(node.kind, NodeKind::Ups { .. })));
        let first = self.region.nodes.len();
        fed.into_iter().for_each(|ups| self.climb_from(*ups));
        self.climb(first);
        for pair in path.windows(2) {
            let [near, far] = pair else { continue };
            let feeds_down = self.graph.into_node(*far).contains(&Feed { to: *far, from: *near });
            let (upper, lower) = if feeds_down { (*near, *far) } else { (*far, *near) };
            self.region.joints.push(Joint { upper, lower });
        }
    }
}

/// A place of the search: a side of a node that energy may come from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct State {
    node: NodeId,
    side: Side,
}

impl State {
    /// Where a search goes on that comes to a node from what feeds it. The feeds of a changeover are never joined.
    fn into_supply(graph: &Graph, node: NodeId) -> Self {
        let is_changeover = graph.node(node).is_some_and(|it| matches!(it.kind, NodeKind::Changeover { .. }));
        Self { node, side: if is_changeover { Side::Load } else { Side::Supply } }
    }

    const fn index(self) -> usize {
        self.node.index() * 2
            + match self.side {
                Side::Supply => 0,
                Side::Load => 1,
            }
    }
}

/// Breadth first from the enclosure's side, so that the nearest source is found first.
struct Search<'a> {
    graph: &'a Graph,
    blocked: Vec<bool>,
    /// For each state that was reached, the state or node before it.
    before: Vec<Option<Before>>,
    waiting: VecDeque<State>,
    found: Vec<State>,
}

#[derive(Clone, Copy, Debug)]
enum Before {
    Nothing,
    Met(NodeId),
    State(State),
}

impl<'a> Search<'a> {
    fn new(graph: &'a Graph, blocked: Vec<bool>) -> Self {
        let before = vec![None; blocked.len() * 2];
        Self { graph, blocked, before, waiting: VecDeque::new(), found: Vec::new() }
    }

    fn reach(&mut self, state: State, from: Option<NodeId>) {
        self.reach_from(state, from.map_or(Before::Nothing, Before::Met));
    }

    fn reach_from(&mut self, state: State, before: Before) {
        let is_blocked = self.blocked.get(state.node.index()).copied().unwrap_or(true);
        let Some(place) = self.before.get_mut(state.index()).filter(|place| !is_blocked && place.is_none()) else {
            return;
        };
        *place = Some(before);
        self.waiting.push_back(state);
    }

    fn run(&mut self) {
        for _ in 0..MOST_STEPS {
            let Some(state) = self.waiting.pop_front() else { return };
            self.step(state);
        }
    }

    fn step(&mut self, state: State) {
        let Some(node) = self.graph.node(state.node) else { return };
        // A UPS is met at its feeds too: it can feed back.
        let energises = match state.side {
            Side::Load => node.kind.brings_energy(),
            Side::Supply => matches!(node.kind, NodeKind::Ups { .. }),
        };
        if energises {
            if self.found.iter().all(|found| found.node != state.node) {
                self.found.push(state);
            }
            return;
        }
        match state.side {
            Side::Supply => self.leave_supply_side(state, node.kind),
            Side::Load => self.leave_load_side(state, node.kind),
        }
    }

    fn leave_supply_side(&mut self, state: State, kind: NodeKind) {
        let passes_up = match kind {
            NodeKind::Isolator
            | NodeKind::Cutout
            | NodeKind::Switch
            | NodeKind::Transformer
            | NodeKind::Busbar
            | NodeKind::Changeover { .. } => true,
            NodeKind::Source | NodeKind::Ups { .. } | NodeKind::Converter | NodeKind::NotKnown => false,
        };
        if passes_up {
            self.reach_from(State { side: Side::Load, ..state }, Before::State(state));
        }
        for feed in self.graph.into_node(state.node) {
            self.reach_from(State { node: feed.from, side: Side::Load }, Before::State(state));
        }
    }

    fn leave_load_side(&mut self, state: State, kind: NodeKind) {
        match kind {
            NodeKind::Changeover { .. } => {
                for feed in self.graph.into_node(state.node) {
                    self.reach_from(State { node: feed.from, side: Side::Load }, Before::State(state));
                }
            }
            NodeKind::Source | NodeKind::NotKnown => {}
            NodeKind::Isolator
            | NodeKind::Cutout
            | NodeKind::Switch
            | NodeKind::Transformer
            | NodeKind::Ups { .. }
            | NodeKind::Converter
            | NodeKind::Busbar => self.reach_from(State { side: Side::Supply, ..state }, Before::State(state)),
        }
        for feed in self.graph.out_of_node(state.node) {
            self.reach_from(State::into_supply(self.graph, feed.to), Before::State(state));
        }
    }

    /// The nodes from the one already met, or from the turned one, to what was found.
    fn path_to(&self, found: State) -> Vec<NodeId> {
        let mut path = vec![found.node];
        let mut state = found;
        loop {
            match self.before.get(state.index()).copied().flatten() {
                None | Some(Before::Nothing) => break,
                Some(Before::Met(node)) => {
                    path.push(node);
                    break;
                }
                Some(Before::State(earlier)) => {
                    if path.last() != Some(&earlier.node) {
                        path.push(earlier.node);
                    }
                    state = earlier;
                }
            }
        }
        path.reverse();
        path
    }
}
