//! What the tests of the network share: a survey and a supplies file as text, joined.

use super::{EnclosureId, Network, NetworkOptions, Side, WayId};
use crate::finding::Finding;
use crate::supplies::{self, Supplies};
use crate::survey::{ReadOptions, Survey, read};

/// A supplies file from lines under a header: `device,kind,fed_from`. What is wrong with it by itself is left aside.
pub(crate) fn described(header: &str, lines: &[&str]) -> Supplies {
    let text = format!("{header}\n{}\n", lines.join("\n"));
    let read = supplies::read(text.as_bytes(), &supplies::ReadOptions::new("supplies.csv")).supplies;
    assert_eq!(read.devices.len(), lines.len(), "every line is a row");
    read
}

/// A source `D0` and a chain of isolators, so many rows together. Rows that are alike are copied, not read.
pub(crate) fn described_chain(length: usize) -> Supplies {
    let mut supplies = described("device,kind,fed_from", &["D0,source,", "D1,isolator,D0"]);
    for index in 2..length {
        let mut next = supplies.devices[1].clone();
        next.designation = format!("D{index}");
        next.fed_from = vec![format!("D{}", index - 1)];
        supplies.devices.push(next);
    }
    supplies
}

/// A survey from rows under a header.
pub(crate) fn surveyed(header: &str, rows: &[&str]) -> Survey {
    let text = format!("{header}\n{}\n", rows.join("\n"));
    read(text.as_bytes(), &ReadOptions::new("test.csv")).survey
}

/// The network of both, with what was found.
pub(crate) fn joined(survey: &Survey, supplies: &Supplies) -> (Network, Vec<Finding>) {
    Network::join(survey, Some(supplies), &NetworkOptions::default())
}

/// Where the live parts of each row of the first enclosure are connected: `load of Q7 (Board C)`.
pub(crate) fn live_parts(network: &Network) -> Vec<String> {
    let of_way = |way: WayId| {
        let terminals = network.live_parts(way).iter().map(|terminal| {
            let side = match terminal.side {
                Side::Supply => "supply",
                Side::Load => "load",
            };
            format!("{side} of {}", network.node_name(terminal.node))
        });
        terminals.collect::<Vec<_>>().join(", ")
    };
    network.way_ids(EnclosureId::new(0)).map(of_way).collect()
}
