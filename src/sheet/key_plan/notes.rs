//! What is told beside a key plan: the room, its walls, its corners, and how well the survey closes.

use crate::job::model::{Corner, CornerKind, Room, Side};
use crate::plan::model::Plan;
use crate::sheet::column::{Columns, Row, Section};
use crate::sheet::words;
use crate::units::{Angle, Length};

/// The notes: the room, its walls, its corners, and how well the survey closes.
pub fn sections(plan: &Plan, index: usize) -> Vec<Section> {
    let room = &plan.job.rooms[index];
    let room_plan = &plan.rooms[index];
    let print = |length| words::length(plan, length);
    let mut facts = Section::new("Room");
    facts.pair("Round", format!("{} of wall", print(room_plan.length)));
    facts.pair("Cloth", plan.job.cloths[room.cloth].name.as_str());
    if plan.job.cloths[room.cloth].pattern.is_some() {
        facts.pair("Pattern", room_plan.registration.why.as_str());
    }
    if let Some(kill) = &room_plan.kill {
        facts.pair(
            "No match",
            format!("corner {}: {}", room.corners[kill.corner].name, kill.words(&plan.job.print.format)),
        );
    }
    const COLUMNS: Columns = Columns { first: Length::mm(8), last: Length::mm(17) };
    let mut walls = Section::new("Walls, left to right from inside");
    for wall in &room.walls {
        let name = match (wall.name.as_str(), wall.clothed) {
            ("", true) => "clothed".to_owned(),
            ("", false) => "without cloth".to_owned(),
            (name, true) => name.to_owned(),
            (name, false) => format!("{name}, without cloth"),
        };
        walls.rows.push(Row::Cells(COLUMNS, vec![wall.label.clone(), name, print(wall.width)]));
    }
    let mut corners = Section::new("Corners");
    for (words, names) in alike(room) {
        corners.pair(names.join(", "), words);
    }
    let mut survey = Section::new("Survey");
    survey.text(closing(plan, index));
    [facts, walls, corners, survey].into_iter().filter(|section| !section.rows.is_empty()).collect()
}

/// What each corner is, with the names of all that are the same.
fn alike(room: &Room) -> Vec<(String, Vec<&str>)> {
    let mut kinds: Vec<(String, Vec<&str>)> = Vec::new();
    for corner in &room.corners {
        let words = corner_words(corner);
        match kinds.iter_mut().find(|(known, _)| *known == words) {
            Some((_, names)) => names.push(&corner.name),
            None => kinds.push((words, vec![&corner.name])),
        }
    }
    kinds
}

fn corner_words(corner: &Corner) -> String {
    let angle = corner.angle.words();
    let kind = words::corner_kind(corner.kind);
    match corner.kind {
        CornerKind::FreeEnd => kind.to_owned(),
        CornerKind::Inside => format!("{kind}, {angle}"),
        CornerKind::Outside => {
            let side = match corner.wraps {
                Side::Left => "left",
                Side::Right => "right",
            };
            format!("{kind}, {angle}; the panel at its {side} goes round")
        }
    }
}

/// How well the survey closes, and what the drawing does about it.
fn closing(plan: &Plan, index: usize) -> String {
    let outline = &plan.rooms[index].outline;
    if !plan.job.rooms[index].closed {
        return "An open run. Wall thickness is not to scale.".to_owned();
    }
    if outline.miss == Length::ZERO && outline.angle_miss == Angle::degrees(0) {
        return "Widths and angles close. Wall thickness is not to scale.".to_owned();
    }
    let apart = [
        (outline.miss != Length::ZERO).then(|| words::length(plan, outline.miss)),
        (outline.angle_miss.udeg() != 0).then(|| outline.angle_miss.abs().words()),
    ];
    let apart: Vec<String> = apart.into_iter().flatten().collect();
    format!(
        "Widths and angles close to within {}; the plan is drawn with that spread over the walls. Wall thickness is \
         not to scale.",
        apart.join(" and ")
    )
}
