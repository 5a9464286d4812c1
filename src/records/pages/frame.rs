//! What every page has: its head, a policy that lets nothing in from anywhere, the way to the other pages, its foot.

use crate::pages::Identity;
use crate::pages::texts::parts;
use crate::writers::html::{self, Html};

/// What a page says of itself, by which an old page is known again.
pub(super) const MARK: &str = "noticewright record page";

/// The look of all pages.
const STYLE: &str = include_str!("page.css");

/// The program of the search; no page of a notice has one.
const SEARCH: &str = include_str!("search.js");

/// What is different from page to page.
pub(super) struct Frame<'a> {
    /// The title, which a browser shows above the page.
    pub(super) title: &'a str,
    /// Folders that the page lies below the whole.
    pub(super) depth: usize,
    /// Whether it has the program of the search.
    pub(super) searches: bool,
    /// The job.
    pub(super) identity: Identity<'a>,
}

impl Frame<'_> {
    /// The whole page with what a function writes into its middle.
    pub(super) fn document(&self, inside: impl FnOnce(&mut Html)) -> String {
        let mut html = Html::document();
        html.element("html", &[("lang", "en")], |html| {
            html.new_line();
            html.element("head", &[], |html| self.head(html));
            html.new_line();
            html.element("body", &[], |html| self.body(html, inside));
        });
        html.new_line();
        html.into_text()
    }

    fn head(&self, html: &mut Html) {
        html.void("meta", &[("charset", "utf-8")]);
        html.void("meta", &[("name", "generator"), ("content", MARK)]);
        let mut policy = format!("default-src 'none'; img-src data:; style-src {}", html::fingerprint(STYLE));
        if self.searches {
            policy.push_str(&format!("; script-src {}", html::fingerprint(SEARCH)));
        }
        policy.push_str("; base-uri 'none'; form-action 'none'");
        html.void("meta", &[("http-equiv", "Content-Security-Policy"), ("content", &policy)]);
        html.void("meta", &[("name", "viewport"), ("content", "width=device-width, initial-scale=1")]);
        html.void("meta", &[("name", "robots"), ("content", "noindex")]);
        // Without an icon of its own a browser asks the server for one.
        html.void("link", &[("rel", "icon"), ("href", "data:,")]);
        html.line("title", &[], self.title);
        html.verbatim("style", STYLE);
    }

    fn body(&self, html: &mut Html, inside: impl FnOnce(&mut Html)) {
        html.line("a", &[("class", "skip"), ("href", "#main")], "Skip to the main part");
        html.element("header", &[], |html| {
            html.line("p", &[], &parts([self.identity.site, "records of notices"]));
            if self.depth > 0 {
                let index = format!("{}index.html", "../".repeat(self.depth));
                html.element("nav", &[("aria-label", "Other pages")], |html| {
                    html.line("a", &[("href", &index)], "All notices");
                });
            }
        });
        html.element("main", &[("id", "main"), ("tabindex", "-1")], |html| {
            html.new_line();
            inside(html);
        });
        html.element("footer", &[], |html| {
            let date = if self.identity.date.is_empty() { "no date" } else { self.identity.date };
            // Where the survey lies is nobody's business on a server.
            let survey = self.identity.survey.rsplit(['/', '\\']).next().unwrap_or_default();
            let made = format!("Made from {survey}, {}, {date}", self.revision());
            html.line("p", &[], &parts([made.as_str(), self.identity.title, self.identity.edition]));
        });
        if self.searches {
            html.verbatim("script", SEARCH);
        }
    }

    fn revision(&self) -> String {
        match self.identity.revision {
            "" => "no revision".to_owned(),
            revision => format!("revision {revision}"),
        }
    }
}

/// A part of a page under its heading.
pub(super) fn section(html: &mut Html, heading: &str, inside: impl FnOnce(&mut Html)) {
    html.element("section", &[], |html| {
        html.line("h2", &[], heading);
        inside(html);
    });
    html.new_line();
}

/// What must be read before anything else: a first line and what follows from it.
pub(super) fn stop(html: &mut Html, first: &str, further: &[String]) {
    html.element("div", &[("class", "stop"), ("role", "note")], |html| {
        html.line("p", &[("class", "first")], first);
        further.iter().for_each(|line| html.said("p", &[], line));
    });
    html.new_line();
}

/// A list of sentences.
pub(super) fn list<S: AsRef<str>>(html: &mut Html, lines: impl IntoIterator<Item = S>) {
    let mut lines = lines.into_iter().peekable();
    if lines.peek().is_some() {
        html.element("ul", &[], |html| lines.for_each(|line| html.line("li", &[], line.as_ref())));
        html.new_line();
    }
}

/// Terms and what is said of them; those without a word are left away.
pub(super) fn terms<S: AsRef<str>>(html: &mut Html, terms: impl IntoIterator<Item = (&'static str, S)>) {
    html.element("dl", &[], |html| {
        for (term, words) in terms.into_iter().filter(|(_, words)| !words.as_ref().is_empty()) {
            html.line("dt", &[], term);
            html.line("dd", &[], words.as_ref());
        }
    });
    html.new_line();
}
