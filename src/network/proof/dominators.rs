//! What all energy passes on its way to a terminal, where boards are fed from several sides.
//!
//! What every way from an origin to a place passes, dominates it. Of these each place has a nearest one, which makes a tree
//! (T. Lengauer, R. E. Tarjan, A Fast Algorithm for Finding Dominators in a Flowgraph, ACM TOPLAS 1 (1979), 121 to 141; here
//! in its simple form). It is made once for a site, and only where something asks. The algorithm of `petgraph` would pass over
//! a ring as often as it has boards.

use super::super::graph::Graph;
use super::super::id::NodeId;
use super::conduction::{Arriving, Conduction, Step, device_passed, load, supply};
use crate::table::{index, number};

/// The places to which energy comes, in the order in which a search in depth from the origins comes to them.
#[derive(Debug)]
pub(super) struct Dominators {
    /// The place of each vertex in that order; [`NONE`] of those to which none comes.
    order: Vec<u32>,
    /// Of each in that order, the nearest that dominates it; of the first itself.
    above: Vec<u32>,
    /// Of each in that order, the device that stands there.
    devices: Vec<Option<NodeId>>,
    /// Of each in that order, the place of the terminal furthest from it that dominates it, where one does.
    furthest: Vec<u32>,
    /// Of each in that order, the vertex.
    vertices: Vec<u32>,
}

/// What all energy passes on its way to some terminals.
#[derive(Clone, Copy, Debug)]
pub(super) struct Common {
    /// The nearest device.
    pub(super) device: Option<NodeId>,
    /// The furthest terminal, which may be one of them.
    pub(super) terminal: Option<usize>,
}

/// No place.
const NONE: u32 = u32::MAX;

impl Dominators {
    /// Works them out for all terminals, with those from which energy comes.
    pub(super) fn of(graph: &Graph, conduction: &Conduction, is_origin: impl Fn(usize) -> bool) -> Self {
        let is_origin = (0..conduction.terminals()).map(is_origin).collect();
        let vertices = Vertices { graph, conduction, arriving: &Arriving::of(conduction), is_origin };
        let searched = Searched::of(&vertices);
        let above = above(&vertices, &searched);
        let devices: Vec<Option<NodeId>> = searched.vertices.iter().map(|vertex| vertices.device(*vertex)).collect();
        // What dominates a place is come to before it.
        let mut furthest: Vec<u32> = Vec::with_capacity(devices.len());
        for (place, device) in (0..).zip(&devices) {
            let further = furthest.get(index(at(&above, place))).copied().filter(|further| *further != NONE);
            let here = if place == 0 || device.is_some() { NONE } else { place };
            furthest.push(further.unwrap_or(here));
        }
        let vertices = searched.vertices.into_iter().map(number).collect();
        Self { order: searched.order, above, devices, furthest, vertices }
    }

    /// What all energy passes that can reach any of these terminals; `None` where none can.
    pub(super) fn common(&self, terminals: &[usize]) -> Option<Common> {
        let places = terminals.iter().filter_map(|terminal| self.order.get(terminal + 1).copied());
        let nearest = places.filter(|place| *place != NONE).reduce(|one, other| self.common_to(one, other))?;
        let furthest = self.furthest.get(index(nearest)).and_then(|place| self.vertices.get(index(*place)));
        let (mut place, mut device) = (nearest, None);
        while place > 0 && device.is_none() {
            device = self.devices.get(index(place)).copied().flatten();
            place = self.above(place);
        }
        Some(Common { device, terminal: furthest.map(|vertex| index(*vertex) - 1) })
    }

    /// The nearest place that dominates two.
    fn common_to(&self, mut one: u32, mut other: u32) -> u32 {
        while one != other {
            // What dominates a place is come to before it.
            if one > other {
                one = self.above(one);
            } else {
                other = self.above(other);
            }
        }
        one
    }

    fn above(&self, place: u32) -> u32 {
        self.above.get(index(place)).copied().unwrap_or(0)
    }
}

/// The vertices of a site, along the energy: 0 is all origins, then come the terminals, then the nodes as devices.
struct Vertices<'a> {
    graph: &'a Graph,
    conduction: &'a Conduction,
    arriving: &'a Arriving,
    /// Of each terminal whether it is an origin.
    is_origin: Vec<bool>,
}

/// All from which energy comes.
const ORIGIN: usize = 0;

impl Vertices<'_> {
    fn count(&self) -> usize {
        1 + self.conduction.terminals() + self.conduction.terminals() / 2
    }

    /// The device of a vertex that stands for one.
    fn device(&self, vertex: usize) -> Option<NodeId> {
        vertex.checked_sub(1 + self.conduction.terminals()).map(NodeId::new)
    }

    fn of_device(&self, node: NodeId) -> usize {
        1 + self.conduction.terminals() + node.index()
    }

    /// The steps that pass a device, with the terminals where they begin.
    fn through(&self, node: NodeId) -> impl Iterator<Item = (usize, &Step)> {
        let sides = [supply(node), load(node)].into_iter();
        let steps = sides.flat_map(|side| self.conduction.steps(side).iter().map(move |step| (side, step)));
        steps.filter(move |(_, step)| device_passed(self.graph, step) == Some(node))
    }

    /// Where energy goes from a vertex.
    fn following(&self, vertex: usize, mut take: impl FnMut(usize)) {
        if vertex == ORIGIN {
            let origins = self.is_origin.iter().enumerate().filter(|(_, is_origin)| **is_origin);
            origins.for_each(|(terminal, _)| take(1 + terminal));
        } else if let Some(node) = self.device(vertex) {
            self.through(node).for_each(|(side, _)| take(1 + side));
        } else {
            for (to, step) in self.arriving.at(vertex - 1) {
                take(device_passed(self.graph, step).map_or(1 + to, |node| self.of_device(node)));
            }
        }
    }

    /// From where energy comes to a vertex.
    fn preceding(&self, vertex: usize, mut take: impl FnMut(usize)) {
        if let Some(node) = self.device(vertex) {
            self.through(node).for_each(|(_, step)| take(1 + step.to));
        } else if let Some(terminal) = vertex.checked_sub(1) {
            if self.is_origin.get(terminal) == Some(&true) {
                take(ORIGIN);
            }
            for step in self.conduction.steps(terminal) {
                take(device_passed(self.graph, step).map_or(1 + step.to, |node| self.of_device(node)));
            }
        }
    }
}

/// A search in depth from the origins.
struct Searched {
    /// The vertices come to, in their order.
    vertices: Vec<usize>,
    /// The place of each vertex among them, or [`NONE`].
    order: Vec<u32>,
    /// From which place each was come to.
    parents: Vec<u32>,
}

impl Searched {
    fn of(vertices: &Vertices<'_>) -> Self {
        let mut searched = Self { vertices: Vec::new(), order: vec![NONE; vertices.count()], parents: Vec::new() };
        let mut waiting = vec![(ORIGIN, 0)];
        while let Some((vertex, parent)) = waiting.pop() {
            let place = number(searched.vertices.len());
            let Some(unset) = searched.order.get_mut(vertex).filter(|order| **order == NONE) else { continue };
            *unset = place;
            searched.vertices.push(vertex);
            searched.parents.push(parent);
            vertices.following(vertex, |next| waiting.push((next, place)));
        }
        searched
    }
}

/// For each place in the order of a search, the nearest that dominates it.
fn above(vertices: &Vertices<'_>, searched: &Searched) -> Vec<u32> {
    let all = || 0..number(searched.vertices.len());
    let mut forest =
        Forest { semi: all().collect(), label: all().collect(), linked: vec![NONE; searched.vertices.len()] };
    let mut above: Vec<u32> = vec![0; searched.vertices.len()];
    // The places whose half dominator each is, one leading to the next.
    let (mut first, mut next) = (vec![NONE; searched.vertices.len()], vec![NONE; searched.vertices.len()]);
    for place in all().skip(1).rev() {
        let parent = at(&searched.parents, place);
        let vertex = searched.vertices.get(index(place)).copied().unwrap_or(ORIGIN);
        vertices.preceding(vertex, |before| {
            let before = searched.order.get(before).copied().filter(|before| *before != NONE);
            let semi = before.map_or(NONE, |before| forest.lowest_semi(before));
            forest.lower_semi(place, semi);
        });
        let semi = at(&forest.semi, place);
        set(&mut next, place, at(&first, semi));
        set(&mut first, semi, place);
        set(&mut forest.linked, place, parent);
        let mut waiting = at(&first, parent);
        set(&mut first, parent, NONE);
        while waiting != NONE {
            let lowest = forest.lowest(waiting);
            let is_lower = at(&forest.semi, lowest) < at(&forest.semi, waiting);
            set(&mut above, waiting, if is_lower { lowest } else { parent });
            waiting = at(&next, waiting);
        }
    }
    for place in all().skip(1) {
        let found = at(&above, place);
        if found != at(&forest.semi, place) {
            let further = at(&above, found);
            set(&mut above, place, further);
        }
    }
    above
}

/// The places looked at so far, linked to those from which they were come to.
struct Forest {
    /// The half dominator of each: the first from which a way leads to it that else passes only what comes after it.
    semi: Vec<u32>,
    /// Of what lies between each and the root of its tree, that with the lowest half dominator, as far as is known.
    label: Vec<u32>,
    /// To which each is linked.
    linked: Vec<u32>,
}

impl Forest {
    fn lower_semi(&mut self, place: u32, semi: u32) {
        let lower = at(&self.semi, place).min(semi);
        set(&mut self.semi, place, lower);
    }

    fn lowest_semi(&mut self, place: u32) -> u32 {
        let lowest = self.lowest(place);
        at(&self.semi, lowest)
    }

    /// That with the lowest half dominator between a place and the root of its tree; shortens the ways that it walks.
    fn lowest(&mut self, place: u32) -> u32 {
        let mut way = Vec::new();
        let mut here = place;
        while at(&self.linked, here) != NONE && at(&self.linked, at(&self.linked, here)) != NONE {
            way.push(here);
            here = at(&self.linked, here);
        }
        for place in way.into_iter().rev() {
            let linked = at(&self.linked, place);
            let (own, other) = (at(&self.label, place), at(&self.label, linked));
            if at(&self.semi, other) < at(&self.semi, own) {
                set(&mut self.label, place, other);
            }
            let further = at(&self.linked, linked);
            set(&mut self.linked, place, further);
        }
        if at(&self.linked, place) == NONE { place } else { at(&self.label, place) }
    }
}

fn at(list: &[u32], place: u32) -> u32 {
    list.get(index(place)).copied().unwrap_or(NONE)
}

fn set(list: &mut [u32], place: u32, value: u32) {
    list.get_mut(index(place)).into_iter().for_each(|slot| *slot = value);
}
