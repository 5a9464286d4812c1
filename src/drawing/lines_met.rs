//! What is known of the lines that were met last. What one notice warns of, the next one says in the same words.

use std::sync::Arc;

use super::GlyphLine;

/// Lines that are kept, each in the slot of its place in memory.
const KEPT: usize = 256;

/// What is known of each of the lines met last.
#[derive(Debug)]
pub struct LinesMet<T> {
    /// Each line is held, so that no other can come to its place in memory.
    slots: Vec<Option<(Arc<GlyphLine>, T)>>,
}

impl<T: Default> LinesMet<T> {
    /// None met.
    #[must_use]
    pub fn new() -> Self {
        Self { slots: std::iter::repeat_with(|| None).take(KEPT).collect() }
    }

    /// Whether a line is one of those met last, and what is known of it: nothing where it is not, and from now on it is.
    pub fn meet(&mut self, line: &Arc<GlyphLine>) -> (bool, &mut T) {
        let slot = Arc::as_ptr(line).addr() / size_of::<GlyphLine>() % KEPT;
        let Some(slot) = self.slots.get_mut(slot) else { unreachable!("there are as many slots as are kept") };
        let is_known = slot.as_ref().is_some_and(|(known, _)| Arc::ptr_eq(known, line));
        if !is_known {
            *slot = None;
        }
        (is_known, &mut slot.get_or_insert_with(|| (Arc::clone(line), T::default())).1)
    }
}

impl<T: Default> Default for LinesMet<T> {
    fn default() -> Self {
        Self::new()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::Face;

    fn line(text: &str) -> Arc<GlyphLine> {
        Arc::new(GlyphLine { face: Face::Bold, text: text.into(), glyphs: Vec::new(), width: 0 })
    }

    #[test]
    fn a_line_is_known_by_itself_and_not_by_its_words() {
        let (mut met, one, alike) = (LinesMet::<u8>::new(), line("Isolate"), line("Isolate"));
        *met.meet(&one).1 = 7;
        assert_eq!(met.meet(&one), (true, &mut 7));
        assert_eq!(met.meet(&alike), (false, &mut 0));
    }

    #[test]
    fn of_lines_in_one_slot_the_last_is_known() {
        let lines: Vec<_> = (0..4 * KEPT).map(|number| line(&number.to_string())).collect();
        let mut met = LinesMet::<usize>::new();
        for (number, line) in lines.iter().enumerate() {
            let (is_known, known) = met.meet(line);
            assert!(!is_known && *known == 0);
            *known = number;
            assert_eq!(met.meet(line), (true, &mut { number }));
        }
        // From the last on, since a line that is met takes the slot of another.
        let is_kept = |(number, line): &(usize, &Arc<GlyphLine>)| met.meet(line) == (true, &mut { *number });
        let known = lines.iter().enumerate().rev().filter(is_kept).count();
        assert!((1..=KEPT).contains(&known), "{known}");
    }
}
