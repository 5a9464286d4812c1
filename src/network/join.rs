//! Reads the rows one after the other and joins them where they name the same thing.

use std::borrow::Cow;
use std::collections::{HashMap, HashSet};

use super::assembly::assemble;
use super::device::{AtRow, Devices, Said};
use super::graph::Graph;
use super::id::{DeviceId, EnclosureId};
use super::interlock::Interlocks;
use super::live_parts::LiveParts;
use super::supply::{Nature, Sources, SuppliesMet};
use super::system::{self, Systems};
use super::voltage::{self, WayVoltage};
use super::{Few, Isolated, Needs, Network, NetworkOptions, Way, slips, spelling};
use crate::finding::{Finding, Place, code};
use crate::supplies::{Kind, Supplies};
use crate::survey::value::{DeviceRef, Isolation};
use crate::survey::{Column, Enclosure, Row, Survey};
use crate::table::Alike;
use crate::table::cell::devices::{doubtful_word, leaves_open};

/// The network of a survey, and what is wrong with its rows.
pub(super) fn join(survey: &Survey, supplies: Option<&Supplies>, options: &NetworkOptions) -> (Network, Vec<Finding>) {
    let mut joining = Joining::new(survey, supplies, options);
    let mut ways = Vec::with_capacity(survey.enclosures.iter().map(|enclosure| enclosure.rows.len()).sum());
    let mut enclosures = Vec::with_capacity(survey.enclosures.len());
    for (index, enclosure) in survey.enclosures.iter().enumerate() {
        let start = ways.len();
        ways.extend(enclosure.rows.iter().map(|row| joining.way(EnclosureId::new(index), enclosure, row)));
        enclosures.push(start..ways.len());
    }
    let described = supplies.map_or(&[][..], |file| file.devices.as_slice());
    let interlocks: Vec<_> = described
        .iter()
        .map(|device| joining.interlocks.intern_described(device, supplies?, &mut joining.findings))
        .collect();
    slips::report(&joining.devices.list, survey, &mut joining.findings);
    // What grew with the rows has up to twice the room that it needs.
    joining.devices.list.shrink_to_fit();
    joining.supplies.list.shrink_to_fit();
    let mut network = Network {
        devices: joining.devices.list,
        supplies: joining.supplies.list,
        sources: joining.sources.list,
        interlocks: joining.interlocks.list,
        ways,
        enclosures,
        graph: Graph::default(),
        device_nodes: Vec::new(),
        live_parts: LiveParts::default(),
        outputs: HashMap::new(),
        lenders: HashMap::new(),
        described: Vec::new(),
        facts: Vec::new(),
        mentioned: Vec::new(),
        systems: Systems::default(),
    };
    assemble(&mut network, survey, supplies, &interlocks, &mut joining.findings);
    joining.findings.extend(system::settle(&mut network, survey, supplies, options));
    (network, joining.findings)
}

struct Joining<'a> {
    survey: &'a Survey,
    options: &'a NetworkOptions,
    /// The voltages are settled with the supplies file, and reported then.
    is_settled_later: bool,
    devices: Devices,
    supplies: SuppliesMet,
    sources: Sources,
    interlocks: Interlocks,
    voltages: Alike<WayVoltage>,
    /// The circuits of the enclosure whose rows were last asked whether they list a lender, as names are compared.
    circuits: Option<(EnclosureId, HashSet<String>)>,
    findings: Vec<Finding>,
}

impl<'a> Joining<'a> {
    fn new(survey: &'a Survey, supplies: Option<&Supplies>, options: &'a NetworkOptions) -> Self {
        let is_other = |key: &str| {
            let mut described = supplies.into_iter().flat_map(|file| &file.devices);
            described.any(|device| {
                let is_ups = matches!(device.kind, None | Some(Kind::Source | Kind::Ups));
                !is_ups && spelling::key(&device.designation) == key
            })
        };
        Self {
            survey,
            options,
            is_settled_later: supplies.is_some(),
            devices: Devices::default(),
            supplies: SuppliesMet::default(),
            sources: Sources::of(survey, is_other, supplies.and_then(only_mains)),
            interlocks: Interlocks::default(),
            voltages: Alike::default(),
            circuits: None,
            findings: Vec::new(),
        }
    }

    fn way(&mut self, id: EnclosureId, enclosure: &Enclosure, row: &Row) -> Way {
        let said = Said { enclosure: id, record: row.record };
        let isolated = self.isolated(row.isolation.as_ref(), said);
        for device in isolated.devices() {
            self.devices.describe(*device, row, said, self.survey, &mut self.findings);
        }
        let upstream = row.further().upstream.as_ref().map(|upstream| Box::new(self.isolated(Some(upstream), said)));
        self.report_missing_locations(enclosure, row, said);
        self.report_lender(enclosure, row, said);
        let supplies = row
            .fed_from
            .as_ref()
            .map_or_else(Few::default, |cell| self.supplies.intern(cell, said, self.survey, &mut self.findings));
        let source = self.sources.of_row(row, said);
        let interlock = self.interlocks.intern(row, said, self.survey, &mut self.findings);
        let nature = row.source.as_ref().map(Nature::of);
        let voltage = voltage::of_row(row, nature, self.options.measured_tolerance_percent);
        if !self.is_settled_later {
            voltage::report::report(row, &voltage, "", said, self.survey, &mut self.findings);
        }
        let needs = Needs::of(row, &voltage, &[]);
        Way { isolated, upstream, supplies, source, interlock, needs, voltage: self.voltages.one(voltage) }
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

    /// A shared neutral stays live with its lender: the lender's isolator must be listed too.
    fn report_lender(&mut self, enclosure: &Enclosure, row: &Row, said: Said) {
        let Some(lender) = &row.further().neutral_from else { return };
        let circuits = || enclosure.rows.iter().map(|other| spelling::key(&other.circuit)).collect();
        let known = self.circuits.take().filter(|(of, _)| *of == said.enclosure);
        let (_, circuits) = self.circuits.insert(known.unwrap_or_else(|| (said.enclosure, circuits())));
        if circuits.contains(&spelling::key(lender)) {
            return;
        }
        let message = format!(
            "circuit `{}` shares the neutral of `{lender}`, which is not among the rows of this enclosure",
            row.circuit
        );
        self.findings.push(
            Finding::new(code::NEUTRAL_LENDER_NOT_LISTED, message)
                .help("add a row for that circuit with its isolator, so that the notice lists it")
                .at_row(self.survey, said, Column::NeutralFrom),
        );
    }
}

/// The one source of a supplies file that can be the mains: no other may be, by its name.
fn only_mains(supplies: &Supplies) -> Option<String> {
    let sources = supplies.devices.iter().filter(|device| matches!(device.kind, None | Some(Kind::Source)));
    let mut may_be = sources.filter(|device| {
        device.kind.is_none() || matches!(Nature::of_name(&device.designation), Nature::Mains | Nature::NotTold)
    });
    let only = may_be.next().filter(|_| may_be.next().is_none())?;
    (Nature::of_name(&only.designation) == Nature::Mains).then(|| spelling::key(&only.designation))
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
