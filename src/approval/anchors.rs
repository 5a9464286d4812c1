//! Where links and bookmarks of the document lead: the first page of each part.

use std::sync::Arc;

use super::{Document, Part};
use crate::pages::{Block, Target};

/// The anchor of an enclosure's pages.
pub(super) fn of_enclosure(designation: &str) -> Arc<str> {
    format!("enclosure {designation}").into()
}

impl Document<'_> {
    /// The anchor of a part; none for one that there is not.
    pub(super) fn anchor(&self, part: &Part) -> Option<Arc<str>> {
        Some(match part {
            Part::Cover => "cover".into(),
            Part::Contents => "contents".into(),
            Part::Enclosure(place, _) => of_enclosure(&self.prepared.decided(*place)?.1.designation),
            Part::Devices(location, _) => format!("isolators at {location}").into(),
            Part::Standing(_) => "standing notices".into(),
            Part::Rest => "no notice".into(),
        })
    }

    /// What stands before a part: its anchor with its bookmark, and before the first of several of a kind that of them all.
    pub(super) fn anchors(&self, number: usize) -> Vec<Block> {
        let Some(part) = self.parts.get(number) else { return Vec::new() };
        let before = number.checked_sub(1).and_then(|before| self.parts.get(before));
        let first = before.is_none_or(|before| std::mem::discriminant(before) != std::mem::discriminant(part));
        let (group, depth, title) = match part {
            Part::Cover => (None, 0, "Cover".to_owned()),
            Part::Contents => (None, 0, "Contents".to_owned()),
            Part::Enclosure(place, _) => {
                let designation = self.prepared.decided(*place).map(|(_, enclosure)| enclosure.designation.clone());
                (Some("Enclosures"), 1, designation.unwrap_or_default())
            }
            Part::Devices(location, _) if location.is_empty() => {
                (Some("Isolators"), 1, "location not known".to_owned())
            }
            Part::Devices(location, _) => (Some("Isolators"), 1, location.clone()),
            Part::Standing(_) => (None, 0, "Standing notices".to_owned()),
            Part::Rest => (None, 0, "No notice, and left out".to_owned()),
        };
        let group = group.filter(|_| first).map(|name| Block::Anchor(Target::bookmarked(name, 0, name)));
        let own = self.anchor(part).map(|name| Block::Anchor(Target::bookmarked(name, depth, title)));
        group.into_iter().chain(own).collect()
    }
}
