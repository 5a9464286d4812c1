//! The codes of a page, deflated as they are spelt (RFC 1951).
//!
//! Half of a page's operators are boxes of codes, which a deflater goes through byte by byte, to find what is known here:
//! that a box repeats the end of the box before it. So each is written as its column and a reference to what it repeats,
//! by one set of Huffman codes for all documents. A library's deflater takes ten times as long for four fifths of the size.

use std::sync::LazyLock;

/// The length of the Huffman code of each byte, of the end (256) and of a repetition of 3 to 18 bytes (257 to 268), which
/// are best for the codes of thousands of record links. Bytes that are not here cannot be spelt.
const LENGTHS: [(u16, u8); 34] = [
    (10, 7),
    (32, 3),
    (45, 8),
    (46, 11),
    (48, 4),
    (49, 3),
    (50, 3),
    (51, 5),
    (52, 5),
    (53, 5),
    (54, 5),
    (55, 5),
    (56, 5),
    (57, 6),
    (81, 10),
    (99, 9),
    (101, 10),
    (102, 9),
    (109, 9),
    (113, 9),
    (114, 9),
    (256, 11),
    (257, 5),
    (258, 3),
    (259, 11),
    (260, 3),
    (261, 11),
    (262, 8),
    (263, 11),
    (264, 6),
    (265, 5),
    (266, 11),
    (267, 11),
    (268, 11),
];

/// The same for distances of 4 to 48 bytes.
const DISTANCES: [(u16, u8); 8] = [(3, 5), (4, 5), (5, 5), (6, 2), (7, 1), (8, 5), (9, 4), (10, 4)];

/// Modules along a side of the largest code.
const LARGEST: usize = 177;

/// What stands behind the numbers of a box.
const END: &[u8] = b" re\n";

/// Adler-32 counts in this modulus (RFC 1950).
const ADLER: u64 = 65_521;

/// Operators of codes, deflated so far.
#[derive(Clone, Debug)]
pub(in crate::writers::pdf) struct Codes {
    bytes: Vec<u8>,
    bits: u64,
    /// How many bits wait for more; always under 32.
    held: u32,
    /// The two sums of Adler-32, not yet reduced.
    sums: (u64, u64),
    /// The box just written.
    before: Option<[Piece; 4]>,
    /// Whether something was asked for that has no code.
    unspelt: bool,
    begun: bool,
}

/// Bits in the order in which they are written.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Bits {
    bits: u32,
    count: u32,
}

/// Some bytes: their bits, and what they add to a checksum.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Piece {
    spelt: Bits,
    bytes: u32,
    sum: u32,
    /// Each byte as often as there are bytes from it on.
    weighted: u32,
}

impl Codes {
    /// None yet.
    pub(in crate::writers::pdf) fn new() -> Self {
        let mut codes = Self {
            bytes: vec![0x78, 0x01],
            bits: 0,
            held: 0,
            sums: (1, 0),
            before: None,
            unspelt: false,
            begun: false,
        };
        TABLE.header.iter().for_each(|bits| codes.put(*bits));
        codes
    }

    /// Begins a code with the operators before its boxes.
    pub(super) fn begin(&mut self, before: &[u8]) {
        self.begun = true;
        self.before = None;
        self.push(before);
    }

    /// Operators byte by byte.
    pub(super) fn push(&mut self, operators: &[u8]) {
        for byte in operators {
            match TABLE.literal(u16::from(*byte)) {
                Some(bits) => self.whole(Piece::of(bits, &[*byte])),
                None => self.unspelt = true,
            }
        }
    }

    /// A box of a code: column, row, width and height.
    pub(super) fn push_box(&mut self, numbers: [usize; 4]) {
        let [Some(x), Some(y), Some(width), Some(height)] = numbers.map(|number| TABLE.numbers.get(number)) else {
            self.unspelt = true;
            return;
        };
        // All but the first have a space before them.
        let column = x.without_space();
        self.whole(column);
        self.rest([column, *y, *width, *height]);
    }

    /// What stands behind the column of a box, with as much of it repeated as can be.
    fn rest(&mut self, spelt: [Piece; 4]) {
        let [x, y, width, height] = spelt;
        let end = TABLE.end;
        let Some([_, y_before, width_before, height_before]) = self.before.replace(spelt) else {
            [y, width, height, end].into_iter().for_each(|piece| self.whole(piece));
            return;
        };
        let behind_width = height.bytes + end.bytes;
        let behind_row = width.bytes + behind_width;
        let behind_row_before = width_before.bytes + height_before.bytes + end.bytes;
        let alike = (width, height) == (width_before, height_before);
        [y, width, height, end].iter().for_each(|piece| self.check(*piece));
        if y != y_before {
            self.put(y.spelt);
            if alike {
                return self.repeat(behind_row, x.bytes + y.bytes + behind_row);
            }
            self.put(width.spelt);
        } else if alike {
            return self.repeat(y.bytes + behind_row, x.bytes + y.bytes + behind_row);
        } else {
            // The space before the width goes with the row.
            self.repeat(y.bytes + 1, x.bytes + y.bytes + behind_row_before);
            self.put(width.without_space().spelt);
        }
        let so_far = x.bytes + y.bytes + width.bytes;
        if height == height_before {
            return self.repeat(behind_width, so_far + behind_width);
        }
        self.put(height.spelt);
        self.repeat(end.bytes, so_far + height.bytes + end.bytes);
    }

    /// The stream, whole; nothing if there is no code in it. The bytes of an error are those that it cannot spell.
    pub(in crate::writers::pdf) fn finish(mut self) -> Option<Vec<u8>> {
        match TABLE.literal(256) {
            Some(end) if !self.unspelt => self.put(end),
            Some(_) | None => return None,
        }
        if !self.begun {
            return Some(Vec::new());
        }
        let spelt = usize::try_from(self.held.div_ceil(8)).unwrap_or_default();
        super::super::content::push_first(&mut self.bytes, self.bits.to_le_bytes(), spelt);
        let (sum, weighted) = (self.sums.0 % ADLER, self.sums.1 % ADLER);
        let check = u32::try_from(weighted << 16 | sum).unwrap_or_default();
        self.bytes.extend_from_slice(&check.to_be_bytes());
        Some(self.bytes)
    }

    /// Bytes as they are.
    fn whole(&mut self, piece: Piece) {
        self.check(piece);
        self.put(piece.spelt);
    }

    fn check(&mut self, piece: Piece) {
        let (sum, weighted) = self.sums;
        let weighted = weighted + u64::from(piece.bytes) * sum + u64::from(piece.weighted);
        self.sums = ((sum + u64::from(piece.sum)), weighted % ADLER);
    }

    /// So many bytes as they stand so far back.
    fn repeat(&mut self, bytes: u32, back: u32) {
        let (length, distance) = (TABLE.lengths.get(bytes as usize), TABLE.distances.get(back as usize));
        match (length, distance) {
            (Some(Some(length)), Some(Some(distance))) => {
                self.put(*length);
                self.put(*distance);
            }
            _ => self.unspelt = true,
        }
    }

    fn put(&mut self, bits: Bits) {
        self.bits |= u64::from(bits.bits) << self.held;
        self.held += bits.count;
        if self.held >= 32 {
            super::super::content::push_first(&mut self.bytes, self.bits.to_le_bytes(), 4);
            self.bits >>= 32;
            self.held -= 32;
        }
    }
}

impl Bits {
    /// These bits and then others.
    const fn and(self, then: Self) -> Self {
        Self { bits: self.bits | then.bits << self.count, count: self.count + then.count }
    }
}

impl Piece {
    fn of(spelt: Bits, text: &[u8]) -> Self {
        let from_here_on = (1..=4).rev().skip(4_usize.saturating_sub(text.len()));
        let weighted = text.iter().zip(from_here_on).map(|(byte, times)| u32::from(*byte) * times).sum();
        let bytes = u32::try_from(text.len()).unwrap_or_default();
        Self { spelt, bytes, sum: text.iter().map(|byte| u32::from(*byte)).sum(), weighted }
    }

    /// A number without the space before it.
    fn without_space(self) -> Self {
        let space = TABLE.space;
        let Bits { bits, count } = self.spelt;
        Self {
            spelt: Bits { bits: bits >> space.spelt.count, count: count - space.spelt.count },
            bytes: self.bytes - 1,
            sum: self.sum - space.sum,
            weighted: self.weighted - space.sum * self.bytes,
        }
    }
}

/// All that is written, spelt before.
struct Table {
    /// The head of a block with its Huffman codes.
    header: Vec<Bits>,
    literals: Vec<Option<Bits>>,
    /// Repetitions by their number of bytes, and by how far back they stand.
    lengths: Vec<Option<Bits>>,
    distances: Vec<Option<Bits>>,
    /// Each number with a space before it.
    numbers: Vec<Piece>,
    end: Piece,
    space: Piece,
}

static TABLE: LazyLock<Table> = LazyLock::new(Table::new);

/// First value of each class of lengths from 257, and of distances from 0, with the bits that tell its values apart.
const LENGTH_CLASSES: [(usize, u32); 12] =
    [(3, 0), (4, 0), (5, 0), (6, 0), (7, 0), (8, 0), (9, 0), (10, 0), (11, 1), (13, 1), (15, 1), (17, 1)];
const DISTANCE_CLASSES: [(usize, u32); 11] =
    [(1, 0), (2, 0), (3, 0), (4, 0), (5, 1), (7, 1), (9, 2), (13, 2), (17, 3), (25, 3), (33, 4)];

impl Table {
    fn new() -> Self {
        let literals = huffman(&LENGTHS, 269);
        let text = |text: &[u8]| {
            let bits = text.iter().filter_map(|byte| literals.get(usize::from(*byte)).copied().flatten());
            Piece::of(bits.fold(Bits::default(), Bits::and), text)
        };
        let numbers = (0..=LARGEST).map(|number| text(format!(" {number}").as_bytes())).collect();
        Self {
            header: header(),
            lengths: repetitions(&LENGTH_CLASSES, literals.get(257..).unwrap_or_default()),
            distances: repetitions(&DISTANCE_CLASSES, &huffman(&DISTANCES, 11)),
            numbers,
            end: text(END),
            space: text(b" "),
            literals,
        }
    }

    fn literal(&self, symbol: u16) -> Option<Bits> {
        self.literals.get(usize::from(symbol)).copied().flatten()
    }
}

/// The codes of so many symbols, from their lengths alone (RFC 1951, 3.2.2), each beginning with its last bit.
fn huffman(lengths: &[(u16, u8)], symbols: usize) -> Vec<Option<Bits>> {
    let mut codes = vec![None; symbols];
    let (mut code, mut long) = (0_u32, 0);
    let mut sorted = lengths.to_vec();
    sorted.sort_unstable_by_key(|(symbol, length)| (*length, *symbol));
    for (symbol, length) in sorted {
        let count = u32::from(length);
        code <<= count - long;
        long = count;
        if let Some(slot) = codes.get_mut(usize::from(symbol)) {
            *slot = Some(Bits { bits: code.reverse_bits() >> (32 - count), count });
        }
        code += 1;
    }
    codes
}

/// The bits of every value of some classes, by the value.
fn repetitions(classes: &[(usize, u32)], codes: &[Option<Bits>]) -> Vec<Option<Bits>> {
    let mut values = Vec::new();
    for (&(first, more), code) in classes.iter().zip(codes) {
        values.resize(first, None);
        let spelt = (0..1_u32 << more).map(|bits| code.map(|code| code.and(Bits { bits, count: more })));
        values.extend(spelt);
    }
    values
}

/// The head of a last block with Huffman codes of its own (RFC 1951, 3.2.7). The lengths of these are themselves spelt in
/// four bits each: 0 to 13 as they are, 17 and 18 for many zeros.
fn header() -> Vec<Bits> {
    let mut header = vec![
        Bits { bits: 0b101, count: 3 },
        Bits { bits: 269 - 257, count: 5 },
        Bits { bits: 11 - 1, count: 5 },
        Bits { bits: 19 - 4, count: 4 },
    ];
    // In this order the format asks for the lengths of the codes of lengths.
    let order = [16, 17, 18, 0, 8, 7, 9, 6, 10, 5, 11, 4, 12, 3, 13, 2, 14, 1, 15];
    let spelt: Vec<(u16, u8)> = (0..=13).chain([17, 18]).map(|symbol| (symbol, 4)).collect();
    let length = |symbol: u16| if spelt.iter().any(|(own, _)| *own == symbol) { 4 } else { 0 };
    header.extend(order.map(|symbol| Bits { bits: length(symbol), count: 3 }));
    let codes = huffman(&spelt, 19);
    let lengths = of_all(&LENGTHS, 269).into_iter().chain(of_all(&DISTANCES, 11)).collect::<Vec<u8>>();
    let mut push = |symbol: u8, more: Bits| {
        header.extend(codes.get(usize::from(symbol)).copied().flatten());
        header.push(more);
    };
    for run in lengths.chunk_by(|one, other| one == other && *one == 0) {
        match (run.first().copied().unwrap_or_default(), u32::try_from(run.len()).unwrap_or_default()) {
            (0, zeros @ 3..=10) => push(17, Bits { bits: zeros - 3, count: 3 }),
            (0, zeros @ 11..=138) => push(18, Bits { bits: zeros - 11, count: 7 }),
            (length, times) => (0..times).for_each(|_| push(length, Bits::default())),
        }
    }
    header
}

/// The lengths of so many symbols in order, zero for those without a code.
fn of_all(lengths: &[(u16, u8)], symbols: u16) -> Vec<u8> {
    let of = |symbol| lengths.iter().find(|(own, _)| *own == symbol).map_or(0, |(_, length)| *length);
    (0..symbols).map(of).collect()
}

#[cfg(test)]
mod tests {
    use std::io::Read;

    use proptest::prelude::*;

    use super::*;

    /// What another's inflater makes of it; it also compares the checksum.
    fn inflated(codes: Codes) -> String {
        let mut text = String::new();
        flate2::read::ZlibDecoder::new(&*codes.finish().unwrap()).read_to_string(&mut text).unwrap();
        text
    }

    fn number() -> impl Strategy<Value = usize> {
        prop_oneof![4 => 0_usize..4, 2 => 0_usize..30, 1 => 0..=LARGEST]
    }

    proptest! {
        #[test]
        fn boxes_come_back_whatever_they_repeat(
            boxes in prop::collection::vec((number(), number(), number(), number()), 0..400),
            codes in 1_usize..5,
        ) {
            let (mut stream, mut expected) = (Codes::new(), String::new());
            for _ in 0..codes {
                stream.begin(b"q\n0 -1 1 0 -12.5 5 cm\n");
                expected.push_str("q\n0 -1 1 0 -12.5 5 cm\n");
                for &(x, y, width, height) in &boxes {
                    stream.push_box([x, y, width, height]);
                    expected.push_str(&format!("{x} {y} {width} {height} re\n"));
                }
                stream.push(b"f\nQ\n");
                expected.push_str("f\nQ\n");
            }
            prop_assert_eq!(inflated(stream), expected);
        }
    }

    #[test]
    fn a_set_of_codes_leaves_nothing_out_and_nothing_over() {
        // Kraft's equality: some inflaters refuse any other set.
        for lengths in [&LENGTHS[..], &DISTANCES[..]] {
            assert_eq!(lengths.iter().map(|(_, length)| 1 << (15 - length)).sum::<u32>(), 1 << 15);
        }
    }

    #[test]
    fn what_has_no_code_is_refused_rather_than_left_out() {
        let mut codes = Codes::new();
        codes.begin(b"/Span BDC\n");
        assert_eq!(codes.finish(), None);
        let mut codes = Codes::new();
        codes.push_box([0, 0, LARGEST + 1, 1]);
        assert_eq!(codes.finish(), None);
        assert_eq!(Codes::new().finish(), Some(Vec::new()));
    }
}
