//! The paper read back: every sheet of every demo job, and every paper, from the written bytes and
//! `plan.json` alone. Nothing of the library is used here; the program is run, and what it wrote is
//! read as another program would read it.

mod cloth;
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
        let (mut values, mut walls) = (0, 0);
        for sheet in &binder.sheets {
            sheet.texts_are_clear();
            values += walls::dimensions_say_what_is_drawn(sheet);
            walls += walls::seams_and_openings_stand_where_the_plan_has_them(binder, sheet);
        }
        assert!(values >= 20 && walls >= 3, "{}: {values} values, {walls} walls read", binder.name);
        cloth::every_cut_is_on_one_bolt_map(binder);
        cloth::every_cut_is_in_one_row_of_the_cut_list(binder);
        cloth::every_drop_has_one_label(binder);
        cloth::every_panel_is_sewn_once(binder);
        work::every_step_is_in_the_checklist_once(binder);
        pdf::both_formats_are_one_drawing(binder);
        pdf::sheets_are_found_by_number_bookmark_and_link(binder);
    });
}
