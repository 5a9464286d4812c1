//! Square codes.

use std::fmt::{self, Write};

use super::{Mm, colour};
use crate::drawing::{Ink, Modules};
use crate::length::{Dots, Length};

/// One path for all dark modules, so that no seam opens between them; neighbours in a row are one box.
pub(super) fn modules(out: &mut String, modules: &Modules, dots: Option<Dots>) -> fmt::Result {
    let ([left, top], module) = modules.exact(dots);
    let (across, down) = (
        |column: u16| Length::mm(left + module * f64::from(column)),
        |row: u16| Length::mm(top + module * f64::from(row)),
    );
    write!(out, "<path aria-hidden=\"true\" fill=\"{}\" d=\"", colour(Ink::Black))?;
    let words = usize::from(modules.side.div_ceil(64));
    for (row, bits) in (0_u16..).zip(modules.rows.chunks(words.max(1))) {
        let y = down(row);
        let side = down(row + 1) - y;
        let mut column = 0;
        while column < modules.side {
            let start = column;
            while column < modules.side && dark(bits, column) {
                column += 1;
            }
            if column > start {
                let x = across(start);
                let width = across(column) - x;
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
