//! Changes for a person at a terminal: what changed on site, then each notice under its danger, counts last.

use crate::cli::report::{counted, visible};
use crate::notice::Subject;
use crate::records::changes::{Against, Change, Changes, Danger, Fate, Line, beside, on_site};

/// Columns of the names of differences.
const NAMES: usize = 22;

/// Columns before the old words.
const INDENT: &str = "    ";

/// All of it, in lines no wider than `width` as far as the words can be broken.
pub(in crate::cli) fn told(changes: &Changes<'_>, against: Against, width: usize, all_words: bool) -> String {
    let mut text = site(changes, width);
    for danger in Danger::ALL {
        let of_danger: Vec<&Change<'_>> = changes.changed.iter().filter(|change| change.danger == danger).collect();
        if of_danger.is_empty() {
            continue;
        }
        text.push_str(&format!("{}{}\n", counted(of_danger.len(), "notice"), heading(danger, of_danger.len())));
        wrapped(danger.advice(), width.saturating_sub(2)).iter().for_each(|line| text.push_str(&format!("  {line}\n")));
        text.push('\n');
        of_danger.iter().for_each(|change| text.push_str(&one(change, against, width, all_words)));
    }
    text.push_str(&counts(changes, against));
    text
}

/// `each of which does not name ...`
fn heading(danger: Danger, count: usize) -> String {
    if count == 1 { format!(" {}", danger.in_words()) } else { format!(", each of which {}", danger.in_words()) }
}

fn site(changes: &Changes<'_>, width: usize) -> String {
    let found = on_site(&changes.changed);
    if found.is_empty() {
        return String::new();
    }
    let mut text = "what changed on site\n".to_owned();
    for one in found {
        let words = format!("{} makes false: {}", visible(&one.in_words()), visible(&one.makes_false.join(", ")));
        for (number, line) in wrapped(&words, width.saturating_sub(6)).iter().enumerate() {
            text.push_str(&format!("{}{line}\n", if number == 0 { "  " } else { "      " }));
        }
    }
    text.push('\n');
    text
}

fn one(change: &Change<'_>, against: Against, width: usize, all_words: bool) -> String {
    let mut text = head(change, against);
    let subject = change.subject().unwrap_or(Subject::Enclosure);
    for difference in &change.differences {
        // A name that is longer than its column keeps a blank behind it, and its words begin further right.
        let name = format!("  {:<NAMES$}", format!("{} ", difference.what.on(subject)));
        let room = width.saturating_sub(name.chars().count()).max(20);
        for (number, line) in wrapped(&visible(&difference.in_words()), room).iter().enumerate() {
            let before = if number == 0 { name.clone() } else { " ".repeat(name.chars().count()) };
            text.push_str(&format!("{before}{line}\n"));
        }
    }
    if let (Some(old), Some(new)) = (&change.old, &change.new)
        && !matches!(change.fate, Fate::Moved | Fate::NotFit)
        && !change.differences.is_empty()
    {
        text.push('\n');
        text.push_str(&side_by_side(&beside(&old.says, &new.says), width, all_words));
    }
    text.push('\n');
    text
}

/// `CH3-JB1/1 (altered), Chamber 3: note`
fn head(change: &Change<'_>, against: Against) -> String {
    let place = change.version().map(crate::records::changes::Version::place);
    let number = if change.number.is_empty() { "no notice" } else { change.number };
    let mut head = format!("{} ({})", visible(number), against.word(change.fate));
    place.into_iter().for_each(|place| head.push_str(&format!(", {}", visible(&place))));
    if !change.note.is_empty() {
        head.push_str(&format!(": {}", visible(&change.note)));
    }
    head + "\n"
}

/// Old words at the left, new ones at the right; what differs is marked, and unless all words are asked for what is far from
/// any difference is left out.
fn side_by_side(lines: &[Line], width: usize, all_words: bool) -> String {
    let room = (width.saturating_sub(INDENT.len() + 3) / 2).max(20);
    let row = |mark: &str, old: &str, new: &str| format!("{:<4}{old:<room$} | {new}", format!("  {mark}"));
    let mut text = row("", "old", "new") + "\n";
    let mut is_left_out = false;
    for (place, line) in lines.iter().enumerate() {
        let near = lines.get(place.saturating_sub(1)..lines.len().min(place + 2)).unwrap_or_default();
        if !all_words && near.iter().all(Line::is_same) {
            if !is_left_out {
                text.push_str(&(row("", "…", "…") + "\n"));
            }
            is_left_out = true;
            continue;
        }
        is_left_out = false;
        let cell = |text: &Option<String>| text.as_ref().map_or_else(Vec::new, |text| wrapped(&visible(text), room));
        let (old, new) = (cell(&line.old), cell(&line.new));
        for number in 0..old.len().max(new.len()) {
            let mark = if line.is_same() || number > 0 { "" } else { "*" };
            let at = |cells: &[String]| cells.get(number).cloned().unwrap_or_default();
            text.push_str(row(mark, &at(&old), &at(&new)).trim_end());
            text.push('\n');
        }
    }
    text
}

/// Lines of at most `room` characters, broken at blanks, else anywhere.
fn wrapped(words: &str, room: usize) -> Vec<String> {
    let mut lines = vec![String::new()];
    for word in words.split(' ') {
        let mut word: Vec<char> = word.chars().collect();
        while let Some(line) = lines.last_mut() {
            let used = line.chars().count();
            let blank = usize::from(used > 0);
            if used + blank + word.len() <= room {
                line.extend((used > 0).then_some(' '));
                line.extend(word);
                break;
            }
            if used > 0 {
                lines.push(String::new());
                continue;
            }
            let rest = word.split_off(room.max(1).min(word.len()));
            line.extend(word);
            word = rest;
            if word.is_empty() {
                break;
            }
            lines.push(String::new());
        }
    }
    lines
}

/// `1 new, 2 altered, 0 moved, 0 withdrawn, 12 unchanged`
fn counts(changes: &Changes<'_>, against: Against) -> String {
    let fates = Fate::ALL.into_iter().filter(|fate| !fate.is_rare() || changes.count(*fate) > 0);
    let counts = fates.map(|fate| format!("{} {}", changes.count(fate), against.word(fate)));
    let counts: Vec<String> = counts.chain([format!("{} {}", changes.unchanged, against.unchanged())]).collect();
    counts.join(", ") + "\n"
}
