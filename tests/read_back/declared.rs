//! The heart: every point of isolation that the survey's rows declare stands on the notice, even where composing the
//! notice went wrong and the document says just what the composed notice says.

use noticewright::notice::Subject;

use crate::fixture::{Job, assert_said, said};

#[test]
fn a_point_lost_in_composing_is_found_from_the_rows() {
    let job = Job::usual();
    let lost = job.with("CH3-JB1/1", |notice| drop(notice.points.remove(1)));
    let read = lost.read(lost.document());
    assert_said(
        &read,
        &["page 1, notice `CH3-JB1/1`: row 2 of the survey declares `Q12` with `Chamber 3 lobby, board X`, \
         which are not named together"],
    );
}

#[test]
fn a_point_lost_in_the_document_alone_is_found_twice() {
    let job = Job::usual();
    let lost = job.with("CH3-JB1/1", |notice| drop(notice.points.remove(1)));
    let found = said(&job.read(lost.document()));
    assert!(found.iter().any(|line| line.contains("row 2 of the survey declares `Q12`")), "{found:?}");
    assert!(found.iter().any(|line| line.contains("`2 Q12 Chamber 3 lobby, board X` is missing")), "{found:?}");
}

#[test]
fn a_place_exchanged_in_composing_is_found_from_the_rows() {
    let job = Job::usual();
    let wrong = job.with("CP4/1", |notice| {
        let first = notice.points[0].place.clone();
        notice.points[1].place = first;
    });
    let found = said(&wrong.read(wrong.document()));
    let [found] = found.as_slice() else { panic!("{found:?}") };
    assert!(found.contains("notice `CP4/1`: row 6 of the survey declares `Q31` with `Dock 3, board F`"), "{found}");
}

#[test]
fn a_circuit_lost_from_a_device_is_found_from_the_rows() {
    let job = Job::usual();
    let device =
        job.notices.iter().find(|notice| notice.subject == Subject::Device && notice.designation == "Q8").unwrap();
    let wrong = job.with(&device.number.clone(), |notice| notice.points[0].designation = "DB-C/9".into());
    let found = said(&wrong.read(wrong.document()));
    let [found] = found.as_slice() else { panic!("{found:?}") };
    assert!(found.contains("row 3 of the survey declares `DB-C/8` with `CH3-JB2`"), "{found}");
}
