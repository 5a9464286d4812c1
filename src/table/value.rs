//! The values that cells hold, once understood.

use std::fmt;
use std::num::NonZeroU32;
use std::sync::Arc;

use serde::Deserialize;

use super::few::Few;
use crate::length::Size;

/// A nominal voltage in whole millivolts; never negative.
///
/// What is kept is one more than them, so that a voltage that is not told takes no more room than one that is: of a large
/// survey there are millions.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Volts(NonZeroU32);

impl Volts {
    /// So many whole volts.
    #[must_use]
    pub const fn whole(volts: u32) -> Self {
        Self::milli(volts * 1_000)
    }

    /// So many millivolts.
    #[must_use]
    pub const fn milli(millivolts: u32) -> Self {
        Self(NonZeroU32::MIN.saturating_add(millivolts))
    }

    /// In millivolts.
    #[must_use]
    pub const fn to_milli(self) -> u32 {
        self.0.get() - 1
    }

    /// In volts.
    #[must_use]
    pub fn to_volts(self) -> f64 {
        f64::from(self.to_milli()) / 1_000.0
    }
}

impl Default for Volts {
    fn default() -> Self {
        Self::milli(0)
    }
}

/// As its unit has it, not as it is kept.
impl fmt::Debug for Volts {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_tuple("Volts").field(&self.to_milli()).finish()
    }
}

/// Volts without trailing zeros and without a unit: `230`, `63.5`.
impl fmt::Display for Volts {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (whole, thousandths) = (self.to_milli() / 1_000, self.to_milli() % 1_000);
        match thousandths {
            0 => write!(f, "{whole}"),
            tenths if tenths % 100 == 0 => write!(f, "{whole}.{}", tenths / 100),
            hundredths if hundredths % 10 == 0 => write!(f, "{whole}.{:02}", hundredths / 10),
            thousandths => write!(f, "{whole}.{thousandths:03}"),
        }
    }
}

/// Alternating or direct.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Current {
    /// Alternating.
    Ac,
    /// Direct.
    Dc,
}

/// A declared nominal voltage.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Nominal {
    /// Alternating or direct.
    pub current: Current,
    /// Line to neutral, or pole to midpoint; `None` where only the voltage between lines is given.
    pub to_neutral: Option<Volts>,
    /// Between lines, or between poles; `None` for one line and neutral.
    pub between: Option<Volts>,
}

impl Nominal {
    /// Whether it is that of one line and neutral.
    #[must_use]
    pub const fn is_of_one_line(&self) -> bool {
        self.between.is_none() && self.to_neutral.is_some()
    }
}

/// A live conductor.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Conductor {
    /// Line 1.
    L1,
    /// Line 2.
    L2,
    /// Line 3.
    L3,
    /// Neutral.
    N,
    /// Positive pole.
    Positive,
    /// Negative pole.
    Negative,
    /// Midpoint of a d.c. system.
    Midpoint,
}

impl Conductor {
    /// Every conductor, in order.
    pub const ALL: [Self; 7] = [Self::L1, Self::L2, Self::L3, Self::N, Self::Positive, Self::Negative, Self::Midpoint];
}

/// The live conductors of a circuit, each once; empty if the survey does not say.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Conductors(u8);

impl Conductors {
    /// Adds a conductor.
    pub const fn insert(&mut self, conductor: Conductor) {
        self.0 |= 1 << conductor as u8;
    }

    /// Whether this conductor is among them.
    #[must_use]
    pub const fn contains(self, conductor: Conductor) -> bool {
        self.0 & (1 << conductor as u8) != 0
    }

    /// Whether there are none.
    #[must_use]
    pub const fn is_empty(self) -> bool {
        self.0 == 0
    }

    /// Whether a pole or the midpoint of a d.c. system is among them.
    #[must_use]
    pub const fn has_pole(self) -> bool {
        self.contains(Conductor::Positive) || self.contains(Conductor::Negative) || self.contains(Conductor::Midpoint)
    }

    /// Those of both.
    #[must_use]
    pub const fn union(self, other: Self) -> Self {
        Self(self.0 | other.0)
    }

    /// Each of them, in order.
    pub fn iter(self) -> impl Iterator<Item = Conductor> {
        Conductor::ALL.into_iter().filter(move |conductor| self.contains(*conductor))
    }
}

impl From<&[Conductor]> for Conductors {
    fn from(conductors: &[Conductor]) -> Self {
        let mut set = Self::default();
        conductors.iter().for_each(|conductor| set.insert(*conductor));
        set
    }
}

impl<const COUNT: usize> From<[Conductor; COUNT]> for Conductors {
    fn from(conductors: [Conductor; COUNT]) -> Self {
        Self::from(conductors.as_slice())
    }
}

/// How a system is earthed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Earthing {
    /// Separate neutral and protective conductors throughout.
    TnS,
    /// Combined in part of the system.
    TnCS,
    /// Combined throughout: a PEN conductor.
    TnC,
    /// Own earth electrode.
    Tt,
    /// Unearthed or earthed through an impedance.
    It,
    /// One line earthed.
    LineEarthed,
    /// Centre tap or midpoint earthed.
    Midpoint,
    /// One pole of a d.c. system earthed.
    PoleEarthed,
    /// The positive pole of a d.c. system earthed.
    PositiveEarthed,
    /// The negative pole of a d.c. system earthed.
    NegativeEarthed,
    /// A d.c. system without an earthed point.
    Unearthed,
    /// Separated extra-low voltage.
    Selv,
    /// Protective extra-low voltage.
    Pelv,
    /// Functional extra-low voltage.
    Felv,
}

/// Where energy comes from in the end.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SourceKind {
    /// The public network.
    Mains,
    /// A generating set.
    Generator,
    /// Solar modules.
    Solar,
    /// A stationary battery.
    Battery,
    /// An uninterruptible power supply.
    Ups,
    /// A vehicle that can export.
    Vehicle,
    /// A source that the survey names itself.
    Named(Box<str>),
}

/// What kind of device isolates.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum DeviceKind {
    /// Switch-disconnector.
    SwitchDisconnector,
    /// Disconnector.
    Disconnector,
    /// Circuit-breaker suitable for isolation.
    Breaker,
    /// Fuse that is withdrawn.
    Fuse,
    /// Link that is withdrawn.
    Link,
    /// Plug and socket-outlet.
    PlugSocket,
    /// The network operator's cut-out; never the user's point of isolation.
    NetworkCutout,
}

impl DeviceKind {
    /// Every kind.
    pub const ALL: [Self; 7] = [
        Self::SwitchDisconnector,
        Self::Disconnector,
        Self::Breaker,
        Self::Fuse,
        Self::Link,
        Self::PlugSocket,
        Self::NetworkCutout,
    ];

    /// The word for it in surveys and reports.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::SwitchDisconnector => "switch-disconnector",
            Self::Disconnector => "disconnector",
            Self::Breaker => "breaker",
            Self::Fuse => "fuse",
            Self::Link => "link",
            Self::PlugSocket => "plug-socket",
            Self::NetworkCutout => "network-cutout",
        }
    }
}

/// Which conductors a device switches.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Poles {
    /// Line conductors or poles, from 1 to 3.
    pub lines: u8,
    /// Whether the neutral is switched too.
    pub neutral: bool,
}

/// What an interlock does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum InterlockKind {
    /// One handle opens every row: one device.
    Coupled,
    /// Every row is isolated before access.
    TrappedKey,
    /// An auxiliary contact; lifts nothing.
    AuxiliaryContact,
    /// Prevents paralleling only; lifts nothing.
    NoParallel,
}

/// How a row is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Basis {
    /// Assumed: never enough for "not needed".
    Assumed,
    /// Read off a drawing.
    Drawing,
    /// Traced on site.
    Traced,
    /// Proved by test on site.
    Proved,
}

/// What an enclosure is in the installation.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Role {
    /// The origin of the installation.
    Origin,
    /// A meter remote from the origin.
    Meter,
    /// The board where sources meet.
    Board,
    /// A point of isolation of a source.
    IsolatingPoint,
}

/// What a notice must stand up to.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Environment {
    /// Inside a building.
    pub indoor: bool,
    /// In the open.
    pub outdoor: bool,
    /// In the sun.
    pub sun: bool,
    /// Washed down.
    pub washdown: bool,
    /// Oil and solvents.
    pub solvent: bool,
    /// Surface temperature in degrees Celsius where heat is named.
    pub heat: Option<i16>,
    /// The lowest temperature of its surface in degrees Celsius where cold is named.
    pub cold: Option<i16>,
}

impl Environment {
    /// The conditions as a survey spells them, `outdoor, sun, heat 60`, `indoor, cold -28`; empty where nothing is known.
    #[must_use]
    pub fn in_words(&self) -> String {
        let named = [
            (self.indoor, "indoor"),
            (self.outdoor, "outdoor"),
            (self.sun, "sun"),
            (self.washdown, "washdown"),
            (self.solvent, "solvent"),
        ];
        let words = named.into_iter().filter(|(holds, _)| *holds).map(|(_, word)| word.to_owned());
        let heat = self.heat.map(|degrees| format!("heat {degrees}"));
        let cold = self.cold.map(|degrees| format!("cold {degrees}"));
        words.chain(heat).chain(cold).collect::<Vec<_>>().join(", ")
    }
}

/// What a notice is fixed on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Surface {
    /// Painted metal.
    PaintedMetal,
    /// Bare metal.
    BareMetal,
    /// Plastic.
    Plastic,
    /// A textured surface.
    Textured,
    /// A curved surface.
    Curved,
}

impl Surface {
    /// The surface as a survey spells it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::PaintedMetal => "painted-metal",
            Self::BareMetal => "bare-metal",
            Self::Plastic => "plastic",
            Self::Textured => "textured",
            Self::Curved => "curved",
        }
    }
}

/// A reason with the name of who declares it.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Declaration {
    /// Why.
    pub reason: String,
    /// Who says so.
    pub by: String,
}

/// A device as a row names it: designation and location together identify it.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct DeviceRef {
    /// Designation.
    pub designation: Arc<str>,
    /// Where it is; empty if the survey does not say. What many devices say alike is one text.
    pub location: Arc<str>,
}

/// What a row says about its isolation.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Isolation {
    /// These devices, all of which must be opened; never empty.
    By(Few<DeviceRef>),
    /// It cannot be isolated.
    Impossible,
    /// Nobody knows yet.
    Unknown,
}

/// The size of a notice.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct NoticeSize(pub Size);

/// Where the code of a notice leads.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash)]
pub enum RecordLink {
    /// Nothing said: the job's link base and the notice's number, if the job has one.
    #[default]
    Unset,
    /// No code is wanted.
    None,
    /// A link or a record number.
    Given(String),
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        /// The reference is how the standard library writes the same figure.
        #[test]
        fn volts_are_written_as_the_figure_that_they_are(milli in prop_oneof![any::<u32>(), 0_u32..70_000]) {
            let volts = Volts::milli(milli);
            prop_assert_eq!(volts.to_string(), volts.to_volts().to_string());
        }
    }
}
