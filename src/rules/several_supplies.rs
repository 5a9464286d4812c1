//! Several supplies: live parts of the enclosure are fed from different boards, transformers or sources.
//!
//! Reason: with one supply off, the other keeps the enclosure live, and proving one circuit dead proves nothing of the
//! other.
//!
//! Reference: BS 7671:2018+A4:2026, 537.1.2 (from training texts that paraphrase it); IEC 60364-4-46, 462 asks the same
//! (from memory). It is lifted only by an interlock, `coupled` or `trapped-key`, that covers every row, isolates it
//! before access and leaves nothing connected or live. One that only prevents paralleling, an auxiliary contact, or one
//! without a kind lifts nothing. Where devices that one handle is said to open stand in different places, it is not known
//! whether it lifts.
//!
//! In the survey: `fed_from` and `source` of every row, where another name is another supply; `interlock` and
//! `interlock_kind`. A blank `fed_from` beside another row makes the rule unknown, unless the supplies file describes
//! what feeds the isolators of that row.
//!
//! Example: a chiller fed from board A with its crankcase heater fed from board B.

use super::case::{Answer, Case};
use super::decision::Outcome;
use super::described;
use super::met::Met;
use super::phrases::{circuits, list};
use super::several_isolators::are_apart;
use super::statement::Statement;
use super::switching::{self, Switching};
use crate::network::{DeviceId, Interlock, Isolated, SourceId, Way, WayId, spelling};
use crate::survey::Row;
use crate::survey::value::InterlockKind;

/// Whether more than one supply reaches the enclosure.
pub(super) fn check(case: &Case<'_>) -> Answer {
    let fed = Fed::of(case);
    let sources = sources(case);
    if fed.supplies.len() < 2 && sources.len() < 2 {
        return at_most_one(case, fed);
    }
    let names = names(case, fed, &sources);
    let fed = case.telling.line(|| format!("live parts here are fed from {}", list(names.iter().map(String::as_str))));
    let fed = fed.unwrap_or_default();
    let statement = Statement::SeveralSupplies { supplies: names };
    match case.covering_interlock() {
        Some(interlock) if lifts(interlock) => match not_isolated_before_access(case) {
            None if is_in_doubt(case, interlock) => Answer::unknown(case.because(|| {
                format!(
                    "{fed}; interlock {} is said to be one handle, and its devices stand in different places",
                    interlock.name
                )
            }))
            .says([statement]),
            None => {
                let because = case
                    .because(|| format!("{fed}, and interlock {} isolates every row before access", interlock.name));
                Answer::new(Outcome::Lifted, because)
            }
            Some(why) => Answer::required(
                case.because(|| format!("{fed}; interlock {} does not lift this: {why}", interlock.name)),
            )
            .says([statement]),
        },
        Some(interlock) => {
            let kind = kind_in_words(interlock);
            let because = case.because(|| format!("{fed}; interlock {} ({kind}) does not lift this", interlock.name));
            Answer::required(because).says([statement])
        }
        None => Answer::required(case.because(|| fed)).says([statement]),
    }
}

/// One known supply, or not known.
fn at_most_one(case: &Case<'_>, fed: Fed<'_>) -> Answer {
    if case.ways.len() > 1 && !fed.blank.is_empty() {
        let because =
            case.because(|| format!("{} fed from a board that the survey does not name", circuits(fed.blank)));
        return Answer::unknown(because).says([Statement::SeveralSupplies { supplies: fed.supplies }]);
    }
    match (fed.supplies.first(), fed.by_supplies_file) {
        (Some(supply), false) => {
            Answer::not_needed(case.because(|| format!("every row is fed from {supply}, on the survey's word")))
        }
        (Some(supply), true) => Answer::not_needed(
            case.because(|| format!("every row is fed from {supply}, on the word of survey and supplies file")),
        ),
        (None, _) => Answer::not_needed("the survey names one circuit here"),
    }
}

/// What the rows are fed from.
struct Fed<'a> {
    /// Every supply, each once, in the order of the rows.
    supplies: Vec<String>,
    /// The circuits of which neither file tells what feeds them.
    blank: Vec<&'a str>,
    /// The sources of those circuits, as far as the survey names them.
    blank_sources: Vec<SourceId>,
    /// True where the supplies file tells it of a row that does not say so itself.
    by_supplies_file: bool,
}

impl<'a> Fed<'a> {
    fn of(case: &Case<'a>) -> Self {
        let (blank, blank_sources) = (Vec::new(), Vec::new());
        // Mostly there are one or two.
        let supplies = Vec::with_capacity(case.ways.len().min(2));
        let mut fed = Fed { supplies, blank, blank_sources, by_supplies_file: false };
        let mut known: Met<String> = Met::default();
        let mut last = None;
        for (id, row, way) in case.numbered_rows() {
            if way.supplies.is_empty() {
                match described::supplies(case.network, id) {
                    Some(names) => {
                        fed.by_supplies_file = true;
                        fed.supplies.extend(names.into_iter().filter(|name| known.is_new(spelling::key(name))));
                    }
                    None => {
                        fed.blank.push(&row.circuit);
                        fed.blank_sources.extend(way.source);
                    }
                }
            } else if last != Some(&way.supplies) {
                let named = way.supplies.iter().filter_map(|id| case.network.supply(*id)).map(|it| &it.designation);
                fed.supplies.extend(named.filter(|name| known.is_new(spelling::key(name))).cloned());
                last = Some(&way.supplies);
            }
        }
        fed
    }
}

/// Every known source of the rows, each once, in their order.
fn sources(case: &Case<'_>) -> Vec<SourceId> {
    let mut sources = Vec::new();
    for source in case.ways.iter().filter_map(|way| way.source) {
        if !sources.contains(&source) {
            sources.push(source);
        }
    }
    sources
}

/// What feeds the rows, each once: the supply, or the source where no supply is named; the sources where one board
/// passes on several.
fn names(case: &Case<'_>, fed: Fed<'_>, sources: &[SourceId]) -> Vec<String> {
    let word = |id: SourceId| case.network.source(id).map(|source| source.word().to_owned());
    let mut names = fed.supplies;
    for name in fed.blank_sources.into_iter().filter_map(word) {
        if !names.contains(&name) {
            names.push(name);
        }
    }
    if names.len() < 2 { sources.iter().copied().filter_map(word).collect() } else { names }
}

const fn lifts(interlock: &Interlock) -> bool {
    match interlock.kind {
        Some(InterlockKind::Coupled | InterlockKind::TrappedKey) => true,
        Some(InterlockKind::AuxiliaryContact | InterlockKind::NoParallel) | None => false,
    }
}

/// Whether devices of one handle stand apart, so that it is not known to open them all.
fn is_in_doubt(case: &Case<'_>, interlock: &Interlock) -> bool {
    let devices: Vec<DeviceId> = case.ways.iter().flat_map(|way| way.isolated.devices()).copied().collect();
    interlock.kind == Some(InterlockKind::Coupled) && are_apart(case.network, &devices)
}

const fn kind_in_words(interlock: &Interlock) -> &'static str {
    match interlock.kind {
        Some(InterlockKind::Coupled) => "coupled",
        Some(InterlockKind::TrappedKey) => "trapped key",
        Some(InterlockKind::AuxiliaryContact) => "auxiliary contact",
        Some(InterlockKind::NoParallel) => "against paralleling only",
        None => "kind not given",
    }
}

/// What the interlock leaves live, if anything.
fn not_isolated_before_access(case: &Case<'_>) -> Option<String> {
    let certain = case.numbered_rows().find_map(|(id, row, way)| match way.isolated {
        Isolated::Impossible => Some(format!("circuit {} cannot be isolated", row.circuit)),
        Isolated::Unknown => Some(format!("it is not known what isolates circuit {}", row.circuit)),
        Isolated::By(_) => {
            let part = case.stays_live(row, way).map(|part| format!("something stays live inside, {part}"));
            part.or_else(|| leaves_connected(case, id, row, way))
        }
    });
    let possible =
        || case.may_stay_live().map(|row| format!("circuit {} may leave something live inside", row.circuit));
    certain.or_else(possible)
}

/// A conductor that the devices of a row leave connected, or may.
fn leaves_connected(case: &Case<'_>, id: WayId, row: &Row, way: &Way) -> Option<String> {
    let circuit = &row.circuit;
    match switching::of_row(case, id, row, way) {
        Switching::Enough => None,
        Switching::NotTheUsers => Some(format!("what isolates circuit {circuit} is the network operator's")),
        Switching::LeavesLines(..) | Switching::LeavesNeutral(_) => {
            Some(format!("not every conductor of circuit {circuit} is switched"))
        }
        Switching::Unknown(what, _) => Some(format!("of circuit {circuit} it is not known {what}")),
    }
}

#[cfg(test)]
mod tests {
    use crate::rules::testing::{PLAIN, outcome};
    use crate::rules::{Outcome, Rule};

    const RULE: Rule = Rule::SeveralSupplies;

    #[test]
    fn a_board_or_a_source_makes_a_supply() {
        let second = PLAIN.replace("C/1", "C/2");
        assert_eq!(outcome(RULE, "", &[PLAIN, &second]), Outcome::NotNeeded);
        assert_eq!(outcome(RULE, "", &[PLAIN, &second.replace("DB-C", "DB-D")]), Outcome::Required);
        assert_eq!(outcome(RULE, "", &[PLAIN, &second.replace("mains", "generator")]), Outcome::Required);
        assert_eq!(outcome(RULE, "", &[PLAIN, &second.replace("DB-C", "")]), Outcome::Unknown);
    }

    #[test]
    fn one_handle_in_two_places_is_not_known_to_lift() {
        let second = PLAIN.replace("C/1", "C/2").replace("DB-C", "DB-D").replace("Q1", "Q2");
        let rows = |kind: &str, second: &str| {
            let rows = [&*format!("{PLAIN},IL,{kind}"), &*format!("{second},IL,{kind}")];
            outcome(RULE, "interlock,interlock_kind", &rows)
        };
        assert_eq!(rows("coupled", &second), Outcome::Lifted);
        assert_eq!(rows("coupled", &second.replace("Board C", "Yard")), Outcome::Unknown);
        assert_eq!(rows("trapped-key", &second.replace("Board C", "Yard")), Outcome::Lifted);
    }

    #[test]
    fn an_interlock_lifts_if_it_isolates_every_row() {
        let rows = |kind: &str, after: &str| {
            let second = PLAIN.replace("C/1", "C/2").replace("DB-C", "DB-D");
            let rows = [&*format!("{PLAIN},IL,{kind},{after}"), &*format!("{second},IL,{kind},")];
            outcome(RULE, "interlock,interlock_kind,live_after", &rows)
        };
        assert_eq!(rows("coupled", ""), Outcome::Lifted);
        assert_eq!(rows("trapped-key", ""), Outcome::Lifted);
        assert_eq!(rows("trapped-key", "terminals of Q1"), Outcome::Required);
        assert_eq!(rows("trapped-key", "?"), Outcome::Required);
        assert_eq!(rows("no-parallel", ""), Outcome::Required);
        assert_eq!(rows("", ""), Outcome::Required);
    }
}
