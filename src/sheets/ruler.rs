//! The page that measures a printer: crosses and rulers at known places, frames that show how far it reaches, and how to
//! turn what was measured into a correction.

use super::measure::{Along, CAPITALS, HAIRLINE, Pen};
use super::{Correction, Measured, Page, paper_name};
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
const LEADING: Length = Length::um(5_900);

/// Height of the letters of what is measured.
const LETTER: Length = Length::um(3_000);

/// The smallest paper that holds rulers and instructions.
const SMALLEST: Size = Size::new(Length::um(200_000), Length::um(270_000));

/// Where crosses and rulers stand on a paper, in millimetres.
pub(super) struct Geometry {
    paper: Size,
    across: i32,
    down: i32,
}

impl Geometry {
    /// `None` for a paper that is too small.
    pub(super) fn of(paper: Size) -> Option<Self> {
        let holds = paper.width >= SMALLEST.width && paper.height >= SMALLEST.height;
        holds.then(|| Self { paper, across: longest(paper.width), down: longest(paper.height) })
    }

    /// From the edges of the paper to the crosses.
    #[expect(clippy::unused_self, reason = "one figure of the page among the others")]
    pub(super) fn cross(&self) -> f64 {
        CROSS.to_mm()
    }

    /// Length of the level ruler.
    pub(super) fn across(&self) -> f64 {
        f64::from(self.across)
    }

    /// Length of the upright ruler.
    pub(super) fn down(&self) -> f64 {
        f64::from(self.down)
    }

    /// From cross A to cross B.
    pub(super) fn across_crosses(&self) -> f64 {
        (self.paper.width - CROSS * 2).to_mm()
    }

    /// From cross A to cross C.
    pub(super) fn down_crosses(&self) -> f64 {
        (self.paper.height - CROSS * 2).to_mm()
    }
}

/// The page for a paper of at least 200 x 270 mm, printed with a correction or none. `None` for a smaller one.
#[must_use]
pub fn ruler(paper: Size, correction: Correction, printer: &str, typesetter: &Typesetter) -> Option<Page> {
    let page = Geometry::of(paper)?;
    let mut pen = Pen { drawing: Drawing::new(paper), typesetter };
    frames(&mut pen, paper);
    crosses(&mut pen, paper);
    distances(&mut pen, &page);
    rulers(&mut pen, &page);
    instructions(&mut pen, &page, correction, printer);
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

/// Beyond a cross to the arrow that shows a distance from it to the edge, and to the end of the line that leads there.
const ARROW: Length = Length::um(9_000);
const LEAD: Length = Length::um(10_500);

/// The distances to measure between crosses and edges, each an arrow with its letter.
fn distances(pen: &mut Pen<'_>, page: &Geometry) {
    let (right, bottom) = (page.paper.width - CROSS, page.paper.height - CROSS);
    let letter = |pen: &mut Pen<'_>, name: &str, at: Point| pen.centred(Face::Bold, name, LETTER, at);
    let (gap, half) = (Length::um(1_200), LETTER / 2);
    for (name, y, out) in [("a", CROSS, ARROW), ("f", bottom, -ARROW)] {
        let lead = if out > Length::ZERO { LEAD } else { -LEAD };
        pen.hairline(Point::new(CROSS, y + lead / 2), Point::new(CROSS, y + lead));
        arrow(pen, Point::new(CROSS, y + out), Along::Across);
        letter(pen, name, Point::new(CROSS + LETTER, y + out + half));
    }
    for (name, x, out) in [("b", CROSS, ARROW), ("e", right, -ARROW)] {
        let lead = if out > Length::ZERO { LEAD } else { -LEAD };
        pen.hairline(Point::new(x + lead / 2, CROSS), Point::new(x + lead, CROSS));
        arrow(pen, Point::new(x + out, CROSS), Along::Down);
        let aside = if out > Length::ZERO { gap * 2 } else { -(gap * 2) };
        letter(pen, name, Point::new(x + out + aside, CROSS - gap));
    }
}

/// From a point to the left edge of the paper, or up to its upper edge, with a head at the point and as much of the head
/// at the edge as the printer reaches.
fn arrow(pen: &mut Pen<'_>, tip: Point, along: Along) {
    let (long, wide) = (Length::um(2_200), Length::um(700));
    let at = |far: Length, aside: Length| match along {
        Along::Across => Point::new(far, tip.y + aside),
        Along::Down => Point::new(tip.x + aside, far),
    };
    let far = match along {
        Along::Across => tip.x,
        Along::Down => tip.y,
    };
    pen.hairline(at(Length::ZERO, Length::ZERO), at(far, Length::ZERO));
    for (end, back) in [(far, far - long), (Length::ZERO, long)] {
        let head = Path::new().move_to(at(end, Length::ZERO)).line_to(at(back, -wide)).line_to(at(back, wide));
        pen.drawing.fill(head.close(), Ink::Black);
    }
}

fn rulers(pen: &mut Pen<'_>, page: &Geometry) {
    let Geometry { paper, across, down } = *page;
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
    let beyond = Length::um(3_000);
    let end = Point::new(level.x + Length::um(across * 1_000), level.y + Length::um(1_500) + LETTER);
    pen.centred(Face::Bold, "c", LETTER, end);
    let end = Point::new(upright.x, upright.y + Length::um(down * 1_000) + beyond + LETTER);
    pen.centred(Face::Bold, "d", LETTER, end);
}

/// Numbers at the long ticks are bold.
const fn face(mm: i32) -> Face {
    if mm == 0 || (mm >= 100 && mm % 50 == 0) { Face::Bold } else { Face::Regular }
}

/// From the left edge of the text to that of the steps' words, to the lines to write on, and to what is right.
const WORDS: Length = Length::um(6_000);
const BLANK: Length = Length::um(92_000);
const RIGHT: Length = Length::um(119_000);

fn instructions(pen: &mut Pen<'_>, page: &Geometry, correction: Correction, printer: &str) {
    let mut y = CROSS + Length::um(20_000);
    pen.text(Face::Bold, "Measure your printer", TEXT * 2, Point::new(CROSS, y));
    y = y + Length::um(2_000);
    for line in lines(page, correction, printer) {
        y = y + LEADING;
        let words = CROSS + WORDS;
        match line {
            Line::Step(number, text) => {
                y = y + Length::um(1_800);
                pen.text(Face::Bold, &number.to_string(), TEXT, Point::new(CROSS, y));
                pen.text(Face::Medium, &text, TEXT, Point::new(words, y));
            }
            Line::More(text) => pen.text(Face::Regular, &text, TEXT, Point::new(words, y)),
            Line::Typed(text) => pen.text(Face::Medium, &text, CAPITALS, Point::new(words + WORDS, y)),
            Line::Measure(name, text, right) => {
                pen.text(Face::Bold, name, TEXT, Point::new(words, y));
                pen.text(Face::Regular, text, TEXT, Point::new(words + WORDS, y));
                let blank = CROSS + BLANK;
                pen.hairline(Point::new(blank, y), Point::new(blank + Length::um(18_000), y));
                pen.text(Face::Regular, "mm", TEXT, Point::new(blank + Length::um(19_000), y));
                pen.text(Face::Regular, &format!("should be {right:.1}"), CAPITALS, Point::new(CROSS + RIGHT, y));
            }
        }
    }
}

/// One line of the instructions.
enum Line {
    Step(i32, String),
    More(String),
    /// What is typed, or stands in a file.
    Typed(String),
    /// Something to measure, with a line to write on and what it would be without error.
    Measure(&'static str, &'static str, f64),
}

fn lines(page: &Geometry, correction: Correction, printer: &str) -> Vec<Line> {
    let step = |number, text: &str| Line::Step(number, text.to_owned());
    let paper = paper_name(page.paper);
    let cross = page.cross();
    let mut lines = vec![Line::Step(1, format!("Print this page on {paper} at 100 % (actual size), single-sided."))];
    if !correction.is_none() {
        let stated = correction.stated(printer);
        let (name, figures) = stated.rsplit_once(": ").unwrap_or((&stated, ""));
        lines.push(Line::More(format!("It is {name}:")));
        let (moved, skewed) = figures.split_once(", skew").unwrap_or((figures, ""));
        lines.push(Line::Typed(moved.to_owned()));
        lines.extend((!skewed.is_empty()).then(|| Line::Typed(format!("skew{skewed}"))));
    }
    lines.extend([
        step(2, "Measure with a steel rule, to a tenth of a millimetre, and write it down."),
        Line::Measure("a", "left edge of the paper to the upright line of A", cross),
        Line::Measure("b", "upper edge of the paper to the level line of A", cross),
        Line::Measure("c", "level ruler, from 0 to its end", page.across()),
        Line::Measure("d", "upright ruler, from 0 to its end", page.down()),
        Line::Measure("e", "upper edge of the paper to the level line of B", cross),
        Line::Measure("f", "left edge of the paper to the upright line of C", cross),
    ]);
    lines.extend(worked_out(page, correction, printer));
    let printer = if printer.is_empty() { UNNAMED } else { printer };
    lines.extend([
        step(4, "Print this page again with the correction, and measure again."),
        Line::Typed(format!(
            "noticewright ruler{} --job job.toml --printer \"{printer}\" -o again.pdf",
            on_paper(page)
        )),
        Line::More("Every figure is then within 0.2 mm of what it should be. If not, repeat step 3 there.".to_owned()),
        step(5, "c and d both wrong by 1 % or more? The page was fitted to the paper: print it at 100 %."),
        step(6, "See how far the printer reaches: the outermost frame that is whole on all four sides"),
        Line::More("shows it. Its distance is “unprintable” in a sheet format of your own.".to_owned()),
    ]);
    lines
}

/// The printer where none is named.
const UNNAMED: &str = "office";

/// The option that names the paper, where it is not the usual one.
fn on_paper(page: &Geometry) -> String {
    let paper = paper_name(page.paper);
    if paper == "A4" { String::new() } else { format!(" --paper {}", paper.replace(" mm", "").replace(' ', "")) }
}

/// How the correction is worked out, with an example and what comes of it.
fn worked_out(page: &Geometry, correction: Correction, printer: &str) -> Vec<Line> {
    let typed = |text: String| Line::Typed(text);
    let example = Measured::example(page);
    let printer = if printer.is_empty() { UNNAMED } else { printer };
    let corrected = if correction.is_none() { "" } else { " --job job.toml --corrected" };
    let mut lines = vec![
        Line::Step(3, "Let the program work out the correction: type, in one line, with your own figures,".to_owned()),
        typed(format!("noticewright ruler{} --printer \"{printer}\"{corrected} --measured", on_paper(page))),
        typed(example.to_string()),
        Line::More(
            "and put what it prints into the job file. For these figures, without a correction so far:".to_owned(),
        ),
    ];
    if let Ok(found) = example.correction(page.paper, Correction::default()) {
        let entries = found.entries().map(|(key, value)| format!("{key} = {value}"));
        lines.push(typed("[printers.\"office\"]".to_owned()));
        lines.extend(entries.chunks(2).map(|pair| typed(pair.join("      "))));
    }
    lines
}
