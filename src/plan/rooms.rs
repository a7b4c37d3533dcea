//! One room: its walls on the ribbon, the pattern on them, and a panel for each clothed wall.

use super::edges::edge;
use super::lattice::Laid;
use super::model::{
    CornerPlan, Kill, Panel, Piece, PlumbMark, Registration, RoomPlan, WallPlan, WallRef, Way,
};
use super::ribbon::{self, Ribbon};
use super::seams::Layout;
use super::words::list;
use super::{PlanFault, no_seam, outline, panels, plumb, railroad, seam_rules, seams, taping};
use crate::geom::{Point, Profile};
use crate::job::model::{Assumption, Cloth, Job, Room, Side, Wall};
use crate::units::Length;

/// A crown or base that departs from level by more than this is told to the reader.
const RUN_OFF_LIMIT: Length = Length::inch_64ths(16);

/// A crown or base that departs from level by more than this is meant to slope: a rake, a stair.
pub const RAKE_LIMIT: Length = Length::inches(3);

/// What planning assumes by itself, for the sheets.
pub fn assumption(job: &Job) -> Assumption {
    Assumption {
        text: format!(
            "A crown or base more than {} out of level over one wall is named as run-off, and taken as \
             meant to slope past {}",
            job.print.format.print(RUN_OFF_LIMIT),
            job.print.format.print(RAKE_LIMIT)
        ),
        source: "common practice, no source".into(),
    }
}

/// A room before its seams are chosen.
pub struct Draft {
    /// Its walls on the ribbon.
    pub ribbon: Ribbon,
    /// Where its pattern lies.
    pub registration: Registration,
    /// For each wall, the seams it can have, best by the rules first; empty on a bare wall.
    pub layouts: Vec<Vec<Layout>>,
}

impl Draft {
    /// Its cloth on its ribbon.
    pub fn laid<'a>(&self, cloth: &'a Cloth) -> Laid<'a> {
        Laid::new(cloth, &self.registration)
    }
}

/// Unrolls room `index`, lays its pattern and finds the seams that each wall can have when its cloth
/// hangs that way.
///
/// # Errors
/// `no-place-for-a-seam`, `seam-not-avoidable`, `too-high-to-railroad`.
pub fn draft(job: &Job, index: usize, way: Way) -> Result<Draft, PlanFault> {
    let room = &job.rooms[index];
    let ribbon = ribbon::unroll(room);
    let registration = ribbon::register(job, room, &ribbon, way);
    let mut draft = Draft { ribbon, registration, layouts: Vec::new() };
    for (wall, place) in room.walls.iter().enumerate() {
        let laid = draft.laid(&job.cloths[room.cloth]);
        let layouts = if place.clothed {
            let layouts = seams::layouts(job, room, wall, draft.ribbon.at[wall], &laid);
            let at = WallRef { room: index, wall };
            seam_rules::keep(job, at, no_seam::keep_clear(job, at, layouts)?)?
        } else {
            Vec::new()
        };
        railroad::fits(job, WallRef { room: index, wall }, draft.ribbon.at[wall], &laid, &layouts)?;
        draft.layouts.push(layouts);
    }
    Ok(draft)
}

/// Plans the panels of room `index` with the seams `chosen` for each wall: adds their pieces, not yet
/// on a bolt, to `pieces` and what a reader must know to `watch`. Batting, staples, trim and corner
/// treatment are left empty.
pub fn plan(
    job: &Job,
    index: usize,
    draft: Draft,
    chosen: &[usize],
    pieces: &mut Vec<Piece>,
    watch: &mut Vec<String>,
) -> RoomPlan {
    let room = &job.rooms[index];
    let laid = draft.laid(&job.cloths[room.cloth]);
    let ribbon = &draft.ribbon;
    let mut walls: Vec<Option<WallPlan>> = vec![None; room.walls.len()];
    for &wall in &ribbon.order {
        let (at, place) = (ribbon.at[wall], &room.walls[wall]);
        let panel = draft.layouts[wall].get(chosen[wall]).map(|layout| {
            let wanted = |side| edge(&job.house, room, wall, side).allowance;
            let (at_wall, sides) = (WallRef { room: index, wall }, (wanted(Side::Left), wanted(Side::Right)));
            let centred = room.registration.across.centred() == Some(wall);
            watch.extend(seam_rules::watch(job, at_wall, layout, sides, centred));
            panels::panel(job, at_wall, at, &laid, layout, pieces)
        });
        let plumb = plumb::line(place, panel.as_ref(), &laid, at);
        let mut planned = wall_plan(job, place, at, panel, plumb, laid.cloth.pattern.is_some());
        if planned.panel.is_some() {
            planned.hang_motif = super::hang::motif(&laid, place, at, planned.plumb);
        }
        walls[wall] = Some(planned);
    }
    let walls: Vec<WallPlan> = walls.into_iter().flatten().collect();
    watch_run_off(job, room, &walls, watch);
    let way = draft.registration.way;
    let kill = ribbon::kill(job, room, ribbon, way);
    watch.extend(kill.as_ref().map(|kill| kill_words(job, room, kill)));
    RoomPlan {
        corners: corners(job, room, ribbon, &walls, way),
        length: ribbon.length,
        ribbon: draft.ribbon.order,
        registration: draft.registration,
        kill,
        walls,
        trim: Vec::new(),
        outline: outline::of(room),
    }
}

fn kill_words(job: &Job, room: &Room, kill: &Kill) -> String {
    let print = |l: Length| job.print.format.print(l.abs());
    let told = |miss: Length, less: &str, more: &str| match miss {
        Length::ZERO => None,
        miss if miss < Length::ZERO => Some(format!("{} {less}", print(miss))),
        miss => Some(format!("{} {more}", print(miss))),
    };
    let across = told(kill.miss_across, "to the left", "to the right");
    let up = told(kill.miss_up, "lower", "higher");
    let misses: Vec<String> = across.into_iter().chain(up).collect();
    format!(
        "{}: the pattern does not meet at corner {}: what arrives there is out by {} against what began there.",
        room.name,
        room.corners[kill.corner].name,
        misses.join(" and "),
    )
}

fn wall_plan(
    job: &Job,
    wall: &Wall,
    at: Length,
    panel: Option<Panel>,
    (plumb, plumb_mark): (Length, PlumbMark),
    patterned: bool,
) -> WallPlan {
    let (bottom, top) = (wall.field_bottom(), wall.field_top());
    let (top_rise, bottom_rise) = (rise(&top), rise(&bottom));
    let rake = |rise| if rise > RAKE_LIMIT { rise } else { Length::ZERO };
    let run_off =
        |rise| if patterned && rise > RUN_OFF_LIMIT && rise <= RAKE_LIMIT { rise } else { Length::ZERO };
    WallPlan {
        x: at,
        tape_height: taping::height(job, wall, panel.as_ref()),
        plumb,
        plumb_mark,
        hang_motif: None,
        field: field(&bottom, &top, wall.width),
        panel,
        batting_joints: Vec::new(),
        battens: Vec::new(),
        batting: Vec::new(),
        staples: Vec::new(),
        run_off_top: run_off(top_rise),
        run_off_bottom: run_off(bottom_rise),
        rake_top: rake(top_rise),
        rake_bottom: rake(bottom_rise),
    }
}

/// The field's edge, counter-clockwise from the lower left.
fn field(bottom: &Profile, top: &Profile, width: Length) -> Vec<Point> {
    let mut points = bottom.between(Length::ZERO, width);
    points.extend(top.between(Length::ZERO, width).into_iter().rev());
    points
}

/// How far the highest point of an edge stands above its lowest, between one step and the next.
fn rise(edge: &Profile) -> Length {
    let heights = edge.stretches().map(|part| {
        let ys = || part.iter().map(|p| p.y);
        ys().max().zip(ys().min()).map_or(Length::ZERO, |(high, low)| high - low)
    });
    heights.max().unwrap_or(Length::ZERO)
}

fn watch_run_off(job: &Job, room: &Room, walls: &[WallPlan], watch: &mut Vec<String>) {
    for (wall, plan) in room.walls.iter().zip(walls).filter(|(wall, _)| wall.clothed) {
        if wall.lean > Length::ZERO && wall.lean == wall.lean() {
            watch.push(format!(
                "Wall {}: by its diagonals an end lies {} beyond its place at mid height; the allowances there hold it.",
                wall.label,
                job.print.format.print(wall.lean)
            ));
        }
        for (what, by) in [("top", plan.rake_top), ("bottom", plan.rake_bottom)] {
            if by > Length::ZERO {
                watch.push(format!(
                    "Wall {}: the {what} edge slopes, {} from its lowest point to its highest; the cloth hangs \
                     level and is cut along the slope.",
                    wall.label,
                    job.print.format.print(by)
                ));
            }
        }
        for (what, edge) in [("top", wall.field_top()), ("bottom", wall.field_bottom())] {
            let steps: Vec<String> = edge.steps().map(|step| job.print.format.print(step.x)).collect();
            if !steps.is_empty() {
                watch.push(format!(
                    "Wall {}: the {what} edge steps at {}; cloth and trim follow each step.",
                    wall.label,
                    list(&steps)
                ));
            }
        }
        for (what, by) in [("top", plan.run_off_top), ("bottom", plan.run_off_bottom)] {
            if by > Length::ZERO {
                watch.push(format!(
                    "Wall {}: the {what} edge is {} out of level; the pattern stays level and runs off against it.",
                    wall.label,
                    job.print.format.print(by)
                ));
            }
        }
    }
}

/// The corners, with their place and what the match consumes there; treatment is left empty.
fn corners(job: &Job, room: &Room, ribbon: &Ribbon, walls: &[WallPlan], way: Way) -> Vec<CornerPlan> {
    let count = room.walls.len();
    let corner = |index: usize| {
        let right = (index < count).then_some(index);
        let left = if index > 0 { Some(index - 1) } else { room.closed.then_some(count - 1) };
        let end = left.map(|w| ribbon.at[w] + room.walls[w].width);
        let x = right.map_or(end.unwrap_or(Length::ZERO), |w| ribbon.at[w]);
        let consumed = match (job.cloths[room.cloth].pattern, left, right) {
            (Some(lattice), Some(l), Some(r)) => match (&walls[l].panel, &walls[r].panel) {
                (Some(before), Some(after)) => {
                    let (end, begin) = (walls[l].x + before.gross.x1, walls[r].x + after.gross.x0);
                    let repeat = ribbon::along_walls(&lattice, way);
                    ribbon::consumed(repeat, end, begin)
                }
                _ => Length::ZERO,
            },
            _ => Length::ZERO,
        };
        CornerPlan {
            x,
            consumed,
            treatment: Vec::new(),
            hem_tape: Length::ZERO,
            adhesive: Length::ZERO,
            height: Length::ZERO,
        }
    };
    (0..room.corners.len()).map(corner).collect()
}
