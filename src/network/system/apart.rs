//! Which feeds of a converter are not connected to each other there: those of direct and those of alternating current.

use super::super::graph::{Feed, Graph, NodeKind};
use super::super::id::NodeId;
use super::super::voltage::only_current;
use super::{Others, Systems};
use crate::survey::value::Current;

/// The feeds that bring direct current to converters to which others bring alternating current. Only where the kind of
/// each is known for certain: what may be of one kind is one piece of copper.
pub(super) fn direct_feeds(graph: &Graph, systems: &Systems) -> Vec<Feed> {
    let converters = graph.nodes().iter().enumerate().filter(|(_, node)| node.kind == NodeKind::Converter);
    let mut direct = Vec::new();
    for (index, _) in converters {
        let feeds = graph.into_node(NodeId::new(index));
        let currents: Option<Vec<Current>> = feeds.iter().map(|feed| current_of(systems, feed.from)).collect();
        let Some(currents) = currents.filter(|currents| currents.contains(&Current::Ac)) else { continue };
        direct.extend(feeds.iter().zip(currents).filter(|(_, current)| *current == Current::Dc).map(|(feed, _)| *feed));
    }
    direct
}

/// The one kind of current that can stand at the load side of a node.
fn current_of(systems: &Systems, node: NodeId) -> Option<Current> {
    let (known, others) = systems.systems_at(*systems.load_sides.get(node.index())?);
    only_current(known).filter(|_| others == Others::None)
}
