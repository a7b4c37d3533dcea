//! The document round the pages: resources, links, bookmarks, layers in their order.

use std::collections::BTreeMap;

use lopdf::{Bookmark, Dictionary, Document, Object, ObjectId, Stream, StringFormat, dictionary};

use crate::font;
use crate::sheet::model::{Face, Layer, SheetSet};

use super::super::{fingerprint, print};
use super::content::{Form, SheetLink, Tile, form_name, picture_name};
use super::tidy::tidy;
use super::{Page, facts, packed, pt};

/// Puts the drawn pages into a document that has none, and writes it.
///
/// # Errors
/// When `document` is not built as [`blank::document`](super::blank::document) builds it, or cannot be
/// compressed.
pub fn finish(
    mut document: Document,
    set: &SheetSet,
    drawn: Vec<Page>,
    stamps: &[Form],
    pictures: Vec<Stream>,
) -> lopdf::Result<Vec<u8>> {
    // Optional content came with version 1.5.
    document.version = "1.5".into();
    let pages: Vec<ObjectId> = document.page_iter().collect();
    if let Some(first) = pages.first() {
        let resources = document.get_dictionary(*first)?.get(b"Resources")?.as_reference()?;
        add_drawn(&mut document, resources, stamps, pictures)?;
        let mut links = Vec::new();
        for (id, page) in pages.iter().zip(drawn) {
            let content = document.add_object(page.content);
            let blank = document.get_object_mut(*id)?.as_dict_mut()?;
            blank.set("Contents", content);
            blank.set("Resources", resources);
            blank.remove(b"Annots");
            links.push(page.links);
        }
        add_links(&mut document, set, &links, &pages)?;
    }
    add_bookmarks(&mut document, set, &pages)?;
    order_layers(&mut document)?;
    mend_fonts(&mut document)?;
    facts::add(&mut document, set)?;
    identify(document)
}

/// Adds what is drawn many times to the resources of all pages.
fn add_drawn(
    document: &mut Document,
    resources: ObjectId,
    stamps: &[Form],
    pictures: Vec<Stream>,
) -> lopdf::Result<()> {
    let mut drawn = Dictionary::new();
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
    document.get_object_mut(resources)?.as_dict_mut()?.set("XObject", drawn);
    Ok(())
}

/// Lists the layers in the order of [`Layer::ALL`], each under its plain name.
fn order_layers(document: &mut Document) -> lopdf::Result<()> {
    let groups = document.catalog()?.get(b"OCProperties")?.as_dict()?.get(b"OCGs")?.as_array()?.clone();
    let mut by_name = BTreeMap::new();
    for group in groups {
        let id = group.as_reference()?;
        let dictionary = document.get_object_mut(id)?.as_dict_mut()?;
        dictionary.remove(b"Usage");
        by_name.insert(dictionary.get(b"Name")?.as_str()?.to_vec(), id);
    }
    let order: Vec<Object> =
        Layer::ALL.iter().filter_map(|l| by_name.get(l.name().as_bytes())).map(|id| (*id).into()).collect();
    let config = dictionary! { "Name" => lopdf::text_string("Layers"), "Order" => order.clone() };
    document.catalog_mut()?.set("OCProperties", dictionary! { "OCGs" => order, "D" => config });
    Ok(())
}

/// Gives the fonts the height of their capitals, which `printpdf` sets to the ascent, and compresses
/// their programs.
fn mend_fonts(document: &mut Document) -> lopdf::Result<()> {
    let whole = font::face(Face::Regular);
    let em = i64::from(whole.units_per_em());
    let capital = whole.capital_height().map(|height| i64::from(height) * 1000 / em);
    for object in document.objects.values_mut() {
        match object {
            Object::Dictionary(descriptor) if descriptor.has_type(b"FontDescriptor") => {
                if let Some(capital) = capital {
                    descriptor.set("CapHeight", capital);
                }
            }
            Object::Stream(stream) if stream.dict.get(b"Filter").is_err() => {
                *stream = packed(std::mem::take(&mut stream.dict), &stream.content)?;
            }
            _ => {}
        }
    }
    Ok(())
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
    // What the pages were made with and nothing leads to any more.
    tidy(&mut document);
    document.trailer.remove(b"ID");
    let mut bytes = Vec::new();
    document.save_to(&mut bytes)?;
    let id = Object::String(fingerprint(&bytes).to_be_bytes().to_vec(), StringFormat::Hexadecimal);
    document.trailer.set("ID", vec![id.clone(), id]);
    bytes.clear();
    document.save_to(&mut bytes)?;
    Ok(bytes)
}
