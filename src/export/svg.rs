//! Sheets as SVG files, one a sheet, in millimetres of paper.
//!
//! The same display list as the PDF, mark for mark. Text is text: the cut-down font travels in the
//! file, and every line also states its width, which holds where that font is not used. No
//! scripts, no clock, numbers exact to the micrometre.

use std::collections::BTreeMap;
use std::fmt::Write;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use rayon::prelude::*;
use svg::Document;
use svg::node::Blob;
use svg::node::element::{Description, Group, Rectangle, Style, Title};

use crate::geom::{Point, Rect};
use crate::picture::Picture;
use crate::sheet::model::{Anchor, Face, Ink, Mark, Path, Pen, Seg, Sheet, SheetSet, Text};
use crate::units::Length;

use super::decimal::Decimal;
use super::font::{Characters, collect, cut};
use super::xml::{self, Value, Xml};
use super::{ExportFault, check, print, webfont};

/// One file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SvgFile {
    /// Its name, safe on every file system: reader, number and key of the sheet.
    pub name: String,
    /// Its text.
    pub text: String,
}

/// The family name of the embedded font. Where it is not used, the families after it are tried.
const FAMILIES: &str = "'Sheet Sans', 'IBM Plex Sans Condensed', 'Arial Narrow', sans-serif";

/// Writes each sheet of a set as an SVG file, in order.
///
/// # Errors
/// When a sheet holds something that the file cannot show whole: see [`ExportFault`].
pub fn write(set: &SheetSet) -> Result<Vec<SvgFile>, ExportFault> {
    write_each(set, Ok)
}

/// Writes each sheet of a set as an SVG file and hands it on as soon as it is made, several side by side
/// and in no order. What was made of them comes back in the order of the sheets.
///
/// # Errors
/// As [`write()`], and when a file is not taken.
pub fn write_each<T: Send, E: From<ExportFault> + Send>(
    set: &SheetSet,
    take: impl Fn(SvgFile) -> Result<T, E> + Sync,
) -> Result<Vec<T>, E> {
    check::set(set)?;
    let style = style(set)?;
    let names: Vec<String> = (0..set.sheets.len()).map(|index| file_name(set, index)).collect();
    let files: BTreeMap<&str, &str> =
        set.sheets.iter().zip(&names).map(|(sheet, name)| (sheet.key.as_str(), name.as_str())).collect();
    let file = |(sheet, name): (&Sheet, &String)| {
        take(SvgFile { name: name.clone(), text: one(sheet, &files, &style)? })
    };
    set.sheets.par_iter().zip(&names).map(file).collect()
}

fn file_name(set: &SheetSet, index: usize) -> String {
    let mut key = String::new();
    for character in set.sheets[index].key.chars().take(60) {
        let plain = character.is_ascii_alphanumeric();
        if plain || !key.ends_with('-') {
            key.push(if plain { character.to_ascii_lowercase() } else { '-' });
        }
    }
    let number = index + 1;
    format!("{}-{number:02}-{}.svg", set.reader.word(), key.trim_matches('-'))
}

/// Where the sheet of each key is found.
type Links<'a> = &'a BTreeMap<&'a str, &'a str>;

/// What the marks of most sheets come to, in bytes.
const MARKS: usize = 60_000;

fn one(sheet: &Sheet, links: Links, style: &str) -> Result<String, ExportFault> {
    let mut drawing = Drawing {
        xml: Xml::of_about(MARKS),
        links,
        stamps: Vec::new(),
        pictures: Vec::new(),
        clips: 0,
        fault: None,
    };
    drawing.marks(&sheet.marks);
    if let Some(fault) = drawing.fault {
        return Err(ExportFault::of(&sheet.key, fault));
    }
    let (width, height) = (mm_text(sheet.width), mm_text(sheet.height));
    let paper =
        Rectangle::new().set("width", width.as_str()).set("height", height.as_str()).set("fill", "#fff");
    // The marks are text from the start: a node for each would take many times their memory.
    let marks = Group::new()
        .set("fill", "none")
        .set("font-family", FAMILIES)
        .set("stroke-miterlimit", "10")
        .add(Blob::new(drawing.xml.finish()));
    let document = Document::new()
        .set("xmlns:xlink", "http://www.w3.org/1999/xlink")
        .set("version", "1.1")
        .set("xml:lang", "en")
        .set("width", format!("{width}mm"))
        .set("height", format!("{height}mm"))
        .set("viewBox", format!("0 0 {width} {height}"))
        .add(Title::new(xml::safe(&sheet.title)))
        .add(Description::new().add(svg::node::Text::new(xml::safe(&sheet.description))))
        .add(Style::new(style))
        .add(paper)
        .add(marks);
    let mut text = String::with_capacity(style.len() + MARKS);
    // A string takes everything.
    let _ = writeln!(text, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n{document}");
    Ok(text)
}

fn mm_text(length: Length) -> String {
    let mut text = String::new();
    put_mm(length, &mut text);
    text
}

/// The fonts that all sheets of a set share: cutting them for each by itself would take longer than
/// drawing it, and make it little smaller.
fn style(set: &SheetSet) -> Result<String, ExportFault> {
    let mut characters = Characters::new();
    set.sheets.iter().for_each(|sheet| collect(&sheet.marks, &mut characters));
    // The width of a line is the sum of its characters' advances, so no kerning and no ligatures.
    let mut style = "text{font-kerning:none;font-variant-ligatures:none}".to_owned();
    for (face, used) in &characters {
        let font = STANDARD.encode(webfont::write(&cut(*face, used)?));
        let weight = weight(*face);
        style.push_str(&format!(
            "\n@font-face{{font-family:'Sheet Sans';font-weight:{weight};\
             src:url(data:font/ttf;base64,{font}) format('truetype')}}"
        ));
    }
    Ok(style)
}

const fn weight(face: Face) -> &'static str {
    match face {
        Face::Regular => "400",
        Face::SemiBold => "600",
    }
}

struct Drawing<'a, 'l> {
    xml: Xml,
    links: Links<'l>,
    /// The stamps already defined in the file; the index is the number in the id.
    stamps: Vec<&'a [Mark]>,
    /// The pictures already defined, each with its size on paper.
    pictures: Vec<(&'a Picture, (Length, Length))>,
    clips: usize,
    /// Why a picture could not be written.
    fault: Option<String>,
}

impl<'a> Drawing<'a, '_> {
    fn marks(&mut self, marks: &'a [Mark]) {
        let mut rest = marks;
        while let Some((mark, after)) = rest.split_first() {
            rest = after;
            match mark {
                Mark::Stroke { pen, .. } => {
                    // Lines of one pen that follow each other go into one path.
                    let same = |mark: &&Mark| matches!(mark, Mark::Stroke { pen: next, .. } if next == pen);
                    let more = rest.iter().take_while(same).count();
                    let (lines, after) = marks[marks.len() - rest.len() - 1..].split_at(1 + more);
                    rest = after;
                    self.stroke(pen, lines);
                }
                Mark::Fill { ink, path } => {
                    self.xml
                        .begin("path")
                        .set("d", data(path))
                        .set("fill", grey(*ink))
                        .set("fill-rule", "evenodd")
                        .end();
                }
                Mark::Text(text) if text.text.is_empty() => {}
                Mark::Text(text) => self.line_of_text(text),
                Mark::Clip { path, marks } => self.clip(path, marks),
                Mark::Stamp { marks, places } => self.stamp(marks, places),
                Mark::Tiles { picture, width, height, places } => {
                    self.tiles(picture, (*width, *height), places);
                }
                Mark::Link { area, to } => self.link(area, to),
                Mark::Group(group) => {
                    self.xml.begin("g").set("class", group.layer.name().to_lowercase().as_str());
                    if !group.id.is_empty() {
                        self.xml.set("id", |text: &mut String| put_id(&group.id, text));
                    }
                    if !group.title.is_empty() {
                        self.xml.begin("title").text(&group.title).end();
                    }
                    self.marks(&group.marks);
                    self.xml.end_of_elements();
                }
            }
        }
    }

    fn clip(&mut self, path: &Path, marks: &'a [Mark]) {
        self.clips += 1;
        let name = format!("outline.{}", self.clips);
        self.xml.begin("clipPath").set("id", name.as_str());
        self.xml.begin("path").set("clip-rule", "evenodd").set("d", data(path)).end();
        self.xml.end_of_elements();
        self.xml.begin("g").set("clip-path", format!("url(#{name})").as_str());
        self.marks(marks);
        self.xml.end_of_elements();
    }

    fn stamp(&mut self, marks: &'a [Mark], places: &[Point]) {
        let number = self.stamps.iter().position(|known| *known == marks).unwrap_or_else(|| {
            self.stamps.push(marks);
            let number = self.stamps.len() - 1;
            self.xml.begin("defs").begin("g").set("id", format!("stamp.{number}").as_str());
            self.marks(marks);
            self.xml.end_of_elements();
            self.xml.end_of_elements();
            number
        });
        self.uses(&format!("#stamp.{number}"), places);
    }

    fn tiles(&mut self, picture: &'a Picture, size: (Length, Length), places: &[Point]) {
        let number = self.pictures.iter().position(|known| *known == (picture, size)).unwrap_or_else(|| {
            self.pictures.push((picture, size));
            let number = self.pictures.len() - 1;
            match print::png(&print::printed(picture, size.0, size.1)) {
                Ok(png) => {
                    let image = |text: &mut String| {
                        text.push_str("data:image/png;base64,");
                        STANDARD.encode_string(&png, text);
                    };
                    self.xml
                        .begin("defs")
                        .begin("image")
                        .set("height", mm(size.1))
                        .set("id", format!("picture.{number}").as_str())
                        .set("preserveAspectRatio", "none")
                        .set("width", mm(size.0))
                        .set("xlink:href", image)
                        .end();
                    self.xml.end_of_elements();
                }
                Err(fault) => self.fault = Some(fault),
            }
            number
        });
        self.uses(&format!("#picture.{number}"), places);
    }

    fn uses(&mut self, what: &str, places: &[Point]) {
        for place in places {
            let used = self.xml.begin("use").set("x", mm(place.x));
            used.set("xlink:href", what).set("y", mm(place.y)).end();
        }
    }

    fn link(&mut self, area: &Rect, to: &str) {
        let Some(&file) = self.links.get(to) else { return };
        self.xml.begin("a").set("xlink:href", file);
        self.xml
            .begin("rect")
            .set("height", mm(area.height()))
            .set("pointer-events", "all")
            .set("width", mm(area.width()))
            .set("x", mm(area.x0))
            .set("y", mm(area.y0))
            .end();
        self.xml.end_of_elements();
    }

    /// Strokes of one pen as one path.
    fn stroke(&mut self, pen: &Pen, strokes: &[Mark]) {
        let lines = |text: &mut String| {
            for stroke in strokes {
                if let Mark::Stroke { path, .. } = stroke {
                    put_path(path, text);
                }
            }
        };
        let path = self.xml.begin("path").set("d", lines).set("stroke", grey(pen.ink));
        if !pen.dash.is_empty() {
            path.set("stroke-dasharray", |text: &mut String| {
                for (index, part) in pen.dash.iter().enumerate() {
                    if index > 0 {
                        text.push(' ');
                    }
                    put_mm(*part, text);
                }
            });
        }
        path.set("stroke-width", mm(pen.width)).end();
    }

    fn line_of_text(&mut self, text: &Text) {
        let (x, y) = (text.at.x, text.at.y);
        let line = self
            .xml
            .begin("text")
            .set("fill", grey(text.ink))
            .set("font-size", mm(text.size))
            .set("font-weight", weight(text.face));
        let anchor = match text.anchor {
            Anchor::Start => None,
            Anchor::Middle => Some("middle"),
            Anchor::End => Some("end"),
        };
        if let Some(anchor) = anchor {
            line.set("text-anchor", anchor);
        }
        line.set("textLength", mm(text.width));
        if text.upward {
            line.set("transform", |into: &mut String| {
                into.push_str("rotate(-90 ");
                put_place(text.at, into);
                into.push(')');
            });
        }
        line.set("x", mm(x));
        if text.text.contains("  ") || text.text.trim() != text.text {
            line.set("xml:space", "preserve");
        }
        line.set("y", mm(y)).lines(&text.text).end();
    }
}

fn data(path: &Path) -> impl Value {
    |text: &mut String| put_path(path, text)
}

fn put_path(path: &Path, text: &mut String) {
    for seg in &path.0 {
        match seg {
            Seg::Move(p) => {
                text.push('M');
                put_place(*p, text);
            }
            Seg::Line(p) => {
                text.push('L');
                put_place(*p, text);
            }
            Seg::Cubic(a, b, c) => {
                text.push('C');
                put_place(*a, text);
                text.push(' ');
                put_place(*b, text);
                text.push(' ');
                put_place(*c, text);
            }
            Seg::Close => text.push('Z'),
        }
    }
}

fn put_place(place: Point, text: &mut String) {
    put_mm(place.x, text);
    text.push(' ');
    put_mm(place.y, text);
}

/// A length in millimetres, rounded to the micrometre, without needless figures.
fn put_mm(length: Length, text: &mut String) {
    text.push_str(Decimal::new(length.scale(1, 1_000).nm(), 3).as_str());
}

fn mm(length: Length) -> impl Value {
    move |text: &mut String| put_mm(length, text)
}

/// An ink as a grey, the same level that the PDF states.
fn grey(ink: Ink) -> impl Value {
    const FIGURES: [char; 16] =
        ['0', '1', '2', '3', '4', '5', '6', '7', '8', '9', 'a', 'b', 'c', 'd', 'e', 'f'];
    let level = (usize::from(100 - ink.0.min(100)) * 255 + 50) / 100;
    move |text: &mut String| {
        text.push('#');
        for _ in 0..3 {
            text.push(FIGURES[level / 16]);
            text.push(FIGURES[level % 16]);
        }
    }
}

/// An id in the characters that every editor takes. Group ids never hold a full stop afterwards,
/// so the file's own ids, which do, cannot meet them.
fn put_id(id: &str, text: &mut String) {
    if !id.starts_with(|first: char| first.is_ascii_alphabetic()) {
        text.push_str("id-");
    }
    for character in id.chars() {
        if character.is_ascii_alphanumeric() || character == '-' {
            text.push(character);
        } else {
            text.push_str(&format!("_{:x}_", u32::from(character)));
        }
    }
}
