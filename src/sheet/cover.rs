//! The cover: the index of the set, the facts of the job, what to watch and what was assumed.

use super::frame;
use super::model::{Anchor, Mark, Reader};
use super::text::{self, Style};
use super::{ComposeFault, Draft, sets};
use crate::geom::Point;
use crate::job::model::Paper;
use crate::plan::model::Plan;
use crate::units::Length;

/// The cover of a set whose other sheets are `drafts`, in order.
///
/// # Errors
/// `missing-glyph` when the font lacks a character of the job.
pub fn drafts(
    plan: &Plan,
    paper: Paper,
    reader: Reader,
    drafts: &[Draft],
) -> Result<Vec<Draft>, ComposeFault> {
    let free = frame::free(paper);
    let title = format!("{}: {}", sets::title(reader), plan.job.facts.title);
    let mut y = free.y0 + Style::TITLE.caps.height();
    let mut marks = vec![Mark::Text(text::set(title, Point::new(free.x0, y), Anchor::Start, Style::TITLE)?)];
    y += Length::mm(10);
    for (i, draft) in drafts.iter().enumerate() {
        let at = Point::new(free.x0, y);
        let entry = text::set(format!("{} {}", i + 2, draft.title), at, Anchor::Start, Style::BODY)?;
        marks.push(Mark::Link { area: text::area(&entry), to: draft.key.clone() });
        marks.push(Mark::Text(entry));
        y += Style::BODY.leading();
    }
    Ok(vec![Draft {
        key: "cover".to_owned(),
        title: "Cover".to_owned(),
        under: String::new(),
        description: "The index of the set.".to_owned(),
        kind: "Cover",
        scale: String::new(),
        marks,
    }])
}
