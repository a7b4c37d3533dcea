//! The starts that a room's pattern could have, side by side: a drawing of the main wall for each,
//! its figures under it in rows that line up, and a box for the designer's mark.

mod grid;
mod view;

use super::document::{HEADING, heading};
use super::model::Mark;
use super::scale::{Scale, largest};
use super::{ComposeFault, Draft, Part, frame, words};
use crate::geom::{Profile, Rect};
use crate::job::model::{Paper, Room};
use crate::plan::model::{Piece, PieceKind, Plan, RegistrationOption, RoomOptions};
use crate::plan::ribbon::up_walls;
use crate::plan::words::list;
use crate::units::Length;
use grid::{Grid, Row};

/// The sheets of all rooms whose pattern could start in several ways.
///
/// # Errors
/// `missing-glyph` when the font lacks a character of the job.
pub fn drafts(plan: &Plan, paper: Paper) -> Result<Vec<Draft>, ComposeFault> {
    let mut drafts = Vec::new();
    for compared in plan.options.iter().filter(|compared| compared.options.len() > 1) {
        drafts.extend(of_room(plan, paper, compared)?);
    }
    Ok(drafts)
}

fn of_room(plan: &Plan, paper: Paper, compared: &RoomOptions) -> Result<Vec<Draft>, ComposeFault> {
    let free = frame::free(paper);
    let area = Rect { y0: free.y0 + HEADING, ..free };
    let room = &plan.job.rooms[compared.room];
    let notes = notes(plan, compared);
    let most = Grid::most_columns(area).min(compared.options.len()).max(1);
    // As many sheets as side by side in one band are enough.
    let enough = compared.options.len().div_ceil(most);
    let mut best: Option<(Scale, Vec<Vec<Grid>>)> = None;
    // One sheet more is worth drawings twice as large.
    for (sheets_at_most, gain) in [(enough, 1), (enough + 1, 2)] {
        for (bands, columns) in (1..=MOST_BANDS).flat_map(|bands| (1..=most).rev().map(move |c| (bands, c))) {
            let sheets = arranged(plan, compared, area, &notes, (bands, columns))?;
            if sheets.len() > sheets_at_most {
                continue;
            }
            let fit = |scale| {
                let mut all = sheets.iter().flatten();
                all.try_fold(true, |all, grid| Ok::<_, ComposeFault>(all && grid.fits(scale)?))
            };
            let scale = largest(plan.job.print.format.system, fit)?;
            let better = |(found, held): &(Scale, Vec<Vec<Grid>>)| {
                let gain = if sheets.len() > held.len() { gain } else { 1 };
                scale.den < found.den && scale.den * gain <= found.den
            };
            if best.is_none() || (best.as_ref().is_some_and(better) && fit(scale)?) {
                best = Some((scale, sheets));
            }
        }
    }
    let Some((scale, sheets)) = best else { return Ok(Vec::new()) };
    let count = sheets.len();
    let several = plan.job.rooms.len() > 1;
    let title = if several { format!("Options, {}", room.name) } else { "Options".to_owned() };
    let draft = |(n, bands): (usize, &Vec<Grid>)| {
        let part = Part { number: n + 1, count };
        let mut marks: Vec<Mark> = vec![heading(&part.of("Where the pattern can start"), paper)?];
        for grid in bands {
            marks.extend(grid.marks(scale)?);
        }
        let own = format!("options-{}", compared.room + 1);
        Ok(Draft {
            key: if n == 0 { own } else { format!("{own}-{}", n + 1) },
            title: title.clone(),
            part,
            under: room.name.clone(),
            description: format!(
                "{} starts of the pattern in {} side by side, with the cloth that each takes and its seams.",
                compared.options.len(),
                room.name
            ),
            kind: "Options",
            scale: scale.name.to_owned(),
            also: Vec::new(),
            marks: marks.into(),
        })
    };
    sheets.iter().enumerate().map(draft).collect()
}

/// Options stand in at most so many bands on a sheet, one under another.
const MOST_BANDS: usize = 3;

/// The options on sheets, in bands of so many columns at most, as evenly as can be. The lowest band of a sheet has
/// the notes and the signs.
fn arranged<'a>(
    plan: &'a Plan,
    compared: &'a RoomOptions,
    area: Rect,
    notes: &'a [String],
    (bands, columns): (usize, usize),
) -> Result<Vec<Vec<Grid<'a>>>, ComposeFault> {
    let rows_of = |count: usize, most: usize| count.div_ceil(count.div_ceil(most.max(1)).max(1)).max(1);
    let columns = rows_of(compared.options.len(), columns);
    let chunks: Vec<&[RegistrationOption]> = compared.options.chunks(columns).collect();
    let per_sheet = rows_of(chunks.len(), bands);
    let foot = Grid::foot_of(notes, area)?;
    let mut sheets = Vec::new();
    for sheet in chunks.chunks(per_sheet) {
        let each = (area.height() - foot) / sheet.len() as i64;
        let grids = sheet.iter().enumerate().map(|(n, &options)| {
            let (last, y0) = (n + 1 == sheet.len(), area.y0 + each * n as i64);
            let y1 = if last { area.y1 } else { y0 + each };
            let (rows, notes) = (rows(plan, compared, options), if last { notes } else { &[] });
            Grid { plan, compared, rows, options, columns, notes, last, area: Rect { y0, y1, ..area } }
        });
        sheets.push(grids.collect());
    }
    Ok(sheets)
}

/// The rows of figures, one cell for each option.
fn rows(plan: &Plan, compared: &RoomOptions, options: &[RegistrationOption]) -> Vec<Row> {
    let room = &plan.job.rooms[compared.room];
    let cloth = &plan.job.cloths[room.cloth];
    let row = |label: &str, cell: &dyn Fn(&RegistrationOption) -> String| Row {
        label: label.to_owned(),
        cells: options.iter().map(cell).collect(),
    };
    let size = |length: Length| words::length(plan, length);
    let way = plan.way(room.cloth);
    let motif = cloth.pattern.map_or(Length::ZERO, |lattice| up_walls(&lattice, way));
    let cut = |by: Length| cut(plan, by, motif);
    // Each column is cut elsewhere, as the drawing shows.
    let uneven = |edge: Profile| {
        move || {
            format!("the edge {}: as drawn", if edge.steps().next().is_some() { "steps" } else { "slopes" })
        }
    };
    let main = &room.walls[compared.wall];
    let used = |o: &RegistrationOption| words::sold(o.used, cloth.sold_in);
    let taken = if cloth.on_hand.is_empty() {
        row("To order", &|o| {
            format!("{}, {} of it used", words::goods_units(cloth.sold_in, o.order_units), used(o))
        })
    } else {
        row("Used", &used)
    };
    let boxes =
        room.walls.iter().filter(|wall| wall.clothed).any(|wall| wall.fixings_in_field().next().is_some());
    let near = |o: &RegistrationOption| match (o.nearest, o.nearest_wall) {
        (Some(by), Some(wall)) => {
            format!("{}, on wall {}{}", size(by), room.walls[wall].label, nearest_box(plan, room, o))
        }
        _ => "no seam".to_owned(),
    };
    let mut rows = vec![taken];
    rows.extend([
        row("Seams in sight", &|o| match o.seams {
            0 => "none".to_owned(),
            seams => format!("{seams}, together {}", size(o.in_sight)),
        }),
        row(if boxes { "Seam to edge; to box" } else { "Seam nearest an edge" }, &near),
        row("Rules not kept", &|o| broken(&o.broken)),
        row("Top motif", &|o| o.crown_cut.map_or_else(uneven(main.field_top()), cut)),
        row("Lowest motif", &|o| o.base_cut.map_or_else(uneven(main.field_bottom()), cut)),
    ]);
    // Where all starts miss by the same, a note says it once.
    if let Some(corner) = kill_corner(compared).filter(|_| !misses_alike(compared)) {
        let miss = |o: &RegistrationOption| {
            o.kill.as_ref().map_or("meets".to_owned(), |kill| kill.words(&plan.job.print.format))
        };
        rows.push(row(&format!("Out at corner {}", room.corners[corner].name), &miss));
    }
    rows
}

/// How near a seam in sight comes to the edge of a box or a light, and to which; nothing where no wall with one has a seam.
fn nearest_box(plan: &Plan, room: &Room, option: &RegistrationOption) -> String {
    let walls = room.walls.iter().zip(&option.walls).filter(|(wall, _)| wall.clothed);
    let near = walls.flat_map(|(wall, seams)| {
        wall.fixings_in_field().flat_map(move |fixing| {
            let seams = seams.iter().filter(|seam| !seam.in_sight.is_empty());
            seams.map(move |seam| {
                let by = (fixing.rect.x0 - seam.x).max(seam.x - fixing.rect.x1).max(Length::ZERO);
                (by, fixing.label.as_str())
            })
        })
    });
    match near.min() {
        None => String::new(),
        Some((Length::ZERO, label)) => format!("; in line with {label}"),
        Some((by, label)) => format!("; {} from {label}", words::length(plan, by)),
    }
}

/// The corner at which the pattern comes round to where it began.
fn kill_corner(compared: &RoomOptions) -> Option<usize> {
    compared.options.iter().find_map(|option| option.kill.as_ref()).map(|kill| kill.corner)
}

/// Whether the pattern misses there by the same whatever the start.
fn misses_alike(compared: &RoomOptions) -> bool {
    compared.options.windows(2).all(|pair| pair[0].kill == pair[1].kill)
}

/// How many broken preferences are told one by one under an option.
const TOLD: usize = 2;

fn broken(sentences: &[String]) -> String {
    match sentences {
        [] => "all are kept".to_owned(),
        all if all.len() <= TOLD => all.join(" "),
        all => format!("{} And {} more.", all[..TOLD].join(" "), all.len() - TOLD),
    }
}

/// How much of a motif an edge cuts off; of one that is nearly gone, how much is left.
fn cut(plan: &Plan, by: Length, motif: Length) -> String {
    let left = motif - by;
    if by == Length::ZERO {
        "whole".to_owned()
    } else if by * 2 <= motif {
        format!("{} cut off", words::length(plan, by))
    } else {
        format!("{} of one shows, then whole", words::length(plan, left))
    }
}

/// What a reader must know to compare the options.
fn notes(plan: &Plan, compared: &RoomOptions) -> Vec<String> {
    let room = &plan.job.rooms[compared.room];
    let alone = if compared.shared {
        ", with this room cut by itself; together with the other rooms of the same cloth it can take less"
    } else {
        ""
    };
    let mut note = format!(
        "Each option is planned in full, not estimated{alone}. The top and the lowest motif are those at the crown \
         and the base of wall {}, in the column that the pattern is placed by; a motif is taken to fill its repeat.",
        room.walls[compared.wall].label
    );
    if let Some(corner) = kill_corner(compared) {
        let name = &room.corners[corner].name;
        note += &format!(
            " At corner {name} the pattern comes round to where it began: by how much it misses there depends on \
             the girth of the room alone"
        );
        match compared.options.first().and_then(|option| option.kill.as_ref()) {
            Some(kill) if misses_alike(compared) => {
                note += &format!(", and is {} whatever the start.", kill.words(&plan.job.print.format));
            }
            _ => note += ".",
        }
    }
    let mut notes = vec![note];
    notes.extend(cut_already(plan, compared));
    let impossible = compared.impossible.iter().map(|(name, why)| format!("Not possible, {name}: {why}."));
    notes.extend(impossible);
    notes
}

/// Which pieces of the room are cut for the start that is drawn, and what another one means for them.
fn cut_already(plan: &Plan, compared: &RoomOptions) -> Option<String> {
    let drawn = &compared.options.iter().find(|option| option.chosen)?.letter;
    // What the designer knows of: strips for trim are the workroom's.
    let of_room = |p: &&Piece| {
        p.kind <= PieceKind::OpeningPiece && p.wall().is_some_and(|wall| wall.room == compared.room)
    };
    let made = plan.pieces.iter().filter(of_room).filter(|p| p.cut.made.is_some());
    let labels: Vec<&str> = made.map(|piece| piece.label.as_str()).collect();
    (!labels.is_empty()).then(|| {
        format!(
            "Cut already, for option {drawn}: {}. For another option pieces that no longer serve are cut anew.",
            list(&labels)
        )
    })
}
