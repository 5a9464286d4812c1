//! Alternative source: the installation has two or more sources, and this is a place where that must be said.
//!
//! Reason: who switches off the mains believes the installation dead, while solar modules, a generator or a battery keep
//! it live.
//!
//! Reference: BS 7671:2018+A4:2026, 514.15.1 (from training texts that give the places): the origin, a remote meter, the
//! board where the sources meet, and every point of isolation of every source. One source only needs none. A source that
//! the survey leaves blank is unknown, never mains; with two sources and no roles it is unknown which places these are.
//!
//! Example: the main board of a building with solar inverters on its roof.

use super::case::{Answer, Case};
use super::phrases::list;
use super::statement::Statement;
use crate::survey::value::Role;

/// Whether the sources must be named here.
pub(super) fn check(case: &Case<'_>) -> Answer {
    let sources = &case.installation.sources;
    let role = case.enclosure.roles.as_ref().and_then(|roles| roles.first().copied());
    let listed = list(sources.iter().map(String::as_str));
    let statement = || Statement::AlternativeSource { sources: sources.clone() };
    match (sources.len() >= 2, role) {
        (true, Some(role)) => {
            let because = format!("this is {}, and the installation has the sources {listed}", in_words(role));
            Answer::required(because).says([statement()])
        }
        (_, None) if case.installation.has_roles => {
            Answer::not_needed("the survey gives roles, and none to this enclosure")
        }
        (true, None) => {
            Answer::unknown(format!("the installation has the sources {listed}, and the survey gives no roles"))
                .says([statement()])
        }
        (false, Some(_)) if case.installation.source_is_blank => {
            Answer::unknown("rows without a source leave unknown whether there are others").says([statement()])
        }
        (false, None) if case.installation.source_is_blank => {
            Answer::unknown("rows without a source leave unknown whether there are others, and there are no roles")
        }
        (false, Some(_) | None) => Answer::not_needed(format!("the survey names one source, {listed}")),
    }
}

const fn in_words(role: Role) -> &'static str {
    match role {
        Role::Origin => "the origin",
        Role::Meter => "a meter",
        Role::Board => "a board where sources meet",
        Role::IsolatingPoint => "a point of isolation",
    }
}

#[cfg(test)]
mod tests {
    use crate::rules::testing::{PLAIN, outcome};
    use crate::rules::{Outcome, Rule};

    const RULE: Rule = Rule::AlternativeSource;

    fn at(role: &str, other_source: &str) -> Outcome {
        let other = PLAIN.replace("E1", "E2").replace("mains", other_source);
        outcome(RULE, "role", &[&format!("{PLAIN},{role}"), &format!("{other},")])
    }

    #[test]
    fn two_sources_are_named_at_each_role() {
        for role in ["origin", "meter", "board", "isolating-point"] {
            assert_eq!(at(role, "solar"), Outcome::Required);
            assert_eq!(at(role, "mains"), Outcome::NotNeeded);
        }
    }

    #[test]
    fn no_roles_and_blank_sources_are_unknown() {
        assert_eq!(at("", "solar"), Outcome::Unknown);
        assert_eq!(at("origin", ""), Outcome::Unknown);
        assert_eq!(at("", ""), Outcome::Unknown);
        assert_eq!(at("", "mains"), Outcome::NotNeeded);
    }
}
