//! Why two conductors of an enclosure can be so far apart, in words: what both files say, and what is not proved.

use super::case::Case;
use super::phrases::list;
use crate::network::{Apart, Between, NodeId, NodeKind, WayId};
use crate::survey::value::Current;

/// Why two conductors of an enclosure can be so far apart.
pub(super) fn why_apart(case: &Case<'_>, between: &Between, current: Current) -> String {
    let circuit = |index: usize| case.enclosure.rows.get(index).map_or("", |row| &*row.circuit);
    let (one, other) = (circuit(between.rows.0), circuit(between.rows.1));
    let why = of_two(case, between, current, (one, other));
    if one != other {
        return why;
    }
    // Two rows may bear the name of one circuit.
    why.replace(&format!("circuits {one} and {other}"), &format!("two rows of circuit {one}"))
}

fn of_two(case: &Case<'_>, between: &Between, current: Current, (one, other): (&str, &str)) -> String {
    let ways = ways_of(case, between);
    match between.apart {
        Apart::OneCircuit => format!("between conductors of circuit {one}"),
        Apart::OneBoard => format!("circuits {one} and {other} are on different lines of one board"),
        Apart::OneBoardLinesNotSaid => {
            format!("circuits {one} and {other} come from one board, and on which lines is not said")
        }
        Apart::TwoBoards => {
            format!(
                "circuits {one} and {other} come from two boards, and line 1 may not be line 1{}",
                not_proved(case, ways)
            )
        }
        Apart::NotInStep => not_in_step(case, ways, current, one, other),
        Apart::TwoSystems => {
            format!("circuits {one} and {other} belong to systems of different voltage or earthing, so they add")
        }
        Apart::OneStore => {
            format!("circuits {one} and {other} are taken for one d.c. system, a battery and what charges it")
        }
        Apart::PhasingProved => format!(
            "circuits {one} and {other} are on different lines, and by the supplies file line 1 of the one is proved to be line 1 of the other"
        ),
        Apart::LinesNotSaid => {
            format!("line 1 is proved to be line 1, and on which lines circuits {one} and {other} are is not said")
        }
        Apart::InStep => format!(
            "circuits {one} and {other} come from sources that are held in step, and line 1 may not be line 1{}",
            not_proved(case, ways)
        ),
        Apart::VectorGroups => format!(
            "computed from the vector groups of transformers and rounded up; they turn circuit {one} against circuit {other}{}",
            transformers(case, ways)
        ),
        Apart::AngleNotKnown => format!(
            "a transformer lies between circuits {one} and {other}, and the angle between them is not proved, so they add{}",
            transformers(case, ways)
        ),
        Apart::Floating => format!(
            "of circuits {one} and {other} at least one is unearthed, and a first fault may lift it, so they add"
        ),
    }
}

/// The two rows as ways of the network.
fn ways_of(case: &Case<'_>, between: &Between) -> Option<(WayId, WayId)> {
    let way = |index: usize| case.network.way_ids(case.id).nth(index);
    way(between.rows.0).zip(way(between.rows.1))
}

fn not_in_step(case: &Case<'_>, ways: Option<(WayId, WayId)>, current: Current, one: &str, other: &str) -> String {
    let sources = ways.and_then(|(one, other)| case.network.systems().out_of_step(one, other));
    match (sources.map(|(source, second)| names(case, &[source, second])), current) {
        (Some(sources), Current::Ac) => format!(
            "circuits {one} and {other} can be fed from {sources}, which are not known to be held in step, so their voltages add"
        ),
        (Some(sources), Current::Dc) => {
            format!(
                "circuits {one} and {other} can be fed from {sources}, d.c. sources of their own, so their voltages add"
            )
        }
        (None, _) => format!(
            "circuits {one} and {other} come from sources that are not known to be held in step, so their voltages add"
        ),
    }
}

/// Where `phasing` would have to say `proved`.
fn not_proved(case: &Case<'_>, ways: Option<(WayId, WayId)>) -> String {
    let Some((one, other)) = ways else { return String::new() };
    let begins = |way| case.network.systems().numbered_at(way);
    let (Some(one), Some(other)) = (begins(one), begins(other)) else { return String::new() };
    let can_be_proved = |node: &NodeId| {
        let kind = case.network.graph().node(*node).map(|node| node.kind);
        matches!(
            kind,
            Some(NodeKind::Busbar | NodeKind::Changeover { .. } | NodeKind::Converter | NodeKind::Ups { .. })
        )
    };
    let mut nodes: Vec<_> = [one, other].into_iter().filter(can_be_proved).collect();
    nodes.dedup();
    if nodes.is_empty() || one == other {
        return String::new();
    }
    format!(" (not proved at {})", names(case, &nodes))
}

/// The transformers behind which the two are.
fn transformers(case: &Case<'_>, ways: Option<(WayId, WayId)>) -> String {
    let Some((one, other)) = ways else { return String::new() };
    let mut nodes: Vec<_> =
        [one, other].into_iter().filter_map(|way| case.network.systems().transformer(way)).collect();
    nodes.dedup();
    if nodes.is_empty() {
        return String::new();
    }
    format!(" ({})", names(case, &nodes))
}

fn names(case: &Case<'_>, nodes: &[NodeId]) -> String {
    let names: Vec<_> = nodes.iter().map(|node| case.network.node_name(*node)).collect();
    list(names.iter().map(String::as_str))
}
