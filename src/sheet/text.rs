//! Lines of text: measured in exact integers from the font's advances, and wrapped.
//!
//! A text is made only here, so that every character on a sheet is known to be in the font and no
//! letter is smaller than [`Caps::Body`].

use super::ComposeFault;
use super::model::{Anchor, Face, Ink, Text};
use crate::font;
use crate::geom::{Point, Rect};
use crate::units::Length;

/// Type sizes by the height of a capital, from the series of ISO 3098.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Caps {
    /// 2.5 mm: all that is read.
    Body,
    /// 3.5 mm: headings.
    Head,
    /// 5 mm: the title of a sheet.
    Title,
    /// 7 mm: the label of a wall.
    Label,
}

impl Caps {
    /// The height of a capital.
    pub const fn height(self) -> Length {
        match self {
            Caps::Body => Length::micrometres(2_500),
            Caps::Head => Length::micrometres(3_500),
            Caps::Title => Length::mm(5),
            Caps::Label => Length::mm(7),
        }
    }

    /// From baseline to baseline of lines that belong together.
    pub const fn leading(self) -> Length {
        Length::nanometres(self.height().nm() / 100 * 185)
    }
}

/// How a text looks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Style {
    /// Its size.
    pub caps: Caps,
    /// Its weight.
    pub face: Face,
    /// Its ink.
    pub ink: Ink,
}

impl Style {
    /// Running text and table cells.
    pub const BODY: Style = Style { caps: Caps::Body, face: Face::Regular, ink: Ink::BLACK };
    /// Table heads, and what must be seen in running text.
    pub const STRONG: Style = Style { caps: Caps::Body, face: Face::SemiBold, ink: Ink::BLACK };
    /// Headings.
    pub const HEAD: Style = Style { caps: Caps::Head, face: Face::SemiBold, ink: Ink::BLACK };
    /// The title of a sheet.
    pub const TITLE: Style = Style { caps: Caps::Title, face: Face::SemiBold, ink: Ink::BLACK };
    /// The label of a wall.
    pub const LABEL: Style = Style { caps: Caps::Label, face: Face::SemiBold, ink: Ink::BLACK };

    /// The type size (the em), rounded up so that no capital falls short of its height.
    pub fn size(self) -> Length {
        let em = em_units(self.face);
        let capital = font::face(self.face).capital_height().map_or(em, i64::from).max(1);
        Length::nanometres((self.caps.height().nm() * em + capital - 1) / capital)
    }

    /// From baseline to baseline.
    pub const fn leading(self) -> Length {
        self.caps.leading()
    }
}

fn em_units(face: Face) -> i64 {
    i64::from(font::face(face).units_per_em()).max(1)
}

/// The width of `text` set in `style`.
///
/// # Errors
/// `missing-glyph` when the font lacks one of the characters.
pub fn measure(text: &str, style: Style) -> Result<Length, ComposeFault> {
    let units = units(text, style.face).map_err(|character| ComposeFault::missing_glyph(character, text))?;
    Ok(style.size().scale(units, em_units(style.face)))
}

/// The width of a text in font units, or the first of its characters that the font lacks.
fn units(text: &str, face: Face) -> Result<i64, char> {
    text.chars().try_fold(0, |units, character| {
        let glyph = font::glyph(face, character).ok_or(character)?;
        Ok(units + i64::from(glyph.advance))
    })
}

/// A line of text that reads from below; `anchor` says which part of its baseline stands at `at`.
///
/// # Errors
/// `missing-glyph` when the font lacks one of the characters.
pub fn set(text: impl Into<String>, at: Point, anchor: Anchor, style: Style) -> Result<Text, ComposeFault> {
    let text = text.into();
    let width = measure(&text, style)?;
    Ok(Text { text, at, anchor, face: style.face, size: style.size(), width, upward: false, ink: style.ink })
}

/// A line of text that reads from the right: [`set`] turned a quarter counter-clockwise.
///
/// # Errors
/// `missing-glyph` when the font lacks one of the characters.
pub fn set_upward(
    text: impl Into<String>,
    at: Point,
    anchor: Anchor,
    style: Style,
) -> Result<Text, ComposeFault> {
    Ok(Text { upward: true, ..set(text, at, anchor, style)? })
}

/// The paper that a text takes: its advance width, from the top of its capitals to the foot of
/// its descenders.
pub fn area(text: &Text) -> Rect {
    let face = font::face(text.face);
    let em = em_units(text.face);
    let above = text.size.scale(face.capital_height().map_or(em, i64::from), em);
    let below = text.size.scale(-i64::from(face.descender()), em).min(text.size / 5);
    let left = match text.anchor {
        Anchor::Start => Length::ZERO,
        Anchor::Middle => -text.width / 2,
        Anchor::End => -text.width,
    };
    let right = left + text.width;
    let (x, y) = (text.at.x, text.at.y);
    if text.upward {
        Rect::new(x - above, y - right, x + below, y - left)
    } else {
        Rect::new(x + left, y - above, x + right, y + below)
    }
}

/// Breaks `text` into lines no wider than `width`: between words, never inside a measure such as
/// `9′ 0½″` or `12 yd`; a word wider than a line is broken where it must be.
///
/// # Errors
/// `missing-glyph` when the font lacks one of the characters.
pub fn wrap(text: &str, width: Length, style: Style) -> Result<Vec<String>, ComposeFault> {
    let mut lines = Vec::new();
    let mut open = String::new();
    // What is open grows by its words, so that no line is measured from its beginning for each of them.
    let (size, em) = (style.size(), em_units(style.face));
    let mut open_units = 0;
    for word in words(text) {
        let gap = if open.is_empty() { "" } else { " " };
        let more = units(gap, style.face).and_then(|gap| Ok(gap + units(&word, style.face)?));
        let more =
            more.map_err(|lacking| ComposeFault::missing_glyph(lacking, &format!("{open}{gap}{word}")))?;
        if size.scale(open_units + more, em) <= width {
            open.push_str(gap);
            open.push_str(&word);
            open_units += more;
            continue;
        }
        if !open.is_empty() {
            lines.push(std::mem::take(&mut open));
        }
        open = break_word(word, width, style, &mut lines)?;
        open_units = units(&open, style.face).unwrap_or(0);
    }
    if !open.is_empty() || lines.is_empty() {
        lines.push(open);
    }
    Ok(lines)
}

/// Pushes full lines of a word that is too wide and returns what is left of it.
fn break_word(
    word: String,
    width: Length,
    style: Style,
    lines: &mut Vec<String>,
) -> Result<String, ComposeFault> {
    let mut open = String::new();
    for character in word.chars() {
        let longer = format!("{open}{character}");
        if !open.is_empty() && measure(&longer, style)? > width {
            lines.push(std::mem::take(&mut open));
            open.push(character);
        } else {
            open = longer;
        }
    }
    Ok(open)
}

/// The words of a text, with a figure and its unit kept in one.
fn words(text: &str) -> Vec<String> {
    const UNITS: [&str; 8] = ["mm", "m", "in", "ft", "yd", "yards", "metres", "%"];
    let mut words: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        let bare = word.trim_end_matches(['.', ',', ';', ':', ')']);
        let joins = words.last().and_then(|last| last.chars().last()).is_some_and(|end| {
            let figure = word.starts_with(|c: char| c.is_ascii_digit());
            (end == '′' && figure) || (end.is_ascii_digit() && UNITS.contains(&bare))
        });
        match words.last_mut() {
            Some(last) if joins => {
                last.push(' ');
                last.push_str(word);
            }
            _ => words.push(word.to_owned()),
        }
    }
    words
}

/// `text` cut to `width` between words and ended with an ellipsis, or `None` when a figure would
/// be hidden: a shortened text never hides a number.
///
/// # Errors
/// `missing-glyph` when the font lacks one of the characters.
pub fn shorten(text: &str, width: Length, style: Style) -> Result<Option<String>, ComposeFault> {
    if measure(text, style)? <= width {
        return Ok(Some(text.to_owned()));
    }
    let words = words(text);
    for kept in (1..words.len()).rev() {
        if words[kept..].iter().any(|word| word.chars().any(|c| c.is_numeric())) {
            return Ok(None);
        }
        let short = format!("{}…", words[..kept].join(" "));
        if measure(&short, style)? <= width {
            return Ok(Some(short));
        }
    }
    Ok(None)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn capitals_are_never_short_and_sizes_grow() {
        for (style, caps) in [(Style::BODY, 2_500_000), (Style::HEAD, 3_500_000), (Style::LABEL, 7_000_000)] {
            let face = font::face(style.face);
            let capital = i64::from(face.capital_height().unwrap());
            let drawn = style.size().nm() * capital / i64::from(face.units_per_em());
            assert!((caps..caps + 10).contains(&drawn), "{drawn}");
        }
    }

    #[test]
    fn figures_are_tabular() {
        for style in [Style::BODY, Style::STRONG] {
            let zero = measure("0", style).unwrap();
            for digit in "123456789".chars() {
                assert_eq!(measure(&digit.to_string(), style).unwrap(), zero);
            }
        }
    }

    #[test]
    fn the_font_carries_every_sign_of_the_sheets() {
        for sign in "½¼¾⅛⅜⅝⅞⁄⁰¹²³⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉′″×±°·–—−…↑↓←→≤≥≈".chars()
        {
            for style in [Style::BODY, Style::STRONG] {
                assert!(measure(&sign.to_string(), style).is_ok(), "{sign} {:?}", style.face);
            }
        }
    }

    #[test]
    fn a_character_that_the_font_lacks_is_a_fault() {
        let fault = measure("a 織 b", Style::BODY).unwrap_err();
        assert_eq!(fault.code, "missing-glyph");
        assert!(fault.message.contains('織'));
    }

    #[test]
    fn wrapping_keeps_measures_whole_and_loses_nothing() {
        let text = "Cut 9′ 0½″ and 12 yd, then press.";
        for width in 10..60 {
            let width = Length::mm(width);
            let lines = wrap(text, width, Style::BODY).unwrap();
            if width >= Length::mm(20) {
                assert_eq!(lines.join(" "), text);
                assert!(lines.iter().any(|l| l.contains("9′ 0½″")), "{lines:?}");
                assert!(lines.iter().any(|l| l.contains("12 yd,")), "{lines:?}");
            }
            for line in lines {
                assert!(measure(&line, Style::BODY).unwrap() <= width);
            }
        }
    }

    #[test]
    fn an_ellipsis_never_hides_a_number() {
        let width = Length::mm(30);
        assert_eq!(shorten("short", width, Style::BODY).unwrap().as_deref(), Some("short"));
        let cut = shorten("a long line of words that runs on and on", width, Style::BODY).unwrap().unwrap();
        assert!(cut.ends_with('…') && measure(&cut, Style::BODY).unwrap() <= width);
        assert_eq!(shorten("a long line of words that ends in 12", width, Style::BODY).unwrap(), None);
    }
}
