//! Clouds round the places of a wall that have changed since another issue, each with the triangle of
//! the revision.

use super::view::View;
use crate::geom::{Point, Rect};
use crate::plan::model::ChangedPlace;
use crate::sheet::ComposeFault;
use crate::sheet::drawing::{Drawing, group};
use crate::sheet::extent::union;
use crate::sheet::model::Layer;
use crate::sheet::revision;
use crate::sheet::sign::Sign;
use crate::units::Length;

/// How far from its cloud a triangle may stand, the nearest first.
const AWAY: [Length; 5] = [Length::ZERO, Length::mm(3), Length::mm(7), Length::mm(12), Length::mm(18)];
/// From one place that is tried for a triangle to the next.
const STEP: Length = Length::mm(4);

/// Draws the clouds of a view; none where nothing changed.
///
/// # Errors
/// `missing-glyph` when the font lacks a character of the revision's index.
pub fn draw(view: &View, drawing: &mut Drawing) -> Result<(), ComposeFault> {
    let Some(change) = &view.plan.change else { return Ok(()) };
    for (n, (outline, what)) in clouds(view, &change.places).into_iter().enumerate() {
        let title = format!("changed: {what}");
        drawing.group(
            Layer::Changes,
            view.id(&format!("cloud-{}", n + 1)),
            &title,
            vec![revision::cloud(outline)],
        );
        drawing.signs.insert(Sign::Cloud);
        let index = change.row.index.as_str();
        let Some(place) = free_place(drawing, revision::extent(outline), index) else { continue };
        drawing.take(revision::triangle_area(place, index));
        let marks = revision::triangle(place, index)?;
        drawing.label(group(Layer::Changes, "", format!("revision {index}: {what}"), marks));
    }
    Ok(())
}

/// The outlines of the clouds on paper, those that would run into one another as one.
fn clouds(view: &View, places: &[ChangedPlace]) -> Vec<(Rect, String)> {
    let mut clouds: Vec<(Rect, String)> = Vec::new();
    for place in places.iter().filter(|place| place.wall == view.at) {
        let x0 = place.area.x0.max(view.window.0);
        let x1 = place.area.x1.min(view.window.1);
        if x0 > x1 {
            continue;
        }
        let area = Rect { x0, x1, y0: place.area.y0.max(view.bottom()), y1: place.area.y1.min(view.top()) };
        if area.y0 > area.y1 {
            continue;
        }
        let mut cloud = (revision::outline_of(view.map.rect(area)), place.what.clone());
        while let Some(at) = clouds.iter().position(|(other, _)| meet(other, &cloud.0)) {
            let (other, what) = clouds.remove(at);
            let what = if what == cloud.1 { what } else { format!("{what}, {}", cloud.1) };
            cloud = (union(other, cloud.0), what);
        }
        clouds.push(cloud);
    }
    clouds
}

/// Whether two clouds run into one another, and are not one within or across the other with room between.
fn meet(a: &Rect, b: &Rect) -> bool {
    revision::extent(*a).overlaps(&revision::extent(*b))
}

/// The middle of a triangle that covers no text, nearest to the cloud and to its upper right corner.
fn free_place(drawing: &Drawing, cloud: Rect, index: &str) -> Option<Point> {
    let size = revision::triangle_area(Point::default(), index);
    for away in AWAY {
        let ring = Rect {
            x0: cloud.x0 - size.x1 - away,
            x1: cloud.x1 + size.x1 + away,
            y0: cloud.y0 - size.y1 - away,
            y1: cloud.y1 + size.y1 + away,
        };
        let mut places = round(&ring);
        // Within the cloud is as good, where it is large.
        let inner = cloud.width() > size.width() * 2 && cloud.height() > size.height() * 2;
        if inner {
            places.push(Point::new(cloud.x1 - size.width(), cloud.y0 + size.height()));
        }
        let free = |place: &&Point| {
            let area = revision::triangle_area(**place, index);
            drawing.is_free(area, true) && !drawing.has_text(area)
        };
        if let Some(place) = places.iter().find(free) {
            return Some(*place);
        }
    }
    None
}

/// Places round a rectangle, those near its upper right corner first.
fn round(ring: &Rect) -> Vec<Point> {
    let steps = |from: Length, to: Length| {
        let count = (to - from).div_floor(STEP).max(1);
        (0..=count).map(move |n| from + (to - from) * n / count)
    };
    let top = steps(ring.x0, ring.x1).map(|x| Point::new(x, ring.y0));
    let foot = steps(ring.x0, ring.x1).map(|x| Point::new(x, ring.y1));
    let right = steps(ring.y0, ring.y1).map(|y| Point::new(ring.x1, y));
    let left = steps(ring.y0, ring.y1).map(|y| Point::new(ring.x0, y));
    let mut places: Vec<Point> = top.chain(right).chain(left).chain(foot).collect();
    let corner = Point::new(ring.x1, ring.y0);
    places.sort_by_key(|p| ((p.x - corner.x).abs() + (p.y - corner.y).abs(), p.x, p.y));
    places
}
