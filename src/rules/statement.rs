//! What a notice must say beside its points of isolation and voltages.

use crate::survey::value::Volts;

/// Something that a notice must say beside its points and voltages; in the order of the list on the notice.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Statement {
    /// A circuit here has no isolator: it stays live.
    CannotBeIsolated {
        /// Its designation.
        circuit: String,
    },
    /// More than one supply meets here.
    SeveralSupplies {
        /// The boards, transformers or sources, each once; at least two, unless some are unknown.
        supplies: Vec<String>,
    },
    /// No one device makes it dead, though there is one supply (or it is unknown).
    SeveralIsolators,
    /// The isolators listed leave their incoming terminals live; what makes those dead would isolate everything by itself.
    IsolatorsLeaveParts,
    /// The voltage to earth would not be expected here.
    UnexpectedVoltage,
    /// Live at any time: solar d.c. or a store inside.
    LiveAtAnyTime {
        /// The circuit.
        circuit: String,
        /// True for solar d.c., false for a battery inside.
        solar: bool,
    },
    /// Something stays live after its isolator is off.
    LineSideLive {
        /// What stays live; empty where the survey says that it is not known.
        part: String,
        /// Where that is isolated: designation and location.
        isolated_at: Vec<(String, String)>,
        /// Where it is not: whether it cannot be isolated, or the survey does not say.
        missing: Option<Missing>,
    },
    /// A UPS can feed back.
    BackFeed {
        /// The UPS.
        ups: String,
    },
    /// A source may start without warning.
    StartsByItself {
        /// The source.
        source: String,
    },
    /// Charge stays after isolation.
    StoredCharge {
        /// Voltage at the moment of isolation, where known.
        volts: Option<Volts>,
        /// Waiting time in seconds, where known.
        seconds: Option<u32>,
    },
    /// There are alternative or additional sources.
    AlternativeSource {
        /// Of what the notice speaks.
        scope: SourceScope,
        /// The sources that must be isolated, in a fixed order, with where.
        sources: Vec<SourceIsolation>,
        /// Further sources of the installation, in words of the survey: named without their places.
        others: Vec<String>,
        /// True where rows without a source leave unknown whether there are more.
        more_possible: bool,
    },
}

/// Of what a notice of several sources speaks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SourceScope {
    /// Of the whole installation: every source, and where it is isolated for all of it.
    Installation,
    /// Of this enclosure: the sources that meet in it, and what isolates them from it.
    Here,
    /// Of one source that is isolated here; the others have their own places.
    PointOfIsolation,
    /// The survey does not say which place this is: only that there are several sources.
    NotSaid,
}

/// A source with where it is isolated.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct SourceIsolation {
    /// The source in a word of the survey; empty where rows do not say which it is.
    pub source: String,
    /// The devices that isolate it: designation and location. All of them must be opened.
    pub isolated_at: Vec<(String, String)>,
    /// What these devices do not isolate of it.
    pub missing: Option<Missing>,
}

/// What the devices named do not isolate of a source.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Missing {
    /// A part that is isolated elsewhere, in enclosures without a role.
    Elsewhere,
    /// A part of which the survey does not say what isolates it; all of it, where no device is named.
    NotKnown,
    /// A part that cannot be isolated; all of it, where no device is named.
    CannotBeIsolated,
    /// A part that cannot be isolated, beside what the device isolates of which this is said.
    RestCannotBeIsolated,
}
