//! How an enclosure is isolated: its points, what stays live, voltages, the proof, the diagram.

use super::frame::{list, section};
use super::{Shown, Site};
use crate::diagram;
use crate::length::{Length, Size};
use crate::notice::Told;
use crate::pages::texts::{listed, sentence};
use crate::rules::sequence::Sequence;
use crate::rules::{Decision, PointOfIsolation, secured};
use crate::survey::Enclosure;
use crate::survey::value::DeviceKind;
use crate::writers::html::{self, Html};
use crate::writers::svg;

/// Dots of a browser in a millimetre (CSS Values 3, 5.2: 96 to the inch).
const DOTS_A_MM: f64 = 96.0 / 25.4;

/// How an enclosure is isolated, and how far that is proved.
pub(super) fn isolation(html: &mut Html, site: &Site<'_>, shown: &Shown<'_>, told: &Told) {
    let Some((decision, _)) = shown.decided else { return };
    points(html, site, shown, decision, told);
    section(html, "Voltages", |html| {
        html.line("p", &[], &format!("Highest: {}", decision.voltages.in_words()));
    });
    proof(html, site, decision);
}

fn points(html: &mut Html, site: &Site<'_>, shown: &Shown<'_>, decision: &Decision, told: &Told) {
    let in_order = Sequence::of(&decision.points) == Sequence::Whole;
    let title =
        if in_order { "Points of isolation, in the order in which they are opened" } else { "Points of isolation" };
    section(html, title, |html| {
        if decision.points.is_empty() {
            html.line("p", &[("class", "large")], "The survey declares no point of isolation.");
            return;
        }
        // Without marks of its own, some readers take a list for none unless it says so.
        html.element("ol", &[("class", "points"), ("role", "list")], |html| {
            for (number, point) in (1_usize..).zip(&decision.points) {
                let remarks = told.remarks.get(number - 1).map_or(&[][..], Vec::as_slice);
                html.element("li", &[], |html| {
                    html.line("span", &[("class", "disc")], &number.to_string());
                    html.element("div", &[], |html| one_point(html, site, shown, point, remarks));
                });
                html.new_line();
            }
        });
    });
}

fn one_point(html: &mut Html, site: &Site<'_>, shown: &Shown<'_>, point: &PointOfIsolation, remarks: &[String]) {
    html.element("h3", &[], |html| match site.device_page(&point.device, &point.location) {
        Some(page) => html.line("a", &[("href", &shown.to(page))], &point.device),
        None => html.words(&point.device),
    });
    let location = if point.location.is_empty() { "location not known: find it first" } else { &point.location };
    html.line("p", &[("class", "place")], location);
    let kind = point.kind.map_or("kind not said", DeviceKind::name);
    let locking = secured(point.locking.as_deref());
    let order = point.order.map(|order| format!("number {order} in the sequence"));
    let how: Vec<String> = [kind.to_owned(), locking].into_iter().chain(order).collect();
    html.line("p", &[], &how.join(", "));
    remarks.iter().for_each(|remark| html.line("p", &[("class", "place")], remark));
    let word = if point.circuits.len() == 1 { "Circuit" } else { "Circuits" };
    let serves = if point.serves.is_empty() { String::new() } else { format!(" for {}", point.serves.join(", ")) };
    html.line("p", &[("class", "soft")], &format!("{word} {}{serves}", point.circuits.join(", ")));
}

fn proof(html: &mut Html, site: &Site<'_>, decision: &Decision) {
    let (network, survey) = (site.prepared.network, site.prepared.survey);
    section(html, "Proof", |html| {
        html.line("p", &[], &format!("{}.", sentence(&decision.proof_in_words())));
        if !network.is_described() {
            html.line("p", &[], "No supplies file describes the network behind the isolators: nothing is proved.");
            return;
        }
        let paths = decision.proof.paths.iter().map(|path| format!("Live: {}", network.path_in_words(survey, path)));
        let gaps = network.gaps_in_words(survey, &decision.proof.gaps);
        let gaps = gaps.iter().map(|gap| sentence(gap));
        list(html, listed(paths, "live path").into_iter().chain(listed(gaps, "gap")));
    });
}

/// The one-line diagram of an enclosure's supplies, and the same as text.
pub(super) fn drawing(html: &mut Html, site: &Site<'_>, decision: &Decision, enclosure: &Enclosure) {
    let prepared = &site.prepared;
    let (survey, supplies, network) = (prepared.survey, prepared.supplies, prepared.network);
    let name = &enclosure.designation;
    section(html, "Supplies, with the points of isolation", |html| {
        let drawn = diagram::of(survey, supplies, network, decision, site.typesetter);
        match &drawn {
            Ok(drawing) => {
                let title = format!("One-line diagram of the supplies of {name}");
                html.element("div", &[("class", "room")], |html| {
                    scrolled(html, &title, |html| {
                        let alternative = format!("{title}; the same stands below as text");
                        picture(html, &svg::light(drawing, &title), drawing.size, &alternative, "");
                    });
                });
            }
            Err(_) => html.line("p", &[], "Not drawn: a name holds a character that the typeface lacks."),
        }
        // Beside a drawing that is printed the text need not be.
        let class = if drawn.is_ok() { "beside" } else { "alone" };
        html.element("details", &[("class", class)], |html| {
            html.line("summary", &[], "The diagram as text");
            scrolled(html, &format!("The supplies of {name} as text"), |html| {
                html.element("pre", &[], |html| {
                    for line in diagram::text_tree(survey, supplies, network, decision) {
                        html.words(&line);
                        html.new_line();
                    }
                });
            });
        });
    });
}

/// A box that is scrolled by itself where the page is narrow, also by whoever has no pointer.
pub(super) fn scrolled(html: &mut Html, name: &str, inside: impl FnOnce(&mut Html)) {
    html.element("div", &[("class", "wide"), ("role", "region"), ("aria-label", name), ("tabindex", "0")], inside);
}

/// A picture in the size in which it would be printed.
pub(super) fn picture(html: &mut Html, svg: &str, size: Size, alternative: &str, class: &str) {
    let dots = |length: Length| format!("{:.0}", length.to_mm() * DOTS_A_MM);
    let (width, height, address) = (dots(size.width), dots(size.height), html::picture_address(svg));
    let mut attributes = vec![("alt", alternative), ("width", &width), ("height", &height), ("src", &address)];
    attributes.extend((!class.is_empty()).then_some(("class", class)));
    html.void("img", &attributes);
    html.new_line();
}
