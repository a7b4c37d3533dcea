//! Characters and words by KDL's rules, as far as the first look at a text needs them.

/// Whether a character ends a line.
pub fn newline(c: char) -> bool {
    matches!(c, '\n' | '\r' | '\u{b}' | '\u{c}' | '\u{85}' | '\u{2028}' | '\u{2029}')
}

/// Characters that KDL forbids anywhere.
pub fn forbidden(c: char) -> bool {
    matches!(c, '\0'..='\u{8}' | '\u{e}'..='\u{1f}' | '\u{7f}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}'
        | '\u{2066}'..='\u{2069}' | '\u{feff}')
}

/// Bytes up to the line's end, which is not counted.
pub fn line_length(text: &str) -> usize {
    text.find(newline).unwrap_or(text.len())
}

/// Whether a character ends a bare word.
pub fn ends_word(c: char) -> bool {
    c.is_whitespace()
        || forbidden(c)
        || matches!(c, '\\' | '/' | '(' | ')' | '{' | '}' | ';' | '[' | ']' | '"' | '#' | '=')
}

/// Bytes of the bare word that the text starts with; none when it starts with a mark.
pub fn word_length(text: &str) -> usize {
    text.find(ends_word).unwrap_or(text.len())
}

/// Whether the text starts like a number.
pub fn starts_number(text: &str) -> bool {
    let unsigned = text.strip_prefix(['+', '-']).unwrap_or(text);
    let unsigned = unsigned.strip_prefix('.').unwrap_or(unsigned);
    unsigned.starts_with(|c: char| c.is_ascii_digit())
        || text.starts_with(['½', '¼', '¾', '⅛', '⅜', '⅝', '⅞'])
}

/// Bytes of what starts like a number, up to a blank: `12mm`, `1/2in`, `9'`, `6"`.
pub fn figure_length(text: &str) -> usize {
    let mut length = 0;
    for (at, c) in text.char_indices() {
        let rest = &text[at..];
        let inch =
            c == '"' && rest[1..].chars().next().is_none_or(|c| c.is_whitespace() || matches!(c, '}' | ';'));
        let bar = c == '/' && !rest.starts_with("//") && !rest.starts_with("/*") && !rest.starts_with("/-");
        if ends_word(c) && !inch && !bar {
            break;
        }
        length = at + c.len_utf8();
        if inch {
            break;
        }
    }
    length
}

/// Whether the characters are a number by KDL's rules.
pub fn is_number(text: &str) -> bool {
    let unsigned = text.strip_prefix(['+', '-']).unwrap_or(text);
    let digits = |s: &str| {
        s.starts_with(|c: char| c.is_ascii_digit()) && s.bytes().all(|b| b.is_ascii_digit() || b == b'_')
    };
    for (prefix, radix) in [("0x", 16), ("0o", 8), ("0b", 2)] {
        if let Some(rest) = unsigned.strip_prefix(prefix) {
            return rest.starts_with(|c: char| c.is_digit(radix))
                && rest.chars().all(|c| c.is_digit(radix) || c == '_');
        }
    }
    let (mantissa, exponent) = match unsigned.split_once(['e', 'E']) {
        Some((mantissa, exponent)) => (mantissa, Some(exponent.strip_prefix(['+', '-']).unwrap_or(exponent))),
        None => (unsigned, None),
    };
    let (whole, decimals) = match mantissa.split_once('.') {
        Some((whole, decimals)) => (whole, Some(decimals)),
        None => (mantissa, None),
    };
    digits(whole) && decimals.is_none_or(digits) && exponent.is_none_or(digits)
}

/// Bytes up to a blank, a brace or a semicolon.
pub fn run_length(text: &str) -> usize {
    let ends = |c: char| c.is_whitespace() || forbidden(c) || matches!(c, '{' | '}' | ';');
    text.find(ends).unwrap_or(text.len())
}

/// Whether the text starts with the rest of an escape such as `{2033}`: a character's number.
pub fn unicode_escape(text: &str) -> bool {
    let digits = text.strip_prefix('{').and_then(|text| text.get(..text.find('}')?));
    let digits = digits.filter(|digits| (1..=6).contains(&digits.len()));
    let number = digits.and_then(|digits| u32::from_str_radix(digits, 16).ok());
    number.is_some_and(|number| char::from_u32(number).is_some())
}
