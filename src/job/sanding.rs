//! A doubt about old paint: notes that speak of sanding in a building from before 1978.

use super::ctx::Ctx;
use super::model::Room;
use crate::diag::Diag;
use crate::parse::Node;

/// Housing built before this year is taken to hold lead paint until it has been tested (published:
/// 40 CFR 745.80 to 745.92, the United States' rule for renovation).
const LEAD_UNTIL: u16 = 1978;

/// Words for work that makes dust of paint.
const WORK: [&str; 9] =
    ["sand", "sanded", "sanding", "sander", "scrape", "scraped", "scraping", "grind", "grinding"];

/// Doubts each note of the job that speaks of such work, when a room is old.
pub fn judge<'r>(ctx: &mut Ctx, job: &Node, rooms: impl IntoIterator<Item = &'r Room>) {
    let Some(room) = rooms.into_iter().find(|room| (1..LEAD_UNTIL).contains(&room.year)) else { return };
    for note in job.children.iter().filter(|child| child.spec.name == "note") {
        let Some(text) = note.arg::<String>(0).ok() else { continue };
        let mut words = text.value.split(|c: char| !c.is_alphabetic());
        let Some(word) = words.find(|word| WORK.contains(&word.to_lowercase().as_str())) else { continue };
        let message = format!("the note speaks of “{word}”, and {} was built in {}", room.name, room.year);
        let help = "paint from before 1978 may hold lead: have it tested first, and let the note say so";
        ctx.diags.push(Diag::warning("sanding-old-paint", text.span, message).help(help));
    }
}
