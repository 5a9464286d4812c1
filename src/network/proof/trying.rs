//! Looks for a smaller cut path by path, where too many operations open several contacts to try every choice of them.
//!
//! Whatever the smallest cut is, it opens something on every path: so on a shortest one, each of its operations is
//! tried in turn, and then the next path that is left.

use super::operations::Operations;
use super::region::Region;

/// What became of it.
#[derive(Debug)]
pub(super) enum Trial {
    /// These operations do, and fewer do not.
    Found(Vec<usize>),
    /// No cut is smaller.
    NoneIsSmaller,
    /// It would have taken too long.
    GivenUp,
}

/// Up to so many steps are spent on it.
const STEPS_LIMIT: usize = 300_000;

/// Looks for a cut of fewer operations than this.
pub(super) fn smaller(region: &Region, operations: &Operations, than: usize) -> Trial {
    let mut paths = Paths::of(region, operations);
    for size in 1..than {
        let mut waiting: Vec<Vec<usize>> = vec![Vec::new()];
        while let Some(done) = waiting.pop() {
            let Some(path) = paths.shortest_without(&done) else { return Trial::Found(done) };
            if paths.steps > STEPS_LIMIT {
                return Trial::GivenUp;
            }
            if done.len() < size {
                waiting.extend(path.into_iter().rev().map(|next| [done.as_slice(), &[next]].concat()));
            }
        }
    }
    Trial::NoneIsSmaller
}

struct Paths<'a> {
    region: &'a Region,
    /// The operation at each way of the region.
    operation_at: Vec<Option<usize>>,
    /// Where the ways from each place begin, and where the last ones end.
    starts: Vec<usize>,
    is_origin: Vec<bool>,
    steps: usize,
}

impl<'a> Paths<'a> {
    fn of(region: &'a Region, operations: &Operations) -> Self {
        let operation = |arc| operations.contacts.get(operations.contact_at(arc)?).copied();
        let places = region.depths.len();
        let mut is_origin = vec![false; places];
        for origin in &region.origins {
            if let Some(mark) = is_origin.get_mut(*origin) {
                *mark = true;
            }
        }
        // The ways were found place by place.
        let starts = (0..=places).map(|place| region.arcs.partition_point(|arc| arc.from < place)).collect();
        Self { region, operation_at: (0..region.arcs.len()).map(operation).collect(), starts, is_origin, steps: 0 }
    }

    /// The operations on a shortest path to an origin with some done, nearest first; `None` where no path is left.
    fn shortest_without(&mut self, done: &[usize]) -> Option<Vec<usize>> {
        let mut came_by: Vec<Option<usize>> = vec![None; self.region.depths.len()];
        let depths = self.region.depths.iter().enumerate();
        let mut reached: Vec<usize> = depths.filter(|(_, depth)| **depth == 0).map(|(place, _)| place).collect();
        let mut is_reached = vec![false; came_by.len()];
        reached.iter().for_each(|place| mark(&mut is_reached, *place));
        let mut next = 0;
        while let Some(place) = reached.get(next).copied() {
            if self.is_origin.get(place) == Some(&true) {
                return Some(self.operations_on(&came_by, place));
            }
            let start = |place: usize| self.starts.get(place).copied().unwrap_or(0);
            for number in start(place)..start(place + 1) {
                self.steps += 1;
                let operation = self.operation_at.get(number).copied().flatten();
                let Some(to) = self.region.arcs.get(number).map(|arc| arc.to) else { continue };
                if is_reached.get(to) == Some(&false) && operation.is_none_or(|operation| !done.contains(&operation)) {
                    mark(&mut is_reached, to);
                    reached.push(to);
                    if let Some(by) = came_by.get_mut(to) {
                        *by = Some(number);
                    }
                }
            }
            next += 1;
        }
        None
    }

    fn operations_on(&self, came_by: &[Option<usize>], origin: usize) -> Vec<usize> {
        let mut operations = Vec::new();
        let mut place = origin;
        while let Some(number) = came_by.get(place).copied().flatten() {
            operations.extend(self.operation_at.get(number).copied().flatten());
            place = self.region.arcs.get(number).map_or(origin, |arc| arc.from);
        }
        operations.reverse();
        let mut seen = Vec::new();
        operations.retain(|operation| {
            let is_new = !seen.contains(operation);
            seen.push(*operation);
            is_new
        });
        operations
    }
}

fn mark(marks: &mut [bool], place: usize) {
    if let Some(mark) = marks.get_mut(place) {
        *mark = true;
    }
}
