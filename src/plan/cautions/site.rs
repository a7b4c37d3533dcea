//! Electricity, hidden services, staplers, irons and heights.

use super::super::model::{Plan, StapleKind, TrimPlace};
use super::super::purchases::{boxes_by_depth, electrical, lines};
use super::super::words::{by_system, counted, fine, list, print};
use super::{Rule, services, walls_where};
use crate::job::model::{OpeningKind, Substrate, Wall};
use crate::units::Length;

pub(super) const RULES: [Rule; 13] = [
    Rule {
        code: "power-off",
        title: "Power off, and proved dead",
        text: "Switch off the circuit of every box before its plate comes off, lock it off, and prove the box \
               dead with an approved tester, tried first on a live source. Keep it off until the plates are \
               back. A licensed electrician does the box work where the law says so.",
        source: "NEC 314.20 (read in the source); NEC 314.25 and 406.6 (from memory)",
        because: |plan| {
            let boxes = electrical(plan);
            match boxes.as_slice() {
                [] => None,
                [only] => Some(format!("Box {only} has live parts behind its plate.")),
                _ => Some(format!("Boxes {} have live parts behind their plates.", list(&boxes))),
            }
        },
    },
    Rule {
        code: "box-extender",
        title: "Boxes must reach the finished surface",
        text: "Cloth on batting is a combustible finish: the front edge of each box, or of a listed extender, \
               must come flush with it or stand proud of it. Behind a finish that does not burn a box may be \
               set back at most {1/4 in}. Plates must cover the opening whole and sit tight.",
        source: "NEC 314.20 (read in the source); NEC 314.25 and 406.6 (from memory)",
        because: |plan| {
            let depths = boxes_by_depth(plan, |_| true);
            let each = |(depth, boxes): &(Length, Vec<&str>)| {
                format!("The surface comes {} forward round {}.", fine(&plan.job, *depth), list(boxes))
            };
            (!depths.is_empty()).then(|| depths.iter().map(each).collect::<Vec<_>>().join(" "))
        },
    },
    Rule {
        code: "metallic-cloth",
        title: "Metallic cloth near live parts",
        text: "This cloth can carry current. Cut it back clear of every box so that no thread of it lies under \
               a plate or near a terminal, and have each box looked at before the power goes on.",
        source: "Common practice, no source",
        because: |plan| {
            let metallic: Vec<&str> = plan
                .job
                .rooms
                .iter()
                .map(|r| &plan.job.cloths[r.cloth])
                .filter(|c| c.metallic)
                .map(|c| c.name.as_str())
                .collect();
            let mut names = metallic;
            names.dedup();
            (!names.is_empty()).then(|| format!("The cloth {} is metallic.", list(&names)))
        },
    },
    Rule {
        code: "staples-near-boxes",
        title: "No blind stapling near a box",
        text: "Cables leave a box upwards, downwards or sideways inside the wall. Find them with a detector \
               first, use the shortest leg that holds, and drive no staple blind within {hand} of a box: \
               leave the row open there and hold the edge with a dab of adhesive.",
        source: "Common practice, no source",
        because: near_boxes,
    },
    Rule {
        code: "hidden-services",
        title: "Pipes and cables behind the wall",
        text: "Before the first staple, go over each wall with a detector for pipes and cables, mark what it \
               finds, and keep staples and batten screws off the marks.",
        source: "Common practice, no source",
        because: |plan| {
            let hidden = |w: &Wall| {
                w.substrate != Substrate::Panelling || !w.fixings.is_empty() || !w.services.is_empty()
            };
            walls_where(plan, hidden).map(|walls| format!("Fixings go into {walls}, where services may run."))
        },
    },
    Rule {
        code: "known-services",
        title: "Known pipes and cables",
        text: "Set out each line with the tape before anything is fixed, check it with a detector, and mark it on \
               the wall and again on the batting. No staple and no screw within {hand} of it: leave the \
               row open there and hold the edge with a dab of adhesive.",
        source: "Common practice, no source",
        because: services::known,
    },
    Rule {
        code: "stapler",
        title: "Staplers: eyes and ears",
        text: "Wear eye protection marked Z87.1, and hearing protection beside an air stapler. Never point it \
               at a person. Take the air off before clearing a jam.",
        source: "ANSI Z87.1 and 29 CFR 1926.102 (from memory)",
        because: |plan| {
            let staples: i64 = lines(plan).map(|l| l.count).sum();
            (staples > 0).then(|| format!("{} are driven.", counted(staples, "staple")))
        },
    },
    Rule {
        code: "stapler-pressure",
        title: "Air above {100 psi}",
        text: "A stapler fed at more than {100 psi} needs a device on its muzzle that keeps it from firing \
               unless it is pressed to the work.",
        source: "29 CFR 1926.302 (read as quoted elsewhere)",
        because: |plan| {
            let psi = plan.job.house.stapler_psi;
            (psi > 100).then(|| format!("The job runs its staplers at {psi} psi."))
        },
    },
    Rule {
        code: "iron",
        title: "Hot irons",
        text: "Set the iron on its heel on a stand, away from the edge of the platform, never on batting or \
               cloth. Unplug it before leaving the room. Steam burns: keep the other hand out of it.",
        source: "Common practice, no source",
        because: |plan| {
            let folds =
                plan.rooms.iter().flat_map(|r| &r.corners).filter(|c| c.hem_tape > Length::ZERO).count();
            let panels = plan.rooms.iter().flat_map(|r| &r.walls).filter_map(|w| w.panel.as_ref());
            let seams: usize = panels.map(|p| p.seams.len()).sum();
            let press = (seams > 0).then(|| format!("{} to press", counted(seams as i64, "seam")));
            let crease =
                (folds > 0).then(|| format!("{} to crease and tape", counted(folds as i64, "corner")));
            let work: Vec<String> = press.into_iter().chain(crease).collect();
            (!work.is_empty()).then(|| format!("There are {}.", list(&work)))
        },
    },
    Rule {
        code: "stairwell",
        title: "Work over a stair",
        text: "Do not stand a step ladder on treads, and lean none over the open flight. Build a level platform with \
               guard rails and toe boards on all open sides, as its maker says, look it over each morning, and \
               close the stair below while anyone works above.",
        source: "29 CFR 1926.451 and 1926.502 (from memory); common practice",
        because: |plan| {
            walls_where(plan, climbs).map(|walls| format!("A stair or a sloping floor runs along {walls}."))
        },
    },
    Rule {
        code: "fireplace",
        title: "Fireplaces",
        text: "Have the fire out, the hearth cold, and gas shut off with its pilot out before dust sheets are laid. Cloth, \
               batting and battens are combustible: settle how far they keep from the opening and the flue with the \
               maker of the appliance and the authority before the first piece of batting.",
        source: "IRC R1001.11 for combustible trim (from memory); common practice",
        because: |plan| {
            let hearth = |w: &Wall| w.openings.iter().any(|o| o.kind == OpeningKind::Fireplace);
            walls_where(plan, hearth).map(|walls| format!("There is a fireplace on {walls}."))
        },
    },
    Rule {
        code: "ladder",
        title: "Ladders",
        text: "Stand a leaning ladder with its foot out a quarter of its working length and {3 ft} past a \
               landing. Never stand on the top or the top step of a step ladder. Face the steps, and move \
               the ladder rather than reach.",
        source: "29 CFR 1926.1053 (read in the source in part, else as quoted elsewhere)",
        because: |plan| {
            walls_where(plan, |w| above_reach(plan, w)).map(|walls| {
                format!("The cloth is stapled above {} on {walls}.", print(&plan.job, reach(plan)))
            })
        },
    },
    Rule {
        code: "platform",
        title: "A platform for the top edge",
        text: "Walking from stool to stool along a wall is how people fall. Set a platform with a guarded \
               edge along the wall for the top staples and the trim there, wide enough to pass on.",
        source: "Common practice, no source; 29 CFR 1926.1053 for ladders",
        because: |plan| {
            let crown = plan.rooms.iter().flat_map(|r| &r.trim).any(|t| t.place == TrimPlace::Top);
            let long = walls_where(plan, |w| above_reach(plan, w) && (crown || w.width > LONG_WALL));
            long.map(|walls| format!("Work goes on overhead along {walls}."))
        },
    },
];

/// The highest that a person of ordinary height staples from the floor with a straight back.
/// Common practice, no source.
fn reach(plan: &Plan) -> Length {
    by_system(&plan.job, Length::feet(6), Length::mm(1800))
}

/// The longest wall that is stapled at the top from one place of a ladder. Common practice, no source.
const LONG_WALL: Length = Length::feet(4);

fn above_reach(plan: &Plan, wall: &Wall) -> bool {
    let (top, floor) = (wall.field_top(), &wall.floor);
    top.points().iter().any(|p| p.y - floor.at(p.x) > reach(plan))
}

/// How near a box a staple counts as near. Common practice, no source.
fn near(plan: &Plan) -> Length {
    by_system(&plan.job, Length::inches(6), Length::mm(150))
}

fn near_boxes(plan: &Plan) -> Option<String> {
    let mut found: Vec<&str> = Vec::new();
    for (room, shape) in plan.rooms.iter().zip(&plan.job.rooms) {
        for (wall, shape) in room.walls.iter().zip(&shape.walls) {
            for fixing in shape.fixings.iter().filter(|f| f.kind.electrical()) {
                let around = fixing.rect.grown(near(plan));
                let fixed = wall.staples.iter().filter(|l| l.kind != StapleKind::Tack);
                if fixed.flat_map(|l| l.path.windows(2)).any(|p| around.meets(p[0], p[1])) {
                    found.push(&fixing.label);
                }
            }
        }
    }
    (!found.is_empty()).then(|| {
        format!("A row of staples passes within {} of {}.", print(&plan.job, near(plan)), list(&found))
    })
}

/// A floor that rises more than this along a wall is a stair or a ramp.
const LEVEL_FLOOR: Length = Length::inches(6);

pub(in crate::plan) fn climbs(wall: &Wall) -> bool {
    let floor = &wall.floor;
    floor.max_between(Length::ZERO, wall.width) - floor.min_between(Length::ZERO, wall.width) > LEVEL_FLOOR
}
