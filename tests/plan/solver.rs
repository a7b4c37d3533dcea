//! Small plans against a general solver, which is told the problem in its own terms: each piece has
//! a column and a whole number of repeats, pieces that overlap across the cloth lie one after the
//! other, and the length from the first cut to the last is least. Where its answer cannot be cut by a
//! cutter, who cuts straight across into lengths that lie on the table and these lengthwise, it is told
//! that rule too. The plan is as short as what it then finds.

use clothwright::export::json;
use clothwright::job::model::AcrossWish;
use clothwright::plan;
use microlp::{ComparisonOp, OptimizationDirection, Problem, SolveOutcome, Variable};
use serde_json::Value;

use crate::generate::Random;
use crate::rooms::*;

/// A piece as the solver is told it, in quarter inches, which every length here is a whole number of.
struct Piece {
    width: i64,
    length: i64,
    /// (u, phase) for each column it can lie on.
    places: Vec<(i64, i64)>,
}

fn int(value: &Value, key: &str) -> i64 {
    value[key].as_i64().expect("a whole number")
}

/// The pieces of a plan, from its file alone; every length in units of `unit` nanometres.
fn pieces(plan: &Value, unit: i64) -> (Vec<Piece>, i64) {
    let (cloth, start) = (&plan["cloths"][0], &plan["rooms"][0]["registration"]);
    let (h, v) = (int(&cloth["pattern"], "horizontal"), int(&cloth["pattern"], "vertical"));
    let drop = int(&cloth["pattern"], "drop");
    let (width, selvage, left) = (int(cloth, "width"), int(cloth, "selvage"), int(cloth, "left_match"));
    let piece = |piece: &Value| {
        let (gross, face) = (&piece["gross"], piece["face"].as_array().expect("two ends"));
        let face: Vec<i64> = face.iter().map(|f| f.as_i64().expect("a whole number")).collect();
        let (x0, x1) = (int(gross, "x0"), int(gross, "x1"));
        let places = (-60..60).filter_map(|column| {
            let u = x0 + left - int(start, "match_line") - column * h;
            let on_cloth = u >= 0 && u + x1 - x0 <= width;
            let off_selvage = u + face[0] - x0 >= selvage && u + face[1] - x0 <= width - selvage;
            let phase = (int(start, "y0") - column * drop - int(gross, "y1")).rem_euclid(v);
            (on_cloth && off_selvage).then_some((u / unit, phase / unit))
        });
        Piece {
            width: (x1 - x0) / unit,
            length: (int(gross, "y1") - int(gross, "y0")) / unit,
            places: places.collect(),
        }
    };
    (plan["pieces"].as_array().expect("pieces").iter().map(piece).collect(), v / unit)
}

/// Pieces told to the solver.
struct Told {
    problem: Problem,
    /// Where each begins along the bolt, and which of its places it takes.
    pieces: Vec<(Variable, Vec<Variable>)>,
    /// No length here reaches it.
    big: f64,
}

impl Told {
    /// Each piece has one place and lies between the first and the last cut, whose distance is least.
    fn new(pieces: &[Piece], repeat: i64) -> Told {
        let most: i64 = pieces.iter().map(|p| p.length + repeat).sum::<i64>() + repeat;
        let big = most as f64 * 2.0;
        let mut problem = Problem::new(OptimizationDirection::Minimize);
        let first = problem.add_var(-1.0, (0.0, repeat as f64));
        let last = problem.add_var(1.0, (0.0, big));
        let mut told: Vec<(Variable, Vec<Variable>)> = Vec::new();
        for piece in pieces {
            let turns = problem.add_integer_var(0.0, (0, (most / repeat + 1) as i32));
            let at = problem.add_var(0.0, (0.0, big));
            let on: Vec<Variable> = piece.places.iter().map(|_| problem.add_binary_var(0.0)).collect();
            let one: Vec<(Variable, f64)> = on.iter().map(|&x| (x, 1.0)).collect();
            problem.add_constraint(&one, ComparisonOp::Eq, 1.0);
            let mut place = vec![(at, 1.0), (turns, -(repeat as f64))];
            place.extend(on.iter().zip(&piece.places).map(|(&x, &(_, phase))| (x, -(phase as f64))));
            problem.add_constraint(&place, ComparisonOp::Eq, 0.0);
            problem.add_constraint([(at, 1.0), (first, -1.0)], ComparisonOp::Ge, 0.0);
            problem.add_constraint([(last, 1.0), (at, -1.0)], ComparisonOp::Ge, piece.length as f64);
            told.push((at, on));
        }
        Told { problem, pieces: told, big }
    }

    /// Pieces that overlap across the cloth lie one after the other.
    fn apart(mut self, pieces: &[Piece]) -> Told {
        let big = self.big;
        for (i, a) in pieces.iter().enumerate() {
            for (j, b) in pieces.iter().enumerate().skip(i + 1) {
                let order = self.problem.add_binary_var(0.0);
                for (p, &(ua, _)) in a.places.iter().enumerate() {
                    for (q, &(ub, _)) in b.places.iter().enumerate() {
                        if ua + a.width <= ub || ub + b.width <= ua {
                            continue;
                        }
                        let (x, y) = (self.pieces[i].1[p], self.pieces[j].1[q]);
                        let (at_a, at_b) = (self.pieces[i].0, self.pieces[j].0);
                        let before = [(at_b, 1.0), (at_a, -1.0), (order, big), (x, -big), (y, -big)];
                        self.problem.add_constraint(before, ComparisonOp::Ge, a.length as f64 - 2.0 * big);
                        let after = [(at_a, 1.0), (at_b, -1.0), (order, -big), (x, -big), (y, -big)];
                        self.problem.add_constraint(after, ComparisonOp::Ge, b.length as f64 - 3.0 * big);
                    }
                }
            }
        }
        self
    }

    /// Of two pieces one lies in a length cut before the other's; or in one length with it, and there in a
    /// column at its left or right, or in one column with it, before it or after. Lengths are at most
    /// `longest`, and the cloth is `width` wide.
    fn by_a_cutter(mut self, pieces: &[Piece], longest: i64, width: i64) -> Told {
        let (big, wide) = (self.big, width as f64);
        let problem = &mut self.problem;
        // The length and the column that each lies in, from and to.
        let mut within: Vec<[Variable; 4]> = Vec::new();
        for (piece, (at, on)) in pieces.iter().zip(&self.pieces) {
            let [v0, v1] = [0; 2].map(|_| problem.add_var(0.0, (0.0, big)));
            let [u0, u1] = [0; 2].map(|_| problem.add_var(0.0, (0.0, wide)));
            problem.add_constraint([(*at, 1.0), (v0, -1.0)], ComparisonOp::Ge, 0.0);
            problem.add_constraint([(v1, 1.0), (*at, -1.0)], ComparisonOp::Ge, piece.length as f64);
            problem.add_constraint([(v1, 1.0), (v0, -1.0)], ComparisonOp::Le, longest as f64);
            let place = || on.iter().zip(&piece.places).map(|(&x, &(u, _))| (x, u as f64));
            let left: Vec<_> = place().chain([(u0, -1.0)]).collect();
            problem.add_constraint(&left, ComparisonOp::Ge, 0.0);
            let right: Vec<_> = place().map(|(x, u)| (x, -u)).chain([(u1, 1.0)]).collect();
            problem.add_constraint(&right, ComparisonOp::Ge, piece.width as f64);
            within.push([v0, v1, u0, u1]);
        }
        for (i, a) in pieces.iter().enumerate() {
            for (j, b) in pieces.iter().enumerate().skip(i + 1) {
                let ways = [0; 6].map(|_| problem.add_binary_var(0.0));
                let [before, after, left, right, above, below] = ways;
                problem.add_constraint(ways.map(|way| (way, 1.0)), ComparisonOp::Eq, 1.0);
                let ([av0, av1, au0, au1], [bv0, bv1, bu0, bu1]) = (within[i], within[j]);
                let mut follows = |end: Variable, start: Variable, if_so: Variable, gap: i64, most: f64| {
                    let told = [(start, 1.0), (end, -1.0), (if_so, -most)];
                    problem.add_constraint(told, ComparisonOp::Ge, gap as f64 - most);
                };
                follows(av1, bv0, before, 0, big);
                follows(bv1, av0, after, 0, big);
                follows(au1, bu0, left, 0, wide);
                follows(bu1, au0, right, 0, wide);
                follows(self.pieces[i].0, self.pieces[j].0, above, a.length, 2.0 * big);
                follows(self.pieces[j].0, self.pieces[i].0, below, b.length, 2.0 * big);
                let mut alike = |a: Variable, b: Variable, unless: &[Variable], most: f64| {
                    for (a, b) in [(a, b), (b, a)] {
                        let told = unless.iter().map(|&x| (x, -most)).chain([(a, 1.0), (b, -1.0)]);
                        problem.add_constraint(told.collect::<Vec<_>>(), ComparisonOp::Le, 0.0);
                    }
                };
                alike(av0, bv0, &[before, after], big);
                alike(av1, bv1, &[before, after], big);
                alike(au0, bu0, &[before, after, left, right], wide);
                alike(au1, bu1, &[before, after, left, right], wide);
            }
        }
        self
    }

    /// The least length, and pieces as laid for it: v from and to, u from and to, by rising v.
    fn least(&self, pieces: &[Piece]) -> (i64, Vec<[i64; 4]>) {
        let solution = match self.problem.solve().expect("a length") {
            SolveOutcome::Solution(solution) => solution,
            SolveOutcome::Interrupted(_) => panic!("no limit was set"),
        };
        let mut laid: Vec<[i64; 4]> = Vec::new();
        for (piece, (at, on)) in pieces.iter().zip(&self.pieces) {
            let place = on.iter().position(|&x| solution[x] > 0.5).expect("a place");
            let (v, u) = (solution[*at].round() as i64, piece.places[place].0);
            laid.push([v, v + piece.length, u, u + piece.width]);
        }
        laid.sort_unstable();
        (solution.objective().round() as i64, laid)
    }
}

/// The least length that a cutter can do with, and whether he has to be told of.
fn least(pieces: &[Piece], repeat: i64, longest: i64, width: i64) -> (i64, bool) {
    let (length, laid) = Told::new(pieces, repeat).apart(pieces).least(pieces);
    if can_be_cut(&laid, longest) {
        return (length, false);
    }
    let (length, laid) = Told::new(pieces, repeat).by_a_cutter(pieces, longest, width).least(pieces);
    assert!(can_be_cut(&laid, longest), "{laid:?}");
    (length, true)
}

/// Whether pieces (v from and to, u from and to, by rising v) lie in lengths of at most `longest`, and in
/// each in columns one after the other.
fn can_be_cut(laid: &[[i64; 4]], longest: i64) -> bool {
    let mut lays: Vec<Vec<[i64; 4]>> = Vec::new();
    let mut end = i64::MIN;
    for piece in laid {
        match lays.last_mut() {
            Some(lay) if piece[0] < end => lay.push(*piece),
            _ => lays.push(vec![*piece]),
        }
        end = end.max(piece[1]);
    }
    lays.iter_mut().all(|lay| {
        let length = lay.iter().map(|p| p[1]).max().unwrap_or(0) - lay[0][0];
        lay.sort_unstable_by_key(|p| p[2]);
        let mut column: Vec<[i64; 4]> = Vec::new();
        let apart = lay.iter().all(|p| {
            if column.iter().all(|c| c[3] <= p[2]) {
                column.clear();
            }
            let apart = column.iter().all(|c| c[1] <= p[0] || p[1] <= c[0]);
            column.push(*p);
            apart
        });
        apart && length <= longest
    })
}

/// A small run of walls in whole quarter inches, so that the solver's numbers are small: one wall or two
/// of some widths, or three or four narrow ones whose strips share widths of cloth.
fn small_job(seed: u64, narrow: bool) -> clothwright::job::model::Job {
    let mut random = Random::new(seed + 7_000);
    let quarter = sixty_fourths(16);
    let starts = random.between(1, 3);
    let horizontal = quarter * random.between(48, 100);
    let vertical = quarter * (random.between(10, 60) * 12);
    let drop = vertical * random.between(0, 3) / 4;
    let mut cloth = cloth(lattice(horizontal, vertical, drop));
    cloth.match_width = horizontal * starts;
    cloth.width = cloth.match_width + inch(2);
    let widest = if narrow { starts * 40 } else { 2 * starts * 60 };
    let count = if narrow { random.between(3, 4) } else { random.between(1, 2) };
    let walls: Vec<_> = (1..=count)
        .map(|label| {
            let wide = quarter * random.between(if narrow { 30 } else { 60 }, widest);
            wall(&label.to_string(), wide, quarter * random.between(330, 430))
        })
        .collect();
    // A run of walls has no corner at its ends.
    let mut angles = vec![Some(90); walls.len() + 1];
    (angles[0], angles[walls.len()]) = (None, None);
    job(cloth, vec![room(walls, &angles, AcrossWish::FromCorner(0))])
}

#[test]
fn small_plans_are_as_short_as_the_solvers() {
    let unit = sixty_fourths(16).nm();
    let (mut compared, mut as_cut, mut sharing, mut offset, mut proved) = (0, 0, 0, 0, 0);
    for seed in 0..640 {
        let Ok(plan) = plan::make(small_job(seed, seed >= 320)) else { continue };
        if plan.pieces.len() > 4 {
            continue;
        }
        let file: Value = serde_json::from_str(&json::plan(&plan)).expect("JSON");
        let (pieces, repeat) = pieces(&file, unit);
        let (used, bound) = (plan.cloths[0].used.nm() / unit, plan.cloths[0].bound.nm() / unit);
        let longest = pieces.iter().map(|p| p.length).max().unwrap_or(0) + repeat.max(4 * 36);
        let width = int(&file["cloths"][0], "width") / unit;
        let (solved, told) = least(&pieces, repeat, longest, width);
        assert!(bound <= used, "seed {seed}: {bound} {used}");
        assert_eq!(solved, used, "seed {seed}");
        let apart = |a: &Piece, b: &Piece| {
            let beside = |u: i64, w: i64| u + a.width <= w || w + b.width <= u;
            a.places.iter().any(|&(u, _)| b.places.iter().any(|&(w, _)| beside(u, w)))
        };
        let shared = pieces.iter().enumerate().any(|(i, a)| pieces[i + 1..].iter().any(|b| apart(a, b)));
        compared += 1;
        as_cut += usize::from(told);
        sharing += usize::from(shared);
        offset += usize::from(int(&file["cloths"][0]["pattern"], "drop") != 0);
        proved += usize::from(bound == used);
    }
    println!(
        "{compared} compared, {sharing} with parts that may share a width, {offset} offset; in {as_cut} the cutter's \
         rule was told; {proved} proved least"
    );
    assert_eq!(proved, compared);
    assert!(compared >= 300 && sharing >= 100 && compared - sharing >= 50, "{compared}, {sharing} sharing");
    assert!(offset >= 100 && compared - offset >= 50 && as_cut > 0, "{offset} offset, {as_cut} as cut");
}
