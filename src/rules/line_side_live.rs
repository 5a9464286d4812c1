//! Line side live: something in the enclosure stays live with its isolator off.
//!
//! Reason: an isolator in the enclosure is open, its load side is proved dead, and its incoming terminals are live a
//! hand's breadth away.
//!
//! Reference: IEC 60204-1, 5.3.5 asks a warning for circuits that the supply disconnector does not cut (from memory).
//! Nothing lifts it.
//!
//! In the survey: `live_after` says what stays live. An isolator whose `isolator_location` names the enclosure, by its
//! designation or by a name with a number, stands inside, and its incoming terminals stay live. `upstream_isolator` and
//! `upstream_location` say where that is isolated, `none` that it cannot be; where they are blank, the notice says that
//! nobody knows. What the supplies file describes next upstream is named to whoever fills them in, and not on the notice:
//! it need not be all that makes the part dead. What another circuit feeds is a row of its own. A device that leaves the
//! incoming terminals live by that file, or that the file lacks where it shows a path to them, is not named on the notice
//! either.
//!
//! Example: the main switch of a board, whose incoming terminals only a device upstream can make dead.

use std::cell::LazyCell;
use std::collections::{HashMap, HashSet};

use super::case::{Answer, Case};
use super::described::next_upstream;
use super::line_side_held::Held;
use super::phrases::list;
use super::statement::{Missing, Statement};
use crate::finding::{Finding, code};
use crate::network::spelling::{self, Incoming};
use crate::network::upstream::said_to_stay_live;
use crate::network::{Cut, DeviceId, Isolated, Way};
use crate::survey::{Column, Row};

/// Whether something stays live, and where that is isolated.
pub(super) fn check(case: &Case<'_>, findings: &mut Vec<Finding>) -> Answer {
    let mut together = Parts::default();
    let mut parts = Vec::new();
    let listed = LazyCell::<HashSet<DeviceId>, _>::new(|| {
        case.ways.iter().flat_map(|way| way.isolated.devices()).copied().collect()
    });
    let held = Held::of(case, |way| upstream(way).collect());
    held.report(case, findings);
    for (id, row, way) in case.numbered_rows() {
        let Some(part) = case.stays_live(row, way) else { continue };
        report(case, row, way, &part, findings);
        if part.contains(';') && upstream(way).nth(1).is_some() {
            report_together(case, (row, way), &part, &listed, findings);
        }
        let isolation = match held.is_in_doubt(id) {
            true => (Vec::new(), Some(Missing::NotKnown)),
            false => (isolated_at(case, way), missing(way)),
        };
        together.add(&part, isolation);
        parts.push(part);
    }
    if !parts.is_empty() {
        parts.dedup();
        let because = case
            .because(|| format!("with the isolators off this stays live: {}", list(parts.iter().map(String::as_str))));
        return Answer::required(because).says(together.statements());
    }
    if let Some(row) = case.may_stay_live() {
        return Answer::unknown(
            case.because(|| format!("what stays live with the isolator of circuit {} off is not known", row.circuit)),
        )
        .says([Statement::LineSideLive {
            part: String::new(),
            isolated_at: Vec::new(),
            missing: Some(Missing::NotKnown),
        }]);
    }
    match unplaced(case) {
        Some(device) => Answer::unknown(
            case.because(|| format!("no location is given for {device}, so whether it stands inside is not known")),
        ),
        None => Answer::not_needed("nothing is said to stay live, and no isolator stands inside"),
    }
}

/// What stays live, the parts that are isolated at the same devices together.
#[derive(Default)]
struct Parts {
    together: Vec<(Isolation, Vec<String>)>,
    place_of: HashMap<Isolation, usize>,
    told: HashSet<(usize, String)>,
}

/// Where a part is isolated; why it is not.
type Isolation = (Vec<(String, String)>, Option<Missing>);

impl Parts {
    fn add(&mut self, part: &str, isolation: Isolation) {
        let place = *self.place_of.entry(isolation.clone()).or_insert(self.together.len());
        if place == self.together.len() {
            self.together.push((isolation, Vec::new()));
        }
        if self.told.insert((place, part.to_owned())) {
            self.together.get_mut(place).into_iter().for_each(|(_, parts)| parts.push(part.to_owned()));
        }
    }

    fn statements(self) -> impl Iterator<Item = Statement> {
        let together = self.together.into_iter();
        together.map(|((isolated_at, missing), parts)| Statement::LineSideLive {
            part: parts.join("; "),
            isolated_at,
            missing,
        })
    }
}

/// Whether devices that would do make dead what stays live with the isolators off, too. Incoming terminals are dead with what
/// lies beyond them where their own isolator is none of those devices; of any other part, what isolates it is among them.
pub(super) fn is_dead_with(case: &Case<'_>, cut: &Cut) -> bool {
    let is_cut = |device: DeviceId| case.network.device_node(device).is_some_and(|node| cut.devices.contains(&node));
    let is_dead = |(row, way): (&Row, &Way)| {
        if case.stays_live(row, way).is_none() {
            return true;
        }
        let own = way.isolated.devices();
        let names = own.iter().map(|device| case.device_name(*device));
        let said = said_to_stay_live(row);
        let is_incoming = said.is_none_or(|part| spelling::incoming_terminals(part, names) == Incoming::All);
        is_incoming && !own.iter().any(|device| is_cut(*device)) || missing(way).is_none() && upstream(way).all(is_cut)
    };
    case.rows().all(is_dead)
}

/// What makes the line side dead. The isolators of the row itself cannot: it stays live with them off.
fn upstream(way: &Way) -> impl Iterator<Item = DeviceId> {
    let devices = way.upstream.as_deref().map_or(&[][..], Isolated::devices).iter().copied();
    devices.filter(|device| !way.isolated.devices().contains(device))
}

/// Designation and location of what makes the line side dead.
fn isolated_at(case: &Case<'_>, way: &Way) -> Vec<(String, String)> {
    let devices = upstream(way).filter_map(|id| case.network.device(id));
    devices.map(|device| (device.designation.as_ref().to_owned(), device.location.as_ref().to_owned())).collect()
}

fn missing(way: &Way) -> Option<Missing> {
    match way.upstream.as_deref() {
        Some(Isolated::By(_)) if upstream(way).next().is_some() => None,
        Some(Isolated::Impossible) => Some(Missing::CannotBeIsolated),
        Some(Isolated::By(_) | Isolated::Unknown) | None => Some(Missing::NotKnown),
    }
}

fn report(case: &Case<'_>, row: &Row, way: &Way, part: &str, findings: &mut Vec<Finding>) {
    let devices = way.upstream.as_deref().map_or(&[][..], Isolated::devices);
    let itself = devices.iter().find(|device| way.isolated.devices().contains(device));
    let message = match itself {
        Some(device) => {
            let device = case.device_name(*device);
            format!("`{device}` is off already when this stays live, and cannot isolate it: {part}")
        }
        None if missing(way) == Some(Missing::NotKnown) => format!("nothing says where this is isolated: {part}"),
        None => return,
    };
    let finding = case.finding(code::LINE_SIDE_ISOLATION_NOT_GIVEN, message, row, Column::UpstreamIsolator);
    findings.push(finding.help(help(case, way)));
}

/// Several parts with several devices, beside those that the enclosure lists anyway: nobody can tell which isolates which.
fn report_together(
    case: &Case<'_>,
    (row, way): (&Row, &Way),
    part: &str,
    listed: &HashSet<DeviceId>,
    findings: &mut Vec<Finding>,
) {
    let further: Vec<&str> =
        upstream(way).filter(|device| !listed.contains(device)).map(|device| case.device_name(device)).collect();
    if further.len() < 2 {
        return;
    }
    let devices: Vec<String> = further.iter().map(|device| format!("`{device}`")).collect();
    let devices = list(devices.iter().map(String::as_str));
    let message = format!("which of {devices} isolates which of these is not told: {part}");
    let finding = case.finding(code::LINE_SIDE_PARTS_TOGETHER, message, row, Column::UpstreamIsolator);
    findings.push(finding.help(
        "give what another circuit feeds a row of its own, with its own isolator; until then every document says that all of \
         them are opened together",
    ));
}

/// What to fill in; with what the supplies file describes next upstream, which need not be all that makes it dead.
fn help(case: &Case<'_>, way: &Way) -> String {
    let fill_in = "give `upstream_isolator` and `upstream_location`, or `none` if nothing isolates it";
    let devices = way.isolated.devices();
    let each: Vec<_> = devices.iter().map(|device| (*device, next_upstream(case.network, devices, *device))).collect();
    let quoted = |names: &[String]| {
        let names: Vec<_> = names.iter().map(|name| format!("`{name}`")).collect();
        list(names.iter().map(String::as_str))
    };
    match each.as_slice() {
        [] => fill_in.to_owned(),
        all if all.iter().all(|(_, upstream)| upstream.is_empty()) => fill_in.to_owned(),
        [(_, first), rest @ ..] if rest.iter().all(|(_, upstream)| upstream == first) => {
            format!("{fill_in}; next upstream the supplies file describes {}", quoted(first))
        }
        // What feeds one of them says nothing of the other.
        all => {
            let told = |(device, upstream): &(DeviceId, Vec<String>)| {
                let what = if upstream.is_empty() { "nothing".to_owned() } else { quoted(upstream) };
                format!("{what} for `{}`", case.device_name(*device))
            };
            let told: Vec<_> = all.iter().map(told).collect();
            format!("{fill_in}; next upstream the supplies file describes {}", list(told.iter().map(String::as_str)))
        }
    }
}

/// A device of which nobody can tell whether it stands inside.
fn unplaced<'a>(case: &Case<'a>) -> Option<&'a str> {
    let mut devices = case.ways.iter().flat_map(|way| way.isolated.devices());
    let device = devices.find(|id| case.network.device(**id).is_some_and(|device| device.location.is_empty()))?;
    Some(case.device_name(*device))
}

#[cfg(test)]
mod tests {
    use crate::rules::testing::{PLAIN, decided, outcome};
    use crate::rules::{Outcome, Rule, Statement};

    const RULE: Rule = Rule::LineSideLive;

    #[test]
    fn what_is_said_to_stay_live() {
        let after = |part: &str| outcome(RULE, "live_after", &[&format!("{PLAIN},{part}")]);
        assert_eq!(after("crankcase heater"), Outcome::Required);
        assert_eq!(after("none"), Outcome::NotNeeded);
        assert_eq!(after(""), Outcome::NotNeeded);
        assert_eq!(after("?"), Outcome::Unknown);
    }

    #[test]
    fn parts_that_are_isolated_alike_are_one_statement() {
        let rows = [
            format!("{PLAIN},one,Q0,Board C"),
            format!("{},two,Q0,Board C", PLAIN.replace("C/1", "C/2")),
            format!("{},three,none,", PLAIN.replace("C/1", "C/3")),
        ];
        let rows: Vec<&str> = rows.iter().map(String::as_str).collect();
        let (decisions, _) = decided("live_after,upstream_isolator,upstream_location", &rows);
        let parts: Vec<_> = decisions.enclosures[0]
            .statements
            .iter()
            .filter_map(
                |statement| if let Statement::LineSideLive { part, .. } = statement { Some(part) } else { None },
            )
            .collect();
        assert_eq!(parts, ["one; two", "three"]);
    }

    #[test]
    fn an_isolator_in_the_enclosure() {
        let at = |place: &str| outcome(RULE, "", &[&PLAIN.replace("Board C", place)]);
        assert_eq!(at("E1"), Outcome::Required);
        assert_eq!(at("door of E1"), Outcome::Required);
        assert_eq!(at("beside E1"), Outcome::NotNeeded);
        assert_eq!(at("E12"), Outcome::NotNeeded);
    }
}
