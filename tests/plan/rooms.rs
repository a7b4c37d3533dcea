//! Jobs for tests, built without a file: plain rooms by their measures, and a seeded generator.

use clothwright::geom::{Point, Profile, Rect};
use clothwright::job::model::*;
use clothwright::units::{Angle, Length, LengthFormat, UnitSystem};

pub fn inch(n: i64) -> Length {
    Length::inches(n)
}

/// Sixty-fourths of an inch.
pub fn sixty_fourths(n: i64) -> Length {
    Length::inch_64ths(n)
}

/// A cloth 54 in wide with 52 in between match lines, one inch beyond each.
pub fn cloth(pattern: Option<Lattice>) -> Cloth {
    Cloth {
        name: "test cloth".into(),
        width: inch(54),
        selvage: sixty_fourths(32),
        left_match: inch(1),
        match_width: inch(52),
        pattern,
        label: None,
        hang: ClothHang::Upright,
        direction: Direction::OneWay,
        nap: Nap::None,
        sold_in: SoldIn::Yard,
        spare: Length::ZERO,
        shrinkage: Shrinkage::default(),
        on_hand: Vec::new(),
        most_points: None,
        samples: Vec::new(),
        bolt_length: Length::yards(100),
        metallic: false,
        fire_class: String::new(),
        picture: None,
    }
}

pub fn lattice(horizontal: Length, vertical: Length, drop: Length) -> Option<Lattice> {
    Some(Lattice { horizontal, vertical, drop })
}

pub fn wall(label: &str, width: Length, height: Length) -> Wall {
    let level = |y| Profile::new(vec![Point::new(Length::ZERO, y), Point::new(width, y)]).expect("a width");
    Wall {
        label: label.into(),
        name: String::new(),
        clothed: true,
        width,
        width_top: width,
        width_bottom: width,
        lean: Length::ZERO,
        ceiling: level(height),
        floor: level(Length::ZERO),
        crown: Moulding::default(),
        base: Moulding::default(),
        dado: None,
        rail: None,
        substrate: Substrate::Drywall,
        openings: Vec::new(),
        fixings: Vec::new(),
        services: Vec::new(),
        no_seam: Vec::new(),
        cross_checks: CrossChecks::default(),
    }
}

pub fn opening(label: &str, kind: OpeningKind, outer: Rect, cloth: OpeningCloth) -> Opening {
    let casing = inch(3);
    let clear = Rect { x0: outer.x0 + casing, x1: outer.x1 - casing, y0: outer.y0, y1: outer.y1 - casing };
    Opening { label: label.into(), kind, clear, casing, outer, head: Head::default(), cloth }
}

/// Corners with these angles; `None` is a free end.
pub fn corners(angles: &[Option<i64>]) -> Vec<Corner> {
    let corner = |(i, angle): (usize, &Option<i64>)| Corner {
        name: char::from(b'A' + i as u8).to_string(),
        kind: match angle {
            None => CornerKind::FreeEnd,
            Some(a) if *a < 180 => CornerKind::Inside,
            Some(_) => CornerKind::Outside,
        },
        angle: Angle::degrees(angle.unwrap_or(180)),
        metal_bead: false,
        wraps: Side::Left,
    };
    angles.iter().enumerate().map(corner).collect()
}

/// A room of these walls; as many angles as walls close it, one more leaves it open.
pub fn room(walls: Vec<Wall>, angles: &[Option<i64>], across: AcrossWish) -> Room {
    Room {
        name: "Test room".into(),
        cloth: 0,
        closed: angles.len() == walls.len(),
        corners: corners(angles),
        walls,
        year: 1990,
        public: false,
        textured: false,
        registration: RegistrationWish { across, below_crown: inch(12) },
        kill_corner: 0,
        hang_order: Vec::new(),
    }
}

fn no_trim() -> Trim {
    Trim {
        kind: TrimKind::None,
        name: "none".into(),
        strip: Length::ZERO,
        cord: Length::ZERO,
        matched: false,
        unbroken: false,
        from_cut_outs: false,
        sold_in: SoldIn::Yard,
        each: Length::yards(1),
    }
}

/// Single welt of 5/32 in cord in a 1-1/2 in strip.
pub fn welt(matched: bool) -> Trim {
    Trim {
        kind: TrimKind::SingleWelt,
        name: "single welt".into(),
        strip: sixty_fourths(96),
        cord: sixty_fourths(10),
        matched,
        ..no_trim()
    }
}

/// Bought braid.
pub fn braid(unbroken: bool) -> Trim {
    Trim { kind: TrimKind::Braid, name: "braid".into(), unbroken, ..no_trim() }
}

/// The same room with a base 6 in and a crown 4 in high on every wall.
pub fn moulded(mut job: Job) -> Job {
    for wall in job.rooms.iter_mut().flat_map(|r| &mut r.walls) {
        wall.base = Moulding { height: inch(6), projection: inch(1) };
        wall.crown = Moulding { height: inch(4), projection: inch(3) };
    }
    job
}

/// The customary limits, in inches.
fn survey_limits() -> SurveyLimits {
    SurveyLimits {
        closing: inch(2),
        closing_part: 200,
        angles: Angle::degrees(2),
        widths: inch(3),
        heights: inch(3),
        corner: sixty_fourths(48),
        both_ends: sixty_fourths(32),
        back: inch(1),
    }
}

pub fn house() -> House {
    House {
        seam_allowance: sixty_fourths(32),
        top_allowance: inch(2),
        bottom_allowance: inch(2),
        pull_allowance: inch(1),
        wrap_allowance: inch(2),
        fold_allowance: inch(1),
        smallest_sliver: inch(3),
        survey: survey_limits(),
        seam_rules: SeamRules { through_box: Firmness::Avoid, sliver: Firmness::Avoid },
        edge_staples: inch(1),
        wrap_staples: inch(3),
        tack_staples: inch(12),
        batting_edge_staples: inch(8),
        batting_butt_staples: inch(4),
        legs: Legs { drywall: sixty_fourths(32), plaster: sixty_fourths(40), wood: sixty_fourths(24) },
        staples_per_box: 5000,
        joint_clearance: inch(3),
        smallest_batting: inch(6),
        trim_end: inch(2),
        staple_waste: 10,
        hem_tape_roll: Length::yards(10),
        tube_bead: Length::feet(30),
        stapler_psi: 80,
        batten_length: Length::feet(8),
        batten_width: sixty_fourths(96),
        batten_thickness: sixty_fourths(48),
        batten_screws: inch(16),
        screw_length: inch(2),
        screws_per_box: 100,
        thread_times: 3,
        thread_spool: Length::yards(300),
        level_trim_first: false,
        crew: 2,
    }
}

pub fn rates() -> Rates {
    Rates {
        staples_per_hour: 240,
        batting_per_hour: Length::yards(12),
        battens_per_hour: Length::yards(8),
        seam_per_hour: Length::yards(5),
        welt_per_hour: Length::yards(15),
        trim_per_hour: Length::yards(8),
        cut_minutes: 4,
        opening_minutes: 15,
        box_minutes: 5,
        fold_minutes: 45,
        hold_minutes: 30,
        step_minutes: 30,
        day_minutes: 420,
        meal_minutes: 30,
    }
}

pub fn job(cloth: Cloth, rooms: Vec<Room>) -> Job {
    Job {
        facts: Facts {
            number: "T-1".into(),
            title: "Test job".into(),
            place: String::new(),
            installer: String::new(),
            workroom: String::new(),
            designer: String::new(),
            date: String::new(),
            revisions: vec![Revision { index: "A".into(), date: String::new(), text: "first issue".into() }],
            notes: Vec::new(),
            sets: Vec::new(),
        },
        print: PrintWish {
            paper: Paper::Tabloid,
            format: LengthFormat { system: UnitSystem::FeetInches, step: sixty_fourths(4) },
        },
        cloths: vec![cloth],
        batting: Batting {
            loft: sixty_fourths(32),
            roll_width: inch(48),
            roll_length: Length::yards(20),
            gap: sixty_fourths(8),
            carry: inch(4),
            hang: BattingHang::Upright,
            foamed: false,
            fire_class: String::new(),
        },
        trims: Trims { corner: no_trim(), opening: no_trim(), top: no_trim(), bottom: no_trim() },
        house: house(),
        rates: rates(),
        prices: None,
        rooms,
        as_built: None,
        assumptions: Vec::new(),
    }
}

/// Takes all trim away.
pub fn without_trim(job: &mut Job) {
    job.trims = Trims { corner: no_trim(), opening: no_trim(), top: no_trim(), bottom: no_trim() };
}

/// One wall, open at both ends.
pub fn feature_wall(cloth: Cloth, width: Length, height: Length) -> Job {
    let across = AcrossWish::MotifCentred(0);
    job(cloth, vec![room(vec![wall("1", width, height)], &[None, None], across)])
}

/// Four walls, 13 ft by 12 ft by 9 ft.
pub fn rectangle(cloth: Cloth) -> Job {
    let widths = [156, 144, 156, 144];
    let walls = widths.iter().enumerate().map(|(i, &w)| wall(&(i + 1).to_string(), inch(w), inch(108)));
    job(cloth, vec![room(walls.collect(), &[Some(90); 4], AcrossWish::MotifCentred(0))])
}

/// Eight walls: a chimney breast 60 in wide and 18 in deep stands in the first long side.
pub fn chimney_breast(cloth: Cloth) -> Job {
    let widths = [48, 18, 60, 18, 48, 144, 156, 144];
    let mut walls: Vec<Wall> =
        widths.iter().enumerate().map(|(i, &w)| wall(&(i + 1).to_string(), inch(w), inch(108))).collect();
    let fireplace = Rect::new(inch(10), Length::ZERO, inch(50), inch(44));
    walls[2].openings.push(opening("F1", OpeningKind::Fireplace, fireplace, OpeningCloth::CoveredThrough));
    let window = Rect::new(inch(50), inch(30), inch(92), inch(84));
    walls[5].openings.push(opening("W1", OpeningKind::Window, window, OpeningCloth::Pieced));
    let door = Rect::new(inch(100), Length::ZERO, inch(138), inch(84));
    walls[6].openings.push(opening("D1", OpeningKind::Door, door, OpeningCloth::CoveredThrough));
    let angles = [90, 90, 270, 270, 90, 90, 90, 90].map(Some);
    let mut job = job(cloth, vec![room(walls, &angles, AcrossWish::MotifCentred(2))]);
    job.rooms[0].kill_corner = 7;
    job.trims.corner = welt(true);
    job.trims.bottom = welt(true);
    job
}
