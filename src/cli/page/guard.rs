//! Who may ask: one browser that came by the address with the secret, on this machine, from the page itself.
//!
//! A page of another origin cannot: it has no cookie of ours that a browser would send along (`SameSite=Strict`), its `Origin`
//! is another one, and what it cannot read is of no use to it. A name of somebody else's that leads to this machine is told
//! by `Host`.

use std::fmt::Write as _;
use std::sync::{Arc, Mutex, PoisonError};

use axum::extract::{Request, State};
use axum::http::header::{self, HeaderMap, HeaderName, HeaderValue};
use axum::http::{Method, StatusCode};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};

use super::answer::{Kind, Refused};
use crate::cli::failure::Failure;

/// Bytes of a secret: nobody guesses one of 2^128.
const SECRET_BYTES: usize = 16;

/// Where the address with the secret leads.
const ENTRANCE: &str = "/open/";

/// What the browser may do with the page: nothing but what comes from here.
const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; font-src 'self'; \
                      connect-src 'self'; form-action 'none'; base-uri 'none'; frame-ancestors 'none'";

/// What holds for every answer.
const HEADERS: [(HeaderName, &str); 7] = [
    (header::CONTENT_SECURITY_POLICY, POLICY),
    (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
    (header::REFERRER_POLICY, "no-referrer"),
    (header::X_FRAME_OPTIONS, "DENY"),
    (header::CACHE_CONTROL, "no-store"),
    (HeaderName::from_static("cross-origin-opener-policy"), "same-origin"),
    (HeaderName::from_static("cross-origin-resource-policy"), "same-origin"),
];

/// The page that the address leads to. It goes on by itself, so that the browser asks for the rest as from here, whatever
/// the address was clicked in.
const ENTERED: &str = "<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><title>noticewright</title>\
                       <meta http-equiv=\"refresh\" content=\"0;url=/\"></head><body><p><a href=\"/\">Go to the page</a>\
                       </p></body></html>\n";

/// What is asked of whoever asks.
pub(super) struct Guard {
    /// `127.0.0.1:49152`
    host: String,
    /// The secret of the address, until somebody has come by it.
    entrance: Mutex<Option<String>>,
    /// The cookie, name and secret. Ports share their cookies, so its name holds the port.
    cookie: String,
}

impl Guard {
    /// For a page at a port of this machine.
    ///
    /// # Errors
    /// A system that gives no random numbers.
    pub(super) fn new(port: u16) -> Result<Self, Failure> {
        Ok(Self {
            host: format!("127.0.0.1:{port}"),
            entrance: Mutex::new(Some(secret()?)),
            cookie: format!("noticewright-{port}={}", secret()?),
        })
    }

    /// The address with the secret, which holds once.
    pub(super) fn address(&self) -> String {
        let entrance = self.entrance.lock().unwrap_or_else(PoisonError::into_inner);
        format!("http://{}{ENTRANCE}{}", self.host, entrance.as_deref().unwrap_or_default())
    }

    fn judged(&self, request: &Request) -> Judgement {
        let headers = request.headers();
        if text(headers, &header::HOST) != Some(&self.host) {
            return Judgement::Refused("this page answers on its own machine, by its own address alone");
        }
        let is_read = matches!(*request.method(), Method::GET | Method::HEAD);
        let has_cookie = self.has_cookie(headers);
        if let Some(said) = request.uri().path().strip_prefix(ENTRANCE) {
            return self.entered(said, has_cookie, *request.method() == Method::GET);
        }
        let own = format!("http://{}", self.host);
        match headers.get(header::ORIGIN) {
            Some(origin) if origin != own.as_str() => return Judgement::Refused("another page asks"),
            None if !is_read => return Judgement::Refused("nobody says which page asks"),
            Some(_) | None => {}
        }
        let fetched = text(headers, &HeaderName::from_static("sec-fetch-site"));
        if fetched.is_some_and(|site| !matches!(site, "same-origin" | "none")) {
            return Judgement::Refused("another page asks");
        }
        if has_cookie { Judgement::Passed } else { Judgement::Refused(STRANGER) }
    }

    /// The secret of the address is used up by whoever comes by it first.
    fn entered(&self, said: &str, has_cookie: bool, is_get: bool) -> Judgement {
        let mut entrance = self.entrance.lock().unwrap_or_else(PoisonError::into_inner);
        if is_get && entrance.as_deref().is_some_and(|secret| is_same(secret, said)) {
            *entrance = None;
            return Judgement::Entered;
        }
        if has_cookie { Judgement::EnteredBefore } else { Judgement::Refused(STRANGER) }
    }

    fn has_cookie(&self, headers: &HeaderMap) -> bool {
        let cookies = headers.get_all(header::COOKIE).iter().filter_map(|value| value.to_str().ok());
        cookies.flat_map(|value| value.split(';')).any(|cookie| is_same(cookie.trim(), &self.cookie))
    }
}

/// What somebody reads who did not come by the address, or came second.
const STRANGER: &str = "this page is open in one browser already, or its program was started again; the address that the \
                        program printed holds once";

/// What becomes of a request.
enum Judgement {
    Passed,
    Entered,
    EnteredBefore,
    Refused(&'static str),
}

/// Lets pass what may ask, and tells the browser what it may do with the answer.
pub(super) async fn guarded(State(guard): State<Arc<Guard>>, request: Request, next: Next) -> Response {
    let mut response = match guard.judged(&request) {
        Judgement::Passed => next.run(request).await,
        Judgement::Entered => {
            let cookie = format!("{}; Path=/; HttpOnly; SameSite=Strict", guard.cookie);
            ([(header::SET_COOKIE, cookie), html()], ENTERED).into_response()
        }
        Judgement::EnteredBefore => ([html()], ENTERED).into_response(),
        Judgement::Refused(why) => Refused::new(StatusCode::FORBIDDEN, Kind::Refused, why).into_response(),
    };
    let headers = response.headers_mut();
    for (name, value) in HEADERS {
        // What has a policy of its own keeps it.
        headers.entry(name).or_insert(HeaderValue::from_static(value));
    }
    response
}

fn html() -> (HeaderName, String) {
    (header::CONTENT_TYPE, "text/html; charset=utf-8".to_owned())
}

fn text<'a>(headers: &'a HeaderMap, name: &HeaderName) -> Option<&'a str> {
    headers.get(name)?.to_str().ok()
}

/// Whether two texts are the same, in a time that does not tell where they differ.
fn is_same(one: &str, other: &str) -> bool {
    let differing = one.bytes().zip(other.bytes()).fold(0, |all, (one, other)| all | (one ^ other));
    one.len() == other.len() && differing == 0
}

fn secret() -> Result<String, Failure> {
    let mut bytes = [0; SECRET_BYTES];
    getrandom::fill(&mut bytes)
        .map_err(|error| Failure::could_not_run(format!("the system gives no random numbers: {error}")))?;
    Ok(bytes.iter().fold(String::new(), |mut text, byte| {
        let _ = write!(text, "{byte:02x}");
        text
    }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use axum::body::Body;

    fn request(method: &str, path: &str, headers: &[(&str, &str)]) -> Request {
        let mut request = axum::http::Request::builder().method(method).uri(path);
        for (name, value) in headers {
            request = request.header(*name, *value);
        }
        request.body(Body::empty()).unwrap()
    }

    /// What becomes of a request: `passed`, `entered`, `again` or `refused`.
    fn judged(guard: &Guard, method: &str, path: &str, headers: &[(&str, &str)]) -> &'static str {
        match guard.judged(&request(method, path, headers)) {
            Judgement::Passed => "passed",
            Judgement::Entered => "entered",
            Judgement::EnteredBefore => "again",
            Judgement::Refused(_) => "refused",
        }
    }

    #[test]
    fn only_the_page_itself_may_ask() {
        let guard = Guard::new(4_000).unwrap();
        let cookie = guard.cookie.clone();
        let (host, cookie) = (("host", "127.0.0.1:4000"), ("cookie", cookie.as_str()));
        let own = ("origin", "http://127.0.0.1:4000");
        for (expected, method, headers) in [
            ("passed", "GET", &[host, cookie][..]),
            ("passed", "GET", &[host, cookie, ("sec-fetch-site", "same-origin")]),
            ("passed", "GET", &[host, cookie, ("sec-fetch-site", "none")]),
            ("passed", "POST", &[host, cookie, own]),
            ("refused", "GET", &[host]),
            ("refused", "GET", &[host, ("cookie", "noticewright-4000=0")]),
            ("refused", "GET", &[host, cookie, ("sec-fetch-site", "cross-site")]),
            ("refused", "GET", &[host, cookie, ("sec-fetch-site", "same-site")]),
            ("refused", "GET", &[host, cookie, ("origin", "http://127.0.0.1:4001")]),
            ("refused", "GET", &[("host", "evil.example:4000"), cookie]),
            ("refused", "GET", &[("host", "localhost:4000"), cookie]),
            ("refused", "GET", &[cookie]),
            ("refused", "POST", &[host, cookie]),
            ("refused", "POST", &[host, cookie, ("origin", "null")]),
            ("refused", "POST", &[host, own]),
            ("refused", "DELETE", &[host, cookie]),
        ] {
            assert_eq!(judged(&guard, method, "/api/site", headers), expected, "{method} {headers:?}");
        }
    }

    #[test]
    fn the_address_holds_once() {
        let guard = Guard::new(4_000).unwrap();
        let address = guard.address();
        let path = address.strip_prefix("http://127.0.0.1:4000").unwrap();
        let host = ("host", "127.0.0.1:4000");
        assert_eq!(judged(&guard, "GET", "/open/", &[host]), "refused");
        assert_eq!(judged(&guard, "GET", path.get(..path.len() - 1).unwrap(), &[host]), "refused");
        // A program that only looks whether the address is there does not use it up.
        assert_eq!(judged(&guard, "HEAD", path, &[host]), "refused");
        assert_eq!(judged(&guard, "GET", path, &[host, ("sec-fetch-site", "cross-site")]), "entered");
        assert_eq!(judged(&guard, "GET", path, &[host]), "refused");
        assert_eq!(judged(&guard, "GET", path, &[host, ("cookie", &guard.cookie)]), "again");
        assert!(guard.cookie.len() > 32 && path.len() == "/open/".len() + 32);
    }
}
