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

/// Compares every sheet of every reader.
pub fn both_formats_are_one_drawing(binder: &Binder) {
    // Only a job with prices has costs.
    let costs = binder.of("costs").next().map(|_| "costs");
    for reader in ["crew", "workroom", "approval"].into_iter().chain(costs) {
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
                "cm" => moved = (numbers[4], numbers[5]),
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
