//! Where no closer look is needed: on no way of the lines to what is live is there anything but conductors, the insides of
//! nodes and devices each of which is opened by itself; or none of too few poles; and in the same way of the neutrals.

use super::super::graph::{Graph, NodeKind};
use super::conduction::{Arriving, Conduction, End, Pass, Step, device_passed};
use super::search::MOST_LINES;

/// For every terminal, whether all that can bring energy to it is clear. Circles are.
#[derive(Clone, Debug)]
pub(super) struct Clear(Vec<bool>);

impl Clear {
    /// Where the lines need no closer look.
    pub(super) fn of_lines(graph: &Graph, (lines, arriving): (&Conduction, &Arriving)) -> Self {
        Self::of((lines, arriving), |terminal| is_clear(graph, lines, terminal))
    }

    /// Where the lines bring nothing that is certainly live, if layers are not looked at.
    pub(super) fn of_live(lines: &Conduction, arriving: &Arriving) -> Self {
        Self::of((lines, arriving), |terminal| lines.end(terminal) != End::Live)
    }

    /// Where every device that can be met by the lines is known to part all of any row.
    pub(super) fn of_few_poles(graph: &Graph, (lines, arriving): (&Conduction, &Arriving)) -> Self {
        Self::of((lines, arriving), |terminal| {
            lines.is_switched(terminal) && lines.steps(terminal).iter().all(|step| parts_lines(graph, step))
        })
    }

    /// Where every device that can be met by the neutrals is known to part them.
    pub(super) fn of_neutrals(graph: &Graph, neutrals: &Conduction) -> Self {
        Self::of((neutrals, &Arriving::of(neutrals)), |terminal| {
            neutrals.is_switched(terminal) && neutrals.steps(terminal).iter().all(|step| parts_neutral(graph, step))
        })
    }

    /// Works it out from what is not clear downwards, each step once.
    fn of((conduction, arriving): (&Conduction, &Arriving), is_clear: impl Fn(usize) -> bool) -> Self {
        let terminals = 0..conduction.terminals();
        let mut clear: Vec<bool> = terminals.clone().map(is_clear).collect();
        let mut waiting: Vec<usize> = terminals.filter(|terminal| clear.get(*terminal) == Some(&false)).collect();
        while let Some(terminal) = waiting.pop() {
            for (below, _) in arriving.at(terminal) {
                if let Some(is_clear) = clear.get_mut(*below).filter(|is_clear| **is_clear) {
                    *is_clear = false;
                    waiting.push(*below);
                }
            }
        }
        Self(clear)
    }

    /// Whether all that can bring energy to these terminals is clear.
    pub(super) fn has(&self, terminals: &[usize]) -> bool {
        terminals.iter().all(|terminal| self.0.get(*terminal) == Some(&true))
    }
}

/// Whether energy comes from a terminal, or may come by it in a way that needs a closer look.
pub(super) fn is_origin(graph: &Graph, conduction: &Conduction, terminal: usize) -> bool {
    matches!(conduction.end(terminal), End::Live | End::BackFeed) || !is_clear(graph, conduction, terminal)
}

/// Whether nothing at a terminal, nor what the steps from there pass, asks for a closer look.
pub(super) fn is_clear(graph: &Graph, conduction: &Conduction, terminal: usize) -> bool {
    let is_known = match conduction.end(terminal) {
        End::Nothing | End::Live | End::BackFeed => true,
        End::NotDescribed | End::FeedNotSaid => false,
    };
    is_known
        && conduction.is_switched(terminal)
        && conduction.steps(terminal).iter().all(|step| parts_or_conducts(graph, conduction, step))
}

/// Whether a step passes nothing, or something of which it is plain what opening it comes to.
fn parts_or_conducts(graph: &Graph, conduction: &Conduction, step: &Step) -> bool {
    let id = match step.pass {
        Pass::Free => return true,
        Pass::Through(id) => id,
        // At the input of a UPS a way ends.
        Pass::Into(_) => return conduction.steps(step.to).is_empty(),
        Pass::Bypass(_) | Pass::Across(_) | Pass::Unswitched(_) => return false,
    };
    let Some(node) = graph.node(id) else { return false };
    node.coupled.is_none()
        && match node.kind {
            // The same contact is met in several positions.
            NodeKind::Changeover { .. } => false,
            NodeKind::Isolator
            | NodeKind::Source
            | NodeKind::Cutout
            | NodeKind::Switch
            | NodeKind::Transformer
            | NodeKind::Ups { .. }
            | NodeKind::Converter
            | NodeKind::Busbar
            | NodeKind::NotKnown => true,
        }
}

/// Whether a step passes no device suitable for isolation, or one that is known to part as many lines as any row has.
fn parts_lines(graph: &Graph, step: &Step) -> bool {
    let device = device_passed(graph, step).and_then(|id| graph.node(id));
    device.is_none_or(|device| device.poles.is_some_and(|poles| poles.lines >= MOST_LINES))
}

/// Whether a step passes no device suitable for isolation, or one that is known to part the neutral.
fn parts_neutral(graph: &Graph, step: &Step) -> bool {
    let device = device_passed(graph, step).and_then(|id| graph.node(id));
    device.is_none_or(|device| device.poles.is_some_and(|poles| poles.neutral))
}
