//! Areas as polygons on whole micrometres, united and taken out of each other.

use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay::Overlay;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::i_float::int::point::IntPoint;
use kurbo::{BezPath, PathEl, Stroke, StrokeOpts};

use crate::drawing::{Path, Segment};
use crate::length::{Length, Point};
use crate::writers::outlines::Shape;

/// How far an outline may lie from the curve that it follows, in micrometres: a twentieth of the finest tool (common
/// practice: a laser's spot is 0.1 mm and more).
pub const TOLERANCE_UM: f64 = 5.0;

/// The shares of it for the sides of a line and for the steps along a curve, in millimetres.
const OF_LINES: f64 = TOLERANCE_UM * 0.2 / 1_000.0;
const OF_CURVES: f64 = TOLERANCE_UM * 0.8 / 1_000.0;

/// The corners of one outline, in micrometres.
type Outline = Vec<IntPoint<i32>>;

/// An area: outlines that do not cross, holes running against what they are holes of.
#[derive(Clone, Debug, Default)]
pub(super) struct Region {
    outlines: Vec<Outline>,
}

impl Region {
    /// What a painted outline covers.
    pub(super) fn of(shape: &Shape) -> Self {
        let outlines = match shape.line {
            None => flattened(&shape.path),
            // Round joins and ends are what a pen makes by itself.
            Some(width) => {
                flattened(&kurbo::stroke(&shape.path, &Stroke::new(width), &StrokeOpts::default(), OF_LINES))
            }
        };
        Self::overlaid(&outlines, &[], OverlayRule::Subject)
    }

    /// All of them as one.
    pub(super) fn united(regions: &[Self]) -> Self {
        let outlines: Vec<Outline> = regions.iter().flat_map(|region| region.outlines.iter().cloned()).collect();
        Self::overlaid(&outlines, &[], OverlayRule::Subject)
    }

    /// Leaves only what the other does not cover.
    pub(super) fn take_out(&mut self, other: &Self) {
        if self.comes_near(other) {
            *self = Self::overlaid(&self.outlines, &other.outlines, OverlayRule::Difference);
        }
    }

    /// The outlines as a path.
    pub(super) fn path(&self) -> Path {
        let mut path = Path::new();
        for outline in &self.outlines {
            let mut corners = outline.iter().map(|corner| Point::new(Length::um(corner.x), Length::um(corner.y)));
            path.segments.extend(corners.next().map(Segment::Move));
            path.segments.extend(corners.map(Segment::Line));
            path.segments.push(Segment::Close);
        }
        path
    }

    /// Non-zero throughout: what goes in runs one way around whatever it covers.
    fn overlaid(these: &[Outline], those: &[Outline], rule: OverlayRule) -> Self {
        let shapes = Overlay::from_subj_and_clip(these, those).overlay(rule, FillRule::NonZero);
        Self { outlines: shapes.into_iter().flatten().collect() }
    }

    /// Whether the boxes around the two share anything.
    fn comes_near(&self, other: &Self) -> bool {
        let (Some(one), Some(other)) = (self.bounds(), other.bounds()) else { return false };
        one.0.x <= other.1.x && other.0.x <= one.1.x && one.0.y <= other.1.y && other.0.y <= one.1.y
    }

    /// The upper left and the lower right corner of the box around it.
    fn bounds(&self) -> Option<(IntPoint<i32>, IntPoint<i32>)> {
        let mut corners = self.outlines.iter().flatten();
        let first = *corners.next()?;
        Some(corners.fold((first, first), |(least, most), corner| {
            (
                IntPoint::new(least.x.min(corner.x), least.y.min(corner.y)),
                IntPoint::new(most.x.max(corner.x), most.y.max(corner.y)),
            )
        }))
    }
}

/// A path's outlines as corners; each counts as closed.
fn flattened(path: &BezPath) -> Vec<Outline> {
    let mut outlines: Vec<Outline> = Vec::new();
    kurbo::flatten(path, OF_CURVES, |element| match element {
        PathEl::MoveTo(to) => outlines.push(vec![corner(to)]),
        PathEl::LineTo(to) => match outlines.last_mut() {
            Some(outline) => outline.push(corner(to)),
            None => outlines.push(vec![corner(to)]),
        },
        // Flattening leaves no curves.
        PathEl::QuadTo(..) | PathEl::CurveTo(..) | PathEl::ClosePath => {}
    });
    outlines
}

/// Millimetres to the nearest micrometre.
fn corner(place: kurbo::Point) -> IntPoint<i32> {
    IntPoint::new(Length::mm(place.x).to_um(), Length::mm(place.y).to_um())
}
