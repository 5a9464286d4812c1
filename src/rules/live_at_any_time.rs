//! Live at any time: the d.c. side of solar modules, or a battery inside, is live whatever is switched off elsewhere.
//!
//! Reason: light makes the voltage and no isolator stops it; a battery carries its own.
//!
//! Reference: IEC 60364-7-712, 514.102 asks a mark at each access point to live d.c. parts (from memory); for batteries
//! it is common practice. Nothing lifts it.
//!
//! In the survey: `source` is `solar` with a d.c. `nominal`, or a row has figures of modules; or `source` is `battery`,
//! and the battery is the enclosure's own: `fed_from` is blank or names the enclosure, or its isolator stands inside. A
//! blank source is unknown.
//!
//! Example: a junction box of solar strings, whose string side is live in daylight with its isolator off.

use super::case::{Answer, Case};
use super::phrases::circuits;
use super::statement::Statement;
use crate::network::{Isolated, Nature, Way, spelling, voltage};
use crate::survey::Row;
use crate::survey::value::Current;

/// Whether something is live at any time.
pub(super) fn check(case: &Case<'_>) -> Answer {
    let of_kind =
        |wanted: Kind| case.rows().filter(move |(row, way)| kind(case, row, way) == wanted).map(|(row, _)| row);
    let statements: Vec<_> = of_kind(Kind::SolarDirect)
        .map(|row| (row, true))
        .chain(of_kind(Kind::BatteryInside).map(|row| (row, false)))
        .map(|(row, solar)| Statement::LiveAtAnyTime { circuit: row.circuit.clone(), solar })
        .collect();
    let solar = || circuits(of_kind(Kind::SolarDirect).map(|row| row.circuit.as_str()));
    let battery = || circuits(of_kind(Kind::BatteryInside).map(|row| row.circuit.as_str()));
    match (of_kind(Kind::SolarDirect).next(), of_kind(Kind::BatteryInside).next()) {
        (Some(_), None) => {
            Answer::required(case.because(|| format!("{} live whenever there is light", solar()))).says(statements)
        }
        (Some(_), Some(_)) => Answer::required(
            case.because(|| format!("{} live whenever there is light, and {} a battery inside", solar(), battery())),
        )
        .says(statements),
        (None, Some(_)) => {
            Answer::required(case.because(|| format!("{} a battery inside", battery()))).says(statements).under(None)
        }
        (None, None) => match of_kind(Kind::NotKnown).next() {
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
    NotKnown,
    Other,
}

fn kind(case: &Case<'_>, row: &Row, way: &Way) -> Kind {
    match case.nature(way) {
        Some(Nature::Solar) => solar(row, way),
        Some(Nature::Battery) if is_inside(case, row, way) => Kind::BatteryInside,
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
        Isolated::Impossible => true,
        Isolated::Unknown => from_here,
    }
}

#[cfg(test)]
mod tests {
    use crate::rules::testing::{PLAIN, outcome};
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
    fn a_blank_source_is_unknown() {
        assert_eq!(outcome(RULE, "", &[&PLAIN.replace("mains", "")]), Outcome::Unknown);
    }
}
