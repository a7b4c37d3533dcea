//! Areas and lengths of the plan against a general geometry library, in millimetres.
//!
//! The plan works in whole nanometres with rules of its own for edges; the library knows nothing of
//! walls and works in floats by other methods (boolean operations on polygons).

use clothwright::geom::{Point, Rect};
use clothwright::job::model::*;
use clothwright::plan::make;
use clothwright::plan::model::*;
use clothwright::units::Length;
use geo::{Area, BooleanOps, Coord, Euclidean, Length as _, LineString, MultiPolygon, Polygon};

use crate::generate::random_job;
use crate::rooms::{braid, inch, welt};

/// Polygons are snapped to a grid by the library: a hundredth of a square millimetre for each metre of edge.
const AREA: f64 = 10.0;
/// Each end of each part of a line is rounded to a nanometre.
const LENGTH: f64 = 0.001;

fn mm(length: Length) -> f64 {
    length.nm() as f64 / 1e6
}

fn coord(p: &Point) -> Coord {
    Coord { x: mm(p.x), y: mm(p.y) }
}

fn polygon(points: &[Point]) -> MultiPolygon {
    MultiPolygon::from(Polygon::new(LineString::from_iter(points.iter().map(coord)), Vec::new()))
}

fn rect(r: &Rect) -> MultiPolygon {
    let p = Point::new;
    polygon(&[p(r.x0, r.y0), p(r.x1, r.y0), p(r.x1, r.y1), p(r.x0, r.y1)])
}

fn union(parts: impl Iterator<Item = MultiPolygon>) -> MultiPolygon {
    parts.fold(MultiPolygon::new(Vec::new()), |all, part| all.union(&part))
}

/// The edge of an area, outside and round its holes.
fn edge(area: &MultiPolygon) -> f64 {
    let rings = area.iter().flat_map(|p| std::iter::once(p.exterior()).chain(p.interiors()));
    rings.map(|ring| Euclidean.length(ring)).sum()
}

/// The field of a wall without what its openings take.
fn field(wall: &Wall, plan: &WallPlan) -> MultiPolygon {
    polygon(&plan.field).difference(&union(wall.openings.iter().map(|o| rect(&o.outer))))
}

/// Rooms with raked walls, braid and lying batting among them.
fn some_job(seed: u64) -> Job {
    let mut job = random_job(seed);
    job.trims.top = braid(false);
    job.trims.bottom = welt(false);
    job.batting.hang = if seed.is_multiple_of(2) { BattingHang::Upright } else { BattingHang::Lying };
    let raked = &mut job.rooms[0].walls[0];
    if seed.is_multiple_of(3) && raked.openings.is_empty() {
        let high = raked.ceiling.at(Length::ZERO);
        let ends = vec![Point::new(Length::ZERO, high), Point::new(raked.width, high - inch(9))];
        raked.ceiling = clothwright::geom::Profile::new(ends).expect("two ends");
    }
    job
}

fn each_wall(rooms: u64, look: impl Fn(&Plan, usize, &str)) {
    let mut seen = 0;
    for seed in 0..rooms {
        let Ok(plan) = make(some_job(seed)) else { continue };
        for wall in (0..plan.rooms[0].walls.len()).filter(|w| plan.job.rooms[0].walls[*w].clothed) {
            look(&plan, wall, &format!("room {seed}, wall {}", wall + 1));
            seen += 1;
        }
    }
    assert!(seen as u64 > rooms * 3, "only {seen} walls in {rooms} rooms");
}

/// Every staple line and trim path is as long as the library measures it.
#[test]
fn lines_are_as_long_as_they_are() {
    each_wall(12, |plan, wall, name| {
        let measured = |path: &[Point]| Euclidean.length(&LineString::from_iter(path.iter().map(coord)));
        for line in &plan.rooms[0].walls[wall].staples {
            let off = (measured(&line.path) - mm(line.length)).abs();
            assert!(off < LENGTH, "{name}, {}: {off} mm", line.place);
        }
        for run in &plan.rooms[0].trim {
            let sum: f64 = run.path.iter().map(|part| measured(&part.points)).sum();
            assert!((sum - mm(run.length)).abs() < LENGTH, "{name}, {}", run.label);
        }
    });
}

/// On a wall that is stapled all round, the rows of the cloth are together as long as the edge of its
/// field, round openings too.
#[test]
fn rows_follow_the_whole_edge() {
    let whole = |plan: &Plan, wall: usize| {
        let panel = plan.rooms[0].walls[wall].panel.as_ref();
        let own = |edge: &PanelEdge| matches!(edge.finish, EdgeFinish::Pulled | EdgeFinish::Ended);
        panel.is_some_and(|panel| own(&panel.left) && own(&panel.right))
    };
    each_wall(12, |plan, wall, name| {
        if !whole(plan, wall) {
            return;
        }
        let planned = &plan.rooms[0].walls[wall];
        let rows = planned.staples.iter().filter(|l| {
            matches!(l.kind, StapleKind::Top | StapleKind::Bottom | StapleKind::Side | StapleKind::Casing)
        });
        let rows: f64 = rows.map(|l| mm(l.length)).sum();
        let edge = edge(&field(&plan.job.rooms[0].walls[wall], planned));
        assert!((rows - edge).abs() < 0.1, "{name}: {rows} mm of rows, {edge} mm of edge");
    });
}

/// The strips of a panel cover its field, and do not overlap where they show.
#[test]
fn strips_cover_the_field() {
    each_wall(12, |plan, wall, name| {
        let planned = &plan.rooms[0].walls[wall];
        let Some(panel) = &planned.panel else { return };
        let nets: Vec<Rect> = panel.strips.iter().map(|s| s.net).collect();
        let strips = union(nets.iter().map(rect));
        let bare = field(&plan.job.rooms[0].walls[wall], planned).difference(&strips).unsigned_area();
        assert!(bare < AREA, "{name}: {bare} mm² of field without cloth");
        let sum: f64 = nets.iter().map(|net| rect(net).unsigned_area()).sum();
        assert!((sum - strips.unsigned_area()).abs() < AREA, "{name}: strips overlap");
    });
}

/// The batting covers what the cloth covers, less the gap round edges and openings and less the boxes;
/// no two pieces lie over one another.
#[test]
fn batting_covers_the_field_less_gaps() {
    each_wall(12, |plan, wall, name| {
        let shape = &plan.job.rooms[0].walls[wall];
        let gap = plan.job.batting.gap;
        let pieces = lying_on(plan, wall);
        let laid = |(piece, back): &(&BattingPiece, Length)| {
            let moved = |r: &Rect| Rect { x0: r.x0 - *back, x1: r.x1 - *back, ..*r };
            rect(&moved(&piece.rect)).difference(&union(piece.cut_outs.iter().map(|h| rect(&moved(&h.rect)))))
        };
        let all = union(pieces.iter().map(laid));
        let sum: f64 = pieces.iter().map(|piece| laid(piece).unsigned_area()).sum();
        assert!((sum - all.unsigned_area()).abs() < AREA, "{name}: pieces lie over one another");
        let taken = shape.openings.iter().map(|o| rect(&o.outer.grown(gap)));
        let taken = union(taken.chain(shape.fixings.iter().map(|f| rect(&f.rect))));
        // The field kept the gap from top and bottom, and from both ends, where a free end needs it.
        let (x0, x1) = (gap, shape.width - gap);
        let mut points = shape.field_bottom().raised(gap).between(x0, x1);
        points.extend(shape.field_top().raised(-gap).between(x0, x1).into_iter().rev());
        let wanted = polygon(&points).difference(&taken);
        let bare = wanted.difference(&all).unsigned_area();
        assert!(bare < AREA, "{name}: {bare} mm² without batting");
        let beyond = all.intersection(&union(shape.openings.iter().map(|o| rect(&o.outer)))).unsigned_area();
        assert!(beyond < AREA, "{name}: {beyond} mm² of batting in openings");
    });
}

/// The pieces of batting that lie on a wall, each with how far its own wall begins to the left of it.
fn lying_on(plan: &Plan, wall: usize) -> Vec<(&BattingPiece, Length)> {
    let room = &plan.job.rooms[0];
    let own = plan.rooms[0].walls[wall].batting.iter();
    let mut found: Vec<(&BattingPiece, Length)> = own.map(|piece| (piece, Length::ZERO)).collect();
    let (mut at, mut back) = (wall, Length::ZERO);
    for _ in 1..room.walls.len() {
        if at == 0 && !room.closed {
            break;
        }
        at = (at + room.walls.len() - 1) % room.walls.len();
        back += room.walls[at].width;
        let there = plan.rooms[0].walls[at].batting.iter();
        found.extend(there.filter(|piece| piece.rect.x1 > back).map(|piece| (piece, back)));
    }
    found
}
