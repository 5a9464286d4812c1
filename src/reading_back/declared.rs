//! What the survey's own rows declare, gathered without the stages that decide and word: a mistake of theirs would
//! otherwise agree with itself.

use std::collections::{BTreeMap, BTreeSet};

use super::words::plain;
use crate::network::spelling::{self, Incoming};
use crate::notice::{Notice, Subject};
use crate::survey::value::{DeviceRef, Isolation};
use crate::survey::{Enclosure, Survey};

/// Two names that must stand together on a notice: a device and its place, or a circuit and what it feeds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Declared {
    /// The device, or the circuit.
    pub name: String,
    /// The place, or the enclosure; empty if it need not stand there.
    pub place: String,
    /// Number of the record in the survey, from 1.
    pub record: u32,
}

/// What every notice must name, by what the notice is about.
#[derive(Clone, Debug, Default)]
pub struct Declarations {
    enclosures: BTreeMap<String, Vec<Declared>>,
    devices: BTreeMap<(String, String), Vec<Declared>>,
}

impl Declarations {
    /// What the rows of a survey declare.
    #[must_use]
    pub fn of(survey: &Survey) -> Self {
        let mut declarations = Self::default();
        for enclosure in &survey.enclosures {
            declarations.add(enclosure);
        }
        declarations
    }

    /// What a notice must name.
    #[must_use]
    pub fn about(&self, notice: &Notice) -> &[Declared] {
        let found = match notice.subject {
            Subject::Enclosure => self.enclosures.get(&plain(&notice.designation)),
            // Nothing in the survey speaks of it.
            Subject::Standing => None,
            Subject::Device => self.devices.get(&device_key(&notice.designation, &notice.area)),
        };
        found.map_or(&[], Vec::as_slice)
    }

    fn add(&mut self, enclosure: &Enclosure) {
        let mut devices: Vec<Declared> = Vec::new();
        let key = |device: &DeviceRef| device_key(&device.designation, &device.location);
        let isolators: BTreeSet<_> =
            enclosure.rows.iter().flat_map(|row| named(row.isolation.as_ref())).map(key).collect();
        for row in &enclosure.rows {
            let record = row.record + 1;
            for device in named(row.isolation.as_ref()) {
                // A declaration of the enclosure lets the places be left out.
                let place = if enclosure.particulars().no_confusion.is_some() { "" } else { &device.location };
                devices.push(Declared {
                    name: device.designation.as_ref().to_owned(),
                    place: place.to_owned(),
                    record,
                });
            }
            // A device upstream that is the isolator of a row here feeds that row's circuit, not this one.
            let upstream = named(row.further().upstream.as_ref()).filter(|device| !isolators.contains(&key(device)));
            // It need not be what feeds the circuit either: then the part that it makes dead stands for it.
            let own = named(row.isolation.as_ref()).map(|device| &*device.designation);
            let part = row.further().live_after.as_deref().filter(|part| !says_nothing(part));
            let is_untold = upstream.clone().count() > 1;
            let part = part.filter(|part| match spelling::incoming_terminals(part, own.clone()) {
                Incoming::Nothing => true,
                Incoming::Some => is_untold,
                Incoming::All => false,
            });
            let of_upstream = part.map_or(&*row.circuit, str::trim);
            let own = named(row.isolation.as_ref()).map(|device| (device, &*row.circuit));
            for (device, name) in own.chain(upstream.map(|device| (device, of_upstream))) {
                // Such a device is one only within its enclosure.
                if device.location.is_empty() || spelling::is_here(&device.location) {
                    continue;
                }
                let circuit = Declared { name: name.to_owned(), place: enclosure.designation.clone(), record };
                self.devices.entry(key(device)).or_default().push(circuit);
            }
        }
        self.enclosures.insert(plain(&enclosure.designation), devices);
    }
}

/// Whether a cell says no more than that nothing stays live.
fn says_nothing(part: &str) -> bool {
    matches!(part.trim().to_lowercase().as_str(), "" | "nothing" | "none" | "no" | "-" | "n/a" | "nil")
}

fn named(isolation: Option<&Isolation>) -> impl Iterator<Item = &DeviceRef> + Clone {
    let devices: &[DeviceRef] = match isolation {
        Some(Isolation::By(devices)) => devices,
        Some(Isolation::Impossible | Isolation::Unknown) | None => &[],
    };
    devices.iter()
}

fn device_key(designation: &str, location: &str) -> (String, String) {
    (plain(designation), spelling::key(&plain(location)))
}
