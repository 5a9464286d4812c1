//! What is engraved against what is seen, point by point and by area.

use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay::Overlay;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::i_float::int::point::IntPoint;
use proptest::prelude::*;

use super::*;
use crate::drawing::{Face, Item, Modules, Path, Segment};
use crate::length::{Length, Point, Rect, Size};
use crate::sheets::{Colour, Palette};
use crate::typesetting::{Typesetter, sign};

const SIDE: i32 = 40;

fn at(x: f64, y: f64) -> Point {
    Point::new(Length::mm(x), Length::mm(y))
}

fn square(x: f64, y: f64, side: f64) -> Path {
    Path::rectangle(Rect::new(at(x, y), Size::new(Length::mm(side), Length::mm(side))))
}

fn blank() -> Drawing {
    Drawing::new(Size::whole_mm(SIDE, SIDE))
}

/// The outlines of an engraved drawing, as corners in micrometres.
fn outlines(drawing: &Drawing) -> Vec<Vec<(i64, i64)>> {
    let mut outlines: Vec<Vec<(i64, i64)>> = Vec::new();
    for item in &drawing.items {
        let Item::Path { path, .. } = item else { panic!("{item:?}") };
        for segment in &path.segments {
            let um = |point: Point| (i64::from(point.x.to_um()), i64::from(point.y.to_um()));
            match *segment {
                Segment::Move(to) => outlines.push(vec![um(to)]),
                Segment::Line(to) => outlines.last_mut().unwrap().push(um(to)),
                Segment::Close => {}
                Segment::Cubic(..) => panic!("a curve is left"),
            }
        }
    }
    outlines
}

/// Twice the signed area in square micrometres, by the shoelace formula.
fn doubled(outline: &[(i64, i64)]) -> i64 {
    let next = outline.iter().cycle().skip(1);
    outline.iter().zip(next).map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum()
}

/// The area in square millimetres, holes taken away.
fn area(drawing: &Drawing) -> f64 {
    outlines(drawing).iter().map(|outline| doubled(outline)).sum::<i64>().abs() as f64 / 2e6
}

/// The length of all outlines in millimetres.
fn length(drawing: &Drawing) -> f64 {
    let of_outline = |outline: &Vec<(i64, i64)>| -> f64 {
        let next = outline.iter().cycle().skip(1);
        outline.iter().zip(next).map(|(a, b)| ((a.0 - b.0) as f64).hypot((a.1 - b.1) as f64)).sum()
    };
    outlines(drawing).iter().map(of_outline).sum::<f64>() / 1_000.0
}

/// The same area by another fill rule, from the library's own overlay.
fn area_by(drawing: &Drawing, rule: FillRule) -> f64 {
    let corner = |&(x, y): &(i64, i64)| IntPoint::new(i32::try_from(x).unwrap(), i32::try_from(y).unwrap());
    let outlines: Vec<Vec<_>> = outlines(drawing).iter().map(|outline| outline.iter().map(corner).collect()).collect();
    let shapes = Overlay::from_subj(&outlines).overlay(OverlayRule::Subject, rule);
    let wide = |point: &IntPoint<i32>| (i64::from(point.x), i64::from(point.y));
    let doubled = shapes.iter().flatten().map(|outline| doubled(&outline.iter().map(wide).collect::<Vec<_>>()));
    doubled.sum::<i64>().abs() as f64 / 2e6
}

#[test]
fn an_ink_is_engraved_where_the_process_paints_black() {
    for ink in Ink::ALL {
        let wanted = match Palette::Engraving.colour(ink) {
            Some(Colour::Grey(0)) => Effect::Engraved,
            Some(Colour::Grey(10_000)) => Effect::LeftStanding,
            _ => Effect::Nothing,
        };
        assert_eq!(effect(ink), wanted, "{ink:?}");
    }
}

#[test]
fn white_takes_out_only_what_was_painted_before() {
    let mut drawing = blank();
    drawing.fill(square(0.0, 0.0, 10.0), Ink::Black);
    drawing.fill(square(2.0, 2.0, 4.0), Ink::White);
    drawing.fill(square(3.0, 3.0, 1.0), Ink::Black);
    let engraved = engraved(&drawing);
    assert!((area(&engraved) - (100.0 - 16.0 + 1.0)).abs() < 1e-9);
    assert_eq!(outlines(&engraved).len(), 3);
}

#[test]
fn outlines_that_run_against_each_other_are_still_united() {
    // One square clockwise, the other counter-clockwise, half over each other: windings of +1 and -1 make no hole.
    let mut drawing = blank();
    drawing.fill(square(0.0, 0.0, 10.0), Ink::Black);
    let back = Path::new().move_to(at(5.0, 0.0)).line_to(at(5.0, 10.0)).line_to(at(15.0, 10.0)).line_to(at(15.0, 0.0));
    drawing.fill(back.close(), Ink::Black);
    assert!((area(&engraved(&drawing)) - 150.0).abs() < 1e-9);
}

#[test]
fn a_line_is_engraved_as_wide_as_it_is_drawn() {
    let mut drawing = blank();
    drawing.stroke(Path::line(at(5.0, 5.0), at(25.0, 5.0)), Ink::Black, Length::mm(2.0));
    // Length times width, and the two half discs of its ends.
    let wanted = 20.0 * 2.0 + std::f64::consts::PI;
    assert!((area(&engraved(&drawing)) - wanted).abs() < 0.02, "{}", area(&engraved(&drawing)));
}

#[test]
fn a_circle_is_followed_to_the_tolerance() {
    let mut drawing = blank();
    drawing.fill(Path::circle(at(20.0, 20.0), Length::mm(15.0)), Ink::Black);
    for (x, y) in outlines(&engraved(&drawing)).concat() {
        let far = ((x - 20_000) as f64).hypot((y - 20_000) as f64) - 15_000.0;
        // The drawing's own four curves leave the circle by 0.03 % of the radius.
        assert!((-TOLERANCE_UM..15_000.0 * 0.0003 + 1.0).contains(&far), "{far}");
    }
    let wanted = std::f64::consts::PI * 225.0;
    assert!((area(&engraved(&drawing)) / wanted - 1.0).abs() < 0.0008, "{}", area(&engraved(&drawing)));
}

#[test]
fn the_sign_keeps_its_yellow_share() {
    let mut drawing = blank();
    let height = Length::mm(30.0);
    let size = Size::new(sign::width(height), height);
    drawing.items.push(Item::Group { group: sign::group(), at: Rect::new(at(1.0, 1.0), size) });
    let engraved = engraved(&drawing);
    // The border with its hole, and the flash: three outlines.
    assert_eq!(outlines(&engraved).len(), 3);
    // 0.605 of the sign of ISO 7010 W012 is yellow in the public-domain redraw; the rest is engraved.
    let border = crate::writers::outlines::shapes(&drawing).into_iter().find(|shape| shape.ink == Ink::Black).unwrap();
    let is_end = |element: &&kurbo::PathEl| matches!(element, kurbo::PathEl::ClosePath);
    let mut outer: kurbo::BezPath = border.path.iter().take_while(|element| !is_end(&element)).collect();
    outer.close_path();
    let whole = kurbo::Shape::area(&outer).abs();
    assert!((area(&engraved) / whole - 0.395).abs() < 0.004, "{}", area(&engraved) / whole);
}

#[test]
fn a_code_and_words_on_a_disc_come_as_they_are_seen() {
    let mut drawing = blank();
    let modules = Modules {
        origin: at(1.0, 1.0),
        module: Length::mm(0.5),
        side: 3,
        rows: vec![0b101, 0b010, 0b111],
        payload: String::new(),
    };
    drawing.items.push(Item::Modules(modules));
    assert!((area(&engraved(&drawing)) - 6.0 * 0.25).abs() < 1e-9);
    let mut drawing = blank();
    drawing.fill(Path::circle(at(20.0, 20.0), Length::mm(5.0)), Ink::Black);
    let disc = area(&engraved(&drawing));
    let line = Typesetter::new().line(Face::Bold, "8").unwrap();
    drawing.text(line, at(17.5, 22.5), Length::mm(8.0), Ink::White);
    let engraved = engraved(&drawing);
    assert!(area(&engraved) < disc * 0.9);
    // The disc, the figure's edge, and the two islands within the figure.
    assert_eq!(outlines(&engraved).len(), 4);
}

/// One thing to paint: an upright box on whole millimetres, and its ink.
fn boxes() -> impl Strategy<Value = Vec<([i32; 4], Ink)>> {
    let ink = prop::sample::select(vec![Ink::Black, Ink::White, Ink::SignalYellow, Ink::Grey]);
    prop::collection::vec((([0..SIDE, 0..SIDE, 1..20, 1..20]), ink), 1..12)
}

fn covers([x, y, width, height]: [i32; 4], (column, row): (i32, i32)) -> bool {
    (x..x + width).contains(&column) && (y..y + height).contains(&row)
}

/// One curved thing to paint.
#[derive(Clone, Debug)]
enum Mark {
    Disc(f64, f64, f64),
    Line([f64; 4], f64),
    Word(f64, f64, f64),
}

fn marks() -> impl Strategy<Value = Vec<(Mark, Ink)>> {
    let place = || 0.0..f64::from(SIDE);
    let mark = prop_oneof![
        (place(), place(), 0.3..9.0).prop_map(|(x, y, radius)| Mark::Disc(x, y, radius)),
        ([place(), place(), place(), place()], 0.05..4.0).prop_map(|(ends, width)| Mark::Line(ends, width)),
        (place(), place(), 1.0..12.0).prop_map(|(x, y, em)| Mark::Word(x, y, em)),
    ];
    let ink = prop::sample::select(vec![Ink::Black, Ink::Black, Ink::White, Ink::SignalYellow]);
    prop::collection::vec((mark, ink), 1..10)
}

fn painted<'a>(marks: impl IntoIterator<Item = &'a (Mark, Ink)>, typesetter: &Typesetter) -> Drawing {
    let mut drawing = blank();
    for (mark, ink) in marks {
        match *mark {
            Mark::Disc(x, y, radius) => drawing.fill(Path::circle(at(x, y), Length::mm(radius)), *ink),
            Mark::Line([a, b, c, d], width) => {
                drawing.stroke(Path::line(at(a, b), at(c, d)), *ink, Length::mm(width));
            }
            Mark::Word(x, y, em) => {
                let line = typesetter.line(Face::Medium, "B8&Q").unwrap();
                drawing.text(line, at(x, y), Length::mm(em), *ink);
            }
        }
    }
    drawing
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, ..ProptestConfig::default() })]

    #[test]
    fn every_square_millimetre_is_engraved_where_black_lies_on_top(painted in boxes()) {
        let mut drawing = blank();
        for ([x, y, width, height], ink) in &painted {
            let size = Size::whole_mm(*width, *height);
            drawing.fill(Path::rectangle(Rect::new(at(f64::from(*x), f64::from(*y)), size)), *ink);
        }
        let mut seen = 0;
        for column in 0..60 {
            for row in 0..60 {
                let top = painted.iter().rev().find(|(area, _)| covers(*area, (column, row)));
                seen += i32::from(top.is_some_and(|(_, ink)| matches!(ink, Ink::Black | Ink::Grey)));
            }
        }
        let engraved = engraved(&drawing);
        prop_assert!((area(&engraved) - f64::from(seen)).abs() < 1e-9, "{} {seen}", area(&engraved));
    }

    #[test]
    fn no_area_is_engraved_twice_and_none_beyond_what_was_painted_black(marks in marks()) {
        let typesetter = Typesetter::new();
        let result = engraved(&painted(&marks, &typesetter));
        let (odd, non_zero) = (area_by(&result, FillRule::EvenOdd), area_by(&result, FillRule::NonZero));
        prop_assert!((odd - non_zero).abs() < 0.001 && (area(&result) - odd).abs() < 0.001, "{odd} {non_zero}");
        let black = marks.iter().filter(|(_, ink)| *ink == Ink::Black);
        let most = engraved(&painted(black, &typesetter));
        let both = Drawing { size: result.size, items: [most.items.clone(), result.items.clone()].concat(), dots: None };
        // Where outlines are cut, what is left of an edge moves by up to a micrometre.
        let slack = (length(&result) + length(&most)) * 0.001;
        prop_assert!(area_by(&both, FillRule::NonZero) <= area(&most) + slack);
    }
}
