//! Packing of a run of notices of usual sizes, at growing numbers; at the end, how many sheets it takes against the least
//! that their area allows.

#![allow(clippy::unwrap_used, clippy::print_stdout, reason = "a bench that cannot go on stops, and prints its figures")]

use divan::counter::ItemsCount;
use noticewright::length::{Length, Size};
use noticewright::sheets::packing::{Demand, Room, fewest_by_area, pack};

const LABELS: [usize; 3] = [100, 1_000, 10_000];

/// The room on A4 and on A3, and a roll of 105 mm, as in the formats `a4-mixed`, `a3-mixed` and `roll-105-mixed`.
const ROOMS: [(&str, i32, i32, bool); 3] = [("A4", 190, 265, false), ("A3", 277, 388, false), ("roll", 101, 996, true)];

/// Width and height of a label, and how often it occurs.
const SIZES: [(i32, i32, usize); 6] =
    [(105, 74, 40), (148, 105, 20), (210, 148, 8), (74, 52, 30), (60, 20, 40), (297, 210, 1)];

fn main() {
    divan::main();
    // Without this word, a bench is only tried once, or its name is asked for.
    if std::env::args().any(|word| word == "--bench") {
        ROOMS.into_iter().for_each(|(name, ..)| LABELS.into_iter().for_each(|labels| print_ratio(name, labels)));
    }
}

fn room(name: &str) -> Room {
    let (_, width, height, is_roll) = ROOMS.into_iter().find(|(known, ..)| *known == name).unwrap();
    Room { size: Size::whole_mm(width, height), gap: Length::um(3_000), is_roll }
}

/// Labels of those usual sizes that the room holds.
fn run(room: &Room, labels: usize) -> Vec<Demand> {
    let holds = |size: Size| size.fits_in(room.size) || size.turned().fits_in(room.size);
    let sizes = SIZES.map(|(width, height, share)| (Size::whole_mm(width, height), share));
    let sizes: Vec<_> = sizes.into_iter().filter(|(size, _)| holds(*size)).collect();
    let whole: usize = sizes.iter().map(|(_, share)| share).sum();
    let demand =
        |(size, share): (Size, usize)| Demand { size, may_turn: true, count: (share * labels).div_ceil(whole) };
    sizes.into_iter().map(demand).collect()
}

fn bench(bencher: divan::Bencher, name: &str, labels: usize) {
    let room = room(name);
    let run = run(&room, labels);
    bencher.counter(ItemsCount::new(labels)).bench_local(|| pack(&room, &run));
}

#[divan::bench(args = LABELS, sample_count = 5, sample_size = 1)]
fn a4(bencher: divan::Bencher, labels: usize) {
    bench(bencher, "A4", labels);
}

#[divan::bench(args = LABELS, sample_count = 5, sample_size = 1)]
fn a3(bencher: divan::Bencher, labels: usize) {
    bench(bencher, "A3", labels);
}

#[divan::bench(args = LABELS, sample_count = 5, sample_size = 1)]
fn roll(bencher: divan::Bencher, labels: usize) {
    bench(bencher, "roll", labels);
}

fn print_ratio(name: &str, labels: usize) {
    let room = room(name);
    let run = run(&room, labels);
    let (packed, fewest) = (pack(&room, &run).unwrap(), fewest_by_area(&room, &run));
    let (sheets, share) = (packed.sheets.len(), packed.share_used(&room) * 100.0);
    println!("{name}, {labels} labels: {sheets} sheets, {fewest} by area alone, {share:.1} % of the room used");
}
