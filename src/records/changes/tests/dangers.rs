//! Each way in which two versions differ, and how dangerous the old one is by it.

use Kind::{At, Code, Do, Heed, Last, Name, Point, Serves, Shows, Why, With};

use super::*;

const USUAL: [(Kind, &str); 10] = [
    (Do, "Isolate at both points"),
    (Why, "Two supplies inside CH3-JB1"),
    (Point, "Q7"),
    (At, "Switchroom 1"),
    (With, "Do not open under load"),
    (Point, "Q12"),
    (At, "Lobby"),
    (Shows, "230\u{a0}V to earth"),
    (Heed, "Stored charge: wait 3 minutes after isolating"),
    (Last, "Lock off each. Prove dead before work."),
];

/// The usual notice with parts by their places replaced by others, or by none.
fn with(changes: &[(usize, &[(Kind, &'static str)])]) -> Made {
    let mut parts: Vec<(Kind, &str)> = Vec::new();
    for (place, part) in USUAL.into_iter().enumerate() {
        match changes.iter().find(|(at, _)| *at == place) {
            Some((_, others)) => parts.extend_from_slice(others),
            None => parts.push(part),
        }
    }
    Made::enclosure(&parts)
}

/// What differs in words, and the greatest danger.
fn found(old: &Made, new: &Made) -> (Vec<String>, Option<Danger>) {
    let found = differences(&old.version(), &new.version());
    let words = |one: &Difference| format!("{}: {}", one.what.on(new.subject), one.in_words());
    (found.iter().map(words).collect(), found.iter().map(|one| one.danger).min())
}

fn from_usual(changes: &[(usize, &[(Kind, &'static str)])]) -> (Vec<String>, Option<Danger>) {
    found(&with(&[]), &with(changes))
}

#[test]
fn what_says_the_same_is_not_different() {
    assert_eq!(from_usual(&[]), (vec![], None));
}

#[test]
fn a_point_that_is_added_moved_or_renamed_is_lacking_on_the_old_notice() {
    let lacking = Some(Danger::PointLacking);
    let moved = from_usual(&[(3, &[(At, "Switchroom 2")])]);
    assert_eq!(moved, (vec!["point moved: Q7: Switchroom 1 -> Switchroom 2".into()], lacking));
    let renamed = from_usual(&[(2, &[(Point, "Q8")])]);
    assert_eq!(renamed, (vec!["point renamed: Switchroom 1: Q7 -> Q8".into()], lacking));
    let added = from_usual(&[(7, &[(Point, "Q13"), (At, "Roof"), USUAL[7]])]);
    assert_eq!(added, (vec!["point added: Q13, Roof".into()], lacking));
    let swapped = from_usual(&[(3, &[(At, "Lobby")]), (6, &[(At, "Switchroom 1")])]);
    assert_eq!(swapped.1, lacking, "the same designations and places, crossed");
    let no_place = from_usual(&[(3, &[])]);
    assert_eq!(no_place, (vec!["point moved: Q7: Switchroom 1 -> no place named".into()], lacking));
}

/// One of two points alike must not hide behind the other.
#[test]
fn a_second_point_of_the_same_name_counts_by_itself() {
    let one = with(&[]);
    let two = with(&[(5, &[(Point, "Q7"), (At, "Switchroom 1"), USUAL[5]])]);
    assert_eq!(found(&one, &two).1, Some(Danger::PointLacking));
    assert_eq!(found(&two, &one).1, Some(Danger::PointGone));
}

#[test]
fn a_point_that_is_gone_misleads_less() {
    let fewer = with(&[(0, &[(Do, "Isolate at Q7")]), (5, &[]), (6, &[])]);
    let (words, danger) = found(&with(&[]), &fewer);
    assert_eq!(words, ["point gone: Q12, Lobby", "headline: Isolate at both points -> Isolate at Q7"]);
    assert_eq!(danger, Some(Danger::PointGone));
    // Fewer points beside words that may say that something stays live.
    let not_known =
        with(&[(0, &[(Do, "Isolation not fully known")]), (5, &[]), (6, &[]), (9, &[(Last, "Treat as live.")])]);
    assert_eq!(found(&with(&[]), &not_known).1, Some(Danger::CautionLacking));
}

#[test]
fn a_voltage_that_is_higher_new_or_not_known_any_more_is_shown_too_low() {
    let low = Some(Danger::VoltageTooLow);
    let higher = from_usual(&[(7, &[(Shows, "400\u{a0}V to earth")])]);
    assert_eq!(higher, (vec!["voltage higher: 230\u{a0}V to earth -> 400\u{a0}V to earth".into()], low));
    let another = from_usual(&[(8, &[(Shows, "400\u{a0}V between conductors"), USUAL[8]])]);
    assert_eq!(another, (vec!["voltage added: 400\u{a0}V between conductors".into()], low));
    let none = from_usual(&[(7, &[])]);
    assert_eq!(none, (vec!["voltage gone: 230\u{a0}V to earth".into()], low));
    let direct = from_usual(&[(7, &[(Shows, "230\u{a0}V\u{a0}d.c. to earth")])]);
    assert_eq!(direct.1, low, "another kind of current");
    let lower = from_usual(&[(7, &[(Shows, "115\u{a0}V to earth")])]);
    assert_eq!(
        lower,
        (vec!["voltage lower: 230\u{a0}V to earth -> 115\u{a0}V to earth".into()], Some(Danger::OtherWords))
    );
}

#[test]
fn what_is_not_warned_of_on_the_old_notice_is_lacking() {
    let lacking = Some(Danger::CautionLacking);
    let longer = from_usual(&[(8, &[(Heed, "Stored charge: wait 5 minutes after isolating")])]);
    assert_eq!(longer.1, lacking);
    assert_eq!(from_usual(&[(8, &[USUAL[8], (Heed, "Isolate in the order shown")])]).1, lacking);
    assert_eq!(from_usual(&[(0, &[(Do, "Cannot be fully isolated")])]).1, lacking, "as many points as before");
    assert_eq!(from_usual(&[(1, &[(Why, "DB-C/7 stays live inside CH3-JB1")])]).1, lacking);
    assert_eq!(from_usual(&[(9, &[(Last, "Treat as live. Prove dead before work.")])]).1, lacking);
    assert_eq!(from_usual(&[(8, &[])]), (vec![format!("caution gone: {}", USUAL[8].1)], Some(Danger::OtherWords)));
}

#[test]
fn a_remark_that_belongs_to_another_point_is_lacking_there() {
    let moved = from_usual(&[(4, &[]), (6, &[USUAL[6], USUAL[4]])]);
    let expected = ["remark added: Q12: Do not open under load", "remark gone: Q7: Do not open under load"];
    assert_eq!(moved, (expected.map(str::to_owned).to_vec(), Some(Danger::CautionLacking)));
}

/// An order is asked for by a caution, in words of whatever language; without any caution there is none to keep.
#[test]
fn another_order_of_points_counts_where_an_order_may_be_asked_for() {
    let turned: &[(usize, &[(Kind, &str)])] =
        &[(2, &[USUAL[5]]), (3, &[USUAL[6]]), (4, &[]), (5, &[USUAL[2]]), (6, &[USUAL[3], USUAL[4]])];
    let expected = (vec!["order of points: Q7, Q12 -> Q12, Q7".to_owned()], Some(Danger::CautionLacking));
    assert_eq!(from_usual(turned), expected);
    let (old, new) = (with(&[(8, &[])]), with(&[turned, &[(8, &[])]].concat()));
    assert_eq!(found(&old, &new).1, Some(Danger::OtherWords));
}

#[test]
fn a_language_more_is_no_danger_and_a_caution_beside_it_is() {
    let both = |parts: &[(Kind, &'static str)]| {
        let said = parts.iter().flat_map(|&(kind, text)| {
            let once = matches!(kind, Point | At | Serves | Name | Code);
            let german: &'static str = Box::leak(format!("{text} (de)").into_boxed_str());
            std::iter::once((kind, text)).chain((!once).then_some((kind, german)))
        });
        Made::enclosure(&said.collect::<Vec<_>>())
    };
    let (english, german) = (with(&[]), both(&USUAL));
    assert_eq!(found(&english, &german), (vec!["languages: 1 -> 2".into()], Some(Danger::OtherWords)));
    assert_eq!(found(&german, &english), (vec!["languages: 2 -> 1".into()], Some(Danger::OtherWords)));
    let more = both(&[&USUAL[..], &[(Heed, "Isolate in the order shown")]].concat());
    assert_eq!(found(&english, &more).1, Some(Danger::CautionLacking));
    let higher = both(&USUAL.map(|(kind, text)| (kind, if kind == Shows { "400\u{a0}V to earth" } else { text })));
    assert_eq!(found(&english, &higher).1, Some(Danger::VoltageTooLow));
}

#[test]
fn a_device_that_disconnects_less_than_its_notice_says_is_dangerous() {
    let device =
        |parts: &[(Kind, &str)]| Made::of(Subject::Device, &[&[(Do, "Q7"), (Why, "Disconnects")], parts].concat());
    let one = [(Point, "DB-C/7"), (At, "CH3-JB1")];
    let two = [one[0], one[1], (Point, "DB-C/8"), (At, "CH3-JB2")];
    let less = Some(Danger::DisconnectsLess);
    assert_eq!(found(&device(&two), &device(&one)), (vec!["circuit gone: DB-C/8, CH3-JB2".into()], less));
    assert_eq!(found(&device(&one), &device(&two)).1, Some(Danger::OtherWords));
    assert_eq!(found(&device(&one), &device(&[one[0], (At, "CH3-JB2")])).1, less);
    assert_eq!(found(&device(&one), &device(&[(Point, "DB-C/9"), one[1]])).1, less);
    let not_alone = device(&[one[0], one[1], (With, "Also open Q12")]);
    assert_eq!(found(&device(&one), &not_alone).1, less);
    let warned = device(&[one[0], one[1], (Heed, "Do not open under load")]);
    assert_eq!(found(&device(&one), &warned).1, Some(Danger::CautionLacking));
}

#[test]
fn other_words_are_told_one_by_one() {
    let parts =
        [&USUAL[..4], &[(Serves, "fan")], &USUAL[4..], &[(Name, "Box"), (Code, "HTTPS://A.EXAMPLE/1")]].concat();
    let new = Made::enclosure(&parts);
    let (words, danger) = found(&with(&[]), &new);
    assert_eq!(words, ["what a point serves: Q7: fan", "name: Box", "code: HTTPS://A.EXAMPLE/1"]);
    assert_eq!(danger, Some(Danger::OtherWords));
    // Site, size and caption are hashed, and not kept part by part.
    let other_site = Made { fingerprint: "other".into(), ..with(&[]) };
    assert_eq!(found(&with(&[]), &other_site).1, Some(Danger::OtherWords));
    // A version of which nobody knows the fingerprint is never called the same.
    let unknown = Made { fingerprint: String::new(), ..with(&[]) };
    assert_eq!(found(&unknown, &unknown).1, Some(Danger::OtherWords));
}

#[test]
fn the_same_words_at_another_place_are_moved() {
    let elsewhere = Made { position: "right of the door", ..with(&[]) };
    let (words, danger) = found(&with(&[]), &elsewhere);
    assert_eq!(words, ["place: Chamber 3 -> Chamber 3, right of the door"]);
    assert_eq!(danger, Some(Danger::FixedElsewhere));
    let (old, new) = (with(&[]), elsewhere);
    let changes = compare(vec![old.version()], vec![new.version()], &Doubt::default(), &|_, _, _| true);
    assert_eq!((changes.count(Fate::Moved), changes.to_print().len()), (1, 0));
}

#[test]
fn a_number_that_is_about_something_else_cannot_be_judged_better() {
    let standing = Made::of(Subject::Standing, &[(Why, "Test six-monthly")]);
    assert!(found(&with(&[]), &standing).1 <= Some(Danger::CannotBeJudged));
    let due = Made::of(Subject::Standing, &[(Why, "Test yearly")]);
    assert_eq!(found(&standing, &due).1, Some(Danger::OtherWords));
}

#[test]
fn every_danger_has_its_place_and_its_words() {
    for (number, danger) in (1..).zip(Danger::ALL) {
        assert_eq!(danger.rank(), number);
        assert!(danger.advice().ends_with('.') && !danger.in_words().ends_with('.'), "{danger:?}");
    }
    assert!(Danger::ALL.is_sorted());
}
