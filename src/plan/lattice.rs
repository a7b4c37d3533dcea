//! The pattern as a lattice, on the ribbon and on the cloth.
//!
//! **On the cloth.** Face up, the top of the pattern away from the reader, u to the right from the
//! left edge, v along the cloth in cutting order, so v grows down the pattern. A *motif row* of
//! column i is where a motif centre stands: at `u = left_match + H/2 + i*H` and, counted down the
//! pattern, at `i*drop + k*V`. So a motif stands centred half a horizontal repeat H to the right
//! of a match line, as the cloth is woven, and falls by `drop` from one column to the next.
//!
//! **On the ribbon.** x to the right, y up. Motif centres stand at `x0 + j*H`, `y0 - j*drop + k*V`,
//! and the match line of column j at `match_x + j*H`, where `match_x = x0 - H/2` (the half rounded
//! down to the nanometre).
//!
//! **The law.** A piece whose gross rectangle has its left edge at `xa` and its top at `yb` on the
//! ribbon is cut at (u, v) of a bolt whose first cut is `start` below a motif row. The left match
//! line of the cloth then stands on the ribbon at `xa + left_match - u`, and the pattern is right
//! exactly when
//!
//! ```text
//! xa + left_match - u = match_x + c*H                  for a whole number c, the piece's column
//! v + start  is congruent to  y0 - c*drop - yb         modulo V; this is the piece's phase
//! ```
//!
//! for the motif row of the cloth's own first column then lies at `yb + (v + start)` modulo V,
//! where the ribbon wants the motifs of column c: at `y0 - c*drop`.

use super::model::RoomPlan;
use crate::geom::Rect;
use crate::job::model::{Cloth, Job, Lattice};
use crate::units::Length;

/// The pattern of one cloth laid on the ribbon of one room.
#[derive(Clone, Copy, Debug)]
pub struct Laid<'a> {
    /// The cloth.
    pub cloth: &'a Cloth,
    /// The match line of column 0, on the ribbon.
    pub match_x: Length,
    /// The height of the motif centre of column 0.
    pub y0: Length,
}

/// A place across the cloth where a piece can be cut so that its pattern is right.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Spot {
    /// The column on the cloth's left match line.
    pub column: i64,
    /// Left edge of the cut, from the left edge of the cloth.
    pub u: Length,
    /// How far below a motif row the top of the cut falls, `0..V`.
    pub phase: Length,
}

impl<'a> Laid<'a> {
    /// The cloth of room `room` as `plan` registers it.
    pub fn of(job: &'a Job, room: usize, plan: &RoomPlan) -> Self {
        let cloth = &job.cloths[job.rooms[room].cloth];
        Laid { cloth, match_x: plan.registration.match_x, y0: plan.registration.y0 }
    }

    /// Where the match line of `column` stands on the ribbon. Only for patterned cloth.
    pub fn match_line(&self, lattice: &Lattice, column: i64) -> Length {
        self.match_x + lattice.horizontal * column
    }

    /// The phase of a cut whose top stands at `top` on the ribbon, laid with `column` on the
    /// cloth's left match line.
    pub fn phase(&self, lattice: &Lattice, column: i64, top: Length) -> Length {
        let fall = i128::from(lattice.drop.nm()) * i128::from(column);
        let fall = fall.rem_euclid(i128::from(lattice.vertical.nm())) as i64;
        (self.y0 - Length::nanometres(fall) - top).rem_euclid(lattice.vertical)
    }

    /// Every place across the cloth for a matched piece, from the left: the cut lies on the cloth
    /// and `face`, the part of it that shows (left and right on the ribbon), off the selvages.
    /// Empty for plain cloth, where any place will do.
    pub fn spots(&self, gross: &Rect, face: (Length, Length)) -> Vec<Spot> {
        let Some(lattice) = &self.cloth.pattern else { return Vec::new() };
        let (least, most) = self.cut_range(gross, face);
        // u = xa + left_match - match_x - c*H, so the greatest u has the least c.
        let at_zero = gross.x0 + self.cloth.left_match - self.match_x;
        let first = (at_zero - most).div_ceil(lattice.horizontal);
        let last = (at_zero - least).div_floor(lattice.horizontal);
        let spot = |column: i64| Spot {
            column,
            u: at_zero - lattice.horizontal * column,
            phase: self.phase(lattice, column, gross.y1),
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
        let least = (self.cloth.selvage - (face.0 - gross.x0)).max(Length::ZERO);
        let off_right = self.cloth.width - self.cloth.selvage - (face.1 - gross.x0);
        (least, off_right.min(self.cloth.width - gross.width()))
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
    use crate::job::model::{Direction, Nap, SoldIn};

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
            direction: Direction::OneWay,
            nap: Nap::None,
            sold_in: SoldIn::Metre,
            spare: Length::ZERO,
            bolt_length: Length::mm(50_000),
            metallic: false,
            fire_class: String::new(),
            picture: None,
        }
    }

    /// The law of the module, worked by hand: a motif that the ribbon wants at (340, 2000) lies on
    /// the cloth at u = 20 + 340, so a cut from x = -20 with its top at 2700 has it 700 down.
    #[test]
    fn phase_by_hand() {
        let cloth = cloth();
        let laid = Laid { cloth: &cloth, match_x: Length::ZERO, y0: Length::mm(2000) };
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
        let laid = Laid { cloth: &cloth, match_x: Length::ZERO, y0: Length::mm(2000) };
        let gross = Rect::new(Length::mm(680), Length::mm(0), Length::mm(1080), Length::mm(2700));
        let spots = laid.spots(&gross, (gross.x0, gross.x1));
        let found: Vec<_> = spots.iter().map(|s| (s.column, s.u, s.phase)).collect();
        let mm = Length::mm;
        assert_eq!(found, [(1, mm(20), mm(260)), (0, mm(700), mm(580))]);
    }

    #[test]
    fn letters_go_on() {
        assert_eq!([letter(0), letter(25), letter(26), letter(52)], ["A", "Z", "AA", "BA"]);
    }
}
