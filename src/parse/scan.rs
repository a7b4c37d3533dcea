//! A first look at the text, for slips that KDL's own parser places or explains badly.
//!
//! Each slip is told at its place and mended in a copy of the text **of the same length**, so that
//! KDL can read all the rest and every place stays true. Mended values are read from the original.

mod braces;
mod figures;
mod marks;
mod quotes;

use super::lexis::{ends_word, forbidden, line_length, newline, run_length, starts_number, word_length};
use crate::diag::Diag;
use crate::source::{FileId, Span};

/// What the first look found.
pub struct Scan {
    /// The text with every slip mended, byte for byte as long as the original (closing braces may
    /// follow it).
    pub mended: String,
    /// The slips.
    pub slips: Vec<Diag>,
    /// Values that were mended: their places, in order.
    pub values: Vec<(usize, usize)>,
    /// Parts of the text that are given up: what seems to be missing may stand there.
    pub lost: Vec<(usize, usize)>,
}

/// Letters that a mended name or value is overwritten with.
const MARK: u8 = b'~';

/// Looks through the text.
pub fn scan(text: &str, file: FileId) -> Scan {
    let count = |brace| text.bytes().filter(|&byte| byte == brace).count();
    let mut scanner = Scanner {
        unclosed: count(b'{').saturating_sub(count(b'}')),
        unopened: count(b'}').saturating_sub(count(b'{')),
        text,
        file,
        at: 0,
        out: text.as_bytes().to_vec(),
        slips: Vec::new(),
        values: Vec::new(),
        open: Vec::new(),
        line: 0,
        words: 0,
        number: None,
        tight: None,
        valued: false,
        closed: false,
        ended: None,
        lost: Vec::new(),
    };
    if text.starts_with('\u{feff}') {
        scanner.at = '\u{feff}'.len_utf8();
    }
    while scanner.at < text.len() {
        scanner.step();
    }
    scanner.finish()
}

struct Scanner<'t> {
    text: &'t str,
    file: FileId,
    at: usize,
    out: Vec<u8>,
    slips: Vec<Diag>,
    values: Vec<(usize, usize)>,
    /// The open braces: their place, the indent of the line that each ends, and whether it belongs
    /// to a node.
    open: Vec<(usize, usize, bool)>,
    /// How many more braces open than close in the text: with none, indents are a matter of taste.
    unclosed: usize,
    /// How many more close than open.
    unopened: usize,
    /// Where the line began.
    line: usize,
    /// How many words of the node have passed; zero at its start.
    words: usize,
    /// Where a number or a mended value began, if it was the last thing seen on this line.
    number: Option<usize>,
    /// The last value or word, which a blank must part from the next, and whether it was the value
    /// of a property.
    tight: Option<(usize, usize, bool)>,
    /// Whether the word that comes is the value of a property.
    valued: bool,
    /// Whether the node's braces have been closed, so that nothing more belongs to it.
    closed: bool,
    /// Where the last node ended and the indent of its line, if it had no braces.
    ended: Option<(usize, usize)>,
    /// Parts of the text that are given up.
    lost: Vec<(usize, usize)>,
}

impl<'t> Scanner<'t> {
    fn rest(&self) -> &'t str {
        &self.text[self.at..]
    }

    fn span(&self, start: usize, end: usize) -> Span {
        Span { file: self.file, start, end }
    }

    fn slip(
        &mut self,
        code: &'static str,
        start: usize,
        end: usize,
        message: impl Into<String>,
        help: impl Into<String>,
    ) {
        self.slips.push(Diag::error(code, self.span(start, end), message).help(help));
    }

    /// Overwrites a part of the text, line ends excepted.
    fn overwrite(&mut self, start: usize, end: usize, with: u8) {
        for byte in &mut self.out[start..end] {
            if !matches!(byte, b'\n' | b'\r') {
                *byte = with;
            }
        }
    }

    fn step(&mut self) {
        let rest = self.rest();
        let Some(c) = rest.chars().next() else { return };
        match c {
            _ if newline(c) => {
                self.end_node();
                self.at += c.len_utf8();
                self.line = self.at;
                self.indent();
            }
            _ if c.is_whitespace() => self.at += c.len_utf8(),
            '/' if rest.starts_with("//") => {
                let end = self.at + line_length(rest);
                self.overwrite(self.at, end, b' ');
                self.at = end;
            }
            '/' if rest.starts_with("/*") => self.comment(),
            '/' if rest.starts_with("/-") => self.slashdash(),
            '\\' => self.continuation(),
            '{' => self.open(),
            '}' => self.close(),
            ';' => {
                if self.words == 0 && !self.closed {
                    self.overwrite(self.at, self.at + 1, b' ');
                }
                self.at += 1;
                self.end_node();
            }
            '=' => self.equals(),
            ',' => self.comma(),
            '(' => {
                // A bracket that closes much later is another's.
                let line = rest.char_indices().take(40).take_while(|(_, c)| !newline(*c));
                let end = self.at + line.into_iter().find(|(_, c)| *c == ')').map_or(1, |(at, _)| at + 1);
                let help = "take the brackets out, or put text that holds them in quotes";
                self.slip("stray-mark", self.at, end, "brackets have no place here", help);
                self.overwrite(self.at, end, b' ');
                self.at = end;
            }
            _ if forbidden(c) => {
                self.forbidden(self.at, c);
                self.overwrite(self.at, self.at + c.len_utf8(), b' ');
                self.at += c.len_utf8();
            }
            _ => self.value_or_word(c),
        }
    }

    /// Tells a character that KDL forbids anywhere.
    fn forbidden(&mut self, at: usize, c: char) {
        let end = at + c.len_utf8();
        let message = format!("the character U+{:04X} cannot stand in a job file", c as u32);
        self.slip("control-character", at, end, message, "delete it");
    }

    fn end_node(&mut self) {
        match self.tight {
            Some((_, end, _)) if !self.closed => self.ended = Some((end, self.indent_of(self.at))),
            _ if self.words > 0 || self.closed => self.ended = None,
            _ => {}
        }
        (self.words, self.number, self.tight) = (0, None, None);
        (self.valued, self.closed) = (false, false);
    }

    /// A value or a word, proven to be parted from what stands before it.
    fn value_or_word(&mut self, c: char) {
        let start = self.at;
        if self.closed {
            return self.after_closing();
        }
        if self.colon_before() {
            self.tight = None;
        }
        if let Some((from, ..)) = self.tight.filter(|&(_, end, _)| end == start) {
            let end = start + run_length(self.rest());
            if &self.text[start..end] == "\"" {
                let help = "inside quotes write inches as in, as ″ or as \\\"";
                self.slip(
                    "unclosed-quote",
                    start,
                    end,
                    "the quote before this one has closed the text",
                    help,
                );
            } else {
                let help = "put a blank between them, or one pair of quotes round the whole";
                self.slip("missing-blank", start, end, "a blank is missing before this", help);
            }
            // The whole becomes one value that cannot be read.
            let words = self.words;
            self.mend_value(from, end);
            self.words = words;
            self.tight = Some((from, end, self.valued));
            self.at = end;
            return;
        }
        let words = self.words;
        match c {
            '"' => self.quoted(0),
            '#' => self.hash(),
            _ if starts_number(self.rest()) => self.figure(),
            _ => self.word(),
        }
        self.tight = (self.words > words).then_some((start, self.at, self.valued));
        self.valued = false;
    }

    /// Something behind a closing brace on its line, which belongs on the next.
    fn after_closing(&mut self) {
        let ends = |c: char| newline(c) || matches!(c, '{' | '}' | ';');
        let end = self.rest().find(ends).map_or(self.text.len(), |at| self.at + at);
        self.slip(
            "missing-blank",
            self.at,
            end,
            "after } a new line starts",
            "write this on a line of its own",
        );
        self.overwrite(self.at, end, b' ');
        self.lost.push((self.at, end));
        self.at = end;
    }

    /// `/-` takes out what follows, if something does.
    fn slashdash(&mut self) {
        let next = self.rest()[2..].trim_start();
        let joined = self.tight.is_some_and(|(_, end, _)| end == self.at);
        let idle = next.is_empty() || next.starts_with(['}', ';', ')', '=', '/']);
        if joined || idle {
            self.slip("stray-mark", self.at, self.at + 2, "/- takes nothing out here", "take it out");
            self.overwrite(self.at, self.at + 2, b' ');
        }
        self.at += 2;
    }

    fn comment(&mut self) {
        let start = self.at;
        let bytes = self.text.as_bytes();
        let mut depth = 0usize;
        while self.at < bytes.len() {
            match (bytes[self.at], bytes.get(self.at + 1)) {
                (b'/', Some(b'*')) => {
                    depth += 1;
                    self.at += 2;
                }
                (b'*', Some(b'/')) => {
                    depth -= 1;
                    self.at += 2;
                    if depth == 0 {
                        self.out[start..self.at].fill(b' ');
                        return;
                    }
                }
                _ => self.at += 1,
            }
        }
        self.slip("unclosed-comment", start, start + 2, "this comment is not closed", "close it with */");
        self.swallow(start);
    }

    /// Gives up the rest of the text.
    fn swallow(&mut self, start: usize) {
        self.overwrite(start, self.text.len(), b' ');
        self.lost.push((start, self.text.len()));
        self.at = self.text.len();
    }

    /// A backslash that joins the next line on; only blanks and a comment may follow it.
    fn continuation(&mut self) {
        let rest = &self.rest()[1..];
        let next = rest.trim_start_matches(|c: char| c.is_whitespace() && !newline(c));
        if next.is_empty() || next.starts_with(newline) || next.starts_with("//") {
            self.at += 1 + (rest.len() - next.len()) + line_length(next);
            let end = self.rest();
            self.at += if end.starts_with("\r\n") { 2 } else { end.chars().next().map_or(0, char::len_utf8) };
            self.line = self.at;
        } else {
            self.slip("stray-mark", self.at, self.at + 1, "a backslash stands here alone", "take it out");
            self.overwrite(self.at, self.at + 1, b' ');
            self.at += 1;
        }
    }

    fn equals(&mut self) {
        let named = self.tight.filter(|&(_, _, value)| !value && !self.valued && self.words > 1);
        if named.is_none() && self.words > 1 {
            let end = self.at + run_length(self.rest());
            self.slip("stray-equals", self.at, end, "no name stands before this =", "take it out");
            self.overwrite(self.at, end, b' ');
            self.at = end;
            return;
        }
        if self.words > 1 && self.lacks_value() {
            let name = self.text[..self.at].rsplit(ends_word).next().unwrap_or_default();
            let start = self.at - name.len();
            let end = self.at + 1;
            let message = format!("{} has no value", &self.text[start..end]);
            self.slip(
                "stray-equals",
                start,
                end,
                message,
                "write the value right after the =, or leave both out",
            );
            self.overwrite(start, end, MARK);
            self.values.push((start, end));
            self.at = end;
            self.tight = None;
            return;
        }
        if self.words <= 1 {
            let help = "write the name, a blank and the value, such as width 54; only properties have =";
            self.slip("stray-equals", self.at, self.at + 1, "the first word of a line takes no =", help);
            self.overwrite(self.at, self.at + 1, b' ');
        }
        self.at += 1;
        (self.number, self.tight) = (None, None);
        self.valued = self.words > 1;
    }

    /// Whether nothing follows the = here, or the next property.
    fn lacks_value(&self) -> bool {
        let rest = &self.rest()[1..];
        let next = rest.trim_start_matches([' ', '\t']);
        let word = word_length(next);
        next.is_empty()
            || next.starts_with(|c| newline(c) || matches!(c, '{' | '}' | ';'))
            || (next.len() < rest.len() && word > 0 && next[word..].starts_with('='))
    }

    fn mend_value(&mut self, start: usize, end: usize) {
        self.overwrite(start, end, MARK);
        if end - start == 1 && self.text.as_bytes()[start] == b'"' {
            self.out[start] = MARK;
        }
        while self.values.last().is_some_and(|&(from, _)| from >= start) {
            self.values.pop();
        }
        self.values.push((start, end));
        self.words += 1;
        self.number = Some(start);
    }

    fn hash(&mut self) {
        let rest = self.rest();
        let hashes = rest.bytes().take_while(|&b| b == b'#').count();
        if rest[hashes..].starts_with('"') {
            self.at += hashes;
            return self.quoted(hashes);
        }
        let word = word_length(&rest[1..]);
        if hashes == 1 && matches!(&rest[1..1 + word], "true" | "false" | "null" | "inf" | "-inf" | "nan") {
            self.at += 1 + word;
            self.words += 1;
            self.number = None;
            return;
        }
        let end = self.at + line_length(rest);
        self.slip(
            "hash-comment",
            self.at,
            self.at + hashes,
            "a comment does not start with #",
            "start it with //",
        );
        self.overwrite(self.at, end, b' ');
        self.at = end;
    }

    fn word(&mut self) {
        let start = self.at;
        let rest = self.rest();
        if rest.starts_with(['“', '”', '„']) {
            return self.curly();
        }
        if rest.starts_with("--") {
            return self.dashes();
        }
        if rest.starts_with('\'') && self.single() {
            return;
        }
        let length = word_length(rest);
        if length == 0 {
            let end = start + self.rest().chars().next().map_or(1, char::len_utf8);
            let mark = &self.text[start..end];
            self.slip(
                "stray-mark",
                start,
                end,
                format!("{mark} has no place here"),
                "take it out, or put the text in quotes",
            );
            self.overwrite(start, end, b' ');
            self.at = end;
            return;
        }
        let length = self.before_mark(&rest[..length]);
        let end = start + length;
        let word = &self.text[start..end];
        if matches!(word, "true" | "false" | "null" | "inf" | "-inf" | "nan") {
            let help = match word {
                "true" => "write yes",
                "false" => "write no",
                _ => "leave it out: what is not known is not written",
            };
            self.slip("bare-keyword", start, end, format!("{word} does not stand alone"), help);
            self.mend_value(start, end);
            self.number = None;
        } else {
            self.words += 1;
            self.number = None;
        }
        self.at = end;
    }
}
