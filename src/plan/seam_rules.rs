//! Hard rules and preferences for seams.
//!
//! **Hard**, always: the cloth reaches both ends of the wall with an allowance that can be sewn or
//! stapled, and no selvage shows ([`super::seams`] makes no other layout); and no seam stands in a stretch
//! that the survey keeps clear ([`super::no_seam`]). **Hard where the house says
//! so** ([`SeamRules`](crate::job::model::SeamRules)): no seam through a box, none nearer a corner,
//! a casing or a step of the edge than the smallest sliver. When no place that the match leaves keeps a hard rule, there is
//! no plan.
//!
//! **Preferred**, in this order: those two rules where they are not hard; the whole allowance at both
//! ends; few strips; little seam in sight, so hidden places first; evenness. Only the last two give
//! way to cloth ([`super::choice`]). What is broken is named to the reader with its wall and figures.

use super::PlanFault;
use super::model::{Panel, WallRef};
use super::panels::pieced_edges;
use super::seams::Layout;
use super::words::{capital, print, wall_of};
use crate::job::model::{Firmness, House, Job, Wall};
use crate::units::Length;

/// A rule that a seam breaks.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Broken {
    /// Too near a corner (`None`) or the casing of an opening (its index).
    Sliver {
        /// The opening.
        opening: Option<usize>,
        /// How near.
        distance: Length,
    },
    /// Too near a step of the upper or the lower edge.
    Step {
        /// How near.
        distance: Length,
    },
    /// Through a fixing (its index).
    Box(usize),
}

impl Broken {
    /// Whether the house forbids it, rather than preferring to do without.
    pub fn forbidden(&self, house: &House) -> bool {
        let firmness = match self {
            Broken::Sliver { .. } | Broken::Step { .. } => house.seam_rules.sliver,
            Broken::Box(_) => house.seam_rules.through_box,
        };
        firmness == Firmness::Never
    }

    /// What the seam does, to follow "the seam at 3 ft".
    fn words(&self, job: &Job, wall: &Wall) -> String {
        match self {
            Broken::Sliver { opening, distance } => {
                let what = match opening {
                    Some(i) => format!("the casing of {}", wall.openings[*i].label),
                    None => "the corner".to_owned(),
                };
                format!(
                    "stands {} from {what}, nearer than the {} that the house allows",
                    print(job, *distance),
                    print(job, job.house.smallest_sliver)
                )
            }
            Broken::Step { distance } => format!(
                "stands {} from a step of the edge, nearer than the {} that the house allows",
                print(job, *distance),
                print(job, job.house.smallest_sliver)
            ),
            Broken::Box(i) => format!("runs through {}", wall.fixings[*i].label),
        }
    }

    /// How the job file makes a preference of the rule.
    fn relief(&self) -> &'static str {
        match self {
            Broken::Sliver { .. } | Broken::Step { .. } => "seam-rules sliver=avoid",
            Broken::Box(_) => "seam-rules box=avoid",
        }
    }
}

/// The rules that a seam at `x` of a wall breaks.
pub fn broken_rules(job: &Job, wall: &Wall, x: Length) -> Vec<Broken> {
    let (sliver, seam) = (job.house.smallest_sliver, job.house.seam_allowance);
    let mut broken = Vec::new();
    let corner = x.abs().min((wall.width - x).abs());
    if corner < sliver {
        broken.push(Broken::Sliver { opening: None, distance: corner });
    }
    for step in wall.field_top().steps().chain(wall.field_bottom().steps()) {
        let distance = (x - step.x).abs();
        if distance < sliver {
            broken.push(Broken::Step { distance });
        }
    }
    for (i, opening) in wall.openings.iter().enumerate().filter(|(_, o)| wall.in_field(&o.outer)) {
        let (x0, x1) = (opening.outer.x0, opening.outer.x1);
        let distance = (x - x0).abs().min((x - x1).abs());
        // Over an opening nothing narrow is left beside the casing, but the seam's allowances
        // must stay clear of the cut along it.
        let least = if x0 < x && x < x1 { seam } else { sliver };
        if distance < least {
            broken.push(Broken::Sliver { opening: Some(i), distance });
        }
    }
    for (i, fixing) in wall.fixings.iter().enumerate() {
        if fixing.rect.x0 <= x && x <= fixing.rect.x1 && wall.in_field(&fixing.rect) {
            broken.push(Broken::Box(i));
        }
    }
    broken
}

/// The layouts of a wall that keep the hard rules, in their order.
///
/// # Errors
/// `no-place-for-a-seam` when none does, naming the first rule that the best of them breaks.
pub fn keep(job: &Job, at: WallRef, layouts: Vec<Layout>) -> Result<Vec<Layout>, PlanFault> {
    let room = &job.rooms[at.room];
    let wall = &room.walls[at.wall];
    let Some(best) = layouts.first() else {
        return Err(PlanFault {
            code: "no-place-for-a-seam",
            message: format!(
                "{}: no place that the match leaves for a seam lets widths of {} reach both corners",
                wall_of(job, at),
                job.cloths[room.cloth].name
            ),
            wall: Some(at),
            help:
                "start the pattern elsewhere, make the allowances smaller, or square the wall up with battens"
                    .into(),
        });
    };
    let broken = best.seams.iter().flat_map(|&x| broken_rules(job, wall, x).into_iter().map(move |b| (x, b)));
    match broken.into_iter().find(|(_, broken)| broken.forbidden(&job.house)) {
        Some((x, broken)) => Err(PlanFault {
            code: "no-place-for-a-seam",
            message: format!(
                "{}: wherever the match lets seams stand, one breaks a hard rule; at best, the seam at {} {}",
                wall_of(job, at),
                print(job, x),
                broken.words(job, wall)
            ),
            wall: Some(at),
            help: format!(
                "start the pattern elsewhere, or let the house only avoid it, with {}",
                broken.relief()
            ),
        }),
        None => Ok(layouts.into_iter().take_while(|layout| layout.score.forbidden == 0).collect()),
    }
}

/// The rules that the seams of a panel break, each with its seam's place. The joints of a pieced
/// opening stand where the opening does, and are not weighed.
pub fn broken(job: &Job, at: WallRef, panel: &Panel) -> Vec<(Length, Broken)> {
    let wall = &job.rooms[at.room].walls[at.wall];
    let joints = pieced_edges(wall);
    let seams = panel.seams.iter().map(|seam| seam.x).filter(|x| !joints.contains(x));
    seams.flat_map(|x| broken_rules(job, wall, x).into_iter().map(move |broken| (x, broken))).collect()
}

/// The same in sentences.
pub fn broken_words(job: &Job, at: WallRef, panel: &Panel) -> Vec<String> {
    let wall = &job.rooms[at.room].walls[at.wall];
    let name = capital(&wall_of(job, at));
    let broken = broken(job, at, panel).into_iter();
    broken
        .map(|(x, broken)| format!("{name}: the seam at {} {}.", print(job, x), broken.words(job, wall)))
        .collect()
}

/// What a reader must know about a panel: preferences that its seams break, allowances that it lacks.
/// `wanted` are the allowances at its left and right; `centred` tells that the pattern is centred on
/// the wall.
pub fn watch(
    job: &Job,
    at: WallRef,
    layout: &Layout,
    wanted: (Length, Length),
    centred: bool,
) -> Vec<String> {
    let wall = &job.rooms[at.room].walls[at.wall];
    let name = capital(&wall_of(job, at));
    let mut lines = Vec::new();
    for &x in &layout.seams {
        for broken in broken_rules(job, wall, x) {
            lines.push(format!(
                "{name}: the seam at {} {}; the match leaves no better place.",
                print(job, x),
                broken.words(job, wall)
            ));
        }
    }
    let sides = [("left", layout.left.allowance, wanted.0), ("right", layout.right.allowance, wanted.1)];
    for (side, got, wanted) in sides.into_iter().filter(|(_, got, wanted)| got < wanted) {
        lines.push(format!(
            "{name}: the match leaves {} of cloth beyond the {side} corner instead of {}; handle that edge with care.",
            print(job, got),
            print(job, wanted),
        ));
    }
    if let (true, Some(&first), Some(&last)) = (centred, layout.seams.first(), layout.seams.last())
        && layout.score.lopsided > job.print.format.step
    {
        let left = print(job, first);
        lines.push(if layout.seams.len() == 1 {
            format!(
                "{name}: the pattern is centred on it, and its one seam cannot be: it stands {left} from the left corner, \
                 {} off the middle.",
                print(job, (first - wall.width / 2).abs()),
            )
        } else {
            format!(
                "{name}: the pattern is centred on it, and the match leaves no even seams: the first stands {left} \
                 from the left corner, the last {} from the right.",
                print(job, wall.width - last),
            )
        });
    }
    lines
}
