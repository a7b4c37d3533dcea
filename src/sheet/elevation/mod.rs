//! Elevations: each clothed wall on a sheet, all walls of a room at one standard scale.

mod approval;
pub mod batting;
mod built;
mod cloth;
mod clouds;
mod dims;
pub mod meeting;
mod notes;
mod repeat;
mod room;
mod rows;
mod services;
mod sheet;
mod view;

use rayon::prelude::*;

use super::column::Section;
use super::document::Document;
use super::drawing::Drawing;
use super::model::Reader;
use super::scale::{Mapping, Scale, largest, standard};
use super::{ComposeFault, Draft, frame, plate, words};
use crate::geom::{Point, Rect};
use crate::job::model::{Paper, Room, Wall};
use crate::plan::model::{Plan, WallRef};
use crate::units::{Length, UnitSystem};
use view::View;

/// The title of the notes that found no room on an elevation.
const NOTES: &str = "Wall notes";

/// The elevations of all rooms for a reader, and a document of the notes that found no room on them, mostly
/// an empty one.
///
/// # Errors
/// `missing-glyph` when the job holds a character that the font lacks.
pub fn drafts(plan: &Plan, paper: Paper, reader: Reader) -> Result<(Vec<Draft>, Document), ComposeFault> {
    let mut drafts = Vec::new();
    let mut sections = Vec::new();
    let rooms = (0..plan.job.rooms.len()).into_par_iter();
    let made: Vec<_> = rooms.map(|index| of_room(plan, paper, reader, index)).collect();
    for (room, made) in plan.job.rooms.iter().zip(made) {
        let (sheets, rest) = made?;
        drafts.extend(sheets);
        for section in rest {
            let mut section = section.listed();
            if plan.job.rooms.len() > 1 {
                section.heading = format!("{}: {}", words::capital(&room.name), section.heading);
            }
            section.whole = true;
            sections.push(section);
        }
    }
    let notes = Document {
        key: "wall-notes".to_owned(),
        title: NOTES.to_owned(),
        heading: NOTES.to_owned(),
        under: String::new(),
        description: "Notes to the elevations that found no room beside their drawings.".to_owned(),
        kind: "Notes",
        scale: String::new(),
        sections,
    };
    Ok((drafts, notes))
}

/// The key of the first sheet that shows a clothed wall.
pub fn key(plan: &Plan, at: WallRef) -> String {
    let room = &plan.job.rooms[at.room];
    let own: String = key_of(&room.name, &room.walls[at.wall].label).collect();
    // Every wall of the job is compared for every key: from the end, where names soonest differ.
    let alike = |room: &Room| {
        let same = |wall: &&Wall| key_of(&room.name, &wall.label).rev().eq(own.chars().rev());
        room.walls.iter().filter(same).count()
    };
    // Names that differ only in signs that a key cannot hold are told apart by their numbers.
    if plan.job.rooms.iter().map(alike).sum::<usize>() > 1 {
        format!("{own}-{}-{}", at.room + 1, at.wall + 1)
    } else {
        own
    }
}

/// The characters of the key of a wall, by the names of its room and of itself.
fn key_of<'a>(room: &'a str, wall: &'a str) -> impl DoubleEndedIterator<Item = char> + use<'a> {
    let slug = |c: char| if c.is_ascii_alphanumeric() { c.to_ascii_lowercase() } else { '-' };
    "elevation-".chars().chain(room.chars().map(slug)).chain("-".chars()).chain(wall.chars().map(slug))
}

fn of_room(
    plan: &Plan,
    paper: Paper,
    reader: Reader,
    room: usize,
) -> Result<(Vec<Draft>, Vec<Section>), ComposeFault> {
    let free = frame::free(paper);
    let walls: Vec<WallRef> = (0..plan.job.rooms[room].walls.len())
        .filter(|&wall| plan.job.rooms[room].walls[wall].clothed)
        .map(|wall| WallRef { room, wall })
        .collect();
    let views = views(plan, reader, &walls, plate::drawing_area(free, 1))?;
    sheet::drafts(paper, &views)
}

/// The smallest scale at which a wall is drawn whole when a larger one is had by breaking it.
const fn least_whole(system: UnitSystem) -> i64 {
    match system {
        UnitSystem::FeetInches | UnitSystem::Inches => 64,
        UnitSystem::Millimetres => 50,
    }
}

/// A long wall is broken into at most so many parts.
const MOST_PARTS: i64 = 12;

/// The views of all walls at one scale: the largest standard scale at which every wall fits
/// `area`. When that would be smaller than [`least_whole`], walls that are too wide are broken at
/// match lines instead. The dimensions of the framed motif are left to the notes where they would cost a scale,
/// and crowded heights stand in rows where their fan would.
fn views<'a>(
    plan: &'a Plan,
    reader: Reader,
    walls: &[WallRef],
    area: Rect,
) -> Result<Vec<View<'a>>, ComposeFault> {
    let system = plan.job.print.format.system;
    let of = |at: WallRef, scale: Scale, (places_motif, fans): (bool, bool)| {
        let width = plan.job.rooms[at.room].walls[at.wall].width;
        View {
            plan,
            at,
            reader,
            map: Mapping { scale, origin: Point::default() },
            window: (Length::ZERO, width),
            places_motif,
            fans,
        }
    };
    let all_fit = |scale, luxuries| {
        let fit = |all, &at: &WallRef| Ok::<_, ComposeFault>(all && fits(&of(at, scale, luxuries), area)?);
        walls.iter().try_fold(true, fit)
    };
    let scale = largest(system, |scale| all_fit(scale, (false, false)))?;
    let mut luxuries = (false, false);
    for more in [(true, true), (true, false), (false, true)] {
        if all_fit(scale, more)? {
            luxuries = more;
            break;
        }
    }
    let whole = |at: WallRef, scale: Scale| of(at, scale, luxuries);
    // Parts of a broken wall are larger than the scale that the fan was tried at.
    let part = |at: WallRef, scale: Scale| of(at, scale, (luxuries.0, false));
    let limit = standard(system).iter().copied().find(|s| s.den == least_whole(system));
    if let Some(limit) = limit.filter(|limit| scale.den > limit.den) {
        let walls_at = |scale| walls.iter().map(|&at| part(at, scale)).collect::<Vec<_>>();
        let Some(parts) = all_broken(&walls_at(limit), area, usize::MAX)? else { return Ok(walls_at(scale)) };
        // Once broken, walls are drawn as large as they can be on as many sheets.
        for &larger in standard(system).iter().filter(|larger| larger.den < limit.den) {
            if let Some(as_few) = all_broken(&walls_at(larger), area, parts.len())? {
                return Ok(as_few);
            }
        }
        return Ok(parts);
    }
    Ok(walls.iter().map(|&at| whole(at, scale)).collect())
}

/// Whether the drawing of a view with all that stands round it fits the area.
fn fits(view: &View, area: Rect) -> Result<bool, ComposeFault> {
    let scale = view.map.scale;
    if scale.paper(view.window.1 - view.window.0) > area.width()
        || scale.paper(view.top() - view.bottom()) > area.height()
    {
        return Ok(false);
    }
    let extent = drawn(view)?.extent();
    Ok(extent.width() <= area.width() && extent.height() <= area.height())
}

fn drawn(view: &View) -> Result<Drawing, ComposeFault> {
    view::draw(view)
}

/// All walls, each in as few parts as fit; `None` when that is not possible, or takes more than `most` parts.
fn all_broken<'a>(
    walls: &[View<'a>],
    area: Rect,
    most: usize,
) -> Result<Option<Vec<View<'a>>>, ComposeFault> {
    let mut parts = Vec::new();
    for wall in walls {
        match broken(*wall, area)? {
            Some(views) if parts.len() + views.len() <= most => parts.extend(views),
            _ => return Ok(None),
        }
    }
    Ok(Some(parts))
}

/// The wall in as few parts as fit, or `None` when no number of parts does.
fn broken<'a>(view: View<'a>, area: Rect) -> Result<Option<Vec<View<'a>>>, ComposeFault> {
    for parts in 1..=MOST_PARTS {
        let cuts = match_lines(&view, parts);
        let views: Vec<View> = cuts.windows(2).map(|w| View { window: (w[0], w[1]), ..view }).collect();
        let mut all = true;
        for view in &views {
            all = all && fits(view, area)?;
        }
        if all {
            return Ok(Some(views));
        }
    }
    Ok(None)
}

/// The ends of `parts` parts of a wall: match lines stand in the middle of the widest stretch
/// without a seam, an edge of an opening or a fixing near each even division.
fn match_lines(view: &View, parts: i64) -> Vec<Length> {
    let width = view.wall().width;
    let mut busy: Vec<Length> = vec![Length::ZERO, width];
    busy.extend(view.wall().openings.iter().flat_map(|o| [o.outer.x0, o.outer.x1]));
    busy.extend(view.wall().fixings.iter().map(|f| f.centre().x));
    busy.extend(view.wall_plan().panel.iter().flat_map(|panel| panel.seams.iter().map(|seam| seam.x)));
    busy.sort();
    let mut cuts = vec![Length::ZERO];
    for n in 1..parts {
        let even = width.scale(n, parts);
        let reach = width.scale(1, parts * 4);
        let stretches = busy.windows(2).filter_map(|pair| {
            let middle = (pair[0] + pair[1]) / 2;
            ((middle - even).abs() <= reach).then_some((pair[1] - pair[0], middle))
        });
        cuts.push(stretches.max().map_or(even, |(_, middle)| middle));
    }
    cuts.push(width);
    cuts
}
