//! A first look at the text, for slips that KDL's own parser places or explains badly.
//!
//! Each slip is told at its place and mended in a copy of the text **of the same length**, so that
//! KDL can read all the rest and every place stays true. Mended values are read from the original.

mod braces;

use super::lexis::{
    ends_word, figure_length, forbidden, is_number, line_length, newline, starts_number, word_length,
};
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
    /// The rest of the text, if something that is not closed took it.
    pub swallowed: Option<(usize, usize)>,
}

/// Letters that a mended name or value is overwritten with.
const MARK: u8 = b'~';

/// Looks through the text.
pub fn scan(text: &str, file: FileId) -> Scan {
    let count = |brace| text.bytes().filter(|&byte| byte == brace).count();
    let mut scanner = Scanner {
        unclosed: count(b'{').saturating_sub(count(b'}')),
        text,
        file,
        at: 0,
        out: text.as_bytes().to_vec(),
        slips: Vec::new(),
        values: Vec::new(),
        open: Vec::new(),
        words: 0,
        number: None,
        swallowed: None,
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
    /// The open braces: their place and the indent of the line that each ends.
    open: Vec<(usize, usize)>,
    /// How many more braces open than close in the text: with none, indents are a matter of taste.
    unclosed: usize,
    /// How many words of the node have passed; zero at its start.
    words: usize,
    /// Where a number or a mended value began, if it was the last thing seen on this line.
    number: Option<usize>,
    swallowed: Option<(usize, usize)>,
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
                self.at += c.len_utf8();
                self.words = 0;
                self.number = None;
                self.indent();
            }
            _ if c.is_whitespace() => self.at += c.len_utf8(),
            '/' if rest.starts_with("//") => self.at += line_length(rest),
            '/' if rest.starts_with("/*") => self.comment(),
            '/' if rest.starts_with("/-") => self.at += 2,
            '\\' => self.continuation(),
            '{' => {
                let indent = self.indent_of(self.at);
                self.open.push((self.at, indent));
                self.at += 1;
                self.words = 0;
            }
            '}' => self.close(),
            ';' => {
                self.at += 1;
                self.words = 0;
                self.number = None;
            }
            '=' => self.equals(),
            '"' => self.quoted(0),
            '#' => self.hash(),
            '(' | ')' => self.at += 1,
            _ if forbidden(c) => {
                let end = self.at + c.len_utf8();
                let message = format!("the character U+{:04X} cannot stand in a job file", c as u32);
                self.slip("control-character", self.at, end, message, "delete it");
                self.overwrite(self.at, end, b' ');
                self.at = end;
            }
            _ if starts_number(rest) => self.figure(),
            _ => self.word(),
        }
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
        self.swallowed = Some((start, self.text.len()));
        self.at = self.text.len();
    }

    /// A backslash that joins the next line on; only blanks and a comment may follow it.
    fn continuation(&mut self) {
        let rest = &self.rest()[1..];
        let blank = &rest[..line_length(rest)];
        let joins = blank.trim().is_empty() || blank.trim_start().starts_with("//");
        if joins {
            self.at += 1 + blank.len();
            let end = self.rest();
            self.at += if end.starts_with("\r\n") { 2 } else { end.chars().next().map_or(0, char::len_utf8) };
        } else {
            self.slip("stray-mark", self.at, self.at + 1, "a backslash stands here alone", "take it out");
            self.overwrite(self.at, self.at + 1, b' ');
            self.at += 1;
        }
    }

    fn equals(&mut self) {
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
            return;
        }
        if self.words <= 1 {
            let help = "write the name, a blank and the value, such as width 54; only properties have =";
            self.slip("stray-equals", self.at, self.at + 1, "the first word of a line takes no =", help);
            self.overwrite(self.at, self.at + 1, b' ');
        }
        self.at += 1;
        self.number = None;
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

    /// A string in quotes behind `hashes` signs.
    fn quoted(&mut self, hashes: usize) {
        let start = self.at - hashes;
        let closing_hashes = "#".repeat(hashes);
        if self.rest().starts_with("\"\"\"") {
            let close = format!("\"\"\"{closing_hashes}");
            match self.rest()[3..].find(&close) {
                Some(length) => self.at += 3 + length + close.len(),
                None => {
                    let line_end = self.at + line_length(self.rest());
                    self.slip(
                        "unclosed-quote",
                        start,
                        self.at + 3,
                        "this text is not closed",
                        "close it with \"\"\"",
                    );
                    self.mend_value(start, line_end);
                    self.swallow(line_end);
                }
            }
            self.words += 1;
            return;
        }
        let bytes = self.text.as_bytes();
        let line_end = self.at + line_length(self.rest());
        let mut i = self.at + 1;
        while i < line_end {
            match bytes[i] {
                b'"' if self.text[i + 1..].starts_with(&closing_hashes) => {
                    self.at = i + 1 + hashes;
                    self.words += 1;
                    self.number = None;
                    return;
                }
                b'\\' if hashes == 0 => i += self.escape(i),
                _ => i += 1,
            }
        }
        self.unclosed(start, line_end);
    }

    /// Judges the escape at `at` and returns its length.
    fn escape(&mut self, at: usize) -> usize {
        let after = self.text[at + 1..].chars().next();
        match after {
            Some('n' | 'r' | 't' | '\\' | '"' | 'b' | 'f' | 's') => 2,
            Some('u') if self.text[at + 2..].starts_with('{') => 2,
            Some(c) if c.is_whitespace() => 1,
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

    fn mend_value(&mut self, start: usize, end: usize) {
        self.overwrite(start, end, MARK);
        if end - start == 1 && self.text.as_bytes()[start] == b'"' {
            self.out[start] = MARK;
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

    /// Something that starts like a number: a number, or a length without its quotes.
    fn figure(&mut self) {
        let start = self.at;
        let mut end = start + figure_length(self.rest());
        if is_number(&self.text[start..end]) {
            if self.words == 0 {
                self.slip(
                    "line-starts-with-number",
                    start,
                    end,
                    "a line starts with a word, not with a number",
                    "write what the number is before it, such as width 54",
                );
                self.overwrite(start, end, MARK);
                self.values.push((start, end));
            }
            // `9 1/2in`: the number may turn out to begin a length.
            self.number.get_or_insert(start);
            self.at = end;
            self.words += 1;
            return;
        }
        let first = self.number.unwrap_or(start);
        // The rest of the length: more figures, parted by blanks only.
        loop {
            let gap = self.text[end..].bytes().take_while(|&b| b == b' ').count();
            let next = &self.text[end + gap..];
            if gap == 0 || !starts_number(next) {
                break;
            }
            end += gap + figure_length(next);
        }
        let length = &self.text[first..end];
        let quoted = length.replace('"', "in").replace('\\', "");
        let message = format!("{} stands without quotes", super::walk::clip(length));
        let help = format!("write \"{}\": only bare figures go without quotes", super::walk::clip(&quoted));
        if self.words > 0 {
            self.slip("unquoted-length", first, end, message, help);
        } else {
            self.slip(
                "line-starts-with-number",
                first,
                end,
                "a line starts with a word, not with a number",
                "write what the figure is before it, such as width \"9ft\"",
            );
        }
        self.values.retain(|(from, _)| *from < first);
        self.mend_value(first, end);
        self.at = end;
    }

    fn word(&mut self) {
        let start = self.at;
        let rest = self.rest();
        if rest.starts_with(['“', '”', '„']) {
            let line = &rest[..line_length(rest)];
            let close = line.char_indices().skip(1).find(|(_, c)| matches!(c, '“' | '”'));
            let end = start + close.map_or(word_length(rest), |(at, c)| at + c.len_utf8());
            let text = self.text[start..end].trim_matches(['“', '”', '„']);
            let help = format!("write \"{}\" with straight quotes", super::walk::clip(text));
            self.slip("curly-quotes", start, end, "curly quotes do not enclose text", help);
            self.mend_value(start, end);
            self.number = None;
            self.at = end;
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
