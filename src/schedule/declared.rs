//! Who declares what lets a rule fall silent: the cells of the survey that it rests on, and the name behind them.

use crate::rules::{Outcome, Rule};
use crate::survey::Enclosure;
use crate::survey::value::{Basis, Declaration, InterlockKind};

/// The word for the survey where it gives no name.
const SURVEY: &str = "the survey";

/// What is declared, and by whom.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Declared {
    /// The declaration in words of the survey; empty where the rule simply finds nothing to apply to.
    pub what: String,
    /// Who declares it.
    pub by: String,
}

impl Declared {
    /// A declaration with its reason and its name.
    pub(super) fn named<'a>(column: &str, declarations: impl Iterator<Item = &'a Declaration>) -> Self {
        let mut reasons: Vec<&str> = Vec::new();
        let mut names: Vec<&str> = Vec::new();
        for one in declarations {
            if !reasons.contains(&one.reason.as_str()) {
                reasons.push(&one.reason);
            }
            if !names.contains(&one.by.as_str()) {
                names.push(&one.by);
            }
        }
        Self { what: format!("{column}: {}", reasons.join("; ")), by: names.join(", ") }
    }

    /// What an outcome of a rule for an enclosure rests on.
    pub(super) fn of(rule: Rule, outcome: Outcome, enclosure: &Enclosure) -> Self {
        match outcome {
            Outcome::Unknown => Self { what: String::new(), by: "nobody: not known".to_owned() },
            Outcome::Lifted => Self { what: lifting(rule, enclosure), by: SURVEY.to_owned() },
            Outcome::NotNeeded | Outcome::Advised | Outcome::Required => {
                Self { what: String::new(), by: SURVEY.to_owned() }
            }
        }
    }
}

/// The cells that lift a rule.
fn lifting(rule: Rule, enclosure: &Enclosure) -> String {
    let rows = enclosure.rows.iter();
    match rule {
        Rule::UnexpectedVoltage => {
            let expected = rows.filter(|row| row.expected == Some(true)).map(|row| &*row.circuit);
            said("expected: yes for circuit", expected)
        }
        Rule::SeveralIsolators | Rule::SeveralSupplies => {
            let mut interlocks: Vec<String> = Vec::new();
            for row in rows {
                let kind = match row.further().interlock_kind {
                    Some(InterlockKind::Coupled) => "coupled",
                    Some(InterlockKind::TrappedKey) => "trapped-key",
                    Some(InterlockKind::AuxiliaryContact | InterlockKind::NoParallel) | None => continue,
                };
                let interlock = format!("{} ({kind})", row.further().interlock.as_deref().unwrap_or("without a name"));
                if !interlocks.contains(&interlock) {
                    interlocks.push(interlock);
                }
            }
            said("interlock", interlocks.iter().map(String::as_str))
        }
        Rule::StoredCharge => {
            let waits = rows
                .filter_map(|row| Some(format!("{} s for circuit {}", row.further().discharge_seconds?, row.circuit)));
            said("discharge_s:", waits.collect::<Vec<_>>().iter().map(String::as_str))
        }
        Rule::AlternativeSource
        | Rule::LineSideLive
        | Rule::LiveAtAnyTime
        | Rule::BackFeed
        | Rule::StartsByItself
        | Rule::DeviceIdentity
        | Rule::StandingPeriodicInspection
        | Rule::StandingRcdTest
        | Rule::StandingEarthingConnection
        | Rule::StandingEarthFreeLocation
        | Rule::StandingSurgeProtection
        | Rule::StandingFirefightersSwitch
        | Rule::StandingMixedColours => String::new(),
    }
}

fn said<'a>(what: &str, of: impl Iterator<Item = &'a str>) -> String {
    let of: Vec<&str> = of.collect();
    if of.is_empty() { String::new() } else { format!("{what} {}", of.join(", ")) }
}

/// How the rows of an enclosure are known: `proved 2, traced 1, not said 1`.
pub(super) fn basis(enclosure: &Enclosure) -> String {
    let count = |basis: Option<Basis>| enclosure.rows.iter().filter(|row| row.basis == basis).count();
    let counted = [
        (Some(Basis::Proved), "proved"),
        (Some(Basis::Traced), "traced"),
        (Some(Basis::Drawing), "drawing"),
        (Some(Basis::Assumed), "assumed"),
        (None, "not said"),
    ];
    let words = counted.into_iter().map(|(basis, word)| (count(basis), word)).filter(|(count, _)| *count > 0);
    words.map(|(count, word)| format!("{word} {count}")).collect::<Vec<_>>().join(", ")
}
