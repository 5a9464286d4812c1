//! One-line diagrams: what each situation must show, that nothing overlaps, and pictures in `target/gallery` to look at.

mod flawless;
mod random;
mod situations;

use noticewright::diagram;
use noticewright::drawing::{Drawing, Ink, Item, Paint};
use noticewright::network::{EnclosureId, Network, NetworkOptions, Proof};
use noticewright::rules::{self, Decision, RuleOptions};
use noticewright::supplies::{self, Supplies};
use noticewright::survey::{self, Survey};
use noticewright::typesetting::Typesetter;

/// The header of the surveys below.
const SURVEY: &str = "enclosure,name,area,circuit,serves,fed_from,source,nominal,voltage_to_earth,isolator,\
                      isolator_location,device_kind,poles,neutral_from";

/// The header of the supplies files below.
const SUPPLIES: &str = "device,kind,fed_from,location,nominal,earthing,off_position";

/// A survey and its network, as far as it is described.
struct Site {
    survey: Survey,
    supplies: Option<Supplies>,
    network: Network,
    decisions: Vec<Decision>,
}

impl Site {
    /// Reads rows under the headers above.
    fn of(survey: &[&str], supplies: &[&str]) -> Self {
        let table = |header: &str, rows: &[&str]| format!("{header}\n{}\n", rows.join("\n"));
        let supplies = (!supplies.is_empty()).then(|| table(SUPPLIES, supplies));
        Self::read(&table(SURVEY, survey), supplies.as_deref())
    }

    fn read(survey: &str, supplies: Option<&str>) -> Self {
        let survey = survey::read(survey.as_bytes(), &survey::ReadOptions::new("survey.csv")).survey;
        let options = supplies::ReadOptions::new("supplies.csv");
        let supplies = supplies.map(|text| supplies::read(text.as_bytes(), &options).supplies);
        let network = Network::join(&survey, supplies.as_ref(), &NetworkOptions::default()).0;
        let decisions = rules::decide(&survey, &network, &RuleOptions::default()).0.enclosures;
        Self { survey, supplies, network, decisions }
    }

    fn decision(&self) -> &Decision {
        &self.decisions[0]
    }

    /// The diagram of an enclosure.
    fn drawing(&self, enclosure: usize) -> Drawing {
        let decision = &self.decisions[enclosure];
        diagram::of(&self.survey, self.supplies.as_ref(), &self.network, decision, &Typesetter::new()).unwrap()
    }

    /// The diagram of the first enclosure with another outcome of its proof.
    fn drawing_with(&self, proof: Proof) -> Drawing {
        let decision = Decision { proof, ..self.decision().clone() };
        diagram::of(&self.survey, self.supplies.as_ref(), &self.network, &decision, &Typesetter::new()).unwrap()
    }

    fn tree(&self) -> String {
        diagram::text_tree(&self.survey, self.supplies.as_ref(), &self.network, self.decision()).join("\n")
    }

    /// The way of a row of the first enclosure.
    fn way(&self, row: usize) -> noticewright::network::WayId {
        self.network.way_ids(EnclosureId::new(0)).nth(row).unwrap()
    }

    /// The node of a name.
    fn node(&self, name: &str) -> noticewright::network::NodeId {
        let ids = (0..self.network.graph().nodes().len()).map(noticewright::network::NodeId::new);
        let mut named = ids.filter(|id| self.network.node_name(*id).split(" (").next() == Some(name));
        named.next().unwrap_or_else(|| panic!("no node is called {name}"))
    }
}

/// The words of a drawing in painting order.
fn words(drawing: &Drawing) -> Vec<String> {
    let texts = drawing.items.iter().filter_map(|item| match item {
        Item::Text { line, .. } => Some(line.text.to_string()),
        Item::Path { .. } | Item::Modules(_) | Item::Group { .. } => None,
    });
    texts.collect()
}

/// The numbers in white on black.
fn numbers(drawing: &Drawing) -> Vec<String> {
    let texts = drawing.items.iter().filter_map(|item| match item {
        Item::Text { line, ink: Ink::White, .. } => Some(line.text.to_string()),
        Item::Text { .. } | Item::Path { .. } | Item::Modules(_) | Item::Group { .. } => None,
    });
    texts.filter(|text| text.chars().all(|character| character.is_ascii_digit())).collect()
}

/// How many strokes are heavier than any line of a symbol: those of live paths.
fn heavy_strokes(drawing: &Drawing) -> usize {
    let heavy =
        |item: &&Item| matches!(item, Item::Path { paint: Paint::Stroke { width, .. }, .. } if width.to_mm() > 1.0);
    drawing.items.iter().filter(heavy).count()
}
