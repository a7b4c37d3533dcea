//! Marks to the operators of a page.

use std::collections::BTreeMap;

use crate::geom::{Point, Rect};
use crate::picture::Picture;
use crate::sheet::model::{Anchor, Face, Ink, Layer, Mark, Path, Pen, Seg, Text};
use crate::units::Length;

use super::super::check::points;
use super::super::font::CutFont;
use super::blank::font_name;
use super::bounds::bounds;
use super::number;

/// A place on a sheet that leads to another: the area in paper coordinates, and the key.
pub struct SheetLink {
    /// The area.
    pub area: Rect,
    /// The key of the sheet that it leads to.
    pub to: String,
}

/// What the pages of a document share: its fonts, and what it draws many times. Equal stamps are written
/// once, and so are equal pictures.
pub struct Shared<'a> {
    fonts: &'a BTreeMap<Face, CutFont>,
    drawn: Vec<(&'a [Mark], Form)>,
    pictures: Vec<Tile<'a>>,
}

/// A picture and its size on paper.
#[derive(Clone, Copy, PartialEq, Eq)]
pub struct Tile<'a> {
    /// The picture.
    pub picture: &'a Picture,
    /// How wide it is.
    pub width: Length,
    /// How high it is.
    pub height: Length,
}

/// The name that a picture goes by in a page's resources.
pub fn picture_name(index: usize) -> String {
    format!("Picture{index}")
}

/// A stamp's operators, about an origin of its own with y up.
pub struct Form {
    /// The operators.
    pub operators: Vec<u8>,
    /// A box round everything drawn, in points: left, bottom, right, top.
    pub bounds: [f32; 4],
}

/// The name that a stamp's form goes by in a page's resources.
pub fn form_name(index: usize) -> String {
    format!("Stamp{index}")
}

impl<'a> Shared<'a> {
    /// Nothing drawn yet.
    pub fn with_fonts(fonts: &'a BTreeMap<Face, CutFont>) -> Self {
        Shared { fonts, drawn: Vec::new(), pictures: Vec::new() }
    }

    /// The forms and the pictures; [`form_name`] and [`picture_name`] name each by its index.
    pub fn into_parts(self) -> (Vec<Form>, Vec<Tile<'a>>) {
        (self.drawn.into_iter().map(|(_, form)| form).collect(), self.pictures)
    }

    fn picture(&mut self, tile: Tile<'a>) -> usize {
        self.pictures.iter().position(|known| *known == tile).unwrap_or_else(|| {
            self.pictures.push(tile);
            self.pictures.len() - 1
        })
    }

    fn index(&mut self, marks: &'a [Mark]) -> usize {
        if let Some(known) = self.drawn.iter().position(|(drawn, _)| *drawn == marks) {
            return known;
        }
        let mut content = Content::on_sheet(Length::ZERO, self);
        content.marks(marks);
        let (operators, _) = content.finish();
        self.drawn.push((marks, Form { operators, bounds: bounds(marks) }));
        self.drawn.len() - 1
    }
}

/// What the page's graphics state holds, so that only changes are written; `None` where that is not known.
/// A page begins without dashes; a stamp, with whatever was set where it is stamped.
#[derive(Clone, Copy, Default, PartialEq)]
struct State {
    width: Option<Length>,
    dash: Option<&'static [Length]>,
    stroke: Option<Ink>,
    fill: Option<Ink>,
    font: Option<(Face, Length)>,
}

/// The operators of one page or stamp, under construction.
pub struct Content<'a, 's> {
    /// As ISO 32000-1 writes them, each on a line.
    operators: Vec<u8>,
    links: Vec<SheetLink>,
    shared: &'s mut Shared<'a>,
    /// The paper's height: y grows up in the file and down on a sheet.
    height: Length,
    state: State,
    layer: Option<Layer>,
    open_layer: Option<Layer>,
    in_text: bool,
    /// The pen of an unfinished path: lines of one pen go into one path.
    open_path: Option<Pen>,
}

impl<'a, 's> Content<'a, 's> {
    /// An empty page of a height; zero for a stamp, whose origin is its own.
    pub fn on_sheet(height: Length, shared: &'s mut Shared<'a>) -> Self {
        let dash: Option<&[Length]> = (height > Length::ZERO).then_some(&[]);
        Content {
            operators: Vec::new(),
            links: Vec::new(),
            shared,
            height,
            state: State { dash, ..State::default() },
            layer: None,
            open_layer: None,
            in_text: false,
            open_path: None,
        }
    }

    /// The operators and the links.
    pub fn finish(mut self) -> (Vec<u8>, Vec<SheetLink>) {
        self.close_path();
        self.close_text();
        self.close_layer();
        (self.operators, self.links)
    }

    /// Draws marks, in order.
    pub fn marks(&mut self, marks: &'a [Mark]) {
        marks.iter().for_each(|mark| self.mark(mark));
    }

    fn mark(&mut self, mark: &'a Mark) {
        match mark {
            Mark::Stroke { path, .. } | Mark::Fill { path, .. } if path.0.is_empty() => {}
            Mark::Stroke { pen, path } => self.stroke(pen, path),
            Mark::Fill { ink, path } => {
                self.begin_mark();
                self.fill_ink(*ink);
                self.path(path);
                self.write("f*");
            }
            Mark::Text(text) => self.text(text),
            Mark::Clip { path, marks } => self.clip(path, marks),
            Mark::Stamp { marks, places } => {
                self.begin_mark();
                let index = self.shared.index(marks);
                places.iter().for_each(|place| self.use_form(index, *place));
            }
            Mark::Tiles { picture, width, height, places } => {
                self.begin_mark();
                let tile = Tile { picture, width: *width, height: *height };
                let index = self.shared.picture(tile);
                places.iter().for_each(|place| self.use_picture(index, tile, *place));
            }
            Mark::Link { area, to } => self.links.push(SheetLink { area: *area, to: to.clone() }),
            Mark::Group(group) => {
                let outer = self.layer.replace(group.layer);
                self.marks(&group.marks);
                self.layer = outer;
            }
        }
    }

    /// Ends whatever the mark before left open, and enters the mark's layer.
    fn begin_mark(&mut self) {
        self.close_path();
        self.close_text();
        if self.open_layer != self.layer {
            self.close_layer();
            if let Some(layer) = self.layer {
                self.write(&format!("/OC /{} BDC", layer.name()));
                self.open_layer = self.layer;
            }
        }
    }

    fn close_layer(&mut self) {
        if self.open_layer.take().is_some() {
            self.write("EMC");
        }
    }

    fn close_text(&mut self) {
        if std::mem::take(&mut self.in_text) {
            self.write("ET");
        }
    }

    fn close_path(&mut self) {
        if self.open_path.take().is_some() {
            self.write("S");
        }
    }

    fn stroke(&mut self, pen: &Pen, path: &Path) {
        if self.open_path != Some(*pen) || self.open_layer != self.layer {
            self.begin_mark();
            self.pen(pen);
            self.open_path = Some(*pen);
        }
        self.path(path);
    }

    fn clip(&mut self, path: &Path, marks: &'a [Mark]) {
        self.begin_mark();
        // Layers open and close within the saved state, so that the two nest.
        self.close_layer();
        let outer = self.state;
        self.write("q");
        if path.0.is_empty() {
            // An empty outline shows nothing; an empty path would be no outline at all.
            self.write("0 0 0 0 re");
        }
        self.path(path);
        self.write("W*");
        self.write("n");
        self.marks(marks);
        self.close_path();
        self.close_text();
        self.close_layer();
        self.write("Q");
        self.state = outer;
    }

    fn use_form(&mut self, index: usize, place: Point) {
        self.write("q");
        self.text_of("1 0 0 1");
        self.place(place);
        self.write(&format!(" cm /{} Do", form_name(index)));
        self.write("Q");
    }

    /// A picture fills the unit square with its lower left corner at the origin (ISO 32000-1, 8.9.4).
    fn use_picture(&mut self, index: usize, tile: Tile, place: Point) {
        self.write("q");
        self.number(tile.width);
        self.text_of(" 0 0");
        self.number(tile.height);
        self.place(Point::new(place.x, place.y + tile.height));
        self.write(&format!(" cm /{} Do", picture_name(index)));
        self.write("Q");
    }

    fn text(&mut self, text: &Text) {
        if text.text.is_empty() {
            return;
        }
        if !self.in_text || self.open_layer != self.layer {
            self.begin_mark();
            self.write("BT");
            self.in_text = true;
        }
        self.fill_ink(text.ink);
        if self.state.font != Some((text.face, text.size)) {
            self.state.font = Some((text.face, text.size));
            self.text_of("/");
            self.text_of(font_name(text.face));
            self.number(text.size);
            self.write(" Tf");
        }
        let back = match text.anchor {
            Anchor::Start => Length::ZERO,
            Anchor::Middle => text.width / 2,
            Anchor::End => text.width,
        };
        if text.upward {
            self.text_of("0 1 -1 0");
            self.place(Point::new(text.at.x, text.at.y + back));
        } else {
            self.text_of("1 0 0 1");
            self.place(Point::new(text.at.x - back, text.at.y));
        }
        self.write(" Tm");
        self.show(text);
    }

    /// The glyphs of a text by their numbers, as the encoding Identity-H has them.
    fn show(&mut self, text: &Text) {
        const HEX: &[u8; 16] = b"0123456789ABCDEF";
        self.text_of("<");
        let fonts = self.shared.fonts;
        let glyphs = fonts.get(&text.face).map(|font| &font.glyphs);
        for character in text.text.chars() {
            let glyph = glyphs.and_then(|glyphs| glyphs.get(&character)).copied().unwrap_or(0);
            let digit = |shift: u16| HEX[usize::from(glyph >> shift & 15)];
            self.operators.extend([digit(12), digit(8), digit(4), digit(0)]);
        }
        self.write("> Tj");
    }

    fn pen(&mut self, pen: &Pen) {
        if self.state.width != Some(pen.width) {
            self.state.width = Some(pen.width);
            self.number(pen.width);
            self.write(" w");
        }
        if self.state.dash != Some(pen.dash) {
            self.text_of("[");
            pen.dash.iter().for_each(|part| number::dash(*part, &mut self.operators));
            self.write("] 0 d");
        }
        self.state.dash = Some(pen.dash);
        if self.state.stroke != Some(pen.ink) {
            self.state.stroke = Some(pen.ink);
            self.grey(pen.ink);
            self.write(" G");
        }
    }

    fn fill_ink(&mut self, ink: Ink) {
        if self.state.fill != Some(ink) {
            self.state.fill = Some(ink);
            self.grey(ink);
            self.write(" g");
        }
    }

    fn path(&mut self, path: &Path) {
        for seg in &path.0 {
            let operator = match seg {
                Seg::Move(_) => "m",
                Seg::Line(_) => "l",
                Seg::Cubic(..) => "c",
                Seg::Close => "h",
            };
            points(seg).into_iter().flatten().for_each(|p| self.place(p));
            self.text_of(" ");
            self.write(operator);
        }
    }

    /// A paper place in the file's coordinates, each after a blank.
    fn place(&mut self, point: Point) {
        self.number(point.x);
        self.number(self.height - point.y);
    }

    /// A paper length in points, after a blank.
    fn number(&mut self, length: Length) {
        number::points(length, &mut self.operators);
    }

    /// How light an ink is, from 0 to 1.
    fn grey(&mut self, ink: Ink) {
        number::hundredths(i64::from(100 - ink.0.min(100)), &mut self.operators);
    }

    fn text_of(&mut self, text: &str) {
        self.operators.extend_from_slice(text.as_bytes());
    }

    /// The end of a line.
    fn write(&mut self, text: &str) {
        self.text_of(text);
        self.operators.push(b'\n');
    }
}
