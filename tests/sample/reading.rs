//! A document that is read, with everything that one can have: headings, lists, tables, pictures, a logo, links, bookmarks.
#![allow(dead_code, unreachable_pub, reason = "each test crate uses its own part of this")]

use std::sync::Arc;

use noticewright::drawing::{Drawing, Raster};
use noticewright::length::{Length, Size};
use noticewright::pages::{
    Block, Cell, Column, Document, Field, Form, House, Inside, Picture, Section, Stationery, Style, Table, Target, Text,
};
use noticewright::sheets::Palette;
use noticewright::writers::pdf::{DocumentInfo, Moment, PdfWriter, Setup, Standard, encode};

use crate::sample;

/// A logo of four by two dots in colours.
pub fn logo() -> Arc<Raster> {
    let rgb = (0..24_u8).map(|part| part * 10).collect();
    Arc::new(Raster { width: 4, height: 2, rgb, alternative: "The client\u{2019}s mark".to_owned() })
}

/// Enclosures in a table, each with its own pages.
pub struct Sample(pub usize);

impl Document for Sample {
    fn parts(&self) -> usize {
        1 + self.0.min(3)
    }

    fn section(&self, part: usize, _: &dyn Fn(usize) -> usize) -> Section {
        if part == 0 {
            return Section { head: "Schedule".to_owned(), blocks: front(self.0) };
        }
        let name = format!("CH{part}-JB2");
        let caption = "The notice".to_owned();
        let blocks = vec![
            Block::Anchor(Target::bookmarked(name.as_str(), 1, format!("{name} (Łódź)"))),
            Block::text(Style::Title, &name),
            Block::Picture(Picture { drawing: Arc::new(sample::label(part)), caption }),
            Block::Text(Text::new(Style::Body, "Back to the schedule").leading_to("schedule")),
            Block::Form(Form {
                title: "Done".to_owned(),
                choices: vec!["fixed".to_owned()],
                fields: vec![Field { label: "initials".to_owned(), share: 1 }],
                ..Form::default()
            }),
        ];
        Section { head: name, blocks }
    }
}

fn front(rows: usize) -> Vec<Block> {
    let picture = Arc::new(sample::label(1).scaled(0.3));
    vec![
        Block::Anchor(Target::bookmarked("schedule", 0, "Schedule")),
        Block::text(Style::Title, "Schedule of notices, Σ 400 V"),
        Block::body("words that go on ".repeat(40)),
        Block::List(vec!["one thing".to_owned(), "another thing".to_owned()]),
        Block::heading("Enclosures"),
        Block::Table(Table {
            columns: vec![
                Column::Fitted(Length::mm(40.0)),
                Column::Share(1),
                Column::Share(1),
                Column::Fixed(Length::mm(30.0)),
            ],
            head: ["enclosure", "notice", "", "done"].map(str::to_owned).into(),
            rows: (1..=rows).map(|number| row(number, &picture)).collect(),
            ruled: true,
        }),
        Block::Anchor(Target::bookmarked("end", 0, "The end\u{2026}")),
        Block::Text(Text::new(Style::Body, "To a place that there is not").leading_to("nowhere")),
    ]
}

fn row(number: usize, picture: &Arc<Drawing>) -> Vec<Cell> {
    let name = format!("CH{number}-JB2");
    let said = Inside::Picture(Arc::clone(picture), format!("The notice on {name}: Isolate \u{2265} 2 points"));
    vec![
        vec![
            Inside::Anchor(Target::new(format!("row {number}"))),
            Text::new(Style::Strong, &name).leading_to(name.as_str()).into(),
        ],
        if number <= 3 { vec![said] } else { vec![Text::new(Style::Body, "as the one before").into()] },
        Vec::new(),
        vec![Inside::Tick("fixed".to_owned())],
    ]
}

/// What it says about itself.
pub fn info(dated: bool) -> DocumentInfo {
    DocumentInfo {
        title: "Saltmere – schedule (Łódź) \\ & <more>".to_owned(),
        author: "J. Doe".to_owned(),
        subject: "Notices".to_owned(),
        language: "en-GB".to_owned(),
        created: Moment::day(2026, 3, 14).filter(|_| dated),
    }
}

/// The document with so many rows.
pub fn written(rows: usize, standard: Standard, info: DocumentInfo) -> Vec<u8> {
    let paper = Size::whole_mm(297, 210);
    let house =
        House { logo: Some(logo()), header: "Saltmere Provisions".to_owned(), footer: "Ring the gatehouse".to_owned() };
    let typesetter = sample::typesetter();
    let stationery = Stationery { paper, head: "Schedule", foot: "Saltmere cold store", house: &house, typesetter };
    let book = noticewright::pages::Book::new(Sample(rows), stationery);
    let mut bytes = Vec::new();
    let setup = Setup { info, palette: Palette::Office, standard };
    let mut writer = PdfWriter::begin(&mut bytes, &setup).unwrap();
    for part in 0..book.parts() {
        let (pages, structure) = book.pages(part);
        let encoded: Vec<_> = pages.iter().map(|page| encode(page, &setup.palette)).collect();
        writer.add_section(&encoded, &structure).unwrap();
    }
    writer.finish().unwrap();
    bytes
}
