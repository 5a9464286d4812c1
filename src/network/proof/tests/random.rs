//! Thousands of small random networks, each judged by trying everything.

use proptest::prelude::*;
use proptest::sample::Index;

use super::super::cut::of_lines;
use super::super::fitness::{starts_of, unfit};
use super::brute::{Brute, Word};
use super::fixture::Site;
use crate::network::graph::NodeKind;
use crate::network::{Carrier, Cut, EnclosureId, Isolated, ProofResult};

/// What a random node is made of; the places are taken modulo what there is.
#[derive(Clone, Debug)]
struct RandomNode {
    kind: &'static str,
    feeds: Vec<Index>,
    poles: &'static str,
    coupled: &'static str,
    neutral: &'static str,
    system: &'static str,
}

fn random_node() -> impl Strategy<Value = RandomNode> {
    let kind = prop_oneof![
        12 => Just("isolator"),
        5 => Just("busbar"),
        2 => Just("source"),
        2 => Just("changeover"),
        2 => Just("changeover-off"),
        1 => Just("cutout"),
        1 => Just("switch"),
        1 => Just("transformer"),
        2 => Just("ups"),
        2 => Just("ups-with-battery-apart"),
        1 => Just("converter"),
        1 => prop_oneof![Just("unknown"), Just("survey")],
    ];
    let poles = prop_oneof![
        4 => Just(" poles=3+N"),
        2 => Just(" poles=3"),
        1 => Just(" poles=2"),
        2 => Just(" poles=1"),
        1 => Just("")
    ];
    let coupled = prop_oneof![6 => Just(""), 2 => Just(" il=IL1"), 1 => Just(" il=IL2")];
    let neutral = prop_oneof![5 => Just(" neutral=earthed"), 2 => Just(" neutral=live"), 1 => Just(" neutral=unknown")];
    let feeds = prop::collection::vec(any::<Index>(), 1..=2);
    let system = prop_oneof![2 => Just(" system=3"), 1 => Just(" system=2"), 1 => Just(" system=1"), 1 => Just("")];
    (kind, feeds, poles, coupled, neutral, system).prop_map(|(kind, feeds, poles, coupled, neutral, system)| {
        RandomNode { kind, feeds, poles, coupled, neutral, system }
    })
}

#[derive(Clone, Debug)]
struct RandomRow {
    opens: Vec<Index>,
    at: Option<(Index, bool)>,
    options: (&'static str, &'static str, Option<Index>),
    word: &'static str,
    /// At the output of the UPS whose enclosure it is: the place among what that feeds, or of all of it no row speaks.
    output: Option<Option<Index>>,
}

fn random_row() -> impl Strategy<Value = RandomRow> {
    let lines = prop_oneof![Just(""), Just(" lines=3"), Just(" lines=?")];
    let neutral = prop_oneof![4 => Just(""), 2 => Just(" neutral=yes"), 1 => Just(" neutral=?")];
    let word = prop_oneof![20 => Just(""), 1 => Just("?"), 1 => Just("none")];
    let opens = prop::collection::vec(any::<Index>(), 1..=2);
    let lender = prop::option::weighted(0.15, any::<Index>());
    let at = prop::option::weighted(0.3, (any::<Index>(), any::<bool>()));
    let output = prop::option::weighted(0.6, prop::option::weighted(0.3, any::<Index>()));
    (opens, at, (lines, neutral, lender), word, output).prop_map(|(opens, at, options, word, output)| RandomRow {
        opens,
        at,
        options,
        word,
        output,
    })
}

/// A network of at most so many nodes, as text.
pub(super) fn random_site(nodes: usize) -> impl Strategy<Value = (String, String)> {
    let nodes = prop::collection::vec(random_node(), 3..nodes);
    let loops = prop::option::weighted(0.2, (any::<Index>(), any::<Index>()));
    let rows = prop::collection::vec(random_row(), 1..4);
    (nodes, loops, rows, any::<Index>()).prop_map(|(nodes, loops, rows, ups)| {
        let mut lines: Vec<String> = vec!["n0 source neutral=earthed".to_owned()];
        let mut changeovers = 0;
        for (place, node) in nodes.iter().enumerate() {
            // The judge tries every position of every changeover.
            changeovers += usize::from(node.kind.starts_with("changeover"));
            let kind = if changeovers > 2 && node.kind.starts_with("changeover") { "isolator" } else { node.kind };
            lines.push(line(place + 1, kind, node, loops));
        }
        let upses: Vec<&str> = lines.iter().map(String::as_str).filter(|line| line.contains(" ups")).collect();
        let ups = if upses.is_empty() { None } else { upses[ups.index(upses.len())].split(' ').next() };
        let outputs = ups.map_or(Vec::new(), |ups| outputs_of(ups, &lines));
        let mut told: Vec<String> = rows.iter().map(|row| row_line(row, &lines, &outputs)).collect();
        if let Some(ups) = ups {
            say_outputs(ups, &outputs, &rows, &mut told);
        }
        (lines.join("\n"), told.join("\n"))
    })
}

fn line(number: usize, kind: &str, node: &RandomNode, loops: Option<(Index, Index)>) -> String {
    let (kind, by) = if kind == "survey" { ("isolator", " by=survey") } else { (kind, "") };
    let mut feeds: Vec<String> = node.feeds.iter().map(|feed| format!("n{}", feed.index(number))).collect();
    if let Some((to, from)) = loops {
        let later = number + from.index(3);
        if to.index(6) == number && later != number {
            feeds.push(format!("n{}", later.min(number)));
        }
    }
    feeds.retain(|feed| *feed != format!("n{number}"));
    feeds.sort_unstable();
    feeds.dedup();
    let fed = !feeds.is_empty() && kind != "source" && !(kind == "unknown" && number.is_multiple_of(2));
    let feeds = if fed { format!(" < {}", feeds.join(" + ")) } else { String::new() };
    let is_device = matches!(kind, "isolator" | "changeover" | "changeover-off");
    let begins = matches!(kind, "source" | "transformer" | "ups" | "ups-with-battery-apart" | "converter");
    let poles = if is_device { node.poles } else { "" };
    let coupled = if is_device && by.is_empty() { node.coupled } else { "" };
    // Elsewhere only an installation with an electrode of its own has one, and that is rare.
    let is_apart = kind == "busbar" && number.is_multiple_of(5) && node.neutral == " neutral=live";
    let neutral = if begins || is_apart { node.neutral } else { "" };
    let system = if begins { node.system } else { "" };
    format!("n{number} {kind}{feeds}{by}{poles}{coupled}{neutral}{system}")
}

/// What a UPS feeds and could bring energy back to it: all but what it ends in.
fn outputs_of<'a>(ups: &str, lines: &'a [String]) -> Vec<&'a str> {
    let is_fed = |line: &&str| {
        let words: Vec<&str> = line.split(' ').collect();
        let conducts = ["isolator", "cutout", "switch", "transformer", "busbar"].contains(&words[1]);
        let feeds = words.iter().skip_while(|word| **word != "<").skip(1).take_while(|word| !word.contains('='));
        conducts && !words.contains(&"by=survey") && feeds.into_iter().any(|word| *word == ups)
    };
    lines.iter().map(String::as_str).filter(is_fed).map(|line| line.split(' ').next().unwrap()).collect()
}

/// Adds to the rows which of their live parts are outputs of the UPS, and to the first of them those of which none speaks.
fn say_outputs(ups: &str, outputs: &[&str], rows: &[RandomRow], told: &mut [String]) {
    let speaks = |row: &str, output: &str| row.split(' ').any(|word| word == format!("{output}.supply"));
    let further: Vec<&str> =
        outputs.iter().copied().filter(|output| !told.iter().any(|row| speaks(row, output))).collect();
    let mut further = Some(further).filter(|further| !further.is_empty());
    for (row, text) in rows.iter().zip(told).filter(|(row, _)| row.output.is_some() && row.word.is_empty()) {
        let own =
            outputs.iter().copied().filter(|output| row.output.is_some_and(|at| at.is_some()) && speaks(text, output));
        let own: Vec<&str> = own.collect();
        let list = |word: &str, names: &[&str]| match names {
            [] => String::new(),
            names => format!(" {word}={}", names.join(",")),
        };
        let told = list("own", &own) + &list("further", &further.take().unwrap_or_default());
        if !told.is_empty() {
            *text += &format!(" ups={ups}{told}");
        }
    }
}

fn row_line(row: &RandomRow, lines: &[String], outputs: &[&str]) -> String {
    let devices: Vec<&String> =
        lines.iter().filter(|line| [" isolator", " changeover"].iter().any(|kind| line.contains(kind))).collect();
    let name = |line: &str| line.split(' ').next().unwrap().to_owned();
    let mut opens: Vec<String> =
        row.opens.iter().filter(|_| !devices.is_empty()).map(|open| name(devices[open.index(devices.len())])).collect();
    opens.dedup();
    let opens = match (row.word, opens.is_empty()) {
        ("", false) => opens.join(" + "),
        ("", true) => "?".to_owned(),
        (word, _) => word.to_owned(),
    };
    let side = |line: &str, supply: bool| {
        let is_closed = [" changeover", " source"].iter().any(|kind| line.contains(kind));
        let side = if supply && !is_closed { "supply" } else { "load" };
        format!("{}.{side}", name(line))
    };
    let own = row.output.flatten().filter(|_| !outputs.is_empty());
    let at = match (own, row.at) {
        (Some(place), other) => {
            let elsewhere =
                other.map(|(place, supply)| format!(" + {}", side(&lines[place.index(lines.len())], supply)));
            format!(" at {}.supply{}", outputs[place.index(outputs.len())], elsewhere.unwrap_or_default())
        }
        (None, Some((place, supply))) => format!(" at {}", side(&lines[place.index(lines.len())], supply)),
        (None, None) => String::new(),
    };
    let (needed, neutral, lender) = row.options;
    let lender =
        lender.map_or(String::new(), |place| format!(" lender={}", side(&lines[place.index(lines.len())], false)));
    format!("row {opens}{at}{needed}{neutral}{lender}")
}

pub(super) fn open_all(brute: &Brute<'_>) -> Vec<bool> {
    brute.opening(&brute.declared())
}

/// The smallest cut of an enclosure by its lines alone.
fn cut_of_lines(site: &Site) -> Option<Cut> {
    let declared = site.declared();
    of_lines(&declared, &starts_of(&declared, |_| true), &unfit(&declared))
}

/// What a proof says is live, row by row, and that its paths are ways through the network.
fn check_paths(site: &Site, brute: &Brute<'_>) {
    let network = &site.network;
    let proof = site.proof();
    let live = brute.live_rows(&open_all(brute), Word::Certain);
    let enclosure = EnclosureId::new(0);
    let searched: Vec<_> = network
        .way_ids(enclosure)
        .zip(network.ways(enclosure))
        .filter(|(_, way)| matches!(way.isolated, Isolated::By(_)))
        .map(|(id, _)| id)
        .collect();
    for (way, expected) in searched.iter().zip(live) {
        let carried = |carrier| proof.paths.iter().filter(|path| path.way == *way && path.carrier == carrier).count();
        let carriers = [Carrier::Lines, Carrier::Neutral, Carrier::SharedNeutral, Carrier::Output];
        assert_eq!(carriers.map(|carrier| carried(carrier) == 1), expected, "carriers of row {way:?}");
    }
    for path in &proof.paths {
        let first = network.graph().node(path.nodes[0]).unwrap();
        assert!(matches!(first.kind, NodeKind::Source | NodeKind::Ups { own_battery: true }));
        if path.carrier == Carrier::Output {
            let outputs = &network.outputs[&path.way];
            assert_ne!(path.nodes[0], outputs.ups, "it comes from the UPS itself");
            assert!(outputs.further.iter().any(|terminal| path.nodes.last() == Some(&terminal.node)));
        }
        for pair in path.nodes.windows(2) {
            let is_feed =
                |from: usize, to: usize| network.graph().out_of_node(pair[from]).iter().any(|feed| feed.to == pair[to]);
            assert!(is_feed(0, 1) || is_feed(1, 0), "{pair:?} are not connected");
        }
    }
}

/// The cases of a property; more where `PROPTEST_CASES` asks for them.
pub(super) fn cases(number: u32) -> ProptestConfig {
    let default = ProptestConfig::default();
    let cases = if default.cases == 256 { number } else { default.cases };
    ProptestConfig { cases, failure_persistence: None, ..default }
}

proptest! {
    #![proptest_config(cases(4_000))]

    #[test]
    fn a_search_of_everything_agrees_on_what_is_live((nodes, rows) in random_site(12)) {
        let site = Site::of(&format!("{nodes}\n{rows}"));
        let brute = Brute::of(&site.network);
        let proof = site.proof();
        prop_assert_eq!(proof.result, brute.result(&open_all(&brute)), "{}", site.told());
        check_paths(&site, &brute);
        let surplus: Vec<_> = proof.surplus.iter().map(|device| site.network.device_node(*device).unwrap()).collect();
        let expected = brute.surplus();
        if rows.contains(" own=") {
            // Of the output of a UPS the way through that UPS is taken for one that counts, so that fewer may be named.
            prop_assert!(surplus.iter().all(|device| expected.contains(device)), "surplus: {}", site.told());
        } else {
            prop_assert_eq!(surplus, expected, "surplus: {}", site.told());
        }
    }

    #[test]
    fn a_search_of_all_subsets_agrees_on_the_size_of_the_cut((nodes, rows) in random_site(10)) {
        let site = Site::of(&format!("{nodes}\n{rows}"));
        let brute = Brute::of(&site.network);
        let proof = site.proof();
        let smallest = brute.cut();
        // What parts the lines need not part a neutral that comes in where no line does, and a device of few poles may leave
        // another system live: then nothing is advised.
        let of_lines = cut_of_lines(&site);
        let is_in_doubt = |cut: &Cut| !brute.does(&cut.devices) || brute.may_leave_live(&cut.devices);
        if proof.cut.is_none() && of_lines.as_ref().is_some_and(is_in_doubt) {
            return Ok(());
        }
        if proof.cut.as_ref().is_none_or(|cut| cut.proved_smallest) {
            prop_assert_eq!(proof.cut.as_ref().map(|cut| cut.operations), smallest, "{}", site.told());
        } else {
            prop_assert!(proof.cut.as_ref().map(|cut| cut.operations) >= smallest, "{}", site.told());
        }
        if let Some(cut) = proof.cut {
            prop_assert!(brute.does(&cut.devices), "does not do: {}", site.told());
            prop_assert!(cut.devices.is_sorted(), "{}", site.told());
        }
    }

    #[test]
    fn another_source_never_makes_an_enclosure_look_dead(
        (nodes, rows) in random_site(16),
        at in any::<Index>(),
        neutral in prop_oneof![Just("earthed"), Just("live")],
    ) {
        let before = Site::of(&format!("{nodes}\n{rows}")).proof().result;
        // At a node without feeds it would not only be added: it would also say what was missing.
        let fed: Vec<&str> = nodes.lines().filter(|line| line.contains(" < ")).collect();
        prop_assume!(!fed.is_empty());
        let chosen = fed[at.index(fed.len())];
        let with_source = nodes.replace(chosen, &chosen.replacen(" < ", " < n99 + ", 1));
        let site = Site::of(&format!("{with_source}\nn99 source neutral={neutral}\n{rows}"));
        prop_assert!(before == ProofResult::NoPathFound || site.proof().result != ProofResult::NoPathFound);
    }

    #[test]
    fn the_order_of_the_nodes_changes_nothing_but_numbers(
        (nodes, rows) in random_site(16),
        order in any::<Index>(),
    ) {
        let site = Site::of(&format!("{nodes}\n{rows}"));
        let mut lines: Vec<&str> = nodes.lines().collect();
        lines.reverse();
        let middle = order.index(lines.len());
        lines.rotate_left(middle);
        let other = Site::of(&format!("{}\n{rows}", lines.join("\n")));
        prop_assert_eq!(site.without_numbers(), other.without_numbers());
    }

    #[test]
    fn nothing_is_live_where_no_path_was_found((nodes, rows) in random_site(16)) {
        let site = Site::of(&format!("{nodes}\n{rows}"));
        if site.proof().result == ProofResult::NoPathFound {
            let brute = Brute::of(&site.network);
            let live = brute.live_rows(&open_all(&brute), Word::Possible);
            prop_assert!(live.into_iter().flatten().all(|live| !live));
        }
    }
}
