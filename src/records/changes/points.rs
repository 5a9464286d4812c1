//! The points of isolation of two versions of a notice, paired: what stayed, moved, was renamed, came or went.

use crate::records::{Kind, Statement};

/// A point of isolation as a notice names it; on a device's notice a circuit.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Point<'a> {
    /// Designation.
    pub designation: &'a str,
    /// Where it is; empty where it was left away by declaration.
    pub place: &'a str,
    /// What it serves.
    pub serves: &'a str,
    /// Whether the print left that off.
    pub is_left_off: bool,
    /// What must be read with it.
    pub with: Vec<&'a str>,
}

/// The points of a statement in their order.
pub(super) fn points(says: &Statement) -> Vec<Point<'_>> {
    let mut points: Vec<Point<'_>> = Vec::new();
    for part in &says.0 {
        match (part.kind, points.last_mut()) {
            (Kind::Point, _) => points.push(Point { designation: &part.text, ..Point::default() }),
            (Kind::At, Some(point)) => point.place = &part.text,
            (Kind::Serves, Some(point)) => point.serves = &part.text,
            (Kind::LeftOff, Some(point)) => (point.serves, point.is_left_off) = (&part.text, true),
            (Kind::With, Some(point)) => point.with.push(&part.text),
            _ => {}
        }
    }
    points
}

/// What the enclosure or device is in words, and whether the print left that off.
pub(super) fn name(says: &Statement) -> (&str, bool) {
    if let Some(name) = says.of_kind(Kind::Name).next() {
        return (name, false);
    }
    // Behind a point it is that point's.
    let mut before_points = says.0.iter().take_while(|part| part.kind != Kind::Point);
    let left_off = before_points.find(|part| part.kind == Kind::LeftOff);
    left_off.map_or(("", false), |part| (&part.text, true))
}

/// How the points of two versions belong together, by their places in both lists.
#[derive(Debug, Default, PartialEq, Eq)]
pub(super) struct Pairs {
    /// The same designation at the same place.
    pub kept: Vec<(usize, usize)>,
    /// The same designation at another place.
    pub moved: Vec<(usize, usize)>,
    /// Another designation at the same place.
    pub renamed: Vec<(usize, usize)>,
    /// Named by the old version alone.
    pub gone: Vec<usize>,
    /// Named by the new version alone.
    pub added: Vec<usize>,
}

impl Pairs {
    /// Pairs them: first what is the same, then what bears the same designation, then what is at the same place. Each point
    /// is taken once, so that one of two alike that goes is seen.
    pub(super) fn of(old: &[Point<'_>], new: &[Point<'_>]) -> Self {
        let mut open = Open { old: vec![true; old.len()], new: vec![true; new.len()] };
        let kept = open.pair(old, new, |point| Some((point.designation, point.place)));
        let moved = open.pair(old, new, |point| Some((point.designation, "")));
        let renamed = open.pair(old, new, |point| (!point.place.is_empty()).then_some(("", point.place)));
        let left = |open: Vec<bool>| open.into_iter().enumerate().filter(|(_, open)| *open).map(|(at, _)| at).collect();
        Self { kept, moved, renamed, gone: left(open.old), added: left(open.new) }
    }

    /// Whether the points that both versions name stand in another order.
    pub(super) fn is_reordered(&self) -> bool {
        let mut places: Vec<(usize, usize)> = [&self.kept[..], &self.moved, &self.renamed].concat();
        places.sort_unstable();
        !places.is_sorted_by_key(|(_, new)| *new)
    }
}

/// Which points have no partner yet.
struct Open {
    old: Vec<bool>,
    new: Vec<bool>,
}

impl Open {
    fn pair<'a>(
        &mut self,
        old: &[Point<'a>],
        new: &[Point<'a>],
        key: impl Fn(&Point<'a>) -> Option<(&'a str, &'a str)>,
    ) -> Vec<(usize, usize)> {
        let mut waiting: std::collections::HashMap<(&str, &str), std::collections::VecDeque<usize>> =
            std::collections::HashMap::new();
        for (at, point) in new.iter().enumerate().filter(|(at, _)| self.new.get(*at) == Some(&true)) {
            if let Some(key) = key(point) {
                waiting.entry(key).or_default().push_back(at);
            }
        }
        let mut pairs = Vec::new();
        for (at, point) in old.iter().enumerate() {
            let Some(is_open) = self.old.get_mut(at).filter(|is_open| **is_open) else { continue };
            let partner = key(point).and_then(|key| waiting.get_mut(&key)?.pop_front());
            if let Some(partner) = partner {
                *is_open = false;
                self.new.get_mut(partner).into_iter().for_each(|is_open| *is_open = false);
                pairs.push((at, partner));
            }
        }
        pairs
    }
}
