//! From a request to its answer: what is asked in JSON, work away from the thread that listens, files and pictures.

use std::sync::Arc;

use axum::body::Bytes;
use axum::http::StatusCode;
use axum::http::header::{self, HeaderName, HeaderValue};
use axum::response::{IntoResponse, Response};
use serde::de::DeserializeOwned;

use super::answer::{Answer, Kind, Refused};

/// A picture may show itself and do nothing.
const PICTURE_POLICY: &str = "default-src 'none'; style-src 'unsafe-inline'; frame-ancestors 'none'; sandbox";

/// A document is shown by the browser's own reader, which needs to be let.
const DOCUMENT_POLICY: &str = "frame-ancestors 'none'";

/// Works out an answer on a thread of its own.
pub(super) async fn of(work: impl FnOnce() -> Answer + Send + 'static) -> Response {
    match tokio::task::spawn_blocking(work).await {
        Ok(answer) => answer.into_response(),
        Err(_) => Refused::new(StatusCode::INTERNAL_SERVER_ERROR, Kind::Refused, "the page is ending").into_response(),
    }
}

/// What a request asks.
///
/// # Errors
/// What is no JSON, or not what is asked for here.
pub(super) fn asked<T: DeserializeOwned>(body: &Bytes) -> Result<T, Refused> {
    serde_json::from_slice(body).map_err(Refused::not_understood)
}

/// A drawing.
pub(super) fn picture(text: String) -> Response {
    with_policy(PICTURE_POLICY, [(header::CONTENT_TYPE, "image/svg+xml; charset=utf-8")], text)
}

/// A file that was made; the address ends in its name.
pub(super) fn document(name: &str, bytes: Vec<u8>) -> Response {
    let ending = name.rsplit('.').next().unwrap_or_default().to_ascii_lowercase();
    let kind = match ending.as_str() {
        "pdf" => "application/pdf",
        "csv" => "text/csv; charset=utf-8",
        "xlsx" => "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
        _ => "application/octet-stream",
    };
    with_policy(DOCUMENT_POLICY, [(header::CONTENT_TYPE, kind)], bytes)
}

/// A piece of the page.
pub(super) fn piece(kind: &'static str, bytes: &'static [u8]) -> Response {
    ([(header::CONTENT_TYPE, kind)], bytes).into_response()
}

fn with_policy(policy: &'static str, headers: [(HeaderName, &'static str); 1], body: impl IntoResponse) -> Response {
    let mut response = (headers, body).into_response();
    response.headers_mut().insert(header::CONTENT_SECURITY_POLICY, HeaderValue::from_static(policy));
    response
}

/// The same with what is shared taken along.
pub(super) async fn with<T: Send + Sync + 'static>(
    shared: Arc<T>,
    work: impl FnOnce(&T) -> Answer + Send + 'static,
) -> Response {
    of(move || work(&shared)).await
}
