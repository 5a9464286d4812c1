//! Symbols of the open standard IEC 60617, drawn by our own code from the published conventions (from memory).
//!
//! Contacts are drawn as the standard draws them, at rest: open, the blade at the left of a line that runs from top to
//! bottom. The drawn position says nothing about the position of the device on site, and the diagram says so. A
//! disconnector has a bar at its fixed contact, a switch-disconnector a bar and a circle, a circuit-breaker suitable for
//! isolation a cross and a bar, a switch that is not suitable for isolation none of them.

use super::facts::Shape;
use super::lettering::Words;
use super::pen::{HEAVY, Pen, THIN};
use super::route::contact_aside;
use crate::drawing::Ink;
use crate::network::Nature;
use crate::survey::value::DeviceKind;

/// Half the height of every symbol, its connections included, in millimetres.
pub(super) const HALF: f64 = 6.0;

/// How far the fixed contact and the pivot of a blade stand from the middle.
const CONTACT: f64 = 3.0;

/// The width of blades, bars and crosses.
const BLADE: f64 = 0.5;

/// What is drawn at the fixed contact.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Mark {
    /// A plain make contact.
    Nothing,
    /// Isolates.
    Bar,
    /// Isolates and switches load.
    BarAndCircle,
    /// Isolates and breaks short circuits.
    BarAndCross,
}

/// How far a symbol reaches to the right of its line, in millimetres, and most of them to the left; numbers and labels
/// stand beyond.
pub(super) const fn half_width(shape: Shape) -> f64 {
    match shape {
        Shape::Ups { .. } | Shape::Changeover { .. } => 5.5,
        Shape::Source(_) | Shape::Converter | Shape::NotKnown => 4.5,
        Shape::Isolator(_) | Shape::Cutout | Shape::Switch | Shape::Transformer | Shape::Board => 4.0,
    }
}

/// How far a symbol reaches to the left of its line.
pub(super) const fn left_of(shape: Shape) -> f64 {
    match shape {
        Shape::Ups { own_battery: true } => 9.8,
        Shape::Source(_)
        | Shape::Isolator(_)
        | Shape::Cutout
        | Shape::Switch
        | Shape::Changeover { .. }
        | Shape::Transformer
        | Shape::Ups { own_battery: false }
        | Shape::Converter
        | Shape::Board
        | Shape::NotKnown => half_width(shape),
    }
}

/// A symbol to be drawn.
#[derive(Clone, Copy)]
pub(super) struct Symbol<'a> {
    /// What it is.
    pub(super) shape: Shape,
    /// Its connections above.
    pub(super) feeds: usize,
    /// Whether anything is drawn below it.
    pub(super) feeds_on: bool,
    /// The words inside it.
    pub(super) letters: Option<&'a Words>,
    /// Whether a proved path of energy passes it, which makes the blade of a contact heavy.
    pub(super) is_live: bool,
}

/// Draws a symbol around a point.
pub(super) fn draw(pen: &mut Pen<'_>, symbol: Symbol<'_>, at: (f64, f64)) {
    let Symbol { shape, feeds, letters, is_live, .. } = symbol;
    let contact = |pen: &mut Pen<'_>, at, mark| contact(pen, at, mark, if is_live { HEAVY * 0.8 } else { BLADE });
    match shape {
        Shape::Source(nature) => source(pen, nature, at, letters),
        Shape::Isolator(None | Some(DeviceKind::Disconnector)) => contact(pen, at, Mark::Bar),
        Shape::Isolator(Some(DeviceKind::SwitchDisconnector)) => contact(pen, at, Mark::BarAndCircle),
        Shape::Isolator(Some(DeviceKind::Breaker)) => contact(pen, at, Mark::BarAndCross),
        Shape::Isolator(Some(DeviceKind::Link)) => link(pen, at),
        Shape::Isolator(Some(DeviceKind::PlugSocket)) => plug_and_socket(pen, at),
        Shape::Isolator(Some(DeviceKind::Fuse | DeviceKind::NetworkCutout)) | Shape::Cutout => fuse(pen, at),
        Shape::Switch => contact(pen, at, Mark::Nothing),
        Shape::Changeover { off_position } => changeover(pen, at, off_position, feeds),
        Shape::Transformer => transformer(pen, at),
        Shape::Ups { own_battery } => ups(pen, at, own_battery, symbol),
        Shape::Converter => converter(pen, at),
        Shape::NotKnown => not_known(pen, at, letters),
        Shape::Board => {}
    }
}

/// How far from its middle the connections of a symbol end, above and below.
pub(super) const fn leads_from(shape: Shape) -> f64 {
    match shape {
        Shape::Source(_) | Shape::Board => HALF,
        Shape::Isolator(Some(DeviceKind::Fuse | DeviceKind::NetworkCutout)) | Shape::Cutout => 0.0,
        Shape::Isolator(_) | Shape::Switch | Shape::Changeover { .. } => CONTACT,
        Shape::Transformer => 4.8,
        Shape::Converter => 4.5,
        Shape::Ups { .. } | Shape::NotKnown => 3.6,
    }
}

/// The words that stand inside a symbol.
pub(super) const fn letters(shape: Shape) -> Option<&'static str> {
    match shape {
        Shape::Source(Nature::Generator) => Some("G"),
        Shape::Source(Nature::Ups) | Shape::Ups { .. } => Some("UPS"),
        Shape::NotKnown => Some("?"),
        Shape::Source(Nature::Mains | Nature::Solar | Nature::Battery | Nature::Vehicle | Nature::NotTold)
        | Shape::Isolator(_)
        | Shape::Cutout
        | Shape::Switch
        | Shape::Changeover { .. }
        | Shape::Transformer
        | Shape::Converter
        | Shape::Board => None,
    }
}

fn leads(pen: &mut Pen<'_>, (x, y): (f64, f64), from: f64) {
    pen.line(&[(x, y - HALF), (x, y - from)], THIN);
    pen.line(&[(x, y + from), (x, y + HALF)], THIN);
}

fn contact(pen: &mut Pen<'_>, (x, y): (f64, f64), mark: Mark, blade: f64) {
    leads(pen, (x, y), CONTACT);
    pen.line(&[(x, y + CONTACT), (x - 3.2, y - 2.7)], blade);
    let fixed = y - CONTACT;
    match mark {
        Mark::Nothing => {}
        Mark::Bar => bar(pen, (x, fixed)),
        Mark::BarAndCircle => {
            bar(pen, (x, fixed));
            pen.ring((x, fixed + 0.85), 0.85, THIN);
        }
        Mark::BarAndCross => {
            bar(pen, (x, fixed));
            let crossed = fixed - 1.5;
            pen.line(&[(x - 1.1, crossed - 1.1), (x + 1.1, crossed + 1.1)], BLADE);
            pen.line(&[(x - 1.1, crossed + 1.1), (x + 1.1, crossed - 1.1)], BLADE);
        }
    }
}

fn bar(pen: &mut Pen<'_>, (x, y): (f64, f64)) {
    pen.line(&[(x - 1.7, y), (x + 1.7, y)], BLADE);
}

fn fuse(pen: &mut Pen<'_>, (x, y): (f64, f64)) {
    pen.line(&[(x, y - HALF), (x, y + HALF)], THIN);
    pen.frame((x - 1.4, y - 3.6), 2.8, 7.2, 0.0, THIN);
}

fn link(pen: &mut Pen<'_>, (x, y): (f64, f64)) {
    leads(pen, (x, y), CONTACT);
    pen.line(&[(x - 0.9, y - CONTACT), (x - 0.9, y + CONTACT)], BLADE);
    pen.line(&[(x + 0.9, y - CONTACT), (x + 0.9, y + CONTACT)], BLADE);
    pen.ring((x, y - CONTACT), 0.9, THIN);
    pen.ring((x, y + CONTACT), 0.9, THIN);
}

fn plug_and_socket(pen: &mut Pen<'_>, (x, y): (f64, f64)) {
    leads(pen, (x, y), CONTACT);
    pen.cup((x, y - 0.4), 2.6, BLADE);
    pen.block((x - 0.8, y - 0.8), 1.6, CONTACT + 1.4);
}

fn changeover(pen: &mut Pen<'_>, (x, y): (f64, f64), off_position: bool, feeds: usize) {
    let contacts: Vec<f64> = (0..feeds.max(1)).map(|place| x + contact_aside(place, feeds)).collect();
    pen.line(&[(x, y + CONTACT), (x, y + HALF)], THIN);
    for contact in &contacts {
        pen.line(&[(*contact, y - HALF), (*contact, y - CONTACT)], THIN);
        pen.ring((*contact, y - CONTACT), 0.7, THIN);
    }
    let first = contacts.first().copied().unwrap_or(x);
    // At rest: between the contacts where there is an off position, else just off the first contact.
    let tip = if off_position && feeds > 1 { (x, y - 2.4) } else { (x + (first - x) * 0.72 - 0.3, y - 1.9) };
    pen.line(&[(x, y + CONTACT), tip], BLADE);
    pen.ring((x, y + CONTACT), 0.7, THIN);
}

fn transformer(pen: &mut Pen<'_>, (x, y): (f64, f64)) {
    leads(pen, (x, y), 4.8);
    pen.circle((x, y - 1.8), 3.0, THIN);
    pen.circle((x, y + 1.8), 3.0, THIN);
}

fn converter(pen: &mut Pen<'_>, (x, y): (f64, f64)) {
    leads(pen, (x, y), 4.5);
    pen.frame((x - 4.5, y - 4.5), 9.0, 9.0, 0.0, THIN);
    pen.line(&[(x - 4.5, y + 4.5), (x + 4.5, y - 4.5)], THIN);
}

/// A box in words, since no one symbol is established, with its own battery beside it.
fn ups(pen: &mut Pen<'_>, (x, y): (f64, f64), own_battery: bool, symbol: Symbol<'_>) {
    for feed in 0..symbol.feeds.max(1) {
        let contact = x + contact_aside(feed, symbol.feeds);
        pen.line(&[(contact, y - HALF), (contact, y - 3.6)], THIN);
    }
    if symbol.feeds_on {
        pen.line(&[(x, y + 3.6), (x, y + HALF)], THIN);
    }
    pen.frame((x - 5.0, y - 3.6), 10.0, 7.2, 0.0, THIN);
    symbol.letters.into_iter().for_each(|words| pen.centred(words, (x, y), Ink::Black));
    if !own_battery {
        return;
    }
    pen.line(&[(x - 5.0, y), (x - 7.2, y)], THIN);
    pen.line(&[(x - 7.2, y - 2.2), (x - 7.2, y + 2.2)], THIN);
    pen.line(&[(x - 8.4, y - 1.1), (x - 8.4, y + 1.1)], THIN * 2.4);
    pen.line(&[(x - 8.4, y), (x - 9.6, y)], THIN);
}

fn source(pen: &mut Pen<'_>, nature: Nature, (x, y): (f64, f64), letters: Option<&Words>) {
    match nature {
        Nature::Mains | Nature::NotTold => {
            pen.line(&[(x - 3.2, y - 4.5), (x + 3.2, y - 4.5)], BLADE);
            pen.line(&[(x, y - 4.5), (x, y + HALF)], THIN);
            pen.triangle([(x - 1.7, y - 1.2), (x + 1.7, y - 1.2), (x, y + 2.4)]);
        }
        Nature::Generator => {
            pen.line(&[(x, y + 4.2), (x, y + HALF)], THIN);
            pen.circle((x, y), 4.2, THIN);
            letters.into_iter().for_each(|words| pen.centred(words, (x, y), Ink::Black));
        }
        Nature::Ups => {
            pen.line(&[(x, y + 3.6), (x, y + HALF)], THIN);
            pen.frame((x - 5.0, y - 3.6), 10.0, 7.2, 0.0, THIN);
            letters.into_iter().for_each(|words| pen.centred(words, (x, y), Ink::Black));
        }
        Nature::Battery | Nature::Vehicle => cell(pen, (x, y)),
        Nature::Solar => {
            cell(pen, (x, y));
            // Light falls on a photovoltaic cell.
            for aside in [0.0, 2.0] {
                let tip = (x - 3.0 + aside * 0.4, y - 1.8 - aside * 0.9);
                pen.line(&[(tip.0 - 2.6, tip.1 - 2.6), (tip.0 - 0.8, tip.1 - 0.8)], THIN);
                pen.triangle([tip, (tip.0 - 1.6, tip.1 - 0.5), (tip.0 - 0.5, tip.1 - 1.6)]);
            }
        }
    }
}

/// A long and a short plate.
fn cell(pen: &mut Pen<'_>, (x, y): (f64, f64)) {
    pen.line(&[(x, y - 4.0), (x, y - 0.8)], THIN);
    pen.line(&[(x - 3.0, y - 0.8), (x + 3.0, y - 0.8)], THIN);
    pen.line(&[(x - 1.5, y + 0.8), (x + 1.5, y + 0.8)], THIN * 2.6);
    pen.line(&[(x, y + 0.8), (x, y + HALF)], THIN);
}

fn not_known(pen: &mut Pen<'_>, (x, y): (f64, f64), letters: Option<&Words>) {
    leads(pen, (x, y), 3.6);
    let (left, right, top, bottom) = (x - 4.0, x + 4.0, y - 3.6, y + 3.6);
    pen.dashed((left, top), (right, top), THIN);
    pen.dashed((right, top), (right, bottom), THIN);
    pen.dashed((right, bottom), (left, bottom), THIN);
    pen.dashed((left, bottom), (left, top), THIN);
    letters.into_iter().for_each(|words| pen.centred(words, (x, y), Ink::Black));
}
