//! Sheets as SVG files, one a sheet, in millimetres of paper.
//!
//! The same display list as the PDF, mark for mark. Text is text: the cut-down font travels in the
//! file, and every line also states its width, which holds where that font is not used. No
//! scripts, no clock, numbers exact to the micrometre.

use std::collections::BTreeMap;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use rayon::prelude::*;
use svg::Document;
use svg::node::Node;
use svg::node::element::{self, ClipPath, Definitions, Description, Group, Rectangle, Style, Title, Use};

use crate::geom::{Point, Rect};
use crate::picture::Picture;
use crate::sheet::model::{Anchor, Face, Ink, Mark, Path, Pen, Seg, Sheet, SheetSet, Text};
use crate::units::Length;

use super::font::{Characters, collect, cut};
use super::{ExportFault, check, print, webfont, xml_safe};

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
    check::set(set)?;
    let style = style(set)?;
    let names: Vec<String> = (0..set.sheets.len()).map(|index| file_name(set, index)).collect();
    let files: BTreeMap<&str, &str> =
        set.sheets.iter().zip(&names).map(|(sheet, name)| (sheet.key.as_str(), name.as_str())).collect();
    let file = |(sheet, name): (&Sheet, &String)| {
        Ok(SvgFile { name: name.clone(), text: one(sheet, &files, &style)? })
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

fn one(sheet: &Sheet, links: Links, style: &str) -> Result<String, ExportFault> {
    let (width, height) = (mm(sheet.width), mm(sheet.height));
    let paper =
        Rectangle::new().set("width", width.clone()).set("height", height.clone()).set("fill", "#fff");
    let mut drawing = Drawing { links, stamps: Vec::new(), pictures: Vec::new(), clips: 0, fault: None };
    let mut group =
        Group::new().set("font-family", FAMILIES).set("fill", "none").set("stroke-miterlimit", 10);
    drawing.marks(&sheet.marks, &mut group);
    if let Some(fault) = drawing.fault {
        return Err(ExportFault::of(&sheet.key, fault));
    }
    let document = Document::new()
        .set("xmlns:xlink", "http://www.w3.org/1999/xlink")
        .set("version", "1.1")
        .set("xml:lang", "en")
        .set("width", format!("{width}mm"))
        .set("height", format!("{height}mm"))
        .set("viewBox", format!("0 0 {width} {height}"))
        .add(Title::new(xml_safe(&sheet.title)))
        .add(Description::new().add(svg::node::Text::new(xml_safe(&sheet.description))))
        .add(Style::new(style))
        .add(paper)
        .add(group);
    Ok(format!("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n{document}\n"))
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

const fn weight(face: Face) -> u16 {
    match face {
        Face::Regular => 400,
        Face::SemiBold => 600,
    }
}

struct Drawing<'a, 'l> {
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
    fn marks(&mut self, marks: &'a [Mark], into: &mut Group) {
        let mut rest = marks;
        while let Some((mark, after)) = rest.split_first() {
            rest = after;
            match mark {
                Mark::Stroke { pen, path } => {
                    // Lines of one pen that follow each other go into one path.
                    let mut data = path_data(path);
                    while let Some((Mark::Stroke { pen: next, path }, after)) = rest.split_first() {
                        if next != pen {
                            break;
                        }
                        data.push_str(&path_data(path));
                        rest = after;
                    }
                    into.append(stroke(pen, data));
                }
                Mark::Fill { ink, path } => {
                    let fill = element::Path::new().set("fill", grey(*ink)).set("fill-rule", "evenodd");
                    into.append(fill.set("d", path_data(path)));
                }
                Mark::Text(text) if text.text.is_empty() => {}
                Mark::Text(text) => into.append(line_of_text(text)),
                Mark::Clip { path, marks } => self.clip(path, marks, into),
                Mark::Stamp { marks, places } => self.stamp(marks, places, into),
                Mark::Tiles { picture, width, height, places } => {
                    self.tiles(picture, (*width, *height), places, into);
                }
                Mark::Link { area, to } => self.link(area, to, into),
                Mark::Group(group) => {
                    let mut inner = Group::new().set("class", group.layer.name().to_lowercase());
                    if !group.id.is_empty() {
                        inner = inner.set("id", id(&group.id));
                    }
                    if !group.title.is_empty() {
                        inner.append(Title::new(xml_safe(&group.title)));
                    }
                    self.marks(&group.marks, &mut inner);
                    into.append(inner);
                }
            }
        }
    }

    fn clip(&mut self, path: &Path, marks: &'a [Mark], into: &mut Group) {
        self.clips += 1;
        let name = format!("outline.{}", self.clips);
        let outline = element::Path::new().set("clip-rule", "evenodd").set("d", path_data(path));
        into.append(ClipPath::new().set("id", name.clone()).add(outline));
        let mut inner = Group::new().set("clip-path", format!("url(#{name})"));
        self.marks(marks, &mut inner);
        into.append(inner);
    }

    fn stamp(&mut self, marks: &'a [Mark], places: &[Point], into: &mut Group) {
        let number = self.stamps.iter().position(|known| *known == marks).unwrap_or_else(|| {
            self.stamps.push(marks);
            let number = self.stamps.len() - 1;
            let mut inner = Group::new().set("id", format!("stamp.{number}"));
            self.marks(marks, &mut inner);
            into.append(Definitions::new().add(inner));
            number
        });
        for place in places {
            let mark = Use::new().set("xlink:href", format!("#stamp.{number}"));
            into.append(mark.set("x", mm(place.x)).set("y", mm(place.y)));
        }
    }

    fn tiles(&mut self, picture: &'a Picture, size: (Length, Length), places: &[Point], into: &mut Group) {
        let number = self.pictures.iter().position(|known| *known == (picture, size)).unwrap_or_else(|| {
            self.pictures.push((picture, size));
            let number = self.pictures.len() - 1;
            match print::png(&print::printed(picture, size.0, size.1)) {
                Ok(png) => {
                    let image = element::Image::new()
                        .set("id", format!("picture.{number}"))
                        .set("width", mm(size.0))
                        .set("height", mm(size.1))
                        .set("preserveAspectRatio", "none")
                        .set("xlink:href", format!("data:image/png;base64,{}", STANDARD.encode(png)));
                    into.append(Definitions::new().add(image));
                }
                Err(fault) => self.fault = Some(fault),
            }
            number
        });
        for place in places {
            let tile = Use::new().set("xlink:href", format!("#picture.{number}"));
            into.append(tile.set("x", mm(place.x)).set("y", mm(place.y)));
        }
    }

    fn link(&self, area: &Rect, to: &str, into: &mut Group) {
        let Some(&file) = self.links.get(to) else { return };
        let target = Rectangle::new()
            .set("x", mm(area.x0))
            .set("y", mm(area.y0))
            .set("width", mm(area.width()))
            .set("height", mm(area.height()))
            .set("pointer-events", "all");
        into.append(element::Anchor::new().set("xlink:href", file).add(target));
    }
}

fn stroke(pen: &Pen, data: String) -> element::Path {
    let line =
        element::Path::new().set("stroke", grey(pen.ink)).set("stroke-width", mm(pen.width)).set("d", data);
    if pen.dash.is_empty() {
        line
    } else {
        let dashes: Vec<String> = pen.dash.iter().map(|part| mm(*part)).collect();
        line.set("stroke-dasharray", dashes.join(" "))
    }
}

fn line_of_text(text: &Text) -> element::Text {
    let (x, y) = (mm(text.at.x), mm(text.at.y));
    let mut line = element::Text::new(xml_safe(&text.text))
        .set("font-size", mm(text.size))
        .set("font-weight", weight(text.face))
        .set("fill", grey(text.ink))
        .set("textLength", mm(text.width));
    match text.anchor {
        Anchor::Start => {}
        Anchor::Middle => line.assign("text-anchor", "middle"),
        Anchor::End => line.assign("text-anchor", "end"),
    }
    if text.text.contains("  ") || text.text.trim() != text.text {
        line.assign("xml:space", "preserve");
    }
    if text.upward {
        line.assign("transform", format!("rotate(-90 {x} {y})"));
    }
    line.set("x", x).set("y", y)
}

fn path_data(path: &Path) -> String {
    let place = |p: &Point| format!("{} {}", mm(p.x), mm(p.y));
    let mut data = String::new();
    for seg in &path.0 {
        match seg {
            Seg::Move(p) => data.push_str(&format!("M{}", place(p))),
            Seg::Line(p) => data.push_str(&format!("L{}", place(p))),
            Seg::Cubic(a, b, c) => data.push_str(&format!("C{} {} {}", place(a), place(b), place(c))),
            Seg::Close => data.push('Z'),
        }
    }
    data
}

/// A length in millimetres, rounded to the micrometre, without needless figures.
fn mm(length: Length) -> String {
    let um = length.scale(1, 1_000).nm();
    let sign = if um < 0 { "-" } else { "" };
    let (whole, part) = (um.abs() / 1_000, um.abs() % 1_000);
    if part == 0 {
        return format!("{sign}{whole}");
    }
    format!("{sign}{whole}.{}", format!("{part:03}").trim_end_matches('0'))
}

/// An ink as a grey, the same level that the PDF states.
fn grey(ink: Ink) -> String {
    let level = (u32::from(100 - ink.0.min(100)) * 255 + 50) / 100;
    format!("#{level:02x}{level:02x}{level:02x}")
}

/// An id in the characters that every editor takes. Group ids never hold a full stop afterwards,
/// so the file's own ids, which do, cannot meet them.
fn id(text: &str) -> String {
    let mut id = String::new();
    for character in text.chars() {
        if character.is_ascii_alphanumeric() || character == '-' {
            id.push(character);
        } else {
            id.push_str(&format!("_{:x}_", u32::from(character)));
        }
    }
    if id.starts_with(|first: char| first.is_ascii_alphabetic()) { id } else { format!("id-{id}") }
}
