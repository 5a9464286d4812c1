//! Text as a sheet format: its cells lie on the paper and never over each other, and a label lies in each of them.
#![no_main]

use std::sync::Arc;

use libfuzzer_sys::fuzz_target;
use noticewright::drawing::Drawing;
use noticewright::finding::Severity;
use noticewright::length::{Length, Point, Rect, Size};
use noticewright::limits::Limits;
use noticewright::sheets::{self, Formats, Label, Production, Run, SheetFormat};
use noticewright::typesetting::Typesetter;
use noticewright_fuzz::document;

fuzz_target!(|text: &str| {
    let limits = Limits { sheet_cells: 200, ..Limits::default() };
    let (format, findings) = sheets::read("own", "own.toml", text, &limits);
    assert_eq!((&format, &findings), (&sheets::read("own", "own.toml", text, &limits).0, &findings));
    for finding in &findings {
        assert!(!finding.message.is_empty(), "{finding:?}");
        let place = finding.place.as_ref().unwrap();
        assert!(place.line as usize <= text.matches('\n').count() + 1, "{place:?}");
    }
    assert_eq!(format.is_none(), findings.iter().any(|finding| finding.severity() == Severity::Error), "{findings:?}");
    let Some(format) = format else { return };
    lies_on_paper(&format);
    let cell = format.cell();
    assert!(cell.width > Length::ZERO && cell.height > Length::ZERO, "a cell of {cell}");
    print(&Arc::new(format), cell, &limits);
});

fn lies_on_paper(format: &SheetFormat) {
    let paper = Rect::new(Point::default(), format.paper);
    assert!(format.cells.len() <= 200 && format.cells.is_empty() == format.packing.is_some());
    assert!(paper.contains(format.grid()), "{format:?}");
    for (number, cell) in format.cells.iter().enumerate() {
        assert!(paper.contains(*cell), "{format:?}");
        let later = format.cells.iter().skip(number + 1);
        assert!(!later.clone().any(|other| other.overlaps(*cell)), "{format:?}");
    }
}

/// Prints three labels that fill a cell and three that are half of it.
fn print(format: &Arc<SheetFormat>, cell: Size, limits: &Limits) {
    let half = Size::new(cell.width / 2, cell.height / 2);
    let sizes = [cell, cell, cell, half, half, half];
    let labels: Vec<Label<'_>> = sizes.iter().map(|size| Label { size: *size, enclosure: "JB1" }).collect();
    let formats = Formats::only(Arc::clone(format));
    let (plan, _) = sheets::plan(&labels, &formats, Run::default(), limits).unwrap();
    let typesetter = Typesetter::new();
    let drawing = |label: usize| sizes.get(label).map(|size| Arc::new(Drawing::new(*size)));
    for number in 0..plan.documents.len() {
        let pages = document::pages(&plan, number, &typesetter, drawing);
        let placed: usize = pages.iter().map(|page| page.placed.len()).sum();
        assert_eq!(placed, labels.len());
        for page in &pages {
            // On a roll labels begin on a dot, which may be the last of the one before.
            if matches!(format.production, Production::Roll(_)) {
                continue;
            }
            let rooms: Vec<Rect> = page.placed.iter().map(sheets::Placed::room).collect();
            for (index, room) in rooms.iter().enumerate() {
                assert!(!rooms.iter().skip(index + 1).any(|other| other.overlaps(*room)), "{format:?} {rooms:?}");
            }
        }
        document::write(&plan, number, &pages);
    }
    let _ = sheets::picture(format, &typesetter);
}
