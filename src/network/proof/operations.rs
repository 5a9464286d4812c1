//! What a person can do to part an enclosure from its sources: one device, or one coupled interlock, at a time.

use super::super::graph::NodeKind;
use super::super::id::NodeId;
use super::conduction::Pass;
use super::declared::Declared;
use super::fitness::unfit;
use super::region::Region;

/// An operation: a device, or a coupled interlock.
#[derive(Debug)]
pub(super) struct Operation {
    /// The devices suitable for isolation that it opens, sorted.
    pub(super) devices: Vec<NodeId>,
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

/// A place where an operation parts the region.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Contact {
    /// What passes it.
    pub(super) pass: Pass,
    /// On which layer.
    pub(super) layer: usize,
}

/// All operations that bear on a region.
#[derive(Debug)]
pub(super) struct Operations {
    /// The operations.
    pub(super) list: Vec<Operation>,
    /// The contacts, sorted, each with the number of its operation.
    pub(super) contacts: Vec<(Contact, usize)>,
    /// Whether operations may be missing that would do.
    pub(super) is_rough: bool,
}

impl Operations {
    /// The operations with which a region can be parted.
    pub(super) fn of(declared: &Declared<'_>, region: &Region) -> Self {
        let unfit = unfit(declared);
        let mut found: Vec<(NodeId, Contact, usize)> = Vec::with_capacity(region.arcs.len());
        for arc in &region.arcs {
            let Some(node) = arc.pass.node() else { continue };
            let kind = declared.graph.node(node).map(|node| node.kind);
            if kind.is_some_and(NodeKind::is_suitable_for_isolation) && unfit.devices.binary_search(&node).is_err() {
                let depth = region.depths.get(arc.from).copied().unwrap_or(0);
                found.push((node, Contact { pass: arc.pass, layer: arc.layer }, depth));
            }
        }
        found.sort_unstable();
        found.dedup_by_key(|(_, contact, _)| *contact);
        let mut operations =
            Self { list: Vec::new(), contacts: Vec::with_capacity(found.len()), is_rough: unfit.is_rough };
        let mut leaders: Vec<(NodeId, usize)> = Vec::new();
        for (node, contact, depth) in found {
            let number = operations.number(declared, &mut leaders, node);
            operations.contacts.push((contact, number));
            if let Some(operation) = operations.list.get_mut(number) {
                operation.contacts += 1;
                operation.is_interlock |= operation.first != node;
                operation.depth = operation.depth.min(depth);
            }
        }
        operations.contacts.sort_unstable();
        operations
    }

    /// The operation that opens a node; the first node that it opens stands for it.
    fn number(&mut self, declared: &Declared<'_>, leaders: &mut Vec<(NodeId, usize)>, node: NodeId) -> usize {
        let devices = declared.groundwork.operated_with(declared.graph, node);
        let leader = devices.first().copied().unwrap_or(node);
        let place = leaders.partition_point(|(other, _)| *other < leader);
        if let Some((_, number)) = leaders.get(place).filter(|(other, _)| *other == leader) {
            return *number;
        }
        let is_device =
            |node: &NodeId| declared.graph.node(*node).is_some_and(|node| node.kind.is_suitable_for_isolation());
        let devices = devices.into_iter().filter(is_device).collect();
        leaders.insert(place, (leader, self.list.len()));
        self.list.push(Operation { devices, contacts: 0, is_interlock: false, first: node, depth: usize::MAX });
        self.list.len() - 1
    }

    /// The place of a contact in the list; `None` where no operation parts it.
    pub(super) fn place_of(&self, contact: Contact) -> Option<usize> {
        self.contacts.binary_search_by_key(&contact, |(other, _)| *other).ok()
    }

    /// The operations that open several contacts.
    pub(super) fn of_several_contacts(&self) -> Vec<usize> {
        let list = self.list.iter().enumerate();
        list.filter(|(_, operation)| operation.contacts > 1).map(|(number, _)| number).collect()
    }
}
