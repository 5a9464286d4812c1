//! What must be true of every diagram: all of it inside its size, no words over other words, no line through words.

use noticewright::drawing::{Drawing, Item, Paint, Path, Segment};
use noticewright::length::{Length, Point, Rect, Size};
use noticewright::typesetting::fonts;

/// Words that stand inside a symbol, whose outline goes round them.
const INSIDE: [&str; 3] = ["G", "UPS", "?"];

/// What is wrong with a drawing, in words; nothing if it is as it should be.
pub(super) fn faults(drawing: &Drawing) -> Vec<String> {
    let texts = texts(drawing);
    let sheet = Rect::new(Point::default(), drawing.size);
    let mut faults = Vec::new();
    for (place, (text, at)) in texts.iter().enumerate() {
        if !sheet.contains(*at) {
            faults.push(format!("`{text}` leaves the sheet"));
        }
        let over = texts.iter().skip(place + 1).filter(|(_, other)| other.overlaps(*at));
        faults.extend(over.map(|(other, _)| format!("`{text}` and `{other}` overlap")));
    }
    for (from, to) in lines(drawing) {
        let both = [from, to].map(|point| Rect::new(point, Size::default()));
        if both.iter().any(|point| !sheet.contains(*point)) {
            faults.push(format!("a line leaves the sheet at {:?}", from));
        }
        let through = texts.iter().filter(|(text, at)| !INSIDE.contains(&text.as_str()) && crosses(from, to, *at));
        faults.extend(through.map(|(text, _)| format!("a line runs through `{text}`")));
    }
    faults
}

/// Every text with the box of its letters.
fn texts(drawing: &Drawing) -> Vec<(String, Rect)> {
    let mut texts = Vec::new();
    for item in &drawing.items {
        if let Item::Text { line, origin, em, .. } = item {
            let heights = fonts::heights(line.face);
            let scaled = |units: i32| em.scaled(f64::from(units) / f64::from(heights.units_per_em));
            let corner = Point::new(origin.x, origin.y - scaled(heights.capital));
            texts.push((
                line.text.to_string(),
                Rect::new(corner, Size::new(scaled(line.width), scaled(heights.capital))),
            ));
        }
    }
    texts
}

/// Every straight stroke.
fn lines(drawing: &Drawing) -> Vec<(Point, Point)> {
    let mut lines = Vec::new();
    for item in &drawing.items {
        if let Item::Path { path, paint: Paint::Stroke { .. } } = item {
            lines.extend(segments(path));
        }
    }
    lines
}

fn segments(path: &Path) -> Vec<(Point, Point)> {
    let mut segments = Vec::new();
    let (mut start, mut at) = (Point::default(), Point::default());
    for segment in &path.segments {
        match segment {
            Segment::Move(to) => (start, at) = (*to, *to),
            Segment::Line(to) => {
                segments.push((at, *to));
                at = *to;
            }
            Segment::Cubic(_, _, to) => at = *to,
            Segment::Close => segments.push((at, start)),
        }
    }
    segments
}

/// Whether a line passes through a box that is a hair smaller than the letters.
fn crosses(from: Point, to: Point, letters: Rect) -> bool {
    let inner = letters.inset(Length::mm(0.15));
    (0..=200).any(|step| {
        let share = f64::from(step) / 200.0;
        let along = |one: Length, other: Length| one + (other - one).scaled(share);
        let point = Point::new(along(from.x, to.x), along(from.y, to.y));
        inner.contains(Rect::new(point, Size::default()))
    }) && inner.size.width > Length::ZERO
}

#[test]
fn the_judge_sees_what_is_wrong() {
    use noticewright::drawing::{Face, Ink};
    use noticewright::typesetting::Typesetter;
    let mut drawing = Drawing::new(Size::whole_mm(40, 20));
    let line = Typesetter::new().line(Face::Bold, "Q7").unwrap();
    let (x, y) = (Length::mm(10.0), Length::mm(10.0));
    drawing.text(line.clone(), Point::new(x, y), Length::mm(4.0), Ink::Black);
    assert_eq!(faults(&drawing), Vec::<String>::new());
    drawing.stroke(
        Path::line(Point::new(Length::ZERO, Length::mm(9.0)), Point::new(x * 3, Length::mm(9.0))),
        Ink::Black,
        x,
    );
    drawing.text(line.clone(), Point::new(x + Length::mm(1.0), y), Length::mm(4.0), Ink::Black);
    drawing.text(line, Point::new(x * 4, y), Length::mm(4.0), Ink::Black);
    let found = faults(&drawing).join("; ");
    for fault in ["a line runs through `Q7`", "`Q7` and `Q7` overlap", "`Q7` leaves the sheet"] {
        assert!(found.contains(fault), "{found}");
    }
}
