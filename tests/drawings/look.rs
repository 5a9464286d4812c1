//! What a drawing holds, in terms that tests can ask about.

use noticewright::drawing::{Drawing, Ink, Item, Paint};
use noticewright::length::{Length, Point, Rect, Size};
use noticewright::typesetting::code::QUIET_ZONE;
use noticewright::typesetting::fonts::heights;

/// A line of text with its box from the top of its capitals to the lowest descender.
#[derive(Debug)]
pub(crate) struct Line {
    pub(crate) text: String,
    pub(crate) area: Rect,
    pub(crate) capitals: Length,
    pub(crate) ink: Ink,
}

pub(crate) fn lines(drawing: &Drawing) -> Vec<Line> {
    let line = |item: &Item| {
        let Item::Text { line, origin, em, ink } = item else { return None };
        let heights = heights(line.face);
        let share = |units: i32| em.scaled(f64::from(units) / f64::from(heights.units_per_em));
        let (capitals, descent) = (share(heights.capital), share(heights.descender));
        let corner = Point::new(origin.x, origin.y - capitals);
        let area = Rect::new(corner, Size::new(share(line.width), capitals + descent));
        Some(Line { text: line.text.to_string(), area, capitals, ink: *ink })
    };
    drawing.items.iter().filter_map(line).collect()
}

/// The words in painting order, joined by spaces.
pub(crate) fn words(drawing: &Drawing) -> String {
    let lines: Vec<String> = lines(drawing).into_iter().map(|line| line.text).collect();
    lines.join(" ").split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Boxes that nothing else may touch: the sign, and the code with its quiet zone.
pub(crate) fn kept_clear(drawing: &Drawing) -> Vec<Rect> {
    let clear = |item: &Item| match item {
        Item::Group { at, .. } => Some(*at),
        Item::Modules(modules) => Some(quiet(modules)),
        Item::Path { .. } | Item::Text { .. } => None,
    };
    drawing.items.iter().filter_map(clear).collect()
}

fn quiet(modules: &noticewright::drawing::Modules) -> Rect {
    let side = modules.module * i32::from(modules.side);
    Rect::new(modules.origin, Size::new(side, side)).inset(-(modules.module * i32::from(QUIET_ZONE)))
}

/// The filled boxes: rules, and discs behind numbers.
pub(crate) fn filled(drawing: &Drawing) -> Vec<Rect> {
    let filled = |item: &Item| {
        let Item::Path { path, paint: Paint::Fill(_) } = item else { return None };
        let points = path.segments.iter().flat_map(|segment| match *segment {
            noticewright::drawing::Segment::Move(to) | noticewright::drawing::Segment::Line(to) => vec![to],
            noticewright::drawing::Segment::Cubic(one, two, to) => vec![one, two, to],
            noticewright::drawing::Segment::Close => vec![],
        });
        let (xs, ys): (Vec<Length>, Vec<Length>) = points.map(|point| (point.x, point.y)).unzip();
        let (left, right) = (*xs.iter().min()?, *xs.iter().max()?);
        let (top, bottom) = (*ys.iter().min()?, *ys.iter().max()?);
        Some(Rect::new(Point::new(left, top), Size::new(right - left, bottom - top)))
    };
    drawing.items.iter().filter_map(filled).collect()
}

/// The middle of the outline and its width: the first stroke of a plate.
pub(crate) fn outline(drawing: &Drawing) -> (Rect, Length) {
    let Some(Item::Path { path, paint: Paint::Stroke { width, .. } }) = drawing.items.first() else {
        panic!("a plate starts with its outline")
    };
    let mut alone = Drawing::new(drawing.size);
    alone.fill(path.clone(), Ink::Black);
    (filled(&alone)[0], *width)
}
