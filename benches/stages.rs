//! From the survey's bytes to those of the document, stage by stage, at growing sites without a supplies file.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "a bench that cannot go on stops")]

use std::fmt::Write as _;
use std::hint::black_box;

use divan::Bencher;
use divan::counter::ItemsCount;
use noticewright::drawing::Drawing;
use noticewright::length::{ISO_216, Length, Point, Size};
use noticewright::network::{Network, NetworkOptions};
use noticewright::notice::{Notice, NoticeOptions, compose};
use noticewright::rules::{RuleOptions, decide};
use noticewright::sheets::{Page, Palette, Placed};
use noticewright::survey::{ReadOptions, Survey, read};
use noticewright::typesetting::code::{Code, Level};
use noticewright::typesetting::{LetterFloor, Setting, Typesetter};
use noticewright::wording::Wording;
use noticewright::writers::pdf::{DocumentInfo, EncodedPage, PdfWriter, Setup, encode};

const SIZES: [usize; 4] = [100, 1_000, 10_000, 100_000];

fn main() {
    divan::main();
}

/// Enclosures with two rows each, from two boards, and two isolators that serve some forty enclosures.
fn text(enclosures: usize) -> String {
    let mut text =
        "enclosure,name,area,circuit,serves,fed_from,source,nominal,conductors,earthing,voltage_to_earth,isolator,\
                    isolator_location,device_kind,poles,locking,basis,record_link\n"
            .to_owned();
    for number in 0..enclosures {
        let (area, board) = (number / 40, number % 40);
        for (side, serves) in [("A", "evaporator fan"), ("B", "defrost heater")] {
            writeln!(
                text,
                "CH{area}-JB{board},Junction box {board},Chamber {area},DB-{side}{area}/{board},{serves},DB-{side}{area},mains,\
                 230/400,L1 N,TN-S,230,Q{side}{area},\"Switchroom {area}, board {side}\",breaker,3+N,padlock,traced,https://records.example/site/CH{area}-JB{board}"
            )
            .unwrap();
        }
    }
    text
}

fn surveyed(enclosures: usize) -> Survey {
    let reading = read(text(enclosures).as_bytes(), &ReadOptions::new("survey.csv"));
    assert_eq!(reading.survey.enclosures.len(), enclosures);
    reading.survey
}

#[divan::bench(args = SIZES)]
fn reading(bencher: Bencher<'_, '_>, enclosures: usize) {
    let (text, options) = (text(enclosures), ReadOptions::new("survey.csv"));
    bencher.counter(ItemsCount::new(enclosures)).bench(|| read(black_box(text.as_bytes()), &options));
}

#[divan::bench(args = SIZES)]
fn joining(bencher: Bencher<'_, '_>, enclosures: usize) {
    let survey = surveyed(enclosures);
    let join = || Network::join(black_box(&survey), None, &NetworkOptions::default());
    bencher.counter(ItemsCount::new(enclosures)).bench(join);
}

#[divan::bench(args = SIZES)]
fn deciding(bencher: Bencher<'_, '_>, enclosures: usize) {
    let survey = surveyed(enclosures);
    let network = Network::join(&survey, None, &NetworkOptions::default()).0;
    let deciding = || decide(black_box(&survey), &network, &RuleOptions::default());
    bencher.counter(ItemsCount::new(enclosures)).bench(deciding);
}

#[divan::bench(args = SIZES)]
fn composing(bencher: Bencher<'_, '_>, enclosures: usize) {
    let survey = surveyed(enclosures);
    let network = Network::join(&survey, None, &NetworkOptions::default()).0;
    let decisions = decide(&survey, &network, &RuleOptions::default()).0;
    let (wording, options) = (Wording::english(), NoticeOptions::default());
    let composing = || compose(&survey, black_box(&decisions), &wording, &options);
    bencher.counter(ItemsCount::new(enclosures)).bench(composing);
}

/// The enclosures' notices, in walking order.
fn worded(enclosures: usize) -> Vec<Notice> {
    let survey = surveyed(enclosures);
    let network = Network::join(&survey, None, &NetworkOptions::default()).0;
    let decisions = decide(&survey, &network, &RuleOptions::default()).0;
    let notices = compose(&survey, &decisions, &Wording::english(), &NoticeOptions::default()).0;
    assert!(notices.len() >= enclosures);
    notices
}

/// A7 to A4, as they lie.
fn sizes() -> Vec<Size> {
    let named = |name| ISO_216.into_iter().find(|(known, _)| *known == name).unwrap().1;
    ["A7", "A6", "A5", "A4"].map(named).into()
}

fn fitted(notice: &Notice, sizes: &[Size]) -> Setting {
    Typesetter::new().fit_on(notice, sizes, LetterFloor::default(), |_| None).unwrap()
}

#[divan::bench(args = SIZES)]
fn fitting(bencher: Bencher<'_, '_>, enclosures: usize) {
    let (notices, sizes) = (worded(enclosures), sizes());
    let fitting = || notices.iter().map(|notice| fitted(black_box(notice), &sizes)).filter(|set| set.is_tag).count();
    bencher.counter(ItemsCount::new(notices.len())).bench(fitting);
}

#[divan::bench(args = SIZES)]
fn codes(bencher: Bencher<'_, '_>, enclosures: usize) {
    let link = |number| format!("https://records.example/site/CH{}-JB{}", number / 40, number % 40);
    let links: Vec<String> = (0..enclosures).map(link).collect();
    let dark = |link: &String| u64::from(Code::of(link, Level::Medium).unwrap().rows[20].count_ones());
    bencher.counter(ItemsCount::new(enclosures)).bench(|| links.iter().map(dark).sum::<u64>());
}

/// With the codes.
#[divan::bench(args = SIZES)]
fn drawing(bencher: Bencher<'_, '_>, enclosures: usize) {
    let (notices, sizes) = (worded(enclosures), sizes());
    let settings: Vec<Setting> = notices.iter().map(|notice| fitted(notice, &sizes)).collect();
    let draw = |(notice, setting)| Typesetter::new().draw(notice, setting).items.len();
    bencher.counter(ItemsCount::new(notices.len())).bench(|| notices.iter().zip(&settings).map(draw).sum::<usize>());
}

/// Sheets of four; only as many pages as memory holds are made, and each is encoded as often as the site needs.
fn pages() -> Vec<Page> {
    let (notices, sizes) = (worded(100), sizes());
    let draw = |notice: &Notice| Typesetter::new().draw(notice, &fitted(notice, &sizes));
    let page = |four: &[Notice]| {
        let corner = |number: i32| Point::new(Length::ZERO, Length::um(number * 74_000));
        let placed = (0..).zip(four).map(|(number, notice)| Placed {
            corner: corner(number),
            turned: false,
            drawing: draw(notice),
        });
        Page { placed: placed.collect(), ..Page::plain(Drawing::new(Size::whole_mm(210, 297))) }
    };
    notices.chunks_exact(4).map(page).collect()
}

/// Operators, and their deflating.
#[divan::bench(args = SIZES)]
fn encoding(bencher: Bencher<'_, '_>, notices: usize) {
    let pages = pages();
    let encoding =
        || pages.iter().cycle().take(notices / 4).for_each(|page| drop(black_box(encode(page, &Palette::Office))));
    bencher.counter(ItemsCount::new(notices)).bench(encoding);
}

/// Objects and table of pages that are encoded already.
#[divan::bench(args = SIZES)]
fn writing(bencher: Bencher<'_, '_>, notices: usize) {
    let encoded: Vec<EncodedPage> = pages().iter().map(|page| encode(page, &Palette::Office)).collect();
    bencher.counter(ItemsCount::new(notices)).bench(|| {
        let setup = Setup::plain(DocumentInfo::default(), Palette::Office);
        let mut writer = PdfWriter::begin(std::io::sink(), &setup).unwrap();
        encoded.iter().cycle().take(notices / 4).for_each(|page| writer.add(page).unwrap());
        writer.finish().unwrap()
    });
}
