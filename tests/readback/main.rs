//! The paper read back: every sheet of every demo job, and every paper, from the written bytes and
//! `plan.json` alone. Nothing of the library is used here; the program is run, and what it wrote is
//! read as another program would read it.

mod cloth;
mod laws;
mod pdf;
mod printed;
mod svg;
mod walls;
mod work;
mod written;

use written::Binder;

/// Draws every job and hands over what was written.
fn every_binder(check: impl Fn(&Binder) + Sync) {
    let pairs = written::pairs();
    let halves = pairs.chunks(pairs.len().div_ceil(2));
    std::thread::scope(|scope| {
        let workers: Vec<_> = halves
            .map(|half| scope.spawn(|| half.iter().for_each(|(job, paper)| check(&Binder::draw(job, paper)))))
            .collect();
        for worker in workers {
            if let Err(cause) = worker.join() {
                std::panic::resume_unwind(cause);
            }
        }
    });
}

#[test]
fn what_is_written_on_paper_is_what_the_plan_holds() {
    every_binder(|binder| {
        let (values, walls) = laws::hold_in(binder);
        assert!(values >= 20 && walls >= 3, "{}: {values} values, {walls} walls read", binder.name);
    });
}
