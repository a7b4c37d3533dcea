//! The plan, tested through its public door: [`clothwright::plan::make`] and `plan.json`.

mod cautions;
mod checker;
mod cloths;
mod compare;
mod costs;
mod cut_out_strips;
mod demo;
mod examples;
mod generate;
mod generated;
mod geometry;
mod laws;
mod parts;
mod pieced;
mod props;
mod purchases;
mod railroaded;
mod received;
mod registration;
#[allow(dead_code, reason = "the benchmark uses what the tests do not")]
mod rooms;
mod samples;
mod shapes;
mod shared;
mod solver;
mod survey;
mod survey_checks;

use clothwright::export::json;
use clothwright::plan;
use rooms::*;

#[test]
fn whole_rooms_are_planned() {
    let v = inch(25);
    for pattern in [None, lattice(inch(26), v, inch(0)), lattice(inch(52), v, v / 2)] {
        for job in [rectangle(cloth(pattern)), chimney_breast(cloth(pattern))] {
            let plan = plan::make(job).expect("a plan");
            let found = checker::problems(&json::plan(&plan));
            assert!(found.is_empty(), "{found:#?}");
        }
    }
}
