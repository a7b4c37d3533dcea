//! Text in quotes: closed on its line, with escapes that mean something.

use super::super::lexis::{forbidden, line_length, newline, unicode_escape};
use super::{MARK, Scanner};
use crate::unseen::covered;

impl Scanner<'_> {
    /// A string in quotes behind `hashes` signs.
    pub(super) fn quoted(&mut self, hashes: usize) {
        let start = self.at - hashes;
        let closing = format!("\"{}", "#".repeat(hashes));
        if self.rest().starts_with("\"\"\"") {
            return self.tripled(start, &closing);
        }
        let mut i = self.at + 1;
        while let Some(c) = self.text[i..].chars().next().filter(|c| !newline(*c)) {
            if c == '"' && self.text[i..].starts_with(&closing) {
                self.at = i + closing.len();
                self.words += 1;
                self.number = None;
                return;
            }
            if forbidden(c) {
                self.forbidden(i, c);
                let end = i + c.len_utf8();
                self.out[i..end].copy_from_slice(covered(&self.text[i..end]).as_bytes());
            }
            i += if c == '\\' && hashes == 0 { self.escape(i) } else { c.len_utf8() };
        }
        self.unclosed(start, i);
    }

    /// Text in three quotes may run over lines, which no text of a job does.
    fn tripled(&mut self, start: usize, closing: &str) {
        let body = self.at + 3;
        let close = format!("\"\"{closing}");
        let Some(length) = self.text[body..].find(&close) else {
            let line_end = self.at + line_length(self.rest());
            self.slip(
                "unclosed-quote",
                start,
                body,
                "this text is not closed",
                "close it with \" on the same line",
            );
            self.mend_value(start, line_end);
            self.swallow(line_end);
            return;
        };
        let end = body + length + close.len();
        let help = "write it on one line in single quotes \"…\"";
        self.slip("stray-mark", start, body, "text in three quotes has no place here", help);
        self.mend_value(start, end);
        self.out[start..end].fill(MARK);
        self.at = end;
    }

    /// Judges the escape at `at` and returns its length.
    fn escape(&mut self, at: usize) -> usize {
        let after = self.text[at + 1..].chars().next();
        match after {
            Some('n' | 'r' | 't' | '\\' | '"' | 'b' | 'f' | 's') => 2,
            Some('u') if unicode_escape(&self.text[at + 2..]) => 2,
            Some(c) if c.is_whitespace() && !newline(c) && !self.ends_line(at + 1) => 1,
            _ => {
                self.slip(
                    "bad-escape",
                    at,
                    at + 1,
                    "a backslash in quotes has a meaning of its own",
                    "write \\\\ for a backslash",
                );
                self.overwrite(at, at + 1, MARK);
                1
            }
        }
    }

    /// Whether only blanks stand from `at` to the line's end.
    fn ends_line(&self, at: usize) -> bool {
        let next = self.text[at..].trim_start_matches(|c: char| c.is_whitespace() && !newline(c));
        next.is_empty() || next.starts_with(newline)
    }

    fn unclosed(&mut self, start: usize, line_end: usize) {
        // A brace at the end of the line still opens what follows.
        let line = self.text[start..line_end].trim_end();
        let end = start + line.strip_suffix('{').map_or(line, str::trim_end).len();
        let help = if self.text[start..end].chars().any(|c| c.is_ascii_digit()) {
            "close it with \" on the same line; inside quotes write inches as in, as ″ or as \\\""
        } else {
            "close it with \" on the same line"
        };
        self.slip("unclosed-quote", start, end, "this quote is not closed", help);
        self.mend_value(start, end);
        self.at = end;
    }
}
