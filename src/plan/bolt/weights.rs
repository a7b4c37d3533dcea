//! Weights for pieces such that no line across the cloth can cross more than its share.
//!
//! Every set of pieces that can lie side by side on their columns is a *row*. If each piece is given
//! a weight so that no row weighs more than `limit`, then the slots of a phase number at least the
//! weight of all crossings over `limit`. The best weights are the dual values of the linear
//! relaxation that covers all crossings with rows (P. C. Gilmore and R. E. Gomory, "A linear
//! programming approach to the cutting-stock problem", Operations Research 9 (1961) 849-859). They
//! are found in floating point, but the limit is then taken over all rows in whole numbers, so that
//! the bound holds whatever was rounded.

use super::prices::members;

/// Where a piece may lie: its left edges and its width.
pub struct Breadth<'a> {
    /// Left edges.
    pub lefts: &'a [i64],
    /// Width.
    pub width: i64,
}

/// Rows are listed for this many pieces at most, the widest; the others weigh nothing.
const PIECES: usize = 40;
/// With more rows than this the listing is given up for fewer pieces.
const ROWS: usize = 4000;
/// Exchanges of the simplex method.
const EXCHANGES: usize = 200;
/// One, in the units of the weights.
const ONE: f64 = (1_i64 << 24) as f64;

/// The rows of the widest pieces, as sets of their indices.
pub struct Rows {
    sets: Vec<u64>,
    pieces: usize,
}

impl Rows {
    /// Lists the rows of `pieces`, widest first; `None` when even few pieces have too many.
    pub fn of(pieces: &[Breadth]) -> Option<Rows> {
        let mut count = pieces.len().min(PIECES);
        while count > 1 {
            let mut places: Vec<(i64, i64, usize)> = Vec::new();
            for (i, piece) in pieces[..count].iter().enumerate() {
                places.extend(piece.lefts.iter().map(|&u| (u, u + piece.width, i)));
            }
            places.sort_unstable();
            let mut sets = Vec::new();
            if list(&places, 0, i64::MIN, 0, &mut sets) {
                sets.sort_unstable();
                sets.dedup();
                return Some(Rows { sets, pieces: count });
            }
            count /= 2;
        }
        None
    }

    /// Weights for the pieces that make the most of `counts` crossings, and the most that a row
    /// weighs.
    pub fn weights(&self, counts: &[i64]) -> (Vec<i64>, i64) {
        let dual = self.dual(&counts[..self.pieces]);
        let mut weights: Vec<i64> = dual.iter().map(|y| (y.clamp(0.0, 1.0) * ONE) as i64).collect();
        let limit = self.sets.iter().map(|&set| sum(&weights, set)).max().unwrap_or(1).max(1);
        weights.resize(counts.len(), 0);
        (weights, limit)
    }

    /// The dual values of covering `counts` with rows, by the revised simplex method from the basis
    /// of single pieces.
    fn dual(&self, counts: &[i64]) -> Vec<f64> {
        const SMALL: f64 = 1e-9;
        let n = self.pieces;
        let mut inverse: Vec<Vec<f64>> = (0..n).map(|i| unit(n, i)).collect();
        let mut held: Vec<f64> = counts.iter().map(|&c| c as f64).collect();
        let mut cost = vec![1.0; n];
        let mut dual = vec![1.0; n];
        for _ in 0..EXCHANGES {
            // The row that is worth most; or a piece of negative worth, which may be over-covered.
            let worth = |set: u64| members(set).map(|i| dual[i]).sum::<f64>();
            let best = self.sets.iter().map(|&set| (worth(set), set)).max_by(|a, b| a.0.total_cmp(&b.0));
            let least = (0..n).min_by(|&a, &b| dual[a].total_cmp(&dual[b]));
            let (enter, price): (Vec<f64>, f64) = match (best, least) {
                (_, Some(i)) if dual[i] < -SMALL => (unit(n, i).iter().map(|v| -v).collect(), 0.0),
                (Some((value, set)), _) if value > 1.0 + SMALL => {
                    ((0..n).map(|i| if set >> i & 1 == 1 { 1.0 } else { 0.0 }).collect(), 1.0)
                }
                _ => break,
            };
            let turned: Vec<f64> =
                inverse.iter().map(|row| row.iter().zip(&enter).map(|(a, b)| a * b).sum()).collect();
            let ratio = |i: &usize| held[*i] / turned[*i];
            let leaving = (0..n).filter(|&i| turned[i] > SMALL).min_by(|a, b| ratio(a).total_cmp(&ratio(b)));
            let Some(leave) = leaving else { break };
            let step = held[leave] / turned[leave];
            let pivot: Vec<f64> = inverse[leave].iter().map(|v| v / turned[leave]).collect();
            for i in (0..n).filter(|&i| i != leave) {
                held[i] -= turned[i] * step;
                inverse[i].iter_mut().zip(&pivot).for_each(|(a, p)| *a -= turned[i] * p);
            }
            (inverse[leave], held[leave], cost[leave]) = (pivot, step, price);
            for (j, y) in dual.iter_mut().enumerate() {
                *y = (0..n).map(|i| cost[i] * inverse[i][j]).sum();
            }
        }
        dual
    }
}

/// Lists the rows that can be laid from `from` on, right of `edge`, with the pieces of `set` already
/// laid; false when there are too many. A row is kept when no further piece fits at its right.
fn list(places: &[(i64, i64, usize)], from: usize, edge: i64, set: u64, sets: &mut Vec<u64>) -> bool {
    let mut last = true;
    for (next, &(left, right, piece)) in places.iter().enumerate().skip(from) {
        if left < edge || set >> piece & 1 == 1 {
            continue;
        }
        last = false;
        if !list(places, next + 1, right, set | 1 << piece, sets) {
            return false;
        }
    }
    if last && set != 0 {
        sets.push(set);
    }
    sets.len() <= ROWS * 4
}

fn sum(weights: &[i64], set: u64) -> i64 {
    members(set).filter_map(|i| weights.get(i)).sum()
}

fn unit(n: usize, i: usize) -> Vec<f64> {
    (0..n).map(|j| if i == j { 1.0 } else { 0.0 }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Three pieces of which any two lie side by side but not all three: two slots hold three
    /// crossings of each when their partners change, so the weights are a half each.
    #[test]
    fn three_in_a_ring_weigh_a_half_each() {
        let lefts = [0, 50];
        let pieces: Vec<Breadth> = (0..3).map(|_| Breadth { lefts: &lefts, width: 50 }).collect();
        let rows = Rows::of(&pieces).expect("few rows");
        let (weights, limit) = rows.weights(&[2, 2, 2]);
        let slots = weights.iter().map(|w| w * 2).sum::<i64>() as f64 / limit as f64;
        assert!((slots - 3.0).abs() < 1e-6, "{weights:?} of {limit}");
    }

    /// Columns, not widths, decide: two pieces of 40 that both stand on the left never share.
    #[test]
    fn pieces_on_one_column_do_not_share() {
        let pieces: Vec<Breadth> = (0..2).map(|_| Breadth { lefts: &[0], width: 40 }).collect();
        let (weights, limit) = Rows::of(&pieces).expect("few rows").weights(&[3, 4]);
        assert_eq!((weights[0] * 3 + weights[1] * 4 + limit - 1) / limit, 7);
    }
}
