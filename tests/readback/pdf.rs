//! The PDF files against the SVG files: the same texts at the same places, and the same points of
//! every line, fill and clip in the same order, so that neither format lacks a mark of the other.

use std::collections::BTreeMap;

use lopdf::content::{Content, Operation};
use lopdf::{Dictionary, Document, Object, ObjectId};

use crate::svg::{Point, Sheet};
use crate::written::Binder;

/// A PDF's places are hundredths of a point, and a stamp's stand in single precision.
const SAME: f64 = 0.01;
const POINT: f64 = 25.4 / 72.0;

/// The readers who have a set: only a job with prices has costs.
fn readers(binder: &Binder) -> impl Iterator<Item = &'static str> {
    let costs = binder.of("costs").next().map(|_| "costs");
    ["crew", "workroom", "approval"].into_iter().chain(costs)
}

/// Compares every sheet of every reader.
pub fn both_formats_are_one_drawing(binder: &Binder) {
    for reader in readers(binder) {
        let document = Document::load_mem(&binder.pdf(reader)).expect("a PDF");
        let pages = document.get_pages();
        let sheets: Vec<&Sheet> = binder.of(reader).collect();
        assert_eq!(pages.len(), sheets.len(), "{} {reader}: sheets", binder.name);
        for (page, sheet) in pages.values().zip(sheets) {
            let page = Page::read(&document, *page);
            same_points(sheet, &page.points);
            same_texts(sheet, &page.texts);
        }
    }
}

/// Pages are labelled by their sheets' numbers, bookmarks and links lead to pages of the file, the cover
/// leads to every other document, and layers bear names that people read.
pub fn sheets_are_found_by_number_bookmark_and_link(binder: &Binder) {
    for reader in readers(binder) {
        let document = Document::load_mem(&binder.pdf(reader)).expect("a PDF");
        let at = format!("{} {reader}", binder.name);
        let pages: Vec<ObjectId> = document.get_pages().into_values().collect();
        let catalog = document.catalog().expect("a catalog");
        let entry = |name: &[u8]| catalog.get_deref(name, &document);

        let labels = entry(b"PageLabels").and_then(Object::as_dict).expect("page labels");
        let labels = labels.get(b"Nums").and_then(Object::as_array).expect("numbers");
        assert_eq!(labels.first().and_then(|first| first.as_i64().ok()), Some(0), "{at}: page labels");

        let mut bookmarks = Vec::new();
        let outline = entry(b"Outlines").and_then(Object::as_dict).expect("bookmarks");
        walk_bookmarks(&document, outline, &mut bookmarks);
        assert!(bookmarks.iter().all(|page| pages.contains(page)), "{at}: a bookmark leads nowhere");
        assert!(pages.iter().all(|page| bookmarks.contains(page)), "{at}: a sheet has no bookmark");

        let links: Vec<Vec<ObjectId>> = pages.iter().map(|page| links(&document, *page)).collect();
        assert!(links.iter().flatten().all(|to| pages.contains(to)), "{at}: a link leads nowhere");
        let firsts: Vec<ObjectId> = binder
            .of(reader)
            .zip(&pages)
            .filter(|(sheet, _)| !is_later_part(sheet))
            .map(|(_, page)| *page)
            .collect();
        let covers = binder.of(reader).filter(|sheet| sheet.file.contains("-cover")).count();
        let told: Vec<ObjectId> = links[..covers].concat();
        let missing = firsts.iter().skip(1).find(|page| !told.contains(page));
        assert_eq!(missing, None, "{at}: a document that the cover does not lead to");

        let layers = entry(b"OCProperties").and_then(Object::as_dict).expect("layers");
        let layers = layers.get(b"OCGs").and_then(Object::as_array).expect("layers");
        assert!(!layers.is_empty(), "{at}: no layers");
    }
}

/// Whether a sheet is not the first of its document: its title block says which part it is.
fn is_later_part(sheet: &Sheet) -> bool {
    let title = sheet.title.rsplit_once(", part ").and_then(|(_, part)| part.split_once(" of "));
    title.is_some_and(|(part, _)| part != "1")
}

/// The page that a destination leads to.
fn page_of(document: &Document, holder: &Dictionary) -> Option<ObjectId> {
    let direct = holder.get_deref(b"Dest", document).ok();
    let action = holder.get_deref(b"A", document).and_then(Object::as_dict).ok();
    let dest = direct.or_else(|| action.and_then(|action| action.get_deref(b"D", document).ok()))?;
    dest.as_array().ok()?.first()?.as_reference().ok()
}

/// The pages that the bookmarks under `parent` lead to.
fn walk_bookmarks(document: &Document, parent: &Dictionary, found: &mut Vec<ObjectId>) {
    let mut next = parent.get_deref(b"First", document).and_then(Object::as_dict).ok();
    while let Some(bookmark) = next {
        found.extend(page_of(document, bookmark));
        walk_bookmarks(document, bookmark, found);
        next = bookmark.get_deref(b"Next", document).and_then(Object::as_dict).ok();
    }
}

/// The pages that the links of a page lead to.
fn links(document: &Document, page: ObjectId) -> Vec<ObjectId> {
    let annotations = document.get_page_annotations(page).expect("annotations");
    let links = annotations
        .into_iter()
        .filter(|one| one.get(b"Subtype").and_then(Object::as_name).ok() == Some(b"Link"));
    links.map(|link| page_of(document, link).expect("a link leads to a page")).collect()
}

fn same_points(sheet: &Sheet, points: &[Point]) {
    let apart = |(a, b): (&Point, &Point)| (a.0 - b.0).abs() > SAME || (a.1 - b.1).abs() > SAME;
    let first = sheet.points.iter().zip(points).position(apart);
    assert_eq!(first, None, "{}: the first point at which the PDF goes elsewhere", sheet.name);
    assert_eq!(sheet.points.len(), points.len(), "{}: points in SVG and PDF", sheet.name);
}

fn same_texts(sheet: &Sheet, texts: &[(String, Point)]) {
    assert_eq!(sheet.texts.len(), texts.len(), "{}: texts in SVG and PDF", sheet.name);
    for (svg, (words, start)) in sheet.texts.iter().zip(texts) {
        assert_eq!(&svg.words, words, "{}", sheet.name);
        let apart = (svg.start.0 - start.0).abs().max((svg.start.1 - start.1).abs());
        assert!(apart <= SAME, "{}: “{words}” stands {apart} mm apart", sheet.name);
    }
}

/// A page in millimetres from its upper left corner, y down.
struct Page {
    points: Vec<Point>,
    texts: Vec<(String, Point)>,
}

impl Page {
    fn read(document: &Document, id: ObjectId) -> Page {
        let dictionary = document.get_dictionary(id).expect("a page");
        let size = dictionary.get(b"MediaBox").and_then(Object::as_array).expect("a size");
        let height = f64::from(size[3].as_float().expect("a number"));
        let place = |x: f64, y: f64| (x * POINT, (height - y) * POINT);
        let fonts = fonts(document, id);
        let content = Content::decode(&document.get_page_content(id)).expect("operators");
        let mut page = Page { points: Vec::new(), texts: Vec::new() };
        let (mut font, mut at, mut moved) = (None, (0.0, 0.0), (0.0, 0.0));
        for Operation { operator, operands } in &content.operations {
            let numbers: Vec<f64> =
                operands.iter().filter_map(|o| o.as_float().ok()).map(f64::from).collect();
            match operator.as_str() {
                "m" | "l" | "c" => page.points.extend(numbers.chunks(2).map(|pair| place(pair[0], pair[1]))),
                // A stamp is only moved; a picture is stretched from one point to its size, and hangs from its
                // upper left corner in the SVG.
                "cm" if numbers[3] == 1.0 => moved = (numbers[4], numbers[5]),
                "cm" => moved = (numbers[4], numbers[5] + numbers[3]),
                "Do" => page.points.push(place(moved.0, moved.1)),
                "Tf" => font = operands[0].as_name().ok().and_then(|name| fonts.get(name)),
                "Tm" => at = (numbers[4], numbers[5]),
                "Tj" => {
                    let glyphs = operands[0].as_str().expect("text");
                    let font = font.expect("a font");
                    let letter = |pair: &[u8]| font[&u16::from_be_bytes([pair[0], pair[1]])].as_str();
                    page.texts.push((glyphs.chunks(2).map(letter).collect(), place(at.0, at.1)));
                }
                _ => {}
            }
        }
        page
    }
}

/// What the glyphs of each font of a page mean.
fn fonts(document: &Document, page: ObjectId) -> BTreeMap<Vec<u8>, BTreeMap<u16, String>> {
    let fonts = document.get_page_fonts(page).expect("fonts");
    fonts.into_iter().map(|(name, font)| (name, meanings(document, font))).collect()
}

/// The `ToUnicode` map of a font: ISO 32000-1, 9.10.3.
fn meanings(document: &Document, font: &Dictionary) -> BTreeMap<u16, String> {
    let stream = font.get_deref(b"ToUnicode", document).and_then(Object::as_stream).expect("a map");
    let text = stream.decompressed_content().unwrap_or_else(|_| stream.content.clone());
    let text = String::from_utf8_lossy(&text).into_owned();
    let mut map = BTreeMap::new();
    for part in text.split("beginbfchar").skip(1) {
        let pairs = part.split("endbfchar").next().unwrap_or_default();
        let codes: Vec<&str> = pairs.split(['<', '>']).skip(1).step_by(2).collect();
        for pair in codes.chunks(2) {
            map.insert(u16::from_str_radix(pair[0], 16).expect("a glyph"), letters(pair[1]));
        }
    }
    map
}

/// UTF-16 in hexadecimal.
fn letters(code: &str) -> String {
    let unit = |at: usize| u16::from_str_radix(&code[at..at + 4], 16).expect("UTF-16");
    let units: Vec<u16> = (0..code.len()).step_by(4).map(unit).collect();
    String::from_utf16(&units).expect("UTF-16")
}
