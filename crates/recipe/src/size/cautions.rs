//! What to mind at another size.

use super::ask::plain;
use super::batch::Batch;
use super::pan::{Pan, by_key};
use super::rest::rests;
use super::target::Filled;
use crate::household::scale_grams;
use crate::rework::{Kept, Rework};
use crate::shape::{Kind, Outcome, ShapeAsk, dough_of, known};
use larder::Gluten;
use quantity::{Length, Mass};

/// Something to mind, and what it rests on.
#[derive(Debug, Clone, PartialEq)]
pub struct Caution {
    /// What it is about: `depth`, `leavening`, `mixer` …
    pub code: &'static str,
    /// What to mind.
    pub text: String,
    /// Where it comes from.
    pub source: &'static str,
}

/// The codes of cautions on how full a pan is.
const OF_FULLNESS: [&str; 4] = ["as_full", "overfull", "rises", "shallow"];

impl Batch {
    /// How its pans are filled, where there is something to mind: what Size and Shape say of it.
    #[must_use]
    pub fn fullness(&self) -> Option<&Caution> {
        let mut all = self.cautions.iter();
        all.find(|c| OF_FULLNESS.contains(&c.code))
    }
}

const PRACTICE: &str = "common practice, no source";

/// So many times larger or smaller, and leavening is watched.
const FAR: f64 = 4.0;
/// A change of depth that moves the baking time.
const DEPTH: f64 = 0.25;
/// Baking time goes by the depth to this power (1.3 to 1.7).
const TIME_POWER: f64 = 1.4;
/// Grams of dough that a bowl of 4.5 to 5 L takes.
const BOWL_TAKES: f64 = 2000.0;
/// From here on it may not all go into the oven at once.
const OVEN: f64 = 1.5;
/// So much fuller than the recipe's own pan is as full.
const AS_FULL: f64 = 1.02;
/// A share of a pan above which it may run over, whatever it is filled with.
const BRIM: f64 = 0.9;

pub(super) fn caution(
    code: &'static str,
    text: impl Into<String>,
    source: &'static str,
) -> Caution {
    Caution {
        code,
        text: text.into(),
        source,
    }
}

/// What is said where a batch that is asked for in pieces was moved to whole eggs, so many times its size more or less.
pub(super) fn lighter(batch: &Batch, number: f64, off: f64) -> Option<Caution> {
    let each = batch.pieces.as_ref()?.each;
    let asked = each * (1.0 / (1.0 + off));
    let [now, before] = [each, asked].map(|m| scale_grams(m, false));
    (now != before).then(|| {
        caution(
            "pieces",
            format!(
                "Moved to whole eggs, each of the {} pieces weighs {now} g in place of {before} g. As heavy as that, it makes {:.0}.",
                plain(number),
                (number * (1.0 + off)).round()
            ),
            "follows from the size",
        )
    })
}

/// What to mind of a batch.
pub(super) fn cautions(batch: &Batch, rework: &Rework) -> Vec<Caution> {
    let mut out = Vec::new();
    let made = || {
        let pairs = batch.components.iter().zip(&rework.components);
        pairs.filter(|(b, _)| b.factor > 0.0)
    };
    gluten(batch, &mut out);
    for c in &batch.components {
        if let Some(short) = c.short() {
            let g = |m: Mass| scale_grams(m, false);
            out.push(caution(
                "short",
                format!(
                    "{} g of the {} is used, and the recipe makes only {} g of it: {} g short. Make more of it, or ask for exactly enough.",
                    g(c.used.map_or(short, |u| u.likely())),
                    c.name,
                    g(c.makes.likely()),
                    g(short)
                ),
                "follows from the recipe",
            ));
        }
    }
    rests(batch, rework, &mut out);
    if let Some(pans) = &batch.pans {
        let style = rework.components[batch.main].style;
        // What lines a tin, and bars and biscuits in one, fill little of it.
        let thin =
            rework.lines_a_tin(batch.main) || style.is_some_and(|s| s.style.is_done_by_colour());
        let against = against(batch, rework);
        out.extend(fullness(pans, thin, against.as_deref()));
        in_pans(pans, &mut out);
    }
    let far = |f: f64| f >= FAR || f <= 1.0 / FAR;
    let yeast = made().find(|(b, r)| far(b.factor) && r.reworked.yeast > 0.0);
    if let Some((b, _)) = yeast {
        let text = if b.factor > 1.0 {
            "A dough so much larger keeps its own warmth and rises faster. Keep the yeast at the same percent, watch the dough and not the clock, and divide or chill it early."
        } else {
            "A dough so much smaller cools to the room and rises slower, and a tenth of a gram of yeast counts. Keep it at the temperature of the recipe and give it time."
        };
        out.push(caution("yeast", text, PRACTICE));
    }
    if made().any(|(b, r)| far(b.factor) && r.reworked.leavening > 0.0) {
        out.push(caution(
            "leavening",
            "Baking powder and soda are scaled like the rest here; no published rule says how they behave so far from the recipe. Bake one tin first and adjust from there.",
            PRACTICE,
        ));
    }
    let large = made()
        .find(|(b, r)| r.is_dough() && b.factor > 1.0 && b.makes.likely().as_grams() > BOWL_TAKES);
    if let Some((b, _)) = large {
        let grams = b.makes.likely().as_grams();
        out.push(caution(
            "mixer",
            format!(
                "{:.1} kg at once: a bowl of 4.5 to 5 L takes about 2 kg of dough. Look up what the maker of your mixer allows, or mix it in {:.0} lots.",
                grams / 1000.0,
                (grams / BOWL_TAKES).ceil()
            ),
            PRACTICE,
        ));
    }
    let baked = made().any(|(_, r)| r.style.is_some_and(|s| s.style.is_baked()));
    if batch.factor >= OVEN && baked && batch.pans.is_none() {
        let cold = if made().any(|(_, r)| r.holds_egg_or_milk) {
            " What waits and holds egg or milk waits in the fridge: warm time counts towards 2 hours, 1 hour above 32 °C (US Department of Agriculture)."
        } else {
            " What waits is covered and kept cool."
        };
        out.push(caution(
            "oven",
            format!(
                "More than the recipe's tins may not go into the oven at once. Bake in turns, with room for air around each.{cold}"
            ),
            PRACTICE,
        ));
    }
    if !(0.8..=1.25).contains(&batch.factor) && baked && batch.pans.is_none() {
        out.push(caution(
            "time",
            "Baking times of the method hold for pieces and tins of the recipe's own size. Where those change, go by the middle, with a probe, not by the clock.",
            PRACTICE,
        ));
    }
    let bare = made()
        .flat_map(|(_, r)| &r.lines)
        .filter(|l| l.kept != Kept::Dropped && l.in_formula && l.grams.is_none())
        .count();
    if bare > 0 {
        let lines = if bare == 1 {
            "One line has"
        } else {
            "Some lines have"
        };
        out.push(caution(
            "unweighed",
            format!("{lines} no weight and cannot be sized: scale what the recipe says by hand, or weigh it first. What is said here of the whole's weight, of pieces and of pans is without it."),
            "follows from the recipe",
        ));
    }
    out
}

/// What contains gluten. What only a label can tell is said at its line.
fn gluten(batch: &Batch, out: &mut Vec<Caution>) {
    let made = batch.components.iter().filter(|c| c.factor > 0.0);
    let lines = made.flat_map(|c| &c.lines);
    let mut names: Vec<&str> = Vec::new();
    for l in lines.filter(|l| l.gluten == Gluten::Contains) {
        if !names.contains(&l.name.as_str()) {
            names.push(&l.name);
        }
    }
    let holds = names.join(", ");
    if !holds.is_empty() {
        out.push(caution(
            "gluten",
            format!("Contains gluten: {holds}. This batch is not gluten-free. Leave it out or put something else in its place before anybody weighs it out for somebody who cannot eat it."),
            "the screen of the gluten-free version",
        ));
    }
}

/// What Shape's fit says against what goes into the pans that the batch is sized for: that it runs over. More than
/// they hold is told by the share of them that is filled.
fn against(batch: &Batch, rework: &Rework) -> Option<String> {
    let part = *rework.panful_round(batch.main).parts.first()?;
    let known = known(rework, batch, &rework.formula.recipe, part, Kind::Fit);
    let dough = dough_of(rework, batch, part, Kind::Fit);
    let fit = ShapeAsk::new(Kind::Fit).over(&known).shaped(&dough).ok()?;
    let worst = fit.verdicts.into_iter().next()?;
    (worst.outcome == Outcome::Overflows).then_some(worst.words)
}

/// Whether a pan is too full or too little filled: the one judgement of Size and Shape.
///
/// # Inputs
/// - `thin`: the part that is sized fills little of the tin: nothing says that it is too little.
/// - `against`: what Shape's fit says against it.
fn fullness(pans: &Filled, thin: bool, against: Option<&str>) -> Option<Caution> {
    let fill = pans.fill.likely().get();
    let (suits, grams) = (pans.suits, pans.grams);
    let name = pans.pan.words();
    // A case is filled nearly to its rim.
    let brim = BRIM.max(pans.pan.fill.high().get() + 0.1).min(1.0);
    let over = fill > brim || grams.as_grams() > suits.high().as_grams() * 1.02;
    let as_own = pans.own_fill.is_some_and(|own| fill <= own * AS_FULL);
    let percent = format!("{:.0} %", fill * 100.0);
    let (low, high) = (suits.low().as_grams(), suits.high().as_grams());
    let runs = against.map_or(String::new(), |w| format!(" {w}"));
    let deeper = || deeper(&pans.pan);
    let (code, text) = if (over || against.is_some()) && as_own {
        let raw = if pans.set {
            " What is cooked down first takes less than it weighs raw."
        } else {
            ""
        };
        (
            "as_full",
            format!(
                "By its weight {percent} of the {name} is filled, as of the recipe's own.{runs}{raw} Hold back what does not go in, and bake it beside.{}",
                deeper()
            ),
        )
    } else if over {
        let before = if pans.set { "" } else { " before it rises" };
        (
            "overfull",
            format!(
                "{percent} of the {name} is filled{before}: {low:.0} to {high:.0} g suit it, or it may run over. Take a larger tin or more of them.{}",
                deeper()
            ),
        )
    } else if against.is_some() {
        (
            "rises",
            format!(
                "{percent} of the {name} is filled.{runs} Hold some back, or take a larger tin.{}",
                deeper()
            ),
        )
    } else if !thin && grams.as_grams() < suits.low().as_grams() * 0.8 {
        (
            "shallow",
            format!(
                "{percent} of the {name} is filled: it bakes faster and browns at the edge first. {low:.0} to {high:.0} g suit it."
            ),
        )
    } else {
        return None;
    };
    Some(caution(code, text, PRACTICE))
}

/// What to mind of pans beside how full they are.
fn in_pans(pans: &Filled, out: &mut Vec<Caution>) {
    if let Some(change) = pans.depth_change.filter(|d| (d - 1.0).abs() > DEPTH) {
        let time = change.powf(TIME_POWER);
        let text = if change > 1.0 {
            format!(
                "It stands {change:.2} times as deep: reckon with about {time:.1} times the baking time, in an oven 10 °C cooler, and go by the middle, with a probe."
            )
        } else {
            format!(
                "It stands only {change:.2} times as deep: reckon with about {time:.1} times the baking time and look early; go by the middle, with a probe."
            )
        };
        out.push(caution("depth", text, PRACTICE));
    }
    if pans.pan.doubtful {
        out.push(caution(
            "chart",
            "Charts and arithmetic disagree about this pan: fill it with water on the scale, the grams are its millilitres.",
            "public pan charts against arithmetic",
        ));
    }
}

/// How to say that one's tin is deeper than those of the table of pans.
fn deeper(pan: &Pan) -> String {
    let of_table = by_key(&pan.key).filter(|p| p.hollows == 1);
    let Some(depth) = of_table.and_then(|p| p.depth) else {
        return String::new();
    };
    let (unit, one, more) = if pan.inches {
        ("in", Length::inches(1.0), 0.5)
    } else {
        ("cm", Length::millimetres(10.0), 1.0)
    };
    let deeper = Pan {
        key: String::new(),
        depth: Some(depth + one * more),
        ..pan.clone()
    };
    format!(
        " Measure its depth: where it is more than {} {unit}, type it too, as '{}', and that of the tin it is sized from.",
        plain(depth / one),
        deeper.typed()
    )
}
