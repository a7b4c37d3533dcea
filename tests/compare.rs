//! Every file under `tests/change/` is told against `base.kdl`, or against the `<name>.old.kdl` beside it,
//! exactly as `<name>.txt` says.
//!
//! After a wording has been changed on purpose, `CLOTHWRIGHT_REFRESH=1 cargo test --test compare` writes
//! those texts anew: read the difference.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

use clothwright::diag::Diags;
use clothwright::export::{json, text};
use clothwright::job::model::Job;
use clothwright::plan::compare::{compare, in_order_of};
use clothwright::plan::model::{Change, Pair, Plan};
use clothwright::sheet::change;
use clothwright::sheet::model::Reader;
use clothwright::source::FileId;
use clothwright::{job, parse, plan};

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/change")
}

/// The names of the new issues, in order.
fn names() -> Vec<String> {
    let entries = fs::read_dir(folder()).expect("tests/change is there");
    let names =
        entries.map(|entry| entry.expect("it can be listed").file_name().to_string_lossy().into_owned());
    let names = names.filter_map(|name| Some(name.strip_suffix(".kdl")?.to_owned()));
    let mut names: Vec<String> = names.filter(|name| name != "base" && !name.ends_with(".old")).collect();
    names.sort();
    names
}

fn read(name: &str) -> Job {
    let source = fs::read_to_string(folder().join(format!("{name}.kdl"))).expect("the file is there");
    let mut diags = Diags::default();
    let parsed = parse::parse(&source, FileId(0), &mut diags);
    let job = parsed.and_then(|parsed| job::check(&parsed, &mut diags));
    job.unwrap_or_else(|| panic!("{name}: {:?}", diags.sorted())).0
}

fn old_of(name: &str) -> Job {
    let own = format!("{name}.old");
    if folder().join(format!("{own}.kdl")).exists() { read(&own) } else { read("base") }
}

/// The two issues of every change, planned.
static PLANS: LazyLock<Vec<(String, Pair<Plan>)>> = LazyLock::new(|| {
    let planned = names().into_iter().map(|name| {
        let now = read(&name);
        let was = in_order_of(&now, old_of(&name));
        (name, Pair::new(was, now).map(|job| plan::make(job).expect("a plan")))
    });
    planned.collect()
});

/// The changes of which the sheets are compared too: to set all sheets takes longer than all else.
const ON_PAPER: [&str; 4] = ["prices-other", "revision", "same-meaning", "wall-inserted"];

#[test]
fn every_change_is_told_as_written() {
    let refresh = std::env::var_os("CLOTHWRIGHT_REFRESH").is_some();
    let mut wrong = Vec::new();
    for (name, plans) in PLANS.iter() {
        let mut change = compare(plans.as_ref());
        if ON_PAPER.contains(&name.as_str()) {
            change.sheets = change::sheets(plans.as_ref(), &change, None, &Reader::ALL).expect("sheets");
        }
        let told = text::change(&change, &plans.now.job, Some(80));
        let beside = folder().join(format!("{name}.txt"));
        if refresh {
            fs::write(&beside, &told).expect("it can be written");
        }
        if told != fs::read_to_string(&beside).unwrap_or_default() {
            wrong.push(format!("{name}:\n{told}"));
        }
        assert_eq!(change.is_empty(), told.contains("no change"), "{name}");
        assert!(told.lines().all(|line| line.chars().count() <= 80), "{name}: a line is too long");
        // What is for the contractor alone is in no file for other programs.
        let file = json::change(&change, &plans.now.job);
        let file: serde_json::Value = serde_json::from_str(&file).expect("JSON");
        assert_eq!(file["same"], change.is_empty(), "{name}");
        assert!(file.get("costs").is_none() && file.get("prices").is_none(), "{name}");
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn a_job_does_not_differ_from_itself() {
    for (name, plans) in PLANS.iter() {
        let change = compare(Pair::new(&plans.now, &plans.now));
        assert!(change.is_empty() && change.places.is_empty(), "{name}: {change:?}");
    }
}

/// The same change told backwards: what was and what is are exchanged, nothing else.
#[test]
fn the_change_back_is_the_change_with_both_sides_exchanged() {
    for (name, plans) in PLANS.iter() {
        let there = compare(plans.as_ref());
        let back = compare(Pair::new(&plans.now, &plans.was));
        let told = |change: &Change, turned: bool| {
            let mut lines = Vec::new();
            // Order is the new issue's, so it is not compared.
            let mut add = |kind: &str, was: String, now: String| {
                lines.push(if turned {
                    format!("{kind}: {now} -> {was}")
                } else {
                    format!("{kind}: {was} -> {now}")
                });
            };
            for d in change.job.iter().chain(&change.prices) {
                add(
                    &format!("{:?} {}", d.part, d.what),
                    format!("{} {:?}", d.name.was, d.value.was),
                    format!("{} {:?}", d.name.now, d.value.now),
                );
            }
            for p in &change.pieces {
                add(
                    "piece",
                    format!("{:?}{:?}", p.wall.was, p.piece.was),
                    format!("{:?}{:?}", p.wall.now, p.piece.now),
                );
            }
            for s in &change.seams {
                add(
                    "seam",
                    format!("{:?}{}{:?}", s.wall.was, s.label.was, s.x.was),
                    format!("{:?}{}{:?}", s.wall.now, s.label.now, s.x.now),
                );
            }
            for c in change.cloths.iter().filter(|cloth| cloth.is_any()) {
                add(
                    "cloth",
                    format!("{} {} {} {}", c.name.was, c.used.was, c.order_units.was, c.widths.was),
                    format!("{} {} {} {}", c.name.now, c.used.now, c.order_units.now, c.widths.now),
                );
            }
            for k in &change.kills {
                add("kill", format!("{:?}", k.kill.was), format!("{:?}", k.kill.now));
            }
            for t in &change.trims {
                add(
                    "trim",
                    format!("{:?} {}", t.place, t.length.was),
                    format!("{:?} {}", t.place, t.length.now),
                );
            }
            for p in &change.purchases {
                add(
                    "buy",
                    format!("{} {}", p.item.was, p.count.was),
                    format!("{} {}", p.item.now, p.count.now),
                );
            }
            add(
                "work",
                format!("{} {}", change.work.minutes.was, change.work.days.was),
                format!("{} {}", change.work.minutes.now, change.work.days.now),
            );
            if let Some(costs) = &change.costs {
                add("costs", costs.total.was.print(), costs.total.now.print());
            }
            add("watch", change.watch.was.concat(), change.watch.now.concat());
            lines.sort();
            lines
        };
        assert_eq!(told(&there, false), told(&back, true), "{name}");
        let moves = |change: &Change| {
            let mut moves: Vec<_> =
                change.pattern.iter().map(|shift| (shift.right.nm().abs(), shift.up.nm().abs())).collect();
            moves.sort();
            moves
        };
        assert_eq!(moves(&there), moves(&back), "{name}");
    }
}
