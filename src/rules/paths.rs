//! Paths and gaps of a proof in English, for messages.

use super::phrases::list;
use crate::network::{Gap, Network, NodeId};

/// A path from its source to what is next to the live parts: `GEN -> CO1 -> ESB -> QE4 (Switchroom 2)`.
pub(super) fn path_in_words(network: &Network, nodes: &[NodeId]) -> String {
    let names: Vec<_> = nodes.iter().map(|node| format!("`{}`", network.node_phrase(*node))).collect();
    match names.as_slice() {
        [] => "what lies on the way is not known".to_owned(),
        [only] => format!("it is connected to {only}"),
        [source, way @ ..] => format!("energy comes from {source} by way of {}", list(way.iter().map(String::as_str))),
    }
}

/// Why it is not known whether live parts remain, as a clause: `nothing describes Q7 in the supplies file`.
pub(super) fn gap_in_words(network: &Network, gap: &Gap) -> String {
    let name = |node: &NodeId| format!("`{}`", network.node_phrase(*node));
    match gap {
        Gap::NothingSaid(_) => "nothing says what isolates a circuit, or what feeds it".to_owned(),
        Gap::NotDescribed(node) => format!("the supplies file does not describe {}", name(node)),
        Gap::FeedNotSaid(node) => format!("the supplies file does not say what feeds {}", name(node)),
        Gap::PolesNotSaid(node, _) => format!("it is not said which conductors {} switches", name(node)),
        Gap::NeutralNotSaid(node, _) => {
            format!("it is not said whether the neutral that begins at {} can be live", name(node))
        }
        Gap::LenderNotFound(_) => "it is not said where the circuit runs whose neutral is shared".to_owned(),
        Gap::BackFeed(_, nodes) => match nodes.first() {
            Some(ups) => format!("{} may feed back", name(ups)),
            None => "a UPS may feed back".to_owned(),
        },
    }
}
