//! Everything from which energy could come to an enclosure, with all devices closed.

use super::conduction::{Conduction, End, Pass, Step};
use super::flood::{Footprints, Place, with_footprints};

/// Places for which there is room at once: some ten boards one above the other, each with its feeder.
const USUAL_PLACES: usize = 64;

/// A way from one place of a region to the next.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Arc {
    /// The number of the place nearer to the live parts.
    pub(super) from: usize,
    /// The number of the place from which energy comes.
    pub(super) to: usize,
    /// What is passed.
    pub(super) pass: Pass,
    /// The layer on which it is passed.
    pub(super) layer: usize,
}

/// The places that a search reaches, numbered from the live parts outwards.
#[derive(Debug, Default)]
pub(super) struct Region {
    /// How many steps each place is from the live parts.
    pub(super) depths: Vec<usize>,
    /// The ways between them.
    pub(super) arcs: Vec<Arc>,
    /// The places from which energy comes, or may come.
    pub(super) origins: Vec<usize>,
    /// Whether one of them is certainly live.
    pub(super) is_live: bool,
    /// Whether the description ends within it.
    pub(super) has_gap: bool,
}

impl Region {
    /// Searches from live parts to all ends.
    pub(super) fn of(conduction: &Conduction, starts: &[usize]) -> Self {
        Self::along(conduction, starts, |_| true)
    }

    /// The same without a step into a changeover or past a UPS: a part of the region, on which every device parts one place.
    pub(super) fn on_one_layer(conduction: &Conduction, starts: &[usize]) -> Self {
        Self::along(conduction, starts, |step| matches!(step.pass, Pass::Free | Pass::Through(_) | Pass::Across(_)))
    }

    fn along(conduction: &Conduction, starts: &[usize], is_taken: impl Fn(&Step) -> bool) -> Self {
        with_footprints(conduction.terminals(), |footprints| {
            let mut region = Self {
                depths: Vec::with_capacity(USUAL_PLACES),
                arcs: Vec::with_capacity(2 * USUAL_PLACES),
                ..Self::default()
            };
            let mut places: Vec<Place> = Vec::with_capacity(USUAL_PLACES);
            for terminal in starts {
                region.number(footprints, &mut places, Place { layer: 0, terminal: *terminal }, 0);
            }
            let mut from = 0;
            while let Some(place) = places.get(from).copied() {
                region.look_at(conduction.end(place.terminal), from);
                for step in conduction.steps(place.terminal).iter().filter(|step| is_taken(step)) {
                    region.take(footprints, &mut places, (from, place), *step);
                }
                from += 1;
            }
            region
        })
    }

    fn take(&mut self, footprints: &mut Footprints, places: &mut Vec<Place>, (from, here): (usize, Place), step: Step) {
        let Some(there) = footprints.after(here.layer, step) else { return };
        let depth = self.depths.get(from).map_or(0, |depth| depth + 1);
        let to = self.number(footprints, places, there, depth);
        self.arcs.push(Arc { from, to, pass: step.pass, layer: here.layer });
    }

    fn number(&mut self, footprints: &mut Footprints, places: &mut Vec<Place>, place: Place, depth: usize) -> usize {
        footprints.mark(place, places.len()).unwrap_or_else(|| {
            places.push(place);
            self.depths.push(depth);
            places.len() - 1
        })
    }

    fn look_at(&mut self, end: End, place: usize) {
        match end {
            End::Nothing => return,
            End::NotDescribed | End::FeedNotSaid => self.has_gap = true,
            End::Live => self.is_live = true,
            End::BackFeed => {}
        }
        self.origins.push(place);
    }
}
