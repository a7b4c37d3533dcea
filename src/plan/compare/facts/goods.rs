//! What a job says of its cloths, its batting and its trims.

use std::hash::{DefaultHasher, Hash, Hasher};

use super::{Fact, Facts};
use crate::job::model::{
    Batting, BattingHang, Claim, Cloth, ClothHang, CutMade, Direction, Flaw, Lattice, Measured, Nap, OnHand,
    Sample, Shrinkage, SoldIn, Trim,
};
use crate::plan::claims::hundredths;
use crate::plan::model::Value;
use crate::plan::words;

/// The facts of a cloth but its name.
pub fn cloth(cloth: &Cloth) -> Vec<Fact> {
    let Cloth {
        name: _,
        width,
        selvage,
        left_match,
        match_width,
        pattern,
        // What it says besides is told as claims.
        label: _,
        hang,
        direction,
        nap,
        sold_in,
        spare,
        shrinkage: Shrinkage { along, across },
        on_hand,
        most_points,
        samples,
        bolt_length,
        metallic,
        fire_class,
        picture,
    } = cloth;
    let mut told = Facts::default();
    told.add("width", *width);
    told.add("selvage", *selvage);
    told.add("left match line", *left_match);
    told.add("match width", *match_width);
    match pattern {
        Some(Lattice { horizontal, vertical, drop }) => {
            told.add("repeat across", *horizontal);
            told.add("repeat along", *vertical);
            told.add("drop of the pattern", *drop);
        }
        None => told.add("pattern", "none, plain cloth"),
    }
    told.add("hangs", hang_words(*hang));
    told.add("way up", if *direction == Direction::OneWay { "one way" } else { "either way" });
    match nap {
        Nap::None => {}
        Nap::Down => told.add("nap", "down"),
        Nap::Up => told.add("nap", "up"),
    }
    told.add("sold in", words::unit(*sold_in));
    told.add_some("spare", *spare);
    told.add("shrinkage along", *along);
    told.add("shrinkage across", *across);
    for bolt in on_hand {
        let OnHand { length, lot, delivered, measured, first_motif, cuts, flaws, points, claims } = bolt;
        told.add(format!("bolt on hand, dye lot {lot}"), *length);
        if delivered != length {
            told.add(format!("bolt as delivered, dye lot {lot}"), *delivered);
        }
        let Measured { width, horizontal, vertical } = *measured;
        for (what, found) in
            [("width", width), ("horizontal repeat", horizontal), ("vertical repeat", vertical)]
        {
            if let Some(found) = found {
                told.add(format!("{what} as measured, dye lot {lot}"), found);
            }
        }
        for Flaw { what, u, v, width, length, points, accepted } in flaws {
            let name = if what.is_empty() { "flaw" } else { what.as_str() };
            let accepted = if *accepted { "accepted " } else { "" };
            told.add(
                format!("{accepted}{name} of {}, dye lot {lot}", words::counted(i64::from(*points), "point")),
                Value::Cut { u: *u, v: *v, width: *width, length: *length },
            );
        }
        for claim in claims {
            let (what, by) = match *claim {
                Claim::Short { said, found } => ("length lacking", Value::from(said - found)),
                Claim::Narrow { said, found } => ("width lacking", Value::from(said - found)),
                Claim::RepeatAcross { said, found } => ("horizontal repeat out", Value::from(found - said)),
                Claim::RepeatAlong { said, found } => ("vertical repeat out", Value::from(found - said)),
                Claim::Points { most, found } => (
                    "points in 100 square yards and their limit",
                    Value::from(format!("{} and {}", hundredths(found), hundredths(most))),
                ),
            };
            told.add(format!("{what}, dye lot {lot}"), by);
        }
        if points.total > 0 {
            told.add(format!("four-point count, dye lot {lot}"), points.total.to_string());
        }
        if let Some(first_motif) = first_motif {
            told.add(format!("first motif on the bolt, dye lot {lot}"), *first_motif);
        }
        for CutMade { label, u, v, width, length, spoiled } in cuts {
            told.add(
                format!("{label} cut already"),
                Value::Cut { u: *u, v: *v, width: *width, length: *length },
            );
            if *spoiled {
                told.add(format!("{label} spoiled"), "yes");
            }
        }
    }
    if let Some(most) = most_points {
        told.add("points accepted in 100 square yards", most.to_string());
    }
    for Sample { label: _, purpose, width, length, motif } in samples {
        let name = words::sample(purpose);
        told.add(format!("length of a {name}"), *length);
        told.add(format!("width of a {name}"), *width);
        told.add_whether("motif in the middle of a sample", *motif);
    }
    told.add("longest bolt", *bolt_length);
    told.add_whether("metallic", *metallic);
    told.add_text("fire class", fire_class);
    if let Some(picture) = picture {
        let mut hasher = DefaultHasher::new();
        picture.pixels().hash(&mut hasher);
        let size = format!("{} × {} pixels", picture.width(), picture.height());
        let meaning = format!("{size} {}", hasher.finish());
        told.add_meaning("picture of one repeat", size, meaning);
    }
    told.0
}

const fn hang_words(hang: ClothHang) -> &'static str {
    match hang {
        ClothHang::Upright => "upright",
        ClothHang::Railroaded => "railroaded",
        ClothHang::Least => "whichever way takes less",
    }
}

/// The facts of the batting.
pub fn batting(batting: &Batting) -> Vec<Fact> {
    let Batting { loft, roll_width, roll_length, gap, carry, hang, foamed, fire_class } = batting;
    let mut told = Facts::default();
    told.add("loft", *loft);
    told.add("roll width", *roll_width);
    told.add("roll length", *roll_length);
    told.add("gap", *gap);
    told.add("carried past an outside corner", *carry);
    let hang = match hang {
        BattingHang::Upright => "upright",
        BattingHang::Lying => "lying",
        BattingHang::Least => "whichever way takes less",
    };
    told.add("hangs", hang);
    told.add_whether("foamed", *foamed);
    told.add_text("fire class", fire_class);
    told.0
}

/// The facts of one trim.
pub fn trim(trim: &Trim) -> Vec<Fact> {
    let Trim { kind, name, strip, cord, matched, unbroken, from_cut_outs, sold_in, each } = trim;
    let mut told = Facts::default();
    told.add("kind", kind.words());
    told.add("name", name.as_str());
    told.add_some("strip", *strip);
    told.add_some("cord", *cord);
    told.add_whether("matched to the wall", *matched);
    told.add_whether("one unbroken length", *unbroken);
    told.add_whether("strips from cut-outs", *from_cut_outs);
    told.add("sold in", words::unit(*sold_in));
    if *each != SoldIn::length(*sold_in) {
        told.add("on a roll", *each);
    }
    told.0
}
