//! Drawings of walls: their dimensions, seams and openings.

use std::collections::BTreeMap;

use serde_json::Value;

use crate::printed::millimetres;
use crate::svg::{Group, Sheet, bounds};
use crate::written::{Binder, mm};

/// Places in a file are whole micrometres, and a value is read between two of them.
const DRAWN: f64 = 0.003;
/// Values are printed to the nearest 1/16 in, or millimetre; in a chain the largest remainder moves
/// some by one such step, so that it closes.
const PRINTED: f64 = 25.4 / 16.0;

/// The drawn length of each value's line, by the sheet's scale, is the length that it says. On a part
/// of a wall or a bolt, a running value is drawn from where that part begins, and says its whole distance:
/// all of one run are then short by the same.
///
/// The number of values that were read.
pub fn dimensions_say_what_is_drawn(sheet: &Sheet) -> usize {
    let Some(scale) = sheet.scale() else { return 0 };
    let mut count = 0;
    let mut short: BTreeMap<&str, f64> = BTreeMap::new();
    for group in sheet.groups.iter().filter(|group| group.id.starts_with("value-")) {
        let says = group.texts.first().and_then(|text| millimetres(&text.words));
        let says = says.unwrap_or_else(|| panic!("{}: {} says no length", sheet.name, group.id));
        let [x0, y0, x1, y1] = bounds(&group.paths[0]);
        let drawn = (x1 - x0).max(y1 - y0) * scale;
        let level = x1 - x0 > y1 - y0;
        let (_, run) = group.id.split_once("-of-").expect("a value of a run");
        let continues = is_part(sheet) || sheet.file.contains("-bolt-map-");
        let before = if level && continues { *short.entry(run).or_insert(says - drawn) } else { 0.0 };
        assert!(
            (drawn + before - says).abs() <= PRINTED + DRAWN * scale,
            "{}: {} is drawn as {drawn} mm and says {says} mm",
            sheet.name,
            group.id
        );
        count += 1;
    }
    count
}

/// On elevations: seams by their distance from the wall's left end, openings by place and size. Of a
/// wall that is broken over sheets, the seams by their distance from one another.
///
/// The number of clothed walls that were read.
///
/// The number of clothed walls that were read.
pub fn seams_and_openings_stand_where_the_plan_has_them(binder: &Binder, sheet: &Sheet) -> usize {
    let Some(room) = shown(binder, sheet) else { return 0 };
    let mut count = 0;
    let scale = sheet.scale().expect("an elevation has a scale");
    for wall in room["walls"].as_array().expect("walls") {
        let label = wall["label"].as_str().expect("a label");
        let Some(outline) = sheet.group(&format!("wall-{label}")) else { continue };
        let Some(panel) = wall["panel"].as_object() else { continue };
        count += 1;
        let seams = panel["seams"].as_array().expect("seams");
        let drawn = |seam: &Value| sheet.group(&format!("seam-{}", seam["label"].as_str().expect("a label")));
        let [mut left, _, right, _] = bounds(&outline.paths[0]);
        if is_part(sheet) {
            let first = seams.iter().find_map(|seam| Some((drawn(seam)?.paths[0][0].0, mm(&seam["x"]))));
            let Some((x, planned)) = first else { continue };
            left = x - planned / scale;
        } else {
            near(sheet, "a wall's width", (right - left) * scale, mm(&wall["width"]), scale);
            // The designer is not shown what furniture or fittings hide.
            let shown = |seam: &&Value| {
                !sheet.file.starts_with("approval-")
                    || !seam["in_sight"].as_array().expect("a list").is_empty()
            };
            let missing = seams.iter().filter(shown).find(|seam| drawn(seam).is_none());
            assert_eq!(missing, None, "{}", sheet.name);
        }
        for seam in seams {
            for point in drawn(seam).into_iter().flat_map(|group| &group.paths).flatten() {
                near(sheet, "a seam", (point.0 - left) * scale, mm(&seam["x"]), scale);
            }
        }
        if is_part(sheet) {
            continue;
        }
        let level = level(sheet, panel["strips"].as_array().expect("strips"), scale);
        for opening in wall["openings"].as_array().expect("openings") {
            let id = format!("opening-{}", opening["label"].as_str().expect("a label"));
            let group = sheet.group(&id).unwrap_or_else(|| panic!("{}: no {id}", sheet.name));
            place(sheet, group, opening, (left, level), scale);
        }
    }
    count
}

/// Whether the sheet shows a part of a wall, between match lines.
fn is_part(sheet: &Sheet) -> bool {
    let title = sheet.group("drawing-title").and_then(|group| group.texts.first());
    title.is_some_and(|text| text.words.contains(", from "))
}

/// The room whose walls an elevation shows.
fn shown<'a>(binder: &'a Binder, sheet: &Sheet) -> Option<&'a Value> {
    if !sheet.file.contains("-elevation-") {
        return None;
    }
    let rooms = binder.list("rooms");
    let slug = |room: &Value| room["name"].as_str().expect("a name").to_lowercase().replace(' ', "-");
    rooms.iter().find(|room| sheet.file.contains(&format!("-elevation-{}-", slug(room))))
}

/// Where the level datum lies on the sheet, from the lowest place of a strip.
fn level(sheet: &Sheet, strips: &[Value], scale: f64) -> f64 {
    // One that is nowhere in sight is not shown to the designer.
    let drawn = |strip: &Value| sheet.group(&format!("strip-{}", strip["label"].as_str().expect("a label")));
    let first = strips.iter().find_map(|strip| Some((strip, drawn(strip)?)));
    let (planned, strip) = first.unwrap_or_else(|| panic!("{}: no strip", sheet.name));
    let [_, _, _, low] = bounds(strip.clips.first().or(strip.paths.first()).expect("the strip's edge"));
    low + mm(&planned["net"]["y0"]) / scale
}

fn place(sheet: &Sheet, group: &Group, opening: &Value, (left, level): (f64, f64), scale: f64) {
    let all: Vec<_> = group.paths.iter().flatten().copied().collect();
    let [x0, y0, x1, y1] = bounds(&all);
    let outer = &opening["outer"];
    near(sheet, &group.id, (x0 - left) * scale, mm(&outer["x0"]), scale);
    near(sheet, &group.id, (x1 - left) * scale, mm(&outer["x1"]), scale);
    near(sheet, &group.id, (level - y0) * scale, mm(&outer["y1"]), scale);
    near(sheet, &group.id, (level - y1) * scale, mm(&outer["y0"]), scale);
}

fn near(sheet: &Sheet, what: &str, drawn: f64, planned: f64, scale: f64) {
    let apart = (drawn - planned).abs();
    assert!(apart <= DRAWN * scale, "{}: {what} is drawn at {drawn} mm, planned at {planned}", sheet.name);
}
