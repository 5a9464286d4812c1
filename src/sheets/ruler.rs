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

/// The smallest paper that holds rulers and instructions.
const SMALLEST: Size = Size::new(Length::um(200_000), Length::um(270_000));

/// The page for a paper of at least 200 x 270 mm, printed with a correction or none. `None` for a smaller one.
#[must_use]
pub fn ruler(paper: Size, correction: Correction, printer: &str, typesetter: &Typesetter) -> Option<Page> {
    if paper.width < SMALLEST.width || paper.height < SMALLEST.height {
        return None;
    }
    let mut pen = Pen { drawing: Drawing::new(paper), typesetter };
    frames(&mut pen, paper);
    crosses(&mut pen, paper);
    let (across, down) = (longest(paper.width), longest(paper.height));
    rulers(&mut pen, paper, across, down);
    instructions(&mut pen, paper, across, down, (!correction.is_none()).then(|| correction.stated(printer)));
    Some(Page { correction, ..Page::plain(pen.drawing) })
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

/// From the left edge of the text to that of the steps' words, and to the lines to write on.
const WORDS: Length = Length::um(6_000);
const BLANK: Length = Length::um(118_000);

fn instructions(pen: &mut Pen<'_>, paper: Size, across: i32, down: i32, corrected: Option<String>) {
    let mut y = CROSS + Length::um(20_000);
    pen.text(Face::Bold, "Measure your printer", TEXT * 2, Point::new(CROSS, y));
    y = y + Length::um(3_000);
    for line in lines(paper, across, down, corrected) {
        y = y + LEADING;
        let words = CROSS + WORDS;
        match line {
            Line::Step(number, text) => {
                y = y + Length::um(2_000);
                pen.text(Face::Bold, &number.to_string(), TEXT, Point::new(CROSS, y));
                pen.text(Face::Medium, &text, TEXT, Point::new(words, y));
            }
            Line::More(text) => pen.text(Face::Regular, &text, TEXT, Point::new(words, y)),
            Line::Measure(name, text) => {
                pen.text(Face::Bold, name, TEXT, Point::new(words, y));
                pen.text(Face::Regular, text, TEXT, Point::new(words + WORDS, y));
                let blank = CROSS + BLANK;
                pen.hairline(Point::new(blank, y), Point::new(blank + Length::um(20_000), y));
                pen.text(Face::Regular, "mm", TEXT, Point::new(blank + Length::um(21_000), y));
            }
        }
    }
}

/// One line of the instructions.
enum Line {
    Step(i32, String),
    More(String),
    /// Something to measure, with a line to write on.
    Measure(&'static str, &'static str),
}

fn lines(paper: Size, across: i32, down: i32, corrected: Option<String>) -> Vec<Line> {
    let more = |text: &str| Line::More(text.to_owned());
    let step = |number, text: &str| Line::Step(number, text.to_owned());
    let paper = paper_name(paper);
    let mut lines = vec![Line::Step(1, format!("Print this page on {paper} at 100 % (actual size), single-sided."))];
    lines.extend(corrected.map(|corrected| Line::More(format!("It is {corrected}."))));
    lines.extend([
        step(2, "Measure with a steel rule, to a tenth of a millimetre."),
        Line::Measure("a", "left edge of the paper to the upright line of cross A"),
        Line::Measure("b", "upper edge of the paper to the level line of cross A"),
        Line::Measure("c", "level ruler, from 0 to its last bold number"),
        Line::Measure("d", "upright ruler, from 0 to its last bold number"),
        step(3, "Work these out and write them into the job file, under the printer’s name."),
        more("[printers.office]"),
        Line::More(format!("scale_x = {across} / c")),
        Line::More(format!("scale_y = {down} / d")),
        Line::More(format!("offset_x_mm = {CROSS} − a × scale_x")),
        Line::More(format!("offset_y_mm = {CROSS} − b × scale_y")),
        Line::Step(
            4,
            format!("Print this page with the correction. Now a and b are {CROSS}, c is {across}, d is {down}."),
        ),
        step(5, "See how far the printer reaches."),
        more("The outermost frame that is whole on all four sides shows it: its distance is"),
        more("“unprintable” in a sheet format of your own."),
        step(6, "Is a scale off by more than one part in a hundred?"),
        more("The page was fitted to the paper: switch that off and print it again before you"),
        more("correct anything."),
    ]);
    lines
}
