//! The smallest cut where everything is [clear](super::clear), without a look at more of a site than the flow comes to.
//!
//! A flow network of its own for every enclosure would have as many vertices as the mesh above it has terminals. Here the
//! flow walks on the conductors themselves, from the live parts and first to where a source is nearest. Every way passes a
//! device, which counts one, so every way that is found adds one to the flow. Where no further way is found stands the cut
//! nearest to the enclosure; that is the same whichever ways were found before.

use std::cell::RefCell;
use std::cmp::Reverse;
use std::collections::{BinaryHeap, HashMap};

use foldhash::fast::RandomState;
use smallvec::SmallVec;

use super::super::graph::Graph;
use super::super::id::NodeId;
use super::clear::is_origin;
use super::conduction::{Conduction, device_passed, load, supply};
use super::nearest::Nearest;

/// The fewest devices that part some terminals from all [origins](is_origin), the nearest of them where several are as few;
/// sorted. `None` where a way passes no device, and where no origin is come to.
pub(super) fn nearest_cut(
    graph: &Graph,
    (conduction, nearest): (&Conduction, &Nearest),
    starts: &[usize],
) -> Option<Vec<NodeId>> {
    WALKED.with_borrow_mut(|walked| {
        let mut flow = NearFlow { graph, conduction, nearest, walked, flowing: HashMap::default() };
        if flow.walk(starts, Devices::Part).is_some() {
            return None;
        }
        let mut origin = flow.walk(starts, Devices::CountOne)?;
        loop {
            flow.send(origin);
            match flow.walk(starts, Devices::CountOne) {
                Some(another) => origin = another,
                None => return Some(flow.cut()),
            }
        }
    })
}

/// What a device is to a walk.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Devices {
    /// All of them part.
    Part,
    /// One can flow through each.
    CountOne,
}

/// A vertex of the flow: the terminals by their numbers, and then of each device where all ways through it begin, and where
/// they end.
type Vertex = usize;

/// What stands at a vertex.
#[derive(Clone, Copy, Debug)]
enum Place {
    Terminal,
    Before(NodeId),
    Behind(NodeId),
}

/// How a vertex was come to.
#[derive(Clone, Copy, Debug, Default)]
struct Arrival {
    /// In which walk.
    walk: u32,
    /// From which vertex; from itself at the live parts.
    from: Vertex,
    /// Whether back along what flows already.
    is_back: bool,
}

/// What the walks of a thread need, kept so that none pays for the size of the network.
#[derive(Default)]
struct Walked {
    walk: u32,
    arrivals: Vec<Arrival>,
    /// The vertices come to by the last walk.
    reached: Vec<Vertex>,
    /// Those from which it goes on, where a source is nearest first.
    waiting: BinaryHeap<Reverse<(u32, Vertex)>>,
}

thread_local! {
    static WALKED: RefCell<Walked> = RefCell::default();
}

impl Walked {
    fn begin(&mut self, vertices: usize) {
        if self.walk == u32::MAX {
            *self = Self::default();
        }
        self.walk += 1;
        self.reached.clear();
        self.waiting.clear();
        if self.arrivals.len() < vertices {
            self.arrivals.resize(vertices, Arrival::default());
        }
    }
}

struct NearFlow<'a> {
    graph: &'a Graph,
    conduction: &'a Conduction,
    nearest: &'a Nearest,
    walked: &'a mut Walked,
    /// What flows into each vertex: from which, and how much.
    flowing: HashMap<Vertex, SmallVec<[(Vertex, u32); 2]>, RandomState>,
}

impl NearFlow<'_> {
    /// Walks from the live parts to an origin; `None` where none is come to.
    fn walk(&mut self, starts: &[usize], devices: Devices) -> Option<Vertex> {
        self.walked.begin(2 * self.conduction.terminals());
        starts.iter().for_each(|start| self.arrive(*start, *start, false));
        while let Some(Reverse((_, vertex))) = self.walked.waiting.pop() {
            match self.place(vertex) {
                Place::Terminal if is_origin(self.graph, self.conduction, vertex) => return Some(vertex),
                Place::Terminal => self.leave(vertex, devices),
                Place::Before(_) if self.flows(vertex, vertex + 1) => {}
                Place::Before(_) => self.arrive(vertex + 1, vertex, false),
                Place::Behind(node) => self.leave_device(vertex, node),
            }
            for (from, _) in self.flowing.get(&vertex).cloned().unwrap_or_default() {
                self.arrive(from, vertex, true);
            }
        }
        None
    }

    fn leave(&mut self, terminal: usize, devices: Devices) {
        for step in self.conduction.steps(terminal) {
            match (device_passed(self.graph, step), devices) {
                (None, _) => self.arrive(step.to, terminal, false),
                (Some(node), Devices::CountOne) => self.arrive(self.before(node), terminal, false),
                (Some(_), Devices::Part) => {}
            }
        }
    }

    fn leave_device(&mut self, behind: Vertex, node: NodeId) {
        for step in [supply(node), load(node)].into_iter().flat_map(|side| self.conduction.steps(side)) {
            if device_passed(self.graph, step) == Some(node) {
                self.arrive(step.to, behind, false);
            }
        }
    }

    /// Notes how a vertex is come to, the first time that it is.
    fn arrive(&mut self, vertex: Vertex, from: Vertex, is_back: bool) {
        let distance = match self.place(vertex) {
            Place::Terminal => self.nearest.distance(vertex),
            Place::Before(node) | Place::Behind(node) => {
                self.nearest.distance(supply(node)).min(self.nearest.distance(load(node)))
            }
        };
        let walk = self.walked.walk;
        if let Some(arrival) = self.walked.arrivals.get_mut(vertex).filter(|arrival| arrival.walk != walk) {
            *arrival = Arrival { walk, from, is_back };
            self.walked.reached.push(vertex);
            self.walked.waiting.push(Reverse((distance, vertex)));
        }
    }

    /// Sends one along the way by which the last walk came to a vertex.
    fn send(&mut self, origin: Vertex) {
        let mut vertex = origin;
        while let Some(Arrival { from, is_back, .. }) = self.walked.arrivals.get(vertex).copied() {
            match is_back {
                _ if from == vertex => return,
                true => self.take_back(vertex, from),
                false => self.add(from, vertex),
            }
            vertex = from;
        }
    }

    fn add(&mut self, from: Vertex, to: Vertex) {
        let flowing = self.flowing.entry(to).or_default();
        match flowing.iter_mut().find(|(other, _)| *other == from) {
            Some((_, amount)) => *amount += 1,
            None => flowing.push((from, 1)),
        }
    }

    fn take_back(&mut self, from: Vertex, to: Vertex) {
        let Some(flowing) = self.flowing.get_mut(&to) else { return };
        flowing.iter_mut().filter(|(other, _)| *other == from).for_each(|(_, amount)| *amount -= 1);
        flowing.retain(|(_, amount)| *amount > 0);
    }

    fn flows(&self, from: Vertex, to: Vertex) -> bool {
        self.flowing.get(&to).is_some_and(|flowing| flowing.iter().any(|(other, _)| *other == from))
    }

    /// The devices that the last walk came to and did not pass.
    fn cut(&self) -> Vec<NodeId> {
        let Walked { walk, arrivals, reached, .. } = &*self.walked;
        let is_reached = |vertex: Vertex| arrivals.get(vertex).is_some_and(|arrival| arrival.walk == *walk);
        let last = |vertex: &Vertex| match self.place(*vertex) {
            Place::Before(node) => (!is_reached(vertex + 1)).then_some(node),
            Place::Terminal | Place::Behind(_) => None,
        };
        let mut cut: Vec<NodeId> = reached.iter().filter_map(last).collect();
        cut.sort_unstable();
        cut
    }

    fn place(&self, vertex: Vertex) -> Place {
        let Some(side) = vertex.checked_sub(self.conduction.terminals()) else { return Place::Terminal };
        let node = NodeId::new(side / 2);
        if side % 2 == 0 { Place::Before(node) } else { Place::Behind(node) }
    }

    fn before(&self, node: NodeId) -> Vertex {
        self.conduction.terminals() + 2 * node.index()
    }
}
