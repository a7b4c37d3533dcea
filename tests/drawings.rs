//! The drawn sheets of every demo job on every paper, read back from the display list: values say
//! what is drawn, chains close, seams and openings stand where the plan has them, the pattern is in
//! phase, and nothing that is written covers anything else that is written.

use std::sync::LazyLock;

use clothwright::diag::Diags;
use clothwright::geom::{Point, Rect};
use clothwright::job::model::Paper;
use clothwright::plan::model::{Plan, WallRef, Way};
use clothwright::sheet::model::{Group, Layer, Mark, Path, Reader, Seg, Sheet, SheetSet, Text};
use clothwright::sheet::{compose, extent, frame, text};
use clothwright::source::Sources;
use clothwright::units::{Length, UnitSystem};
use clothwright::{job, parse, plan};

/// The demo jobs, and rooms made up to be awkward: a long corridor, a stair hall with a rake, a
/// closet with a door in every wall.
const JOBS: [&str; 9] = [
    "jobs/tern-inn-parlour.kdl",
    "jobs/feature-wall.kdl",
    "jobs/metric-attic-study.kdl",
    "jobs/sluice-house-landing.kdl",
    "jobs/plover-house-stair.kdl",
    "jobs/otter-lodge-study.kdl",
    "tests/rooms/corridor.kdl",
    "tests/rooms/stair-hall.kdl",
    "tests/rooms/closet.kdl",
];
const PAPERS: [Paper; 5] = [Paper::Letter, Paper::Tabloid, Paper::ArchB, Paper::A4, Paper::A3];

struct Composed {
    name: &'static str,
    plan: Plan,
    paper: Paper,
    sets: Vec<SheetSet>,
}

static COMPOSED: LazyLock<Vec<Composed>> = LazyLock::new(|| {
    let mut all = Vec::new();
    for name in JOBS {
        let path = format!("{}/{name}", env!("CARGO_MANIFEST_DIR"));
        let source = std::fs::read_to_string(path).expect("the job is there");
        let file = Sources::default().add(name, source.as_str());
        let mut diags = Diags::default();
        let parsed = parse::parse(&source, file, &mut diags).expect("a sound file");
        let (job, _) = job::check(&parsed, &mut diags).expect("a sound job");
        let plan = plan::make(job).expect("a plan");
        for paper in PAPERS {
            let sets = compose(&plan, Some(paper), &Reader::ALL).expect("sheets");
            all.push(Composed { name, plan: plan.clone(), paper, sets });
        }
    }
    all
});

/// Calls `check` for every drawn sheet, with words that say which it is.
fn every_drawing(check: impl Fn(&Composed, &SheetSet, &Sheet, &str)) {
    let mut count = 0;
    for composed in COMPOSED.iter() {
        for set in &composed.sets {
            for sheet in set.sheets.iter().filter(|sheet| drawn(sheet)) {
                let at = format!("{} {:?} {:?} {}", composed.name, composed.paper, set.reader, sheet.key);
                check(composed, set, sheet, &at);
                count += 1;
            }
        }
    }
    assert!(count > 100, "only {count} drawings were looked at");
}

/// Whether the sheet holds a drawing to scale: not the notes that found no room beside one.
fn drawn(sheet: &Sheet) -> bool {
    group(sheet, "drawing-title").is_some()
}

/// Whether the sheet shows only a part of a wall, between match lines.
fn broken(sheet: &Sheet) -> bool {
    sheet.key.starts_with("elevation-") && sheet.title.contains(", part ")
}

/// All groups of a list of marks, the inner ones after the one that holds them.
fn groups(marks: &[Mark]) -> Vec<&Group> {
    let mut all = Vec::new();
    for mark in marks {
        match mark {
            Mark::Group(group) => {
                all.push(group);
                all.extend(groups(&group.marks));
            }
            Mark::Clip { marks, .. } => all.extend(groups(marks)),
            _ => {}
        }
    }
    all
}

fn texts(marks: &[Mark]) -> Vec<&Text> {
    let mut all = Vec::new();
    for mark in marks {
        match mark {
            Mark::Text(text) => all.push(text),
            Mark::Group(group) => all.extend(texts(&group.marks)),
            Mark::Clip { marks, .. } => all.extend(texts(marks)),
            _ => {}
        }
    }
    all
}

/// The group of that id.
fn group<'a>(sheet: &'a Sheet, id: &str) -> Option<&'a Group> {
    groups(&sheet.marks).into_iter().find(|group| group.id == id)
}

/// The denominator of the scale that the sheet names.
fn denominator(sheet: &Sheet) -> i64 {
    let title = group(sheet, "drawing-title").expect("a title under the drawing");
    let named = texts(&title.marks).into_iter().find_map(|text| {
        let from = text.text.rfind("1:")?;
        text.text[from + 2..].trim_end_matches(')').parse().ok()
    });
    named.expect("a named scale")
}

/// The length that a value states, such as `12′ 10½″`, `³⁄₁₆″` or `2750`; a label before it is
/// passed over.
fn stated(value: &str, system: UnitSystem) -> Option<Length> {
    let (sign, value) = match value.strip_prefix('−') {
        Some(rest) => (-1, rest),
        None => (1, value),
    };
    let words: Vec<&str> = value.split(' ').collect();
    let last = *words.last()?;
    if system == UnitSystem::Millimetres {
        let (whole, part) = last.split_once('.').unwrap_or((last, ""));
        let um: i64 = format!("{part:0<3}").parse().ok()?;
        return Some((Length::mm(whole.parse().ok()?) + Length::micrometres(um)) * sign);
    }
    let feet = words.iter().rev().nth(1).and_then(|word| word.strip_suffix('′'));
    let feet: i64 = feet.map_or(Some(0), |feet| feet.parse().ok())?;
    let inches = last.strip_suffix('″')?;
    let digits: String = inches.chars().take_while(char::is_ascii_digit).collect();
    let whole: i64 = if digits.is_empty() { 0 } else { digits.parse().ok()? };
    let sixty_fourths = fraction(&inches[digits.len()..])?;
    Some((Length::feet(feet) + Length::inches(whole) + Length::inch_64ths(sixty_fourths)) * sign)
}

fn fraction(text: &str) -> Option<i64> {
    let plain = |c: char| -> Option<char> {
        let at = "⁰¹²³⁴⁵⁶⁷⁸⁹".chars().chain("₀₁₂₃₄₅₆₇₈₉".chars()).position(|d| d == c)?;
        char::from_digit((at % 10) as u32, 10)
    };
    Some(match text {
        "" => 0,
        "½" => 32,
        "¼" => 16,
        "¾" => 48,
        "⅛" => 8,
        "⅜" => 24,
        "⅝" => 40,
        "⅞" => 56,
        _ => {
            let (above, below) = text.split_once('⁄')?;
            let number = |t: &str| t.chars().map(plain).collect::<Option<String>>()?.parse::<i64>().ok();
            number(above)? * 64 / number(below)?
        }
    })
}

/// The ends of the first line of a group.
fn ends(group: &Group) -> Option<(Point, Point)> {
    match group.marks.first()? {
        Mark::Stroke { path: Path(segs), .. } => match segs[..] {
            [Seg::Move(a), Seg::Line(b)] => Some((a, b)),
            _ => None,
        },
        _ => None,
    }
}

/// A value of a dimension: the stretch of line that it states, and what it states.
struct Value {
    from: Point,
    to: Point,
    stated: Length,
    /// It ends in an arrowhead, not between two ticks.
    running: bool,
}

fn values(dimension: &Group, system: UnitSystem) -> Vec<Value> {
    let inner = dimension.marks.iter().filter_map(|mark| match mark {
        Mark::Group(group) if group.id.ends_with(&format!("-of-{}", dimension.id)) => Some(group),
        _ => None,
    });
    inner
        .map(|group| {
            let (from, to) = ends(group).expect("a value's first mark is its stretch of line");
            let text = &texts(&group.marks)[0].text;
            let stated = stated(text, system).unwrap_or_else(|| panic!("{text:?} is a value"));
            Value { from, to, stated, running: matches!(group.marks.get(1), Some(Mark::Fill { .. })) }
        })
        .collect()
}

/// The dimensions of a sheet: groups of the layer that hold groups numbered after them.
fn dimensions(sheet: &Sheet) -> Vec<&Group> {
    let all = groups(&sheet.marks).into_iter();
    all.filter(|g| {
        let first = format!("value-1-of-{}", g.id);
        let holds = |mark: &Mark| matches!(mark, Mark::Group(inner) if inner.id == first);
        g.layer == Layer::Dimensions && !g.id.is_empty() && g.marks.iter().any(holds)
    })
    .collect()
}

fn paper_length(from: Point, to: Point) -> Length {
    (to.x - from.x).abs().max((to.y - from.y).abs())
}

#[test]
fn every_value_states_what_is_drawn() {
    every_drawing(|composed, _, sheet, at| {
        let format = composed.plan.job.print.format;
        let den = denominator(sheet);
        let dimensions = dimensions(sheet);
        assert!(!dimensions.is_empty() || !sheet.key.starts_with("elevation"), "{at}: no dimension");
        for dimension in dimensions {
            let from_zero = groups(&dimension.marks).iter().any(|group| group.title == "zero");
            // Where a wall is broken, running dimensions begin at the match line: then each value
            // tells its distance from the one before.
            let mut before: Option<(Point, Length)> = None;
            for Value { from, to, stated, running } in values(dimension, format.system) {
                let (from, distance) = match before.replace((to, stated)) {
                    _ if !running || from_zero => (from, stated.abs()),
                    Some((place, value)) => (place, stated - value),
                    None => continue,
                };
                // Half a nanometre at each end of the line on paper, and less than a step of rounding.
                let off = (paper_length(from, to) * den - distance).abs();
                assert!(
                    off < format.step + Length::nanometres(den * 2),
                    "{at}: {} is off by {off}",
                    dimension.id
                );
            }
        }
    });
}

/// Both sides of a match line lead to each other by the numbers of their sheets.
#[test]
fn match_lines_tell_where_the_wall_goes_on() {
    let mut told = 0;
    for composed in COMPOSED.iter() {
        for set in &composed.sets {
            for (i, sheet) in set.sheets.iter().enumerate() {
                let words = texts(&sheet.marks).into_iter().filter(|text| text.text.starts_with("goes on: "));
                for text in words {
                    let number =
                        text.text.strip_prefix("goes on: sheet ").and_then(|n| n.parse::<usize>().ok());
                    let at = format!("{} {:?} {}", composed.name, composed.paper, sheet.key);
                    let number = number.unwrap_or_else(|| panic!("{at}: {}", text.text));
                    assert!(number == i || number == i + 2, "{at}: {number}");
                    let (own, other) = (sheet.title.split(", part ").next(), &set.sheets[number - 1].title);
                    assert_eq!(own, other.split(", part ").next(), "{at}");
                    told += 1;
                }
            }
        }
    }
    assert!(told > 10, "only {told} match lines were found");
}

#[test]
fn chains_close() {
    let closed = std::cell::Cell::new(0);
    every_drawing(|composed, _, sheet, at| {
        let system = composed.plan.job.print.format.system;
        for wall in composed.plan.job.rooms.iter().flat_map(|room| &room.walls) {
            for (parts, whole) in
                [("openings", "width"), ("heights-left", "height-left"), ("heights-right", "height-right")]
            {
                let of_wall = |name: &str| group(sheet, &format!("{name}-wall-{}", wall.label));
                let (Some(parts), Some(whole)) = (of_wall(parts), of_wall(whole)) else { continue };
                let sum: Length = values(parts, system).iter().map(|value| value.stated).sum();
                let whole = values(whole, system);
                assert_eq!(whole.len(), 1, "{at}");
                assert_eq!(sum, whole[0].stated, "{at}: {}", parts.id);
                closed.set(closed.get() + 1);
            }
        }
    });
    assert!(closed.get() > 100, "only {} chains", closed.get());
}

#[test]
fn no_value_or_label_covers_another() {
    let collisions = std::sync::Mutex::new(Vec::new());
    every_drawing(|composed, _, sheet, at| {
        let free = frame::free(composed.paper).grown(Length::micrometres(1));
        let body: Vec<Mark> = sheet.marks.iter().filter(|m| !is_frame(m)).cloned().collect();
        let areas: Vec<(Rect, &str)> =
            texts(&body).into_iter().map(|text| (text::area(text), text.text.as_str())).collect();
        let mut found = Vec::new();
        for (i, (area, words)) in areas.iter().enumerate() {
            if !free.contains(area) {
                found.push(format!("{at}: {words:?} hangs outside"));
            }
            for (_, others) in areas[i + 1..].iter().filter(|(other, _)| area.overlaps(other)) {
                found.push(format!("{at}: {words:?} and {others:?}"));
            }
        }
        collisions.lock().expect("one thread").extend(found);
    });
    let collisions = collisions.into_inner().expect("one thread");
    assert!(collisions.is_empty(), "{collisions:#?}");
}

fn is_frame(mark: &Mark) -> bool {
    matches!(mark, Mark::Group(group) if group.id == "frame")
}

/// A wall of an elevation: its left end and datum on paper, taken from its outline, and the scale.
struct OnPaper {
    wall: WallRef,
    origin: Point,
    den: i64,
}

fn walls_on_paper(composed: &Composed, sheet: &Sheet) -> Vec<OnPaper> {
    let mut walls = Vec::new();
    if !sheet.key.starts_with("elevation-") || broken(sheet) {
        return walls;
    }
    let den = denominator(sheet);
    for (room, plan) in
        composed.plan.job.rooms.iter().enumerate().filter(|(_, plan)| plan.name == sheet.under)
    {
        for (wall, shape) in plan.walls.iter().enumerate() {
            let Some(outline) = group(sheet, &format!("wall-{}", shape.label)) else { continue };
            // A part of a broken wall has match lines instead of an outline all round.
            if outline.marks.len() > 1 {
                continue;
            }
            let area = extent::of(&outline.marks).expect("an outline");
            let lowest = shape.floor.min_between(Length::ZERO, shape.width);
            let origin = Point::new(area.x0, area.y1 + lowest.scale(1, den));
            walls.push(OnPaper { wall: WallRef { room, wall }, origin, den });
        }
    }
    walls
}

#[test]
fn seams_and_openings_stand_where_the_plan_has_them() {
    let near = |a: Length, b: Length| (a - b).abs() <= Length::nanometres(1);
    every_drawing(|composed, _, sheet, at| {
        for OnPaper { wall, origin, den } in walls_on_paper(composed, sheet) {
            let plan = &composed.plan.rooms[wall.room].walls[wall.wall];
            let panel = plan.panel.as_ref().expect("a clothed wall");
            for seam in &panel.seams {
                let drawn = group(sheet, &format!("seam-{}", seam.label)).expect("the seam is drawn");
                let line = extent::of(&drawn.marks).expect("a line");
                assert_eq!(line.x0, line.x1, "{at}: {} leans", seam.label);
                assert!(near(line.x0, origin.x + seam.x.scale(1, den)), "{at}: {}", seam.label);
                if let Some(&(_, top)) = seam.in_sight.last() {
                    assert!(line.y0 <= origin.y - top.scale(1, den) + Length::nanometres(1), "{at}");
                }
            }
            for opening in &composed.plan.job.rooms[wall.room].walls[wall.wall].openings {
                let drawn =
                    group(sheet, &format!("opening-{}", opening.label)).expect("the opening is drawn");
                let area = extent::of(&drawn.marks).expect("an outline");
                let outer = opening.outer;
                for (paper, room) in [(area.x0, outer.x0), (area.x1, outer.x1)] {
                    assert!(near(paper, origin.x + room.scale(1, den)), "{at}: {}", opening.label);
                }
                for (paper, room) in [(area.y1, outer.y0), (area.y0, outer.y1)] {
                    assert!(near(paper, origin.y - room.scale(1, den)), "{at}: {}", opening.label);
                }
            }
        }
    });
}

#[test]
fn every_strip_is_drawn_once_in_each_set() {
    for composed in COMPOSED.iter() {
        // Costs are told without a drawing.
        for set in composed.sets.iter().filter(|set| set.reader != Reader::Costs) {
            for plan in composed.plan.rooms.iter().flat_map(|room| &room.walls) {
                for strip in plan.panel.iter().flat_map(|panel| &panel.strips) {
                    let id = format!("strip-{}", strip.label);
                    let mut parts = 0;
                    for sheet in set.sheets.iter().filter(|sheet| sheet.key.starts_with("elevation-")) {
                        if group(sheet, &id).is_some() {
                            parts += 1;
                        }
                    }
                    // A strip that a match line crosses is on both parts of its wall.
                    let broken = ["corridor", "stair-hall"].iter().any(|room| composed.name.contains(room));
                    let once = parts == 1 || (parts == 2 && broken);
                    assert!(once, "{} {:?} {:?} {id}: {parts}", composed.name, composed.paper, set.reader);
                }
            }
        }
    }
}

#[test]
fn motifs_stand_on_the_lattice() {
    let mut looked_at = 0;
    for composed in COMPOSED.iter() {
        for sheet in composed.sets.iter().flat_map(|set| &set.sheets) {
            for OnPaper { wall, origin, den } in walls_on_paper(composed, sheet) {
                let room = &composed.plan.rooms[wall.room];
                let cloth = &composed.plan.job.cloths[composed.plan.job.rooms[wall.room].cloth];
                let Some(lattice) = &cloth.pattern else { continue };
                let panel = room.walls[wall.wall].panel.as_ref().expect("a clothed wall");
                for strip in &panel.strips {
                    let group = group(sheet, &format!("strip-{}", strip.label)).expect("the strip is drawn");
                    let Mark::Clip { marks, .. } = &group.marks[0] else { panic!("a strip is clipped") };
                    for place in marks.iter().filter_map(|mark| match mark {
                        Mark::Stamp { places, .. } => Some(places),
                        _ => None,
                    }) {
                        for p in place {
                            let x = (p.x - origin.x) * den + room.walls[wall.wall].x - room.registration.x0;
                            let y = (origin.y - p.y) * den - room.registration.y0;
                            // Railroaded, the same lattice turned a quarter.
                            let (x, y) = match room.registration.way {
                                Way::Upright => (x, y),
                                Way::Railroaded => (y, -x),
                            };
                            // Paper is exact to a nanometre, so the room is to as many as the scale says.
                            let slack = Length::nanometres(den * 3);
                            let column = (x + slack).div_floor(lattice.horizontal);
                            assert!((x - lattice.horizontal * column).abs() <= slack, "{}", sheet.key);
                            let y = (y + lattice.drop * column + slack).rem_euclid(lattice.vertical);
                            assert!(y <= slack * 2, "{} {}: {y}", composed.name, sheet.key);
                            looked_at += 1;
                        }
                    }
                }
            }
        }
    }
    assert!(looked_at > 1_000, "only {looked_at} motifs");
}
