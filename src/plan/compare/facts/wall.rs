//! What a job says of a wall and of what is on it.

use super::{Fact, Facts};
use crate::geom::{Point, Profile};
use crate::job::model::{
    BothEnds, CrossChecks, Fixing, Head, Moulding, Opening, OpeningCloth, Service, Substrate, Wall,
};
use crate::plan::model::{Line, Station, Value};
use crate::plan::words;
use crate::units::Length;

/// The facts of a wall but its label and its name, without what is on it and what it is the back of.
pub fn wall(wall: &Wall) -> Vec<Fact> {
    let Wall {
        label: _,
        name: _,
        clothed,
        width,
        width_top,
        width_bottom,
        lean,
        ceiling,
        floor,
        crown,
        base,
        dado,
        rail,
        substrate,
        openings: _,
        fixings: _,
        services,
        no_seam,
        cross_checks: CrossChecks { both_ends: _, back_of: _ },
    } = wall;
    let mut told = Facts::default();
    told.add("cloth", if *clothed { "upholstered" } else { "bare" });
    told.add("width", Value::Widths([*width_top, *width, *width_bottom]));
    told.add_some("lean by the diagonals", *lean);
    told.add("height", line(ceiling, Some(floor)));
    if floor.points().iter().any(|point| point.y != Length::ZERO) {
        told.add("floor above the datum", line(floor, None));
    }
    moulding(&mut told, "crown", *crown);
    moulding(&mut told, "base", *base);
    if let Some(dado) = dado {
        told.add("top of the dado", line(dado, Some(floor)));
    }
    if let Some(rail) = rail {
        told.add("underside of the rail", line(rail, Some(floor)));
    }
    told.add("substrate", substrate_word(*substrate));
    for Service { kind, from, to } in services {
        told.add(kind.word(), Value::Run(*from, *to));
    }
    for (from, to) in no_seam {
        told.add("no seam", Value::Stretch(*from, *to));
    }
    told.0
}

const fn substrate_word(substrate: Substrate) -> &'static str {
    match substrate {
        Substrate::Drywall => "drywall",
        Substrate::Plaster => "plaster",
        Substrate::Panelling => "panelling",
        Substrate::Masonry => "masonry",
    }
}

fn moulding(told: &mut Facts, what: &str, Moulding { height, projection }: Moulding) {
    told.add_some(what, height);
    told.add_some(&format!("projection of the {what}"), projection);
}

/// A profile of a wall, from the floor where there is one to tell it from.
fn line(profile: &Profile, floor: Option<&Profile>) -> Value {
    let points = profile.points();
    let height = |point: &Point| point.y - floor.map_or(Length::ZERO, |floor| floor.at(point.x));
    let (Some(first), Some(last)) = (points.first(), points.last()) else {
        return Value::Length(Length::ZERO);
    };
    let middle = (first.x + last.x) / 2;
    let station = |x: Length| if x == middle { Station::Middle } else { Station::At(x) };
    let inside = points[1..points.len() - 1].iter().map(|point| (station(point.x), height(point)));
    Value::Line(Line { left: height(first), inside: inside.collect(), right: height(last) })
}

/// The facts of an opening but its label.
pub fn opening(opening: &Opening, wall: &Wall) -> Vec<Fact> {
    // The outside of the casing follows from the clear opening and the casing, and so does its arch.
    let Opening { label, kind, clear, casing, outer: _, head: Head { clear_rise, outer_rise: _ }, cloth } =
        opening;
    let mut told = Facts::default();
    told.add("kind", words::opening_kind(*kind));
    told.add("from the left end", clear.x0);
    let sill = clear.y0 - wall.floor.at(clear.x0 + clear.width() / 2);
    told.add_some("sill", sill);
    told.add("width", clear.width());
    told.add("height", clear.height());
    told.add("casing", *casing);
    told.add_some("rise of the head", *clear_rise);
    let pieced = matches!(cloth, OpeningCloth::Pieced);
    told.add("cloth", if pieced { "pieced" } else { "covered and cut free" });
    from_right(&mut told, wall, label);
    told.0
}

/// The facts of a box or a fitting but its label.
pub fn fixing(fixing: &Fixing, wall: &Wall) -> Vec<Fact> {
    let Fixing { label, kind, rect } = fixing;
    let mut told = Facts::default();
    told.add("kind", words::fixing_kind(*kind));
    let centre = fixing.centre();
    told.add("from the left end", centre.x);
    told.add("above the floor", centre.y - wall.floor.at(centre.x));
    told.add("width", rect.width());
    told.add("height", rect.height());
    from_right(&mut told, wall, label);
    told.0
}

/// The distance that only checks the survey.
fn from_right(told: &mut Facts, wall: &Wall, label: &str) {
    let taped = wall.cross_checks.both_ends.iter().find(|taped| taped.label == label);
    // What the plan uses of such a measure stands in the opening itself.
    if let Some(BothEnds { label: _, from_left: _, width: _, from_right }) = taped {
        told.add("from the right end", *from_right);
    }
}
