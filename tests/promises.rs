//! README's eighth promise: nothing of this program opens a connection, and only its page listens, to this machine alone.
#![allow(
    clippy::unwrap_used,
    clippy::disallowed_methods,
    reason = "a test that cannot go on stops, and reads the sources"
)]

use std::fs;
use std::path::{Path, PathBuf};

/// The one file that listens.
const LISTENS: &str = "src/cli/page/mod.rs";

fn sources(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            sources(&path, found);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            found.push(path);
        }
    }
}

/// Rust's own way to a network is `std::net`, that of the page's library `tokio::net`, and to other programs
/// `std::process::Command` and the crate `open`.
#[test]
fn no_source_opens_a_connection_or_starts_a_program() {
    let mut found = Vec::new();
    sources(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src"), &mut found);
    assert!(found.len() > 100, "only {} sources", found.len());
    for path in found {
        let text = fs::read_to_string(&path).unwrap();
        let listens = path.ends_with(LISTENS);
        for way in ["TcpStream", "UdpSocket", "UnixStream", "TcpSocket", "process::Command", ".connect("] {
            assert!(!text.contains(way), "{} names {way}", path.display());
        }
        for way in ["std::net", "tokio::net", "TcpListener", "open::"] {
            // `files` opens its own journal, which is no program.
            let is_own = way == "open::" && !text.contains(" open::that") && !text.contains("use open");
            assert!(listens || is_own || !text.contains(way), "{} names {way}", path.display());
        }
    }
}

#[test]
fn the_page_listens_to_this_machine_alone_and_starts_the_browser_alone() {
    let text = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(LISTENS)).unwrap();
    let every = |what: &str| text.matches(what).count();
    assert_eq!((every("TcpListener::bind("), every("TcpListener::bind((Ipv4Addr::LOCALHOST,")), (1, 1));
    assert_eq!((every("open::"), every("open::that_detached(&address)")), (1, 1));
}

/// Crates that open connections for others, or hide what goes through them (from memory).
#[test]
fn no_dependency_is_there_to_open_connections() {
    let lock = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("Cargo.lock")).unwrap();
    let names: Vec<&str> =
        lock.lines().filter_map(|line| line.strip_prefix("name = \"")).map(|name| name.trim_end_matches('"')).collect();
    assert!(names.contains(&"noticewright") && names.len() > 50, "{} crates", names.len());
    for of_clients in
        ["reqwest", "ureq", "isahc", "surf", "curl-sys", "rustls", "native-tls", "openssl-sys", "hickory-resolver"]
    {
        assert!(!names.contains(&of_clients), "{of_clients}");
    }
}
