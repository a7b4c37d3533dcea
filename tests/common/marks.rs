//! Reading a sheet's display list.

use clothwright::sheet::model::{Mark, Sheet, Text};

/// Shows every mark, also those within groups and clips.
pub fn each<'a>(marks: &'a [Mark], see: &mut impl FnMut(&'a Mark)) {
    for mark in marks {
        see(mark);
        match mark {
            Mark::Group(group) => each(&group.marks, see),
            Mark::Clip { marks, .. } => each(marks, see),
            _ => {}
        }
    }
}

/// The texts of a sheet, in the order that they are drawn.
pub fn texts(sheet: &Sheet) -> Vec<&Text> {
    let mut all = Vec::new();
    each(&sheet.marks, &mut |mark| {
        if let Mark::Text(text) = mark {
            all.push(text);
        }
    });
    all
}
