//! What is to be done, in the order in which it is done unless a rule says otherwise: stage by
//! stage, and within a stage along the ribbon, so that the wall before the kill corner comes last.

use super::{Draft, Key, hanging};
use super::{sentences as say, welt_and_trim as fit};
use crate::job::model::{OpeningKind, Substrate};
use crate::plan::corners::glued_wraps;
use crate::plan::model::{Plan, Stage, TrimPlace, WallRef};
use crate::plan::trim::trim_at;
use crate::units::Length;

/// Every step of the job.
pub(super) fn drafts(plan: &Plan) -> Vec<Draft> {
    let mut all = Vec::new();
    let rooms = 0..plan.rooms.len();
    rooms.clone().for_each(|room| before(plan, room, &mut all));
    answers(plan, &mut all);
    // A room whose power is off may hold cables of the next.
    rooms.clone().for_each(|room| find(plan, room, &mut all));
    rooms.clone().for_each(|room| power(plan, room, &mut all));
    rooms.clone().for_each(|room| prepare(plan, room, &mut all));
    rooms.clone().for_each(|room| batting(plan, room, &mut all));
    sew(plan, &mut all);
    for room in rooms {
        // Before the panels in the list, so that a way through is free before the next panel is begun.
        free_ways(plan, room, &mut all);
        hang(plan, room, &mut all);
        open(plan, room, &mut all);
        corners(plan, room, &mut all);
        sew_cut_outs(plan, room, &mut all);
        trim(plan, room, &mut all);
        finish(plan, room, &mut all);
    }
    all
}

/// The clothed walls of a room along the ribbon.
fn clothed(plan: &Plan, room: usize) -> impl Iterator<Item = WallRef> + '_ {
    let walls = plan.rooms[room].ribbon.iter();
    walls.filter(move |w| plan.job.rooms[room].walls[**w].clothed).map(move |w| WallRef { room, wall: *w })
}

fn raised(plan: &Plan, code: &str) -> bool {
    plan.cautions.iter().any(|c| c.code == code)
}

fn before(plan: &Plan, room: usize, all: &mut Vec<Draft>) {
    let stage = Stage::Before;
    if let Some(text) = say::measure(plan, room) {
        all.push(Draft {
            key: Key::Measure(room),
            stage,
            wall: None,
            name: "measure again",
            text,
            cautions: &[],
            people: 1,
        });
    }
    if let Some(text) = say::tests(plan, room) {
        let cautions = &["lead", "asbestos"];
        all.push(Draft {
            key: Key::Tests(room),
            stage,
            wall: None,
            name: "have the walls tested",
            text,
            cautions,
            people: 1,
        });
    }
    if let Some(text) = say::fire_data(plan, room) {
        all.push(Draft {
            key: Key::FireData(room),
            stage,
            wall: None,
            name: "have the fire data",
            text,
            cautions: &["fire-data-missing", "fire-public"],
            people: 1,
        });
    }
}

fn find(plan: &Plan, room: usize, all: &mut Vec<Draft>) {
    let stage = Stage::Prepare;
    if raised(plan, "hidden-services") {
        let text = say::find(plan, room);
        let cautions = &["hidden-services", "known-services", "staples-near-boxes"];
        all.push(Draft {
            key: Key::Find(room),
            stage,
            wall: None,
            name: "find pipes and cables",
            text,
            cautions,
            people: 1,
        });
    }
}

fn power(plan: &Plan, room: usize, all: &mut Vec<Draft>) {
    let stage = Stage::Prepare;
    if let Some(text) = say::power(plan, room) {
        let cautions = &["power-off"];
        all.push(Draft {
            key: Key::Power(room),
            stage,
            wall: None,
            name: "power off",
            text,
            cautions,
            people: 1,
        });
    }
}

fn prepare(plan: &Plan, room: usize, all: &mut Vec<Draft>) {
    let stage = Stage::Prepare;
    let text = say::clear(plan, room);
    let cautions = &["lead", "asbestos", "dust", "fireplace", "fire-public", "fire-dwelling", "outside-us"];
    all.push(Draft {
        key: Key::Clear(room),
        stage,
        wall: None,
        name: "clear the walls",
        text,
        cautions,
        people: 1,
    });
    if let Some(text) = say::extend(plan, room) {
        let cautions = &["box-extender", "power-off"];
        all.push(Draft {
            key: Key::Extend(room),
            stage,
            wall: None,
            name: "bring the boxes forward",
            text,
            cautions,
            people: 1,
        });
    }
    for at in clothed(plan, room) {
        if plan.job.rooms[room].walls[at.wall].substrate == Substrate::Masonry {
            let text = say::battens(plan, at);
            let cautions =
                &["stairwell", "fire-battens", "hidden-services", "known-services", "dust", "lead"];
            all.push(Draft {
                key: Key::Battens(at),
                stage,
                wall: Some(at),
                name: "fix battens",
                text,
                cautions,
                people: 1,
            });
        }
    }
    let text = say::mark(plan, room);
    all.push(Draft {
        key: Key::Mark(room),
        stage,
        wall: None,
        name: "mark plumb lines",
        text,
        cautions: &[],
        people: 2,
    });
}

fn batting(plan: &Plan, room: usize, all: &mut Vec<Draft>) {
    for at in clothed(plan, room) {
        let text = say::batting(plan, at);
        let cautions = &[
            "stapler",
            "stapler-pressure",
            "fire-foam",
            "stairwell",
            "fireplace",
            "ladder",
            "staples-near-boxes",
            "known-services",
        ];
        let (stage, wall) = (Stage::Batting, Some(at));
        all.push(Draft {
            key: Key::Batting(at),
            stage,
            wall,
            name: "hang batting",
            text,
            cautions,
            people: 1,
        });
    }
}

fn answers(plan: &Plan, all: &mut Vec<Draft>) {
    let stage = Stage::Before;
    for cloth in 0..plan.cloths.len() {
        if let Some(text) = say::answer(plan, cloth) {
            all.push(Draft {
                key: Key::Answer(cloth),
                stage,
                wall: None,
                name: "have the mill's answer",
                text,
                cautions: &[],
                people: 1,
            });
        }
    }
}

fn sew(plan: &Plan, all: &mut Vec<Draft>) {
    let stage = Stage::Sew;
    for cloth in 0..plan.cloths.len() {
        if let Some(text) = say::cut(plan, cloth) {
            all.push(Draft {
                key: Key::Cut(cloth),
                stage,
                wall: None,
                name: "cut the cloth",
                text,
                cautions: &[],
                people: 2,
            });
        }
    }
    for room in 0..plan.rooms.len() {
        for at in clothed(plan, room) {
            if let Some(text) = say::sew(plan, at) {
                let seams =
                    plan.rooms[room].walls[at.wall].panel.as_ref().is_some_and(|p| !p.seams.is_empty());
                let cautions: &[&str] = if seams { &["iron"] } else { &[] };
                all.push(Draft {
                    key: Key::Sew(at),
                    stage,
                    wall: Some(at),
                    name: "sew a panel",
                    text,
                    cautions,
                    people: 1,
                });
            }
        }
    }
    if let Some(text) = fit::sew_welt(plan) {
        all.push(Draft {
            key: Key::SewWelt,
            stage,
            wall: None,
            name: "sew the welt",
            text,
            cautions: &[],
            people: 1,
        });
    }
}

/// Cautions of hanging a panel; the first where a wrap is glued.
const HANGING: [&str; 9] = [
    "adhesive",
    "stairwell",
    "fireplace",
    "platform",
    "ladder",
    "stapler",
    "stapler-pressure",
    "staples-near-boxes",
    "known-services",
];

fn hang(plan: &Plan, room: usize, all: &mut Vec<Draft>) {
    for at in clothed(plan, room) {
        if let Some(text) = hanging::hang(plan, at) {
            let glued = glued_wraps(plan, at) > Length::ZERO;
            let cautions = if glued { &HANGING[..] } else { &HANGING[1..] };
            let (stage, wall) = (Stage::Hang, Some(at));
            all.push(Draft {
                key: Key::Hang(at),
                stage,
                wall,
                name: "hang a panel",
                text,
                cautions,
                people: 2,
            });
        }
    }
}

/// Cutting free the openings of a wall that people go through, which cannot wait until all panels hang.
fn free_ways(plan: &Plan, room: usize, all: &mut Vec<Draft>) {
    for at in clothed(plan, room) {
        openings(plan, at, Stage::Hang, |kind| kind.is_way(), all);
    }
}

fn open(plan: &Plan, room: usize, all: &mut Vec<Draft>) {
    let stage = Stage::Open;
    for at in clothed(plan, room) {
        openings(plan, at, stage, |kind| !kind.is_way(), all);
        if let Some(text) = say::boxes(plan, at) {
            let cautions = &["power-off", "metallic-cloth", "box-extender"];
            all.push(Draft {
                key: Key::Boxes(at),
                stage,
                wall: Some(at),
                name: "cut the boxes free",
                text,
                cautions,
                people: 1,
            });
        }
    }
}

/// Cutting free the openings of a wall whose kind passes the test.
fn openings(
    plan: &Plan,
    at: WallRef,
    stage: Stage,
    test: impl Fn(OpeningKind) -> bool,
    all: &mut Vec<Draft>,
) {
    let shape = &plan.job.rooms[at.room].walls[at.wall];
    for (index, opening) in shape.openings.iter().enumerate().filter(|(_, o)| test(o.kind)) {
        // What stands wholly in a dado or a frieze is not under the cloth.
        if shape.in_field(&opening.outer) {
            all.push(Draft {
                key: Key::Open(at, index),
                stage,
                wall: Some(at),
                name: "cut an opening free",
                text: say::open(plan, at, index),
                cautions: &[],
                people: 1,
            });
        }
    }
}

fn corners(plan: &Plan, room: usize, all: &mut Vec<Draft>) {
    for corner in 0..plan.job.rooms[room].corners.len() {
        if let Some((fold, text)) = say::fold(plan, room, corner) {
            let wall = Some(WallRef { room, wall: fold });
            let cautions = &["iron", "adhesive"];
            let stage = Stage::Corners;
            all.push(Draft {
                key: Key::Corner(room, corner),
                stage,
                wall,
                name: "fold and glue a corner",
                text,
                cautions,
                people: 1,
            });
        }
    }
}

fn sew_cut_outs(plan: &Plan, room: usize, all: &mut Vec<Draft>) {
    if let Some(text) = fit::sew_cut_outs(plan, room) {
        all.push(Draft {
            key: Key::SewCutOuts(room),
            stage: Stage::Trim,
            wall: None,
            name: "sew welt from cut-outs",
            text,
            cautions: &[],
            people: 1,
        });
    }
}

fn trim(plan: &Plan, room: usize, all: &mut Vec<Draft>) {
    for (index, run) in plan.rooms[room].trim.iter().enumerate() {
        let top = run.place == TrimPlace::Top;
        let whole_room = trim_at(&plan.job, run.place).unbroken && run.path.len() > 1;
        let wall = match run.path.as_slice() {
            [only] => Some(WallRef { room, wall: only.wall }),
            _ => None,
        };
        let cautions: &[&str] = if top { &["stairwell", "platform", "adhesive"] } else { &["adhesive"] };
        let people = if whole_room { 2 } else { 1 };
        let text = fit::trim(plan, room, run);
        let stage = Stage::Trim;
        all.push(Draft {
            key: Key::Trim(room, index),
            stage,
            wall,
            name: "fit trim",
            text,
            cautions,
            people,
        });
    }
}

fn finish(plan: &Plan, room: usize, all: &mut Vec<Draft>) {
    let stage = Stage::Finish;
    if let Some(text) = say::plates(plan, room) {
        let cautions = &["box-extender", "metallic-cloth", "power-off"];
        all.push(Draft {
            key: Key::Plates(room),
            stage,
            wall: None,
            name: "put plates back",
            text,
            cautions,
            people: 1,
        });
    }
    let text = say::clean(plan, room);
    all.push(Draft {
        key: Key::Clean(room),
        stage,
        wall: None,
        name: "clean",
        text,
        cautions: &[],
        people: 1,
    });
    let text = say::walk(plan, room);
    all.push(Draft {
        key: Key::Walk(room),
        stage,
        wall: None,
        name: "walk round and sign",
        text,
        cautions: &[],
        people: 2,
    });
}
