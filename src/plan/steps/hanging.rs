//! What is said of hanging a panel.

use std::collections::BTreeSet;

use super::sentences::{openings_in_field, print, staples, steps_of, wall_plan};
use crate::job::model::Wall;
use crate::plan::corners::Meeting;
use crate::plan::model::{
    EdgeFinish, Panel, PanelEdge, PieceKind, Plan, PlumbMark, StapleKind, WallPlan, WallRef, Way,
};
use crate::plan::staples::{hand, leg_told, open_at};
use crate::plan::words::{above, capital, counted, list, nap};
use crate::units::Length;

/// Hanging the panel of a wall; `None` on a wall without one.
pub(super) fn hang(plan: &Plan, at: WallRef) -> Option<String> {
    let planned = wall_plan(plan, at);
    let panel = planned.panel.as_ref()?;
    let piece = match plan.rooms[at.room].registration.way {
        Way::Upright => "strip",
        Way::Railroaded => "railroaded piece",
    };
    let mut text = format!(
        "Hang panel {}, {}, {} to the plumb line at {}{}.",
        plan.job.rooms[at.room].walls[at.wall].label,
        counted(panel.strips.len() as i64, piece),
        plumb_words(planned, panel),
        print(plan, planned.plumb),
        height(plan, &plan.job.rooms[at.room].walls[at.wall], planned)
    );
    if plan.job.rooms.len() > 1 {
        text = text.replace("Hang panel", &format!("{}: hang panel", capital(&plan.job.rooms[at.room].name)));
    }
    text += &lengths(plan, panel);
    let cloth = plan.job.rooms[at.room].cloth;
    if let Some(runs) = nap(&plan.job.cloths[cloth], plan.way(cloth)) {
        text += &format!(" The nap runs {runs}.");
    }
    if let Some(tacks) = staples(plan, at, StapleKind::Tack) {
        text += &format!(" Tack the top, {tacks}.");
    }
    let mut fixed = Vec::new();
    let openings = openings_in_field(&plan.job.rooms[at.room].walls[at.wall]);
    let round = format!("round {}", list(&openings.map(|o| o.label.as_str()).collect::<Vec<_>>()));
    // A side whose row is broken by a pipe is still one side.
    let side_rows = planned.staples.iter().filter(|l| l.kind == StapleKind::Side);
    let sides: BTreeSet<Length> = side_rows.filter_map(|l| l.path.first()).map(|p| p.x).collect();
    let sides = sides.len();
    for (kind, name) in [
        (StapleKind::Top, "the top from the centre out"),
        (StapleKind::Bottom, "the bottom"),
        (StapleKind::Side, if sides == 1 { "the side" } else { "the sides" }),
        (StapleKind::Casing, round.as_str()),
    ] {
        if let Some(staples) = staples(plan, at, kind) {
            fixed.push(format!("{name}, {staples}"));
        }
    }
    let leg = leg_told(&plan.job, at).map_or(String::new(), |leg| format!(" with the {leg}:"));
    text += &format!(" Staple{leg} {}.", fixed.join("; "));
    if steps_of(&plan.job.rooms[at.room].walls[at.wall]) > 0 {
        text += " At each step of the edge cut into its inner corner, as far as the staples, before it is pulled.";
    }
    text += &held(plan, at);
    text += &way_out(plan, at);
    text += &wrap_sentences(plan, at);
    let trimmed = match sides {
        0 => "top and bottom",
        1 => "top, bottom and side",
        _ => "top, bottom and sides",
    };
    text += &format!(" Draw the tacks, and trim the cloth close to the staples at {trimmed}.");
    let folded = |edge: PanelEdge| edge.finish == EdgeFinish::Folded;
    text += match (folded(panel.left), folded(panel.right)) {
        (true, true) => " Leave both side edges loose for their folds.",
        (true, false) => " Leave the left edge loose for its fold.",
        (false, true) => " Leave the right edge loose for its fold.",
        (false, false) => "",
    };
    Some(text)
}

/// The lengths of a panel's strips as they are cut, where they are not the same: whoever hangs it sees a panel that
/// steps. What lies over or under an opening is short by intent.
fn lengths(plan: &Plan, panel: &Panel) -> String {
    let pieces = panel.strips.iter().filter_map(|strip| plan.pieces.get(strip.piece.0));
    let drops = pieces.filter(|piece| piece.kind != PieceKind::OpeningPiece);
    let each: Vec<(&str, String)> =
        drops.map(|piece| (piece.label.as_str(), print(plan, piece.gross.height()))).collect();
    if each.windows(2).all(|pair| pair[0].1 == pair[1].1) {
        return String::new();
    }
    let each: Vec<String> = each.iter().map(|(label, length)| format!("{label} {length}")).collect();
    format!(" Its strips are cut to lengths of their own: {}.", list(&each))
}

/// What of a panel is held to its plumb line.
fn plumb_words(planned: &WallPlan, panel: &Panel) -> String {
    let seam = panel.seams.iter().find(|seam| seam.x == planned.plumb);
    match (planned.plumb_mark, seam) {
        (PlumbMark::Seam, Some(seam)) => format!("seam {}", seam.label),
        (PlumbMark::Motifs, _) => "a column of motifs".to_owned(),
        (PlumbMark::Mark | PlumbMark::Seam, _) => "the marks for it".to_owned(),
    }
}

/// At what height a panel is hung.
fn height(plan: &Plan, wall: &Wall, planned: &WallPlan) -> String {
    match planned.hang_motif {
        Some(motif) => format!(
            ", with the centre of a motif {} and {} from the left corner",
            above(&plan.job, wall, motif.y),
            print(plan, motif.x)
        ),
        None => format!(
            ", its top edge {} above the highest point of the field",
            print(plan, plan.job.house.top_allowance)
        ),
    }
}

/// Where staples would come too near a box.
fn held(plan: &Plan, at: WallRef) -> String {
    let boxes = open_at(&plan.job, &plan.job.rooms[at.room].walls[at.wall], wall_plan(plan, at));
    if boxes.is_empty() {
        return String::new();
    }
    let near = print(plan, hand(&plan.job));
    format!(" No staple within {near} of {}: hold the edge there with a dab of adhesive.", list(&boxes))
}

/// What is done where a panel would close the only way out of a room.
fn way_out(plan: &Plan, at: WallRef) -> String {
    let room = &plan.job.rooms[at.room];
    let ways = room.walls.iter().enumerate().flat_map(|(wall, shape)| {
        let ways = shape.openings.iter().filter(|o| o.kind.is_way());
        ways.map(move |way| (wall, way.label.as_str()))
    });
    let ways: Vec<(usize, &str)> = ways.collect();
    match ways.as_slice() {
        [(wall, way)] if *wall == at.wall && room.closed => format!(
            " {way} is the only way out: staple one side of its casing last, and cut it free at once, so that nobody \
             is shut in."
        ),
        _ => String::new(),
    }
}

fn wrap_sentences(plan: &Plan, at: WallRef) -> String {
    let room = &plan.job.rooms[at.room];
    let mut text = String::new();
    for corner in 0..room.corners.len() {
        let meeting = Meeting::at(room, corner);
        let Some((wrap, fold)) = meeting.wrap_and_fold() else { continue };
        if wrap != at.wall {
            continue;
        }
        let (name, next) = (&room.corners[corner].name, &room.walls[fold].label);
        if room.corners[corner].metal_bead {
            text += &format!(
                " Carry it round corner {name} and glue it to wall {next} with {} of adhesive, held until it grips and \
                 then left alone for {} minutes: the metal bead turns staples.",
                print(plan, meeting.wrap_height(room)),
                plan.job.rates.hold_minutes
            );
        } else {
            let lines = wall_plan(plan, at).staples.iter().filter(|l| l.kind == StapleKind::Wrap);
            let right = room.right_corner(at.wall) == corner;
            let there = lines.filter(|l| l.path.iter().all(|p| (p.x > Length::ZERO) == right));
            let count: i64 = there.map(|l| l.count).sum();
            text += &format!(
                " Carry it round corner {name} and staple it on wall {next}, {count} at {}.",
                print(plan, plan.job.house.wrap_staples)
            );
        }
    }
    text
}
