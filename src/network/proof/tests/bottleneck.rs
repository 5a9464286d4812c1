//! Meshes of which all comes by one place, and what asks for a closer look stands above it.

use proptest::prelude::*;
use proptest::sample::Index;

use super::super::fitness::starts_of;
use super::fixture::Site;
use super::meshed::{both, mesh};
use super::random::cases;
use crate::network::id::NodeId;
use crate::network::{Carrier, Cut};

/// Whether no line brings anything to the rows with these devices open.
fn parts_lines(site: &Site, devices: &[NodeId]) -> bool {
    let declared = site.declared();
    let verdict = declared.verdict(&declared.opened(devices.iter().copied()));
    verdict.paths.iter().all(|path| path.carrier == Carrier::Neutral)
}

/// A mesh of which some things ask for a closer look: changeovers, coupled interlocks, UPSs and what is not described.
fn mesh_with_more() -> impl Strategy<Value = String> {
    let more = prop_oneof![
        3 => Just("changeover"),
        1 => Just("changeover-off"),
        1 => Just("isolator il=IL1"),
        1 => Just("isolator il=IL1"),
        1 => Just("isolator il=IL2"),
        2 => Just("ups"),
        1 => Just("ups-with-battery-apart"),
        1 => Just("converter"),
        1 => Just("unknown"),
        1 => Just("isolator by=survey"),
        4 => Just("isolator"),
    ];
    let feeds = prop::collection::vec((any::<Index>(), any::<Index>()), 1..3);
    (mesh(), prop::collection::vec((any::<Index>(), more, feeds), 1..4)).prop_map(|(mesh, more)| {
        let mut lines: Vec<String> = mesh.lines().map(str::to_owned).collect();
        let boards: Vec<usize> = (0..lines.len()).filter(|line| lines[*line].starts_with('b')).collect();
        let mains: Vec<usize> = (0..lines.len()).filter(|line| lines[*line].starts_with('m')).collect();
        let name = |line: &str| line.split(' ').next().unwrap_or_default().to_owned();
        for (number, (to, kind, feeds)) in more.iter().enumerate() {
            // Mostly a board's first feed comes through it, too; else it stands beside.
            let board = *to.get(&boards);
            let of = |(main, other): &(Index, Index)| match main.index(3) {
                0 => name(&lines[*other.get(&boards)]),
                _ => name(&lines[*main.get(&mains)]),
            };
            let mut feeds: Vec<String> = feeds.iter().map(of).collect();
            let (start, rest) = lines[board]
                .split_once("< ")
                .map(|(start, rest)| (start.to_owned(), rest.to_owned()))
                .unwrap_or_default();
            if number % 2 == 0 && kind.starts_with("changeover") {
                let (first, others) = rest.split_once(" + ").unwrap_or((&rest, ""));
                feeds.push(first.to_owned());
                let others = if others.is_empty() { String::new() } else { format!(" + {others}") };
                lines[board] = format!("{start}< x{number}{others}");
            } else {
                lines[board] = format!("{start}< {rest} + x{number}");
            }
            feeds.dedup();
            let (kind, options) = kind.split_once(' ').unwrap_or((kind, ""));
            lines.push(format!("x{number} {kind} < {} {options}", feeds.join(" + ")).trim_end().to_owned());
        }
        // Rows come last.
        lines.sort_by_key(|line| line.starts_with("row "));
        lines.join("\n")
    })
}

proptest! {
    #![proptest_config(cases(4_000))]

    #[test]
    fn what_is_above_a_place_by_which_all_comes_is_parted_as_if_nobody_had_looked_before(text in mesh_with_more()) {
        let site = Site::of(&text);
        let (found, of_all, _) = both(&site);
        if found != of_all {
            // Of two as small it is not always the same that is nearer by the flow and by the steps.
            let size = |cut: &Option<Cut>| cut.as_ref().map(|cut| (cut.operations, cut.proved_smallest));
            prop_assert_eq!(size(&found), size(&of_all), "{}", text);
            prop_assert!(parts_lines(&site, &found.map_or_else(Vec::new, |cut| cut.devices)), "{}", text);
        }
    }
}

/// Below a changeover of mains and generator stands a ring of two boards, and a busbar with modules of its own.
#[test]
fn below_a_place_by_which_all_comes_the_smaller_cut_is_named_and_of_those_as_small_the_nearer() {
    let site = |changeover: &str, more: &str| {
        format!(
            "s0 source\ns1 source\nm0 isolator < s0\nm1 isolator < s1\nx {changeover} < m0 + m1\nb0 busbar < x{more}\n\
             f0 isolator < b0\nf1 isolator < b0\nb1 busbar < f0 + g1\ng1 isolator < b2\nb2 busbar < f1 + g2\n\
             g2 isolator < b1\nq0 isolator < b1\nq1 isolator < b2\nq2 isolator < b2\npv source\nqp isolator < pv\n\
             px isolator < pv"
        )
    };
    let names = |network: &str, rows: &str| {
        let site = Site::of(&format!("{network}\n{rows}"));
        let (found, of_all, is_clear) = both(&site);
        assert!(!is_clear && found == of_all, "{found:?} {of_all:?}");
        found.map(|cut| cut.devices.iter().map(|node| site.names[node.index()].clone()).collect::<Vec<_>>().join(" "))
    };
    let two = "row q0 at q0.load\nrow q1 at q1.load";
    let three = "row q0 at q0.load\nrow q1 at q1.load\nrow q2 at q2.load";
    // A changeover that isolates is one operation, one that does not leaves its two feeds.
    let isolates = site("changeover-off", "");
    assert_eq!(names(&isolates, two).as_deref(), Some("x"));
    assert_eq!(names(&isolates, "row q0 at q0.load").as_deref(), Some("q0"));
    assert_eq!(names(&isolates, "row q0 at b0.load").as_deref(), Some("x"));
    let passes = site("changeover", "");
    assert_eq!(names(&passes, two).as_deref(), Some("q0 q1"));
    assert_eq!(names(&passes, three).as_deref(), Some("f0 f1"));
    assert_eq!(names(&passes, "row q0 at b0.load").as_deref(), Some("m0 m1"));
    // What a UPS on a board of the ring may feed back does not come by the changeover.
    let ups = format!("{isolates}\nqu isolator < b2\nups ups < qu");
    assert_eq!(names(&ups, three).as_deref(), Some("x qu"));
    assert_eq!(names(&ups, two).as_deref(), Some("q0 q1"));
    // With modules on the same busbar the changeover is one of two, and further away.
    let modules = site("changeover-off", " + qp");
    assert_eq!(names(&modules, two).as_deref(), Some("q0 q1"));
    assert_eq!(names(&modules, "row q0 at b0.load").as_deref(), Some("x qp"));
    // What comes to a board of the ring comes past that busbar.
    let beside = isolates.replace("b2 busbar < f1", "b2 busbar < px + f1");
    assert_eq!(names(&beside, three).as_deref(), Some("x px"));
    let beside = passes.replace("b2 busbar < f1", "b2 busbar < px + f1");
    assert_eq!(names(&beside, two).as_deref(), Some("q0 q1"));
    // Without a device above nothing parts that busbar, and what hangs below a cut-out nothing at all.
    let bare = passes.replace("m0 isolator", "m0 cutout");
    assert_eq!(names(&bare, two).as_deref(), Some("q0 q1"));
    assert_eq!(names(&bare, "row q0 at b0.load"), None);
    let dead = passes.replace("s0 source", "s0 ups < pv").replace("s1 source", "s1 isolator");
    assert_eq!(names(&dead, two), None, "the description ends there");
}

/// Of a ring no step only turns back, and still none of them leads to a neutral that can be live.
#[test]
fn a_neutral_matters_where_one_that_can_be_live_can_come_to_only() {
    let matters = |neutral: &str| {
        let site = Site::of(&format!(
            "s0 source neutral={neutral}\nb0 busbar < s0\nf0 isolator < b0\nf1 isolator < b0\nb1 busbar < f0 + g1\n\
             g1 isolator < b2\nb2 busbar < f1 + g2\ng2 isolator < b1\nq0 isolator < b1\nrow q0 at q0.load neutral=yes"
        ));
        let declared = site.declared();
        starts_of(&declared, |_| true).iter().any(|terminal| declared.groundwork.neutral_matters(*terminal))
    };
    assert!(!matters("earthed"));
    assert!(matters("live") && matters("unknown"));
}
