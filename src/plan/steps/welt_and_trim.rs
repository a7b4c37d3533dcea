//! The sentences of sewing and fitting trim.

use super::rules::cut_out_strips;
use crate::job::model::TrimKind;
use crate::plan::model::{Piece, PieceKind, Plan, TrimRun};
use crate::plan::trim::trim_at;
use crate::plan::words::{self, capital, counted, fine, in_room, list, print, sold};
use crate::units::Length;

pub(super) fn sew_welt(plan: &Plan) -> Option<String> {
    let strips =
        plan.pieces.iter().filter(|p| matches!(p.kind, PieceKind::UprightStrip | PieceKind::LevelStrip));
    let strips = strips.count();
    let length = strip_length(plan);
    let sold_in = plan.job.cloths.first()?.sold_in;
    (strips > 0).then(|| {
        format!(
            "Sew the welt close to the cord with a zipper foot: {}, {} of welt. Join the pieces of one run, then \
             trim the allowance to {}.",
            counted(strips as i64, "strip"),
            sold(length, sold_in),
            fine(&plan.job, welt_allowance(plan))
        )
    })
}

/// The length of all strips from the bolt, as they are cut.
pub(super) fn strip_length(plan: &Plan) -> Length {
    let length = |piece: &Piece| match piece.kind {
        PieceKind::UprightStrip => piece.gross.height(),
        PieceKind::LevelStrip => piece.gross.width(),
        PieceKind::Drop
        | PieceKind::PartDrop
        | PieceKind::Railroaded
        | PieceKind::OpeningPiece
        | PieceKind::Sample => Length::ZERO,
    };
    plan.pieces.iter().map(length).sum()
}

/// The welt from cut-outs of a room; `None` when there is none.
pub(super) fn sew_cut_outs(plan: &Plan, room: usize) -> Option<String> {
    let mut openings: Vec<(&str, Vec<&str>)> = Vec::new();
    for strip in cut_out_strips(plan, room) {
        let wall = &plan.job.rooms[room].walls[strip.cut_out.wall.wall];
        let opening = wall.openings[strip.cut_out.opening].label.as_str();
        match openings.iter_mut().find(|(label, _)| *label == opening) {
            Some((_, strips)) => strips.push(&strip.label),
            None => openings.push((opening, vec![&strip.label])),
        }
    }
    let each = |(opening, strips): &(&str, Vec<&str>)| format!("{} from that of {opening}", list(strips));
    let each: Vec<String> = openings.iter().map(each).collect();
    (!each.is_empty()).then(|| {
        format!(
            "Cut strips from the cut-outs{} here on site, as the trim schedule says: {}. Sew their welt like the rest and \
             join it to that of its run.",
            in_room(plan, room),
            each.join("; ")
        )
    })
}

/// What is left beside the stitching of a welt, which gives the adhesive its key: 1/16 in (common
/// practice, no source).
fn welt_allowance(plan: &Plan) -> Length {
    words::by_system(&plan.job, Length::inch_64ths(4), Length::micrometres(1_500))
}

pub(super) fn trim(plan: &Plan, room: usize, run: &TrimRun) -> String {
    let trim = trim_at(&plan.job, run.place);
    let ends = match (run.ends.0.as_str(), run.ends.1.as_str()) {
        ("closed", _) if run.path.len() > 1 => {
            " Start and end in that corner with a butt joint; one fits, one holds.".to_owned()
        }
        ("closed", _) => " Start and end at a lower corner.".to_owned(),
        (first, last) if first == last => format!(" {} both ends.", capital(first)),
        (first, last) => format!(" {} the left end, {last} the right.", capital(first)),
    };
    let turns =
        run.path.iter().map(|p| p.points.windows(3).filter(|t| square_turn(t)).count()).sum::<usize>();
    let closed = usize::from(run.ends.0 == "closed" && run.path.len() == 1);
    let mitres = turns + closed;
    let mitred = if mitres > 0 { format!(", {}", counted(mitres as i64, "mitre")) } else { String::new() };
    let kind = if trim.kind == TrimKind::None { "trim" } else { trim.name.as_str() };
    let joined = if run.joins > 0 { format!(", {}", counted(run.joins, "join")) } else { String::new() };
    format!(
        "Glue {}, {kind}{}: {}, {}{mitred}{joined}.{ends}",
        run.label,
        in_room(plan, room),
        run.what,
        print(&plan.job, run.length)
    )
}

/// Whether a line turns from upright to level or back, by an angle: into a round head it runs on smoothly.
fn square_turn(three: &[crate::geom::Point]) -> bool {
    let upright = |a: usize, b: usize| three[a].x == three[b].x;
    let way =
        |a: usize, b: usize| ((three[b].x - three[a].x).to_mm_f64(), (three[b].y - three[a].y).to_mm_f64());
    let ((ax, ay), (bx, by)) = (way(0, 1), way(1, 2));
    let bend = (ax * by - ay * bx).abs().atan2(ax * bx + ay * by);
    upright(0, 1) != upright(1, 2) && bend > SMOOTH
}

/// The bend, in radians, up to which a welt is led on without a mitre. Common practice, no source.
const SMOOTH: f64 = 0.2;
