//! The smallest set of devices that parts an enclosure from everything that can energise it, as advice.
//!
//! A maximum flow from the enclosure to the sources, on which every device counts one, is as large as the smallest cut;
//! where the residual flow ends stands the cut nearest to the enclosure. A coupled interlock opens several devices in
//! one operation, which no flow can express: every choice of interlocks is tried. The same goes for a device that can be
//! met with a changeover in one position or another.

use super::super::id::NodeId;
use super::super::needs::Lender;
use super::bottleneck::{self, Found};
use super::declared::{Declared, DeclaredRow};
use super::fitness::{Unfit, starts_of, unfit};
use super::flow::{Flow, Part};
use super::operations::{Operations, parts};
use super::plain::Opening;
use super::prepared::Groundwork;
use super::region::Region;
use super::search::MOST_LINES;
use super::together::Together;
use super::trying::{self, Trial};
use super::{Cut, Gap};

/// Up to so many times another cut is sought, without the devices with which the last one would not hold.
const ROUNDS_LIMIT: usize = 8;

/// Up to so many interlocks that bear on an enclosure, every choice of them is tried.
const INTERLOCKS_LIMIT: usize = 12;

/// The smallest cut; `None` where there is none, where the proof would not hold with it open, where nothing reaches the
/// enclosure, or where its network is not described.
pub(super) fn smallest(declared: &Declared<'_>) -> Option<Cut> {
    let is_known = |row: &DeclaredRow<'_>| match row.lender {
        Lender::None => !row.live_parts.is_empty(),
        Lender::At(terminals) => !row.live_parts.is_empty() && !terminals.is_empty(),
        Lender::NotFound => false,
    };
    if declared.is_impossible || !declared.rows.iter().all(is_known) {
        return None;
    }
    let starts = starts_of(declared, |_| true);
    let mut unfit = unfit(declared);
    for _ in 0..ROUNDS_LIMIT {
        let cut = of_lines(declared, &starts, &unfit)?;
        // Where every device parts the neutral with the lines, a way by which a live one comes would be one of the lines, too.
        let Groundwork { clear, clear_of_few_poles, clear_of_neutrals, .. } = declared.groundwork;
        let is_plain = !declared.rows.iter().any(|row| contradicts(declared, row))
            && [clear, clear_of_few_poles, clear_of_neutrals].iter().all(|clear| clear.has(&starts));
        let held = if is_plain { Held::Holds } else { held(declared, &cut.devices) };
        match held {
            Held::Holds => return Some(cut),
            Held::InDoubt => return None,
            Held::WithoutThese(devices) => unfit.add_rough(&devices),
        }
    }
    None
}

/// Whether the proof would hold with some devices open.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum Held {
    /// It would.
    Holds,
    /// It would not, and it is not known of which devices that comes.
    InDoubt,
    /// It would not, because these are not known to part everything.
    WithoutThese(Vec<NodeId>),
}

/// Holds a cut against the proof. What parts the lines mostly does, since devices that do not are no use; but a neutral of
/// its own can come in by a changeover where no line does, what a changeover does not switch was left aside, a device that is not known to switch many lines can stand in
/// another system, of which nobody says how many it has, and rows of one line each can have several together.
pub(super) fn held(declared: &Declared<'_>, devices: &[NodeId]) -> Held {
    let poles = |node: NodeId| declared.graph.node(node).and_then(|node| node.poles);
    let may_be_narrow = devices.iter().any(|node| poles(*node).is_none_or(|poles| poles.lines < MOST_LINES));
    let matters = |row: &&DeclaredRow<'_>| {
        let mut live_parts = row.live_parts.iter();
        may_be_narrow
            || !declared.groundwork.lines.is_all_switched()
            || contradicts(declared, row)
            || row.needs.neutral != Some(false)
                && live_parts.any(|terminal| declared.groundwork.neutral_matters(*terminal))
    };
    let mut rows = declared.rows.iter().filter(matters).peekable();
    if rows.peek().is_none() {
        return Held::Holds;
    }
    let open = declared.opened(devices.iter().copied());
    let (mut narrow, mut together) = (Vec::new(), Together::default());
    for row in rows {
        let reach = declared.reach(row, &open);
        if !reach.paths.is_empty() {
            return Held::InDoubt;
        }
        together.add(declared, &open, row.parted(), &reach);
        if contradicts(declared, row) {
            let parts_neutral = |node: NodeId| poles(node).is_some_and(|poles| poles.neutral);
            // Those that part the circuits whose neutral it shares are met too: that one would stay connected.
            narrow.extend(reach.met.iter().map(|(node, _)| *node).filter(|node| !parts_neutral(*node)));
        }
        for gap in reach.gaps {
            match gap {
                Gap::PolesNotSaid(device, _) => narrow.push(device),
                Gap::NeutralNotSaid(..) | Gap::ConductorsNotSaid(_) | Gap::SwitchedNotSaid(..) => return Held::InDoubt,
                Gap::OutputNotProved(_)
                | Gap::NothingSaid(_)
                | Gap::NotDescribed(_)
                | Gap::FeedNotSaid(_)
                | Gap::LinesTogetherNotSaid(_)
                | Gap::LenderNotFound(_)
                | Gap::AcrossNotSaid(..)
                | Gap::BackFeed(..) => {}
            }
        }
    }
    narrow.extend(together.too_few(declared, &open));
    if narrow.is_empty() { Held::Holds } else { Held::WithoutThese(narrow) }
}

/// Whether the neutral of a row can be live by its own word, and not by the supplies file: an outbuilding may have an
/// electrode of its own that the file does not show.
fn contradicts(declared: &Declared<'_>, row: &DeclaredRow<'_>) -> bool {
    let mut live_parts = row.live_parts.iter();
    row.needs.neutral_can_be_live && !live_parts.any(|terminal| declared.groundwork.neutral_matters(*terminal))
}

/// The smallest set that parts the lines from these terminals. Where one device would do alone, or all comes by one place
/// below which everything is clear, no more is looked at than that takes.
pub(super) fn of_lines(declared: &Declared<'_>, starts: &[usize], unfit: &Unfit) -> Option<Cut> {
    if let Some(device) = one_device(declared, starts, unfit) {
        return Some(Cut { devices: vec![device], operations: 1, proved_smallest: true });
    }
    if unfit.devices.is_empty() {
        match bottleneck::smallest(declared, starts) {
            Found::Smallest(cut) => return cut,
            Found::NeedsCloserLook => {}
        }
    }
    smallest_in(declared, &Region::of(&declared.groundwork.lines, starts), unfit)
}

/// The device nearest to the enclosure that would do alone, where that is plain to see.
pub(super) fn one_device(declared: &Declared<'_>, starts: &[usize], unfit: &Unfit) -> Option<NodeId> {
    let (graph, lines) = (declared.graph, &declared.groundwork.lines);
    let opening = |node: NodeId| match graph.node(node).and_then(|node| node.coupled) {
        Some(_) => Opening::OpensOthers,
        None if parts(graph, unfit, node) => Opening::Parts,
        None => Opening::LetsThrough,
    };
    declared.groundwork.plain.one_device(lines, starts, opening)
}

/// The smallest cut within a region.
pub(super) fn smallest_in(declared: &Declared<'_>, region: &Region, unfit: &Unfit) -> Option<Cut> {
    if region.has_gap || !region.is_live {
        return None;
    }
    best_in(declared, region, unfit).map(Candidate::into_cut)
}

/// The same of a region in which something is live.
pub(super) fn best_in(declared: &Declared<'_>, region: &Region, unfit: &Unfit) -> Option<Candidate> {
    let operations = Operations::of(declared, region, unfit);
    let mut flow = Flow::of(region, &operations);
    let several = operations.of_several_contacts();
    if several.len() <= INTERLOCKS_LIMIT {
        return try_every_choice(declared, &mut flow, (&operations, &several));
    }
    let found = flow.complete(|_| Part::MayBeDone)?;
    let interlocks = operations.list.iter().filter(|operation| operation.is_interlock).count();
    let smaller = match interlocks {
        0..=INTERLOCKS_LIMIT => trying::smaller(region, &operations, found.len()),
        _ => Trial::GivenUp,
    };
    let (done, is_smallest) = match smaller {
        Trial::Found(smaller) => (smaller, true),
        Trial::NoneIsSmaller => (found, true),
        Trial::GivenUp => (found, false),
    };
    let mut best = Candidate::of(declared, &operations, &done);
    best.proved_smallest &= is_smallest;
    Some(best)
}

/// The best cut over all choices of the operations that open several contacts, the others completing it by a flow.
fn try_every_choice(
    declared: &Declared<'_>,
    flow: &mut Flow<'_>,
    (operations, several): (&Operations, &[usize]),
) -> Option<Candidate> {
    let mut best: Option<Candidate> = None;
    for size in 0..=several.len() {
        if best.as_ref().is_some_and(|best| best.count < size) {
            break;
        }
        for choice in (0..1_u32 << several.len()).filter(|choice| choice.count_ones() as usize == size) {
            let is_chosen = |place: usize| choice >> place & 1 == 1;
            let part = |operation: usize| match several.binary_search(&operation) {
                Ok(place) if is_chosen(place) => Part::Done,
                Ok(_) => Part::LeftOut,
                Err(_) => Part::MayBeDone,
            };
            let Some(mut done) = flow.complete(part) else { continue };
            let chosen = several.iter().enumerate().filter(|(place, _)| is_chosen(*place));
            done.extend(chosen.map(|(_, operation)| *operation));
            let candidate = Candidate::of(declared, operations, &done);
            best = best.filter(|best| *best <= candidate).or(Some(candidate));
        }
    }
    best
}

/// A cut; the smaller one is better, and of two as small the one nearer to the enclosure.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Candidate {
    /// How many operations it takes.
    pub(super) count: usize,
    /// How many steps they are from the live parts, taken together.
    pub(super) depths: usize,
    /// What is opened; sorted.
    pub(super) devices: Vec<NodeId>,
    /// Whether none that is smaller can have been missed.
    pub(super) proved_smallest: bool,
}

impl Candidate {
    fn of(declared: &Declared<'_>, operations: &Operations, done: &[usize]) -> Self {
        let chosen = done.iter().filter_map(|number| operations.list.get(*number));
        let depths = chosen.map(|operation| operation.depth).sum();
        let mut devices: Vec<NodeId> = done.iter().flat_map(|number| operations.devices(declared, *number)).collect();
        devices.sort_unstable();
        Self { count: done.len(), depths, devices, proved_smallest: !operations.is_rough }
    }

    /// The cut as it is told.
    pub(super) fn into_cut(self) -> Cut {
        // Nothing is fewer than one.
        let proved_smallest = self.proved_smallest || self.count == 1;
        Cut { devices: self.devices, operations: self.count, proved_smallest }
    }
}
