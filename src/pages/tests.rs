//! Nothing is lost, nothing leaves the page, and what belongs together stays together.

mod reading;

use std::sync::Arc;

use proptest::prelude::*;

use super::*;
use crate::drawing::{Drawing, Face, Ink, Item};
use crate::length::{Length, Point, Rect, Size};
use crate::sheets::Page;
use crate::typesetting::{Typesetter, fonts};

fn upright() -> Size {
    Size::whole_mm(210, 297)
}

fn laid(paper: Size, blocks: Vec<Block>) -> Vec<Page> {
    let typesetter = Typesetter::new();
    let (house, typesetter) = (House::default(), &typesetter);
    let stationery = Stationery { paper, head: "For approval", foot: "Saltmere cold store", house: &house, typesetter };
    let leaves = stationery.lay(&Section { head: "CH3-JB1".to_owned(), blocks }).leaves;
    leaves.iter().zip(1..).map(|(leaf, number)| stationery.page(leaf, number, leaves.len())).collect()
}

/// A line with its box: left end of the baseline, right end, height of its capitals.
struct Line {
    text: String,
    left: Length,
    right: Length,
    baseline: Length,
    capital: Length,
}

fn lines(page: &Page) -> Vec<Line> {
    let line = |item: &Item| match item {
        Item::Text { line, origin, em, .. } => {
            let heights = fonts::heights(line.face);
            let of_em = |units: i32| em.scaled(f64::from(units) / f64::from(heights.units_per_em));
            Some(Line {
                text: line.text.to_string(),
                left: origin.x,
                right: origin.x + of_em(line.width),
                baseline: origin.y,
                capital: of_em(heights.capital),
            })
        }
        Item::Path { .. } | Item::Modules(_) | Item::Group { .. } => None,
    };
    page.furniture.items.iter().filter_map(line).collect()
}

/// The lines between running head and foot.
fn text(page: &Page) -> Vec<String> {
    let lines = lines(page);
    lines[2..lines.len() - 2].iter().map(|line| line.text.clone()).collect()
}

fn words(pages: &[Page]) -> Vec<String> {
    pages.iter().flat_map(text).flat_map(|line| line.split(' ').map(str::to_owned).collect::<Vec<_>>()).collect()
}

/// Every line lies within the margins and is high enough to be read; every picture lies on the page.
fn check(pages: &[Page]) {
    for page in pages {
        let room = Rect::new(Point::default(), page.size).inset(Length::mm(10.9));
        for line in lines(page) {
            assert!(
                line.left >= room.origin.x && line.right <= room.right(),
                "{} to {}: {}",
                line.left,
                line.right,
                line.text
            );
            assert!(line.baseline - line.capital >= room.origin.y && line.baseline <= room.bottom(), "{}", line.text);
            assert!(line.capital >= Length::mm(2.0), "{}: {}", line.capital, line.text);
        }
        for placed in &page.placed {
            assert!(room.contains(placed.room()), "{:?}", placed.room());
        }
    }
}

fn cell(words: &str) -> Cell {
    vec![Text::new(Style::Body, words).into()]
}

fn table(rows: Vec<Vec<Cell>>) -> Block {
    let columns = vec![Column::Fitted(Length::mm(40.0)), Column::Share(2), Column::Share(1)];
    let head = ["device", "location", "circuits"].map(str::to_owned).into();
    Block::Table(Table { columns, head, rows, ruled: true })
}

#[test]
fn a_text_comes_out_word_by_word_whatever_its_length() {
    for paper in [upright(), upright().turned()] {
        let said: Vec<String> = (0..3_000).map(|number| format!("word{number}")).collect();
        let pages = laid(paper, vec![Block::body(said.join(" "))]);
        check(&pages);
        assert!(pages.len() > 2);
        assert_eq!(words(&pages), said);
        let numbers: Vec<String> = pages.iter().filter_map(|page| Some(lines(page).pop()?.text)).collect();
        let wanted: Vec<String> = (1..=pages.len()).map(|number| format!("page {number} of {}", pages.len())).collect();
        assert_eq!(numbers, wanted);
    }
}

#[test]
fn a_word_without_blanks_is_broken_anywhere_and_loses_nothing() {
    for word in ["x".repeat(2_000), "Straße-".repeat(300), "W".repeat(70_000), "Åé".repeat(3_000)] {
        let pages = laid(upright(), vec![table(vec![vec![cell("Q7"), cell(&word), cell(word.get(..100).unwrap())]])]);
        check(&pages);
        let all = pages.iter().flat_map(lines).filter(|line| line.left < Length::mm(120.0));
        let all: String = all.map(|line| line.text).filter(|text| word.contains(text.as_str())).collect();
        assert!(all.contains(&word), "{} of {}", all.len(), word.len());
    }
}

#[test]
fn a_long_word_is_rather_broken_behind_a_mark() {
    let link = format!("HTTPS://SALTMERE.EXAMPLE/{}/CH3-JB1", "RECORDS-OF-".repeat(12));
    let pages = laid(upright(), vec![Block::body(&link)]);
    let broken = text(&pages[0]);
    assert_eq!(broken.concat(), link);
    assert!(broken[0].ends_with(['/', '-', '.']), "{broken:?}");
}

#[test]
fn what_the_faces_lack_or_the_eye_cannot_see_is_shown_by_its_number() {
    let pages = laid(upright(), vec![Block::body("Q7 \u{5D0}\u{5D1} \u{202E}abc 冷 Ω\u{7} é")]);
    assert_eq!(text(&pages[0]), ["Q7 [U+05D0][U+05D1] [U+202E]abc [U+51B7] Ω[U+0007] é"]);
    // A long cell of them costs no more than its length.
    let pages = laid(upright(), vec![Block::body("冷".repeat(2_000))]);
    check(&pages);
    assert_eq!(words(&pages).concat(), "[U+51B7]".repeat(2_000));
}

#[test]
fn a_number_stays_with_its_unit() {
    for blanks in 0..60 {
        let pages = laid(upright(), vec![Block::body(format!("{}400 V between conductors", "i ".repeat(90 + blanks)))]);
        assert!(text(&pages[0]).iter().all(|line| !line.ends_with("400")), "{blanks}");
    }
}

#[test]
fn a_heading_stays_with_what_follows_it() {
    let follower = [Block::body("short"), table(vec![vec![cell("Q7")]; 3]), Block::List(vec!["one".to_owned()])];
    for before in 0..70 {
        for follower in &follower {
            let filled = vec![Block::body("filler"); before];
            let pages = laid(upright(), [filled, vec![Block::heading("Proof"), follower.clone()]].concat());
            for page in &pages {
                assert_ne!(text(page).last().map(String::as_str), Some("Proof"), "{before}");
            }
        }
    }
}

#[test]
fn no_paragraph_leaves_one_line_alone() {
    let paragraph = Block::body("nine words that come again and again here ".repeat(12));
    for before in 0..60 {
        let filled = vec![Block::body("filler"); before];
        let pages = laid(upright(), [filled, vec![paragraph.clone()]].concat());
        for page in &pages {
            let of_paragraph = text(page).iter().filter(|line| *line != "filler").count();
            assert_ne!(of_paragraph, 1, "{before}");
        }
    }
}

#[test]
fn a_table_says_its_head_on_every_page_and_breaks_no_row() {
    let row = |number: usize| {
        vec![
            cell(&format!("Q{number}")),
            cell(&format!("place{number} {}", "of many words ".repeat(number % 40))),
            cell("c"),
        ]
    };
    let pages = laid(upright().turned(), vec![table((0..120).map(row).collect())]);
    check(&pages);
    assert!(pages.len() > 3);
    let all = words(&pages);
    for number in 0..120 {
        let device = format!("Q{number}");
        assert_eq!(all.iter().filter(|word| **word == device).count(), 1, "{device}");
    }
    for page in &pages {
        let text = text(page);
        assert_eq!(text[..3], ["device", "location", "circuits"]);
        assert_eq!(text.iter().filter(|line| *line == "device").count(), 1);
        // A row that were broken would begin a page without its device.
        assert!(text[3].starts_with('Q'), "{:?}", text[3]);
    }
}

#[test]
fn a_row_that_is_taller_than_a_page_goes_on_under_the_head() {
    let said: Vec<String> = (0..2_000).map(|number| format!("c{number}")).collect();
    let pages = laid(
        upright(),
        vec![table(vec![vec![cell("Q7"), cell("Switchroom 1"), cell(&said.join(" "))], vec![cell("Q8")]])],
    );
    check(&pages);
    assert!(pages.len() > 2);
    let circuits: Vec<String> =
        words(&pages).into_iter().filter(|word| word.starts_with('c') && word != "circuits").collect();
    assert_eq!(circuits, said);
    assert!(pages.iter().all(|page| text(page)[0] == "device"));
    assert!(words(&pages).contains(&"Q8".to_owned()));
}

fn picture(width: i32, height: i32) -> Picture {
    let mut drawing = Drawing::new(Size::whole_mm(width, height));
    let line = Typesetter::new().line(Face::Bold, "CH3-JB1").unwrap();
    drawing.text(line, Point::new(Length::mm(5.0), Length::mm(15.0)), Length::mm(10.0), Ink::Black);
    Picture { drawing: Arc::new(drawing), caption: "Notice".to_owned() }
}

#[test]
fn a_picture_is_true_to_size_or_says_its_scale() {
    // ISO 216: A7 lying is 105 x 74 mm, A3 420 x 297 mm.
    let pages = laid(upright().turned(), vec![Block::Picture(picture(105, 74))]);
    assert_eq!(pages[0].placed[0].drawing.size, Size::whole_mm(105, 74));
    assert_eq!(text(&pages[0]), ["Notice, true size"]);
    let pages = laid(upright().turned(), vec![Block::Picture(picture(420, 297))]);
    check(&pages);
    let caption = text(&pages[0]).concat();
    let percent: f64 = caption.split_whitespace().find_map(|word| word.parse().ok()).unwrap();
    assert!(caption.contains("% of its size, 420 x 297 mm"), "{caption}");
    let size = pages[0].placed[0].drawing.size;
    assert_eq!(size.width, Length::mm(420.0 * percent / 100.0));
    assert_eq!(size.height, Length::mm(297.0 * percent / 100.0));
}

#[test]
fn blocks_stand_beside_a_picture_as_far_as_there_is_room() {
    let blocks: Vec<Block> = (0..80).map(|number| Block::body(format!("fact{number}"))).collect();
    let pages = laid(upright().turned(), vec![Block::Beside(picture(105, 74), blocks)]);
    check(&pages);
    let all = words(&pages);
    let facts: Vec<&String> = all.iter().filter(|word| word.starts_with("fact")).collect();
    assert_eq!(facts.len(), 80);
    let first = &lines(&pages[0]);
    let at = |name: &str| first.iter().find(|line| line.text == name).map(|line| line.left);
    assert!(at("fact0").unwrap() > Length::mm(105.0));
    // Where the picture takes the whole width, they stand below it.
    let pages = laid(upright(), vec![Block::Beside(picture(180, 100), vec![Block::body("fact")])]);
    let fact = lines(&pages[0]).into_iter().find(|line| line.text == "fact").unwrap();
    assert!(fact.baseline > Length::mm(100.0) && fact.left < Length::mm(30.0));
}

#[test]
fn columns_stand_side_by_side_unless_one_is_long() {
    let column = |count: usize, name: &str| vec![Block::List(vec![name.to_owned(); count])];
    let left_of =
        |pages: &[Page], name: &str| lines(&pages[0]).into_iter().find(|line| line.text == name).unwrap().left;
    let pages = laid(upright(), vec![Block::Columns(vec![column(3, "one"), column(3, "two")])]);
    assert!(left_of(&pages, "two") > left_of(&pages, "one"));
    let pages = laid(upright(), vec![Block::Columns(vec![column(50, "one"), column(3, "two")])]);
    check(&pages);
    assert_eq!(words(&pages).iter().filter(|word| *word == "two").count(), 3);
    assert_eq!(words(&pages).iter().filter(|word| *word == "one").count(), 50);
}

#[test]
fn a_form_is_never_broken_and_never_alone() {
    let form = Form {
        title: "Approval".to_owned(),
        choices: ["as drawn", "with changes", "not"].map(str::to_owned).into(),
        remarks: "Changes".to_owned(),
        room: Length::mm(12.0),
        fields: ["name", "date"].map(|label| Field { label: label.to_owned(), share: 1 }).into(),
    };
    for before in 0..60 {
        let pages = laid(upright(), [vec![Block::body("filler"); before], vec![Block::Form(form.clone())]].concat());
        check(&pages);
        let last = text(pages.last().unwrap());
        assert!(
            ["Approval", "as drawn", "not", "Changes", "date"].iter().all(|word| last.contains(&(*word).to_owned())),
            "{before}"
        );
        assert!(before == 0 || last.contains(&"filler".to_owned()), "{before}: nothing of what it approves");
    }
}

#[test]
fn a_running_head_that_is_too_long_ends_in_dots() {
    let typesetter = Typesetter::new();
    let foot = "Saltmere cold store ".repeat(40);
    let (house, typesetter) = (House::default(), &typesetter);
    let stationery = Stationery { paper: upright(), head: "For approval", foot: &foot, house: &house, typesetter };
    let section = Section { head: "CH3-JB1 ".repeat(100), blocks: vec![Block::body("text")] };
    let page = stationery.page(&stationery.lay(&section).leaves[0], 12_345, 67_890);
    check(std::slice::from_ref(&page));
    let said: Vec<String> = lines(&page).into_iter().map(|line| line.text).collect();
    assert_eq!((said[0].as_str(), said[4].as_str()), ("For approval", "page 12345 of 67890"));
    assert!(said[1].ends_with('…') && said[3].ends_with('…'), "{said:?}");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, ..ProptestConfig::default() })]

    #[test]
    fn whatever_a_cell_holds_stays_on_the_page(cells in prop::collection::vec("\\PC{0,400}|[a-z]{0,90}( [A-Z]{1,40}){0,9}", 3..12)) {
        let rows: Vec<Vec<Cell>> = cells.chunks(3).map(|row| row.iter().map(|words| cell(words)).collect()).collect();
        let blocks = vec![Block::heading(&cells[0]), Block::List(cells.clone()), table(rows), Block::text(Style::Title, &cells[1])];
        for paper in [upright(), upright().turned()] {
            check(&laid(paper, blocks.clone()));
        }
    }
}
