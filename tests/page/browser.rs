//! A browser that is not ours, led by the protocol of its own developers (the Chrome DevTools Protocol) through two pipes.

use std::fs::File;
use std::io::{BufRead as _, BufReader, Write as _};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::time::{Duration, Instant};

use serde_json::{Value, json};

use crate::judge;

/// How long a page may take until something is there.
const PATIENCE: Duration = Duration::from_secs(60);

/// A browser with one page, ended with this value.
pub(crate) struct Browser {
    child: Child,
    _profile: tempfile::TempDir,
    to: File,
    from: Receiver<Value>,
    session: String,
    number: u64,
    /// What went wrong on the page: exceptions, errors of the console, what the policy forbade.
    pub(crate) wrong: Vec<String>,
}

impl Drop for Browser {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// Whether there is a browser; skipped loudly, or a failure where `REQUIRE_OUTSIDE` is `1`.
pub(crate) fn is_there() -> bool {
    judge::run("chromium", &["--version"], Path::new("")).is_some()
}

impl Browser {
    /// Opens a page at an address, on a screen of a size.
    pub(crate) fn open(address: &str, (width, height): (u32, u32)) -> Self {
        let profile = tempfile::tempdir().unwrap();
        let pipe = |name: &str| {
            let path = profile.path().join(name);
            assert!(Command::new("mkfifo").arg(&path).status().unwrap().success());
            path
        };
        let (into, out) = (pipe("in"), pipe("out"));
        // The shell hands the pipes on as those that the browser listens and speaks by.
        let mut command = Command::new("sh");
        command
            .args(["-c", "exec 3<\"$IN\" 4>\"$OUT\" && exec chromium \"$@\"", "sh"])
            .env("IN", &into)
            .env("OUT", &out);
        command.args(["--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--no-first-run"]);
        command.args(["--disable-background-networking", "--disable-component-update", "--disable-sync"]);
        command
            .arg("--remote-debugging-pipe")
            .arg(format!("--user-data-dir={}", profile.path().join("data").display()));
        let child = command.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null()).spawn().unwrap();
        let to = File::options().write(true).open(into).unwrap();
        let mut lines = BufReader::new(File::open(out).unwrap());
        let (tell, from) = channel();
        std::thread::spawn(move || {
            let mut line = Vec::new();
            while lines.read_until(0, &mut line).is_ok_and(|read| read > 0) {
                let value = serde_json::from_slice(line.strip_suffix(&[0]).unwrap_or(&line)).unwrap();
                if tell.send(value).is_err() {
                    break;
                }
                line.clear();
            }
        });
        let (session, wrong) = (String::new(), Vec::new());
        let mut browser = Self { child, _profile: profile, to, from, session, number: 0, wrong };
        let target = browser.told("Target.createTarget", json!({ "url": "about:blank" }));
        let attached =
            browser.told("Target.attachToTarget", json!({ "targetId": target["targetId"], "flatten": true }));
        browser.session = attached["sessionId"].as_str().unwrap().to_owned();
        for domain in ["Page.enable", "Runtime.enable", "Log.enable", "Network.enable"] {
            browser.told(domain, json!({}));
        }
        browser.resize(width, height);
        browser.told("Page.navigate", json!({ "url": address }));
        browser
    }

    /// Another size of the screen.
    pub(crate) fn resize(&mut self, width: u32, height: u32) {
        let size = json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": false });
        self.told("Emulation.setDeviceMetricsOverride", size);
    }

    /// Dark or light, screen or print.
    pub(crate) fn media(&mut self, media: &str, dark: bool) {
        let scheme = if dark { "dark" } else { "light" };
        let features = json!([{ "name": "prefers-color-scheme", "value": scheme }]);
        self.told("Emulation.setEmulatedMedia", json!({ "media": media, "features": features }));
    }

    /// Gives a command that must succeed, and waits for its answer.
    pub(crate) fn told(&mut self, method: &str, parameters: Value) -> Value {
        self.answered(method, parameters).unwrap_or_else(|error| panic!("{method}: {error}"))
    }

    /// Gives a command and waits for its answer, or for why there is none.
    fn answered(&mut self, method: &str, parameters: Value) -> Result<Value, Value> {
        self.number += 1;
        let mut message = json!({ "id": self.number, "method": method, "params": parameters });
        if !self.session.is_empty() {
            message["sessionId"] = self.session.as_str().into();
        }
        self.to.write_all(format!("{message}\0").as_bytes()).unwrap();
        let until = Instant::now() + PATIENCE;
        loop {
            let left = until.saturating_duration_since(Instant::now());
            let heard = self.from.recv_timeout(left).unwrap_or_else(|error| panic!("{method}: {error}"));
            if heard["id"] == self.number {
                let error = &heard["error"];
                return if error.is_null() { Ok(heard["result"].clone()) } else { Err(error.clone()) };
            }
            self.note(&heard);
        }
    }

    fn note(&mut self, heard: &Value) {
        let parameters = &heard["params"];
        match heard["method"].as_str() {
            Some("Runtime.exceptionThrown") => self.wrong.push(parameters["exceptionDetails"].to_string()),
            Some("Runtime.consoleAPICalled") if parameters["type"] == "error" => {
                self.wrong.push(parameters.to_string())
            }
            // The browser itself tells of every answer that is no 2xx, which the page expects of some.
            Some("Log.entryAdded") if parameters["entry"]["source"] != "network" => {
                self.wrong.push(parameters["entry"].to_string());
            }
            _ => {}
        }
    }

    /// The value of an expression on the page; of a promise once it is kept.
    pub(crate) fn value(&mut self, expression: &str) -> Value {
        let asked = json!({ "expression": expression, "awaitPromise": true, "returnByValue": true });
        let answer = self.told("Runtime.evaluate", asked);
        assert!(answer["exceptionDetails"].is_null(), "{expression}: {}", answer["exceptionDetails"]);
        answer["result"]["value"].clone()
    }

    /// Waits until an expression is true on the page. While a page goes and another comes, there is nothing to ask.
    pub(crate) fn until(&mut self, expression: &str) {
        let until = Instant::now() + PATIENCE;
        let asked = json!({ "expression": format!("Boolean({expression})"), "returnByValue": true });
        loop {
            let answer = self.answered("Runtime.evaluate", asked.clone());
            if answer.as_ref().is_ok_and(|answer| answer["result"]["value"] == true) {
                return;
            }
            if Instant::now() > until {
                let page = self.value("document.body.innerText.slice(0, 3000)");
                panic!("never true: {expression}\n{answer:?}\n{}\n{:?}", page.as_str().unwrap_or_default(), self.wrong);
            }
            std::thread::sleep(Duration::from_millis(50));
        }
    }

    /// Presses and releases a key as a person does.
    pub(crate) fn key(&mut self, key: &str) {
        self.key_with(key, 0);
    }

    /// The same with other keys held: 2 is Ctrl, 8 is Shift.
    pub(crate) fn key_with(&mut self, key: &str, modifiers: u32) {
        let text = match key {
            "Enter" => "\r",
            " " => " ",
            one if one.chars().count() == 1 && modifiers == 0 => one,
            _ => "",
        };
        let code = match key {
            "Enter" => 13,
            "Escape" => 27,
            "Tab" => 9,
            " " => 32,
            "PageDown" => 34,
            "End" => 35,
            "Home" => 36,
            "ArrowLeft" => 37,
            "ArrowUp" => 38,
            "ArrowRight" => 39,
            "ArrowDown" => 40,
            other => other.chars().next().map_or(0, |c| u32::from(c.to_ascii_uppercase())),
        };
        let event = |kind: &str| json!({ "type": kind, "key": key, "text": text, "windowsVirtualKeyCode": code, "modifiers": modifiers });
        self.told("Input.dispatchKeyEvent", event("keyDown"));
        let mut up = event("keyUp");
        up["text"] = "".into();
        self.told("Input.dispatchKeyEvent", up);
    }

    /// Types a text where the focus is.
    pub(crate) fn write(&mut self, text: &str) {
        self.told("Input.insertText", json!({ "text": text }));
    }

    /// Clicks in the middle of the element that an expression gives, once it stands still in sight with nothing over it: what
    /// comes onto the page above it would move it away from under the click.
    pub(crate) fn click(&mut self, element: &str, times: u32) {
        let place = format!(
            "(() => {{ const it = {element}; if (!it) return null; it.scrollIntoView({{ block: 'center' }}); \
             const r = it.getBoundingClientRect(); const place = [r.x + r.width / 2, r.y + r.height / 2]; \
             return it.contains(document.elementFromPoint(...place)) ? place : null; }})()"
        );
        self.value("window.stood = 0, window.place = ''");
        self.until(&format!(
            "(() => {{ const place = String({place}); window.stood = place === window.place ? window.stood + 1 : 0; \
             window.place = place; return place !== 'null' && window.stood >= 6; }})()"
        ));
        let place = self.value(&place);
        for count in 1..=times {
            for kind in ["mousePressed", "mouseReleased"] {
                let event =
                    json!({ "type": kind, "x": place[0], "y": place[1], "button": "left", "clickCount": count });
                self.told("Input.dispatchMouseEvent", event);
            }
        }
    }

    /// A picture of what is seen, for a person who looks into a failed test.
    pub(crate) fn picture(&mut self) -> Vec<u8> {
        let shot = self.told("Page.captureScreenshot", json!({ "format": "png" }));
        decoded(shot["data"].as_str().unwrap())
    }
}

/// Base64 (RFC 4648, section 4).
fn decoded(text: &str) -> Vec<u8> {
    const ALPHABET: &[u8] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let (mut bits, mut count, mut bytes) = (0u32, 0, Vec::new());
    for digit in text.bytes().filter_map(|byte| ALPHABET.iter().position(|known| *known == byte)) {
        bits = bits << 6 | u32::try_from(digit).unwrap();
        count += 6;
        if count >= 8 {
            count -= 8;
            bytes.push(u8::try_from(bits >> count & 0xFF).unwrap());
        }
    }
    bytes
}
