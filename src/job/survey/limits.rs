//! How far measures of the survey may differ: the house's limits, or what is customary.

use crate::job::ctx::{Ctx, Range};
use crate::job::defaults::{self, COMMON};
use crate::job::model::{CheckKind, SurveyLimits};
use crate::parse::{FromValue, Given, Node};
use crate::source::Spanned;
use crate::units::{Angle, Length};

const LIMIT: Range = Range { least: Length::ZERO, most: Length::feet(3) };
const ANGLES: Angle = Angle::degrees(2);
const MOST_ANGLE: Angle = Angle::degrees(20);
const PART: u32 = 200;
const PARTS: std::ops::RangeInclusive<u32> = 20..=100_000;

/// The limits of a `house` node.
///
/// A customary one becomes an assumption only when something is judged by it: see [`assume`].
pub fn limits(ctx: &mut Ctx, house: Option<&Node>) -> Option<SurveyLimits> {
    let node = line(house);
    let mut length = |name: &'static str, default: &defaults::Default| match prop::<Length>(node, name) {
        Given::Bad => None,
        Given::Absent => Some(ctx.figure(default)),
        Given::Is(length) => ctx.ranged(length, &format!("the limit {name}="), LIMIT),
    };
    let closing = length("closing", &defaults::CLOSING);
    let widths = length("widths", &defaults::WIDTHS);
    let heights = length("heights", &defaults::HEIGHTS);
    let corner = length("corner", &defaults::CORNER_HEIGHTS);
    let both_ends = length("both-ends", &defaults::BOTH_ENDS);
    let back = length("back", &defaults::BACK);
    let closing_part = match prop::<u32>(node, "closing-part") {
        Given::Bad => None,
        Given::Absent => Some(PART),
        Given::Is(part) if PARTS.contains(&part.value) => Some(part.value),
        Given::Is(part) => {
            let message = format!("one part in {} is not possible for the closing of a room", part.value);
            let help = format!("give from {} to {}", PARTS.start(), PARTS.end());
            ctx.error("odd-count", part.span, message, help);
            None
        }
    };
    let angles = match prop::<Angle>(node, "angles") {
        Given::Bad => None,
        Given::Absent => Some(ANGLES),
        Given::Is(angle) if (Angle::degrees(0)..=MOST_ANGLE).contains(&angle.value) => Some(angle.value),
        Given::Is(angle) => {
            let message = format!("{} is no limit for the angles of a room", angle.value.words());
            let help = format!("give from 0 to {} degrees", MOST_ANGLE.udeg() / 1_000_000);
            ctx.error("odd-angle", angle.span, message, help);
            None
        }
    };
    Some(SurveyLimits {
        closing: closing?,
        closing_part: closing_part?,
        angles: angles?,
        widths: widths?,
        heights: heights?,
        corner: corner?,
        both_ends: both_ends?,
        back: back?,
    })
}

/// Lists the customary limit that a check is judged by, unless the house gives its own.
pub fn assume(ctx: &mut Ctx, house: Option<&Node>, kind: CheckKind) {
    let node = line(house);
    let given = |name: &str| node.is_some_and(|node| node.props.iter().any(|(key, _)| *key == name));
    let (name, default) = match kind {
        CheckKind::Closing => {
            if !given("closing-part") {
                let text = format!("A room may also fail to close by one part in {PART} of the way round.");
                ctx.note(text, COMMON);
            }
            ("closing", &defaults::CLOSING)
        }
        CheckKind::Turning => {
            if !given("angles") {
                let text = format!("The angles of a room may be {} out in all.", ANGLES.words());
                ctx.note(text, COMMON);
            }
            return;
        }
        CheckKind::Square => return,
        CheckKind::Widths => ("widths", &defaults::WIDTHS),
        CheckKind::Heights => ("heights", &defaults::HEIGHTS),
        CheckKind::Corner | CheckKind::Floor => ("corner", &defaults::CORNER_HEIGHTS),
        CheckKind::BothEnds => ("both-ends", &defaults::BOTH_ENDS),
        CheckKind::Back => ("back", &defaults::BACK),
    };
    if !given(name) {
        ctx.assume(default);
    }
}

fn line(house: Option<&Node>) -> Option<&Node> {
    house.and_then(|house| house.child("survey-limits"))
}

fn prop<T: FromValue>(node: Option<&Node>, name: &str) -> Given<Spanned<T>> {
    node.map_or(Given::Absent, |node| node.prop(name))
}
