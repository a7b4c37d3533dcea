//! What several tests share: a small set of sheets that uses every kind of mark, and two
//! renderers from outside this project.

#![allow(dead_code, reason = "each test uses its part of this")]

use clothwright::diag::Diags;
use clothwright::geom::{Point, Rect};
use clothwright::plan::model::Plan;
use clothwright::sheet::model::{
    Anchor, Face, Group, Ink, Layer, Mark, Path, Pen, Reader, Seg, Sheet, SheetSet, Text,
};
use clothwright::source::FileId;
use clothwright::units::Length;
use clothwright::{font, job, parse, plan};

/// A grey picture, row by row from the top; 0 is black.
pub struct Picture {
    pub width: usize,
    pub height: usize,
    pub grey: Vec<u8>,
}

impl Picture {
    /// The greatest difference between the two pictures in the mean grey of a square of
    /// [`SQUARE`] pixels. Letters and lines that two renderers place half a pixel apart hardly
    /// change a mean; a mark that one of them lacks does.
    pub fn difference(&self, other: &Picture) -> u32 {
        assert_eq!((self.width, self.height), (other.width, other.height));
        self.means().into_iter().zip(other.means()).map(|(a, b)| a.abs_diff(b)).max().unwrap_or(0)
    }

    fn means(&self) -> Vec<u32> {
        let across = self.width.div_ceil(SQUARE);
        let mut sums = vec![0; across * self.height.div_ceil(SQUARE)];
        for (y, row) in self.grey.chunks(self.width).enumerate() {
            for (x, grey) in row.iter().enumerate() {
                sums[y / SQUARE * across + x / SQUARE] += u32::from(*grey);
            }
        }
        sums.iter().map(|sum| sum / (SQUARE * SQUARE) as u32).collect()
    }
}

/// The side of the squares that pictures are compared by, in pixels.
const SQUARE: usize = 8;

/// The pages of a PDF at `scale` pixels a point.
pub fn pdf_pictures(pdf: &[u8], scale: f32) -> Vec<Picture> {
    use hayro::vello_cpu::color::palette::css::WHITE;
    let pdf = hayro::hayro_syntax::Pdf::new(pdf.to_vec()).expect("a PDF that hayro reads");
    let cache = hayro::RenderCache::new();
    let settings = hayro::PixmapSettings { x_scale: scale, y_scale: scale, bg_color: WHITE };
    let picture = |page| {
        let pixmap = hayro::render(page, &cache, &Default::default(), &Default::default(), &settings);
        let grey = pixmap.data_as_u8_slice().chunks(4).map(|pixel| pixel[1]).collect();
        Picture { width: pixmap.width().into(), height: pixmap.height().into(), grey }
    };
    pdf.pages().iter().map(picture).collect()
}

/// An SVG at `scale` pixels a point, cut to the pixels of `like`.
pub fn svg_picture(svg: &str, scale: f32, like: &Picture) -> Picture {
    use resvg::{tiny_skia, usvg};
    let mut options = usvg::Options::default();
    options.fontdb_mut().load_fonts_dir("fonts");
    let tree = usvg::Tree::from_str(svg, &options).expect("an SVG that usvg reads");
    let (width, height) = (like.width as u32, like.height as u32);
    // A pixel of CSS is 1/96 in, a point 1/72 in.
    let fit = tiny_skia::Transform::from_scale(scale * 72.0 / 96.0, scale * 72.0 / 96.0);
    let mut pixmap = tiny_skia::Pixmap::new(width, height).expect("a size that is not zero");
    resvg::render(&tree, fit, &mut pixmap.as_mut());
    let grey = pixmap.data().chunks(4).map(|pixel| pixel[1]).collect();
    Picture { width: like.width, height: like.height, grey }
}

/// The plan of a demo job.
pub fn plan_of(job: &str) -> Plan {
    let text = std::fs::read_to_string(job).expect("a demo job");
    let mut diags = Diags::default();
    let parsed = parse::parse(&text, FileId(0), &mut diags).expect("a job file");
    let (job, _) = job::check(&parsed, &mut diags).expect("a job without errors");
    let mut plan = plan::make(job).expect("a job that can be planned");
    plan::options::offer(&mut plan);
    plan
}

const fn mm(mm: i64) -> Length {
    Length::mm(mm)
}

fn at(x: i64, y: i64) -> Point {
    Point::new(mm(x), mm(y))
}

pub fn boxed(x0: i64, y0: i64, x1: i64, y1: i64) -> Path {
    Path(vec![
        Seg::Move(at(x0, y0)),
        Seg::Line(at(x1, y0)),
        Seg::Line(at(x1, y1)),
        Seg::Line(at(x0, y1)),
        Seg::Close,
    ])
}

pub fn line(x0: i64, y0: i64, x1: i64, y1: i64) -> Path {
    Path(vec![Seg::Move(at(x0, y0)), Seg::Line(at(x1, y1))])
}

pub fn text(words: &str, x: i64, y: i64, face: Face, anchor: Anchor, upward: bool) -> Text {
    let size = Length::micrometres(3_600);
    let advance = |c| font::glyph(face, c).map_or(0, |glyph| glyph.advance);
    let units: i64 = words.chars().map(|c| i64::from(advance(c))).sum();
    let width = size.scale(units, font::face(face).units_per_em().into());
    Text { text: words.to_owned(), at: at(x, y), anchor, face, size, width, upward, ink: Ink::BLACK }
}

pub const FULL: Pen = Pen { width: Length::micrometres(500), ink: Ink::BLACK, dash: &[] };
const DASHED: Pen = Pen { width: Length::micrometres(250), ink: Ink(60), dash: &[mm(3), mm(1)] };

const TRELLIS: &[u8] = include_bytes!("../../jobs/fern-trellis.png");

/// Two sheets, A5 landscape, with every kind of mark on the first.
pub fn sample_set() -> SheetSet {
    let motif = Path(vec![
        Seg::Move(at(0, -4)),
        Seg::Cubic(at(4, -4), at(4, 4), at(0, 4)),
        Seg::Cubic(at(-4, 4), at(-4, -4), at(0, -4)),
        Seg::Close,
    ]);
    let motif = vec![
        Mark::Stroke { pen: DASHED, path: motif },
        Mark::Text(text("m", 0, 0, Face::Regular, Anchor::Middle, false)),
    ];
    let mut ring = boxed(150, 20, 190, 60);
    ring.0.extend(boxed(160, 30, 180, 50).0);
    let marks = vec![
        Mark::Stroke { pen: FULL, path: boxed(10, 10, 200, 138) },
        Mark::Stroke { pen: FULL, path: line(10, 120, 200, 120) },
        Mark::Fill { ink: Ink(20), path: ring },
        Mark::Group(Group {
            layer: Layer::Cloth,
            id: "strip-3B".into(),
            title: "Strip 3B".into(),
            marks: vec![Mark::Clip {
                path: boxed(20, 20, 80, 60),
                marks: vec![
                    Mark::Stamp { marks: motif, places: vec![at(30, 30), at(50, 40), at(78, 58)] },
                    Mark::Group(Group {
                        layer: Layer::Seams,
                        id: "seam-3A-3B".into(),
                        title: String::new(),
                        marks: vec![Mark::Stroke { pen: DASHED, path: line(40, 0, 40, 100) }],
                    }),
                ],
            }],
        }),
        Mark::Text(text("Wall 3: 9′ 0½″ × 108⅜″, 5⁄₁₆ & <up>", 15, 70, Face::SemiBold, Anchor::Start, false)),
        Mark::Text(text("in the middle", 105, 80, Face::Regular, Anchor::Middle, false)),
        Mark::Text(text("at the right end", 195, 90, Face::Regular, Anchor::End, false)),
        Mark::Text(text("read from the right", 190, 115, Face::Regular, Anchor::Start, true)),
        Mark::Clip {
            path: boxed(90, 20, 140, 62),
            marks: vec![Mark::Tiles {
                picture: clothwright::picture::Picture::read(TRELLIS).expect("a PNG"),
                width: mm(17),
                height: mm(18),
                places: vec![
                    at(85, 18),
                    at(85, 36),
                    at(85, 54),
                    at(102, 9),
                    at(102, 27),
                    at(102, 45),
                    at(119, 18),
                ],
            }],
        },
        Mark::Link { area: Rect::new(mm(15), mm(125), mm(60), mm(132)), to: "cut-list".into() },
    ];
    let second = vec![Mark::Text(text("Cut list", 20, 20, Face::SemiBold, Anchor::Start, false))];
    let sheet = |key: &str, title: &str, under: &str, marks| Sheet {
        key: key.into(),
        title: title.into(),
        under: under.into(),
        description: format!("What {title} shows."),
        width: mm(210),
        height: mm(148),
        marks,
    };
    SheetSet {
        reader: Reader::Workroom,
        title: "Tern Inn (parlour) – workroom".into(),
        author: "the installer".into(),
        date: "2026-03-02".into(),
        sheets: vec![
            sheet("elevation-parlour-3", "Wall 3", "Parlour", marks),
            sheet("cut-list", "Cut list", "", second),
        ],
    }
}
