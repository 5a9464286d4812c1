//! Stored charge: capacitors keep a dangerous voltage after isolation.
//!
//! Reason: everything is switched off and no supply is left, and the charge still strikes.
//!
//! Reference: IEC 60204-1, 6.2.4 (from a guide that paraphrases it): above 60 V d.c. after 5 s a notice states the
//! hazard and the waiting time; BS 7671, 416.2.5 has 120 V (from memory), which the job can choose. At or below the
//! limit, or below it within 5 s, none is needed.
//!
//! In the survey: `stored_v` and `discharge_s`. A converter, drive, UPS or capacitor by `enclosure`, `name` or `serves`,
//! without these figures is unknown: the notice then says that the waiting time is not known, also where another row
//! gives figures, since nobody must wait for the shorter of two times. Fill in `0` and `0` for
//! equipment that never keeps such a charge. In the supplies file: a `converter` or `ups` between the isolators of a row
//! and its live parts, for which the row gives no figures.
//!
//! Example: a frequency converter at 565 V d.c. that needs 300 s.

use std::borrow::Cow;

use super::Rule;
use super::case::{Answer, Case};
use super::decision::Outcome;
use super::described::keeper_on_the_way;
use super::statement::Statement;
use crate::finding::{Finding, code};
use crate::network::{Nature, NodeId, Terminal, spelling};
use crate::survey::value::Volts;
use crate::survey::{Column, Row};
use crate::table::WordList;

/// Whether a charge stays, and for how long.
pub(super) fn check(case: &Case<'_>, findings: &mut Vec<Finding>) -> Answer {
    let clause = Rule::stored_charge_clause(case.options.stored_charge_limit);
    let answer = match of_figures(case) {
        Some(answer) if !is_left_open(case) => answer,
        Some(answer) if answer.outcome > Outcome::Lifted => with_another(case, answer, of_words(case, findings)),
        Some(_) | None => of_words(case, findings),
    };
    answer.under(clause)
}

/// Figures of one charge beside another of which nobody gives any: to wait for the first would not be enough, so the
/// notice gives no time at all.
fn with_another(case: &Case<'_>, of_figures: Answer, without: Answer) -> Answer {
    let because = case.because(|| format!("{}, and {}", of_figures.because.words(), without.because.words()));
    Answer::new(of_figures.outcome.max(without.outcome), because).says(without.statements)
}

/// The answer from figures; `None` where no row gives any.
fn of_figures(case: &Case<'_>) -> Option<Answer> {
    let rows = || case.enclosure.rows.iter().filter(|row| speaks_of_charge(row));
    let (outcome, row) = rows().map(|row| (of_row(case, row), row)).reduce(|a, b| if b.0 > a.0 { b } else { a })?;
    let limit = case.options.stored_charge_limit;
    let volts =
        || row.further().stored.map_or_else(|| "an unknown voltage".to_owned(), |volts| format!("{volts} V d.c."));
    let circuit = &row.circuit;
    let because = || match (outcome, row.further().discharge_seconds) {
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
    let answer = Answer::new(outcome, case.because(because));
    Some(if outcome > Outcome::Lifted { answer.says([statement(case, rows())]) } else { answer })
}

/// Whether a row gives a figure, or says that one is not known.
fn speaks_of_charge(row: &Row) -> bool {
    let not_known = |column| row.not_known.contains(column);
    let is_given = row.further().stored.is_some() || row.further().discharge_seconds.is_some();
    is_given || not_known(Column::StoredV) || not_known(Column::DischargeS)
}

fn of_row(case: &Case<'_>, row: &Row) -> Outcome {
    if row.further().stored.is_some_and(|volts| volts <= case.options.stored_charge_limit) {
        return Outcome::NotNeeded;
    }
    match row.further().discharge_seconds {
        Some(seconds) if seconds <= case.options.stored_charge_seconds => Outcome::Lifted,
        Some(_) => Outcome::Required,
        None => Outcome::Unknown,
    }
}

/// The highest voltage and the longest waiting time; unknown where it is so for one of the rows.
fn statement<'a>(case: &Case<'_>, rows: impl Iterator<Item = &'a Row>) -> Statement {
    let dangerous: Vec<_> = rows.filter(|row| of_row(case, row) > Outcome::Lifted).collect();
    let volts: Option<Vec<Volts>> = dangerous.iter().map(|row| row.further().stored).collect();
    let seconds: Option<Vec<u32>> = dangerous.iter().map(|row| row.further().discharge_seconds).collect();
    Statement::StoredCharge {
        volts: volts.and_then(|all| all.into_iter().max()),
        seconds: seconds.and_then(|all| all.into_iter().max()),
    }
}

/// Equipment that keeps a charge, by its name.
static KEEPS_CHARGE: WordList = WordList::new(&[
    "converter",
    "converters",
    "inverter",
    "inverters",
    "drive",
    "drives",
    "vsd",
    "vsds",
    "vfd",
    "vfds",
    "vvvf",
    "servo",
    "servos",
    "rectifier",
    "rectifiers",
    "pfc",
    "inv",
    "capacitor",
    "capacitors",
    "supercapacitor",
    "supercapacitors",
    "welder",
    "welding",
    "harmonic",
]);

/// Words that tell such equipment together.
static KEEP_CHARGE_TOGETHER: [[WordList; 2]; 3] = [
    [WordList::new(&["speed", "frequency"]), WordList::new(&["controller", "controllers", "controlled"])],
    [WordList::new(&["power"]), WordList::new(&["factor"])],
    [WordList::new(&["ec"]), WordList::new(&["fan", "fans"])],
];

/// Words beside `ups` that speak of what a UPS feeds, or of the room around it.
static ONLY_FED: WordList = WordList::new(&[
    "board",
    "db",
    "distribution",
    "output",
    "socket",
    "sockets",
    "room",
    "fed",
    "bypass",
    "lighting",
    "battery",
    "bat",
    "batt",
]);

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
    Answer::unknown(case.because(|| format!("{what} keeps a charge, and no figures are given")))
        .says([Statement::StoredCharge { volts: None, seconds: None }])
}

/// Whether something keeps a charge of which no figures speak.
fn is_left_open(case: &Case<'_>) -> bool {
    without_figures(case).is_some() || on_the_way(case).is_some()
}

/// The first thing named, or described on the way, that keeps a charge.
fn keeper<'a>(case: &Case<'a>) -> Option<(&'a Row, Cow<'a, str>)> {
    let named = named_keeper(case).map(|(row, name)| (row, Cow::Borrowed(name)));
    named.or_else(|| on_the_way(case).map(|(row, name)| (row, Cow::Owned(name))))
}

/// A described converter or UPS that stays connected to live parts, and the row, which gives no figures.
fn on_the_way<'a>(case: &Case<'a>) -> Option<(&'a Row, String)> {
    if !case.network.is_described() {
        return None;
    }
    let mut silent = case.numbered_rows().filter(|(_, row, _)| !speaks_of_charge(row));
    let opened = |node| case.lists(node);
    // What the row of its input says of the charge of a UPS or converter holds at its output too, in its own enclosure.
    let own = spelling::key(case.designation());
    let told = |node: NodeId| {
        let feeds = |it: &Terminal| case.network.graph().into_node(node).iter().any(|feed| feed.from == it.node);
        let tells = |id| case.network.live_parts(id).iter().any(feeds);
        spelling::key(&case.network.node_name(node)) == own
            && case.numbered_rows().any(|(id, row, _)| speaks_of_charge(row) && tells(id))
    };
    silent.find_map(|(id, row, _)| keeper_on_the_way(case.network, id, opened, told).map(|name| (row, name)))
}

fn named_keeper<'a>(case: &Case<'a>) -> Option<(&'a Row, &'a str)> {
    let enclosure = case.enclosure;
    let is_ups = |name: &str| spelling::has_word(name, &spelling::UPS) && !spelling::has_word(name, &ONLY_FED);
    let by_name = enclosure.name.as_deref().filter(|name| keeps_charge(name) || is_ups(name));
    // A board that a UPS feeds may bear its name; its rows tell that.
    let gives = || case.ways.iter().any(|way| case.nature(way) == Some(Nature::Ups));
    let tells = |name: &&str| {
        keeps_charge(name)
            || case.installation.is_ups(name)
            || case.installation.described.keeps_charge(name)
            || is_ups(name) && !gives()
    };
    let by_designation = Some(case.designation()).filter(tells);
    let named = by_name.or(by_designation).filter(|_| !enclosure.rows.iter().any(speaks_of_charge));
    named.and_then(|name| Some((enclosure.rows.first()?, name))).or_else(|| without_figures(case))
}

/// A row that serves something that keeps a charge, and gives no figures. A board names what its circuits feed
/// elsewhere, so it is left aside.
fn without_figures<'a>(case: &Case<'a>) -> Option<(&'a Row, &'a str)> {
    if case.enclosure.particulars().roles.as_ref().is_some_and(|roles| !roles.is_empty()) {
        return None;
    }
    let mut rows = case.enclosure.rows.iter().filter(|row| !speaks_of_charge(row));
    rows.find_map(|row| row.serves.as_deref().filter(|serves| keeps_charge(serves)).map(|serves| (row, serves)))
}

fn keeps_charge(text: &str) -> bool {
    let both = |pair: &[WordList; 2]| pair.iter().all(|words| spelling::has_word(text, words));
    let is_abbreviated = || text.contains('.') && text.contains("P.F.C");
    let is_one = spelling::has_word(text, &KEEPS_CHARGE) || KEEP_CHARGE_TOGETHER.iter().any(both) || is_abbreviated();
    is_one && !spelling::has_word(text, &ONLY_FED)
}

#[cfg(test)]
mod tests {
    use crate::finding::code;
    use crate::rules::testing::{PLAIN, decided, decided_by_both, explained, outcome, outcome_in};
    use crate::rules::{Explained, Outcome, Rule, Statement};

    const RULE: Rule = Rule::StoredCharge;

    fn charge(volts: &str, seconds: &str, serves: &str) -> Outcome {
        outcome(RULE, "stored_v,discharge_s,serves", &[&format!("{PLAIN},{volts},{seconds},{serves}")])
    }

    #[test]
    fn sixty_volts_after_five_seconds() {
        assert_eq!(charge("60", "", ""), Outcome::NotNeeded);
        assert_eq!(charge("61", "5", ""), Outcome::Lifted);
        assert_eq!(charge("61", "6", ""), Outcome::Required);
        assert_eq!(charge("", "6", ""), Outcome::Required);
        assert_eq!(charge("61", "", ""), Outcome::Unknown);
        assert_eq!(charge("?", "", ""), Outcome::Unknown);
    }

    #[test]
    fn equipment_that_keeps_a_charge_needs_figures() {
        assert_eq!(charge("", "", "fan drive"), Outcome::Unknown);
        assert_eq!(charge("", "", "capacitor bank"), Outcome::Unknown);
        assert_eq!(charge("", "", "Power-factor correction"), Outcome::Unknown);
        for named in ["EC fan", "welding set", "harmonic filter", "P.F.C. unit", "lift VVVF", "pump speed controller"] {
            assert_eq!(charge("", "", named), Outcome::Unknown, "{named}");
        }
        assert_eq!(charge("", "", "power sockets"), Outcome::NotNeeded);
        assert_eq!(charge("", "", "fan"), Outcome::NotNeeded);
        assert_eq!(charge("0", "0", "fan drive"), Outcome::NotNeeded);
    }

    #[test]
    fn a_designation_can_tell_what_keeps_a_charge() {
        let called = |name: &str| outcome(RULE, "", &[&PLAIN.replace("E1", name)]);
        for name in ["VSD-A", "VSD 2", "UPS-A", "UPS1", "INV-3"] {
            assert_eq!(called(name), Outcome::Unknown, "{name}");
        }
        for name in ["UPS-DB", "UPS-BAT", "DB-A", "PFCX"] {
            assert_eq!(called(name), Outcome::NotNeeded, "{name}");
        }
        let lines = ["Network,source,,,,,", "Q1,breaker,Network,Board C,,,", "X9,converter,Q1,,,,"];
        let (decisions, _) = decided_by_both("", &[&PLAIN.replace("E1", "X9")], "note", &lines);
        assert_eq!(outcome_in(&decisions, RULE), Outcome::Unknown, "by the supplies file");
    }

    #[test]
    fn figures_of_one_row_do_not_speak_for_another() {
        let silent = format!("{},,,pump drive", PLAIN.replace("C/1", "C/2"));
        let rows = [&*format!("{PLAIN},20,0,fan drive"), &*silent];
        assert_eq!(outcome(RULE, "stored_v,discharge_s,serves", &rows), Outcome::Unknown);
    }

    #[test]
    fn the_waiting_time_of_one_charge_is_none_where_another_is_not_known() {
        let bank = format!("{},,,capacitor bank", PLAIN.replace("C/1", "C/2"));
        let rows = [&*format!("{PLAIN},560,300,drive 1"), &*bank];
        let (decisions, findings) = decided("stored_v,discharge_s,serves", &rows);
        let decision = &decisions.enclosures[0];
        let explanation = explained("stored_v,discharge_s,serves", &rows);
        let Explained { reason, because } = explanation.reasons.iter().find(|one| one.reason.rule == RULE).unwrap();
        assert_eq!(reason.outcome, Outcome::Required);
        assert!(because.contains("300 s") && because.contains("capacitor bank"), "{because}");
        let charges: Vec<_> =
            decision.statements.iter().filter(|one| matches!(one, Statement::StoredCharge { .. })).collect();
        assert_eq!(charges, [&Statement::StoredCharge { volts: None, seconds: None }]);
        assert!(findings.iter().any(|finding| finding.code == code::STORED_CHARGE_NOT_KNOWN), "{findings:?}");
    }
}
