//! Marks to the operators of a page.

use printpdf::{
    Color, DictItem, Greyscale, LineDashPattern, Op, PdfFontHandle, Pt, TextItem, TextMatrix, XObjectId,
    XObjectTransform,
};

use crate::geom::{Point, Rect};
use crate::picture::Picture;
use crate::sheet::model::{Anchor, Face, Ink, Layer, Mark, Path, Pen, Seg, Text};
use crate::units::Length;

use super::super::check::points;
use super::bounds::bounds;
use super::{dash_pt, font_id, layer_id, pt};

/// A place on a sheet that leads to another: the area in paper coordinates, and the key.
pub struct SheetLink {
    /// The area.
    pub area: Rect,
    /// The key of the sheet that it leads to.
    pub to: String,
}

/// What a document draws many times: equal stamps are written once, and so are equal pictures.
#[derive(Default)]
pub struct Stamps<'a> {
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
#[derive(Clone)]
pub struct Form {
    /// The operators.
    pub ops: Vec<Op>,
    /// A box round everything drawn, in points: left, bottom, right, top.
    pub bounds: [f32; 4],
}

/// The name that a stamp's form goes by in a page's resources.
pub fn form_name(index: usize) -> String {
    format!("Stamp{index}")
}

impl<'a> Stamps<'a> {
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
        let (ops, _) = content.finish();
        self.drawn.push((marks, Form { ops, bounds: bounds(marks) }));
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
    ops: Vec<Op>,
    links: Vec<SheetLink>,
    stamps: &'s mut Stamps<'a>,
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
    pub fn on_sheet(height: Length, stamps: &'s mut Stamps<'a>) -> Self {
        let dash: Option<&[Length]> = (height > Length::ZERO).then_some(&[]);
        Content {
            ops: Vec::new(),
            links: Vec::new(),
            stamps,
            height,
            state: State { dash, ..State::default() },
            layer: None,
            open_layer: None,
            in_text: false,
            open_path: None,
        }
    }

    /// The operators and the links.
    pub fn finish(mut self) -> (Vec<Op>, Vec<SheetLink>) {
        self.close_path();
        self.close_text();
        self.close_layer();
        (self.ops, self.links)
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
                self.raw("f*", &[]);
            }
            Mark::Text(text) => self.text(text),
            Mark::Clip { path, marks } => self.clip(path, marks),
            Mark::Stamp { marks, places } => {
                self.begin_mark();
                let index = self.stamps.index(marks);
                places.iter().for_each(|place| self.use_form(index, *place));
            }
            Mark::Tiles { picture, width, height, places } => {
                self.begin_mark();
                let tile = Tile { picture, width: *width, height: *height };
                let index = self.stamps.picture(tile);
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
                self.ops.push(Op::BeginLayer { layer_id: layer_id(layer) });
                self.open_layer = self.layer;
            }
        }
    }

    fn close_layer(&mut self) {
        if self.open_layer.take().is_some() {
            self.ops.push(Op::EndLayer);
        }
    }

    fn close_text(&mut self) {
        if std::mem::take(&mut self.in_text) {
            self.ops.push(Op::EndTextSection);
        }
    }

    fn close_path(&mut self) {
        if self.open_path.take().is_some() {
            self.raw("S", &[]);
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
        self.ops.push(Op::SaveGraphicsState);
        if path.0.is_empty() {
            // An empty outline shows nothing; an empty path would be no outline at all.
            self.raw("re", &[0.0; 4]);
        }
        self.path(path);
        self.raw("W*", &[]);
        self.raw("n", &[]);
        self.marks(marks);
        self.close_path();
        self.close_text();
        self.close_layer();
        self.ops.push(Op::RestoreGraphicsState);
        self.state = outer;
    }

    fn use_form(&mut self, index: usize, place: Point) {
        let (x, y) = self.place(place);
        let transform = XObjectTransform {
            translate_x: Some(Pt(x)),
            translate_y: Some(Pt(y)),
            no_auto_scale: true,
            ..XObjectTransform::default()
        };
        self.ops.push(Op::UseXobject { id: XObjectId(form_name(index)), transform });
    }

    /// A picture fills the unit square with its lower left corner at the origin (ISO 32000-1, 8.9.4).
    fn use_picture(&mut self, index: usize, tile: Tile, place: Point) {
        let (x, y) = self.place(Point::new(place.x, place.y + tile.height));
        let transform = XObjectTransform {
            translate_x: Some(Pt(x)),
            translate_y: Some(Pt(y)),
            scale_x: Some(pt(tile.width)),
            scale_y: Some(pt(tile.height)),
            no_auto_scale: true,
            ..XObjectTransform::default()
        };
        self.ops.push(Op::UseXobject { id: XObjectId(picture_name(index)), transform });
    }

    fn text(&mut self, text: &Text) {
        if text.text.is_empty() {
            return;
        }
        if !self.in_text || self.open_layer != self.layer {
            self.begin_mark();
            self.ops.push(Op::StartTextSection);
            self.in_text = true;
        }
        self.fill_ink(text.ink);
        if self.state.font != Some((text.face, text.size)) {
            self.state.font = Some((text.face, text.size));
            let font = PdfFontHandle::External(font_id(text.face));
            self.ops.push(Op::SetFont { font, size: Pt(pt(text.size)) });
        }
        let back = match text.anchor {
            Anchor::Start => Length::ZERO,
            Anchor::Middle => text.width / 2,
            Anchor::End => text.width,
        };
        let matrix = if text.upward {
            let (x, y) = self.place(Point::new(text.at.x, text.at.y + back));
            [0.0, 1.0, -1.0, 0.0, x, y]
        } else {
            let (x, y) = self.place(Point::new(text.at.x - back, text.at.y));
            [1.0, 0.0, 0.0, 1.0, x, y]
        };
        self.ops.push(Op::SetTextMatrix { matrix: TextMatrix::Raw(matrix) });
        self.ops.push(Op::ShowText { items: vec![TextItem::Text(text.text.clone())] });
    }

    fn pen(&mut self, pen: &Pen) {
        if self.state.width != Some(pen.width) {
            self.state.width = Some(pen.width);
            self.ops.push(Op::SetOutlineThickness { pt: Pt(pt(pen.width)) });
        }
        if self.state.dash != Some(pen.dash) {
            let pattern = pen.dash.iter().map(|part| dash_pt(*part)).collect();
            self.ops.push(Op::SetLineDashPattern { dash: LineDashPattern { pattern, offset: 0.0 } });
        }
        self.state.dash = Some(pen.dash);
        if self.state.stroke != Some(pen.ink) {
            self.state.stroke = Some(pen.ink);
            self.ops.push(Op::SetOutlineColor { col: grey(pen.ink) });
        }
    }

    fn fill_ink(&mut self, ink: Ink) {
        if self.state.fill != Some(ink) {
            self.state.fill = Some(ink);
            self.ops.push(Op::SetFillColor { col: grey(ink) });
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
            let places: Vec<f32> =
                points(seg).into_iter().flatten().flat_map(|p| <[f32; 2]>::from(self.place(p))).collect();
            self.raw(operator, &places);
        }
    }

    /// A paper place in the file's coordinates.
    fn place(&self, point: Point) -> (f32, f32) {
        (pt(point.x), pt(self.height - point.y))
    }

    /// An operator as it stands in ISO 32000-1: `printpdf` closes rings by its own rules and ends
    /// every line with a stroke, so paths are written in the plain operators.
    fn raw(&mut self, operator: &str, operands: &[f32]) {
        let value = operands.iter().map(|number| DictItem::Real(*number)).collect();
        self.ops.push(Op::Unknown { key: operator.to_owned(), value });
    }
}

fn grey(ink: Ink) -> Color {
    let percent = f32::from(100 - ink.0.min(100)) / 100.0;
    Color::Greyscale(Greyscale { percent, icc_profile: None })
}
