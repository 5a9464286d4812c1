//! Lines of plain letters into operators. What a notice warns of it says in the same words as the notice before: a line that
//! comes again is shown as it was shown then.

use std::cell::RefCell;
use std::sync::Arc;

use super::content::{Content, push_first};
use super::fonts::{self, FaceTable, Known};
use super::text::push_move;
use crate::drawing::{GlyphLine, LinesMet};

thread_local! {
    /// What shows a line that came again, which most do not: nothing before, and never for one that is not plain.
    static SEEN: RefCell<LinesMet<Vec<u8>>> = RefCell::new(LinesMet::new());
}

/// A line in which each glyph stands on the line for one character and shows just that, as in nearly all: noted and
/// pushed in one go. False if this is not such a line, and what was pushed of it must be taken back.
pub(super) fn push(content: &mut Content<'_>, line: &Arc<GlyphLine>, table: &FaceTable) -> bool {
    SEEN.with_borrow_mut(|seen| {
        let (is_known, operators) = seen.meet(line);
        if !is_known {
            return put_together(content, line, table);
        }
        if !operators.is_empty() {
            let mut shown = content.glyphs.of_face(line.face, table);
            line.glyphs.iter().for_each(|glyph| shown.note(glyph.id));
            content.bytes.extend_from_slice(operators);
            return true;
        }
        let start = content.bytes.len();
        let is_plain = put_together(content, line, table);
        if is_plain {
            operators.extend_from_slice(content.bytes.get(start..).unwrap_or_default());
        }
        is_plain
    })
}

/// The operators of a line, put together glyph by glyph.
fn put_together(content: &mut Content<'_>, line: &GlyphLine, table: &FaceTable) -> bool {
    let mut shown = content.glyphs.of_face(line.face, table);
    let mut characters = line.text.char_indices();
    let bytes = &mut content.bytes;
    bytes.reserve(line.glyphs.len() * 6);
    bytes.extend_from_slice(b"[(");
    let mut owed = 0;
    for glyph in &line.glyphs {
        let Some((at, character)) = characters.next() else { return false };
        let Some(Known { spelt, character: Some(known) }) = table.known(glyph.id) else { return false };
        let level = glyph.shift == 0 && glyph.rise == 0;
        if !level || at != usize::from(glyph.cluster) || *known != fonts::searched(character) {
            return false;
        }
        shown.note(glyph.id);
        if owed != 0 {
            push_move(bytes, owed);
        }
        push_first(bytes, spelt.bytes, usize::from(spelt.count));
        owed = i64::from(glyph.advance) - i64::from(spelt.width);
    }
    bytes.extend_from_slice(b")]TJ\n");
    characters.next().is_none()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::Face;
    use crate::sheets::Palette;
    use crate::typesetting::Typesetter;

    /// What shows a line, and the glyphs that it shows.
    fn shown(line: &Arc<GlyphLine>) -> (bool, Vec<u8>, Vec<u16>) {
        let mut content = Content::new(&Palette::Office);
        let is_plain = push(&mut content, line, fonts::table(line.face));
        (is_plain, content.bytes, content.glyphs.of(line.face))
    }

    #[test]
    fn a_line_that_comes_again_is_shown_as_the_first_time() {
        let line = Typesetter::new().line(Face::Bold, "Isolate all 3 supplies").unwrap();
        let first = shown(&line);
        assert!(first.0 && first.1.starts_with(b"[(") && !first.2.is_empty());
        for _ in 0..3 {
            assert_eq!(shown(&line), first);
        }
        assert_eq!(SEEN.with_borrow_mut(|seen| seen.meet(&line).1.clone()), first.1);
    }

    #[test]
    fn a_line_in_the_slot_of_another_is_shown_for_itself() {
        let typesetter = Typesetter::new();
        let lines: Vec<_> =
            (0..600).map(|number| typesetter.line(Face::Medium, &format!("Q{number}")).unwrap()).collect();
        let first: Vec<_> = lines.iter().map(shown).collect();
        assert!(first.windows(2).all(|pair| pair[0].1 != pair[1].1));
        for _ in 0..2 {
            assert_eq!(
                lines.iter().flat_map(|line| [shown(line), shown(line), shown(line)]).collect::<Vec<_>>(),
                first.iter().flat_map(|first| std::iter::repeat_n(first.clone(), 3)).collect::<Vec<_>>()
            );
        }
    }

    #[test]
    fn a_line_that_is_not_plain_never_is() {
        // The two marks stand over one letter.
        let line = Typesetter::new().line(Face::Regular, "x\u{302}\u{308}").unwrap();
        for _ in 0..3 {
            assert!(!shown(&line).0);
        }
    }
}
