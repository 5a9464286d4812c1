//! Places: labels that are swapped, turned or moved, rows whose parts are exchanged.

use std::sync::Arc;

use noticewright::length::{Length, Point, Size};
use noticewright::notice::NoticeFigure;
use noticewright::sheets::{Correction, Page, Palette, Placed, Run};

use crate::fixture::{Job, assert_said, document, said};

#[test]
fn two_labels_swapped_are_both_found() {
    let job = Job::usual();
    let mut pages = job.pages();
    let (one, other) = (Arc::clone(&pages[0].placed[0].drawing), Arc::clone(&pages[0].placed[1].drawing));
    assert_eq!(one.size, other.size);
    pages[0].placed[0].drawing = other;
    pages[0].placed[1].drawing = one;
    let said = said(&job.read(document(&pages, &Palette::Office)));
    for number in ["CH3-JB1/1", "CH3-JB2/1"] {
        let of_it = |line: &&String| line.starts_with(&format!("page 1, notice `{number}`: "));
        assert!(said.iter().filter(of_it).any(|line| line.contains("code")), "{said:?}");
        assert!(said.iter().filter(of_it).any(|line| line.contains("row 1 ") || line.contains("row 3 ")), "{said:?}");
    }
}

#[test]
fn exchanged_places_numbers_remarks_and_meanings_are_found() {
    let job = Job::usual();
    let points = job.notices[0].points.clone();
    assert!(points.len() == 2 && points[0].remarks != points[1].remarks);
    let places = job.with("CH3-JB1/1", |notice| {
        notice.points[0].place.clone_from(&points[1].place);
        notice.points[1].place.clone_from(&points[0].place);
    });
    let found = said(&job.read(places.document()));
    let row = format!("`Q7` stands in one row with `{}` and not with `{}`", points[1].place, points[0].place);
    assert!(found.iter().any(|line| line.contains(&row)), "{found:?}");

    let order = job.with("CH3-JB1/1", |notice| notice.points.reverse());
    let found = said(&job.read(order.document()));
    assert!(found.iter().any(|line| line.contains("`Q7` stands in one row with `2` and not with `1`")), "{found:?}");

    let remarks = job.with("CH3-JB1/1", |notice| {
        notice.points[0].remarks.clone_from(&points[1].remarks);
        notice.points[1].remarks.clone_from(&points[0].remarks);
    });
    let found = said(&job.read(remarks.document()));
    let row = format!("`Q7` does not stand in one row with `{}`", points[0].remarks[0][0]);
    assert!(found.iter().any(|line| line.contains(&row)), "{found:?}");

    let figures = job.notices[0].figures.clone();
    assert_eq!(figures.len(), 2);
    let meanings = job.with("CH3-JB1/1", |notice| {
        let swapped = [(0, 1), (1, 0)];
        notice.figures = swapped
            .map(|(figure, meaning)| NoticeFigure {
                figure: figures[figure].figure.clone(),
                meaning: figures[meaning].meaning.clone(),
            })
            .into();
    });
    let found = said(&job.read(meanings.document()));
    assert!(found.iter().any(|line| line.contains("`230 V` stands in one row with `between conductors`")), "{found:?}");
}

#[test]
fn a_label_out_of_its_room_is_found() {
    let job = Job::usual();
    let mut pages = job.pages();
    let moved = pages[0].placed[0].corner;
    pages[0].placed[0].corner = Point::new(moved.x - Length::mm(8.0), moved.y);
    let found = said(&job.read(document(&pages, &Palette::Office)));
    assert!(
        found.iter().any(|line| line.contains("page 1, notice `CH3-JB1/1`") && line.ends_with("leaves its label")),
        "{found:?}"
    );
}

#[test]
fn labels_that_lie_turned_read_as_upright_ones() {
    let job = Job::usual();
    let placed = |page: &Page| page.placed.clone();
    let turned: Vec<Page> = job
        .pages()
        .iter()
        .map(|page| {
            let mut y = Length::mm(10.0);
            let placed = placed(page).into_iter().map(|one| {
                let corner = Point::new(Length::mm(20.0), y);
                y = y + one.drawing.size.width + Length::mm(2.0);
                Placed { corner, turned: true, ..one }
            });
            Page {
                size: Size::whole_mm(400, 900),
                placed: placed.collect(),
                ..Page::plain(noticewright::drawing::Drawing::new(Size::whole_mm(400, 900)))
            }
        })
        .collect();
    let read = job.read_pages(document(&turned, &Palette::Office), &turned, noticewright::reading_back::Texts::Letters);
    assert_said(&read, &[]);
    assert!(read.codes >= 3);
}

#[test]
fn the_correction_of_a_printer_is_no_difference_and_a_scale_that_nobody_asked_for_is() {
    let job = Job::usual();
    let offset = Point::new(Length::um(400), Length::um(-300));
    let correction = Correction { offset, scale_x: 1.002, scale_y: 0.997, skew_across: -1.8, skew_down: 1.7 };
    let run = Run { correction, printer: "office".into(), ..Run::default() };
    let corrected = Job::of(job.survey.clone(), job.notices.clone(), run);
    assert_said(&corrected.read(corrected.document()), &[]);
    let mut pages = job.pages();
    pages
        .iter_mut()
        .for_each(|page| page.correction = Correction { scale_x: 0.9, scale_y: 0.9, ..Correction::default() });
    let found = said(&job.read(document(&pages, &Palette::Office)));
    assert!(found.iter().any(|line| line.contains(" mm high, and ")), "{found:?}");
}

#[test]
fn a_circuit_that_bears_the_name_of_its_enclosure_begins_no_row_at_that_name() {
    let job = Job::of_survey(
        "enclosure,circuit,fed_from,source,nominal,conductors,voltage_to_earth,isolator,isolator_location\n\
         SEC-A,SEC-A,TX-A,mains,230/400,L1 L2 L3 N,230,QA + QBC,\"Main board, section A + Main board, coupler\"\n",
    );
    let of_coupler = job.notices.iter().find(|notice| notice.designation == "QBC").unwrap();
    let row = &of_coupler.points[0];
    assert_eq!((row.designation.as_str(), row.place.as_str(), row.remarks.len()), ("SEC-A", "SEC-A", 1));
    assert_eq!(job.read(job.document()).differences, []);
}

#[test]
fn a_device_upstream_with_a_row_of_its_own_need_not_name_another_circuit() {
    let job = Job::of_survey(
        "enclosure,circuit,fed_from,source,nominal,conductors,voltage_to_earth,isolator,isolator_location,live_after,\
         upstream_isolator,upstream_location\n\
         CH-1,MSB/4,MSB,mains,230/400,L1 L2 L3 N,230,QC,Plant room,crankcase heater,Q9,Board H\n\
         CH-1,DBH/9,DBH,mains,230/400,L1 N,230,Q9,Board H,,,\n",
    );
    let of_heater = job.notices.iter().find(|notice| notice.designation == "Q9").unwrap();
    assert_eq!(of_heater.points.iter().map(|point| point.designation.as_str()).collect::<Vec<_>>(), ["DBH/9"]);
    assert_eq!(job.read(job.document()).differences, []);
}
