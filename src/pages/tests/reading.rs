//! What a page is to somebody who hears it or follows its links.

use std::sync::Arc;

use super::{cell, table, upright};
use crate::drawing::{Drawing, Raster, Role, Structure};
use crate::length::{Length, Point, Rect, Size};
use crate::pages::{Block, Column, House, Inside, Section, Stationery, Style, Table, Target, Text};
use crate::sheets::Page;
use crate::typesetting::Typesetter;

fn laid(house: &House, blocks: Vec<Block>) -> (Vec<Page>, Structure) {
    let typesetter = Typesetter::new();
    let stationery = Stationery { paper: upright(), head: "head", foot: "foot", house, typesetter: &typesetter };
    let laid = stationery.lay(&Section { head: "CH3-JB1".to_owned(), blocks });
    let numbered = laid.leaves.iter().zip(1..);
    (numbered.map(|(leaf, number)| stationery.page(leaf, number, laid.leaves.len())).collect(), laid.structure)
}

/// The words of a page with the part that each belongs to; decoration has none.
fn said(page: &Page) -> Vec<(String, Option<usize>)> {
    let texts = page.furniture.items.iter().enumerate().filter_map(|(place, item)| match item {
        crate::drawing::Item::Text { line, .. } => Some((place, line.text.to_string())),
        crate::drawing::Item::Path { .. } | crate::drawing::Item::Modules(_) | crate::drawing::Item::Group { .. } => {
            None
        }
    });
    let part = |place: usize| page.reading.marked.iter().find(|one| one.items.contains(&place)).map(|one| one.element);
    texts.map(|(place, text)| (text, part(place))).collect()
}

fn role_of(pages: &[Page], structure: &Structure, words: &str) -> Option<Role> {
    let found = pages.iter().flat_map(said).find(|(text, _)| text == words).unwrap();
    found.1.map(|part| structure.elements[part].role)
}

#[test]
fn each_kind_of_text_is_what_it_is_to_a_reader() {
    let blocks = vec![
        Block::text(Style::Title, "Title"),
        Block::heading("Proof"),
        Block::body("words"),
        Block::List(vec!["item".to_owned()]),
        table(vec![vec![cell("Q7"), cell("place")]]),
    ];
    let (pages, structure) = laid(&House::default(), blocks);
    let role = |words: &str| role_of(&pages, &structure, words);
    assert_eq!(role("Title"), Some(Role::Heading(1)));
    assert_eq!(role("Proof"), Some(Role::Heading(2)));
    assert_eq!(role("words"), Some(Role::Paragraph));
    assert_eq!((role("–"), role("item")), (Some(Role::ListMark), Some(Role::ListText)));
    assert_eq!(role("device"), Some(Role::ColumnHead));
    assert_eq!((role("Q7"), role("place")), (Some(Role::RowHead), Some(Role::Cell)));
    // Running head and foot are no part of what is read.
    assert_eq!((role("head"), role("foot"), role("page 1 of 1")), (None, None, None));
    // A reader goes from the section down to every part.
    for element in structure.elements.iter().skip(1) {
        assert!(element.parent.is_some());
    }
    assert_eq!(structure.elements[0].role, Role::Section);
}

#[test]
fn a_head_that_comes_again_is_read_once() {
    let rows = (0..120).map(|number| vec![cell(&format!("Q{number}")), cell("place")]).collect();
    let (pages, _) = laid(&House::default(), vec![table(rows)]);
    assert!(pages.len() > 1);
    let heads: Vec<_> = pages.iter().flat_map(said).filter(|(text, _)| text == "device").collect();
    assert_eq!(heads.len(), pages.len());
    assert_eq!(heads.iter().filter(|(_, part)| part.is_some()).count(), 1);
}

#[test]
fn a_link_lies_over_its_words_and_an_anchor_at_the_top_of_what_it_names() {
    let link = Inside::from(Text::new(Style::Body, "CH3-JB2").leading_to("points/CH3-JB1"));
    let row = vec![vec![Inside::Anchor(Target::new("row")), link], cell("place")];
    let anchor = Block::Anchor(Target::bookmarked("points/CH3-JB1", 1, "CH3-JB1"));
    let (pages, structure) = laid(&House::default(), vec![table(vec![row]), anchor, Block::heading("Points")]);
    let [link] = pages[0].reading.links.as_slice() else { panic!() };
    assert_eq!((&*link.to, structure.elements[link.element].role), ("points/CH3-JB1", Role::Link));
    let parent = structure.elements[link.element].parent.unwrap();
    assert_eq!(structure.elements[parent].role, Role::RowHead);
    let baseline = |words: &str| super::lines(&pages[0]).into_iter().find(|line| line.text == words).unwrap();
    let words = baseline("CH3-JB2");
    assert!(link.at.origin.x == words.left && link.at.right() >= words.right - Length::um(20));
    assert!(link.at.origin.y < words.baseline - words.capital && link.at.bottom() > words.baseline);
    let [row, points] = pages[0].reading.anchors.as_slice() else { panic!() };
    assert!((&*row.name, &*points.name) == ("row", "points/CH3-JB1") && row.bookmark.is_none());
    assert!(row.top <= link.at.origin.y && row.top > link.at.origin.y - Length::mm(2.0));
    let heading = baseline("Points");
    assert!(points.top < heading.baseline && points.top > heading.baseline - Length::mm(12.0));
}

#[test]
fn an_anchor_turns_the_page_with_what_it_names() {
    for before in 0..80 {
        let filled = vec![Block::body("filler"); before];
        let anchor = Block::Anchor(Target::new("points"));
        let (pages, _) = laid(&House::default(), [filled, vec![anchor, Block::heading("Points"), cellar()]].concat());
        let with = |page: &&Page| page.reading.anchors.iter().any(|anchor| &*anchor.name == "points");
        let page = pages.iter().find(with).unwrap();
        assert!(said(page).iter().any(|(text, _)| text == "Points"), "{before}");
    }
}

fn cellar() -> Block {
    table(vec![vec![cell("Q7")]])
}

#[test]
fn cells_hold_pictures_boxes_to_tick_and_room_to_write() {
    let drawing = Arc::new(Drawing::new(Size::whole_mm(105, 74)));
    let shown = Inside::Picture(Arc::clone(&drawing), "notice CH3-JB1/1".to_owned());
    let small = Inside::Picture(Arc::new(drawing.scaled(0.1)), "small".to_owned());
    let ticks = ["Q7 operated", "proved dead"].map(|words| Inside::Tick(words.to_owned())).to_vec();
    let rows = vec![vec![vec![shown], ticks, vec![Inside::Room(Length::mm(30.0))]], vec![vec![small], cell("next")]];
    let columns = vec![Column::Fixed(Length::mm(40.0)), Column::Share(1), Column::Share(1)];
    let table = Table { columns, head: Vec::new(), rows, ruled: true };
    let (pages, structure) = laid(&House::default(), vec![Block::Table(table)]);
    let page = &pages[0];
    // No picture is wider than its column, and a small one stays as it is.
    let [large, small] = page.placed.as_slice() else { panic!() };
    assert!(large.drawing.size.width <= Length::mm(40.0) && large.drawing.size.width > Length::mm(39.9));
    assert_eq!(small.drawing.size.width, Length::mm(10.5));
    let described = page.reading.figures.iter().map(|part| structure.elements[part.unwrap()].alternative.as_str());
    assert_eq!(described.collect::<Vec<_>>(), ["notice CH3-JB1/1", "small"]);
    // The room of 30 mm and the higher picture, 28 mm, decide where the next row begins.
    assert!(small.corner.y >= large.corner.y + Length::mm(30.0));
    // Two boxes to tick and the frames of two pictures are stroked.
    let stroked =
        page.furniture.items.iter().filter(|item| {
            matches!(item, crate::drawing::Item::Path { paint: crate::drawing::Paint::Stroke { .. }, .. })
        });
    assert_eq!(stroked.count(), 4);
}

#[test]
fn logo_and_lines_of_the_house_stand_on_every_page_and_take_room_from_the_text() {
    let logo = Raster { width: 300, height: 100, rgb: vec![0; 90_000], alternative: "Saltmere".to_owned() };
    let (header, footer) = ("Saltmere Provisions".to_owned(), "Uncontrolled when printed".to_owned());
    let house = House { logo: Some(Arc::new(logo)), header, footer };
    let words = "many words ".repeat(3_000);
    let (pages, _) = laid(&house, vec![Block::body(&words)]);
    let (plain, _) = laid(&House::default(), vec![Block::body(&words)]);
    assert!(pages.len() >= plain.len() && pages.len() > 2);
    super::check(&pages);
    for page in &pages {
        let [logo] = page.reading.rasters.as_slice() else { panic!() };
        // 9 mm high in its own proportions, at the right margin, over the running head.
        assert_eq!(logo.at.size, Size::whole_mm(27, 9));
        let all = super::lines(page);
        let head = all.iter().find(|line| line.text == "head").unwrap();
        assert!(logo.at.bottom() < head.baseline - head.capital);
        for line in &all {
            let height = Size::new(line.right - line.left, line.capital);
            let words = Rect::new(Point::new(line.left, line.baseline - line.capital), height);
            let apart = words.right() <= logo.at.origin.x || words.origin.y >= logo.at.bottom();
            assert!(apart, "{} runs into the logo", line.text);
        }
        assert!(all.iter().any(|line| line.text == "Saltmere Provisions"));
        assert!(all.last().unwrap().text == "Uncontrolled when printed");
    }
}

/// Three parts, the first of which says on which page each anchor of the others stands.
struct Long;

impl crate::pages::Document for Long {
    fn parts(&self) -> usize {
        3
    }

    fn section(&self, part: usize, _pages: &dyn Fn(usize) -> usize) -> Section {
        let named = |name: &str| vec![cell(name), vec![Inside::PageOf(name.into())]];
        let contents = || table(["early", "late", "nowhere"].map(named).into());
        let fill = |lines: usize| vec![Block::body("filler"); lines];
        let at = |name: &str| vec![Block::Anchor(Target::new(name)), Block::heading(name)];
        let blocks = match part {
            0 => [vec![contents()], fill(100)].concat(),
            1 => [at("early"), fill(150), at("late"), fill(3)].concat(),
            _ => [at("late"), fill(1)].concat(),
        };
        Section { head: format!("part {part}"), blocks }
    }
}

#[test]
fn the_contents_say_the_page_on_which_an_anchor_stands() {
    let (typesetter, house) = (Typesetter::new(), House::default());
    let stationery =
        Stationery { paper: upright(), head: "head", foot: "foot", house: &house, typesetter: &typesetter };
    let book = crate::pages::Book::new(Long, stationery);
    let pages: Vec<Page> = (0..book.parts()).flat_map(|part| book.pages(part).0).collect();
    assert_eq!(pages.len(), book.count());
    let stands = |name: &str| {
        let with = |page: &Page| page.reading.anchors.iter().any(|anchor| &*anchor.name == name);
        pages.iter().position(with).unwrap() + 1
    };
    assert!(stands("early") > 1 && stands("late") > stands("early") + 1 && stands("late") < pages.len());
    let first: Vec<String> = said(&pages[0]).into_iter().map(|(text, _)| text).collect();
    let beside = |name: &str| first[first.iter().position(|text| text == name).unwrap() + 1].clone();
    assert_eq!([beside("early"), beside("late")], [stands("early"), stands("late")].map(|page| page.to_string()));
    assert_eq!(beside("nowhere"), "0");
}
