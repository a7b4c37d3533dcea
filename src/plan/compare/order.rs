//! The order of what has no order: two files that list the same in another order mean the same.

use super::super::model::Pair;
use super::matching::{Matching, matching};
use crate::job::model::{Goods, Job};

/// `was` with its cloths, notes and lists in the order of `now` wherever their order says nothing, so that
/// plans of the two differ only where the jobs do.
pub fn in_order_of(now: &Job, mut was: Job) -> Job {
    let found = matching(Pair::new(&was, now));
    cloths(&mut was, &found);
    sort_like(&mut was.facts.notes, &now.facts.notes);
    sort_like(&mut was.assumptions, &now.assumptions);
    for (rooms, inside) in &found.rooms {
        let (Some(was_room), Some(now_room), Some(inside)) = (rooms.was, rooms.now, inside) else { continue };
        let (was_room, now_room) = (&mut was.rooms[was_room], &now.rooms[now_room]);
        sort_like(&mut was_room.hang_order, &now_room.hang_order);
        for (pair, _) in &inside.walls {
            let (Some(was), Some(now)) = (pair.was, pair.now) else { continue };
            let (was, now) = (&mut was_room.walls[was], &now_room.walls[now]);
            sort_like(&mut was.services, &now.services);
            sort_like(&mut was.no_seam, &now.no_seam);
        }
    }
    was
}

fn cloths(was: &mut Job, found: &Matching) {
    let mut order: Vec<(Option<usize>, usize)> =
        found.cloths.iter().filter_map(|pair| Some((pair.now, pair.was?))).collect();
    // What the new issue does not have comes last.
    order.sort_by_key(|(now, was)| (now.is_none(), *now, *was));
    let order: Vec<usize> = order.into_iter().map(|(_, was)| was).collect();
    let place = |old: usize| order.iter().position(|&was| was == old).unwrap_or(old);
    was.rooms.iter_mut().for_each(|room| room.cloth = place(room.cloth));
    for (goods, _) in was.prices.iter_mut().flat_map(|prices| &mut prices.goods) {
        if let Goods::Cloth(index) = goods {
            *index = place(*index);
        }
    }
    was.cloths = order.iter().map(|&old| was.cloths[old].clone()).collect();
}

/// The same members, those that `like` has too in its order, the others behind in their own.
fn sort_like<T: PartialEq>(list: &mut Vec<T>, like: &[T]) {
    let mut rest = std::mem::take(list);
    for member in like {
        if let Some(at) = rest.iter().position(|other| other == member) {
            list.push(rest.remove(at));
        }
    }
    list.append(&mut rest);
}
