//! Marks of other languages and of print: curly and single quotes, commas, colons.

use super::super::lexis::{line_length, newline, word_length};
use super::super::walk::clip;
use super::Scanner;

impl Scanner<'_> {
    /// Text in curly quotes.
    pub(super) fn curly(&mut self) {
        let (start, rest) = (self.at, self.rest());
        let line = rest.char_indices().skip(1).take_while(|(_, c)| !newline(*c));
        let close = line.into_iter().find(|(_, c)| matches!(c, '“' | '”'));
        let end = start + close.map_or(word_length(rest), |(at, c)| at + c.len_utf8());
        let text = self.text[start..end].trim_matches(['“', '”', '„']);
        let help = format!("write \"{}\" with straight quotes", clip(text));
        self.slip("curly-quotes", start, end, "curly quotes do not enclose text", help);
        self.mend_value(start, end);
        self.number = None;
        self.at = end;
    }

    /// A remark as other languages start it.
    pub(super) fn dashes(&mut self) {
        let end = self.at + line_length(self.rest());
        let help = "start it with //";
        self.slip("hash-comment", self.at, self.at + 2, "a comment does not start with --", help);
        self.overwrite(self.at, end, b' ');
        self.at = end;
    }

    /// Text in single quotes, if the one that stands here is closed on its line.
    pub(super) fn single(&mut self) -> bool {
        let (start, rest) = (self.at, self.rest());
        let line = &rest[..line_length(rest)];
        let closes = |&(at, _): &(usize, &str)| {
            let next = line[at + 1..].chars().next();
            at > 1 && next.is_none_or(|c| c.is_whitespace() || matches!(c, '{' | '}' | ';' | ','))
        };
        let Some((close, _)) = line.match_indices('\'').find(closes) else { return false };
        let end = start + close + 1;
        let help = format!("write \"{}\" with double quotes", clip(&self.text[start + 1..end - 1]));
        self.slip("single-quotes", start, end, "single quotes do not enclose text", help);
        self.mend_value(start, end);
        self.number = None;
        self.at = end;
        true
    }

    /// How much of a word is a word: a comma behind it, or a figure behind its colon, is told by itself.
    pub(super) fn before_mark(&self, word: &str) -> usize {
        let colon = word.find(':').map_or(0, |at| at + 1);
        if colon > 3 && self.words > 0 && word[colon..].starts_with(|c: char| c.is_ascii_digit()) {
            colon
        } else {
            word.len() - usize::from(word.len() > 1 && word.ends_with(','))
        }
    }

    /// A comma, which parts nothing here.
    pub(super) fn comma(&mut self) {
        let end = self.at + 1;
        self.slip("stray-mark", self.at, end, "a comma has no place here", "take it out: blanks are enough");
        self.overwrite(self.at, end, b' ');
        // What comes next is parted by the blank that now stands here.
        if self.tight.is_some_and(|(_, end, _)| end == self.at) {
            self.tight = None;
        }
        self.at = end;
    }

    /// Whether the word before ends in a colon that stands for the = of a property, as in
    /// `sill: 34`; that is told, and mended.
    pub(super) fn colon_before(&mut self) -> bool {
        let Some((from, end, false)) = self.tight else { return false };
        let value = self.rest().starts_with(['"', '½', '¼', '¾', '⅛', '⅜', '⅝', '⅞', '.'])
            || self.rest().starts_with(|c: char| c.is_ascii_digit());
        let word = &self.text[from..end];
        let name = word.trim_end_matches(':');
        let named = name.len() + 1 == word.len() && name.starts_with(|c: char| c.is_ascii_lowercase());
        if !value || !named || self.words < 2 || !self.text[end..self.at].trim_matches([' ', '\t']).is_empty()
        {
            return false;
        }
        let message = format!("{name} has a colon where = belongs");
        self.slip("missing-equals", from, end, message, format!("write {name}= right before its value"));
        self.overwrite(end - 1, end, b'=');
        self.overwrite(end, self.at, b' ');
        self.words -= 1;
        self.valued = true;
        true
    }
}
