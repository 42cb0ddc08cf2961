//! The terminal's pages of a recipe, 80 columns wide, a file for each; here is what they share.

mod read;
mod rework;
mod screen;
mod weigh;

pub use read::{line, read};
pub use rework::{rework, why};
pub use screen::screening;
pub use weigh::weigh;

use crate::show::Style;
use crate::show::table::paragraph;
use quantity::{Ratio, Spread};
use recipe::household::{of_flour, spread_grams};
use recipe::weigh::Formula;
use recipe::{Doubt, DoubtCode, Recipe};

fn title(recipe: &Recipe, style: &Style) -> String {
    let mut out = String::new();
    if let Some(t) = &recipe.title {
        out.push_str(&heading(&card::quiet(t), style));
    }
    if let Some(m) = &recipe.makes {
        out.push_str(&super::plain(&m.text));
        out.push('\n');
    }
    if let Some(s) = recipe.source.words() {
        out.push_str(&paragraph("", &format!("From: {s}")));
    }
    out
}

fn component_head(name: &str, style: &Style) -> String {
    if name.is_empty() {
        "\n".to_owned()
    } else {
        format!("\n{}", heading(&name.to_uppercase(), style))
    }
}

/// A heading, broken where it is wider than the page.
pub(super) fn heading(text: &str, style: &Style) -> String {
    let lines = super::table::wrap(text, super::table::WIDTH);
    lines.iter().map(|l| style.heading(l) + "\n").collect()
}

fn doubts<'a>(list: impl Iterator<Item = (String, &'a Doubt)>, style: &Style) -> String {
    let mut out = String::new();
    for (place, d) in list {
        let place = if place.is_empty() {
            String::new()
        } else {
            format!("{place}: ")
        };
        out.push_str(&paragraph(
            "  ? ",
            &format!("{place}{}{}", d.message, option_for(d)),
        ));
    }
    if out.is_empty() {
        out
    } else {
        format!("\n{}\n{out}", style.mark("To check"))
    }
}

/// The option that answers a doubt here.
fn option_for(doubt: &Doubt) -> &'static str {
    match doubt.code {
        recipe::DoubtCode::StyleUnsure => " (with --style)",
        recipe::DoubtCode::LocaleUnsure => " (with --locale uk or --locale au)",
        recipe::DoubtCode::GumInMix => {
            " (write 'with gum in it' or 'without gum' behind it in the recipe)"
        }
        _ => "",
    }
}

fn makes(
    makes: Spread<quantity::Mass>,
    used: Option<Spread<quantity::Mass>>,
    left: Option<Spread<quantity::Mass>>,
) -> String {
    if makes.likely().as_grams() <= 0.0 {
        return paragraph("", super::size::NOT_KNOWN);
    }
    let mut text = format!("Makes {} raw", spread_grams(makes, false));
    if let (Some(u), Some(l)) = (used, left) {
        text.push_str(&format!(
            "; {} is used, {} left over",
            spread_grams(u, false),
            spread_grams(l, false)
        ));
    }
    paragraph("", &format!("{text}."))
}

/// What is said below the weight of a part that the method boils down.
fn boiled_down(f: &recipe::weigh::Formula, part: usize) -> String {
    f.boiled_down(part)
        .map_or_else(String::new, |said| paragraph("", &said))
}

fn hydration(h: Spread<Ratio>) -> String {
    let (l, m, u) = (h.low().get(), h.likely().get(), h.high().get());
    if u - l < 1.0 {
        format!("{m:.0} %")
    } else {
        format!("{m:.0} % ({l:.0}–{u:.0})")
    }
}

fn share(p: Option<Spread<Ratio>>) -> String {
    p.and_then(of_flour).unwrap_or_default()
}

/// The doubts of a formula with their lines.
fn formula_doubts(f: &Formula) -> impl Iterator<Item = (String, &Doubt)> {
    let place = |c: usize, l: usize| {
        f.recipe.components[c]
            .lines
            .get(l)
            .map_or(String::new(), |l| format!("'{}'", l.clean.trim()))
    };
    let read = f
        .recipe
        .components
        .iter()
        .flat_map(|c| &c.lines)
        .flat_map(|l| {
            l.doubts
                .iter()
                .map(move |d| (format!("'{}'", l.clean.trim()), d))
        });
    // What cannot be comes first.
    let (slips, weighed): (Vec<_>, Vec<_>) = f
        .doubts
        .iter()
        .map(move |(c, l, d)| (place(*c, *l), d))
        .partition(|(_, d)| d.code == DoubtCode::UnlikelyAmount);
    slips
        .into_iter()
        .chain(read)
        .chain(weighed)
        .chain(f.recipe.doubts.iter().map(|d| (String::new(), d)))
}
