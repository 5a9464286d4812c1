//! The boxes of a page against those that were asked for (ISO 32000-1, 14.11.2).

use hayro_interpret::hayro_syntax::object::Rect as ReadRect;
use hayro_interpret::hayro_syntax::page::{Page as ReadPage, Rotation};
use kurbo::Rect;

use super::difference::What;
use super::place;
use super::sheet::MM_A_POINT;
use crate::sheets::Page;

/// As exact as a box must be, in mm.
const EXACT: f64 = 0.01;

/// What is wrong with the boxes of a page, and how many were read.
pub(super) fn compare(page: &ReadPage<'_>, planned: &Page) -> (Vec<What>, usize) {
    let size = Rect::new(0.0, 0.0, planned.size.width.to_mm(), planned.size.height.to_mm());
    let (trim, bleed) = (place::rect(planned.trim), planned.bleed.to_mm());
    let media = page.media_box();
    let unit = page.raw().get::<f64>(b"UserUnit".as_slice()).unwrap_or(1.0);
    let in_mm = |read: ReadRect| {
        let across = |x: f64| (x - media.x0) * MM_A_POINT * unit;
        let down = |y: f64| (media.y1 - y) * MM_A_POINT * unit;
        Rect::new(across(read.x0), down(read.y1), across(read.x1), down(read.y0))
    };
    let named = |name: &'static str| page.raw().get::<ReadRect>(name.as_bytes()).map(in_mm);
    // Without a box of its own, a page has the box around it.
    let crop = Some(in_mm(page.crop_box()));
    let read_bleed = named("BleedBox");
    let wanted_bleed = if bleed > 0.0 { trim.inflate(bleed, bleed) } else { read_bleed.map_or(size, |_| trim) };
    let boxes = [
        ("MediaBox", Some(in_mm(media)), size),
        ("CropBox", crop, size),
        ("BleedBox", read_bleed.or(if bleed > 0.0 { None } else { crop }), wanted_bleed),
        ("TrimBox", named("TrimBox").or(if trim == size { crop } else { None }), trim),
    ];
    let read = boxes.iter().filter(|(name, ..)| page.raw().get::<ReadRect>(name.as_bytes()).is_some()).count();
    let mut wrong: Vec<What> =
        boxes.into_iter().filter_map(|(name, seen, wanted)| differs(name, seen, wanted)).collect();
    if !matches!(page.rotation(), Rotation::None) {
        wrong.push(What::Count { of: "quarter turns of the page", seen: quarters(page.rotation()), wanted: 0 });
    }
    (wrong, read)
}

const fn quarters(rotation: Rotation) -> usize {
    match rotation {
        Rotation::None => 0,
        Rotation::Horizontal => 1,
        Rotation::Flipped => 2,
        Rotation::FlippedHorizontal => 3,
    }
}

fn differs(name: &'static str, seen: Option<Rect>, wanted: Rect) -> Option<What> {
    let corners = |rect: Rect| [rect.x0, rect.y0, rect.x1, rect.y1];
    let is_near =
        |seen: Rect| corners(seen).iter().zip(corners(wanted)).all(|(seen, wanted)| (seen - wanted).abs() <= EXACT);
    let seen_corners = seen.map(corners);
    (!seen.is_some_and(is_near)).then(|| What::Box { name, seen: seen_corners, wanted: corners(wanted) })
}
