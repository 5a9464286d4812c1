//! Where all energy comes by one place, what is above that place is looked at once for all that hangs below it.
//!
//! A way from an enclosure to the place and one from there to what is live are one way together, so what parts neither parts
//! nothing: the smallest cut parts the enclosure from the place, or the place from what is live, whichever takes less. Below
//! the place everything is [clear](super::clear). Above it anything may stand, as a changeover of mains and generator does
//! above most of a hospital.
//!
//! Where what is live comes by other ways, too, as from solar modules on some of the boards, the first is still the smallest
//! if it takes less than to part the place from everything.

use std::cmp::Ordering;
use std::collections::HashMap;
use std::sync::{Arc, Mutex, PoisonError};

use foldhash::fast::RandomState;

use super::super::id::NodeId;
use super::Cut;
use super::conduction::device_passed;
use super::cut::{Candidate, best_in};
use super::declared::Declared;
use super::fitness::Unfit;
use super::flood::{Place, with_footprints};
use super::near_flow::nearest_cut;
use super::prepared::Groundwork;
use super::region::Region;

/// What became of it.
#[derive(Debug)]
pub(super) enum Found {
    /// The smallest cut; `None` where there is none, where nothing is live, or where its network is not described.
    Smallest(Option<Cut>),
    /// More must be looked at.
    NeedsCloserLook,
}

/// What is above the places that something has asked for, by their terminals.
#[derive(Debug, Default)]
pub(super) struct Bottlenecks(Mutex<HashMap<usize, Arc<Above>, RandomState>>);

/// What is above a place.
#[derive(Debug)]
enum Above {
    /// Something live, and everything is described.
    Live {
        /// The smallest cut, and how far that is from the place.
        smallest: Option<Candidate>,
        /// How many operations it certainly takes.
        at_least: usize,
    },
    /// Nothing live.
    Dead,
    /// Something that is not described.
    NotDescribed,
}

impl Bottlenecks {
    fn above(&self, declared: &Declared<'_>, terminal: usize) -> Arc<Above> {
        let known = || self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(above) = known().get(&terminal) {
            return Arc::clone(above);
        }
        let above = Arc::new(Above::of(declared, terminal));
        known().insert(terminal, Arc::clone(&above));
        above
    }
}

impl Above {
    fn of(declared: &Declared<'_>, terminal: usize) -> Self {
        let lines = &declared.groundwork.lines;
        let region = Region::of(lines, &[terminal]);
        if region.has_gap || !region.is_live {
            return if region.has_gap { Self::NotDescribed } else { Self::Dead };
        }
        let best = |region: &Region| best_in(declared, region, &Unfit::default());
        let at_least = |best: &Option<Candidate>| match best {
            Some(best) => Some(best.count).filter(|_| best.proved_smallest),
            None => Some(usize::MAX),
        };
        let smallest = best(&region);
        // What parts everything parts a part of it.
        let of_part = || at_least(&best(&Region::on_one_layer(lines, &[terminal])));
        let at_least = at_least(&smallest).or_else(of_part).unwrap_or(0);
        Self::Live { smallest, at_least }
    }
}

/// The smallest cut of some terminals where no device is unfit.
pub(super) fn smallest(declared: &Declared<'_>, starts: &[usize]) -> Found {
    let Groundwork { lines, nearest, clear, clear_of_live, bottlenecks, .. } = declared.groundwork;
    let common = declared.groundwork.dominators(declared.graph).common(starts);
    let one = common.and_then(|common| common.device).map(|device| vec![device]);
    let near = || one.or_else(|| nearest_cut(declared.graph, (lines, nearest), starts));
    if clear.has(starts) {
        let is_live = !clear_of_live.has(starts);
        return Found::Smallest(if is_live { near().map(of_devices) } else { None });
    }
    let of_all = common.and_then(|common| common.terminal);
    let of_doubtful = || declared.groundwork.dominators_of_doubt(declared.graph).common(starts)?.terminal;
    let Some(terminal) = of_all.or_else(of_doubtful) else { return Found::NeedsCloserLook };
    let above = bottlenecks.above(declared, terminal);
    let (above, at_least) = match &*above {
        Above::NotDescribed => return Found::Smallest(None),
        Above::Dead if of_all.is_some() => return Found::Smallest(None),
        Above::Dead => return Found::NeedsCloserLook,
        Above::Live { smallest, at_least } => (smallest.as_ref(), *at_least),
    };
    let near = near();
    // Nothing is fewer than one.
    if near.as_ref().is_some_and(|near| near.len() == 1 || near.len() < at_least) {
        return Found::Smallest(near.map(of_devices));
    }
    if of_all.is_none() || above.is_some_and(|above| !above.proved_smallest) {
        return Found::NeedsCloserLook;
    }
    let is_near = |near: &Vec<NodeId>| {
        above.is_none_or(|above| {
            let fewer = near.len().cmp(&above.count);
            fewer.then_with(|| nearer(declared, starts, near, (terminal, above))).is_lt()
        })
    };
    let near = near.filter(is_near).map(of_devices);
    Found::Smallest(near.or_else(|| above.cloned().map(Candidate::into_cut)))
}

fn of_devices(devices: Vec<NodeId>) -> Cut {
    Cut { operations: devices.len(), devices, proved_smallest: true }
}

/// Whether devices below a terminal or as many operations above it are nearer to where a search starts, all steps taken
/// together; of those as near, which come first.
fn nearer(
    declared: &Declared<'_>,
    starts: &[usize],
    devices: &[NodeId],
    (terminal, above): (usize, &Candidate),
) -> Ordering {
    let lines = &declared.groundwork.lines;
    with_footprints(lines.terminals(), |footprints| {
        let mut waiting: Vec<(usize, usize)> = Vec::new();
        let mut arrive = |waiting: &mut Vec<(usize, usize)>, terminal, depth| {
            if footprints.mark(Place { layer: 0, terminal }, 0).is_none() {
                waiting.push((terminal, depth));
            }
        };
        starts.iter().for_each(|start| arrive(&mut waiting, *start, 0));
        let (mut missing, mut sum, mut to_terminal) = (devices.to_vec(), 0, None);
        let mut next = 0;
        while let Some((here, depth)) = waiting.get(next).copied() {
            if here == terminal {
                to_terminal = Some(depth);
            }
            // What has not been come to is no nearer than this.
            let of_devices = sum + missing.len() * depth;
            let of_above = above.depths + above.count * to_terminal.unwrap_or(depth);
            match of_devices.cmp(&of_above) {
                Ordering::Less if missing.is_empty() => return Ordering::Less,
                Ordering::Greater if to_terminal.is_some() => return Ordering::Greater,
                Ordering::Equal if missing.is_empty() && to_terminal.is_some() => break,
                Ordering::Less | Ordering::Equal | Ordering::Greater => {}
            }
            for step in lines.steps(here) {
                let device = device_passed(declared.graph, step);
                if let Some(found) = missing.iter().position(|missing| Some(*missing) == device) {
                    missing.swap_remove(found);
                    sum += depth;
                }
                arrive(&mut waiting, step.to, depth + 1);
            }
            next += 1;
        }
        devices.cmp(&above.devices)
    })
}
