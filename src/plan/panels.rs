//! The panel of one wall: its strips and seams, and the pieces they are cut from.

use super::lattice::{Laid, letter};
use super::model::{Panel, Piece, PieceId, PieceKind, Purpose, Seam, Strip, WallRef, Way};
use super::seams::{self, Layout};
use crate::geom::Rect;
use crate::job::model::{Job, OpeningCloth, Wall};
use crate::units::Length;

/// A part of a panel that is cut as one piece, in wall coordinates.
struct Part {
    kind: PieceKind,
    net: Rect,
    gross: Rect,
    face: (Length, Length),
    match_line: Length,
}

/// Builds the panel of `wall`, whose left end stands at `at` on the ribbon, with the seams of
/// `layout`. Adds its pieces to `pieces`.
pub fn panel(
    job: &Job,
    wall: WallRef,
    at: Length,
    laid: &Laid,
    layout: &Layout,
    pieces: &mut Vec<Piece>,
) -> Panel {
    let room = &job.rooms[wall.room];
    let place = &room.walls[wall.wall];
    let parts = parts(job, place, laid, layout);
    let mark = job.mark(wall.room, wall.wall);
    let mut strips = Vec::new();
    let mut gross = parts.first().map_or(Rect::default(), |p| p.gross);
    for (i, part) in parts.iter().enumerate() {
        let label = format!("{mark}{}", letter(i));
        let id = PieceId(pieces.len());
        let along = |r: &Rect| Rect { x0: r.x0 + at, x1: r.x1 + at, ..*r };
        let matched = laid.cloth.pattern.is_some();
        let (net, cut) = (along(&part.net), along(&part.gross));
        let purpose = Purpose::Wall(wall);
        let (face, match_line) = match laid.way {
            Way::Upright => ((part.face.0 + at, part.face.1 + at), part.match_line),
            Way::Railroaded => (laid.across(&net), laid.line_under(net.y0)),
        };
        pieces.push(Piece::unplaced(part.kind, label.clone(), room.cloth, purpose, net, cut, face, matched));
        strips.push(Strip { label, piece: id, net: part.net, match_line });
        gross.y0 = gross.y0.min(part.gross.y0);
        gross.y1 = gross.y1.max(part.gross.y1);
    }
    gross.x0 = layout.start - layout.left.allowance;
    gross.x1 = layout.end + layout.right.allowance;
    let seams = panel_seams(place, &strips);
    Panel { strips, seams, left: layout.left, right: layout.right, gross }
}

/// The parts of a panel, left to right, over before under.
fn parts(job: &Job, wall: &Wall, laid: &Laid, layout: &Layout) -> Vec<Part> {
    let cloth = laid.cloth;
    let (seam, lean) = (job.house.seam_allowance, wall.lean());
    let mut bounds = vec![layout.start];
    bounds.extend_from_slice(&layout.seams);
    bounds.push(layout.end);
    let last = bounds.len() - 2;
    let mut parts = Vec::new();
    for (i, pair) in bounds.windows(2).enumerate() {
        let (left, right) = (pair[0], pair[1]);
        let ends = (
            if i == 0 { layout.left.allowance } else { seam },
            if i == last { layout.right.allowance } else { seam },
        );
        let match_line = match (i, layout.seams.first()) {
            (0, Some(&first)) => first - cloth.match_width,
            (0, None) => {
                layout.match_line - cloth.match_width * (layout.match_line - left).div_ceil(cloth.match_width)
            }
            _ => left,
        };
        let mut cuts = vec![left];
        for x in pieced_edges(wall) {
            if left < x && x < right {
                cuts.push(x);
            }
        }
        cuts.push(right);
        let whole = cuts.len() == 2 && i > 0 && i < last;
        let kind = match laid.way {
            Way::Railroaded => PieceKind::Railroaded,
            Way::Upright if whole => PieceKind::Drop,
            Way::Upright => PieceKind::PartDrop,
        };
        for (k, span) in cuts.windows(2).enumerate() {
            let ends = (if k == 0 { ends.0 } else { seam }, if k + 2 == cuts.len() { ends.1 } else { seam });
            // A panel with a seam in the lean of its corner covers the lean with a strip of its own.
            let face0 =
                if span[0] == layout.start && left >= Length::ZERO { span[0] - lean } else { span[0] };
            let face1 = if span[1] == layout.end && right <= wall.width { span[1] + lean } else { span[1] };
            let span = Span { net: (span[0], span[1]), face: (face0, face1), ends };
            parts.extend(span_parts(job, wall, &span, match_line, kind));
        }
        if whole && let Some(drop) = parts.last_mut().filter(|p| p.kind == PieceKind::Drop) {
            drop.gross.x0 = match_line - cloth.left_match;
            drop.gross.x1 = drop.gross.x0 + cloth.width;
        }
    }
    parts
}

/// The sides of all pieced openings, left to right.
pub(super) fn pieced_edges(wall: &Wall) -> Vec<Length> {
    let pieced = wall.openings.iter().filter(|o| o.cloth == OpeningCloth::Pieced);
    let mut edges: Vec<Length> = pieced.flat_map(|o| [o.outer.x0, o.outer.x1]).collect();
    edges.sort();
    edges.dedup();
    edges
}

/// A width of one strip between seams and joints: what it covers, what of it may show, and the
/// cloth beyond its left and its right.
struct Span {
    net: (Length, Length),
    face: (Length, Length),
    ends: (Length, Length),
}

/// What is cut for one span of a wall: one piece of that kind, or the pieces over and under the pieced
/// openings that fill the span.
fn span_parts(job: &Job, wall: &Wall, span: &Span, match_line: Length, kind: PieceKind) -> Vec<Part> {
    let house = &job.house;
    let (x0, x1) = span.net;
    let (g0, g1) = (x0 - span.ends.0, x1 + span.ends.1);
    let (field_top, field_bottom) = (wall.field_top(), wall.field_bottom());
    let top = field_top.max_between(x0, x1);
    let bottom = field_bottom.min_between(x0, x1);
    let gross_top = field_top.max_between(g0, g1) + house.top_allowance;
    let gross_bottom = field_bottom.min_between(g0, g1) - house.bottom_allowance;
    // A piece over an arch comes down to where the arch is lowest within it, and is cut along it.
    let mut over: Vec<Rect> = wall
        .openings
        .iter()
        .filter(|o| o.cloth == OpeningCloth::Pieced && o.outer.x0 <= x0 && x1 <= o.outer.x1)
        .map(|o| Rect { y1: o.hole().top_at(x0).min(o.hole().top_at(x1)), ..o.outer })
        .collect();
    let part = |kind, y0, y1, cut0, cut1| Part {
        kind,
        net: Rect { x0, y0, x1, y1 },
        gross: Rect { x0: g0, y0: cut0, x1: g1, y1: cut1 },
        face: span.face,
        match_line,
    };
    if over.is_empty() {
        return vec![part(kind, bottom, top, gross_bottom, gross_top)];
    }
    over.sort_by_key(|r| std::cmp::Reverse(r.y1));
    let mut parts = Vec::new();
    let (mut upper, mut cut_upper) = (top, gross_top);
    for opening in over {
        if opening.y1 < upper {
            let cut = opening.y1 - house.bottom_allowance;
            parts.push(part(PieceKind::OpeningPiece, opening.y1, upper, cut, cut_upper));
        }
        if opening.y0 < upper {
            (upper, cut_upper) = (opening.y0, opening.y0 + house.top_allowance);
        }
    }
    if bottom < upper {
        parts.push(part(PieceKind::OpeningPiece, bottom, upper, gross_bottom, cut_upper));
    }
    parts
}

/// The vertical seams between the strips of a panel.
fn panel_seams(wall: &Wall, strips: &[Strip]) -> Vec<Seam> {
    let mut places: Vec<Length> = strips.iter().map(|s| s.net.x1).collect();
    places.sort();
    places.dedup();
    let mut seams = Vec::new();
    for x in places {
        let ending = strips.iter().filter(|s| s.net.x1 == x);
        let mut pairs = ending.flat_map(|l| strips.iter().filter(|r| r.net.x0 == x).map(move |r| (l, r)));
        // A piece over an opening and one under the next only touch.
        let Some((left, right)) = pairs.find(|(l, r)| l.net.y0 < r.net.y1 && r.net.y0 < l.net.y1) else {
            continue;
        };
        seams.push(Seam {
            label: format!("{}-{}", left.label, right.label),
            x,
            y0: wall.field_bottom().most_at(x),
            y1: wall.field_top().least_at(x),
            in_sight: seams::in_sight(wall, x),
            clearance: seams::clearance(wall, x),
        });
    }
    seams
}
