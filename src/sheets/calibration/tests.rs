//! What must hold of the arithmetic of a printer's error.

use proptest::prelude::*;

use super::*;
use crate::sheets::parse_size;

fn a4() -> Size {
    parse_size("A4").unwrap()
}

fn found(text: &str) -> Result<Calibration, Implausible> {
    Measured::parse(text).unwrap().correction(a4(), Correction::default())
}

/// By hand, for a page that is not turned. The crosses are 20 mm from the edges, the rulers of A4 150 and 200 mm long.
///
/// scale_x = 150 / 149.7 = 1.002004; scale_y = 200 / 200.4 = 0.998004
/// offset_x = 20 - 19.5 x 1.002004 = 20 - 19.539078 = 0.460922
/// offset_y = 20 - 20.2 x 0.998004 = 20 - 20.159681 = -0.159681
#[test]
fn an_example_by_hand_without_skew() {
    let expected = Calibration {
        offset_x_mm: 0.46,
        offset_y_mm: -0.16,
        scale_x: 1.002,
        scale_y: 0.998,
        skew_across_mm_per_m: 0.0,
        skew_down_mm_per_m: 0.0,
    };
    assert_eq!(found("a=19.5, b=20.2, c=149.7, d=200.4, e=20.2, f=19.5"), Ok(expected));
}

/// By hand, for a page that is turned by two thousandths. From A to B are 210 - 40 = 170 mm, from A to C 297 - 40 = 257.
///
/// The level line falls by 0.34 / 170 = 0.002, the upright one leaves to the left by 0.514 / 257 = 0.002; both rulers are
/// as long as they should be, so that the printer turns by the matrix [0.999998 -0.002; 0.002 0.999998], whose determinant
/// is 1. Cross A stays where it is: t = (20 - 0.997998 x 20, 20 - 1.001998 x 20) = (0.04004, -0.03996).
/// The inverse is [0.999998 0.002; -0.002 0.999998], and the offset -inverse t =
/// (-(0.999998 x 0.04004 - 0.002 x 0.03996), -(-0.002 x 0.04004 - 0.999998 x 0.03996)) = (-0.03996, 0.04004).
#[test]
fn an_example_by_hand_with_skew() {
    let expected = Calibration {
        offset_x_mm: -0.04,
        offset_y_mm: 0.04,
        scale_x: 1.0,
        scale_y: 1.0,
        skew_across_mm_per_m: -2.0,
        skew_down_mm_per_m: 2.0,
    };
    assert_eq!(found("a=20,b=20,c=150,d=200,e=20.34,f=19.486"), Ok(expected));
    // Without `f` the page is taken to be turned as a whole, which here it is.
    assert_eq!(found("a=20,b=20,c=150,d=200,e=20.34"), Ok(expected));
}

#[test]
fn measures_are_read_with_and_without_units() {
    let expected = Measured { a: 19.6, b: 20.3, c: 149.8, d: 200.2, e: 20.6, f: Some(19.1) };
    let text = "a=19.6,b=20.3,c=149.8,d=200.2,e=20.6,f=19.1";
    assert_eq!(Measured::parse(text), Ok(expected));
    assert_eq!(expected.to_string(), text);
    assert_eq!(Measured::parse(" F = 19.1 mm; e=20.6mm ;d=200.2, c=149.8 , b=20.3,A=19.6,"), Ok(expected));
    assert_eq!(Measured::parse("a=1,b=1,c=1,d=1,e=1").unwrap().f, None);
}

#[test]
fn what_is_no_list_of_measures_is_refused() {
    let refused = |text: &str| Measured::parse(text).unwrap_err();
    // A decimal comma leaves a figure by itself.
    assert_eq!(refused("a=19,6,b=20"), MeasuredError::NotAMeasure { part: "6".into() });
    for part in ["g=20", "a", "a=", "a=x", "a=nan", "a=inf", "ab=2", "=2"] {
        assert_eq!(refused(part), MeasuredError::NotAMeasure { part: part.into() }, "{part}");
    }
    assert_eq!(refused("a=19.6,b=20,a=19.6"), MeasuredError::Twice { name: 'a' });
    assert_eq!(refused("a=19.6,c=150,f=20"), MeasuredError::Missing { names: "b, d, e".into() });
    assert_eq!(refused(""), MeasuredError::Missing { names: "a, b, c, d, e".into() });
}

#[test]
fn slips_and_fitted_pages_are_told_apart() {
    let usual = "a=20,b=20,c=150,d=200,e=20,f=20";
    let with = |from: &str, to: &str| found(&usual.replace(from, to)).unwrap_err();
    assert_eq!(with("a=20", "a=41"), Implausible::Slip { name: 'a', measured: 41.0, expected: 20.0 });
    assert_eq!(with("b=20", "b=-1"), Implausible::Slip { name: 'b', measured: -1.0, expected: 20.0 });
    assert_eq!(with("c=150", "c=200"), Implausible::Slip { name: 'c', measured: 200.0, expected: 150.0 });
    assert_eq!(with("d=200", "d=20.02"), Implausible::Slip { name: 'd', measured: 20.02, expected: 200.0 });
    assert!(with("d=200", "d=20.02").to_string().ends_with("this looks like centimetres"));
    assert!(with("f=20", "f=1.98").to_string().ends_with("this looks like centimetres"));
    // A page that was fitted into borders of 5 mm is 200 / 210 = 95.2 % of its size.
    let fitted = with("c=150,d=200", "c=142.9,d=190.5");
    assert!(matches!(fitted, Implausible::Fitted { percent } if (percent - 95.27).abs() < 0.01), "{fitted:?}");
    // Over 170 mm, 10 mm in a metre are 1.7 mm.
    let askew = with("e=20", "e=21.8");
    assert!(matches!(askew, Implausible::Askew { names: "b and e", skew } if (skew - 10.59).abs() < 0.01), "{askew:?}");
    assert!(found(&usual.replace("e=20", "e=21.6")).is_ok());
    assert!(matches!(with("f=20", "f=16.0"), Implausible::Askew { names: "a and f", .. }));
    let small = Measured::parse(usual).unwrap().correction(parse_size("A5").unwrap(), Correction::default());
    assert_eq!(small, Err(Implausible::Paper));
}

/// A printer with a known error: where it puts a point of the page, mm.
#[derive(Clone, Copy, Debug)]
struct Printer {
    xx: f64,
    xy: f64,
    yx: f64,
    yy: f64,
    x: f64,
    y: f64,
}

impl Printer {
    fn prints(&self, (x, y): (f64, f64)) -> (f64, f64) {
        (self.xx * x + self.xy * y + self.x, self.yx * x + self.yy * y + self.y)
    }

    /// What a person measures on a ruler page that was printed with a correction, to the nearest of so many parts of a
    /// millimetre: from the page's own points, not from the program's formulas.
    fn measured(&self, paper: Size, correction: Correction, parts: f64) -> Measured {
        let (width, height) = (paper.width.to_mm(), paper.height.to_mm());
        let seen = |point| self.prints(correction.apply(point));
        let read = |mm: f64| (mm * parts).round() / parts;
        let apart = |one, other| {
            let ((x, y), (to_x, to_y)) = (seen(one), seen(other));
            f64::hypot(to_x - x, to_y - y)
        };
        let (across, down) = if width > 250.0 { (200.0, 250.0) } else { (150.0, 200.0) };
        let (level, upright) = (height - 35.0, width - 20.0);
        Measured {
            a: read(seen((20.0, 20.0)).0),
            b: read(seen((20.0, 20.0)).1),
            c: read(apart((20.0, level), (20.0 + across, level))),
            d: read(apart((upright, 35.0), (upright, 35.0 + down))),
            e: read(seen((width - 20.0, 20.0)).1),
            f: Some(read(seen((20.0, height - 20.0)).0)),
        }
    }

    /// The furthest that a cross lies from its place.
    fn residual(&self, paper: Size, correction: Correction) -> f64 {
        let (width, height) = (paper.width.to_mm(), paper.height.to_mm());
        let crosses = [20.0, width - 20.0].into_iter().flat_map(|x| [20.0, height - 20.0].map(|y| (x, y)));
        let off = |(x, y)| {
            let (to_x, to_y) = self.prints(correction.apply((x, y)));
            f64::hypot(to_x - x, to_y - y)
        };
        crosses.map(off).fold(0.0, f64::max)
    }
}

fn printers() -> impl Strategy<Value = Printer> {
    let scale = 0.985..1.015;
    let skew = -0.008..0.008;
    let shift = -5.0..5.0;
    (scale.clone(), skew.clone(), skew, scale, shift.clone(), shift).prop_map(|(xx, xy, yx, yy, x, y)| Printer {
        xx,
        xy,
        yx,
        yy,
        x,
        y,
    })
}

proptest! {
    #[test]
    fn what_is_measured_is_made_good(printer in printers(), large in any::<bool>()) {
        let paper = parse_size(if large { "A3" } else { "A4" }).unwrap();
        let measured = printer.measured(paper, Correction::default(), 10_000.0);
        let found = measured.correction(paper, Correction::default()).unwrap();
        prop_assert!(printer.residual(paper, found.correction()) < 0.05, "{printer:?} {found:?}");
        // A steel rule is read to a tenth. What a reading is off by grows from the rulers to the furthest cross, D: on A3
        // at most 0.05 + 0.05 x 257 / 200 + 0.1 across, and about as much down.
        let read = printer.measured(paper, Correction::default(), 10.0);
        let rough = read.correction(paper, Correction::default()).unwrap().correction();
        prop_assert!(printer.residual(paper, rough) < 0.35, "{printer:?}");
        // Measured once more on a page that was printed so, with a finer eye.
        let again = printer.measured(paper, rough, 10_000.0).correction(paper, rough).unwrap();
        prop_assert!(printer.residual(paper, again.correction()) < 0.05, "{printer:?} {again:?}");
    }

    #[test]
    fn a_page_that_is_turned_as_a_whole_needs_no_sixth_measure(
        turn in -0.008..0.008_f64, scale in 0.985..1.015_f64, stretch in 0.99..1.01_f64, x in -5.0..5.0, y in -5.0..5.0,
    ) {
        let (sin, cos) = turn.sin_cos();
        let printer = Printer { xx: scale * cos, xy: -scale * stretch * sin, yx: scale * sin, yy: scale * stretch * cos, x, y };
        let measured = Measured { f: None, ..printer.measured(a4(), Correction::default(), 10_000.0) };
        if let Ok(found) = measured.correction(a4(), Correction::default()) {
            prop_assert!(printer.residual(a4(), found.correction()) < 0.05, "{printer:?} {found:?}");
        } else {
            prop_assert!(!(0.98..=1.02).contains(&(scale * stretch)), "{printer:?}");
        }
    }
}

#[test]
fn the_order_is_scale_skew_offset() {
    let correction = Correction {
        offset: Point::new(Length::mm(1.0), Length::mm(2.0)),
        scale_x: 2.0,
        scale_y: 3.0,
        skew_across: 100.0,
        skew_down: 10.0,
    };
    // (10, 10) is scaled to (20, 30), skewed by 0.01 x 30 to the right and 0.1 x 20 down, moved by (1, 2).
    let (x, y) = correction.apply((10.0, 10.0));
    assert!((x - 21.3).abs() < 1e-9 && (y - 34.0).abs() < 1e-9, "{x} {y}");
    let Affine { xx, xy, yx, yy, x, y } = Affine::of(correction);
    assert!((xx * 10.0 + xy * 10.0 + x - 21.3).abs() < 1e-9 && (yx * 10.0 + yy * 10.0 + y - 34.0).abs() < 1e-9);
}

#[test]
fn a_correction_says_its_skew() {
    let correction = found("a=19.6,b=20.3,c=149.8,d=200.2,e=20.6,f=19.1").unwrap().correction();
    let said = correction.stated("office");
    assert!(said.starts_with("corrected for office: 0.3"), "{said}");
    assert!(said.ends_with("skew -1.76 mm/m across, +1.95 mm/m down"), "{said}");
    let none = found("a=20,b=20,c=150,d=200,e=20,f=20").unwrap().correction();
    assert!(none.is_none());
    assert!(!none.stated("office").contains("skew"));
}
