//! Every size with every kind of content, written as SVG to look at; what does not fit is refused by name.

use std::path::Path;

use noticewright::length::{Length, Size};
use noticewright::notice::Notice;
use noticewright::typesetting::{LetterFloor, Typesetter};
use noticewright::writers::svg::svg;

use crate::sample::{
    A4, A5, A6, A7, A8, bilingual, device, long_points, mm, notice, said, with_cautions, with_remarks, without_code,
};

/// Every notice of the gallery by name, the largest size that it may take, and whether it fits.
fn cases() -> Vec<(&'static str, Notice, Size, bool)> {
    let at = |size: (f64, f64)| mm(size.0, size.1);
    let far = |distance: f64, notice: Notice| Notice {
        reading_distance: Length::mm(distance),
        sign_distance: Length::mm(distance),
        ..notice
    };
    let long = |notice: Notice| Notice { points: long_points(), ..notice };
    vec![
        ("a8-two-near", without_code(far(400.0, notice(2))), at(A8), true),
        ("a8-two-code-near", far(400.0, notice(2)), at(A8), true),
        ("a7-one", notice(1), at(A7), true),
        ("a7-two", notice(2), at(A7), true),
        ("a7-two-no-code", without_code(notice(2)), at(A7), true),
        ("a7-three", notice(3), at(A7), true),
        ("a7-three-no-code", without_code(notice(3)), at(A7), true),
        ("a7-four", notice(4), at(A7), false),
        ("a7-four-no-code", without_code(notice(4)), at(A7), true),
        ("a7-five", notice(5), at(A7), false),
        ("a7-two-caution", with_cautions(notice(2), 1), at(A7), false),
        ("a6-two", notice(2), at(A6), true),
        ("a6-three", notice(3), at(A6), true),
        ("a6-three-no-code", without_code(notice(3)), at(A6), true),
        ("a6-three-remarks", with_remarks(notice(3)), at(A6), true),
        ("a6-three-bilingual", bilingual(notice(3)), at(A6), true),
        ("a6-three-long", long(notice(3)), at(A6), true),
        ("a6-three-cautions", with_cautions(notice(3), 3), at(A6), true),
        ("a6-five", notice(5), at(A6), true),
        ("a6-twelve", notice(12), at(A6), false),
        ("a6-twelve-cautions", with_cautions(notice(12), 6), at(A6), false),
        ("a5-two", notice(2), at(A5), true),
        ("a5-five", notice(5), at(A5), true),
        ("a5-twelve", notice(12), at(A5), true),
        ("a5-six-cautions", with_cautions(with_remarks(notice(5)), 6), at(A5), true),
        ("a5-long", long(notice(3)), at(A5), true),
        ("a5-bilingual", bilingual(notice(3)), at(A5), true),
        ("a4-twelve-far", far(1_000.0, notice(12)), at(A4), true),
        ("free-square", notice(3), mm(120.0, 120.0), true),
        ("free-tall", notice(3), mm(80.0, 140.0), true),
        ("free-wide", notice(3), mm(200.0, 60.0), true),
        ("free-wide-five", notice(5), mm(200.0, 60.0), true),
        ("free-wide-two", notice(2), mm(150.0, 50.0), true),
        ("free-wide-three", notice(3), mm(150.0, 50.0), false),
        ("free-wide-caution", with_cautions(notice(2), 1), mm(200.0, 60.0), true),
        ("device-wide", device(4), mm(150.0, 50.0), true),
        (
            "a7-voltage",
            Notice {
                statement: said("277\u{a0}V to earth inside CH3-JB2"),
                points: Vec::new(),
                headline: said("Isolation not known"),
                ..notice(1)
            },
            at(A7),
            true,
        ),
        ("device-strip", device(1), mm(60.0, 20.0), false),
        ("device-strip-near", far(350.0, device(1)), mm(60.0, 20.0), true),
        ("device-strip-short", Notice { cautions: Vec::new(), ..far(400.0, device(1)) }, mm(60.0, 20.0), true),
        ("device-a8-one", device(1), at(A8), true),
        ("device-a8-two", device(2), at(A8), true),
        ("device-a8-four", device(4), at(A8), false),
        ("device-a8-four-near", far(500.0, device(4)), at(A8), true),
        ("device-a7-four", device(4), at(A7), true),
    ]
}

#[test]
#[expect(clippy::disallowed_methods, reason = "pictures to look at, in the build folder")]
fn gallery() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("target/gallery");
    std::fs::create_dir_all(&folder).unwrap();
    let typesetter = Typesetter::new();
    let mut wrong = Vec::new();
    for (name, notice, size, fits) in cases() {
        let set = typesetter.set(&notice, &[size], LetterFloor::default());
        match &set {
            Ok(set) => {
                std::fs::write(folder.join(format!("{name}.svg")), svg(&set.drawing, name)).unwrap();
                println!(
                    "{name}: letters {} sign {:?} module {:?}",
                    set.setting.letter_height,
                    set.setting.sign_height.map(|l| l.to_mm()),
                    set.setting.code_module.map(|l| l.to_mm())
                );
            }
            Err(misfit) => {
                println!("{name}: refused: {}", misfit.finding(&notice).message);
            }
        }
        if set.is_ok() != fits {
            wrong.push(name);
        }
    }
    assert!(wrong.is_empty(), "{wrong:?}");
}
