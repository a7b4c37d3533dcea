//! Rooms nobody drew: the checker on hundreds of generated jobs, and the checker's own test.

use clothwright::export::json;
use clothwright::plan;
use serde_json::Value;

use crate::checker::problems;
use crate::generate::random_job;
use crate::rooms::*;

#[test]
fn generated_rooms_pass_the_checker() {
    let mut planned = 0;
    for seed in 0..160 {
        match plan::make(random_job(seed)) {
            Ok(plan) => {
                let found = problems(&json::plan(&plan));
                assert!(found.is_empty(), "room {seed}: {found:#?}");
                planned += 1;
            }
            Err(fault) => {
                // A room may have a rule that cannot be kept; the fault then says which and where.
                assert!(fault.wall.is_some() && !fault.help.is_empty(), "room {seed}: {fault:?}");
                println!("room {seed}: {fault:?}");
            }
        }
    }
    println!("{planned} of 160");
    assert!(planned >= 156, "only {planned} of 160 rooms were planned");
}

/// The checker must see every kind of damage: each of these changes one figure of a right plan.
#[test]
fn the_checker_finds_damage() {
    let drop = inch(25) / 2;
    let plan = plan::make(chimney_breast(cloth(lattice(inch(26), inch(25), drop)))).expect("a plan");
    let right: Value = serde_json::from_str(&json::plan(&plan)).expect("JSON");
    let add = |path: &str, by: i64| {
        let mut wrong = right.clone();
        let place = wrong.pointer_mut(path).unwrap_or_else(|| panic!("no {path}"));
        *place = (place.as_i64().expect("a whole number") + by).into();
        problems(&wrong.to_string())
    };
    assert!(problems(&right.to_string()).is_empty());
    for path in [
        "/pieces/3/cut/v",
        "/pieces/3/cut/u",
        "/pieces/3/cut/width",
        "/pieces/3/cut/length",
        "/pieces/3/cut/number",
        "/pieces/3/cut/lay",
        "/pieces/3/phase",
        "/pieces/3/column",
        "/pieces/3/gross/y1",
        "/pieces/3/gross/x0",
        "/rooms/0/registration/match_line",
        "/rooms/0/registration/y0",
        "/rooms/0/walls/2/x",
        "/rooms/0/walls/2/width",
        "/rooms/0/walls/2/panel/strips/0/net/x1",
        "/rooms/0/walls/2/panel/strips/0/net/y0",
        "/rooms/0/walls/2/panel/seams/0/x",
        "/rooms/0/kill/miss_across",
        "/rooms/0/kill/miss_up",
        "/rooms/0/length",
        "/cloths/0/used",
        "/cloths/0/order",
        "/cloths/0/order_units",
        "/cloths/0/phase_allowance",
        "/cloths/0/bolts/0/start",
        "/cloths/0/bolts/0/used",
        "/cloths/0/bolts/0/lays/0/v1",
    ] {
        assert!(!add(path, 1).is_empty(), "one more at {path} passes the checker");
    }
}
