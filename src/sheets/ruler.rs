//! The page that measures a printer: crosses and rulers at known places, frames that show how far it reaches, and how to
//! turn what was measured into a correction.

use super::measure::{Along, CAPITALS, HAIRLINE, Pen};
use super::{Correction, Page, paper_name};
use crate::drawing::{Drawing, Face, Ink, Path};
use crate::length::{Length, Point, Rect, Size};
use crate::typesetting::Typesetter;

/// Distances of the frames from the edges of the paper, in millimetres: office printers leave 4 to 5 mm (common
/// practice).
const FRAMES: [i32; 4] = [3, 5, 8, 10];

/// Distance of the crosses from the edges of the paper.
const CROSS: Length = Length::um(20_000);

/// Ticks of the rulers.
const TICKS: [Length; 3] = [Length::um(1_500), Length::um(2_500), Length::um(4_000)];

/// Height of the capitals of the instructions, and from one of their lines to the next.
const TEXT: Length = Length::um(2_400);
const LEADING: Length = Length::um(6_200);

/// The page for a paper of at least 200 x 270 mm, printed with a correction or none.
#[must_use]
pub fn ruler(paper: Size, correction: Correction, printer: &str, typesetter: &Typesetter) -> Page {
    let mut pen = Pen { drawing: Drawing::new(paper), typesetter };
    frames(&mut pen, paper);
    crosses(&mut pen, paper);
    let (across, down) = (longest(paper.width), longest(paper.height));
    rulers(&mut pen, paper, across, down);
    instructions(&mut pen, paper, across, down, (!correction.is_none()).then(|| correction.stated(printer)));
    Page { correction, ..Page::plain(pen.drawing) }
}

/// The longest ruler of 150, 200 or 250 mm that leaves the crosses their room.
fn longest(side: Length) -> i32 {
    let room = side - CROSS * 2;
    [250, 200].into_iter().find(|mm| Length::um(mm * 1_000) <= room - CROSS).unwrap_or(150)
}

fn frames(pen: &mut Pen<'_>, paper: Size) {
    for (number, mm) in (0..).zip(FRAMES) {
        let inset = Length::um(mm * 1_000);
        let frame = Rect::new(Point::default(), paper).inset(inset);
        pen.drawing.stroke(Path::rectangle(frame), Ink::Black, HAIRLINE);
        let x = Length::um(60_000 + 14_000 * number);
        pen.hairline(Point::new(x, inset), Point::new(x, Length::um(12_000)));
        pen.centred(Face::Regular, &format!("{mm} mm"), CAPITALS, Point::new(x, Length::um(14_800)));
    }
}

fn crosses(pen: &mut Pen<'_>, paper: Size) {
    let (right, bottom) = (paper.width - CROSS, paper.height - CROSS);
    let corners = [("A", CROSS, CROSS), ("B", right, CROSS), ("C", CROSS, bottom), ("D", right, bottom)];
    let arm = Length::um(5_000);
    for (name, x, y) in corners {
        pen.hairline(Point::new(x - arm, y), Point::new(x + arm, y));
        pen.hairline(Point::new(x, y - arm), Point::new(x, y + arm));
        let circle = Path::circle(Point::new(x, y), Length::um(2_500));
        pen.drawing.stroke(circle, Ink::Black, HAIRLINE);
        let at = Point::new(x + Length::um(2_800), y + Length::um(4_800));
        pen.text(Face::Bold, name, TEXT, at);
    }
}

fn rulers(pen: &mut Pen<'_>, paper: Size, across: i32, down: i32) {
    let level = Point::new(CROSS, paper.height - CROSS - Length::um(15_000));
    let upright = Point::new(paper.width - CROSS, CROSS + Length::um(15_000));
    let marks = [0, 100, 150, 200, 250];
    pen.ruler(level, Along::Across, across, TICKS, &marks);
    pen.ruler(upright, Along::Down, down, TICKS, &marks);
    for mm in (0..=across).step_by(10) {
        let at = Point::new(level.x + Length::um(mm * 1_000), level.y - Length::um(5_000));
        pen.centred(face(mm), &mm.to_string(), CAPITALS, at);
    }
    for mm in (0..=down).step_by(10) {
        let at = Point::new(upright.x - Length::um(5_000), upright.y + Length::um(mm * 1_000) + CAPITALS / 2);
        pen.right(face(mm), &mm.to_string(), CAPITALS, at);
    }
}

/// Numbers at the long ticks are bold.
const fn face(mm: i32) -> Face {
    if mm == 0 || (mm >= 100 && mm % 50 == 0) { Face::Bold } else { Face::Regular }
}

fn instructions(pen: &mut Pen<'_>, paper: Size, across: i32, down: i32, corrected: Option<String>) {
    let left = CROSS;
    let mut y = CROSS + Length::um(20_000);
    pen.text(Face::Bold, "Measure your printer", TEXT * 2, Point::new(left, y));
    y = y + LEADING + Length::um(3_000);
    for (face, indent, text) in lines(paper, across, down, corrected) {
        pen.text(face, &text, TEXT, Point::new(left + Length::um(6_000 * indent), y));
        y = y + LEADING;
    }
}

/// Face, steps of indentation and text of each line; an empty line parts the steps.
fn lines(paper: Size, across: i32, down: i32, corrected: Option<String>) -> Vec<(Face, i32, String)> {
    let (step, more, key) = (Face::Medium, Face::Regular, Face::Medium);
    let cross = CROSS;
    let mut lines =
        vec![(step, 0, format!("1  Print this page on {} at 100 % (actual size), single-sided.", paper_name(paper)))];
    lines.extend(corrected.map(|corrected| (more, 1, format!("This page is {corrected}."))));
    lines.extend([
        (step, 0, "2  Measure with a steel rule, to a tenth of a millimetre.".to_owned()),
        (more, 1, "a  from the left edge of the paper to the upright line of cross A".to_owned()),
        (more, 1, "b  from the upper edge of the paper to the level line of cross A".to_owned()),
        (more, 1, format!("c  along the level ruler, from 0 to {across}")),
        (more, 1, format!("d  along the upright ruler, from 0 to {down}")),
        (step, 0, "3  Work these out and write them into the job file under the printer's name.".to_owned()),
        (key, 1, "[printers.office]".to_owned()),
        (key, 1, format!("offset_x = {cross} − a")),
        (key, 1, format!("offset_y = {cross} − b")),
        (key, 1, format!("scale_x = {across} / c")),
        (key, 1, format!("scale_y = {down} / d")),
        (
            step,
            0,
            format!(
                "4  Print this page again with the correction: a and b are now {cross}, c is {across}, d is {down}."
            ),
        ),
        (step, 0, "5  The outermost frame that is whole on all four sides shows how far the printer".to_owned()),
        (step, 0, "     reaches: give its distance as `unprintable` in your own sheet formats.".to_owned()),
        (more, 1, "Is a scale off by more than one part in a hundred? Then the page was fitted".to_owned()),
        (more, 1, "to the paper. Switch that off and print it again before you correct anything.".to_owned()),
    ]);
    lines
}
