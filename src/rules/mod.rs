//! Which notice each enclosure and each isolator needs, and why. One rule, one file.
//!
//! Deciding never fails: it returns the decisions together with what a person must look at. A rule that cannot be
//! decided from the survey is *unknown*, and an assumed row never makes a notice unnecessary.

pub mod clause;
pub mod decision;
pub mod elsewhere;
pub mod numbers;
pub mod sequence;
pub mod standing;
pub mod statement;

mod assessor;
mod because;
mod case;
mod described;
mod fed_back;
mod installation;
mod met;
mod phrases;
mod points;
mod rows_of_devices;
mod securing;
mod source_points;
mod sources;
mod suitability;
mod switching;
mod upses;
mod upstream;
mod voltages;

mod apart;

mod alternative_source;
mod back_feed;
mod line_side_held;
mod line_side_live;
mod live_at_any_time;
mod several_isolators;
mod several_supplies;
mod starts_by_itself;
mod stored_charge;
mod unexpected_voltage;

mod device_identity;

mod advice;
mod index;
mod outputs;
mod proving;

mod verdict;

mod words;

pub use assessor::{Assessed, Assessor, Share, Together};
pub use clause::{Clause, Confidence};
pub use decision::{
    Decision, Decisions, DeviceDecision, Disconnects, Explained, Explanation, IsolatedEnclosure, IsolatorEntry,
    Outcome, PointOfIsolation, Reason, SourcePoint, Voltage, Voltages,
};
pub use device_identity::Devices;
pub use index::isolators;
pub use installation::Installation;
pub use securing::{is_no_means, secured};
pub use standing::{LeastPlate, StandingDecision, WhoseWords};
pub use statement::{Missing, SourceIsolation, SourceScope, Statement};
pub use verdict::Verdict;
pub use words::{clause_in_short, enclosure_in_words};

use crate::finding::Finding;
use crate::network::Network;
use crate::survey::Survey;
use crate::survey::value::Volts;

/// A rule of the trade, or the part of a notice that it asks for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Rule {
    /// No single device makes all live parts dead.
    SeveralIsolators,
    /// Live parts fed from different supplies.
    SeveralSupplies,
    /// A voltage to earth that would not be expected.
    UnexpectedVoltage,
    /// Two or more sources in the installation.
    AlternativeSource,
    /// A charge that stays after isolation.
    StoredCharge,
    /// Something stays live when the isolator is off.
    LineSideLive,
    /// Live whatever is switched off elsewhere.
    LiveAtAnyTime,
    /// A UPS can feed back.
    BackFeed,
    /// A source may start without warning.
    StartsByItself,
    /// What a device isolates.
    DeviceIdentity,
    /// When the installation was inspected, and when it should be again.
    StandingPeriodicInspection,
    /// The test button of residual current devices.
    StandingRcdTest,
    /// A connection to earth that must stay.
    StandingEarthingConnection,
    /// A location in which nothing may be earthed.
    StandingEarthFreeLocation,
    /// Surge protective devices are fitted.
    StandingSurgeProtection,
    /// The switch of the fire service.
    StandingFirefightersSwitch,
    /// Wiring colours of two editions; good practice.
    StandingMixedColours,
}

impl Rule {
    /// Every rule, in the order in which reasons are given.
    pub const ALL: [Self; 17] = [
        Self::SeveralIsolators,
        Self::SeveralSupplies,
        Self::UnexpectedVoltage,
        Self::AlternativeSource,
        Self::StoredCharge,
        Self::LineSideLive,
        Self::LiveAtAnyTime,
        Self::BackFeed,
        Self::StartsByItself,
        Self::DeviceIdentity,
        Self::StandingPeriodicInspection,
        Self::StandingRcdTest,
        Self::StandingEarthingConnection,
        Self::StandingEarthFreeLocation,
        Self::StandingSurgeProtection,
        Self::StandingFirefightersSwitch,
        Self::StandingMixedColours,
    ];

    /// The name in reports.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::SeveralIsolators => "several-isolators",
            Self::SeveralSupplies => "several-supplies",
            Self::UnexpectedVoltage => "unexpected-voltage",
            Self::AlternativeSource => "alternative-source",
            Self::StoredCharge => "stored-charge",
            Self::LineSideLive => "line-side-live",
            Self::LiveAtAnyTime => "live-at-any-time",
            Self::BackFeed => "back-feed",
            Self::StartsByItself => "starts-by-itself",
            Self::DeviceIdentity => "device-identity",
            Self::StandingPeriodicInspection => "standing-periodic-inspection",
            Self::StandingRcdTest => "standing-rcd-test",
            Self::StandingEarthingConnection => "standing-earthing-connection",
            Self::StandingEarthFreeLocation => "standing-earth-free-location",
            Self::StandingSurgeProtection => "standing-surge-protection",
            Self::StandingFirefightersSwitch => "standing-firefighters-switch",
            Self::StandingMixedColours => "standing-mixed-colours",
        }
    }

    /// The rule with this name.
    #[must_use]
    pub fn find(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|rule| rule.name() == name)
    }

    /// Reason, reference and example: the text that stands at the head of the rule's own file.
    #[must_use]
    pub fn explanation(self) -> String {
        leading_text(match self {
            Self::SeveralIsolators => include_str!("several_isolators.rs"),
            Self::SeveralSupplies => include_str!("several_supplies.rs"),
            Self::UnexpectedVoltage => include_str!("unexpected_voltage.rs"),
            Self::AlternativeSource => include_str!("alternative_source.rs"),
            Self::StoredCharge => include_str!("stored_charge.rs"),
            Self::LineSideLive => include_str!("line_side_live.rs"),
            Self::LiveAtAnyTime => include_str!("live_at_any_time.rs"),
            Self::BackFeed => include_str!("back_feed.rs"),
            Self::StartsByItself => include_str!("starts_by_itself.rs"),
            Self::DeviceIdentity => include_str!("device_identity.rs"),
            Self::StandingPeriodicInspection => include_str!("standing/periodic_inspection.rs"),
            Self::StandingRcdTest => include_str!("standing/rcd_test.rs"),
            Self::StandingEarthingConnection => include_str!("standing/earthing_connection.rs"),
            Self::StandingEarthFreeLocation => include_str!("standing/earth_free_location.rs"),
            Self::StandingSurgeProtection => include_str!("standing/surge_protection.rs"),
            Self::StandingFirefightersSwitch => include_str!("standing/firefighters_switch.rs"),
            Self::StandingMixedColours => include_str!("standing/mixed_colours.rs"),
        })
    }
}

/// The module comment of a source text, without its marks.
fn leading_text(source: &str) -> String {
    let lines = source.lines().map_while(|line| line.strip_prefix("//!"));
    let text: Vec<_> = lines.map(|line| line.strip_prefix(' ').unwrap_or(line)).collect();
    text.join("\n")
}

/// An edition of the wiring rules.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Edition {
    /// BS 7671:2018+A4:2026, in force in the United Kingdom since 15 April 2026.
    #[default]
    Bs7671A4,
}

impl Edition {
    /// The edition as it is printed on every schedule.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Bs7671A4 => "BS 7671:2018+A4:2026",
        }
    }
}

/// What the rules are held against.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RuleOptions {
    /// The edition of the wiring rules.
    pub edition: Edition,
    /// Stored charge, direct voltage that must not be exceeded. _Default value_: 60 V (IEC 60204-1 6.2.4; BS 7671
    /// 416.2.5 has 120 V, from memory).
    pub stored_charge_limit: Volts,
    /// Within so many seconds after isolation. _Default value_: 5 (both documents).
    pub stored_charge_seconds: u32,
}

impl Default for RuleOptions {
    fn default() -> Self {
        Self { edition: Edition::default(), stored_charge_limit: Volts::whole(60), stored_charge_seconds: 5 }
    }
}

/// Decides for every enclosure and every isolator of a survey; [`standing::decide`] does for a list of standing notices.
#[must_use]
pub fn decide(survey: &Survey, network: &Network, options: &RuleOptions) -> (Decisions, Vec<Finding>) {
    let installation = Installation::of(survey, network);
    Assessor { survey, network, installation: &installation, options: *options }.all()
}

/// Why [`decide`] decides about one enclosure as it does; nothing where there is no such enclosure.
#[must_use]
pub fn explain(survey: &Survey, network: &Network, options: &RuleOptions, enclosure: usize) -> Explanation {
    let installation = Installation::of(survey, network);
    Assessor { survey, network, installation: &installation, options: *options }.explain(enclosure).unwrap_or_default()
}

/// Fewer enclosures or devices than this are not worth a thread of their own.
const FEWEST_TOGETHER: usize = 128;

#[cfg(test)]
mod properties;
#[cfg(test)]
mod testing;
#[cfg(test)]
mod tests;
