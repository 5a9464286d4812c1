//! From the survey's bytes to the words of its notices, stage by stage, at growing sites without a supplies file.

#![allow(clippy::unwrap_used, reason = "a bench that cannot go on stops")]

use std::fmt::Write as _;
use std::hint::black_box;

use divan::Bencher;
use divan::counter::ItemsCount;
use noticewright::network::{Network, NetworkOptions};
use noticewright::notice::{NoticeOptions, compose};
use noticewright::rules::{RuleOptions, decide};
use noticewright::survey::{ReadOptions, Survey, read};
use noticewright::wording::Wording;

const SIZES: [usize; 4] = [100, 1_000, 10_000, 100_000];

fn main() {
    divan::main();
}

/// Enclosures with two rows each, from two boards, and two isolators that serve some forty enclosures.
fn text(enclosures: usize) -> String {
    let mut text =
        "enclosure,name,area,circuit,serves,fed_from,source,nominal,conductors,earthing,voltage_to_earth,isolator,\
                    isolator_location,device_kind,poles,locking,basis\n"
            .to_owned();
    for number in 0..enclosures {
        let (area, board) = (number / 40, number % 40);
        for (side, serves) in [("A", "evaporator fan"), ("B", "defrost heater")] {
            writeln!(
                text,
                "CH{area}-JB{board},Junction box {board},Chamber {area},DB-{side}{area}/{board},{serves},DB-{side}{area},mains,\
                 230/400,L1 N,TN-S,230,Q{side}{area},\"Switchroom {area}, board {side}\",breaker,3+N,padlock,traced"
            )
            .unwrap();
        }
    }
    text
}

fn surveyed(enclosures: usize) -> Survey {
    let reading = read(text(enclosures).as_bytes(), &ReadOptions::new("survey.csv"));
    assert_eq!(reading.survey.enclosures.len(), enclosures);
    reading.survey
}

#[divan::bench(args = SIZES)]
fn reading(bencher: Bencher<'_, '_>, enclosures: usize) {
    let (text, options) = (text(enclosures), ReadOptions::new("survey.csv"));
    bencher.counter(ItemsCount::new(enclosures)).bench(|| read(black_box(text.as_bytes()), &options));
}

#[divan::bench(args = SIZES)]
fn joining(bencher: Bencher<'_, '_>, enclosures: usize) {
    let survey = surveyed(enclosures);
    let join = || Network::join(black_box(&survey), None, &NetworkOptions::default());
    bencher.counter(ItemsCount::new(enclosures)).bench(join);
}

#[divan::bench(args = SIZES)]
fn deciding(bencher: Bencher<'_, '_>, enclosures: usize) {
    let survey = surveyed(enclosures);
    let network = Network::join(&survey, None, &NetworkOptions::default()).0;
    let deciding = || decide(black_box(&survey), &network, &RuleOptions::default());
    bencher.counter(ItemsCount::new(enclosures)).bench(deciding);
}

#[divan::bench(args = SIZES)]
fn composing(bencher: Bencher<'_, '_>, enclosures: usize) {
    let survey = surveyed(enclosures);
    let network = Network::join(&survey, None, &NetworkOptions::default()).0;
    let decisions = decide(&survey, &network, &RuleOptions::default()).0;
    let (wording, options) = (Wording::english(), NoticeOptions::default());
    let composing = || compose(&survey, black_box(&decisions), &wording, &options);
    bencher.counter(ItemsCount::new(enclosures)).bench(composing);
}
