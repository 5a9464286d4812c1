//! Breadth first from live parts against the energy, without recursion.
//!
//! A changeover connects its load side to one feed at a time. Once it has been entered from one of its feeds, the way
//! on from there must not pass it upwards to another: such a way stands on a layer of its own, which bears the
//! changeovers entered so far, and in the same way the UPSs passed.

use std::cell::RefCell;

use super::super::id::NodeId;
use super::conduction::{Conduction, Pass, Step};

/// How far a gate lets a search through.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Gate {
    /// It conducts.
    Conducts,
    /// It is open.
    Blocks,
    /// It is open, and it is not said whether that parts what is searched.
    Doubtful,
}

/// What a search looks at.
pub(super) trait View {
    /// Whether a step that passes a node conducts, with the terminal from which the energy comes.
    fn gate(&self, node: NodeId, from: usize) -> Gate;

    /// Whether a changeover lets what comes by its other feeds past its switches to a terminal of this one.
    fn gate_unswitched(&self, changeover: NodeId, to: usize) -> Gate;

    /// Whether reaching a terminal tells something.
    fn is_end(&self, terminal: usize) -> bool;
}

/// A terminal on a layer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Place {
    /// The layer; 0 where no changeover has been entered from a feed, and no UPS passed.
    pub(super) layer: usize,
    /// The terminal.
    pub(super) terminal: usize,
}

/// A place reached, and from which one.
#[derive(Clone, Copy, Debug)]
pub(super) struct Reached {
    /// Where.
    pub(super) place: Place,
    /// The number of the place reached before, one step nearer to the live parts.
    pub(super) nearer: Option<usize>,
}

/// An opened device of which it is not said what it parts, a converter of which it is not said what it lets across, or a
/// changeover of which it is not said what it switches.
#[derive(Debug)]
pub(super) struct Doubt {
    /// The device.
    pub(super) node: NodeId,
    /// Whether it is passed beside its switches.
    pub(super) is_unswitched: bool,
    /// The ends beyond it.
    pub(super) beyond: Vec<usize>,
}

/// A way on that is in doubt.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Doubtful {
    /// The device in doubt.
    node: NodeId,
    /// Whether it is passed beside its switches.
    is_unswitched: bool,
    /// The place beyond it.
    place: Place,
}

/// What a search has reached.
#[derive(Debug, Default)]
pub(super) struct Flood {
    /// Every place, nearest first.
    pub(super) reached: Vec<Reached>,
    /// The opened devices that were met, with the terminal from which energy would come through each.
    pub(super) met: Vec<(NodeId, usize)>,
    /// Those in doubt.
    pub(super) doubts: Vec<Doubt>,
}

impl Flood {
    /// Searches from live parts.
    pub(super) fn from(conduction: &Conduction, view: &impl View, starts: &[usize]) -> Self {
        with_footprints(conduction.terminals(), |footprints| {
            let mut flood = Self::default();
            for terminal in starts {
                flood.arrive(footprints, Place { layer: 0, terminal: *terminal }, None);
            }
            let mut beyond = flood.run(conduction, view, footprints, false);
            beyond.sort_unstable();
            beyond.dedup();
            flood.look_beyond(conduction, view, footprints, &beyond);
            flood.met.sort_unstable();
            flood.met.dedup();
            flood
        })
    }

    /// The nodes from a place reached to the live parts, each once.
    pub(super) fn way_from(&self, number: usize) -> Vec<NodeId> {
        let mut nodes = Vec::new();
        let mut next = Some(number);
        while let Some(reached) = next.and_then(|number| self.reached.get(number)) {
            nodes.push(super::conduction::node_of(reached.place.terminal));
            next = reached.nearer;
        }
        nodes.dedup();
        nodes
    }

    fn arrive(&mut self, footprints: &mut Footprints, place: Place, nearer: Option<usize>) {
        if footprints.mark(place, self.reached.len()).is_none() {
            self.reached.push(Reached { place, nearer });
        }
    }

    /// Walks to the end; returns the doubtful devices met.
    fn run(
        &mut self,
        conduction: &Conduction,
        view: &impl View,
        footprints: &mut Footprints,
        doubtful_conduct: bool,
    ) -> Vec<Doubtful> {
        let mut doubtful = Vec::new();
        let mut number = 0;
        while let Some(Reached { place, .. }) = self.reached.get(number).copied() {
            for step in conduction.steps(place.terminal).iter().chain(conduction.unswitched(place.terminal)) {
                let Some(next) = footprints.after(place.layer, *step) else { continue };
                let node = step.pass.node();
                let gate = match step.pass {
                    Pass::Across(_) => Gate::Doubtful,
                    Pass::Unswitched(changeover) => view.gate_unswitched(changeover, place.terminal),
                    Pass::Free | Pass::Through(_) | Pass::Bypass(_) | Pass::Into(_) => {
                        node.map_or(Gate::Conducts, |node| view.gate(node, step.to))
                    }
                };
                // A converter is no device that could be opened, and opening a changeover opens none but its switches.
                let is_opened = !matches!(step.pass, Pass::Across(_) | Pass::Unswitched(_));
                match (gate, node) {
                    (Gate::Doubtful, Some(node)) if !doubtful_conduct => {
                        self.met.extend(Some((node, step.to)).filter(|_| is_opened));
                        let is_unswitched = matches!(step.pass, Pass::Unswitched(_));
                        doubtful.push(Doubtful { node, is_unswitched, place: next });
                    }
                    (Gate::Blocks, Some(node)) => self.met.extend(Some((node, step.to)).filter(|_| is_opened)),
                    (Gate::Conducts | Gate::Doubtful | Gate::Blocks, _) => self.arrive(footprints, next, Some(number)),
                }
            }
            number += 1;
        }
        doubtful
    }

    /// Searches on behind each doubtful device by itself.
    fn look_beyond(
        &mut self,
        conduction: &Conduction,
        view: &impl View,
        footprints: &mut Footprints,
        doubtful: &[Doubtful],
    ) {
        let which = |it: &Doubtful| (it.node, it.is_unswitched);
        for behind in doubtful.chunk_by(|one, other| which(one) == which(other)) {
            footprints.begin_beyond();
            let mut further = Self::default();
            behind.iter().for_each(|it| further.arrive(footprints, it.place, None));
            further.run(conduction, view, footprints, true);
            self.met.append(&mut further.met);
            let terminals = further.reached.iter().map(|reached| reached.place.terminal);
            let beyond = terminals.filter(|terminal| view.is_end(*terminal)).collect();
            let first = behind.first();
            self.doubts.extend(first.map(|&Doubtful { node, is_unswitched, .. }| Doubt {
                node,
                is_unswitched,
                beyond,
            }));
        }
    }
}

/// Above so many layers a way keeps the layer that it has: more is then called live, never less.
const LAYERS_LIMIT: usize = 64;

/// Where a search has been. Kept from one search to the next, so that none pays for the size of the network.
#[derive(Default)]
pub(super) struct Footprints {
    /// The search that last reached each terminal, and its number there; by layer.
    marks: Vec<Vec<(u32, usize)>>,
    /// The changeovers entered and UPSs passed, by layer; sorted.
    layers: Vec<Vec<NodeId>>,
    terminals: usize,
    search: u32,
    beyond: u32,
}

thread_local! {
    static FOOTPRINTS: RefCell<Footprints> = RefCell::default();
}

/// Runs a search with the footprints of this thread.
pub(super) fn with_footprints<T>(terminals: usize, search: impl FnOnce(&mut Footprints) -> T) -> T {
    FOOTPRINTS.with_borrow_mut(|footprints| {
        footprints.begin(terminals);
        search(footprints)
    })
}

impl Footprints {
    /// Begins a search.
    fn begin(&mut self, terminals: usize) {
        if self.search.max(self.beyond) > u32::MAX / 2 {
            self.marks.clear();
            (self.search, self.beyond) = (0, 0);
        }
        self.terminals = terminals;
        self.layers.truncate(1);
        if self.layers.is_empty() {
            self.layers.push(Vec::new());
        }
        self.search = self.search.max(self.beyond) + 1;
        self.beyond = self.search;
    }

    /// Begins a search beyond a doubtful device; what was reached before it stays reached.
    fn begin_beyond(&mut self) {
        self.beyond += 1;
    }

    /// Marks a place with its number, if it has not been reached before; otherwise tells the number that it has.
    pub(super) fn mark(&mut self, place: Place, number: usize) -> Option<usize> {
        while self.marks.len() <= place.layer {
            self.marks.push(Vec::new());
        }
        let marks = self.marks.get_mut(place.layer)?;
        if marks.len() < self.terminals {
            marks.resize(self.terminals, (0, 0));
        }
        let mark = marks.get_mut(place.terminal)?;
        if mark.0 == self.search || mark.0 == self.beyond {
            return Some(mark.1);
        }
        *mark = (self.beyond, number);
        None
    }

    /// Where a step from a layer leads; `None` where it would pass a changeover or UPS twice.
    pub(super) fn after(&mut self, layer: usize, step: Step) -> Option<Place> {
        if layer == 0 && matches!(step.pass, Pass::Free | Pass::Through(_) | Pass::Across(_)) {
            // Nothing has been entered there.
            return Some(Place { layer, terminal: step.to });
        }
        if matches!(step.pass, Pass::Unswitched(_)) {
            // No position of the changeover has a say in it.
            return Some(Place { layer, terminal: step.to });
        }
        let entered = self.layers.get(layer)?;
        if step.pass.node().is_some_and(|node| entered.contains(&node)) {
            return None;
        }
        let layer = match step.pass {
            Pass::Free | Pass::Through(_) | Pass::Across(_) | Pass::Unswitched(_) => layer,
            Pass::Bypass(node) | Pass::Into(node) => {
                let mut with = entered.clone();
                with.insert(with.partition_point(|other| *other < node), node);
                self.layer_of(with, layer)
            }
        };
        Some(Place { layer, terminal: step.to })
    }

    fn layer_of(&mut self, entered: Vec<NodeId>, fallback: usize) -> usize {
        if let Some(known) = self.layers.iter().position(|layer| *layer == entered) {
            return known;
        }
        if self.layers.len() >= LAYERS_LIMIT {
            return fallback;
        }
        self.layers.push(entered);
        self.layers.len() - 1
    }
}
