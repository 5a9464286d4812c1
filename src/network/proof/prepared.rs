//! What every proof needs of a graph, worked out once.

use std::sync::OnceLock;

use smallvec::{SmallVec, smallvec};

use super::super::copper::Copper;
use super::super::graph::{Graph, Node};
use super::super::id::{InterlockId, NodeId};
use super::bottleneck::Bottlenecks;
use super::clear::{Clear, is_clear, is_origin};
use super::conduction::{Arriving, Conduction, End};
use super::dominators::Dominators;
use super::extent::Extents;
use super::nearest::Nearest;
use super::plain::Plain;

/// What one operation opens: mostly one node.
pub(super) type Operated = SmallVec<[NodeId; 2]>;

/// What every proof needs; empty until the first one asks.
#[derive(Debug, Default)]
pub(crate) struct Prepared(OnceLock<Groundwork>);

/// A copy works it out anew, because nodes may be added to the copy.
impl Clone for Prepared {
    fn clone(&self) -> Self {
        Self::default()
    }
}

/// It follows from the graph, so it never tells two graphs apart.
impl PartialEq for Prepared {
    fn eq(&self, _: &Self) -> bool {
        true
    }
}

impl Eq for Prepared {}

impl Prepared {
    /// The groundwork of this graph.
    pub(super) fn of(&self, graph: &Graph) -> &Groundwork {
        self.0.get_or_init(|| Groundwork::of(graph))
    }
}

/// How lines and neutrals conduct, and the coupled interlocks.
#[derive(Debug)]
pub(super) struct Groundwork {
    /// How lines conduct.
    pub(super) lines: Conduction,
    /// The shortest ways along which lines bring energy.
    pub(super) nearest: Nearest,
    /// Where every way along the lines leads to what is live.
    pub(super) plain: Plain,
    /// Where the lines need no closer look.
    pub(super) clear: Clear,
    /// Where the lines bring nothing that is live.
    pub(super) clear_of_live: Clear,
    /// Where every device on the way of the lines is known to part all of any row.
    pub(super) clear_of_few_poles: Clear,
    /// Where every device on the way of the neutrals is known to part them.
    pub(super) clear_of_neutrals: Clear,
    /// How neutrals conduct.
    pub(super) neutrals: Conduction,
    /// How far each system extends.
    pub(super) extents: Extents,
    /// Which terminals are one and the same copper.
    pub(super) copper: Copper,
    /// What all energy passes; empty until something asks.
    dominators: OnceLock<Dominators>,
    /// The same of what comes from where a closer look is needed.
    dominators_of_doubt: OnceLock<Dominators>,
    /// What is above the places that something has asked for.
    pub(super) bottlenecks: Bottlenecks,
    /// The nodes of each coupled interlock that has several, sorted.
    coupled: Vec<(InterlockId, NodeId)>,
}

impl Groundwork {
    fn of(graph: &Graph) -> Self {
        let coupled = |(index, node): (usize, &Node)| node.coupled.map(|interlock| (interlock, NodeId::new(index)));
        let mut coupled: Vec<_> = graph.nodes().iter().enumerate().filter_map(coupled).collect();
        coupled.sort_unstable();
        let (lines, neutrals) = (Conduction::of_lines(graph), Conduction::of_neutrals(graph));
        let arriving = Arriving::of(&lines);
        Self {
            extents: Extents::of(graph),
            copper: Copper::always_joined(graph),
            nearest: Nearest::of(&lines, &arriving),
            plain: Plain::of(&lines, &arriving),
            clear: Clear::of_lines(graph, (&lines, &arriving)),
            clear_of_live: Clear::of_live(&lines, &arriving),
            clear_of_few_poles: Clear::of_few_poles(graph, (&lines, &arriving)),
            clear_of_neutrals: Clear::of_neutrals(graph, &neutrals),
            lines,
            neutrals,
            dominators: OnceLock::new(),
            dominators_of_doubt: OnceLock::new(),
            bottlenecks: Bottlenecks::default(),
            coupled,
        }
    }

    /// What all energy passes that comes along the lines from what is live, or from where a closer look is needed.
    pub(super) fn dominators(&self, graph: &Graph) -> &Dominators {
        let is_origin = |terminal| is_origin(graph, &self.lines, terminal);
        self.dominators.get_or_init(|| Dominators::of(graph, &self.lines, is_origin))
    }

    /// What all energy passes that comes from where a closer look is needed.
    pub(super) fn dominators_of_doubt(&self, graph: &Graph) -> &Dominators {
        let is_origin = |terminal| !is_clear(graph, &self.lines, terminal);
        self.dominators_of_doubt.get_or_init(|| Dominators::of(graph, &self.lines, is_origin))
    }

    /// What one operation opens: the node, and all that a coupled interlock opens with it.
    pub(super) fn operated_with(&self, graph: &Graph, node: NodeId) -> Operated {
        let Some(interlock) = graph.node(node).and_then(|node| node.coupled) else { return smallvec![node] };
        let start = self.coupled.partition_point(|(other, _)| *other < interlock);
        let members = self.coupled.get(start..).unwrap_or_default().iter();
        members.take_while(|(other, _)| *other == interlock).map(|(_, node)| *node).collect()
    }

    /// The first of what one operation opens.
    pub(super) fn first_operated_with(&self, graph: &Graph, node: NodeId) -> NodeId {
        let Some(interlock) = graph.node(node).and_then(|node| node.coupled) else { return node };
        let start = self.coupled.partition_point(|(other, _)| *other < interlock);
        self.coupled.get(start).filter(|(other, _)| *other == interlock).map_or(node, |(_, first)| *first)
    }

    /// Whether a neutral that can be live may reach a terminal with everything closed.
    pub(super) fn neutral_matters(&self, terminal: usize) -> bool {
        self.neutrals.end(terminal) != End::Nothing
            || !self.neutrals.steps(terminal).is_empty()
            || !self.neutrals.is_switched(terminal)
    }
}
