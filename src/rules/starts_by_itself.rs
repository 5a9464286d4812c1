//! Starts by itself: a generator that feeds the enclosure may start without warning.
//!
//! Reason: the mains fails or is switched off, and the generator answers by starting.
//!
//! Reference: common practice; BS 7671, 551 treats of generating sets. The notice says to inhibit starting first, then
//! to isolate. Nothing lifts it.
//!
//! In the survey: `source` is `generator`, or a name that tells one, such as `standby generator 2`. A blank source is
//! unknown. In the supplies file: a source with `starts_by_itself` yes, or a generator without a word on it, that feeds a
//! row in any position of a changeover, where the row names it or no source at all.
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
        let because = case
            .because(|| format!("the {} here may start without warning", list(generators.iter().map(String::as_str))));
        return Answer::required(because)
            .says(generators.into_iter().map(|source| Statement::StartsByItself { source }));
    }
    match case.rows().find(|(_, way)| way.source.is_none()) {
        Some((row, _)) => Answer::unknown(
            case.because(|| format!("where the energy of circuit {} comes from is not said", row.circuit)),
        ),
        None => Answer::not_needed("no generator is named here"),
    }
}

/// Described sources that may start, and that feed a row which names no source or names this one. A row that names
/// another one stands behind its own isolator: where it is open, a set that starts changes nothing.
fn described(case: &Case<'_>) -> Vec<String> {
    if !case.network.is_described() {
        return Vec::new();
    }
    let sources = case.ways.iter().filter_map(|way| case.network.source(way.source?));
    let generators: Vec<&Source> = sources.filter(|source| source.nature == Nature::Generator).collect();
    let mut names = Vec::new();
    for (id, _, way) in case.numbered_rows() {
        let said = way.source.and_then(|source| case.network.source(source));
        let described = &case.installation.described;
        let feeding = described.feeding(case.network, id).0.into_iter();
        let may_start = feeding.filter(|it| it.may_start && said.is_none_or(|said| described.is_named_by(it, said)));
        let unnamed = may_start.filter(|it| !generators.iter().any(|named| described.is_named_by(it, named)));
        names.extend(unnamed.map(|source| source.name.clone()));
    }
    names
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
