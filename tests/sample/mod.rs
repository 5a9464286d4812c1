//! Labels made by hand for the tests of sheets and writers: an outline, a group, text in each face and a code.
#![allow(dead_code, unreachable_pub, reason = "each test crate uses its own part of this")]

use std::sync::{Arc, LazyLock};

use noticewright::drawing::{Drawing, Face, Group, Ink, Modules, Path};
use noticewright::length::{Length, Point, Rect, Size};
use noticewright::limits::Limits;
use noticewright::sheets::{self, Formats, Label, Page, Palette, Plan, Run};
use noticewright::typesetting::Typesetter;
use noticewright::writers::pdf::{DocumentInfo, Moment, PdfWriter, Setup, Written};

/// Width and height of an A7 notice.
pub const A7: Size = Size::new(Length::um(105_000), Length::um(74_000));

/// One typesetter for all labels.
pub fn typesetter() -> &'static Typesetter {
    static TYPESETTER: LazyLock<Typesetter> = LazyLock::new(Typesetter::new);
    &TYPESETTER
}

fn at(x: f64, y: f64) -> Point {
    Point::new(Length::mm(x), Length::mm(y))
}

/// A triangle that every label places.
pub fn triangle() -> Arc<Group> {
    static TRIANGLE: LazyLock<Arc<Group>> = LazyLock::new(|| {
        let mut drawing = Drawing::new(Size::new(Length::mm(100.0), Length::mm(87.0)));
        let outline = |inset: f64| {
            let path = Path::new().move_to(at(50.0, inset * 2.0));
            path.line_to(at(100.0 - inset * 1.73, 87.0 - inset)).line_to(at(inset * 1.73, 87.0 - inset)).close()
        };
        drawing.fill(outline(0.0), Ink::Black);
        drawing.fill(outline(6.0), Ink::SignalYellow);
        drawing.fill(Path::circle(at(50.0, 58.0), Length::mm(9.0)), Ink::Black);
        Arc::new(Group { name: "test triangle", alternative: "a triangle for tests", drawing })
    });
    Arc::clone(&TRIANGLE)
}

/// The texts of a label, in painting order.
pub fn texts(number: usize) -> [(Face, String, f64, f64, f64); 6] {
    [
        (Face::Bold, "Isolate at all 3 points".into(), 28.0, 15.0, 6.6),
        (Face::Medium, format!("Chamber {number}, evaporator junction box"), 28.0, 23.0, 4.2),
        (Face::Bold, format!("Q{number}"), 8.0, 36.0, 5.0),
        (Face::Medium, "Switchroom 1, board C – left of the door".into(), 20.0, 36.0, 4.4),
        (Face::Medium, "400\u{a0}V between conductors, AV/To (Łódź) \\ ≥ 230\u{a0}V".into(), 8.0, 46.0, 3.6),
        (Face::Regular, format!("CH{number}-JB2/1 · rev B · 14 March 2026"), 8.0, 68.0, 2.9),
    ]
}

/// What the code of a label carries.
pub fn payload(number: usize) -> String {
    format!("https://records.saltmere.example/n/CH{number}-JB2/1?rev=B&key=7f3a9c{number:06}")
}

/// One label of 105 x 74 mm.
pub fn label(number: usize) -> Drawing {
    let mut drawing = Drawing::new(A7);
    let outline = Rect::new(Point::default(), A7).inset(Length::mm(4.4));
    drawing.stroke(Path::rounded(outline, Length::mm(2.6)), Ink::Black, Length::mm(0.9));
    let sign = Rect::new(at(8.0, 8.0), Size::new(Length::mm(17.5), Length::mm(15.225)));
    drawing.items.push(noticewright::drawing::Item::Group { group: triangle(), at: sign });
    for (face, text, x, y, em) in texts(number) {
        let line = typesetter().line(face, &text).unwrap();
        drawing.text(line, at(x, y), Length::mm(em), Ink::Black);
    }
    drawing.items.push(noticewright::drawing::Item::Modules(code(&payload(number), at(77.0, 48.0), Length::um(487))));
    drawing
}

/// A code made by the `qrcode` crate.
pub fn code(payload: &str, origin: Point, module: Length) -> Modules {
    let code = qrcode::QrCode::with_error_correction_level(payload, qrcode::EcLevel::M).unwrap();
    let side = code.width();
    let words = side.div_ceil(64);
    let mut rows = vec![0_u64; words * side];
    for (index, colour) in code.to_colors().into_iter().enumerate() {
        if colour == qrcode::Color::Dark {
            rows[index / side * words + index % side / 64] |= 1 << (index % side % 64);
        }
    }
    Modules { origin, module, side: u16::try_from(side).unwrap(), rows, payload: payload.into() }
}

/// A plan for so many labels of one size on the usual format.
pub fn plan(labels: usize, size: Size, run: Run) -> Plan {
    let labels = vec![Label { size, enclosure: "CH3-JB2" }; labels];
    sheets::plan(&labels, &Formats::default(), run, &Limits::default()).unwrap().0
}

/// What the documents of the tests say about themselves.
pub fn info() -> DocumentInfo {
    DocumentInfo {
        title: "Saltmere cold store (notices) & <record> \\ é".into(),
        author: "J. Doe".into(),
        subject: String::new(),
        language: "en-GB".into(),
        created: Moment::day(2026, 3, 14),
    }
}

/// A page of a plan of A7 labels.
pub fn page(plan: &Plan, number: usize) -> Page {
    plan.page(0, number, typesetter(), |label_number| Some(Arc::new(label(label_number)))).unwrap()
}

/// The document of so many A7 labels.
pub fn document(labels: usize, run: Run) -> (Vec<u8>, Written) {
    let plan = plan(labels, A7, run);
    let pages = plan.documents[0].pages();
    written(&info(), pages, |number| page(&plan, number))
}

/// A document of pages made by a function.
pub fn written(info: &DocumentInfo, pages: usize, page: impl Fn(usize) -> Page + Sync) -> (Vec<u8>, Written) {
    let mut bytes = Vec::new();
    let mut writer = PdfWriter::begin(&mut bytes, &Setup::plain(info.clone(), Palette::Office)).unwrap();
    writer.add_all(pages, |number| Ok(page(number))).unwrap();
    let written = writer.finish().unwrap();
    (bytes, written)
}
