//! The document before anything is drawn: its pages, fonts and layers, as `printpdf` writes them.

use std::collections::BTreeMap;

use printpdf::{
    FontId, FontMetrics, LayerIntent, LayerInternalId, LayerSubtype, Op, ParsedFont, PdfDocument, PdfFont,
    PdfFontHandle, PdfPage, PdfSaveOptions, Pt, Rect, TextItem,
};

use crate::font;
use crate::sheet::model::{Face, Layer, SheetSet};

use super::super::ExportFault;
use super::super::font::CutFont;
use super::{facts, pt};

/// A page for every sheet of a set. The first page's resources have all `fonts` and all layers,
/// under [`font_name`] and [`Layer::name`].
///
/// # Errors
/// When a font cannot be written.
pub fn document(set: &SheetSet, fonts: &BTreeMap<Face, CutFont>) -> Result<lopdf::Document, ExportFault> {
    let mut printed = PdfDocument::new(&set.title);
    printed.pages = set
        .sheets
        .iter()
        .map(|sheet| {
            let paper = Rect::from_wh(Pt(pt(sheet.width)), Pt(pt(sheet.height)));
            PdfPage { media_box: paper.clone(), trim_box: paper.clone(), crop_box: paper, ops: Vec::new() }
        })
        .collect();
    // Only what a page names is written. What is drawn comes in its place afterwards.
    if let Some(first) = printed.pages.first_mut() {
        first.ops = Layer::ALL
            .into_iter()
            .flat_map(|layer| [Op::BeginLayer { layer_id: layer_id(layer) }, Op::EndLayer])
            .collect();
        for (face, cut) in fonts {
            first.ops.push(Op::StartTextSection);
            first.ops.push(Op::SetFont { font: PdfFontHandle::External(font_id(*face)), size: Pt(1.0) });
            first.ops.push(Op::ShowText { items: vec![TextItem::Text(cut.glyphs.keys().collect())] });
            first.ops.push(Op::EndTextSection);
        }
    }
    printed.resources.fonts.map = fonts.values().map(embedded).collect();
    printed.resources.layers.map = layers();
    let options = PdfSaveOptions { secure: false, subset_fonts: false, ..PdfSaveOptions::default() };
    let mut warnings = Vec::new();
    let document = printed.to_lopdf_document(&options, &mut warnings);
    match warnings.first() {
        Some(warning) => Err(ExportFault::of(&set.title, warning.msg.clone())),
        None => Ok(document),
    }
}

/// The name that a font goes by in the resources.
pub const fn font_name(face: Face) -> &'static str {
    match face {
        Face::Regular => "Regular",
        Face::SemiBold => "SemiBold",
    }
}

fn font_id(face: Face) -> FontId {
    FontId(font_name(face).to_owned())
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
