//! Characters that cannot be seen, or that change how those round them are shown: in a name they would make two
//! names look alike, or one look like another; on a terminal some of them are orders.

use std::borrow::Cow;
use std::fmt::Write;

/// Whether a character shows nothing of its own: control characters, breaks of lines, marks that turn the
/// direction of writing, blanks without width, and tags. From the lists of Unicode's general categories Cc, Cf,
/// Zl and Zp (from memory), as far as they stand in Latin text or steer a terminal.
pub fn unseen(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{ad}' | '\u{61c}' | '\u{180e}' | '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}'
            | '\u{2060}'..='\u{206f}' | '\u{feff}' | '\u{fff9}'..='\u{fffb}' | '\u{e0000}'..='\u{e007f}')
}

/// The text with each such character written as a job file writes it: `\u{202e}`.
pub fn written(text: &str) -> Cow<'_, str> {
    if !text.contains(unseen) {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len() + 8);
    for c in text.chars() {
        if unseen(c) {
            let _ = write!(out, "\\u{{{:x}}}", c as u32);
        } else {
            out.push(c);
        }
    }
    Cow::Owned(out)
}

/// The text with each such character, breaks of lines and tabs excepted, in place of which stands one that can
/// be seen and takes as many bytes, so that every place in the text stays true.
pub fn covered(text: &str) -> Cow<'_, str> {
    let hidden = |c: char| unseen(c) && !matches!(c, '\n' | '\r' | '\t');
    if !text.contains(hidden) {
        return Cow::Borrowed(text);
    }
    let cover = |c: char| match c.len_utf8() {
        _ if !hidden(c) => c,
        1 => '?',
        2 => '¿',
        3 => '\u{fffd}',
        _ => '🯄',
    };
    Cow::Owned(text.chars().map(cover).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_cannot_be_seen_is_written_by_its_number() {
        assert_eq!(written("Plover′s ½ “Saal” — é"), "Plover′s ½ “Saal” — é");
        assert_eq!(written("a\u{202e}b\u{1b}[2J\0"), "a\\u{202e}b\\u{1b}[2J\\u{0}");
        assert_eq!(written("a\u{200b}\u{85}\u{2029}\u{7f}"), "a\\u{200b}\\u{85}\\u{2029}\\u{7f}");
    }

    #[test]
    fn what_is_covered_takes_as_many_bytes() {
        let text = "tab\tand\r\nbreaks stay, \u{1b}\u{9b}\u{202e}\u{e0041} do not";
        let shown = covered(text);
        assert_eq!(shown, "tab\tand\r\nbreaks stay, ?¿\u{fffd}🯄 do not");
        assert_eq!(shown.len(), text.len());
        let ends = |text: &str| text.char_indices().map(|(at, _)| at).collect::<Vec<_>>();
        assert_eq!(ends(&shown), ends(text));
    }
}
