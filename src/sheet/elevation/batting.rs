//! Batting elevations: the clothed walls of a room side by side at one scale, with the pieces of
//! batting, their joints and their staples.

use std::collections::BTreeSet;

use super::room;
use super::services;
use super::view::View;
use crate::geom::{Point, Rect};
use crate::job::model::Paper;
use crate::plan::model::{BattingPiece, Plan, StapleKind, WallRef};
use crate::plan::staples::leg_told;
use crate::sheet::column::{Columns, Row, Section};
use crate::sheet::dimension::{Dimension, Run};
use crate::sheet::drawing::{Drawing, group};
use crate::sheet::extent;
use crate::sheet::hatch::hatch;
use crate::sheet::hole::hole_path;
use crate::sheet::mark::{line, outline, rect_path, ring};
use crate::sheet::model::{Anchor, Layer, Mark, Path, Reader};
use crate::sheet::offset::{corners, spread};
use crate::sheet::pack::{self, Item, Page};
use crate::sheet::plate::{self, Plate};
use crate::sheet::scale::{Mapping, Scale, standard};
use crate::sheet::sign::{self, Sign};
use crate::sheet::text::{self, Style};
use crate::sheet::{ComposeFault, Draft, Part, frame, pen, words};
use crate::units::Length;

/// A wall is not drawn smaller than this when another sheet is the price.
const LEAST: i64 = 64;
/// White between the label of a piece and the piece's edges.
const BARE: Length = Length::micrometres(900);
/// From a wall's lowest mark to the baseline of its name.
const NAME_DROP: Length = Length::micrometres(6_500);

/// The batting elevations of all rooms.
///
/// # Errors
/// `missing-glyph` when the job holds a character that the font lacks.
pub fn drafts(plan: &Plan, paper: Paper) -> Result<Vec<Draft>, ComposeFault> {
    let mut drafts = Vec::new();
    for room in 0..plan.rooms.len() {
        drafts.extend(of_room(plan, paper, room)?);
    }
    Ok(drafts)
}

fn of_room(plan: &Plan, paper: Paper, room: usize) -> Result<Vec<Draft>, ComposeFault> {
    let free = frame::free(paper);
    let walls: Vec<WallRef> = (0..plan.rooms[room].walls.len())
        .filter(|&wall| plan.job.rooms[room].walls[wall].clothed)
        .map(|wall| WallRef { room, wall })
        .collect();
    if walls.is_empty() {
        return Ok(Vec::new());
    }
    let area = plate::drawing_area(free, 1).grown(-Length::mm(2));
    let (scale, pages) = paged(plan, &walls, area)?;
    let system = plan.job.print.format.system;
    let name = &plan.job.rooms[room].name;
    let under = format!("Seen from inside, {}", scale.name);
    let title = format!("Batting, {name}");
    let mut sheets = Vec::new();
    let mut rest = Vec::new();
    for page in pages {
        let members: Vec<WallRef> = page.members.iter().map(|&n| walls[n]).collect();
        let sections = sections(plan, &members);
        let composed = Plate {
            rest_in: None,
            drawing: page.drawing,
            sections: &sections,
            reading: &[],
            title: (&title, &under),
            scale: (scale, system),
        }
        .compose(free)?;
        rest.extend(composed.rest);
        sheets.push(composed.marks);
    }
    sheets.extend(plate::overflow(rest, free)?);
    let count = sheets.len();
    let draft = |(n, marks): (usize, Vec<Mark>)| Draft {
        key: if n == 0 { format!("batting-{}", room + 1) } else { format!("batting-{}-{}", room + 1, n + 1) },
        title: "Batting".to_owned(),
        part: Part { number: n + 1, count },
        under: name.clone(),
        description: "The walls with their pieces of batting, joints and batting staples.".to_owned(),
        kind: "Batting elevation",
        scale: scale.name.to_owned(),
        also: Vec::new(),
        marks: marks.into(),
    };
    Ok(sheets.into_iter().enumerate().map(draft).collect())
}

/// The fewest sheets on which all walls stand at a scale that reads well, at the largest such scale
/// and as evenly filled as can be.
fn paged(plan: &Plan, walls: &[WallRef], area: Rect) -> Result<(Scale, Vec<Page>), ComposeFault> {
    let scales = standard(plan.job.print.format.system);
    let mut readable = Vec::new();
    for &scale in scales.iter().filter(|scale| scale.den <= LEAST) {
        if let Some(drawn) = fitting(plan, walls, area, scale)? {
            readable.push((scale, drawn));
        }
    }
    for sheets in 1..=walls.len() {
        for (scale, drawn) in &readable {
            for most in walls.len().div_ceil(sheets)..=walls.len() {
                let pages = pack::pages(drawn, area, most);
                if pages.len() <= sheets {
                    return Ok((*scale, pages));
                }
            }
        }
    }
    for &scale in scales.iter().filter(|scale| scale.den > LEAST) {
        if let Some(drawn) = fitting(plan, walls, area, scale)? {
            let fewest = pack::pages(&drawn, area, walls.len()).len().max(1);
            let ways = walls.len().div_ceil(fewest)..=walls.len();
            let even = ways.map(|most| pack::pages(&drawn, area, most)).find(|pages| pages.len() <= fewest);
            return Ok((scale, even.unwrap_or_default()));
        }
    }
    Ok((scales[scales.len() - 1], Vec::new()))
}

/// The drawings of all walls at a scale; `None` when one does not fit the area.
fn fitting(
    plan: &Plan,
    walls: &[WallRef],
    area: Rect,
    scale: Scale,
) -> Result<Option<Vec<Item>>, ComposeFault> {
    let too_wide = |at: &WallRef| scale.paper(plan.job.rooms[at.room].walls[at.wall].width) > area.width();
    if walls.iter().any(too_wide) {
        return Ok(None);
    }
    let mut drawn = Vec::new();
    for &at in walls {
        let item = Item::new(wall(plan, at, scale)?);
        if !item.fits(area) {
            return Ok(None);
        }
        drawn.push(item);
    }
    Ok(Some(drawn))
}

/// One wall with its batting, about its own origin.
fn wall(plan: &Plan, at: WallRef, scale: Scale) -> Result<Drawing, ComposeFault> {
    let width = plan.job.rooms[at.room].walls[at.wall].width;
    let map = Mapping { scale, origin: Point::default() };
    let view = View {
        plan,
        at,
        reader: Reader::Crew,
        map,
        window: (Length::ZERO, width),
        places_motif: false,
        fans: false,
    };
    let mut drawing = Drawing::default();
    let carried = carried(&view);
    let pieces: Vec<&BattingPiece> = carried.iter().chain(&view.wall_plan().batting).collect();
    for (n, piece) in pieces.iter().enumerate() {
        piece_marks(&view, piece, n % 2 == 0, &mut drawing);
    }
    room::edges(&view, &mut drawing);
    staples(&view, &mut drawing);
    let labels = room::openings(&view, &mut drawing);
    room::opening_labels(&labels, &mut drawing)?;
    services::lines(&view, &mut drawing);
    // Values stand where they must, labels where there is room.
    dimensions(&view, &mut drawing)?;
    for piece in pieces {
        label(&view, piece, &mut drawing)?;
    }
    // A label that has no room elsewhere is led to below the wall; the name stands under it.
    let mut drawing = drawing.finish();
    name(&view, &mut drawing)?;
    Ok(drawing)
}

/// What comes round the left corner: pieces that begin on the walls before and are carried on to this
/// one, in this wall's coordinates.
fn carried(view: &View) -> Vec<BattingPiece> {
    let walls = &view.room().walls;
    let mut found = Vec::new();
    let (mut wall, mut back) = (view.at.wall, Length::ZERO);
    for _ in 1..walls.len() {
        if wall == 0 && !view.room().closed {
            break;
        }
        wall = if wall > 0 { wall - 1 } else { walls.len() - 1 };
        back += walls[wall].width;
        let moved = |r: Rect| Rect { x0: r.x0 - back, x1: r.x1 - back, ..r };
        let pieces = view.room_plan().walls[wall].batting.iter().filter(|piece| piece.rect.x1 > back);
        let begun: Vec<BattingPiece> = pieces
            .map(|piece| BattingPiece {
                rect: Rect { x0: Length::ZERO, ..moved(piece.rect) },
                cut_outs: piece.cut_outs.iter().map(|hole| hole.moved(-back)).collect(),
                ..piece.clone()
            })
            .collect();
        found.splice(0..0, begun);
    }
    found
}

/// A piece: hatched where it lies, its edges, and what is cut out of it.
fn piece_marks(view: &View, piece: &BattingPiece, rising: bool, drawing: &mut Drawing) {
    let rect = view.map.rect(piece.rect);
    let mut shape = rect_path(rect);
    for hole in &piece.cut_outs {
        shape.0.extend(hole_path(&view.map, hole).0);
    }
    let mut marks = vec![Mark::Clip { path: shape, marks: hatch(rect, Length::mm(2), rising) }];
    marks.push(outline(rect, pen::DETAIL));
    // An opening shows itself; what is cut out for a box is crossed.
    let opening = |hole: &Rect| view.wall().openings.iter().any(|o| o.outer.overlaps(hole));
    for hole in piece.cut_outs.iter().filter(|hole| !opening(&hole.rect)) {
        marks.extend(sign::cut_out(view.map.rect(hole.rect)));
        drawing.signs.insert(Sign::CutOut);
    }
    // On the wall the field bounds the piece; what goes round the corner is drawn as hidden.
    let beyond = piece.rect.x1 > view.wall().width;
    let mut all = vec![Mark::Clip { path: on_wall(view), marks }];
    if beyond {
        let round = Rect { x0: view.map.x(view.wall().width), ..rect };
        all.push(outline(round, pen::HIDDEN));
        drawing.signs.insert(Sign::RoundCorner);
    }
    drawing.signs.insert(Sign::Batting);
    let id = format!("batting-{}-wall-{}", piece.label, view.wall().label);
    drawing.group(Layer::Batting, id, format!("batting {}", piece.label), all);
}

fn on_wall(view: &View) -> Path {
    ring(&view.field_between(Length::ZERO, view.wall().width))
}

/// The batting staples, each one drawn; along joints and edges.
fn staples(view: &View, drawing: &mut Drawing) {
    let rows = view.wall_plan().staples.iter();
    let batting = |kind| matches!(kind, StapleKind::BattingEdge | StapleKind::BattingButt);
    for (n, row) in rows.filter(|row| batting(row.kind)).enumerate() {
        let points: Vec<Point> = row.path.iter().map(|&p| view.map.point(p)).collect();
        let marks = vec![Mark::Stamp { marks: vec![sign::staple()], places: spread(&points, row.count) }];
        drawing.signs.insert(Sign::BattingStaples);
        let id = format!("staples-{}-{}", view.wall().label, n + 1);
        drawing.group(Layer::Staples, id, row.place.clone(), marks);
    }
}

/// The piece's label where no opening is; a piece too narrow for it has it beside the wall, led in.
fn label(view: &View, piece: &BattingPiece, drawing: &mut Drawing) -> Result<(), ComposeFault> {
    let (width, cloth) = (view.wall().width, view.cloth());
    let rect = view.map.rect(Rect { x1: piece.rect.x1.min(width), ..piece.rect });
    let set = |at: Point| {
        let baseline = Point::new(at.x, at.y + Style::STRONG.caps.height() / 2);
        text::set(piece.label.as_str(), baseline, Anchor::Middle, Style::STRONG)
    };
    for part in [10, 8, 12, 6, 14, 4, 16, 2, 18, 1, 19] {
        for share in [5, 3, 7] {
            let (x, y) = (rect.x0 + rect.width() * share / 10, rect.y0 + rect.height() * part / 20);
            let label = set(Point::new(x, y))?;
            let area = text::area(&label);
            let inside = area.x0 - BARE > rect.x0 && area.x1 + BARE < rect.x1;
            if inside && corners(area).iter().all(|&p| cloth.holds(p)) && drawing.is_free(area, false) {
                drawing.text(Layer::Batting, label);
                return Ok(());
            }
        }
    }
    // Led to the nearer side of the wall, or to above or below the piece.
    let beside = Length::mm(7);
    let left = (rect.x0 + rect.x1) / 2 < view.map.x(width / 2);
    let to = if left { view.map.x(Length::ZERO) - beside } else { view.map.x(width) + beside };
    let part_of = |across: i64, down: i64| {
        Point::new(rect.x0 + rect.width() * across / 20, rect.y0 + rect.height() * down / 20)
    };
    let level =
        [6, 14, 4, 16, 10, 8, 12].map(|down| part_of(10, down)).map(|from| (from, Point::new(to, from.y)));
    let off = Length::mm(4);
    let all = extent::of(&drawing.marks).unwrap_or(rect);
    // Next to the piece, or else beyond all values.
    let upright = [(rect.y0, rect.y1), (all.y0, all.y1)].into_iter().flat_map(|(top, bottom)| {
        [10, 6, 14, 3, 17, 1, 19].into_iter().flat_map(move |across| {
            let (high, low) = (part_of(across, 1), part_of(across, 19));
            [(high, Point::new(high.x, top - off)), (low, Point::new(low.x, bottom + off))]
        })
    });
    for (from, to) in level.into_iter().chain(upright) {
        let label = set(to)?;
        let area = text::area(&label);
        if cloth.holds(from) && drawing.is_free(area, false) && !drawing.has_text(area.grown(BARE)) {
            let lead = line(from, to, pen::DIMENSION);
            drawing.label(group(Layer::Batting, "", "leader", vec![lead]));
            drawing.text(Layer::Batting, label);
            return Ok(());
        }
    }
    Ok(())
}

/// Running dimensions to the joints above, the width below.
fn dimensions(view: &View, drawing: &mut Drawing) -> Result<(), ComposeFault> {
    let width = view.wall().width;
    let hang = Length::mm(10);
    let bounds = (view.map.x(Length::ZERO) - hang, view.map.x(width) + hang);
    // Also where a piece that came round the corner ends.
    let upright = view.wall_plan().batting_joints.iter().filter(|joint| joint.from.x == joint.to.x);
    let places: BTreeSet<Length> = upright.map(|joint| joint.from.x).collect();
    let joints: Vec<(Length, String)> = places.into_iter().map(|x| (x, String::new())).collect();
    let label = &view.wall().label;
    if !joints.is_empty() {
        let top = view.map.y(view.top());
        let zero = Length::ZERO;
        let running =
            Dimension::running(Run::Level, zero, zero, &joints, |x| view.map.x(x), bounds, view.format())?;
        let at = top - Length::mm(3);
        drawing.marks.push(running.draw(
            at,
            top,
            &format!("joints-{label}"),
            "joints from the left corner",
        )?);
    }
    heights(view, drawing)?;
    let bottom = view.map.y(view.bottom());
    let whole =
        Dimension::chain(Run::Level, &[Length::ZERO, width], |x| view.map.x(x), bounds, view.format())?;
    let at = bottom + Length::mm(1) + whole.depth();
    drawing.marks.push(whole.draw(at, bottom, &format!("width-{label}"), "width of the wall")?);
    Ok(())
}

/// The heights of level joints above the datum, at the right end.
fn heights(view: &View, drawing: &mut Drawing) -> Result<(), ComposeFault> {
    let level = view.wall_plan().batting_joints.iter().filter(|joint| joint.from.y == joint.to.y);
    let mut heights: Vec<Length> = level.map(|joint| joint.from.y).collect();
    heights.sort();
    heights.dedup();
    if heights.is_empty() {
        return Ok(());
    }
    let stops: Vec<(Length, String)> = heights.into_iter().map(|y| (y, String::new())).collect();
    let bounds = (view.map.y(view.top()), view.map.y(view.bottom()));
    let zero = Length::ZERO;
    let running =
        Dimension::running(Run::Upright, zero, zero, &stops, |y| view.map.y(y), bounds, view.format())?;
    let right = view.map.x(view.wall().width);
    let at = right + Length::mm(2) + running.depth();
    let id = format!("level-joints-{}", view.wall().label);
    drawing.marks.push(running.draw(at, right, &id, "heights of level joints above the datum")?);
    Ok(())
}

/// The wall's name below it.
fn name(view: &View, drawing: &mut Drawing) -> Result<(), ComposeFault> {
    let below = extent::of(&drawing.marks).map_or(Length::ZERO, |extent| extent.y1);
    let at = Point::new(view.map.x(view.wall().width / 2), below + NAME_DROP);
    let name = text::set(format!("Wall {}", view.wall().label), at, Anchor::Middle, Style::STRONG)?;
    drawing.group(Layer::Sheet, "", format!("wall {}", view.wall().label), vec![Mark::Text(name)]);
    Ok(())
}

/// The notes of one sheet's walls.
fn sections(plan: &Plan, walls: &[WallRef]) -> Vec<Section> {
    let print = |length| words::length(plan, length);
    let batting = &plan.job.batting;
    let mut stuff = Section::new("Batting");
    stuff.pair("Loft", print(batting.loft));
    stuff.pair("Roll", format!("{} wide", print(batting.roll_width)));
    stuff.pair("Gap", format!("{} to mouldings and casings", print(batting.gap)));
    let joints = || walls.iter().flat_map(|at| &plan.rooms[at.room].walls[at.wall].batting_joints);
    let lying = joints().any(|joint| joint.from.y == joint.to.y);
    stuff.pair(
        "Joints",
        if lying {
            "edge to edge, no lap; upright ones clear of the seams"
        } else {
            "edge to edge, no lap, clear of the seams"
        },
    );
    let house = &plan.job.house;
    let (edges, joints) = (print(house.batting_edge_staples), print(house.batting_butt_staples));
    stuff.pair("Staples", format!("{edges} apart at edges, {joints} along joints"));
    let legs = walls.iter().filter_map(|at| {
        let label = plan.job.rooms[at.room].walls[at.wall].label.clone();
        Some((label, leg_told(&plan.job, *at)?))
    });
    for (walls, leg) in words::alike(legs) {
        stuff.pair(format!("Wall {walls}"), leg);
    }
    const COLUMNS: Columns = Columns { first: Length::mm(17), last: Length::mm(16) };
    let mut pieces = Section::new("Pieces, each of width and cut length");
    for at in walls {
        let wall = &plan.rooms[at.room].walls[at.wall];
        let each = wall.batting.iter();
        let each = each.map(|p| (p.label.clone(), (print(p.cut_width), print(p.cut_length))));
        for (labels, (width, length)) in words::alike(each) {
            pieces.rows.push(Row::Cells(COLUMNS, vec![labels, width, length]));
        }
    }
    pieces.elsewhere = Some("Batting");
    vec![stuff, pieces]
}
