//! Whatever a notice says, what was set reads back as it was meant: accents, ligatures, joiners, foreign scripts.

use std::sync::atomic::{AtomicUsize, Ordering};

use noticewright::notice::{Notice, NoticePoint, Subject};
use noticewright::sheets::Run;
use noticewright::survey::Survey;
use proptest::prelude::*;

use crate::fixture::{Job, assert_said, said, set};

/// Words as a hostile survey might hold them.
fn word() -> impl Strategy<Value = String> {
    let hostile = [
        "office",
        "fl\u{FB01}nt",
        "e\u{301}vaporateur",
        "x\u{308}y",
        "Ka\u{308}lte",
        "\u{C5}ngstro\u{308}m",
        "A\u{30A}",
        "\u{2126}",
        "\u{3A9}",
        "\u{B5}m",
        "\u{3BC}m",
        "30\u{A0}kW",
        "DB\u{2011}C/7",
        "a\u{2060}b",
        "Kuehl\u{AD}raum",
        "switch\u{200B}room",
        "Щитовая",
        "й",
        "и\u{306}",
        "Πίνακας",
        "Łódź",
        "ﬃ",
        "1\u{2044}2",
        "Q7 ",
        "(Q\\8)",
        "«x»",
        "\u{5D0}\u{5D1}",
        "\u{1D54F}",
        "\u{202E}7Q",
        "AV/To",
        "fi",
        "ffl",
        "ij\u{307}",
        "\u{130}",
        "…",
        "--",
        "4°C",
    ];
    prop_oneof![
        3 => "[A-Z][a-z]{1,9}",
        2 => "[A-Z]{1,3}-[0-9]{1,5}",
        1 => "[a-z]{1,6}",
        4 => proptest::sample::select(hostile.to_vec()).prop_map(str::to_owned),
    ]
}

fn text(most: usize) -> impl Strategy<Value = String> {
    prop::collection::vec(word(), 1..=most).prop_map(|words| words.join(" "))
}

prop_compose! {
    fn any_notice()(
        index in 0..8_usize,
        headline in text(5),
        statement in text(9),
        caution in prop::collection::vec(text(8), 0..3),
        points in prop::collection::vec((text(2), text(6), prop::option::of(text(2)), prop::option::of(text(4))), 0..6),
        second in prop::option::of(text(5)),
        name in text(3),
    ) -> Notice {
        let mut notice = usual()[index % usual().len()].clone();
        let mut point = notice.points[0].clone();
        notice.points = points.into_iter().map(|(designation, place, serves, remark)| {
            point.designation = designation;
            point.place = place;
            point.serves = serves.unwrap_or_default();
            point.remarks = remark.map(|remark| vec![remark].into()).into_iter().collect();
            point.clone()
        }).collect();
        notice.headline = std::iter::once(headline).chain(second).collect();
        notice.statement = vec![statement].into();
        notice.cautions = caution.into_iter().map(|caution| vec![caution].into()).collect();
        notice.name = name;
        notice
    }
}

fn usual() -> &'static [Notice] {
    static USUAL: std::sync::LazyLock<Vec<Notice>> = std::sync::LazyLock::new(|| Job::usual().notices);
    &USUAL
}

fn is_numbered(notice: &Notice) -> bool {
    notice.subject == Subject::Enclosure && notice.points.len() > 1
}

/// Whether a remark of a point says what is the name of a point.
fn bears_name(notice: &Notice, point: &NoticePoint) -> bool {
    let seen = |text: &str| text.chars().filter(|character| character.is_alphanumeric()).collect::<String>();
    let is_name = |text: &String| notice.points.iter().any(|other| seen(&other.designation) == seen(text));
    point.remarks.iter().flat_map(|remark| remark.iter()).any(is_name)
}

#[test]
fn whatever_was_set_reads_back_as_it_was_meant() {
    let set_at_all = AtomicUsize::new(0);
    let config = ProptestConfig {
        failure_persistence: None,
        cases: 120,
        max_global_rejects: 4_096,
        ..ProptestConfig::default()
    };
    proptest!(config, |(notice in any_notice())| {
        // What the fonts do not have is refused before it comes so far.
        prop_assume!(set(&notice).is_some());
        // Without numbers, a remark that says what a row begins with cannot be told from one: it is refused.
        prop_assume!(is_numbered(&notice) || !notice.points.iter().any(|point| bears_name(&notice, point)));
        set_at_all.fetch_add(1, Ordering::Relaxed);
        let job = Job::of(Survey::default(), vec![notice], Run::default());
        let found = said(&job.read(job.document()));
        prop_assert!(found.is_empty(), "{found:?}\n{:#?}", job.notices[0]);
    });
    assert!(set_at_all.into_inner() >= 100);
}

/// What a row serves may bear the name of its place.
#[test]
fn what_stands_on_the_right_is_not_taken_for_the_place() {
    let job = Job::usual();
    let meant = job.with("CH3-JB1/1", |notice| {
        notice.points.iter_mut().for_each(|point| point.serves = point.place.clone());
    });
    assert_said(&meant.read(meant.document()), &[]);
    let printed = meant.with("CH3-JB1/1", |notice| "Lobby".clone_into(&mut notice.points[0].place));
    assert!(!meant.read(printed.document()).differences.is_empty());
}

#[test]
fn what_looks_alike_is_told_apart() {
    let job = Job::usual();
    for (meant, printed) in [("Q7", "Q\u{3A7}7"), ("e\u{301}t", "et"), ("CO", "C0"), ("Ll1", "LI1"), ("a b", "ab")] {
        let meant = job.with("CH3-JB1/1", |notice| notice.statement = vec![format!("The word {meant} here")].into());
        let printed =
            job.with("CH3-JB1/1", |notice| notice.statement = vec![format!("The word {printed} here")].into());
        assert_said(&meant.read(meant.document()), &[]);
        assert_eq!(meant.read(printed.document()).differences.len(), 1);
    }
}
