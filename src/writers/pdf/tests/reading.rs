//! What a reader is told of a document, held by taking the document apart again.

use lopdf::{Dictionary, Document, Object};

use super::*;
use crate::drawing::{Raster, Role};
use crate::sheets::{Anchor, Bookmark, Link, Marked, PlacedRaster, Reading};

#[path = "../../../../tests/judge/tags.rs"]
mod tags;

/// A page with a line of text for each of these parts, in this order; `None` decorates.
fn lines(parts: &[Option<usize>]) -> Page {
    let mut page = Page::plain(Drawing::new(SIDE));
    for (number, part) in parts.iter().enumerate() {
        let line = Typesetter::new().line(Face::Bold, &format!("line {number}")).unwrap();
        page.furniture.text(line, point(0, 5_000), Length::um(3_000), Ink::Black);
        page.reading.marked.extend(part.map(|element| Marked { items: number..number + 1, element }));
    }
    page
}

fn linked(mut page: Page, element: usize, to: &str) -> Page {
    let at = Rect::new(point(1_000, 2_000), Size::new(Length::um(9_000), Length::um(4_000)));
    page.reading.links.push(Link { at, to: to.into(), element });
    page
}

fn anchored(mut page: Page, name: &str, bookmark: Option<(u8, &str)>) -> Page {
    let bookmark = bookmark.map(|(depth, title)| Bookmark { depth, title: title.to_owned() });
    page.reading.anchors.push(Anchor { name: name.into(), top: Length::um(3_000), bookmark });
    page
}

/// Parts with what they belong to.
fn structure(parts: &[(Role, Option<usize>)]) -> Structure {
    let mut structure = Structure::default();
    parts.iter().for_each(|(role, parent)| _ = structure.add(*role, *parent));
    structure
}

fn try_written(sections: &[(Vec<Page>, Structure)], standard: Standard) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    let setup = Setup { info: DocumentInfo::default(), palette: Palette::Office, standard };
    let mut writer = PdfWriter::begin(&mut bytes, &setup)?;
    for (pages, structure) in sections {
        let pages: Vec<_> = pages.iter().map(|page| encode(page, &Palette::Office)).collect();
        writer.add_section(&pages, structure)?;
    }
    writer.finish()?;
    Ok(bytes)
}

fn read(sections: &[(Vec<Page>, Structure)]) -> Document {
    Document::load_mem(&try_written(sections, Standard::Archive).unwrap()).unwrap()
}

fn refused(sections: &[(Vec<Page>, Structure)]) -> String {
    try_written(sections, Standard::Archive).unwrap_err().to_string()
}

fn kinds(tags: &tags::Tags) -> String {
    tags.parts.iter().map(|(kind, depth)| format!("{depth}{kind}")).collect::<Vec<_>>().join(" ")
}

/// The kids of the only part of a type.
fn kids(tags: &tags::Tags, kind: &str) -> Vec<Object> {
    let found: Vec<&Dictionary> = tags.of(kind).collect();
    assert_eq!(found.len(), 1, "{kind}");
    found[0].get(b"K").unwrap().as_array().unwrap().clone()
}

#[test]
fn parts_that_hold_nothing_are_left_out_but_for_cells() {
    use Role::{Cell, Figure, Heading, List, Paragraph, Row, RowHead, Section, Table};
    let parts = [
        (Section, None),
        (Heading(9), Some(0)),
        (Paragraph, Some(0)),
        (List, Some(0)),
        (Table, Some(0)),
        (Row, Some(4)),
        (RowHead, Some(5)),
        (Cell, Some(5)),
        (Figure, Some(7)),
        (Row, Some(4)),
    ];
    let document = read(&[(vec![lines(&[None, Some(1), Some(6), None])], structure(&parts))]);
    assert_eq!(kinds(&tags::check(&document)), "0Document 1Sect 2H6 2Table 3TR 4TH 4TD");
}

#[test]
fn what_a_part_holds_is_told_in_the_order_in_which_it_stands() {
    let parts = [(Role::Paragraph, None), (Role::Link, Some(0)), (Role::Link, Some(0))];
    let page = linked(linked(lines(&[Some(0), Some(1), Some(0), None, Some(0), Some(2)]), 1, "a"), 2, "a");
    let document = read(&[(vec![anchored(page, "a", None), lines(&[Some(0)])], structure(&parts))]);
    let tags = tags::check(&document);
    let kids: Vec<String> = kids(&tags, "P")
        .iter()
        .map(|kid| match (kid.as_i64(), kid.as_dict()) {
            (Ok(run), _) => run.to_string(),
            // What stands on the second page says so.
            (_, Ok(run)) => format!("{}!", run.get(b"MCID").unwrap().as_i64().unwrap()),
            (Err(_), Err(_)) => kid.as_reference().map(|_| "part".to_owned()).unwrap(),
        })
        .collect();
    assert_eq!(kids, ["0", "part", "2", "3", "part", "0!"]);
}

#[test]
fn a_link_over_two_lines_is_one_part_and_one_that_leads_nowhere_is_none() {
    let parts = [(Role::Link, None), (Role::Link, None), (Role::Link, None)];
    let page = linked(linked(lines(&[Some(0), Some(1), Some(2)]), 0, "Łódź (1)\\"), 0, "Łódź (1)\\");
    let page = linked(linked(linked(page, 1, "nowhere"), 2, "nowhere"), 2, "Z");
    let last = anchored(anchored(lines(&[]), "Łódź (1)\\", None), "Z", None);
    let document = read(&[(vec![page], structure(&parts)), (vec![last], Structure::default())]);
    let tags = tags::check(&document);
    assert_eq!(kinds(&tags), "0Document 1Link 1Span 1Link");
    let utf16: Vec<u8> =
        std::iter::once(0xFEFF).chain("Łódź (1)\\".encode_utf16()).flat_map(u16::to_be_bytes).collect();
    let names: Vec<&[u8]> = tags.links.iter().map(|(_, name)| name.as_slice()).collect();
    assert_eq!(names, [&utf16[..], &utf16, b"Z"]);
    // A page whose links are none has an empty list.
    let document = read(&[(vec![linked(lines(&[Some(0)]), 0, "x")], structure(&parts))]);
    assert_eq!(tags::check(&document).links, []);
    assert!(!document.catalog().unwrap().has(b"Names"));
}

#[test]
fn of_two_places_with_one_name_the_first_counts() {
    let pages = [3_000, 9_000].map(|top| {
        let mut page = anchored(lines(&[]), "a", None);
        page.reading.anchors[0].top = Length::um(top);
        page
    });
    let names = tags::names(&read(&[(pages.into(), Structure::default())]));
    let height = names[&b"a"[..]].as_array().unwrap()[3].as_float().unwrap();
    // The page is 40 mm high: 37 mm are 104.8819 points.
    assert!((height - 104.8819).abs() < 0.001, "{height}");
}

#[test]
fn a_page_without_marks_of_its_own_is_decoration_among_those_that_are_read() {
    let mut plain = page(Drawing::new(SIDE));
    plain.furniture.stroke(Path::line(point(0, 5), point(10, 5)), Ink::Grey, Length::um(240));
    let parts = structure(&[(Role::Paragraph, None)]);
    let document = read(&[(vec![lines(&[Some(0)]), plain.clone(), plain.clone()], parts)]);
    assert_eq!(tags::check(&document).runs, 1);
    // A sheet of labels has no tags at all.
    let document = read(&[(vec![plain], Structure::default())]);
    assert!(!document.catalog().unwrap().has(b"StructTreeRoot"));
}

#[test]
fn long_tables_and_many_sections_are_grouped() {
    // PDF 1.4 ends an array at 8191 entries (annex C, from memory); the check looks at each.
    let mut parts = vec![(Role::Table, None)];
    for row in 0..9_000 {
        parts.extend([(Role::Row, Some(0)), (Role::Cell, Some(row * 2 + 1))]);
    }
    let document = read(&[(vec![lines(&[Some(2), Some(18_000)])], structure(&parts))]);
    let tags = tags::check(&document);
    assert_eq!((tags.count("TBody"), tags.count("TR"), tags.count("TD")), (3, 9_000, 9_000));
    assert_eq!(kids(&tags, "Table").len(), 3);
    let section = (vec![lines(&[])], structure(&[(Role::Table, None), (Role::Cell, Some(0))]));
    let sections = vec![section; 9_000];
    let tags = tags::check(&read(&sections));
    assert_eq!((tags.count("Table"), tags.count("Div")), (9_000, 2));
}

#[test]
fn parts_that_there_are_not_are_refused() {
    let parts = structure(&[(Role::Paragraph, None), (Role::Row, Some(1)), (Role::Row, Some(0))]);
    let says = |part: usize| format!("a page speaks of part {part}, which its section has not");
    assert_eq!(refused(&[(vec![lines(&[Some(0), Some(3)])], parts.clone())]), says(3));
    // A part that belongs to itself.
    assert_eq!(refused(&[(vec![lines(&[Some(1)])], parts)]), says(1));
    let plain = structure(&[(Role::Paragraph, None), (Role::Link, None)]);
    for part in [0, 1, 2] {
        // Words that are no link, a link without words, a part that there is not.
        assert_eq!(refused(&[(vec![linked(lines(&[Some(0)]), part, "a")], plain.clone())]), says(part));
    }
    let mut writer = PdfWriter::begin(Vec::new(), &Setup::default()).unwrap();
    let error = writer.add(&encode(&lines(&[Some(0)]), &Palette::Office)).unwrap_err();
    assert_eq!(error.to_string(), says(0));
}

fn raster(first: u8) -> Arc<Raster> {
    let rgb = (first..first + 12).collect();
    Arc::new(Raster { width: 2, height: 2, rgb, alternative: String::new() })
}

fn with_raster(raster: Arc<Raster>, element: Option<usize>) -> Page {
    let at = Rect::new(point(10_000, 20_000), Size::new(Length::um(8_000), Length::um(6_050)));
    Page {
        reading: Reading { rasters: vec![PlacedRaster { raster, at, element }], ..Reading::default() },
        ..lines(&[None])
    }
}

#[test]
fn pictures_of_dots_are_stored_once_by_what_they_show() {
    let pages = vec![with_raster(raster(1), None), with_raster(raster(1), Some(0)), with_raster(raster(9), None)];
    let mut parts = structure(&[(Role::Figure, None)]);
    parts.describe(0, "A mark (\u{1F512}\\)");
    let document = read(&[(pages, parts)]);
    let tags = tags::check(&document);
    let figure = tags.of("Figure").next().unwrap();
    assert_eq!(lopdf::decode_text_string(figure.get(b"Alt").unwrap()).unwrap(), "A mark (\u{1F512}\\)");
    let streams = document.objects.values().filter_map(|object| object.as_stream().ok());
    let images: Vec<_> = streams.filter(|one| one.dict.has(b"BitsPerComponent")).collect();
    assert_eq!(images.iter().map(|one| one.decompressed_content().unwrap()[0]).collect::<Vec<_>>(), [1, 9]);
    let content = document.get_page_content(document.get_pages()[&3]);
    let content = String::from_utf8_lossy(&content);
    assert!(content.trim_end().ends_with("/Artifact BMC\nq\n800 0 0 605 1000 -2605 cm /Dots1 Do\nQ\nEMC"), "{content}");
}

#[test]
fn a_picture_with_too_few_dots_is_refused() {
    let short = Arc::new(Raster { width: 2, height: 2, rgb: vec![0; 11], alternative: String::new() });
    let said = refused(&[(vec![with_raster(short, None)], Structure::default())]);
    assert_eq!(said, "a picture of 2 x 2 dots has 11 bytes, not 12");
}

fn bookmarked(entries: &[(u8, &str)]) -> Document {
    let pages = entries.iter().map(|(depth, title)| anchored(lines(&[]), title, Some((*depth, title))));
    read(&[(pages.collect(), Structure::default())])
}

#[test]
fn a_bookmark_belongs_to_the_one_before_it_that_lies_less_deep() {
    let entries = [(1, "a"), (3, "(b"), (2, "c"), (2, "d"), (0, "Łódź"), (7, "f"), (8, "g\\")];
    let (found, seen) = tags::outline(&bookmarked(&entries));
    let wanted = [(0, "a"), (1, "(b"), (1, "c"), (1, "d"), (0, "Łódź"), (1, "f"), (2, "g\\")];
    assert_eq!(found, wanted.map(|(depth, title)| (depth, title.to_owned())));
    assert_eq!(seen, 7);
}

#[test]
fn a_long_outline_is_opened_as_far_as_it_is_seen_at_a_glance() {
    let entries: Vec<(u8, &str)> = (0..300).map(|number| (u8::from(number % 10 != 0), "x")).collect();
    let (found, seen) = tags::outline(&bookmarked(&entries));
    assert_eq!((found.len(), seen), (300, 30));
    let (_, seen) = tags::outline(&bookmarked(&entries[..40]));
    assert_eq!(seen, 40);
}

#[test]
fn the_archive_gets_no_inks_and_no_page_beyond_its_numbers() {
    let setup = Setup { palette: Palette::Press("Cut".into()), standard: Standard::Archive, ..Setup::default() };
    let error = PdfWriter::begin(Vec::new(), &setup).err().unwrap();
    assert_eq!(error.to_string(), "a document by PDF/A-1b needs greys or the colours of a screen");
    let large = vec![Page::plain(Drawing::new(Size::whole_mm(297, 420)))];
    assert!(refused(&[(large, Structure::default())]).starts_with("a page of 297 x 420 mm is too large"));
}

#[test]
fn a_form_of_the_archive_does_not_lead_to_itself() {
    let sign = group("sign", 500);
    let mut outer = with_group(&sign);
    outer.size = SIDE;
    let outer = Arc::new(Group { name: "outer", alternative: "", drawing: outer });
    let document = read(&[(vec![page(with_group(&outer))], Structure::default())]);
    let forms = document.objects.values().filter_map(|object| object.as_stream().ok());
    let forms: Vec<_> = forms.filter(|one| one.dict.has(b"BBox")).collect();
    assert_eq!(forms.len(), 2);
    let shown = |form: &lopdf::Stream| {
        let resources = form.dict.get(b"Resources").unwrap().as_dict().unwrap();
        let fonts = tags::dictionary(&document, resources.get(b"Font").unwrap());
        assert_eq!(fonts.iter().map(|(key, _)| key.as_slice()).collect::<Vec<_>>(), [b"B"]);
        let shown = resources.get(b"XObject").unwrap().as_dict().unwrap();
        shown.iter().map(|(key, _)| String::from_utf8_lossy(key).into_owned()).collect::<Vec<_>>()
    };
    assert_eq!(
        forms.iter().map(|form| shown(form)).collect::<Vec<_>>(),
        [Vec::<String>::new(), vec!["sign".to_owned()]]
    );
}
