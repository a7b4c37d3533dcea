//! What a job says of the house's ways, its rates and its prices.

use super::{Fact, Facts};
use crate::job::model::{Cloth, Firmness, Goods, House, Legs, Prices, Rates, SeamRules, SurveyLimits};
use crate::plan::model::Value;

/// The facts of the house.
pub fn house(house: &House) -> Vec<Fact> {
    let House {
        seam_allowance,
        top_allowance,
        bottom_allowance,
        pull_allowance,
        wrap_allowance,
        fold_allowance,
        smallest_sliver,
        seam_rules: SeamRules { through_box, sliver },
        survey,
        edge_staples,
        wrap_staples,
        tack_staples,
        batting_edge_staples,
        batting_butt_staples,
        legs: Legs { drywall, plaster, wood },
        staples_per_box,
        joint_clearance,
        smallest_batting,
        trim_end,
        staple_waste,
        hem_tape_roll,
        tube_bead,
        stapler_psi,
        batten_length,
        batten_width,
        batten_thickness,
        batten_screws,
        screw_length,
        screws_per_box,
        thread_times,
        thread_spool,
        level_trim_first,
        crew,
    } = house;
    let mut told = Facts::default();
    let lengths = [
        ("seam allowance", seam_allowance),
        ("allowance at the top", top_allowance),
        ("allowance at the bottom", bottom_allowance),
        ("pull allowance", pull_allowance),
        ("wrap allowance", wrap_allowance),
        ("fold allowance", fold_allowance),
        ("smallest sliver", smallest_sliver),
        ("edge staples every", edge_staples),
        ("wrap staples every", wrap_staples),
        ("tacks every", tack_staples),
        ("batting edge staples every", batting_edge_staples),
        ("batting joint staples every", batting_butt_staples),
        ("staple leg in drywall", drywall),
        ("staple leg in plaster", plaster),
        ("staple leg in wood", wood),
        ("joint clearance", joint_clearance),
        ("smallest batting", smallest_batting),
        ("trim added at each end", trim_end),
        ("roll of hem tape", hem_tape_roll),
        ("bead of a tube of adhesive", tube_bead),
        ("batten length", batten_length),
        ("batten width", batten_width),
        ("batten thickness", batten_thickness),
        ("batten screws every", batten_screws),
        ("screw length", screw_length),
        ("spool of thread", thread_spool),
    ];
    lengths.into_iter().for_each(|(what, length)| told.add(what, *length));
    let counts = [
        ("staples in a box", staples_per_box),
        ("staples beyond the count, per cent", staple_waste),
        ("air pressure, psi", stapler_psi),
        ("screws in a box", screws_per_box),
        ("lengths of thread in a seam", thread_times),
        ("crew", crew),
    ];
    counts.into_iter().for_each(|(what, count)| told.add(what, *count));
    told.add("a seam through a box", firmness(*through_box));
    told.add("a sliver beside a seam", firmness(*sliver));
    told.add("trim fitted first", if *level_trim_first { "top and bottom" } else { "corners and openings" });
    limits(&mut told, survey);
    told.0
}

const fn firmness(firmness: Firmness) -> &'static str {
    match firmness {
        Firmness::Never => "never",
        Firmness::Avoid => "avoided",
    }
}

fn limits(told: &mut Facts, limits: &SurveyLimits) {
    let SurveyLimits { closing, closing_part, angles, widths, heights, corner, both_ends, back } = limits;
    told.add("survey limit, closing", *closing);
    told.add("survey limit, closing, one part in", *closing_part);
    told.add("survey limit, angles", *angles);
    told.add("survey limit, widths", *widths);
    told.add("survey limit, heights", *heights);
    told.add("survey limit, corner", *corner);
    told.add("survey limit, both ends", *both_ends);
    told.add("survey limit, back", *back);
}

/// The facts of the rates.
pub fn rates(rates: &Rates) -> Vec<Fact> {
    let Rates {
        staples_per_hour,
        batting_per_hour,
        battens_per_hour,
        seam_per_hour,
        welt_per_hour,
        trim_per_hour,
        cut_minutes,
        opening_minutes,
        box_minutes,
        fold_minutes,
        hold_minutes,
        step_minutes,
        day_minutes,
        meal_minutes,
    } = rates;
    let mut told = Facts::default();
    let counts = [
        ("staples in an hour", staples_per_hour),
        ("minutes for a cut", cut_minutes),
        ("minutes for an opening", opening_minutes),
        ("minutes for a box", box_minutes),
        ("minutes for a fold", fold_minutes),
        ("minutes that glue holds", hold_minutes),
        ("minutes for another step", step_minutes),
        ("minutes in a day", day_minutes),
        ("minutes for a meal", meal_minutes),
    ];
    counts.into_iter().for_each(|(what, count)| told.add(what, *count));
    let lengths = [
        ("batting in an hour", batting_per_hour),
        ("battens in an hour", battens_per_hour),
        ("seam in an hour", seam_per_hour),
        ("welt in an hour", welt_per_hour),
        ("trim in an hour", trim_per_hour),
    ];
    lengths.into_iter().for_each(|(what, length)| told.add(what, *length));
    told.0
}

/// The facts of the prices; none when the job gives none.
pub fn prices(prices: Option<&Prices>, cloths: &[Cloth]) -> Vec<Fact> {
    let mut told = Facts::default();
    let Some(Prices { currency, goods, hour }) = prices else { return told.0 };
    told.add("currency", currency.as_str());
    for (goods, price) in goods {
        told.add(format!("price of {}", goods_words(goods, cloths)), Value::Money(*price));
    }
    if let Some(hour) = hour {
        told.add("price of an hour", Value::Money(*hour));
    }
    told.0
}

fn goods_words(goods: &Goods, cloths: &[Cloth]) -> String {
    let word = match goods {
        Goods::Cloth(index) => return cloths.get(*index).map_or(String::new(), |cloth| cloth.name.clone()),
        Goods::Trim(name) => return name.clone(),
        Goods::Batting => "batting",
        Goods::Battens => "battens",
        Goods::Screws => "screws",
        Goods::Staples => "staples",
        Goods::Thread => "thread",
        Goods::Extenders => "box extenders",
        Goods::HemTape => "hem tape",
        Goods::Adhesive => "adhesive",
        Goods::Cord => "cord",
    };
    word.to_owned()
}
