//! The list of all pages, area by area, with a search that works within the page.

use super::frame::{Frame, list, section};
use super::gone::Why;
use super::notice::CAUTIONS;
use super::stands::Stands;
use super::{Of, Page, Site};
use crate::notice::{Notice, Subject};
use crate::pages::texts::{counted, parts, sentence};
use crate::writers::html::Html;

/// The page as it is written.
pub(super) fn page(site: &Site<'_>) -> String {
    let identity = site.prepared.identity;
    let place = if identity.site.is_empty() { identity.title } else { identity.site };
    let title = if place.is_empty() { "Records of notices".to_owned() } else { format!("Records of notices, {place}") };
    let frame = Frame { title: &title, depth: 0, searches: true, identity };
    frame.document(|html| {
        html.line("h1", &[], &title);
        html.line("p", &[("class", "about")], &counted(site.pages.len(), "notice"));
        if !identity.selection.is_empty() {
            html.line("p", &[], &format!("Not all of the survey: {}.", identity.selection));
        }
        if !site.prepared.left_out.is_empty() {
            let left_out = site.prepared.left_out.join(", ");
            html.line("p", &[], &format!("Left out because of errors in the survey: {left_out}."));
        }
        search(html);
        for pages in site.pages.chunk_by(|one, other| area(one) == area(other)) {
            let Some(area) = pages.first().map(area) else { continue };
            section(html, &area, |html| {
                html.element("ul", &[("class", "list"), ("role", "list")], |html| {
                    pages.iter().for_each(|page| item(html, site, page));
                });
            });
        }
        html.element("div", &[], |html| {
            html.line("h2", &[], "To bear in mind");
            list(html, CAUTIONS.iter().take(3));
        });
    })
}

/// Shown by its program, since without it there is nothing that would search.
fn search(html: &mut Html) {
    html.element("div", &[("class", "search"), ("id", "search"), ("role", "search"), ("hidden", "")], |html| {
        html.line("label", &[("for", "words")], "Find by number, designation, area or record link");
        html.void("input", &[("id", "words"), ("type", "search"), ("autocomplete", "off"), ("spellcheck", "false")]);
        html.line("p", &[("id", "found"), ("role", "status")], "");
    });
    html.new_line();
}

/// The heading under which a page stands.
fn area(page: &Page<'_>) -> String {
    match &page.of {
        Of::Notice(notice, _) if notice.area.is_empty() => "Area not said".to_owned(),
        Of::Notice(notice, _) => sentence(&notice.area),
        Of::Gone(gone) => match gone.why {
            Why::NotInSurvey => "No longer in the survey",
            Why::NotJudged => "Cannot be judged, because of errors in the survey",
            Why::Unknown => "Known to neither survey nor record",
        }
        .to_owned(),
    }
}

fn item(html: &mut Html, site: &Site<'_>, page: &Page<'_>) {
    let (link, words, state) = match &page.of {
        Of::Notice(notice, _) => {
            let known = site.record.and_then(|record| record.find(&notice.number));
            // Without a record nothing is known of any, which the list need not say of each.
            let state = site.record.map(|_| Stands::of(known, true, notice, site.measure).in_short());
            (notice.code.as_deref().unwrap_or_default(), about(notice), state.unwrap_or_default())
        }
        Of::Gone(gone) => ("", String::new(), gone.in_short()),
    };
    let attributes: &[(&'static str, &str)] = if link.is_empty() { &[] } else { &[("data-link", link)] };
    html.element("li", attributes, |html| {
        html.line("a", &[("href", &page.link())], page.number());
        html.words(&words);
        if !state.is_empty() {
            html.words(" ");
            html.line("strong", &[], &state);
        }
    });
    html.new_line();
}

fn about(notice: &Notice) -> String {
    let kind = match notice.subject {
        Subject::Enclosure => "",
        Subject::Device => "isolator",
        Subject::Standing => "standing notice",
    };
    let named = if notice.number.contains(&notice.designation) { "" } else { &notice.designation };
    parts([named, &sentence(&notice.name), kind, &notice.position])
}
