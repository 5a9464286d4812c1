//! Where each request leads.

use std::sync::Arc;

use axum::Router;
use axum::body::Bytes;
use axum::extract::rejection::BytesRejection;
use axum::extract::{DefaultBodyLimit, Path, Query, State};
use axum::middleware;
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};
use serde::Deserialize;

use super::answer::{Answer, Refused, json};
use super::choice::Chosen;
use super::guard::{Guard, guarded};
use super::shown::Shown;
use super::site::Site;
use super::{
    correcting, enclosures, face, findings, headers, looking, making, marking, notices, planning, record, reply, table,
};
use crate::files;

type Shared = State<Arc<Site>>;

/// The reading that a browser looks at.
#[derive(Debug, Deserialize)]
struct Reading {
    v: u64,
}

/// The file that was dropped.
#[derive(Debug, Deserialize)]
struct Dropped {
    #[serde(default)]
    name: String,
}

/// Everything that can be asked, each past the guard.
pub(super) fn all(site: Arc<Site>, guard: Guard) -> Router {
    let most = usize::try_from(site.most_bytes).unwrap_or(usize::MAX);
    let pieces = face::PIECES.iter().fold(Router::new(), |routes, (address, kind, bytes)| {
        routes.route(address, get(move || async move { reply::piece(kind, bytes) }))
    });
    pieces
        .merge(looked_at())
        .merge(done())
        .fallback(|| async { Refused::not_found().into_response() })
        .with_state(site)
        .layer(DefaultBodyLimit::max(most))
        .layer(middleware::from_fn_with_state(Arc::new(guard), guarded))
}

/// What is looked at.
fn looked_at() -> Router<Arc<Site>> {
    Router::new()
        .route("/api/site", get(|State(site): Shared| reply::with(site, |site| Ok(json(&looking::answer(site))))))
        .route("/api/findings", get(|site, v| of_reading(site, v, |_, shown| findings::listed(shown))))
        .route("/api/code/{name}", get(|Path(name): Path<String>| reply::of(move || findings::explained(&name))))
        .route("/api/table", get(rows))
        .route(
            "/api/row/{row}",
            get(|site, Path(row), v| of_reading(site, v, move |_, it| table::findings_of(it, row))),
        )
        .route("/api/enclosures", get(|site, v| of_reading(site, v, |_, shown| enclosures::all(shown))))
        .route(
            "/api/enclosure/{index}",
            get(|site, Path(index), v| of_reading(site, v, move |_, it| enclosures::one(it, index))),
        )
        .route("/picture/enclosure/{file}", get(enclosure_picture))
        .route("/picture/notice/{file}", get(notice_picture))
        .route("/api/notices", get(notices_window))
        .route("/api/formats", get(|| reply::of(planning::formats)))
        .route("/api/headers", get(|site, v| of_reading(site, v, headers::answer)))
        .route("/api/record", get(|site, v| of_reading(site, v, |site, it| record::answer(it, site.general.strict))))
        .route("/api/survey-file", get(|site, v| of_reading(site, v, |_, shown| Ok(survey_file(shown)))))
        .route("/api/work/{number}", get(work))
        .route("/result/{number}/{place}/{name}", get(result))
}

/// What is done.
fn done() -> Router<Arc<Site>> {
    Router::new()
        .route("/api/plan", post(plan))
        .route("/api/print", post(print))
        .route("/api/correct", post(|site, body| asked(site, body, correcting::correct)))
        .route("/api/undo", post(|site, body| asked(site, body, |site, looked| correcting::undo(site, &looked))))
        .route("/api/read-again", post(|State(site): Shared| reply::with(site, correcting::read_again)))
        .route("/api/own-survey", post(|State(site): Shared| reply::with(site, correcting::own)))
        .route("/api/survey", post(dropped))
        .route("/api/headers", post(|site, body| asked(site, body, headers::set)))
        .route("/api/mark", post(|site, body| asked(site, body, |site, mark| marking::mark(site, &mark))))
}

/// An answer from the reading that the browser looks at.
async fn of_reading(
    State(site): Shared,
    Query(Reading { v }): Query<Reading>,
    work: impl FnOnce(&Site, &Shown) -> Answer + Send + 'static,
) -> Response {
    reply::with(site, move |site| work(site, &*site.shown(v)?)).await
}

/// An answer to what is asked in JSON.
async fn asked<T: serde::de::DeserializeOwned>(
    State(site): Shared,
    body: Bytes,
    work: impl FnOnce(&Site, T) -> Answer + Send + 'static,
) -> Response {
    reply::with(site, move |site| work(site, reply::asked(&body)?)).await
}

async fn rows(State(site): Shared, Query(window): Query<table::Window>) -> Response {
    reply::with(site, move |site| table::window(&*site.shown(window.v)?, &window)).await
}

async fn notices_window(State(site): Shared, Query(window): Query<notices::Window>) -> Response {
    reply::with(site, move |site| notices::window(&*site.shown(window.v)?, &window)).await
}

/// The number before the ending: `17.svg`.
fn numbered(file: &str) -> Result<usize, Refused> {
    file.strip_suffix(".svg").and_then(|number| number.parse().ok()).ok_or_else(Refused::not_found)
}

async fn enclosure_picture(site: Shared, Path(file): Path<String>, v: Query<Reading>) -> Response {
    of_reading(site, v, move |_, shown| enclosures::picture(shown, numbered(&file)?)).await
}

async fn notice_picture(site: Shared, Path(file): Path<String>, v: Query<Reading>) -> Response {
    of_reading(site, v, move |_, shown| notices::picture(shown, numbered(&file)?)).await
}

async fn plan(State(site): Shared, body: Bytes) -> Response {
    reply::with(site, move |site| {
        let chosen: Chosen = reply::asked(&body)?;
        planning::plan(site, &*site.shown(chosen.v)?, &chosen)
    })
    .await
}

async fn print(State(site): Shared, body: Bytes) -> Response {
    reply::of(move || {
        let chosen: Chosen = reply::asked(&body)?;
        making::begin(&site, site.shown(chosen.v)?, chosen)
    })
    .await
}

async fn dropped(
    State(site): Shared,
    Query(Dropped { name }): Query<Dropped>,
    body: Result<Bytes, BytesRejection>,
) -> Response {
    reply::with(site, move |site| match body {
        Ok(bytes) => correcting::dropped(site, &name, &bytes),
        Err(_) => Err(correcting::too_large(site.most_bytes)),
    })
    .await
}

async fn work(State(site): Shared, Path(number): Path<u64>) -> Response {
    reply::with(site, move |site| Ok(json(&site.works.answer(number)?))).await
}

async fn result(State(site): Shared, Path((number, place, _)): Path<(u64, usize, String)>) -> Response {
    reply::with(site, move |site| {
        let file = site.works.file(number, place)?;
        let bytes = files::read(&file.path, file.bytes).map_err(crate::cli::failure::Failure::from)?;
        Ok(reply::document(&file.name, bytes))
    })
    .await
}

/// The survey as it is now, corrections and all.
fn survey_file(shown: &Shown) -> Response {
    reply::document(&shown.origin.name, shown.bytes.clone())
}
