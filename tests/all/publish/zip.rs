//! Zip files built byte by byte, in which every number can be another than it should be.

use std::io::Write;

use flate2::Compression;
use flate2::write::DeflateEncoder;

/// A header of an entry, as it stands in front of it or in the directory.
#[derive(Clone)]
pub struct Header {
    pub name: Vec<u8>,
    pub flags: u16,
    pub method: u16,
    pub checksum: u32,
    pub packed: u32,
    pub size: u32,
    pub extra: Vec<u8>,
    pub sign: u32,
}

/// An entry.
#[derive(Clone)]
pub struct Item {
    /// What stands in front of it.
    pub local: Header,
    /// What the directory says.
    pub listed: Header,
    /// The bytes between its header and the next.
    pub data: Vec<u8>,
    pub disk: u16,
    pub attributes: u32,
    /// Bytes in front of it that belong to nobody.
    pub before: Vec<u8>,
    /// Where the directory says that it stands, less where it does.
    pub moved: i64,
}

/// A zip file.
#[derive(Clone, Default)]
pub struct Zip {
    pub items: Vec<Item>,
    /// Added to the counts of the end record: on this disk, and in all.
    pub miscount: (i32, i32),
    pub disks: (u16, u16),
    pub before_directory: Vec<u8>,
    pub behind_directory: Vec<u8>,
    pub comment: Vec<u8>,
    pub behind: Vec<u8>,
    /// Added to the directory's length and place in the end record.
    pub directory_moved: (i64, i64),
}

/// Packed by deflate.
pub fn deflated(bytes: &[u8]) -> Vec<u8> {
    let mut packer = DeflateEncoder::new(Vec::new(), Compression::best());
    packer.write_all(bytes).expect("memory takes it");
    packer.finish().expect("memory takes it")
}

impl Item {
    /// A file as it is.
    pub fn stored(name: &str, bytes: &[u8]) -> Self {
        Self::of(name.as_bytes(), 0, bytes.to_vec(), bytes)
    }

    /// A file that is deflated.
    pub fn deflated(name: &str, bytes: &[u8]) -> Self {
        Self::of(name.as_bytes(), 8, deflated(bytes), bytes)
    }

    fn of(name: &[u8], method: u16, data: Vec<u8>, bytes: &[u8]) -> Self {
        let header = Header {
            name: name.to_vec(),
            flags: if name.is_ascii() { 0 } else { 0x0800 },
            method,
            checksum: crc32fast::hash(bytes),
            packed: data.len() as u32,
            size: bytes.len() as u32,
            extra: Vec::new(),
            sign: 0x0403_4b50,
        };
        let listed = Header { sign: 0x0201_4b50, ..header.clone() };
        Self { local: header, listed, data, disk: 0, attributes: 0o100_644 << 16, before: Vec::new(), moved: 0 }
    }

    /// Says the same otherwise in both headers.
    pub fn both(mut self, change: impl Fn(&mut Header)) -> Self {
        change(&mut self.local);
        change(&mut self.listed);
        self
    }
}

impl Zip {
    /// The bytes of the file.
    pub fn bytes(&self) -> Vec<u8> {
        let (mut out, mut directory) = (Vec::new(), Vec::new());
        for item in &self.items {
            out.extend(&item.before);
            let at = out.len();
            put_header(&mut out, &item.local);
            out.extend((item.local.name.len() as u16).to_le_bytes());
            out.extend((item.local.extra.len() as u16).to_le_bytes());
            out.extend(&item.local.name);
            out.extend(&item.local.extra);
            out.extend(&item.data);
            self.put_line(&mut directory, item, at);
        }
        out.extend(&self.before_directory);
        let at = out.len();
        out.extend(&directory);
        out.extend(&self.behind_directory);
        let count = |off: i32| ((self.items.len() as i32 + off) as u16).to_le_bytes();
        out.extend(0x0605_4b50_u32.to_le_bytes());
        out.extend(self.disks.0.to_le_bytes());
        out.extend(self.disks.1.to_le_bytes());
        out.extend(count(self.miscount.0));
        out.extend(count(self.miscount.1));
        out.extend(((directory.len() as i64 + self.directory_moved.0) as u32).to_le_bytes());
        out.extend(((at as i64 + self.directory_moved.1) as u32).to_le_bytes());
        out.extend((self.comment.len() as u16).to_le_bytes());
        out.extend(&self.comment);
        out.extend(&self.behind);
        out
    }

    fn put_line(&self, directory: &mut Vec<u8>, item: &Item, at: usize) {
        directory.extend(item.listed.sign.to_le_bytes());
        directory.extend([20, 3]);
        let mut header = Vec::new();
        put_header(&mut header, &item.listed);
        directory.extend(&header[4..]);
        directory.extend((item.listed.name.len() as u16).to_le_bytes());
        directory.extend((item.listed.extra.len() as u16).to_le_bytes());
        directory.extend([0, 0]);
        directory.extend(item.disk.to_le_bytes());
        directory.extend([0, 0]);
        directory.extend(item.attributes.to_le_bytes());
        directory.extend(((at as i64 + item.moved) as u32).to_le_bytes());
        directory.extend(&item.listed.name);
        directory.extend(&item.listed.extra);
    }
}

/// A header from its sign to its sizes.
fn put_header(out: &mut Vec<u8>, header: &Header) {
    out.extend(header.sign.to_le_bytes());
    for small in [20, header.flags, header.method, 0, 0x21] {
        out.extend(small.to_le_bytes());
    }
    for large in [header.checksum, header.packed, header.size] {
        out.extend(large.to_le_bytes());
    }
}
