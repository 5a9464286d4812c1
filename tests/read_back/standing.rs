//! Standing notices read back: right ones read clean, and what is wrong with one is found.

use noticewright::drawing::Item;
use noticewright::network::{Network, NetworkOptions};
use noticewright::notice::{NoticeOptions, compose_standing};
use noticewright::rules;
use noticewright::sheets::Run;
use noticewright::standing::{self, ReadOptions};
use noticewright::survey::Survey;
use noticewright::wording::Wording;

use crate::fixture::{Job, assert_said, changed, said};

const LIST: &str = "\
number,kind,last_inspection,next_inspection,record_link,size
STN-1,periodic-inspection,2026-05-14,2031-05-14,SCS-S-001,A6
STN-2,periodic-inspection,2026-05-14,,,A6
STN-3,rcd-test,,,,A6
STN-4,mixed-colours,,,,A6
";

fn job() -> Job {
    let survey = Survey::default();
    let (network, _) = Network::join(&survey, None, &NetworkOptions::default());
    let list = standing::read(LIST.as_bytes(), &ReadOptions::new("standing.csv")).standing;
    let decisions = rules::standing::decide(&list, &survey, &network, None).0;
    let options = NoticeOptions { site: "Saltmere cold store".into(), ..NoticeOptions::default() };
    let notices = compose_standing(&list, &decisions, &Wording::english(), &options).0;
    Job::of(survey, notices, Run::default())
}

#[test]
fn right_ones_read_clean() {
    let job = job();
    let read = job.read(job.document());
    assert_said(&read, &[]);
    assert_eq!((read.notices, read.codes), (4, 1));
}

#[test]
fn a_wrong_date_another_interval_and_a_lost_heading_are_found() {
    let job = job();
    let date = job.with("STN-1", |notice| notice.figures[0].figure = "14\u{a0}May\u{a0}2027".into());
    assert!(said(&job.read(date.document())).iter().any(|one| one.contains("14 May 202")), "another date");
    let swapped = job.with("STN-1", |notice| {
        let [first, second] = &mut notice.figures[..] else { panic!("two dates") };
        std::mem::swap(&mut first.figure, &mut second.figure);
    });
    assert_ne!(said(&job.read(swapped.document())), [""; 0], "a date must stand with what it is");
    let interval = job.with("STN-3", |notice| {
        notice.statement = vec![notice.statement[0].replace("six-monthly", "quarterly")].into()
    });
    assert!(said(&job.read(interval.document())).iter().any(|one| one.contains("STN-3")), "another interval");
    let heading = job.with("STN-4", |notice| notice.headline = vec![String::new()].into());
    assert!(said(&job.read(heading.document())).iter().any(|one| one.contains("CAUTION")), "no heading");
    let filled = job.with("STN-2", |notice| notice.figures[1].figure = "14\u{a0}May\u{a0}2031".into());
    assert!(said(&job.read(filled.document())).iter().any(|one| one.contains("14 May 2031")), "a date nobody gave");
}

#[test]
fn letters_below_the_claim_are_found() {
    let mut job = job();
    job.set[2].drawing = changed(&job.set[2].drawing, |drawing| {
        for item in &mut drawing.items {
            if let Item::Text { em, .. } = item {
                *em = em.scaled(0.5);
            }
        }
    });
    let bytes = job.document();
    let read = job.read(bytes);
    assert!(said(&read).iter().any(|one| one.contains("STN-3") && one.contains("mm")), "{:?}", said(&read));
}
