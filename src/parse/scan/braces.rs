//! Braces that are not closed, or closed once too often.

use super::super::lexis::{newline, word_length};
use super::{Scan, Scanner};
use crate::diag::Diag;
use crate::source::Span;

impl Scanner<'_> {
    /// The indent of the line that `at` stands on.
    pub(super) fn indent_of(&self, at: usize) -> usize {
        self.text[self.line..at].chars().take_while(|c| matches!(c, ' ' | '\t')).count()
    }

    /// After a line end: what its indent shows of braces that were left out before it.
    pub(super) fn indent(&mut self) {
        let start = self.at;
        let line = self.rest();
        let indent = line.chars().take_while(|c| matches!(c, ' ' | '\t')).count();
        let first = line[indent..].chars().next();
        let says =
            first.is_some_and(|c| !newline(c) && !matches!(c, '{' | '}' | '/' | ';') && !c.is_whitespace());
        if !says {
            return;
        }
        self.not_opened(indent);
        let Some(&(brace, opened, _)) = self.open.last() else { return };
        // A line no deeper than an open brace's own: the brace was to be closed before it. Only braces
        // that end a line are judged, and only when the line has room to be mended in.
        let ends_line = self.text[brace + 1..].trim_start_matches([' ', '\t']).starts_with(['\n', '\r', '/']);
        if self.unclosed == 0 || !ends_line || indent > opened {
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

    /// A line that stands deeper than the one before, with nothing opened: the one before was to open it.
    fn not_opened(&mut self, indent: usize) {
        let Some((end, before)) = self.ended.filter(|&(_, before)| indent > before) else { return };
        if self.unopened == 0 || !self.text.as_bytes()[end].is_ascii_whitespace() {
            return;
        }
        let help = "write { at the end of this line: the lines below it are its own";
        let last = self.text[..end].char_indices().next_back().map_or(0, |(at, _)| at);
        self.slip("missing-brace", last, end, "this line opens no brace", help);
        self.out[end] = b'{';
        self.open.push((end, before, true));
        self.unopened -= 1;
        self.ended = None;
    }

    /// An empty line before the line that starts at `start`, as two bytes to mend in.
    fn blank_line_before(&self, start: usize) -> Option<(usize, usize)> {
        let before = self.text[..start].trim_end_matches(['\n', '\r', ' ', '\t']).len();
        let gap = &self.text.as_bytes()[before..start];
        (gap.len() >= 2 && gap.first() == Some(&b'\n')).then_some((before, before + 1))
    }

    /// Passes an opening brace.
    pub(super) fn open(&mut self) {
        let indent = self.indent_of(self.at);
        let mut owned = self.words > 0 && !self.closed;
        if let (0, Some((end, _))) = (self.words, self.ended) {
            // The brace of the line before: it is joined to it.
            let help = "move the brace to the end of the line before";
            self.slip("stray-mark", self.at, self.at + 1, "a brace stands on the line of its name", help);
            self.out[end..self.at].fill(b' ');
            owned = true;
        } else if !owned {
            let message = "no line's name stands before this brace";
            let help = "write the name and its values before the brace, on the same line";
            self.slip("stray-mark", self.at, self.at + 1, message, help);
        }
        self.open.push((self.at, indent, owned));
        self.at += 1;
        self.end_node();
        self.ended = None;
    }

    /// Passes a closing brace.
    pub(super) fn close(&mut self) {
        let end = self.at + 1;
        if self.closes_too_much() {
            self.unopened -= 1;
            let help = "take this brace out: its line belongs to what is open here";
            self.slip("extra-brace", self.at, end, "this brace closes what goes on below it", help);
            self.overwrite(self.at, end, b' ');
            self.at = end;
            return;
        }
        let owned = match self.open.pop() {
            Some((_, _, true)) => true,
            Some((start, _, false)) => {
                self.give_up(start, end);
                false
            }
            None => {
                let help = "take this brace out, or open one before it";
                self.slip("extra-brace", self.at, end, "no open brace is left to close here", help);
                self.overwrite(self.at, end, b' ');
                false
            }
        };
        self.at = end;
        if owned {
            self.end_node();
            self.closed = true;
        }
    }

    /// With more braces closed than opened in the text: whether this one stands where no brace closes
    /// what is open, which was opened on another line and at another depth.
    fn closes_too_much(&self) -> bool {
        let Some(&(brace, opened, _)) = self.open.last() else { return false };
        let alone = self.text[self.line..self.at].trim().is_empty();
        let elsewhere = brace < self.line && (!alone || self.indent_of(self.at) != opened);
        self.unopened > 0 && elsewhere
    }

    /// Takes a part of the text out, braces and all.
    fn give_up(&mut self, start: usize, end: usize) {
        self.overwrite(start, end, b' ');
        self.values.retain(|&(from, _)| from < start);
        self.lost.push((start, end));
    }

    /// Closes what is still open, and tells it.
    pub(super) fn finish(mut self) -> Scan {
        let swallowed = self.lost.last().is_some_and(|&(_, end)| end == self.text.len());
        for &(brace, _, _) in self.open.iter().filter(|(_, _, owned)| *owned && !swallowed) {
            let span = Span { file: self.file, start: brace, end: brace + 1 };
            let diag = Diag::error("unclosed-brace", span, "this brace is not closed");
            self.slips.push(diag.help("close it with } on a line of its own after its last line"));
        }
        if let Some(&(start, _, _)) = self.open.iter().find(|(_, _, owned)| !owned) {
            self.give_up(start, self.text.len());
        }
        let open = self.open.iter().take_while(|(_, _, owned)| *owned).count();
        self.out.extend("\n}".repeat(open).bytes());
        // Only ASCII bytes were written, over whole characters, so this cannot fail.
        let mended = String::from_utf8(self.out).unwrap_or_else(|_| self.text.to_owned());
        Scan { mended, slips: self.slips, values: self.values, lost: self.lost }
    }
}
