//! Samples: pieces of a cloth that no wall needs, cut with those that walls do.

use super::ctx::{Ctx, Range};
use super::facts::optional;
use super::model::{Cloth, Sample};
use crate::diag::Diag;
use crate::parse::{Given, Node};
use crate::source::Spanned;
use crate::units::Length;

/// The most samples that one line asks for.
const MOST: u32 = 50;

/// The cloths of a job, their samples numbered through it.
pub fn numbered(mut cloths: Vec<Cloth>) -> Vec<Cloth> {
    let samples = cloths.iter_mut().flat_map(|cloth| &mut cloth.samples);
    samples.zip(1..).for_each(|(sample, number)| sample.label = format!("Sample {number}"));
    cloths
}

/// The samples that the lines of a cloth ask for, one entry for each piece and yet without
/// labels: see [`numbered`].
pub fn read(ctx: &mut Ctx, node: &Node, cloth: &Cloth) -> Option<Vec<Sample>> {
    let lines = node.children.iter().filter(|line| line.spec.name == "sample");
    let read: Vec<Option<Vec<Sample>>> = lines.map(|line| samples(ctx, line, cloth)).collect();
    Some(read.into_iter().collect::<Option<Vec<_>>>()?.concat())
}

fn samples(ctx: &mut Ctx, line: &Node, cloth: &Cloth) -> Option<Vec<Sample>> {
    let purpose = optional(ctx, line.arg(0), "what the sample is for");
    let range = Range { least: Length::inches(1), most: Length::yards(1000) };
    let length = line.prop::<Length>("length").ok();
    let width = match line.prop::<Length>("width") {
        Given::Bad => None,
        Given::Absent => Some(Spanned::new(cloth.width, line.head)),
        Given::Is(width) => {
            ctx.ranged(width, "the width of the sample", range).map(|value| Spanned::new(value, width.span))
        }
    };
    let motif = match line.prop::<bool>("motif") {
        Given::Bad => None,
        Given::Absent => Some(None),
        Given::Is(motif) => Some(motif.value.then_some(motif.span)),
    };
    let count = count(ctx, line);
    let length = length.filter(|&length| ctx.ranged(length, "the length of the sample", range).is_some());
    let (purpose, length, width, motif) = (purpose?, length?, width?, motif?);
    let sample = Sample {
        label: String::new(),
        purpose,
        width: width.value,
        length: length.value,
        motif: motif.is_some(),
    };
    if let (Some(span), None) = (motif, cloth.pattern) {
        let help = "leave motif= out, or add the repeat: repeat horizontal=\"13 1/2in\" vertical=\"18in\"";
        ctx.error("motif-of-plain-cloth", span, "plain cloth has no motif to stand in the middle", help);
        return None;
    }
    let least = cloth.pattern.map_or(Length::ZERO, |lattice| lattice.vertical);
    if sample.length > cloth.bolt_length - least {
        let message = format!(
            "a sample {} long is more than can be counted on in one piece, {}",
            ctx.show_cloth(sample.length),
            ctx.show_cloth(cloth.bolt_length - least)
        );
        ctx.error(
            "sample-too-long",
            length.span,
            message,
            "ask for a shorter one, or give the length of a bolt",
        );
        return None;
    }
    if !fits(cloth, &sample) {
        let message = match motif {
            _ if sample.width > cloth.width => format!(
                "a sample {} wide cannot be cut from cloth {} wide",
                ctx.show_cloth(sample.width),
                ctx.show_cloth(cloth.width)
            ),
            _ => format!(
                "no motif stands where a sample {} wide can lie about it, clear of the selvages",
                ctx.show_cloth(sample.width)
            ),
        };
        let diag = Diag::error("sample-too-wide", width.span, message);
        let diag = match motif {
            Some(span) => diag.also(span, "the motif is to stand in its middle"),
            None => diag,
        };
        ctx.diags.push(diag.help("ask for a narrower one"));
        return None;
    }
    Some(vec![sample; count? as usize])
}

fn count(ctx: &mut Ctx, line: &Node) -> Option<u32> {
    let count = match line.prop::<u32>("count") {
        Given::Bad => return None,
        Given::Absent => return Some(1),
        Given::Is(count) => count,
    };
    if count.value == 0 || count.value > MOST {
        let message = format!("{} samples of one kind are not cut for a room", count.value);
        ctx.error("odd-count", count.span, message, format!("give from 1 to {MOST}, or leave the line out"));
        return None;
    }
    Some(count.value)
}

/// Whether the cloth has a place for it: about the centre of a motif and off the selvages, or anywhere.
fn fits(cloth: &Cloth, sample: &Sample) -> bool {
    let Some(lattice) = cloth.pattern.filter(|_| sample.motif) else { return sample.width <= cloth.width };
    let half = sample.width / 2;
    let least = cloth.selvage + half;
    let most = cloth.width - cloth.selvage - (sample.width - half);
    let column = cloth.left_match + lattice.horizontal / 2;
    let first = column + lattice.horizontal * (least - column).div_ceil(lattice.horizontal);
    first <= most
}
