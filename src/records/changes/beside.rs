//! Old and new words side by side, line for line.

use super::points::points;
use crate::records::{Kind, Statement};

/// Products of lines up to which lines are aligned by their longest common sequence; beyond, in order.
const MOST: usize = 250_000;

/// One line of old and new words; one side is `None` where the other has no counterpart.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// How it was.
    pub old: Option<String>,
    /// How it is.
    pub new: Option<String>,
}

impl Line {
    /// Whether both sides say the same.
    #[must_use]
    pub fn is_same(&self) -> bool {
        self.old == self.new
    }
}

/// A line of a notice with what it is: two lines that differ stand beside each other if they are of one kind.
type Said = (Kind, String);

/// The lines of two statements beside each other.
#[must_use]
pub fn beside(old: &Statement, new: &Statement) -> Vec<Line> {
    let (old, new) = (lines(old), lines(new));
    let first = old.iter().zip(&new).take_while(|(one, other)| one == other).count();
    let (head, old) = old.split_at_checked(first).unwrap_or((&old, &[]));
    let new = new.get(first..).unwrap_or_default();
    let mut beside: Vec<Line> = head.iter().map(same).collect();
    let (mut from_old, mut from_new) = (0, 0);
    for (at_old, at_new) in common(old, new) {
        let gap = |list: &[Said], from: usize, to: usize| list.get(from..to).unwrap_or_default().to_vec();
        beside.extend(paired(&gap(old, from_old, at_old), &gap(new, from_new, at_new)));
        beside.extend(old.get(at_old).map(same));
        (from_old, from_new) = (at_old + 1, at_new + 1);
    }
    beside.extend(paired(old.get(from_old..).unwrap_or_default(), new.get(from_new..).unwrap_or_default()));
    beside
}

fn same((_, text): &Said) -> Line {
    Line { old: Some(text.clone()), new: Some(text.clone()) }
}

/// A statement in lines as a person reads it: a point with its place on one.
fn lines(says: &Statement) -> Vec<Said> {
    let mut points = points(says).into_iter();
    let mut lines = Vec::with_capacity(says.0.len());
    for part in &says.0 {
        match part.kind {
            Kind::Point => {
                let Some(point) = points.next() else { continue };
                let words = [point.designation, point.place, point.serves].into_iter().filter(|word| !word.is_empty());
                lines.push((Kind::Point, words.collect::<Vec<_>>().join(", ")));
            }
            Kind::At | Kind::Serves | Kind::LeftOff => {}
            Kind::Do | Kind::Why | Kind::Name | Kind::With | Kind::Shows | Kind::Heed | Kind::Last | Kind::Code => {
                lines.push((part.kind, part.text.clone()));
            }
        }
    }
    lines
}

/// The places of a longest common sequence.
fn common(old: &[Said], new: &[Said]) -> Vec<(usize, usize)> {
    let width = new.len() + 1;
    if old.len().saturating_mul(new.len()) > MOST {
        return Vec::new();
    }
    // How long the longest common sequence of the rests of both is, from each place on.
    let mut longest = vec![0_u32; (old.len() + 1) * width];
    let at = |longest: &[u32], one: usize, other: usize| longest.get(one * width + other).copied().unwrap_or_default();
    for (one, before) in old.iter().enumerate().rev() {
        for (other, after) in new.iter().enumerate().rev() {
            let length = if before == after {
                at(&longest, one + 1, other + 1) + 1
            } else {
                at(&longest, one + 1, other).max(at(&longest, one, other + 1))
            };
            longest.get_mut(one * width + other).into_iter().for_each(|slot| *slot = length);
        }
    }
    let (mut one, mut other, mut places) = (0, 0, Vec::new());
    while let (Some(before), Some(after)) = (old.get(one), new.get(other)) {
        if before == after {
            places.push((one, other));
            (one, other) = (one + 1, other + 1);
        } else if at(&longest, one + 1, other) >= at(&longest, one, other + 1) {
            one += 1;
        } else {
            other += 1;
        }
    }
    places
}

/// What lies between two common lines: lines of one kind beside each other, in order.
fn paired(old: &[Said], new: &[Said]) -> Vec<Line> {
    let mut lines = Vec::new();
    let mut new = new.iter().peekable();
    for (kind, text) in old {
        // What is of an earlier kind stands before it by itself.
        while let Some((_, alone)) = new.next_if(|(other, _)| other < kind) {
            lines.push(Line { old: None, new: Some(alone.clone()) });
        }
        let partner = new.next_if(|(other, _)| other == kind).map(|(_, text)| text.clone());
        lines.push(Line { old: Some(text.clone()), new: partner });
    }
    lines.extend(new.map(|(_, text)| Line { old: None, new: Some(text.clone()) }));
    lines
}
