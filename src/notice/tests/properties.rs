//! What holds for every notice: no point is lost, and the fingerprint follows what is said.

use proptest::collection::vec;
use proptest::prelude::*;

use super::*;
use crate::length::{Length, Size};
use crate::rules::{Missing, SourceIsolation, SourceScope};
use crate::survey::value::NoticeSize;

fn name() -> impl Strategy<Value = String> {
    "[A-Z]{1,2}[0-9]{0,3}(-[A-Z0-9]{1,3})?"
}

fn place() -> impl Strategy<Value = String> {
    "[A-Za-zäłŵ]{1,9}( {1,2}[a-z0-9,]{1,8}){0,4}"
}

fn any_point() -> impl Strategy<Value = PointOfIsolation> {
    (name(), place(), vec("[a-z ]{1,12}", 0..3), proptest::option::of(place()), any::<bool>()).prop_map(
        |(device, location, serves, before, not_under_load)| PointOfIsolation {
            before,
            not_under_load,
            serves,
            ..point(&device, &location, &[])
        },
    )
}

fn any_statement() -> impl Strategy<Value = Statement> {
    prop_oneof![
        name().prop_map(|circuit| Statement::CannotBeIsolated { circuit }),
        vec(name(), 0..4).prop_map(|supplies| Statement::SeveralSupplies { supplies }),
        Just(Statement::SeveralIsolators),
        Just(Statement::UnexpectedVoltage),
        any_sources(),
        (name(), any::<bool>()).prop_map(|(circuit, solar)| Statement::LiveAtAnyTime { circuit, solar }),
        (place(), vec((name(), place()), 0..3)).prop_map(|(part, isolated_at)| Statement::LineSideLive {
            part,
            missing: isolated_at.is_empty().then_some(Missing::NotKnown),
            isolated_at
        }),
        name().prop_map(|ups| Statement::BackFeed { ups }),
        name().prop_map(|source| Statement::StartsByItself { source }),
        (proptest::option::of(1_u32..2_000), proptest::option::of(0_u32..4_000))
            .prop_map(|(volts, seconds)| { Statement::StoredCharge { volts: volts.map(Volts::whole), seconds } }),
    ]
}

fn any_sources() -> impl Strategy<Value = Statement> {
    let scopes = [SourceScope::Installation, SourceScope::Here, SourceScope::PointOfIsolation, SourceScope::NotSaid];
    let missing = [None, Some(Missing::Elsewhere), Some(Missing::NotKnown), Some(Missing::CannotBeIsolated)];
    let source = (name(), vec((name(), place()), 0..3), proptest::sample::select(missing.to_vec()))
        .prop_map(|(source, isolated_at, missing)| SourceIsolation { source, isolated_at, missing });
    (proptest::sample::select(scopes.to_vec()), vec(source, 0..4), vec(name(), 0..3), any::<bool>()).prop_map(
        |(scope, sources, others, more_possible)| Statement::AlternativeSource {
            scope,
            sources,
            others,
            more_possible,
        },
    )
}

prop_compose! {
    fn any_situation()(
        designation in name(),
        points in vec(any_point(), 0..14),
        statements in vec(any_statement(), 0..6),
        between in proptest::option::of(231_u32..1_000),
        size in proptest::option::of((50_i32..300, 30_i32..300)),
    ) -> Situation {
        let mut situation = Situation::new(&designation, points).states(statements);
        situation.decision.voltages.between = between.into_iter().map(|value| volts(value, Current::Ac)).collect();
        let millimetres = |side: i32| Length::um(side * 1_000);
        situation.enclosure.particulars.get_or_insert_default().size =
            size.map(|(width, height)| NoticeSize(Size::new(millimetres(width), millimetres(height))));
        situation
    }
}

fn without_spaces(text: &str) -> String {
    text.chars().filter(|character| !character.is_whitespace()).collect()
}

proptest! {
    #[test]
    fn every_point_stands_on_the_notice_in_full_and_in_order(situation in any_situation()) {
        let (notices, _) = situation.composed_in(&english_and_german());
        let notice = &notices[0];
        prop_assert_eq!(notice.points.len(), situation.decision.points.len());
        let text = without_spaces(&notice.lines().join(" "));
        let mut rest = text.as_str();
        for point in &situation.decision.points {
            let said = without_spaces(&format!("{}{}", point.device, point.location));
            let found = rest.split_once(&said);
            prop_assert!(found.is_some(), "`{}` is not in `{}`", said, rest);
            rest = found.unwrap().1;
            let before = without_spaces(point.before.as_deref().unwrap_or_default());
            prop_assert!(rest.contains(&before));
        }
    }

    #[test]
    fn every_notice_names_its_enclosure_and_ends_in_what_to_do(situation in any_situation()) {
        let (notices, _) = situation.composed_in(&english_and_german());
        let notice = &notices[0];
        for language in 0..2 {
            prop_assert!(notice.statement[language].contains(&situation.enclosure.designation));
            prop_assert!(!notice.headline[language].is_empty() && !notice.closing[language].is_empty());
        }
        let whole = |caution: &String| !caution.is_empty() && !caution.contains(['{', '}']);
        prop_assert!(notice.cautions.iter().flatten().all(whole));
    }

    #[test]
    fn figures_are_those_of_the_decision(situation in any_situation()) {
        let figures: Vec<String> = situation.composed().0[0].figures.iter().map(|figure| figure.figure.clone()).collect();
        let voltages = &situation.decision.voltages;
        let expected = voltages.to_earth.iter().chain(&voltages.between).map(|voltage| format!("{}\u{A0}V", voltage.value));
        prop_assert_eq!(figures, expected.collect::<Vec<_>>());
    }

    #[test]
    fn fingerprints_are_equal_exactly_where_all_that_is_said_is(one in any_situation(), other in any_situation(), swap in 0_u8..6) {
        let mut changed = Situation { enclosure: one.enclosure.clone(), decision: one.decision.clone(), options: one.options.clone() };
        match swap {
            0 => changed.decision.points.clone_from(&other.decision.points),
            1 => changed.decision.statements.clone_from(&other.decision.statements),
            2 => changed.decision.voltages.between.clone_from(&other.decision.voltages.between),
            3 => changed.enclosure.particulars.get_or_insert_default().size = other.enclosure.particulars().size,
            4 => changed.decision.statements.reverse(),
            _ => changed.options.revision = "Z".to_owned(),
        }
        let (first, second) = (&one.composed().0[0], &changed.composed().0[0]);
        let said = |notice: &Notice| {
            let lines: Vec<String> = notice.lines().into_iter().filter(|line| *line != notice.small_line).collect();
            (lines, notice.number.clone(), notice.code.clone(), notice.size)
        };
        prop_assert_eq!(first.fingerprint() == second.fingerprint(), said(first) == said(second));
    }

    #[test]
    fn one_by_one_gives_the_same_notices(situation in any_situation(), positions in vec(place(), 0..4)) {
        let mut situation = situation;
        situation.enclosure.particulars.get_or_insert_default().positions = positions;
        let (all, _) = situation.composed();
        let (survey, decisions) = situation.decided();
        let wording = Wording::english();
        let composer = Composer { survey: &survey, wording: &wording, options: &situation.options };
        let singly = (0..).map_while(|position| composer.one(&decisions.enclosures[0], position));
        let singly: Vec<Notice> = singly.map(|(notice, _)| notice).collect();
        prop_assert_eq!(singly, all);
        let of_another = Decision { enclosure: 1, ..decisions.enclosures[0].clone() };
        prop_assert!(composer.one(&of_another, 0).is_none());
    }
}

/// SHA-256 of the documented bytes, worked out once by a program of another origin (Python's `hashlib`).
#[test]
fn the_fingerprint_is_the_documented_one() {
    let mut situation = Situation::new("CH3-JB1", vec![point("Q7", "Switchroom 1", &["fan"])]).states([two_supplies()]);
    situation.options.site = "Saltmere cold store".into();
    situation.options.record_link_base = "https://records.example/".to_owned();
    situation.enclosure.particulars.get_or_insert_default().size =
        Some(NoticeSize(Size::new(Length::mm(105.0), Length::mm(74.0))));
    let fingerprint = situation.notice().fingerprint().to_owned();
    assert_eq!(fingerprint, "82fe9bfa796ae6f3");
    situation.options.revision = "C".to_owned();
    situation.options.date = "2027-01".to_owned();
    assert_eq!(situation.notice().fingerprint(), fingerprint);
    situation.options.site = "Saltmere cold store, north".into();
    assert_ne!(situation.notice().fingerprint(), fingerprint);
}
