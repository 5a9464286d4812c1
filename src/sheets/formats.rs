//! The sheet formats that come with the program, and the choice of one for each size of notice.

use std::sync::{Arc, LazyLock};

use super::{SheetFormat, read};
use crate::length::Size;
use crate::limits::Limits;

/// Name and description of every format in `label-layouts`, the first of a size being the usual one.
const DESCRIPTIONS: [(&str, &str); 32] = [
    ("a4-a8-10", include_str!("../../label-layouts/a4-a8-10.toml")),
    ("a4-a7-4", include_str!("../../label-layouts/a4-a7-4.toml")),
    ("a4-a6-2", include_str!("../../label-layouts/a4-a6-2.toml")),
    ("a4-a5-1", include_str!("../../label-layouts/a4-a5-1.toml")),
    ("a4-strip-36", include_str!("../../label-layouts/a4-strip-36.toml")),
    ("a3-a6-4", include_str!("../../label-layouts/a3-a6-4.toml")),
    ("a3-a5-2", include_str!("../../label-layouts/a3-a5-2.toml")),
    ("a3-a4-1", include_str!("../../label-layouts/a3-a4-1.toml")),
    ("press-a3-a8-25", include_str!("../../label-layouts/press-a3-a8-25.toml")),
    ("press-a3-a7-9", include_str!("../../label-layouts/press-a3-a7-9.toml")),
    ("press-a3-a6-4", include_str!("../../label-layouts/press-a3-a6-4.toml")),
    ("press-a5-1", include_str!("../../label-layouts/press-a5-1.toml")),
    ("press-a4-1", include_str!("../../label-layouts/press-a4-1.toml")),
    ("press-a3-1", include_str!("../../label-layouts/press-a3-1.toml")),
    ("plate-a8-9", include_str!("../../label-layouts/plate-a8-9.toml")),
    ("plate-a7-4", include_str!("../../label-layouts/plate-a7-4.toml")),
    ("plate-a6-2", include_str!("../../label-layouts/plate-a6-2.toml")),
    ("plate-a5-1", include_str!("../../label-layouts/plate-a5-1.toml")),
    ("plate-tag-28", include_str!("../../label-layouts/plate-tag-28.toml")),
    ("roll-a7-203", include_str!("../../label-layouts/roll-a7-203.toml")),
    ("roll-a7-300", include_str!("../../label-layouts/roll-a7-300.toml")),
    ("roll-a7-300-two", include_str!("../../label-layouts/roll-a7-300-two.toml")),
    ("roll-a8-203", include_str!("../../label-layouts/roll-a8-203.toml")),
    ("roll-a8-300", include_str!("../../label-layouts/roll-a8-300.toml")),
    ("roll-tag-203", include_str!("../../label-layouts/roll-tag-203.toml")),
    ("roll-tag-300", include_str!("../../label-layouts/roll-tag-300.toml")),
    ("roll-tag-600", include_str!("../../label-layouts/roll-tag-600.toml")),
    ("a4-mixed", include_str!("../../label-layouts/a4-mixed.toml")),
    ("a3-mixed", include_str!("../../label-layouts/a3-mixed.toml")),
    ("press-a3-mixed", include_str!("../../label-layouts/press-a3-mixed.toml")),
    ("roll-105-mixed", include_str!("../../label-layouts/roll-105-mixed.toml")),
    ("plate-mixed", include_str!("../../label-layouts/plate-mixed.toml")),
];

/// The formats that come with the program, those on A4 first.
#[must_use]
pub fn built_in() -> &'static [Arc<SheetFormat>] {
    static FORMATS: LazyLock<Vec<Arc<SheetFormat>>> = LazyLock::new(|| {
        let read = |(name, text): &(&str, &str)| read(name, name, text, &Limits::default()).0.map(Arc::new);
        DESCRIPTIONS.iter().filter_map(read).collect()
    });
    &FORMATS
}

/// A built-in format by its name.
#[must_use]
pub fn find(name: &str) -> Option<Arc<SheetFormat>> {
    built_in().iter().find(|format| format.name == name).cloned()
}

/// Which format serves which size of notice.
#[derive(Clone, Debug, Default)]
pub struct Formats {
    only: Option<Arc<SheetFormat>>,
    by_size: Vec<(Size, Arc<SheetFormat>)>,
    packed: Vec<Arc<SheetFormat>>,
}

impl Formats {
    /// One format for every notice, as `--sheet` asks.
    #[must_use]
    pub fn only(format: Arc<SheetFormat>) -> Self {
        Self { only: Some(format), ..Self::default() }
    }

    /// The same choice, with one more size given its format, as the job file does.
    #[must_use]
    pub fn with(mut self, size: Size, format: Arc<SheetFormat>) -> Self {
        self.by_size.push((size, format));
        self
    }

    /// The same choice, with one more format that takes every size it holds, where no other is chosen for that size.
    #[must_use]
    pub fn with_packed(mut self, format: Arc<SheetFormat>) -> Self {
        self.packed.push(format);
        self
    }

    /// The format for a notice of this size: the one chosen for it, else a packed one, else the built-in one whose cell is the smallest
    /// that holds it, on the smaller paper where cells are alike. `None` if it fits no cell.
    #[must_use]
    pub fn for_size(&self, size: Size) -> Option<Arc<SheetFormat>> {
        let chosen = self.by_size.iter().rev().find(|(chosen, _)| *chosen == size).map(|(_, format)| format);
        let fits = |format: &&Arc<SheetFormat>| format.holds(size);
        let packed = || self.packed.iter().find(fits);
        match self.only.as_ref().or(chosen).or_else(packed) {
            Some(format) => Some(format).filter(fits).cloned(),
            None => {
                let usual = built_in().iter().filter(|format| format.is_usual());
                usual.filter(fits).min_by_key(|format| (area(format.cell()), area(format.paper))).cloned()
            }
        }
    }
}

/// What to do about a notice that no chosen format holds: only the usual ones are chosen unasked, and one of a printing works
/// may have such a cell.
pub(super) fn help_to_hold(size: Size) -> String {
    let holding = built_in().iter().filter(|format| format.holds(size)).min_by_key(|format| area(format.cell()));
    match holding {
        Some(format) => {
            format!("`--sheet {}` has one; or choose a smaller notice, or name a sheet format of your own", format.name)
        }
        None => "choose a smaller notice, or name a sheet format of your own with `--sheet`".to_owned(),
    }
}

fn area(size: Size) -> i64 {
    i64::from(size.width.to_um()) * i64::from(size.height.to_um())
}
