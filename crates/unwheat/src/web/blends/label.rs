//! What is said of a blend's parts: gluten, labels, allergens, its cup, and the words for the jar.

use crate::web::kitchen::law;
use crate::web::larder_page::plain::own_cup;
use crate::web::page::day;
use crate::web::recipe::component_name;
use crate::web::recipe::screen::on_label;
use larder::allergen::Regime;
use larder::{FoodId, Larder};
use maud::{Markup, html};
use recipe::rework::blend::Blend;
use recipe::screen::Screening;
use store::Settings;

/// Parts whose label has to be read: those that only it can tell, and those milled or packed
/// beside wheat. What the kitchen has seen of them stands behind each: whole, or its day.
pub(super) fn to_check(
    larder: &Larder,
    b: &Blend,
    s: &Screening,
    whole: bool,
) -> (Vec<String>, Vec<String>) {
    let labels = b.labels(larder, s);
    let name = |food: &FoodId| {
        let name = &larder.food(*food).name;
        match larder.own(*food).and_then(|e| e.gluten.as_ref()) {
            None => name.clone(),
            Some(e) if whole => format!("{name} ({})", e.words()),
            Some(e) => format!("{name} (checked {})", e.date),
        }
    };
    let names = |of: &[FoodId]| of.iter().map(name).collect();
    (names(&labels.check), names(&labels.labelled))
}

/// The name of the cup that blends are weighed by.
pub(super) const CUP: &str = "US cup, 237 mL";

/// The cup of a blend, and what it rests on; the kitchen's own cup too, where it is another.
pub(super) fn cup(larder: &Larder, b: &Blend, locale: &str) -> Markup {
    html! {
        @match b.cup(larder) {
            Some(c) => {
                span.n { (format!("{:.0}", c.likely().as_grams())) } " g "
                span.range { (format!("{:.0}–{:.0}", c.low().as_grams(), c.high().as_grams())) } br;
                small { (b.cup_basis()) }
                @if let Some((name, times)) = own_cup(locale) {
                    br; span.n { (format!("{:.0}", c.likely().as_grams() * times)) } " g " small { "to a " (name) ", worked out from it" }
                }
            }
            None => { "not known: a part has no cup weight. Weigh a cup of it." }
        }
    }
}

pub(super) fn style_names(b: &Blend) -> String {
    b.styles
        .iter()
        .map(|s| s.name())
        .collect::<Vec<_>>()
        .join(", ")
}

/// Starches in whole percent; a blend without any has 0.
pub(super) fn starches(larder: &Larder, b: &Blend) -> String {
    // An empty sum is −0.
    format!("{:.0}", b.starch_share(larder).round() + 0.0)
}

/// Protein per 100 g, where every part's is known.
pub(super) fn protein(larder: &Larder, b: &Blend) -> Markup {
    let unknown: Vec<&str> = b
        .parts
        .iter()
        .filter(|(f, _)| larder.composition(*f).protein.is_none())
        .map(|(f, _)| larder.food(*f).name.as_str())
        .collect();
    html! {
        span.n { (format!("{:.1}", b.mean(larder, |c| c.protein))) } " g in 100 g"
        @if !unknown.is_empty() { br; small { "at least: that of " (unknown.join(", ")) " is not known" } }
    }
}

pub(super) fn allergen_words(s: &Screening) -> String {
    let of = |certain: bool| -> Vec<&str> {
        s.allergens
            .iter()
            .filter(|a| a.certain == certain)
            .map(|a| larder::allergen::plain(a.allergen))
            .collect()
    };
    let (sure, check) = (of(true), of(false));
    match (sure.is_empty(), check.is_empty()) {
        (true, true) => "none by name; labels may say more".to_owned(),
        (false, true) => sure.join(", "),
        (true, false) => format!("check the label for {}", check.join(", ")),
        (false, false) => format!(
            "{}; check the label for {}",
            sure.join(", "),
            check.join(", ")
        ),
    }
}
/// A share, to a tenth of a percent.
pub(super) fn share_words(share: f64) -> String {
    let text = format!("{share:.1}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// What a jar with oats says of them under each law, also where it does not list oats. Sources
/// as those of the screen's caution.
pub(super) fn oats(regime: Regime) -> &'static str {
    match regime {
        Regime::Anz => "not gluten-free under this law, whatever their label says.",
        Regime::Us | Regime::Eu | Regime::Ca => {
            "only ones labelled gluten-free; not every coeliac tolerates them."
        }
    }
}

/// What to stick on the jar.
pub(super) fn jar(
    larder: &Larder,
    b: &Blend,
    settings: &Settings,
    s: &Screening,
    now: i64,
) -> Markup {
    let mut all: Vec<(FoodId, f64)> = b.parts.iter().chain(&b.binders).copied().collect();
    all.sort_by(|x, y| y.1.total_cmp(&x.1));
    let whole: f64 = all.iter().map(|p| p.1).sum();
    let parts: Vec<String> = all
        .iter()
        .map(|(f, share)| {
            format!(
                "{} {} %",
                larder.food(*f).name,
                share_words(share / whole * 100.0)
            )
        })
        .collect();
    let st = s.statement(law(settings));
    let (mut check, mill) = to_check(larder, b, s, false);
    check.extend(mill);
    html! {
        div.jar {
            h3 { (component_name(&b.name)) }
            p { "Mixed on " span.n { (day(now)) } @if !settings.kitchen.is_empty() { ", " (settings.kitchen) } }
            p { strong { "Made of: " } (parts.join(", ")) "." }
            p { small { "Allergens as listed in: " (law(settings).name()) } }
            @if !st.contains.is_empty() { p { strong { "Contains: " } (st.contains.join(", ")) "." } }
            @if st.contains.is_empty() && st.check.is_empty() { p { "Allergens: none by name; labels may say more." } }
            @if !st.check.is_empty() { p { strong { "Check labels for: " } (on_label(&st.check.join("; "))) "." } }
            @if !check.is_empty() { p { strong { "Gluten: check the labels of " } (check.join(", ")) "." } }
            @if s.cautions.iter().any(|c| c.code == "oats") { p { strong { "Oats: " } (oats(law(settings))) } }
            @if let Some(c) = b.cup(larder) {
                p { "1 US cup (237 mL) = " strong.n { (format!("{:.0}", c.likely().as_grams())) } " g (" (b.cup_basis()) ")"
                    @if let Some((name, times)) = own_cup(&settings.locale) { br; "1 " (name) " = " strong.n { (format!("{:.0}", c.likely().as_grams() * times)) } " g" } }
            }
            p { small { "Read the label of each flour again on each new pack." } }
        }
    }
}
