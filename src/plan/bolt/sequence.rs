//! The best order of lays on one bolt, exactly.
//!
//! A lay that starts at phase a and is L long ends at phase a + L; the next, starting at phase b,
//! must wait a gap of (b - a - L) modulo the vertical repeat V. Which order wastes least is the
//! travelling salesman problem of R. S. Garfinkel, "Minimizing wallpaper waste, part 1: a class of
//! traveling salesman problems", Operations Research 25 (1977) 741-751. It is solved here through
//! the circle of phases: each lay is an edge from its start phase to its end phase, going round
//! forward, and gaps are edges between neighbouring phases. A closed order is an Eulerian circuit;
//! its length is K*V where every phase is covered K times, so K is at least the greatest number of
//! lays over one phase. With that K the missing cover is filled with gap edges, every node is
//! balanced, and the circuit exists exactly when the edges hang together; when they do not, one
//! more turn of gaps ties them. An open order is a closed one less the gap that closes it, so each
//! pair of a last and a first phase is tried as one further edge that costs nothing.

/// A lay to put in order: the phase it starts at (`0..repeat`) and its length, in nanometres.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Item {
    /// Phase at its start.
    pub start: i64,
    /// Length, positive.
    pub length: i64,
}

/// The order of `items` that uses least length on a bolt of vertical repeat `repeat`, and that
/// length: from the start of the first lay to the end of the last.
///
/// The answer is optimal; of equal orders it is always the same one.
pub fn best_order(items: &[Item], repeat: i64) -> (Vec<usize>, i64) {
    if items.is_empty() {
        return (Vec::new(), 0);
    }
    let circle = Circle::new(items, repeat);
    let Some(choice) = circle.best_ends(i64::MAX) else { return (Vec::new(), 0) };
    let order = circle.walk(&choice);
    debug_assert_eq!(length_of(items, repeat, &order), choice.total);
    (order, choice.total)
}

/// The least length of any order: the value of [`best_order`] without the order.
pub fn least_length(items: &[Item], repeat: i64) -> i64 {
    if items.is_empty() { 0 } else { least_length_under(items, repeat, i64::MAX).unwrap_or(i64::MAX) }
}

/// The least length of any order, if it is less than `ceiling`.
pub fn least_length_under(items: &[Item], repeat: i64, ceiling: i64) -> Option<i64> {
    if items.is_empty() {
        return (ceiling > 0).then_some(0);
    }
    let total: i64 = items.iter().map(|i| i.length).sum();
    if total >= ceiling {
        return None;
    }
    Circle::new(items, repeat).best_ends(ceiling).map(|choice| choice.total)
}

/// The length of the lays in a given order.
pub fn length_of(items: &[Item], repeat: i64, order: &[usize]) -> i64 {
    let mut at: Option<i64> = None;
    let mut total = 0;
    for &i in order {
        let item = items[i];
        let gap = at.map_or(0, |end| (item.start - end).rem_euclid(repeat));
        total += gap + item.length;
        at = Some((item.start + item.length).rem_euclid(repeat));
    }
    total
}

struct Circle<'a> {
    items: &'a [Item],
    repeat: i64,
    /// The phases where lays start and end, rising.
    nodes: Vec<i64>,
    /// For each item the nodes of its start and its end.
    ends: Vec<(usize, usize)>,
    /// For each arc from a node to the next, how many lays lie over it.
    cover: Vec<i64>,
}

/// A first and a last phase, and what the order between them costs.
struct Choice {
    first: usize,
    last: usize,
    turns: i64,
    total: i64,
}

impl<'a> Circle<'a> {
    fn new(items: &'a [Item], repeat: i64) -> Self {
        let end_phase = |i: &Item| (i.start + i.length).rem_euclid(repeat);
        let mut nodes: Vec<i64> = items.iter().flat_map(|i| [i.start, end_phase(i)]).collect();
        nodes.sort_unstable();
        nodes.dedup();
        let node = |phase: i64| nodes.partition_point(|&n| n < phase);
        let ends: Vec<_> = items.iter().map(|i| (node(i.start), node(end_phase(i)))).collect();
        // Whole turns lie over every arc, and so does, to begin with, what is left of a lay that runs past the
        // last node; then each adds where it starts and takes away where it ends. A whole number of repeats ends
        // where it starts and has no part left over.
        let mut over: i64 = items.iter().map(|item| item.length / repeat).sum();
        let mut rises = vec![0; nodes.len()];
        for &(from, to) in &ends {
            over += i64::from(from > to);
            rises[from] += 1;
            rises[to] -= 1;
        }
        let cover = rises.into_iter().map(|rise| {
            over += rise;
            over
        });
        let cover = cover.collect();
        Circle { items, repeat, nodes, ends, cover }
    }

    /// The cheapest pair of first and last phase, if it costs less than `ceiling`.
    fn best_ends(&self, ceiling: i64) -> Option<Choice> {
        let most = self.cover.iter().copied().max().unwrap_or(0);
        let free = self.free(most);
        if let Some(choice) = self.longest_closing(most, &free) {
            if choice.total >= ceiling {
                return None;
            }
            if self.hangs_together(&choice) {
                return Some(choice);
            }
        }
        self.best_of_all_ends(most, &free, ceiling)
    }

    /// Steps from each node forward to the next full arc.
    fn free(&self, most: i64) -> Vec<usize> {
        let count = self.nodes.len();
        let mut free = vec![0; count];
        // Twice round, backward.
        for node in (0..count).rev().chain((0..count).rev()) {
            free[node] = if self.cover[node] == most { 0 } else { free[(node + 1) % count] + 1 };
        }
        free
    }

    /// The pair with the longest closing gap that needs no further turn: from each last phase as
    /// far forward as no arc is full. No other pair costs less, if this one hangs together.
    fn longest_closing(&self, most: i64, free: &[usize]) -> Option<Choice> {
        let count = self.nodes.len();
        // A full arc begins where a lay starts: otherwise the arc before it had more lays over it.
        let closing = |&(_, last): &(usize, usize)| {
            let first = (last + free[last]) % count;
            (last, first, (self.nodes[first] - self.nodes[last]).rem_euclid(self.repeat))
        };
        let best = self.ends.iter().map(closing).max_by_key(|c| (c.2, std::cmp::Reverse(c.0)))?;
        let (last, first, gap) = best;
        Some(Choice { first, last, turns: most, total: most * self.repeat - gap })
    }

    /// The cheapest pair that costs less than `ceiling`, every pair tried.
    fn best_of_all_ends(&self, most: i64, free: &[usize], ceiling: i64) -> Option<Choice> {
        let mut firsts: Vec<usize> = self.ends.iter().map(|e| e.0).collect();
        let mut lasts: Vec<usize> = self.ends.iter().map(|e| e.1).collect();
        for list in [&mut firsts, &mut lasts] {
            list.sort_unstable();
            list.dedup();
        }
        // Without a further turn there are gaps all the way from the last phase to the first, so both lie in
        // one part: the closing edge ties no parts together, and takes gaps away. Only to be quick.
        let apart = self.parts(|arc| self.cover[arc] < most, None) > 1;
        let mut choices = Vec::new();
        for &last in &lasts {
            for &first in &firsts {
                let full = free[last] < steps(last, first, self.nodes.len());
                let closing = (self.nodes[first] - self.nodes[last]).rem_euclid(self.repeat);
                let turns = most + i64::from(full);
                let total = turns * self.repeat - closing;
                if total < ceiling && (full || !apart) {
                    choices.push(Choice { first, last, turns, total });
                }
            }
        }
        choices.sort_by_key(|c| c.total);
        // A pair that does not hang together would with one more turn, but another pair then costs less: the same
        // last phase, and for the first the next start beyond the full arc that follows. The gaps part at that arc
        // alone. There is such a start: if all lie before it, it is the only full arc, and all hangs together.
        choices.into_iter().find(|choice| self.hangs_together(choice))
    }

    /// How many gap edges stand on an arc.
    fn gaps(&self, choice: &Choice, arc: usize) -> i64 {
        let count = self.nodes.len();
        let closes = steps(choice.last, arc, count) < steps(choice.last, choice.first, count);
        choice.turns - self.cover[arc] - i64::from(closes)
    }

    /// Whether lays, gaps and the closing edge are one connected piece.
    fn hangs_together(&self, choice: &Choice) -> bool {
        self.parts(|arc| self.gaps(choice, arc) > 0, Some((choice.last, choice.first))) == 1
    }

    /// How many parts that do not hang together lays, gaps and perhaps a closing edge make; `gap` says whether
    /// one stands on an arc.
    fn parts(&self, gap: impl Fn(usize) -> bool, closing: Option<(usize, usize)>) -> usize {
        fn find(root: &mut [usize], mut n: usize) -> usize {
            while root[n] != n {
                root[n] = root[root[n]];
                n = root[n];
            }
            n
        }
        // Gaps tie neighbours together: what is left to tie are the stretches between arcs without one.
        let mut breaks = 0;
        let mut stretch: Vec<usize> = Vec::with_capacity(self.nodes.len());
        for arc in 0..self.nodes.len() {
            stretch.push(breaks);
            breaks += usize::from(!gap(arc));
        }
        let mut root: Vec<usize> = (0..breaks.max(1)).collect();
        let mut parts = root.len();
        for (a, b) in self.ends.iter().copied().chain(closing) {
            if parts == 1 {
                break;
            }
            // Behind the last break the first stretch begins.
            let (a, b) = (find(&mut root, stretch[a] % breaks), find(&mut root, stretch[b] % breaks));
            parts -= usize::from(a != b);
            root[a] = b;
        }
        parts
    }

    /// The order of an Eulerian path from the first phase to the last (Hierholzer's walk).
    fn walk(&self, choice: &Choice) -> Vec<usize> {
        let count = self.nodes.len();
        let mut gaps: Vec<i64> = (0..count).map(|arc| self.gaps(choice, arc)).collect();
        let mut leaving: Vec<Vec<usize>> = vec![Vec::new(); count];
        for (i, &(from, _)) in self.ends.iter().enumerate().rev() {
            leaving[from].push(i);
        }
        let mut path: Vec<(usize, Option<usize>)> = vec![(choice.first, None)];
        let mut order = Vec::with_capacity(self.items.len());
        while let Some(&(node, by)) = path.last() {
            if let Some(item) = leaving[node].pop() {
                path.push((self.ends[item].1, Some(item)));
            } else if gaps[node] > 0 {
                gaps[node] -= 1;
                path.push(((node + 1) % count, None));
            } else {
                path.pop();
                order.extend(by);
            }
        }
        order.reverse();
        order
    }
}

/// How many arcs lie forward from one node to another; none when they are the same.
fn steps(from: usize, to: usize, count: usize) -> usize {
    (to + count - from) % count
}

#[cfg(test)]
mod tests {
    use super::*;

    fn best_by_trial(items: &[Item], repeat: i64) -> i64 {
        fn go(items: &[Item], repeat: i64, order: &mut Vec<usize>, best: &mut i64) {
            if order.len() == items.len() {
                *best = (*best).min(length_of(items, repeat, order));
                return;
            }
            for i in 0..items.len() {
                if !order.contains(&i) {
                    order.push(i);
                    go(items, repeat, order, best);
                    order.pop();
                }
            }
        }
        let mut best = i64::MAX;
        go(items, repeat, &mut Vec::new(), &mut best);
        best
    }

    /// Against every order of up to six lays, on small circles where ties and clashes abound.
    #[test]
    fn equals_trial_of_every_order() {
        let mut state = 0x2545_f491_4f6c_dd1d_u64;
        let mut next = |below: i64| {
            state ^= state << 13;
            state ^= state >> 7;
            state ^= state << 17;
            (state % below as u64) as i64
        };
        for trial in 0..4000 {
            let repeat = 1 + next(if trial % 2 == 0 { 12 } else { 40 });
            let count = 1 + next(6) as usize;
            // Lays of some repeats, short ones that leave part of the circle bare, and whole repeats, which
            // hang together with nothing.
            let length = |next: &mut dyn FnMut(i64) -> i64| match trial % 3 {
                0 => 1 + next(30),
                1 => 1 + next(repeat / 2 + 1),
                _ if next(3) > 0 => repeat * (1 + next(2)),
                _ => 1 + next(repeat),
            };
            let items: Vec<Item> =
                (0..count).map(|_| Item { start: next(repeat), length: length(&mut next) }).collect();
            let (order, total) = best_order(&items, repeat);
            let mut seen = order.clone();
            seen.sort_unstable();
            assert_eq!(seen, (0..count).collect::<Vec<_>>());
            assert_eq!(total, length_of(&items, repeat, &order), "{items:?} {repeat}");
            assert_eq!(total, best_by_trial(&items, repeat), "{items:?} {repeat}");
        }
    }

    /// By hand: lays from 0 to 4 and from 6 to 9 on a circle of 10 wait a gap of 2 between them, or of 1 the
    /// other way round: 4 + 1 + 3, the second lay first.
    #[test]
    fn a_least_length_is_told_only_under_its_ceiling() {
        let items = [Item { start: 0, length: 4 }, Item { start: 6, length: 3 }];
        assert_eq!(best_order(&items, 10), (vec![1, 0], 8));
        assert_eq!(least_length(&items, 10), 8);
        for ceiling in [i64::MIN, 0, 1, 7, 8] {
            assert_eq!(least_length_under(&items, 10, ceiling), None, "{ceiling}");
        }
        for ceiling in [9, 10, i64::MAX] {
            assert_eq!(least_length_under(&items, 10, ceiling), Some(8), "{ceiling}");
        }
    }

    /// By hand: two lays of a whole repeat each hang together by nothing. One ends where it began, and the next
    /// waits half a repeat for its own phase: 10 + 5 + 10.
    #[test]
    fn a_ceiling_holds_where_lays_hang_together_by_a_gap_alone() {
        let items = [Item { start: 0, length: 10 }, Item { start: 5, length: 10 }];
        assert_eq!(least_length(&items, 10), 25);
        assert_eq!(least_length_under(&items, 10, 25), None);
        assert_eq!(least_length_under(&items, 10, 26), Some(25));
    }

    /// Without a gap the least length is that of the lays together.
    #[test]
    fn one_lay_is_as_long_as_it_is() {
        let item = [Item { start: 3, length: 25 }];
        assert_eq!(least_length(&item, 10), 25);
        assert_eq!(least_length_under(&item, 10, 25), None);
        assert_eq!(least_length_under(&item, 10, 26), Some(25));
    }

    #[test]
    fn no_lays_have_no_length() {
        assert_eq!(best_order(&[], 10), (Vec::new(), 0));
        assert_eq!(least_length(&[], 10), 0);
        assert_eq!(least_length_under(&[], 10, 1), Some(0));
        for ceiling in [0, -1] {
            assert_eq!(least_length_under(&[], 10, ceiling), None, "{ceiling}");
        }
    }

    /// By hand: of three lays round a circle, gaps of 1, 2 and 1 lie behind them.
    #[test]
    fn the_longest_closing_gap_is_taken() {
        let items = [(0, 2), (3, 3), (8, 1)].map(|(start, length)| Item { start, length });
        let circle = Circle::new(&items, 10);
        let choice = circle.longest_closing(1, &circle.free(1)).unwrap();
        assert_eq!((circle.nodes[choice.last], circle.nodes[choice.first]), (6, 8));
        assert_eq!((choice.turns, choice.total), (1, 8));
        // A lay from 8 to 1 fills the circle but for 1 to 3: its end is the only one with a gap behind it.
        let items = [(8, 3), (3, 5)].map(|(start, length)| Item { start, length });
        let circle = Circle::new(&items, 10);
        let choice = circle.longest_closing(1, &circle.free(1)).unwrap();
        assert_eq!((circle.nodes[choice.last], circle.nodes[choice.first], choice.total), (1, 3, 8));
        // All three lie over 5 to 6 alone: from 6 the gap is all the way round to 5, from 7 it is 1 less.
        let items = [(3, 4), (4, 2), (5, 2)].map(|(start, length)| Item { start, length });
        let circle = Circle::new(&items, 10);
        let choice = circle.longest_closing(3, &circle.free(3)).unwrap();
        assert_eq!((circle.nodes[choice.last], circle.nodes[choice.first], choice.total), (6, 5, 21));
    }
}
