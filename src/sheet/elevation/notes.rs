//! The notes beside an elevation, for each reader.

use super::room::fixing_word;
use super::rows::cloth_rows;
use super::view::View;
use crate::job::model::{OpeningCloth, Service, Side, Trim, Trims};
use crate::plan::model::{Panel, PlumbMark, Seam, Strip, TrimPlace, TrimRun};
use crate::plan::plates;
use crate::plan::staples::{hand, leg_told, open_at};
use crate::plan::words::{datum, nap};
use crate::sheet::column::{Columns, Row, Section};
use crate::sheet::dimension::value;
use crate::sheet::model::Reader;
use crate::sheet::words;
use crate::units::{Length, LengthFormat, UnitSystem};

/// The sections of notes, the most needed first; sections without rows are left out.
pub fn sections(view: &View) -> Vec<Section> {
    let sections = match view.reader {
        Reader::Crew => {
            vec![hang(view), watch(view), openings(view), fixings(view), staples(view), trim(view)]
        }
        Reader::Workroom => vec![sew(view), watch(view), openings(view)],
        Reader::Record => vec![super::built::section(view), openings(view), fixings(view), trim(view)],
        Reader::Approval | Reader::Costs => super::approval::sections(&[*view]),
    };
    sections.into_iter().filter(|section| !section.rows.is_empty()).collect()
}

/// A length as the job wishes it printed.
pub fn print(view: &View, length: Length) -> String {
    view.format().print(length)
}

/// The facts that hanging the panel starts from.
fn hang(view: &View) -> Section {
    let mut section = Section::new("To hang");
    let Some(panel) = &view.wall_plan().panel else { return section };
    let wall = view.wall();
    section.pair("Panel", panel_words(view, panel));
    let cloth = view.room().cloth;
    if let Some(runs) = nap(&view.plan.job.cloths[cloth], view.plan.way(cloth)) {
        section.pair("Nap", format!("running {runs}"));
    }
    let made = panel
        .strips
        .iter()
        .filter(|strip| view.plan.pieces.get(strip.piece.0).is_some_and(|piece| piece.cut.made.is_some()));
    let made: Vec<&str> = made.map(|strip| strip.label.as_str()).collect();
    if !made.is_empty() {
        let all = if made.len() == panel.strips.len() { "all strips: " } else { "" };
        section.pair("Cut", format!("already, {all}{}", words::list(&made)));
    }
    let plumb = view.wall_plan().plumb;
    let on = match view.wall_plan().plumb_mark {
        PlumbMark::Seam => {
            let seam = panel.seams.iter().find(|seam| seam.x == plumb);
            seam.map_or(String::new(), |seam| format!("seam {}", seam.label))
        }
        PlumbMark::Motifs => "the centres of a column of motifs".to_owned(),
        PlumbMark::Mark => {
            format!("the mark {} from the panel's left edge", print(view, plumb - panel.gross.x0))
        }
    };
    let mut line = format!("{} from corner {}", print(view, plumb), view.left_corner().name);
    // The caption of the seams tells the height for them all.
    if !panel.seams.iter().any(|seam| view.shows(seam.x)) {
        line += &format!(", taped {}", view.above(view.wall_plan().tape_height));
    }
    line += &format!(": {on}");
    let crossed: Vec<&str> = wall.crossed(plumb).collect();
    if !crossed.is_empty() {
        line += &format!("; broken by {}", words::list(&crossed));
    }
    section.pair("Plumb", line);
    if let Some(motif) = view.wall_plan().hang_motif {
        let on = |strip: &&Strip| {
            let net = strip.net;
            net.x0 <= motif.x && motif.x <= net.x1 && net.y0 <= motif.y && motif.y <= net.y1
        };
        let strip = panel.strips.iter().find(on).map_or(String::new(), |s| format!(", on strip {}", s.label));
        if super::repeat::placed(view) == Some(motif) {
            let repeat = super::repeat::words(view).unwrap_or_default();
            // The drawing tells its height from the wall's own floor.
            let told = if view.datum() == Length::ZERO {
                String::new()
            } else {
                format!(", {}", view.above(motif.y))
            };
            section.pair("Motif", format!("the framed one{strip}{told}; repeat {repeat}"));
        } else {
            section.pair(
                "Motif",
                format!(
                    "centre {}, {} from corner {}{strip}",
                    view.above(motif.y),
                    print(view, motif.x),
                    view.left_corner().name
                ),
            );
        }
    }
    if wall.width_top != wall.width || wall.width_bottom != wall.width {
        section.pair(
            "Width",
            format!(
                "{} where taped, {} at the top, {} at the bottom",
                print(view, wall.width),
                print(view, wall.width_top),
                print(view, wall.width_bottom)
            ),
        );
    }
    let mouldings = mouldings(view);
    if !mouldings.is_empty() {
        section.pair("Edges", mouldings.join("; "));
    }
    let inner = |points: &[crate::geom::Point]| points.len() > 2;
    for (key, profile) in [("Ceiling", &wall.ceiling), ("Floor", &wall.floor)] {
        if inner(profile.points()) {
            let steps = profile.points().iter();
            let steps: Vec<String> = steps
                .map(|p| {
                    format!("{} at {}", value(view.format(), p.y - view.datum()), value(view.format(), p.x))
                })
                .collect();
            section.pair(key, steps.join(", "));
        }
    }
    section
}

/// The mouldings of the wall: "crown 4½″ high, 3¾″ out".
fn mouldings(view: &View) -> Vec<String> {
    let wall = view.wall();
    let mut told = Vec::new();
    for (name, moulding) in [("crown", wall.crown), ("base", wall.base)] {
        if moulding.height > Length::ZERO {
            let (high, out) = (print(view, moulding.height), print(view, moulding.projection));
            told.push(format!("{name} {high} high, {out} out"));
        }
    }
    let edges = [("cloth begins on the dado", &wall.dado), ("cloth ends under the rail", &wall.rail)];
    told.extend(edges.iter().filter(|(_, edge)| edge.is_some()).map(|(words, _)| (*words).to_owned()));
    told
}

fn panel_words(view: &View, panel: &Panel) -> String {
    let strips = count(panel.strips.len(), "strip", "strips");
    let mut seams = count(panel.seams.len(), "seam", "seams");
    let joints = panel.joints().len();
    if joints > panel.seams.len() {
        seams += &format!(" in {joints} parts");
    }
    let cloths = &view.plan.job.cloths;
    let of = if cloths.len() > 1 { format!(" of {}", cloths[view.room().cloth].name) } else { String::new() };
    format!(
        "{strips}{of}, {seams}; sewn {} × {}",
        print(view, panel.gross.width()),
        print(view, panel.gross.height())
    )
}

/// `1 strip`, `3 strips`, `no seams`.
fn count(n: usize, one: &str, many: &str) -> String {
    match n {
        0 => format!("no {many}"),
        1 => format!("1 {one}"),
        _ => format!("{n} {many}"),
    }
}

/// What to watch on this wall.
fn watch(view: &View) -> Section {
    let mut section = Section::new("Watch here");
    let plan = view.wall_plan();
    for (run_off, edge) in [(plan.run_off_top, "top"), (plan.run_off_bottom, "bottom")] {
        if run_off > Length::ZERO {
            section.text(format!(
                "The {edge} runs {} out of level: the pattern runs off there.",
                print(view, run_off)
            ));
        }
    }
    for (rake, edge) in [(plan.rake_top, "top"), (plan.rake_bottom, "bottom")] {
        if rake > Length::ZERO {
            section.text(format!("The {edge} slopes by {}: cut the cloth along it.", print(view, rake)));
        }
    }
    for (edge, line) in [("top", view.wall().field_top()), ("bottom", view.wall().field_bottom())] {
        let steps: Vec<String> = line.steps().filter(|s| view.shows(s.x)).map(|s| print(view, s.x)).collect();
        if !steps.is_empty() {
            section.text(format!(
                "The {edge} edge steps at {}: staple and trim along each step, then cut into its corner.",
                words::list(&steps)
            ));
        }
    }
    if let Some(panel) = &plan.panel {
        // A joint of a pieced opening stands at its casing by intent.
        let pieced = view.wall().openings.iter().filter(|o| o.cloth == OpeningCloth::Pieced);
        let joints: Vec<Length> = pieced.flat_map(|o| [o.outer.x0, o.outer.x1]).collect();
        for seam in panel.seams.iter().filter(|seam| !joints.contains(&seam.x)) {
            if let Some(words) = beyond_corner(view, seam) {
                section.text(format!("Seam {} stands {words}.", seam.label));
            } else if seam.clearance < view.plan.job.house.smallest_sliver {
                section.text(format!(
                    "Seam {} leaves only {} to the nearest casing or corner.",
                    seam.label,
                    print(view, seam.clearance)
                ));
            }
        }
    }
    // Plates are no matter of the workroom's.
    if view.reader != Reader::Workroom {
        for (label, near) in plates::near(&view.plan.job, view.wall(), plan) {
            section.text(format!("The box of {label} stands {near}: {}.", plates::TO_DO));
        }
    }
    for (corner, end) in [(view.left_corner(), "left"), (view.right_corner(), "right")] {
        if corner.metal_bead {
            section
                .text(format!("Corner {} ({end}) has a metal bead: sew or glue, no staples.", corner.name));
        }
    }
    for service in
        view.wall().services.iter().filter(|_| matches!(view.reader, Reader::Crew | Reader::Record))
    {
        section.text(service_words(view, service));
    }
    let boxes = open_at(&view.plan.job, view.wall(), plan);
    if !boxes.is_empty() && matches!(view.reader, Reader::Crew | Reader::Record) {
        section.text(format!(
            "No staple within {} of {}: the rows are open there, and adhesive holds the edge.",
            print(view, hand(&view.plan.job)),
            words::list(&boxes)
        ));
    }
    if let Some(words) = kill_words(view) {
        section.text(words);
    }
    section
}

/// Where a seam stands that lies in the lean of a corner; `None` for one on the wall itself.
pub fn beyond_corner(view: &View, seam: &Seam) -> Option<String> {
    let (corner, by) = if seam.x < Length::ZERO {
        (view.left_corner(), -seam.x)
    } else if seam.x > view.wall().width {
        (view.right_corner(), seam.x - view.wall().width)
    } else {
        return None;
    };
    let (name, by) = (&corner.name, print(view, by));
    Some(format!("{by} beyond corner {name}, in sight where the wall is that much wider than where taped"))
}

/// Where a pipe or a cable runs.
fn service_words(view: &View, service: &Service) -> String {
    let place = if service.from.x == service.to.x {
        format!("up the wall {} from corner {}", print(view, service.from.x), view.left_corner().name)
    } else {
        let above = service.from.y - view.wall().floor.at(service.from.x);
        format!("along the wall {} above the floor", print(view, above))
    };
    format!(
        "A {} runs {place}: no staple within {}; the rows are open there.",
        service.kind.word(),
        print(view, hand(&view.plan.job))
    )
}

/// What the designer and the crew are told when the pattern does not meet at an end of this wall.
pub fn kill_words(view: &View) -> Option<String> {
    let kill = view.room_plan().kill.as_ref()?;
    let room = view.room();
    let ends = [view.at.wall, room.right_corner(view.at.wall)];
    ends.contains(&kill.corner).then(|| {
        format!(
            "The pattern does not meet at corner {}: off by {}.",
            room.corners[kill.corner].name,
            kill.words(view.format())
        )
    })
}

/// The openings with their sizes.
fn openings(view: &View) -> Section {
    let mut section = Section::new("Openings");
    for opening in view.wall().openings.iter().filter(|o| view.clip(o.outer.x0, o.outer.x1).is_some()) {
        let mut words = format!(
            "{}, clear {} × {}",
            words::opening_kind(opening.kind),
            print(view, opening.clear.width()),
            print(view, opening.clear.height())
        );
        if opening.casing > Length::ZERO {
            words += &format!(", casing {}", print(view, opening.casing));
        }
        if let Some(head) = words::head(view.plan, opening, view.datum()) {
            words += &format!(", {head}");
        }
        words += match opening.cloth {
            OpeningCloth::CoveredThrough => "; covered, then cut free",
            OpeningCloth::Pieced => "; pieced over and under",
        };
        section.pair(opening.label.as_str(), words);
    }
    section
}

/// The fixings with their sizes.
fn fixings(view: &View) -> Section {
    let heading = if view.reader == Reader::Record { "Fixings" } else { "Fixings, cut at the centre first" };
    let mut section = Section::new(heading);
    for fixing in view.wall().fixings_in_field().filter(|f| view.shows(f.centre().x)) {
        let size = format!("{} × {}", print(view, fixing.rect.width()), print(view, fixing.rect.height()));
        section.pair(fixing.label.as_str(), format!("{}, {size}", fixing_word(fixing.kind)));
    }
    for fixing in
        view.wall().fixings.iter().filter(|f| !view.wall().in_field(&f.rect) && view.shows(f.centre().x))
    {
        let centre = fixing.centre();
        section.pair(
            fixing.label.as_str(),
            format!(
                "{}, not in the cloth: {} from corner {}, {}",
                fixing_word(fixing.kind),
                print(view, centre.x),
                view.left_corner().name,
                view.above(centre.y)
            ),
        );
    }
    section
}

const TAGGED: Columns = Columns { first: Length::mm(9), last: Length::mm(12) };

/// The staple rows with their counts.
fn staples(view: &View) -> Section {
    let leg = leg_told(&view.plan.job, view.at).map_or(String::new(), |leg| format!(", {leg}"));
    let mut section = Section::new(format!("Staples in the cloth{leg}"));
    for (label, row) in cloth_rows(view) {
        let words = format!("{}, {} apart", row.place, print(view, row.spacing));
        section.rows.push(Row::Cells(TAGGED, vec![label, words, row.count.to_string()]));
    }
    section.elsewhere = Some("Staples");
    section
}

/// The trim runs that touch this wall.
fn trim(view: &View) -> Section {
    let mut section = Section::new("Trim");
    let runs = view.room_plan().trim.iter();
    for run in runs.filter(|run| run.path.iter().any(|path| path.wall == view.at.wall)) {
        let name = &trim_of(&view.plan.job.trims, run).name;
        section.pair(run.label.as_str(), format!("{name}, {}, {}", run.what, print(view, run.length)));
    }
    section.elsewhere = Some("Trim");
    section
}

/// The job's trim that a run is made of.
pub fn trim_of<'a>(trims: &'a Trims, run: &TrimRun) -> &'a Trim {
    match run.place {
        TrimPlace::Corner => &trims.corner,
        TrimPlace::Opening => &trims.opening,
        TrimPlace::Top => &trims.top,
        TrimPlace::Bottom => &trims.bottom,
    }
}

/// What the workroom sews.
fn sew(view: &View) -> Section {
    let mut section = Section::new("To sew");
    let Some(panel) = &view.wall_plan().panel else { return section };
    let house = &view.plan.job.house;
    section.pair("Panel", panel_words(view, panel));
    if let Some(repeat) = super::repeat::words(view) {
        section.pair("Repeat", format!("{repeat}, framed"));
    }
    if !panel.seams.is_empty() {
        section.pair("Seams", format!("{} allowance at each", print(view, house.seam_allowance)));
    }
    section.pair(
        "Beyond",
        format!(
            "{} at the top, {} at the bottom",
            print(view, house.top_allowance),
            print(view, house.bottom_allowance)
        ),
    );
    for (key, side, edge, corner) in [
        ("Left", Side::Left, panel.left, view.left_corner()),
        ("Right", Side::Right, panel.right, view.right_corner()),
    ] {
        section.pair(key, format!("corner {}: {}", corner.name, super::dims::edge_words(view, side, edge)));
    }
    section
}

/// How to read the values of drawings, in sentences.
pub fn reading(views: &[View]) -> Vec<String> {
    let mut told: Vec<String> = views.first().map(|view| rounding(view.format())).into_iter().collect();
    for view in views.iter().filter(|view| view.window.0 > Length::ZERO) {
        let corner = &view.left_corner().name;
        told.push(format!("A row of values that begins with a break counts from corner {corner}."));
    }
    if let Some(view) = views.iter().find(|view| view.datum() == Length::ZERO) {
        let datum = datum(view.plan, view.at.room);
        told.push(match view.reader {
            Reader::Approval | Reader::Costs => format!("Heights are above {datum}."),
            Reader::Crew | Reader::Workroom | Reader::Record => {
                format!("Heights are above the datum, {datum}.")
            }
        });
    }
    for view in views.iter().filter(|view| view.datum() != Length::ZERO) {
        told.push(format!(
            "Heights of wall {} are above its lowest floor, which lies {} {} {}.",
            view.wall().label,
            print(view, view.datum().abs()),
            if view.datum() < Length::ZERO { "below" } else { "above" },
            datum(view.plan, view.at.room)
        ));
    }
    let trimmed = |view: &&View| {
        let corner = |run: &TrimRun| run.place == TrimPlace::Corner;
        view.reader != Reader::Workroom && view.room_plan().trim.iter().any(corner)
    };
    if views.iter().any(|view| trimmed(&view)) {
        told.push("Trim of a corner is drawn on one of its walls.".to_owned());
    }
    told
}

/// How values are rounded, in a sentence.
pub fn rounding(format: &LengthFormat) -> String {
    let step = format.print(format.step);
    let step = step.trim_start_matches('0');
    let unit = match format.system {
        UnitSystem::Millimetres => "In millimetres, to",
        UnitSystem::FeetInches | UnitSystem::Inches => "To",
    };
    format!("{unit} the nearest {step}; chains add up.")
}
