//! What isolates each row: its devices and those upstream, and whether the survey says where they are.

use crate::finding::{Finding, code};
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
                let written = self.written(said, column);
                if let Some((place, word)) = doubtful_word(&written, number) {
                    say_what_is_open(&mut finding, &place, &word);
                }
                // A cell that was refused, and a needed column that is missing, have been reported already.
                let is_reported = finding.place.as_ref().is_some_and(|place| {
                    let is_missing = place.column_name.is_empty();
                    is_missing && column == Column::IsolatorLocation || !is_missing && !leaves_open(&written)
                });
                if !is_reported {
                    self.findings.push(finding);
                }
            }
        }
    }

    /// What a cell says, without the quotation marks that only hold it together in its file: others mark a name.
    fn written(&self, said: Said, column: Column) -> String {
        let cell = self.survey.cell_of(column);
        cell.and_then(|cell| self.survey.cells(said.record).into_iter().nth(cell)).unwrap_or_default()
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

#[cfg(test)]
mod tests {
    use crate::finding::{Finding, code};
    use crate::network::{Network, NetworkOptions};
    use crate::survey::{ReadOptions, read};
    use crate::table::testing::workbook;

    const HEADERS: [&str; 6] = ["enclosure", "circuit", "voltage_to_earth", "isolator", "isolator_location", "serves"];

    /// What is said of a row's missing locations: from a text file, and from a workbook.
    fn without_location(isolators: &str, locations: &str, serves: &str) -> [Vec<String>; 2] {
        let row = ["E1", "C/1", "230", isolators, locations, serves];
        let quoted: Vec<String> = row.iter().map(|cell| format!("\"{}\"", cell.replace('"', "\"\""))).collect();
        let text = format!("{}\n{}\n", HEADERS.join(","), quoted.join(","));
        [text.into_bytes(), workbook(&[("Survey", &[&HEADERS, &row])])].map(|bytes| {
            let survey = read(&bytes, &ReadOptions::new("test")).survey;
            let findings = Network::join(&survey, None, &NetworkOptions::default()).1;
            let missing =
                |finding: Finding| (finding.code == code::ISOLATOR_WITHOUT_LOCATION).then_some(finding.message);
            findings.into_iter().filter_map(missing).collect()
        })
    }

    #[test]
    fn a_choice_of_places_between_two_names_is_told_of_every_kind_of_file() {
        let said = "no location is given for `Q2`, which isolates circuit `C/1`: `or` in `Riser 1 or 2` leaves it open";
        let locations = "\"Board A\" + Riser 1 or 2 + \"Board B\"";
        for messages in without_location("Q1 + Q2 + Q3", locations, "") {
            assert_eq!(messages, [said]);
        }
        for messages in without_location("Q1 + Q2 + Q3", &locations.replace("Riser 1 or 2", "\"Riser 1 or 2\""), "") {
            assert!(messages.is_empty());
        }
    }

    /// Of a line as long as that nothing is shown: that says nothing of its kind of file.
    #[test]
    fn a_choice_of_places_is_told_of_a_row_of_any_length() {
        let said = "no location is given for `Q1`, which isolates circuit `C/1`: `or` in `Riser 1, left or right` leaves it open";
        for serves in [String::new(), "pump ".repeat(4_000)] {
            for messages in without_location("Q1", "Riser 1, left or right", &serves) {
                assert_eq!(messages, [said], "{}", serves.len());
            }
        }
    }
}
