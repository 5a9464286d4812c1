//! What must hold in every network: no world that agrees with the supplies file shows a higher voltage than is
//! reported, and neither a further circuit nor less knowledge ever lowers a figure.

use proptest::prelude::*;

use super::super::between::highest;
use super::super::testing::{described, joined, surveyed};
use super::super::{EnclosureId, Network};
use crate::survey::value::Current;

const SUPPLIES: &str = "device,kind,fed_from,nominal,earthing,in_step_with,phasing";
const SURVEY: &str = "enclosure,circuit,fed_from,nominal,conductors,voltage_to_earth,isolator,isolator_location";

/// What a node of a random network is.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Thing {
    Source { in_step: bool },
    Converter { in_step: bool },
    Isolator,
    Changeover,
    Busbar,
    Transformer { volts: u16, clock: Option<u8> },
}

/// A node, what feeds it, what it may be in step with, and whether its lines are proved.
#[derive(Clone, Debug)]
struct Spot {
    thing: Thing,
    feeds: Vec<usize>,
    partner: usize,
    proved: bool,
}

#[derive(Clone, Debug)]
struct Site {
    spots: Vec<Spot>,
    /// Where each circuit comes from, and its lines as a set of bits.
    circuits: Vec<(usize, u8)>,
}

fn thing() -> impl Strategy<Value = Thing> {
    let clock = prop_oneof![Just(None), (0..12_u8).prop_map(Some)];
    prop_oneof![
        1 => any::<bool>().prop_map(|in_step| Thing::Source { in_step }),
        1 => any::<bool>().prop_map(|in_step| Thing::Converter { in_step }),
        1 => Just(Thing::Isolator),
        1 => Just(Thing::Changeover),
        4 => Just(Thing::Busbar),
        3 => (prop_oneof![Just(230_u16), Just(400)], clock).prop_map(|(volts, clock)| Thing::Transformer { volts, clock }),
    ]
}

fn sites() -> impl Strategy<Value = Site> {
    let spots = prop::collection::vec(
        (thing(), prop::collection::vec(any::<usize>(), 1..3), any::<usize>(), any::<bool>()),
        1..12,
    );
    let circuits = prop::collection::vec((any::<usize>(), 1..8_u8), 2..5);
    (spots, circuits).prop_map(|(drawn, circuits)| {
        let first = Spot { thing: Thing::Source { in_step: false }, feeds: Vec::new(), partner: 0, proved: false };
        let mut spots = vec![first];
        for (thing, feeds, partner, proved) in drawn {
            let mut feeds: Vec<_> = feeds.into_iter().map(|feed| feed % spots.len()).collect();
            feeds.sort_unstable();
            feeds.dedup();
            if matches!(thing, Thing::Source { .. }) {
                feeds.clear();
            }
            let sources: Vec<_> = (0..spots.len()).filter(|spot| spots[*spot].thing.is_source()).collect();
            // Where several feeds meet, a proof would bind the lines of sources that this model turns freely.
            let proved = proved && feeds.len() < 2;
            spots.push(Spot { thing, feeds, partner: sources[partner % sources.len()], proved });
        }
        let circuits = circuits.into_iter().map(|(spot, lines)| (spot % spots.len(), lines)).collect();
        Site { spots, circuits }
    })
}

impl Thing {
    const fn is_source(self) -> bool {
        matches!(self, Self::Source { .. } | Self::Converter { .. })
    }
}

impl Site {
    fn supplies(&self) -> Vec<String> {
        let row = |(index, spot): (usize, &Spot)| {
            let feeds: Vec<_> = spot.feeds.iter().map(|feed| format!("N{feed}")).collect();
            let partner = |in_step: bool| if in_step { format!("N{}", spot.partner) } else { String::new() };
            let proved = if spot.proved { "proved" } else { "" };
            let (kind, nominal, in_step, phasing) = match spot.thing {
                Thing::Source { in_step } => ("source", 230, partner(in_step), proved.to_owned()),
                Thing::Converter { in_step } => ("converter", 230, partner(in_step), proved.to_owned()),
                Thing::Isolator => ("isolator", 0, String::new(), proved.to_owned()),
                Thing::Changeover => ("changeover", 0, String::new(), proved.to_owned()),
                Thing::Busbar => ("busbar", 0, String::new(), proved.to_owned()),
                Thing::Transformer { volts, clock } => {
                    ("transformer", volts, String::new(), clock.map_or_else(String::new, group))
                }
            };
            let system = match nominal {
                230 => "230/400,TN-S",
                400 => "400/690,TN-S",
                _ => ",",
            };
            format!("N{index},{kind},{},{system},{in_step},{phasing}", feeds.join(" + "))
        };
        let isolators =
            self.circuits.iter().enumerate().map(|(index, (spot, _))| format!("Q{index},isolator,N{spot},,,,"));
        self.spots.iter().enumerate().map(row).chain(isolators).collect()
    }

    fn network(&self) -> (Network, crate::survey::Survey) {
        let supplies = self.supplies();
        let supplies = described(SUPPLIES, &supplies.iter().map(String::as_str).collect::<Vec<_>>());
        let rows = self.circuits.iter().enumerate().map(|(index, (spot, lines))| {
            let lines: Vec<_> =
                (0..3).filter(|line| lines & 1 << line != 0).map(|line| format!("L{}", line + 1)).collect();
            format!("E1,C/{index},N{spot},,{} N,,Q{index},", lines.join(" "))
        });
        let rows: Vec<_> = rows.collect();
        let survey = surveyed(SURVEY, &rows.iter().map(String::as_str).collect::<Vec<_>>());
        (joined(&survey, &supplies).0, survey)
    }

    /// The highest voltage reported, to earth or between conductors, in volts.
    fn reported(&self) -> f64 {
        let (network, survey) = self.network();
        let enclosure = EnclosureId::new(0);
        let between =
            highest(&network, enclosure, &survey.enclosures[0].rows, Current::Ac).map(|between| between.value);
        let to_earth = network.ways(enclosure).iter().filter_map(|way| way.voltage.to_earth).max();
        between.max(to_earth).unwrap().to_volts()
    }
}

/// A vector group with this clock number.
fn group(clock: u8) -> String {
    format!("{}yn{clock}", if clock.is_multiple_of(2) { "Y" } else { "D" })
}

type Phasors = [(f64, f64); 3];

fn turned((re, im): (f64, f64), radians: f64) -> (f64, f64) {
    let (sin, cos) = radians.sin_cos();
    (re * cos - im * sin, re * sin + im * cos)
}

/// What the supplies file leaves open, drawn at random: one number a node for each of its choices.
struct World {
    angles: Vec<f64>,
    swaps: Vec<usize>,
    chosen: Vec<usize>,
    clocks: Vec<u8>,
}

fn worlds() -> impl Strategy<Value = World> {
    let numbers = || prop::collection::vec(any::<usize>(), 13);
    let angles = prop::collection::vec(0.0..std::f64::consts::TAU, 13);
    let clocks = prop::collection::vec(0..12_u8, 13);
    (angles, numbers(), numbers(), clocks).prop_map(|(angles, swaps, chosen, clocks)| World {
        angles,
        swaps,
        chosen,
        clocks,
    })
}

impl std::fmt::Debug for World {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{:?} {:?} {:?} {:?}", self.angles, self.swaps, self.chosen, self.clocks)
    }
}

const SWAPS: [[usize; 3]; 6] = [[0, 1, 2], [1, 2, 0], [2, 0, 1], [0, 2, 1], [2, 1, 0], [1, 0, 2]];

impl World {
    fn swapped(&self, node: usize, phasors: Phasors) -> Phasors {
        SWAPS[self.swaps[node] % 6].map(|line| phasors[line])
    }

    /// The phasors of every node, line by line, in this world.
    fn phasors(&self, site: &Site) -> Vec<Phasors> {
        let third = std::f64::consts::TAU / 3.0;
        let mut of_sources: Vec<Option<Phasors>> = Vec::new();
        let mut nodes: Vec<Phasors> = Vec::new();
        for (index, spot) in site.spots.iter().enumerate() {
            let fed = (!spot.feeds.is_empty()).then(|| nodes[spot.feeds[self.chosen[index] % spot.feeds.len()]]);
            let star = [0.0, -third, -2.0 * third].map(|lag| turned((230.0, 0.0), lag + self.angles[index]));
            let own = match spot.thing {
                Thing::Source { in_step } | Thing::Converter { in_step } => {
                    let partner = of_sources.get(spot.partner).copied().flatten().filter(|_| in_step);
                    Some(match partner {
                        Some(partner) if spot.proved => partner,
                        Some(partner) => self.swapped(index, partner),
                        None => star,
                    })
                }
                Thing::Isolator | Thing::Changeover | Thing::Busbar | Thing::Transformer { .. } => None,
            };
            let phasors = match (spot.thing, own, fed) {
                (_, Some(own), _) => own,
                (Thing::Transformer { volts, clock }, _, Some(fed)) => {
                    let hours = clock.unwrap_or(self.clocks[index]);
                    let out = transformed(fed, volts, hours);
                    if clock.is_none() { self.swapped(index, out) } else { out }
                }
                (Thing::Busbar | Thing::Changeover, _, Some(fed)) if !spot.proved => self.swapped(index, fed),
                (_, _, Some(fed)) => fed,
                (_, None, None) => unreachable!("only sources have no feeds"),
            };
            of_sources.push(own);
            nodes.push(phasors);
        }
        nodes
    }
}

/// The output of a transformer: each line lags by the clock number, or leads where the lines come in the other order.
fn transformed(fed: Phasors, volts: u16, hours: u8) -> Phasors {
    let (first, second) = (fed[0], fed[1]);
    let follows = first.0 * second.1 - first.1 * second.0 < 0.0;
    let radians = f64::from(hours) * std::f64::consts::FRAC_PI_6 * if follows { -1.0 } else { 1.0 };
    let length = first.0.hypot(first.1);
    fed.map(|line| turned(line, radians))
        .map(|(re, im)| (re / length * f64::from(volts), im / length * f64::from(volts)))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(500))]

    /// Nominal pairs are rounded: the square root of three lies between their figures to one per cent (IEC 60038).
    #[test]
    fn no_world_shows_more_than_is_reported(site in sites(), worlds in prop::collection::vec(worlds(), 12)) {
        let reported = site.reported();
        for world in worlds {
            let nodes = world.phasors(&site);
            let lines: Vec<_> = site.circuits.iter().flat_map(|(spot, lines)| {
                (0..3).filter(move |line| lines & 1 << line != 0).map(|line| nodes[*spot][line]).collect::<Vec<_>>()
            }).collect();
            for (index, one) in lines.iter().enumerate() {
                for other in &lines[index..] {
                    let apart = (one.0 - other.0).hypot(one.1 - other.1);
                    prop_assert!(apart <= reported * 1.01, "{apart} above {reported}: {:#?}", site.supplies());
                }
            }
        }
    }

    #[test]
    fn a_further_circuit_lowers_nothing(site in sites(), spot in any::<usize>(), lines in 1..8_u8) {
        let mut further = site.clone();
        further.circuits.push((spot % site.spots.len(), lines));
        prop_assert!(further.reported() >= site.reported());
    }

    #[test]
    fn less_knowledge_lowers_nothing(site in sites(), spot in any::<usize>()) {
        let mut less = site.clone();
        let count = less.spots.len();
        let spot = &mut less.spots[spot % count];
        spot.proved = false;
        spot.thing = match spot.thing {
            Thing::Source { .. } => Thing::Source { in_step: false },
            Thing::Converter { .. } => Thing::Converter { in_step: false },
            Thing::Transformer { volts, .. } => Thing::Transformer { volts, clock: None },
            thing @ (Thing::Isolator | Thing::Changeover | Thing::Busbar) => thing,
        };
        prop_assert!(less.reported() >= site.reported(), "{:#?}", site.supplies());
    }
}
