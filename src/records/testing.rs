//! A printing as tests need one: each says what matters to it, and takes the rest from here.

use super::{Lasts, Print, Statement};
use crate::length::Size;
use crate::notice::Subject;

/// The printing of an enclosure's notice of which little is known.
pub(crate) fn print() -> Print {
    Print {
        subject: Subject::Enclosure,
        designation: String::new(),
        area: String::new(),
        position: String::new(),
        issued: String::new(),
        size: Size::whole_mm(105, 74),
        letters: None,
        sign: None,
        format: "a4-a7-4".into(),
        material: String::new(),
        process: String::new(),
        environment: String::new(),
        lasts: Lasts::default(),
        file: String::new(),
        page: 0,
        cell: 0,
        copies: 1,
        run: 1,
        says: Statement::default(),
    }
}
