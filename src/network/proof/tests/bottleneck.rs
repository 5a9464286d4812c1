//! Meshes of which all comes by one place, and what asks for a closer look stands above it.

use proptest::prelude::*;
use proptest::sample::Index;

use super::super::fitness::starts_of;
use super::fixture::Site;
use super::meshed::{both, mesh};
use super::random::cases;
use crate::network::id::{EnclosureId, NodeId};
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

/// What is above one place is kept for all that hangs below that place, and for nothing else.
#[test]
fn what_is_above_a_place_is_not_taken_for_what_is_above_another() {
    let site = Site::of(
        "s1 source\ns2 source\ns3 source\nm1 isolator < s1 il=IL1\nm2 isolator < s2 il=IL2\nn isolator < s3 il=IL3\n\
         f isolator < m1 + m2\nb busbar < f + n\nx changeover-off < m1 + n\nc busbar < x\n\
         row f at f.supply\n--\nrow f at f.load\n--\nrow x at c.load",
    );
    let names = |enclosure| names_of(&site, site.network.proof(EnclosureId::new(enclosure)).cut.as_ref());
    // Both sides of one device are places, and each is asked for again after the others.
    for _ in 0..2 {
        assert_eq!([0, 1, 2].map(names), ["m1 m2 f", "n f", "x"]);
    }
}

/// The names of the devices of a cut, in the order of their numbers.
fn names_of(site: &Site, cut: Option<&Cut>) -> String {
    let devices = cut.map_or(&[][..], |cut| &cut.devices);
    devices.iter().map(|node| site.name(*node)).collect::<Vec<_>>().join(" ")
}

/// Of two rows the second hangs further below its breaker the more cut-outs stand between, and the sources are further away
/// the more of them stand above the changeover.
#[test]
fn of_two_cuts_as_small_below_a_place_and_above_it_that_of_fewer_steps_is_named() {
    let chain = |name: &str, from: &str, length: usize| {
        let mut lines = vec![format!("{name}-0 busbar < {from}")];
        lines.extend((1..=length).map(|place| format!("{name}-{place} cutout < {name}-{}", place - 1)));
        lines.join("\n")
    };
    for (below, above) in (0..9_usize).flat_map(|below| (0..4_usize).map(move |above| (below, above))) {
        let sources = format!(
            "s0 source\ns1 source\nm0 isolator < s0\nm1 isolator < s1\n{}\n{}\nx changeover < u-{above} + v-{above}",
            chain("u", "m0", above),
            chain("v", "m1", above)
        );
        let boards = format!("b busbar < x\nq0 isolator < b\nq1 isolator < b\n{}", chain("w", "q1", below));
        let of_rows = 2 * (below + 1);
        // From each row to the changeover there are four steps, the second time with those below the breaker.
        let of_sources = 2 * (5 + 2 * (above + 1));
        for (first, second, is_near) in
            [(&sources, &boards, of_rows < of_sources), (&boards, &sources, of_rows <= of_sources)]
        {
            let site = Site::of(&format!("{first}\n{second}\nrow q0 at q0.load\nrow q1 at w-{below}.load"));
            let found = both(&site).0;
            assert_eq!(names_of(&site, found.as_ref()), if is_near { "q0 q1" } else { "m0 m1" }, "{below} {above}");
        }
    }
}

/// Above so many interlocks nobody tries every choice of them; what certainly takes more than the breakers below needs no look.
#[test]
fn what_is_above_a_place_is_no_smaller_than_what_parts_a_part_of_it() {
    let chain = |name: &str, turned: usize| -> String {
        let line = |place: usize| {
            let from = if place == 0 { format!("s{name}") } else { format!("{name}{}", place - 1) };
            format!("{name}{place} isolator < {from} il=IL{}\n", (place + turned) % 14)
        };
        format!("s{name} source\n{}", (0..14).map(line).collect::<String>())
    };
    let site = |more: &str, feeds: &str| {
        Site::of(&format!(
            "{}{}{}{more}b busbar < {feeds}\nq0 isolator < b\nq1 isolator < b\nrow q0 at q0.load\nrow q1 at q1.load",
            chain("l", 0),
            chain("m", 5),
            chain("r", 10)
        ))
    };
    let cut = |site: &Site| {
        let (found, of_all, _) = both(site);
        let told = |cut: Option<&Cut>| (names_of(site, cut), cut.map(|cut| cut.proved_smallest));
        (told(found.as_ref()), told(of_all.as_ref()))
    };
    // One handle parts all chains. Of three it is not found, and what is found is no bound.
    let (found, of_all) = cut(&site("", "l13 + r13"));
    assert_eq!(found, of_all);
    let (found, of_all) = cut(&site("", "l13 + m13 + r13"));
    assert_eq!((found.1, of_all.1), (Some(false), Some(false)));
    // Past the UPS it parts them, too, but three more sources stand beside that.
    let sources: String = (0..3).map(|number| format!("t{number} source\nn{number} isolator < t{number}\n")).collect();
    let ups = "u ups-with-battery-apart < l13 + r13\n";
    let (found, of_all) = cut(&site(&format!("{sources}{ups}"), "n0 + n1 + n2 + u"));
    assert_eq!(found, ("q0 q1".to_owned(), Some(true)));
    assert_eq!(of_all, ("q0 q1".to_owned(), Some(false)));
}

/// What asks for a closer look comes by the bypass alone. Past that the input of the UPS is next to the second board, and no
/// device parts them.
#[test]
fn a_place_by_which_only_what_is_doubtful_comes_is_none_by_which_all_comes() {
    let site = Site::of(
        "s0 source\nm0 isolator < s0\ns1 source\nm1 isolator < s1\ns2 source\nm2 isolator < s2\n\
         x ups-with-battery-apart < m2\nb0 busbar < m0 + m1 + x\nf isolator < b0\nb1 busbar < m2 + f\nrow f at b1.load",
    );
    let (found, of_all, _) = both(&site);
    assert_eq!((found, of_all), (None, None));
}

#[test]
fn what_one_handle_opens_is_named_with_all_that_it_opens() {
    let site = Site::of("s source\nm isolator < s il=IL1\nn isolator < s il=IL1\nb busbar < m\nrow m at b.load");
    let (found, of_all, _) = both(&site);
    assert_eq!(names_of(&site, found.as_ref()), "m n");
    assert_eq!(found, of_all);
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
