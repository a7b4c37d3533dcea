//! Braces that are not closed, or closed once too often.

use super::super::lexis::{newline, word_length};
use super::{Scan, Scanner};
use crate::diag::Diag;
use crate::source::Span;

impl Scanner<'_> {
    /// The indent of the line that `at` stands on.
    pub(super) fn indent_of(&self, at: usize) -> usize {
        let start = self.text[..at].rfind(['\n', '\r']).map_or(0, |nl| nl + 1);
        self.text[start..].chars().take_while(|c| matches!(c, ' ' | '\t')).count()
    }

    /// After a line end: a line that stands no deeper than an open brace's own line shows that the
    /// brace was to be closed before it.
    pub(super) fn indent(&mut self) {
        let start = self.at;
        let line = self.rest();
        let indent = line.chars().take_while(|c| matches!(c, ' ' | '\t')).count();
        let first = line[indent..].chars().next();
        let says = first.is_some_and(|c| !newline(c) && !matches!(c, '}' | '/' | ';') && !c.is_whitespace());
        let Some(&(brace, opened)) = self.open.last() else { return };
        // Only braces that end a line are judged, and only when the line has room to be mended in.
        let ends_line = self.text[brace + 1..].trim_start_matches([' ', '\t']).starts_with(['\n', '\r', '/']);
        if self.unclosed == 0 || !says || !ends_line || indent > opened {
            return;
        }
        let line_end = start - 1;
        if self.text.as_bytes()[line_end] != b'\n' {
            return;
        }
        let room = if indent > 0 { Some((line_end, start)) } else { self.blank_line_before(start) };
        let Some((close, end)) = room else { return };
        self.open.pop();
        self.unclosed -= 1;
        let end_of_word = start + indent + word_length(&line[indent..]);
        let word = &self.text[start + indent..end_of_word];
        let diag = Diag::error("unclosed-brace", self.span(brace, brace + 1), "this brace is not closed")
            .also(self.span(start + indent, end_of_word), format!("{word} starts at the same depth"))
            .help("close it with } on a line of its own before that place");
        self.slips.push(diag);
        self.out[close] = b'}';
        self.out[end] = if end == line_end { b'\n' } else { b';' };
    }

    /// An empty line before the line that starts at `start`, as two bytes to mend in.
    fn blank_line_before(&self, start: usize) -> Option<(usize, usize)> {
        let before = self.text[..start].trim_end_matches(['\n', '\r', ' ', '\t']).len();
        let gap = &self.text.as_bytes()[before..start];
        (gap.len() >= 2 && gap.first() == Some(&b'\n')).then_some((before, before + 1))
    }

    /// Passes a closing brace.
    pub(super) fn close(&mut self) {
        if self.open.pop().is_none() {
            self.slip(
                "extra-brace",
                self.at,
                self.at + 1,
                "no open brace is left to close here",
                "take this brace out, or open one before it",
            );
            self.overwrite(self.at, self.at + 1, b' ');
        }
        self.at += 1;
        self.number = None;
        self.words = 1;
    }

    /// Closes what is still open, and tells it.
    pub(super) fn finish(mut self) -> Scan {
        for &(brace, _) in self.open.iter().filter(|_| self.swallowed.is_none()) {
            let span = Span { file: self.file, start: brace, end: brace + 1 };
            let diag = Diag::error("unclosed-brace", span, "this brace is not closed");
            self.slips.push(diag.help("close it with } on a line of its own after its last line"));
        }
        self.out.extend("\n".bytes().filter(|_| !self.open.is_empty()));
        self.out.extend(std::iter::repeat_n(b'}', self.open.len()));
        // Only ASCII bytes were written, over whole characters, so this cannot fail.
        let mended = String::from_utf8(self.out).unwrap_or_else(|_| self.text.to_owned());
        Scan { mended, slips: self.slips, values: self.values, swallowed: self.swallowed }
    }
}
