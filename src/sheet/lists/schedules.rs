//! Schedules of corners, trim, staples and batting.

use crate::geom::Rect;
use crate::job::model::{Trim, TrimKind};
use crate::plan::model::{PieceKind, Plan, RoomPlan, TrimPlace, TrimRun, WallRef};
use crate::plan::staples::leg_told;
use crate::plan::words::fine;
use crate::sheet::document::{Document, Section};
use crate::sheet::lists::wall_cell;
use crate::sheet::model::Reader;
use crate::sheet::table::{Cell, Kind, Table};
use crate::sheet::words;
use crate::units::Length;

/// A schedule of its own, or a part of one.
fn schedule(key: &str, title: &str, description: &str, sections: Vec<Section>) -> Document {
    Document {
        key: key.to_owned(),
        title: title.to_owned(),
        heading: title.to_owned(),
        under: String::new(),
        description: description.to_owned(),
        kind: "Schedule",
        scale: String::new(),
        sections,
    }
}

/// The heading of a room's part of a schedule: the room is named where there are several.
fn heading(title: &str, plan: &Plan, room: usize) -> String {
    if plan.job.rooms.len() > 1 {
        format!("{title}, {}", plan.job.rooms[room].name)
    } else {
        title.to_owned()
    }
}

/// Every corner and how it is made.
pub fn corners(plan: &Plan) -> Document {
    let sections = plan.rooms.iter().enumerate().map(|(index, room)| {
        let mut table = Table::new(&[
            ("Corner", Kind::Words),
            ("Kind", Kind::Words),
            ("Height of cloth", Kind::Figures),
            ("Lost to match", Kind::Figures),
            ("How it is made", Kind::Prose),
        ]);
        for (corner, made) in plan.job.rooms[index].corners.iter().zip(&room.corners) {
            table.row(vec![
                Cell::strong(&corner.name),
                Cell::new(words::corner_kind(corner.kind)),
                Cell::new(words::length(plan, made.height)),
                Cell::new(words::cloth_length(plan, made.consumed)),
                Cell::new(made.treatment.join("\n")),
            ]);
        }
        let mut section = Section::new(heading("Corners", plan, index));
        section.table(table);
        section
    });
    schedule("corners", "Corners", "Every corner and how it is made.", sections.collect())
}

/// Every run of trim; for those who sew it, how.
pub fn trim(plan: &Plan, reader: Reader) -> Document {
    let sections = plan.rooms.iter().enumerate().map(|(index, room)| {
        let mut section = Section::new(heading("Trim", plan, index));
        // The crew sews what is cut from cut-outs.
        let on_site = reader == Reader::Crew && room.trim.iter().any(|run| !run.cut_out_strips.is_empty());
        let sews = on_site || reader == Reader::Workroom;
        section.paragraph_if(made_of(plan, room).map(|made| match sews {
            true => format!("{made} {}", sewn(plan, room)),
            false => made,
        }));
        section.table(trim_table(plan, room));
        [vec![section], from_cut_outs(plan, index, room)].concat()
    });
    let sections = sections.flatten();
    let description = "Every run of trim, its length, how its ends are made and the strips it is sewn from.";
    schedule("trim", "Trim", description, sections.collect())
}

/// Every staple line.
pub fn staples(plan: &Plan) -> Document {
    let description = "Every staple line with its spacing and count, in the order it is driven.";
    schedule("staples", "Staples", description, vec![staple_section(plan)])
}

/// The batting pieces to cut.
pub fn batting(plan: &Plan) -> Document {
    let description = "Every piece of batting with its size.";
    schedule("batting-list", "Batting", description, vec![batting_section(plan)])
}

/// The trim that the job wants at a place.
fn trim_of(plan: &Plan, place: TrimPlace) -> &Trim {
    let trims = &plan.job.trims;
    match place {
        TrimPlace::Corner => &trims.corner,
        TrimPlace::Opening => &trims.opening,
        TrimPlace::Top => &trims.top,
        TrimPlace::Bottom => &trims.bottom,
    }
}

/// Where a strip comes along its run: the number of its part, then its letters.
fn along(label: &str) -> (usize, usize, &str) {
    let part = label.split_once('.').map_or(label, |(_, part)| part);
    let letters = part.trim_start_matches(|c: char| c.is_ascii_digit());
    let number = part[..part.len() - letters.len()].parse().unwrap_or(0);
    (number, letters.len(), letters)
}

/// The strips that are cut from what openings give back, if there are any.
fn from_cut_outs(plan: &Plan, index: usize, room: &RoomPlan) -> Vec<Section> {
    let mut table = Table::new(&[
        ("Strip", Kind::Words),
        ("Cut-out of", Kind::Words),
        ("Width", Kind::Figures),
        ("Height", Kind::Figures),
        ("From its left", Kind::Figures),
        ("From its top", Kind::Figures),
    ]);
    for strip in room.trim.iter().flat_map(|run| &run.cut_out_strips) {
        let wall = &plan.job.rooms[index].walls[strip.cut_out.wall.wall];
        let piece = plan.pieces.get(strip.cut_out.piece.0).map_or("", |piece| piece.label.as_str());
        let usable = strip.cut_out.usable;
        table.row(vec![
            Cell::strong(&strip.label),
            Cell::new(format!("{}, of strip {piece}", wall.openings[strip.cut_out.opening].label)),
            Cell::new(words::cloth_length(plan, strip.place.width())),
            Cell::new(words::cloth_length(plan, strip.place.height())),
            Cell::new(words::cloth_length(plan, strip.place.x0 - usable.x0)),
            Cell::new(words::cloth_length(plan, usable.y1 - strip.place.y1)),
        ]);
    }
    if table.rows.is_empty() {
        return Vec::new();
    }
    let mut section = Section::new(heading("Strips from cut-outs", plan, index));
    section.paragraph(
        "The crew cuts and sews these on site, when their openings have been cut free; the workroom leaves the ends that \
         they join unsewn. A cut-out lies as it hung, top up, its left edge the casing's or the seam's stitching.",
    );
    section.table(table);
    vec![section]
}

/// What the welts of a room are sewn from; `None` where it has none.
fn made_of(plan: &Plan, room: &RoomPlan) -> Option<String> {
    let mut told: Vec<String> = Vec::new();
    for trim in room.trim.iter().map(|run| trim_of(plan, run.place)).filter(|trim| trim.strip > Length::ZERO)
    {
        // A cord is a stock size, which is never rounded to the step of a tape.
        let (cord, strip) = (fine(&plan.job, trim.cord), words::cloth_length(plan, trim.strip));
        let cords = if trim.kind == TrimKind::DoubleWelt { "two cords" } else { "cord" };
        let sentence = format!("{}: {cords} of {cord} in a strip {strip} wide.", words::capital(&trim.name));
        if !told.contains(&sentence) {
            told.push(sentence);
        }
    }
    (!told.is_empty()).then(|| told.join(" "))
}

/// How welt is sewn from its strips. Common practice, no source.
fn sewn(plan: &Plan, room: &RoomPlan) -> String {
    let welts = room.trim.iter().filter(|run| !run.strips.is_empty() || !run.cut_out_strips.is_empty());
    let kinds: Vec<TrimKind> = welts.map(|run| trim_of(plan, run.place).kind).collect();
    let length = |length| words::cloth_length(plan, length);
    let mut told = Vec::new();
    if room.trim.iter().any(|run| run.joins > 0) {
        told.push(format!(
            "Join strips straight, {} in, in the order of their letters, and press the seams open.",
            length(plan.job.house.seam_allowance)
        ));
    }
    if kinds.contains(&TrimKind::SingleWelt) {
        told.push(
            "Lay the cord along the middle of the back, fold the strip over it and stitch close to it."
                .to_owned(),
        );
    }
    if kinds.contains(&TrimKind::DoubleWelt) {
        told.push(
            "Double welt: stitch the first cord in, lay the second beside it, roll the strip over both and stitch between \
             them."
                .to_owned(),
        );
    }
    told.push(format!(
        "Leave {} unsewn beyond each end and mitre, or what the match leaves there: on the wall the cord is cut off and the \
         cloth folded over its end.",
        length(plan.job.house.trim_end)
    ));
    told.join(" ")
}

/// On which side of an opening a strip of a run round it lies, by its place on the ribbon.
fn side(plan: &Plan, room: &RoomPlan, run: &TrimRun, kind: PieceKind, net: Rect) -> Option<&'static str> {
    let wall = run.path.first().filter(|_| run.place == TrimPlace::Opening)?.wall;
    let label = run.what.strip_prefix("round ")?.split(',').next()?;
    let at = plan.rooms.iter().position(|other| std::ptr::eq(other, room))?;
    let opening = plan.job.rooms[at].walls[wall].openings.iter().find(|o| o.label == label)?;
    if opening.hole().is_arched() {
        return None;
    }
    let outer = opening.outer;
    let x = (net.x0 + net.x1) / 2 - room.walls[wall].x;
    let y = (net.y0 + net.y1) / 2;
    Some(match kind {
        PieceKind::UprightStrip if x * 2 < outer.x0 + outer.x1 => "left",
        PieceKind::UprightStrip => "right",
        _ if y * 2 < outer.y0 + outer.y1 => "under",
        _ => "over",
    })
}

fn trim_table(plan: &Plan, room: &RoomPlan) -> Table {
    let mut table = Table::new(&[
        ("Run", Kind::Words),
        ("Trim", Kind::Words),
        ("Where", Kind::Words),
        ("Finished length", Kind::Figures),
        ("For ends and joints", Kind::Figures),
        ("Ends", Kind::Words),
        ("Strips", Kind::Words),
    ]);
    for run in &room.trim {
        let cut = run.strips.iter().filter_map(|id| plan.pieces.get(id.0));
        let cut = cut.map(|piece| (piece.label.as_str(), piece.kind, piece.net));
        let given_back = run.cut_out_strips.iter().map(|strip| (strip.label.as_str(), strip.kind, strip.net));
        let mut strips: Vec<_> = cut.chain(given_back).collect();
        strips.sort_by_key(|(label, ..)| along(label));
        let named = strips.into_iter().map(|(label, kind, net)| match side(plan, room, run, kind, net) {
            Some(side) => format!("{label} {side}"),
            None => label.to_owned(),
        });
        let strips: Vec<String> = named.collect();
        let (first, last) = &run.ends;
        let ends = if first == last { first.clone() } else { format!("{first}, {last}") };
        let strips = if strips.is_empty() { "bought".to_owned() } else { strips.join(", ") };
        table.row(vec![
            Cell::strong(&run.label),
            Cell::new(&trim_of(plan, run.place).name),
            Cell::new(&run.what),
            Cell::new(words::length(plan, run.length)),
            Cell::new(words::length(plan, run.extra)),
            Cell::new(ends),
            Cell::new(strips),
        ]);
    }
    table
}

fn staple_section(plan: &Plan) -> Section {
    let mut table = Table::new(&[
        ("Row", Kind::Words),
        ("Where", Kind::Words),
        ("Length", Kind::Figures),
        ("Spacing at most", Kind::Figures),
        ("Staples", Kind::Figures),
    ]);
    for at in walls(plan) {
        let wall = &plan.rooms[at.room].walls[at.wall];
        if !wall.staples.is_empty() {
            let leg = leg_told(&plan.job, at).map_or(String::new(), |leg| format!(", {leg}"));
            table.group(format!("{}{leg}", words::capital(&words::named_wall(plan, at))));
        }
        for (label, line) in words::staple_labels(wall).into_iter().zip(&wall.staples) {
            table.row(vec![
                Cell::strong(label),
                Cell::new(&line.place),
                Cell::new(words::length(plan, line.length)),
                Cell::new(words::length(plan, line.spacing)),
                Cell::new(line.count.to_string()),
            ]);
        }
    }
    let mut section = Section::new("Staples");
    if !table.rows.is_empty() {
        section.paragraph(
            "Every row, in the order in which they are driven; s1, s2 are named so on the elevations.",
        );
    }
    section.table(table);
    section
}

/// Every batten, and how they are cut from what is bought; `None` when no wall needs any.
pub fn battens(plan: &Plan) -> Option<Document> {
    let mut table = Table::new(&[
        ("Fixed", Kind::Tick),
        ("Batten", Kind::Words),
        ("Wall", Kind::Words),
        ("Place", Kind::Words),
        ("Length", Kind::Figures),
    ]);
    for at in walls(plan) {
        for batten in &plan.rooms[at.room].walls[at.wall].battens {
            table.row(vec![
                Cell::new(""),
                Cell::strong(&batten.label),
                wall_cell(plan, at),
                Cell::new(&batten.place),
                Cell::new(words::length(plan, batten.length)),
            ]);
        }
    }
    let mut stock = Table::new(&[
        ("Cut", Kind::Tick),
        ("No.", Kind::Figures),
        ("Cuts, longest first", Kind::Words),
        ("Left", Kind::Figures),
    ]);
    for (i, bought) in plan.batten_stock.iter().enumerate() {
        let cut = |(label, length): &(String, Length)| format!("{label}: {}", words::length(plan, *length));
        let cuts: Vec<String> = bought.cuts.iter().map(cut).collect();
        stock.row(vec![
            Cell::new(""),
            Cell::strong((i + 1).to_string()),
            Cell::new(cuts.join(", ")),
            Cell::new(words::length(plan, bought.rest)),
        ]);
    }
    let mut fixed = Section::new("Battens");
    fixed.table(table);
    let mut cut = Section::new("Battens cut from lengths as sold");
    cut.table(stock);
    let description = "Every batten with its length, and what is cut from each length bought.";
    let document = schedule("battens", "Battens", description, vec![fixed, cut]);
    (!plan.batten_stock.is_empty()).then_some(document)
}

fn batting_section(plan: &Plan) -> Section {
    let mut table = Table::new(&[
        ("Cut", Kind::Tick),
        ("Piece", Kind::Words),
        ("Wall", Kind::Words),
        ("Width", Kind::Figures),
        ("Length", Kind::Figures),
        ("Cut-outs", Kind::Figures),
    ]);
    for at in walls(plan) {
        for piece in &plan.rooms[at.room].walls[at.wall].batting {
            table.row(vec![
                Cell::new(""),
                Cell::strong(&piece.label),
                wall_cell(plan, at),
                Cell::new(words::length(plan, piece.cut_width)),
                Cell::new(words::length(plan, piece.cut_length)),
                Cell::new(piece.cut_outs.len().to_string()),
            ]);
        }
    }
    let mut section = Section::new("Batting");
    section.table(table);
    section
}

/// All walls, in the order of the job.
pub(super) fn walls(plan: &Plan) -> impl Iterator<Item = WallRef> + '_ {
    plan.rooms
        .iter()
        .enumerate()
        .flat_map(|(room, planned)| (0..planned.walls.len()).map(move |wall| WallRef { room, wall }))
}
