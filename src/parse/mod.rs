//! Text to [`ParsedJob`]: KDL, spans, and the spelling of nodes. Knows no geometry and no cloth.
//!
//! The language is one table, [`table::TABLE`]; everything here follows it.

mod bolts;
mod built;
mod fields;
mod hints;
mod lexis;
pub mod model;
mod pictures;
mod scan;
mod shared;
pub mod spec;
mod syntax;
pub mod table;
mod tidy;
mod value;
mod walk;

pub use model::{FromValue, Given, Node, ParsedJob, Value};
pub use shared::{FetchFault, Shelf, with_shared};
pub use syntax::MOST_BYTES;
pub use tidy::tidy;
pub use value::date;
use walk::Bare;
pub use walk::nearest;

use std::collections::{BTreeMap, BTreeSet};

use kdl::{KdlDocument, KdlNode, KdlValue};

use crate::diag::{Diag, Diags};
use crate::source::{FileId, Sources, Span};
use crate::units::Unit;

/// A commented job to start from; it passes the check without a word.
pub const STARTER: &str = include_str!("../starter.kdl");

/// Adds a file to the sources as text. `None` when it has more than [`MOST_BYTES`] or is not UTF-8,
/// which is told at its place.
pub fn text(name: &str, bytes: &[u8], sources: &mut Sources, diags: &mut Diags) -> Option<FileId> {
    if bytes.len() > MOST_BYTES {
        let file = sources.add(name, "");
        diags.push(syntax::too_large(file));
        return None;
    }
    let error = match std::str::from_utf8(bytes) {
        Ok(text) => return Some(sources.add(name, text)),
        Err(error) => error,
    };
    // The readable part is kept, so that the place can be shown.
    let start = error.valid_up_to();
    let file = sources.add(name, String::from_utf8_lossy(&bytes[..start]).into_owned() + "\u{fffd}");
    let span = Span { file, start, end: start + '\u{fffd}'.len_utf8() };
    let byte = bytes.get(start).copied().unwrap_or_default();
    let wide = matches!(bytes, [0xff, 0xfe, ..] | [0xfe, 0xff, ..]);
    let message = if wide {
        "the file is UTF-16 text, not UTF-8".to_owned()
    } else {
        format!("the byte {byte:02X} here is not UTF-8 text")
    };
    diags.push(Diag::error("not-utf8", span, message).help("save the file as UTF-8"));
    None
}

/// Reads the text of a job file that includes no others; see [`with_shared`] for one that does.
///
/// Every problem goes to `diags`, and what could be read is returned, so that its meaning can be
/// judged in the same run. `None` when the text is not KDL at all.
pub fn parse(text: &str, file: FileId, diags: &mut Diags) -> Option<ParsedJob> {
    let mut job = one(text, file, spec::FILE, diags)?;
    let included = shared::includes(&job).map(|node| ("include-unreadable", node));
    let pictured = pictures::lines(&job).map(|node| ("picture-unreadable", node));
    let named = included.chain(pictured).next().map(|(code, node)| (code, node.head));
    if let Some((code, span)) = named {
        let message = "no other file can be read here";
        diags.push(Diag::error(code, span, message).help("take this line out"));
        job.partial = true;
    }
    Some(job)
}

/// Reads the text of one file; `parent` is [`spec::FILE`] or [`spec::SHARED`].
fn one(text: &str, file: FileId, parent: &str, diags: &mut Diags) -> Option<ParsedJob> {
    let syntax::Tree { doc, values, blanked, unnested } = syntax::document(text, file, diags)?;
    let start = Span { file, start: 0, end: 0 };
    if doc.nodes().is_empty() && blanked.is_empty() {
        let message = "the file says nothing";
        diags.push(
            Diag::error("empty-file", start, message).help("start with a job line, a cloth and a room"),
        );
        return None;
    }
    let bare = declared_unit(&doc);
    let mut walk = walk::Walk {
        text,
        values: &values,
        blanked: &blanked,
        unnested,
        file,
        bare,
        figures: BTreeSet::new(),
        unitless: Vec::new(),
        diags,
    };
    let (nodes, partial) = walk.nodes(Some(&doc), parent, start);
    walk.finish();
    Some(ParsedJob { nodes, partial, figures: walk.figures, pictures: BTreeMap::new() })
}

/// The unit that the file declares, wherever it stands; it is needed before anything is read.
fn declared_unit(doc: &KdlDocument) -> Bare {
    let near = |node: &&KdlNode| {
        let swapped = node.get(0).is_some_and(|word| word.as_string() == Some("units"));
        swapped || nearest(node.name().value(), ["units"].into_iter()).is_some()
    };
    let Some(node) = doc.nodes().iter().find(near) else { return Bare::Undeclared };
    match node.get(0) {
        Some(KdlValue::String(word)) if Unit::WORDS.contains(&word.as_str()) => {
            Unit::from_word(word).map_or(Bare::Broken, Bare::Unit)
        }
        _ => Bare::Broken,
    }
}
