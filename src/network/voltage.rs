//! The voltage to earth that follows from nominal voltage and earthing, held against the declared one.
//!
//! It is never found by dividing by the square root of three: 400 / 1.732 is 230.9, which would alarm on every ordinary
//! board. What stands is the nominal pair as declared, or as IEC 60038 lists it.

mod given;
pub(super) mod report;
pub mod words;

pub(super) use given::{Differing, differing, is_one_nominal, only_current};

use super::lines::Lines;
use super::supply::Nature;
use super::system::System;
use crate::survey::Row;
use crate::survey::value::{Current, Earthing, Nominal, Volts};

/// Nominal a.c. voltages to neutral and between lines, IEC 60038 Table 1 (from secondary sources).
pub const PAIRS: [(Volts, Volts); 5] = [
    (Volts::whole(120), Volts::whole(208)),
    (Volts::whole(230), Volts::whole(400)),
    (Volts::whole(277), Volts::whole(480)),
    (Volts::whole(347), Volts::whole(600)),
    (Volts::whole(400), Volts::whole(690)),
];

/// Reduced low voltage, single-phase: 55 V to earth, 110 V between lines (BS 7671 411.8).
pub const REDUCED_SINGLE_PHASE: (Volts, Volts) = (Volts::whole(55), Volts::whole(110));

/// Reduced low voltage, three-phase: 63.5 V to earth, 110 V between lines (BS 7671 411.8).
pub const REDUCED_THREE_PHASE: (Volts, Volts) = (Volts::milli(63_500), Volts::whole(110));

/// How far above the nominal value a supply may stand: +10 % (BS 7671 and SI 1994/3021; IEC 60038).
pub const SUPPLY_TOLERANCE_PERCENT: u32 = 10;

/// The voltage between lines that belongs to a voltage to neutral.
#[must_use]
pub fn between_lines_of(to_neutral: Volts) -> Option<Volts> {
    PAIRS.iter().find(|(neutral, _)| *neutral == to_neutral).map(|(_, between)| *between)
}

fn to_neutral_of(between: Volts) -> Option<Volts> {
    PAIRS.iter().find(|(_, lines)| *lines == between).map(|(neutral, _)| *neutral)
}

/// Why a voltage to earth is what it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum EarthRule {
    /// TN and TT: line to neutral.
    LineToNeutral,
    /// IT: line to line, because a first fault may stay.
    FirstFault,
    /// One line earthed: line to line.
    OneLineEarthed,
    /// Reduced low voltage: 55 V single-phase, 63.5 V three-phase.
    ReducedLowVoltage,
    /// One winding earthed at its centre, the third line stands higher: the square root of three times half the winding.
    HighLeg,
    /// A row with line 3 on such a winding: that may be the high leg, and no cell says which line is.
    PerhapsHighLeg,
    /// Earthed at the centre: half.
    Half,
    /// Extra-low voltage: the nominal value.
    ExtraLow,
    /// One pole earthed: the full voltage.
    PoleEarthed,
    /// Unearthed direct current: the full voltage at a first fault.
    UnearthedPoles,
    /// Solar modules at the lowest temperature, open circuit.
    SolarCold,
}

impl EarthRule {
    /// In words, for an explanation.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::LineToNeutral => "line to neutral",
            Self::FirstFault => "between lines, because a first fault to earth may stay",
            Self::OneLineEarthed => "between lines, because one line is earthed",
            Self::ReducedLowVoltage => "reduced low voltage",
            Self::HighLeg => "the high leg of a winding earthed at its centre",
            Self::PerhapsHighLeg => "line 3 taken for the high leg of a winding earthed at its centre",
            Self::Half => "half, because the midpoint is earthed",
            Self::ExtraLow => "extra-low voltage, the nominal value",
            Self::PoleEarthed => "the full voltage, because one pole is earthed",
            Self::UnearthedPoles => "the full voltage, because a first fault to earth may stay",
            Self::SolarCold => "solar modules at their lowest temperature, open circuit",
        }
    }
}

/// What follows from nominal voltage and earthing.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Computed {
    /// To earth, and by which rule; `None` where the survey does not say enough.
    pub to_earth: Option<(Volts, EarthRule)>,
    /// What it cannot be lower than, whatever the earthing.
    pub at_least: Option<Volts>,
    /// Between lines or poles of the circuit, as declared.
    pub between: Option<Volts>,
}

/// How the declared voltage to earth stands to the computed one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Agreement {
    /// They agree.
    Agrees,
    /// Nothing could be computed: the declared value stands on the survey's word.
    NotComputed,
    /// Nothing is declared, or the cell is faulty.
    NotDeclared,
    /// The declared value is lower: the notice would understate the voltage.
    Understated,
    /// The system is unearthed, and one figure alone does not tell what may stand to earth at a first fault; the declared
    /// value is lower than what may.
    LinesNotTold,
    /// The declared value is higher, and within the tolerance of a supply: a measured value, not a nominal one.
    LooksMeasured,
    /// The declared value is the old United Kingdom nominal of 240 V, now 230 V.
    OldNominal,
    /// The declared value is higher by more than the tolerance, or higher than any earthing makes it.
    Overstated,
}

/// What tells the voltage of a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ToldBy {
    /// The row's own cells, or nothing.
    Row,
    /// The row's own cells, and this system of the supplies file agrees.
    Both(System),
    /// This system of the supplies file: the row's cells do not tell, or tell of a lower voltage.
    SuppliesFile(System),
}

/// What stands on a row of the other kind of current: direct current from a battery behind a changeover, or from modules
/// whose figures a row gives beside an alternating voltage.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Other {
    /// The system of the supplies file; `None` where the row's own figures of modules tell it.
    pub system: Option<System>,
    /// Its kind of current.
    pub current: Current,
    /// The voltage to earth, or what it cannot be lower than.
    pub to_earth: Volts,
}

/// The voltages of one row.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct WayVoltage {
    /// Alternating or direct; where the survey does not say it is taken as alternating.
    pub current: Current,
    /// True where the survey says so.
    pub current_is_said: bool,
    /// What follows from nominal voltage and earthing.
    pub computed: Computed,
    /// What tells the computed voltage to earth.
    pub told_by: ToldBy,
    /// How the declared value stands to it.
    pub agreement: Agreement,
    /// The value to go by; `None` where nothing is declared and nothing can be computed.
    pub to_earth: Option<Volts>,
    /// Whether it is extra-low voltage, and all that tells the earthing says SELV or PELV; FELV is not separated.
    pub is_separated: bool,
    /// The pole that is earthed, where all that tells the earthing says the same one.
    pub earthed_pole: Option<Earthing>,
    /// The highest of the other kind of current that can stand here, by the supplies file or the row's own figures.
    pub other: Option<Other>,
}

/// The voltages of a row, by its own cells.
#[must_use]
pub fn of_row(row: &Row, nature: Option<Nature>, tolerance_percent: u32) -> WayVoltage {
    of_row_among(row, nature, tolerance_percent, &[], false)
}

/// The voltages of a row on which any of these systems can stand; whether those are all is said beside them.
///
/// The highest counts. Where the row's own cells do not tell, and not every system is known, nothing is certain but that
/// the voltage is no lower than those known.
#[must_use]
pub fn of_row_among(
    row: &Row,
    nature: Option<Nature>,
    tolerance_percent: u32,
    systems: &[System],
    are_all: bool,
) -> WayVoltage {
    let lines = Lines::of(row.conductors);
    let (current, current_is_said) = current_of(row, nature, lines, systems);
    let (computed, told_by) = given::computed_among(row, current, systems, are_all);
    let is_unearthed = is_unearthed(row.earthing) || systems.iter().any(|system| is_unearthed(system.earthing));
    let mut compared = compare(row.voltage_to_earth, &computed, current, tolerance_percent);
    if compared == Agreement::NotComputed && is_too_high(row, current, &computed) {
        compared = Agreement::Overstated;
    }
    let lines_not_told =
        is_unearthed && compared == Agreement::NotComputed && leaves_lines_open(row, current, &computed);
    let agreement = if lines_not_told { Agreement::LinesNotTold } else { compared };
    let by_rule = computed.to_earth.map(|(volts, _)| volts);
    let to_earth = match agreement {
        Agreement::Overstated | Agreement::NotComputed | Agreement::LinesNotTold => row.voltage_to_earth,
        Agreement::OldNominal => Some(by_rule.unwrap_or(Volts::whole(230))),
        Agreement::Agrees => by_rule.or(row.voltage_to_earth),
        Agreement::LooksMeasured | Agreement::NotDeclared => by_rule,
        Agreement::Understated => by_rule.max(computed.at_least),
    };
    let (is_separated, earthed_pole) = (is_separated(row, &computed, systems), earthed_pole(row, systems));
    let other = given::of_other_current(row, current, systems);
    WayVoltage { current, current_is_said, computed, told_by, agreement, to_earth, is_separated, earthed_pole, other }
}

fn is_separated(row: &Row, computed: &Computed, systems: &[System]) -> bool {
    let mut told = row.earthing.into_iter().chain(systems.iter().filter_map(|system| system.earthing));
    let is_extra_low = matches!(computed.to_earth, Some((_, EarthRule::ExtraLow)));
    is_extra_low && told.all(|earthing| matches!(earthing, Earthing::Selv | Earthing::Pelv))
}

/// The pole that the row or every one of the systems says is earthed, where none says otherwise; `pole-earthed` says of
/// neither which it is.
fn earthed_pole(row: &Row, systems: &[System]) -> Option<Earthing> {
    let is_pole = |earthing: &Earthing| matches!(earthing, Earthing::PositiveEarthed | Earthing::NegativeEarthed);
    let told = || row.earthing.into_iter().chain(systems.iter().filter_map(|system| system.earthing));
    let pole = told().find(is_pole)?;
    let is_told = row.earthing == Some(pole) || systems.iter().all(|system| system.earthing == Some(pole));
    let agrees = |earthing| earthing == pole || earthing == Earthing::PoleEarthed;
    (is_told && told().all(agrees)).then_some(pole)
}

const fn is_unearthed(earthing: Option<Earthing>) -> bool {
    matches!(earthing, Some(Earthing::It | Earthing::Unearthed))
}

/// Whether one figure alone is known of an alternating voltage, and less is declared than may stand between lines if it is
/// the one to a neutral: about the square root of three times as much.
fn leaves_lines_open(row: &Row, current: Current, computed: &Computed) -> bool {
    let single = computed.at_least.filter(|_| current == Current::Ac && computed.between.is_none());
    let declared = row.voltage_to_earth.map(|volts| u64::from(volts.to_milli()) * 10);
    single.zip(declared).is_some_and(|(single, declared)| declared < u64::from(single.to_milli()) * 17)
}

fn current_of(row: &Row, nature: Option<Nature>, lines: Lines, systems: &[System]) -> (Current, bool) {
    if let Some(nominal) = row.nominal {
        return (nominal.current, true);
    }
    if lines.has_pole() || has_solar_figures(row) {
        return (Current::Dc, true);
    }
    if lines.is_known() {
        return (Current::Ac, true);
    }
    if let Some(current) = given::only_current(systems) {
        return (current, true);
    }
    match nature {
        Some(Nature::Battery) => (Current::Dc, false),
        Some(Nature::Mains | Nature::Generator | Nature::Solar | Nature::Ups | Nature::Vehicle | Nature::NotTold)
        | None => (Current::Ac, false),
    }
}

/// Whether the row describes a string of solar modules.
#[must_use]
pub fn has_solar_figures(row: &Row) -> bool {
    row.further().pv_series.is_some() || row.further().pv_voc.is_some()
}

/// Whether a row gives figures of solar modules, and a nominal voltage or conductors of alternating current. Both cannot be
/// true, and modules mostly stand far above what an inverter gives.
#[must_use]
pub fn has_solar_figures_on_alternating(row: &Row) -> bool {
    let lines = Lines::of(row.conductors);
    let is_alternating = row.nominal.is_some_and(|nominal| nominal.current == Current::Ac);
    has_solar_figures(row) && (is_alternating || lines.is_known() && !lines.has_pole())
}

/// Whether a row is the direct side of solar modules, and their highest voltage could not be computed.
#[must_use]
pub fn is_solar_without_figures(row: &Row, voltage: &WayVoltage) -> bool {
    let is_solar = row.source.as_ref().map(Nature::of) == Some(Nature::Solar) || has_solar_figures(row);
    let is_computed = matches!(voltage.computed.to_earth, Some((_, EarthRule::SolarCold)));
    is_solar && voltage.current == Current::Dc && !is_computed
}

/// Whether a d.c. row does not say how it is earthed, so that its whole voltage may stand to earth.
#[must_use]
pub fn is_direct_of_unknown_earthing(voltage: &WayVoltage) -> bool {
    voltage.current == Current::Dc && voltage.computed.between.is_some() && voltage.computed.to_earth.is_none()
}

/// An alternating voltage by the earthing of its system.
fn alternating(nominal: Nominal, earthing: Option<Earthing>, lines: Lines) -> Computed {
    let between = nominal.between;
    let known = |volts, rule| Some((volts, rule));
    let lines_rule = |rule| between.map(|volts| (volts, rule));
    let to_earth = match earthing {
        Some(Earthing::TnS | Earthing::TnCS | Earthing::TnC | Earthing::Tt) => to_neutral(nominal),
        Some(Earthing::It | Earthing::Unearthed) => first_fault(nominal, lines),
        Some(Earthing::LineEarthed | Earthing::PoleEarthed | Earthing::PositiveEarthed | Earthing::NegativeEarthed) => {
            lines_rule(EarthRule::OneLineEarthed)
        }
        Some(Earthing::Midpoint) => centre_earthed(nominal, lines),
        Some(Earthing::Selv | Earthing::Pelv | Earthing::Felv) => {
            between.or(nominal.to_neutral).and_then(|volts| known(volts, EarthRule::ExtraLow))
        }
        None => reduced(nominal),
    };
    Computed { to_earth, at_least: nominal.to_neutral, between }
}

/// Unearthed: line to line. A neutral shows that there are further lines, whether the row names them or not.
fn first_fault(nominal: Nominal, lines: Lines) -> Option<(Volts, EarthRule)> {
    let of_table = || nominal.to_neutral.filter(|_| lines.has_neutral()).and_then(between_lines_of);
    nominal.between.or_else(of_table).map(|volts| (volts, EarthRule::FirstFault))
}

/// Line to neutral, as declared or as the table pairs it.
fn to_neutral(nominal: Nominal) -> Option<(Volts, EarthRule)> {
    if let Some(found) = reduced(nominal) {
        return Some(found);
    }
    let volts = nominal.to_neutral.or_else(|| nominal.between.and_then(to_neutral_of))?;
    Some((volts, EarthRule::LineToNeutral))
}

/// Reduced low voltage: the pair itself tells the earthing.
fn reduced(nominal: Nominal) -> Option<(Volts, EarthRule)> {
    let pair = (nominal.to_neutral?, nominal.between?);
    (pair == REDUCED_SINGLE_PHASE || pair == REDUCED_THREE_PHASE).then_some((pair.0, EarthRule::ReducedLowVoltage))
}

/// A system earthed at the centre of a winding.
fn centre_earthed(nominal: Nominal, lines: Lines) -> Option<(Volts, EarthRule)> {
    if let Some(found) = reduced(nominal) {
        return Some(found);
    }
    let whole = match (nominal.to_neutral, nominal.between) {
        (Some(half), Some(whole)) if half.to_milli().checked_mul(2) == Some(whole.to_milli()) => whole,
        (Some(star), Some(_)) => return Some((star, EarthRule::LineToNeutral)),
        (None, Some(whole)) => whole,
        (Some(bare), None) if bare == REDUCED_SINGLE_PHASE.1 => bare,
        (Some(half), None) => return Some((half, EarthRule::LineToNeutral)),
        (None, None) => return None,
    };
    if whole == REDUCED_SINGLE_PHASE.1 {
        let volts = if lines.count() == 3 { REDUCED_THREE_PHASE.0 } else { REDUCED_SINGLE_PHASE.0 };
        return Some((volts, EarthRule::ReducedLowVoltage));
    }
    if lines.count() == 3 {
        return Some((high_leg(whole), EarthRule::HighLeg));
    }
    // A winding has two ends: a third line shows a delta, and may be the one that stands higher.
    if lines.has_third_line() {
        return Some((high_leg(whole), EarthRule::PerhapsHighLeg));
    }
    Some((Volts::milli(whole.to_milli().div_ceil(2)), EarthRule::Half))
}

/// The line opposite the earthed centre of a delta: height of an equilateral triangle, to a tenth of a volt.
#[must_use]
pub fn high_leg(between: Volts) -> Volts {
    tenths(between.to_volts() * 3.0_f64.sqrt() / 2.0)
}

/// A direct voltage by the earthing of its system.
fn direct(nominal: Nominal, earthing: Option<Earthing>) -> Computed {
    let Some(full) = nominal.between.or(nominal.to_neutral) else { return Computed::default() };
    let half = nominal.to_neutral.filter(|half| *half < full).unwrap_or(Volts::milli(full.to_milli().div_ceil(2)));
    let to_earth = match earthing {
        Some(Earthing::Midpoint) => Some((half, EarthRule::Half)),
        Some(Earthing::PoleEarthed | Earthing::PositiveEarthed | Earthing::NegativeEarthed | Earthing::LineEarthed) => {
            Some((full, EarthRule::PoleEarthed))
        }
        Some(Earthing::Unearthed | Earthing::It) => Some((full, EarthRule::UnearthedPoles)),
        Some(Earthing::Selv | Earthing::Pelv | Earthing::Felv) => Some((full, EarthRule::ExtraLow)),
        Some(Earthing::TnS | Earthing::TnCS | Earthing::TnC | Earthing::Tt) | None => None,
    };
    Computed { to_earth, at_least: Some(half), between: Some(full) }
}

/// A string of solar modules, open circuit, at the lowest temperature.
fn solar(row: &Row, earthing: Option<Earthing>) -> Computed {
    let (Some(series), Some(voc)) = (row.further().pv_series, row.further().pv_voc) else { return Computed::default() };
    let share = |volts: Volts| {
        let is_half = earthing == Some(Earthing::Midpoint);
        if is_half { Volts::milli(volts.to_milli().div_ceil(2).next_multiple_of(100)) } else { volts }
    };
    let warm = solar_maximum(series, voc, 0.0, STANDARD_CELSIUS);
    let (Some(beta), Some(tmin)) = (row.further().pv_beta, row.further().pv_tmin) else {
        return Computed { to_earth: None, at_least: Some(share(warm)), between: None };
    };
    let cold = solar_maximum(series, voc, beta, tmin);
    Computed { to_earth: Some((share(cold), EarthRule::SolarCold)), at_least: Some(share(warm)), between: Some(cold) }
}

/// Temperature of standard test conditions, degrees Celsius.
const STANDARD_CELSIUS: f64 = 25.0;

/// Open-circuit voltage of a string at its lowest temperature, to a tenth of a volt: n x Voc x (1 + |beta| x (25 - Tmin)).
///
/// `beta` is in per cent per kelvin. A lowest temperature above 25 degrees lowers nothing.
#[must_use]
pub fn solar_maximum(series: u16, voc: Volts, beta: f64, tmin: f64) -> Volts {
    let rise = 1.0 + beta.abs() / 100.0 * (STANDARD_CELSIUS - tmin).max(0.0);
    tenths(f64::from(series) * voc.to_volts() * rise)
}

/// The nearest tenth of a volt; not a number gives zero.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a float cast saturates, and a voltage is not negative"
)]
fn tenths(volts: f64) -> Volts {
    Volts::milli(((volts * 10.0).round() as u32).saturating_mul(100))
}

/// Rounding a figure to the nearest whole volt is no understatement.
const ROUNDING_MILLIVOLTS: u32 = 500;

/// Rounding a figure up to the next whole volt is no other voltage.
const ROUNDING_UP_MILLIVOLTS: u32 = 1_000;

fn compare(declared: Option<Volts>, computed: &Computed, current: Current, tolerance_percent: u32) -> Agreement {
    let Some(declared) = declared.map(Volts::to_milli) else { return Agreement::NotDeclared };
    let lowest = computed.at_least.filter(|_| computed.to_earth.is_none());
    let Some(by_rule) = computed.to_earth.map(|(volts, _)| volts).or(lowest).map(Volts::to_milli) else {
        let is_old = declared == OLD_NOMINAL && current == Current::Ac;
        return if is_old { Agreement::OldNominal } else { Agreement::NotComputed };
    };
    if declared.saturating_add(ROUNDING_MILLIVOLTS) <= by_rule {
        return Agreement::Understated;
    }
    if computed.to_earth.is_none() {
        return Agreement::NotComputed;
    }
    if declared < by_rule.saturating_add(ROUNDING_UP_MILLIVOLTS) {
        return Agreement::Agrees;
    }
    let ceiling = u64::from(by_rule) * u64::from(100 + tolerance_percent) / 100;
    match current {
        Current::Ac if declared == OLD_NOMINAL && by_rule == 230_000 => Agreement::OldNominal,
        Current::Ac if u64::from(declared) <= ceiling => Agreement::LooksMeasured,
        Current::Ac | Current::Dc => Agreement::Overstated,
    }
}

/// Whether a declared voltage, which nothing else is known to hold against, is above what any earthing gives from the nominal
/// voltage, or can be one between lines only.
fn is_too_high(row: &Row, current: Current, computed: &Computed) -> bool {
    let Some(declared) = row.voltage_to_earth.filter(|_| !has_solar_figures(row)) else { return false };
    match highest_by_nominal(row, computed) {
        Some(highest) => declared.to_milli() >= highest.to_milli().saturating_add(ROUNDING_UP_MILLIVOLTS),
        None => current == Current::Ac && declared.to_milli() == OLD_NOMINAL_BETWEEN,
    }
}

/// The highest to earth that follows from the nominal voltages of the row and of the supplies file, however their system is
/// earthed: between its lines or poles; of one figure alone, what the table pairs it with, or twice as much as between the
/// ends of a winding.
#[must_use]
pub fn highest_by_nominal(row: &Row, computed: &Computed) -> Option<Volts> {
    let doubled = |volts: Volts| Volts::milli(volts.to_milli().saturating_mul(2));
    let of_one = |volts| between_lines_of(volts).unwrap_or_else(|| doubled(volts));
    let own = row.nominal.and_then(|nominal| nominal.between.or_else(|| nominal.to_neutral.map(of_one)));
    own.max(computed.between).or_else(|| computed.at_least.map(of_one))
}

/// The nominal voltage of the United Kingdom before SI 1994/3021, in millivolts.
const OLD_NOMINAL: u32 = 240_000;

/// The same between lines, in millivolts.
const OLD_NOMINAL_BETWEEN: u32 = 415_000;

#[cfg(test)]
mod tests;
