//! Texts: what must stand there, what must not, how large it is, and whether it is seen at all.

use std::sync::Arc;

use lopdf::content::Content;
use lopdf::{Document, Object};
use noticewright::drawing::{Face, Ink, Path};
use noticewright::length::{Length, Point, Rect, Size};
use noticewright::sheets::{Page, Palette};
use noticewright::typesetting::Typesetter;

use crate::fixture::{Job, assert_said, changed, document, said};

#[test]
fn a_right_document_reads_clean() {
    let job = Job::usual();
    let read = job.read(job.document());
    assert_said(&read, &[]);
    assert_eq!(read.notices, job.notices.len());
    assert_eq!(read.codes, job.notices.iter().filter(|notice| notice.code.is_some()).count());
    assert!(read.codes >= 3 && read.lines > read.notices * 5, "{read:?}");
    // Media, crop, bleed and trim box.
    assert_eq!(read.boxes, 4 * read.pages);
}

#[test]
fn a_document_of_other_words_is_found_out() {
    let job = Job::usual();
    let other = job.with("CH3-JB1/1", |notice| notice.headline = vec!["Isolate at all 2 points".into()].into());
    let read = job.read(other.document());
    assert_said(
        &read,
        &[&format!(
            "page 1, notice `CH3-JB1/1`: `Isolate at all 2 points` stands where `{}` should",
            job.notices[0].headline[0]
        )],
    );
}

/// Changes the operators of a page.
fn edited(bytes: &[u8], page: u32, edit: impl FnOnce(&mut Content)) -> Vec<u8> {
    let mut document = Document::load_mem(bytes).unwrap();
    let page = document.get_pages()[&page];
    let mut content = Content::decode(&document.get_page_content(page)).unwrap();
    edit(&mut content);
    document.change_page_content(page, content.encode().unwrap()).unwrap();
    saved(document)
}

fn saved(mut document: Document) -> Vec<u8> {
    let mut bytes = Vec::new();
    document.save_to(&mut bytes).unwrap();
    bytes
}

/// The strings of a text operator.
fn strings(operands: &mut [Object]) -> impl Iterator<Item = &mut Vec<u8>> {
    let parts = operands.iter_mut().filter_map(|operand| operand.as_array_mut().ok()).flatten();
    parts.filter_map(|part| part.as_str_mut().ok())
}

#[test]
fn one_letter_changed_in_the_operators_is_found() {
    let job = Job::usual();
    let bytes = edited(&job.document(), 1, |content| {
        // The first letter of a text becomes its last one.
        for shown in content.operations.iter_mut().filter(|operation| operation.operator == "TJ") {
            let mut strings: Vec<_> = strings(&mut shown.operands).filter(|text| text.len() >= 2).collect();
            let last = strings.last().unwrap();
            let letter = last[last.len() - 2..].to_vec();
            if strings[0][..2] != letter[..] {
                strings[0][..2].copy_from_slice(&letter);
                return;
            }
        }
        panic!("no text with two letters");
    });
    let said = said(&job.read(bytes));
    assert_eq!(said.len(), 1, "{said:?}");
    assert!(said[0].starts_with("page 1") && said[0].contains("should"), "{said:?}");
}

#[test]
fn a_letter_that_tells_another_one_is_found_by_its_shape_and_by_its_text() {
    let job = Job::usual();
    let mut document = Document::load_mem(&job.document()).unwrap();
    // 1 and 2 change places behind the glyphs, which stay as they are.
    let mut swapped = 0;
    for object in document.objects.values_mut() {
        let Ok(stream) = object.as_stream_mut() else { continue };
        let Ok(plain) = stream.decompressed_content() else { continue };
        let text = String::from_utf8_lossy(&plain).into_owned();
        if !text.contains("begincmap") {
            continue;
        }
        let replaced = text.replace("<0031>", "<+>").replace("<0032>", "<0031>").replace("<+>", "<0032>");
        swapped += usize::from(replaced != text);
        stream.set_plain_content(replaced.into_bytes());
    }
    assert!(swapped > 0);
    let said = said(&job.read(saved(document)));
    assert!(said.iter().any(|line| line.contains("tells `2` where `1` is drawn")), "{said:?}");
    assert!(said.iter().any(|line| line.contains("notice `CH3-JB1/1`") && line.contains("Q21")), "{said:?}");
}

#[test]
fn letters_below_the_claim_are_measured_on_paper() {
    let job = Job::usual();
    // 1.5 mm capitals: the em is 1.5 / 0.698.
    let bytes = edited(&job.document(), 1, |content| {
        let size = content.operations.iter_mut().filter(|operation| operation.operator == "Tf");
        size.for_each(|operation| operation.operands[1] = Object::Real(215.0));
    });
    let said = said(&job.read(bytes));
    let small = said.iter().filter(|line| line.contains("are 1.50 mm high, and "));
    assert!(small.count() > job.notices.len(), "{said:?}");
}

#[test]
fn text_that_is_not_seen_is_missing() {
    let job = Job::usual();
    let headline = job.notices[0].headline[0].clone();
    let missing = format!("page 1, notice `CH3-JB1/1`: `{headline}` is missing");
    let mut pages = job.pages();
    pages[0].placed[0].drawing = changed(&pages[0].placed[0].drawing, |drawing| {
        let band =
            Rect::new(Point::new(Length::mm(3.0), Length::mm(3.0)), Size::new(drawing.size.width, Length::mm(11.0)));
        drawing.fill(Path::rectangle(band), Ink::White);
    });
    let painted_over = said(&job.read(document(&pages, &Palette::Office)));
    assert!(painted_over.contains(&missing), "{painted_over:?}");
    let invisible = edited(&job.document(), 1, |content| {
        content.operations.insert(0, lopdf::content::Operation::new("Tr", vec![3.into()]));
    });
    assert!(said(&job.read(invisible)).contains(&missing));
}

fn with_text(page: &mut Page, text: &str, x: f64, y: f64) {
    let line = Typesetter::new().line(Face::Medium, text).unwrap();
    page.placed[0].drawing = changed(&page.placed[0].drawing, |drawing| {
        drawing.text(line, Point::new(Length::mm(x), Length::mm(y)), Length::mm(6.0), Ink::Black);
    });
}

#[test]
fn a_word_too_many_is_found_on_a_label_and_beside_it() {
    let job = Job::usual();
    let mut pages = job.pages();
    with_text(&mut pages[0], "usually", 20.0, 30.0);
    let bytes = document(&pages, &Palette::Office);
    assert_said(&job.read(bytes), &["page 1, notice `CH3-JB1/1`: `usually` stands there, and nothing asks for it"]);

    let mut pages = job.pages();
    let line = Typesetter::new().line(Face::Regular, "not").unwrap();
    pages[0].furniture.text(line, Point::new(Length::mm(3.0), Length::mm(150.0)), Length::mm(4.0), Ink::Black);
    let bytes = document(&pages, &Palette::Office);
    assert_said(&job.read(bytes), &["page 1: `not` stands there, and nothing asks for it"]);
}

#[test]
fn the_colours_of_a_process_do_not_matter() {
    let job = Job::usual();
    for palette in [Palette::BlackOnly, Palette::BlackAndYellow, Palette::Press(Arc::from("Cut"))] {
        assert_said(&job.read(document(&job.pages(), &palette)), &[]);
    }
}
