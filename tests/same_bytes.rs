//! Same input, same bytes: again, in another process order, on one thread or many.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::string_slice,
    clippy::print_stderr,
    clippy::disallowed_methods,
    reason = "a test that cannot go on stops, and looks at the disk by itself"
)]

mod sample;

use noticewright::sheets::{Palette, Run};
use noticewright::writers::pdf::{PdfWriter, Setup, encode};

#[test]
fn the_same_labels_give_the_same_bytes_again() {
    assert_eq!(sample::document(30, Run::default()).0, sample::document(30, Run::default()).0);
}

#[test]
fn one_thread_and_many_give_the_same_bytes() {
    let many = sample::document(300, Run::default()).0;
    let pool = rayon::ThreadPoolBuilder::new().num_threads(1).build().unwrap();
    assert!(pool.install(|| sample::document(300, Run::default()).0) == many);
    // Page after page without any pool, encoded in the opposite order.
    let plan = sample::plan(300, sample::A7, Run::default());
    let pages = plan.documents[0].pages();
    let mut encoded: Vec<_> =
        (0..pages).rev().map(|number| encode(&sample::page(&plan, number), &Palette::Office)).collect();
    encoded.reverse();
    let mut bytes = Vec::new();
    let mut writer = PdfWriter::begin(&mut bytes, &Setup::plain(sample::info(), Palette::Office)).unwrap();
    encoded.iter().try_for_each(|page| writer.add(page)).unwrap();
    writer.finish().unwrap();
    assert!(bytes == many);
}

#[test]
fn other_labels_give_another_document() {
    assert_ne!(sample::document(5, Run::default()).0, sample::document(6, Run::default()).0);
}

#[test]
fn no_path_of_this_machine_gets_into_the_document() {
    let (bytes, _) = sample::document(3, Run::default());
    let home = std::env::var("HOME").unwrap_or_default();
    let temporary = std::env::temp_dir();
    let secrets = [env!("CARGO_MANIFEST_DIR"), home.as_str(), temporary.to_str().unwrap()];
    for secret in secrets.into_iter().filter(|secret| secret.len() > 1) {
        assert!(!bytes.windows(secret.len()).any(|window| window == secret.as_bytes()), "{secret}");
    }
}

#[test]
fn two_runs_with_a_record_give_the_same_document_and_another_site_the_same_record() {
    let made = [(), ()].map(|()| {
        let folder = tempfile::tempdir().unwrap();
        let survey = "enclosure,circuit,voltage_to_earth,isolator,isolator_location\n\
                      CH3-JB1,DB-C/7,400,Q7,Switchroom 1\nCH3-JB2,DB-C/8,400,Q8,Switchroom 1\n";
        let job = "[job]\nrevision = \"A\"\ndate = \"2026-11-24\"\nrecords = \"records.csv\"\n";
        std::fs::write(folder.path().join("survey.csv"), survey).unwrap();
        std::fs::write(folder.path().join("job.toml"), job).unwrap();
        let print = |name: &str| {
            let output = std::process::Command::new(env!("CARGO_BIN_EXE_noticewright"))
                .args(["labels", "survey.csv", "--record", "--date", "2026-11-24", "-o", name])
                .env("SOURCE_DATE_EPOCH", "1830297600")
                .current_dir(folder.path())
                .output()
                .unwrap();
            assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
            std::fs::read(folder.path().join(name)).unwrap()
        };
        let (first, second) = (print("one.pdf"), print("two.pdf"));
        // A notice that says the same keeps its revision and date of issue.
        assert!(first == second);
        (first, std::fs::read_to_string(folder.path().join("records.csv")).unwrap())
    });
    assert!(made[0].0 == made[1].0);
    assert_eq!(made[0].1, made[1].1);
    assert_eq!(made[0].1.lines().count(), 1 + 2 * 4, "{}", made[0].1);
}
