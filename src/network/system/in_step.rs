//! Sources that are held in step with each other, as the supplies file says: one says it, and it holds both ways.

use petgraph::unionfind::UnionFind;

use super::super::designations::Designations;
use super::super::id::NodeId;
use super::descent::Descent;
use super::{Others, Root};

impl Descent<'_> {
    /// Joins the sources that are held in step, and their line numbers where they are proved.
    pub(super) fn hold_in_step(&mut self) {
        let names = Designations::of(&self.supplies.devices);
        let count = self.graph.nodes().len();
        let mut groups: UnionFind<usize> = UnionFind::new(count);
        for node in (0..count).map(NodeId::new) {
            let Some(device) = self.described(node) else { continue };
            for name in &device.in_step_with {
                let Some(other) = names.find(name).one().map(NodeId::new) else { continue };
                let Some(place) = self.found.load_sides.get(other.index()).copied() else { continue };
                let Some(root) = self.only_root(other, node) else { continue };
                groups.union(node.index(), root.source.index());
                if let Some(behind) = self.found.behind.get_mut(node.index()) {
                    *behind = root.transformer;
                }
                if let Some(beginning) = place.numbered.filter(|_| self.is_proved(node)) {
                    self.numbers.join((beginning, place.hours), (node, 0));
                }
            }
        }
        let labels = groups.into_labeling();
        self.found.in_step = labels.into_iter().map(NodeId::new).collect();
    }

    /// The one source that sets the angle of a node's load side, itself before others, the asking one left aside. To
    /// be in step with what changes means nothing.
    fn only_root(&self, node: NodeId, asking: NodeId) -> Option<Root> {
        let place = self.found.load_sides.get(node.index()).copied()?;
        let (roots, others) = self.found.roots_at(place);
        let own = roots.clone().find(|root| root.source == node);
        let mut further = roots.filter(|root| root.source != asking);
        let first = further.next().filter(|_| others == Others::None && further.next().is_none());
        own.or(first)
    }
}
