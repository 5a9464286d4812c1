//! The stream of objects: each goes out as it is finished, its offset is kept, and the table of offsets comes last.

use std::hash::Hasher;
use std::io::{self, Write};

use siphasher::sip128::{Hasher128, SipHasher13};

/// The number of an object.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Id(u32);

impl Id {
    /// The number itself, as `lopdf` wants it.
    pub(super) fn number(self) -> u32 {
        self.0
    }

    /// The reference of this object from another: `7 0 R`.
    pub(super) fn reference(self) -> String {
        format!("{} 0 R", self.0)
    }
}

/// Offsets beyond this have no room in the ten digits of a table entry (ISO 32000-1, 7.5.4).
const LAST_OFFSET: u64 = 9_999_999_999;

/// Objects on their way out.
pub(super) struct Objects<W: Write> {
    out: W,
    written: u64,
    /// Offset of each object by its number less one; zero until it is written.
    offsets: Vec<u64>,
    /// Of everything written, so that the identity of a document follows from its content. It tells versions of a
    /// document apart and guards nothing, and SHA-256 without the help of a processor takes twenty times as long.
    digest: SipHasher13,
}

impl<W: Write> Objects<W> {
    /// Writes the header of a version; the second line tells file transfers that the rest is binary.
    pub(super) fn begin(out: W, version: &str) -> io::Result<Self> {
        let mut objects = Self { out, written: 0, offsets: Vec::new(), digest: SipHasher13::new() };
        objects.put(format!("%PDF-{version}\n").as_bytes())?;
        objects.put(b"%\xE2\xE3\xCF\xD3\n")?;
        Ok(objects)
    }

    /// A number for an object that is written later.
    pub(super) fn reserve(&mut self) -> Id {
        self.offsets.push(0);
        Id(u32::try_from(self.offsets.len()).unwrap_or(u32::MAX))
    }

    /// Writes an object whose text is given.
    pub(super) fn object(&mut self, id: Id, body: &[u8]) -> io::Result<()> {
        self.open(id)?;
        self.put(body)?;
        self.put(b"\nendobj\n")
    }

    /// Writes a stream of bytes already deflated; `entries` stand in its dictionary beside length and filter.
    pub(super) fn deflated_stream(&mut self, id: Id, entries: &str, deflated: &[u8]) -> io::Result<()> {
        self.plain_stream(id, &format!("{entries}/Filter/FlateDecode"), deflated)
    }

    /// Writes a stream of bytes as they are.
    pub(super) fn plain_stream(&mut self, id: Id, entries: &str, bytes: &[u8]) -> io::Result<()> {
        self.open(id)?;
        self.put(format!("<<{entries}/Length {}>>\nstream\n", bytes.len()).as_bytes())?;
        self.put(bytes)?;
        self.put(b"\nendstream\nendobj\n")
    }

    /// What identifies the document as far as it is written: 16 bytes that follow from it, in hexadecimal digits.
    pub(super) fn identity(&self) -> String {
        format!("{:032X}", self.digest.finish128().as_u128())
    }

    /// Writes the table of offsets and the trailer, and flushes; returns the bytes of the whole document.
    pub(super) fn finish(mut self, catalog: Id, info: Id) -> io::Result<u64> {
        let identity = self.identity();
        let table = self.written;
        let size = self.offsets.len() + 1;
        let mut end = format!("xref\n0 {size}\n0000000000 65535 f \n").into_bytes();
        for offset in &self.offsets {
            writeln!(end, "{offset:010} {} ", if *offset == 0 { "65535 f" } else { "00000 n" })?;
        }
        let (root, info) = (catalog.reference(), info.reference());
        writeln!(end, "trailer\n<</Size {size}/Root {root}/Info {info}/ID[<{identity}><{identity}>]>>")?;
        write!(end, "startxref\n{table}\n%%EOF\n")?;
        self.put(&end)?;
        self.out.flush()?;
        Ok(self.written)
    }

    fn open(&mut self, id: Id) -> io::Result<()> {
        if self.written > LAST_OFFSET {
            return Err(io::Error::new(io::ErrorKind::FileTooLarge, "the document grows beyond ten gigabytes"));
        }
        if let Some(offset) = self.offsets.get_mut(id.0 as usize - 1) {
            *offset = self.written;
        }
        self.put(format!("{} 0 obj\n", id.0).as_bytes())
    }

    fn put(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.out.write_all(bytes)?;
        self.digest.write(bytes);
        self.written += bytes.len() as u64;
        Ok(())
    }
}
