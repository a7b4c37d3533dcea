//! Rooms by number: the same number always gives the same room.
//!
//! 4 to 12 walls, 7 to 11 ft high, up to 6 openings, repeats of 3 to 36 in, one to four
//! repeats within a match width, straight or dropped by a half, a third or a quarter, cloth 50 to
//! 118 in wide. Corners lean, ceilings slope, some walls have no cloth, some runs are open.

use clothwright::geom::{Point, Profile, Rect};
use clothwright::job::model::*;
use clothwright::units::Length;

use crate::rooms::{corners, inch, job, opening, sixty_fourths, wall, welt};

/// Numbers from given bytes as long as they last, then xorshift numbers from a seed.
pub struct Random {
    given: std::collections::VecDeque<u8>,
    state: u64,
}

impl Random {
    pub fn new(seed: u64) -> Self {
        // Spread small seeds over all bits; the multiplier is odd, so no seed is lost.
        let state = (seed + 1).wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1;
        Random { given: Default::default(), state }
    }

    #[allow(dead_code, reason = "only the fuzz target of the plan has bytes to give")]
    pub fn from_bytes(bytes: &[u8]) -> Self {
        Random { given: bytes.iter().copied().collect(), ..Random::new(0) }
    }

    /// A whole number from `low` to `high`, both possible.
    pub fn between(&mut self, low: i64, high: i64) -> i64 {
        let span = (high - low + 1) as u64;
        if !self.given.is_empty() {
            // Few bytes for a small choice, so that a changed byte changes one thing.
            let bytes = if span <= 256 { 1 } else { 4 };
            let number = (0..bytes)
                .filter_map(|_| self.given.pop_front())
                .fold(0, |sum, byte| sum << 8 | u64::from(byte));
            return low + (number % span) as i64;
        }
        self.state ^= self.state << 13;
        self.state ^= self.state >> 7;
        self.state ^= self.state << 17;
        low + ((self.state >> 11) % span) as i64
    }

    /// True once in `n`.
    pub fn once_in(&mut self, n: i64) -> bool {
        self.between(1, n) == 1
    }
}

/// A cloth with a pattern, or plain once in eight.
pub fn random_cloth(random: &mut Random) -> Cloth {
    let margin = sixty_fourths(48);
    let starts = random.between(1, 4);
    let wide = inch(random.between(50, 118)) - margin * 2;
    let horizontal = (wide / starts).min(inch(36));
    let horizontal = sixty_fourths(horizontal.div_floor(sixty_fourths(8)) * 8);
    let starts = wide.div_floor(horizontal);
    let vertical = sixty_fourths(random.between(3 * 64, 36 * 64));
    let drop = match random.between(0, 3) {
        0 => Length::ZERO,
        n => Length::nanometres(vertical.nm() / (n + 1)),
    };
    let pattern = (!random.once_in(8)).then_some(Lattice { horizontal, vertical, drop });
    Cloth {
        name: "test cloth".into(),
        width: horizontal * starts + margin * 2,
        selvage: sixty_fourths(24),
        left_match: margin,
        match_width: horizontal * starts,
        pattern,
        label: None,
        hang: ClothHang::Upright,
        direction: Direction::OneWay,
        nap: Nap::None,
        sold_in: SoldIn::Yard,
        spare: inch(random.between(0, 36)),
        shrinkage: Shrinkage::default(),
        on_hand: Vec::new(),
        most_points: None,
        samples: Vec::new(),
        bolt_length: if random.once_in(6) { Length::yards(25) } else { Length::yards(120) },
        metallic: false,
        fire_class: String::new(),
        picture: None,
    }
}

/// A job of one room, by its number.
pub fn random_job(seed: u64) -> Job {
    job_of(&mut Random::new(seed), format!("Room {seed}"))
}

/// A job of one room with this name.
pub fn job_of(random: &mut Random, name: String) -> Job {
    let cloth = random_cloth(random);
    let count = random.between(4, 12) as usize;
    let height = sixty_fourths(random.between(84 * 64, 132 * 64));
    let mut walls: Vec<Wall> = (0..count).map(|i| random_wall(random, i, height)).collect();
    let mut openings = random.between(0, 6);
    for (i, wall) in walls.iter_mut().enumerate() {
        if openings > 0 && random.once_in(2) {
            openings -= 1;
            add_opening(random, wall, i);
        }
    }
    if random.once_in(4) {
        let bare = random.between(0, count as i64 - 1) as usize;
        walls[bare].clothed = false;
    }
    let outside = (count - 4) / 2;
    let mut angles: Vec<Option<i64>> =
        (0..count).map(|i| Some(if i % 2 == 1 && i / 2 < outside { 270 } else { 90 })).collect();
    let closed = !random.once_in(4);
    if !closed {
        angles[0] = None;
        angles.push(None);
    }
    let centre =
        (0..count).cycle().skip(random.between(0, 11) as usize).find(|&i| walls[i].clothed).unwrap_or(0);
    let across = match random.between(0, 2) {
        0 => AcrossWish::MotifCentred(centre),
        1 => AcrossWish::SeamCentred(centre),
        _ => AcrossWish::FromCorner(centre),
    };
    let mut corners = corners(&angles);
    for corner in &mut corners {
        corner.wraps = if random.once_in(2) { Side::Left } else { Side::Right };
    }
    let room = Room {
        name,
        cloth: 0,
        closed,
        corners,
        walls,
        year: 1990,
        public: false,
        textured: false,
        registration: RegistrationWish { across, below_crown: inch(random.between(0, 30)) },
        kill_corner: if closed { random.between(0, count as i64 - 1) as usize } else { 0 },
        hang_order: Vec::new(),
    };
    let mut job = job(cloth, vec![room]);
    job.house.pull_allowance = sixty_fourths(random.between(64, 160));
    job.house.wrap_allowance = sixty_fourths(random.between(96, 256));
    for trim in [&mut job.trims.corner, &mut job.trims.opening, &mut job.trims.bottom] {
        if random.once_in(2) {
            *trim = welt(random.once_in(2));
        }
    }
    job
}

fn random_wall(random: &mut Random, index: usize, height: Length) -> Wall {
    let width = sixty_fourths(random.between(14 * 64, 200 * 64));
    let mut wall = wall(&(index + 1).to_string(), width, height);
    if random.once_in(3) {
        wall.width_top = width + sixty_fourths(random.between(-48, 48));
    }
    if random.once_in(4) {
        let right = height + sixty_fourths(random.between(-24 * 64, 24 * 64));
        let middle = Point::new(width / 2, height + sixty_fourths(random.between(0, 64)));
        let points = vec![Point::new(Length::ZERO, height), middle, Point::new(width, right)];
        wall.ceiling = Profile::new(points).expect("rising x");
    }
    wall.crown = Moulding { height: inch(random.between(0, 5)), projection: inch(2) };
    wall.base = Moulding { height: inch(random.between(0, 8)), projection: inch(1) };
    if random.once_in(2) {
        let x = sixty_fourths(random.between(64, (width.nm() / sixty_fourths(1).nm() - 256).max(65)));
        wall.fixings.push(Fixing {
            label: format!("X{}", index + 1),
            kind: FixingKind::Box,
            rect: Rect::new(x, inch(12), x + inch(2), inch(16)),
        });
    }
    wall
}

fn add_opening(random: &mut Random, wall: &mut Wall, index: usize) {
    let room = wall.width.div_floor(inch(1)) - 4;
    if room < 24 {
        return;
    }
    let wide = random.between(20, room.min(60));
    let x0 = inch(random.between(2, 2 + room - wide));
    let x1 = x0 + inch(wide);
    let (kind, rect) = if random.once_in(2) {
        (OpeningKind::Door, Rect::new(x0, Length::ZERO, x1, inch(80)))
    } else {
        (OpeningKind::Window, Rect::new(x0, inch(30), x1, inch(random.between(60, 80))))
    };
    let cloth = if random.once_in(2) { OpeningCloth::Pieced } else { OpeningCloth::CoveredThrough };
    wall.openings.push(opening(&format!("O{}", index + 1), kind, rect, cloth));
}
