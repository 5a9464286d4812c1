//! Starts by itself: a generator that feeds the enclosure may start without warning.
//!
//! Reason: the mains fails or is switched off, and the generator answers by starting.
//!
//! Reference: common practice; BS 7671, 551 treats of generating sets. The notice says to inhibit starting first, then
//! to isolate. Nothing lifts it.
//!
//! In the survey: `source` is `generator`, or a name that tells one, such as `standby generator 2`. A blank source is
//! unknown, and so is one whose name does not tell what it is, such as `G1`. In the supplies file: a source with
//! `starts_by_itself` yes or by hand, or a generator without a word on it, that feeds a row in any position of a changeover, where the
//! row names it or no source at all; `starts_by_itself` no settles it for a name that does not tell, and contradicts one that
//! does. A generator that people start is `by hand`: who works at an enclosure has no warning of that either.
//!
//! Example: a changeover board between the mains and a standby generator.

use std::collections::HashSet;

use super::case::{Answer, Case};
use super::described::DescribedSource;
use super::phrases::list;
use super::statement::Statement;
use crate::finding::{Finding, code};
use crate::network::{Nature, Source, Way, WayId};
use crate::supplies::Starting;
use crate::survey::Column;

/// Whether a source here may start by itself.
pub(super) fn check(case: &Case<'_>, findings: &mut Vec<Finding>) -> Answer {
    report(case, findings);
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
    if let Some((row, _)) = case.rows().find(|(_, way)| way.source.is_none()) {
        return Answer::unknown(
            case.because(|| format!("where the energy of circuit {} comes from is not said", row.circuit)),
        );
    }
    match case.numbered_rows().find_map(|(id, _, way)| untold(case, id, way)) {
        Some(source) => Answer::unknown(case.because(|| {
            format!("the name of source {} does not tell whether that may start without warning", source.word())
        })),
        None => Answer::not_needed("no generator is named here"),
    }
}

/// The source of a row, where neither its name nor the supplies file tells whether it may start: `G1` can be a generator.
fn untold<'a>(case: &Case<'a>, id: WayId, way: &Way) -> Option<&'a Source> {
    let source = case.network.source(way.source?).filter(|source| source.nature == Nature::NotTold)?;
    // A network by another name may be somebody else's, and does not start.
    if Nature::of_name(source.word()) == Nature::Mains {
        return None;
    }
    let described = &case.installation.described;
    let is_told_by_name = || described.named(source).is_some_and(|it| it.may_start.is_some());
    let is_told_by_feeds = || {
        let (feeding, is_whole) = described.feeding(case.network, id);
        is_whole && !feeding.is_empty() && feeding.iter().all(|it| it.may_start.is_some())
    };
    (!is_told_by_name() && !is_told_by_feeds()).then_some(source)
}

/// Reports where the two files say different things of a source, once for each that the supplies file describes.
fn report(case: &Case<'_>, findings: &mut Vec<Finding>) {
    if !case.network.is_described() {
        return;
    }
    let mut told = HashSet::new();
    for (id, row, way) in case.numbered_rows() {
        let Some(said) = way.source.and_then(|source| case.network.source(source)) else { continue };
        let (contradicting, does) = match said.nature {
            Nature::Generator => (never_starting(case, id, said), "does not start by itself"),
            Nature::Mains => starting(case, id, said).map_or((None, ""), |(source, does)| (Some(source), does)),
            Nature::Solar | Nature::Battery | Nature::Ups | Nature::Vehicle | Nature::NotTold => continue,
        };
        let Some(source) = contradicting.filter(|source| told.insert(source.name.clone())) else { continue };
        let message = format!(
            "circuit `{}` is said to come from `{}`, and by the supplies file `{}` {does}",
            row.circuit,
            said.word(),
            source.name
        );
        let help = match said.nature {
            Nature::Generator => {
                "write `by hand` in `starts_by_itself` there of a generator that people start, or correct `source`; the notice \
                 warns all the same"
            }
            Nature::Mains | Nature::Solar | Nature::Battery | Nature::Ups | Nature::Vehicle | Nature::NotTold => {
                "correct `starts_by_itself` there, or `source`; until then the notice says that it may start"
            }
        };
        findings.push(case.finding(code::STARTING_CONTRADICTION, message, row, Column::Source).help(help));
    }
}

/// A described source of which the file says that it does not start, where a row means it and none that may start: of those
/// that feed the row, or of all where none of those is meant.
fn never_starting<'a>(case: &'a Case<'_>, id: WayId, said: &Source) -> Option<&'a DescribedSource> {
    let described = &case.installation.described;
    let mut meant = described.feeding(case.network, id).0;
    meant.retain(|source| described.is_named_by(source, said));
    if meant.is_empty() {
        meant.extend(described.named_by(said));
    }
    let never = |source: &&DescribedSource| source.says_how_it_starts(case.network) == Some(Starting::NotByItself);
    meant.first().copied().filter(|_| meant.iter().all(never))
}

/// A described source of which the file says that it starts, and that feeds a row which means it; and how it starts.
fn starting<'a>(case: &'a Case<'_>, id: WayId, said: &Source) -> Option<(&'a DescribedSource, &'static str)> {
    let described = &case.installation.described;
    let feeding = described.feeding(case.network, id).0.into_iter();
    let mut meant = feeding.filter(|it| described.is_named_by(it, said));
    meant.find_map(|it| match it.says_how_it_starts(case.network)? {
        Starting::ByItself => Some((it, "starts by itself")),
        Starting::ByHand => Some((it, "is started by hand")),
        Starting::NotByItself => None,
    })
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
        let may_start =
            feeding.filter(|it| it.may_start == Some(true) && said.is_none_or(|said| described.is_named_by(it, said)));
        let unnamed = may_start.filter(|it| !generators.iter().any(|named| described.is_named_by(it, named)));
        names.extend(unnamed.map(|source| source.name.clone()));
    }
    names
}

#[cfg(test)]
mod tests {
    use crate::rules::testing::{PLAIN, decided_by_both, outcome, outcome_in};
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
        assert_eq!(fed_by("estate network"), Outcome::NotNeeded);
    }

    /// Generators are called `G1` more often than `generator`: a name that does not tell is no answer.
    #[test]
    fn a_source_whose_name_does_not_tell_is_unknown_until_the_supplies_file_says_whether_it_starts() {
        let plain = PLAIN.replace("mains", "G1");
        assert_eq!(outcome(RULE, "", &[&plain]), Outcome::Unknown);
        let by_file = |source: &str, said: &str| {
            let file = [&format!("{source},source,,,,,{said}"), "Q1,breaker,G1,Board C,,,"];
            outcome_in(&decided_by_both("", &[&plain], "starts_by_itself", &file).0, RULE)
        };
        assert_eq!(by_file("G1", ""), Outcome::Unknown);
        assert_eq!(by_file("G1", "no"), Outcome::NotNeeded);
        assert_eq!(by_file("G1", "yes"), Outcome::Required);
        assert_eq!(by_file("G1", "by hand"), Outcome::Required);
        assert_eq!(by_file("Another", "no"), Outcome::Unknown, "nothing says that it is the same");
    }

    #[test]
    fn what_feeds_a_row_by_the_supplies_file_settles_a_name_that_does_not_tell() {
        let row = PLAIN.replace("mains", "Pillar").replace("DB-C", "");
        let fed_by = |source: &str| {
            let file = [format!("{source},source,,,,,"), format!("Q1,breaker,{source},Board C,,,")];
            let file = [file[0].as_str(), file[1].as_str()];
            outcome_in(&decided_by_both("", &[&row], "starts_by_itself", &file).0, RULE)
        };
        assert_eq!(fed_by("Network"), Outcome::NotNeeded);
        assert_eq!(fed_by("P4"), Outcome::Unknown);
    }
}
