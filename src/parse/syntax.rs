//! Text to KDL's tree, and what is told when it is not KDL.

use kdl::{KdlDiagnostic, KdlDocument};

use crate::diag::{Diag, Diags};
use crate::source::{FileId, Span};

/// The largest file that is read: far beyond any survey, and small enough to answer at once.
const MOST_BYTES: usize = 2_000_000;

/// The deepest nesting that is read; the language itself needs four.
const MOST_DEEP: usize = 32;

/// Parses the text, or tells what is wrong with it.
pub fn document(text: &str, file: FileId, diags: &mut Diags) -> Option<KdlDocument> {
    if text.len() > MOST_BYTES {
        let span = Span { file, start: 0, end: 0 };
        let message = format!("the file has {} bytes; at most {MOST_BYTES} are read", text.len());
        diags.push(Diag::error("file-too-large", span, message).help("one file holds one job"));
        return None;
    }
    if let Some(start) = too_deep(text) {
        let span = Span { file, start, end: start + 1 };
        let message = format!("more than {MOST_DEEP} braces are open here");
        diags.push(Diag::error("too-deep", span, message).help("close the braces before this place"));
        return None;
    }
    match text.parse::<KdlDocument>() {
        Ok(doc) => Some(doc),
        Err(error) => {
            for problem in &error.diagnostics {
                diags.push(told(problem, text, file));
            }
            None
        }
    }
}

/// The first brace that opens too deep a nesting; strings and comments are not told apart, which
/// no real file needs.
fn too_deep(text: &str) -> Option<usize> {
    let mut depth = 0usize;
    for (at, byte) in text.bytes().enumerate() {
        match byte {
            b'{' => depth += 1,
            b'}' => depth = depth.saturating_sub(1),
            _ => {}
        }
        if depth > MOST_DEEP {
            return Some(at);
        }
    }
    None
}

fn told(problem: &KdlDiagnostic, text: &str, file: FileId) -> Diag {
    let start = problem.span.offset().min(text.len());
    let end = (start + problem.span.len()).min(text.len());
    let message = problem.message.clone().unwrap_or_else(|| "this is not KDL".to_owned());
    let diag = Diag::error("not-kdl", Span { file, start, end }, message);
    let diag = match &problem.label {
        Some(label) => diag.label(label.clone()),
        None => diag,
    };
    match &problem.help {
        Some(help) => diag.help(help.clone()),
        None => diag,
    }
}
