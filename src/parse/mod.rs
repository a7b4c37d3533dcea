//! Text to [`ParsedJob`]: KDL, spans, and the spelling of nodes. Knows no geometry and no cloth.
//!
//! The language is one table, [`table::TABLE`]; everything here follows it.

pub mod model;
pub mod spec;
mod syntax;
pub mod table;
mod value;
mod walk;

pub use model::{Given, Node, ParsedJob, Value};
pub use walk::nearest;

use kdl::{KdlDocument, KdlValue};

use crate::diag::{Diag, Diags};
use crate::source::{FileId, Span};
use crate::units::Unit;

/// Reads the text of a job file.
///
/// Every problem goes to `diags`, and what could be read is returned, so that its meaning can be
/// judged in the same run. `None` when the text is not KDL at all.
pub fn parse(text: &str, file: FileId, diags: &mut Diags) -> Option<ParsedJob> {
    let doc = syntax::document(text, file, diags)?;
    let start = Span { file, start: 0, end: 0 };
    if doc.nodes().is_empty() {
        let message = "the file says nothing";
        diags.push(
            Diag::error("empty-file", start, message).help("start with a job line, a cloth and a room"),
        );
        return None;
    }
    let bare = declared_unit(&doc);
    let nodes = walk::Walk { file, bare, diags }.nodes(Some(&doc), spec::FILE, start);
    Some(ParsedJob { nodes })
}

/// The unit that the file declares, wherever it stands; it is needed before anything is read.
fn declared_unit(doc: &KdlDocument) -> Option<Unit> {
    match doc.get_arg("units") {
        Some(KdlValue::String(word)) => Unit::from_word(word),
        _ => None,
    }
}
