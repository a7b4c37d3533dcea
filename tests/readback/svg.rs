//! An SVG sheet as data: texts with their boxes, groups with their paths.

use std::path::Path;
use std::sync::LazyLock;

use roxmltree::{Document, Node};

use crate::written::read;

/// A point in millimetres from the paper's upper left corner, y down.
pub type Point = (f64, f64);

/// What one file holds, in millimetres.
pub struct Sheet {
    /// The file's name.
    pub file: String,
    /// Job, paper and file, for messages.
    pub name: String,
    /// Its title.
    pub title: String,
    /// Every text but those of stamps.
    pub texts: Vec<Text>,
    /// Every named group.
    pub groups: Vec<Group>,
    /// Every point of a line, a fill or a clip outside stamps, and the place of every stamp, in order.
    pub points: Vec<Point>,
}

/// A line of text.
#[derive(Clone, Debug)]
pub struct Text {
    pub words: String,
    /// Where the text begins, on its baseline.
    pub start: Point,
    /// The box round its capitals: left, top, right, bottom.
    pub area: [f64; 4],
    /// The height of its capitals.
    pub capitals: f64,
}

/// A group with an id.
pub struct Group {
    pub id: String,
    /// Its own paths, each a list of points, in order.
    pub paths: Vec<Vec<Point>>,
    /// The paths that its strips are clipped to.
    pub clips: Vec<Vec<Point>>,
    /// Its own texts.
    pub texts: Vec<Text>,
}

/// Capitals by size: `sCapHeight` of the font in `fonts/`, which all sheets are set in.
static CAPITALS: LazyLock<f64> = LazyLock::new(|| {
    let file = concat!(env!("CARGO_MANIFEST_DIR"), "/fonts/IBMPlexSansCondensed-Regular.ttf");
    let bytes = std::fs::read(file).expect("the font");
    let face = ttf_parser::Face::parse(&bytes, 0).expect("a font");
    f64::from(face.capital_height().expect("a height of capitals")) / f64::from(face.units_per_em())
});

impl Sheet {
    /// Reads a file.
    pub fn read(file: &Path, binder: &str) -> Sheet {
        let text = read(file);
        let document = Document::parse(&text).expect("XML");
        let root = document.root_element();
        let name = file.file_name().expect("a name").to_string_lossy().into_owned();
        let told = |tag| {
            let told = root.children().find(|node| node.has_tag_name(tag)).and_then(|node| node.text());
            let words = told.unwrap_or_default().trim();
            assert!(words.len() > 3, "{binder} {name}: no {tag}");
            words.to_owned()
        };
        let (title, _) = (told("title"), told("desc"));
        let mut sheet = Sheet {
            name: format!("{binder} {name}"),
            title,
            file: name,
            texts: Vec::new(),
            groups: Vec::new(),
            points: Vec::new(),
        };
        sheet.walk(root);
        sheet
    }

    fn walk(&mut self, node: Node) {
        for node in node.children().filter(Node::is_element) {
            match node.tag_name().name() {
                "g" => {
                    if let Some(id) = node.attribute("id") {
                        self.groups.push(group(id, node));
                    }
                    self.walk(node);
                }
                "clipPath" | "a" => self.walk(node),
                "path" => self.points.extend(path(node)),
                "text" => self.texts.push(line_of_text(node)),
                "use" => self.points.push((number(node, "x"), number(node, "y"))),
                _ => {}
            }
        }
    }

    /// The group of an id.
    pub fn group(&self, id: &str) -> Option<&Group> {
        self.groups.iter().find(|group| group.id == id)
    }

    /// The denominator of the scale in the title block; `None` on a sheet that is not to one scale.
    pub fn scale(&self) -> Option<f64> {
        let texts = &self.group("frame")?.texts;
        let at = texts.iter().position(|text| text.words == "Scale")?;
        let (_, den) = texts[at + 1].words.split_once("1:")?;
        den.trim_end_matches(')').parse().ok()
    }

    /// No text leaves the frame, covers another or has capitals below 2.5 mm (ISO 3098).
    pub fn texts_are_clear(&self) {
        let frame = self.group("frame").expect("a frame");
        let [left, top, right, bottom] = bounds(&frame.paths[0]);
        for (i, text) in self.texts.iter().enumerate() {
            let [x0, y0, x1, y1] = text.area;
            let inside = x0 >= left && y0 >= top && x1 <= right && y1 <= bottom;
            assert!(inside, "{}: “{}” leaves the frame", self.name, text.words);
            assert!(text.capitals > 2.499, "{}: “{}” is {} high", self.name, text.words, text.capitals);
            for other in &self.texts[..i] {
                let [a0, b0, a1, b1] = other.area;
                let apart = a1 <= x0 + 0.01 || x1 <= a0 + 0.01 || b1 <= y0 + 0.01 || y1 <= b0 + 0.01;
                assert!(apart, "{}: “{}” and “{}” overlap", self.name, text.words, other.words);
            }
        }
    }
}

/// The least box round points: left, top, right, bottom.
pub fn bounds(points: &[Point]) -> [f64; 4] {
    let start = [f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY];
    points.iter().fold(start, |b, p| [b[0].min(p.0), b[1].min(p.1), b[2].max(p.0), b[3].max(p.1)])
}

fn group(id: &str, node: Node) -> Group {
    let own = |tag| node.children().filter(move |child| child.has_tag_name(tag));
    Group {
        id: id.to_owned(),
        paths: own("path").map(path).collect(),
        clips: own("clipPath").flat_map(|clip| clip.children().filter(Node::is_element)).map(path).collect(),
        texts: own("text").map(line_of_text).collect(),
    }
}

fn number(node: Node, name: &str) -> f64 {
    node.attribute(name).and_then(|value| value.parse().ok()).expect("a number")
}

/// The points of a path: M and L have one point, C three.
fn path(node: Node) -> Vec<Point> {
    let data = node.attribute("d").expect("a path").replace(['M', 'L', 'C', 'Z'], " ");
    let numbers: Vec<f64> = data.split_whitespace().map(|n| n.parse().expect("a number")).collect();
    numbers.chunks(2).map(|pair| (pair[0], pair[1])).collect()
}

fn line_of_text(node: Node) -> Text {
    let words = node.text().unwrap_or_default();
    let words = words.strip_prefix('\n').unwrap_or(words);
    let words = words.strip_suffix('\n').unwrap_or(words);
    let (x, y, width) = (number(node, "x"), number(node, "y"), number(node, "textLength"));
    let before = match node.attribute("text-anchor") {
        None => 0.0,
        Some("middle") => width / 2.0,
        Some(_) => width,
    };
    let capitals = number(node, "font-size") * *CAPITALS;
    let upward = node.attribute("transform").is_some();
    let (start, area) = if upward {
        let low = y + before;
        ((x, low), [x - capitals, low - width, x, low])
    } else {
        let left = x - before;
        ((left, y), [left, y - capitals, left + width, y])
    };
    Text { words: words.to_owned(), start, area, capitals }
}
