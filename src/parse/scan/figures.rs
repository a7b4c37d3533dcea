//! What starts like a number: numbers that can be read, and lengths without their quotes.

use super::super::lexis::{figure_length, is_number, starts_number};
use super::super::walk::clip;
use super::{MARK, Scanner};

/// The most characters of a number. KDL's reader takes whole numbers of 38 figures; no length, count or price
/// of a job needs nearly as many.
const MOST_FIGURES: usize = 30;

impl Scanner<'_> {
    /// Something that starts like a number: a number, or a length without its quotes.
    pub(super) fn figure(&mut self) {
        let start = self.at;
        let mut end = start + figure_length(self.rest());
        if self.text[start..end].ends_with(',') {
            end -= 1;
        }
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
            } else if end - start > MOST_FIGURES {
                let message =
                    format!("this number has {} characters; at most {MOST_FIGURES} are read", end - start);
                let help = "write it with as many figures as can be measured or counted";
                self.slip("number-too-long", start, end, message, help);
                self.mend_value(start, end);
                self.at = end;
                return;
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
        // `2in"`: the quote is the end of a text, not the inches.
        let length = length.strip_suffix('"').filter(|rest| rest.ends_with("in")).unwrap_or(length);
        let quoted = length.replace('"', "in").replace('\\', "");
        let message = format!("{} stands without quotes", clip(length));
        let help = format!("write \"{}\": only bare figures go without quotes", clip(&quoted));
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
        self.mend_value(first, end);
        self.at = end;
    }
}
