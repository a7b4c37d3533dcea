//! What holds in every binder.

use crate::written::Binder;
use crate::{cloth, pdf, walls, work};

/// Reads every sheet of a binder beside its plan: how many values of dimensions and how many walls were read.
pub fn hold_in(binder: &Binder) -> (usize, usize) {
    let (mut values, mut walls) = (0, 0);
    for sheet in &binder.sheets {
        sheet.texts_are_clear();
        values += walls::dimensions_say_what_is_drawn(sheet);
        walls += walls::seams_and_openings_stand_where_the_plan_has_them(binder, sheet);
    }
    cloth::every_cut_is_on_one_bolt_map(binder);
    cloth::every_cut_is_in_one_row_of_the_cut_list(binder);
    cloth::every_drop_has_one_label(binder);
    cloth::every_panel_is_sewn_once(binder);
    work::every_step_is_in_the_checklist_once(binder);
    pdf::both_formats_are_one_drawing(binder);
    pdf::sheets_are_found_by_number_bookmark_and_link(binder);
    (values, walls)
}
