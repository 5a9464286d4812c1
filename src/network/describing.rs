//! What the supplies file adds to the devices that a survey names, and where the two contradict each other.

use std::sync::Arc;

use super::device::{AtRow, Device, OwnNotice, Said, Told};
use super::graph::DescribedBy;
use super::spelling;
use crate::finding::{Finding, code};
use crate::supplies::{DescribedDevice, Kind, Supplies, SupplyColumn};
use crate::survey::value::Poles;
use crate::survey::{Column, Survey};

/// Adds what a row of the supplies file says to a device of the survey; where both speak, the survey's word stays, and
/// what differs is reported at its cell.
pub(super) fn describe(
    device: &mut Device,
    described: &DescribedDevice,
    supplies: &Supplies,
    survey: &Survey,
    findings: &mut Vec<Finding>,
) {
    device.described_by = DescribedBy::SuppliesFile;
    device.own_notice = Some(Arc::new(OwnNotice {
        size: described.size,
        reading_distance: described.reading_distance,
        environment: described.environment,
        surface: described.surface,
        record_link: described.record_link.clone(),
    }));
    let clashes =
        [clash_of_kind(device, described), clash_of_poles(device, described), clash_of_locking(device, described)];
    for Clash { said, words, columns: (column, other) } in clashes.into_iter().flatten() {
        let place = supplies.place(described.record, other);
        let here = survey.place(said.record, column);
        let message = format!(
            "`{}` is described as `{}` here, and as `{words}` in line {} of the supplies file",
            device.phrase(),
            here.cell,
            place.line
        );
        findings.push(
            Finding::new(code::DEVICE_CONTRADICTION, message)
                .help("correct one of the two rows, or the designation or location if two devices are meant")
                .at_row(survey, said, column),
        );
    }
    complete(device, described);
}

/// What the two files say differently of a device.
struct Clash {
    /// Where the survey says it.
    said: Said,
    /// What the supplies file says instead.
    words: String,
    columns: (Column, SupplyColumn),
}

fn clash_of_kind(device: &Device, described: &DescribedDevice) -> Option<Clash> {
    let (told, kind) = (device.kind.as_ref()?, described.kind?);
    let differ = match kind {
        Kind::Device(kind) => kind != told.value,
        // A changeover with an off position is a switch-disconnector too, and any device may be an isolator.
        Kind::Isolator | Kind::Changeover => false,
        Kind::Source | Kind::Switch | Kind::Transformer | Kind::Ups | Kind::Converter | Kind::Busbar => true,
    };
    clash(told.said.filter(|_| differ), kind.name(), (Column::DeviceKind, SupplyColumn::Kind))
}

fn clash_of_poles(device: &Device, described: &DescribedDevice) -> Option<Clash> {
    let (told, poles) = (device.poles.as_ref()?, described.poles?);
    let differ = told.value != poles;
    clash(told.said.filter(|_| differ), poles_words(poles), (Column::Poles, SupplyColumn::Poles))
}

fn clash_of_locking(device: &Device, described: &DescribedDevice) -> Option<Clash> {
    let (told, words) = (device.locking.as_ref()?, described.locking.as_deref()?);
    let differ = spelling::key(&told.value) != spelling::key(words);
    clash(told.said.filter(|_| differ), words, (Column::Locking, SupplyColumn::Locking))
}

fn clash(said: Option<Said>, words: impl Into<String>, columns: (Column, SupplyColumn)) -> Option<Clash> {
    Some(Clash { said: said?, words: words.into(), columns })
}

fn poles_words(poles: Poles) -> String {
    format!("{}{}", poles.lines, if poles.neutral { "+N" } else { "" })
}

/// Fills in what the survey leaves open.
fn complete(device: &mut Device, described: &DescribedDevice) {
    if device.kind.is_none() {
        device.kind = described.kind.and_then(Kind::device).map(|value| Told { value, said: None });
    }
    if device.poles.is_none() {
        device.poles = described.poles.map(|value| Told { value, said: None });
    }
    if device.locking.is_none() {
        device.locking = described.locking.as_deref().map(|value| Told { value: value.into(), said: None });
    }
}

/// Puts a finding at a cell of the supplies file.
pub(super) trait AtRecord {
    fn at_record(self, supplies: &Supplies, record: u32, column: SupplyColumn) -> Self;
}

impl AtRecord for Finding {
    fn at_record(self, supplies: &Supplies, record: u32, column: SupplyColumn) -> Self {
        self.at(supplies.place(record, column))
    }
}
