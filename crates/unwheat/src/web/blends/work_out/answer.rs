//! The blends that were found, side by side, and why a flour is in none.

use super::super::label::oats;
use super::super::mixing;
use super::asked::{Asked, pack_price};
use crate::web::kitchen::law;
use crate::web::page::sentence;
use crate::web::picture::{self, Has};
use crate::web::recipe::rework::blend_picture;
use crate::web::recipe::screen::allergens;
use larder::{FoodId, Larder};
use maud::{Markup, html};
use quantity::Mass;
use recipe::formulate::{Ask, Bound, Candidate, Formulated, Limit, Outcome, Property, Wish, why};
use recipe::rework::blend::Blend;
use recipe::{Holds, LeftOut};
use store::Settings;

/// What stands behind an answer.
pub struct Answered<'a> {
    /// The foods.
    pub larder: &'a Larder,
    /// The kitchen.
    pub settings: &'a Settings,
    /// What stands in the form.
    pub asked: &'a Asked,
    /// The blend that is rebuilt.
    pub rebuilt: Option<&'a Blend>,
    /// The question.
    pub ask: &'a Ask,
    /// What was found.
    pub out: &'a Outcome,
}

/// A blend with the binders of the one it is rebuilt from, as far as they are not left out.
pub fn with_binders(
    mut blend: Blend,
    rebuilt: Option<&Blend>,
    left_out: impl Fn(FoodId) -> bool,
) -> Blend {
    for (food, percent) in rebuilt.iter().flat_map(|b| &b.binders) {
        if !left_out(*food) && !blend.binders.iter().any(|b| b.0 == *food) {
            blend.binders.push((*food, *percent));
        }
    }
    blend
}

/// Whether something that is left out is in a food, or may be.
pub fn is_left_out<'a>(
    left_out: impl IntoIterator<Item = &'a LeftOut> + Clone + 'a,
    larder: &'a Larder,
) -> impl Fn(FoodId) -> bool + 'a {
    move |f| {
        let mut all = left_out.clone().into_iter();
        all.any(|l| l.in_food(f, larder) != Holds::No)
    }
}

/// What stands behind the aim, in a sentence.
pub fn evidence(
    asked: &Asked,
    formulas: usize,
    rebuilt: Option<&Blend>,
    larder: &Larder,
) -> String {
    match (asked.style, formulas) {
        (Some(s), 0) => format!(
            "No published formula of {} stands behind the aim, which is borrowed from enriched doughs and lean breads: thin evidence.",
            s.name()
        ),
        (Some(s), n) => format!(
            "The aim is the middle of {n} published gluten-free formula{} of {}{}.",
            if n == 1 { "" } else { "s" },
            s.name(),
            if n < 6 { ": thin evidence" } else { "" }
        ),
        (None, _) => {
            let name = rebuilt.map(|b| b.name.to_string());
            let name = name
                .or_else(|| Some(larder.food(larder.by_key(&asked.like)?).name.clone()))
                .unwrap_or_default();
            format!("The aim is what {name} is made of; no published formula stands behind it.")
        }
    }
}

/// A distance in words, beside that of published blends.
pub fn near(distance: f64) -> &'static str {
    match distance {
        d if d < 0.05 => "as good as on it",
        d if d < 0.9 => "nearer than a usual published blend",
        d if d <= 1.1 => "as near as a usual published blend",
        d if d <= 2.0 => "further off than a usual published blend",
        _ => "far off",
    }
}

/// A distance as it is shown.
pub fn shown(distance: f64) -> String {
    if distance < 0.995 {
        format!("{distance:.2}")
    } else {
        format!("{distance:.1}")
    }
}

impl Answered<'_> {
    /// The best blend in a line, to be seen and heard while figures are typed.
    pub fn line(&self) -> String {
        let best = &self.out.blends[0];
        let cost = self.cost(best).map_or(String::new(), |c| format!(", {c}"));
        format!(
            "{}: {}; {} from the aim{cost}",
            self.which(0),
            best.words(self.larder),
            shown(best.distance)
        )
    }

    fn which(&self, i: usize) -> &'static str {
        match (i, self.ask.wish) {
            (0, Wish::Nearest) => "Nearest",
            (0, Wish::Cheapest { .. }) => "Cheapest",
            (1, _) => "Another",
            _ => "One more",
        }
    }

    fn cost(&self, b: &Formulated) -> Option<String> {
        Some(format!(
            "{:.2} {} a kilogram",
            b.cost_per_kg?, self.settings.currency
        ))
    }

    /// The blends side by side.
    pub fn blends(&self) -> Markup {
        html! {
            div.found { @for (i, b) in self.out.blends.iter().enumerate() { (self.one(i, b)) } }
            @if self.out.blends.len() < 3 { p.hint { "Within these limits no other blend differs enough." } }
        }
    }

    fn one(&self, i: usize, b: &Formulated) -> Markup {
        let larder = self.larder;
        let left_out = is_left_out(&self.asked.left_out, larder);
        let blend = with_binders(b.blend(), self.rebuilt, left_out);
        let s = blend.screening(larder);
        let labels = blend.labels(larder, &s);
        let names = |of: &[FoodId]| {
            let names: Vec<&str> = of.iter().map(|f| larder.food(*f).name.as_str()).collect();
            names.join(", ")
        };
        let law = law(self.settings);
        let keep: Vec<String> = b
            .parts
            .iter()
            .chain(&b.on_top)
            .map(|(f, p)| format!("{}:{p}", larder.food(*f).key))
            .collect();
        html! {
            article.sheet data-k={ "b" (i) } aria-labelledby={ "found" (i) } {
                h3 id={ "found" (i) } { (self.which(i)) }
                p { strong.n { (shown(b.distance)) } " from the aim: " (near(b.distance)) "." }
                (blend_picture(&format!("found{i}"), &blend, larder))
                (self.sheet(&blend))
                dl.facts {
                    @if let Some(c) = self.cost(b) { dt { "Cost" } dd { span.n { (c) } @if blend.binders.len() > b.on_top.len() { br; small { "binders not counted" } } } }
                    @else if self.out.blends.iter().any(|b| b.cost_per_kg.is_some()) { dt { "Cost" } dd { "not known: a price is missing" } }
                    @if !b.bounds.is_empty() { dt { "At its limit" } dd { ul.plain { @for x in &b.bounds { li { (self.bound(x)) } } } } }
                    @if !labels.check.is_empty() { dt { "Check the label of" } dd { (names(&labels.check)) } }
                    @if !labels.labelled.is_empty() { dt { "Buy labelled gluten-free" } dd { (names(&labels.labelled)) br; small { "free by nature, but milled or packed beside wheat" } } }
                }
                h4 { "What it is made of, beside the aim" }
                (self.makeup(i, b))
                h4 { "Allergens, " (law.name()) }
                (allergens(&s, law))
                @if s.cautions.iter().any(|c| c.code == "oats") { p { strong { "Oats: " } (oats(law)) } }
                button name="keep" value=(keep.join(",")) formaction="/blends/new" {
                    "Keep as a blend of your own" span.unseen { ": " (self.which(i)) }
                }
            }
        }
    }

    /// Percents, and grams of the batch in steps of the scale.
    fn sheet(&self, b: &Blend) -> Markup {
        let larder = self.larder;
        let step = mixing::step(self.settings.scale_step);
        let fine = match self.settings.fine_scale_step {
            f if f > 0.0 => mixing::step(f),
            _ => step,
        };
        let batch = self.ask.batch.map(Mass::as_grams);
        let steps = batch.map(|g| (g / step).round().max(1.0) as u64);
        let shares: Vec<f64> = b.parts.iter().map(|p| p.1).collect();
        let weights = steps.map(|n| mixing::split(&shares, n));
        html! {
            table.ledger {
                thead { tr { th scope="col" { "Weigh in" } th.f scope="col" { "%" } @if weights.is_some() { th.f scope="col" { "Grams" } } } }
                tbody {
                    @for (i, (f, p)) in b.parts.iter().enumerate() {
                        tr { td { (larder.food(*f).name) } td.f { (format!("{p:.0}")) } @if let Some(w) = &weights { td.f { strong { (mixing::grams(w[i], step)) } } } }
                    }
                    tr.sum { td { "Together" } td.f { "100" } @if let Some(n) = steps { td.f { (mixing::grams(n, step)) } } }
                    @for (f, p) in &b.binders {
                        tr { td { (larder.food(*f).name) " " small { "on top" } } td.f { "+" (p) } @if let Some(n) = steps {
                            td.f { strong { (mixing::grams((n as f64 * step * p / 100.0 / fine).round() as u64, fine)) } }
                        } }
                    }
                }
            }
        }
    }

    fn makeup(&self, i: usize, b: &Formulated) -> Markup {
        let target = &self.out.target;
        let rows: Vec<Has> = Property::ALL
            .iter()
            .map(|p| Has {
                name: match p {
                    Property::Absorption => "water taken up",
                    p => p.word(),
                },
                unit: p.unit(),
                value: b.makeup.get(*p),
                aim: target.middle.get(*p),
                spread: target.spread.get(*p),
            })
            .collect();
        picture::makeup(&format!("made{i}"), &rows)
    }

    /// A limit, with what a little more room would gain.
    fn bound(&self, x: &Bound) -> String {
        let room = match x.limit {
            Limit::Within(_) => "0.1 more",
            Limit::Least(..) | Limit::StarchLeast(_) => "1 % less",
            Limit::Cost(_) => "0.01 more",
            _ => "1 % more",
        };
        let words = x.limit.words(self.larder);
        match self.ask.wish {
            Wish::Nearest if x.price >= 0.005 => {
                format!("{words}; {room} would bring it {:.2} nearer", x.price)
            }
            Wish::Cheapest { .. } if x.price >= 0.005 => format!(
                "{words}; {room} would save {:.2} {} a kilogram",
                x.price, self.settings.currency
            ),
            _ => words,
        }
    }

    /// Why a flour is in the best blend or not.
    pub fn because(&self, food: FoodId) -> String {
        let larder = self.larder;
        let mut ask = self.ask.clone();
        let known = ask.candidates.iter().any(|c| c.food == food);
        if !known {
            let (low, high) = larder.absorption(food).map_or((0.0, 100.0), |a| a.share);
            let price_per_kg = pack_price(larder, food, &self.settings.currency).map(|p| p.0);
            ask.candidates.push(Candidate {
                food,
                low,
                high,
                must: false,
                stock: None,
                price_per_kg,
            });
        }
        match why(food, &ask, larder) {
            Ok(answer) => {
                let words = answer.words(&self.out.blends[0], larder);
                let lead = match answer {
                    recipe::formulate::Answer::Barred(_) => "",
                    _ if known => "",
                    _ => "it is not ticked; if it were, ",
                };
                sentence(&format!("{}: {lead}{words}", larder.food(food).name))
            }
            Err(e) => sentence(&e.to_string()),
        }
    }
}
