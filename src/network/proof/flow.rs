//! A region as a flow network: every contact that an operation opens is as wide as the operation costs.
//!
//! The flow is our own: with `petgraph::algo::dinics` a meshed site of 5,000 enclosures took some 11 s instead of 3, and a
//! site of 10,000 with boards as a tree about 1 s instead of 0.3, because a graph of its own is built for every enclosure
//! and set up anew for every path. Dominators for the whole network at once (`dominators::simple_fast`) would name single
//! devices only, and on conductors that know no direction, fed from both ends, their passes grow with the length of the
//! chain. Few paths are ever needed here, one for each operation of the cut. The tests hold it against petgraph's flow.

use super::operations::Operations;
use super::region::Region;
use crate::table::{index, number};

/// How an operation takes part in a flow.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Part {
    /// It is done already.
    Done,
    /// It may be done, and counts one for each contact.
    MayBeDone,
    /// It is not to be done.
    LeftOut,
}

/// Half of an edge: the other half, with the number one more or one less, leads back.
#[derive(Clone, Copy, Debug, Default)]
struct Half {
    to: u32,
    /// How much more can flow this way.
    room: u32,
}

/// A region with the vertices of its contacts.
///
/// Its numbers take four bytes each, since most of the time goes into memory: a region has fewer vertices than a file has
/// bytes, and a larger one would be refused long before.
pub(super) struct Flow<'a> {
    halves: Vec<Half>,
    /// The numbers of the halves that leave each vertex, vertex by vertex.
    leaving: Vec<u32>,
    /// Where those of each vertex begin, and where the last ones end.
    starts: Vec<u32>,
    /// The number of the edge of each contact.
    at_edge: Vec<u32>,
    operations: &'a Operations,
    /// For every vertex reached last, the half by which a shortest way arrives; else [`NONE`].
    by: Vec<u32>,
    /// The vertices reached last, in their order.
    reached: Vec<u32>,
}

/// No half.
const NONE: u32 = u32::MAX;

/// The live parts of the enclosure.
const ENCLOSURE: usize = 0;
/// Everything that energy comes from.
const ORIGIN: usize = 1;
/// The first place of the region.
const PLACES: usize = 2;

/// Where a contact lies in the flow network.
#[derive(Clone, Copy, Debug, Default)]
struct Laid {
    /// How many ways of the region lead through it.
    ways: u32,
    /// Of one with several ways, the nearer of the two vertices between which it lies.
    near: Option<u32>,
    /// The number of its edge.
    edge: u32,
}

impl<'a> Flow<'a> {
    /// The flow network of a region.
    pub(super) fn of(region: &Region, operations: &'a Operations) -> Self {
        let mut laid = vec![Laid::default(); operations.contacts.len()];
        for contact in (0..region.arcs.len()).filter_map(|arc| operations.contact_at(arc)) {
            laid.get_mut(contact).into_iter().for_each(|contact| contact.ways += 1);
        }
        // A contact through which one way leads is that way's edge; only one with several ways has vertices of its own.
        let mut vertices = number(PLACES + region.depths.len());
        for contact in laid.iter_mut().filter(|contact| contact.ways > 1) {
            contact.near = Some(vertices);
            vertices += 2;
        }
        let place = |place: usize| number(PLACES + place);
        let mut edges: Vec<(u32, u32)> = Vec::with_capacity(region.arcs.len() * 2);
        let starts = region.depths.iter().enumerate().filter(|(_, depth)| **depth == 0);
        edges.extend(starts.map(|(start, _)| (number(ENCLOSURE), place(start))));
        edges.extend(region.origins.iter().map(|origin| (place(*origin), number(ORIGIN))));
        for (arc, at) in region.arcs.iter().zip(0..) {
            let (from, to) = (place(arc.from), place(arc.to));
            let contact = operations.contact_at(at).and_then(|contact| laid.get_mut(contact));
            if let Some(near) = contact.as_ref().and_then(|contact| contact.near) {
                edges.extend([(from, near), (near + 1, to)]);
                continue;
            }
            contact.into_iter().for_each(|contact| contact.edge = number(edges.len()));
            edges.push((from, to));
        }
        for contact in &mut laid {
            let Some(near) = contact.near else { continue };
            contact.edge = number(edges.len());
            edges.push((near, near + 1));
        }
        Self::of_edges(&edges, index(vertices), laid.into_iter().map(|contact| contact.edge).collect(), operations)
    }

    fn of_edges(edges: &[(u32, u32)], vertices: usize, at_edge: Vec<u32>, operations: &'a Operations) -> Self {
        let mut halves: Vec<Half> = Vec::with_capacity(2 * edges.len());
        for (from, to) in edges {
            halves.extend([Half { to: *to, room: 0 }, Half { to: *from, room: 0 }]);
        }
        let mut starts: Vec<u32> = vec![0; vertices + 1];
        for half in &halves {
            starts.get_mut(index(half.to) + 1).into_iter().for_each(|start| *start += 1);
        }
        let mut sum = 0;
        starts.iter_mut().for_each(|start| {
            sum += *start;
            *start = sum;
        });
        let mut next = starts.clone();
        let mut leaving = vec![0; halves.len()];
        for ((from, to), edge) in edges.iter().zip(0_u32..) {
            for (vertex, half) in [(*from, 2 * edge), (*to, 2 * edge + 1)] {
                let Some(place) = next.get_mut(index(vertex)) else { continue };
                leaving.get_mut(index(*place)).into_iter().for_each(|slot| *slot = half);
                *place += 1;
            }
        }
        // The one list is used up, and as long as the other is to be.
        let (mut by, reached) = (next, Vec::with_capacity(vertices));
        by.truncate(vertices);
        Self { halves, leaving, starts, at_edge, operations, by, reached }
    }

    /// Wider than all contacts together, so that only contacts are ever cut.
    fn wide(&self) -> u32 {
        number(self.operations.contacts.len() + 1)
    }

    /// The fewest contacts that complete a cut, nearest to the enclosure, as operations; sorted, each once. `None` where
    /// none does.
    pub(super) fn complete(&mut self, part: impl Fn(usize) -> Part) -> Option<Vec<usize>> {
        self.open_all(&part);
        let mut sent = 0;
        self.reach(1);
        while let Some(narrowest) = self.narrowest() {
            // More than all contacts let through comes by a way on which there is none. Beside such a way there is always
            // a second one, and mostly there is not: so it is looked for no sooner.
            if sent + narrowest >= self.wide() || sent == 1 && self.is_uncut(sent) {
                return None;
            }
            self.send(narrowest);
            sent += narrowest;
            self.reach(1);
        }
        let is_reached = |vertex: usize| vertex == ENCLOSURE || self.by.get(vertex).is_some_and(|half| *half != NONE);
        let is_cut = |contact: usize| {
            let half = self.at_edge.get(contact).map_or(0, |edge| 2 * index(*edge));
            let end = |half: usize| self.halves.get(half).map_or(ENCLOSURE, |half| index(half.to));
            is_reached(end(half + 1)) && !is_reached(end(half))
        };
        let contacts = self.operations.contacts.iter().enumerate();
        let cut = contacts.filter(|(contact, operation)| part(**operation) != Part::Done && is_cut(*contact));
        let mut cut: Vec<usize> = cut.map(|(_, operation)| *operation).collect();
        cut.sort_unstable();
        cut.dedup();
        Some(cut)
    }

    /// Nothing flows yet.
    fn open_all(&mut self, part: &impl Fn(usize) -> Part) {
        let wide = self.wide();
        for pair in self.halves.chunks_exact_mut(2) {
            let [half, back] = pair else { continue };
            (half.room, back.room) = (wide, 0);
        }
        for (edge, operation) in self.at_edge.iter().zip(&self.operations.contacts) {
            let Some(half) = self.halves.get_mut(2 * index(*edge)) else { continue };
            half.room = match part(*operation) {
                Part::Done => 0,
                Part::MayBeDone => 1,
                Part::LeftOut => wide,
            };
        }
    }

    /// Whether a way is left, beside what was sent, that is as wide as a way without contacts. The way found by the last
    /// [`reach`](Self::reach) is found again.
    fn is_uncut(&mut self, sent: u32) -> bool {
        self.reach(self.wide() - sent);
        let is_uncut = self.narrowest().is_some();
        self.reach(1);
        is_uncut
    }

    /// Finds for every vertex that so much more can flow to the half by which a shortest way arrives; stops at the origin.
    fn reach(&mut self, room: u32) {
        let Self { halves, leaving, starts, by, reached, .. } = self;
        by.fill(NONE);
        reached.clear();
        reached.push(number(ENCLOSURE));
        let mut next = 0;
        while let Some(vertex) = reached.get(next).copied().map(index) {
            next += 1;
            let start = |vertex: usize| starts.get(vertex).copied().map_or(0, index);
            for half in leaving.get(start(vertex)..start(vertex + 1)).unwrap_or_default() {
                let Some(there) = halves.get(index(*half)).filter(|half| half.room >= room) else { continue };
                let to = index(there.to);
                let Some(arrival) = by.get_mut(to).filter(|it| **it == NONE && to != ENCLOSURE) else { continue };
                *arrival = *half;
                if to == ORIGIN {
                    return;
                }
                reached.push(there.to);
            }
        }
    }

    /// How much more can flow on the way to the origin that was found last; `None` where there is no way left.
    fn narrowest(&self) -> Option<u32> {
        self.way().filter_map(|half| self.halves.get(half)).map(|half| half.room).min()
    }

    fn send(&mut self, amount: u32) {
        let way: Vec<usize> = self.way().collect();
        for half in way {
            if let Some(half) = self.halves.get_mut(half) {
                half.room -= amount;
            }
            if let Some(back) = self.halves.get_mut(half ^ 1) {
                back.room += amount;
            }
        }
    }

    /// The halves of the way to the origin that was found last, from its end.
    fn way(&self) -> impl Iterator<Item = usize> {
        let mut vertex = ORIGIN;
        std::iter::from_fn(move || {
            let half = self.by.get(vertex).copied().filter(|half| *half != NONE).map(index)?;
            vertex = self.halves.get(half ^ 1).map_or(ENCLOSURE, |back| index(back.to));
            Some(half)
        })
    }
}

#[cfg(test)]
mod tests {
    use petgraph::algo::dinics;
    use petgraph::graph::{DiGraph, NodeIndex};
    use proptest::prelude::*;

    use super::super::conduction::Pass;
    use super::super::operations::NONE;
    use super::super::region::{Arc, Region};
    use super::*;
    use crate::network::id::NodeId;

    proptest! {
        /// petgraph's maximum flow judges the size of the cut, with every contact of width one.
        #[test]
        fn petgraph_agrees(arcs in prop::collection::vec((0_usize..9, 0_usize..9, prop::option::of(0_usize..12)), 1..40)) {
            let passed = |device: Option<usize>| device.map_or(Pass::Free, |device| Pass::Through(NodeId::new(device)));
            let mut arcs: Vec<Arc> = arcs
                .into_iter()
                .map(|(from, to, device)| Arc { from, to, pass: passed(device), layer: 0 })
                .collect();
            arcs.sort_unstable();
            let mut devices: Vec<Pass> = arcs.iter().map(|arc| arc.pass).filter(|pass| *pass != Pass::Free).collect();
            devices.sort_unstable();
            devices.dedup();
            let at = arcs.iter().map(|arc| devices.binary_search(&arc.pass).map_or(NONE, number)).collect();
            let operations = Operations { list: Vec::new(), contacts: (0..devices.len()).collect(), at, is_rough: false };
            let mut depths = vec![1; 9];
            depths[0] = 0;
            let region = Region { depths, arcs, origins: vec![8], is_live: true, has_gap: false };
            let mut flow = Flow::of(&region, &operations);
            let mut graph = DiGraph::<(), u32>::new();
            (1..flow.starts.len()).for_each(|_| _ = graph.add_node(()));
            let end = |half: &Half| NodeIndex::new(index(half.to));
            for (number, half) in flow.halves.iter().enumerate().step_by(2) {
                let is_contact = flow.at_edge.iter().any(|edge| 2 * index(*edge) == number);
                let width = if is_contact { 1 } else { flow.wide() };
                graph.add_edge(end(&flow.halves[number + 1]), end(half), width);
            }
            let (size, _) = dinics(&graph, NodeIndex::new(ENCLOSURE), NodeIndex::new(ORIGIN));
            let cut = flow.complete(|_| Part::MayBeDone).map(|cut| cut.len());
            prop_assert_eq!(cut, (size < flow.wide()).then_some(index(size)));
        }
    }
}
