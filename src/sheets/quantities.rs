//! How much of which material a plan needs, so that a buyer knows what to order.

use std::sync::Arc;

use super::{Part, Plan, Production, SheetFormat, Stock};
use crate::length::Size;
use crate::material::{Life, Materials, Process, RubTest, rub_test};

/// What the quantities must know of a label, by its index in the plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Piece {
    /// Its size.
    pub size: Size,
    /// Whether it is known what it must stand up to.
    pub environment_known: bool,
    /// Whether it is known what it is fixed on.
    pub surface_known: bool,
}

/// What is needed of one sheet format.
#[derive(Clone, Debug, PartialEq)]
pub struct Quantity {
    /// The format, with its paper, stock and production.
    pub format: Arc<SheetFormat>,
    /// Its sheets, or the pieces of a roll.
    pub sheets: usize,
    /// Its notices by size, largest first.
    pub sizes: Vec<SizeQuantity>,
    /// Notices of which nobody says what they must stand up to.
    pub environment_unknown: usize,
    /// Notices of which nobody says what they are fixed on.
    pub surface_unknown: usize,
    /// How the mark is tried, and what is expected of it; `None` for a class that nobody knows.
    pub rub_test: Option<RubTest>,
    /// How long the class lasts indoors and in the open; `None` for a class that nobody knows.
    pub lives: Option<(Life, Life)>,
}

/// Notices of one size, copies included.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SizeQuantity {
    /// Their size.
    pub size: Size,
    /// How many.
    pub notices: usize,
}

impl Quantity {
    /// Class of the material, by its name.
    #[must_use]
    pub fn material(&self) -> &str {
        &self.format.material
    }

    /// How it is marked.
    #[must_use]
    pub fn process(&self) -> Process {
        self.format.process
    }

    /// Its colour before it is marked.
    #[must_use]
    pub fn stock(&self) -> Stock {
        self.format.stock
    }

    /// Whether its pieces come off a roll.
    #[must_use]
    pub fn is_roll(&self) -> bool {
        matches!(self.format.production, Production::Roll(_))
    }

    /// Notices of all sizes, copies included.
    #[must_use]
    pub fn notices(&self) -> usize {
        self.sizes.iter().map(|size| size.notices).sum()
    }

    /// Area of the notices, square metres.
    #[must_use]
    pub fn notice_area(&self) -> f64 {
        self.sizes.iter().map(|size| area(size.size, size.notices)).sum()
    }

    /// Area of all its sheets, square metres: what is used up.
    #[must_use]
    pub fn material_area(&self) -> f64 {
        area(self.format.paper, self.sheets)
    }

    /// Whether the same would be ordered for another one but for the paper's size.
    #[must_use]
    pub fn is_like(&self, other: &Self) -> bool {
        (self.material(), self.process(), self.stock()) == (other.material(), other.process(), other.stock())
    }
}

/// So many times a size, in square metres.
fn area(size: Size, count: usize) -> f64 {
    let one = size.width.to_mm() * size.height.to_mm() / 1e6;
    one * u32::try_from(count).map_or(f64::INFINITY, f64::from)
}

/// What a plan needs, one entry a sheet format in the order of its documents. `piece` tells of a label by its index.
#[must_use]
pub fn quantities(plan: &Plan, materials: &Materials, piece: impl Fn(usize) -> Option<Piece>) -> Vec<Quantity> {
    let parts = plan.documents.iter().flat_map(|document| &document.parts);
    parts.map(|part| quantity(part, plan.run.copies, materials, &piece)).collect()
}

fn quantity(part: &Part, copies: usize, materials: &Materials, piece: impl Fn(usize) -> Option<Piece>) -> Quantity {
    let class = materials.find(&part.format.material);
    let mut quantity = Quantity {
        format: Arc::clone(&part.format),
        sheets: part.pages,
        sizes: Vec::new(),
        environment_unknown: 0,
        surface_unknown: 0,
        rub_test: class.map(|class| rub_test(class, part.format.process)),
        lives: class.map(|class| (class.indoor_years, class.outdoor_years)),
    };
    for piece in part.labels().iter().filter_map(|label| piece(*label)) {
        match quantity.sizes.iter_mut().find(|size| size.size == piece.size) {
            Some(size) => size.notices += copies,
            None => quantity.sizes.push(SizeQuantity { size: piece.size, notices: copies }),
        }
        quantity.environment_unknown += if piece.environment_known { 0 } else { copies };
        quantity.surface_unknown += if piece.surface_known { 0 } else { copies };
    }
    quantity.sizes.sort_by_key(|size| {
        let Size { width, height } = size.size;
        std::cmp::Reverse((i64::from(width.to_um()) * i64::from(height.to_um()), width))
    });
    quantity
}
