//! The pattern as a lattice, on the ribbon and on the cloth.
//!
//! **On the cloth.** Face up, the top of the pattern away from the reader, u to the right from the
//! left edge, v along the cloth in cutting order, so v grows down the pattern. A *motif row* of
//! column i is where a motif centre stands: at `u = left_match + H/2 + i*H` and, counted down the
//! pattern, at `i*drop + k*V`. So a motif stands centred half a horizontal repeat H to the right
//! of a match line, as the cloth is woven, and falls by `drop` from one column to the next.
//!
//! **On the ribbon.** x to the right, y up. Motif centres stand at `x0 + j*H`, `y0 - j*drop + k*V`,
//! and the match line of column j at `match_line + j*H`, where `match_line = x0 - H/2` (the half rounded
//! down to the nanometre).
//!
//! **The law.** A piece whose gross rectangle has its left edge at `xa` and its top at `yb` on the
//! ribbon is cut at (u, v) of a bolt whose first cut is `start` below a motif row. The left match
//! line of the cloth then stands on the ribbon at `xa + left_match - u`, and the pattern is right
//! exactly when
//!
//! ```text
//! xa + left_match - u = match_line + c*H                  for a whole number c, the piece's column
//! v + start  is congruent to  y0 - c*drop - yb         modulo V; this is the piece's phase
//! ```
//!
//! for the motif row of the cloth's own first column then lies at `yb + (v + start)` modulo V,
//! where the ribbon wants the motifs of column c: at `y0 - c*drop`.
//!
//! **Railroaded.** The cloth is turned a quarter anticlockwise: its left edge lies below, and from
//! the bolt's first cut it runs to the right, as the bolt map draws it. Of its two measures nothing
//! is renamed: H and the match lines still lie across the bolt, V and the drop along it. So match
//! lines are level, that of column j at `match_line + j*H` with `match_line = y0 - H/2`; motif centres
//! stand at `x0 + j*drop + k*V`, `y0 + j*H`; and for a piece whose gross rectangle has its left edge
//! at `xa` and its bottom at `ya` the law reads
//!
//! ```text
//! ya + left_match - u = match_line + c*H
//! v + start  is congruent to  xa - x0 - c*drop         modulo V
//! ```
//!
//! Both are one law in places *across* the cloth (x, or y when railroaded) and *along* it (-y, or x).

use super::model::{Piece, Purpose, Registration, RoomPlan, Way};
use crate::geom::Rect;
use crate::job::model::{Cloth, Job, Lattice};
use crate::units::Length;

/// The pattern of one cloth laid on the ribbon of one room.
#[derive(Clone, Copy, Debug)]
pub struct Laid<'a> {
    /// The cloth.
    pub cloth: &'a Cloth,
    /// Which way it hangs.
    pub way: Way,
    /// The match line of column 0: a place across the cloth.
    pub match_line: Length,
    /// The motif centre of column 0: a place along the cloth.
    motif: Length,
}

/// A place across the cloth where a piece can be cut so that its pattern is right.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Spot {
    /// The column on the cloth's left match line.
    pub column: i64,
    /// Left edge of the cut, from the left edge of the cloth.
    pub u: Length,
    /// How far past a motif row the cut begins, `0..V`.
    pub phase: Length,
}

impl<'a> Laid<'a> {
    /// `cloth` on a ribbon as `registration` says.
    pub fn new(cloth: &'a Cloth, registration: &Registration) -> Self {
        let motif = match registration.way {
            Way::Upright => -registration.y0,
            Way::Railroaded => registration.x0,
        };
        Laid { cloth, way: registration.way, match_line: registration.match_line, motif }
    }

    /// The cloth of room `room` as `plan` registers it.
    pub fn of(job: &'a Job, room: usize, plan: &RoomPlan) -> Self {
        Laid::new(&job.cloths[job.rooms[room].cloth], &plan.registration)
    }

    /// The cloth as a sample lies on it: a motif at the origin, its length upright whichever way it hangs.
    pub fn sample(cloth: &'a Cloth) -> Self {
        let half = cloth.pattern.map_or(Length::ZERO, |lattice| lattice.horizontal / 2);
        Laid { cloth, way: Way::Upright, match_line: -half, motif: Length::ZERO }
    }

    /// The cloth as `piece` lies on it, in the room that it is for or as a sample.
    pub fn of_piece(job: &'a Job, rooms: &[RoomPlan], piece: &Piece) -> Self {
        match piece.purpose {
            Purpose::Wall(wall) => Laid::of(job, wall.room, &rooms[wall.room]),
            Purpose::Sample(_) => Laid::sample(&job.cloths[piece.cloth]),
        }
    }

    /// From where to where a rectangle of the ribbon lies across the cloth, from its left edge on.
    pub fn across(&self, rect: &Rect) -> (Length, Length) {
        match self.way {
            Way::Upright => (rect.x0, rect.x1),
            Way::Railroaded => (rect.y0, rect.y1),
        }
    }

    /// From where to where it lies along the cloth, from the bolt's first cut on.
    pub fn along(&self, rect: &Rect) -> (Length, Length) {
        match self.way {
            Way::Upright => (-rect.y1, -rect.y0),
            Way::Railroaded => (rect.x0, rect.x1),
        }
    }

    /// What a cut of a rectangle takes of the cloth's width.
    pub fn width(&self, rect: &Rect) -> Length {
        let (from, to) = self.across(rect);
        to - from
    }

    /// What it takes of the cloth's length.
    pub fn length(&self, rect: &Rect) -> Length {
        let (from, to) = self.along(rect);
        to - from
    }

    /// Where the motifs of `column` stand across the cloth: half a horizontal repeat past its match line.
    pub fn motif_across(&self, lattice: &Lattice, column: i64) -> Length {
        self.match_line + lattice.horizontal * column + lattice.horizontal / 2
    }

    /// The last match line of the room at or before a place across the cloth.
    pub fn line_under(&self, place: Length) -> Length {
        let step = self.cloth.pattern.map_or(self.cloth.match_width, |lattice| lattice.horizontal);
        self.match_line + step * (place - self.match_line).div_floor(step)
    }

    /// The phase of a cut that begins at `begin` along the cloth, laid with `column` on the cloth's
    /// left match line.
    pub fn phase(&self, lattice: &Lattice, column: i64, begin: Length) -> Length {
        let fall = i128::from(lattice.drop.nm()) * i128::from(column);
        let fall = fall.rem_euclid(i128::from(lattice.vertical.nm())) as i64;
        (begin - self.motif - Length::nanometres(fall)).rem_euclid(lattice.vertical)
    }

    /// Every place across the cloth for a matched piece, from the left: the cut lies on the cloth
    /// and `face`, the part of it that shows (from and to, across the cloth), off the selvages.
    /// Empty for plain cloth, where any place will do.
    pub fn spots(&self, gross: &Rect, face: (Length, Length)) -> Vec<Spot> {
        let Some(lattice) = &self.cloth.pattern else { return Vec::new() };
        let (least, most) = self.cut_range(gross, face);
        // u = left edge + left_match - match_line - c*H, so the greatest u has the least c.
        let at_zero = self.across(gross).0 + self.cloth.left_match - self.match_line;
        let first = (at_zero - most).div_ceil(lattice.horizontal);
        let last = (at_zero - least).div_floor(lattice.horizontal);
        let begin = self.along(gross).0;
        let spot = |column: i64| Spot {
            column,
            u: at_zero - lattice.horizontal * column,
            phase: self.phase(lattice, column, begin),
        };
        (first..=last).rev().map(spot).collect()
    }

    /// Whether a piece can be cut at all: patterned, with the right column; plain, anywhere.
    pub fn fits(&self, gross: &Rect, face: (Length, Length)) -> bool {
        let (least, most) = self.cut_range(gross, face);
        match self.cloth.pattern {
            None => least <= most,
            Some(_) => least <= most && !self.spots(gross, face).is_empty(),
        }
    }

    /// Least and greatest u of the cut for which it lies on the cloth and its face off the
    /// selvages; the least is greater than the greatest when it is too wide.
    pub fn cut_range(&self, gross: &Rect, face: (Length, Length)) -> (Length, Length) {
        let left = self.across(gross).0;
        let least = (self.cloth.selvage - (face.0 - left)).max(Length::ZERO);
        let off_right = self.cloth.width - self.cloth.selvage - (face.1 - left);
        (least, off_right.min(self.cloth.width - self.width(gross)))
    }
}

/// The letters of strips and joints: A to Z, then AA, AB and so on.
pub fn letter(index: usize) -> String {
    let last = char::from(b'A' + (index % 26) as u8);
    if index < 26 { last.to_string() } else { format!("{}{last}", letter(index / 26 - 1)) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::model::{ClothHang, Direction, Nap, Shrinkage, SoldIn};

    fn cloth() -> Cloth {
        Cloth {
            name: "test".into(),
            width: Length::mm(1400),
            selvage: Length::mm(10),
            left_match: Length::mm(20),
            match_width: Length::mm(1360),
            pattern: Some(Lattice {
                horizontal: Length::mm(680),
                vertical: Length::mm(640),
                drop: Length::mm(320),
            }),
            label: None,
            hang: ClothHang::Upright,
            direction: Direction::OneWay,
            nap: Nap::None,
            sold_in: SoldIn::Metre,
            spare: Length::ZERO,
            shrinkage: Shrinkage::default(),
            on_hand: Vec::new(),
            most_points: None,
            samples: Vec::new(),
            bolt_length: Length::mm(50_000),
            metallic: false,
            fire_class: String::new(),
            picture: None,
        }
    }

    /// A motif stands at (340, 2000): the match line of column 0 at 0 upright, at 1660 railroaded.
    fn registration(way: Way) -> Registration {
        let match_line = if way == Way::Upright { Length::ZERO } else { Length::mm(1660) };
        Registration { x0: Length::mm(340), y0: Length::mm(2000), way, match_line, why: String::new() }
    }

    /// The same law turned, worked by hand: a piece from x = -20 to 3000 and from y = 1640 to 2500
    /// takes 860 of the width. Laid with its lower edge at u, the match line at u = 20 stands at
    /// 1660 when u = 0; the motif of that column is wanted at x = 340, 360 past the cut's left end,
    /// so the cut begins 640 - 360 = 280 past a motif. One repeat of 680 up the cloth is too far.
    #[test]
    fn railroaded_phase_by_hand() {
        let cloth = cloth();
        let laid = Laid::new(&cloth, &registration(Way::Railroaded));
        let mm = Length::mm;
        let gross = Rect::new(mm(-20), mm(1640), mm(3000), mm(2500));
        assert_eq!((laid.width(&gross), laid.length(&gross)), (mm(860), mm(3020)));
        let spots = laid.spots(&gross, (mm(1650), mm(2490)));
        assert_eq!(spots, [Spot { column: 0, u: Length::ZERO, phase: mm(280) }]);
        // A strip 100 lower down in the pattern has its place at u = 580 too, one column further
        // down, whose motifs stand a drop of 320 further left: 280 + 320 past a motif.
        let strip = Rect::new(mm(-20), mm(1540), mm(3000), mm(1640));
        let spots = laid.spots(&strip, (mm(1550), mm(1630)));
        let found: Vec<_> = spots.iter().map(|s| (s.column, s.u, s.phase)).collect();
        assert_eq!(found, [(-1, mm(580), mm(600)), (-2, mm(1260), mm(280))]);
    }

    /// The law of the module, worked by hand: a motif that the ribbon wants at (340, 2000) lies on
    /// the cloth at u = 20 + 340, so a cut from x = -20 with its top at 2700 has it 700 down.
    #[test]
    fn phase_by_hand() {
        let cloth = cloth();
        let laid = Laid::new(&cloth, &registration(Way::Upright));
        let gross = Rect::new(Length::mm(-20), Length::mm(0), Length::mm(1380), Length::mm(2700));
        let spots = laid.spots(&gross, (Length::ZERO, Length::mm(1360)));
        assert_eq!(spots, [Spot { column: 0, u: Length::ZERO, phase: Length::mm(580) }]);
        // 580 below a row: the next row is 60 further down, and one more at 700. Right.
        assert_eq!((Length::mm(580 + 700)).rem_euclid(Length::mm(640)), Length::ZERO);
    }

    /// A narrow piece has a place in each horizontal repeat, and the half drop tells them apart.
    #[test]
    fn narrow_piece_has_two_places() {
        let cloth = cloth();
        let laid = Laid::new(&cloth, &registration(Way::Upright));
        let gross = Rect::new(Length::mm(680), Length::mm(0), Length::mm(1080), Length::mm(2700));
        let spots = laid.spots(&gross, (gross.x0, gross.x1));
        let found: Vec<_> = spots.iter().map(|s| (s.column, s.u, s.phase)).collect();
        let mm = Length::mm;
        assert_eq!(found, [(1, mm(20), mm(260)), (0, mm(700), mm(580))]);
    }

    /// Motifs stand half a repeat past match lines, which go on both ways; plain cloth has match lines one match
    /// width apart and no motifs.
    #[test]
    fn motifs_and_lines_by_hand() {
        let mut cloth = cloth();
        let lattice = cloth.pattern.unwrap();
        let mm = Length::mm;
        let laid = Laid::new(&cloth, &registration(Way::Upright));
        assert_eq!([-2, 0, 1].map(|column| laid.motif_across(&lattice, column)), [-1020, 340, 1020].map(mm));
        let places = [-681, -680, -1, 0, 679, 680];
        let lines = [-1360, -680, -680, 0, 0, 680];
        assert_eq!(places.map(|place| laid.line_under(mm(place))), lines.map(mm));
        let turned = Laid::new(&cloth, &registration(Way::Railroaded));
        assert_eq!([-2, 0, 1].map(|column| turned.motif_across(&lattice, column)), [640, 2000, 2680].map(mm));
        assert_eq!([1659, 1660].map(|place| turned.line_under(mm(place))), [980, 1660].map(mm));
        cloth.pattern = None;
        let plain = Laid::new(&cloth, &registration(Way::Upright));
        assert_eq!([-1, 1359, 1360].map(|place| plain.line_under(mm(place))), [-1360, 0, 1360].map(mm));
        assert!(plain.spots(&Rect::new(mm(0), mm(0), mm(100), mm(100)), (mm(0), mm(100))).is_empty());
    }

    /// A piece of a quarter drop that does not begin on the floor: what is along the cloth runs down the wall, and
    /// each column hangs a drop lower.
    #[test]
    fn a_column_hangs_a_drop_lower() {
        let mut cloth = cloth();
        let mm = Length::mm;
        cloth.pattern = Some(Lattice { drop: mm(160), ..cloth.pattern.unwrap() });
        let laid = Laid::new(&cloth, &registration(Way::Upright));
        let gross = Rect::new(mm(680), mm(100), mm(1080), mm(2700));
        assert_eq!((laid.along(&gross), laid.length(&gross)), ((mm(-2700), mm(-100)), mm(2600)));
        // -2700 + 2000 is -700, which is 580 past a motif row of column 0 and 580 - 160 past one of column 1.
        let lattice = cloth.pattern.unwrap();
        assert_eq!([0, 1, -1].map(|column| laid.phase(&lattice, column, mm(-2700))), [580, 420, 100].map(mm));
    }

    /// By hand, on a cloth 1400 wide with selvages of 10: a piece 400 wide whose face begins 5 and ends 8 inside of
    /// it may lie from 5 past the left edge, its face on the selvage's end, to 998, with the face's end at 1390.
    #[test]
    fn a_piece_keeps_its_face_off_the_selvages() {
        let mut cloth = cloth();
        let mm = Length::mm;
        let gross = Rect::new(mm(680), mm(0), mm(1080), mm(2700));
        let laid = Laid::new(&cloth, &registration(Way::Upright));
        assert_eq!(laid.cut_range(&gross, (mm(685), mm(1072))), (mm(5), mm(998)));
        // With much beyond its face the cloth's own edges are what holds it.
        assert_eq!(laid.cut_range(&gross, (mm(700), mm(1000))), (mm(0), mm(1000)));
        // Two past the left edge its column would be right, but the selvage would show: only a repeat on it can lie.
        let narrow = Rect::new(mm(662), mm(0), mm(762), mm(2700));
        let spots = laid.spots(&narrow, (mm(667), mm(762)));
        assert_eq!(spots.iter().map(|spot| (spot.column, spot.u)).collect::<Vec<_>>(), [(0, mm(682))]);
        // 1400 wide with 10 at each side beyond its face it fills the cloth, in one place and one column.
        let whole = Rect::new(mm(-20), mm(0), mm(1380), mm(2700));
        assert!(laid.fits(&whole, (mm(-10), mm(1370))));
        assert!(!laid.fits(&whole, (mm(-11), mm(1370))), "its face would show the selvage");
        let between = Rect::new(mm(100), mm(0), mm(1500), mm(2700));
        assert!(!laid.fits(&between, (mm(110), mm(1490))), "no column lies so");
        cloth.pattern = None;
        let plain = Laid::new(&cloth, &registration(Way::Upright));
        assert!(plain.fits(&between, (mm(110), mm(1490))));
        assert!(!plain.fits(&between, (mm(109), mm(1490))));
    }

    #[test]
    fn letters_go_on() {
        assert_eq!([letter(0), letter(25), letter(26), letter(52)], ["A", "Z", "AA", "BA"]);
    }
}
