//! The finished ruler page is where the correction says, in the eyes of a renderer that is not ours.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::string_slice,
    clippy::print_stderr,
    clippy::disallowed_methods,
    reason = "a test that cannot go on stops, and looks at the disk by itself"
)]

mod judge;
mod sample;

use noticewright::sheets::{self, Correction, Measured};

/// Middle of the dark along short scans across a line, in millimetres: a level line's place down, an upright one's across.
fn line(raster: &judge::Raster, (x, y): (f64, f64), upright: bool) -> f64 {
    let (reach, step) = (1.6, 0.005);
    let middles = [-1.9, -1.5, 1.5, 1.9].map(|beside| {
        let places = (0..=(2.0 * reach / step) as i32).map(|number| f64::from(number) * step - reach);
        let dark = |along: f64| {
            let [r, ..] = if upright { raster.at(x + along, y + beside) } else { raster.at(x + beside, y + along) };
            255.0 - f64::from(r)
        };
        let (sum, weight) = places.fold((0.0, 0.0), |(sum, weight), at| (sum + at * dark(at), weight + dark(at)));
        assert!(weight > 0.0, "no line at {x} {y}");
        sum / weight
    });
    middles.iter().sum::<f64>() / 4.0 + if upright { x } else { y }
}

/// Each cross of the page lies where the correction puts it, to a twentieth of a millimetre: of a page as it is, and of
/// one that is scaled, skewed and moved.
#[test]
fn the_crosses_land_where_the_correction_puts_them() {
    let paper = sheets::parse_size("A4").unwrap();
    let measured = Measured::parse("a=19.2,b=20.6,c=149.6,d=200.5,e=21.4,f=18.5").unwrap();
    let found = measured.correction(paper, Correction::default()).unwrap().correction();
    assert!(found.skew_across < -4.0 && found.skew_down > 2.0, "{found:?}");
    for correction in [Correction::default(), found] {
        let page = sheets::ruler(paper, correction, "office", sample::typesetter()).unwrap();
        let file = judge::file(&sample::written(&sample::info(), 1, |_| page.clone()).0);
        let Some(raster) = judge::poppler(file.path(), 1, 600.0) else { return };
        for cross in [(20.0, 20.0), (190.0, 20.0), (20.0, 277.0), (190.0, 277.0)] {
            let (x, y) = correction.apply(cross);
            // The circle around a cross has a radius of 2.5 mm, so that nothing but the two lines is met inside.
            let (found_x, found_y) = (line(&raster, (x, y), true), line(&raster, (x, y), false));
            assert!(
                (found_x - x).abs() < 0.05 && (found_y - y).abs() < 0.05,
                "{cross:?}: {found_x} {found_y}, {x} {y}"
            );
        }
    }
}
