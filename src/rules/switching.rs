//! Whether the devices of a row part every conductor that can be live.
//!
//! A neutral that stays connected is accepted only in TN with the circuit's own neutral (BS 7671 461.2, from memory).
//! Where the survey leaves poles, earthing or source blank, the supplies file speaks; a `?` stays unknown.

use super::case::Case;
use super::described;
use super::phrases::list;
use crate::finding::{Finding, code};
use crate::network::lines::Lines;
use crate::network::{Carrier, DeviceId, Gap, LivePath, Nature, Neutral, Way, WayId};
use crate::survey::value::{DeviceKind, Earthing, Poles};
use crate::survey::{Column, Row, Survey};

/// What the devices of a row leave connected.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Switching {
    /// Nothing that can be live, on the survey's word.
    Enough,
    /// The device is not the user's to open.
    NotTheUsers,
    /// Lines or poles: it switches so many of so many.
    LeavesLines(u8, u8),
    /// The neutral, which can be live for this reason.
    LeavesNeutral(&'static str),
    /// The survey does not say: what is missing, and the column to fill in.
    Unknown(&'static str, Column),
}

/// What the devices of a row leave connected.
pub(super) fn of_row(case: &Case<'_>, id: WayId, row: &Row, way: &Way) -> Switching {
    if row.device_kind == Some(DeviceKind::NetworkCutout) {
        return Switching::NotTheUsers;
    }
    if row.device_kind == Some(DeviceKind::PlugSocket) {
        return Switching::Enough;
    }
    if let Some(proved) = before_the_system(case, id, way) {
        return proved;
    }
    match lines_of(case, id, row, way) {
        Switching::Enough => neutral_of(case, id, row, way),
        lines @ (Switching::NotTheUsers
        | Switching::LeavesLines(..)
        | Switching::LeavesNeutral(_)
        | Switching::Unknown(..)) => match neutral_of(case, id, row, way) {
            neutral @ Switching::LeavesNeutral(_) => neutral,
            Switching::Enough | Switching::NotTheUsers | Switching::LeavesLines(..) | Switching::Unknown(..) => lines,
        },
    }
}

/// What devices that stand before a transformer, a converter or a UPS leave connected, as far as the proof tells: how many
/// conductors the circuit has says nothing of those. A path that remains is told as one.
fn before_the_system(case: &Case<'_>, id: WayId, way: &Way) -> Option<Switching> {
    if !case.network.is_isolated_from_another_system(id, way) {
        return None;
    }
    let is_live = case.proof.paths.iter().any(|path| path.way == id);
    let is_in_doubt = !is_live && poles_are_in_doubt(case, id, way);
    Some(if is_in_doubt { Switching::Unknown(LINES_BEFORE_IT, Column::Poles) } else { Switching::Enough })
}

/// Whether the proof does not know the devices of a row to part every line that comes to them.
fn poles_are_in_doubt(case: &Case<'_>, id: WayId, way: &Way) -> bool {
    let is_own = |node| way.isolated.devices().iter().any(|device| case.network.device_node(*device) == Some(node));
    case.proof.gaps.iter().any(|gap| match gap {
        Gap::PolesNotSaid(node, of) => *of == id && is_own(*node),
        Gap::LinesTogetherNotSaid(node) => is_own(*node),
        Gap::NothingSaid(_)
        | Gap::OutputNotProved(_)
        | Gap::NotDescribed(_)
        | Gap::FeedNotSaid(_)
        | Gap::SwitchedNotSaid(..)
        | Gap::NeutralNotSaid(..)
        | Gap::ConductorsNotSaid(_)
        | Gap::LenderNotFound(_)
        | Gap::AcrossNotSaid(..)
        | Gap::BackFeed(..) => false,
    })
}

/// Whether the proof knows several devices of a row each to part what comes to it, which may be less than the row has.
fn is_proved(case: &Case<'_>, id: WayId, way: &Way) -> bool {
    let comes_by_lines = |path: &LivePath| path.way == id && path.carrier == Carrier::Lines;
    case.network.is_described()
        && !case.network.live_parts(id).is_empty()
        && !poles_are_in_doubt(case, id, way)
        && !case.proof.paths.iter().any(comes_by_lines)
}

/// What each device of a row switches: by the row, else by the supplies file, of several the least.
fn poles_of(case: &Case<'_>, row: &Row, way: &Way) -> Option<Poles> {
    if row.poles.is_some() || row.not_known.contains(Column::Poles) {
        return row.poles;
    }
    let poles: Option<Vec<Poles>> =
        way.isolated.devices().iter().map(|device| described::poles(case.network, *device)).collect();
    let poles = poles?;
    let lines = poles.iter().map(|poles| poles.lines).min()?;
    Some(Poles { lines, neutral: poles.iter().all(|poles| poles.neutral) })
}

fn lines_of(case: &Case<'_>, id: WayId, row: &Row, way: &Way) -> Switching {
    let devices = u8::try_from(way.isolated.devices().len()).unwrap_or(u8::MAX);
    if devices > 1 && row.poles.is_none() && is_proved(case, id, way) {
        return Switching::Enough;
    }
    match (way.needs.lines_to_part(), poles_of(case, row, way)) {
        (Some(needed), Some(poles)) => {
            let switched = poles.lines.saturating_mul(devices.max(1));
            let needed = needed.max(lines_of_device_everywhere(case, way));
            if switched >= needed {
                // Of direct current that can stand there it parts enough, of what else can that is not known.
                let is_all = way.needs.lines.is_some() || poles.lines >= MOST_LINES;
                if is_all { Switching::Enough } else { CONDUCTORS_NOT_KNOWN }
            } else if switched.saturating_add(1) == needed && has_earthed_line(row) {
                Switching::Unknown(WHICH_IS_EARTHED, Column::Conductors)
            } else {
                Switching::LeavesLines(switched, needed)
            }
        }
        (Some(_), None) if way.needs.lines.is_some_and(|needed| needed <= devices) && is_of_one_line(case, way) => {
            Switching::Enough
        }
        (Some(_) | None, None) => Switching::Unknown("what the device switches", Column::Poles),
        (None, Some(poles)) if poles.lines >= MOST_LINES => Switching::Enough,
        (None, Some(_)) => CONDUCTORS_NOT_KNOWN,
    }
}

const LINES_BEFORE_IT: &str = "that it parts every line before the transformer or converter";
const WHICH_IS_EARTHED: &str = "which line is earthed and stays connected";
const CONDUCTORS_NOT_KNOWN: Switching = Switching::Unknown("which live conductors there are", Column::Conductors);

/// A circuit has at most three lines.
const MOST_LINES: u8 = 3;

/// Lines, or poles, that one and the same device must switch over all rows like this one, of its enclosure, that name it
/// alone.
fn lines_of_device(case: &Case<'_>, way: &Way) -> u8 {
    let [device] = way.isolated.devices() else { return 0 };
    counted(case.lines_of(*device).named, way)
}

/// Whether the circuits of a device, which need not part more than a line for all that is said of it, are known to have no
/// more. Those of one enclosure whose line nobody names may each be on another one, unless the proof shows that no more come
/// to the device; of those of other enclosures that is not asked, since the same isolator stands in every row of a string of
/// boxes.
fn is_of_one_line(case: &Case<'_>, way: &Way) -> bool {
    let unnamed = match way.isolated.devices() {
        [device] if !(case.network.is_described() && case.proof.gaps.is_empty()) => case.lines_of(*device).unnamed,
        _ => 0,
    };
    lines_of_device(case, way).saturating_add(unnamed) <= 1 && lines_of_device_everywhere(case, way) <= 1
}

/// The same over the rows of all enclosures.
fn lines_of_device_everywhere(case: &Case<'_>, way: &Way) -> u8 {
    let [device] = way.isolated.devices() else { return 0 };
    counted(case.installation.lines_of(*device), way)
}

/// How many of these lines belong to circuits like this row's, a live midpoint among them.
fn counted(lines: Lines, way: &Way) -> u8 {
    lines.count_for(way.needs.named) + u8::from(way.needs.live_midpoint)
}

/// Whether a row, or all rows of its enclosure that name its device alone, have so many lines.
fn has_so_many_here(case: &Case<'_>, way: &Way, lines: u8) -> bool {
    way.needs.lines_to_part().unwrap_or(0).max(lines_of_device(case, way)) >= lines
}

fn has_earthed_line(row: &Row) -> bool {
    match row.earthing {
        // A PELV circuit may be earthed, and mostly is at one pole (IEC 60364-4-41 414.4.1, from memory).
        Some(
            Earthing::LineEarthed
            | Earthing::PoleEarthed
            | Earthing::PositiveEarthed
            | Earthing::NegativeEarthed
            | Earthing::Pelv,
        ) => true,
        Some(
            Earthing::TnS
            | Earthing::TnCS
            | Earthing::TnC
            | Earthing::Tt
            | Earthing::It
            | Earthing::Midpoint
            | Earthing::Unearthed
            | Earthing::Selv
            | Earthing::Felv,
        )
        | None => false,
    }
}

fn neutral_of(case: &Case<'_>, id: WayId, row: &Row, way: &Way) -> Switching {
    let present = way.needs.neutral;
    let poles = poles_of(case, row, way);
    if present == Some(false) || poles.is_some_and(|poles| poles.neutral) {
        return Switching::Enough;
    }
    match neutral_may_be_live(case, id, row, way) {
        NeutralRule::MayStay => Switching::Enough,
        NeutralRule::MustOpen(_) if poles.is_none() => Switching::Unknown("what the device switches", Column::Poles),
        NeutralRule::MustOpen(reason) => match present {
            Some(true) => Switching::LeavesNeutral(reason),
            None | Some(false) => Switching::Unknown("whether there is a neutral", Column::Conductors),
        },
        NeutralRule::NotKnown(what, column) => Switching::Unknown(what, column),
    }
}

/// Whether the neutral may stay connected.
enum NeutralRule {
    MayStay,
    MustOpen(&'static str),
    NotKnown(&'static str, Column),
}

fn neutral_may_be_live(case: &Case<'_>, id: WayId, row: &Row, way: &Way) -> NeutralRule {
    if row.not_known.contains(Column::NeutralFrom) {
        return NeutralRule::NotKnown("whether the neutral is shared", Column::NeutralFrom);
    }
    if row.further().neutral_from.is_some() || case.installation.lends_neutral(&row.circuit) {
        return NeutralRule::MustOpen("it is shared with another circuit");
    }
    match row.earthing {
        None => match by_supplies_file(case, id, row, Column::Earthing) {
            Some(NeutralRule::MayStay) => {}
            Some(rule) => return rule,
            None => return NeutralRule::NotKnown("how the system is earthed", Column::Earthing),
        },
        Some(Earthing::Tt) => return NeutralRule::MustOpen("in a TT system it can be live"),
        Some(Earthing::It | Earthing::Unearthed) => return NeutralRule::MustOpen("in an IT system it can be live"),
        Some(Earthing::LineEarthed | Earthing::PoleEarthed | Earthing::PositiveEarthed | Earthing::NegativeEarthed) => {
            return NeutralRule::MustOpen("with a line earthed it is live");
        }
        Some(
            Earthing::TnS
            | Earthing::TnCS
            | Earthing::TnC
            | Earthing::Midpoint
            | Earthing::Selv
            | Earthing::Pelv
            | Earthing::Felv,
        ) => {}
    }
    match case.nature(way) {
        None => by_supplies_file(case, id, row, Column::Source)
            .unwrap_or(NeutralRule::NotKnown("which source it comes from", Column::Source)),
        Some(Nature::Generator) => NeutralRule::MustOpen("with a generator running alone it can be live"),
        Some(Nature::Ups) => NeutralRule::MustOpen("with a UPS running alone it can be live"),
        Some(Nature::Battery | Nature::Vehicle | Nature::NotTold) => {
            NeutralRule::NotKnown("whether the source can run alone with the neutral live", Column::Poles)
        }
        Some(Nature::Mains | Nature::Solar) => NeutralRule::MayStay,
    }
}

/// What the supplies file says of the neutral where a cell of the survey is blank; `None` where it does not say.
fn by_supplies_file(case: &Case<'_>, id: WayId, row: &Row, column: Column) -> Option<NeutralRule> {
    if !case.network.is_described() || row.not_known.contains(column) {
        return None;
    }
    match case.installation.described.neutral(case.network, id) {
        Neutral::Earthed => Some(NeutralRule::MayStay),
        Neutral::MayBeLive => Some(NeutralRule::MustOpen("by the supplies file it can be live")),
        Neutral::NotKnown | Neutral::PassedOn => None,
    }
}

/// Reports what stays connected, and what is not known.
///
/// Columns that no row fills are only noted: one finding stands for all of them.
pub(super) fn report(case: &Case<'_>, unfilled: &mut Vec<Column>, findings: &mut Vec<Finding>) {
    for (id, row, way) in case.numbered_rows() {
        let [device, ..] = way.isolated.devices() else { continue };
        let switching = of_row(case, id, row, way);
        if let Switching::Unknown(_, column) = switching
            && !case.installation.is_filled(column)
        {
            if !unfilled.contains(&column) {
                unfilled.push(column);
            }
            continue;
        }
        findings.extend(finding_of(case, (row, way), *device, switching));
        findings.extend(switched_pen(case, id, row, way));
    }
}

/// The neutral of a TN-C system is its protective conductor too, and is neither isolated nor switched (461.2, from memory).
fn switched_pen(case: &Case<'_>, id: WayId, row: &Row, way: &Way) -> Option<Finding> {
    let is_combined = match row.earthing {
        Some(earthing) => earthing == Earthing::TnC,
        None if row.not_known.contains(Column::Earthing) => false,
        None => case.network.systems().of_way(id).iter().any(|system| system.earthing == Some(Earthing::TnC)),
    };
    let is_switched = way.needs.neutral != Some(false) && poles_of(case, row, way).is_some_and(|poles| poles.neutral);
    let device = way.isolated.devices().first().filter(|_| is_combined && is_switched)?;
    let message = format!(
        "`{}` switches the neutral of circuit `{}`, and in TN-C that is the protective conductor too",
        case.device_name(*device),
        row.circuit
    );
    let finding = case.finding(code::PEN_SWITCHED, message, row, Column::Poles);
    Some(finding.help("correct `poles`, or `earthing` where the two conductors are separate there; if it is so, it is a fault of the installation"))
}

/// Rows in which it is looked whether a column that came to nothing was written into at all.
const ROWS_LOOKED_AT: usize = 500;

/// One finding for the columns that no row fills.
pub(super) fn report_unfilled(survey: &Survey, unfilled: &[Column], findings: &mut Vec<Finding>) {
    if unfilled.is_empty() {
        return;
    }
    let columns: Vec<_> = unfilled.iter().map(|column| format!("`{}`", column.name())).collect();
    let columns = list(columns.iter().map(String::as_str));
    // A column whose words nobody understood is not empty.
    let rows = || survey.enclosures.iter().flat_map(|enclosure| &enclosure.rows).take(ROWS_LOOKED_AT);
    let is_written = |column: &Column| {
        let place = |row: &Row| survey.place(row.record, *column);
        rows().map(place).any(|place| !place.column_name.is_empty() && !place.cell.trim().is_empty())
    };
    let tells = if unfilled.iter().any(is_written) {
        format!("no row tells {columns} in words that are understood")
    } else {
        format!("no row fills {columns}")
    };
    let message = format!("{tells}, so it is not known of every device which conductors it parts");
    let help = "fill it in where one device isolates an enclosure; until then its notice is printed";
    findings.push(Finding::new(code::SWITCHING_NOT_KNOWN, message).help(help));
}

fn finding_of(case: &Case<'_>, (row, way): (&Row, &Way), device: DeviceId, switching: Switching) -> Option<Finding> {
    let (name, circuit) = (case.device_name(device), &row.circuit);
    let finding = match switching {
        Switching::Enough => return None,
        Switching::Unknown(what, column) => {
            let message = format!("it is not known {what}, so `{name}` is not known to isolate circuit `{circuit}`");
            let finding = case.finding(code::SWITCHING_NOT_KNOWN, message, row, column);
            match what {
                WHICH_IS_EARTHED if Lines::of(row.conductors).has_pole() => finding.help(
                    "say in `earthing` which pole it is, `negative-earthed` or `positive-earthed`, if the device switches the \
                     other one; else name the device that switches both",
                ),
                WHICH_IS_EARTHED => finding.help("name in `conductors` only the lines that are not earthed"),
                LINES_BEFORE_IT => finding.help(
                    "name the device that switches every line there; `poles` of the supplies file says which it is",
                ),
                _ => finding.help(format!("fill in `{}`", column.name())),
            }
        }
        Switching::NotTheUsers => {
            let message = format!("`{name}` is the network operator's, and never the user's point of isolation");
            case.finding(code::NETWORK_CUTOUT_AS_ISOLATOR, message, row, Column::DeviceKind)
                .help("name the device of the installation that isolates this circuit, or `none`")
        }
        Switching::LeavesLines(switched, needed) if !has_so_many_here(case, way, needed) => {
            let message = format!(
                "`{name}` switches {switched} of the {needed} lines that its circuits here and in other enclosures have, so one stays live"
            );
            case.finding(code::LINES_STAY_CONNECTED, message, row, Column::Poles)
                .help("name the device that switches every line, or correct `poles`, or `conductors` of one of them")
        }
        Switching::LeavesLines(switched, needed) => {
            let message = format!("`{name}` switches {switched} of {needed} lines, so circuit `{circuit}` stays live");
            case.finding(code::LINES_STAY_CONNECTED, message, row, Column::Poles)
                .help("name the device that switches every line, or correct `poles` or `conductors`")
        }
        Switching::LeavesNeutral(reason) => {
            let message = format!("`{name}` leaves the neutral of circuit `{circuit}` connected, and {reason}");
            let finding = case.finding(code::NEUTRAL_STAYS_CONNECTED, message, row, Column::Poles);
            // A double-pole switch of a line and its neutral, written as two lines.
            let lines = Lines::of(row.conductors).count();
            match poles_of(case, row, way).filter(|poles| lines > 0 && poles.lines == lines + 1) {
                Some(poles) => finding.help(format!(
                    "`{}` means lines: if one of its poles switches the neutral, write `{lines}+N`; else name a device that does",
                    poles.lines
                )),
                None => {
                    finding.help("name a device that switches the neutral too, or correct `poles`, `earthing` or `source`")
                }
            }
        }
    };
    Some(finding)
}
