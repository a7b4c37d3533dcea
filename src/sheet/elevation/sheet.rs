//! The composition of an elevation's sheet: the drawing centred in its area over a row with its
//! title and scale bar, the notes in columns of one grid at the right, the legend at their foot.

use super::notes;
use super::view::View;
use crate::geom::Rect;
use crate::job::model::Paper;
use crate::plan::model::Plan;
use crate::sheet::column::Section;
use crate::sheet::drawing::Drawing;
use crate::sheet::model::Reader;
use crate::sheet::plate;
use crate::sheet::{ComposeFault, Draft, Part, frame};
use crate::units::Length;

/// The sheets of a room's views, and at the end those of the notes that found no room beside them.
///
/// # Errors
/// `missing-glyph` when the job holds a character that the font lacks.
pub fn drafts(plan: &Plan, paper: Paper, views: &[View]) -> Result<Vec<Draft>, ComposeFault> {
    let free = frame::free(paper);
    let Some(first) = views.first() else { return Ok(Vec::new()) };
    let (mut drafts, rest) = match first.reader {
        Reader::Approval | Reader::Costs => super::approval::drafts(views, free)?,
        Reader::Crew | Reader::Workroom => each(views, free)?,
    };
    drafts.extend(overflow(plan, first, free, rest)?);
    Ok(drafts)
}

/// A sheet for each view, with what found no room beside the drawings.
fn each(views: &[View], free: Rect) -> Result<(Vec<Draft>, Vec<Section>), ComposeFault> {
    let mut drafts = Vec::new();
    let mut rest = Vec::new();
    let Some(reading) = views.first().map(notes::reading) else { return Ok((drafts, rest)) };
    for (n, view) in views.iter().enumerate() {
        let same = |other: &&View| other.at == view.at;
        let part = Part {
            number: views[..=n].iter().filter(same).count(),
            count: views.iter().filter(same).count(),
        };
        let heading = format!("Wall {}{}", titled(view), part_words(view));
        let (made, over) = draft(view, super::drawn(view)?, &notes::sections(view), &heading, free)?;
        drafts.push(Draft { part, ..made });
        for mut section in over {
            if section != reading {
                section.title = format!("Wall {}: {}", view.wall().label, section.title.to_lowercase());
            }
            rest.push(section);
        }
    }
    Ok((drafts, rest))
}

/// The sheet of a drawing whose first view is `view`, with the notes that found no room on it.
///
/// # Errors
/// `missing-glyph` when the job holds a character that the font lacks.
pub fn draft(
    view: &View,
    drawing: Drawing,
    sections: &[Section],
    heading: &str,
    free: Rect,
) -> Result<(Draft, Vec<Section>), ComposeFault> {
    let under = format!("Seen from inside, {}", view.map.scale.name);
    let scale = (view.map.scale, view.format().system);
    let (marks, rest) = plate::compose(drawing, sections, (heading, &under), scale, free)?;
    let draft = Draft {
        key: key(view),
        title: format!("Wall {}", titled(view)),
        part: Part::WHOLE,
        under: view.room().name.clone(),
        description: describe(view),
        kind: "Elevation",
        scale: view.map.scale.name.to_owned(),
        marks,
    };
    Ok((draft, rest))
}

/// The wall's label with its name.
pub fn titled(view: &View) -> String {
    let wall = view.wall();
    if wall.name.is_empty() { wall.label.clone() } else { format!("{}, {}", wall.label, wall.name) }
}

/// Which part of a broken wall this is, in words; empty for a whole wall.
pub fn part_words(view: &View) -> String {
    if view.is_whole() {
        return String::new();
    }
    let print = |x| view.format().print(x);
    format!(", from {} to {}", print(view.window.0), print(view.window.1))
}

/// The key of a view's sheet: of the first of a wall, the wall's own.
fn key(view: &View) -> String {
    let own = super::key(view.plan, view.at);
    match view.window.0 {
        Length::ZERO => own,
        from => format!("{own}-from-{}", from.div_floor(Length::mm(1))),
    }
}

/// What is shown, for readers who cannot see it.
fn describe(view: &View) -> String {
    let wall = view.wall();
    let panel = view.wall_plan().panel.as_ref();
    let strips = panel.map_or(0, |panel| panel.strips.len());
    let what = match view.reader {
        Reader::Crew => "strips, seams, openings, fixings, staples and trim",
        Reader::Workroom => "strips, seams and allowances",
        Reader::Approval | Reader::Costs => "cloth, pattern, seams and trim",
    };
    format!(
        "Elevation of wall {} at {}: {what}. The wall is {} wide and carries {strips} strips.",
        wall.label,
        view.map.scale.name,
        view.format().print(wall.width)
    )
}

/// Sheets for the notes that found no room beside their drawings.
fn overflow(
    plan: &Plan,
    first: &View,
    free: Rect,
    mut rest: Vec<Section>,
) -> Result<Vec<Draft>, ComposeFault> {
    // What is the same for every wall is said once, at the end.
    let reading = notes::reading(first);
    let said = rest.contains(&reading);
    rest.retain(|section| *section != reading);
    if said {
        rest.push(reading);
    }
    let sheets = plate::overflow(rest, free)?;
    let count = sheets.len();
    let draft = |(n, marks)| Draft {
        key: format!("wall-notes-{}-{}", first.at.room + 1, n + 1),
        title: "Wall notes".to_owned(),
        part: Part { number: n + 1, count },
        under: plan.job.rooms[first.at.room].name.clone(),
        description: "Notes to the elevations that found no room beside their drawings.".to_owned(),
        kind: "Notes",
        scale: String::new(),
        marks,
    };
    Ok(sheets.into_iter().enumerate().map(draft).collect())
}
