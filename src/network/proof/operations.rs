//! What a person can do to part an enclosure from its sources: one device, or one coupled interlock, at a time.

use super::super::graph::{Graph, NodeKind};
use super::super::id::NodeId;
use super::conduction::Pass;
use super::declared::Declared;
use super::fitness::Unfit;
use super::prepared::Operated;
use super::region::Region;
use crate::table::{index, number};

/// An operation: a device, or a coupled interlock.
#[derive(Debug)]
pub(super) struct Operation {
    /// How many contacts it opens within the region: of a coupled interlock those of each device, and of a device that is
    /// met with changeovers in several positions one for each.
    pub(super) contacts: usize,
    /// Whether the contacts are those of several devices.
    pub(super) is_interlock: bool,
    /// The device met first.
    first: NodeId,
    /// How far the nearest of them is from the live parts.
    pub(super) depth: usize,
}

/// All operations that bear on a region. A contact is a place where one of them parts it: what passes it, on which layer.
#[derive(Debug)]
pub(super) struct Operations {
    /// The operations.
    pub(super) list: Vec<Operation>,
    /// The operation of each contact.
    pub(super) contacts: Vec<usize>,
    /// The contact at each way of the region; [`NONE`] where no operation parts it.
    pub(super) at: Vec<u32>,
    /// Whether operations may be missing that would do.
    pub(super) is_rough: bool,
}

/// Whether a device parts a region: it is suitable for isolation, and does not stand in its way unfit.
pub(super) fn parts(graph: &Graph, unfit: &Unfit, node: NodeId) -> bool {
    let kind = graph.node(node).map(|node| node.kind);
    kind.is_some_and(NodeKind::is_suitable_for_isolation) && unfit.devices.binary_search(&node).is_err()
}

/// No contact.
pub(super) const NONE: u32 = u32::MAX;

impl Operations {
    /// The operations with which a region can be parted.
    pub(super) fn of(declared: &Declared<'_>, region: &Region, unfit: &Unfit) -> Self {
        let mut found: Vec<(NodeId, Pass, usize, usize, usize)> = Vec::with_capacity(region.arcs.len());
        for (number, arc) in region.arcs.iter().enumerate() {
            let Some(node) = arc.pass.node() else { continue };
            if parts(declared.graph, unfit, node) {
                let depth = region.depths.get(arc.from).copied().unwrap_or(0);
                found.push((node, arc.pass, arc.layer, depth, number));
            }
        }
        found.sort_unstable();
        let mut operations = Self {
            list: Vec::with_capacity(found.len()),
            contacts: Vec::with_capacity(found.len()),
            at: vec![NONE; region.arcs.len()],
            is_rough: unfit.is_rough,
        };
        let mut leaders: Vec<(NodeId, usize)> = Vec::with_capacity(found.len());
        let mut last = None;
        for (node, pass, layer, depth, arc) in found {
            // Several ways may lead through one contact.
            if last != Some((pass, layer)) {
                last = Some((pass, layer));
                operations.add(declared, &mut leaders, node, depth);
            }
            if let Some(contact) = operations.at.get_mut(arc) {
                *contact = number(operations.contacts.len() - 1);
            }
        }
        operations
    }

    /// Adds a contact of a node, so far from the live parts.
    fn add(&mut self, declared: &Declared<'_>, leaders: &mut Vec<(NodeId, usize)>, node: NodeId, depth: usize) {
        // The first node that an operation opens stands for it.
        let leader = declared.groundwork.first_operated_with(declared.graph, node);
        let place = leaders.partition_point(|(other, _)| *other < leader);
        let known = leaders.get(place).filter(|(other, _)| *other == leader).map(|(_, number)| *number);
        let operation = known.unwrap_or_else(|| {
            leaders.insert(place, (leader, self.list.len()));
            self.list.push(Operation { contacts: 0, is_interlock: false, first: node, depth });
            self.list.len() - 1
        });
        self.contacts.push(operation);
        if let Some(operation) = self.list.get_mut(operation) {
            operation.contacts += 1;
            operation.is_interlock |= operation.first != node;
            operation.depth = operation.depth.min(depth);
        }
    }

    /// The contact at a way of the region; `None` where no operation parts it.
    pub(super) fn contact_at(&self, arc: usize) -> Option<usize> {
        self.at.get(arc).copied().filter(|contact| *contact != NONE).map(index)
    }

    /// The devices suitable for isolation that an operation opens.
    pub(super) fn devices(&self, declared: &Declared<'_>, operation: usize) -> Operated {
        let Some(operation) = self.list.get(operation) else { return Operated::new() };
        let mut devices = declared.groundwork.operated_with(declared.graph, operation.first);
        let is_device =
            |node: &NodeId| declared.graph.node(*node).is_some_and(|node| node.kind.is_suitable_for_isolation());
        devices.retain(|node| is_device(node));
        devices
    }

    /// The operations that open several contacts.
    pub(super) fn of_several_contacts(&self) -> Vec<usize> {
        let list = self.list.iter().enumerate();
        list.filter(|(_, operation)| operation.contacts > 1).map(|(number, _)| number).collect()
    }
}
