//! `page`: a page on the same machine on which a survey is looked at, corrected, printed and marked. Every answer comes from
//! the same functions as that of a command; the page in the browser (`face/`) decides nothing.

mod answer;
mod guard;
mod reply;
mod routes;
mod site;
mod splice;
mod state;
mod work;

mod choice;
mod correcting;
mod enclosures;
mod face;
mod findings;
mod headers;
mod looking;
mod making;
mod marking;
mod notices;
mod planning;
mod record;
mod shown;
mod table;

use std::net::{Ipv4Addr, TcpListener};
use std::path::Path;
use std::sync::Arc;

use super::arguments::{General, Page};
use super::failure::Failure;
use super::report::visible;
use super::terminal::Terminal;
use crate::files;
use guard::Guard;
use site::Site;

/// Serves the page of a survey until somebody ends it.
pub(super) fn perform(page: &Page, general: &General, terminal: Terminal) -> Result<(), Failure> {
    if page.survey == Path::new(files::STANDARD) {
        let message = "the page reads the survey again whenever it changes, and standard input can be read only once";
        return Err(Failure::with_hint(message, "name a file"));
    }
    let site = Arc::new(Site::open(&page.survey, general)?);
    let listener = listener(page.port)?;
    let port = listener.local_addr().map_err(|error| unserved(&error))?.port();
    let guard = Guard::new(port)?;
    let address = guard.address();
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build();
    let runtime = runtime.map_err(|error| unserved(&error))?;
    site.read_first();
    terminal.print(&format!("{address}\n"))?;
    terminal.say("the address holds for one browser, on this machine alone; Ctrl+C ends the page\n");
    if !page.no_browser && open::that_detached(&address).is_err() {
        terminal.say("no browser could be opened; open the address in one\n");
    }
    let served = runtime.block_on(serve(listener, routes::all(Arc::clone(&site), guard)));
    // What still works in the background has nobody left who asked for it.
    runtime.shutdown_background();
    served.map_err(|error| unserved(&error))
}

async fn serve(listener: TcpListener, routes: axum::Router) -> std::io::Result<()> {
    listener.set_nonblocking(true)?;
    let listener = tokio::net::TcpListener::from_std(listener)?;
    axum::serve(listener, routes).with_graceful_shutdown(ended()?).await
}

/// Somebody ends the page: by the keyboard, or as services are ended.
#[cfg(unix)]
fn ended() -> std::io::Result<impl Future<Output = ()>> {
    use tokio::signal::unix::{SignalKind, signal};
    let (mut interrupted, mut terminated) = (signal(SignalKind::interrupt())?, signal(SignalKind::terminate())?);
    Ok(async move {
        tokio::select! {
            _ = interrupted.recv() => (),
            _ = terminated.recv() => (),
        }
    })
}

#[cfg(not(unix))]
fn ended() -> std::io::Result<impl Future<Output = ()>> {
    Ok(async {
        // Without a keyboard to listen to, the page ends with its terminal.
        let _ = tokio::signal::ctrl_c().await;
    })
}

/// This machine alone, on the port asked for, or on any that is free.
fn listener(port: Option<u16>) -> Result<TcpListener, Failure> {
    TcpListener::bind((Ipv4Addr::LOCALHOST, port.unwrap_or(0))).map_err(|error| match port {
        Some(port) => {
            let message = format!("port {port} cannot be used: {error}");
            Failure::with_hint(message, "choose another, or leave out `--port` for one that is free")
        }
        None => unserved(&error),
    })
}

fn unserved(error: &std::io::Error) -> Failure {
    Failure::could_not_run(format!("the page cannot be served: {}", visible(&error.to_string())))
}
