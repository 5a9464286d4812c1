//! Codes, the sign, page boxes, the number of pages; and documents whose texts are outlines.

use std::sync::Arc;

use kurbo::PathEl;
use lopdf::{Document, Object};
use noticewright::drawing::{Item, Path};
use noticewright::length::{Length, Point};
use noticewright::notice::Said;
use noticewright::reading_back::Texts;
use noticewright::sheets::Palette;
use noticewright::writers::outlines;

use crate::fixture::{Job, assert_said, changed, document, said};

#[test]
fn the_code_of_another_notice_no_code_and_one_too_many_are_found() {
    let job = Job::usual();
    let link = "https://records.example/CH3-JB9/1";
    let other = job.with("CH3-JB1/1", |notice| notice.code = Some(link.into()));
    let own = job.notices[0].code.clone().unwrap();
    let wanted = format!("page 1, notice `CH3-JB1/1`: the code carries `{link}` and should carry `{own}`");
    assert_said(&job.read(other.document()), &[&wanted]);

    let mut pages = job.pages();
    pages[0].placed[0].drawing = changed(&pages[0].placed[0].drawing, |drawing| {
        drawing.items.retain(|item| !matches!(item, Item::Modules(_)));
    });
    assert_said(&job.read(document(&pages, &Palette::Office)), &["page 1, notice `CH3-JB1/1`: the code is missing"]);

    let without = job.with("CH3-JB1/1", |notice| (notice.code, notice.code_caption) = (None, Said::new()));
    let found = said(&without.read_pages(job.document(), &without.pages(), Texts::Letters));
    assert!(
        found.contains(&format!(
            "page 1, notice `CH3-JB1/1`: a code with `{own}` stands there, and nothing asks for it"
        )),
        "{found:?}"
    );
}

#[test]
fn a_sign_that_is_missing_or_smaller_than_claimed_is_found() {
    let job = Job::usual();
    let no_sign = ["page 1, notice `CH3-JB1/1`: the warning sign is missing, or not as large as claimed"];
    let mut pages = job.pages();
    let right = Arc::clone(&pages[0].placed[0].drawing);
    pages[0].placed[0].drawing =
        changed(&right, |drawing| drawing.items.retain(|item| !matches!(item, Item::Group { .. })));
    assert_said(&job.read(document(&pages, &Palette::Office)), &no_sign);
    pages[0].placed[0].drawing = changed(&right, |drawing| {
        for item in &mut drawing.items {
            if let Item::Group { at, .. } = item {
                at.size.width = at.size.width.scaled(0.9);
                at.size.height = at.size.height.scaled(0.9);
            }
        }
    });
    assert_said(&job.read(document(&pages, &Palette::Office)), &no_sign);
}

/// A box of the first page set to something else, in points.
fn with_box(bytes: &[u8], name: &str, corners: Option<[f32; 4]>) -> Vec<u8> {
    let mut document = Document::load_mem(bytes).unwrap();
    let page = document.get_pages()[&1];
    let page = document.get_object_mut(page).unwrap().as_dict_mut().unwrap();
    match corners {
        Some(corners) => page.set(name, Object::Array(corners.map(Object::Real).into())),
        None => drop(page.remove(name.as_bytes())),
    }
    let mut bytes = Vec::new();
    document.save_to(&mut bytes).unwrap();
    bytes
}

#[test]
fn a_box_that_is_a_hair_off_is_found() {
    let job = Job::usual();
    let bytes = job.document();
    // A4 is 595.2756 x 841.8898 points; a tenth of a point is 0.035 mm.
    let moved = with_box(&bytes, "TrimBox", Some([0.1, 0.0, 595.2756, 841.8898]));
    assert_said(&job.read(moved), &["page 1: the TrimBox is 0.035, 0, 210, 297 mm and should be 0, 0, 210, 297 mm"]);
    // A hundredth of a point is 0.0035 mm, less than any machine can tell.
    assert_said(&job.read(with_box(&bytes, "TrimBox", Some([0.01, 0.0, 595.2756, 841.8898]))), &[]);
    let cropped = said(&job.read(with_box(&bytes, "CropBox", Some([0.0, 0.0, 595.2756, 800.0]))));
    assert!(
        cropped.iter().any(|line| line.starts_with("page 1: the CropBox is 0, 14.778, 210, 297 mm")),
        "{cropped:?}"
    );
    let bled = said(&job.read(with_box(&bytes, "BleedBox", Some([-8.0, -8.0, 603.0, 850.0]))));
    assert!(bled.iter().any(|line| line.starts_with("page 1: the BleedBox is ")), "{bled:?}");
}

#[test]
fn a_page_that_is_lost_or_a_document_that_is_none_is_found() {
    let job = Job::usual();
    let mut pages = job.pages();
    assert!(pages.len() > 1);
    let count = pages.len();
    pages.pop();
    let found = said(&job.read(document(&pages, &Palette::Office)));
    assert!(found.contains(&format!("{} pages where {count} were planned", count - 1)), "{found:?}");
    assert_said(&job.read(b"nothing".to_vec()), &["no reader makes sense of it"]);
}

#[test]
fn of_outlines_only_codes_sign_and_boxes_are_read() {
    let job = Job::usual();
    let mut pages = job.pages();
    for page in &mut pages {
        let nothing = noticewright::drawing::Drawing::new(page.size);
        (page.furniture, page.repeated) = (nothing.clone(), Arc::new(nothing));
        for placed in &mut page.placed {
            let shapes = outlines::shapes(&placed.drawing);
            placed.drawing = changed(&placed.drawing, |drawing| {
                drawing.items.clear();
                for shape in shapes.into_iter().filter(|shape| shape.line.is_none()) {
                    drawing.fill(path(&shape.path), shape.ink);
                }
            });
        }
    }
    let read = job.read_pages(document(&pages, &Palette::BlackOnly), &pages, Texts::Outlines);
    assert_said(&read, &[]);
    assert_eq!((read.lines, read.notices), (0, job.notices.len()));
    assert_eq!(read.codes, 0, "codes are outlines too");
    // A letter that is left among them is no outline.
    let found = said(&job.read_pages(job.document(), &job.pages(), Texts::Outlines));
    assert!(found.iter().any(|line| line.contains("`Q7` stands there, and nothing asks for it")), "{found:?}");
}

/// An outline as a drawing has it.
fn path(outline: &kurbo::BezPath) -> Path {
    let at = |point: &kurbo::Point| Point::new(Length::mm(point.x), Length::mm(point.y));
    let mut from = kurbo::Point::ZERO;
    let mut path = Path::new();
    for element in outline.elements() {
        path = match element {
            PathEl::MoveTo(to) => path.move_to(at(to)),
            PathEl::LineTo(to) => path.line_to(at(to)),
            PathEl::QuadTo(control, to) => {
                let curve = kurbo::QuadBez::new(from, *control, *to).raise();
                path.cubic_to(at(&curve.p1), at(&curve.p2), at(to))
            }
            PathEl::CurveTo(one, other, to) => path.cubic_to(at(one), at(other), at(to)),
            PathEl::ClosePath => path.close(),
        };
        from = element.end_point().unwrap_or(from);
    }
    path
}
