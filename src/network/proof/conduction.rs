//! The network at its terminals: from which neighbours energy can come, and where looking any further is of no use.
//!
//! Steps lead against the energy, from live parts towards what feeds them. Most of a site hangs below what is searched
//! and can bring nothing; steps from which one could only turn back are left out once for all proofs, so that a proof
//! walks little more than the way up to the sources.

use super::super::graph::{DescribedBy, Graph, Node, NodeKind, Side, Terminal};
use super::super::id::NodeId;

/// What a step passes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Pass {
    /// Conductors only.
    Free,
    /// The inside of a node, from its load side or, where it conducts both ways, from its supply side.
    Through(NodeId),
    /// A changeover, entered from one of its feeds.
    Into(NodeId),
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
}

impl Conduction {
    /// The terminals of a graph, without the steps that lead nowhere.
    pub(super) fn of(graph: &Graph) -> Self {
        let all = Self::in_full(graph);
        let useful = super::pruning::useful_steps(graph, &all);
        let mut pruned = Self { ends: all.ends.clone(), starts: vec![0], steps: Vec::new() };
        let mut is_useful = useful.iter().copied();
        for terminal in 0..all.terminals() {
            let steps = all.steps(terminal).iter().zip(is_useful.by_ref());
            pruned.steps.extend(steps.filter(|(_, useful)| *useful).map(|(step, _)| *step));
            pruned.starts.push(pruned.steps.len());
        }
        pruned
    }

    fn in_full(graph: &Graph) -> Self {
        let mut pairs = Vec::new();
        for (index, node) in graph.nodes().iter().enumerate() {
            add_inside(graph, NodeId::new(index), *node, &mut pairs);
        }
        for feed in graph.feeds() {
            let (Some(from), Some(to)) = (graph.node(feed.from), graph.node(feed.to)) else { continue };
            add_feed((feed.from, from), (feed.to, to), &mut pairs);
        }
        pairs.sort_unstable();
        pairs.dedup();
        let ends: Vec<End> = (0..graph.nodes().len() * 2).map(|terminal| end_of(graph, terminal)).collect();
        let starts = (0..=ends.len()).map(|terminal| pairs.partition_point(|(from, _)| *from < terminal)).collect();
        Self { ends, starts, steps: pairs.into_iter().map(|(_, step)| step).collect() }
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
}

/// The number of a terminal.
pub(super) const fn number(terminal: Terminal) -> usize {
    match terminal.side {
        Side::Supply => supply(terminal.node),
        Side::Load => load(terminal.node),
    }
}

/// The number of a node's supply side.
pub(super) const fn supply(node: NodeId) -> usize {
    node.index() * 2
}

/// The number of a node's load side.
pub(super) const fn load(node: NodeId) -> usize {
    node.index() * 2 + 1
}

/// The node of a terminal.
pub(super) const fn node_of(terminal: usize) -> NodeId {
    NodeId::new(terminal / 2)
}

/// Whether a terminal is a load side.
pub(super) const fn is_load(terminal: usize) -> bool {
    terminal % 2 == 1
}

/// Whether opening a device of this kind isolates.
pub(super) const fn is_suitable(kind: NodeKind) -> bool {
    match kind {
        NodeKind::Isolator | NodeKind::Changeover { off_position: true } => true,
        NodeKind::Changeover { off_position: false }
        | NodeKind::Source
        | NodeKind::Cutout
        | NodeKind::Switch
        | NodeKind::Transformer
        | NodeKind::Ups
        | NodeKind::Converter
        | NodeKind::Busbar
        | NodeKind::NotKnown => false,
    }
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
        NodeKind::Converter => add(below, above, Pass::Through(id)),
        NodeKind::Busbar => {
            add(below, above, Pass::Free);
            add(above, below, Pass::Free);
        }
        NodeKind::Source => add(above, below, Pass::Free),
        NodeKind::Ups | NodeKind::NotKnown => {}
    }
}

/// Nothing is searched downwards into what only the survey names: it may hang there, and is no end of the description.
fn add_feed((from, feeding): (NodeId, Node), (to, fed): (NodeId, Node), pairs: &mut Vec<(usize, Step)>) {
    let is_described = |node: Node| node.described_by() == DescribedBy::SuppliesFile;
    let is_end = matches!(feeding.kind, NodeKind::Source | NodeKind::Ups | NodeKind::NotKnown);
    let goes_down = !is_end && is_described(feeding) && is_described(fed);
    let goes_up = is_described(fed) || fed.kind == NodeKind::Isolator;
    let is_changeover = matches!(fed.kind, NodeKind::Changeover { .. });
    let mut add = |from, to, pass| pairs.push((from, Step { to, pass }));
    if is_changeover {
        if goes_down {
            add(load(from), load(to), Pass::Into(to));
        }
        add(load(to), load(from), Pass::Through(to));
        add(supply(to), load(from), Pass::Free);
        return;
    }
    if goes_down {
        add(load(from), supply(to), Pass::Free);
    }
    if goes_up && fed.kind != NodeKind::NotKnown {
        add(supply(to), load(from), Pass::Free);
    }
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
        NodeKind::Ups if is_load(terminal) => End::Live,
        NodeKind::Ups => End::BackFeed,
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
