//! The font cut down to the characters that a file uses.

use std::collections::{BTreeMap, BTreeSet};

use subsetter::GlyphRemapper;

use crate::font;
use crate::sheet::model::{Face, Mark};

use super::ExportFault;

/// The characters that marks use, for each weight.
pub type Characters = BTreeMap<Face, BTreeSet<char>>;

/// Adds the characters of `marks` to `characters`.
pub fn collect(marks: &[Mark], characters: &mut Characters) {
    for mark in marks {
        match mark {
            Mark::Text(text) => characters.entry(text.face).or_default().extend(text.text.chars()),
            Mark::Clip { marks, .. } | Mark::Stamp { marks, .. } => collect(marks, characters),
            Mark::Group(group) => collect(&group.marks, characters),
            Mark::Stroke { .. } | Mark::Fill { .. } | Mark::Tiles { .. } | Mark::Link { .. } => {}
        }
    }
}

/// One weight, cut down. Measures are in font units.
#[derive(Clone, Debug)]
pub struct CutFont {
    /// Which weight.
    pub face: Face,
    /// The PostScript name with its tag of six capitals (ISO 32000-1, 9.6.4).
    pub name: String,
    /// Each character's glyph in the cut font.
    pub glyphs: BTreeMap<char, u16>,
    /// Each glyph's advance.
    pub advances: BTreeMap<u16, u16>,
    /// The TrueType program, without a character map.
    pub program: Vec<u8>,
}

/// Cuts a weight down to `characters`.
///
/// # Errors
/// When the font lacks one of the characters.
pub fn cut(face: Face, characters: &BTreeSet<char>) -> Result<CutFont, ExportFault> {
    let fault = |message: String| ExportFault::of(format!("font {}", base_name(face)), message);
    let mut remapper = GlyphRemapper::new();
    let mut glyphs = BTreeMap::new();
    let mut advances = BTreeMap::new();
    for &character in characters {
        let old = font::glyph(face, character).ok_or_else(|| fault(format!("no character {character:?}")))?;
        let new = remapper.remap(old.id);
        glyphs.insert(character, new);
        advances.insert(new, old.advance);
    }
    let program = subsetter::subset(font::bytes(face), 0, &remapper).map_err(|e| fault(e.to_string()))?;
    let name = format!("{}+{}", tag(characters), base_name(face));
    Ok(CutFont { face, name, glyphs, advances, program })
}

const fn base_name(face: Face) -> &'static str {
    match face {
        Face::Regular => "IBMPlexSansCondensed-Regular",
        Face::SemiBold => "IBMPlexSansCondensed-SemiBold",
    }
}

/// Six capitals that differ when the characters differ.
fn tag(characters: &BTreeSet<char>) -> String {
    let bytes: Vec<u8> = characters.iter().flat_map(|c| u32::from(*c).to_be_bytes()).collect();
    let mut rest = super::fingerprint(&bytes);
    let mut tag = String::new();
    for _ in 0..6 {
        tag.push(char::from(b'A' + (rest % 26) as u8));
        rest /= 26;
    }
    tag
}
