//! What the devices of a row must part before its live parts are dead.

use super::graph::{Neutral, Terminal};
use super::lines::Lines;
use super::nodes::neutral_by_earthing;
use super::supply::Nature;
use super::system::System;
use super::voltage::WayVoltage;
use crate::survey::Row;
use crate::survey::value::{Conductor, Current, Earthing, Nominal};

/// The conductors of a row that must be parted, as far as the survey tells.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Needs {
    /// Lines or poles; `None` where the survey does not say.
    pub lines: Option<u8>,
    /// Those of them that it names.
    pub named: Lines,
    /// Whether a midpoint is among them that is as live as a pole.
    pub live_midpoint: bool,
    /// Whether a neutral is among them; `None` where the survey does not say.
    pub neutral: Option<bool>,
    /// Whether a neutral can be live by the row's own word of its earthing or of a source that runs alone, whatever the
    /// supplies file says.
    pub neutral_can_be_live: bool,
    /// Whether its cells leave it open that direct current stands there, and by the supplies file it can.
    pub may_have_poles: bool,
}

impl Needs {
    /// What a row of these voltages and a source of this nature needs, on which any of these systems can stand by the supplies
    /// file.
    #[must_use]
    pub fn of(row: &Row, nature: Option<Nature>, voltage: &WayVoltage, systems: &[System]) -> Self {
        let runs_alone = matches!(nature, Some(Nature::Generator | Nature::Ups));
        let says_nothing = row.nominal.is_none() && !Lines::of(row.conductors).is_known();
        let neutral = neutral_present(row, voltage);
        Self {
            lines: lines_needed(row, voltage, systems),
            named: Lines::to_part(row),
            live_midpoint: has_live_midpoint(row),
            neutral,
            neutral_can_be_live: neutral != Some(false)
                && (runs_alone || neutral_by_earthing(row.earthing) == Neutral::MayBeLive),
            may_have_poles: says_nothing && systems.iter().any(is_direct),
        }
    }

    /// Lines or poles of which a device must part all; of direct current those are two, whatever else can stand there: a
    /// further source takes none of them away. `None` where nothing is known of them.
    #[must_use]
    pub fn lines_to_part(self) -> Option<u8> {
        self.lines.or(self.may_have_poles.then_some(2))
    }
}

/// Lines that a row brings; `None` where the survey does not say.
fn lines_needed(row: &Row, voltage: &WayVoltage, systems: &[System]) -> Option<u8> {
    let is_otherwise = systems.iter().any(|system| is_earthed_otherwise(row.earthing, system.earthing));
    let lines = if is_otherwise { Lines::of(row.conductors) } else { Lines::to_part(row) };
    if lines.is_known() {
        return Some(lines.count().saturating_add(u8::from(has_live_midpoint(row))).max(1));
    }
    match voltage.current {
        Current::Dc if voltage.current_is_said => Some(2),
        Current::Ac | Current::Dc => row.nominal.filter(Nominal::is_of_one_line).map(|_| 1),
    }
}

/// Whether a row says which pole is earthed, and a system that can stand there is earthed in another way, or not at all.
pub(super) fn is_earthed_otherwise(own: Option<Earthing>, there: Option<Earthing>) -> bool {
    let is_pole = matches!(own, Some(Earthing::PositiveEarthed | Earthing::NegativeEarthed));
    is_pole && there.is_some() && there != own && there != Some(Earthing::PoleEarthed)
}

fn is_direct(system: &System) -> bool {
    system.nominal.is_some_and(|nominal| nominal.current == Current::Dc)
}

/// A midpoint that is not the earthed point of its system is as live as a pole.
#[must_use]
pub fn has_live_midpoint(row: &Row) -> bool {
    row.conductors.contains(Conductor::Midpoint) && row.earthing != Some(Earthing::Midpoint)
}

/// Whether a neutral is among the conductors; `None` where the survey does not say.
fn neutral_present(row: &Row, voltage: &WayVoltage) -> Option<bool> {
    let lines = Lines::of(row.conductors);
    if row.further().neutral_from.is_some() || lines.has_neutral() {
        return Some(true);
    }
    if lines.is_known() || (voltage.current_is_said && voltage.current == Current::Dc) {
        return Some(false);
    }
    row.nominal.is_some_and(|nominal| nominal.is_of_one_line()).then_some(true)
}

/// The circuits whose neutral is connected with that of a row: the one that lends it, and those that borrow it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Lender {
    /// The row's neutral is its own, on the survey's word.
    #[default]
    None,
    /// Where the live parts of those circuits are connected, wherever they run.
    At(Vec<Terminal>),
    /// Neither file says where that circuit runs, or it is not known whether the neutral is shared.
    NotFound,
}

#[cfg(test)]
mod tests {
    use super::super::{NodeId, voltage};
    use super::*;
    use crate::survey::Further;
    use crate::survey::value::Volts;

    fn needs(row: &Row) -> (Option<u8>, Option<bool>) {
        let Needs { lines, neutral, .. } = Needs::of(row, None, &voltage::of_row(row, None, 10), &[]);
        (lines, neutral)
    }

    fn nominal(to_neutral: Option<u32>, between: Option<u32>) -> Option<Nominal> {
        let (to_neutral, between) = (to_neutral.map(Volts::whole), between.map(Volts::whole));
        Some(Nominal { current: Current::Ac, to_neutral, between })
    }

    #[test]
    fn conductors_tell_what_must_be_parted() {
        use Conductor::{L1, L2, Midpoint, N, Negative, Positive};
        let with = |conductors: &[Conductor]| needs(&Row { conductors: conductors.into(), ..Row::default() });
        assert_eq!(with(&[L1, N]), (Some(1), Some(true)));
        assert_eq!(with(&[L1, L2]), (Some(2), Some(false)));
        assert_eq!(with(&[Positive, Midpoint, Negative]), (Some(3), Some(false)));
        assert_eq!(with(&[N]), (Some(1), Some(true)));
    }

    #[test]
    fn a_pole_that_is_said_to_be_earthed_may_stay_connected() {
        use Conductor::{L1, Midpoint, Negative, Positive};
        let with = |conductors: &[Conductor], earthing| {
            let row = Row { conductors: conductors.into(), earthing: Some(earthing), ..Row::default() };
            needs(&row).0
        };
        assert_eq!(with(&[Positive, Negative], Earthing::PoleEarthed), Some(2));
        assert_eq!(with(&[Positive, Negative], Earthing::NegativeEarthed), Some(1));
        assert_eq!(with(&[Positive, Negative], Earthing::PositiveEarthed), Some(1));
        assert_eq!(with(&[Positive, Midpoint, Negative], Earthing::NegativeEarthed), Some(2));
        assert_eq!(with(&[Negative], Earthing::NegativeEarthed), Some(1));
        assert_eq!(with(&[L1, Negative], Earthing::NegativeEarthed), Some(2));
    }

    #[test]
    fn a_neutral_of_an_electrode_of_its_own_can_be_live() {
        use Conductor::{L1, L2, N};
        let with = |conductors: &[Conductor], earthing| {
            let row = Row { conductors: conductors.into(), earthing, ..Row::default() };
            Needs::of(&row, None, &voltage::of_row(&row, None, 10), &[]).neutral_can_be_live
        };
        assert!(with(&[L1, N], Some(Earthing::Tt)) && with(&[L1, N], Some(Earthing::It)));
        assert!(with(&[], Some(Earthing::Tt)), "it may have a neutral");
        assert!(!with(&[L1, L2], Some(Earthing::Tt)), "it has none");
        assert!(!with(&[L1, N], Some(Earthing::TnS)) && !with(&[L1, N], None));
    }

    #[test]
    fn without_conductors_only_one_line_is_certain() {
        let with = |nominal| needs(&Row { nominal, ..Row::default() });
        assert_eq!(with(nominal(Some(230), None)), (Some(1), Some(true)));
        assert_eq!(with(nominal(Some(230), Some(400))), (None, None));
        assert_eq!(with(None), (None, None));
    }

    #[test]
    fn a_further_system_never_makes_fewer_poles_enough() {
        let began = |node, nominal| System {
            began: NodeId::new(node),
            nominal,
            earthed: NodeId::new(node),
            earthing: Some(Earthing::TnS),
        };
        let direct = Nominal { current: Current::Dc, to_neutral: None, between: Some(Volts::whole(110)) };
        let (direct, pair) = (began(0, Some(direct)), began(1, nominal(Some(230), Some(400))));
        let with = |row: &Row, systems: &[System]| {
            Needs::of(row, None, &voltage::of_row_among(row, None, 10, systems, true), systems).lines_to_part()
        };
        let silent = Row::default();
        assert_eq!(with(&silent, &[direct]), Some(2));
        assert_eq!(with(&silent, &[direct, pair]), Some(2));
        assert_eq!(with(&silent, &[direct, began(1, None)]), Some(2));
        assert_eq!(with(&silent, &[pair]), None);
        let told = Row { conductors: [Conductor::L1, Conductor::N].as_slice().into(), ..Row::default() };
        assert_eq!(with(&told, &[direct, pair]), Some(1));
        let told = Row { nominal: nominal(Some(230), None), ..Row::default() };
        assert_eq!(with(&told, &[direct, pair]), Some(1));
    }

    #[test]
    fn a_borrowed_neutral_is_one() {
        let further = Further { neutral_from: Some("C/9".to_owned()), ..Further::default() };
        let row = Row { further: Some(Box::new(further)), ..Row::default() };
        assert_eq!(needs(&row), (None, Some(true)));
    }
}
