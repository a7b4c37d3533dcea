//! The objects of a document in their final number and order.
//!
//! `lopdf` has both steps, but looks for every reference in a list of all, and for every object in all
//! bookmarks: on a set of some thousand sheets that takes longer than drawing it.

use std::collections::{BTreeMap, BTreeSet};

use lopdf::{Document, Object, ObjectId};

/// Leaves out what nothing leads to, and numbers the rest from 1 in the order that it has.
pub fn tidy(document: &mut Document) {
    let mut reached = BTreeSet::new();
    let mut rest = Vec::new();
    let mut reach = |id: &mut ObjectId, rest: &mut Vec<ObjectId>| {
        if reached.insert(*id) {
            rest.push(*id);
        }
    };
    for (_, value) in document.trailer.iter_mut() {
        references(value, &mut |id| reach(id, &mut rest));
    }
    while let Some(id) = rest.pop() {
        if let Some(object) = document.objects.get_mut(&id) {
            references(object, &mut |id| reach(id, &mut rest));
        }
    }

    let mut numbers = BTreeMap::new();
    let mut objects = BTreeMap::new();
    for (id, object) in std::mem::take(&mut document.objects) {
        if reached.contains(&id) {
            let number = (numbers.len() as u32 + 1, id.1);
            numbers.insert(id, number);
            objects.insert(number, object);
        }
    }
    document.max_id = numbers.len() as u32;
    let renumber = &mut |id: &mut ObjectId| {
        if let Some(number) = numbers.get(id) {
            *id = *number;
        }
    };
    objects.values_mut().for_each(|object| references(object, renumber));
    document.trailer.iter_mut().for_each(|(_, value)| references(value, renumber));
    document.objects = objects;
}

/// Every reference in an object.
fn references(object: &mut Object, visit: &mut dyn FnMut(&mut ObjectId)) {
    match object {
        Object::Reference(id) => visit(id),
        Object::Array(items) => items.iter_mut().for_each(|item| references(item, visit)),
        Object::Dictionary(entries) => entries.iter_mut().for_each(|(_, value)| references(value, visit)),
        Object::Stream(stream) => stream.dict.iter_mut().for_each(|(_, value)| references(value, visit)),
        _ => {}
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use lopdf::dictionary;

    #[test]
    fn what_is_led_to_stays_and_moves_up() {
        let mut document = Document::new();
        let leaf = document.add_object(Object::Integer(7));
        let lost = document.add_object(Object::Integer(8));
        let circle = document.new_object_id();
        let root = document.add_object(dictionary! { "Leaf" => vec![leaf.into()], "Circle" => circle });
        document.objects.insert(circle, dictionary! { "Root" => root }.into());
        document.objects.insert((99, 0), vec![lost.into()].into());
        document.trailer.set("Root", root);
        tidy(&mut document);
        let [leaf, circle, root] = [1, 2, 3].map(|number| Object::Reference((number, 0)));
        let expected: BTreeMap<ObjectId, Object> = BTreeMap::from([
            ((1, 0), Object::Integer(7)),
            ((2, 0), dictionary! { "Root" => root.clone() }.into()),
            ((3, 0), dictionary! { "Leaf" => vec![leaf], "Circle" => circle }.into()),
        ]);
        assert_eq!(document.objects, expected);
        assert_eq!(document.trailer.get(b"Root").unwrap(), &root);
        assert_eq!(document.max_id, 3);
    }
}
