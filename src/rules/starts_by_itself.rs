//! Starts by itself: a generator that feeds the enclosure may start without warning.
//!
//! Reason: the mains fails or is switched off, and the generator answers by starting.
//!
//! Reference: common practice; BS 7671, 551 treats of generating sets. The notice says to inhibit starting first, then
//! to isolate. Nothing lifts it.
//!
//! In the survey: `source` is `generator`, or a name that tells one, such as `standby generator 2`. A blank source is
//! unknown.
//!
//! Example: a changeover board between the mains and a standby generator.

use super::case::{Answer, Case};
use super::phrases::list;
use super::statement::Statement;
use crate::network::{Nature, Way};

/// Whether a source here may start by itself.
pub(super) fn check(case: &Case<'_>) -> Answer {
    let generator = |way: &Way| {
        let source = way.source.and_then(|id| case.network.source(id))?;
        (source.nature == Nature::Generator).then(|| source.word().to_owned())
    };
    let mut generators: Vec<_> = case.ways.iter().filter_map(generator).collect();
    generators.sort_unstable();
    generators.dedup();
    if !generators.is_empty() {
        let because = format!("the {} here may start without warning", list(generators.iter().map(String::as_str)));
        return Answer::required(because)
            .says(generators.into_iter().map(|source| Statement::StartsByItself { source }));
    }
    match case.rows().find(|(_, way)| way.source.is_none()) {
        Some((row, _)) => {
            Answer::unknown(format!("where the energy of circuit {} comes from is not said", row.circuit))
        }
        None => Answer::not_needed("no generator is named here"),
    }
}

#[cfg(test)]
mod tests {
    use crate::rules::testing::{PLAIN, outcome};
    use crate::rules::{Outcome, Rule};

    const RULE: Rule = Rule::StartsByItself;

    #[test]
    fn a_generator_by_its_kind_or_its_name() {
        let fed_by = |source: &str| outcome(RULE, "", &[&PLAIN.replace("mains", source)]);
        assert_eq!(fed_by("generator"), Outcome::Required);
        assert_eq!(fed_by("standby generator 2"), Outcome::Required);
        assert_eq!(fed_by("mains"), Outcome::NotNeeded);
        assert_eq!(fed_by("solar"), Outcome::NotNeeded);
        assert_eq!(fed_by(""), Outcome::Unknown);
    }
}
