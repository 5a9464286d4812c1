//! The machine-readable report, version 1. Fields are only ever added.

use std::io::{self, Write};

use serde::Serialize;
use serde_json::ser::{Formatter, PrettyFormatter};

use super::due::DueReport;
use super::following;
use super::quantities::{self, QuantityEntry};
use super::standing::{self, StandingEntry};
use crate::finding::Finding;
use crate::length::{Length, Size};
use crate::network::{Device, LivePath, Network, NodeId};
use crate::notice::{Notice, Subject};
use crate::rules::{
    Assessor, Decision, Explained, IsolatedEnclosure, IsolatorEntry, PointOfIsolation, StandingDecision, Voltage,
};
use crate::sheets::{Quantity, Usage};
use crate::standing::Standing;
use crate::survey::value::{Current, DeviceKind, Volts};
use crate::survey::{Survey, is_hidden};
use crate::typesetting::Setting;

/// A run as a script sees it.
#[derive(Debug, Serialize)]
pub struct Report<'a> {
    version: u32,
    tool: String,
    edition: &'a str,
    findings: Vec<FindingEntry<'a>>,
    enclosures: Vec<EnclosureEntry<'a>>,
    isolators: Vec<IsolatorIndexEntry<'a>>,
    /// The standing notices of the list; left out where there are none.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    standing: Vec<StandingEntry<'a>>,
    notices: Vec<NoticeEntry<'a>>,
    quantities: Vec<QuantityEntry>,
    outputs: Vec<OutputEntry>,
    /// What is due by a record; left out where nobody asked.
    #[serde(skip_serializing_if = "Option::is_none")]
    due: Option<DueReport>,
    /// How many notices the record keeps as printed; left out where none was asked to.
    #[serde(skip_serializing_if = "Option::is_none")]
    recorded: Option<usize>,
}

#[derive(Debug, Serialize)]
pub(super) struct FindingEntry<'a> {
    code: &'a str,
    severity: &'a str,
    message: &'a str,
    help: Option<&'a str>,
    file: Option<&'a str>,
    line: Option<u32>,
    column: Option<u32>,
    column_name: Option<&'a str>,
    cell: Option<&'a str>,
    /// The spreadsheet address, `F14`.
    address: Option<&'a str>,
    enclosure: Option<&'a str>,
}

#[derive(Debug, Serialize)]
struct EnclosureEntry<'a> {
    enclosure: &'a str,
    notice: &'static str,
    reasons: Vec<ReasonEntry>,
    voltages: VoltagesEntry,
    max_voltage_to_earth: Option<f64>,
    max_voltage_between_conductors: Option<f64>,
    points_of_isolation: Vec<PointEntry<'a>>,
    proof: ProofEntry,
}

#[derive(Debug, Serialize)]
struct ReasonEntry {
    rule: &'static str,
    clause: Option<&'static str>,
    basis: Option<&'static str>,
    outcome: &'static str,
    because: String,
}

#[derive(Debug, Serialize)]
struct VoltagesEntry {
    to_earth: Vec<VoltageEntry>,
    between_conductors: Vec<VoltageEntry>,
    because: Vec<String>,
}

#[derive(Debug, Serialize)]
struct VoltageEntry {
    value: f64,
    kind: &'static str,
}

#[derive(Debug, Serialize)]
struct PointEntry<'a> {
    device: &'a str,
    location: &'a str,
    kind: Option<&'static str>,
    locking: Option<&'a str>,
    order: Option<u16>,
    circuits: &'a [String],
}

#[derive(Debug, Serialize)]
struct ProofEntry {
    result: &'static str,
    single_device: Option<String>,
    paths: Vec<Vec<String>>,
    surplus: Vec<String>,
    /// The smallest set of devices that would leave no path: advice.
    cut: Vec<String>,
    /// Why it is not known whether live parts remain, in words.
    gaps: Vec<String>,
}

#[derive(Debug, Serialize)]
struct IsolatorIndexEntry<'a> {
    device: &'a str,
    location: &'a str,
    enclosures: Vec<IsolatedEntry<'a>>,
}

#[derive(Debug, Serialize)]
struct IsolatedEntry<'a> {
    enclosure: &'a str,
    circuits: &'a [String],
    alone: bool,
    with: Vec<DeviceEntry<'a>>,
    /// How many others there are; `with` names the first 200.
    others: usize,
}

#[derive(Debug, Serialize)]
struct DeviceEntry<'a> {
    device: &'a str,
    location: &'a str,
}

#[derive(Debug, Serialize)]
struct NoticeEntry<'a> {
    number: &'a str,
    subject: SubjectEntry<'a>,
    enclosure: Option<&'a str>,
    position: &'a str,
    rules: Vec<&'static str>,
    revision: &'a str,
    fingerprint: &'a str,
    size_mm: Option<[f64; 2]>,
    letter_height_mm: Option<f64>,
    sign_height_mm: Option<f64>,
    text: Vec<String>,
    qr: Option<&'a str>,
    page: Option<usize>,
    sheet_cell: Option<usize>,
}

#[derive(Debug, Serialize)]
struct SubjectEntry<'a> {
    kind: &'static str,
    designation: &'a str,
}

/// One file written.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct OutputEntry {
    /// The path as the user gave it.
    pub path: String,
    /// Pages in it; 0 for a drawing or a table.
    pub pages: usize,
    /// Notices in it.
    pub notices: usize,
    /// Its length in bytes.
    pub bytes: u64,
    /// What reading it again came to, where that was asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub read_back: Option<ReadBackEntry>,
    /// How well packed sheets are used, format by format; left out where there are none.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub packed: Vec<PackedEntry>,
}

/// A document that was read again, and says what the survey says; one that does not is never published.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct ReadBackEntry {
    /// `read`; `outlines` where the texts are outlines, which nobody can read.
    pub texts: &'static str,
    /// Labels read.
    pub notices: usize,
    /// Pages read.
    pub pages: usize,
    /// Lines of text on the labels.
    pub lines: usize,
    /// Codes decoded.
    pub codes: usize,
    /// Page boxes read.
    pub page_boxes: usize,
}

/// How well the sheets of a packed format are used.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PackedEntry {
    /// Name of the format.
    pub format: String,
    /// Its sheets.
    pub sheets: usize,
    /// The share of their room that labels cover, in whole per cent.
    pub room_used_percent: f64,
    /// Sheets below which no packing can come, by area alone.
    pub fewest_by_area: usize,
    /// The length of all pieces of a roll.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub length_mm: Option<f64>,
}

impl From<&Usage> for PackedEntry {
    fn from(usage: &Usage) -> Self {
        Self {
            format: usage.format.clone(),
            sheets: usage.sheets,
            room_used_percent: (usage.share * 100.0).floor(),
            fewest_by_area: usage.fewest,
            length_mm: usage.length.map(Length::to_mm),
        }
    }
}

/// Where a notice was printed, where it was.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Printed {
    /// Page of the document, from 1.
    pub page: usize,
    /// Cell of the sheet, from 1.
    pub cell: usize,
}

impl<'a> Report<'a> {
    /// A report of findings alone.
    #[must_use]
    pub fn new(edition: &'a str, findings: &'a [Finding]) -> Self {
        Self {
            version: 1,
            tool: format!("noticewright {}", env!("CARGO_PKG_VERSION")),
            edition,
            findings: following::kept(findings).map(finding).collect(),
            enclosures: Vec::new(),
            isolators: Vec::new(),
            standing: Vec::new(),
            notices: Vec::new(),
            quantities: Vec::new(),
            outputs: Vec::new(),
            due: None,
            recorded: None,
        }
    }

    /// Adds what was decided.
    pub fn decisions(&mut self, assessor: Assessor<'a>, decisions: &'a [Decision]) {
        self.enclosures = decisions.iter().filter_map(|decision| enclosure(assessor, decision)).collect();
    }

    /// Adds the isolator index: for every device the enclosures that list it.
    pub fn isolators(&mut self, survey: &'a Survey, network: &'a Network, isolators: &'a [IsolatorEntry]) {
        self.isolators = isolators.iter().map(|entry| isolator(survey, network, entry)).collect();
    }

    /// Adds standing notices of a list, with what was decided.
    pub fn standing(&mut self, list: Option<&'a Standing>, decisions: &'a [StandingDecision]) {
        self.standing = list.map(|list| standing::entries(list, decisions)).unwrap_or_default();
    }

    /// Adds one notice: as set, if it was, and where it was printed first, if it was.
    pub fn notice(&mut self, notice: &'a Notice, set: Option<&Setting>, printed: Option<Printed>) {
        self.notices.push(notice_entry(notice, set, printed));
    }

    /// Adds how much of which material is needed.
    pub fn quantities(&mut self, quantities: &[Quantity]) {
        self.quantities = quantities::entries(quantities);
    }

    /// Adds the files written.
    pub fn outputs(&mut self, outputs: Vec<OutputEntry>) {
        self.outputs = outputs;
    }

    /// Adds what is due by a record.
    pub fn due(&mut self, due: DueReport) {
        self.due = Some(due);
    }

    /// Adds how many notices the record keeps as printed.
    pub fn recorded(&mut self, notices: Option<usize>) {
        self.recorded = notices;
    }

    /// Writes the report as indented JSON with a line end.
    ///
    /// # Errors
    /// The stream's own error; a fault of the serialiser is none of the user's and not expected.
    pub fn write(&self, out: &mut impl Write) -> io::Result<()> {
        write_escaped(self, out)
    }
}

/// Writes what serialises as indented JSON with a line end.
pub(super) fn write_escaped(report: &impl Serialize, out: &mut impl Write) -> io::Result<()> {
    let mut serializer = serde_json::Serializer::with_formatter(&mut *out, Escaping::default());
    report.serialize(&mut serializer)?;
    writeln!(out)
}

/// Indents as [`PrettyFormatter`] does. A report may be shown on a terminal: inside its strings, where alone such
/// characters stand, what acts on one or cannot be seen is written as an escape of JSON and reads back the same.
#[derive(Default)]
struct Escaping(PrettyFormatter<'static>);

impl Formatter for Escaping {
    fn write_string_fragment<W: ?Sized + Write>(&mut self, out: &mut W, text: &str) -> io::Result<()> {
        let mut written = 0;
        for (start, c) in text.char_indices().filter(|(_, c)| is_hidden(*c)) {
            out.write_all(text.get(written..start).unwrap_or_default().as_bytes())?;
            for unit in c.encode_utf16(&mut [0; 2]) {
                write!(out, "\\u{unit:04x}")?;
            }
            written = start + c.len_utf8();
        }
        out.write_all(text.get(written..).unwrap_or_default().as_bytes())
    }

    fn begin_array<W: ?Sized + Write>(&mut self, out: &mut W) -> io::Result<()> {
        self.0.begin_array(out)
    }

    fn end_array<W: ?Sized + Write>(&mut self, out: &mut W) -> io::Result<()> {
        self.0.end_array(out)
    }

    fn begin_array_value<W: ?Sized + Write>(&mut self, out: &mut W, first: bool) -> io::Result<()> {
        self.0.begin_array_value(out, first)
    }

    fn end_array_value<W: ?Sized + Write>(&mut self, out: &mut W) -> io::Result<()> {
        self.0.end_array_value(out)
    }

    fn begin_object<W: ?Sized + Write>(&mut self, out: &mut W) -> io::Result<()> {
        self.0.begin_object(out)
    }

    fn end_object<W: ?Sized + Write>(&mut self, out: &mut W) -> io::Result<()> {
        self.0.end_object(out)
    }

    fn begin_object_key<W: ?Sized + Write>(&mut self, out: &mut W, first: bool) -> io::Result<()> {
        self.0.begin_object_key(out, first)
    }

    fn begin_object_value<W: ?Sized + Write>(&mut self, out: &mut W) -> io::Result<()> {
        self.0.begin_object_value(out)
    }

    fn end_object_value<W: ?Sized + Write>(&mut self, out: &mut W) -> io::Result<()> {
        self.0.end_object_value(out)
    }
}

pub(super) fn finding(finding: &Finding) -> FindingEntry<'_> {
    let place = finding.place.as_ref();
    let text = |text: &'_ str| (!text.is_empty()).then_some(());
    FindingEntry {
        code: finding.code.name,
        severity: finding.severity().name(),
        message: &finding.message,
        help: finding.help.as_deref(),
        file: place.map(|place| &*place.file),
        line: place.map(|place| place.line),
        column: place.map(|place| place.column),
        column_name: place.and_then(|place| text(&place.column_name).map(|()| place.column_name.as_str())),
        cell: place.map(|place| place.cell.as_str()),
        address: place.and_then(|place| text(&place.address).map(|()| place.address.as_str())),
        enclosure: finding.enclosure.as_deref(),
    }
}

fn enclosure<'a>(assessor: Assessor<'a>, decision: &'a Decision) -> Option<EnclosureEntry<'a>> {
    let Assessor { survey, network, .. } = assessor;
    let explanation = assessor.explain(decision.enclosure)?;
    let enclosure = survey.enclosures.get(decision.enclosure)?;
    let highest = |voltages: &[Voltage]| voltages.iter().map(|voltage| voltage.value).max().map(Volts::to_volts);
    let voltages = &decision.voltages;
    Some(EnclosureEntry {
        enclosure: &enclosure.designation,
        notice: decision.need.of_notice(),
        reasons: explanation.reasons.into_iter().map(reason).collect(),
        voltages: VoltagesEntry {
            to_earth: voltages.to_earth.iter().map(voltage).collect(),
            between_conductors: voltages.between.iter().map(voltage).collect(),
            because: explanation.voltages,
        },
        max_voltage_to_earth: highest(&voltages.to_earth),
        max_voltage_between_conductors: highest(&voltages.between),
        points_of_isolation: decision.points.iter().map(point).collect(),
        proof: proof(survey, network, decision),
    })
}

/// What the proof came to. The one device is the declared one where it does, else one that advice names.
fn proof(survey: &Survey, network: &Network, decision: &Decision) -> ProofEntry {
    let proof = &decision.proof;
    let name = |node: &NodeId| network.node_name(*node);
    let advised = || proof.single_device().map(|node| network.node_name(node));
    let path = |path: &LivePath| {
        let enclosure = survey.enclosures.get(decision.enclosure).map(|enclosure| enclosure.designation.clone());
        path.nodes.iter().map(name).chain(enclosure).collect()
    };
    let nothing = || vec!["no supplies file describes the supply network".to_owned()];
    let gaps = if network.is_described() { network.gaps_in_words(survey, &proof.gaps) } else { nothing() };
    ProofEntry {
        result: proof.result.name(),
        single_device: decision.single_device.clone().or_else(advised),
        paths: proof.paths.iter().map(path).collect(),
        surplus: proof.surplus.iter().filter_map(|id| network.device(*id)).map(Device::phrase).collect(),
        cut: proof.cut.iter().flat_map(|cut| &cut.devices).map(name).collect(),
        gaps,
    }
}

fn isolator<'a>(survey: &'a Survey, network: &'a Network, entry: &'a IsolatorEntry) -> IsolatorIndexEntry<'a> {
    let one = |isolated: &'a IsolatedEnclosure| {
        let enclosure = survey.enclosures.get(isolated.enclosure)?;
        let with = isolated.with.iter().filter_map(|device| network.device(*device));
        let with = with.map(|device| DeviceEntry { device: &device.designation, location: &device.location });
        let IsolatedEnclosure { circuits, alone, others, .. } = isolated;
        let enclosure = &enclosure.designation;
        Some(IsolatedEntry { enclosure, circuits, alone: *alone, with: with.collect(), others: *others })
    };
    let enclosures = entry.enclosures.iter().filter_map(one).collect();
    IsolatorIndexEntry { device: &entry.device, location: &entry.location, enclosures }
}

fn reason(Explained { reason, because }: Explained) -> ReasonEntry {
    ReasonEntry {
        rule: reason.rule.name(),
        clause: reason.clause.map(|clause| clause.reference),
        basis: reason.clause.map(|clause| clause.confidence.name()),
        outcome: reason.outcome.name(),
        because,
    }
}

fn voltage(voltage: &Voltage) -> VoltageEntry {
    let kind = match (voltage.current, voltage.bound) {
        (Current::Ac, false) => "ac",
        (Current::Ac, true) => "ac-bound",
        (Current::Dc, _) => "dc",
    };
    VoltageEntry { value: voltage.value.to_volts(), kind }
}

fn point(point: &PointOfIsolation) -> PointEntry<'_> {
    PointEntry {
        device: &point.device,
        location: &point.location,
        kind: point.kind.map(DeviceKind::name),
        locking: point.locking.as_deref(),
        order: point.order,
        circuits: &point.circuits,
    }
}

fn notice_entry<'a>(notice: &'a Notice, set: Option<&Setting>, printed: Option<Printed>) -> NoticeEntry<'a> {
    let millimetres = |size: Size| [size.width.to_mm(), size.height.to_mm()];
    let kind = match notice.subject {
        Subject::Enclosure => "enclosure",
        Subject::Device => "device",
        Subject::Standing => "standing",
    };
    NoticeEntry {
        number: &notice.number,
        subject: SubjectEntry { kind, designation: &notice.designation },
        enclosure: (notice.subject == Subject::Enclosure).then_some(notice.designation.as_str()),
        position: &notice.position,
        rules: notice.rules.iter().map(|rule| rule.name()).collect(),
        revision: &notice.revision,
        fingerprint: notice.fingerprint(),
        size_mm: set.map(|set| millimetres(set.size)),
        letter_height_mm: set.map(|set| set.letter_height.to_mm()),
        sign_height_mm: set.and_then(|set| set.sign_height).map(|height| height.to_mm()),
        text: set.map_or_else(|| notice.lines(), |set| set.lines(notice)),
        qr: notice.code.as_deref().filter(|_| !set.is_some_and(|set| set.is_tag)),
        page: printed.map(|printed| printed.page),
        sheet_cell: printed.map(|printed| printed.cell),
    }
}
