//! Paths.

use std::fmt::{self, Write};

use super::{Mm, colour};
use crate::drawing::{Paint, Path, Segment};

/// One path element.
pub(super) fn path(out: &mut String, path: &Path, paint: Paint) -> fmt::Result {
    out.write_str("<path d=\"")?;
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
