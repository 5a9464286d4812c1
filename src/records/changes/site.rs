//! What changed on site: each isolator that moved, was renamed, came or went, with the notices that it makes false.

use std::collections::{BTreeMap, BTreeSet, HashMap};

use super::{Change, What};
use crate::notice::Subject;

/// One isolator that is not as notices name it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SiteChange<'a> {
    /// What became of it: a `What::Point...`.
    pub what: What,
    /// Its designation; of a renamed one the old.
    pub designation: &'a str,
    /// The old place; of a renamed one its place. Empty for one that came.
    pub from: &'a str,
    /// The new place; of a renamed one the new designation. Empty for one that went.
    pub to: &'a str,
    /// The notices that are false by it, in the order in which people count.
    pub makes_false: Vec<&'a str>,
}

impl SiteChange<'_> {
    /// `Q7: Switchroom 1 -> Switchroom 2`
    #[must_use]
    pub fn in_words(&self) -> String {
        let at = |place: &str| if place.is_empty() { String::new() } else { format!(" at {place}") };
        let named = |place: &str| if place.is_empty() { "no place named".to_owned() } else { place.to_owned() };
        if self.what == What::PointMoved {
            format!("{}: {} -> {}", self.designation, named(self.from), named(self.to))
        } else if self.what == What::PointRenamed {
            format!("{} -> {}{}", self.designation, self.to, at(self.from))
        } else if self.what == What::PointAdded {
            format!("{}{} must be opened as well", self.designation, at(self.to))
        } else {
            format!("{}{} is named no more", self.designation, at(self.from))
        }
    }
}

type Key<'a> = (What, &'a str, &'a str, &'a str);

/// What changed on site, by the differences of the enclosures' notices. A notice that names an isolator in a caution alone,
/// and the isolator's own notice, are false by it too.
#[must_use]
pub fn on_site<'a>(changed: &'a [Change<'a>]) -> Vec<SiteChange<'a>> {
    let mut found: BTreeMap<Key<'a>, BTreeSet<usize>> = BTreeMap::new();
    let of_enclosures = changed.iter().enumerate().filter(|(_, change)| change.subject() == Some(Subject::Enclosure));
    for (place, change) in of_enclosures {
        for one in &change.differences {
            let (at, old, new) = (one.at.as_str(), one.old.as_str(), one.new.as_str());
            let key = if matches!(one.what, What::PointAdded | What::PointMoved | What::PointGone) {
                (one.what, at, old, new)
            } else if one.what == What::PointRenamed {
                (one.what, old, at, new)
            } else {
                continue;
            };
            found.entry(key).or_default().insert(place);
        }
    }
    let keys: Vec<Key<'a>> = found.keys().copied().filter(|key| key.0 != What::PointAdded).collect();
    let mut named: HashMap<&str, Vec<Key<'a>>> = HashMap::new();
    for key in keys {
        named.entry(key.1).or_default().push(key);
    }
    let lengths: BTreeSet<usize> = named.keys().map(|name| name.len()).collect();
    for (place, change) in changed.iter().enumerate() {
        for key in also_false(change, &named, &lengths) {
            found.entry(key).or_default().insert(place);
        }
    }
    let one = |((what, designation, from, to), places): (Key<'a>, BTreeSet<usize>)| {
        let mut makes_false: Vec<&str> = places.iter().filter_map(|&at| Some(changed.get(at)?.number)).collect();
        makes_false.sort_by(|one, other| alphanumeric_sort::compare_str(one, other));
        SiteChange { what, designation, from, to, makes_false }
    };
    found.into_iter().map(one).collect()
}

/// The changes on site by which a notice is false beside those of its own points: it is the isolator's own, or says of it in
/// a text that is gone.
fn also_false<'a>(
    change: &'a Change<'a>,
    named: &HashMap<&str, Vec<Key<'a>>>,
    lengths: &BTreeSet<usize>,
) -> Vec<Key<'a>> {
    if change.subject() == Some(Subject::Device) && change.new.is_none() {
        let own = named.get(change.designation()).into_iter().flatten();
        return own.filter(|(_, _, from, _)| *from == change.area()).copied().collect();
    }
    let gone = change.differences.iter().filter(|one| {
        matches!(one.what, What::CautionGone | What::RemarkGone | What::Reason | What::Headline) && !one.old.is_empty()
    });
    let mut keys = Vec::new();
    for text in gone.map(|one| one.old.as_str()) {
        let starts = text.char_indices().map(|(start, _)| start).filter(|&start| is_edge(text, start));
        for name in starts.flat_map(|start| {
            lengths
                .iter()
                .filter_map(move |length| text.get(start..start + length).filter(|_| is_edge(text, start + length)))
        }) {
            let of_name = named.get(name).into_iter().flatten();
            keys.extend(of_name.filter(|(_, _, from, _)| from.is_empty() || text.contains(from)).copied());
        }
    }
    keys
}

/// Whether a designation may begin or end at a place of a text: not between two letters or figures.
fn is_edge(text: &str, at: usize) -> bool {
    let (before, after) = text.split_at_checked(at).unwrap_or((text, ""));
    let joins = |c: Option<char>| c.is_some_and(char::is_alphanumeric);
    !(joins(before.chars().next_back()) && joins(after.chars().next()))
}
