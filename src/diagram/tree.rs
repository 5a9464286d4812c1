//! The supply path as a tree of text lines, from the live parts of an enclosure up to every source.

use super::facts::Case;
use super::outline::{Outline, Spot};
use crate::network::{Isolated, WayId};
use crate::survey::Row;

/// One line for each spot, with box-drawing characters; each shared part is written once.
pub(super) fn lines(case: &Case<'_>) -> Vec<String> {
    let outline = Outline::of(case.network, case.id(), &case.kept());
    let mut tree =
        Tree { case, is_climbed: climbed(&outline), outline: &outline, is_written: Vec::new(), lines: Vec::new() };
    tree.is_written = vec![false; outline.spots.len()];
    for (place, end) in outline.ends.iter().enumerate() {
        tree.lines.push(row_in_words(case, end.way, place));
        let branches: Vec<Branch> = end
            .hangs
            .iter()
            .map(|spot| Branch { spot: *spot, said: "" })
            .chain(end.lenders.iter().map(|spot| Branch { spot: *spot, said: "its neutral is shared with " }))
            .collect();
        if branches.is_empty() {
            tree.lines.push("└─ not described".to_owned());
        }
        tree.branches(&branches, "", None);
    }
    if outline.sources_left_out > 0 {
        tree.lines.push(format!("{} sources more that could feed back are not shown", outline.sources_left_out));
    }
    tree.lines
}

struct Tree<'a> {
    case: &'a Case<'a>,
    outline: &'a Outline,
    /// Spots that feed a row from above; the others are branches that feed back.
    is_climbed: Vec<bool>,
    is_written: Vec<bool>,
    lines: Vec<String>,
}

struct Branch {
    spot: usize,
    said: &'static str,
}

impl Tree<'_> {
    fn branches(&mut self, branches: &[Branch], indent: &str, from: Option<usize>) {
        for (place, branch) in branches.iter().enumerate() {
            let is_last = place + 1 == branches.len();
            let seen = self.is_written.get(branch.spot).copied().unwrap_or(true);
            let corner = if is_last { "└─ " } else { "├─ " };
            let (words, has_more) = (self.words(branch.spot), self.has_more(branch.spot, from));
            let again = if seen && has_more { ", see above" } else { "" };
            self.lines.push(format!("{indent}{corner}{}{words}{again}", branch.said));
            if seen {
                continue;
            }
            self.is_written.get_mut(branch.spot).into_iter().for_each(|seen| *seen = true);
            let next = self.next(branch.spot, from);
            let indent = format!("{indent}{}", if is_last { "   " } else { "│  " });
            self.branches(&next, &indent, Some(branch.spot));
        }
    }

    fn has_more(&self, spot: usize, from: Option<usize>) -> bool {
        !self.next(spot, from).is_empty() || self.outline.above(spot).next().is_some()
    }

    /// What feeds a spot from above, and what could feed back into it from below.
    fn next(&self, spot: usize, from: Option<usize>) -> Vec<Branch> {
        let above = self.outline.above(spot).map(|link| link.upper).filter(|upper| Some(*upper) != from);
        let mut next: Vec<Branch> = above.map(|spot| Branch { spot, said: "" }).collect();
        let is_branch = |lower: usize| {
            let is = |list: &[bool]| list.get(lower).copied().unwrap_or(true);
            Some(lower) != from && !is(&self.is_climbed) && !is(&self.is_written)
        };
        let below = self.outline.links.iter().filter(|link| link.upper == spot && is_branch(link.lower));
        let begins = self.is_climbed.get(spot).copied().unwrap_or(false);
        let said = if begins { "can feed back: " } else { "" };
        next.extend(below.map(|link| Branch { spot: link.lower, said }));
        next
    }

    fn words(&self, spot: usize) -> String {
        let node = match self.outline.spots.get(spot) {
            Some(Spot::Node(node)) => *node,
            Some(Spot::More(count)) => return format!("{count} devices more, one feeding the next"),
            Some(Spot::Beyond(count)) => return format!("{count} devices and boards more, not shown"),
            None => return String::new(),
        };
        let facts = self.case.facts(node);
        let numbers: String = facts.points.iter().map(|number| format!("[{number}] ")).collect();
        let mut words = format!("{numbers}{}", facts.phrase());
        let system = Some(facts.system.as_str()).filter(|system| !system.is_empty());
        for remark in facts.remark().into_iter().chain(system) {
            words.push_str(", ");
            words.push_str(remark);
        }
        if facts.is_open_end() {
            words.push_str(if self.outline.above(spot).next().is_some() {
                ", by the survey alone"
            } else {
                ", what feeds it is not described"
            });
        }
        words
    }
}

/// The spots that feed a row by way of what feeds them, from the row upwards.
pub(super) fn climbed(outline: &Outline) -> Vec<bool> {
    let mut is_climbed = vec![false; outline.spots.len()];
    let mut waiting: Vec<usize> =
        outline.ends.iter().flat_map(|end| end.hangs.iter().chain(&end.lenders)).copied().collect();
    while let Some(spot) = waiting.pop() {
        if let Some(met) = is_climbed.get_mut(spot).filter(|met| !**met) {
            *met = true;
            waiting.extend(outline.above(spot).map(|link| link.upper));
        }
    }
    is_climbed
}

fn row_in_words(case: &Case<'_>, way: WayId, place: usize) -> String {
    let row: Option<&Row> = case.enclosure().and_then(|enclosure| enclosure.rows.get(place));
    let mut words = format!("live parts of {}", case.network.circuit_in_words(case.survey, way));
    if let Some(serves) = row.and_then(|row| row.serves.as_ref()) {
        words.push_str(&format!(" ({serves})"));
    }
    match case.network.ways(case.id()).get(place).map(|way| &way.isolated) {
        Some(Isolated::Impossible) => words.push_str(", cannot be isolated"),
        Some(Isolated::Unknown) => words.push_str(", isolator not known"),
        Some(Isolated::By(_)) | None => {}
    }
    words
}
