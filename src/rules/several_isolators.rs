//! Several isolators: no single device makes every live part of the enclosure dead.
//!
//! Reason: who opens the one isolator in sight believes the box dead. Where that is not so, the notice must stand
//! before the hand reaches in, and say where each isolator is.
//!
//! Reference: BS 7671:2018+A4:2026, 514.11.1 (from training texts that quote it). It is not needed where one device,
//! the same designation and location in every row, parts every conductor that can be live and leaves nothing live
//! inside. Devices that one handle opens (`coupled`, in one place) count as one. A device further upstream that would
//! do it does not lift the notice, nor does a trapped key, an auxiliary contact or an interlock against paralleling.
//!
//! In the survey: `isolator` and `isolator_location` of every row; `poles`, `conductors`, `earthing`, `source` and
//! `neutral_from` tell what the device leaves connected, `live_after` what stays live. What they do not tell makes the
//! rule unknown, and the notice is printed. `no_confusion`, with reason and name, leaves out the locations and nothing
//! else. Poles, earthing and source that the survey leaves blank are taken from the supplies file; where that shows a
//! path with everything listed open, or a UPS that may feed back, nothing is lifted.
//!
//! Example: fans on DB-C/7 behind Q7 and a heater on DB-D/12 behind Q12 meet in one junction box: both must be opened.

use super::Rule;
use std::collections::HashSet;

use super::case::{Answer, Case};
use super::decision::{Outcome, Reason};
use super::phrases::{circuits, list};
use super::statement::Statement;
use super::switching::{self, Switching};
use crate::finding::{Finding, code};
use crate::network::spelling::{self, Incoming};
use crate::network::upstream::feeds_isolators;
use crate::network::{Device, DeviceId, Interlock, Isolated, Network, Way, WayId};
use crate::survey::value::InterlockKind;
use crate::survey::{Column, Enclosure, Row};

/// Whether one device isolates every row and leaves nothing live.
pub(super) fn check(case: &Case<'_>, findings: &mut Vec<Finding>) -> Answer {
    let devices = devices(case);
    let coupled = coupled(case);
    let apart = coupled.is_some() && are_apart(case.network, &devices);
    if apart {
        report_apart(case, findings);
    }
    if let Some(answer) = not_isolated(case, &devices, coupled) {
        return answer;
    }
    if let Some(answer) = stays_live(case) {
        return answer;
    }
    if apart {
        return Answer::unknown(case.because(|| {
            format!("{} are said to have one handle, and stand in different places", names(case, &devices))
        }));
    }
    if let Some(answer) = parted(case, &devices) {
        return answer;
    }
    if let Some((row, lender)) = unlisted_lender(case.enclosure) {
        return Answer::unknown(case.because(|| {
            format!("circuit {} shares the neutral of {lender}, whose isolator is not listed", row.circuit)
        }));
    }
    if let Some(row) = case.enclosure.rows.iter().find(|row| row.not_known.contains(Column::NeutralFrom)) {
        return Answer::unknown(
            case.because(|| {
                format!("whether circuit {} shares its neutral with another one is not known", row.circuit)
            }),
        );
    }
    if let Some(row) = case.may_stay_live() {
        return Answer::unknown(case.because(|| {
            format!("whether the isolator of circuit {} leaves something live is not known", row.circuit)
        }));
    }
    match coupled {
        Some(interlock) => Answer::new(
            Outcome::Lifted,
            case.because(|| {
                let names = names(case, &devices);
                format!("interlock {} opens {names} with one handle, on the survey's word", interlock.name)
            }),
        ),
        None => Answer::not_needed(
            case.because(|| format!("{} isolates every row, on the survey's word", names(case, &devices))),
        ),
    }
}

/// Every device that isolates a row, each once, in the order of the rows.
fn devices(case: &Case<'_>) -> Vec<DeviceId> {
    let mut all: Vec<_> = case.ways.iter().flat_map(|way| way.isolated.devices()).copied().collect();
    if all.windows(2).all(|pair| matches!(pair, [one, other] if one == other)) {
        all.truncate(1);
        return all;
    }
    all.sort_unstable();
    all.dedup();
    all
}

/// Designations; with their places where a designation alone would not tell them apart.
fn names(case: &Case<'_>, devices: &[DeviceId]) -> String {
    let devices: Vec<&Device> = devices.iter().filter_map(|id| case.network.device(*id)).collect();
    let mut designations: Vec<_> = devices.iter().map(|device| &*device.designation).collect();
    designations.sort_unstable();
    designations.dedup();
    if designations.len() == devices.len() {
        return list(devices.iter().map(|device| &*device.designation));
    }
    let phrases: Vec<_> = devices.iter().map(|device| device.phrase()).collect();
    list(phrases.iter().map(String::as_str))
}

/// The interlock whose one handle opens every row.
fn coupled<'a>(case: &Case<'a>) -> Option<&'a Interlock> {
    case.covering_interlock().filter(|interlock| interlock.kind == Some(InterlockKind::Coupled))
}

/// Whether devices that one handle is said to open stand in different places, so that it may be no one handle.
pub(super) fn are_apart(network: &Network, devices: &[DeviceId]) -> bool {
    let mut places = devices.iter().filter_map(|id| network.device(*id)).map(|it| spelling::key(&it.location));
    let first = places.next();
    places.any(|place| Some(place) != first)
}

fn report_apart(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let Some(row) = case.enclosure.rows.first() else { return };
    let message = "one handle is said to open these devices, and they stand in different places";
    findings.push(
        case.finding(code::COUPLED_DEVICES_APART, message, row, Column::InterlockKind)
            .help("give the devices the one place where their handle is, or another kind of interlock"),
    );
}

/// A row that no device isolates, or more devices than one.
fn not_isolated(case: &Case<'_>, devices: &[DeviceId], coupled: Option<&Interlock>) -> Option<Answer> {
    let rows_where = |wanted: &Isolated| {
        let rows = case.rows().filter(|(_, way)| way.isolated == *wanted);
        circuits(rows.map(|(row, _)| &*row.circuit))
    };
    let is_any = |wanted: &Isolated| case.ways.iter().any(|way| way.isolated == *wanted);
    if is_any(&Isolated::Impossible) {
        let impossible = || rows_where(&Isolated::Impossible);
        return Some(Answer::required(
            case.because(|| format!("{} not isolated by any device and cannot be", impossible())),
        ));
    }
    if devices.len() > 1 && coupled.is_none() {
        return Some(Answer::required(case.because(|| several(case, devices))));
    }
    is_any(&Isolated::Unknown).then(|| {
        let unknown = || rows_where(&Isolated::Unknown);
        Answer::unknown(case.because(|| format!("{} isolated by a device that nobody knows yet", unknown())))
    })
}

fn several(case: &Case<'_>, devices: &[DeviceId]) -> String {
    let all = if devices.len() == 2 { "both" } else { "all" };
    let mut because =
        format!("{} must {all} be opened: no one device makes every live part dead", names(case, devices));
    if let Some(interlock) = case.ways.iter().find_map(|way| way.interlock).and_then(|id| case.network.interlock(id)) {
        because.push_str(&format!("; interlock {} does not make them one device", interlock.name));
    }
    if let Some(upstream) = common_upstream(case) {
        because.push_str(&format!("; {} stands upstream of every row, which does not lift this", upstream.phrase()));
    }
    because
}

/// A device upstream of every row: worth knowing, and never enough.
fn common_upstream<'a>(case: &Case<'a>) -> Option<&'a Device> {
    case.rows()
        .all(|(row, _)| feeds_isolators(row, false))
        .then(|| common_upstream_id(case))
        .flatten()
        .and_then(|id| case.network.device(id))
}

/// The one device that every row names upstream.
fn common_upstream_id(case: &Case<'_>) -> Option<DeviceId> {
    let mut all = case.ways.iter().map(|way| way.upstream.as_deref().map_or(&[][..], Isolated::devices));
    let [first] = all.next()? else { return None };
    all.all(|other| other == [*first]).then_some(*first)
}

/// What stays live with the one device open.
fn stays_live(case: &Case<'_>) -> Option<Answer> {
    let (row, part) = case.rows().find_map(|(row, way)| case.stays_live(row, way).map(|part| (row, part)))?;
    let upstream = || {
        common_upstream(case)
            .map_or_else(String::new, |device| format!("; {} upstream does not lift this", device.phrase()))
    };
    Some(Answer::required(
        case.because(|| format!("the isolator of circuit {} leaves something live: {part}{}", row.circuit, upstream())),
    ))
}

/// A neutral that belongs to a circuit which is not among the rows: the device of this row does not part it.
pub(super) fn unlisted_lender(enclosure: &Enclosure) -> Option<(&Row, &str)> {
    let rows = enclosure.rows.iter();
    let mut lent = rows.filter_map(|row| row.further().neutral_from.as_deref().map(|lender| (row, lender))).peekable();
    lent.peek()?;
    let circuits: HashSet<String> = enclosure.rows.iter().map(|row| spelling::key(&row.circuit)).collect();
    lent.find(|(_, lender)| !circuits.contains(&spelling::key(lender)))
}

/// A conductor that stays connected, or may.
fn parted(case: &Case<'_>, devices: &[DeviceId]) -> Option<Answer> {
    let of_rows: Vec<(&Row, &Way, Switching)> =
        case.numbered_rows().map(|(id, row, way)| (row, way, switching::of_row(case, id, row, way))).collect();
    let connected = of_rows.iter().find_map(|(row, way, switching)| connected(case, devices, (row, way), *switching));
    if connected.is_some() {
        return connected;
    }
    let unplaced = devices.iter().filter_map(|id| case.network.device(*id)).find(|device| device.location.is_empty());
    if let Some(device) = unplaced.filter(|_| case.ways.len() > 1) {
        let name = &device.designation;
        return Some(Answer::unknown(
            case.because(|| {
                format!("no location is given for {name}, so that every row means one device is not known")
            }),
        ));
    }
    of_rows.iter().find_map(|(row, _, switching)| match switching {
        Switching::Unknown(what, _) => {
            let name = || names(case, devices);
            Some(Answer::unknown(case.because(|| {
                format!("it is not known {what}, so {} is not known to isolate circuit {}", name(), row.circuit)
            })))
        }
        Switching::Enough | Switching::NotTheUsers | Switching::LeavesLines(..) | Switching::LeavesNeutral(_) => None,
    })
}

fn connected(case: &Case<'_>, devices: &[DeviceId], (row, way): (&Row, &Way), switching: Switching) -> Option<Answer> {
    let (name, circuit) = (|| names(case, devices), &row.circuit);
    match switching {
        Switching::Enough | Switching::Unknown(..) => None,
        Switching::NotTheUsers => Some(Answer::required(
            case.because(|| format!("{} is the network operator's and not the user's to open", name())),
        )),
        Switching::LeavesLines(switched, needed) => Some(Answer::required(case.because(|| match way.needs.named {
            own if own.is_known() && own.count() < needed => {
                format!("{} switches {switched} of {needed} lines of the circuits that it isolates", name())
            }
            _ => format!("{} switches {switched} of {needed} lines of circuit {circuit}", name()),
        }))),
        Switching::LeavesNeutral(reason) => Some(Answer::required(
            case.because(|| format!("{} leaves the neutral of circuit {circuit} connected, and {reason}", name())),
        )),
    }
}

/// Adds the statement, unless a stronger one says it already. What is certain comes before what is only possible.
pub(super) fn complete(case: &Case<'_>, reasons: &[Reason], statements: &mut Vec<Statement>) {
    let outcome = |rule| reasons.iter().find(|reason| reason.rule == rule).map(|reason| reason.outcome);
    let here = outcome(Rule::SeveralIsolators);
    if here == Some(Outcome::Required) && outcome(Rule::SeveralSupplies) == Some(Outcome::Unknown) {
        statements.retain(|statement| !matches!(statement, Statement::SeveralSupplies { .. }));
    }
    let says_more = |statement: &Statement| {
        matches!(statement, Statement::SeveralSupplies { .. } | Statement::CannotBeIsolated { .. })
    };
    if matches!(here, Some(Outcome::Required | Outcome::Unknown)) && !statements.iter().any(says_more) {
        let would_one_do = here == Some(Outcome::Required) && would_do_upstream(case);
        statements.push(if would_one_do { Statement::IsolatorsLeaveParts } else { Statement::SeveralIsolators });
    }
}

/// Whether what makes the incoming terminals of the isolators dead isolates everything by itself: one device of every row,
/// or, of the one isolator of all rows, whatever it is. Then it is not true that no single device does.
fn would_do_upstream(case: &Case<'_>) -> bool {
    let are_incoming = |row: &Row, way: &Way| {
        let own = way.isolated.devices().iter().map(|device| case.device_name(*device));
        let part = case.stays_live(row, way);
        part.is_some_and(|part| spelling::incoming_terminals(&part, own) != Incoming::Nothing)
    };
    let parts_all = |(id, row, way): (WayId, &Row, &Way)| {
        let switching = switching::of_row(case, id, row, way);
        !matches!(switching, Switching::LeavesLines(..) | Switching::LeavesNeutral(_))
    };
    if !case.proof.paths.is_empty()
        || !case.rows().all(|(row, way)| are_incoming(row, way))
        || !case.numbered_rows().all(parts_all)
        || unlisted_lender(case.enclosure).is_some()
    {
        return false;
    }
    let is_impossible = |way: &Way| way.upstream.as_deref() == Some(&Isolated::Impossible);
    let feeds = |device: DeviceId| {
        let is_own = |way: &Way| way.isolated.devices().contains(&device);
        case.ways.iter().all(|way| !is_own(way) && !case.network.is_off_the_way(device, way.isolated.devices()))
    };
    match common_upstream_id(case) {
        Some(device) => feeds(device),
        None => devices(case).len() == 1 && !case.ways.iter().any(is_impossible),
    }
}

/// The one device that isolates every row, where the rule found it enough.
pub(super) fn single_device(case: &Case<'_>, reasons: &[Reason]) -> Option<String> {
    let found = |reason: &Reason| reason.rule == Rule::SeveralIsolators && reason.outcome == Outcome::NotNeeded;
    let [device] = devices(case)[..] else { return None };
    reasons.iter().any(found).then(|| case.device_name(device).to_owned())
}

#[cfg(test)]
mod tests {
    use super::unlisted_lender;
    use crate::rules::testing::{PLAIN, outcome};
    use crate::rules::{Outcome, Rule};
    use crate::survey::{Enclosure, Further, Row};
    use crate::table::spelling::counting::keys_made;

    const RULE: Rule = Rule::SeveralIsolators;

    #[test]
    fn one_device_for_every_row_is_enough() {
        let second = PLAIN.replace("C/1", "C/2");
        assert_eq!(outcome(RULE, "", &[PLAIN, &second]), Outcome::NotNeeded);
        assert_eq!(outcome(RULE, "", &[PLAIN, &second.replace("Q1", "Q2")]), Outcome::Required);
        assert_eq!(outcome(RULE, "", &[PLAIN, &second.replace("Board C", "Board D")]), Outcome::Required);
    }

    /// Held by no other case of the decisions: two rows of one device hide that a third has another.
    #[test]
    fn one_device_for_most_rows_is_not_enough() {
        let [second, third] = ["C/2", "C/3"].map(|circuit| PLAIN.replace("C/1", circuit));
        assert_eq!(outcome(RULE, "", &[PLAIN, &second, &third]), Outcome::NotNeeded);
        assert_eq!(outcome(RULE, "", &[PLAIN, &second, &third.replace("Q1", "Q2")]), Outcome::Required);
        assert_eq!(outcome(RULE, "", &[&PLAIN.replace("Q1", "Q2"), &second, &third]), Outcome::Required);
    }

    #[test]
    fn without_a_place_several_rows_may_mean_several_devices() {
        let [first, second] = ["C/1", "C/2"].map(|circuit| PLAIN.replace("C/1", circuit).replace("Board C", ""));
        assert_eq!(outcome(RULE, "", &[&first]), Outcome::NotNeeded);
        assert_eq!(outcome(RULE, "", &[&first, &second]), Outcome::Unknown);
    }

    #[test]
    fn an_assumed_row_proves_nothing() {
        assert_eq!(outcome(RULE, "basis", &[&format!("{PLAIN},assumed")]), Outcome::Unknown);
        assert_eq!(outcome(RULE, "basis", &[&format!("{PLAIN},drawing")]), Outcome::NotNeeded);
    }

    #[test]
    fn only_one_handle_makes_two_devices_one() {
        let rows = |kind: &str| {
            let second = PLAIN.replace("C/1", "C/2").replace("Q1", "Q2");
            outcome(RULE, "interlock,interlock_kind", &[&format!("{PLAIN},IL,{kind}"), &format!("{second},IL,{kind}")])
        };
        assert_eq!(rows("coupled"), Outcome::Lifted);
        for kind in ["trapped-key", "auxiliary-contact", "no-parallel", ""] {
            assert_eq!(rows(kind), Outcome::Required, "{kind}");
        }
    }

    #[test]
    fn a_lent_neutral_needs_its_lender() {
        let row = PLAIN.replace(",1,padlock", ",1+N,padlock");
        assert_eq!(outcome(RULE, "neutral_from", &[&format!("{row},C/9")]), Outcome::Unknown);
    }

    #[test]
    fn lenders_that_are_listed_are_not_looked_for_in_every_row() {
        let made = |count: usize| {
            let row = |number: usize| {
                let neutral_from = Some(format!("C/{}", count - number - 1));
                let further = Some(Box::new(Further { neutral_from, ..Further::default() }));
                Row { circuit: format!("C/{number}").into(), further, ..Row::default() }
            };
            let enclosure = Enclosure { rows: (0..count).map(row).collect(), ..Enclosure::default() };
            keys_made(|| assert_eq!(unlisted_lender(&enclosure), None))
        };
        let (some, twice) = (made(200), made(400));
        assert!(some >= 400 && twice == 2 * some, "{some} names of 200 rows, {twice} of 400");
    }
}
