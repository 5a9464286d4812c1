//! Which old version of a notice belongs to which new one: by number, but where positions were renumbered by place.

use std::collections::{HashMap, HashSet, VecDeque};
use std::sync::Arc;

use super::points::points;
use super::{Devices, Version};
use crate::notice::Subject;

/// New versions, each to be taken once by the old version that it belongs to.
pub(super) struct Paired<'a> {
    versions: Vec<Option<Version<'a>>>,
    places: HashMap<&'a str, VecDeque<usize>>,
    /// By the number of an old version the new one at its place, which bears another number.
    at_place: HashMap<&'a str, usize>,
    /// All of those.
    reserved: HashSet<usize>,
    /// The enclosures that any new version is about, or names as fed.
    enclosures: HashSet<String>,
    /// The isolators of the new survey.
    devices: Option<Arc<Devices>>,
}

impl<'a> Paired<'a> {
    /// New versions for these old ones.
    pub(super) fn of(old: &[Version<'a>], new: Vec<Version<'a>>) -> Self {
        let mut places: HashMap<&str, VecDeque<usize>> = HashMap::with_capacity(new.len());
        for (place, version) in new.iter().enumerate() {
            places.entry(version.number).or_default().push_back(place);
        }
        let mut enclosures: HashSet<String> = HashSet::new();
        for version in &new {
            match version.subject {
                Subject::Enclosure => drop(enclosures.insert(version.designation.to_owned())),
                Subject::Device => enclosures.extend(points(&version.says).iter().map(|point| point.place.to_owned())),
                Subject::Standing => {}
            }
        }
        let devices = new.iter().find_map(|version| version.needs.as_ref()).map(|needs| Arc::clone(needs.devices()));
        let at_place = renumbered(old, &new, &places);
        let reserved = at_place.values().copied().collect();
        Self { versions: new.into_iter().map(Some).collect(), places, at_place, reserved, enclosures, devices }
    }

    /// The new version of the old one of a number.
    pub(super) fn take(&mut self, number: &str) -> Option<Version<'a>> {
        if let Some(place) = self.at_place.get(number) {
            return self.versions.get_mut(*place)?.take();
        }
        let place = self.places.get_mut(number)?.pop_front()?;
        if self.reserved.contains(&place) {
            return None;
        }
        self.versions.get_mut(place)?.take()
    }

    /// Whether there is a new version for the old one of a number, where that bears another.
    pub(super) fn knows(&self, number: &str) -> bool {
        self.at_place.contains_key(number)
    }

    /// Whether a new version is about an enclosure, or says that it is fed.
    pub(super) fn has_enclosure(&self, designation: &str) -> bool {
        self.enclosures.contains(designation)
    }

    /// Whether the isolator of an old notice is still there and disconnects all that it says, so that only the notice went.
    pub(super) fn has_device_of(&self, old: &Version<'_>) -> bool {
        let said = points(&old.says);
        let circuits = said.iter().map(|point| (point.designation, point.place));
        self.devices.as_ref().is_some_and(|all| all.disconnects((old.designation, old.area), circuits))
    }

    /// Those that nobody took, in their order.
    pub(super) fn rest(self) -> impl Iterator<Item = Version<'a>> {
        self.versions.into_iter().flatten()
    }
}

/// The notices of enclosures that hang where one is wanted, but by another number: positions are counted, so that taking the
/// first of them away renumbers the others.
fn renumbered<'a>(
    old: &[Version<'a>],
    new: &[Version<'a>],
    places: &HashMap<&'a str, VecDeque<usize>>,
) -> HashMap<&'a str, usize> {
    let is_enclosure = |version: &&Version<'_>| version.subject == Subject::Enclosure;
    let same = |old: &Version<'a>| places.get(old.number)?.front().copied();
    let holds =
        |old: &Version<'a>| same(old).filter(|place| new.get(*place).is_some_and(|new| new.is_at_the_place_of(old)));
    let taken: HashSet<usize> = old.iter().filter(is_enclosure).filter_map(holds).collect();
    let mut open: HashMap<(&str, &str, &str), VecDeque<usize>> = HashMap::new();
    for (place, new) in new.iter().enumerate().filter(|(place, new)| is_enclosure(new) && !taken.contains(place)) {
        open.entry((new.designation, new.area, new.position)).or_default().push_back(place);
    }
    let one = |old: &Version<'a>| -> Option<(&'a str, usize)> {
        let key = (old.designation, old.area, old.position);
        Some((old.number, open.get_mut(&key)?.pop_front()?))
    };
    old.iter().filter(is_enclosure).filter(|old| holds(old).is_none()).filter_map(one).collect()
}
