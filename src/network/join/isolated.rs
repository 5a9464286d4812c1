//! What isolates each row: its devices and those upstream, and whether the survey says where they are.

use std::borrow::Cow;

use crate::finding::{Finding, Place, code};
use crate::network::device::{AtRow, Devices, Said};
use crate::network::id::DeviceId;
use crate::network::{Few, Isolated};
use crate::survey::value::{DeviceRef, Isolation};
use crate::survey::{Column, Enclosure, Row, Survey};
use crate::table::cell::devices::{doubtful_word, leaves_open};

/// What isolates a row, and what is wrong with what it says of that.
pub(super) struct IsolatedRow {
    pub by: Isolated,
    pub upstream: Option<Box<Isolated>>,
    pub findings: Vec<Finding>,
}

/// Reads what isolates the rows, one after the other.
pub(super) struct Isolating<'a> {
    survey: &'a Survey,
    pub devices: Devices,
    /// Of the row at hand.
    findings: Vec<Finding>,
}

impl<'a> Isolating<'a> {
    pub(super) fn new(survey: &'a Survey) -> Self {
        Self { survey, devices: Devices::default(), findings: Vec::new() }
    }

    pub(super) fn row(&mut self, said: Said, enclosure: &Enclosure, row: &Row) -> IsolatedRow {
        let by = self.isolated(row.isolation.as_ref(), said);
        for device in by.devices() {
            self.devices.describe(*device, row, said, self.survey, &mut self.findings);
        }
        let upstream = row.further().upstream.as_ref().map(|upstream| Box::new(self.isolated(Some(upstream), said)));
        self.report_missing_locations(enclosure, row, said);
        IsolatedRow { by, upstream, findings: std::mem::take(&mut self.findings) }
    }

    fn isolated(&mut self, isolation: Option<&Isolation>, said: Said) -> Isolated {
        match isolation {
            Some(Isolation::By(named)) if !named.is_empty() => {
                if let [only] = &**named {
                    return Isolated::By(Few::one(self.devices.intern(only, said, self.survey, &mut self.findings)));
                }
                let mut ids: Vec<DeviceId> = Vec::with_capacity(named.len());
                for device in named {
                    let id = self.devices.intern(device, said, self.survey, &mut self.findings);
                    if !ids.contains(&id) {
                        ids.push(id);
                    }
                }
                Isolated::By(ids.into())
            }
            Some(Isolation::Impossible) => Isolated::Impossible,
            Some(Isolation::By(_) | Isolation::Unknown) | None => Isolated::Unknown,
        }
    }

    fn report_missing_locations(&mut self, enclosure: &Enclosure, row: &Row, said: Said) {
        if enclosure.particulars().no_confusion.is_some() {
            return;
        }
        let cells = [(&row.isolation, Column::IsolatorLocation), (&row.further().upstream, Column::UpstreamLocation)];
        for (cell, column) in cells {
            let Some(Isolation::By(named)) = cell else { continue };
            for (number, device) in named.iter().enumerate().filter(|(_, device)| device.location.is_empty()) {
                let mut finding = without_location(device, row).at_row(self.survey, said, column);
                let doubt = finding.place.as_ref().and_then(|place| doubtful_word(&unquoted(place), number));
                if let Some((place, word)) = doubt {
                    say_what_is_open(&mut finding, &place, &word);
                }
                // A cell that was refused, and a needed column that is missing, have been reported already.
                let is_reported = finding.place.as_ref().is_some_and(|place| {
                    let is_missing = place.column_name.is_empty();
                    is_missing && column == Column::IsolatorLocation || !is_missing && !leaves_open(&unquoted(place))
                });
                if !is_reported {
                    self.findings.push(finding);
                }
            }
        }
    }
}

/// What a cell says, without the quotation marks that only hold it together in its file: others mark a name.
fn unquoted(place: &Place) -> Cow<'_, str> {
    let inner = place.cell.strip_prefix('"').and_then(|rest| rest.strip_suffix('"'));
    match inner.filter(|_| !place.line_text.is_empty()) {
        Some(inner) => Cow::Owned(inner.replace("\"\"", "\"")),
        None => Cow::Borrowed(&place.cell),
    }
}

fn without_location(device: &DeviceRef, row: &Row) -> Finding {
    let message =
        format!("no location is given for `{}`, which isolates circuit `{}`", device.designation, row.circuit);
    Finding::new(code::ISOLATOR_WITHOUT_LOCATION, message)
        .help("say where the device is; with several devices, in the same order and joined by ` + `")
}

/// Says which word of the cell leaves the place open, and how to write a name that holds it.
fn say_what_is_open(finding: &mut Finding, place: &str, word: &str) {
    finding.message.push_str(&format!(": `{word}` in `{place}` leaves it open"));
    let bare = place.replace('"', "");
    finding.help = Some(format!(
        "write where the device is, without `{word}`; if the word belongs to the name of the place, write \
         `\u{201C}{bare}\u{201D}` with its quotation marks"
    ));
}
