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
    /// The voltage to earth would not be expected here.
    UnexpectedVoltage,
    /// There are alternative or additional sources.
    AlternativeSource {
        /// Their kinds in words of the survey, in a fixed order.
        sources: Vec<String>,
    },
    /// Live at any time: solar d.c. or a store inside.
    LiveAtAnyTime {
        /// The circuit.
        circuit: String,
        /// True for solar d.c., false for a battery inside.
        solar: bool,
    },
    /// Something stays live after its isolator is off.
    LineSideLive {
        /// What stays live.
        part: String,
        /// Where that is isolated: designation and location; empty where the survey does not say.
        isolated_at: Vec<(String, String)>,
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
}
