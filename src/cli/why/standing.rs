//! What is known of one standing notice: what asks for it, how surely that is known, and whose words it bears.

use std::fmt::Write as _;

use crate::cli::pipeline::Loaded;
use crate::cli::report::visible;
use crate::network::spelling;
use crate::rules::StandingDecision;
use crate::standing::Entry;

/// The standing notice with this number, without regard to how it is spelt.
pub(super) fn named<'a>(loaded: &'a Loaded, number: &str) -> Option<(&'a Entry, &'a StandingDecision)> {
    let wanted = spelling::key(number);
    let entries = &loaded.standing.as_ref()?.entries;
    let place = entries.iter().position(|entry| spelling::key(&entry.number) == wanted)?;
    let decision = loaded.decided_standing.iter().find(|decision| decision.entry == place)?;
    Some((entries.get(place)?, decision))
}

/// All of it, as `why` prints it.
pub(super) fn explanation(loaded: &Loaded, entry: &Entry, decision: &StandingDecision) -> String {
    let place: Vec<&str> = [&entry.position, &entry.area].into_iter().map(String::as_str).collect();
    let place: Vec<&str> = place.into_iter().filter(|part| !part.is_empty()).collect();
    let place = if place.is_empty() { "place not said".to_owned() } else { place.join(", ") };
    let mut text =
        format!("{}, standing notice `{}`\n{}\n", visible(&entry.number), entry.kind.name(), visible(&place));
    let _ = writeln!(text, "Notice: {}, by {}", decision.reason.outcome.name(), visible(&loaded.job.job.edition));
    text.push_str("\nRule\n");
    text.push_str(&super::reason_text(&decision.reason, &decision.because));
    let _ = writeln!(text, "    `noticewright why {}` says what the rule asks for", decision.reason.rule.name());
    let _ = writeln!(text, "\nWords\n  {}", decision.words.in_words());
    if let Some(size) = decision.least.size {
        let _ = writeln!(text, "  the plate is at least {size}, as published");
    }
    if let Some(capitals) = decision.least.capitals {
        let _ = writeln!(text, "  capitals are at least {capitals} mm");
    }
    for packed in loaded.packed.iter().filter(|packed| packed.brief().number == entry.number) {
        let notice = packed.notice();
        let _ = writeln!(text, "\nNotice {}", visible(&notice.number));
        for line in notice.lines() {
            let _ = writeln!(text, "  | {}", visible(&line));
        }
    }
    text + "\n"
}
