//! Where nothing is left to be found out: from some terminals every way leads to what is live, and through nothing but
//! conductors and the insides of nodes.

use super::conduction::{Conduction, End, Pass, Step};

/// The terminals from which every way leads to what is live, without a turning, a circle, a doubt or an end of the
/// description on it.
#[derive(Clone, Debug)]
pub(super) struct Plain(Vec<bool>);

impl Plain {
    /// Works it out from what is live downwards, each step once.
    pub(super) fn of(conduction: &Conduction) -> Self {
        let mut ways_here: Vec<(usize, usize)> = (0..conduction.terminals())
            .flat_map(|terminal| conduction.steps(terminal).iter().map(move |step| (step.to, terminal)))
            .collect();
        ways_here.sort_unstable();
        let mut open: Vec<usize> =
            (0..conduction.terminals()).map(|terminal| conduction.steps(terminal).len()).collect();
        let is_alone = |terminal: &usize| conduction.steps(*terminal).is_empty() && may_be(conduction, *terminal);
        let mut waiting: Vec<usize> = (0..conduction.terminals()).filter(is_alone).collect();
        let mut plain = vec![false; conduction.terminals()];
        while let Some(terminal) = waiting.pop() {
            plain.get_mut(terminal).into_iter().for_each(|plain| *plain = true);
            let start = ways_here.partition_point(|(to, _)| *to < terminal);
            let ways = ways_here.get(start..).unwrap_or_default().iter().take_while(|(to, _)| *to == terminal);
            for (_, below) in ways {
                let Some(open) = open.get_mut(*below) else { continue };
                *open -= 1;
                if *open == 0 && may_be(conduction, *below) {
                    waiting.push(*below);
                }
            }
        }
        Self(plain)
    }

    /// Whether this is such a terminal.
    pub(super) fn has(&self, terminal: usize) -> bool {
        self.0.get(terminal) == Some(&true)
    }
}

/// Whether a terminal is one if all those are to which steps lead from there.
fn may_be(conduction: &Conduction, terminal: usize) -> bool {
    let steps = conduction.steps(terminal);
    let is_end = match conduction.end(terminal) {
        End::Live => true,
        End::Nothing => !steps.is_empty(),
        End::BackFeed | End::NotDescribed | End::FeedNotSaid => false,
    };
    is_end && steps.iter().all(is_plain)
}

/// Whether a step passes conductors or the inside of a node alone.
pub(super) const fn is_plain(step: &Step) -> bool {
    matches!(step.pass, Pass::Free | Pass::Through(_))
}
