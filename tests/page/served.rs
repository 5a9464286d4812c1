//! The program serving its page, and somebody who asks it as a browser would.

use std::io::{BufRead as _, BufReader, Read as _, Write as _};
use std::net::TcpStream;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Output, Stdio};
use std::time::Duration;

use serde_json::{Value, json};

/// A survey of two enclosures; the second has an isolator without a place, which is an error.
pub(crate) const SURVEY: &str = "\
enclosure,area,circuit,voltage_to_earth,isolator,isolator_location,space\r
CH1,Chamber 1,C1,230,Q1,Room 1,\r
CH1,,C2,230,Q2,Room 1,\r
CH2,Chamber 2,C3,230,Q3,,\r
CH2,,C4,230,\"Q4\",\"Room 2, left\",\r
";

/// A page that is served until this is dropped.
pub(crate) struct Page {
    child: Child,
    folder: tempfile::TempDir,
    host: String,
    /// Where the address leads that holds once.
    pub(crate) entrance: String,
    cookie: String,
}

/// What came back.
pub(crate) struct Reply {
    pub(crate) status: u16,
    pub(crate) headers: Vec<(String, String)>,
    pub(crate) body: Vec<u8>,
}

impl Drop for Page {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// A folder with one survey.
pub(crate) fn folder(survey: &str) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("survey.csv"), survey).unwrap();
    folder
}

/// A folder with the demo site.
pub(crate) fn demo() -> tempfile::TempDir {
    let (folder, from) = (tempfile::tempdir().unwrap(), Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data"));
    for name in ["survey.csv", "supplies.csv", "standing.csv", "records.csv", "job.toml", "mark.png"] {
        std::fs::copy(from.join(name), folder.path().join(name)).unwrap();
    }
    folder
}

/// The program in a folder, on the day that the tests have.
pub(crate) fn command(folder: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_noticewright"));
    command.current_dir(folder).env("SOURCE_DATE_EPOCH", "1796000000").stdin(Stdio::null());
    command
}

impl Page {
    /// Serves `survey.csv` of a folder, and waits for its address; nobody has come by it yet.
    pub(crate) fn closed(folder: tempfile::TempDir, more: &[&str]) -> Self {
        std::fs::create_dir_all(folder.path().join("tmp")).unwrap();
        let mut command = command(folder.path());
        command.args(["page", "survey.csv", "--no-browser"]).args(more).env("TMPDIR", folder.path().join("tmp"));
        let mut child = command.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
        let mut address = String::new();
        BufReader::new(child.stdout.take().unwrap()).read_line(&mut address).unwrap();
        let Some(rest) = address.trim().strip_prefix("http://") else {
            let mut said = String::new();
            child.stderr.take().unwrap().read_to_string(&mut said).unwrap();
            panic!("no address: {address:?}\n{said}");
        };
        let (host, entrance) = rest.split_once('/').unwrap();
        Self { child, folder, host: host.to_owned(), entrance: format!("/{entrance}"), cookie: String::new() }
    }

    /// The same, and comes by the address.
    pub(crate) fn open(folder: tempfile::TempDir, more: &[&str]) -> Self {
        Self::closed(folder, more).entered()
    }

    /// A page that somebody else started, of which the address is known; comes by it.
    pub(crate) fn of(child: Child, folder: tempfile::TempDir, address: &str) -> Self {
        let (host, entrance) = address.strip_prefix("http://").unwrap().split_once('/').unwrap();
        let (host, entrance) = (host.to_owned(), format!("/{entrance}"));
        Self { child, folder, host, entrance, cookie: String::new() }.entered()
    }

    fn entered(self) -> Self {
        let mut page = self;
        let reply = page.ask("GET", &page.entrance, &[], b"");
        assert_eq!(reply.status, 200, "{}", reply.text());
        let cookie = reply.header("set-cookie").unwrap();
        page.cookie = cookie.split(';').next().unwrap().to_owned();
        page
    }

    /// The address that holds once.
    pub(crate) fn address(&self) -> String {
        format!("http://{}{}", self.host, self.entrance)
    }

    /// `127.0.0.1:49152`
    pub(crate) fn host(&self) -> &str {
        &self.host
    }

    /// A file of the folder.
    pub(crate) fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    /// What a file of the folder holds.
    pub(crate) fn file(&self, name: &str) -> Vec<u8> {
        std::fs::read(self.path(name)).unwrap()
    }

    /// Runs a command of the program beside the page.
    pub(crate) fn run(&self, arguments: &[&str]) -> Output {
        command(self.folder.path()).args(arguments).output().unwrap()
    }

    /// Ends the page by a signal, and returns how it ended.
    #[cfg(unix)]
    pub(crate) fn ended_by(mut self, signal: &str) -> (Option<i32>, tempfile::TempDir) {
        // A page that was started in a group of its own is ended with whoever watches it.
        let group = format!("-{}", self.child.id());
        let in_group =
            Command::new("kill").args(["-0", "--", &group]).stderr(Stdio::null()).status().unwrap().success();
        let whom = if in_group { group } else { self.child.id().to_string() };
        let killed = Command::new("kill").args([signal, "--", &whom]).status().unwrap();
        assert!(killed.success());
        let status = self.child.wait().unwrap();
        (status.code(), std::mem::replace(&mut self.folder, tempfile::tempdir().unwrap()))
    }

    /// Asks with these headers alone, beside `Host`.
    pub(crate) fn ask(&self, method: &str, path: &str, headers: &[(&str, &str)], body: &[u8]) -> Reply {
        self.ask_as(&self.host, method, path, headers, body)
    }

    /// Asks by a name of the host.
    pub(crate) fn ask_as(&self, host: &str, method: &str, path: &str, headers: &[(&str, &str)], body: &[u8]) -> Reply {
        let mut stream = TcpStream::connect(&self.host).unwrap();
        stream.set_read_timeout(Some(Duration::from_secs(120))).unwrap();
        let headers: String = headers.iter().map(|(name, value)| format!("{name}: {value}\r\n")).collect();
        let length = body.len();
        let head = format!(
            "{method} {path} HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\nContent-Length: {length}\r\n{headers}\r\n"
        );
        stream.write_all(head.as_bytes()).unwrap();
        stream.write_all(body).unwrap();
        let mut bytes = Vec::new();
        stream.read_to_end(&mut bytes).unwrap();
        Reply::of(&bytes)
    }

    /// Asks as the page in the browser does.
    pub(crate) fn get(&self, path: &str) -> Reply {
        self.ask("GET", path, &[("Cookie", &self.cookie), ("Sec-Fetch-Site", "same-origin")], b"")
    }

    /// Sends as the page in the browser does.
    pub(crate) fn send(&self, path: &str, body: &[u8]) -> Reply {
        let origin = format!("http://{}", self.host);
        self.ask("POST", path, &[("Cookie", &self.cookie), ("Origin", &origin)], body)
    }

    /// A JSON answer.
    pub(crate) fn json(&self, path: &str) -> Value {
        let reply = self.get(path);
        assert_eq!(reply.status, 200, "{path}: {}", reply.text());
        reply.json()
    }

    /// The JSON answer to something that is sent, whatever it is.
    pub(crate) fn post(&self, path: &str, body: &Value) -> (u16, Value) {
        let reply = self.send(path, body.to_string().as_bytes());
        (reply.status, reply.json())
    }

    /// The site once it is read.
    pub(crate) fn site(&self) -> Value {
        for _ in 0..600 {
            let site = self.json("/api/site");
            if site["state"] != "reading" {
                return site;
            }
            std::thread::sleep(Duration::from_millis(50));
        }
        panic!("the survey is never read");
    }

    /// Which reading is the last.
    pub(crate) fn version(&self) -> Value {
        self.site()["v"].clone()
    }

    /// Makes something and waits for it.
    pub(crate) fn made(&self, mut chosen: Value) -> Value {
        chosen["v"] = self.version();
        let (status, begun) = self.post("/api/print", &chosen);
        assert_eq!(status, 200, "{begun}");
        for _ in 0..1_200 {
            let work = self.json(&format!("/api/work/{}", begun["work"]));
            if work["state"] != "running" {
                return work;
            }
            std::thread::sleep(Duration::from_millis(50));
        }
        panic!("{chosen} is never made");
    }

    /// Corrects a cell.
    pub(crate) fn correct(&self, row: u32, cell: usize, before: &str, after: &str) -> (u16, Value) {
        let version = self.version();
        self.post("/api/correct", &json!({ "v": version, "row": row, "cell": cell, "before": before, "after": after }))
    }
}

impl Reply {
    fn of(bytes: &[u8]) -> Self {
        let end = bytes.windows(4).position(|four| four == b"\r\n\r\n").unwrap();
        let head = std::str::from_utf8(&bytes[..end]).unwrap();
        let mut lines = head.split("\r\n");
        let status = lines.next().unwrap().split(' ').nth(1).unwrap().parse().unwrap();
        let headers = lines.map(|line| line.split_once(": ").unwrap());
        let headers: Vec<_> = headers.map(|(name, value)| (name.to_lowercase(), value.to_owned())).collect();
        assert!(!headers.iter().any(|(name, _)| name == "transfer-encoding"), "{head}");
        Self { status, headers, body: bytes[end + 4..].to_vec() }
    }

    pub(crate) fn header(&self, name: &str) -> Option<&str> {
        self.headers.iter().find(|(known, _)| known == name).map(|(_, value)| value.as_str())
    }

    pub(crate) fn text(&self) -> String {
        String::from_utf8_lossy(&self.body).into_owned()
    }

    pub(crate) fn json(&self) -> Value {
        serde_json::from_slice(&self.body).unwrap_or_else(|error| panic!("{error}: {}", self.text()))
    }
}
