//! Runs that are killed, interrupted or ended at any moment, and two that write the same name at once.

use std::fs;
use std::os::unix::process::ExitStatusExt as _;
use std::path::Path;
use std::process::{Command, Stdio};
use std::thread;
use std::time::{Duration, Instant};

use crate::site::noticewright;

/// Numbers that look random and are the same in every run: the generator of Park and Miller (1988), minimal standard.
struct Random(u64);

impl Random {
    fn next(&mut self, below: u64) -> u64 {
        self.0 = self.0 * 16_807 % 2_147_483_647;
        self.0 % below
    }
}

/// A survey whose notices take some time.
fn survey(of: &str) -> String {
    let rows = (0..60).map(|number| format!("{of}{number},DB/{number},400,Q{number},Room {}\n", number % 7));
    "enclosure,circuit,voltage_to_earth,isolator,isolator_location\n".to_owned() + &rows.collect::<String>()
}

const LABELS: [&str; 6] = ["labels", "survey.csv", "-o", "notices.pdf", "--quiet", "--force"];

fn leftovers(folder: &Path) -> Vec<String> {
    let names = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap());
    names.filter(|name| !["survey.csv", "notices.pdf"].contains(&name.as_str())).collect()
}

#[test]
fn ended_at_any_moment_the_document_is_the_old_or_the_new_one() {
    let folder = tempfile::tempdir().unwrap();
    let target = folder.path().join("notices.pdf");
    fs::write(folder.path().join("survey.csv"), survey("CH")).unwrap();
    let started = Instant::now();
    assert!(noticewright(folder.path(), &LABELS).stderr(Stdio::null()).status().unwrap().success());
    let whole = u64::try_from(started.elapsed().as_micros()).unwrap();
    let new = fs::read(&target).unwrap();
    if let Some(said) = crate::judge::run("qpdf", &["--check", "FILE"], &target) {
        assert!(said.contains("No syntax or stream encoding errors"), "{said}");
    }
    let seed = 20_261_129;
    let mut random = Random(seed);
    let (mut stopped, mut old_kept) = (0, 0);
    // How many are met depends on what else the machine does: as many rounds as it takes, and no more than three times as many.
    for round in 0..108 {
        if round >= 36 && stopped >= 15 && old_kept >= 10 {
            break;
        }
        let before = (round % 2 == 0).then(|| format!("old {round}").into_bytes());
        let _ = fs::remove_file(&target);
        before.iter().for_each(|old| fs::write(&target, old).unwrap());
        let (signal, number) = [("-KILL", 9), ("-TERM", 15), ("-INT", 2)][round % 3];
        let delay = random.next(whole + whole / 4);
        let mut child = noticewright(folder.path(), &LABELS).stderr(Stdio::null()).spawn().unwrap();
        thread::sleep(Duration::from_micros(delay));
        let _ = Command::new("kill").args([signal, &child.id().to_string()]).stderr(Stdio::null()).status().unwrap();
        let status = child.wait().unwrap();
        let what = format!("seed {seed}, round {round}: {signal} after {delay} of {whole} us: {status}");
        assert!(status.signal() == Some(number) || status.code() == Some(0), "{what}");
        let now = fs::read(&target).ok();
        assert!(now == before || now.as_ref() == Some(&new), "half a document: {what}");
        assert!(!status.success() || now.as_ref() == Some(&new), "called done: {what}");
        stopped += usize::from(!status.success());
        old_kept += usize::from(!status.success() && now == before);
        let recognised = |name: &String| name.starts_with(".noticewright-notices.pdf-") && name.ends_with(".part");
        assert!(leftovers(folder.path()).iter().all(recognised), "{:?}", leftovers(folder.path()));
    }
    assert!(stopped >= 15 && old_kept >= 10, "{stopped} were stopped, {old_kept} of them before the end");
    assert!(noticewright(folder.path(), &LABELS).stderr(Stdio::null()).status().unwrap().success());
    assert!(fs::read(&target).unwrap() == new, "what was left behind is in the way");
}

#[test]
fn of_two_runs_onto_one_name_one_wins_and_the_other_says_so() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    let surveys = ["one.csv", "two.csv"];
    fs::write(at("one.csv"), survey("CH")).unwrap();
    fs::write(at("two.csv"), survey("WB")).unwrap();
    let run = |survey: &str, output: &str, force: bool| {
        let words = ["labels", survey, "-o", output, "--quiet", "--force"];
        noticewright(folder.path(), &words[..if force { 6 } else { 5 }]).stderr(Stdio::piped()).spawn().unwrap()
    };
    let whole = surveys.map(|survey| {
        assert!(run(survey, "whole.pdf", true).wait().unwrap().success());
        fs::read(at("whole.pdf")).unwrap()
    });
    assert_ne!(whole[0], whole[1]);
    for round in 0..8 {
        let force = round % 2 == 1;
        let _ = fs::remove_file(at("both.pdf"));
        let ended = surveys.map(|survey| run(survey, "both.pdf", force)).map(|child| child.wait_with_output().unwrap());
        let now = fs::read(at("both.pdf")).unwrap();
        let won: Vec<usize> = (0..2).filter(|run| ended[*run].status.success()).collect();
        if force {
            assert_eq!(won, [0, 1], "{ended:?}");
            assert!(whole.contains(&now), "a mixture");
            continue;
        }
        let [winner] = won[..] else { panic!("{ended:?}") };
        assert!(now == whole[winner], "not the one that was called done");
        let said = String::from_utf8_lossy(&ended[1 - winner].stderr).into_owned();
        assert_eq!(ended[1 - winner].status.code(), Some(2), "{said}");
        assert!(said.contains("`both.pdf` exists and is left alone"), "{said}");
    }
    assert!(!leftovers(folder.path()).iter().any(|name| name.ends_with(".part")));
}
