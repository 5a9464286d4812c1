//! A notice that is issued anew says the same under another revision.

use super::*;

#[test]
fn revision_and_date_change_the_small_line_and_nothing_else() {
    let mut situation = Situation::new("CH3-JB2", vec![point("Q7", "Switchroom 1", &[])]);
    let NoticeOptions { site, revision, date, .. } = &mut situation.options;
    (*site, *revision, *date) = ("Saltmere cold store".into(), "B".into(), "2026-11".into());
    let first = situation.notice();
    let mut again = first.clone();
    issue(&mut again, ("B.2", "2026-12-01"), "Saltmere cold store", &Wording::english());
    assert_eq!(again.small_line, "CH3-JB2/1 · rev B.2 · 2026-12-01 · Saltmere cold store");
    assert_eq!(again.revision, "B.2");
    // What is composed under that revision is the same, fingerprint included.
    (situation.options.revision, situation.options.date) = ("B.2".into(), "2026-12-01".into());
    assert_eq!(situation.notice(), again);
    assert_eq!(again.fingerprint(), first.fingerprint());
    issue(&mut again, ("", ""), "", &Wording::english());
    assert_eq!((again.small_line.as_str(), again.fingerprint() == first.fingerprint()), ("CH3-JB2/1", true));
}

#[test]
fn a_tag_is_issued_with_its_notice() {
    let mut notice = Situation::new("CH3-JB2", vec![point("Q7", "Switchroom 1", &[])]).notice();
    let tag = Tag { cautions: Vec::new(), small_line: String::new(), reading_distance: notice.reading_distance };
    notice.tag = Some(tag);
    issue(&mut notice, ("C", "2027"), "Saltmere", &Wording::english());
    assert_eq!(notice.on_a_tag().unwrap().small_line, "rev C · 2027");
}
