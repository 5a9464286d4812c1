//! A survey, and behind a line `supplies:` a supplies file, as far as documents that are read back: what is declared is
//! decided, said and printed.
#![no_main]

use libfuzzer_sys::fuzz_target;
use noticewright_fuzz::{document, safety};

/// What parts the two files.
const BETWEEN: &[u8] = b"\nsupplies:\n";

fuzz_target!(|bytes: &[u8]| {
    let at = bytes.windows(BETWEEN.len()).position(|window| window == BETWEEN);
    let (survey, supplies) = match at {
        Some(at) => (&bytes[..=at], Some(&bytes[at + BETWEEN.len()..])),
        None => (bytes, None),
    };
    let decided = safety::decide(survey, supplies);
    safety::holds(&decided);
    if decided.prints() {
        document::print(&decided.survey, &decided.network, &decided.notices);
    }
});
