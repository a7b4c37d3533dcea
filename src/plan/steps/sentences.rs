//! The sentences of the steps, each with its figures from the plan.

use std::collections::BTreeSet;

use crate::job::model::{CornerKind, FixingKind, Opening, OpeningCloth, OpeningKind, Substrate, Wall};
use crate::plan::corners::Meeting;
use crate::plan::field::{Field, Run};
use crate::plan::model::{
    BattingPiece, Bolt, Panel, Plan, PlumbMark, Purpose, StapleKind, WallPlan, WallRef, Way,
};
use crate::plan::purchases::boxes_by_depth;
use crate::plan::staples::leg_told;
use crate::plan::words::{self, capital, counted, in_room, list, sold, wall};
use crate::units::Length;

pub(super) fn print(plan: &Plan, length: Length) -> String {
    words::print(&plan.job, length)
}

fn fine(plan: &Plan, length: Length) -> String {
    words::fine(&plan.job, length)
}

pub(super) fn wall_plan(plan: &Plan, at: WallRef) -> &WallPlan {
    &plan.rooms[at.room].walls[at.wall]
}

/// "112 at 1½″", over all lines of a kind; `None` when there are none.
pub(super) fn staples(plan: &Plan, at: WallRef, kind: StapleKind) -> Option<String> {
    let lines = || wall_plan(plan, at).staples.iter().filter(|l| l.kind == kind);
    let spacing = lines().next()?.spacing;
    let count: i64 = lines().map(|l| l.count).sum();
    Some(format!("{count} at {}", print(plan, spacing)))
}

/// How many steps the upper and the lower edge of the cloth have.
pub(super) fn steps_of(wall: &Wall) -> usize {
    wall.field_top().steps().count() + wall.field_bottom().steps().count()
}

/// The openings of a wall that the cloth has to do with.
pub(super) fn openings_in_field(wall: &Wall) -> impl Iterator<Item = &Opening> {
    wall.openings.iter().filter(|opening| wall.in_field(&opening.outer))
}

/// Labels of what is screwed to the clothed walls of a room.
fn fixings(plan: &Plan, room: usize, test: impl Fn(FixingKind) -> bool) -> Vec<&str> {
    let walls = plan.job.rooms[room].walls.iter().filter(|w| w.clothed);
    walls.flat_map(|w| w.fixings_in_field()).filter(|f| test(f.kind)).map(|f| f.label.as_str()).collect()
}

pub(super) fn tests(plan: &Plan, room: usize) -> Option<String> {
    let shape = &plan.job.rooms[room];
    let plaster = shape.walls.iter().any(|w| w.clothed && w.substrate == Substrate::Plaster);
    let mut tests = Vec::new();
    if shape.year < 1978 {
        tests.push("lead paint");
    }
    if shape.year <= 1980 && (shape.textured || plaster) {
        tests.push("asbestos");
    }
    (!tests.is_empty()).then(|| {
        format!(
            "Have the walls and mouldings{} tested for {}; a laboratory takes days. Write \
             the results on this sheet. Touch nothing before they are in.",
            in_room(plan, room),
            list(&tests)
        )
    })
}

/// What a public room waits for, where the job does not say that the fire data are there.
pub(super) fn fire_data(plan: &Plan, room: usize) -> Option<String> {
    let shape = &plan.job.rooms[room];
    let mut missing = Vec::new();
    if plan.job.cloths[shape.cloth].fire_class.is_empty() {
        missing.push("the cloth");
    }
    if plan.job.batting.fire_class.is_empty() {
        missing.push("the batting");
    }
    (shape.public && !missing.is_empty()).then(|| {
        format!(
            "Have the makers' fire data for {}{}, tested as mounted here, and the word of the authority that has \
             seen them: write its name and the date here. Cut and hang nothing before.",
            list(&missing),
            in_room(plan, room)
        )
    })
}

pub(super) fn power(plan: &Plan, room: usize) -> Option<String> {
    let boxes = fixings(plan, room, FixingKind::electrical);
    (!boxes.is_empty()).then(|| {
        format!(
            "Switch the power off{} and lock it off. Prove each box dead with a tester: {}.",
            in_room(plan, room),
            list(&boxes)
        )
    })
}

pub(super) fn clear(plan: &Plan, room: usize) -> String {
    let all = fixings(plan, room, |_| true);
    let loose = if tests(plan, room).is_some() {
        "touch what is loose only as the tests allow"
    } else {
        "scrape off what is loose"
    };
    let plates = if all.is_empty() {
        String::new()
    } else {
        format!(" Take off the plates and fittings of {}; bag and label each.", list(&all))
    };
    format!(
        "Lay dust sheets{}. Draw nails and hooks, {loose}, leave sound paint and paper.{plates}",
        in_room(plan, room)
    )
}

pub(super) fn find(plan: &Plan, room: usize) -> String {
    let known = plan.cautions.iter().find(|caution| caution.code == "known-services");
    let known = known.map_or(String::new(), |caution| {
        format!(" Set out by tape what is known from the survey. {}", caution.because)
    });
    format!(
        "With the power still on, go over every wall{} with a detector and mark pipes and cables with tape.{known}",
        in_room(plan, room)
    )
}

pub(super) fn battens(plan: &Plan, at: WallRef) -> String {
    let house = &plan.job.house;
    let battens = &wall_plan(plan, at).battens;
    format!(
        "Screw battens, {} by {}, to {}, with a screw at least every {}: {}, {} in all, along top, bottom and both \
         sides, round openings, beside boxes and behind the joints of the batting.",
        fine(plan, house.batten_width),
        fine(plan, house.batten_thickness),
        wall(plan, at),
        print(plan, house.batten_screws),
        counted(battens.len() as i64, "piece"),
        print(plan, battens.iter().map(|b| b.length).sum())
    )
}

pub(super) fn mark(plan: &Plan, room: usize) -> String {
    let shape = &plan.job.rooms[room];
    let walls = plan.rooms[room].ribbon.iter().filter(|w| shape.walls[**w].clothed);
    let height = |w: usize| words::above(&plan.job, &shape.walls[w], plan.rooms[room].walls[w].tape_height);
    let heights: BTreeSet<String> = walls.clone().map(|w| height(*w)).collect();
    let taped = heights.first().filter(|_| heights.len() == 1);
    let line = |w: &usize| {
        let (wall, plumb) = (&shape.walls[*w], plan.rooms[room].walls[*w].plumb);
        let mut told = Vec::new();
        if taped.is_none() {
            told.push(format!("taped {}", height(*w)));
        }
        let crossed: Vec<&str> = wall.crossed(plumb).collect();
        if !crossed.is_empty() {
            told.push(format!("broken by {}", list(&crossed)));
        }
        let told = if told.is_empty() { String::new() } else { format!(" ({})", told.join(", ")) };
        format!("Wall {}: {}{told}", wall.label, print(plan, plumb))
    };
    let lines: Vec<String> = walls.map(line).collect();
    let taped = taped.map_or(String::new(), |height| format!(" with the tape {height}"));
    format!(
        "Check the widths and heights on the elevations{}. Strike a level line round the room to take heights from; the datum \
         of the sheets is {}. Mark a plumb line for each wall on tape at its top and \
         bottom edge, where batting will not hide it, measured from its left corner{taped}:\n{}",
        in_room(plan, room),
        words::datum(plan, room),
        lines.join("\n")
    )
}

pub(super) fn extend(plan: &Plan, room: usize) -> Option<String> {
    let depths = boxes_by_depth(plan, |r| r == room);
    let each = |(depth, boxes): &(Length, Vec<&str>)| format!("{} by {}", list(boxes), fine(plan, *depth));
    let boxes: Vec<String> = depths.iter().map(each).collect();
    (!boxes.is_empty()).then(|| {
        format!(
            "Have the electrician bring each box{} forward with a listed extender, flush with the finished \
             surface: {}.",
            in_room(plan, room),
            boxes.join("; ")
        )
    })
}

pub(super) fn batting(plan: &Plan, at: WallRef) -> String {
    let planned = wall_plan(plan, at);
    let shape = &plan.job.rooms[at.room].walls[at.wall];
    let mut text = if planned.batting.is_empty() {
        format!("The batting carried round the corner covers {}: press it flat.", wall(plan, at))
    } else {
        let lies = |p: &BattingPiece| p.cut_length == p.rect.width() && p.cut_width == p.rect.height();
        let lying = planned.batting.iter().any(lies);
        let each = planned.batting.iter().map(|p| (p.label.clone(), print(plan, p.cut_length)));
        let several = |labels: &str| labels.contains(['–', ',']);
        let told = |(labels, length): (String, String)| {
            let each = if several(&labels) { ", each" } else { "" };
            format!("{labels}{each} {length}")
        };
        let pieces: Vec<String> = words::alike(each).into_iter().map(told).collect();
        format!(
            "Hang batting on {}, {} and edge to edge, {} from mouldings and casings: {}.",
            wall(plan, at),
            if lying { "lying" } else { "upright" },
            fine(plan, plan.job.batting.gap),
            list(&pieces)
        )
    };
    let mut fixed = Vec::new();
    if let Some(edges) = staples(plan, at, StapleKind::BattingEdge) {
        fixed.push(format!("the edges, {edges}"));
    }
    if let Some(joints) = staples(plan, at, StapleKind::BattingButt) {
        fixed.push(format!("the joints, {joints}"));
    }
    if !fixed.is_empty() {
        let leg = leg_told(&plan.job, at).map_or(String::new(), |leg| format!(" with the {leg}:"));
        text += &format!(" Staple{leg} {}.", fixed.join("; "));
    }
    let mut cut: Vec<&str> = openings_in_field(shape).map(|o| o.label.as_str()).collect();
    cut.extend(shape.fixings_in_field().map(|f| f.label.as_str()));
    if !cut.is_empty() {
        text += &format!(" Cut out {}.", list(&cut));
    }
    if steps_of(shape) > 0 {
        text += " Cut it to the steps of the edge.";
    }
    let round: Vec<String> = planned
        .batting
        .iter()
        .filter(|p| p.rect.x1 > shape.width)
        .map(|p| format!("{} {}", p.label, print(plan, p.rect.x1 - shape.width)))
        .collect();
    if !round.is_empty() {
        text +=
            &format!(" Carry {} on round the outside corner; what follows butts to the edge.", list(&round));
    }
    text
}

/// What is measured again before a room is begun; `None` where its survey agrees with itself.
pub(super) fn measure(plan: &Plan, room: usize) -> Option<String> {
    plan.survey.iter().any(|check| check.room == room && check.fails()).then(|| {
        format!(
            "Hold: measure again{} what the survey check lists, write the new measures into the job file and make the plan \
             anew. Cut nothing before.",
            in_room(plan, room)
        )
    })
}

/// What the mill is asked about a cloth before it is cut; `None` where nothing is wrong with it.
pub(super) fn answer(plan: &Plan, cloth: usize) -> Option<String> {
    let goods = &plan.job.cloths[cloth];
    goods.on_hand.iter().any(|bolt| !bolt.claims.is_empty()).then(|| {
        format!(
            "Hold: wait for the mill's answer on “{}”, and write here who gave it and the date. Cut nothing before.",
            goods.name
        )
    })
}

pub(super) fn cut(plan: &Plan, cloth: usize) -> Option<String> {
    let of_cloth = || plan.pieces.iter().filter(|p| p.cloth == cloth);
    let (pieces, made) = (of_cloth().count(), of_cloth().filter(|p| p.cut.made.is_some()).count());
    let goods = &plan.job.cloths[cloth];
    let relaxed = match goods.shrinkage {
        none if !none.any() => String::new(),
        shrinkage => format!(
            "Relax “{}” with steam or as its maker says, and let it lie until it is dry: it loses {}. Measure it \
             again: the plan needs {} of width{}. ",
            goods.name,
            shrinkage.words(),
            words::cloth_length(&plan.job, goods.width),
            goods.pattern.map_or(String::new(), |lattice| format!(
                " and repeats of {} across the bolt and {} along it",
                words::cloth_length(&plan.job, lattice.horizontal),
                words::cloth_length(&plan.job, lattice.vertical)
            )),
        ),
    };
    let way_up = words::way_up(goods, plan.way(cloth));
    let way_up = way_up.map_or(String::new(), |up| format!(" All pieces hang {up}."));
    let railroaded = match plan.way(cloth) {
        Way::Upright => "",
        Way::Railroaded => " It is railroaded: its length runs along the walls, its left edge at their foot.",
    };
    (pieces > 0).then(|| {
        format!(
            "{relaxed}Look over the whole length of “{}” for flaws, then {}. Label each at its top.{railroaded}{way_up}{}",
            goods.name,
            to_cut(pieces, made, plan, cloth),
            samples(plan, cloth)
        )
    })
}

/// Which of the pieces are samples, and whom they are for; nothing where none is.
fn samples(plan: &Plan, cloth: usize) -> String {
    let asked = plan.pieces.iter().filter(|piece| piece.cloth == cloth);
    let told = asked.filter_map(|piece| {
        let Purpose::Sample(at) = piece.purpose else { return None };
        let purpose = &plan.job.cloths[cloth].samples[at].purpose;
        Some(if purpose.is_empty() { piece.label.clone() } else { format!("{} for {purpose}", piece.label) })
    });
    let told: Vec<String> = told.collect();
    if told.is_empty() { String::new() } else { format!(" Hand on what no wall needs: {}.", list(&told)) }
}

/// How many pieces are still to be cut, from a length that all of them take.
fn to_cut(pieces: usize, made: usize, plan: &Plan, cloth: usize) -> String {
    let (planned, sold_in) = (&plan.cloths[cloth], plan.job.cloths[cloth].sold_in);
    let used = sold(planned.used, sold_in);
    match made {
        0 => format!("cut {} in the order of the cut list, {used} in all", counted(pieces as i64, "piece")),
        _ if made == pieces => format!("check the {made} that are cut already, {used} in all"),
        _ => format!(
            "cut the {} left of {pieces} in the order of the cut list: they take {} more, with the {made} that are cut \
             already {used}",
            pieces - made,
            sold(planned.bolts.iter().map(Bolt::to_come).sum(), sold_in)
        ),
    }
}

/// "3 seams", and in how many parts they are sewn where an opening breaks some.
fn seams_words(panel: &Panel) -> String {
    let (seams, joints) = (panel.seams.len(), panel.joints().len());
    let parts = if joints > seams { format!(" in {joints} parts") } else { String::new() };
    format!("{}{parts}", counted(seams as i64, "seam"))
}

pub(super) fn sew(plan: &Plan, at: WallRef) -> Option<String> {
    let panel = wall_plan(plan, at).panel.as_ref()?;
    let size = format!("{} by {}", print(plan, panel.gross.width()), print(plan, panel.gross.height()));
    let labels: Vec<&str> = panel.strips.iter().map(|s| s.label.as_str()).collect();
    let planned = wall_plan(plan, at);
    let mark = match planned.plumb_mark {
        PlumbMark::Seam | PlumbMark::Motifs => String::new(),
        PlumbMark::Mark => {
            let from = print(plan, planned.plumb - panel.gross.x0);
            format!(" Mark it at top and bottom for the plumb line, {from} from its left edge.")
        }
    };
    if panel.seams.is_empty() {
        return Some(format!(
            "The panel of {} is one piece, {}, {size}: mark its top and its face.{mark}",
            wall(plan, at),
            list(&labels)
        ));
    }
    Some(format!(
        "Sew the panel of {} from {}: {} at the match lines, {} allowance. Press the seams open. It comes to \
         {size}.{mark}",
        wall(plan, at),
        list(&labels),
        seams_words(panel),
        fine(plan, plan.job.house.seam_allowance)
    ))
}

pub(super) fn open(plan: &Plan, at: WallRef, index: usize) -> String {
    let opening = &plan.job.rooms[at.room].walls[at.wall].openings[index];
    // All of it is cut, also where a pipe leaves the staples out.
    let field = Field::of(&plan.job.rooms[at.room].walls[at.wall]);
    let edge: Length = field.hole_runs(index).iter().map(Run::length).sum();
    let end = match opening.cloth {
        OpeningCloth::CoveredThrough => "Keep the cut-out, marked with its top.",
        OpeningCloth::Pieced => "Trim the pieces over and under it to the casing.",
    };
    let casing = if opening.kind == OpeningKind::Mantel { "the cloth round " } else { "the casing of " };
    let arch = if opening.hole().is_arched() {
        " Its head is an arch: slit the cloth up its middle to the crown, then cut from the crown down each side, \
         notching the waste so that it turns out of the way."
    } else {
        ""
    };
    format!(
        "{}: check that {casing}{} is fixed all along its {}, then cut the cloth free along it.{arch} {end}",
        capital(&wall(plan, at)),
        opening.label,
        print(plan, edge)
    )
}

pub(super) fn boxes(plan: &Plan, at: WallRef) -> Option<String> {
    let fixings = plan.job.rooms[at.room].walls[at.wall].fixings_in_field();
    let labels: Vec<&str> = fixings.map(|f| f.label.as_str()).collect();
    (!labels.is_empty()).then(|| {
        format!(
            "{}: feel for the boxes, cut each from corner to corner inside its edge, turn back and trim: {}.",
            capital(&wall(plan, at)),
            list(&labels)
        )
    })
}

/// The wall that folds and what is done; `None` at a corner where nothing is folded.
pub(super) fn fold(plan: &Plan, room: usize, corner: usize) -> Option<(usize, String)> {
    let shape = &plan.job.rooms[room];
    let (_, fold) = Meeting::at(shape, corner).wrap_and_fold()?;
    let fixed = &plan.rooms[room].corners[corner];
    let label = &shape.walls[fold].label;
    Some((
        fold,
        format!(
            "Corner {}{}: fold wall {label} at its matching line, crease with steam and let it dry. Fix {} of hem tape \
             under a dry iron, run {} of adhesive, press the fold on and hold it until it grips; then leave it alone \
             for {} minutes.",
            shape.corners[corner].name,
            in_room(plan, room),
            print(plan, fixed.hem_tape),
            print(plan, fixed.hem_tape),
            plan.job.rates.hold_minutes
        ),
    ))
}

pub(super) fn plates(plan: &Plan, room: usize) -> Option<String> {
    let all = fixings(plan, room, |_| true);
    (!all.is_empty()).then(|| {
        format!(
            "Put the plates and fittings back{}: {}. No cloth under a plate's contacts; every plate sits tight. \
             Then switch the power on.",
            in_room(plan, room),
            list(&all)
        )
    })
}

pub(super) fn clean(plan: &Plan, room: usize) -> String {
    format!(
        "Draw any tack that was left{}, take out pencil marks and loose threads, brush the cloth down, vacuum, take \
         the sheets up.",
        in_room(plan, room)
    )
}

pub(super) fn walk(plan: &Plan, room: usize) -> String {
    let shape = &plan.job.rooms[room];
    let outside = shape.corners.iter().filter(|c| c.kind == CornerKind::Outside).count();
    let corners = if outside > 0 { ", every folded corner" } else { "" };
    let patterned = plan.job.cloths[shape.cloth].pattern.is_some() && shape.walls.len() > 1;
    let pattern = match &plan.rooms[room].kill {
        Some(kill) if patterned => {
            let corner = &shape.corners[kill.corner].name;
            format!("pattern met at the corners, but at corner {corner} as drawn, ")
        }
        None if patterned => "pattern met at the corners, ".to_owned(),
        _ => String::new(),
    };
    let panels = plan.rooms[room].walls.iter().filter_map(|w| w.panel.as_ref());
    let seams = if panels.flat_map(|p| &p.seams).next().is_some() { "seams plumb, " } else { "" };
    format!(
        "Walk round{} with the designer in daylight: {seams}{pattern}edges tight{corners}. \
         Write down what is left, and sign.",
        in_room(plan, room)
    )
}
