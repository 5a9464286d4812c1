//! A plain web server over a folder: it decodes the path, shows `index.html` for a folder, and sends whoever asks for a folder
//! without a slash to the one with it, as any such server does.

use std::fs;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::{TcpListener, TcpStream};
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, Sender, channel};
use std::sync::{Arc, Mutex};
use std::time::Duration;

/// An answer.
pub(crate) struct Answer {
    pub(crate) status: u16,
    pub(crate) location: String,
    pub(crate) body: String,
}

/// A server that runs until the tests end.
pub(crate) struct Server {
    port: u16,
    results: Receiver<String>,
    asked: Arc<Mutex<Vec<(String, u16)>>>,
}

impl Server {
    /// Serves a folder, and beside it a page `/harness` that may hand a result back.
    pub(crate) fn of(folder: &Path, harness: &'static str) -> Self {
        let listener = TcpListener::bind("127.0.0.1:0").unwrap();
        let port = listener.local_addr().unwrap().port();
        let (sender, results) = channel();
        let asked = Arc::new(Mutex::new(Vec::new()));
        let (folder, log) = (folder.to_owned(), Arc::clone(&asked));
        std::thread::spawn(move || {
            for stream in listener.incoming().flatten() {
                let (folder, log, sender) = (folder.clone(), Arc::clone(&log), sender.clone());
                std::thread::spawn(move || answer(stream, &folder, harness, &log, &sender));
            }
        });
        Self { port, results, asked }
    }

    /// The whole address of a path.
    pub(crate) fn address(&self, path: &str) -> String {
        format!("http://127.0.0.1:{}{path}", self.port)
    }

    /// Asks for a path, percent-encoded, without following where it sends.
    pub(crate) fn get(&self, path: &str) -> Answer {
        let mut stream = TcpStream::connect(("127.0.0.1", self.port)).unwrap();
        write!(stream, "GET {path} HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n").unwrap();
        let mut text = String::new();
        stream.read_to_string(&mut text).unwrap();
        let (head, body) = text.split_once("\r\n\r\n").unwrap();
        let status = head.split(' ').nth(1).unwrap().parse().unwrap();
        let location = head.lines().find_map(|line| line.strip_prefix("Location: ")).unwrap_or_default().to_owned();
        Answer { status, location, body: body.to_owned() }
    }

    /// The same, following where it sends, as whoever reads a code does.
    pub(crate) fn follow(&self, path: &str) -> Answer {
        let answer = self.get(path);
        if answer.status == 301 { self.get(&answer.location) } else { answer }
    }

    /// What the harness handed back.
    pub(crate) fn result(&self) -> Option<String> {
        self.results.recv_timeout(Duration::from_secs(240)).ok()
    }

    /// What was asked for and not there.
    pub(crate) fn missed(&self) -> Vec<(String, u16)> {
        self.asked.lock().unwrap().iter().filter(|(_, status)| *status >= 400).cloned().collect()
    }
}

fn answer(stream: TcpStream, folder: &Path, harness: &str, log: &Mutex<Vec<(String, u16)>>, sender: &Sender<String>) {
    let mut reader = BufReader::new(stream);
    let mut first = String::new();
    if reader.read_line(&mut first).unwrap_or(0) == 0 {
        return;
    }
    let mut length = 0;
    let mut line = String::new();
    while reader.read_line(&mut line).is_ok_and(|read| read > 2) {
        let (name, value) = line.split_once(':').unwrap_or_default();
        if name.eq_ignore_ascii_case("content-length") {
            length = value.trim().parse().unwrap_or(0);
        }
        line.clear();
    }
    let path = first.split(' ').nth(1).unwrap_or("/").split('?').next().unwrap_or("/").to_owned();
    let (status, further, body) = match path.as_str() {
        "/harness" => (200, String::new(), harness.as_bytes().to_vec()),
        "/result" => {
            let mut body = vec![0; length];
            reader.read_exact(&mut body).unwrap();
            let _ = sender.send(String::from_utf8(body).unwrap());
            (200, String::new(), Vec::new())
        }
        path => found(folder, path),
    };
    log.lock().unwrap().push((path, status));
    let head = format!(
        "HTTP/1.1 {status} x\r\n{further}Content-Type: text/html\r\nContent-Length: {}\r\nConnection: close\r\n\r\n",
        body.len()
    );
    let mut stream = reader.into_inner();
    let _ = stream.write_all(head.as_bytes()).and_then(|()| stream.write_all(&body));
}

fn found(folder: &Path, path: &str) -> (u16, String, Vec<u8>) {
    let decoded = decoded(path);
    let parts: Vec<&str> = decoded.split('/').filter(|part| !part.is_empty()).collect();
    if parts.contains(&"..") {
        return (403, String::new(), Vec::new());
    }
    let file: PathBuf = parts.iter().fold(folder.to_owned(), |file, part| file.join(part));
    if file.is_dir() && !path.ends_with('/') {
        return (301, format!("Location: {path}/\r\n"), Vec::new());
    }
    let file = if file.is_dir() { file.join("index.html") } else { file };
    fs::read(file).map_or((404, String::new(), Vec::new()), |bytes| (200, String::new(), bytes))
}

/// A path with its percent signs taken apart (RFC 3986, 2.1).
fn decoded(path: &str) -> String {
    let bytes = path.as_bytes();
    let (mut decoded, mut at) = (Vec::new(), 0);
    while at < bytes.len() {
        let digits = path.get(at + 1..at + 3).filter(|_| bytes[at] == b'%');
        match digits.and_then(|digits| u8::from_str_radix(digits, 16).ok()) {
            Some(byte) => {
                decoded.push(byte);
                at += 3;
            }
            None => {
                decoded.push(bytes[at]);
                at += 1;
            }
        }
    }
    String::from_utf8_lossy(&decoded).into_owned()
}
