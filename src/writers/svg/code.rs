//! Square codes.

use std::fmt::{self, Write};

use super::{Mm, colour};
use crate::drawing::{Ink, Modules};

/// One path for all dark modules, so that no seam opens between them; neighbours in a row are one box.
pub(super) fn modules(out: &mut String, modules: &Modules) -> fmt::Result {
    let (origin, side) = (modules.origin, modules.module);
    write!(out, "<path aria-hidden=\"true\" fill=\"{}\" d=\"", colour(Ink::Black))?;
    let words = usize::from(modules.side.div_ceil(64));
    for (row, bits) in modules.rows.chunks(words.max(1)).enumerate() {
        let y = origin.y + side * i32::try_from(row).unwrap_or(0);
        let mut column = 0;
        while column < modules.side {
            let start = column;
            while column < modules.side && dark(bits, column) {
                column += 1;
            }
            if column > start {
                let (x, width) = (origin.x + side * i32::from(start), side * i32::from(column - start));
                write!(out, "M{} {}h{}v{}h-{}z", Mm(x), Mm(y), Mm(width), Mm(side), Mm(width))?;
            }
            column += 1;
        }
    }
    out.write_str("\"/>\n")
}

fn dark(row: &[u64], column: u16) -> bool {
    row.get(usize::from(column / 64)).is_some_and(|word| word >> (column % 64) & 1 == 1)
}
