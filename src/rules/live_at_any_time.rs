//! Live at any time: the d.c. side of solar modules, or a battery inside, is live whatever is switched off elsewhere.
//!
//! Reason: light makes the voltage and no isolator stops it; a battery carries its own.
//!
//! Reference: IEC 60364-7-712, 514.102 asks a mark at each access point to live d.c. parts (from memory); for batteries
//! it is common practice. Nothing lifts it.
//!
//! In the survey: `source` is `solar` with a d.c. `nominal`, or a row has figures of modules; or `source` is `battery`,
//! and the battery is the enclosure's own: `fed_from` is blank or names the enclosure, or its isolator stands inside. What
//! comes from a battery elsewhere and cannot be isolated is live here as much. A blank source is unknown, and so is an
//! enclosure that is a UPS by its name, of whose battery no row tells.
//!
//! Example: a junction box of solar strings, whose string side is live in daylight with its isolator off.

use super::back_feed::is_ups;
use super::case::{Answer, Case};
use super::decision::Outcome;
use super::phrases::circuits;
use super::statement::Statement;
use crate::finding::{Finding, code};
use crate::network::{Isolated, Nature, Way, spelling, voltage};
use crate::survey::value::Current;
use crate::survey::{Column, Row};
use crate::table::WordList;

/// Whether something is live at any time.
pub(super) fn check(case: &Case<'_>, findings: &mut Vec<Finding>) -> Answer {
    let answer = of_rows(case);
    match ups_without_battery(case) {
        Some(row) if answer.outcome < Outcome::Required => {
            let message = format!("`{}` is a UPS by its name, and no row lists its battery", case.designation());
            let help =
                "add a row for the battery with its isolator, or `none`; if there is none inside, name what is there";
            findings.push(case.finding(code::UPS_BATTERY_NOT_LISTED, message, row, Column::Source).help(help));
            Answer::unknown("it is a UPS by its name, and no row tells of its battery")
        }
        Some(_) | None => answer,
    }
}

/// The first row of an enclosure that is a UPS, where no row tells of a battery or of what the UPS gives.
fn ups_without_battery<'a>(case: &Case<'a>) -> Option<&'a Row> {
    static BESIDE_IT: WordList = WordList::new(&["bypass"]);
    let tells = |way: &Way| matches!(case.nature(way), Some(Nature::Battery | Nature::Ups));
    let named = [Some(case.designation()), case.enclosure.name.as_deref()];
    let is_beside = named.into_iter().flatten().any(|name| spelling::has_word(name, &BESIDE_IT));
    let is_silent = is_ups(case.enclosure) && !is_beside && !case.ways.iter().any(tells);
    case.enclosure.rows.first().filter(|_| is_silent)
}

fn of_rows(case: &Case<'_>) -> Answer {
    let of_kind =
        |wanted: Kind| case.rows().filter(move |(row, way)| kind(case, row, way) == wanted).map(|(row, _)| row);
    let statements: Vec<_> = LIVE
        .into_iter()
        .flat_map(|(wanted, _)| of_kind(wanted).map(move |row| (row, wanted == Kind::SolarDirect)))
        .map(|(row, solar)| Statement::LiveAtAnyTime { circuit: row.circuit.to_string(), solar })
        .collect();
    let because = || {
        let of_one = |(wanted, words): (Kind, &str)| {
            let names: Vec<_> = of_kind(wanted).map(|row| &*row.circuit).collect();
            (!names.is_empty()).then(|| format!("{} {words}", circuits(names)))
        };
        LIVE.into_iter().filter_map(of_one).collect::<Vec<_>>().join(", and ")
    };
    match (of_kind(Kind::SolarDirect).next(), statements.is_empty()) {
        (Some(_), _) => Answer::required(case.because(because)).says(statements),
        (None, false) => Answer::required(case.because(because)).says(statements).under(None),
        (None, true) => match of_kind(Kind::NotKnown).next() {
            Some(row) => Answer::unknown(case.because(|| {
                format!("where the energy of circuit {} comes from, or with which current, is not said", row.circuit)
            })),
            None => Answer::not_needed("no solar d.c. and no battery inside are named"),
        },
    }
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Kind {
    SolarDirect,
    BatteryInside,
    /// A battery from which nothing isolates the enclosure, wherever it stands.
    BatteryNotIsolated,
    NotKnown,
    Other,
}

/// What is live at any time, each as a reason says it.
const LIVE: [(Kind, &str); 3] = [
    (Kind::SolarDirect, "live whenever there is light"),
    (Kind::BatteryInside, "a battery inside"),
    (Kind::BatteryNotIsolated, "fed from a battery that nothing isolates"),
];

fn kind(case: &Case<'_>, row: &Row, way: &Way) -> Kind {
    match case.nature(way) {
        Some(Nature::Solar) => solar(row, way),
        Some(Nature::Battery) if is_inside(case, row, way) => Kind::BatteryInside,
        Some(Nature::Battery) if way.isolated == Isolated::Impossible => Kind::BatteryNotIsolated,
        Some(Nature::Battery | Nature::Mains | Nature::Generator | Nature::Ups | Nature::Vehicle | Nature::NotTold) => {
            Kind::Other
        }
        None if voltage::has_solar_figures(row) => Kind::SolarDirect,
        None => Kind::NotKnown,
    }
}

fn solar(row: &Row, way: &Way) -> Kind {
    match way.voltage.current {
        Current::Dc => Kind::SolarDirect,
        Current::Ac if voltage::has_solar_figures(row) => Kind::SolarDirect,
        Current::Ac if way.voltage.current_is_said => Kind::Other,
        Current::Ac => Kind::NotKnown,
    }
}

/// A battery is inside unless another place feeds it in through an isolator outside.
fn is_inside(case: &Case<'_>, row: &Row, way: &Way) -> bool {
    let from_here = row.fed_from.as_deref().is_none_or(|from| spelling::names(from, case.designation()));
    match &way.isolated {
        Isolated::By(devices) => from_here || devices.iter().any(|device| case.is_inside(*device)),
        Isolated::Impossible | Isolated::Unknown => from_here,
    }
}

#[cfg(test)]
mod tests {
    use crate::finding::{Finding, code};
    use crate::rules::testing::{PLAIN, decided, outcome};
    use crate::rules::{Outcome, Rule};

    const RULE: Rule = Rule::LiveAtAnyTime;

    #[test]
    fn solar_is_live_on_its_direct_side() {
        let solar = |system: &str| {
            let row = PLAIN.replace("mains,230,L1 N,TN-S", &format!("solar,{system}"));
            outcome(RULE, "", &[&row.replace(",1,", ",2,")])
        };
        assert_eq!(solar("230 dc,+ -,unearthed"), Outcome::Required);
        assert_eq!(solar("230,L1 N,TN-S"), Outcome::NotNeeded);
        assert_eq!(solar(",,"), Outcome::Unknown);
    }

    #[test]
    fn a_battery_counts_where_it_is() {
        let battery = |from: &str, isolator: &str| {
            outcome(RULE, "", &[&format!("E1,B/1,{from},battery,48 dc,+ -,unearthed,48,{isolator},2,padlock")])
        };
        assert_eq!(battery("", "F1,Room 1"), Outcome::Required);
        assert_eq!(battery("E1 battery", "F1,Room 1"), Outcome::Required);
        assert_eq!(battery("E2", "F1,inside E1"), Outcome::Required);
        assert_eq!(battery("E2", "none,"), Outcome::Required);
        assert_eq!(battery("E2", "F1,Room 1"), Outcome::NotNeeded);
    }

    #[test]
    fn a_ups_has_a_battery_until_a_row_tells() {
        let named = |name: &str, more: &[&str]| {
            let ups = format!("{PLAIN},{name}");
            let rows: Vec<_> = std::iter::once(&*ups).chain(more.iter().copied()).collect();
            (outcome(RULE, "name", &rows), decided("name", &rows).1.iter().any(is_lacking))
        };
        let battery = "E1,B/1,BAT,battery,48 dc,+ -,unearthed,48,F1,Room 1,2,padlock,";
        assert_eq!(named("UPS 40 kVA", &[]), (Outcome::Unknown, true));
        assert_eq!(named("UPS 40 kVA", &[battery]), (Outcome::NotNeeded, false));
        assert_eq!(named("UPS output board", &[]), (Outcome::NotNeeded, false));
        assert_eq!(named("UPS bypass switch", &[]), (Outcome::NotNeeded, false));
    }

    fn is_lacking(finding: &Finding) -> bool {
        finding.code == code::UPS_BATTERY_NOT_LISTED
    }

    #[test]
    fn a_blank_source_is_unknown() {
        assert_eq!(outcome(RULE, "", &[&PLAIN.replace("mains", "")]), Outcome::Unknown);
    }
}
