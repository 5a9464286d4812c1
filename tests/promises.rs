//! README's eighth promise: nothing of this program can reach a network.
#![allow(
    clippy::unwrap_used,
    clippy::disallowed_methods,
    reason = "a test that cannot go on stops, and reads the sources"
)]

use std::fs;
use std::path::{Path, PathBuf};

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

/// Rust's own way to a network is `std::net`, and to other programs `std::process::Command`.
#[test]
fn no_source_opens_a_connection_or_starts_a_program() {
    let mut found = Vec::new();
    sources(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src"), &mut found);
    assert!(found.len() > 100, "only {} sources", found.len());
    for path in found {
        let text = fs::read_to_string(&path).unwrap();
        for way in ["std::net", "TcpStream", "UdpSocket", "UnixStream", "process::Command"] {
            assert!(!text.contains(way), "{} names {way}", path.display());
        }
    }
}

/// Every crate that opens connections for others stands on one of these few (from memory).
#[test]
fn no_dependency_opens_a_connection() {
    let lock = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("Cargo.lock")).unwrap();
    let names: Vec<&str> =
        lock.lines().filter_map(|line| line.strip_prefix("name = \"")).map(|name| name.trim_end_matches('"')).collect();
    assert!(names.contains(&"noticewright") && names.len() > 50, "{} crates", names.len());
    for crate_of_networks in ["socket2", "mio", "hyper", "ureq", "curl-sys", "rustls", "native-tls", "openssl-sys"] {
        assert!(!names.contains(&crate_of_networks), "{crate_of_networks}");
    }
}
