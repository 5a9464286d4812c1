//! What every proof needs of a graph, worked out once.

use std::sync::{Arc, OnceLock};

use super::super::graph::{Graph, Neutral, Node, NodeKind};
use super::super::id::{InterlockId, NodeId};
use super::conduction::{Conduction, End, Pass, is_load, node_of};

/// What every proof needs; empty until the first one asks.
#[derive(Clone, Debug, Default)]
pub(crate) struct Prepared(OnceLock<Arc<Groundwork>>);

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
        self.0.get_or_init(|| Arc::new(Groundwork::of(graph)))
    }
}

/// The terminals, the coupled interlocks, and where a live neutral can come from.
#[derive(Debug)]
pub(super) struct Groundwork {
    /// The terminals with the steps between them.
    pub(super) conduction: Conduction,
    /// The nodes of each coupled interlock that has several, sorted.
    coupled: Vec<(InterlockId, NodeId)>,
    /// For each terminal, whether a neutral that can be live may reach it with everything closed.
    neutral_matters: Vec<bool>,
}

impl Groundwork {
    fn of(graph: &Graph) -> Self {
        let conduction = Conduction::of(graph);
        let coupled = |(index, node): (usize, &Node)| node.coupled.map(|interlock| (interlock, NodeId::new(index)));
        let mut coupled: Vec<_> = graph.nodes().iter().enumerate().filter_map(coupled).collect();
        coupled.sort_unstable();
        let neutral_matters = neutral_matters(graph, &conduction);
        Self { conduction, coupled, neutral_matters }
    }

    /// What one operation opens: the node, and all that a coupled interlock opens with it.
    pub(super) fn operated_with(&self, graph: &Graph, node: NodeId) -> Vec<NodeId> {
        let Some(interlock) = graph.node(node).and_then(|node| node.coupled) else { return vec![node] };
        let start = self.coupled.partition_point(|(other, _)| *other < interlock);
        let members = self.coupled.get(start..).unwrap_or_default().iter();
        members.take_while(|(other, _)| *other == interlock).map(|(_, node)| *node).collect()
    }

    /// Whether a neutral that can be live may reach a terminal with everything closed.
    pub(super) fn neutral_matters(&self, terminal: usize) -> bool {
        self.neutral_matters.get(terminal).copied().unwrap_or(true)
    }
}

/// Whether a neutral begins at the load side of a node.
pub(super) const fn begins_neutral(node: &Node) -> bool {
    let can_begin = matches!(node.kind, NodeKind::Source | NodeKind::Transformer | NodeKind::Ups | NodeKind::Converter);
    can_begin && !matches!(node.neutral, Neutral::PassedOn)
}

/// From every beginning that is not known to be earthed, and from every end of the description, with the energy.
fn neutral_matters(graph: &Graph, conduction: &Conduction) -> Vec<bool> {
    let node = |terminal: usize| graph.node(node_of(terminal));
    let begins = |terminal: usize| is_load(terminal) && node(terminal).is_some_and(|node| begins_neutral(&node));
    let mut behind = vec![Vec::new(); conduction.terminals()];
    for terminal in (0..conduction.terminals()).filter(|terminal| !begins(*terminal)) {
        for step in conduction.steps(terminal) {
            let is_inside = matches!(step.pass, Pass::Through(id) | Pass::Into(id)
                if graph.node(id).is_some_and(|node| begins_neutral(&node)));
            if let Some(list) = behind.get_mut(step.to).filter(|_| !is_inside) {
                list.push(terminal);
            }
        }
    }
    let matters = |terminal: &usize| match conduction.end(*terminal) {
        End::NotDescribed | End::FeedNotSaid => true,
        End::Nothing | End::Live | End::BackFeed => {
            begins(*terminal) && node(*terminal).is_some_and(|node| node.neutral != Neutral::Earthed)
        }
    };
    let mut reached: Vec<usize> = (0..conduction.terminals()).filter(matters).collect();
    let mut marks = vec![false; conduction.terminals()];
    let mut next = 0;
    while let Some(terminal) = reached.get(next).copied() {
        next += 1;
        if let Some(mark) = marks.get_mut(terminal).filter(|mark| !**mark) {
            *mark = true;
            reached.extend(behind.get(terminal).into_iter().flatten());
        }
    }
    marks
}
