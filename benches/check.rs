//! `check` as a user runs it, at growing sites, with a supplies file and without; at the end, how the two compare.
//!
//! The largest site is the one that was promised: 10,000 enclosures, 40,000 circuits, 2,000 devices, 20 boards deep.

#![allow(
    clippy::unwrap_used,
    clippy::disallowed_methods,
    clippy::indexing_slicing,
    clippy::print_stdout,
    reason = "a bench that cannot go on stops, lays its own files and prints its own figures"
)]

use std::fmt::Write as _;
use std::path::PathBuf;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

const SIZES: [usize; 3] = [100, 1_000, 10_000];

fn main() {
    divan::main();
    // Without this word, a bench is only tried once, or its name is asked for.
    if std::env::args().any(|word| word == "--bench") {
        SIZES.into_iter().for_each(print_ratio);
    }
}

/// Boards in a row, one below the other.
const DEPTH: usize = 20;

/// Breakers of each board that feed circuits.
const WAYS: usize = 8;

/// The files of a site.
struct Site {
    folder: tempfile::TempDir,
}

impl Site {
    /// A site of so many enclosures with four circuits each, and a supplies file of a fifth as many devices.
    fn of(enclosures: usize) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let (supplies, breakers) = supplies(enclosures / 5);
        std::fs::write(folder.path().join("supplies.csv"), supplies).unwrap();
        std::fs::write(folder.path().join("survey.csv"), survey(enclosures, &breakers)).unwrap();
        Self { folder }
    }

    fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    /// Checks it, as a process of its own.
    fn check(&self, with_supplies: bool) {
        let mut command = Command::new(env!("CARGO_BIN_EXE_noticewright"));
        command.arg("check").arg(self.path("survey.csv")).stdout(Stdio::null());
        if with_supplies {
            command.arg("--supplies").arg(self.path("supplies.csv"));
        }
        assert!(command.status().unwrap().success(), "the site has no errors");
    }

    fn time(&self, with_supplies: bool) -> Duration {
        let start = Instant::now();
        self.check(with_supplies);
        start.elapsed()
    }
}

/// A supplies file of about so many devices, and for each breaker that feeds circuits its board.
fn supplies(devices: usize) -> (String, Vec<(String, usize)>) {
    let mut text = String::from("device,kind,fed_from,location,locking,poles,nominal,earthing\n");
    text += "Network,source,,Street,,,230/400,TN-S\nQM,breaker,Network,Intake,padlock,3+N,,\nB0,busbar,QM,Intake,,,,\n";
    let mut breakers = Vec::new();
    for board in 1..=(devices / (WAYS + 2)).max(1) {
        let above = if board % DEPTH == 1 { 0 } else { board - 1 };
        let _ = writeln!(text, "QB{board},breaker,B{above},\"Room {above}, board\",padlock,3+N,,");
        let _ = writeln!(text, "B{board},busbar,QB{board},Room {board},,,,");
        for way in 0..WAYS {
            let name = format!("Q{board}.{way}");
            let _ = writeln!(text, "{name},breaker,B{board},\"Room {board}, board\",padlock,3+N,,");
            breakers.push((name, board));
        }
    }
    (text, breakers)
}

fn survey(enclosures: usize, breakers: &[(String, usize)]) -> String {
    let mut text = String::from(
        "enclosure,area,circuit,serves,fed_from,source,nominal,conductors,earthing,voltage_to_earth,isolator,\
         isolator_location,device_kind,poles,locking,basis\n",
    );
    for number in 0..enclosures {
        let chamber = number / 40;
        for row in 0..4 {
            let (breaker, board) = &breakers[(number * 7 + row * 13) % breakers.len()];
            let _ = writeln!(
                text,
                "C{chamber}-JB{number},Chamber {chamber},B{board}/{number}-{row},evaporator fan,B{board},mains,230/400,\
                 L{} N,TN-S,230,{breaker},\"Room {board}, board\",breaker,3+N,padlock,traced",
                row % 3 + 1
            );
        }
    }
    text
}

#[divan::bench(args = SIZES, sample_count = 5, sample_size = 1)]
fn with_supplies(bencher: divan::Bencher, enclosures: usize) {
    let site = Site::of(enclosures);
    bencher.bench_local(|| site.check(true));
}

#[divan::bench(args = SIZES, sample_count = 5, sample_size = 1)]
fn without_supplies(bencher: divan::Bencher, enclosures: usize) {
    let site = Site::of(enclosures);
    bencher.bench_local(|| site.check(false));
}

/// Prints how many times as long a check with the supplies file takes: the shortest of some runs, by turns.
fn print_ratio(enclosures: usize) {
    let site = Site::of(enclosures);
    let runs: Vec<_> = (0..5).map(|_| (site.time(true), site.time(false))).collect();
    let with = runs.iter().map(|(with, _)| *with).min().unwrap();
    let without = runs.iter().map(|(_, without)| *without).min().unwrap();
    let ratio = with.as_secs_f64() / without.as_secs_f64();
    println!(
        "{enclosures} enclosures: {with:.2?} with a supplies file, {without:.2?} without: {ratio:.2} times as long"
    );
}
