//! Bytes as a supplies file, as a list of standing notices and as an inspection list: read by the same machinery, each with
//! its own columns.
#![no_main]

use std::collections::BTreeSet;

use libfuzzer_sys::fuzz_target;
use noticewright::finding::Severity;
use noticewright::records::list;
use noticewright::survey::is_hidden;
use noticewright::{standing, supplies};
use noticewright_fuzz::place;

fuzz_target!(|bytes: &[u8]| {
    let options = supplies::ReadOptions::new("supplies.csv");
    let reading = supplies::read(bytes, &options);
    assert_eq!(reading, supplies::read(bytes, &options), "two readings differ");
    assert!(!reading.findings.is_empty() || !reading.supplies.devices.is_empty(), "nothing was read, and nothing said");
    place::inside(bytes, "supplies.csv", &reading.findings);
    let devices = &reading.supplies.devices;
    let records: BTreeSet<u32> = devices.iter().map(|device| device.record).collect();
    assert!(records.len() == devices.len() && devices.len() < place::most_records(bytes).max(1));
    for device in devices {
        assert!(!device.designation.trim().is_empty());
        let names = device.fed_from.iter().chain(&device.in_step_with).chain([&device.designation, &device.location]);
        assert!(!names.clone().any(|name| name.contains(is_hidden)), "{device:?}");
        assert!(device.fed_from.iter().chain(&device.in_step_with).all(|name| !name.trim().is_empty()), "{device:?}");
        assert!(device.fed_from.len() <= options.limits.devices_per_row);
    }

    let listed = standing::read(bytes, &standing::ReadOptions::new("standing.csv"));
    assert!(!listed.findings.is_empty() || !listed.standing.entries.is_empty(), "nothing was read, and nothing said");
    place::inside(bytes, "standing.csv", &listed.findings);
    let numbers: BTreeSet<&str> = listed.standing.entries.iter().map(|entry| entry.number.as_str()).collect();
    // With an error nothing is printed: that a number is taken, or what is wrong with the cells of the row.
    let is_told = listed.findings.iter().any(|finding| finding.severity() == Severity::Error);
    assert!(
        is_told || numbers.len() == listed.standing.entries.len(),
        "two notices have one number, and nothing is said"
    );

    let filled = list::read(bytes, &list::ReadOptions::new("list.csv"));
    place::inside(bytes, "list.csv", &filled.findings);
    assert!(
        !filled.findings.is_empty() || filled.left_out + filled.rows.len() > 0,
        "nothing was read, and nothing said"
    );
    assert!(filled.rows.iter().all(|row| !row.number.trim().is_empty()));
});
