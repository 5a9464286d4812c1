//! From every terminal the first step of a shortest way to an end, with everything closed: whether anything reaches live parts
//! with few devices open is mostly answered by following it, without a search.

use super::super::id::NodeId;
use super::conduction::{Conduction, End, Step};
use super::flood::{Place, with_footprints};

/// The steps.
#[derive(Debug, Default)]
pub(super) struct Nearest(Vec<Option<Step>>);

impl Nearest {
    /// Walks from all ends along the energy.
    pub(super) fn of(conduction: &Conduction) -> Self {
        let all = || 0..conduction.terminals();
        let mut arriving: Vec<(usize, usize, Step)> =
            all().flat_map(|from| conduction.steps(from).iter().map(move |step| (step.to, from, *step))).collect();
        arriving.sort_unstable();
        let mut first: Vec<Option<Step>> = vec![None; conduction.terminals()];
        let mut reached: Vec<usize> = all().filter(|terminal| conduction.end(*terminal) != End::Nothing).collect();
        let mut next = 0;
        while let Some(terminal) = reached.get(next).copied() {
            let start = arriving.partition_point(|(to, ..)| *to < terminal);
            for (_, from, step) in arriving.iter().skip(start).take_while(|(to, ..)| *to == terminal) {
                let Some(unset) = first.get_mut(*from).filter(|first| first.is_none()) else { continue };
                if conduction.end(*from) == End::Nothing {
                    *unset = Some(*step);
                    reached.push(*from);
                }
            }
            next += 1;
        }
        Self(first)
    }

    /// Whether the shortest way from a terminal reaches an end with these nodes open. Where it does not, another way may.
    pub(super) fn reaches(&self, conduction: &Conduction, open: &[NodeId], terminal: usize) -> bool {
        with_footprints(conduction.terminals(), |footprints| {
            let mut place = Place { layer: 0, terminal };
            while conduction.end(place.terminal) == End::Nothing {
                let step = self.0.get(place.terminal).copied().flatten();
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
