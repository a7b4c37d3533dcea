//! Words at a match line: a drawing that is broken over sheets tells on which sheet it goes on. A draft says
//! "sheet before" and "next sheet", since its own number is not known yet; a numbered sheet gives the number,
//! and a link.

use super::ComposeFault;
use super::model::Mark;
use super::text::{self, Style};

/// What a draft says at its left match line.
pub const BEFORE: &str = "goes on: sheet before";
/// What a draft says at its right match line.
pub const NEXT: &str = "goes on: next sheet";

/// A sheet's neighbour in its set: its number and its key.
pub type Neighbour<'a> = Option<(usize, &'a str)>;

/// Lets the words at match lines tell the numbers of the sheets beside this one. The parts of a wall follow one
/// another in every set.
///
/// # Errors
/// `missing-glyph`, never in practice: the words hold letters and figures only.
pub fn tell(marks: &mut Vec<Mark>, before: Neighbour, next: Neighbour) -> Result<(), ComposeFault> {
    let mut links = Vec::new();
    for mark in marks.iter_mut() {
        match mark {
            Mark::Text(set) if set.text == BEFORE || set.text == NEXT => {
                let to = if set.text == BEFORE { before } else { next };
                let Some((number, key)) = to else { continue };
                let told = format!("goes on: sheet {number}");
                *set = text::set(told, set.at, set.anchor, Style::BODY)?;
                links.push(Mark::Link { area: text::area(set), to: key.to_owned() });
            }
            Mark::Group(group) => tell(&mut group.marks, before, next)?,
            Mark::Clip { marks, .. } => tell(marks, before, next)?,
            _ => {}
        }
    }
    marks.extend(links);
    Ok(())
}
