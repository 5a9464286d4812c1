//! Devices: one for every designation and location, with what the rows say of it.

use std::collections::HashMap;
use std::fmt::Write;
use std::sync::Arc;

use foldhash::fast::RandomState;

use super::graph::DescribedBy;
use super::id::{DeviceId, EnclosureId};
use super::spelling;
use crate::finding::{Finding, code};
use crate::length::Length;
use crate::survey::value::{DeviceKind, DeviceRef, Environment, NoticeSize, Poles, RecordLink, Surface};
use crate::survey::{Column, Row, Survey};
use crate::table::Keyed;

/// Where something is said: the row, and the enclosure to which it belongs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Said {
    /// The enclosure.
    pub enclosure: EnclosureId,
    /// The record of the survey.
    pub record: u32,
}

/// A fact with the row that first states it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Told<T> {
    /// The fact.
    pub value: T,
    /// The row of the survey that states it; `None` where the supplies file does.
    pub said: Option<Said>,
}

/// What the supplies file asks of the notice that a device itself bears.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct OwnNotice {
    /// Wanted size.
    pub size: Option<NoticeSize>,
    /// From how far it is read.
    pub reading_distance: Option<Length>,
    /// What it must stand up to.
    pub environment: Option<Environment>,
    /// What it is fixed on.
    pub surface: Option<Surface>,
    /// Where its code leads.
    pub record_link: RecordLink,
}

impl OwnNotice {
    /// What is asked where nothing is.
    #[must_use]
    pub fn nothing() -> &'static Self {
        static NOTHING: OwnNotice = OwnNotice {
            size: None,
            reading_distance: None,
            environment: None,
            surface: None,
            record_link: RecordLink::Unset,
        };
        &NOTHING
    }
}

/// A device that can part a circuit from its supply.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Device {
    /// Designation, as first spelt.
    pub designation: Arc<str>,
    /// Where it is, as first spelt; empty if the survey does not say.
    pub location: Arc<str>,
    /// What kind of device.
    pub kind: Option<Told<DeviceKind>>,
    /// What it switches.
    pub poles: Option<Told<Poles>>,
    /// Whether it may be opened under load.
    pub on_load: Option<Told<bool>>,
    /// How it is secured off.
    pub locking: Option<Told<Arc<str>>>,
    /// True where a row names it as its isolator, false where it is only named as upstream of one.
    pub isolates: bool,
    /// The row that first names it.
    pub first: Said,
    /// Which file describes it.
    pub described_by: DescribedBy,
    /// What the supplies file asks of its own notice, where it describes the device.
    pub own_notice: Option<Arc<OwnNotice>>,
}

impl Device {
    /// Designation and location in one phrase, for messages: `Q7 (Switchroom 1)`.
    #[must_use]
    pub fn phrase(&self) -> String {
        if self.location.is_empty() {
            self.designation.to_string()
        } else {
            format!("{} ({})", self.designation, self.location)
        }
    }
}

/// What is compared of a place.
#[derive(Default)]
struct Place {
    /// As it is compared.
    key: String,
    /// As it looks.
    rough: String,
    /// True of a place within the enclosure whose row names it, and of none.
    is_own: bool,
    /// The text, kept so that nothing else comes to lie where it does.
    _kept: Arc<str>,
}

/// The places met so far, each worked out once: rows that say one alike share its text.
#[derive(Default)]
struct Places(HashMap<usize, Place, RandomState>);

impl Places {
    fn number(location: &Arc<str>) -> usize {
        Arc::as_ptr(location).addr()
    }

    fn note(&mut self, location: &Arc<str>) {
        self.0.entry(Self::number(location)).or_insert_with(|| {
            let mut place = Place {
                is_own: location.is_empty() || spelling::is_own(location),
                _kept: Arc::clone(location),
                ..Place::default()
            };
            spelling::push_key(&mut place.key, location);
            spelling::push_rough_place(&mut place.rough, location);
            place
        });
    }

    /// Whether it is a place within the enclosure whose row names it, or none.
    fn is_own(&self, location: &Arc<str>) -> bool {
        self.0.get(&Self::number(location)).is_some_and(|place| place.is_own)
    }

    /// Adds what tells a device from all others: designation and place, or the enclosure that says it where no place is said.
    fn push_key(&self, key: &mut String, designation: &str, location: &Arc<str>, enclosure: EnclosureId) {
        let Some(place) = self.0.get(&Self::number(location)) else { return };
        key.push_str(designation);
        key.push('\0');
        if place.is_own {
            // To write into a text in memory cannot fail.
            let _ = write!(key, "{}\0", enclosure.index());
        }
        key.push_str(&place.key);
    }

    /// Adds what several devices have in common that look like one.
    fn push_rough_key(&self, key: &mut String, device: &Device) {
        let Some(place) = self.0.get(&Self::number(&device.location)) else { return };
        spelling::push_rough_key(key, &device.designation);
        key.push('\0');
        key.push_str(&place.rough);
    }
}

/// The devices met so far, found again by designation and location.
#[derive(Default)]
pub(super) struct Devices {
    pub(super) list: Vec<Device>,
    by_key: Keyed<DeviceId>,
    by_rough_key: Keyed<DeviceId>,
    places: Places,
    buffer: String,
}

impl Devices {
    /// Makes room for so many more.
    pub(super) fn reserve(&mut self, more: usize) {
        self.list.reserve(more);
        self.by_key.reserve(more);
        self.by_rough_key.reserve(more);
    }

    /// The device that a row means. A device without a place of its own is one only within its enclosure.
    pub(super) fn intern(
        &mut self,
        named: &DeviceRef,
        said: Said,
        survey: &Survey,
        findings: &mut Vec<Finding>,
    ) -> DeviceId {
        self.buffer.clear();
        self.places.note(&named.location);
        self.places.push_key(&mut self.buffer, &named.designation, &named.location, said.enclosure);
        let has = |id| {
            self.is_keyed(id, |key, device| {
                self.places.push_key(key, &device.designation, &device.location, device.first.enclosure);
            })
        };
        if let Some(id) = self.by_key.find(&self.buffer, has) {
            return id;
        }
        let id = DeviceId::new(self.list.len());
        self.by_key.insert(&self.buffer, id);
        self.list.push(Device {
            designation: Arc::clone(&named.designation),
            location: Arc::clone(&named.location),
            kind: None,
            poles: None,
            on_load: None,
            locking: None,
            isolates: false,
            first: said,
            described_by: DescribedBy::Survey,
            own_notice: None,
        });
        self.compare_spelling(id, survey, findings);
        id
    }

    /// Whether the key of a device is the one at hand.
    fn is_keyed(&self, id: DeviceId, push: impl FnOnce(&mut String, &Device)) -> bool {
        let Some(device) = self.list.get(id.index()) else { return false };
        let mut key = String::with_capacity(self.buffer.len());
        push(&mut key, device);
        key == self.buffer
    }

    /// Reports a new device that looks like an earlier one but for punctuation.
    fn compare_spelling(&mut self, id: DeviceId, survey: &Survey, findings: &mut Vec<Finding>) {
        let Some(device) = self.list.get(id.index()) else { return };
        if self.places.is_own(&device.location) {
            return;
        }
        self.buffer.clear();
        self.places.push_rough_key(&mut self.buffer, device);
        let has = |id| self.is_keyed(id, |key, device| self.places.push_rough_key(key, device));
        let Some(earlier) = self.by_rough_key.find(&self.buffer, has) else {
            self.by_rough_key.insert(&self.buffer, id);
            return;
        };
        let Some(other) = self.list.get(earlier.index()) else { return };
        let message = format!(
            "`{}` and `{}` are taken for two devices, and differ only in the way they are written",
            device.phrase(),
            other.phrase()
        );
        findings.push(
            Finding::new(code::DEVICE_SPELT_TWO_WAYS, message)
                .help("write designation and location alike in every row if they mean one device")
                .at_row(survey, device.first, Column::IsolatorLocation),
        );
    }

    /// Adds what a row says of the devices that isolate it, and reports what contradicts an earlier row.
    pub(super) fn describe(
        &mut self,
        id: DeviceId,
        row: &Row,
        said: Said,
        survey: &Survey,
        findings: &mut Vec<Finding>,
    ) {
        let Some(device) = self.list.get_mut(id.index()) else { return };
        device.isolates = true;
        let clashes = [
            tell(&mut device.kind, row.device_kind, said).map(|earlier| (Column::DeviceKind, earlier)),
            tell(&mut device.poles, row.poles, said).map(|earlier| (Column::Poles, earlier)),
            tell(&mut device.on_load, row.on_load, said).map(|earlier| (Column::OnLoad, earlier)),
            tell_locking(&mut device.locking, row.locking.as_ref(), said).map(|earlier| (Column::Locking, earlier)),
        ];
        for (column, earlier) in clashes.into_iter().flatten() {
            findings.push(contradiction(device, column, said, earlier, survey));
        }
    }
}

/// Keeps the first statement of a fact; returns where it stands if this one differs.
fn tell<T: PartialEq>(known: &mut Option<Told<T>>, value: Option<T>, said: Said) -> Option<Said> {
    let value = value?;
    match known {
        Some(told) if told.value != value => told.said,
        Some(_) => None,
        None => {
            *known = Some(Told { value, said: Some(said) });
            None
        }
    }
}

/// The same for the words on locking, without regard to case and spacing.
fn tell_locking(known: &mut Option<Told<Arc<str>>>, words: Option<&Arc<str>>, said: Said) -> Option<Said> {
    let words = words?;
    match known {
        Some(told) if told.value == *words || spelling::key(&told.value) == spelling::key(words) => None,
        Some(told) => told.said,
        None => {
            *known = Some(Told { value: Arc::clone(words), said: Some(said) });
            None
        }
    }
}

fn contradiction(device: &Device, column: Column, here: Said, earlier: Said, survey: &Survey) -> Finding {
    let there = survey.enclosures.get(earlier.enclosure.index()).map_or("", |enclosure| enclosure.designation.as_str());
    let (this, that) = (survey.place(here.record, column), survey.place(earlier.record, column));
    let message = format!(
        "`{}` is described as `{}` here, and as `{}` in line {}, enclosure `{there}`",
        device.phrase(),
        this.cell,
        that.cell,
        that.line
    );
    Finding::new(code::DEVICE_CONTRADICTION, message)
        .help("correct one of the two rows, or the designation or location if two devices are meant")
        .at_row(survey, here, column)
}

/// Puts a finding at a cell of the survey, and names the enclosure.
pub(crate) trait AtRow {
    fn at_row(self, survey: &Survey, said: Said, column: Column) -> Self;
}

impl AtRow for Finding {
    fn at_row(mut self, survey: &Survey, said: Said, column: Column) -> Self {
        self.place = Some(survey.place(said.record, column));
        self.enclosure = survey.enclosures.get(said.enclosure.index()).map(|enclosure| enclosure.designation.clone());
        self
    }
}
