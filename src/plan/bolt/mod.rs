//! The bolt: every piece of a cloth laid out for cutting.
//!
//! A bolt is cut straight across its full width into *lays*, in an order that wastes least between
//! them ([`sequence`]); each lay is then cut lengthwise. `pack` finds the lays and proves how much
//! cloth they must take at least.

mod area;
mod around;
mod cutting;
mod exact;
mod hand;
mod lay;
mod load;
mod lots;
mod made;
mod motif;
mod pack;
mod parting;
mod prices;
mod programme;
pub mod sequence;
mod shares;
mod simplex;
mod slots;
mod stock;
mod weights;

use std::collections::{BTreeMap, BTreeSet};

use super::PlanFault;
use super::lattice::Laid;
use super::model::{Bolt, ClothPlan, Cut, Piece, PieceId, PieceKind, RoomPlan, WallRef, Way};
use super::words::{capital, list, purpose_of, sold, wall_of};
use crate::job::model::{Assumption, Cloth, Job};
use crate::units::{Length, UnitSystem};
pub use cutting::Cutting;
use cutting::Goods;
use load::Run;

/// What laying out assumes by itself, for the sheets.
pub fn assumption(job: &Job) -> Assumption {
    Assumption {
        text: format!(
            "The bolt is first cut straight across into lengths that fit the table, and these are cut lengthwise: none \
             of them is longer than the longest piece by more than {}, or by one repeat where that is more",
            match job.print.format.system {
                // It is a yard in every job, and no round figure in metres.
                UnitSystem::Millimetres => format!("a yard, {}", job.print.format.print(cutting::BEYOND)),
                UnitSystem::FeetInches | UnitSystem::Inches => job.print.format.print(cutting::BEYOND),
            }
        ),
        source: "common practice, no source".into(),
    }
}

/// The pieces of a cloth in their places on its bolts, before it is told how good that is.
pub struct LaidOut {
    goods: Goods,
    cuttings: Vec<Cutting>,
    /// What laying out has proved to be needed, in nanometres.
    proved: Option<i64>,
    /// As in the [`ClothPlan`].
    pub bolts: Vec<Bolt>,
    /// As in the [`ClothPlan`].
    pub used: Length,
    /// As in the [`ClothPlan`].
    pub phase_allowance: Length,
    /// As in the [`ClothPlan`].
    pub shrinks: Length,
    /// As in the [`ClothPlan`].
    pub order_units: i64,
    round_flaws: Length,
}

/// Lays all pieces out and gives each its place on a bolt, for each cloth of the job.
///
/// # Errors
/// `no-bolt-long-enough`, `piece-too-wide` and `cloth-on-hand-too-short`, naming the wall.
pub fn cut(
    job: &Job,
    rooms: &[RoomPlan],
    pieces: &mut [Piece],
    watch: &mut Vec<String>,
) -> Result<Vec<LaidOut>, PlanFault> {
    let mut laid_out = Vec::new();
    for (index, cloth) in job.cloths.iter().enumerate() {
        let mut cuttings = Vec::new();
        for (id, piece) in pieces.iter_mut().enumerate().filter(|(_, p)| p.cloth == index) {
            let laid = Laid::of_piece(job, rooms, piece);
            free_strip(&laid, piece, watch);
            cuttings.push(cutting(job, &laid, PieceId(id), piece)?);
        }
        let laid = cut_cloth(job, cloth, cuttings, pieces)?;
        motif::mark(cloth, &laid, pieces);
        laid_out.push(laid);
    }
    Ok(laid_out)
}

impl LaidOut {
    /// The plan of the cloth: what was laid out, proved and compared. Proving takes as long as laying out.
    pub fn judged(self, cloth: &Cloth, pieces: &[Piece]) -> ClothPlan {
        let LaidOut { goods, cuttings, proved, bolts, used, phase_allowance, shrinks, .. } = self;
        let mut least = proved.unwrap_or(0);
        // Of cloth on hand some may be cut already, which slots know nothing of.
        let to_prove = |least| cloth.on_hand.is_empty() && least < used.nm();
        if proved.is_none() || bolts.len() > 1 && least < used.nm() {
            least = least.max(pack::least(&goods, &cuttings, bolts.len(), used.nm()));
        }
        if to_prove(least) {
            least = least.max(slots::by_slots(&goods, &cuttings, bolts.len(), used.nm() - 1));
        }
        if to_prove(least) && bolts.len() == 1 {
            least = pack::least_on_one(&goods, &cuttings, least);
        }
        let of_kinds = |kinds: &[PieceKind]| -> Vec<&Cutting> {
            cuttings.iter().filter(|c| kinds.contains(&pieces[c.id.0].kind)).collect()
        };
        let drops = [PieceKind::Drop, PieceKind::PartDrop, PieceKind::Railroaded];
        let drops: Vec<Length> = of_kinds(&drops).iter().map(|c| Length::nanometres(c.length)).collect();
        let without_samples = used_by(&goods, &cuttings, pieces, used, |kind| kind != PieceKind::Sample);
        let alone =
            used_by(&goods, &cuttings, pieces, without_samples, |kind| kind <= PieceKind::OpeningPiece);
        let covering = cuttings.iter().map(|c| &pieces[c.id.0]).filter(|p| p.kind <= PieceKind::OpeningPiece);
        let covered = area(covering.map(|p| (p.net.width(), p.net.height())));
        ClothPlan {
            used,
            phase_allowance,
            spare: cloth.spare,
            shrinks,
            order: cloth.sold_in.length() * self.order_units,
            order_units: self.order_units,
            bound: Length::nanometres(least),
            widths: drops.len(),
            hand_rules: hand::rules(cloth, &drops, alone),
            without_samples,
            drops_alone: alone,
            round_flaws: self.round_flaws,
            use_thousandths: thousandths(covered, cloth, used),
            compared: Vec::new(),
            bolts,
        }
    }
}

/// Pieces as the bolt sees them, by their place in the list.
pub fn cuttings(laid: &Laid, pieces: &[Piece]) -> Vec<Cutting> {
    pieces.iter().enumerate().map(|(id, piece)| Cutting::of(laid, PieceId(id), piece)).collect()
}

/// The same without those that cuts already made serve.
pub fn to_cut(job: &Job, laid: &Laid, pieces: &[Piece]) -> Vec<Cutting> {
    let cuttings = cuttings(laid, pieces);
    let served = made::served(job, laid.cloth, &cuttings, pieces);
    made::to_cut(&cuttings, &served)
}

/// The length of one bolt that pieces take when they are laid out quickly: for comparing choices.
pub fn quick_length(cloth: &Cloth, mut cuttings: Vec<Cutting>) -> Length {
    let goods = Goods::of(cloth, &cuttings);
    Cutting::turn_to_first(&mut cuttings, &goods);
    Length::nanometres(pack::quick(&goods, &cuttings))
}

/// The length of one bolt that pieces take, laid out with more care, for comparing the few best choices;
/// `None` where it is not found to be less than `most`.
pub fn careful_length(cloth: &Cloth, mut cuttings: Vec<Cutting>, most: Option<Length>) -> Option<Length> {
    let goods = Goods::of(cloth, &cuttings);
    Cutting::turn_to_first(&mut cuttings, &goods);
    let most = most.map_or(i64::MAX, Length::nm);
    let packed = pack::under(&goods, &cuttings, most, pack::SLIGHT);
    (packed.length < most).then_some(Length::nanometres(packed.length))
}

/// Names the walls whose panels are cut from more than one bolt, since one wall wants one dye lot; and,
/// where the lots are known, which walls are of which.
pub fn watch(
    job: &Job,
    cloths: &[ClothPlan],
    pieces: &[Piece],
    watch: &mut Vec<String>,
    work_watch: &mut Vec<String>,
) {
    made::watch(job, cloths, pieces, watch, work_watch);
    for (index, cloth) in cloths.iter().enumerate().filter(|(_, cloth)| cloth.bolts.len() > 1) {
        let mut bolts_of: BTreeMap<WallRef, BTreeSet<usize>> = BTreeMap::new();
        let covering = pieces.iter().filter(|p| p.cloth == index && p.kind <= PieceKind::OpeningPiece);
        for (wall, piece) in covering.filter_map(|piece| Some((piece.wall()?, piece))) {
            bolts_of.entry(wall).or_default().insert(piece.cut.bolt);
        }
        let mut lots: BTreeMap<&str, Vec<String>> = BTreeMap::new();
        for (wall, bolts) in bolts_of {
            let lot = bolts.first().and_then(|&bolt| cloth.bolts[bolt].lot(&job.cloths[index]));
            if let Some(lot) = lot {
                lots.entry(lot).or_default().push(wall_of(job, wall));
            } else if bolts.len() > 1 {
                let names: Vec<String> =
                    bolts.iter().map(|&b| cloth.bolts[b].number(b).to_string()).collect();
                work_watch.push(format!(
                    "{} is cut from bolts {}: they must come from one dye lot.",
                    capital(&wall_of(job, wall)),
                    list(&names)
                ));
            }
        }
        if lots.len() > 1 {
            let told = lots.iter().map(|(lot, walls)| format!("lot {lot} for {}", list(walls)));
            watch.push(format!(
                "“{}” comes from {} dye lots: {}. Lay them side by side in daylight before cutting.",
                job.cloths[index].name,
                lots.len(),
                told.collect::<Vec<_>>().join("; ")
            ));
        }
    }
}

/// Lets a strip for trim go without its match where no width of cloth has that place of the pattern
/// off its selvages, and says so.
fn free_strip(laid: &Laid, piece: &mut Piece, watch: &mut Vec<String>) {
    let strip = matches!(piece.kind, PieceKind::UprightStrip | PieceKind::LevelStrip);
    if strip && piece.matched && !laid.fits(&piece.gross, piece.face) {
        piece.matched = false;
        watch.push(format!(
            "Strip {} cannot match its wall: that place of the pattern lies on the edges of the cloth.",
            piece.label
        ));
    }
}

/// Whether no bolt is there of which it is known where its pattern begins, so that phases may be counted from
/// anywhere.
pub(super) fn counts_from_anywhere(cloth: &Cloth) -> bool {
    cloth.on_hand.iter().all(|bolt| bolt.first_motif.is_none() && bolt.cuts.is_empty())
}

/// The vertical repeat; zero for plain cloth.
fn repeat(cloth: &Cloth) -> Length {
    cloth.pattern.map_or(Length::ZERO, |lattice| lattice.vertical)
}

fn cutting(job: &Job, laid: &Laid, id: PieceId, piece: &Piece) -> Result<Cutting, PlanFault> {
    let print = |l: Length| job.print.format.print(l);
    let cloth = laid.cloth;
    let longest = Length::nanometres(Goods::of(cloth, &[]).longest);
    let length = laid.length(&piece.gross);
    if length > longest {
        let joined = match laid.way {
            Way::Upright => "joined along its drop",
            Way::Railroaded => "joined along its wall",
        };
        return Err(PlanFault {
            code: "no-bolt-long-enough",
            message: format!(
                "{}: piece {} is {} long, and the longest piece of {} that can be counted on is {}",
                purpose_of(job, cloth, piece.purpose),
                piece.label,
                print(length),
                cloth.name,
                print(longest)
            ),
            wall: piece.wall(),
            help: format!(
                "a piece cannot be {joined}: find {} on longer bolts, of at least {}",
                cloth.name,
                print(length + repeat(cloth))
            ),
        });
    }
    let cutting = Cutting::of(laid, id, piece);
    if !cutting.fits() {
        let strip = matches!(piece.kind, PieceKind::UprightStrip | PieceKind::LevelStrip);
        let (place, help) = match (piece.matched, strip) {
            (true, _) => {
                (" where the pattern wants it", "make the allowances smaller, or start the pattern elsewhere")
            }
            (false, true) => ("", "make the strip narrower, or take wider cloth"),
            (false, false) => ("", "make the allowances smaller, or take wider cloth"),
        };
        return Err(PlanFault {
            code: "piece-too-wide",
            message: format!(
                "{}: piece {} needs {} of width{place}, and {}, {} wide with its selvages, does not give it",
                purpose_of(job, cloth, piece.purpose),
                piece.label,
                print(laid.width(&piece.gross)),
                cloth.name,
                print(cloth.width)
            ),
            wall: piece.wall(),
            help: help.into(),
        });
    }
    Ok(cutting)
}

fn cut_cloth(
    job: &Job,
    cloth: &Cloth,
    mut cuttings: Vec<Cutting>,
    pieces: &mut [Piece],
) -> Result<LaidOut, PlanFault> {
    let (vertical, goods) = (repeat(cloth), Goods::of(cloth, &cuttings));
    let turned = if counts_from_anywhere(cloth) { Cutting::turn_to_first(&mut cuttings, &goods) } else { 0 };
    let mut round_flaws = 0;
    let served = made::served(job, cloth, &cuttings, pieces);
    let (runs, proved): (Vec<(Option<usize>, Run)>, Option<i64>) = if cloth.on_hand.is_empty() {
        let (runs, proved) = load::bolts(&goods, &cuttings, |id| pieces[id.0].purpose);
        (runs.into_iter().map(|run| (None, run)).collect(), proved)
    } else {
        let shelf = made::Shelf::new(job, cloth, &goods, &cuttings, &served, pieces);
        let runs =
            lots::bolts(&goods, &shelf.to_cut, shelf.stocks.clone(), |id| pieces[id.0].purpose, &shelf.begun);
        let runs = runs.map_err(|no_room| too_short(job, cloth, &no_room))?;
        let used = load::used(runs.iter().map(|(_, run)| run));
        round_flaws = shelf.without_flaws().map_or(0, |stocks| {
            let wall = |id: PieceId| pieces[id.0].purpose;
            let without = lots::bolts(&goods, &shelf.to_cut, stocks, wall, &shelf.begun);
            without.map_or(0, |runs| used - load::used(runs.iter().map(|(_, run)| run)))
        });
        (runs.into_iter().map(|(bolt, run)| (Some(bolt), run)).collect(), shelf.least(&goods))
    };
    let mut number = 0;
    let mut bolts = Vec::new();
    for (index, (on_hand, mut run)) in runs.into_iter().enumerate() {
        run.start = (run.start + turned).rem_euclid(goods.turn);
        let bolt = lay_out(index, &run, goods.turn, &mut number, pieces);
        bolts.push(Bolt { on_hand, ..bolt });
    }
    for bolt in &mut bolts {
        bolt.made = bolt.on_hand.map_or(Vec::new(), |at| made::told(job, cloth, at, &served, pieces));
    }
    for served in &served {
        pieces[served.placed.id.0].cut.made = Some(served.at.1);
    }
    let used: Length = bolts.iter().map(|b| b.used).sum();
    let unknown = |bolt: &&Bolt| bolt.on_hand.is_none_or(|at| cloth.on_hand[at].first_motif.is_none());
    let phase_allowance = vertical * bolts.iter().filter(unknown).count() as i64;
    let needed = used + phase_allowance + cloth.spare;
    let shrinks = cloth.shrinkage.along.whole_for(needed) - needed;
    let order_units = match cloth.on_hand.as_slice() {
        [] => (needed + shrinks).div_ceil(cloth.sold_in.length()),
        _ => 0,
    };
    let round_flaws = Length::nanometres(round_flaws.max(0));
    Ok(LaidOut { goods, cuttings, proved, bolts, used, phase_allowance, shrinks, order_units, round_flaws })
}

fn too_short(job: &Job, cloth: &Cloth, no_room: &lots::NoRoom) -> PlanFault {
    let goods = |nm: i64| sold(Length::nanometres(nm.max(0)), cloth.sold_in);
    let bolt = Length::nanometres(no_room.needs) + repeat(cloth);
    let give_way = match no_room.instead {
        Some(purpose) => format!(
            "; if a wall must give way, {} costs least: without it all the others find room",
            purpose_of(job, cloth, purpose)
        ),
        None => String::new(),
    };
    PlanFault {
        code: "cloth-on-hand-too-short",
        message: format!(
            "{} takes {} of one dye lot of {}, and no way was found to keep as much of one for it: the most left \
             on a bolt is {}{}",
            purpose_of(job, cloth, no_room.purpose),
            goods(no_room.needs),
            cloth.name,
            goods(no_room.left),
            match no_room.needs - no_room.left {
                short if short > 0 => format!(", {} short", goods(short)),
                _ => ", and not in one stretch that its pieces fit".to_owned(),
            }
        ),
        wall: no_room.purpose.wall(),
        help: format!(
            "get another bolt of at least {}, or take a wall out with bare=yes{give_way}",
            goods(cloth.shrinkage.along.whole_for(bolt).nm())
        ),
    }
}

/// The length that the pieces of some kinds alone would use, such as the drops, which the hand rules, knowing
/// nothing of trim, are fairly compared with; `all` where there are no others.
fn used_by(
    goods: &Goods,
    cuttings: &[Cutting],
    pieces: &[Piece],
    all: Length,
    of: impl Fn(PieceKind) -> bool,
) -> Length {
    let (some, others): (Vec<&Cutting>, Vec<&Cutting>) =
        cuttings.iter().partition(|c| of(pieces[c.id.0].kind));
    if others.is_empty() {
        return all;
    }
    let some: Vec<Cutting> = some.into_iter().cloned().collect();
    let (runs, _) = load::bolts(goods, &some, |id| pieces[id.0].purpose);
    Length::nanometres(load::used(&runs))
}

/// Gives the pieces of one bolt their places.
fn lay_out(bolt: usize, run: &Run, turn: i64, number: &mut usize, pieces: &mut [Piece]) -> Bolt {
    let mut placed_lays = Vec::new();
    for (index, (v0, lay)) in run.lays.iter().enumerate() {
        let mut placed = lay.placed.clone();
        placed.sort_by_key(|p| (p.u, p.v, p.id));
        for place in &placed {
            *number += 1;
            let piece = &mut pieces[place.id.0];
            piece.column = place.column;
            piece.cut = Cut {
                bolt,
                lay: index,
                number: *number,
                u: Length::nanometres(place.u),
                v: Length::nanometres(v0 + place.v),
                width: Length::nanometres(place.width),
                length: Length::nanometres(place.length),
                made: None,
                motif: None,
            };
            if piece.matched {
                let phase = run.start + v0 + place.v;
                piece.phase = Length::nanometres(phase.rem_euclid(turn));
            }
        }
        placed_lays.push(super::model::Lay {
            v0: Length::nanometres(*v0),
            v1: Length::nanometres(v0 + lay.length),
            pieces: placed.iter().map(|p| p.id).collect(),
            made: index < run.made,
        });
    }
    let used = placed_lays.last().map_or(Length::ZERO, |l| l.v1);
    Bolt { on_hand: None, used, start: Length::nanometres(run.start), lays: placed_lays, made: Vec::new() }
}

/// Square nanometres.
fn area(sizes: impl Iterator<Item = (Length, Length)>) -> i128 {
    sizes.map(|(w, h)| i128::from(w.nm()) * i128::from(h.nm())).sum()
}

fn thousandths(covered: i128, cloth: &Cloth, used: Length) -> i64 {
    let whole = i128::from(cloth.width.nm()) * i128::from(used.nm());
    if whole == 0 { 0 } else { i64::try_from(covered * 1000 / whole).unwrap_or(0) }
}
