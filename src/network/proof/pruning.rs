//! Steps that lead nowhere: from where they arrive one could only turn back.

use super::super::graph::{Graph, NodeKind};
use super::conduction::{Conduction, End, Pass, Step, is_load, node_of};

/// For every step, in order, whether it can lead to an end.
///
/// A step is useless if the terminal where it arrives is no end and has no further step but the one back; leaving it
/// out can make others useless. A changeover entered from a feed leads only to what hangs below it.
pub(super) fn useful_steps(graph: &Graph, all: &Conduction) -> Vec<bool> {
    let mut pruning = Pruning::new(graph, all);
    let mut waiting: Vec<usize> = (0..all.terminals()).rev().collect();
    while let Some(terminal) = waiting.pop() {
        pruning.look_at(terminal, &mut waiting);
    }
    pruning.useful
}

/// The steps that leave and reach a terminal.
#[derive(Clone, Default)]
struct Around {
    /// The number of the first step that leaves.
    first: usize,
    /// How many useful steps leave.
    leaving: usize,
    /// How many of them do not pass the inside of the node.
    outside: usize,
    /// The steps that arrive: terminal of departure, number of the step, what it passes.
    arriving: Vec<(usize, usize, Pass)>,
}

struct Pruning<'a> {
    all: &'a Conduction,
    around: Vec<Around>,
    is_changeover: Vec<bool>,
    useful: Vec<bool>,
}

impl<'a> Pruning<'a> {
    fn new(graph: &Graph, all: &'a Conduction) -> Self {
        let mut around = vec![Around::default(); all.terminals()];
        let mut count = 0;
        for terminal in 0..all.terminals() {
            let steps = all.steps(terminal);
            if let Some(here) = around.get_mut(terminal) {
                here.first = count;
                here.leaving = steps.len();
                here.outside = steps.iter().filter(|step| is_outside(step.pass)).count();
            }
            for step in steps {
                if let Some(there) = around.get_mut(step.to) {
                    there.arriving.push((terminal, count, step.pass));
                }
                count += 1;
            }
        }
        let changes_over = |terminal| {
            let node = graph.node(node_of(terminal)).filter(|_| is_load(terminal));
            node.is_some_and(|node| matches!(node.kind, NodeKind::Changeover { .. }))
        };
        let is_changeover = (0..all.terminals()).map(changes_over).collect();
        Self { all, around, is_changeover, useful: vec![true; count] }
    }

    fn look_at(&mut self, terminal: usize, waiting: &mut Vec<usize>) {
        let Some(here) = self.around.get(terminal) else { return };
        let leads_down = here.outside > 0 || !self.is_changeover.get(terminal).copied().unwrap_or(false);
        if self.all.end(terminal) != End::Nothing || (here.leaving > 1 && leads_down) {
            return;
        }
        let only = self.useful_from(terminal, here).next().filter(|_| here.leaving == 1).map(|step| step.to);
        let (turns_back, is_blind) = (only, here.leaving == 0);
        for (departure, number, pass) in here.arriving.clone() {
            let enters = matches!(pass, Pass::Into(_)) && !leads_down;
            let Some(useful) = self.useful.get_mut(number) else { continue };
            if !*useful || !(is_blind || enters || turns_back == Some(departure)) {
                continue;
            }
            *useful = false;
            if let Some(there) = self.around.get_mut(departure) {
                there.leaving = there.leaving.saturating_sub(1);
                there.outside = there.outside.saturating_sub(usize::from(is_outside(pass)));
            }
            waiting.push(departure);
        }
    }

    fn useful_from(&self, terminal: usize, here: &Around) -> impl Iterator<Item = &Step> {
        let useful = self.useful.get(here.first..).unwrap_or_default();
        self.all.steps(terminal).iter().zip(useful).filter(|(_, useful)| **useful).map(|(step, _)| step)
    }
}

const fn is_outside(pass: Pass) -> bool {
    !matches!(pass, Pass::Through(_) | Pass::Bypass(_))
}
