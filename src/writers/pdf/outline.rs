//! Bookmarks as a nested outline (ISO 32000-1, 12.3.3).

use std::io::{self, Write};

use super::object;
use super::places::Place;
use super::stream::{Id, Objects};

/// So many lines of an outline are seen at a glance: more of it is opened only as far as this.
const AT_A_GLANCE: usize = 40;

/// The bookmarks so far.
#[derive(Default)]
pub(super) struct Outline {
    entries: Vec<Entry>,
}

/// A bookmark.
pub(super) struct Entry {
    pub(super) depth: u8,
    pub(super) title: Box<str>,
    pub(super) place: Place,
}

/// What a bookmark lies between, by numbers.
#[derive(Clone, Copy, Default)]
struct Lines {
    parent: Option<usize>,
    level: usize,
    before: Option<usize>,
    after: Option<usize>,
    first: Option<usize>,
    last: Option<usize>,
    /// The lines below it that are seen when it is open.
    below: usize,
}

impl Outline {
    /// Adds a bookmark after those before.
    pub(super) fn add(&mut self, entry: Entry) {
        self.entries.push(entry);
    }

    /// Writes the outline; the answer is its root, if there are bookmarks.
    pub(super) fn write<W: Write>(&self, objects: &mut Objects<W>) -> io::Result<Option<Id>> {
        if self.entries.is_empty() {
            return Ok(None);
        }
        let mut lines = self.nested();
        let open = open_levels(&lines);
        let mut seen = 0;
        for number in (0..lines.len()).rev() {
            let Some(line) = lines.get(number).copied() else { continue };
            let own = 1 + if line.level < open { line.below } else { 0 };
            match line.parent.and_then(|parent| lines.get_mut(parent)) {
                Some(parent) => parent.below += own,
                None => seen += own,
            }
        }
        let root = objects.reserve();
        let ids: Vec<Id> = lines.iter().map(|_| objects.reserve()).collect();
        for ((line, entry), id) in lines.iter().zip(&self.entries).zip(&ids) {
            objects.object(*id, &spelt(line, entry, &ids, root, open))?;
        }
        let highest = || lines.iter().zip(&ids).filter(|(line, _)| line.parent.is_none()).map(|(_, id)| id.reference());
        let (first, last) = (highest().next().unwrap_or_default(), highest().next_back().unwrap_or_default());
        objects.object(root, format!("<</Type/Outlines/First {first}/Last {last}/Count {seen}>>").as_bytes())?;
        Ok(Some(root))
    }

    /// Each belongs to the one before it that lies less deep.
    fn nested(&self) -> Vec<Lines> {
        let mut lines = vec![Lines::default(); self.entries.len()];
        let mut above: Vec<usize> = Vec::new();
        let mut last_highest = None;
        for (number, entry) in self.entries.iter().enumerate() {
            let depth = |other: &usize| self.entries.get(*other).map_or(0, |other| other.depth);
            while above.pop_if(|other| depth(other) >= entry.depth).is_some() {}
            let parent = above.last().copied();
            let before = match parent.and_then(|parent| lines.get_mut(parent)) {
                Some(parent) => {
                    parent.first.get_or_insert(number);
                    parent.last.replace(number)
                }
                None => last_highest.replace(number),
            };
            if let Some(before) = before.and_then(|before| lines.get_mut(before)) {
                before.after = Some(number);
            }
            if let Some(line) = lines.get_mut(number) {
                *line = Lines { parent, level: above.len(), before, ..Lines::default() };
            }
            above.push(number);
        }
        lines
    }
}

/// How many levels stand open: as many as leave the whole to be seen at a glance.
fn open_levels(lines: &[Lines]) -> usize {
    let deepest = lines.iter().map(|line| line.level).max().unwrap_or_default();
    let seen = |open: &usize| lines.iter().filter(|line| line.level <= *open).count() <= AT_A_GLANCE;
    (1..=deepest).take_while(seen).last().unwrap_or_default()
}

fn spelt(line: &Lines, entry: &Entry, ids: &[Id], root: Id, open: usize) -> Vec<u8> {
    let reference = |number: usize| ids.get(number).copied().unwrap_or(root).reference();
    let mut body = b"<</Title ".to_vec();
    object::push_text(&mut body, &entry.title);
    body.extend_from_slice(format!("/Parent {}", line.parent.map_or(root.reference(), reference)).as_bytes());
    for (key, other) in [("Prev", line.before), ("Next", line.after), ("First", line.first), ("Last", line.last)] {
        if let Some(other) = other {
            body.extend_from_slice(format!("/{key} {}", reference(other)).as_bytes());
        }
    }
    if line.below > 0 {
        let sign = if line.level < open { "" } else { "-" };
        body.extend_from_slice(format!("/Count {sign}{}", line.below).as_bytes());
    }
    body.extend_from_slice(b"/Dest");
    body.extend_from_slice(&entry.place.spelt());
    body.extend_from_slice(b">>");
    body
}
