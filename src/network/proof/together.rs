//! Whether a device parts the lines of several rows together: two circuits of one line each, of different lines, hang on two
//! lines, and a device of one pole parts one of them. Two circuits of one line each that nobody names may be on different
//! ones; a device of which nobody tells how many poles it has, or that they do not name, is not known to part both.

use std::collections::HashSet;

use smallvec::SmallVec;

use super::super::graph::Graph;
use super::super::id::NodeId;
use super::super::lines::Lines;
use super::super::needs::Needs;
use super::brought;
use super::conduction::{load, supply};
use super::declared::Declared;
use super::search::{MOST_LINES, Reach, may_come_to};

/// The opened devices that parted rows from something.
#[derive(Debug, Default)]
pub(super) struct Together {
    parted: SmallVec<[Parted; 4]>,
    rows: usize,
}

/// A device that parted a row from something.
#[derive(Clone, Copy, Debug)]
struct Parted {
    device: NodeId,
    /// The terminal from which that would come.
    from: usize,
    /// The number of the row.
    row: usize,
    needed: Needed,
}

/// The lines that a row names; none where it has one and does not say which.
#[derive(Clone, Copy, Debug, Default)]
struct Needed {
    lines: Lines,
    /// Whether a live midpoint is among them.
    midpoint: bool,
}

impl Needed {
    /// How many they are; poles where those are more.
    fn count(self) -> u8 {
        self.lines.count_for(Lines::default()) + u8::from(self.midpoint)
    }

    fn is_named(self) -> bool {
        self.lines.is_known()
    }

    fn with(self, other: Self) -> Self {
        Self { lines: self.lines.union(other.lines), midpoint: self.midpoint || other.midpoint }
    }

    fn has_all(self, other: Self) -> bool {
        self.lines.has_all(other.lines) && (self.midpoint || !other.midpoint)
    }

    /// Each by itself.
    fn each(self) -> impl Iterator<Item = Self> {
        let midpoint = self.midpoint.then_some(Self { midpoint: true, ..Self::default() });
        self.lines.each().map(|lines| Self { lines, midpoint: false }).chain(midpoint)
    }
}

impl Together {
    /// Takes a row along that names its lines or has one: only devices within its own system, and that part it as far as it
    /// is alone.
    pub(super) fn add(
        &mut self,
        declared: &Declared<'_>,
        open: &[NodeId],
        (needs, live_parts): (Needs, &[usize]),
        reach: &Reach,
    ) {
        let named = needs.named;
        if !named.is_known() && needs.lines != Some(1) {
            return;
        }
        let needed = Needed { lines: named, midpoint: needs.live_midpoint };
        let extents = &declared.groundwork.extents;
        let home = extents.of_all(live_parts);
        let is_there = |node: NodeId| home.binary_search(&extents.at(load(node))).is_ok();
        let lines = |node: NodeId| declared.by_rows.lines_together(open, node);
        let does_alone = |node| needed.count() <= lines(node).unwrap_or_else(|| lines_parted(declared.graph, node));
        let devices = reach.met_by_lines.iter().filter(|(node, _)| is_there(*node) && does_alone(*node));
        let row = self.rows;
        self.parted.extend(devices.map(|(device, from)| Parted { device: *device, from: *from, row, needed }));
        self.rows += 1;
    }

    /// The devices that are not said to part so many lines, where something would come on those that they leave, with these
    /// nodes open; each once.
    pub(super) fn too_few(mut self, declared: &Declared<'_>, open: &[NodeId]) -> SmallVec<[NodeId; 2]> {
        let graph = declared.graph;
        // Devices that one thing alone feeds may have the lines of a row in common: three fuses of one pole part three.
        let place = |parted: &Parted| match graph.into_node(parted.device) {
            [feed] if parted.from == supply(parted.device) => load(feed.from),
            _ => parted.from,
        };
        self.parted.sort_unstable_by_key(|parted| (place(parted), parted.row, parted.device));
        // What a device leaves comes to the next one beside the lines of other rows.
        let of_rows = most_lines(&self.parted);
        let mut found = SmallVec::new();
        for group in self.parted.chunk_by(|one, other| place(one) == place(other)) {
            let live_midpoint = group.iter().any(|it| it.needed.midpoint);
            // What comes to a device at one of its terminals has no more lines than stand beyond it.
            let comes_more = |it: &Parted| {
                !brought::at_most(graph, it.device, it.from, lines_parted(graph, it.device), live_midpoint)
                    && may_come_to(graph, declared.groundwork, open, (it.device, it.from), of_rows)
            };
            let unfit = overfull(graph, group).into_iter().chain(unnamed_beside_others(declared, group));
            found.extend(unfit.filter(comes_more).map(|it| it.device));
        }
        found.sort_unstable();
        found.dedup();
        found
    }
}

/// How many lines some rows can have together, and whether a live midpoint is among them. Each line that nobody names may
/// be one more.
fn most_lines(parted: &[Parted]) -> (u8, bool) {
    let named = parted.iter().fold(Needed::default(), |all, it| all.with(it.needed));
    let unnamed: HashSet<usize> = parted.iter().filter(|it| !it.needed.is_named()).map(|it| it.row).collect();
    let most = MOST_LINES.max(named.count());
    let lines = u8::try_from(unnamed.len()).map_or(most, |unnamed| named.count().saturating_add(unnamed).min(most));
    (lines, named.midpoint)
}

/// The devices that part a row whose line nobody names beside others, with fewer poles than those may have lines. Where the
/// rows themselves name a device and its poles are told, that is taken at its word.
fn unnamed_beside_others(declared: &Declared<'_>, group: &[Parted]) -> SmallVec<[Parted; 2]> {
    let is_told = |node: NodeId| declared.graph.node(node).is_some_and(|node| node.poles.is_some());
    let is_listed = |node: NodeId| declared.devices.iter().any(|(_, listed)| *listed == node);
    let is_no_ones_word = |it: &&Parted| !(is_told(it.device) && is_listed(it.device));
    let mut left: SmallVec<[Parted; 2]> = group.iter().filter(is_no_ones_word).copied().collect();
    left.sort_unstable_by_key(|it| (it.device, it.row));
    let is_doubtful = |parted: &&[Parted]| {
        let room = parted.first().map_or(0, |it| lines_parted(declared.graph, it.device));
        parted.iter().any(|it| !it.needed.is_named()) && most_lines(parted).0 > room
    };
    left.chunk_by(|one, other| one.device == other.device).filter(is_doubtful).flatten().copied().collect()
}

/// Gives the lines of some rows to the devices that part the row, and tells those that have no room for them.
///
/// Mostly every line may come through each of the devices. Only through devices of one pole, told so, no line comes twice: of
/// these each line has one, and rows with the fewest devices have the least choice.
fn overfull(graph: &Graph, group: &[Parted]) -> SmallVec<[Parted; 2]> {
    let mut rows: SmallVec<[&[Parted]; 4]> = group.chunk_by(|one, other| one.row == other.row).collect();
    rows.sort_by_key(|row| row.len());
    let mut given: SmallVec<[(NodeId, Needed); 4]> = SmallVec::new();
    let mut found = SmallVec::new();
    for row in rows {
        let needed = row.first().map_or_else(Needed::default, |first| first.needed);
        for line in needed.each() {
            if row.iter().all(|it| is_of_one_pole(graph, it.device)) {
                let has = |it: &Parted| given.iter().any(|(other, lines)| *other == it.device && lines.has_all(line));
                if !row.iter().any(has) && !row.iter().any(|it| take(graph, &mut given, it.device, line)) {
                    found.extend(row.iter().copied());
                }
            } else {
                found.extend(row.iter().filter(|it| !take(graph, &mut given, it.device, line)).copied());
            }
        }
    }
    found
}

/// Gives a line to a device, if it has that or has room for it.
fn take(graph: &Graph, given: &mut SmallVec<[(NodeId, Needed); 4]>, device: NodeId, line: Needed) -> bool {
    let place = given.iter().position(|(other, _)| *other == device).unwrap_or_else(|| {
        given.push((device, Needed::default()));
        given.len() - 1
    });
    let Some((_, lines)) = given.get_mut(place) else { return false };
    let with = lines.with(line);
    let has_room = with.count() <= lines_parted(graph, device);
    if has_room {
        *lines = with;
    }
    has_room
}

fn is_of_one_pole(graph: &Graph, device: NodeId) -> bool {
    graph.node(device).and_then(|node| node.poles).is_some_and(|poles| poles.lines == 1)
}

/// How many lines a device parts, for all that is said.
fn lines_parted(graph: &Graph, device: NodeId) -> u8 {
    graph.node(device).and_then(|node| node.poles).map_or(1, |poles| poles.lines)
}
