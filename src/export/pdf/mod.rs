//! A [`SheetSet`] as one PDF file.
//!
//! The page marks, fonts and layers go through `printpdf`; what it cannot write as this file
//! needs it (repeated stamps, nested bookmarks, links that fit the sheet, descriptive data) is
//! added on the `lopdf` document that it hands over. Nothing comes from a clock or a counter:
//! equal sheets give equal bytes.

mod bounds;
mod content;
mod document;
mod facts;

use std::collections::BTreeMap;

use printpdf::{
    FontId, FontMetrics, LayerIntent, LayerInternalId, LayerSubtype, ParsedFont, PdfDocument, PdfFont,
    PdfPage, PdfSaveOptions, Pt, Rect,
};

use crate::font;
use crate::sheet::model::{Face, Layer, SheetSet};
use crate::units::Length;

use super::ExportFault;
use super::font::{Characters, CutFont, collect, cut};
use content::{Content, Stamps};

/// Writes the set as a PDF file.
///
/// # Errors
/// When a sheet holds something that a PDF cannot show whole: see [`ExportFault`].
pub fn write(set: &SheetSet) -> Result<Vec<u8>, ExportFault> {
    super::check::set(set)?;
    let mut characters = Characters::new();
    set.sheets.iter().for_each(|sheet| collect(&sheet.marks, &mut characters));
    let fonts =
        characters.iter().map(|(face, used)| cut(*face, used)).collect::<Result<Vec<CutFont>, _>>()?;

    let mut stamps = Stamps::default();
    let mut pages = Vec::new();
    let mut links = Vec::new();
    for sheet in &set.sheets {
        let mut content = Content::on_sheet(sheet.height, &mut stamps);
        content.marks(&sheet.marks);
        let (ops, sheet_links) = content.finish();
        pages.push(page(sheet.width, sheet.height, ops));
        links.push(sheet_links);
    }
    let (stamps, pictures) = stamps.into_parts();
    // A stamp travels as a page of its own, so that its fonts and layers are written like a
    // sheet's; `document` then takes it out of the page tree and makes it a form.
    pages.extend(stamps.iter().map(|stamp| page(Length::inches(1), Length::inches(1), stamp.ops.clone())));

    let mut printed = PdfDocument::new(&set.title);
    printed.pages = pages;
    printed.resources.fonts.map = fonts.iter().map(embedded).collect();
    printed.resources.layers.map = layers();
    // `secure` drops the plain path operators that `content` writes.
    let options = PdfSaveOptions { secure: false, subset_fonts: false, ..PdfSaveOptions::default() };
    let mut warnings = Vec::new();
    let document = printed.to_lopdf_document(&options, &mut warnings);
    let fault = |message: String| ExportFault::of(&set.title, message);
    if let Some(warning) = warnings.first() {
        return Err(fault(warning.msg.clone()));
    }
    document::finish(document, set, &links, &stamps, &pictures).map_err(fault)
}

/// A paper length in points, rounded to the hundredth: 3.5 micrometres, under any pen.
fn pt(length: Length) -> f32 {
    let hundredths = (length.nm() as f64 * 7200.0 / 25.4e6).round();
    // Adding zero turns a negative zero into a plain one.
    (hundredths / 100.0 + 0.0) as f32
}

/// A dash's length in points, rounded to the hundred thousandth: a long line has hundreds of
/// dashes, and their errors add up.
fn dash_pt(length: Length) -> f32 {
    ((length.nm() as f64 * 7_200_000.0 / 25.4e6).round() / 100_000.0) as f32
}

fn page(width: Length, height: Length, ops: Vec<printpdf::Op>) -> PdfPage {
    let paper = Rect::from_wh(Pt(pt(width)), Pt(pt(height)));
    PdfPage { media_box: paper.clone(), trim_box: paper.clone(), crop_box: paper, ops }
}

fn font_id(face: Face) -> FontId {
    FontId(match face {
        Face::Regular => "Regular".into(),
        Face::SemiBold => "SemiBold".into(),
    })
}

fn embedded(cut: &CutFont) -> (FontId, PdfFont) {
    let whole = font::face(cut.face);
    let glyphs = cut.glyphs.iter().map(|(c, glyph)| (u32::from(*c), *glyph)).collect();
    let metrics = FontMetrics { ascent: whole.ascender(), descent: whole.descender() };
    let mut parsed = ParsedFont::with_glyph_data(
        cut.program.clone(),
        0,
        Some(cut.name.clone()),
        glyphs,
        cut.advances.clone(),
        whole.units_per_em(),
        metrics,
    );
    let bounds = whole.global_bounding_box();
    parsed.pdf_font_metrics.x_min = bounds.x_min;
    parsed.pdf_font_metrics.y_min = bounds.y_min;
    parsed.pdf_font_metrics.x_max = bounds.x_max;
    parsed.pdf_font_metrics.y_max = bounds.y_max;
    parsed.pdf_font_metrics.us_weight_class = whole.weight().to_number();
    (font_id(cut.face), PdfFont::new(parsed))
}

fn layer_id(layer: Layer) -> LayerInternalId {
    LayerInternalId(layer.name().to_owned())
}

fn layers() -> BTreeMap<LayerInternalId, printpdf::Layer> {
    let one = |layer: Layer| printpdf::Layer {
        name: layer.name().to_owned(),
        creator: facts::PRODUCER.to_owned(),
        intent: LayerIntent::View,
        usage: LayerSubtype::Artwork,
    };
    Layer::ALL.iter().map(|layer| (layer_id(*layer), one(*layer))).collect()
}
