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
    static REGULAR: OnceLock<ttf_parser::Face<'static>> = OnceLock::new();
    static SEMI_BOLD: OnceLock<ttf_parser::Face<'static>> = OnceLock::new();
    let slot = match face {
        Face::Regular => &REGULAR,
        Face::SemiBold => &SEMI_BOLD,
    };
    slot.get_or_init(|| ttf_parser::Face::parse(bytes(face), 0).expect("the fonts in the tree are sound"))
}
