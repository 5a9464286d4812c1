//! A reader that is not ours finds on each label the words of its notice, all of them, in their order.

use std::collections::BTreeMap;

use serde_json::Value;

use crate::judge;
use crate::site::{self, cell, printed, text};

/// Dots to an inch in which pdftotext is told where a label lies; fine enough that no word is lost by rounding.
const DOTS: f64 = 720.0;

/// A part of a notice. What a plate may leave away for want of room is there whole or not at all.
#[derive(Debug)]
struct Part {
    words: Vec<String>,
    may_be_left_away: bool,
}

#[test]
fn each_label_says_what_its_notice_says() {
    let mut wrong = Vec::new();
    let names = names();
    for notice in printed().notices() {
        let Some(found) = words_on_label(notice) else { return };
        let parts = parts(notice, &names);
        if !says(&parts, &found) {
            wrong.push(format!("{}\n  says    {}\n  is to say {parts:?}", notice["number"], found.join(" ")));
        }
    }
    assert!(wrong.is_empty(), "{} of {} labels differ:\n{}", wrong.len(), printed().notices().len(), wrong.join("\n"));
}

#[test]
fn a_missing_word_an_added_word_and_a_wrong_order_are_noticed() {
    let part = |text: &str, may_be_left_away| Part { words: words(text), may_be_left_away };
    let parts = || [part("1 Q7", false), part("fan heater", true), part("2 Q8", false)];
    assert!(says(&parts(), &words("1 Q7 fan heater 2 Q8")));
    assert!(says(&parts(), &words("1 Q7 2 Q8")));
    for wrong in ["1 Q7 fan 2 Q8", "1 Q7 fan heater 2", "2 Q8 1 Q7", "1 Q7 fan heater 2 Q8 Q9", "1 Q9 2 Q8"] {
        assert!(!says(&parts(), &words(wrong)), "{wrong}");
    }
}

fn words(text: &str) -> Vec<String> {
    text.split_whitespace().map(str::to_owned).collect()
}

fn words_on_label(notice: &Value) -> Option<Vec<String>> {
    let [x, y, width, height] = cell(notice).map(|mm| ((mm * DOTS / 25.4).round() as u64).to_string());
    let (page, dots) = (notice["page"].to_string(), DOTS.to_string());
    let place = ["-x", &x, "-y", &y, "-W", &width, "-H", &height];
    let arguments = [&["-raw", "-f", &page, "-l", &page, "-r", &dots], &place[..], &["FILE", "-"]].concat();
    Some(words(&judge::run("pdftotext", &arguments, &printed().document())?))
}

/// The words of each enclosure's name, from the survey.
fn names() -> BTreeMap<String, String> {
    let bytes = std::fs::read(site::survey()).unwrap();
    let survey = noticewright::survey::read(&bytes, &noticewright::survey::ReadOptions::new("survey.csv")).survey;
    let named = |enclosure: noticewright::survey::Enclosure| Some((enclosure.designation, enclosure.name?.into()));
    survey.enclosures.into_iter().filter_map(named).collect()
}

/// The lines of a notice as parts: the name, what a point serves, the dots between the facts of the small line and the
/// caption of the code may be left away; nothing else may.
fn parts(notice: &Value, names: &BTreeMap<String, String>) -> Vec<Part> {
    let lines: Vec<&str> = notice["text"].as_array().unwrap().iter().map(text).collect();
    let caption = notice["qr"].is_string().then(|| lines.len() - 1);
    let points = points(notice);
    let mut parts = Vec::new();
    for (number, line) in lines.iter().enumerate() {
        let is_name = names.get(text(&notice["enclosure"])).is_some_and(|name| name == line);
        if Some(number) == caption || is_name {
            parts.push(Part { words: words(line), may_be_left_away: true });
        } else if let Some(point) = points.iter().find(|point| line.starts_with(point.as_str())) {
            parts.push(Part { words: words(point), may_be_left_away: false });
            parts.push(Part { words: words(&line[point.len()..]), may_be_left_away: true });
        } else {
            let word = |word: String| Part { may_be_left_away: word == "·", words: vec![word] };
            parts.extend(words(line).into_iter().map(word));
        }
    }
    parts
}

/// What must be said of each point: on an enclosure its number, device and location; on a device the circuit and the
/// enclosure that it reaches.
fn points(notice: &Value) -> Vec<String> {
    let mut points = Vec::new();
    for enclosure in printed().list("enclosures") {
        let listed = enclosure["points_of_isolation"].as_array().unwrap();
        let own = enclosure["enclosure"] == notice["enclosure"];
        for (number, point) in (1..).zip(listed) {
            let device = format!("{} {}", text(&point["device"]), text(&point["location"]));
            if own {
                points.push(if listed.len() > 1 { format!("{number} {device}") } else { device });
            } else if notice["subject"]["kind"] == "device" {
                let circuits = point["circuits"].as_array().unwrap().iter().map(text);
                points.extend(circuits.map(|circuit| format!("{circuit} {}", text(&enclosure["enclosure"]))));
            }
        }
    }
    // A longer beginning of a line is the truer one.
    points.sort_by_key(|point| std::cmp::Reverse(point.len()));
    points
}

/// Whether the words are those of the parts, in order.
fn says(parts: &[Part], found: &[String]) -> bool {
    let Some((part, rest)) = parts.split_first() else { return found.is_empty() };
    let here = found.strip_prefix(part.words.as_slice()).is_some_and(|after| says(rest, after));
    here || (part.may_be_left_away && says(rest, found))
}
