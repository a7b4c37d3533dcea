//! Two sequences matched: walls, corners, openings and pieces keep their order when others are put
//! between them, so what is common to both is found in order.

use super::super::model::Pair;

/// The members of two sequences side by side, in order: each as an index, `None` where the other
/// sequence has nothing like it.
pub type Matched = Vec<Pair<Option<usize>>>;

/// Matches two sequences so that the sum of `alike` over all pairs is greatest. A pair that is alike by
/// zero or less is none. `names` decide between equal sums, so that exchanging the two sequences only
/// exchanges the two sides of the answer.
pub fn matched(names: Pair<&[String]>, alike: impl Fn(usize, usize) -> i64) -> Matched {
    best(names, &alike).1
}

/// The same of long sequences: members at both ends that are the `same` beyond doubt are matched first, so
/// that only what lies between them takes time.
pub fn matched_between(
    names: Pair<&[String]>,
    same: impl Fn(usize, usize) -> bool,
    alike: impl Fn(usize, usize) -> i64,
) -> Matched {
    let count = names.map(<[String]>::len);
    let least = count.was.min(count.now);
    let before = (0..least).take_while(|&n| same(n, n)).count();
    let behind = (1..=least - before).take_while(|&n| same(count.was - n, count.now - n)).count();
    let middle = Pair::new(&names.was[before..count.was - behind], &names.now[before..count.now - behind]);
    let both = |was, now| Pair::new(Some(was), Some(now));
    let mut pairs: Matched = (0..before).map(|n| both(n, n)).collect();
    let found = matched(middle, |i, j| alike(before + i, before + j));
    pairs.extend(found.into_iter().map(|pair| pair.map(|index| index.map(|index| index + before))));
    pairs.extend((1..=behind).rev().map(|n| both(count.was - n, count.now - n)));
    pairs
}

/// The same of two rings, which may start at different members: `shift` is where the new one is taken
/// to start. Returned with the new one's own indices, in the order of the old.
pub fn matched_rings(names: Pair<&[String]>, alike: impl Fn(usize, usize) -> i64) -> (usize, Matched) {
    let count = names.now.len();
    let turned = |shift: usize| {
        let now: Vec<String> = (0..count).map(|j| names.now[(j + shift) % count].clone()).collect();
        best(Pair::new(names.was, &now), &|i, j| alike(i, (j + shift) % count))
    };
    let mut found = (0, best(names, &alike));
    for shift in 1..count {
        let other = turned(shift);
        if other.0 > found.1.0 {
            found = (shift, other);
        }
    }
    let (shift, (_, pairs)) = found;
    let own = |pair: Pair<Option<usize>>| Pair { now: pair.now.map(|j| (j + shift) % count), ..pair };
    (shift, pairs.into_iter().map(own).collect())
}

fn best(names: Pair<&[String]>, alike: &dyn Fn(usize, usize) -> i64) -> (i64, Matched) {
    let (rows, columns) = (names.was.len(), names.now.len());
    // sums[i][j]: the greatest sum for the first i of one and the first j of the other.
    let mut sums = vec![vec![0; columns + 1]; rows + 1];
    for i in 0..rows {
        for j in 0..columns {
            let pair = sums[i][j] + alike(i, j).max(0);
            sums[i + 1][j + 1] = pair.max(sums[i][j + 1]).max(sums[i + 1][j]);
        }
    }
    let mut pairs = Vec::new();
    let (mut i, mut j) = (rows, columns);
    while i > 0 || j > 0 {
        if i > 0 && j > 0 {
            let value = alike(i - 1, j - 1);
            if value > 0 && sums[i][j] == sums[i - 1][j - 1] + value {
                (i, j) = (i - 1, j - 1);
                pairs.push(Pair::new(Some(i), Some(j)));
                continue;
            }
        }
        let without_was = i > 0 && sums[i - 1][j] == sums[i][j];
        let without_now = j > 0 && sums[i][j - 1] == sums[i][j];
        // Where either may be left out, the one with the later name is, whichever side it is on.
        let was = without_was && (!without_now || names.was[i - 1] > names.now[j - 1]);
        if was {
            i -= 1;
            pairs.push(Pair::new(Some(i), None));
        } else {
            j -= 1;
            pairs.push(Pair::new(None, Some(j)));
        }
    }
    pairs.reverse();
    (sums[rows][columns], pairs)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(was: &[&str], now: &[&str], rings: bool) -> Vec<(Option<usize>, Option<usize>)> {
        let names = |list: &[&str]| list.iter().map(|&name| name.to_owned()).collect::<Vec<_>>();
        let (was, now) = (names(was), names(now));
        let pair = Pair::new(was.as_slice(), now.as_slice());
        let alike = |i: usize, j: usize| i64::from(was[i] == now[j]);
        let pairs = if rings { matched_rings(pair, alike).1 } else { matched(pair, alike) };
        pairs.into_iter().map(|pair| (pair.was, pair.now)).collect()
    }

    #[test]
    fn what_is_put_between_others_is_found() {
        assert_eq!(
            told(&["a", "b"], &["a", "x", "b"], false),
            [(Some(0), Some(0)), (None, Some(1)), (Some(1), Some(2))]
        );
        assert_eq!(told(&["a"], &[], false), [(Some(0), None)]);
        assert_eq!(
            told(&["a", "b", "c"], &["c", "a", "b"], true),
            [(Some(0), Some(1)), (Some(1), Some(2)), (Some(2), Some(0))]
        );
    }

    #[test]
    fn what_is_the_same_at_both_ends_is_matched_all_the_same() {
        let name = |list: &str| list.chars().map(String::from).collect::<Vec<_>>();
        for (was, now) in
            [("abc", "abc"), ("abcd", "abxcd"), ("aa", "aaa"), ("", "ab"), ("abc", "xyz"), ("ab", "ba")]
        {
            let (was, now) = (name(was), name(now));
            let pair = Pair::new(was.as_slice(), now.as_slice());
            let alike = |i: usize, j: usize| i64::from(was[i] == now[j]);
            let whole = matched(pair, alike);
            let between = matched_between(pair, |i, j| was[i] == now[j], alike);
            let common = |pairs: &Matched| {
                pairs.iter().filter(|pair| pair.was.is_some() && pair.now.is_some()).count()
            };
            assert_eq!(common(&whole), common(&between), "{was:?} {now:?}");
            let all = |side: fn(&Pair<Option<usize>>) -> Option<usize>| {
                between.iter().filter_map(side).collect::<Vec<_>>()
            };
            assert_eq!(all(|pair| pair.was), (0..was.len()).collect::<Vec<_>>());
            assert_eq!(all(|pair| pair.now), (0..now.len()).collect::<Vec<_>>());
        }
    }

    #[test]
    fn exchanging_the_sequences_exchanges_the_answer() {
        for (was, now) in
            [(&["a", "b"][..], &["b", "a"][..]), (&["a", "b", "c"], &["c", "x", "a"]), (&["a"], &["a", "a"])]
        {
            let mut there = told(was, now, false);
            let mut back: Vec<_> = told(now, was, false).into_iter().map(|(was, now)| (now, was)).collect();
            there.sort();
            back.sort();
            assert_eq!(there, back);
        }
    }
}
