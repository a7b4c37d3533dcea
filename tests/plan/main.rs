//! The plan, tested through its public door: [`clothwright::plan::make`] and `plan.json`.

mod examples;
mod rooms;

use clothwright::plan;
use rooms::*;

#[test]
fn whole_rooms_are_planned() {
    let v = inch(25);
    for pattern in [None, lattice(inch(26), v, inch(0)), lattice(inch(52), v, v / 2)] {
        for job in [rectangle(cloth(pattern)), chimney_breast(cloth(pattern))] {
            let plan = plan::make(job).expect("a plan");
            assert!(plan.rooms[0].walls.iter().all(|w| w.panel.is_some()));
            assert!(plan.cloths[0].bound <= plan.cloths[0].used);
        }
    }
}
