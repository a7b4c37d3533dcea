//! A cut font as a file that browsers take: with a character map and the measures that PDF
//! readers do without.
//!
//! Tables after the OpenType specification: the table directory, `cmap` format 4, `head`'s
//! checksum.

use super::font::CutFont;

type Table = ([u8; 4], Vec<u8>);

/// Where `head` holds the adjustment that makes the whole file's checksum come out.
const ADJUSTMENT: std::ops::Range<usize> = 8..12;

/// The TrueType file.
pub fn write(font: &CutFont) -> Vec<u8> {
    let mut tables = read(&font.program);
    tables.retain(|(tag, _)| !matches!(tag, b"cmap" | b"OS/2"));
    tables.push((*b"cmap", character_map(font)));
    let whole = crate::font::face(font.face).raw_face();
    if let Some(measures) = whole.table(ttf_parser::Tag::from_bytes(b"OS/2")) {
        tables.push((*b"OS/2", measures.to_vec()));
    }
    tables.sort();
    assemble(tables)
}

fn read(file: &[u8]) -> Vec<Table> {
    let Ok(face) = ttf_parser::RawFace::parse(file, 0) else { return Vec::new() };
    let table = |record: ttf_parser::TableRecord| {
        let bytes = face.table(record.tag).unwrap_or_default();
        (record.tag.to_bytes(), bytes.to_vec())
    };
    face.table_records.into_iter().map(table).collect()
}

/// One segment for each character; the font has none beyond the basic plane.
fn character_map(font: &CutFont) -> Vec<u8> {
    let pairs =
        font.glyphs.iter().filter_map(|(c, glyph)| Some((u16::try_from(u32::from(*c)).ok()?, *glyph)));
    // The last segment must be U+FFFF, mapped to the missing glyph.
    let pairs: Vec<(u16, u16)> = pairs.filter(|(c, _)| *c != u16::MAX).chain([(u16::MAX, 0)]).collect();
    let count = pairs.len() as u16;
    let power = 1 << count.ilog2();
    let mut map = Vec::new();
    let length = 16 + 8 * count;
    let head = [0, 1, 3, 1, 0, 12];
    let format = [4, length, 0, count * 2, power * 2, power.ilog2() as u16, (count - power) * 2];
    let mut word = |value: u16| map.extend(value.to_be_bytes());
    head.into_iter().chain(format).for_each(&mut word);
    pairs.iter().for_each(|(c, _)| word(*c));
    word(0);
    pairs.iter().for_each(|(c, _)| word(*c));
    pairs.iter().for_each(|(c, glyph)| word(glyph.wrapping_sub(*c)));
    pairs.iter().for_each(|_| word(0));
    map
}

fn assemble(mut tables: Vec<Table>) -> Vec<u8> {
    for (_, head) in tables.iter_mut().filter(|(tag, _)| tag == b"head") {
        if let Some(adjustment) = head.get_mut(ADJUSTMENT) {
            adjustment.fill(0);
        }
    }
    let count = tables.len() as u16;
    let power = 1u16 << count.max(1).ilog2();
    let mut file = Vec::new();
    file.extend([0, 1, 0, 0]);
    for value in [count, power * 16, power.ilog2() as u16, (count - power) * 16] {
        file.extend(value.to_be_bytes());
    }
    let mut offset = file.len() + 16 * tables.len();
    let mut head_at = None;
    for (tag, table) in &tables {
        if tag == b"head" {
            head_at = Some(offset);
        }
        file.extend(tag);
        for value in [checksum(table), offset as u32, table.len() as u32] {
            file.extend(value.to_be_bytes());
        }
        offset += table.len().next_multiple_of(4);
    }
    for (_, table) in &tables {
        file.extend(table);
        file.resize(file.len().next_multiple_of(4), 0);
    }
    let adjustment = 0xb1b0_afbau32.wrapping_sub(checksum(&file)).to_be_bytes();
    if let Some(place) = head_at.and_then(|at| file.get_mut(at + ADJUSTMENT.start..at + ADJUSTMENT.end)) {
        place.copy_from_slice(&adjustment);
    }
    file
}

fn checksum(bytes: &[u8]) -> u32 {
    let word = |four: &[u8]| {
        four.iter().enumerate().fold(0, |sum, (i, byte)| sum | u32::from(*byte) << (24 - 8 * i))
    };
    bytes.chunks(4).fold(0, |sum: u32, four| sum.wrapping_add(word(four)))
}
