//! Which way up and which way round the cloth hangs.

use crate::job::model::{Job, Nap};

/// What a reader must know of cloths that cannot be turned.
pub fn watch(job: &Job) -> Vec<String> {
    let used = |index: &usize| job.rooms.iter().any(|room| room.cloth == *index);
    let napped = job.cloths.iter().enumerate().filter(|(index, cloth)| used(index) && cloth.nap != Nap::None);
    let told = napped.map(|(_, cloth)| {
        let way = if cloth.nap == Nap::Up { "up" } else { "down" };
        format!(
            "“{}” has a nap, which runs {way} on every wall: a piece hung the other way up looks another colour.",
            cloth.name
        )
    });
    told.collect()
}
