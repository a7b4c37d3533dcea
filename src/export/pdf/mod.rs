//! A [`SheetSet`] as one PDF file.
//!
//! `printpdf` makes the document with its pages, fonts and layers; the operators of a page are few and
//! written as they stand in ISO 32000-1, and each page is compressed as soon as it is drawn. What
//! `printpdf` cannot write as this file needs it (repeated stamps, nested bookmarks, links that fit the
//! sheet, descriptive data) is added on the `lopdf` document that it hands over. Nothing comes from a
//! clock or a counter: equal sheets give equal bytes.

mod blank;
mod bounds;
mod content;
mod document;
mod facts;
mod number;
mod tidy;

use std::collections::BTreeMap;
use std::io::Write;

use flate2::Compression;
use flate2::write::ZlibEncoder;
use lopdf::{Dictionary, Stream};
use rayon::prelude::*;

use crate::sheet::model::{Face, SheetSet};
use crate::units::Length;

use super::ExportFault;
use super::font::{Characters, CutFont, collect, cut};
use content::{Content, Shared, SheetLink};

/// The operators of a page and its links.
type Drawn = (Vec<u8>, Vec<SheetLink>);

/// Pages drawn before they are compressed, side by side.
const AT_ONCE: usize = 32;

/// A page: what is drawn on it, compressed, and where it leads to.
struct Page {
    content: Stream,
    links: Vec<SheetLink>,
}

/// Writes the set as a PDF file.
///
/// # Errors
/// When a sheet holds something that a PDF cannot show whole: see [`ExportFault`].
pub fn write(set: &SheetSet) -> Result<Vec<u8>, ExportFault> {
    super::check::set(set)?;
    let mut characters = Characters::new();
    set.sheets.iter().for_each(|sheet| collect(&sheet.marks, &mut characters));
    let fonts = characters.iter().map(|(face, used)| Ok((*face, cut(*face, used)?)));
    let fonts = fonts.collect::<Result<BTreeMap<Face, CutFont>, ExportFault>>()?;
    let fault = |error: lopdf::Error| ExportFault::of(&set.title, format!("no PDF can be made: {error}"));
    let mut shared = Shared::with_fonts(&fonts);
    let mut pages = Vec::with_capacity(set.sheets.len());
    for sheets in set.sheets.chunks(AT_ONCE) {
        let mut drawn: Vec<Drawn> = Vec::with_capacity(sheets.len());
        for sheet in sheets {
            let mut content = Content::on_sheet(sheet.height, &mut shared);
            content.marks(&sheet.marks);
            drawn.push(content.finish());
        }
        pages.extend(drawn.into_par_iter().map(page).collect::<lopdf::Result<Vec<Page>>>().map_err(fault)?);
    }
    let (stamps, pictures) = shared.into_parts();
    let pictures = pictures.iter().map(document::image).collect::<Result<Vec<Stream>, String>>();
    let pictures = pictures.map_err(|message| ExportFault::of(&set.title, message))?;
    document::finish(blank::document(set, &fonts)?, set, pages, &stamps, pictures).map_err(fault)
}

fn page((operators, links): Drawn) -> lopdf::Result<Page> {
    Ok(Page { content: packed(Dictionary::new(), &operators)?, links })
}

/// A compressed stream; `lopdf`'s own way takes twice the time for a hundredth of the size.
fn packed(mut dictionary: Dictionary, content: &[u8]) -> lopdf::Result<Stream> {
    let mut packed = ZlibEncoder::new(Vec::new(), Compression::default());
    packed.write_all(content)?;
    dictionary.set("Filter", "FlateDecode");
    Ok(Stream::new(dictionary, packed.finish()?))
}

/// A paper length in points, rounded to the hundredth: 3.5 micrometres, under any pen.
fn pt(length: Length) -> f32 {
    let hundredths = (length.nm() as f64 * 7200.0 / 25.4e6).round();
    // Adding zero turns a negative zero into a plain one.
    (hundredths / 100.0 + 0.0) as f32
}
