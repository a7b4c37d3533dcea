//! Sheets, plans and changes to bytes: one file format per file.
//!
//! The PDF and the SVG of a sheet are the same display list; neither adds a mark nor leaves one
//! out. What the formats would pass over in silence (a character that the font lacks, a link to
//! nowhere, a place off the paper) is refused here with an [`ExportFault`].

mod check;
pub mod csv;
mod decimal;
mod font;
pub mod json;
pub mod pdf;
mod print;
pub mod svg;
pub mod text;
mod webfont;
mod xml;

use std::fmt;

/// Why a file cannot be written: a fault in the sheets, never in the reader's file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ExportFault {
    /// The sheet's key, or the set's title when it concerns no one sheet.
    pub sheet: String,
    /// What is wrong with it, in one sentence.
    pub message: String,
}

impl ExportFault {
    /// A fault of a sheet, or of what else is named.
    pub fn of(sheet: impl Into<String>, message: impl Into<String>) -> Self {
        ExportFault { sheet: sheet.into(), message: message.into() }
    }
}

impl fmt::Display for ExportFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "sheet {}: {}", self.sheet, self.message)
    }
}

impl std::error::Error for ExportFault {}

/// A 128-bit fingerprint (FNV-1a): equal bytes give equal fingerprints in every run and on every
/// machine, which is all that a file's id and a font's tag need.
fn fingerprint(bytes: &[u8]) -> u128 {
    const OFFSET: u128 = 0x6c62_272e_07bb_0142_62b8_2175_6295_c58d;
    const PRIME: u128 = 0x0000_0000_0100_0000_0000_0000_0000_013b;
    bytes.iter().fold(OFFSET, |hash, byte| (hash ^ u128::from(*byte)).wrapping_mul(PRIME))
}
