//! The price list.

use super::ctx::Ctx;
use super::facts::short;
use super::model::{Cloth, Goods, Prices, TrimKind, Trims};
use crate::diag::Diag;
use crate::money::Money;
use crate::parse::{Given, Node, ParsedJob};
use crate::source::Spanned;

/// What a line of the list says.
struct Line<'n> {
    node: &'n Node,
    word: &'static str,
    name: Option<Spanned<String>>,
    price: Money,
}

/// The prices of the file; `Some(None)` when it gives none, `None` when some could not be read.
pub fn prices(
    ctx: &mut Ctx,
    parsed: &ParsedJob,
    cloths: &[Option<Cloth>],
    trims: Option<&Trims>,
) -> Option<Option<Prices>> {
    let Some(node) = parsed.nodes.iter().find(|node| node.spec.name == "prices") else { return Some(None) };
    let currency = short(ctx, node.arg::<String>(0).ok()?, "the currency", 8)?;
    let lines: Vec<Option<Line>> = node.children.iter().map(|child| line(ctx, child)).collect();
    let lines: Vec<Line> = lines.into_iter().collect::<Option<_>>()?;
    once_each(ctx, &lines)?;
    let cloths: Vec<&Cloth> = cloths.iter().map(Option::as_ref).collect::<Option<_>>()?;
    let trims = bought(trims?);
    let mut goods = Vec::new();
    // A line for one cloth has the last word over a line for all of them.
    let price = |word: &str, name: &str| {
        let of_kind = || lines.iter().filter(|line| line.word == word);
        let own = of_kind().find(|line| line.name.as_ref().is_some_and(|given| given.value == name));
        own.or_else(|| of_kind().find(|line| line.name.is_none())).map(|line| line.price)
    };
    for (index, cloth) in cloths.iter().enumerate() {
        goods.extend(price("cloth", &cloth.name).map(|price| (Goods::Cloth(index), price)));
    }
    for name in &trims {
        goods.extend(price("trim", name).map(|price| (Goods::Trim((*name).to_owned()), price)));
    }
    for line in &lines {
        goods.extend(single(line.word).map(|goods| (goods, line.price)));
        let known = |name: &str| match line.word {
            "cloth" => cloths.iter().any(|cloth| cloth.name == name),
            _ => trims.contains(&name),
        };
        // A list that many jobs share has prices of much that this job does not need.
        let own = line.node.head.file == node.head.file && shared_by_none(parsed, node);
        if let Some(name) = line.name.as_ref().filter(|name| own && !known(&name.value)) {
            let message = format!("the job has no {} called {}", line.word, name.value);
            let diag = Diag::warning("price-of-nothing", name.span, message);
            ctx.diags.push(diag.help("write its name as the job has it, or take the line out"));
        }
    }
    let hour = lines.iter().find(|line| line.word == "hour").map(|line| line.price);
    Some(Some(Prices { currency, goods, hour }))
}

/// Whether the list stands in the job's own file.
fn shared_by_none(parsed: &ParsedJob, list: &Node) -> bool {
    parsed.nodes.iter().any(|node| node.spec.name == "job" && node.head.file == list.head.file)
}

fn line<'n>(ctx: &mut Ctx, node: &'n Node) -> Option<Line<'n>> {
    let word = node.arg::<&'static str>(0).ok()?.value;
    let price = node.arg::<Money>(1).ok()?.value;
    let name = match node.prop::<String>("of") {
        Given::Bad => return None,
        Given::Absent => None,
        Given::Is(name) if matches!(word, "cloth" | "trim") => Some(name),
        Given::Is(name) => {
            let message = format!("of= says which cloth or which trim, and {word} is neither");
            ctx.error("price-of-what", name.span, message, "leave of= out");
            return None;
        }
    };
    Some(Line { node, word, name, price })
}

/// Tells prices that are given twice.
fn once_each(ctx: &mut Ctx, lines: &[Line]) -> Option<()> {
    let mut once = Some(());
    let key = |line: &Line| (line.word, line.name.as_ref().map(|name| name.value.clone()));
    for (i, line) in lines.iter().enumerate() {
        if let Some(before) = lines[..i].iter().find(|before| key(before) == key(line)) {
            let message = match &line.name {
                Some(name) => format!("the price of {} {} is given twice", line.word, name.value),
                None => format!("the price of {} is given twice", line.word),
            };
            ctx.diags.push(
                Diag::error("repeated-price", line.node.head, message)
                    .also(before.node.head, "first here")
                    .help("keep one of them"),
            );
            once = None;
        }
    }
    once
}

/// Goods of which there is one kind.
fn single(word: &str) -> Option<Goods> {
    Some(match word {
        "batting" => Goods::Batting,
        "batten" => Goods::Battens,
        "screws" => Goods::Screws,
        "staples" => Goods::Staples,
        "thread" => Goods::Thread,
        "extender" => Goods::Extenders,
        "hem-tape" => Goods::HemTape,
        "adhesive" => Goods::Adhesive,
        "cord" => Goods::Cord,
        _ => return None,
    })
}

/// The names of bought trims, each once.
fn bought(trims: &Trims) -> Vec<&str> {
    let all = [&trims.corner, &trims.opening, &trims.top, &trims.bottom];
    let kinds = [TrimKind::Braid, TrimKind::Gimp, TrimKind::FlatBand];
    let mut names: Vec<&str> = Vec::new();
    for trim in all.into_iter().filter(|trim| kinds.contains(&trim.kind)) {
        if !names.contains(&trim.name.as_str()) {
            names.push(&trim.name);
        }
    }
    names
}
