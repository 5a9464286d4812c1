//! Paths.

use std::fmt::{self, Write};

use super::{Mm, colour};
use crate::drawing::{Item, Paint, Path, Segment};

/// One path element.
pub(super) fn path(out: &mut String, path: &Path, paint: Paint) -> fmt::Result {
    out.write_str("<path d=\"")?;
    data(out, path)?;
    match paint {
        Paint::Fill(ink) => writeln!(out, "\" fill=\"{}\"/>", colour(ink)),
        Paint::Stroke { ink, width } => writeln!(
            out,
            "\" fill=\"none\" stroke=\"{}\" stroke-width=\"{}\" stroke-linecap=\"round\" stroke-linejoin=\"round\"/>",
            colour(ink),
            Mm(width)
        ),
    }
}

/// Whether two items are strokes of one pen, which may be one path: inks cover, so that it looks the same.
pub(super) fn is_one_stroke(one: &Item, other: &Item) -> bool {
    match (one, other) {
        (Item::Path { paint: one @ Paint::Stroke { .. }, .. }, Item::Path { paint: other, .. }) => one == other,
        _ => false,
    }
}

/// Strokes of one pen as one path element; caps and joins are those of the group around them.
pub(super) fn strokes(out: &mut String, items: &[Item]) -> fmt::Result {
    out.write_str("<path d=\"")?;
    let mut pen = None;
    for item in items {
        if let Item::Path { path, paint: Paint::Stroke { ink, width } } = item {
            data(out, path)?;
            pen = Some((*ink, *width));
        }
    }
    let (ink, width) = pen.unwrap_or((crate::drawing::Ink::Black, crate::length::Length::ZERO));
    writeln!(out, "\" fill=\"none\" stroke=\"{}\" stroke-width=\"{}\"/>", colour(ink), Mm(width))
}

fn data(out: &mut String, path: &Path) -> fmt::Result {
    for segment in &path.segments {
        match segment {
            Segment::Move(to) => write!(out, "M{} {}", Mm(to.x), Mm(to.y))?,
            Segment::Line(to) => write!(out, "L{} {}", Mm(to.x), Mm(to.y))?,
            Segment::Cubic(one, two, to) => {
                let point = |point: &crate::length::Point| format!("{} {}", Mm(point.x), Mm(point.y));
                write!(out, "C{} {} {}", point(one), point(two), point(to))?;
            }
            Segment::Close => out.write_str("Z")?,
        }
    }
    Ok(())
}
