//! How good and how fast the cloth plans are, over 1,000 generated rooms.
//!
//! `cargo bench --bench rooms` prints the table that stands in DEVELOPERS.md; with a number after
//! `--` it takes that many rooms. Times are of one core of the machine it runs on; every other
//! figure is the same on every machine.

#[path = "../plan/generate.rs"]
mod generate;
#[allow(dead_code, reason = "the tests use what the benchmark does not")]
#[path = "../plan/rooms.rs"]
mod rooms;

use std::time::{Duration, Instant};

use clothwright::job::model::Job;
use clothwright::plan;
use clothwright::plan::model::ClothPlan;

/// What one room gave.
struct Sample {
    cloth: ClothPlan,
    time: Duration,
}

fn main() {
    let count = std::env::args().filter_map(|a| a.parse().ok()).next().unwrap_or(1000);
    println!(
        "{:28} {:>6} {:>7} {:>9} {:>9} {:>9} {:>9} {:>8} {:>8}",
        "rooms", "planned", "proved", "mean gap", "worst gap", "round-up", "add-one", "median", "99th"
    );
    let plain_of = |job: &Job| job.cloths[0].pattern.is_none();
    let starts = |job: &Job| {
        let cloth = &job.cloths[0];
        cloth.pattern.map_or(0, |p| cloth.match_width.div_floor(p.horizontal))
    };
    let without_trim = |seed| {
        let mut job = generate::random_job(seed);
        rooms::without_trim(&mut job);
        job
    };
    row("strips and parts, no trim", count, without_trim, |_| true);
    row("  plain cloth", count, without_trim, plain_of);
    for m in 1..=4 {
        row(&format!("  m = {m}"), count, without_trim, |job| starts(job) == m);
    }
    row("  m over 4", count, without_trim, |job| starts(job) > 4);
    row("with trim", count, generate::random_job, |_| true);
}

fn row(name: &str, count: u64, job: impl Fn(u64) -> Job, wanted: impl Fn(&Job) -> bool) {
    let mut samples = Vec::new();
    let mut tried = 0;
    for job in (0..count).map(job).filter(wanted) {
        tried += 1;
        let start = Instant::now();
        if let Ok(mut plan) = plan::make(job) {
            samples.push(Sample { time: start.elapsed(), cloth: plan.cloths.remove(0) });
        }
    }
    if samples.is_empty() {
        return;
    }
    let n = samples.len() as f64;
    let ratio = |a: i64, b: i64| a as f64 / b as f64 * 100.0;
    let gap = |s: &Sample| ratio((s.cloth.used - s.cloth.bound).nm(), s.cloth.used.nm());
    let proved = samples.iter().filter(|s| s.cloth.used == s.cloth.bound).count();
    let worst = samples.iter().map(gap).fold(0.0, f64::max);
    let saving = |rule: usize| {
        let of = |s: &Sample| {
            let hand = s.cloth.hand_rules[rule].length;
            ratio((hand - s.cloth.used).nm(), hand.nm())
        };
        samples.iter().map(of).sum::<f64>() / n
    };
    let mut times: Vec<Duration> = samples.iter().map(|s| s.time).collect();
    times.sort();
    let at = |share: usize| times[(times.len() - 1) * share / 100].as_secs_f64() * 1e3;
    println!(
        "{name:28} {:>7} {:>6.1}% {:>8.2}% {worst:>8.2}% {:>8.2}% {:>8.2}% {:>6.2}ms {:>6.2}ms",
        format!("{}/{tried}", samples.len()),
        proved as f64 / n * 100.0,
        samples.iter().map(gap).sum::<f64>() / n,
        saving(0),
        saving(1),
        at(50),
        at(99),
    );
}
