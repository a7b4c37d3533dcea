//! The two weights of the font: their bytes, and the advances that text is measured with.

use std::sync::OnceLock;

use crate::sheet::model::Face;

/// The TrueType file of a weight.
pub const fn bytes(face: Face) -> &'static [u8] {
    match face {
        Face::Regular => include_bytes!("../fonts/IBMPlexSansCondensed-Regular.ttf"),
        Face::SemiBold => include_bytes!("../fonts/IBMPlexSansCondensed-SemiBold.ttf"),
    }
}

/// The parsed font of a weight.
pub fn face(face: Face) -> &'static ttf_parser::Face<'static> {
    &loaded(face).face
}

/// The shape of a character in one weight.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Glyph {
    /// Its number in the font.
    pub id: u16,
    /// How far it moves the next one, in font units.
    pub advance: u16,
}

/// The glyph of a character; `None` when the font lacks it.
///
/// ```
/// use clothwright::font;
/// use clothwright::sheet::model::Face;
/// assert!(font::glyph(Face::Regular, '⅜').is_some());
/// assert!(font::glyph(Face::Regular, '布').is_none());
/// ```
pub fn glyph(face: Face, character: char) -> Option<Glyph> {
    let Loaded { glyphs, low, .. } = loaded(face);
    if let Some(known) = low.get(character as usize) {
        return *known;
    }
    let index = glyphs.binary_search_by_key(&character, |(known, _)| *known).ok()?;
    Some(glyphs[index].1)
}

struct Loaded {
    face: ttf_parser::Face<'static>,
    /// Every character of the font with its glyph, in order: a sheet asks for thousands, and the
    /// font's own map is slow to search.
    glyphs: Vec<(char, Glyph)>,
    /// The same for the first characters of Unicode, which most text is made of, by their number.
    low: Vec<Option<Glyph>>,
}

/// One past the last character of [`Loaded::low`]: the Latin letters with accents.
const LOW: usize = 0x180;

fn loaded(face: Face) -> &'static Loaded {
    static REGULAR: OnceLock<Loaded> = OnceLock::new();
    static SEMI_BOLD: OnceLock<Loaded> = OnceLock::new();
    let slot = match face {
        Face::Regular => &REGULAR,
        Face::SemiBold => &SEMI_BOLD,
    };
    slot.get_or_init(|| load(bytes(face)))
}

fn load(bytes: &'static [u8]) -> Loaded {
    let face = ttf_parser::Face::parse(bytes, 0).expect("the fonts in the tree are sound");
    let mut characters = Vec::new();
    for subtable in face.tables().cmap.iter().flat_map(|map| map.subtables).filter(|map| map.is_unicode()) {
        subtable.codepoints(|code| characters.extend(char::from_u32(code)));
    }
    characters.sort_unstable();
    characters.dedup();
    let glyph = |character: char| {
        let id = face.glyph_index(character)?;
        Some((character, Glyph { id: id.0, advance: face.glyph_hor_advance(id)? }))
    };
    let glyphs: Vec<(char, Glyph)> = characters.into_iter().filter_map(glyph).collect();
    let mut low = vec![None; LOW];
    for (character, glyph) in glyphs.iter().take_while(|(character, _)| (*character as usize) < LOW) {
        low[*character as usize] = Some(*glyph);
    }
    Loaded { face, glyphs, low }
}
