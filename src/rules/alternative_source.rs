//! Alternative source: the installation has two or more sources, and this is a place where that must be said.
//!
//! Reason: who switches off the mains believes the installation dead, while solar modules, a generator or a battery
//! keep it live.
//!
//! Reference: BS 7671:2018+A4:2026, 514.15.1 (from training texts that give the places): the origin, a remote meter,
//! the board where the sources meet, and every point of isolation of every source. One source only needs none.
//!
//! Two UPSs are two sources: rows that only say `ups` are told apart by the UPS that `fed_from` names, else by the supplies
//! file. Where neither tells, it is unknown whether there is one.
//!
//! In the survey: `source` of every row, where blank is unknown and never mains; `role`, where `origin`, `meter`,
//! `board` and `isolating-point` are these places. With two sources and no roles it is unknown which places these are.
//! A source that only the supplies file describes counts, and is named at the origin and at meters.
//!
//! What the notice says: at the origin and at a meter, every source of the installation with the devices that its
//! energy passes first; at a board, the sources that meet there with the devices that its own rows name. Where no
//! device is known, it says so. At any other point of isolation it names the further sources, and the notice of the
//! isolator itself says where they are isolated.
//!
//! Example: the main board of a building with solar inverters on its roof: mains at IS1, solar at QPV1 and QPV2.

use super::case::{Answer, Case};
use super::phrases::list;
use super::sources;
use super::statement::{SourceIsolation, SourceScope, Statement};
use super::upses::Upses;
use crate::finding::{Finding, code};
use crate::network::SourceId;
use crate::survey::value::Role;
use crate::survey::{Column, Row};

/// Whether the sources must be named here.
pub(super) fn check(case: &Case<'_>, findings: &mut Vec<Finding>) -> Answer {
    let installation = case.installation;
    let roles = case.enclosure.particulars().roles.as_deref().unwrap_or_default();
    let listed = installation.sources_in_words.as_str();
    let several = installation.has_several_sources();
    if roles.is_empty() {
        return without_role(case, several, listed);
    }
    if several {
        let places = roles.iter().copied().map(in_words);
        let because =
            case.because(|| format!("this is {}, and the installation has the sources {listed}", list(places)));
        return Answer::required(because).says([statement(case, roles, findings)]);
    }
    if installation.source_is_blank {
        return Answer::unknown("rows without a source leave unknown whether there are others").says([not_said(case)]);
    }
    if installation.upses_apart == Upses::PerhapsSeveral {
        return Answer::unknown(UPSES_NOT_TOLD_APART).says([not_said(case)]);
    }
    Answer::not_needed(case.because(|| format!("the survey names one source, {listed}")))
}

/// Two boards can hang on one UPS or on two.
const UPSES_NOT_TOLD_APART: &str =
    "rows say only `ups`, and nothing tells whether they come from one UPS or from several";

fn without_role(case: &Case<'_>, several: bool, listed: &str) -> Answer {
    let installation = case.installation;
    let role_is_unknown = case.enclosure.rows.iter().any(|row| row.not_known.contains(Column::Role));
    if several && role_is_unknown {
        return Answer::unknown(case.because(|| {
            format!("the installation has the sources {listed}, and the role of this enclosure is not known")
        }))
        .says([not_said(case)]);
    }
    if installation.has_roles {
        return Answer::not_needed("the survey gives roles, and none to this enclosure");
    }
    if several {
        return Answer::unknown(
            case.because(|| format!("the installation has the sources {listed}, and the survey gives no roles")),
        )
        .says([not_said(case)]);
    }
    if installation.source_is_blank {
        return Answer::unknown("rows without a source leave unknown whether there are others, and there are no roles");
    }
    if installation.upses_apart == Upses::PerhapsSeveral {
        return Answer::unknown(UPSES_NOT_TOLD_APART);
    }
    Answer::not_needed(case.because(|| format!("the survey names one source, {listed}")))
}

/// Only that there are several sources.
fn not_said(case: &Case<'_>) -> Statement {
    Statement::AlternativeSource {
        scope: SourceScope::NotSaid,
        sources: Vec::new(),
        others: case.installation.sources.clone(),
        more_possible: case.installation.source_is_blank,
    }
}

fn statement(case: &Case<'_>, roles: &[Role], findings: &mut Vec<Finding>) -> Statement {
    let own = own_sources(case);
    let names_all = roles.iter().any(|role| matches!(role, Role::Origin | Role::Meter));
    let is_board = roles.contains(&Role::Board);
    if is_board && own.len() < 2 && !names_all {
        findings.extend(case.enclosure.rows.first().map(|row| lone_source(case, row)));
    }
    let reaches = |source: &SourceId| own.contains(&Some(*source));
    let isolated = |source: SourceId| case.installation.isolators(source).said(case.source_word(source), case.network);
    let (scope, sources): (SourceScope, Vec<SourceIsolation>) = if names_all || own.len() < 2 && is_board {
        let named = case.installation.source_ids.iter().copied().map(isolated);
        (SourceScope::Installation, named.chain(case.installation.unnamed.iter().cloned()).collect())
    } else {
        let scope = if own.len() < 2 { SourceScope::PointOfIsolation } else { SourceScope::Here };
        (scope, own.iter().map(|source| isolated_here(case, *source)).collect())
    };
    let others = case.installation.source_ids.iter().filter(|source| !reaches(source));
    let others = others.map(|source| case.source_word(*source).to_owned());
    let others = others.chain(case.installation.unnamed.iter().map(|it| it.source.clone()));
    Statement::AlternativeSource {
        scope,
        sources,
        others: if scope == SourceScope::PointOfIsolation { others.collect() } else { Vec::new() },
        more_possible: scope != SourceScope::Here && case.installation.source_is_blank,
    }
}

/// The sources of the rows in a fixed order, each once; `None`, at the end, for rows that do not say theirs.
fn own_sources(case: &Case<'_>) -> Vec<Option<SourceId>> {
    let reaches = |source: Option<SourceId>| case.ways.iter().any(|way| way.source == source);
    let known = case.installation.source_ids.iter().copied().map(Some).filter(|source| reaches(*source));
    known.chain([None].into_iter().filter(|none| reaches(*none))).collect()
}

fn isolated_here(case: &Case<'_>, source: Option<SourceId>) -> SourceIsolation {
    let word = source.map_or("", |source| case.source_word(source));
    sources::here(case.ways, source).said(word, case.network)
}

fn lone_source(case: &Case<'_>, row: &Row) -> Finding {
    let message = format!("sources are said to meet in `{}`, and its rows do not name two of them", case.designation());
    case.finding(code::BOARD_WITHOUT_SOURCES, message, row, Column::Role)
        .help("add a row for each way by which a source can feed back to it, or give it another role")
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
    use crate::rules::testing::{PLAIN, codes, decided, outcome};
    use crate::rules::{Missing, Outcome, Rule, SourceIsolation, SourceScope, Statement};

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

    #[test]
    fn a_role_that_is_not_known_is_not_none() {
        let rows = |role: &str| {
            let solar = PLAIN.replace("E1", "E2").replace("mains", "solar");
            outcome(RULE, "role", &[&format!("{PLAIN},{role}"), &format!("{solar},isolating-point")])
        };
        assert_eq!(rows("?"), Outcome::Unknown);
        assert_eq!(rows(""), Outcome::NotNeeded);
    }

    /// What is said of the sources on the first enclosure.
    fn said(rows: &[&str]) -> (SourceScope, Vec<SourceIsolation>, Vec<String>) {
        let statements = decided("role", rows).0.enclosures.swap_remove(0).statements;
        let found = statements.into_iter().find_map(|statement| {
            let Statement::AlternativeSource { scope, sources, others, .. } = statement else { return None };
            Some((scope, sources, others))
        });
        found.unwrap()
    }

    fn names(sources: &[SourceIsolation]) -> Vec<String> {
        let name = |source: &SourceIsolation| {
            let devices: Vec<_> = source.isolated_at.iter().map(|(device, _)| device.as_str()).collect();
            format!("{} {}", source.source, devices.join("+"))
        };
        sources.iter().map(name).collect()
    }

    const MAINS: &str = "MSB,M/1,Network,mains,230,L1 N,TN-S,230,QM,Intake,1+N,padlock";
    const SOLAR: &str = "MSB,S/1,INV,solar,230,L1 N,TN-S,230,QS,Roof,1+N,padlock";

    #[test]
    fn a_board_names_what_meets_there_and_its_own_devices() {
        let elsewhere = "E2,G/1,GEN,generator,230,L1 N,TN-S,230,QG,Yard,1+N,padlock,";
        let (scope, sources, others) = said(&[&format!("{MAINS},board"), &format!("{SOLAR},"), elsewhere]);
        assert_eq!(
            (scope, names(&sources), others),
            (SourceScope::Here, vec!["mains QM".into(), "solar QS".into()], vec![])
        );
        let (_, sources, _) = said(&[&format!("{MAINS},board"), &format!("{},", SOLAR.replace("QS,Roof", "none,"))]);
        assert_eq!(sources[1].missing, Some(Missing::CannotBeIsolated));
        let (_, sources, _) =
            said(&[&format!("{MAINS},board"), &format!("{},", SOLAR.replace("QS,Roof", "?,")), elsewhere]);
        assert_eq!((names(&sources)[1].as_str(), sources[1].missing), ("solar ", Some(Missing::NotKnown)));
        let (_, sources, _) =
            said(&[&format!("{MAINS},board"), &format!("{},", SOLAR.replace("solar", "")), elsewhere]);
        assert_eq!(names(&sources), ["mains QM", " QS"]);
    }

    #[test]
    fn the_origin_names_the_first_isolator_of_every_source() {
        let origin = "INT,M/0,Network,mains,230,L1 N,TN-S,230,none,,,,origin";
        let further = "JB,M/2,MSB,mains,230,L1 N,TN-S,230,QX,Lobby,1+N,padlock,isolating-point";
        let (scope, sources, _) = said(&[origin, &format!("{MAINS},board"), &format!("{SOLAR},"), further]);
        assert_eq!((scope, names(&sources)), (SourceScope::Installation, vec!["mains QM".into(), "solar QS".into()]));
        // What its own row says that nothing isolates stays live there with QM open.
        let missing: Vec<_> = sources.iter().map(|source| source.missing).collect();
        assert_eq!(missing, [Some(Missing::CannotBeIsolated), None]);
    }

    #[test]
    fn a_source_that_is_isolated_in_more_places_says_so() {
        let origin = "INT,M/0,Network,mains,230,L1 N,TN-S,230,QM,Intake,1+N,padlock,origin";
        let store = |place: &str, role: &str| {
            format!(
                "B{place},B/{place},Battery {place},battery,110 dc,+ -,unearthed,110,QB{place},Room {place},2,padlock,{role}"
            )
        };
        let (_, sources, _) = said(&[origin, &store("1", "isolating-point"), &store("2", "")]);
        assert_eq!((names(&sources)[1].as_str(), sources[1].missing), ("battery QB1", Some(Missing::Elsewhere)));
        let (_, sources, _) = said(&[origin, &store("1", ""), &store("2", "")]);
        assert_eq!((names(&sources)[1].as_str(), sources[1].missing), ("battery QB1+QB2", None));
        let many: Vec<String> = (1..=5).map(|place| store(&place.to_string(), "")).collect();
        let rows: Vec<&str> = [origin].into_iter().chain(many.iter().map(String::as_str)).collect();
        let (_, sources, _) = said(&rows);
        assert_eq!((names(&sources)[1].as_str(), sources[1].missing), ("battery ", Some(Missing::NotKnown)));
    }

    #[test]
    fn a_point_of_isolation_names_the_others() {
        let solar = format!("{},isolating-point", SOLAR.replace("MSB", "PV"));
        let (scope, sources, others) = said(&[&solar, &format!("{MAINS},board")]);
        assert_eq!(
            (scope, names(&sources), others),
            (SourceScope::PointOfIsolation, vec!["solar QS".into()], vec!["mains".into()])
        );
    }

    #[test]
    fn a_board_whose_rows_name_one_source_is_reported_and_names_all() {
        let solar = format!("{},isolating-point", SOLAR.replace("MSB", "PV"));
        let rows = [&*format!("{MAINS},board"), &*solar];
        assert_eq!(codes(&decided("role", &rows).1), ["roles-not-given", "board-without-sources"]);
        let (scope, sources, _) = said(&rows);
        assert_eq!((scope, names(&sources)), (SourceScope::Installation, vec!["mains QM".into(), "solar QS".into()]));
    }
}
