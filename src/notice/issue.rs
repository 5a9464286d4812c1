//! Revision and date of issue, where a notice says them: in its small line and on its tag.

use super::Notice;
use crate::wording::{Message, Wording, one_line};

/// Gives a notice a revision and a date of issue, each empty to leave it out, anew or for the first time. Nothing else that
/// it says changes, and so its fingerprint stays. `site` is the site as the small line names it.
pub fn issue(notice: &mut Notice, (revision, date): (&str, &str), site: &str, wording: &Wording) {
    let said = match one_line(revision) {
        none if none.is_empty() => String::new(),
        revision => wording.say_once(Message::Revision { revision: &revision }),
    };
    let date = one_line(date);
    notice.small_line = joined([&notice.number, &said, &date, &one_line(site)]);
    if let Some(tag) = &mut notice.tag {
        tag.small_line = joined(["", &said, &date, ""]);
    }
    revision.clone_into(&mut notice.revision);
}

/// The parts of a small line that are there: `CH3-JB2/1 · rev B · 2026-11 · Saltmere cold store`
fn joined(parts: [&str; 4]) -> String {
    parts.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(" · ")
}
