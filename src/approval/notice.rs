//! One notice: its picture, and beside it what it is, where it goes and which rules ask for it.

use super::Document;
use crate::notice::{Notice, Subject};
use crate::pages::texts::{body, definitions, metres, mm, named_size, ruled, sentence, strong, tenths};
use crate::pages::{Block, Cell, Column, Picture, Style, Table, Text};
use crate::rules::Explained;
use crate::typesetting::{Setting, Typesetter};

/// The picture of a notice beside its facts and further blocks.
pub(super) fn beside(document: &Document<'_>, notice: &Notice, set: &Setting, further: Vec<Block>) -> Block {
    let picture =
        Picture { drawing: Typesetter::new().draw(notice, set), caption: "For reading, not for use".to_owned() };
    let mut blocks =
        vec![Block::text(Style::Strong, format!("Notice {}", notice.number)), facts(document, notice, set)];
    blocks.extend(further);
    Block::Beside(picture, blocks)
}

fn facts(document: &Document<'_>, notice: &Notice, set: &Setting) -> Block {
    let size = set.size;
    let format = document.prepared.formats.for_size(size);
    let sign = set.sign_height.map_or_else(
        || "none".to_owned(),
        |height| format!("{} mm high, seen from {}", tenths(height), metres(notice.sign_distance)),
    );
    definitions(
        mm(17),
        [
            ("Position", position(notice)),
            ("Size", named_size(size)),
            (
                "Letters",
                format!("{} mm or higher, read from {}", tenths(set.letter_height), metres(notice.reading_distance)),
            ),
            ("Sign", sign),
            ("Sheet", format.as_ref().map(|format| format.name.clone()).unwrap_or_default()),
            ("Material", format.map(|format| format!("{}, {}", format.material, format.process)).unwrap_or_default()),
            ("Code", code(notice, set)),
            // Where the revision stays, nothing else tells what was signed from what was changed after.
            ("Fingerprint", notice.fingerprint().to_owned()),
        ],
    )
}

/// What its code carries, where it was set with one.
pub(super) fn code(notice: &Notice, set: &Setting) -> String {
    let carried = notice.code.as_ref().filter(|_| set.code_module.is_some());
    match carried {
        None => "none".to_owned(),
        Some(_) if notice.carries_text() => "the words of the notice".to_owned(),
        Some(carried) => carried.clone(),
    }
}

/// Where it is fixed; an isolator's notice is fixed at the isolator.
fn position(notice: &Notice) -> String {
    match notice.subject {
        Subject::Enclosure if notice.position.is_empty() => "not said by the survey".to_owned(),
        Subject::Standing if notice.position.is_empty() => "not said by the list".to_owned(),
        Subject::Enclosure | Subject::Standing => notice.position.clone(),
        Subject::Device => "at the isolator".to_owned(),
    }
}

/// The rules that ask for a notice, or of which it is not known, one below the other.
pub(super) fn reasons(reasons: &[Explained]) -> Vec<Block> {
    reasons.iter().filter(|one| one.reason.outcome.prints()).map(one).collect()
}

/// Rule, outcome, clause and reason close together.
fn one(Explained { reason, because }: &Explained) -> Block {
    let rule = format!("{}: {}", sentence(&reason.rule.in_words()), reason.outcome.name());
    let cell = vec![
        Text::new(Style::Strong, rule).into(),
        Text::new(Style::Body, sentence(because)).into(),
        Text::new(Style::Small, reason.clause_in_words()).into(),
    ];
    Block::Table(Table { columns: vec![Column::Share(1)], rows: vec![vec![cell]], ..Table::default() })
}

/// The rules that ask for nothing, as a table.
pub(super) fn silent_reasons(reasons: &[Explained]) -> Option<Block> {
    let silent = reasons.iter().filter(|one| !one.reason.outcome.prints());
    let row = |Explained { reason, because }: &Explained| -> Vec<Cell> {
        vec![
            strong(sentence(&reason.rule.in_words())),
            body(reason.outcome.name().replace('-', " ")),
            body(sentence(because)),
            vec![Text::new(Style::Small, reason.clause_in_words()).into()],
        ]
    };
    let rows: Vec<_> = silent.map(row).collect();
    let columns = vec![Column::Fixed(mm(38)), Column::Fixed(mm(20)), Column::Share(5), Column::Fixed(mm(102))];
    (!rows.is_empty())
        .then(|| ruled(&["rule", "outcome", "because", "clause, and how surely it is known"], columns, rows))
}
