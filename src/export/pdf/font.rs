//! A cut font as the objects of a PDF: a composite font whose codes are glyph numbers (ISO 32000-1,
//! 9.7), with the map from these to text that searching and copying need.

use std::fmt::Write;

use lopdf::{Document, Object, ObjectId, dictionary};

use super::super::font::CutFont;
use super::packed;
use crate::font;
use crate::sheet::model::Face;

/// The name that a font goes by in a page's resources.
pub const fn name(face: Face) -> &'static str {
    match face {
        Face::Regular => "Regular",
        Face::SemiBold => "SemiBold",
    }
}

/// Adds a font and returns its object.
///
/// # Errors
/// When its program cannot be compressed.
pub fn add(document: &mut Document, cut: &CutFont) -> lopdf::Result<ObjectId> {
    let whole = font::face(cut.face);
    let em = i64::from(whole.units_per_em()).max(1);
    // Glyph space has a thousand units to the em.
    let scaled = |units: i64| (units * 2000 + em).div_euclid(em * 2);
    let program = dictionary! { "Length1" => cut.program.len() as i64 };
    let program = document.add_object(packed(program, &cut.program)?);
    let map = document.add_object(packed(lopdf::Dictionary::new(), to_unicode(cut).as_bytes())?);
    let bounds = whole.global_bounding_box();
    let sides = [bounds.x_min, bounds.y_min, bounds.x_max, bounds.y_max];
    let weight = i64::from(whole.weight().to_number());
    let descriptor = dictionary! {
        "Type" => "FontDescriptor",
        "FontName" => cut.name.as_str(),
        // Nonsymbolic.
        "Flags" => 32,
        "FontBBox" => sides.map(|side| Object::Integer(scaled(side.into()))).to_vec(),
        "ItalicAngle" => 0,
        "Ascent" => scaled(whole.ascender().into()),
        "Descent" => scaled(whole.descender().into()),
        "CapHeight" => scaled(whole.capital_height().unwrap_or(whole.ascender()).into()),
        // The usual estimate from the weight; from memory.
        "StemV" => 50 + weight * weight / (65 * 65),
        "FontFile2" => program,
    };
    let descriptor = document.add_object(descriptor);
    let last = cut.advances.keys().next_back().copied().unwrap_or(0);
    let advance = |glyph: u16| cut.advances.get(&glyph).map_or(0, |advance| scaled((*advance).into()));
    let widths: Vec<Object> = (1..=last).map(|glyph| advance(glyph).into()).collect();
    let descendant = dictionary! {
        "Type" => "Font",
        "Subtype" => "CIDFontType2",
        "BaseFont" => cut.name.as_str(),
        "CIDSystemInfo" => dictionary! {
            "Registry" => Object::string_literal("Adobe"),
            "Ordering" => Object::string_literal("Identity"),
            "Supplement" => 0,
        },
        "W" => vec![1.into(), widths.into()],
        "FontDescriptor" => descriptor,
        "CIDToGIDMap" => "Identity",
    };
    let descendant = document.add_object(descendant);
    Ok(document.add_object(dictionary! {
        "Type" => "Font",
        "Subtype" => "Type0",
        "BaseFont" => cut.name.as_str(),
        "Encoding" => "Identity-H",
        "DescendantFonts" => vec![descendant.into()],
        "ToUnicode" => map,
    }))
}

/// Which text each glyph stands for (ISO 32000-1, 9.10.3); at most a hundred in one list.
fn to_unicode(cut: &CutFont) -> String {
    let mut map = "/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n\
                   /CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def\n\
                   /CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n\
                   1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n"
        .to_owned();
    let glyphs: Vec<(&char, &u16)> = cut.glyphs.iter().collect();
    for list in glyphs.chunks(100) {
        // Writing to a text cannot fail.
        let _ = writeln!(map, "{} beginbfchar", list.len());
        for (character, glyph) in list {
            let _ = write!(map, "<{glyph:04X}> <");
            character.encode_utf16(&mut [0; 2]).iter().for_each(|unit| {
                let _ = write!(map, "{unit:04X}");
            });
            map.push_str(">\n");
        }
        map.push_str("endbfchar\n");
    }
    map.push_str("endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n");
    map
}
