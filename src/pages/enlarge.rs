//! A page laid for small paper as the same page on larger paper: every mark, picture, link and anchor.

use std::sync::Arc;

use crate::drawing::Drawing;
use crate::length::{Point, Rect, Size};
use crate::sheets::{Anchor, Link, Page, Placed, PlacedRaster, Reading};

/// The page on paper of the same proportions, with every length as much larger as its width is.
pub(super) fn page(page: &Page, paper: Size) -> Page {
    let ratio = f64::from(paper.width.to_um()) / f64::from(page.size.width.to_um().max(1));
    let rect = |at: Rect| Rect::new(point(at.origin, ratio), size(at.size, ratio));
    let placed = |one: &Placed| Placed {
        corner: point(one.corner, ratio),
        turned: one.turned,
        drawing: Arc::new(one.drawing.scaled(ratio)),
    };
    let raster = |one: &PlacedRaster| PlacedRaster { at: rect(one.at), ..one.clone() };
    let link = |one: &Link| Link { at: rect(one.at), ..one.clone() };
    let anchor = |one: &Anchor| Anchor { top: one.top.scaled(ratio), ..one.clone() };
    let reading = Reading {
        rasters: page.reading.rasters.iter().map(raster).collect(),
        links: page.reading.links.iter().map(link).collect(),
        anchors: page.reading.anchors.iter().map(anchor).collect(),
        ..page.reading.clone()
    };
    Page {
        placed: page.placed.iter().map(placed).collect(),
        reading,
        ..Page::plain(Drawing { size: paper, ..page.furniture.scaled(ratio) })
    }
}

fn point(at: Point, ratio: f64) -> Point {
    Point::new(at.x.scaled(ratio), at.y.scaled(ratio))
}

fn size(size: Size, ratio: f64) -> Size {
    Size::new(size.width.scaled(ratio), size.height.scaled(ratio))
}
