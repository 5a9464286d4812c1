//! The square code of a label: filled boxes into a pattern of dark and light modules, decoded by a reader that is not ours.

use kurbo::{Affine, BezPath, PathEl, Point, Rect, Shape};

use super::gather::Mark;

/// What looks like a code on a label, and the text that it carries; `None` if nothing can be read from it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Found {
    pub(super) text: Option<String>,
}

/// Every code among the marks of a label.
pub(super) fn codes<'m>(marks: impl IntoIterator<Item = &'m Mark>, to_label: Affine) -> Vec<Found> {
    let patterns = marks.into_iter().filter_map(|mark| Pattern::of(&mark.path, to_label));
    patterns.map(|pattern| Found { text: pattern.decoded() }).collect()
}

/// Modules along a side: the least and the most of a QR code (ISO/IEC 18004, 6.1).
const SIDES: std::ops::RangeInclusive<usize> = 21..=177;

/// A code has far more edges than a frame or a rule.
const FEWEST_EDGES: usize = 60;

/// Points closer than this in mm count as one; a module is at least 0.2 mm.
const HAIR: f64 = 0.02;

/// Modules of a square, row by row.
struct Pattern {
    side: usize,
    dark: Vec<bool>,
}

/// An upright edge of a path.
#[derive(Clone, Copy)]
struct Edge {
    x: f64,
    top: f64,
    bottom: f64,
    /// +1 where the path goes down, -1 where it goes up.
    winding: i32,
}

impl Pattern {
    /// The pattern of a path that is nothing but upright boxes or corners in a square; `None` for any other path.
    fn of(path: &BezPath, to_label: Affine) -> Option<Self> {
        if path.elements().len() < FEWEST_EDGES {
            return None;
        }
        let path = to_label * path.clone();
        let edges = edges(&path)?;
        let bounds = path.bounding_box();
        let module = edges.iter().map(|edge| edge.bottom - edge.top).fold(f64::INFINITY, f64::min);
        let module = module.min(closest(&edges));
        let side = bounds.width() / module;
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a share of a page, and not negative"
        )]
        let count = side.round() as usize;
        let is_square = (bounds.width() - bounds.height()).abs() < HAIR.max(0.1 * module);
        // A module that is some dots wide may be a hair off; its number tells the true one.
        let is_code = is_square && SIDES.contains(&count) && count % 4 == 1;
        is_code.then(|| Self::sampled(&edges, bounds, count))
    }

    fn sampled(edges: &[Edge], bounds: Rect, side: usize) -> Self {
        let mut dark = Vec::with_capacity(side * side);
        let modules = f64::from(u32::try_from(side).unwrap_or(u32::MAX));
        let middle = |number: usize| (f64::from(u32::try_from(number).unwrap_or(u32::MAX)) + 0.5) / modules;
        for row in 0..side {
            let y = bounds.y0 + bounds.height() * middle(row);
            let mut crossed: Vec<_> = edges.iter().filter(|edge| edge.top < y && y < edge.bottom).collect();
            crossed.sort_by(|one, other| one.x.total_cmp(&other.x));
            let mut crossed = crossed.into_iter().peekable();
            let mut winding = 0;
            for column in 0..side {
                let x = bounds.x0 + bounds.width() * middle(column);
                while let Some(edge) = crossed.next_if(|edge| edge.x < x) {
                    winding += edge.winding;
                }
                dark.push(winding != 0);
            }
        }
        Self { side, dark }
    }

    fn decoded(&self) -> Option<String> {
        let is_dark = |x: usize, y: usize| self.dark.get(y * self.side + x).copied().unwrap_or_default();
        let grid = rqrr::Grid::new(rqrr::SimpleGrid::from_func(self.side, is_dark));
        grid.decode().ok().map(|(_, text)| text)
    }
}

/// The upright edges of a path; `None` if any edge is slanted or curved.
fn edges(path: &BezPath) -> Option<Vec<Edge>> {
    let mut edges = Vec::with_capacity(path.elements().len() / 2);
    let (mut start, mut at) = (Point::ZERO, Point::ZERO);
    for element in path.elements() {
        let to = match element {
            PathEl::MoveTo(to) => {
                (start, at) = (*to, *to);
                continue;
            }
            PathEl::LineTo(to) => *to,
            PathEl::ClosePath => start,
            PathEl::QuadTo(..) | PathEl::CurveTo(..) => return None,
        };
        let step = to - at;
        if step.x.abs() > 1e-3 && step.y.abs() > 1e-3 {
            return None;
        }
        if step.y.abs() > 1e-3 {
            let winding = if step.y > 0.0 { 1 } else { -1 };
            edges.push(Edge { x: at.x.midpoint(to.x), top: at.y.min(to.y), bottom: at.y.max(to.y), winding });
        }
        at = to;
    }
    Some(edges)
}

/// The least distance between two upright edges that are not in line.
fn closest(edges: &[Edge]) -> f64 {
    let mut places: Vec<f64> = edges.iter().map(|edge| edge.x).collect();
    places.sort_by(f64::total_cmp);
    let steps = places.iter().zip(places.iter().skip(1)).map(|(one, other)| other - one);
    steps.filter(|step| *step > HAIR).fold(f64::INFINITY, f64::min)
}
