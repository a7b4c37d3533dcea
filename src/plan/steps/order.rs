//! Solving an order: a list of things, pairs that say which comes before which.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet, BinaryHeap};

/// The indices of `keys` in an order that keeps every `(first, then)` pair of indices; among those
/// that may come next, always the one that stands first in `keys`.
///
/// # Errors
/// Two indices that each have to come before the other.
pub(super) fn solve<K>(keys: &[K], befores: &[(usize, usize)]) -> Result<Vec<usize>, (usize, usize)> {
    let mut waits = vec![0_usize; keys.len()];
    let mut follows: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for (first, then) in befores {
        waits[*then] += 1;
        follows.entry(*first).or_default().push(*then);
    }
    let mut ready: BinaryHeap<Reverse<usize>> =
        (0..keys.len()).filter(|i| waits[*i] == 0).map(Reverse).collect();
    let mut sorted = Vec::with_capacity(keys.len());
    while let Some(Reverse(next)) = ready.pop() {
        sorted.push(next);
        for then in follows.get(&next).into_iter().flatten() {
            waits[*then] -= 1;
            if waits[*then] == 0 {
                ready.push(Reverse(*then));
            }
        }
    }
    if sorted.len() == keys.len() { Ok(sorted) } else { Err(circle(&waits, befores)) }
}

/// The pairs that no chain of other pairs implies: what a reader needs to know.
pub(super) fn reduced(sorted: &[usize], befores: &[(usize, usize)]) -> Vec<(usize, usize)> {
    let mut all_firsts: Vec<BTreeSet<usize>> = vec![BTreeSet::new(); sorted.len()];
    for (first, then) in befores {
        all_firsts[*then].insert(*first);
    }
    let mut needs: Vec<BTreeSet<usize>> = vec![BTreeSet::new(); sorted.len()];
    let mut kept = Vec::new();
    for then in sorted {
        let firsts = &all_firsts[*then];
        let implied: BTreeSet<usize> = firsts.iter().flat_map(|f| needs[*f].iter().copied()).collect();
        kept.extend(firsts.difference(&implied).map(|first| (*first, *then)));
        needs[*then] = firsts.union(&implied).copied().collect();
    }
    kept
}

/// Two neighbours on a circle among the indices that still wait.
///
/// From any of them, going back to one that it waits for, and on, must come to a place seen before.
fn circle(waits: &[usize], befores: &[(usize, usize)]) -> (usize, usize) {
    let waiting = |i: usize| waits[i] > 0;
    let before = |i: usize| befores.iter().find(|b| b.1 == i && waiting(b.0)).map(|b| b.0);
    let mut at = (0..waits.len()).find(|i| waiting(*i)).unwrap_or_default();
    let mut seen = vec![false; waits.len()];
    while let Some(earlier) = before(at) {
        if seen[at] {
            return (earlier, at);
        }
        seen[at] = true;
        at = earlier;
    }
    (at, at)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn keeps_the_listed_order_where_it_may() {
        assert_eq!(solve(&["a", "b", "c", "d"], &[(2, 1)]), Ok(vec![0, 2, 1, 3]));
    }

    #[test]
    fn a_circle_names_two_of_its_own() {
        let found = solve(&["a", "b", "c", "d"], &[(0, 1), (1, 2), (2, 1), (2, 3)]);
        assert!(matches!(found, Err((1, 2) | (2, 1))), "{found:?}");
    }

    #[test]
    fn what_follows_anyway_is_left_out() {
        let pairs = [(0, 1), (1, 2), (0, 2), (0, 3)];
        assert_eq!(reduced(&[0, 1, 2, 3], &pairs), [(0, 1), (1, 2), (0, 3)]);
    }

    proptest! {
        /// Pairs that all point from a smaller to a greater rank have an order, and it is kept.
        #[test]
        fn every_pair_is_kept(
            ranks in Just((0..24).collect::<Vec<usize>>()).prop_shuffle(),
            pairs in proptest::collection::vec((0..24_usize, 0..24_usize), 0..80),
        ) {
            let befores: Vec<(usize, usize)> =
                pairs.into_iter().filter(|(a, b)| ranks[*a] < ranks[*b]).collect();
            let sorted = solve(&ranks, &befores).expect("an order by rank exists");
            let place = |i: usize| sorted.iter().position(|s| *s == i);
            prop_assert_eq!(sorted.len(), 24);
            for (first, then) in befores {
                prop_assert!(place(first) < place(then));
            }
        }
    }
}
