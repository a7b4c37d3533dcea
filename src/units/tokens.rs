//! The parts of a written length: numbers, fractions, units, dashes.

use super::read::{ReadFault, Unit, fault, unreadable};

/// A part of a written length.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Token {
    /// Digits with perhaps decimals.
    Number(i128, String),
    Fraction(i128, i128),
    Unit(Unit),
    Dash,
    Space,
}

/// Cuts the text into tokens, and tells whether a minus sign stood before them.
pub fn tokens(text: &str) -> Result<(bool, Vec<Token>), ReadFault> {
    let chars: Vec<char> = text.trim_matches(is_space).chars().collect();
    let (negative, mut i) = match chars.first() {
        None => return Err(unreadable("there is no length here")),
        Some('-' | '−') => (true, 1),
        Some('+') => (false, 1),
        Some(_) => (false, 0),
    };
    let mut found = Vec::new();
    while let Some(&c) = chars.get(i) {
        if is_space(c) {
            found.push(Token::Space);
            i += 1;
        } else if c.is_ascii_digit() || c == '.' {
            i = number(text, &chars, i, &mut found)?;
        } else if let Some(value) = small_figure(c, RAISED) {
            i = raised_fraction(&chars, i, value, &mut found)?;
        } else if let Some((n, d)) = fraction_sign(c) {
            found.push(Token::Fraction(n, d));
            i += 1;
        } else if matches!(c, '\'' | '′' | '’') {
            let doubled = chars.get(i + 1) == Some(&c);
            found.push(Token::Unit(if doubled { Unit::Inch } else { Unit::Foot }));
            i += if doubled { 2 } else { 1 };
        } else if matches!(c, '"' | '″' | '”') {
            found.push(Token::Unit(Unit::Inch));
            i += 1;
        } else if matches!(c, '-' | '–' | '‑') {
            found.push(Token::Dash);
            i += 1;
        } else if c == ',' {
            return Err(comma(text));
        } else if c.is_alphabetic() {
            let word: String = chars[i..].iter().take_while(|c| c.is_alphabetic()).collect();
            i += word.chars().count();
            let unit = Unit::from_word(&word).ok_or_else(|| {
                let message = format!("{} is not a unit of length", clipped(&word));
                fault(
                    "length-unreadable",
                    message,
                    "the units are ft, in, yd, mm, cm and m; ' stands for feet and \" for inches",
                )
            })?;
            found.push(Token::Unit(unit));
            // An abbreviation may carry its full stop: `9 ft. 6 in.`
            if chars.get(i) == Some(&'.') && !chars.get(i + 1).is_some_and(char::is_ascii_digit) {
                i += 1;
            }
        } else {
            return Err(unreadable(format!("{} has no place in a length", shown(c))));
        }
    }
    Ok((negative, found))
}

/// A character as a message shows it: itself, or its code when it cannot be seen.
fn shown(c: char) -> String {
    if c.is_control() { format!("the character U+{:04X}", c as u32) } else { format!("“{c}”") }
}

fn is_space(c: char) -> bool {
    c.is_whitespace()
}

fn comma(text: &str) -> ReadFault {
    fault(
        "length-ambiguous",
        format!("the comma in {text} may part thousands or decimals"),
        format!(
            "write {} for thousands, or {} for decimals",
            text.trim().replace(',', ""),
            text.trim().replace(',', ".")
        ),
    )
}

/// Reads `12`, `12.5`, `.5` or `1/2` from `chars[i]`; returns the place after it.
fn number(text: &str, chars: &[char], start: usize, found: &mut Vec<Token>) -> Result<usize, ReadFault> {
    let mut i = start;
    let digits = |i: &mut usize| {
        let from = *i;
        while chars.get(*i).is_some_and(char::is_ascii_digit) {
            *i += 1;
        }
        chars[from..*i].iter().collect::<String>()
    };
    let whole = digits(&mut i);
    let mut decimals = String::new();
    if chars.get(i) == Some(&'.') {
        i += 1;
        decimals = digits(&mut i);
        if decimals.is_empty() {
            return Err(unreadable("a decimal point needs figures after it"));
        }
    } else if matches!(chars.get(i), Some('/' | '⁄')) {
        i += 1;
        let below = digits(&mut i);
        let (n, d) = (small(text, &whole)?, small(text, &below)?);
        if below.is_empty() || d == 0 {
            return Err(unreadable("a fraction needs a figure under its bar"));
        }
        let after_whole = matches!(found.as_slice(), [.., Token::Number(..), Token::Space | Token::Dash]);
        if n >= d && whole.len() > 1 && !after_whole {
            let (first, rest) = whole.split_at(whole.len() - below.len().min(whole.len() - 1));
            return Err(fault(
                "length-ambiguous",
                format!("{whole}/{below} may be {first} {rest}/{below} or the fraction {}/{d}", n),
                format!(
                    "write \"{first} {rest}/{below}\" with a space, or a whole number and a fraction less than one"
                ),
            ));
        }
        if n >= d {
            return Err(unreadable(format!("{n}/{d} is not less than one")));
        }
        found.push(Token::Fraction(n, d));
        return Ok(i);
    }
    found.push(Token::Number(small(text, &whole)?, decimals));
    Ok(i)
}

/// At most twelve digits, so that no product can overflow.
pub fn small(text: &str, digits: &str) -> Result<i128, ReadFault> {
    if digits.len() > 12 {
        return Err(fault(
            "length-too-large",
            format!("{} has too many figures", clipped(text)),
            "check the figure and its unit",
        ));
    }
    Ok(digits.bytes().fold(0, |n, b| n * 10 + i128::from(b - b'0')))
}

/// The first characters of a text that may be long.
pub fn clipped(text: &str) -> String {
    match text.char_indices().nth(24) {
        Some((at, _)) => format!("{}…", &text[..at]),
        None => text.to_owned(),
    }
}

const RAISED: &str = "⁰¹²³⁴⁵⁶⁷⁸⁹";
const LOWERED: &str = "₀₁₂₃₄₅₆₇₈₉";

fn small_figure(c: char, figures: &str) -> Option<i128> {
    figures.chars().position(|f| f == c).map(|n| n as i128)
}

/// `⁵⁄₁₆`, as sheets print it.
fn raised_fraction(
    chars: &[char],
    start: usize,
    first: i128,
    found: &mut Vec<Token>,
) -> Result<usize, ReadFault> {
    let mut i = start + 1;
    let (mut n, mut d) = (first, 0);
    while let Some(figure) = chars.get(i).and_then(|&c| small_figure(c, RAISED)).filter(|_| n < 1000) {
        n = n * 10 + figure;
        i += 1;
    }
    if !matches!(chars.get(i), Some('⁄' | '/')) {
        return Err(unreadable("raised figures need a fraction bar after them"));
    }
    i += 1;
    while let Some(figure) = chars.get(i).and_then(|&c| small_figure(c, LOWERED)).filter(|_| d < 1000) {
        d = d * 10 + figure;
        i += 1;
    }
    if d == 0 || n >= d {
        return Err(unreadable("the fraction is not less than one"));
    }
    found.push(Token::Fraction(n, d));
    Ok(i)
}

fn fraction_sign(c: char) -> Option<(i128, i128)> {
    Some(match c {
        '½' => (1, 2),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        _ => return None,
    })
}
