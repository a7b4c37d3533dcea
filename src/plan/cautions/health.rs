//! Lead, asbestos, dust and adhesives.

use super::super::words::{list, print};
use super::{Rule, rooms_where, walls_where};
use crate::job::model::Substrate;
use crate::units::Length;

pub(super) const RULES: [Rule; 4] = [
    Rule {
        code: "lead",
        title: "Lead paint",
        text: "In a building from before 1978 stapling, battens and work on mouldings can disturb lead paint. \
               Have it tested by a certified person first. No dry sanding, no scraping and no heat on old \
               paint. Disturbing more than {6 sq ft} in a room within 30 days brings the renovation rule with \
               its certified firm, containment and cleaning.",
        source: "EPA 40 CFR 745 (read in the source for the 6 sq ft and the 30 days)",
        because: |plan| {
            let old = |r: usize| plan.job.rooms[r].year < 1978;
            rooms_where(plan, old).map(|rooms| {
                let unknown = plan.job.rooms.iter().any(|r| r.year == 0);
                if unknown {
                    format!("The year of the building is not known, or is before 1978: {rooms}.")
                } else {
                    format!("Built before 1978: {rooms}.")
                }
            })
        },
    },
    Rule {
        code: "asbestos",
        title: "Asbestos in texture and plaster",
        text: "Sprayed or trowelled texture and plaster up to 1980 are presumed to hold asbestos. Do not \
               staple, scrape, drill or sand them before a laboratory has tested them.",
        source: "29 CFR 1926.1101 (read as quoted elsewhere)",
        because: |plan| {
            let presumed = |r: usize| {
                let room = &plan.job.rooms[r];
                let plaster = room.walls.iter().any(|w| w.clothed && w.substrate == Substrate::Plaster);
                room.year <= 1980 && (room.textured || plaster)
            };
            rooms_where(plan, presumed)
                .map(|rooms| format!("Texture or plaster of up to 1980, or of a year not known: {rooms}."))
        },
    },
    Rule {
        code: "dust",
        title: "Dust",
        text: "Wear a mask of class N95 or better when old plaster, masonry or texture is drilled, scraped or \
               brushed. Work it damp, and vacuum instead of sweeping.",
        source: "Common practice, no source",
        because: |plan| {
            walls_where(plan, |w| matches!(w.substrate, Substrate::Plaster | Substrate::Masonry))
                .map(|walls| format!("Plaster or masonry is worked on {walls}."))
        },
    },
    Rule {
        code: "adhesive",
        title: "Adhesives",
        text: "Read the safety data sheet before the first tube is opened. Keep fresh air moving, keep flames, \
               sparks and pilot lights away, and wear gloves.",
        source: "Common practice, no source",
        because: |plan| {
            let corners: Length = plan.rooms.iter().flat_map(|r| &r.corners).map(|c| c.adhesive).sum();
            let trim: Length = plan.rooms.iter().flat_map(|r| &r.trim).map(|t| t.length).sum();
            let glued = |length: Length, what: &str| {
                (length > Length::ZERO).then(|| format!("{} {what}", print(&plan.job, length)))
            };
            let corners = glued(corners, "at folded corners");
            let beads: Vec<String> = corners.into_iter().chain(glued(trim, "of trim")).collect();
            (!beads.is_empty()).then(|| format!("The job glues {}.", list(&beads)))
        },
    },
];
