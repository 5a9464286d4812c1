//! What the devices of a row must part before its live parts are dead.

use super::graph::{Neutral, Terminal};
use super::lines::Lines;
use super::nodes::neutral_by_earthing;
use super::supply::Nature;
use super::system::System;
use super::voltage::WayVoltage;
use crate::survey::value::{Conductor, Current, Earthing, Nominal};
use crate::survey::{Column, Row};

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
    /// file, and whether none but these.
    #[must_use]
    pub fn of(row: &Row, nature: Option<Nature>, voltage: &WayVoltage, (systems, are_all): (&[System], bool)) -> Self {
        let runs_alone = matches!(nature, Some(Nature::Generator | Nature::Ups));
        let says_nothing = row.nominal.is_none() && !Lines::of(row.conductors).is_known();
        let neutral = neutral_present(row, voltage);
        let earthing = earthing_there(row, systems, are_all);
        let named = Lines::to_part(row.conductors, earthing);
        let live_midpoint = row.conductors.contains(Conductor::Midpoint) && earthing != Some(Earthing::Midpoint);
        Self {
            lines: match named.is_known() {
                true => Some(named.count().saturating_add(u8::from(live_midpoint)).max(1)),
                false => lines_of_nominal(row, voltage),
            },
            named,
            live_midpoint,
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

/// How the system is earthed on which a row stands, as far as that spares a device a pole: by the row, unless a system that can
/// stand there is earthed otherwise; where the row is silent, by all systems alike.
fn earthing_there(row: &Row, systems: &[System], are_all: bool) -> Option<Earthing> {
    let is_otherwise = |system: &System| is_earthed_otherwise(row.earthing, system.earthing);
    match row.earthing {
        Some(own) => Some(own).filter(|_| !systems.iter().any(is_otherwise)),
        None if row.not_known.contains(Column::Earthing) || !are_all => None,
        None => {
            let first = systems.first()?.earthing;
            first.filter(|_| systems.iter().all(|system| system.earthing == first))
        }
    }
}

/// Lines that a row brings by its nominal voltage; `None` where the survey does not say.
fn lines_of_nominal(row: &Row, voltage: &WayVoltage) -> Option<u8> {
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
        let Needs { lines, neutral, .. } = Needs::of(row, None, &voltage::of_row(row, None, 10), (&[], false));
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
            Needs::of(&row, None, &voltage::of_row(&row, None, 10), (&[], false)).neutral_can_be_live
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
            Needs::of(row, None, &voltage::of_row_among(row, None, 10, systems, true), (systems, true)).lines_to_part()
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

    #[test]
    fn only_a_row_that_says_nothing_leaves_it_open_that_it_has_poles() {
        let node = NodeId::new(0);
        let system = |current, volts| {
            let nominal = Some(Nominal { current, to_neutral: None, between: Some(Volts::whole(volts)) });
            System { began: node, nominal, earthed: node, earthing: None }
        };
        let there = [system(Current::Ac, 400), system(Current::Dc, 110)];
        let with = |nominal, conductors: &[Conductor], systems: &[System]| {
            let row = Row { nominal, conductors: conductors.into(), ..Row::default() };
            let needs = Needs::of(&row, None, &voltage::of_row(&row, None, 10), (systems, true));
            (needs.may_have_poles, needs.live_midpoint)
        };
        assert_eq!(with(None, &[], &there), (true, false));
        assert_eq!(with(None, &[], &there[..1]), (false, false));
        assert_eq!(with(nominal(Some(230), None), &[], &there), (false, false));
        assert_eq!(with(None, &[Conductor::L1, Conductor::N], &there), (false, false));
        assert_eq!(with(nominal(Some(230), None), &[Conductor::L1], &there), (false, false));
        assert_eq!(with(None, &[Conductor::Positive, Conductor::Midpoint], &there), (false, true));
    }
}
