//! Which way up and which way round the cloth hangs.

use super::model::{Trial, Way};
use super::{PlanFault, spread, words};
use crate::job::model::{ClothHang, Direction, Job, Nap};
use crate::units::Length;

/// Which way a cloth hangs, and what it takes each way if it may be turned.
pub struct Hung {
    /// The way.
    pub way: Way,
    /// Both ways; empty for a cloth that cannot be turned.
    pub compared: Vec<Trial>,
}

/// Which way each cloth of the job hangs, in its order.
///
/// # Errors
/// Those of planning, when a cloth that may hang either way can hang neither.
pub fn ways(job: &Job) -> Result<Vec<Hung>, PlanFault> {
    (0..job.cloths.len()).map(|cloth| hung(job, cloth)).collect()
}

fn hung(job: &Job, index: usize) -> Result<Hung, PlanFault> {
    let cloth = &job.cloths[index];
    let used = job.rooms.iter().any(|room| room.cloth == index);
    let told = match cloth.hang {
        ClothHang::Railroaded => Way::Railroaded,
        ClothHang::Upright | ClothHang::Least => Way::Upright,
    };
    // Cloth that is cut already has been hung one way in thought, and stays so.
    let cut = cloth.on_hand.iter().any(|bolt| !bolt.cuts.is_empty());
    if cloth.direction == Direction::OneWay || !used || cut {
        return Ok(Hung { way: told, compared: Vec::new() });
    }
    let upright = trial(job, index, Way::Upright);
    let railroaded = trial(job, index, Way::Railroaded);
    let way = match (cloth.hang, &upright, &railroaded) {
        (ClothHang::Upright | ClothHang::Railroaded, ..) => told,
        (ClothHang::Least, Ok(up), Ok(along)) if (along.0, along.1.seams) < (up.0, up.1.seams) => {
            Way::Railroaded
        }
        (ClothHang::Least, Err(_), Ok(_)) => Way::Railroaded,
        (ClothHang::Least, Err(fault), Err(_)) => return Err(fault.clone()),
        (ClothHang::Least, Ok(_), _) => Way::Upright,
    };
    let compared = [(Way::Upright, upright), (Way::Railroaded, railroaded)];
    let shown = |(way, trial): (Way, Result<(Length, Trial), PlanFault>)| match trial {
        Ok((_, trial)) => trial,
        Err(fault) => Trial {
            way,
            used: Length::ZERO,
            order_units: 0,
            seams: 0,
            why_not: format!("{}; {}", fault.message, fault.help),
        },
    };
    Ok(Hung { way, compared: compared.into_iter().map(shown).collect() })
}

/// What the rooms of one cloth take when it hangs that way: what must be ordered at least, and the rest.
fn trial(job: &Job, cloth: usize, way: Way) -> Result<(Length, Trial), PlanFault> {
    let mut alone = job.clone();
    alone.cloths = vec![job.cloths[cloth].clone()];
    alone.rooms.retain(|room| room.cloth == cloth);
    alone.rooms.iter_mut().for_each(|room| room.cloth = 0);
    let laid = spread(&alone, &[way])?;
    let panels = laid.rooms.iter().flat_map(|room| &room.walls).filter_map(|wall| wall.panel.as_ref());
    let seams = panels.map(|panel| panel.seams.len()).sum();
    let used: Length = laid.cloths.iter().map(|cloth| cloth.used).sum();
    let needed = used + laid.cloths.iter().map(|cloth| cloth.phase_allowance).sum();
    let order_units = laid.cloths.iter().map(|cloth| cloth.order_units).sum();
    Ok((needed, Trial { way, used, order_units, seams, why_not: String::new() }))
}

/// What a reader must know of cloths that cannot be turned.
pub fn watch(job: &Job, ways: &[Way]) -> Vec<String> {
    let used = |index: &usize| job.rooms.iter().any(|room| room.cloth == *index);
    let napped = job.cloths.iter().enumerate().filter(|(index, cloth)| used(index) && cloth.nap != Nap::None);
    let told = napped.filter_map(|(index, cloth)| {
        let way = words::nap(cloth, ways[index])?;
        Some(format!(
            "“{}” has a nap, which runs {way} on every wall: a piece hung the other way up looks another colour.",
            cloth.name
        ))
    });
    told.collect()
}
