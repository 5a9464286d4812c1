//! Which row of the supplies file is meant by each device, supply and source that a survey names.

use rayon::prelude::*;

use super::designations::{Designations, Found};
use super::device::{AtRow, Device, Said};
use super::graph::DescribedBy;
use super::{Network, Supply, spelling};
use crate::finding::{Finding, code};
use crate::supplies::{DescribedDevice, Kind, Supplies};
use crate::survey::value::{DeviceRef, Isolation};
use crate::survey::{Column, Enclosure, Row, Survey};

/// The rows of the supplies file that the survey's things stand for, by their numbers.
#[derive(Default)]
pub(super) struct Meant {
    pub(super) devices: Vec<Option<usize>>,
    pub(super) supplies: Vec<Option<usize>>,
    pub(super) sources: Vec<Option<usize>>,
}

impl Meant {
    /// Nothing is described.
    pub(super) fn nothing(network: &Network) -> Self {
        Self {
            devices: vec![None; network.devices.len()],
            supplies: vec![None; network.supplies.len()],
            sources: vec![None; network.sources.len()],
        }
    }
}

/// Finds what the survey names in the supplies file, and reports what is not there.
pub(super) fn meant(
    survey: &Survey,
    supplies: &Supplies,
    names: &Designations,
    network: &mut Network,
    findings: &mut Vec<Finding>,
) -> Meant {
    let seeker = Seeker { survey, devices: &supplies.devices, names };
    let mut meant = Meant::default();
    let devices: Vec<_> = network.devices.par_iter().map(|device| seeker.device(device)).collect();
    for (row, finding) in devices {
        meant.devices.push(row);
        findings.extend(finding);
    }
    for supply in &mut network.supplies {
        let (row, finding) = seeker.supply(supply);
        if row.is_some() {
            supply.described_by = DescribedBy::SuppliesFile;
        }
        meant.supplies.push(row);
        findings.extend(finding);
    }
    meant.sources.extend(network.sources.iter().map(|source| seeker.source(source.word())));
    meant
}

/// What to do about a name that no row bears; a row that looks alike, or one at another location, is named.
pub(super) fn help(names: &Designations, devices: &[DescribedDevice], name: &str) -> String {
    let rows = name.split_once('@').map_or(&[][..], |(designation, _)| names.rows(designation));
    if !rows.is_empty() {
        let locations = rows.iter().map(|row| devices.get(*row).map_or("", |device| &device.location));
        return format!("the supplies file has that designation {}", places(locations));
    }
    match names.alike(name).and_then(|row| devices.get(row)) {
        Some(alike) => format!("did you mean `{}`? Names are told apart by punctuation", alike.designation),
        None => format!("give `{name}` a row of the supplies file, or correct the name"),
    }
}

struct Seeker<'a> {
    survey: &'a Survey,
    devices: &'a [DescribedDevice],
    names: &'a Designations,
}

impl Seeker<'_> {
    fn device(&self, device: &Device) -> (Option<usize>, Option<Finding>) {
        let rows = self.names.rows(&device.designation);
        let columns = self.cells_of(device);
        if rows.is_empty() {
            return (None, Some(self.not_described(device, columns.0)));
        }
        let found = if device.location.is_empty() {
            self.names.find(&device.designation)
        } else if spelling::is_here(&device.location) {
            self.inside(rows, device.first)
        } else {
            match self.names.find_at(&device.designation, &device.location) {
                Found::Nowhere => self.without_location(rows),
                found @ (Found::At(_) | Found::Several(_)) => found,
            }
        };
        match found {
            Found::At(row) => (Some(row), None),
            Found::Several(_) => {
                let help = "give the location, or a designation that only one device bears";
                (None, self.several(&device.phrase(), rows, device.first, columns.0, help))
            }
            Found::Nowhere => (None, Some(self.elsewhere(device, rows, columns.1))),
        }
    }

    /// The only row of a designation, where it says no location.
    fn without_location(&self, rows: &[usize]) -> Found {
        match rows {
            [row] if self.location(*row).is_empty() => Found::At(*row),
            [..] => Found::Nowhere,
        }
    }

    /// The one row of a designation whose location lies in the enclosure of a survey's row.
    fn inside(&self, rows: &[usize], said: Said) -> Found {
        let Some(enclosure) = self.survey.enclosures.get(said.enclosure.index()) else { return Found::Nowhere };
        let is_inside =
            |row: &usize| spelling::is_inside(self.location(*row), enclosure.area.as_deref(), &enclosure.designation);
        let mut inside = rows.iter().copied().filter(is_inside);
        match (inside.next(), inside.next()) {
            (Some(row), None) => Found::At(row),
            (Some(row), Some(_)) => Found::Several(row),
            (None, _) => self.without_location(rows),
        }
    }

    fn supply(&self, supply: &Supply) -> (Option<usize>, Option<Finding>) {
        let name = &supply.designation;
        match self.names.find(name) {
            Found::At(row) => (Some(row), None),
            Found::Several(_) => {
                let rows = self.names.rows(name);
                let help = format!("write `{name}@` and the location of the one that is meant");
                (None, self.several(name, rows, supply.first, Column::FedFrom, &help))
            }
            Found::Nowhere => {
                let message = format!("`{name}` feeds circuits, and the supplies file does not describe it");
                let finding = Finding::new(code::SUPPLY_NOT_DESCRIBED, message)
                    .help(help(self.names, self.devices, name))
                    .at_row(self.survey, supply.first, Column::FedFrom);
                (None, Some(Finding { enclosure: None, ..finding }))
            }
        }
    }

    /// A source may be given in a word, so that one that is not found is nothing to report.
    fn source(&self, word: &str) -> Option<usize> {
        let row = self.names.find(word).one()?;
        let kind = self.devices.get(row)?.kind;
        matches!(kind, Some(Kind::Source | Kind::Ups)).then_some(row)
    }

    /// The cells that first name a device, those of its designation and location.
    fn cells_of(&self, device: &Device) -> (Column, Column) {
        let row = row_of(self.survey, device.first);
        match row.is_none_or(|row| names_device(row.isolation.as_ref(), device)) {
            true => (Column::Isolator, Column::IsolatorLocation),
            false => (Column::UpstreamIsolator, Column::UpstreamLocation),
        }
    }

    fn location(&self, row: usize) -> &str {
        self.devices.get(row).map_or("", |device| device.location.as_str())
    }

    fn not_described(&self, device: &Device, column: Column) -> Finding {
        let does = if device.isolates { "isolates circuits" } else { "is said to isolate what stays live" };
        let message = format!("`{}` {does}, and the supplies file does not describe it", device.phrase());
        self.about_device(Finding::new(code::ISOLATOR_NOT_DESCRIBED, message), device, column).help(help(
            self.names,
            self.devices,
            &device.designation,
        ))
    }

    fn elsewhere(&self, device: &Device, rows: &[usize], column: Column) -> Finding {
        let message = format!(
            "`{}` is not described: the supplies file has `{}` {}",
            device.phrase(),
            device.designation,
            self.places(rows)
        );
        self.about_device(Finding::new(code::DEVICE_AT_ANOTHER_LOCATION, message), device, column)
            .help("write the location alike in both files if one device is meant, or give this one a row of its own")
    }

    /// Rows that cannot be told apart at all were reported when they were read.
    fn several(&self, name: &str, rows: &[usize], said: Said, column: Column, help: &str) -> Option<Finding> {
        if Designations::is_repeated(rows, self.devices) {
            return None;
        }
        let message =
            format!("`{name}` may mean any of {} devices: the supplies file has it {}", rows.len(), self.places(rows));
        let finding =
            Finding::new(code::DESIGNATION_MEANS_SEVERAL, message).help(help).at_row(self.survey, said, column);
        Some(Finding { enclosure: None, ..finding })
    }

    fn about_device(&self, finding: Finding, device: &Device, column: Column) -> Finding {
        Finding { enclosure: None, ..finding.at_row(self.survey, device.first, column) }
    }

    fn places(&self, rows: &[usize]) -> String {
        places(rows.iter().map(|row| self.location(*row)))
    }
}

/// Where devices are, in a phrase for messages; of many, the first few.
pub(super) fn places<'a>(locations: impl ExactSizeIterator<Item = &'a str>) -> String {
    const SHOWN: usize = 3;
    let further = locations.len().saturating_sub(SHOWN);
    let phrase = |location: &str| {
        if location.is_empty() { "without a location".to_owned() } else { format!("at `{location}`") }
    };
    let shown: Vec<_> = locations.take(SHOWN).map(phrase).collect();
    let shown = shown.join(" and ");
    if further == 0 { shown } else { format!("{shown} and at {further} more") }
}

fn row_of(survey: &Survey, said: Said) -> Option<&Row> {
    let enclosure: &Enclosure = survey.enclosures.get(said.enclosure.index())?;
    let place = enclosure.rows.partition_point(|row| row.record < said.record);
    enclosure.rows.get(place).filter(|row| row.record == said.record)
}

fn names_device(isolation: Option<&Isolation>, device: &Device) -> bool {
    let is_it = |named: &DeviceRef| named.designation == device.designation && named.location == device.location;
    match isolation {
        Some(Isolation::By(named)) => named.iter().any(is_it),
        Some(Isolation::Impossible | Isolation::Unknown) | None => false,
    }
}
