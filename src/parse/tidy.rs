//! Rewrites the spacing of a job file and nothing else.

use kdl::{KdlDocument, KdlEntry, KdlNode};

use super::lexis::{line_length, newline, word_length};
use super::syntax;
use crate::diag::Diags;
use crate::source::FileId;

/// The text with four blanks for each open brace, one blank between words, no blanks at line ends,
/// at most one empty line in a row, and one line end at the end. Remarks and texts keep every
/// character.
///
/// `None` when the text has slips of syntax, which go to `diags`. Each time it is proved that the same
/// characters stand there, and that they mean the same; `None` too if they did not.
pub fn tidy(text: &str, file: FileId, diags: &mut Diags) -> Option<String> {
    let before = syntax::document(text, file, diags)?;
    if diags.has_errors() {
        return None;
    }
    let tidied = spaced(text);
    // Read in the same way, since a lone semicolon is passed over there and is no KDL.
    let after = syntax::document(&tidied, file, diags)?;
    let inked =
        |text: &str| text.chars().filter(|c| !c.is_whitespace() && *c != '\u{feff}').collect::<String>();
    (same(&before.doc, &after.doc) && inked(text) == inked(&tidied)).then_some(tidied)
}

/// The next part of a text that must be kept whole, or a single character.
fn part(text: &str) -> usize {
    let hashes = text.bytes().take_while(|&byte| byte == b'#').count();
    let quoted = &text[hashes..];
    let close = |open: &str| {
        let close = format!("{open}{}", "#".repeat(hashes));
        let mut at = hashes + open.len();
        while let Some(c) = text[at..].chars().next() {
            if text[at..].starts_with(&close) {
                return at + close.len();
            }
            let escaped = c == '\\' && hashes == 0;
            at += c.len_utf8();
            if escaped {
                at += text[at..].chars().next().map_or(0, char::len_utf8);
            }
        }
        text.len()
    };
    if quoted.starts_with("\"\"\"") {
        close("\"\"\"")
    } else if quoted.starts_with('"') {
        close("\"")
    } else if text.starts_with("//") {
        text[..line_length(text)].trim_end().len()
    } else if text.starts_with("/*") {
        block(text)
    } else {
        word_length(text).max(text.chars().next().map_or(0, char::len_utf8))
    }
}

/// The length of a block remark, which may hold others.
fn block(text: &str) -> usize {
    let (mut depth, mut at) = (0usize, 0);
    while let Some(c) = text[at..].chars().next() {
        if text[at..].starts_with("/*") {
            depth += 1;
            at += 2;
        } else if text[at..].starts_with("*/") {
            depth -= 1;
            at += 2;
            if depth == 0 {
                return at;
            }
        } else {
            at += c.len_utf8();
        }
    }
    text.len()
}

fn spaced(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let (mut depth, mut ends, mut joined, mut blank) = (0usize, 2usize, false, false);
    let mut at = text.strip_prefix('\u{feff}').map_or(0, |rest| text.len() - rest.len());
    while let Some(c) = text[at..].chars().next() {
        if newline(c) {
            at += if text[at..].starts_with("\r\n") { 2 } else { c.len_utf8() };
            // One empty line is kept, and none after an opening brace or at the start.
            if ends < 2 && !(ends == 1 && out.ends_with("{\n")) {
                out.push('\n');
            }
            ends += 1;
            blank = false;
            continue;
        }
        if c.is_whitespace() {
            at += c.len_utf8();
            blank = true;
            continue;
        }
        let length = part(&text[at..]);
        let token = &text[at..at + length];
        if token == "}" {
            depth = depth.saturating_sub(1);
            if ends >= 2 && out.ends_with("\n\n") {
                out.pop();
            }
        }
        if ends > 0 {
            out.extend(std::iter::repeat_n("    ", depth + usize::from(joined)));
        } else if blank {
            out.push(' ');
        }
        out.push_str(token);
        if token == "{" {
            depth += 1;
        }
        joined = token == "\\";
        (ends, blank) = (0, false);
        at += length;
    }
    let end = out.trim_end_matches('\n').len();
    out.truncate(end);
    out.push('\n');
    out
}

fn same(one: &KdlDocument, other: &KdlDocument) -> bool {
    let (one, other) = (one.nodes(), other.nodes());
    one.len() == other.len() && one.iter().zip(other).all(|(one, other)| same_node(one, other))
}

fn same_node(one: &KdlNode, other: &KdlNode) -> bool {
    let text = |entry: &KdlEntry| {
        let repr = entry.format().map(|format| format.value_repr.clone());
        let name = entry.name().map(|name| name.value().to_owned());
        (name, entry.ty().map(|ty| ty.value().to_owned()), entry.value().clone(), repr)
    };
    let children = |node: &KdlNode| node.children().is_some_and(|children| !children.nodes().is_empty());
    one.name().value() == other.name().value()
        && one.entries().len() == other.entries().len()
        && one.entries().iter().zip(other.entries()).all(|(one, other)| text(one) == text(other))
        && children(one) == children(other)
        && one.children().zip(other.children()).is_none_or(|(one, other)| same(one, other))
}
