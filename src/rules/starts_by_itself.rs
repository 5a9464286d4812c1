//! Starts by itself: a generator that feeds the enclosure may start without warning.
//!
//! Reason: the mains fails or is switched off, and the generator answers by starting.
//!
//! Reference: common practice; BS 7671, 551 treats of generating sets. The notice says to inhibit starting first, then
//! to isolate. Nothing lifts it.
//!
//! In the survey: `source` is `generator`, or a name that tells one, such as `standby generator 2`. A blank source is
//! unknown. In the supplies file: a source with `starts_by_itself` yes, or a generator without a word on it, that feeds
//! the enclosure in any position of a changeover.
//!
//! Example: a changeover board between the mains and a standby generator.

use super::case::{Answer, Case};
use super::phrases::list;
use super::statement::Statement;
use crate::network::{Nature, Source, Way};

/// Whether a source here may start by itself.
pub(super) fn check(case: &Case<'_>) -> Answer {
    let generator = |way: &Way| {
        let source = way.source.and_then(|id| case.network.source(id))?;
        (source.nature == Nature::Generator).then(|| source.word().to_owned())
    };
    let mut generators: Vec<_> = case.ways.iter().filter_map(generator).collect();
    generators.extend(described(case));
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

/// Described sources that feed the enclosure and may start, but for a generator that its rows name in other words.
fn described(case: &Case<'_>) -> Vec<String> {
    if !case.network.is_described() {
        return Vec::new();
    }
    let sources = case.ways.iter().filter_map(|way| case.network.source(way.source?));
    let generators: Vec<&Source> = sources.filter(|source| source.nature == Nature::Generator).collect();
    let feeding =
        case.network.way_ids(case.id).flat_map(|way| case.installation.described.feeding(case.network, way).0);
    let unnamed = feeding.filter(|it| it.may_start && !generators.iter().any(|named| it.is_named_by(named)));
    unnamed.map(|source| source.name.clone()).collect()
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
