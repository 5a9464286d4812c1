//! What was decided: outcomes with their reasons, points of isolation, voltages, and what belongs to each device.

use std::sync::Arc;

use super::Rule;
use super::clause::Clause;
use super::standing::StandingDecision;
use super::statement::{SourceIsolation, Statement};
use crate::length::Length;
use crate::network::{DeviceId, OwnNotice, Proof};
use crate::survey::value::{Current, DeviceKind, Volts};

/// What a rule comes to for one enclosure or device.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Outcome {
    /// The rule does not apply, on the survey's word.
    NotNeeded,
    /// It applies, and something declared lifts it.
    Lifted,
    /// Not asked for by the clause, and still good practice here.
    Advised,
    /// The survey does not say enough; the notice is printed, and what is unproved is said.
    Unknown,
    /// A notice is required.
    Required,
}

impl Outcome {
    /// The name in reports.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::NotNeeded => "not-needed",
            Self::Lifted => "lifted",
            Self::Advised => "advised",
            Self::Unknown => "unknown",
            Self::Required => "required",
        }
    }

    /// Whether a notice is printed.
    #[must_use]
    pub const fn prints(self) -> bool {
        match self {
            Self::NotNeeded | Self::Lifted => false,
            Self::Advised | Self::Unknown | Self::Required => true,
        }
    }
}

/// One rule's answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Reason {
    /// The rule.
    pub rule: Rule,
    /// Where it stands; `None` for common practice.
    pub clause: Option<&'static Clause>,
    /// What it comes to.
    pub outcome: Outcome,
}

/// One rule's answer with its reason in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Explained {
    /// The answer.
    pub reason: Reason,
    /// Why, in one or two English sentences that name circuits, devices and figures.
    pub because: String,
}

/// Why one enclosure is decided as it is.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Explanation {
    /// Every rule's answer, in the order of the rules.
    pub reasons: Vec<Explained>,
    /// Where each voltage comes from, in English.
    pub voltages: Vec<String>,
}

/// One device that must be opened, as the notice lists it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PointOfIsolation {
    /// Designation.
    pub device: String,
    /// Where it is.
    pub location: String,
    /// What kind of device, where the survey says.
    pub kind: Option<DeviceKind>,
    /// How it is secured off.
    pub locking: Option<String>,
    /// Place in a sequence.
    pub order: Option<u16>,
    /// What to do or warn of first.
    pub before: Option<String>,
    /// True where the survey says that it must not be opened under load.
    pub not_under_load: bool,
    /// The circuits that it isolates here, by designation.
    pub circuits: Vec<String>,
    /// What those circuits serve here, each once.
    pub serves: Vec<String>,
    /// Inside the enclosure itself, by the survey's word.
    pub inside: bool,
}

/// A voltage with its kind.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Voltage {
    /// Nominal value.
    pub value: Volts,
    /// Alternating or direct.
    pub current: Current,
    /// True for an upper bound between sources that are not held in step.
    pub bound: bool,
}

/// The highest voltages in one enclosure, a.c. and d.c. apart.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Voltages {
    /// To earth: at most one a.c. and one d.c. value.
    pub to_earth: Vec<Voltage>,
    /// Between conductors, only where higher than to earth: at most one a.c. and one d.c. value.
    pub between: Vec<Voltage>,
}

/// What was decided for one enclosure.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Decision {
    /// Index of the enclosure in the survey.
    pub enclosure: usize,
    /// The strongest outcome of its reasons: what `notice` in a report says. `Lifted` and `NotNeeded` print nothing.
    pub need: Outcome,
    /// Every rule's answer, in the order of the rules.
    pub reasons: Vec<Reason>,
    /// What the notice must say beside points and voltages.
    pub statements: Vec<Statement>,
    /// Every point of isolation that the survey declares, in the order in which they are to be opened.
    pub points: Vec<PointOfIsolation>,
    /// True where a declaration lets the locations be left out.
    pub locations_left_out: bool,
    /// The highest voltages inside.
    pub voltages: Voltages,
    /// One device that makes the whole enclosure dead, by the survey's word.
    pub single_device: Option<String>,
    /// Whether energy still reaches it with everything opened that is declared. Without a supplies file that is unknown for
    /// one reason, and nothing more is kept; [`crate::network::Network::proof`] names the gaps all the same.
    pub proof: Proof,
}

/// One circuit that a device disconnects.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Disconnects {
    /// The circuit, or the part upstream of it that is all that this device is declared to make dead.
    pub circuit: String,
    /// True for such a part, in the words of the survey.
    pub is_part: bool,
    /// The enclosure that it feeds.
    pub enclosure: String,
    /// What it serves there.
    pub serves: Option<String>,
    /// True where this device isolates the circuit without any other of its row.
    pub alone: bool,
    /// Other devices that must be opened as well before this circuit there is isolated.
    pub also: Vec<String>,
    /// Devices that are opened before this one there, by the sequence of that enclosure.
    pub first: Vec<String>,
    /// True where other supplies of the enclosure remain when this device is open.
    pub others_remain: bool,
    /// True where something of this circuit stays or may stay live in the enclosure when this device is open.
    pub parts_remain: bool,
}

/// A device as a point of isolation of a source, in an installation with several.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct SourcePoint {
    /// The sources of which it is a point of isolation, in words of the survey.
    pub sources: Vec<String>,
    /// The further points: of the other sources, and of the same ones where this device does not isolate all of them.
    pub others: Vec<SourceIsolation>,
    /// True where rows without a source leave unknown whether there are more.
    pub more_possible: bool,
}

/// What was decided for one isolator.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DeviceDecision {
    /// Designation.
    pub device: String,
    /// Where it is.
    pub location: String,
    /// `Required`, `Unknown`, or `Lifted` where its purpose is declared obvious.
    pub need: Outcome,
    /// The rules' answers.
    pub reasons: Vec<Reason>,
    /// Every circuit that it disconnects, sorted by enclosure and circuit; never empty.
    pub disconnects: Vec<Disconnects>,
    /// A UPS downstream of it can feed back.
    pub back_feed: Vec<String>,
    /// It is a point of isolation of one of several sources.
    pub source_point: Option<SourcePoint>,
    /// True where it must not be opened under load.
    pub not_under_load: bool,
    /// What to do or warn of before it is opened, each once.
    pub before: Vec<String>,
    /// How it is secured off.
    pub locking: Option<String>,
    /// From how far it is read, if a row says so.
    pub reading_distance: Option<Length>,
    /// What the supplies file asks of its notice, where it describes the device; it comes before what the rows say.
    pub own_notice: Option<Arc<OwnNotice>>,
}

impl DeviceDecision {
    /// What the supplies file asks of its notice, which may be nothing.
    #[must_use]
    pub fn own(&self) -> &OwnNotice {
        self.own_notice.as_deref().unwrap_or_else(|| OwnNotice::nothing())
    }
}

/// An entry of the isolator index: a device, and the enclosures that list it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct IsolatorEntry {
    /// Designation.
    pub device: String,
    /// Where it is.
    pub location: String,
    /// The enclosures that list it as a point of isolation, in the order of the survey.
    pub enclosures: Vec<IsolatedEnclosure>,
}

/// An enclosure in the entry of one of its isolators.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct IsolatedEnclosure {
    /// Index of the enclosure in the survey.
    pub enclosure: usize,
    /// The circuits that the device isolates there, in the order of the survey, each once.
    pub circuits: Vec<String>,
    /// True where this device, with what its handle opens too, isolates every row on the survey's word, nothing is
    /// declared to stay live, and the proof is not `Live`.
    pub alone: bool,
    /// The other devices that the enclosure lists and that must be opened too: the first 200.
    pub with: Vec<DeviceId>,
    /// How many others there are.
    pub others: usize,
}

/// Everything that the rules decided, in the order of the survey.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Decisions {
    /// One for every enclosure, in the survey's order.
    pub enclosures: Vec<Decision>,
    /// One for every isolator named, sorted by location and designation.
    pub devices: Vec<DeviceDecision>,
    /// One for every standing notice, in the order of its list.
    pub standing: Vec<StandingDecision>,
}
