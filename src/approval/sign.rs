//! The box in which a person says yes, yes with changes, or no.

use crate::pages::texts::mm;
use crate::pages::{Block, Field, Form};

/// The box for what stands before it.
pub(super) fn form(of: &str) -> Block {
    let field = |label: &str, share| Field { label: label.to_owned(), share };
    Block::Form(Form {
        title: format!("Approval of {of}"),
        choices: ["to be printed as drawn", "to be printed with the changes below", "not to be printed"]
            .map(str::to_owned)
            .into(),
        remarks: "Changes, or why not".to_owned(),
        room: mm(12),
        fields: vec![field("name", 4), field("signature", 4), field("date", 2)],
    })
}
