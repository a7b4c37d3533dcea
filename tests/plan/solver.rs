//! Small plans against a general solver, which is told the problem in its own terms: each piece has
//! a column and a whole number of repeats, pieces that overlap across the cloth lie one after the
//! other, and the length from the first cut to the last is least. It is not told that a cutter cuts
//! straight across first, into lengths that lie on the table, so it may do better than any plan, but
//! never worse. Where its answer can be cut so, the plan is as short if it is proved least.

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

/// The least length that the solver finds, and whether a cutter can cut it: straight across into lengths
/// of at most `longest`, then lengthwise.
fn least(pieces: &[Piece], repeat: i64, longest: i64) -> (i64, bool) {
    let most: i64 = pieces.iter().map(|p| p.length + repeat).sum::<i64>() + repeat;
    let big = most as f64 * 2.0;
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let first = problem.add_var(-1.0, (0.0, repeat as f64));
    let last = problem.add_var(1.0, (0.0, most as f64 * 2.0));
    let mut told: Vec<(Variable, Vec<Variable>)> = Vec::new();
    for piece in pieces {
        let turns = problem.add_integer_var(0.0, (0, (most / repeat + 1) as i32));
        let at = problem.add_var(0.0, (0.0, most as f64 * 2.0));
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
    for (i, a) in pieces.iter().enumerate() {
        for (j, b) in pieces.iter().enumerate().skip(i + 1) {
            let order = problem.add_binary_var(0.0);
            for (p, &(ua, _)) in a.places.iter().enumerate() {
                for (q, &(ub, _)) in b.places.iter().enumerate() {
                    if ua + a.width <= ub || ub + b.width <= ua {
                        continue;
                    }
                    let (x, y) = (told[i].1[p], told[j].1[q]);
                    let (at_a, at_b) = (told[i].0, told[j].0);
                    let before = [(at_b, 1.0), (at_a, -1.0), (order, big), (x, -big), (y, -big)];
                    problem.add_constraint(before, ComparisonOp::Ge, a.length as f64 - 2.0 * big);
                    let after = [(at_a, 1.0), (at_b, -1.0), (order, -big), (x, -big), (y, -big)];
                    problem.add_constraint(after, ComparisonOp::Ge, b.length as f64 - 3.0 * big);
                }
            }
        }
    }
    let solution = match problem.solve().expect("a length") {
        SolveOutcome::Solution(solution) => solution,
        SolveOutcome::Interrupted(_) => panic!("no limit was set"),
    };
    let mut laid: Vec<[i64; 4]> = Vec::new();
    for (piece, (at, on)) in pieces.iter().zip(&told) {
        let place = on.iter().position(|&x| solution[x] > 0.5).expect("a place");
        let v = solution[*at].round() as i64;
        laid.push([v, v + piece.length, piece.places[place].0, piece.places[place].0 + piece.width]);
    }
    laid.sort_unstable();
    (solution.objective().round() as i64, can_be_cut(&laid, longest))
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

/// A small run of one wall or two, in whole quarter inches, so that the solver's numbers are small.
fn small_job(seed: u64) -> clothwright::job::model::Job {
    let mut random = Random::new(seed + 7_000);
    let quarter = sixty_fourths(16);
    let starts = random.between(1, 3);
    let horizontal = quarter * random.between(48, 100);
    let vertical = quarter * (random.between(10, 60) * 12);
    let drop = vertical * random.between(0, 3) / 4;
    let mut cloth = cloth(lattice(horizontal, vertical, drop));
    cloth.match_width = horizontal * starts;
    cloth.width = cloth.match_width + inch(2);
    let wide = |random: &mut Random| quarter * random.between(60, 2 * starts * 60);
    let tall = |random: &mut Random| quarter * random.between(330, 430);
    let walls = if random.once_in(2) {
        vec![wall("1", wide(&mut random), tall(&mut random))]
    } else {
        vec![wall("1", wide(&mut random), tall(&mut random)), wall("2", wide(&mut random), tall(&mut random))]
    };
    let angles: Vec<Option<i64>> = if walls.len() == 1 { vec![None; 2] } else { vec![None, Some(90), None] };
    job(cloth, vec![room(walls, &angles, AcrossWish::FromCorner(0))])
}

#[test]
fn small_plans_are_as_short_as_the_solvers() {
    let unit = sixty_fourths(16).nm();
    let (mut compared, mut equal, mut alone, mut proved) = (0, 0, 0, 0);
    for seed in 0..440 {
        let Ok(plan) = plan::make(small_job(seed)) else { continue };
        if plan.pieces.len() > 4 {
            continue;
        }
        let file: Value = serde_json::from_str(&json::plan(&plan)).expect("JSON");
        let (pieces, repeat) = pieces(&file, unit);
        let (used, bound) = (plan.cloths[0].used.nm() / unit, plan.cloths[0].bound.nm() / unit);
        let longest = pieces.iter().map(|p| p.length).max().unwrap_or(0) + repeat.max(4 * 36);
        let (solved, can_be_cut) = least(&pieces, repeat, longest);
        assert!(bound <= used && solved <= used, "seed {seed}: {bound} {solved} {used}");
        if can_be_cut {
            assert!(bound <= solved, "seed {seed}: {bound} {solved} {used}");
        }
        let apart = |a: &Piece, b: &Piece| {
            let beside = |u: i64, w: i64| u + a.width <= w || w + b.width <= u;
            a.places.iter().any(|&(u, _)| b.places.iter().any(|&(w, _)| beside(u, w)))
        };
        let shared = pieces.iter().enumerate().any(|(i, a)| pieces[i + 1..].iter().any(|b| apart(a, b)));
        // Strips that can share no width leave only their order, which is planned exactly.
        if !shared {
            assert_eq!(solved, used, "seed {seed}");
            alone += 1;
        }
        compared += 1;
        equal += usize::from(solved == used);
        proved += usize::from(bound == used);
    }
    println!("{compared} compared, {equal} equal, {alone} of strips alone, {proved} proved least");
    assert!(compared >= 300 && proved * 100 >= compared * 99, "{compared} compared, {proved} proved");
    assert!(equal * 100 >= compared * 98, "{compared} compared, {equal} equal");
}
