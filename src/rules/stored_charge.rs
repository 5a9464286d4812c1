//! Stored charge: capacitors keep a dangerous voltage after isolation.
//!
//! Reason: everything is switched off and proved dead on the supply side, and the charge still strikes.
//!
//! Reference: IEC 60204-1, 6.2.4 (from a guide that paraphrases it): above 60 V d.c. after 5 s a notice states the hazard
//! and the waiting time; BS 7671, 416.2.5 has 120 V (from memory), which the job can choose. Below the limit within that
//! time it is lifted. A converter, UPS or capacitor without figures is unknown.
//!
//! Example: a frequency converter at 565 V d.c. that needs 300 s.

use super::Rule;
use super::case::{Answer, Case};
use super::decision::Outcome;
use super::statement::Statement;
use crate::finding::{Finding, code};
use crate::network::spelling;
use crate::survey::value::Volts;
use crate::survey::{Column, Row};

/// Whether a charge stays, and for how long.
pub(super) fn check(case: &Case<'_>, findings: &mut Vec<Finding>) -> Answer {
    let clause = Rule::stored_charge_clause(case.options.stored_charge_limit);
    of_figures(case).unwrap_or_else(|| of_words(case, findings)).under(clause)
}

/// The answer from figures; `None` where no row gives any.
fn of_figures(case: &Case<'_>) -> Option<Answer> {
    let rows = || case.enclosure.rows.iter().filter(|row| row.stored.is_some() || row.discharge_seconds.is_some());
    let (outcome, row) = rows().map(|row| (of_row(case, row), row)).reduce(|a, b| if b.0 > a.0 { b } else { a })?;
    let limit = case.options.stored_charge_limit;
    let volts = || row.stored.map_or_else(|| "an unknown voltage".to_owned(), |volts| format!("{volts} V d.c."));
    let circuit = &row.circuit;
    let because = match (outcome, row.discharge_seconds) {
        (Outcome::Required, Some(seconds)) => {
            format!("circuit {circuit} keeps {} after isolation and needs {seconds} s to fall below {limit} V", volts())
        }
        (Outcome::Lifted, Some(seconds)) => {
            format!("the charge of circuit {circuit} is below {limit} V after {seconds} s")
        }
        (Outcome::NotNeeded, _) => format!("the charge of circuit {circuit} is {}, not above {limit} V", volts()),
        (Outcome::Unknown | Outcome::Required | Outcome::Lifted | Outcome::Advised, _) => {
            format!("circuit {circuit} keeps {} after isolation, and for how long is not known", volts())
        }
    };
    let answer = Answer::new(outcome, because);
    Some(if outcome > Outcome::Lifted { answer.says([statement(case, rows())]) } else { answer })
}

fn of_row(case: &Case<'_>, row: &Row) -> Outcome {
    if row.stored.is_some_and(|volts| volts <= case.options.stored_charge_limit) {
        return Outcome::NotNeeded;
    }
    match row.discharge_seconds {
        Some(seconds) if seconds <= case.options.stored_charge_seconds => Outcome::Lifted,
        Some(_) => Outcome::Required,
        None => Outcome::Unknown,
    }
}

/// The highest voltage and the longest waiting time; unknown where it is so for one of the rows.
fn statement<'a>(case: &Case<'_>, rows: impl Iterator<Item = &'a Row>) -> Statement {
    let dangerous: Vec<_> = rows.filter(|row| of_row(case, row) > Outcome::Lifted).collect();
    let volts: Option<Vec<Volts>> = dangerous.iter().map(|row| row.stored).collect();
    let seconds: Option<Vec<u32>> = dangerous.iter().map(|row| row.discharge_seconds).collect();
    Statement::StoredCharge {
        volts: volts.and_then(|all| all.into_iter().max()),
        seconds: seconds.and_then(|all| all.into_iter().max()),
    }
}

/// Equipment that keeps a charge, by its name.
const KEEPS_CHARGE: [&str; 11] = [
    "converter",
    "converters",
    "inverter",
    "inverters",
    "drive",
    "drives",
    "vsd",
    "vfd",
    "capacitor",
    "capacitors",
    "ups",
];

/// Words beside `ups` that speak of what a UPS feeds, or of the room around it.
const ONLY_FED: [&str; 9] =
    ["board", "distribution", "output", "socket", "sockets", "room", "fed", "bypass", "lighting"];

/// The answer where no figures are given: unknown for equipment that keeps a charge.
fn of_words(case: &Case<'_>, findings: &mut Vec<Finding>) -> Answer {
    let Some((row, what)) = keeper(case) else {
        return Answer::not_needed("nothing that keeps a charge is named, and no figures are given");
    };
    let message = format!("`{what}` keeps a charge, and neither its voltage nor its waiting time is given");
    findings.push(
        case.finding(code::STORED_CHARGE_NOT_KNOWN, message, row, Column::StoredV)
            .help("give `stored_v` and `discharge_s`; a charge that is never above the limit is `0` and `0`"),
    );
    Answer::unknown(format!("{what} keeps a charge, and no figures are given"))
        .says([Statement::StoredCharge { volts: None, seconds: None }])
}

/// The first thing named that keeps a charge. A board names what its circuits feed elsewhere.
fn keeper<'a>(case: &Case<'a>) -> Option<(&'a Row, &'a str)> {
    let enclosure = case.enclosure;
    let first = enclosure.rows.first()?;
    let keeps = |text: &str| spelling::has_word(text, &KEEPS_CHARGE) && !spelling::has_word(text, &ONLY_FED);
    if let Some(name) = enclosure.name.as_deref().filter(|name| keeps(name)) {
        return Some((first, name));
    }
    if case.installation.is_ups(&enclosure.designation) {
        return Some((first, &enclosure.designation));
    }
    if enclosure.roles.as_ref().is_some_and(|roles| !roles.is_empty()) {
        return None;
    }
    enclosure
        .rows
        .iter()
        .find_map(|row| row.serves.as_deref().filter(|serves| keeps(serves)).map(|serves| (row, serves)))
}
