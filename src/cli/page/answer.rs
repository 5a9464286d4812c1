//! What goes back to the browser: JSON, or why there is none.

use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use serde::Serialize;

use crate::cli::failure::Failure;

/// What a request comes to.
pub(super) type Answer = Result<Response, Refused>;

/// Why a request is refused, for a program.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub(super) enum Kind {
    /// The browser shows an older reading of the survey.
    Stale,
    /// Another program wrote to the survey.
    ChangedOnDisk,
    /// What is shown cannot be corrected here.
    ReadOnly,
    /// It cannot be so.
    Refused,
    /// The survey is being read.
    Busy,
    /// There is no such thing.
    NotFound,
}

/// Why there is no answer, in words.
#[derive(Debug, Serialize)]
pub(super) struct Refused {
    #[serde(skip)]
    status: StatusCode,
    kind: Kind,
    message: String,
    hint: Option<String>,
}

impl Refused {
    pub(super) fn new(status: StatusCode, kind: Kind, message: impl Into<String>) -> Self {
        Self { status, kind, message: message.into(), hint: None }
    }

    /// Nothing of this name.
    pub(super) fn not_found() -> Self {
        Self::new(StatusCode::NOT_FOUND, Kind::NotFound, "there is nothing of this name")
    }

    /// A request that makes no sense.
    pub(super) fn not_understood(why: impl std::fmt::Display) -> Self {
        Self::new(StatusCode::BAD_REQUEST, Kind::Refused, format!("the request is not understood: {why}"))
    }

    /// The browser has to look again first.
    pub(super) fn stale() -> Self {
        Self::new(StatusCode::CONFLICT, Kind::Stale, "the survey was read again meanwhile; look at it first")
    }

    /// What would have to be done cannot be.
    pub(super) fn impossible(kind: Kind, message: impl Into<String>) -> Self {
        Self::new(StatusCode::UNPROCESSABLE_ENTITY, kind, message)
    }

    /// The same with what to do about it.
    pub(super) fn hint(self, hint: impl Into<String>) -> Self {
        self.perhaps(Some(hint.into()))
    }

    /// The same with what to do about it, if anything is known.
    pub(super) fn perhaps(self, hint: Option<String>) -> Self {
        Self { hint, ..self }
    }
}

impl From<Failure> for Refused {
    fn from(failure: Failure) -> Self {
        let (message, hint) = failure.told();
        Self::impossible(Kind::Refused, message).perhaps(hint)
    }
}

impl IntoResponse for Refused {
    fn into_response(self) -> Response {
        let mut response = json(&self);
        *response.status_mut() = self.status;
        response
    }
}

/// An answer in JSON.
pub(super) fn json(answer: &impl Serialize) -> Response {
    // Numbers that JSON does not have are null, and nothing else in an answer can fail.
    let bytes = serde_json::to_vec(answer).unwrap_or_default();
    ([(header::CONTENT_TYPE, "application/json; charset=utf-8")], bytes).into_response()
}
