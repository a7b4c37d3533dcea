//! Text to KDL's tree, with as much of the file saved from a slip as can be.

use kdl::{KdlDiagnostic, KdlDocument, KdlError};

use super::scan;
use crate::diag::{Diag, Diags};
use crate::source::{FileId, Span};

/// The largest file that is read: some five hundred rooms, and small enough to answer at once.
pub const MOST_BYTES: usize = 300_000;

/// The deepest nesting that is read; the language itself needs four.
const MOST_DEEP: usize = 32;

/// With more slips than these, a file is not a job file with slips.
const MOST_SLIPS: usize = 300;

/// Enough for KDL's parser to pass every slip of the largest file that gets to it.
const STACK: usize = 256 << 20;

/// How many lines are blanked, one after another, to save the rest of a file: each costs a reading
/// of the whole.
fn most_blanked(text: &str) -> usize {
    if text.len() < 100_000 { 12 } else { 1 }
}

/// KDL's tree and the places where it does not say what the file says.
pub struct Tree {
    /// The tree.
    pub doc: KdlDocument,
    /// Values that were mended, as byte ranges.
    pub values: Vec<(usize, usize)>,
    /// Lines that could not be read, as byte ranges.
    pub blanked: Vec<(usize, usize)>,
    /// Whether a brace is missing or too many, so that it is not known for sure what stands in what.
    pub unnested: bool,
}

/// Parses the text; every slip is told, and what still stands is returned.
pub fn document(text: &str, file: FileId, diags: &mut Diags) -> Option<Tree> {
    if text.len() > MOST_BYTES {
        diags.push(too_large(file));
        return None;
    }
    if let Some(start) = too_deep(text) {
        let span = Span { file, start, end: start + 1 };
        let message = format!("more than {MOST_DEEP} braces are open here");
        diags.push(Diag::error("too-deep", span, message).help("close the braces before this place"));
        return None;
    }
    let scan = scan::scan(text, file);
    let places: Vec<usize> =
        scan.slips.iter().flat_map(|slip| &slip.labels).map(|label| label.span.start).collect();
    let slips = scan.slips.len();
    let brace = |slip: &Diag| matches!(slip.code, "unclosed-brace" | "extra-brace" | "missing-brace");
    let unnested = scan.slips.iter().any(brace);
    for slip in scan.slips {
        diags.push(slip);
    }
    if slips > MOST_SLIPS {
        let span = Span { file, start: 0, end: 0 };
        let message = "with so many slips the file is not read further";
        diags.push(Diag::error("not-checked", span, message).help("mend those that are told first"));
        return None;
    }
    let mut mended = scan.mended;
    let mut blanked = scan.lost;
    let lost = blanked.len();
    loop {
        let error = match tree(&mended)? {
            Ok(doc) => return Some(Tree { doc, values: scan.values, blanked, unnested }),
            Err(error) => error,
        };
        let problem = error.diagnostics.first()?;
        let start = problem.span.offset().min(text.len());
        let range = (line_start(text, start), line_end(text, start));
        // A slip on the same line is the cause, and has been told.
        if !places.iter().any(|place| (range.0..=range.1).contains(place)) {
            diags.push(told(problem, text, file));
        }

        if blanked.len() - lost >= most_blanked(text) || blanked.contains(&range) {
            let span = Span { file, start: range.0, end: range.1 };
            let message = "the rest of the file could not be read, and is not checked";
            diags.push(Diag::error("not-checked", span, message).help("mend what is told above it first"));
            return None;
        }
        blank(&mut mended, range);
        blanked.push(range);
    }
}

/// What is said of a file that is not read.
pub fn too_large(file: FileId) -> Diag {
    let span = Span { file, start: 0, end: 0 };
    let message = format!("the file has more than {MOST_BYTES} bytes, too many for a job");
    Diag::error("file-too-large", span, message).help("one file holds one job")
}

/// KDL's parser, given a stack of its own: it calls itself once for each slip that it passes.
fn tree(text: &str) -> Option<Result<KdlDocument, KdlError>> {
    let text = text.to_owned();
    let reader = std::thread::Builder::new().stack_size(STACK).spawn(move || text.parse::<KdlDocument>());
    reader.ok()?.join().ok()
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

fn line_start(text: &str, at: usize) -> usize {
    text.as_bytes()[..at.min(text.len())].iter().rposition(|&b| b == b'\n').map_or(0, |nl| nl + 1)
}

fn line_end(text: &str, at: usize) -> usize {
    let at = at.min(text.len());
    text.as_bytes()[at..].iter().position(|&b| b == b'\n').map_or(text.len(), |nl| at + nl)
}

/// Takes a line out of the text, keeping its length and the brace that it opens or closes.
fn blank(text: &mut String, (start, end): (usize, usize)) {
    let mut bytes = std::mem::take(text).into_bytes();
    let line = &mut bytes[start..end];
    let opens = line.iter().rposition(|b| !b.is_ascii_whitespace()).filter(|&at| line[at] == b'{');
    let closes = line.iter().position(|b| !b.is_ascii_whitespace()).filter(|&at| line[at] == b'}');
    line.fill(b' ');
    if let Some(at) = opens.filter(|&at| at >= 2) {
        line[at - 2] = b'~';
        line[at] = b'{';
    }
    if let Some(at) = closes {
        line[at] = b'}';
    }
    *text = String::from_utf8(bytes).unwrap_or_default();
}

fn told(problem: &KdlDiagnostic, text: &str, file: FileId) -> Diag {
    let start = problem.span.offset().min(text.len());
    let end = (start + problem.span.len()).min(line_end(text, start)).max(start);
    let reason = problem.message.clone().or_else(|| problem.label.clone());
    let message = match reason {
        Some(reason) => format!("this line cannot be read: {}", lower_first(&reason)),
        None => "this line cannot be read".to_owned(),
    };
    let help = "a line is a name, then values, then name=value pairs, then perhaps { and lines inside }";
    Diag::error("not-kdl", Span { file, start, end }, message).help(help)
}

fn lower_first(text: &str) -> String {
    let mut chars = text.trim_end_matches('.').chars();
    chars.next().map(|c| c.to_lowercase().chain(chars).collect()).unwrap_or_default()
}
