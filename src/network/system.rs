//! The electrical systems at every place of a network: where a voltage begins, how it is earthed, and what is known of
//! the angle and the numbers of its lines against those of another place.
//!
//! Systems are followed down the feeds of the supplies file, from what begins a voltage (source, transformer, UPS,
//! converter) to the live parts of every row. Where feeds of different systems meet, all of them stay possible, and what
//! goes back up from there is a voltage of the rows above too. What the file does not describe stays unknown.

mod apart;
mod brought_back;
mod candidates;
mod circles;
mod descent;
mod earthing_untold;
mod in_step;
mod line_numbers;
mod settle;

use std::borrow::Cow;
use std::collections::{HashMap, HashSet};

use super::graph::Terminal;
use super::id::{NodeId, WayId};
use crate::survey::value::{Earthing, Nominal};

pub(super) use circles::circles;
pub(super) use settle::settle;

/// A voltage as the supplies file gives it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct System {
    /// Where it begins: a source, a transformer, a UPS or a converter; another row that gives a nominal voltage.
    pub began: NodeId,
    /// Nominal voltage; `None` where the file does not say.
    pub nominal: Option<Nominal>,
    /// Where its earthing begins: the same node, or a later one with an earthing arrangement of its own.
    pub earthed: NodeId,
    /// Earthing; `None` where the file does not say.
    pub earthing: Option<Earthing>,
}

/// A source that sets the angle of a voltage: a source of its own, a UPS or a converter.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Root {
    /// The source.
    pub source: NodeId,
    /// The last transformer on the way, which may turn the angle.
    pub transformer: Option<NodeId>,
}

/// Whether what is known of a place is all there is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Others {
    /// There are no others.
    #[default]
    None,
    /// There are more than are told apart.
    TooMany,
    /// Something that feeds the place is not described.
    NotDescribed,
}

/// What can stand at a place.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
struct Candidates<T> {
    known: Vec<T>,
    others: Others,
}

/// What is known of the conductors at one place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Place {
    /// The junction against which angles are measured: whatever feeds it, places of one junction stay in step. `None`
    /// where several places are taken together.
    junction: Option<Terminal>,
    /// The last transformer since that junction.
    transformer: Option<NodeId>,
    /// Where its line numbers begin: line 1 of two places with one beginning is one line. `None` where there is none.
    numbered: Option<NodeId>,
    /// The angle since then, in twelfths of a turn.
    hours: u8,
    /// The node at which line numbers were last begun anew, proved elsewhere or not.
    numbered_at: NodeId,
    /// The sources at the junction, by their place in the list.
    roots: usize,
    /// The systems here, by their place in the list.
    systems: usize,
}

/// How the conductors of two rows stand to each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Tie {
    /// The supplies file does not describe both in full, and nothing that it does describe shows that they drift.
    NotDescribed,
    /// They can be fed from sources that are not held in step.
    NotInStep,
    /// They are in step, whatever feeds them.
    InStep(Held),
}

/// What is known of two rows that are in step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Held {
    /// Both are connected to one junction.
    pub(super) is_joined: bool,
    /// One source feeds both.
    pub(super) is_one_source: bool,
    /// No transformer lies between them.
    pub(super) is_one_voltage: bool,
    /// How far the first lags behind the second, in twelfths of a turn, line for line; `None` where line 1 of the one
    /// is not proved to be line 1 of the other, or a vector group is not given.
    pub(super) hours: Option<u8>,
}

/// The systems of a network.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Systems {
    /// On the supply side of each node, by its number.
    supply_sides: Vec<Place>,
    /// On the load side of each node, by its number.
    load_sides: Vec<Place>,
    roots: Vec<Candidates<Root>>,
    systems: Vec<Candidates<System>>,
    /// For each node that sets an angle, the first one that it is held in step with.
    in_step: Vec<NodeId>,
    /// For each of them, the transformer behind which it is held in step.
    behind: Vec<Option<NodeId>>,
    /// For each way, where its live parts are.
    ways: Vec<Option<Place>>,
    /// Ways whose cells say otherwise than every system there, so that it is in doubt where they are.
    in_doubt: HashSet<WayId>,
    /// What comes back up the feeds to ways, and is another voltage or earthing than what comes down to them.
    brought_back: HashMap<WayId, Candidates<System>>,
}

impl Systems {
    /// True where there is no supplies file.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.load_sides.is_empty()
    }

    /// The systems that can stand on the live parts of a way; empty where the supplies file does not tell.
    #[must_use]
    pub fn of_way(&self, way: WayId) -> &[System] {
        self.place(way).map_or(&[], |place| self.systems_at(place).0)
    }

    /// The systems that can stand on the live parts of a way, those among them that come back up the feeds from further
    /// down, and whether these are all.
    #[must_use]
    pub fn all_of_way(&self, way: WayId) -> (Cow<'_, [System]>, bool) {
        let (own, others) = (self.of_way(way), self.others_of_way(way));
        match self.brought_back.get(&way) {
            Some(back) => ([own, &back.known].concat().into(), others.max(back.others) == Others::None),
            None => (own.into(), others == Others::None),
        }
    }

    /// Two sources that can feed the one and the other way and are not held in step, where that is so.
    #[must_use]
    pub fn out_of_step(&self, one: WayId, other: WayId) -> Option<(NodeId, NodeId)> {
        let (one, other) = (self.place(one)?, self.place(other)?);
        let others = self.roots_at(other).0;
        let pairs = self.roots_at(one).0.flat_map(|root| others.clone().map(move |other| (root.source, other.source)));
        pairs.into_iter().find(|(one, other)| !self.is_in_step(*one, *other))
    }

    /// The node at which the line numbers of a way were last begun anew.
    #[must_use]
    pub fn numbered_at(&self, way: WayId) -> Option<NodeId> {
        self.place(way).map(|place| place.numbered_at)
    }

    /// The last transformer on the way to live parts, as far as that is one.
    #[must_use]
    pub fn transformer(&self, way: WayId) -> Option<NodeId> {
        let mut roots = self.roots_at(self.place(way)?).0;
        let first = roots.next()?.transformer?;
        roots.all(|root| root.transformer == Some(first)).then_some(first)
    }

    /// Whether there may be other systems on the live parts of a way.
    #[must_use]
    pub fn others_of_way(&self, way: WayId) -> Others {
        self.place(way).map_or(Others::NotDescribed, |place| self.systems_at(place).1)
    }

    /// Where the live parts of a way are; `None` where they are not described.
    fn place(&self, way: WayId) -> Option<Place> {
        self.ways.get(way.index()).copied().flatten()
    }

    /// Where the live parts of a way are; `None` where that is not described or in doubt.
    pub(super) fn certain_place(&self, way: WayId) -> Option<Place> {
        self.place(way).filter(|_| !self.in_doubt.contains(&way))
    }

    /// The systems that come down to the load side of a node.
    fn on_load_side(&self, node: NodeId) -> &[System] {
        self.load_sides.get(node.index()).map_or(&[], |place| self.systems_at(*place).0)
    }

    /// The systems at a place, and whether there may be others.
    fn systems_at(&self, place: Place) -> (&[System], Others) {
        let candidates = self.systems.get(place.systems);
        candidates.map_or((&[], Others::NotDescribed), |candidates| (&candidates.known, candidates.others))
    }

    /// The sources that set the angle at a place, and whether there may be others.
    fn roots_at(&self, place: Place) -> (impl Iterator<Item = Root> + Clone, Others) {
        let candidates = self.roots.get(place.roots);
        let known = candidates.map_or(&[] as &[Root], |candidates| &candidates.known);
        let others = candidates.map_or(Others::NotDescribed, |candidates| candidates.others);
        (known.iter().map(move |root| root.behind(place.transformer)), others)
    }

    /// How two rows stand to each other.
    pub(super) fn tie(&self, one: Option<Place>, other: Option<Place>) -> Tie {
        let (Some(one), Some(other)) = (one, other) else {
            return self.tie_in_part(one.into_iter().chain(other), Others::NotDescribed);
        };
        let is_joined = one.junction.is_some() && one.junction == other.junction;
        let ((roots, others), (other_roots, other_others)) = (self.roots_at(one), self.roots_at(other));
        let missing = others.max(other_others);
        let mut held = Held {
            is_joined,
            is_one_source: true,
            is_one_voltage: !is_joined || one.transformer == other.transformer,
            hours: hours_between(one, other),
        };
        match (is_joined, missing) {
            (true, Others::NotDescribed) => return Tie::NotDescribed,
            (true, Others::None | Others::TooMany) => return Tie::InStep(held),
            (false, Others::NotDescribed | Others::TooMany) => return self.tie_in_part([one, other], missing),
            (false, Others::None) => {}
        }
        for (root, other) in roots.flat_map(|root| other_roots.clone().map(move |other| (root, other))) {
            if !self.is_in_step(root.source, other.source) {
                return Tie::NotInStep;
            }
            held.is_one_source &= root.source == other.source;
            held.is_one_voltage &= self.behind(root) == self.behind(other);
        }
        Tie::InStep(held)
    }

    /// Places that are not described in full: if what is known of them drifts apart, no other place is in step with
    /// all of it.
    fn tie_in_part(&self, places: impl IntoIterator<Item = Place>, missing: Others) -> Tie {
        let mut first = None;
        let mut drifts = missing == Others::TooMany;
        for place in places {
            for root in self.roots_at(place).0 {
                let first = *first.get_or_insert(root.source);
                drifts |= !self.is_in_step(first, root.source);
            }
        }
        if drifts { Tie::NotInStep } else { Tie::NotDescribed }
    }

    /// The transformer that may turn the angle of a root against the source with which its own is held in step.
    fn behind(&self, root: Root) -> Option<NodeId> {
        root.transformer.or_else(|| self.behind.get(root.source.index()).copied().flatten())
    }

    fn is_in_step(&self, one: NodeId, other: NodeId) -> bool {
        let group = |node: NodeId| self.in_step.get(node.index()).copied().unwrap_or(node);
        one == other || group(one) == group(other)
    }
}

impl Root {
    /// The same source behind a transformer, if there is one.
    const fn behind(self, transformer: Option<NodeId>) -> Self {
        match transformer {
            Some(_) => Self { transformer, ..self },
            None => self,
        }
    }
}

fn hours_between(one: Place, other: Place) -> Option<u8> {
    let is_one_beginning = one.numbered.is_some() && one.numbered == other.numbered;
    is_one_beginning.then_some((one.hours + 12 - other.hours) % 12)
}

#[cfg(test)]
mod properties;
#[cfg(test)]
mod tests;
