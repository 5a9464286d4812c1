//! Cells in layers: sources in the first, the rows of the enclosure in the last, and every wire from one layer to the
//! next one.

/// A line of the diagram before it has a place: from one cell to a lower one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Wire {
    /// The cell above.
    pub(super) upper: usize,
    /// The cell below.
    pub(super) lower: usize,
    /// How it is drawn.
    pub(super) manner: Manner,
}

/// How a wire is drawn.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Manner {
    /// A proved path of energy: a heavy line.
    pub(super) is_live: bool,
    /// Not described in full: a dashed line.
    pub(super) is_dashed: bool,
    /// The neutral that a row shares.
    pub(super) is_neutral: bool,
}

impl Manner {
    /// Two wires that share a line: live if one is, dashed if both are.
    pub(super) const fn with(self, other: Self) -> Self {
        Self {
            is_live: self.is_live || other.is_live,
            is_dashed: self.is_dashed && other.is_dashed,
            is_neutral: self.is_neutral && other.is_neutral,
        }
    }
}

/// What a cell is to the layout.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum CellKind {
    /// A symbol with one connection above and one below.
    Symbol,
    /// A source: a symbol that belongs into the first layer.
    Source,
    /// A changeover or a UPS: a symbol whose connections above are kept apart.
    Apart,
    /// A busbar, as wide as what hangs on it.
    Bar,
    /// A row of the enclosure.
    Row,
    /// A wire that passes a layer.
    Via,
}

/// Cells in layers, and the wires between neighbouring layers.
#[derive(Clone, Debug, Default)]
pub(super) struct Layered {
    /// What each cell is; those that the diagram gave come first, then the vias.
    pub(super) kinds: Vec<CellKind>,
    /// The layer of each cell, from the top.
    pub(super) layer_of: Vec<usize>,
    /// The cells of each layer, from left to right.
    pub(super) layers: Vec<Vec<usize>>,
    /// Wires, each from a layer to the next.
    pub(super) wires: Vec<Wire>,
}

/// Puts cells into layers. A ring of feeds is opened at one place, where the wire then runs upwards.
pub(super) fn layered(kinds: Vec<CellKind>, wires: &[Wire]) -> Layered {
    let mut wires = wires.to_vec();
    let heights = Heights::of(kinds.len(), &mut wires, &kinds);
    let top = heights.iter().copied().max().unwrap_or(0);
    let has_upper = |cell: usize| wires.iter().any(|wire| wire.lower == cell);
    let layer = |cell: usize, height: usize| match kinds.get(cell) {
        Some(CellKind::Source) if !has_upper(cell) => 0,
        Some(_) | None => top - height,
    };
    let layer_of = heights.iter().enumerate().map(|(cell, height)| layer(cell, *height)).collect();
    let mut made = Layered { kinds, layer_of, layers: vec![Vec::new(); top + 1], wires: Vec::new() };
    made.thread(&wires);
    made.fill();
    made
}

/// How many layers stand below each cell.
struct Heights<'a> {
    wires: &'a mut [Wire],
    kinds: &'a [CellKind],
    height: Vec<Option<usize>>,
    is_open: Vec<bool>,
}

impl Heights<'_> {
    fn of(cells: usize, wires: &mut [Wire], kinds: &[CellKind]) -> Vec<usize> {
        let mut heights = Heights { wires, kinds, height: vec![None; cells], is_open: vec![false; cells] };
        (0..cells).map(|cell| heights.measure(cell)).collect()
    }

    /// The height of a cell; a wire that leads back to a cell that is still being measured is turned round. The depth
    /// is bounded by the number of cells, which is small.
    fn measure(&mut self, cell: usize) -> usize {
        if let Some(known) = self.height.get(cell).copied().flatten() {
            return known;
        }
        self.is_open.get_mut(cell).into_iter().for_each(|open| *open = true);
        let mut height = usize::from(self.kinds.get(cell) != Some(&CellKind::Row));
        for place in 0..self.wires.len() {
            let Some(wire) = self.wires.get_mut(place).filter(|wire| wire.upper == cell) else { continue };
            if self.is_open.get(wire.lower).copied().unwrap_or(true) {
                (wire.upper, wire.lower) = (wire.lower, wire.upper);
                continue;
            }
            let lower = wire.lower;
            height = height.max(self.measure(lower) + 1);
        }
        self.is_open.get_mut(cell).into_iter().for_each(|open| *open = false);
        self.height.get_mut(cell).into_iter().for_each(|place| *place = Some(height));
        height
    }
}

impl Layered {
    /// Leads every wire through the layers that it passes; those from one symbol share their way.
    fn thread(&mut self, wires: &[Wire]) {
        let mut vias: Vec<(usize, usize, usize)> = Vec::new();
        for wire in wires {
            let (from, to) = (self.layer(wire.upper), self.layer(wire.lower));
            let mut upper = wire.upper;
            for layer in from + 1..to {
                let shares = self.kinds.get(wire.upper) != Some(&CellKind::Bar);
                let known = vias.iter().find(|(cell, at, _)| shares && *cell == wire.upper && *at == layer);
                let via = known.map(|(_, _, via)| *via).unwrap_or_else(|| self.add_via(layer));
                vias.push((wire.upper, layer, via));
                self.add_wire(Wire { upper, lower: via, ..*wire });
                upper = via;
            }
            self.add_wire(Wire { upper, ..*wire });
        }
    }

    fn add_via(&mut self, layer: usize) -> usize {
        self.kinds.push(CellKind::Via);
        self.layer_of.push(layer);
        self.kinds.len() - 1
    }

    fn add_wire(&mut self, wire: Wire) {
        let same = |other: &&mut Wire| {
            (other.upper, other.lower, other.manner.is_neutral) == (wire.upper, wire.lower, wire.manner.is_neutral)
        };
        match self.wires.iter_mut().find(same) {
            Some(other) => other.manner = other.manner.with(wire.manner),
            None => self.wires.push(wire),
        }
    }

    pub(super) fn layer(&self, cell: usize) -> usize {
        self.layer_of.get(cell).copied().unwrap_or(0)
    }

    pub(super) fn kind(&self, cell: usize) -> CellKind {
        self.kinds.get(cell).copied().unwrap_or(CellKind::Via)
    }

    /// The cells in the order in which a walk from the rows upwards meets them, which already keeps families together.
    fn fill(&mut self) {
        let mut is_met = vec![false; self.kinds.len()];
        let rows = (0..self.kinds.len()).filter(|cell| self.kind(*cell) == CellKind::Row);
        let mut waiting: Vec<usize> = (0..self.kinds.len()).rev().collect();
        waiting.extend(rows.collect::<Vec<_>>().into_iter().rev());
        while let Some(cell) = waiting.pop() {
            let Some(met) = is_met.get_mut(cell).filter(|met| !**met) else { continue };
            *met = true;
            let layer = self.layer(cell);
            self.layers.get_mut(layer).into_iter().for_each(|cells| cells.push(cell));
            let lowers = self.wires.iter().filter(|wire| wire.upper == cell).map(|wire| wire.lower);
            let uppers = self.wires.iter().filter(|wire| wire.lower == cell).map(|wire| wire.upper);
            let near: Vec<usize> = lowers.chain(uppers).collect();
            waiting.extend(near.into_iter().rev().filter(|cell| self.kinds.get(*cell) != Some(&CellKind::Row)));
        }
    }
}
