//! The document round the pages: stamps as forms, links, bookmarks, layers in their order.

use std::collections::BTreeMap;
use std::io::Write;

use flate2::Compression;
use flate2::write::ZlibEncoder;
use lopdf::{Bookmark, Dictionary, Document, Object, ObjectId, Stream, StringFormat, dictionary};

use crate::font;
use crate::sheet::model::{Face, Layer, SheetSet};

use super::super::{fingerprint, print};
use super::content::{Form, SheetLink, Tile, form_name, picture_name};
use super::{facts, pt};

/// Finishes the document and writes it.
///
/// # Errors
/// In a sentence, when the document that the pages came in is not built as expected.
pub fn finish(
    mut document: Document,
    set: &SheetSet,
    links: &[Vec<SheetLink>],
    stamps: &[Form],
    pictures: &[Tile],
) -> Result<Vec<u8>, String> {
    let mut pictures = pictures.iter().map(image).collect::<Result<Vec<Stream>, String>>()?;
    let mut done = |document: &mut Document| -> lopdf::Result<Vec<u8>> {
        // Optional content came with version 1.5.
        document.version = "1.5".into();
        let mut pages: Vec<ObjectId> = document.page_iter().collect();
        let forms = pages.split_off(set.sheets.len());
        stamps_to_forms(document, &forms, stamps)?;
        add_pictures(document, &pages, std::mem::take(&mut pictures))?;
        add_links(document, set, links, &pages)?;
        add_bookmarks(document, set, &pages)?;
        order_layers(document)?;
        mend_fonts(document)?;
        facts::add(document, set)?;
        compress(document)?;
        identify(document)
    };
    done(&mut document).map_err(|e| format!("the PDF cannot be put together: {e}"))
}

/// Takes the pages that stand for stamps out of the page tree and makes them forms.
fn stamps_to_forms(document: &mut Document, carriers: &[ObjectId], stamps: &[Form]) -> lopdf::Result<()> {
    let mut forms = Dictionary::new();
    let mut shared = None;
    for (index, (carrier, stamp)) in carriers.iter().zip(stamps).enumerate() {
        let page = document.get_dictionary(*carrier)?.clone();
        let resources = page.get(b"Resources")?.clone();
        shared = Some(document.get_dictionary(resources.as_reference()?)?.get(b"XObject")?.as_reference()?);
        let content = page.get(b"Contents")?.as_reference()?;
        let stream = document.get_object_mut(content)?.as_stream_mut()?;
        stream.dict.set("Type", "XObject");
        stream.dict.set("Subtype", "Form");
        stream.dict.set("BBox", stamp.bounds.iter().map(|side| Object::Real(*side)).collect::<Vec<_>>());
        stream.dict.set("Resources", resources);
        forms.set(form_name(index), content);
        document.objects.remove(carrier);
    }
    if let Some(shared) = shared {
        document.objects.insert(shared, forms.into());
    }
    let tree = document.catalog()?.get(b"Pages")?.as_reference()?;
    let tree = document.get_object_mut(tree)?.as_dict_mut()?;
    let kids = tree.get_mut(b"Kids")?.as_array_mut()?;
    kids.retain(|kid| kid.as_reference().is_ok_and(|id| !carriers.contains(&id)));
    let count = kids.len() as i64;
    tree.set("Count", count);
    Ok(())
}

/// A picture as an image object.
fn image(tile: &Tile) -> Result<Stream, String> {
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

/// Adds the pictures to the objects that all pages share.
fn add_pictures(document: &mut Document, pages: &[ObjectId], pictures: Vec<Stream>) -> lopdf::Result<()> {
    let (Some(page), false) = (pages.first(), pictures.is_empty()) else { return Ok(()) };
    let resources = document.get_dictionary(*page)?.get(b"Resources")?.as_reference()?;
    let shared = document.get_dictionary(resources)?.get(b"XObject")?.as_reference()?;
    for (index, picture) in pictures.into_iter().enumerate() {
        let id = document.add_object(picture);
        document.get_object_mut(shared)?.as_dict_mut()?.set(picture_name(index), id);
    }
    Ok(())
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
        if annotations.is_empty() {
            page.remove(b"Annots");
        } else {
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

/// Gives the fonts the height of their capitals, which `printpdf` sets to the ascent.
fn mend_fonts(document: &mut Document) -> lopdf::Result<()> {
    let whole = font::face(Face::Regular);
    let em = i64::from(whole.units_per_em());
    let capital = whole.capital_height().map(|height| i64::from(height) * 1000 / em);
    for object in document.objects.values_mut() {
        if let (Ok(descriptor), Some(capital)) = (object.as_dict_mut(), capital)
            && descriptor.has_type(b"FontDescriptor")
        {
            descriptor.set("CapHeight", capital);
        }
    }
    Ok(())
}

/// Compresses the streams; `lopdf`'s own way takes twice the time for a hundredth of the size.
fn compress(document: &mut Document) -> lopdf::Result<()> {
    for object in document.objects.values_mut() {
        let Ok(stream) = object.as_stream_mut() else { continue };
        if stream.allows_compression && stream.dict.get(b"Filter").is_err() {
            let mut packed = ZlibEncoder::new(Vec::new(), Compression::default());
            packed.write_all(&stream.content)?;
            stream.set_content(packed.finish()?);
            stream.dict.set("Filter", "FlateDecode");
        }
    }
    Ok(())
}

/// Writes the document with an id made from its own bytes.
fn identify(document: &mut Document) -> lopdf::Result<Vec<u8>> {
    document.prune_objects();
    document.renumber_objects();
    document.trailer.remove(b"ID");
    let mut bytes = Vec::new();
    document.save_to(&mut bytes)?;
    let id = Object::String(fingerprint(&bytes).to_be_bytes().to_vec(), StringFormat::Hexadecimal);
    document.trailer.set("ID", vec![id.clone(), id]);
    bytes.clear();
    document.save_to(&mut bytes)?;
    Ok(bytes)
}
