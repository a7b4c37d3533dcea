//! Fire, and rules outside the United States.

use super::super::model::Plan;
use super::{Rule, rooms_where, walls_where};
use crate::job::model::Substrate;
use crate::units::UnitSystem;

pub(super) const RULES: [Rule; 6] = [
    Rule {
        code: "fire-public",
        title: "Fire class in a public room",
        text: "Textile wall coverings are tested as they are used, mounting included: by NFPA 286, or by NFPA \
               265 method B, or as class A by ASTM E84 or UL 723 in a building with sprinklers. The \
               exemption of thin coverings is for material applied directly to the wall; cloth over batting \
               should not count on it. NFPA 701 is a test for hung cloth, not for this.",
        source: "IBC 803.5, 2018 and 2021 (read in the source); the exemption is our reading; NFPA 701 from memory",
        because: |plan| {
            rooms_where(plan, |r| plan.job.rooms[r].public).map(|r| format!("The public enters {r}."))
        },
    },
    Rule {
        code: "fire-data-missing",
        title: "No fire data",
        text: "Do not hang anything in a public room before the makers' fire data for the cloth and the \
               batting, tested as mounted here, are in hand and the authority has seen them.",
        source: "IBC 803.5, 2018 and 2021 (read in the source)",
        because: missing_data,
    },
    Rule {
        code: "fire-dwelling",
        title: "Fire class in a dwelling",
        text: "Wall finishes in a dwelling may have a flame spread of at most 200 and a smoke index of at \
               most 450. Keep the makers' data with the job.",
        source: "IRC R302.9 (read as quoted elsewhere)",
        because: |plan| {
            rooms_where(plan, |r| !plan.job.rooms[r].public)
                .map(|r| format!("The public does not enter {r}."))
        },
    },
    Rule {
        code: "fire-foam",
        title: "Foamed padding",
        text: "Foamed plastic behind cloth has fire limits of its own, stricter than those of the cloth. Use \
               it only with data for the whole build-up.",
        source: "IBC chapters 8 and 26 (read in the source in part)",
        because: |plan| plan.job.batting.foamed.then(|| "The batting is foamed plastic.".to_owned()),
    },
    Rule {
        code: "fire-battens",
        title: "Space behind battens",
        text: "On a fire-rated wall battens may stand out at most {1-3/4 in}, and the space behind the cloth is \
               filled, or fireblocked at {8 ft} in both directions.",
        source: "IBC 803 (read in the source)",
        because: |plan| {
            walls_where(plan, |w| w.substrate == Substrate::Masonry)
                .map(|walls| format!("Battens are needed on {walls}."))
        },
    },
    Rule {
        code: "outside-us",
        title: "Outside the United States",
        text: "The American rules named here do not apply elsewhere. In the United Kingdom look to Approved \
               Document B for wall linings, to the Work at Height Regulations 2005 and to BS 7671 for boxes.",
        source: "Approved Document B (read in the source in part); the others from memory",
        because: |plan| {
            (plan.job.print.format.system == UnitSystem::Millimetres)
                .then(|| "The job is measured in millimetres.".to_owned())
        },
    },
];

fn missing_data(plan: &Plan) -> Option<String> {
    let lacks_cloth = |r: usize| {
        let room = &plan.job.rooms[r];
        room.public && plan.job.cloths[room.cloth].fire_class.is_empty()
    };
    let lacks_batting = |r: usize| plan.job.rooms[r].public && plan.job.batting.fire_class.is_empty();
    let cloth = rooms_where(plan, lacks_cloth).map(|rooms| format!("the cloth in {rooms}"));
    let batting = rooms_where(plan, lacks_batting).map(|_| "the batting".to_owned());
    let missing: Vec<String> = cloth.into_iter().chain(batting).collect();
    (!missing.is_empty())
        .then(|| format!("No fire class is stated for {}.", super::super::words::list(&missing)))
}
