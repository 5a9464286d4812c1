//! From every terminal the first step of a shortest way to an end, with everything closed: whether anything reaches live parts
//! with few devices open is mostly answered by following it, without a search.

use super::super::id::NodeId;
use super::conduction::{Arriving, Conduction, End, Step};
use super::flood::{Place, with_footprints};

/// The steps, and how many there are to the end.
#[derive(Debug, Default)]
pub(super) struct Nearest {
    first: Vec<Option<Step>>,
    distances: Vec<u32>,
}

impl Nearest {
    /// Walks from all ends along the energy.
    pub(super) fn of(conduction: &Conduction, arriving: &Arriving) -> Self {
        let all = || 0..conduction.terminals();
        let mut first: Vec<Option<Step>> = vec![None; conduction.terminals()];
        let is_end = |terminal: usize| conduction.end(terminal) != End::Nothing;
        let mut distances: Vec<u32> = all().map(|terminal| if is_end(terminal) { 0 } else { u32::MAX }).collect();
        let mut reached: Vec<usize> = all().filter(|terminal| is_end(*terminal)).collect();
        let mut next = 0;
        while let Some(terminal) = reached.get(next).copied() {
            let distance = distances.get(terminal).map_or(u32::MAX, |distance| distance.saturating_add(1));
            for (from, step) in arriving.at(terminal) {
                let Some(unset) = first.get_mut(*from).filter(|first| first.is_none()) else { continue };
                if !is_end(*from) {
                    *unset = Some(*step);
                    distances.get_mut(*from).into_iter().for_each(|unset| *unset = distance);
                    reached.push(*from);
                }
            }
            next += 1;
        }
        Self { first, distances }
    }

    /// How many steps the nearest end is away from a terminal, with everything closed.
    pub(super) fn distance(&self, terminal: usize) -> u32 {
        self.distances.get(terminal).copied().unwrap_or(u32::MAX)
    }

    /// Whether the shortest way from a terminal reaches an end with these nodes open. Where it does not, another way may.
    pub(super) fn reaches(&self, conduction: &Conduction, open: &[NodeId], terminal: usize) -> bool {
        with_footprints(conduction.terminals(), |footprints| {
            let mut place = Place { layer: 0, terminal };
            while conduction.end(place.terminal) == End::Nothing {
                let step = self.first.get(place.terminal).copied().flatten();
                let is_open = |step: &Step| step.pass.node().is_some_and(|node| open.binary_search(&node).is_ok());
                let Some(next) =
                    step.filter(|step| !is_open(step)).and_then(|step| footprints.after(place.layer, step))
                else {
                    return false;
                };
                place = next;
            }
            true
        })
    }
}
