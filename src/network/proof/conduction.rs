//! The network at its terminals: from which neighbours energy can come, and where looking any further is of no use.
//!
//! Steps lead against the energy, from live parts towards what feeds them. Most of a site hangs below what is searched
//! and can bring nothing; steps from which one could only turn back are left out once for all proofs, so that a proof
//! walks little more than the way up to the sources.

use super::super::graph::{DescribedBy, Feed, Graph, Neutral, Node, NodeKind, Side, Terminal};
pub(super) use super::super::graph::{load, supply};
use super::super::id::NodeId;
use super::search::MOST_LINES;
use crate::survey::value::Poles;

/// What a step passes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Pass {
    /// Conductors only.
    Free,
    /// The inside of a node, from its load side or, where it conducts both ways, from its supply side.
    Through(NodeId),
    /// A UPS whose battery is apart, from its load side. What it feeds back does not come through itself.
    Bypass(NodeId),
    /// A changeover, a UPS or a converter whose feeds are apart, entered from one of its feeds.
    Into(NodeId),
    /// A converter, from a feed of one kind of current to one of the other kind: it may let energy out there, which its
    /// description does not rule out.
    Across(NodeId),
    /// What a changeover does not switch, or may not: from one of its feeds to all of them.
    Unswitched(NodeId),
}

impl Pass {
    /// The node that is passed.
    pub(super) const fn node(self) -> Option<NodeId> {
        match self {
            Self::Free => None,
            Self::Through(node)
            | Self::Bypass(node)
            | Self::Into(node)
            | Self::Across(node)
            | Self::Unswitched(node) => Some(node),
        }
    }
}

/// A way by which energy can come to a terminal.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Step {
    /// The terminal from which it comes.
    pub(super) to: usize,
    /// What it passes in between.
    pub(super) pass: Pass,
}

/// What reaching a terminal means.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum End {
    /// The search goes on.
    Nothing,
    /// It is live.
    Live,
    /// A UPS may feed back.
    BackFeed,
    /// The supplies file does not describe it.
    NotDescribed,
    /// The supplies file does not say what feeds it.
    FeedNotSaid,
}

/// The terminals of a graph with the steps between them.
#[derive(Clone, Debug, Default)]
pub(super) struct Conduction {
    ends: Vec<End>,
    /// Where the steps of each terminal begin, and where the last ones end.
    starts: Vec<usize>,
    steps: Vec<Step>,
    /// The steps past the switches of changeovers, by the terminals where they begin. Whether one conducts depends on what
    /// is searched, so that advice leaves them aside until it is held against the proof.
    unswitched: Vec<(usize, Step)>,
}

impl Conduction {
    /// How lines conduct, without the steps that lead nowhere.
    pub(super) fn of_lines(graph: &Graph) -> Self {
        Self::in_full(graph, may_join_lines).pruned(graph).with_unswitched_apart()
    }

    /// How neutrals conduct: from the load side where one begins, and not through what it begins at. Ends are the
    /// beginnings that are not known to be earthed, as live, and the ends of the description.
    pub(super) fn of_neutrals(graph: &Graph) -> Self {
        let mut all = Self::in_full(graph, may_join_neutrals);
        let begins = |node: NodeId| graph.node(node).filter(begins_neutral);
        for (terminal, end) in all.ends.iter_mut().enumerate() {
            let beginning = begins(node_of(terminal)).filter(|_| is_load(terminal));
            *end = match (*end, beginning) {
                (End::NotDescribed | End::FeedNotSaid, _) => *end,
                (End::Nothing | End::Live | End::BackFeed, Some(node)) if node.neutral != Neutral::Earthed => End::Live,
                (End::Nothing | End::Live | End::BackFeed, _) => End::Nothing,
            };
        }
        all.keep(|terminal, step| {
            let here = node_of(terminal);
            let stops = is_load(terminal) && begins(here).is_some();
            let is_unswitched = matches!(step.pass, Pass::Unswitched(_));
            let passes = !is_unswitched && step.pass.node().and_then(begins).is_some()
                || begins(here).is_some_and(|node| node.kind == NodeKind::Busbar && node_of(step.to) == here);
            !stops && !passes
        });
        all.without_circles_that_lead_nowhere().pruned(graph).with_unswitched_apart()
    }

    /// Keeps the steps from which an end can be come to. In a circle one need not turn back, and most neutrals have no end.
    fn without_circles_that_lead_nowhere(mut self) -> Self {
        let arriving = Arriving::of(&self);
        let mut waiting: Vec<usize> = (0..self.terminals()).filter(|it| self.end(*it) != End::Nothing).collect();
        let mut leads_on = vec![false; self.terminals()];
        while let Some(terminal) = waiting.pop() {
            let is_new = leads_on.get_mut(terminal).is_some_and(|leads_on| !std::mem::replace(leads_on, true));
            if is_new {
                waiting.extend(arriving.at(terminal).iter().map(|(from, _)| *from));
            }
        }
        self.keep(|_, step| leads_on.get(step.to) == Some(&true));
        self
    }

    fn pruned(mut self, graph: &Graph) -> Self {
        let mut useful = super::pruning::useful_steps(graph, &self).into_iter();
        self.keep(|_, _| useful.next() == Some(true));
        self
    }

    fn with_unswitched_apart(mut self) -> Self {
        let is_unswitched = |step: &Step| matches!(step.pass, Pass::Unswitched(_));
        let all = (0..self.terminals()).flat_map(|from| self.steps(from).iter().map(move |step| (from, *step)));
        let unswitched = all.filter(|(_, step)| is_unswitched(step)).collect();
        self.keep(|_, step| !is_unswitched(step));
        Self { unswitched, ..self }
    }

    /// Keeps some steps, asked for in order.
    fn keep(&mut self, mut which: impl FnMut(usize, &Step) -> bool) {
        let mut kept = Self { ends: std::mem::take(&mut self.ends), starts: vec![0], ..Self::default() };
        for terminal in 0..kept.ends.len() {
            kept.steps.extend(self.steps(terminal).iter().filter(|step| which(terminal, step)));
            kept.starts.push(kept.steps.len());
        }
        *self = kept;
    }

    /// Every step; past the switches of the changeovers that may join their feeds.
    fn in_full(graph: &Graph, may_join: impl Fn(Option<Poles>) -> bool) -> Self {
        let mut pairs = Vec::new();
        for (index, node) in graph.nodes().iter().enumerate() {
            add_inside(graph, NodeId::new(index), *node, &mut pairs);
        }
        for feed in graph.feeds() {
            let (Some(from), Some(to)) = (graph.node(feed.from), graph.node(feed.to)) else { continue };
            if graph.direct_feeds(feed.to).is_empty() {
                add_feed((feed.from, from), (feed.to, to), &mut pairs);
            } else {
                add_feed_apart(graph, *feed, &mut pairs);
            }
            if matches!(to.kind, NodeKind::Changeover { .. }) && leads_down(from, to) && may_join(to.poles) {
                pairs.push((load(feed.from), Step { to: supply(feed.to), pass: Pass::Unswitched(feed.to) }));
            }
        }
        pairs.sort_unstable();
        pairs.dedup();
        let mut ends: Vec<End> = (0..graph.nodes().len() * 2).map(|terminal| end_of(graph, terminal)).collect();
        for node in fed_in_circles_only(graph, &ends) {
            if let Some(end) = ends.get_mut(supply(node)) {
                *end = End::FeedNotSaid;
            }
        }
        let starts = (0..=ends.len()).map(|terminal| pairs.partition_point(|(from, _)| *from < terminal)).collect();
        Self { ends, starts, steps: pairs.into_iter().map(|(_, step)| step).collect(), unswitched: Vec::new() }
    }

    /// How many terminals there are.
    pub(super) const fn terminals(&self) -> usize {
        self.ends.len()
    }

    /// What reaching a terminal means.
    pub(super) fn end(&self, terminal: usize) -> End {
        self.ends.get(terminal).copied().unwrap_or(End::NotDescribed)
    }

    /// From where energy can come to a terminal.
    pub(super) fn steps(&self, terminal: usize) -> &[Step] {
        let place = |index: usize| self.starts.get(index).copied().unwrap_or(0);
        self.steps.get(place(terminal)..place(terminal + 1)).unwrap_or_default()
    }

    /// The steps from a terminal past the switches of changeovers; no others count among [`Self::steps`].
    pub(super) fn unswitched(&self, terminal: usize) -> impl Iterator<Item = &Step> {
        let start = self.unswitched.partition_point(|(from, _)| *from < terminal);
        let here = self.unswitched.get(start..).unwrap_or_default().iter();
        here.take_while(move |(from, _)| *from == terminal).map(|(_, step)| step)
    }

    /// Whether there is no step from a terminal past the switches of a changeover.
    pub(super) fn is_switched(&self, terminal: usize) -> bool {
        self.unswitched(terminal).next().is_none()
    }

    /// Whether there is none in the whole network.
    pub(super) const fn is_all_switched(&self) -> bool {
        self.unswitched.is_empty()
    }
}

/// Whether a changeover of such poles may leave lines connected between its feeds. One of which nobody tells how many poles
/// it has is taken to switch every line, for which it is there.
fn may_join_lines(poles: Option<Poles>) -> bool {
    poles.is_some_and(|poles| poles.lines < MOST_LINES)
}

/// Whether a changeover of such poles may leave the neutrals of its feeds connected.
fn may_join_neutrals(poles: Option<Poles>) -> bool {
    poles.is_none_or(|poles| !poles.neutral)
}

/// The steps of a network by where they arrive: what is asked of all terminals is worked out along the energy.
#[derive(Debug)]
pub(super) struct Arriving {
    /// Where the steps to each terminal begin, and where the last ones end.
    starts: Vec<usize>,
    /// From which terminal, and the step.
    steps: Vec<(usize, Step)>,
}

impl Arriving {
    /// Those of a network, in the order of the terminals that they leave.
    pub(super) fn of(conduction: &Conduction) -> Self {
        let all =
            || (0..conduction.terminals()).flat_map(|from| conduction.steps(from).iter().map(move |it| (from, *it)));
        let mut starts = vec![0; conduction.terminals() + 1];
        for (_, step) in all() {
            starts.get_mut(step.to + 1).into_iter().for_each(|start| *start += 1);
        }
        let mut sum = 0;
        for start in &mut starts {
            sum += *start;
            *start = sum;
        }
        let (mut next, nothing) = (starts.clone(), Step { to: 0, pass: Pass::Free });
        let mut steps = vec![(0, nothing); sum];
        for (from, step) in all() {
            let Some(place) = next.get_mut(step.to) else { continue };
            steps.get_mut(*place).into_iter().for_each(|slot| *slot = (from, step));
            *place += 1;
        }
        Self { starts, steps }
    }

    /// The steps that arrive at a terminal.
    pub(super) fn at(&self, terminal: usize) -> &[(usize, Step)] {
        let place = |index: usize| self.starts.get(index).copied().unwrap_or(0);
        self.steps.get(place(terminal)..place(terminal + 1)).unwrap_or_default()
    }
}

/// The device suitable for isolation that a step passes.
pub(super) fn device_passed(graph: &Graph, step: &Step) -> Option<NodeId> {
    step.pass.node().filter(|id| graph.node(*id).is_some_and(|node| node.kind.is_suitable_for_isolation()))
}

/// The numbers of the terminals at which live parts are connected, sorted. Parts on the supply side of a UPS, or of a
/// converter whose feeds are not connected there, hang on everything that feeds it.
pub(super) fn numbers(graph: &Graph, terminals: &[Terminal]) -> Vec<usize> {
    let mut numbers = Vec::with_capacity(terminals.len());
    for terminal in terminals {
        match (terminal.side, graph.node(terminal.node).map(|node| node.kind)) {
            (Side::Load, _) => numbers.push(load(terminal.node)),
            (Side::Supply, kind) => {
                numbers.push(supply(terminal.node));
                let is_ups = matches!(kind, Some(NodeKind::Ups { .. }));
                if is_ups || !graph.direct_feeds(terminal.node).is_empty() {
                    numbers.extend(graph.into_node(terminal.node).iter().map(|feed| load(feed.from)));
                }
            }
        }
    }
    numbers.sort_unstable();
    numbers.dedup();
    numbers
}

/// The node of a terminal.
pub(super) const fn node_of(terminal: usize) -> NodeId {
    NodeId::new(terminal / 2)
}

/// Whether a terminal is a load side.
pub(super) const fn is_load(terminal: usize) -> bool {
    terminal % 2 == 1
}

/// Whether a neutral begins at the load side of a node. Where no energy is transformed, only one that can be live does:
/// that of an installation with an electrode of its own.
pub(super) const fn begins_neutral(node: &Node) -> bool {
    if begins_system(node.kind) {
        return !matches!(node.neutral, Neutral::PassedOn);
    }
    !matches!(node.kind, NodeKind::NotKnown) && matches!(node.neutral, Neutral::MayBeLive)
}

/// Whether a system of its own begins at the load side of a node.
pub(super) const fn begins_system(kind: NodeKind) -> bool {
    matches!(kind, NodeKind::Source | NodeKind::Transformer | NodeKind::Ups { .. } | NodeKind::Converter)
}

fn add_inside(graph: &Graph, id: NodeId, node: Node, pairs: &mut Vec<(usize, Step)>) {
    let (above, below) = (supply(id), load(id));
    let is_described = node.described_by() == DescribedBy::SuppliesFile;
    let mut add = |from, to, pass| pairs.push((from, Step { to, pass }));
    match node.kind {
        NodeKind::Changeover { .. } if !graph.into_node(id).is_empty() => add(above, below, Pass::Into(id)),
        NodeKind::Isolator if !is_described => add(below, above, Pass::Through(id)),
        NodeKind::Isolator
        | NodeKind::Cutout
        | NodeKind::Switch
        | NodeKind::Changeover { .. }
        | NodeKind::Transformer => {
            add(below, above, Pass::Through(id));
            add(above, below, Pass::Through(id));
        }
        NodeKind::Converter => {
            add(below, above, Pass::Through(id));
            if graph.is_charging(id) {
                add(above, below, Pass::Through(id));
            }
        }
        NodeKind::Busbar => {
            add(below, above, Pass::Free);
            add(above, below, Pass::Free);
        }
        NodeKind::Source => add(above, below, Pass::Free),
        NodeKind::Ups { .. } | NodeKind::NotKnown => {}
    }
}

/// Nothing is searched downwards into what only the survey names: it may hang there, and is no end of the description.
fn add_feed((from, feeding): (NodeId, Node), (to, fed): (NodeId, Node), pairs: &mut Vec<(usize, Step)>) {
    let goes_down = leads_down(feeding, fed);
    let mut add = |from, to, pass| pairs.push((from, Step { to, pass }));
    let (entrance, pass) = match fed.kind {
        NodeKind::Changeover { .. } => (load(to), Pass::Into(to)),
        // That the feeds of an unknown thing meet in it is not known, so that it is reached without them.
        NodeKind::NotKnown => (load(to), Pass::Free),
        NodeKind::Ups { .. } => (supply(to), Pass::Into(to)),
        NodeKind::Source
        | NodeKind::Isolator
        | NodeKind::Cutout
        | NodeKind::Switch
        | NodeKind::Transformer
        | NodeKind::Converter
        | NodeKind::Busbar => (supply(to), Pass::Free),
    };
    if goes_down {
        add(load(from), entrance, pass);
    }
    match fed.kind {
        NodeKind::Changeover { .. } => {
            add(load(to), load(from), Pass::Through(to));
            add(supply(to), load(from), Pass::Free);
        }
        // Its bypass and what feeds its converters may come from different supplies, which it does not connect.
        NodeKind::Ups { own_battery: false } => add(load(to), load(from), Pass::Bypass(to)),
        NodeKind::Ups { own_battery: true } => {}
        NodeKind::Source
        | NodeKind::Isolator
        | NodeKind::Cutout
        | NodeKind::Switch
        | NodeKind::Transformer
        | NodeKind::Converter
        | NodeKind::Busbar
        | NodeKind::NotKnown => add(supply(to), load(from), Pass::Free),
    }
}

/// A feed of a converter to which alternating and direct current come: each kind is copper of its own.
fn add_feed_apart(graph: &Graph, feed: Feed, pairs: &mut Vec<(usize, Step)>) {
    let (Some(from), Some(to)) = (graph.node(feed.from), graph.node(feed.to)) else { return };
    let mut add = |from, to, pass| pairs.push((from, Step { to, pass }));
    add(supply(feed.to), load(feed.from), Pass::Free);
    if !leads_down(from, to) {
        return;
    }
    let is_direct = |feed: &Feed| graph.direct_feeds(feed.to).contains(feed);
    for other in graph.into_node(feed.to).iter().filter(|other| other.from != feed.from) {
        let is_one_kind = is_direct(other) == is_direct(&feed);
        let pass = if is_one_kind { Pass::Free } else { Pass::Across(feed.to) };
        add(load(feed.from), load(other.from), pass);
    }
    // Entered from a feed it is not left by another one: what it charges by one does not come out of it at the next.
    if graph.is_charging(feed.to) {
        add(load(feed.from), load(feed.to), Pass::Into(feed.to));
    }
}

/// Whether a search goes down a feed. What is live by itself is an end; a UPS whose battery is apart is none, and a bypass
/// around it may reach its output terminals from there.
fn leads_down(feeding: Node, fed: Node) -> bool {
    let is_described = |node: Node| node.described_by() == DescribedBy::SuppliesFile;
    let is_end = matches!(feeding.kind, NodeKind::Source | NodeKind::Ups { own_battery: true } | NodeKind::NotKnown);
    !is_end && is_described(feeding) && is_described(fed)
}

/// Nodes below no end at all: they feed each other in a circle, or are fed by such, so that something is left out.
fn fed_in_circles_only(graph: &Graph, ends: &[End]) -> Vec<NodeId> {
    let all = || (0..graph.nodes().len()).map(NodeId::new);
    let is_end = |terminal: usize| ends.get(terminal).is_some_and(|end| *end != End::Nothing);
    let mut is_fed: Vec<bool> = all().map(|node| is_end(supply(node)) || is_end(load(node))).collect();
    let mut waiting: Vec<NodeId> = all().filter(|node| is_fed.get(node.index()) == Some(&true)).collect();
    while let Some(node) = waiting.pop() {
        for feed in graph.out_of_node(node) {
            if let Some(is_fed) = is_fed.get_mut(feed.to.index()).filter(|is_fed| !**is_fed) {
                *is_fed = true;
                waiting.push(feed.to);
            }
        }
    }
    all().filter(|node| is_fed.get(node.index()) == Some(&false)).collect()
}

fn end_of(graph: &Graph, terminal: usize) -> End {
    let id = node_of(terminal);
    let Some(node) = graph.node(id) else { return End::NotDescribed };
    if node.described_by() == DescribedBy::Survey {
        return End::NotDescribed;
    }
    match node.kind {
        NodeKind::NotKnown => End::NotDescribed,
        NodeKind::Source if is_load(terminal) => End::Live,
        NodeKind::Source => End::Nothing,
        NodeKind::Ups { own_battery } if is_load(terminal) => {
            if own_battery {
                End::Live
            } else {
                End::Nothing
            }
        }
        NodeKind::Ups { .. } => End::BackFeed,
        NodeKind::Isolator
        | NodeKind::Cutout
        | NodeKind::Switch
        | NodeKind::Changeover { .. }
        | NodeKind::Transformer
        | NodeKind::Converter
        | NodeKind::Busbar => {
            let is_open_end = !is_load(terminal) && graph.into_node(id).is_empty();
            if is_open_end { End::FeedNotSaid } else { End::Nothing }
        }
    }
}
