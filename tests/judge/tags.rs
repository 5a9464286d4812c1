//! A document's tags taken apart again: every mark and every part is reached, once, and every link leads somewhere.
#![allow(
    dead_code,
    unreachable_pub,
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::wildcard_enum_match_arm,
    reason = "each test crate uses its own part of this, and a test that cannot go on stops"
)]

use std::collections::{BTreeMap, BTreeSet};

use lopdf::content::Content;
use lopdf::{Dictionary, Document, Object, ObjectId};

/// What a document is to a reader.
#[derive(Debug, Default)]
pub struct Tags {
    /// Type and depth of each part, in the order of reading.
    pub parts: Vec<(String, usize)>,
    /// The names to which its links lead, page by page.
    pub links: Vec<(ObjectId, Vec<u8>)>,
    /// Runs of marks in all.
    pub runs: usize,
    elements: BTreeMap<ObjectId, Dictionary>,
    /// The part of each run and of each annotation.
    holders: BTreeMap<(ObjectId, i64), ObjectId>,
    annotated: BTreeMap<ObjectId, ObjectId>,
}

pub fn dictionary<'a>(document: &'a Document, object: &'a Object) -> &'a Dictionary {
    document.dereference(object).unwrap().1.as_dict().unwrap()
}

fn array<'a>(document: &'a Document, object: &'a Object) -> &'a [Object] {
    document.dereference(object).unwrap().1.as_array().unwrap()
}

/// Takes a tagged document apart; panics at anything that does not fit.
pub fn check(document: &Document) -> Tags {
    let mut tags = Tags::default();
    let catalogue = document.catalog().unwrap();
    let marked = catalogue.get(b"MarkInfo").unwrap().as_dict().unwrap();
    assert!(marked.get(b"Marked").unwrap().as_bool().unwrap());
    let root = catalogue.get(b"StructTreeRoot").unwrap();
    let (root_id, root) = (root.as_reference().unwrap(), dictionary(document, root));
    tags.walk(document, root.get(b"K").unwrap().as_reference().unwrap(), root_id, 0);
    let all = document
        .objects
        .iter()
        .filter(|(_, object)| object.as_dict().is_ok_and(|one| one.has(b"S") && one.has(b"P") && !one.has(b"Subtype")));
    let all: BTreeSet<ObjectId> = all.map(|(id, _)| *id).collect();
    assert_eq!(all, tags.elements.keys().copied().collect(), "the tree reaches every part");
    let parents = number_tree(document, root.get(b"ParentTree").unwrap());
    let next = root.get(b"ParentTreeNextKey").unwrap().as_i64().unwrap();
    assert!(parents.keys().all(|key| *key < next));
    let names = names(document);
    let mut keys = BTreeSet::new();
    for page in document.get_pages().into_values() {
        tags.check_page(document, page, &parents, &names, &mut keys);
    }
    assert_eq!(keys, parents.keys().copied().collect(), "nothing is left over among the parents");
    assert_eq!(tags.runs, tags.holders.len(), "a part holds a run that no page has");
    assert_eq!(tags.links.len(), tags.annotated.len(), "a part holds an annotation that no page has");
    tags
}

impl Tags {
    /// How many parts are of a type.
    pub fn count(&self, kind: &str) -> usize {
        self.parts.iter().filter(|(own, _)| own == kind).count()
    }

    /// The entries of all parts of a type.
    pub fn of<'a>(&'a self, kind: &'a str) -> impl Iterator<Item = &'a Dictionary> {
        self.elements.values().filter(move |one| one.get(b"S").unwrap().as_name().unwrap() == kind.as_bytes())
    }

    fn walk(&mut self, document: &Document, id: ObjectId, parent: ObjectId, depth: usize) {
        let element = document.get_dictionary(id).unwrap_or_else(|_| panic!("{id:?} is no part")).clone();
        assert_eq!(element.get(b"P").unwrap().as_reference().unwrap(), parent, "{element:?}");
        self.parts.push((String::from_utf8_lossy(element.get(b"S").unwrap().as_name().unwrap()).into_owned(), depth));
        assert!(self.elements.insert(id, element.clone()).is_none(), "{id:?} is reached twice");
        let kids = element.get(b"K").map(|kids| kids.as_array().unwrap().clone()).unwrap_or_default();
        // Annex C of PDF 1.4: an array has 8191 entries at most (from memory).
        assert!(kids.len() <= 8_191);
        let page = || element.get(b"Pg").unwrap().as_reference().unwrap();
        for kid in kids {
            match kid {
                Object::Integer(run) => self.hold((page(), run), id),
                Object::Reference(kid) => self.walk(document, kid, id, depth + 1),
                Object::Dictionary(kid) if kid.has(b"MCID") => {
                    let run = kid.get(b"MCID").unwrap().as_i64().unwrap();
                    self.hold((kid.get(b"Pg").unwrap().as_reference().unwrap(), run), id);
                }
                Object::Dictionary(kid) => {
                    let annotation = kid.get(b"Obj").unwrap().as_reference().unwrap();
                    assert!(self.annotated.insert(annotation, id).is_none(), "{annotation:?} is held twice");
                }
                other => panic!("{other:?} in {element:?}"),
            }
        }
    }

    fn hold(&mut self, run: (ObjectId, i64), by: ObjectId) {
        assert!(self.holders.insert(run, by).is_none(), "{run:?} is held twice");
    }

    fn check_page(
        &mut self,
        document: &Document,
        page: ObjectId,
        parents: &BTreeMap<i64, Object>,
        names: &BTreeMap<Vec<u8>, Object>,
        keys: &mut BTreeSet<i64>,
    ) {
        let entries = document.get_dictionary(page).unwrap();
        assert_eq!(entries.get(b"Tabs").unwrap().as_name().unwrap(), b"S");
        let key = entries.get(b"StructParents").unwrap().as_i64().unwrap();
        assert!(keys.insert(key), "{key} is used twice");
        let parts = array(document, &parents[&key]);
        let runs = runs(&document.get_page_content(page));
        assert_eq!(runs, (0..parts.len() as i64).collect(), "page {page:?}");
        for run in &runs {
            let part = parts[*run as usize].as_reference().unwrap();
            assert_eq!(self.holders[&(page, *run)], part, "page {page:?}, run {run}");
        }
        self.runs += runs.len();
        let Ok(annotations) = entries.get(b"Annots") else { return };
        for annotation in array(document, annotations) {
            let id = annotation.as_reference().unwrap();
            let entries = dictionary(document, annotation);
            assert_eq!(entries.get(b"Subtype").unwrap().as_name().unwrap(), b"Link");
            assert_eq!(entries.get(b"F").unwrap().as_i64().unwrap(), 4);
            assert_eq!(entries.get(b"P").unwrap().as_reference().unwrap(), page);
            let key = entries.get(b"StructParent").unwrap().as_i64().unwrap();
            assert!(keys.insert(key), "{key} is used twice");
            assert_eq!(parents[&key].as_reference().unwrap(), self.annotated[&id]);
            let kind = self.elements[&self.annotated[&id]].get(b"S").unwrap().as_name().unwrap();
            assert_eq!(kind, b"Link");
            let name = entries.get(b"Dest").unwrap().as_str().unwrap().to_vec();
            check_place(document, names.get(&name).unwrap_or_else(|| panic!("{name:?} leads nowhere")));
            self.links.push((page, name));
        }
    }
}

/// The numbered runs of a page's operators, where each that paints must stand in a run or be called decoration.
fn runs(content: &[u8]) -> BTreeSet<i64> {
    let mut open: Vec<Option<i64>> = Vec::new();
    let mut found = BTreeSet::new();
    let mut saved = 0;
    for operation in Content::decode(content).unwrap().operations {
        match operation.operator.as_str() {
            "BMC" => {
                assert!(open.is_empty() && operation.operands[0].as_name().unwrap() == b"Artifact");
                open.push(None);
            }
            "BDC" => {
                let number = operation.operands[1].as_dict().unwrap().get(b"MCID").ok();
                let number = number.map(|number| number.as_i64().unwrap());
                assert!(open.is_empty() || number.is_none(), "a run within a run");
                assert!(number.is_none_or(|number| found.insert(number)), "{number:?} comes twice");
                open.push(number);
            }
            "EMC" => assert!(open.pop().is_some()),
            "q" => saved += 1,
            "Q" => saved -= 1,
            "Tj" | "TJ" | "'" | "\"" | "f" | "F" | "f*" | "B" | "S" | "s" | "b" | "Do" | "sh" => {
                assert!(!open.is_empty(), "{operation:?} stands outside");
            }
            _ => {}
        }
    }
    assert!(open.is_empty() && saved == 0);
    found
}

/// The named places of a document.
pub fn names(document: &Document) -> BTreeMap<Vec<u8>, Object> {
    let Ok(names) = document.catalog().unwrap().get(b"Names") else { return BTreeMap::new() };
    let names = dictionary(document, names);
    let mut found = Vec::new();
    leaves(document, names.get(b"Dests").unwrap(), b"Names", &|key| key.as_str().unwrap().to_vec(), &mut found);
    assert!(found.is_sorted_by(|one, other| one.0 < other.0), "names are in order");
    found.into_iter().collect()
}

fn number_tree(document: &Document, root: &Object) -> BTreeMap<i64, Object> {
    let mut found = Vec::new();
    leaves(document, root, b"Nums", &|key| key.as_i64().unwrap(), &mut found);
    assert!(found.is_sorted_by(|one, other| one.0 < other.0), "numbers are in order");
    found.into_iter().collect()
}

fn leaves<K: PartialEq + std::fmt::Debug>(
    document: &Document,
    node: &Object,
    entries: &[u8],
    key: &dyn Fn(&Object) -> K,
    found: &mut Vec<(K, Object)>,
) {
    let node = dictionary(document, node);
    let before = found.len();
    if let Ok(list) = node.get(entries) {
        let list = list.as_array().unwrap();
        found.extend(list.chunks_exact(2).map(|pair| (key(&pair[0]), pair[1].clone())));
    } else {
        node.get(b"Kids")
            .unwrap()
            .as_array()
            .unwrap()
            .iter()
            .for_each(|kid| leaves(document, kid, entries, key, found));
    }
    if let Ok(limits) = node.get(b"Limits") {
        let limits = limits.as_array().unwrap();
        assert_eq!([&key(&limits[0]), &key(&limits[1])], [&found[before].0, &found.last().unwrap().0]);
    }
}

fn check_place(document: &Document, place: &Object) {
    let place = array(document, place);
    assert!(document.get_pages().values().any(|page| Object::Reference(*page) == place[0]));
    assert_eq!(place[1].as_name().unwrap(), b"XYZ");
    assert!(place[3].as_float().unwrap() > 0.0);
}

/// The bookmarks with their depths, and how many of them are seen before anybody opens one.
pub fn outline(document: &Document) -> (Vec<(usize, String)>, i64) {
    let root = document.catalog().unwrap().get(b"Outlines").unwrap();
    let mut found = Vec::new();
    let seen = level(document, root.as_reference().unwrap(), 0, &mut found);
    assert_eq!(dictionary(document, root).get(b"Count").unwrap().as_i64().unwrap(), seen);
    (found, seen)
}

/// Reads what lies below an entry; the answer is how many lines are seen when it is open.
fn level(document: &Document, parent: ObjectId, depth: usize, found: &mut Vec<(usize, String)>) -> i64 {
    let entries = document.get_dictionary(parent).unwrap();
    let reference = |entries: &Dictionary, key: &[u8]| entries.get(key).ok().map(|other| other.as_reference().unwrap());
    let (mut next, mut before, mut seen) = (reference(entries, b"First"), None, 0);
    while let Some(id) = next {
        let entry = document.get_dictionary(id).unwrap();
        assert_eq!(reference(entry, b"Parent"), Some(parent));
        assert_eq!(reference(entry, b"Prev"), before);
        found.push((depth, lopdf::decode_text_string(entry.get(b"Title").unwrap()).unwrap()));
        check_place(document, entry.get(b"Dest").unwrap());
        let below = level(document, id, depth + 1, found);
        let count = entry.get(b"Count").map_or(0, |count| count.as_i64().unwrap());
        assert_eq!(count.abs(), below);
        seen += 1 + count.max(0);
        (before, next) = (Some(id), reference(entry, b"Next"));
    }
    assert_eq!(reference(entries, b"Last"), before);
    seen
}
