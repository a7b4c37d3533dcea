//! Jobs that nobody would write: demo jobs with lines lost, doubled and moved, and with values
//! that are absurd. Whatever they say, the program answers; it never panics and never hangs.
//!
//! `CLOTHWRIGHT_ROUNDS=20000 cargo test --release --test absurd_jobs` tries more of them.

use std::panic::{self, AssertUnwindSafe};
use std::sync::atomic::{AtomicUsize, Ordering};

#[path = "common/bounds.rs"]
mod bounds;

use bounds::{Bounds, within};
use clothwright::binder::{Binder, Format, Wish};
use clothwright::diag::Diags;
use clothwright::sheet::model::Reader;
use clothwright::source::Sources;
use clothwright::{job, parse, plan, report};

/// How many jobs are tried when nothing else is said.
const ROUNDS: usize = 400;

/// What so many jobs may take together, in a build without optimisation: many times what they take.
fn bounds(rounds: usize) -> Bounds {
    Bounds { seconds: 60 + rounds as u32 / 4, megabytes: 2_000 }
}

fn rounds() -> usize {
    std::env::var("CLOTHWRIGHT_ROUNDS").ok().and_then(|rounds| rounds.parse().ok()).unwrap_or(ROUNDS)
}

/// Values to put in the place of others.
const VALUES: [&str; 30] = [
    "0",
    "1",
    "-1",
    "3",
    "1e9",
    "99999999999999999999",
    "0.0001",
    "#nan",
    "#inf",
    "#true",
    "#null",
    "\"\"",
    "\"0in\"",
    "\"1/64in\"",
    "\"1/4in\"",
    "\"3in\"",
    "\"7ft 1/2in\"",
    "\"40ft\"",
    "\"300ft\"",
    "\"999999ft\"",
    "\"10km\"",
    "\"-4in\"",
    "\"1/0in\"",
    "\"9′ 0½″\"",
    "\"布\"",
    "\"a\\u{202e}b\\u{0}\"",
    "half",
    "free",
    "outside",
    "(x)1",
];

/// A small generator of numbers, so that a failure can be repeated from its round.
struct Dice(u64);

impl Dice {
    /// SplitMix64 (Steele, Lea, Flood 2014).
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    fn below(&mut self, end: usize) -> usize {
        (self.next() % end.max(1) as u64) as usize
    }

    fn one<'a, T: ?Sized>(&mut self, of: &[&'a T]) -> &'a T {
        of[self.below(of.len())]
    }
}

/// A demo job with one to six changes.
fn job_text(round: usize, demos: &[String]) -> String {
    let mut dice = Dice(round as u64);
    let mut text = demos[dice.below(demos.len())].clone();
    for _ in 0..=dice.below(6) {
        text = changed(&text, &mut dice);
    }
    text
}

fn changed(text: &str, dice: &mut Dice) -> String {
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    if lines.is_empty() {
        return dice.one(&VALUES).to_owned();
    }
    let (here, there) = (dice.below(lines.len()), dice.below(lines.len()));
    match dice.below(10) {
        0 => drop(lines.remove(here)),
        1 => lines.insert(there, lines[here].clone()),
        2 => lines.swap(here, there),
        3 => {
            // The file ends in the middle of a line.
            let end =
                text.char_indices().map(|(at, _)| at).nth(dice.below(text.chars().count())).unwrap_or(0);
            return text[..end].to_owned();
        }
        _ => {
            // The values of a line, in quotes or not, after a blank or an equals sign.
            let line = &lines[here];
            let starts: Vec<usize> = line
                .char_indices()
                .filter(|(at, c)| {
                    *at > 0 && matches!(line.as_bytes()[at - 1], b' ' | b'=') && !c.is_whitespace()
                })
                .map(|(at, _)| at)
                .collect();
            if starts.is_empty() {
                return text.to_owned();
            }
            let start = starts[dice.below(starts.len())];
            let quoted = line[start..].starts_with('"');
            let end = line[start + 1..]
                .find(|c: char| if quoted { c == '"' } else { c.is_whitespace() || c == '=' })
                .map_or(line.len(), |length| start + 1 + length + usize::from(quoted));
            lines[here] = format!("{}{}{}", &line[..start], dice.one(&VALUES), &line[end..]);
        }
    }
    lines.join("\n")
}

/// The whole run, in memory; whether it came to a binder.
fn run(text: &str) -> bool {
    let mut sources = Sources::default();
    let file = sources.add("absurd.kdl", text);
    let mut diags = Diags::default();
    let parsed = parse::parse(text, file, &mut diags);
    let job = parsed.and_then(|parsed| job::check(&parsed, &mut diags));
    let errors = diags.has_errors();
    let told = diags.sorted();
    report::human(&sources, &told, report::Look { width: 80, colour: false });
    report::json(&sources, &told);
    let Some((job, _)) = job else {
        assert!(errors, "no job, and no word why");
        return false;
    };
    let wish = Wish { readers: Reader::ALL.to_vec(), formats: Format::ALL.to_vec(), paper: None };
    match plan::make(job) {
        Ok(plan) => match Binder::make(&plan, &wish, &|_, _| Ok(())) {
            Ok(_) => true,
            Err(clothwright::binder::BinderFault::Compose(_)) => false,
            Err(fault) => panic!("a sheet that no file can hold: {fault}"),
        },
        Err(_) => false,
    }
}

#[test]
fn no_job_makes_the_program_panic_or_hang() {
    within(bounds(rounds()), "no_job_makes_the_program_panic_or_hang", many_jobs);
}

fn many_jobs() {
    let rounds = rounds();
    let demos: Vec<String> = ["feature-wall", "metric-attic-study", "plover-house-stair", "tern-inn-parlour"]
        .iter()
        .map(|name| std::fs::read_to_string(format!("jobs/{name}.kdl")).unwrap())
        .collect();
    let next = AtomicUsize::new(0);
    let drawn = AtomicUsize::new(0);
    std::thread::scope(|scope| {
        for _ in 0..2 {
            scope.spawn(|| {
                loop {
                    let round = next.fetch_add(1, Ordering::Relaxed);
                    if round >= rounds {
                        return;
                    }
                    let text = job_text(round, &demos);
                    // The last told are those that passed the bounds, if any do.
                    eprintln!("round {round}");
                    match panic::catch_unwind(AssertUnwindSafe(|| run(&text))) {
                        Ok(whole) => drop(drawn.fetch_add(usize::from(whole), Ordering::Relaxed)),
                        Err(_) => panic!("round {round}:\n{text}"),
                    }
                }
            });
        }
    });
    // Enough of them are jobs still that the later rooms are tried too.
    let drawn = drawn.into_inner();
    assert!(drawn * 20 > rounds, "{drawn} of {rounds} came to a binder");
}
