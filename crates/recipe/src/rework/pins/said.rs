//! What a held figure changes, in words and sums.

use super::super::engine::beyond_percent;
use super::super::hold::{HYDRATION, Hold};
use super::super::reworked::{Change, ReworkedComponent, ReworkedLine};
use super::super::style::StyleRange;
use super::super::sums;
use crate::household::{is_fine, percent, weight};
use larder::{FoodId, Function, Larder};
use quantity::{Mass, Spread};

/// Says what a value is beside a range.
fn beside(what: &str, value: f64, range: Option<&StyleRange>) -> String {
    let shown = percent(value);
    let Some(range) = range else {
        return format!("{what} {shown}");
    };
    let (low, high) = (range.value.low().get(), range.value.high().get());
    if (low - 1e-9..=high + 1e-9).contains(&value) {
        format!(
            "{what} {shown}, the style's {} range is {low}–{high} %",
            range.kind()
        )
    } else {
        format!(
            "{what} {} leaves the style's {} range of {low}–{high} %",
            beyond_percent(value, low, high),
            range.kind()
        )
    }
}

/// The change that a held line is: what it would be, what it is, and what that costs.
pub(in crate::rework) fn said(
    c: &ReworkedComponent,
    line: &ReworkedLine,
    larder: &Larder,
) -> Change {
    let at = line.grams.map_or(Mass::grams(0.0), Spread::likely);
    let fine = line.food.is_some_and(|f| is_fine(larder, f));
    let flour = c.reworked.flour.likely().as_grams();
    let style = c.style.map(|s| s.style);
    let food = line.food.map(|f| larder.food(f));
    let share = if flour > 0.0 {
        100.0 * at.as_grams() / flour
    } else {
        0.0
    };
    let of = |parameter: &str| style.and_then(|s| s.range(parameter));
    let wet = |range: Option<&'static StyleRange>| {
        c.reworked
            .hydration
            .map(|h| beside("hydration", h.likely().get(), range))
    };
    let binder = food.filter(|f| f.function() == Function::Binder);
    let hydrates = line.blend
        || line
            .food
            .is_some_and(|f| larder.composition(f).water.unwrap_or(0.0) > 10.0);
    let (cost, range) = if !line.in_formula {
        (
            "it is no part of the formula: nothing else moves".to_owned(),
            None,
        )
    } else if line.component.is_some() {
        ("what is left over of it follows".to_owned(), None)
    } else if flour <= 0.0 {
        ("the rest stays as it is".to_owned(), None)
    } else if let Some(binder) = binder {
        let range = if binder.key.contains("psyllium") {
            of("psyllium")
        } else if binder.key == "xanthan_gum" {
            of("xanthan")
        } else {
            None
        };
        (beside("share of the flour", share, range), range)
    } else if line.blend {
        let range = of("hydration_eff");
        let wet = wet(range).map_or(String::new(), |w| format!("; {w}"));
        (
            format!("shares, binder and water follow the new weight of flour{wet}"),
            range,
        )
    } else if hydrates {
        let range = of("hydration_eff");
        (wet(range).unwrap_or_default(), range)
    } else {
        (beside("share of the flour", share, None), None)
    };
    let hold = c.holds.get(&line.key);
    let shown = match hold {
        Some(h @ (Hold::Percent(_) | Hold::Count { .. })) => format!("{h}, {}", weight(at, fine)),
        Some(Hold::None) => "none".to_owned(),
        _ => weight(at, fine),
    };
    let mut arithmetic = Vec::new();
    match hold {
        Some(Hold::Percent(p)) => arithmetic.push(format!(
            "{} × {} flour = {}",
            sums::percent(*p),
            sums::grams(flour),
            sums::grams(at.as_grams())
        )),
        Some(Hold::Count { number, of }) => arithmetic.push(format!(
            "{} {} × {} each = {}",
            sums::figure(*number),
            sums::called(of),
            sums::grams(at.as_grams() / number),
            sums::grams(at.as_grams())
        )),
        _ if flour > 0.0 && line.in_formula && !line.blend => arithmetic.push(format!(
            "{} ÷ {} flour = {}",
            sums::grams(at.as_grams()),
            sums::grams(flour),
            sums::percent(share)
        )),
        _ => {}
    }
    Change {
        what: "pin".to_owned(),
        from: line
            .pinned
            .map_or("no weight".to_owned(), |g| weight(g.likely(), fine)),
        to: match hold {
            Some(Hold::None) => format!("no {}, held", line.name),
            Some(h @ Hold::Count { .. }) => format!("{h} ({}), held", weight(at, fine)),
            Some(h @ Hold::Percent(_)) => {
                format!(
                    "{} {} ({h} of the flour), held",
                    weight(at, fine),
                    line.name
                )
            }
            _ => format!("{} {}, held", weight(at, fine), line.name),
        },
        range: range.map(|r| format!("{}–{} %", r.value.low().get(), r.value.high().get())),
        rule: format!("{} held at {shown}: {cost}", line.name),
        source: range.map_or("held by the baker".to_owned(), |r| {
            format!("held by the baker; range: {}", r.cited())
        }),
        sums: arithmetic,
    }
}

/// The change that a held figure is: what it would be, what it is, and what that costs.
pub(in crate::rework) fn said_figure(c: &ReworkedComponent, figure: &HeldFigure) -> Change {
    let style = c.style.map(|s| s.style);
    let (what, now, range) = if figure.what == HYDRATION {
        let now = c.reworked.hydration.map_or(0.0, |h| h.likely().get());
        let range = style.and_then(|s| s.range("hydration_eff"));
        (HYDRATION, now, range)
    } else {
        let by = c
            .reworked
            .binders
            .iter()
            .max_by(|a, b| a.1.total_cmp(&b.1))
            .or(figure.binders.first());
        let parameter = match by {
            Some((food, _)) if Some(*food) == figure.xanthan => "xanthan",
            _ => "psyllium",
        };
        let range = style.and_then(|s| s.range(parameter));
        ("binder", c.reworked.binder_percent(), range)
    };
    let would = figure.would.map_or("none".to_owned(), percent);
    let is = match &figure.hold {
        Hold::None => format!("no {what}, held"),
        h @ Hold::Percent(_) => format!("{h} {what}, held"),
        h => format!("{h} {what} ({}), held", percent(now)),
    };
    Change {
        what: "pin".to_owned(),
        from: would,
        to: is,
        range: range.map(|r| format!("{}–{} %", r.value.low().get(), r.value.high().get())),
        rule: format!(
            "{what} held at {}: {}",
            figure.hold,
            beside(what, now, range)
        ),
        source: range.map_or("held by the baker".to_owned(), |r| {
            format!("held by the baker; range: {}", r.cited())
        }),
        sums: Vec::new(),
    }
}

/// A figure of a component, held.
#[derive(Debug, Clone, PartialEq)]
pub struct HeldFigure {
    /// [`HYDRATION`] or [`BINDER`](super::super::hold::BINDER).
    pub what: &'static str,
    /// What it is held at.
    pub hold: Hold,
    /// What it would be if it were not held, percent of the flour phase.
    pub would: Option<f64>,
    /// The binders there would be, the strongest first.
    pub(in crate::rework) binders: Vec<(FoodId, f64)>,
    /// Xanthan, whose range is another than psyllium's.
    pub(in crate::rework) xanthan: Option<FoodId>,
}
