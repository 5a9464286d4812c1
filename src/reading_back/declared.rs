//! What the survey's own rows declare, gathered without the stages that decide and word: a mistake of theirs would
//! otherwise agree with itself.

use std::collections::{BTreeMap, BTreeSet};

use super::words::plain;
use crate::network::spelling::{self, Incoming};
use crate::network::{Device, DeviceId, EnclosureId, Isolated, Network, Way};
use crate::notice::{Notice, Subject, part_in_two};
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
    /// What the rows of a survey declare, which was joined to this network.
    #[must_use]
    pub fn of(survey: &Survey, network: &Network) -> Self {
        let mut declarations = Self::default();
        for (number, enclosure) in survey.enclosures.iter().enumerate() {
            declarations.add(enclosure, network, network.ways(EnclosureId::new(number)));
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

    fn add(&mut self, enclosure: &Enclosure, network: &Network, ways: &[Way]) {
        let mut devices: Vec<Declared> = Vec::new();
        let key = |device: &DeviceRef| device_key(&device.designation, &device.location);
        let isolators: BTreeSet<_> =
            enclosure.rows.iter().flat_map(|row| named(row.isolation.as_ref())).map(key).collect();
        for (row, way) in enclosure.rows.iter().zip(ways) {
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
            let incoming = part.map_or(Incoming::All, |part| spelling::incoming_terminals(part, own.clone()));
            let is_of_circuit = |device: &DeviceRef| match incoming {
                Incoming::Nothing => false,
                Incoming::Some if is_untold => false,
                Incoming::Some | Incoming::All => !is_elsewhere(network, way, device),
            };
            let of_upstream = |device: &DeviceRef| match part {
                Some(part) if !is_of_circuit(device) => part_in_two(part.trim()).0,
                Some(_) | None => row.circuit.to_string(),
            };
            let own = named(row.isolation.as_ref()).map(|device| (device, row.circuit.to_string()));
            for (device, name) in own.chain(upstream.map(|device| (device, of_upstream(device)))) {
                // Such a device is one only within its enclosure.
                if device.location.is_empty() || spelling::is_own(&device.location) {
                    continue;
                }
                let circuit = Declared { name, place: enclosure.designation.clone(), record };
                self.devices.entry(key(device)).or_default().push(circuit);
            }
        }
        self.enclosures.insert(plain(&enclosure.designation), devices);
    }
}

/// Whether a device upstream of a row does not feed its isolators by the supplies file.
fn is_elsewhere(network: &Network, way: &Way, device: &DeviceRef) -> bool {
    let is_it = |id: &&DeviceId| network.device(**id).is_some_and(|known| is_same(known, device));
    let upstream = way.upstream.as_deref().map_or(&[][..], Isolated::devices);
    upstream.iter().find(is_it).is_some_and(|id| network.is_off_the_way(*id, way.isolated.devices()))
}

fn is_same(known: &Device, device: &DeviceRef) -> bool {
    device_key(&known.designation, &known.location) == device_key(&device.designation, &device.location)
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
