//! Labels to cut out and pin on the drops, one for each piece that is sewn into a panel, and for each sample.

use super::mark::{level, upright};
use super::model::{Anchor, Layer, Mark};
use super::text::{self, Style};
use super::{ComposeFault, Draft, Part, document, drawing, frame, pen, sign, words};
use crate::geom::{Point, Rect};
use crate::job::model::Paper;
use crate::plan::model::{EdgeFinish, Piece, PieceKind, Plan, Purpose, WallRef, Way};
use crate::units::Length;

/// A label is at least this wide.
const LEAST_WIDTH: Length = Length::mm(74);
/// A label is at least this high.
const LEAST_HEIGHT: Length = Length::mm(34);
/// White space inside a label.
const INSET: Length = Length::mm(3);
/// The width of the arrow at the right of a label, with its word.
const ARROW: Length = Length::mm(11);
/// White space under the rule of a label.
const UNDER_RULE: Length = Length::micrometres(400);

/// The sheets of labels, in cutting order; none when nothing is cut that wants one.
///
/// # Errors
/// `missing-glyph` when the font lacks a character of a label.
pub fn drafts(plan: &Plan, paper: Paper) -> Result<Vec<Draft>, ComposeFault> {
    let free = frame::free(paper);
    let area = Rect { y0: free.y0 + document::HEADING, ..free };
    let columns = area.width().div_floor(LEAST_WIDTH).max(1);
    let width = area.width() / columns;
    let pieces = labelled(plan);
    let mut least = LEAST_HEIGHT;
    for piece in &pieces {
        let count = lines(plan, piece, width)?.len() as i64;
        let head = INSET * 2 + Style::LABEL.caps.height() + Length::mm(2) + UNDER_RULE;
        least = least.max(head + Style::BODY.leading() * count);
    }
    let rows = area.height().div_floor(least).max(1);
    let height = area.height() / rows;
    let sheets = pieces.chunks((columns * rows) as usize);
    let count = sheets.len();
    let mut drafts = Vec::new();
    for (n, sheet) in sheets.enumerate() {
        let part = Part { number: n + 1, count };
        let title = "Labels to pin on the drops";
        let mut marks = vec![document::heading(&part.of(title), paper)?];
        for (i, &piece) in sheet.iter().enumerate() {
            let (column, row) = (i as i64 % columns, i as i64 / columns);
            let (x, y) = (area.x0 + width * column, area.y0 + height * row);
            let cell = Rect::new(x, y, x + width, y + height);
            let title = format!("label of {}", piece.label);
            marks.push(drawing::group(
                Layer::Sheet,
                format!("label-{}", i + 1),
                title,
                label(plan, piece, cell)?,
            ));
        }
        let used = (sheet.len() as i64 - 1) / columns + 1;
        marks.push(cut_lines(area, (columns, used), (width, height)));
        drafts.push(Draft {
            key: if n == 0 { "labels".to_owned() } else { format!("labels-{}", n + 1) },
            title: title.to_owned(),
            part,
            under: String::new(),
            description: "A label for every piece of a panel, to cut out and pin on its top.".to_owned(),
            kind: "Labels",
            scale: String::new(),
            also: Vec::new(),
            marks: marks.into(),
        });
    }
    Ok(drafts)
}

/// The pieces that are sewn into panels and the samples, in cutting order.
fn labelled(plan: &Plan) -> Vec<&Piece> {
    let apart = |piece: &&Piece| piece.kind <= PieceKind::OpeningPiece || piece.kind == PieceKind::Sample;
    let mut pieces: Vec<&Piece> = plan.pieces.iter().filter(apart).collect();
    pieces.sort_by_key(|piece| (piece.cloth, piece.cut.number));
    pieces
}

/// Lines to cut along, round `rows` rows of labels.
fn cut_lines(area: Rect, (columns, rows): (i64, i64), (width, height): (Length, Length)) -> Mark {
    let bottom = area.y0 + height * rows;
    let mut marks: Vec<Mark> =
        (0..=columns).map(|n| upright(area.x0 + width * n, area.y0, bottom, pen::CUT)).collect();
    marks.extend(
        (0..=rows).map(|n| level(area.x0, area.x0 + width * columns, area.y0 + height * n, pen::CUT)),
    );
    drawing::group(Layer::Sheet, "cut-lines", "lines to cut along", marks)
}

/// The words of a label under its head, wrapped.
fn lines(plan: &Plan, piece: &Piece, width: Length) -> Result<Vec<String>, ComposeFault> {
    let size = |length| words::cloth_length(plan, length);
    let way = plan.way(piece.cloth);
    let railroaded = if way == Way::Railroaded { ", railroaded" } else { "" };
    let nap = words::nap(&plan.job.cloths[piece.cloth], way);
    let nap = nap.map_or(String::new(), |runs| format!(", nap {runs}"));
    // Drops of several cloths hang in one room.
    let cloths = &plan.job.cloths;
    let of = if cloths.len() > 1 { format!(", {}", cloths[piece.cloth].name) } else { String::new() };
    // What is sewn together comes from one bolt, so the sewer must see which.
    let bolt = match plan.cloths[piece.cloth].bolts.len() {
        0 | 1 => String::new(),
        _ => format!(", {}", words::bolt(plan, piece.cloth, piece.cut.bolt).to_lowercase()),
    };
    let job = &plan.job.facts.number;
    let measures =
        |hung: &str| format!("{} long, {} wide{hung}{nap}", size(piece.cut.length), size(piece.cut.width));
    let words = match piece.purpose {
        Purpose::Wall(wall) => {
            let (before, after) = neighbours(plan, piece, wall);
            vec![
                format!("Job {job}{of}{bolt}, {}", words::named_wall(plan, wall)),
                measures(railroaded),
                format!("Left: {before}. Right: {after}."),
            ]
        }
        Purpose::Sample(at) => {
            let purpose = &cloths[piece.cloth].samples[at].purpose;
            let purpose = if purpose.is_empty() { String::new() } else { format!(", for {purpose}") };
            let motif = piece.matched.then(|| "A motif in its middle.".to_owned());
            [format!("Job {job}{of}{bolt}{purpose}"), measures("")].into_iter().chain(motif).collect()
        }
    };
    let mut lines = Vec::new();
    for words in words {
        lines.extend(text::wrap(&words, width - ARROW - INSET * 2, Style::BODY)?);
    }
    Ok(lines)
}

fn label(plan: &Plan, piece: &Piece, cell: Rect) -> Result<Vec<Mark>, ComposeFault> {
    let (left, right) = (cell.x0 + INSET, cell.x1 - INSET - ARROW);
    let shaft = cell.x1 - INSET - Length::mm(2);
    let baseline = cell.y0 + INSET + Style::LABEL.caps.height();
    let name = text::set(&piece.label, Point::new(left, baseline), Anchor::Start, Style::LABEL)?;
    let number = format!("cut {}", piece.cut.number);
    let number = text::set(number, Point::new(right, baseline), Anchor::End, Style::HEAD)?;
    let up = Point::new(shaft - Length::mm(2), cell.y0 + INSET + Style::BODY.caps.height());
    let up = text::set("up", up, Anchor::End, Style::BODY)?;
    let rule = baseline + Length::mm(2);
    let mut marks =
        vec![Mark::Text(name), Mark::Text(number), Mark::Text(up), level(left, right, rule, pen::HAIRLINE)];
    marks.extend(sign::arrow(Point::new(shaft, cell.y1 - INSET), Point::new(shaft, cell.y0 + INSET)));
    for (i, words) in lines(plan, piece, cell.width())?.into_iter().enumerate() {
        let y = rule + UNDER_RULE + Style::BODY.leading() * (i as i64 + 1);
        marks.push(Mark::Text(text::set(words, Point::new(left, y), Anchor::Start, Style::BODY)?));
    }
    Ok(marks)
}

/// What a piece meets at its left and right: pieces of its panel, or what becomes of the panel's
/// edge.
fn neighbours(plan: &Plan, piece: &Piece, at: WallRef) -> (String, String) {
    let wall = &plan.rooms[at.room].walls[at.wall];
    let Some(panel) = &wall.panel else { return (String::new(), String::new()) };
    let own = panel.strips.iter().find(|strip| plan.pieces.get(strip.piece.0) == Some(piece));
    let Some(own) = own.map(|strip| strip.net) else { return (String::new(), String::new()) };
    let room = &plan.job.rooms[at.room];
    let corner = |index: usize| room.corners.get(index).map_or("", |corner| corner.name.as_str());
    let beside = |meets: &dyn Fn(&Rect) -> bool, edge: EdgeFinish, at: usize| {
        let strips = panel.strips.iter().filter(|strip| strip.net.y0 < own.y1 && own.y0 < strip.net.y1);
        let labels: Vec<&str> = strips.filter(|s| meets(&s.net)).map(|s| s.label.as_str()).collect();
        if labels.is_empty() { words::edge_finish(edge, corner(at)) } else { words::list(&labels) }
    };
    let left = beside(&|net| net.x1 == own.x0, panel.left.finish, at.wall);
    let right = room.right_corner(at.wall);
    (left, beside(&|net| net.x0 == own.x1, panel.right.finish, right))
}
