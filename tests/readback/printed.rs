//! Printed lengths read back.

/// A printed length in millimetres: `12′ 5⅜″`, `48⅞″`, `⁵⁄₁₆″`, `1375` (millimetres); `None` for other words.
pub fn millimetres(words: &str) -> Option<f64> {
    // Words may stand before their length: `S1 4′ 6″`, `fold 1″`.
    let mut words = words;
    while let Some((word, rest)) = words.split_once(' ')
        && word.starts_with(char::is_alphabetic)
    {
        words = rest;
    }
    if !words.contains(['′', '″']) {
        return words.trim_end_matches(" mm").parse().ok();
    }
    let mut total = 0.0;
    let mut part = String::new();
    for character in words.chars() {
        match character {
            '′' => total += number(&std::mem::take(&mut part))? * 304.8,
            '″' => total += number(&std::mem::take(&mut part))? * 25.4,
            other => part.push(other),
        }
    }
    part.trim().is_empty().then_some(total)
}

/// A whole number and a fraction: `5⅜`, `½`, `3⁵⁄₁₆`.
fn number(words: &str) -> Option<f64> {
    const VULGAR: [(char, f64); 9] = [
        ('½', 0.5),
        ('¼', 0.25),
        ('¾', 0.75),
        ('⅛', 0.125),
        ('⅜', 0.375),
        ('⅝', 0.625),
        ('⅞', 0.875),
        ('⅓', 1.0 / 3.0),
        ('⅔', 2.0 / 3.0),
    ];
    let words = words.trim();
    let whole: String = words.chars().take_while(char::is_ascii_digit).collect();
    let rest = &words[whole.len()..];
    let fraction = if rest.is_empty() {
        0.0
    } else if let Some((above, below)) = rest.split_once('⁄') {
        small(above, "⁰¹²³⁴⁵⁶⁷⁸⁹")? / small(below, "₀₁₂₃₄₅₆₇₈₉")?
    } else {
        VULGAR.iter().find(|(sign, _)| rest == sign.to_string()).map(|(_, value)| *value)?
    };
    let whole: f64 = if whole.is_empty() { 0.0 } else { whole.parse().ok()? };
    Some(whole + fraction)
}

/// A number in raised or lowered figures.
fn small(words: &str, figures: &str) -> Option<f64> {
    let figure = |c| figures.chars().position(|known| known == c);
    words.chars().try_fold(0.0, |sum, c| Some(sum * 10.0 + figure(c)? as f64))
}

#[test]
fn printed_lengths_are_read() {
    let same = |words: &str, mm: f64| {
        let read = millimetres(words).unwrap_or(f64::NAN);
        assert!((read - mm).abs() < 1e-9, "{words}: {read}");
    };
    same("12′ 5⅜″", 12.0 * 304.8 + 5.375 * 25.4);
    same("⁵⁄₁₆″", 7.9375);
    same("3¹³⁄₁₆″", 3.8125 * 25.4);
    same("1′ 0¾″", 12.75 * 25.4);
    same("1375", 1375.0);
    same("S1 4′ 6″", 54.0 * 25.4);
    same("M1 F1 ¾″", 0.75 * 25.4);
    assert_eq!(millimetres("4¾″ below a motif"), None);
}
