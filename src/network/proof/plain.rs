//! Where nothing is left to be found out: from some terminals every way leads to what is live, and through nothing but
//! conductors and the insides of nodes. The first device that parts everything there is then the smallest cut and the
//! nearest, so that nobody needs to look beyond it; the most of a site is mostly beyond.

use std::collections::BinaryHeap;

use super::super::id::NodeId;
use super::conduction::{Arriving, Conduction, End, Pass, Step};

/// The terminals from which every way leads to what is live, without a turning, a circle, a doubt or an end of the
/// description on it: each with its number, which is higher than those of all to which its steps lead. 0 for all others.
#[derive(Clone, Debug)]
pub(super) struct Plain(Vec<u32>);

/// What the opening of a device comes to where energy passes it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Opening {
    /// It parts what passes it.
    Parts,
    /// It does not.
    LetsThrough,
    /// Other devices are opened with it, here or elsewhere.
    OpensOthers,
}

impl Plain {
    /// Works it out from what is live downwards, each step once.
    pub(super) fn of(conduction: &Conduction, arriving: &Arriving) -> Self {
        let terminals = || 0..conduction.terminals();
        let mut open: Vec<usize> = terminals().map(|terminal| conduction.steps(terminal).len()).collect();
        let is_top = |terminal: &usize| conduction.steps(*terminal).is_empty() && may_be(conduction, *terminal);
        let mut waiting: Vec<usize> = terminals().filter(is_top).collect();
        let mut numbers = vec![0; conduction.terminals()];
        let mut last = 0;
        while let Some(terminal) = waiting.pop() {
            last += 1;
            numbers.get_mut(terminal).into_iter().for_each(|number| *number = last);
            for (below, _) in arriving.at(terminal) {
                let Some(open) = open.get_mut(*below) else { continue };
                *open -= 1;
                if *open == 0 && may_be(conduction, *below) {
                    waiting.push(*below);
                }
            }
        }
        Self(numbers)
    }

    /// The first device through which all energy comes that can reach any of these terminals, and which parts it; `None`
    /// where there is none, where not all of them are plain, or where a device is passed that opens others.
    pub(super) fn one_device(
        &self,
        conduction: &Conduction,
        starts: &[usize],
        opening: impl Fn(NodeId) -> Opening,
    ) -> Option<NodeId> {
        // The highest number comes first: whatever leads to a terminal has been looked at before it.
        let mut waiting = BinaryHeap::with_capacity(starts.len() + 1);
        for start in starts {
            waiting.push((self.number(*start)?, *start));
        }
        let mut next = waiting.pop()?;
        loop {
            while waiting.peek() == Some(&next) {
                waiting.pop();
            }
            let (_, terminal) = next;
            if conduction.end(terminal) == End::Live {
                return None;
            }
            let steps = conduction.steps(terminal);
            // A changeover all of whose feeds come to one is passed on several steps.
            let passed = steps.first().and_then(|step| step.pass.node());
            let is_only = waiting.is_empty() && steps.iter().all(|step| step.pass.node() == passed);
            let mut following = None;
            for step in steps {
                match step.pass.node().map_or(Opening::LetsThrough, &opening) {
                    Opening::Parts if is_only => return passed,
                    Opening::Parts | Opening::LetsThrough => {
                        let to = (self.number(step.to)?, step.to);
                        // Most steps are the only one of a terminal, and lead to what comes next.
                        if steps.len() == 1 && waiting.peek().is_none_or(|first| *first <= to) {
                            following = Some(to);
                        } else {
                            waiting.push(to);
                        }
                    }
                    Opening::OpensOthers => return None,
                }
            }
            next = following.or_else(|| waiting.pop())?;
        }
    }

    fn number(&self, terminal: usize) -> Option<u32> {
        self.0.get(terminal).copied().filter(|number| *number > 0)
    }
}

/// Whether a terminal is plain if all those are to which steps lead from there.
fn may_be(conduction: &Conduction, terminal: usize) -> bool {
    let steps = conduction.steps(terminal);
    let is_fed = match conduction.end(terminal) {
        End::Live => true,
        End::Nothing => !steps.is_empty(),
        End::BackFeed | End::NotDescribed | End::FeedNotSaid => false,
    };
    let is_plain = |step: &Step| matches!(step.pass, Pass::Free | Pass::Through(_));
    is_fed && steps.iter().all(is_plain)
}
