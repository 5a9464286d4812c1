mod sample;
use noticewright::length::*;
use noticewright::sheets;
#[test]
fn look() {
    std::fs::create_dir_all("/tmp/look").unwrap();
    let (bytes, written) = sample::document(
        9,
        sheets::Run {
            left_out: vec!["CH3-JB2".into(), "CH4-JB9".into()],
            correction: sheets::Correction {
                offset: Point::new(Length::um(400), Length::um(-300)),
                scale_x: 1.002,
                scale_y: 0.0,
            },
            printer: "office".into(),
            ..Default::default()
        },
    );
    println!("{written:?}");
    std::fs::write("/tmp/look/labels.pdf", bytes).unwrap();
    for (name, size) in [
        ("A4", sheets::parse_size("A4").unwrap()),
        ("Letter", sheets::parse_size("letter").unwrap()),
        ("A3", sheets::parse_size("A3").unwrap()),
    ] {
        let page = sheets::ruler(size, Default::default(), "", sample::typesetter());
        std::fs::write(format!("/tmp/look/ruler-{name}.pdf"), sample::written(&sample::info(), 1, |_| page.clone()).0)
            .unwrap();
    }
    for format in sheets::built_in() {
        let pages = [sheets::Page::plain(sheets::picture(format, sample::typesetter())), {
            let plan = sheets::plan(
                &vec![sheets::Label { size: format.cell(), enclosure: "" }; 2],
                &sheets::Formats::only(format.clone()),
                Default::default(),
                &Default::default(),
            )
            .unwrap()
            .0;
            plan.page(0, 0, sample::typesetter(), |_| {
                let mut d = noticewright::drawing::Drawing::new(format.cell());
                d.stroke(
                    noticewright::drawing::Path::rounded(
                        Rect::new(Point::default(), format.cell()).inset(Length::mm(1.0)),
                        Length::mm(2.0),
                    ),
                    noticewright::drawing::Ink::Grey,
                    Length::mm(0.3),
                );
                d.into()
            })
            .unwrap()
        }];
        std::fs::write(
            format!("/tmp/look/{}.pdf", format.name),
            sample::written(&sample::info(), 2, |n| pages[n].clone()).0,
        )
        .unwrap();
    }
}
