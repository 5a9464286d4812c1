//! What must hold of this stage, provoked case by case.

mod reading;
mod works;

use super::*;
use crate::drawing::{Drawing, Face, Ink, Item, Modules, Path};
use crate::length::{Length, Point, Rect, Size};
use crate::sheets::{Correction, Palette, Placed};
use crate::typesetting::Typesetter;

const SIDE: Size = Size::new(Length::um(50_000), Length::um(40_000));

fn point(x: i32, y: i32) -> Point {
    Point::new(Length::um(x), Length::um(y))
}

fn page(drawing: Drawing) -> Page {
    Page {
        size: SIDE,
        placed: vec![Placed { corner: point(1_000, 2_000), turned: false, drawing: Arc::new(drawing) }],
        ..Page::plain(Drawing::new(SIDE))
    }
}

fn group(name: &'static str, width: i32) -> Arc<Group> {
    let mut drawing = Drawing::new(SIDE);
    drawing.stroke(Path::line(point(0, 0), point(width, 0)), Ink::Black, Length::um(100));
    let line = Typesetter::new().line(Face::Bold, "G").unwrap();
    drawing.text(line, point(0, 9_000), Length::um(3_000), Ink::Black);
    Arc::new(Group { name, alternative: "", drawing })
}

fn with_group(group: &Arc<Group>) -> Drawing {
    let mut drawing = Drawing::new(SIDE);
    let at = Rect::new(point(5_000, 6_000), Size::new(Length::um(25_000), Length::um(20_000)));
    drawing.items.push(Item::Group { group: Arc::clone(group), at });
    drawing
}

fn operators(drawing: &Drawing) -> String {
    let mut content = Content::new(&Palette::Office);
    content.drawing(drawing);
    String::from_utf8_lossy(&content.bytes).into_owned()
}

fn written(pages: &[Page], info: &DocumentInfo) -> lopdf::Document {
    let mut bytes = Vec::new();
    let mut writer = PdfWriter::begin(&mut bytes, &Setup::plain(info.clone(), Palette::Office)).unwrap();
    writer.add_all(pages.len(), |number| Ok(pages[number].clone())).unwrap();
    let written = writer.finish().unwrap();
    assert_eq!((written.bytes, written.pages), (bytes.len() as u64, pages.len()));
    lopdf::Document::load_mem(&bytes).unwrap()
}

#[test]
fn marks_become_short_operators_in_hundredths_of_a_millimetre() {
    let mut drawing = Drawing::new(SIDE);
    drawing.fill(Path::rectangle(Rect::new(point(1_000, 2_000), SIDE)), Ink::Black);
    drawing.fill(Path::new().move_to(point(0, 0)).line_to(point(0, 0)).line_to(point(5, 9)).close(), Ink::Black);
    drawing.stroke(Path::line(point(0, 5), point(12_345, -70)), Ink::Grey, Length::um(240));
    drawing.stroke(Path::line(point(0, 0), point(10, 0)), Ink::Grey, Length::um(240));
    let expected = "0 g\n100 -200 5000 -4000 re\nf\n0 0 m\n0.5 -0.9 l\nh\nf\n\
                    .45 G\n24 w\n0 -0.5 m\n1234.5 7 l\nS\n0 0 m\n1 0 l\nS\n";
    assert_eq!(operators(&drawing), expected);
}

#[test]
fn a_code_is_one_path_and_one_fill() {
    // Three rows of four: a block of two by two, a single module that ends where the block does, one alone.
    let rows = vec![0b0011, 0b0011, 0b1010, 0b1010];
    let code = Modules { origin: point(0, 1_000), module: Length::um(412), side: 4, rows, payload: String::new() };
    let mut drawing = Drawing::new(SIDE);
    drawing.items.push(Item::Modules(code));
    let expected = "q\n0 g\n41.2 0 0 -41.2 0 -100 cm\n0 0 2 2 re\n1 2 1 2 re\n3 2 1 2 re\nf\nQ\n";
    assert_eq!(operators(&drawing), expected);
}

#[test]
fn a_code_wider_than_a_word_keeps_every_module() {
    let side = 70_u16;
    let dark = |x: u16, y: u16| (x * 7 + y * 13 + x * y).is_multiple_of(3) || x >= 60;
    let rows = (0..side).flat_map(|y| {
        let word =
            |start: u16, end: u16| (start..end).filter(|x| dark(*x, y)).fold(0_u64, |word, x| word | 1 << (x % 64));
        [word(0, 64), word(64, side)]
    });
    let code =
        Modules { origin: point(0, 0), module: Length::um(10), side, rows: rows.collect(), payload: String::new() };
    let mut drawing = Drawing::new(SIDE);
    drawing.items.push(Item::Modules(code));
    let mut found = vec![[0_u8; 70]; 70];
    for line in operators(&drawing).lines().filter(|line| line.ends_with("re")) {
        let numbers: Vec<usize> = line.split(' ').filter_map(|number| number.parse().ok()).collect();
        for row in &mut found[numbers[1]..numbers[1] + numbers[3]] {
            row[numbers[0]..numbers[0] + numbers[2]].iter_mut().for_each(|module| *module += 1);
        }
    }
    for y in 0..side {
        for x in 0..side {
            assert_eq!(found[usize::from(y)][usize::from(x)], u8::from(dark(x, y)), "{x} {y}");
        }
    }
}

#[test]
fn what_pages_begin_with_alike_is_stored_once() {
    let mut marks = Drawing::new(SIDE);
    marks.stroke(Path::line(point(0, 0), point(7_777, 0)), Ink::Black, Length::um(100));
    let (marks, again) = (Arc::new(marks.clone()), Arc::new(marks));
    let with = |repeated: &Arc<Drawing>, correction| Page {
        repeated: Arc::clone(repeated),
        correction,
        ..page(Drawing::new(SIDE))
    };
    let (plain, moved) = (Correction::default(), Correction { offset: point(500, 0), ..Correction::default() });
    let pages = [with(&marks, plain), with(&marks, plain), with(&marks, moved), with(&again, moved)];
    let document = written(&pages, &DocumentInfo::default());
    let contents: Vec<Vec<lopdf::ObjectId>> =
        document.get_pages().values().map(|id| document.get_page_contents(*id)).collect();
    let [first, second, third, fourth] = &contents[..] else { panic!("{contents:?}") };
    assert_eq!((first.len(), first[0], first[1] == second[1]), (2, second[0], false));
    // Where the printer's error is another, or the marks may be others, nothing is shared.
    assert!(second[0] != third[0] && third[0] != fourth[0], "{contents:?}");
    for (page, id) in document.get_pages() {
        let content = String::from_utf8(document.get_page_content(id)).unwrap();
        assert_eq!(content.matches("0 0 m\n777.7 0 l\nS\n").count(), 1, "page {page}: {content}");
        assert_eq!(content.matches("1 j 1 J").count(), 1, "page {page}: {content}");
    }
}

#[test]
fn a_group_is_stored_once_and_bears_its_font() {
    let sign = group("a sign", 500);
    let document = written(&[page(with_group(&sign)), page(with_group(&sign))], &DocumentInfo::default());
    let forms = document.objects.values().filter(|object| {
        object.as_stream().is_ok_and(|stream| stream.dict.get(b"Subtype").is_ok_and(|kind| kind == &"Form".into()))
    });
    let forms: Vec<_> = forms.collect();
    assert_eq!(forms.len(), 1);
    let form = forms[0].as_stream().unwrap();
    assert_eq!(form.dict.get(b"BBox").unwrap().as_array().unwrap(), &[0.into(), (-4000).into(), 5000.into(), 0.into()]);
    let content = document.get_page_content(*document.get_pages().get(&2).unwrap());
    let content = String::from_utf8_lossy(&content);
    assert!(content.contains("q\n0.5 0 0 0.5 500 -600 cm /a#20sign Do\nQ\n"), "{content}");
}

#[test]
fn two_groups_of_one_name_are_refused() {
    let mut writer = PdfWriter::begin(Vec::new(), &Setup::default()).unwrap();
    writer.add(&encode(&page(with_group(&group("sign", 500))), &Palette::Office)).unwrap();
    writer.add(&encode(&page(with_group(&group("sign", 500))), &Palette::Office)).unwrap();
    let error = writer.add(&encode(&page(with_group(&group("sign", 600))), &Palette::Office)).unwrap_err();
    assert_eq!(error.to_string(), "two different groups are named `sign`");
}

#[test]
fn the_catalogue_asks_for_true_size_on_one_side() {
    let info = DocumentInfo { title: "T".into(), language: "cy-GB".into(), ..DocumentInfo::default() };
    let document = written(&[page(Drawing::new(SIDE))], &info);
    let catalog = document.catalog().unwrap();
    let preferences = catalog.get(b"ViewerPreferences").unwrap().as_dict().unwrap();
    assert_eq!(preferences.get(b"PrintScaling").unwrap(), &"None".into());
    assert_eq!(preferences.get(b"Duplex").unwrap(), &"Simplex".into());
    assert_eq!(preferences.get(b"DisplayDocTitle").unwrap(), &true.into());
    assert_eq!(catalog.get(b"Lang").unwrap().as_str().unwrap(), b"cy-GB");
    let info = document.dereference(document.trailer.get(b"Info").unwrap()).unwrap().1.as_dict().unwrap();
    assert_eq!(info.get(b"Trapped").unwrap(), &"False".into());
    // Without the job's date there is none: never the clock's, never 1970.
    assert!(info.get(b"CreationDate").is_err() && info.get(b"ModDate").is_err());
}

#[test]
fn the_identity_follows_from_the_content() {
    let identity = |drawing: Drawing| {
        let document = written(&[page(drawing)], &DocumentInfo::default());
        document.trailer.get(b"ID").unwrap().as_array().unwrap()[0].as_str().unwrap().to_vec()
    };
    let mut other = Drawing::new(SIDE);
    other.fill(Path::circle(point(5, 5), Length::um(3)), Ink::Black);
    assert_eq!(identity(Drawing::new(SIDE)), identity(Drawing::new(SIDE)));
    assert_ne!(identity(Drawing::new(SIDE)), identity(other));
    assert_eq!(identity(Drawing::new(SIDE)).len(), 16);
}

#[test]
fn a_correction_moves_and_scales_the_whole_page() {
    let correction = Correction { offset: point(400, -300), scale_x: 1.002, ..Correction::default() };
    let corrected = Page { correction, ..page(Drawing::new(SIDE)) };
    let document = written(&[corrected], &DocumentInfo::default());
    let content = document.get_page_content(*document.get_pages().get(&1).unwrap());
    // 72/2540 = 0.028346457, times 1.002 = 0.02840315; 0.4 mm = 1.133858268 pt; 40.3 mm = 114.236220472 pt.
    let expected = "0.02840315 0 0 0.028346457 1.133858268 114.236220472 cm\n1 j 1 J\n";
    assert!(String::from_utf8_lossy(&content).starts_with(expected), "{}", String::from_utf8_lossy(&content));
}

#[test]
fn widths_are_those_of_the_font_by_number_in_the_whole_font() {
    let line = Typesetter::new().line(Face::Medium, "Wi-42 Ł").unwrap();
    let mut drawing = Drawing::new(SIDE);
    drawing.text(Arc::clone(&line), point(0, 5_000), Length::um(3_000), Ink::Black);
    let document = written(&[page(drawing)], &DocumentInfo::default());
    let descendant = document.objects.values().filter_map(|object| object.as_dict().ok());
    let descendant = descendant.into_iter().find(|dictionary| dictionary.has(b"CIDToGIDMap")).unwrap();
    let mut widths = BTreeMap::new();
    let entries = descendant.get(b"W").unwrap().as_array().unwrap();
    for pair in entries.chunks_exact(2) {
        let first = pair[0].as_i64().unwrap();
        for (glyph, width) in (first..).zip(pair[1].as_array().unwrap()) {
            widths.insert(u16::try_from(glyph).unwrap(), width.as_i64().unwrap());
        }
    }
    let face = rustybuzz::ttf_parser::Face::parse(crate::typesetting::fonts::bytes(Face::Medium), 0).unwrap();
    let (_, map) = document.dereference(descendant.get(b"CIDToGIDMap").unwrap()).unwrap();
    let map = map.as_stream().unwrap().decompressed_content().unwrap();
    for glyph in &line.glyphs {
        let advance = face.glyph_hor_advance(rustybuzz::ttf_parser::GlyphId(glyph.id)).unwrap();
        assert_eq!(widths.get(&glyph.id), Some(&i64::from(advance)));
        let at = usize::from(glyph.id) * 2;
        assert_ne!(map[at..at + 2], [0, 0], "glyph {} is not in the cut font", glyph.id);
    }
}

#[test]
fn only_a_line_that_would_read_otherwise_carries_its_text() {
    let mut drawing = Drawing::new(SIDE);
    let line = Typesetter::new().line(Face::Bold, "400\u{a0}V, DB\u{2011}C").unwrap();
    drawing.text(line, point(0, 5_000), Length::um(3_000), Ink::Black);
    assert!(!operators(&drawing).contains("ActualText"));
    let mut drawing = Drawing::new(SIDE);
    let line = Typesetter::new().line(Face::Bold, "5 e\u{301}").unwrap();
    drawing.text(line, point(0, 5_000), Length::um(3_000), Ink::Black);
    let operators = operators(&drawing);
    assert!(operators.contains("BT\n/Span<</ActualText<FEFF0035002000650301>>>BDC\n"));
    assert!(operators.ends_with("]TJ\nEMC\nET\n"));
}

#[test]
fn lines_share_a_text_object_until_something_else_is_drawn() {
    let mut drawing = Drawing::new(SIDE);
    let line = Typesetter::new().line(Face::Bold, "I").unwrap();
    let em = Length::um(3_000);
    drawing.text(Arc::clone(&line), point(100, 5_000), em, Ink::Black);
    drawing.text(Arc::clone(&line), point(350, 4_990), em, Ink::White);
    drawing.fill(Path::rectangle(Rect::new(point(0, 0), SIDE)), Ink::White);
    drawing.text(line, point(100, 9_000), em, Ink::White);
    let shown = operators(&drawing).replace(|character: char| character.is_control() && character != '\n', "");
    let shown = shown.split("[(").map(|part| part.split_once(")]TJ").map_or(part, |(_, behind)| behind));
    let expected = "0 g\nBT\n/B 300 Tf\n10 -500 Td\n\n1 g\n25 1 Td\n\nET\n\
                    0 0 5000 -4000 re\nf\nBT\n10 -900 Td\n\nET\n";
    assert_eq!(shown.collect::<String>(), expected);
}

#[test]
fn glyph_numbers_that_would_end_a_string_are_marked() {
    for (glyph, expected) in [(0x2829_u16, &b"\\(\\)"[..]), (0x5C0D, b"\\\\\\r"), (0x000A, b"\0\n"), (0x0041, b"\0A")] {
        // No face has so many glyphs: the number is spelt all the same.
        let spelt = fonts::table(Face::Bold).spelt(glyph);
        assert_eq!(&spelt.bytes[..usize::from(spelt.count)], expected, "{glyph:04X}");
    }
}

#[test]
fn lengths_are_spelt_to_the_micrometre() {
    let spelt = |micrometres: i32| {
        let mut bytes = Vec::new();
        content::push_length(&mut bytes, Length::um(micrometres));
        String::from_utf8(bytes).unwrap()
    };
    let exactly = |micrometres: i32| {
        let sign = if micrometres < 0 { "-" } else { "" };
        let (whole, rest) = (micrometres.unsigned_abs() / 10, micrometres.unsigned_abs() % 10);
        if rest == 0 { format!("{sign}{whole}") } else { format!("{sign}{whole}.{rest}") }
    };
    let far = [i32::MIN, i32::MIN + 1, -1_000_000_000, 99_999, 100_000, 999_999, 1_000_000, i32::MAX];
    for micrometres in (-12_000..12_000).chain(far) {
        assert_eq!(spelt(micrometres), exactly(micrometres));
    }
}
