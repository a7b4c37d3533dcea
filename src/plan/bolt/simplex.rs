//! One exchange of the revised simplex method.
//!
//! See G. B. Dantzig, "Linear Programming and Extensions", Princeton 1963, chapter 9. In floating
//! point: what comes of it is proposed to an exact check and never believed by itself.

/// Smaller pivots are taken for zero.
const SMALL: f64 = 1e-9;

/// The basis of a linear programme that minimises, with the inverse of its matrix.
pub struct Basis {
    size: usize,
    /// By rows.
    inverse: Vec<f64>,
    /// The value of each variable of the basis.
    pub held: Vec<f64>,
    /// What the constraints are worth.
    pub dual: Vec<f64>,
}

impl Basis {
    /// A basis with this inverse, by rows, these values and these costs of its variables.
    pub fn new(inverse: Vec<f64>, held: Vec<f64>, costs: &[f64]) -> Self {
        let size = held.len();
        let mut dual = vec![0.0; size];
        for (row, cost) in inverse.chunks_exact(size).zip(costs).filter(|(_, cost)| **cost != 0.0) {
            dual.iter_mut().zip(row).for_each(|(y, a)| *y += cost * a);
        }
        Basis { size, inverse, held, dual }
    }

    /// Takes in a variable of this column (row and value, where not zero), whose cost is `gain` less
    /// than it is worth. The row whose variable leaves for it; `None` when none can.
    pub fn exchange(&mut self, column: &[(usize, f64)], gain: f64) -> Option<usize> {
        let size = self.size;
        let turned: Vec<f64> = self
            .inverse
            .chunks_exact(size)
            .map(|row| column.iter().map(|&(i, a)| row[i] * a).sum())
            .collect();
        let mut leaving: Option<(f64, usize)> = None;
        for (i, &by) in turned.iter().enumerate().filter(|(_, by)| **by > SMALL) {
            let ratio = self.held[i].max(0.0) / by;
            let better = leaving
                .is_none_or(|(least, j)| ratio < least - SMALL || (ratio < least + SMALL && turned[j] < by));
            if better {
                leaving = Some((ratio, i));
            }
        }
        let (step, leave) = leaving?;
        let row = &mut self.inverse[leave * size..(leave + 1) * size];
        row.iter_mut().for_each(|a| *a /= turned[leave]);
        let pivot: Vec<(usize, f64)> = row.iter().copied().enumerate().filter(|(_, a)| *a != 0.0).collect();
        for (i, &by) in turned.iter().enumerate().filter(|(i, by)| *i != leave && **by != 0.0) {
            self.held[i] -= by * step;
            let row = &mut self.inverse[i * size..(i + 1) * size];
            pivot.iter().for_each(|&(j, a)| row[j] -= by * a);
        }
        self.held[leave] = step;
        pivot.iter().for_each(|&(j, a)| self.dual[j] -= gain * a);
        Some(leave)
    }
}
