//! Boards fed from several sides, held against a flow through everything that is above them.

use proptest::prelude::*;
use proptest::sample::Index;

use super::super::conduction::End;
use super::super::cut::{Held, held, of_lines, smallest, smallest_in};
use super::super::declared::Declared;
use super::super::fitness::{Unfit, starts_of, unfit};
use super::super::prepared::Groundwork;
use super::super::region::Region;
use super::fixture::Site;
use super::random::cases;
use crate::network::Cut;
use crate::network::id::{EnclosureId, WayId};

/// The smallest cut as it is found, that of everything above, and whether all of it is clear.
pub(super) fn both(site: &Site) -> (Option<Cut>, Option<Cut>, bool) {
    let declared = site.declared();
    let (unfit, starts) = (unfit(&declared), starts_of(&declared, |_| true));
    let whole = Region::of(&declared.groundwork.lines, &starts);
    (
        of_lines(&declared, &starts, &unfit),
        smallest_in(&declared, &whole, &unfit),
        declared.groundwork.clear.has(&starts),
    )
}

/// One to three sources with a device each, boards between which further feeders stand in any direction, and rows below.
pub(super) fn mesh() -> impl Strategy<Value = String> {
    let neutral = prop_oneof![2 => Just(""), 2 => Just(" neutral=live"), 1 => Just(" neutral=unknown")];
    let of_row = prop_oneof![Just(""), Just(" neutral=yes"), Just(" neutral=?"), Just(" lines=3"), Just(" lines=4")];
    let feeder = || {
        prop_oneof![
            10 => Just("isolator poles=3+N"),
            1 => Just("isolator"),
            1 => Just("isolator poles=3"),
            1 => Just("isolator poles=1"),
            1 => Just("cutout"),
            1 => Just("busbar"),
            1 => Just("transformer"),
        ]
    };
    let boards = prop::collection::vec((any::<Index>(), feeder()), 1..7);
    let further = prop::collection::vec((any::<Index>(), any::<Index>(), feeder()), 0..8);
    let at = prop_oneof![8 => Just(".load"), 1 => Just(".supply")];
    let rows = prop::collection::vec((any::<Index>(), feeder(), at, of_row), 1..5);
    let sources = prop::collection::vec(neutral, 1..=3);
    (sources, boards, further, rows).prop_map(|(sources, boards, further, rows)| {
        let mut lines = Vec::new();
        let mut feeds: Vec<Vec<String>> = vec![Vec::new(); boards.len() + 1];
        let feeder = |name: &str, from: usize, kind: &str| {
            let (kind, rest) = kind.split_once(' ').unwrap_or((kind, ""));
            format!("{name} {kind} < b{from} {rest}").trim_end().to_owned()
        };
        for (source, neutral) in sources.iter().enumerate() {
            let main = format!("m{source} isolator < s{source} poles=3+N");
            lines.extend([format!("s{source} source{neutral}"), main]);
            // The second one feeds the first board, too, the third the last.
            feeds[if source == 2 { boards.len() } else { 0 }].push(format!("m{source}"));
        }
        for (board, (above, kind)) in (1..).zip(&boards) {
            lines.push(feeder(&format!("f{board}"), above.index(board), kind));
            feeds[board].push(format!("f{board}"));
        }
        for (number, (from, to, kind)) in further.iter().enumerate() {
            lines.push(feeder(&format!("g{number}"), from.index(boards.len() + 1), kind));
            feeds[to.index(boards.len() + 1)].push(format!("g{number}"));
        }
        lines.extend(feeds.iter().enumerate().map(|(board, feeds)| format!("b{board} busbar < {}", feeds.join(" + "))));
        for (number, (board, kind, at, needs)) in rows.iter().enumerate() {
            lines.push(feeder(&format!("q{number}"), board.index(boards.len() + 1), kind));
            lines.push(format!("row q{number} at q{number}{at}{needs}"));
        }
        lines.join("\n")
    })
}

/// Boards with a source on any of them, some of them far away, and feeders of which some let energy through one way only: the
/// first ways that a flow takes must often be led elsewhere.
fn web(one_way: u32) -> impl Strategy<Value = String> {
    let between = || prop_oneof![6 => Just("isolator"), 1 => Just("cutout"), one_way => Just("converter")];
    let boards = prop::collection::vec((any::<Index>(), between()), 2..7);
    let feeders = prop::collection::vec((any::<Index>(), any::<Index>(), between(), 0..6_usize), 3..12);
    let sources = prop::collection::vec((any::<Index>(), 0..4_usize), 2..6);
    let rows = prop::collection::vec((any::<Index>(), any::<bool>()), 1..4);
    (boards, feeders, sources, rows).prop_map(|(boards, feeders, sources, rows)| {
        let count = boards.len() + 1;
        let (mut lines, mut feeds) =
            (vec!["s source".to_owned(), "m isolator < s".to_owned()], vec![Vec::new(); count]);
        feeds[0].push("m".to_owned());
        // A device, and so many cutouts behind it.
        let mut lead = |name: &str, kind: &str, from: &str, to: usize, cutouts: usize| {
            lines.push(format!("{name} {kind} < {from}"));
            let mut last = name.to_owned();
            for place in 0..cutouts {
                lines.push(format!("{name}-{place} cutout < {last}"));
                last = format!("{name}-{place}");
            }
            feeds[to].push(last);
        };
        for (board, (above, kind)) in (1..).zip(&boards) {
            lead(&format!("f{board}"), kind, &format!("b{}", above.index(board)), board, 0);
        }
        for (number, (from, to, kind, cutouts)) in feeders.iter().enumerate() {
            lead(&format!("g{number}"), kind, &format!("b{}", from.index(count)), to.index(count), *cutouts);
        }
        for (number, (board, cutouts)) in sources.iter().enumerate() {
            lead(&format!("m{number}"), "isolator", &format!("s{number}"), board.index(count), *cutouts);
        }
        lines.extend((0..sources.len()).map(|number| format!("s{number} source")));
        lines.extend(feeds.iter().enumerate().map(|(board, feeds)| format!("b{board} busbar < {}", feeds.join(" + "))));
        for (number, (board, is_below)) in rows.iter().enumerate() {
            let board = board.index(count);
            lines.push(format!("q{number} isolator < b{board}"));
            let at = if *is_below { format!("q{number}") } else { format!("b{board}") };
            lines.push(format!("row q{number} at {at}.load"));
        }
        lines.join("\n")
    })
}

proptest! {
    #![proptest_config(cases(4_000))]

    #[test]
    fn a_flow_that_looks_no_further_than_it_must_finds_the_same_cut(text in prop_oneof![mesh(), web(1), web(20)]) {
        let (found, of_all, is_clear) = both(&Site::of(&text));
        prop_assert!(is_clear, "{}", text);
        prop_assert_eq!(found, of_all, "{}", text);
    }

    /// Where every device on the way parts the neutral, nothing is held against the cut; it would hold.
    #[test]
    fn what_is_advised_without_a_look_at_the_neutrals_leaves_none_live(text in mesh()) {
        let site = Site::of(&text);
        let declared = site.declared();
        let (unfit, starts) = (unfit(&declared), starts_of(&declared, |_| true));
        let of_lines = of_lines(&declared, &starts, &unfit);
        let found = smallest(&declared);
        match of_lines.as_ref().map(|cut| held(&declared, &cut.devices)) {
            Some(Held::Holds) => prop_assert_eq!(found, of_lines, "{}", text),
            Some(Held::InDoubt) | None => prop_assert_eq!(found, None, "{}", text),
            Some(Held::WithoutThese(_)) => {
                prop_assert!(found.is_none_or(|cut| held(&declared, &cut.devices) == Held::Holds), "{}", text);
            }
        }
    }

    /// The tree is only there so that nobody looks further; what it does not find, a flow finds as well.
    #[test]
    fn the_one_device_that_all_energy_passes_is_found(text in prop_oneof![mesh(), web(1), web(20)]) {
        let site = Site::of(&text);
        let declared = site.declared();
        let starts = starts_of(&declared, |_| true);
        let whole = Region::of(&declared.groundwork.lines, &starts);
        let cut = smallest_in(&declared, &whole, &Unfit::default()).filter(|cut| cut.operations == 1);
        let one = declared.groundwork.dominators(declared.graph).common(&starts).and_then(|common| common.device);
        prop_assert_eq!(one.map(|node| vec![node]), cut.map(|cut| cut.devices), "{}", text);
    }

    #[test]
    fn the_nearest_source_is_one_step_further_than_from_the_next_terminal(text in mesh()) {
        let site = Site::of(&text);
        let declared = Declared::of(&site.network, &[]);
        let Groundwork { lines, nearest, .. } = declared.groundwork;
        for terminal in 0..lines.terminals() {
            let next = lines.steps(terminal).iter().map(|step| nearest.distance(step.to)).min().unwrap_or(u32::MAX);
            let expected = if lines.end(terminal) == End::Nothing { next.saturating_add(1) } else { 0 };
            prop_assert_eq!(nearest.distance(terminal), expected, "{} of {}", terminal, text);
            prop_assert_eq!(nearest.reaches(lines, &[], terminal), expected < u32::MAX, "{} of {}", terminal, text);
        }
    }
}

/// Both feeders of the ring, or the two sources; the breakers of the rows are as few, and nearer.
#[test]
fn the_nearest_of_cuts_as_small_is_named() {
    let ring = "s0 source\nm0 isolator < s0\ns1 source\nm1 isolator < s1\nb0 busbar < m0 + m1\nf0 isolator < b0\n\
                f1 isolator < b0\nb1 busbar < f0 + g1\ng1 isolator < b2\nb2 busbar < f1 + g2\ng2 isolator < b1\n\
                q0 isolator < b1\nq1 isolator < b2\nq2 isolator < b2";
    let names = |rows: &str| {
        let site = Site::of(&format!("{ring}\n{rows}"));
        let (found, of_all, is_clear) = both(&site);
        assert!(is_clear && found == of_all, "{found:?} {of_all:?}");
        found.map(|cut| cut.devices.iter().map(|node| site.names[node.index()].clone()).collect::<Vec<_>>().join(" "))
    };
    assert_eq!(names("row q0 at q0.load\nrow q1 at q1.load").as_deref(), Some("q0 q1"));
    assert_eq!(names("row q0 at q0.load\nrow q1 at q1.load\nrow q2 at q2.load").as_deref(), Some("f0 f1"));
    assert_eq!(names("row q0 at b1.load").as_deref(), Some("f0 f1"));
    assert_eq!(names("row q0 at b0.load").as_deref(), Some("m0 m1"));
    assert_eq!(names("row q0 at s0.load"), None, "nothing parts a source from itself");
}

/// The first ways lead by the converter, which is the nearest; what is to come by the long ways needs what they took.
#[test]
fn a_flow_that_was_led_elsewhere_is_not_led_there_again() {
    let far = |name: &str, source: &str| {
        let chain: String = (1..8).map(|place| format!("{name}-{place} cutout < {name}-{}\n", place - 1)).collect();
        format!("{name}-0 cutout < {source}\n{chain}{name} isolator < {name}-7\n")
    };
    let beyond = |inner: &[&str], outer: &[&str]| {
        let of_list = |list: &[&str]| list.join(" + ");
        let near = |names: &[&str], from: &str| -> String {
            names.iter().map(|name| format!("{name} isolator < {from}\n")).collect()
        };
        let sources: String = outer.iter().map(|name| format!("s{name} source\n{name} isolator < s{name}\n")).collect();
        let far_sources = format!("su source\nsw source\n{}{}", far("u", "su"), far("w", "sw"));
        let boards = format!(
            "b0 busbar < {} + q + r\nbp busbar < c + u + w\nc converter < bq\nbq busbar < {}\n",
            of_list(inner),
            of_list(outer)
        );
        let ways = format!("{}{}{}", near(inner, "bp"), far("q", "bq"), far("r", "bq"));
        let site = Site::of(&format!("{sources}{far_sources}{ways}{boards}i isolator < b0\nrow i at b0.load"));
        let (found, of_all, is_clear) = both(&site);
        assert!(is_clear && found == of_all, "{found:?} {of_all:?}");
        let names = |cut: Cut| cut.devices.iter().map(|node| site.name(*node).to_owned()).collect::<Vec<_>>();
        let mut names = found.map(names).unwrap_or_default();
        names.sort_unstable();
        names.join(" ")
    };
    assert_eq!(beyond(&["p"], &["v"]), "p v");
    assert_eq!(beyond(&["p", "pp"], &["v", "vv"]), "p pp q r");
    assert_eq!(beyond(&["p", "pp"], &["v"]), "p pp v");
}

/// Of two ways that meet at a board one is led elsewhere, and then the other.
#[test]
fn a_way_that_is_led_elsewhere_leaves_the_one_beside_it() {
    let chain = |name: &str, from: &str| {
        let chain: String = (1..8).map(|place| format!("{name}-{place} cutout < {name}-{}\n", place - 1)).collect();
        format!("{name}-0 cutout < {from}\n{chain}{name} isolator < {name}-7\n")
    };
    let near = |n: u8| {
        let far = chain(&format!("u{n}"), &format!("su{n}"));
        format!(
            "sv{n} source\nv{n} isolator < sv{n}\nsu{n} source\n{far}c{n} converter < bq\nb{n} busbar < c{n} + u{n}\n\
             p{n} isolator < b{n}\n"
        )
    };
    let boards = "bq busbar < v1 + v2\nb0 busbar < p1 + p2 + q + r\ni isolator < b0\nrow i at b0.load";
    let site = Site::of(&format!("{}{}{}{}{boards}", near(1), near(2), chain("q", "bq"), chain("r", "bq")));
    let (found, of_all, is_clear) = both(&site);
    assert!(is_clear && found == of_all, "{found:?} {of_all:?}");
    let mut names: Vec<&str> = found.iter().flat_map(|cut| &cut.devices).map(|node| site.name(*node)).collect();
    names.sort_unstable();
    assert_eq!(names, ["p1", "p2", "q", "r"]);
}

/// Beside a board that one device feeds another source reaches the next, whichever of them comes first.
#[test]
fn one_device_is_none_where_another_way_joins_behind_it() {
    let lines = [
        "s1 source",
        "m1 isolator < s1",
        "b1 busbar < m1",
        "s2 source",
        "m2 isolator < s2",
        "c12 converter < b1",
        "b2 busbar < m2 + c12",
        "c23 converter < b2",
        "c13 converter < b1",
        "b3 busbar < c23 + c13",
        "q1 isolator < b1",
        "q3 isolator < b3",
    ];
    for first in 0..lines.len() {
        let mut nodes = lines;
        nodes.rotate_left(first);
        for turned in [false, true] {
            if turned {
                nodes.reverse();
            }
            let one = |row: &str| {
                let site = Site::of(&format!("{}\n{row}", nodes.join("\n")));
                let declared = site.declared();
                let starts = starts_of(&declared, |_| true);
                let one =
                    declared.groundwork.dominators(declared.graph).common(&starts).and_then(|common| common.device);
                one.map(|node| site.names[node.index()].clone())
            };
            assert_eq!(one("row q3 at b3.load"), None, "{nodes:?}");
            assert_eq!(one("row q1 at b1.load").as_deref(), Some("m1"), "{nodes:?}");
            assert_eq!(one("row q3 at q3.load").as_deref(), Some("q3"), "{nodes:?}");
        }
    }
}

/// More lines than any device here has poles are parted by none of them.
#[test]
fn a_device_of_three_poles_does_not_part_four_lines() {
    let cut = |lines: u8| {
        let site = Site::of(&format!("s0 source\nm0 isolator < s0 poles=3\nrow m0 at m0.load lines={lines}"));
        let ways: Vec<WayId> = site.network.way_ids(EnclosureId::new(0)).collect();
        smallest(&Declared::of(&site.network, &ways)).map(|cut| cut.devices)
    };
    assert_eq!((cut(3).map(|devices| devices.len()), cut(4)), (Some(1), None));
}

/// What is no plain device upstream, or no end that is live, leaves the rest to a closer look.
#[test]
fn what_is_not_plain_is_not_clear() {
    let clear = |above: &str| both(&Site::of(&format!("s0 source\n{above}\nq0 isolator < a\nrow q0 at q0.load"))).2;
    for plain in [
        "isolator < s0",
        "isolator < s0 poles=1",
        "isolator < s0 poles=3",
        "switch < s0",
        "cutout < s0",
        "transformer < s0",
        "converter < s0",
        "busbar < s0",
    ] {
        assert!(clear(&format!("a {plain}")), "{plain}");
    }
    for other in ["isolator < s0 il=IL1", "unknown", "busbar", "isolator < s0 by=survey"] {
        assert!(!clear(&format!("a {other}")), "{other}");
        assert!(!clear(&format!("c {other}\nb isolator < c\na busbar < b + s0")), "{other} further up");
    }
    for other in ["changeover-off < s0 + s1", "ups-with-battery-apart < s0 + s1"] {
        assert!(!clear(&format!("s1 source\na {other}")), "{other}");
    }
    let beside = "b isolator < s0\ns1 source\nq1 isolator < s1\nc converter < a + q1 direct=q1";
    assert!(!clear(&format!("a isolator < s0\n{beside}")), "a converter may let energy out at its other feed");
}

/// A device that parts the neutral with the lines, and whatever is met by no neutral that can be live.
#[test]
fn a_neutral_is_clear_where_every_device_is_known_to_part_it() {
    let clear = |site: &str| {
        let site = Site::of(&format!("{site}\nq0 isolator < a poles=3+N\nrow q0 at q0.load neutral=yes"));
        let declared = site.declared();
        declared.groundwork.clear_of_neutrals.has(&starts_of(&declared, |_| true))
    };
    let live = "s0 source neutral=live";
    for plain in ["isolator < s0 poles=3+N", "busbar < s0", "switch < s0", "cutout < s0 poles=3"] {
        assert!(clear(&format!("{live}\na {plain}")), "{plain}");
    }
    for other in ["isolator < s0 poles=3", "isolator < s0"] {
        assert!(!clear(&format!("{live}\na {other}")), "{other}");
        assert!(!clear(&format!("{live}\nb {other}\na busbar < b")), "{other} further up");
    }
    assert!(clear("s0 source\nb isolator < s0 poles=3\na transformer < b"), "one that begins below");
}
