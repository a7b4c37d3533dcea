//! A picture as files carry it: no finer than paper shows it.

use crate::picture::Picture;
use crate::units::Length;

/// Pixels to an inch of paper. Printers part about so many greys from one another.
const FINENESS: i64 = 180;

/// The picture at the fineness of print, for a size on paper.
pub fn printed(picture: &Picture, width: Length, height: Length) -> Picture {
    let pixels = |length: Length| (length * FINENESS).div_ceil(Length::inches(1)).clamp(1, 100_000) as u32;
    picture.within(pixels(width), pixels(height))
}

/// The picture as a PNG file.
///
/// # Errors
/// In a sentence, when it cannot be written; it then has no pixels.
pub fn png(picture: &Picture) -> Result<Vec<u8>, String> {
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, picture.width(), picture.height());
    encoder.set_color(png::ColorType::Rgb);
    encoder.set_depth(png::BitDepth::Eight);
    let fault = |error: png::EncodingError| format!("a picture cannot be written: {error}");
    let mut writer = encoder.write_header().map_err(fault)?;
    writer.write_image_data(picture.pixels()).map_err(fault)?;
    writer.finish().map_err(fault)?;
    Ok(bytes)
}

/// The compressed rows of a PNG file, which a PDF takes as they are (ISO 32000-1, 7.4.4.4).
pub fn rows(png: &[u8]) -> Vec<u8> {
    let mut rows = Vec::new();
    let mut rest = png.get(8..).unwrap_or_default();
    // A chunk: length, four letters, data, checksum (ISO/IEC 15948, 5.3).
    while let Some((length, after)) = rest.split_first_chunk::<4>() {
        let length = u32::from_be_bytes(*length) as usize;
        let (Some(name), Some(data)) = (after.get(..4), after.get(4..4 + length)) else { break };
        if name == b"IDAT" {
            rows.extend_from_slice(data);
        }
        rest = after.get(length + 8..).unwrap_or_default();
    }
    rows
}
