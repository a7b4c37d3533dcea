//! The document round the pages: resources, links, bookmarks, layers in their order.

use std::collections::BTreeMap;

use lopdf::{Bookmark, Dictionary, Document, Object, ObjectId, Stream, StringFormat, dictionary};

use crate::sheet::model::{Face, Layer, SheetSet};
use crate::units::Length;

use super::super::font::CutFont;
use super::super::{fingerprint, print};
use super::content::{Form, SheetLink, Tile, form_name, picture_name};
use super::{Page, facts, font, packed, pt};

/// Puts the document together and writes it.
///
/// # Errors
/// When it cannot be compressed or written, which in memory it can.
pub fn finish(
    set: &SheetSet,
    fonts: &BTreeMap<Face, CutFont>,
    drawn: Vec<Page>,
    stamps: &[Form],
    pictures: Vec<Stream>,
) -> lopdf::Result<Vec<u8>> {
    // Optional content came with version 1.5.
    let mut document = Document::with_version("1.5");
    let resources = document.new_object_id();
    let shared = shared(&mut document, resources, fonts, stamps, pictures)?;
    document.objects.insert(resources, shared.into());
    let tree = document.new_object_id();
    let (mut pages, mut links) = (Vec::new(), Vec::new());
    for page in drawn {
        let sides = [Length::ZERO, Length::ZERO, page.sheet.width, page.sheet.height];
        let paper = sides.map(|side| Object::Real(pt(side))).to_vec();
        let content = document.add_object(page.content);
        pages.push(document.add_object(dictionary! {
            "Type" => "Page",
            "Parent" => tree,
            "MediaBox" => paper.clone(),
            "CropBox" => paper.clone(),
            "TrimBox" => paper,
            "Resources" => resources,
            "Contents" => content,
        }));
        links.push(page.links);
    }
    let kids: Vec<Object> = pages.iter().map(|page| (*page).into()).collect();
    let tree_of = dictionary! { "Type" => "Pages", "Count" => kids.len() as i64, "Kids" => kids };
    document.objects.insert(tree, tree_of.into());
    let layers = layers(&mut document, resources)?;
    let catalog = document.add_object(dictionary! {
        "Type" => "Catalog",
        "Pages" => tree,
        "OCProperties" => layers,
    });
    document.trailer.set("Root", catalog);
    add_links(&mut document, set, &links, &pages)?;
    add_bookmarks(&mut document, set, &pages)?;
    facts::add(&mut document, set)?;
    identify(document)
}

/// What pages and stamps draw with.
fn shared(
    document: &mut Document,
    resources: ObjectId,
    fonts: &BTreeMap<Face, CutFont>,
    stamps: &[Form],
    pictures: Vec<Stream>,
) -> lopdf::Result<Dictionary> {
    let (mut named, mut drawn) = (Dictionary::new(), Dictionary::new());
    for (face, cut) in fonts {
        named.set(font::name(*face), font::add(document, cut)?);
    }
    for (index, stamp) in stamps.iter().enumerate() {
        let form = dictionary! {
            "Type" => "XObject",
            "Subtype" => "Form",
            "BBox" => stamp.bounds.map(Object::Real).to_vec(),
            "Resources" => resources,
        };
        drawn.set(form_name(index), document.add_object(packed(form, &stamp.operators)?));
    }
    for (index, picture) in pictures.into_iter().enumerate() {
        drawn.set(picture_name(index), document.add_object(picture));
    }
    Ok(dictionary! { "Font" => named, "XObject" => drawn })
}

/// The layers in the order of [`Layer::ALL`], each under its plain name, as the catalog lists them.
fn layers(document: &mut Document, resources: ObjectId) -> lopdf::Result<Dictionary> {
    let (mut properties, mut order) = (Dictionary::new(), Vec::new());
    for layer in Layer::ALL {
        let name = Object::string_literal(layer.name());
        let group = document.add_object(dictionary! { "Type" => "OCG", "Name" => name });
        properties.set(layer.name(), group);
        order.push(Object::from(group));
    }
    document.get_object_mut(resources)?.as_dict_mut()?.set("Properties", properties);
    let config = dictionary! { "Name" => lopdf::text_string("Layers"), "Order" => order.clone() };
    Ok(dictionary! { "OCGs" => order, "D" => config })
}

/// A picture as an image object.
pub fn image(tile: &Tile) -> Result<Stream, String> {
    let printed = print::printed(tile.picture, tile.width, tile.height);
    let (width, height) = (i64::from(printed.width()), i64::from(printed.height()));
    let rows = print::rows(&print::png(&printed)?);
    let dictionary = dictionary! {
        "Type" => "XObject",
        "Subtype" => "Image",
        "Width" => width,
        "Height" => height,
        "ColorSpace" => "DeviceRGB",
        "BitsPerComponent" => 8,
        "Filter" => "FlateDecode",
        "DecodeParms" => dictionary! { "Predictor" => 15, "Colors" => 3, "Columns" => width },
    };
    Ok(Stream::new(dictionary, rows))
}

fn add_links(
    document: &mut Document,
    set: &SheetSet,
    links: &[Vec<SheetLink>],
    pages: &[ObjectId],
) -> lopdf::Result<()> {
    let by_key: BTreeMap<&str, usize> =
        set.sheets.iter().enumerate().map(|(index, sheet)| (sheet.key.as_str(), index)).collect();
    for ((page, sheet), links) in pages.iter().zip(&set.sheets).zip(links) {
        let mut annotations = Vec::new();
        for link in links {
            let Some((target, page)) = by_key.get(link.to.as_str()).map(|i| (&set.sheets[*i], pages[*i]))
            else {
                continue;
            };
            let (bottom, top) = (sheet.height - link.area.y1, sheet.height - link.area.y0);
            let area = [link.area.x0, bottom, link.area.x1, top].map(|side| Object::Real(pt(side)));
            let annotation = dictionary! {
                "Type" => "Annot",
                "Subtype" => "Link",
                "Rect" => area.to_vec(),
                "Border" => vec![0.into(), 0.into(), 0.into()],
                "Contents" => lopdf::text_string(&target.title),
                "F" => 4,
                "Dest" => vec![page.into(), "Fit".into()],
            };
            annotations.push(document.add_object(annotation).into());
        }
        let page = document.get_object_mut(*page)?.as_dict_mut()?;
        if !annotations.is_empty() {
            page.set("Annots", Object::Array(annotations));
        }
    }
    Ok(())
}

/// One bookmark a sheet; those under one name lie under a bookmark of that name, which leads to
/// the first of them.
fn add_bookmarks(document: &mut Document, set: &SheetSet, pages: &[ObjectId]) -> lopdf::Result<()> {
    let mark = |title: &str, page: ObjectId| Bookmark::new(title.to_owned(), [0.0; 3], 0, page);
    let mut parents: BTreeMap<&str, u32> = BTreeMap::new();
    for (sheet, page) in set.sheets.iter().zip(pages) {
        let parent = if sheet.under.is_empty() {
            None
        } else {
            let known = parents.get(sheet.under.as_str()).copied();
            let id = known.unwrap_or_else(|| document.add_bookmark(mark(&sheet.under, *page), None));
            parents.insert(&sheet.under, id);
            Some(id)
        };
        document.add_bookmark(mark(&sheet.title, *page), parent);
    }
    if let Some(outlines) = document.build_outline() {
        document.catalog_mut()?.set("Outlines", outlines);
    }
    Ok(())
}

/// Writes the document with an id made from its own bytes.
fn identify(mut document: Document) -> lopdf::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    document.save_to(&mut bytes)?;
    let id = Object::String(fingerprint(&bytes).to_be_bytes().to_vec(), StringFormat::Hexadecimal);
    document.trailer.set("ID", vec![id.clone(), id]);
    bytes.clear();
    document.save_to(&mut bytes)?;
    Ok(bytes)
}
