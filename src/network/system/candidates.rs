//! Lists of what can stand at a place, each kept once and bounded.

use std::cmp::Reverse;
use std::collections::BTreeSet;

use super::super::graph::Side;
use super::super::graph::Terminal;
use super::{Candidates, Others, Place, Root, System, Systems};
use crate::survey::value::Nominal;

/// So many systems, and so many sources, are told apart at one place.
pub(super) const MOST: usize = 16;

impl Systems {
    /// One place for all terminals of a row.
    pub(super) fn at_terminals(&mut self, terminals: &[Terminal]) -> Option<Place> {
        let mut all = terminals.iter().filter_map(|terminal| self.at(*terminal));
        let first = all.next()?;
        if all.all(|place| place == first) {
            return Some(first);
        }
        let places: Vec<_> = terminals.iter().filter_map(|terminal| self.at(*terminal)).collect();
        let (first, rest) = places.split_first()?;
        let numbers = |place: &Place| (place.numbered, place.hours);
        let is_one = rest.iter().all(|place| numbers(place) == numbers(first));
        Some(Place {
            junction: None,
            transformer: None,
            numbered: first.numbered.filter(|_| is_one),
            hours: first.hours,
            numbered_at: first.numbered_at,
            roots: self.union_of_roots(&places),
            systems: self.union_of_systems(&places),
        })
    }

    fn at(&self, terminal: Terminal) -> Option<Place> {
        let side = match terminal.side {
            Side::Supply => &self.supply_sides,
            Side::Load => &self.load_sides,
        };
        side.get(terminal.node.index()).copied()
    }

    /// The sources of all these places.
    pub(super) fn union_of_roots(&mut self, places: &[Place]) -> usize {
        let mut others = Others::None;
        let mut roots = BTreeSet::new();
        for place in places {
            let (known, more) = self.roots_at(*place);
            roots.extend(known);
            others = others.max(more);
        }
        self.add_roots(roots, others)
    }

    /// Adds a list of sources and gives its place.
    pub(super) fn add_roots(&mut self, roots: BTreeSet<Root>, others: Others) -> usize {
        let others = if roots.len() > MOST { others.max(Others::TooMany) } else { others };
        let known = roots.into_iter().take(MOST).collect();
        self.roots.push(Candidates { known, others });
        self.roots.len() - 1
    }

    /// The systems of all these places.
    pub(super) fn union_of_systems(&mut self, places: &[Place]) -> usize {
        let Some(first) = places.first() else { return 0 };
        if places.iter().all(|place| place.systems == first.systems) {
            return first.systems;
        }
        let mut others = Others::None;
        let mut systems = Vec::new();
        for place in places {
            let (known, more) = self.systems_at(*place);
            systems.extend_from_slice(known);
            others = others.max(more);
        }
        self.add_systems(systems, others)
    }

    /// Adds a list of systems, each once and of too many the highest, and gives its place.
    pub(super) fn add_systems(&mut self, mut systems: Vec<System>, mut others: Others) -> usize {
        let key = |system: &System| (system.began, system.earthed);
        systems.sort_unstable_by_key(key);
        systems.dedup_by_key(|system| key(system));
        if systems.len() > MOST {
            systems.sort_by_key(|system| Reverse(system.nominal.map(highest_figure)));
            systems.truncate(MOST);
            systems.sort_unstable_by_key(key);
            others = others.max(Others::TooMany);
        }
        self.systems.push(Candidates { known: systems, others });
        self.systems.len() - 1
    }
}

/// The higher figure of a nominal voltage, in millivolts.
pub(super) fn highest_figure(nominal: Nominal) -> u32 {
    nominal.between.max(nominal.to_neutral).map_or(0, |volts| volts.to_milli())
}
