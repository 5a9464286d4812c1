//! What was met so far, each once and in order: looked through one by one while it is little, as it is in nearly every
//! enclosure, and found by a table where it is much.

use std::collections::HashMap;
use std::hash::Hash;

use foldhash::fast::RandomState;

/// So many are looked through one by one.
const FEW: usize = 12;

/// Things in the order in which they were met.
pub(super) struct Met<T> {
    /// All of them, while they are few.
    few: Vec<T>,
    /// The place of each, once they are many.
    places: HashMap<T, usize, RandomState>,
}

impl<T> Default for Met<T> {
    fn default() -> Self {
        Self { few: Vec::new(), places: HashMap::default() }
    }
}

impl<T: Clone + Eq + Hash> Met<T> {
    /// The place of a thing, counted from 0; a new one comes behind all others.
    pub(super) fn place(&mut self, thing: T) -> usize {
        if self.places.is_empty() {
            if let Some(place) = self.few.iter().position(|known| *known == thing) {
                return place;
            }
            if self.few.len() < FEW {
                self.few.push(thing);
                return self.few.len() - 1;
            }
            self.places = self.few.drain(..).zip(0..).collect();
        }
        let next = self.places.len();
        *self.places.entry(thing).or_insert(next)
    }

    /// Whether a thing was not met before.
    pub(super) fn is_new(&mut self, thing: T) -> bool {
        let before = self.few.len() + self.places.len();
        self.place(thing) == before
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_place_stays_however_many_follow() {
        let mut met = Met::default();
        for round in 0..2 {
            for thing in 0..5 * FEW {
                assert_eq!(met.place(thing), thing, "round {round}");
            }
        }
        let mut met = Met::default();
        let things: Vec<_> = (0..3 * FEW).flat_map(|thing| [thing, thing / 2]).collect();
        let new: Vec<_> = things.into_iter().filter(|thing| met.is_new(*thing)).collect();
        assert_eq!(new, (0..3 * FEW).collect::<Vec<_>>());
    }
}
