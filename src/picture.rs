//! A picture of one repeat of a pattern: read from a PNG file within bounds, and made smaller.
//!
//! Bytes go in and pixels come out; which file they come from is no concern of this module.

use std::io::{self, Cursor, Read};
use std::sync::Arc;

use png::{ColorType, Decoder, Transformations};
use serde::Serialize;
use thiserror::Error;

/// The largest picture file that is read.
pub const MOST_BYTES: usize = 32 << 20;

/// The most pixels that are decoded: a photograph of 6000 by 4000.
const MOST_PIXELS: u64 = 24_000_000;

/// The most pixels along a side that are kept: finer than any sheet shows.
const MOST_KEPT: u32 = 1600;

/// A picture in rows from the top, each from the left, of red, green and blue from 0 to 255.
///
/// It shows one repeat of the cloth, the bolt's length upright and its first cut above, from match line
/// to match line, with the motif in its middle.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Picture {
    width: u32,
    height: u32,
    #[serde(skip)]
    pixels: Arc<[u8]>,
}

/// Why a file is not a picture that can be used.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum PictureFault {
    /// It is another kind of file.
    #[error("it is not a PNG file")]
    NotPng,
    /// The file has more than [`MOST_BYTES`].
    #[error("the file is larger than {} MB", MOST_BYTES >> 20)]
    TooLarge,
    /// More pixels than are decoded.
    #[error("it has {across} × {up} pixels; at most {} million are read", MOST_PIXELS / 1_000_000)]
    TooManyPixels {
        /// Across.
        across: u32,
        /// Up and down.
        up: u32,
    },
    /// Its data goes on far behind the last of its pixels.
    #[error("its data goes on far behind the last of its {across} × {up} pixels")]
    GoesOn {
        /// Across.
        across: u32,
        /// Up and down.
        up: u32,
    },
    /// The file ends too soon, or its data is not what it should be.
    #[error("the PNG file is damaged or cut short")]
    Damaged,
}

impl Picture {
    /// Decodes a PNG file. What is transparent becomes white; a picture finer than any sheet shows is
    /// made smaller.
    ///
    /// # Errors
    /// A [`PictureFault`]. No more than the bounds allow is decoded before it is known.
    pub fn read(bytes: &[u8]) -> Result<Picture, PictureFault> {
        if bytes.len() > MOST_BYTES {
            return Err(PictureFault::TooLarge);
        }
        // The header is judged before anything is decoded: ISO/IEC 15948, 5.2 and 11.2.2.
        let body = bytes.strip_prefix(b"\x89PNG\r\n\x1a\n").ok_or(PictureFault::NotPng)?;
        let number = |at: usize| body.get(at..at + 4).and_then(|four| four.try_into().ok());
        let (Some(b"IHDR"), Some(width), Some(height)) = (body.get(4..8), number(8), number(12)) else {
            return Err(PictureFault::Damaged);
        };
        let (width, height) = (u32::from_be_bytes(width), u32::from_be_bytes(height));
        if u64::from(width) * u64::from(height) > MOST_PIXELS {
            return Err(PictureFault::TooManyPixels { across: width, up: height });
        }
        let (pixels, samples) = decoded(bytes).ok_or(PictureFault::Damaged)?;
        let pixels: Vec<u8> = pixels.chunks_exact(samples).flat_map(on_white).collect();
        if width == 0 || height == 0 || pixels.len() as u64 != u64::from(width) * u64::from(height) * 3 {
            return Err(PictureFault::Damaged);
        }
        // Twice what any kind of PNG has for these pixels: four samples of 16 bits, filters, interlacing.
        if unpacks_beyond(body, 2 * (u64::from(width) * 8 + 1) * u64::from(height)) {
            return Err(PictureFault::GoesOn { across: width, up: height });
        }
        let picture = Picture { width, height, pixels: pixels.into() };
        Ok(picture.within(MOST_KEPT, MOST_KEPT))
    }

    /// Pixels across.
    pub fn width(&self) -> u32 {
        self.width
    }

    /// Pixels up and down.
    pub fn height(&self) -> u32 {
        self.height
    }

    /// The pixels, three bytes each.
    pub fn pixels(&self) -> &[u8] {
        &self.pixels
    }

    /// The mean lightness of all pixels, from 0 to 255, by the weights of ITU-R BT.709.
    pub fn lightness(&self) -> u8 {
        let light = |p: &[u8]| 2126 * u64::from(p[0]) + 7152 * u64::from(p[1]) + 722 * u64::from(p[2]);
        let sum: u64 = self.pixels.chunks_exact(3).map(light).sum();
        let count = 10_000 * (self.pixels.len() as u64 / 3);
        (sum / count.max(1)).min(255) as u8
    }

    /// The picture turned a quarter anticlockwise: what was at the right is above.
    pub fn turned(&self) -> Picture {
        let (width, height) = (self.height, self.width);
        let pixel = |x: u32, y: u32| {
            let at = (x as usize * self.width as usize + (self.width - 1 - y) as usize) * 3;
            self.pixels.get(at..at + 3).unwrap_or_default()
        };
        let places = (0..height).flat_map(|y| (0..width).map(move |x| (x, y)));
        let pixels: Vec<u8> = places.flat_map(|(x, y)| pixel(x, y)).copied().collect();
        Picture { width, height, pixels: pixels.into() }
    }

    /// The picture with at most so many pixels across and up, and no more than it has: each new pixel
    /// is the mean of what it covers, in whole numbers, so that it is the same on every machine.
    pub fn within(&self, across: u32, up: u32) -> Picture {
        let (width, height) = (across.clamp(1, self.width), up.clamp(1, self.height));
        if (width, height) == (self.width, self.height) {
            return self.clone();
        }
        let columns = shares(self.width, width);
        let rows = shares(self.height, height);
        let samples = self.width as usize * 3;
        let weight = u64::from(self.width) * u64::from(self.height);
        let mut pixels = Vec::with_capacity(width as usize * height as usize * 3);
        for row in &rows {
            let mut sums = vec![0u64; width as usize * 3];
            for &(y, by) in row {
                let line = &self.pixels[y * samples..][..samples];
                for (column, sum) in columns.iter().zip(sums.chunks_exact_mut(3)) {
                    for &(x, bx) in column {
                        for (sum, sample) in sum.iter_mut().zip(&line[x * 3..]) {
                            *sum += bx * by * u64::from(*sample);
                        }
                    }
                }
            }
            pixels.extend(sums.iter().map(|sum| ((sum + weight / 2) / weight) as u8));
        }
        Picture { width, height, pixels: pixels.into() }
    }
}

/// For each of `to` new places along a side, the old ones that it covers and how much of each, in
/// parts of which a new place holds `from`.
fn shares(from: u32, to: u32) -> Vec<Vec<(usize, u64)>> {
    let (from, to) = (u64::from(from), u64::from(to));
    let share = |new: u64| {
        let (start, end) = (new * from, (new + 1) * from);
        let olds = start / to..end.div_ceil(to);
        olds.map(|old| (old as usize, end.min((old + 1) * to) - start.max(old * to))).collect()
    };
    (0..to).map(share).collect()
}

/// The samples of the first image of a PNG file, and how many make a pixel.
fn decoded(bytes: &[u8]) -> Option<(Vec<u8>, usize)> {
    let mut decoder = Decoder::new(Cursor::new(bytes));
    decoder.set_transformations(Transformations::normalize_to_color8());
    decoder.set_ignore_text_chunk(true);
    decoder.set_ignore_iccp_chunk(true);
    let mut reader = decoder.read_info().ok()?;
    let mut pixels = vec![0; reader.output_buffer_size()?];
    let frame = reader.next_frame(&mut pixels).ok()?;
    pixels.truncate(frame.buffer_size());
    let samples = match frame.color_type {
        ColorType::Grayscale => 1,
        ColorType::GrayscaleAlpha => 2,
        ColorType::Rgb => 3,
        ColorType::Rgba => 4,
        ColorType::Indexed => return None,
    };
    Some((pixels, samples))
}

/// Whether the image data of a PNG file without its signature unpacks to more than `most` bytes; no more than
/// that is unpacked. The decoder reads what the header says and cares for no rest.
fn unpacks_beyond(mut body: &[u8], most: u64) -> bool {
    let mut packed = Vec::new();
    // A chunk: the length of its data, its name, the data, a sum (ISO/IEC 15948, 5.3).
    while let Some((head, rest)) = body.split_at_checked(8) {
        let length = u32::from_be_bytes([head[0], head[1], head[2], head[3]]) as usize;
        let data = &rest[..length.min(rest.len())];
        if &head[4..] == b"IDAT" {
            packed.extend(data);
        }
        body = rest.get(length.saturating_add(4)..).unwrap_or_default();
    }
    let mut data = flate2::read::ZlibDecoder::new(packed.as_slice()).take(most + 1);
    io::copy(&mut data, &mut io::sink()).is_ok_and(|length| length > most)
}

/// A pixel as red, green and blue on white.
fn on_white(pixel: &[u8]) -> [u8; 3] {
    let over = |sample: u8, alpha: u8| {
        let (sample, alpha) = (u32::from(sample), u32::from(alpha));
        ((sample * alpha + 255 * (255 - alpha) + 127) / 255) as u8
    };
    match *pixel {
        [grey] => [grey; 3],
        [grey, alpha] => [over(grey, alpha); 3],
        [red, green, blue] => [red, green, blue],
        [red, green, blue, alpha] => [over(red, alpha), over(green, alpha), over(blue, alpha)],
        _ => [255; 3],
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn picture(width: u32, height: u32, pixel: impl Fn(u32, u32) -> [u8; 3]) -> Picture {
        let places = (0..height).flat_map(|y| (0..width).map(move |x| (x, y)));
        let pixels: Vec<u8> = places.flat_map(|(x, y)| pixel(x, y)).collect();
        Picture { width, height, pixels: pixels.into() }
    }

    /// By hand: of two columns and three rows, a to f in order of reading, the right column comes above.
    #[test]
    fn a_turned_picture_has_its_right_side_above() {
        let tall = picture(2, 3, |x, y| [(y * 2 + x) as u8; 3]);
        let wide = tall.turned();
        assert_eq!((wide.width, wide.height), (3, 2));
        let grey: Vec<u8> = wide.pixels().chunks_exact(3).map(|p| p[0]).collect();
        assert_eq!(grey, [1, 3, 5, 0, 2, 4]);
    }

    #[test]
    fn a_smaller_picture_keeps_the_mean_of_what_each_pixel_covers() {
        // By hand: three columns 0, 90, 255 on two: the first covers 0 and half of 90.
        let three = picture(3, 1, |x, _| [[0; 3], [90; 3], [255; 3]][x as usize]);
        let two = three.within(2, 1);
        assert_eq!((two.width, two.height), (2, 1));
        assert_eq!(two.pixels(), [30, 30, 30, 200, 200, 200]);
        assert_eq!(three.within(9, 9), three, "never larger");
        let flat = picture(640, 480, |_, _| [17, 80, 255]).within(31, 7);
        assert!(flat.pixels().chunks(3).all(|pixel| pixel == [17, 80, 255]));
    }

    #[test]
    fn shares_are_whole_and_leave_nothing_out() {
        for (from, to) in [(1, 1), (7, 3), (1600, 999), (1000, 1), (5, 4)] {
            let all = shares(from, to);
            assert!(all.iter().all(|one| one.iter().map(|(_, by)| by).sum::<u64>() == u64::from(from)));
            let mut given = vec![0; from as usize];
            all.iter().flatten().for_each(|&(old, by)| given[old] += by);
            assert!(given.iter().all(|sum| *sum == u64::from(to)), "{from} to {to}");
        }
    }

    #[test]
    fn what_is_no_picture_is_refused_before_it_is_decoded() {
        let header = |width: u32, height: u32| {
            let mut bytes = b"\x89PNG\r\n\x1a\n\0\0\0\x0dIHDR".to_vec();
            bytes.extend(width.to_be_bytes());
            bytes.extend(height.to_be_bytes());
            bytes
        };
        assert_eq!(Picture::read(b"GIF89a"), Err(PictureFault::NotPng));
        assert_eq!(Picture::read(b""), Err(PictureFault::NotPng));
        let many = |across, up| Err(PictureFault::TooManyPixels { across, up });
        assert_eq!(Picture::read(&header(50_000, 50_000)), many(50_000, 50_000));
        assert_eq!(Picture::read(&header(u32::MAX, 1)), many(u32::MAX, 1));
        assert_eq!(Picture::read(&header(0, 5)), Err(PictureFault::Damaged));
        assert_eq!(Picture::read(&header(10, 10)), Err(PictureFault::Damaged));
        assert_eq!(Picture::read(b"\x89PNG\r\n\x1a\n"), Err(PictureFault::Damaged));
    }
}
