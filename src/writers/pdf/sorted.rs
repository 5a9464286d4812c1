//! Sorted trees of names and numbers (ISO 32000-1, 7.9.6 and 7.9.7): full leaves go straight out.

use std::io::{self, Write};

use super::stream::{Id, Objects};

/// Entries of a leaf, and branches of a node.
const MOST: usize = 64;

/// A tree under way, whose keys come in ascending order.
pub(super) struct SortedTree {
    /// What its leaves call their entries: `Names` or `Nums`.
    entries: &'static str,
    leaf: Vec<(Vec<u8>, Vec<u8>)>,
    finished: Vec<Node>,
}

/// A node that is written, with its first and its last key.
struct Node {
    first: Vec<u8>,
    last: Vec<u8>,
    id: Id,
}

impl SortedTree {
    /// A tree of names, whose keys are strings as they are written.
    pub(super) const fn names() -> Self {
        Self { entries: "Names", leaf: Vec::new(), finished: Vec::new() }
    }

    /// A tree of whole numbers.
    pub(super) const fn numbers() -> Self {
        Self { entries: "Nums", leaf: Vec::new(), finished: Vec::new() }
    }

    /// Adds a key, higher than those before, and its value, both as they are written.
    pub(super) fn add<W: Write>(
        &mut self,
        objects: &mut Objects<W>,
        key: impl Into<Vec<u8>>,
        value: impl Into<Vec<u8>>,
    ) -> io::Result<()> {
        self.leaf.push((key.into(), value.into()));
        if self.leaf.len() == MOST { self.end_leaf(objects) } else { Ok(()) }
    }

    /// Writes what is left; the answer is the root.
    pub(super) fn finish<W: Write>(mut self, objects: &mut Objects<W>) -> io::Result<Id> {
        self.end_leaf(objects)?;
        let mut nodes = self.finished;
        while nodes.len() > MOST {
            let above = nodes.chunks(MOST).map(|kids| branch(objects, kids));
            nodes = above.collect::<io::Result<_>>()?;
        }
        let root = objects.reserve();
        let body = if nodes.is_empty() { format!("<</{}[]>>", self.entries) } else { format!("<<{}>>", kids(&nodes)) };
        objects.object(root, body.as_bytes())?;
        Ok(root)
    }

    fn end_leaf<W: Write>(&mut self, objects: &mut Objects<W>) -> io::Result<()> {
        let (Some((first, _)), Some((last, _))) = (self.leaf.first(), self.leaf.last()) else { return Ok(()) };
        let node = Node { first: first.clone(), last: last.clone(), id: objects.reserve() };
        let mut body = limits(&node);
        body.extend_from_slice(format!("/{}[", self.entries).as_bytes());
        for (number, (key, value)) in self.leaf.drain(..).enumerate() {
            body.extend_from_slice(if number > 0 { b" " } else { b"" });
            body.extend_from_slice(&[&key, &b" "[..], &value].concat());
        }
        body.extend_from_slice(b"]>>");
        objects.object(node.id, &body)?;
        self.finished.push(node);
        Ok(())
    }
}

fn branch<W: Write>(objects: &mut Objects<W>, nodes: &[Node]) -> io::Result<Node> {
    let ends = nodes.first().zip(nodes.last());
    let (first, last) = ends.map(|(first, last)| (first.first.clone(), last.last.clone())).unwrap_or_default();
    let node = Node { first, last, id: objects.reserve() };
    let body = [limits(&node), kids(nodes).into_bytes(), b">>".to_vec()].concat();
    objects.object(node.id, &body)?;
    Ok(node)
}

/// The opening of a node's dictionary.
fn limits(node: &Node) -> Vec<u8> {
    [b"<</Limits[", &node.first[..], b" ", &node.last, b"]"].concat()
}

fn kids(nodes: &[Node]) -> String {
    let kids: Vec<String> = nodes.iter().map(|node| node.id.reference()).collect();
    format!("/Kids[{}]", kids.join(" "))
}
