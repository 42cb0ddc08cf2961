//! The Heat page: a bake in another pan, a proof along where the dough stands, the water of the
//! dough, and what this kitchen's oven and pans do.

mod known;
mod sentence;

use super::read::says;
use super::{Leaf, Open, change_to, component_name, fields};
use crate::show::heat as words;
use crate::web::app::{App, home};
use crate::web::page::sentence;
use crate::web::picture::{Warming, rising, warming};
use maud::{Markup, html};
use quantity::{Locale, degrees_in, lengths_in};
use recipe::heat::{
    Advice, AskError, Figures, Given, HeatError, HeatField, Make, Origin, Place, bake, chosen,
    dough, facts, offered, own_minutes, proof,
};
use recipe::leaven::Altitude;
use recipe::plan::{Span, span_words, tasks};
use recipe::sheet::{Change, Worked};
use sentence::Bit::{Ask, Say, Words};
use store::Settings;

/// This kitchen, as far as heat asks for a recipe of a country.
pub fn place(settings: &Settings, recipe: Locale) -> Place {
    Place {
        metres: settings.altitude,
        fan: settings.oven == "fan",
        fahrenheit: home(settings, recipe) == Locale::Us,
    }
}

/// The page's body.
pub fn body(app: &App, o: &Open, w: &Worked) -> Markup {
    let sheet = &o.draft.sheet;
    let given = chosen(w, sheet, &o.pantry.larder);
    let given = given.map(|g| g.with_work(&tasks(w, sheet, w.batch.factor)));
    let own = super::size::own_pans(&o.settings.pans);
    let figures = Figures {
        notes: &sheet.heat,
        given: given.as_ref(),
        place: place(&o.settings, sheet.locale()),
        style: None,
        pans: &own,
    };
    let yeast = given.as_ref().is_none_or(|g| g.yeast);
    let page = Page {
        app,
        o,
        figures: &figures,
        known: known::offers(app, o, &figures),
        on_record: known::timed(o).next().is_some(),
        own: own_minutes(w, sheet).map(|t| span_words(Span::from(t))),
    };
    html! {
        (page.parts(w, given.as_ref()))
        @match &given {
            Some(g) => p.hint {
                (component_name(&g.name)) ", "
                @if g.parts.len() > 1 { "baked as " (g.what) ", " }
                @if let Some(s) = g.style { (s.name()) ", " }
                (recipe::household::weight(g.makes, false)) ". What is greyed counts until something is typed over it. Every time is an estimate with a range: a probe ends a bake, the volume ends a proof."
            },
            None => p.hint {
                @if w.batch.components.iter().any(|c| c.factor <= 0.0) { "Nothing of this batch is baked in an oven: the Size page makes a part alone." }
                @else { "Nothing in this recipe is baked in an oven, as far as it was read." }
                " Type a bake of your own, if there is one."
            },
        }
        (page.bake())
        @if yeast { (page.proof()) (page.dough()) }
        (page.facts())
    }
}

struct Page<'a> {
    app: &'a App,
    o: &'a Open,
    figures: &'a Figures<'a>,
    /// Bakes on record.
    known: Markup,
    /// One of them says how long it took.
    on_record: bool,
    /// The minutes of the baker's own method.
    own: Option<String>,
}

impl Page<'_> {
    /// Words with their temperatures and lengths as this kitchen reads them.
    fn told(&self, words: &str) -> String {
        let home = self.o.home();
        lengths_in(&degrees_in(words, home), home)
    }

    fn example(&self, field: HeatField) -> String {
        field.example_in(self.figures.place.fahrenheit)
    }

    /// Which part is meant, where there are several.
    fn parts(&self, w: &Worked, given: Option<&Given>) -> Markup {
        let made = || w.batch.components.iter().filter(|c| c.factor > 0.0);
        let chosen = self.o.draft.sheet.heat.get(HeatField::Part.key());
        let change = Change::SetHeat {
            what: HeatField::Part.key().to_owned(),
            text: None,
        };
        html! {
            @if made().count() > 1 {
                form.row.mid method="post" action=(change_to(self.o)) data-live data-k="heat-part" {
                    (fields(self.app, self.o, Leaf::Heat))
                    (says(&change))
                    label for="heat-part" { "Part that is baked" }
                    select #heat-part name="value" {
                        option value="" selected[chosen.is_none()] {
                            "what is baked last" @if let (None, Some(g)) = (chosen, given) { ": " @if g.name.is_empty() { "the recipe" } @else { (g.name) } }
                        }
                        @for c in made().filter(|c| !c.name.is_empty()) { option value=(c.name) selected[chosen == Some(&c.name)] { (c.name) } }
                    }
                    noscript { button.small { "Take" } }
                }
            }
        }
    }

    fn bake(&self) -> Markup {
        use HeatField as F;
        let what = match self.figures.given {
            Some(g) if g.parts.len() > 1 => format!(" of {}", g.what),
            Some(g) if g.sets => " of filling".to_owned(),
            Some(g) if !g.yeast => " of dough or batter".to_owned(),
            _ => " of dough".to_owned(),
        };
        html! {
            section.sheet aria-labelledby="bake-h" data-k="bake" {
                h2 #bake-h { "Bake" }
                h3 { "A bake you know" }
                (self.known)
                (self.sentence(&[
                    Say("In "), Ask(F::KnownPan, "Its pan"),
                    Say(" at "), Ask(F::KnownOven, "Its oven"),
                    Say(", "), Ask(F::KnownDough, "Dough in it"),
                    Words(what), Say(" took "), Ask(F::KnownTime, "How long it took"), Say("."),
                ]))
                h3 { "The bake to come" }
                (self.sentence(&[
                    Say("Now in "), Ask(F::Pan, "Pan"),
                    Say(" at "), Ask(F::Oven, "Oven"),
                    Say(", with "), Ask(F::PanDough, "Dough in the pan"),
                    Say(" that goes in at "), Ask(F::Start, "Dough when it goes in"),
                    Say(" and is done at "), Ask(F::Core, "Core, if not the style's"), Say(" in the middle."),
                ]))
                (self.baked())
                @if let Some(own) = &self.own { p #own-minutes { "Your own method bakes " strong { (own) } ": that is what Plan, Bench and Card have. What stands here is the estimate beside it." } }
                details {
                    summary { "How a pan is written" }
                    p { "Length × width × depth; round and across × depth; the two sides of a known pan, as 9x13in; or one of the kitchen's own by its name. Dark, glass or silicone beside them, and whether a lid lies on it: with a lid. The tube of a ring tin behind a comma: ring tin 24x8 cm, tube 6 cm. 8 cm ball for a piece without a pan." }
                }
            }
        }
    }

    fn baked(&self) -> Markup {
        let ask = match self.figures.bake() {
            Ok(Some(ask)) => ask,
            Ok(None) => {
                return html! {
                    @if let Some(time) = self.figures.value(HeatField::KnownTime) {
                        p.answer {
                            strong { (time.words) }
                            @if time.origin == Origin::Typed { ", as the bake you know took." } @else { ", " (time.from()) "." }
                        }
                    }
                    p { "Type a new pan, another oven or another weight, and the time follows." }
                    @if let Some(much) = self.figures.too_much() { (self.advice(&[much])) }
                };
            }
            Err(e) => return self.missing(&e),
        };
        let b = match bake(&ask) {
            Ok(b) => b,
            Err(e) => return self.trouble(&e),
        };
        let likely = b.time.likely().as_minutes();
        let drawn = Warming {
            curve: b.curve.points.clone(),
            known: b.known_curve.points.clone(),
            range: (
                b.time.low().as_minutes() / likely,
                b.time.high().as_minutes() / likely,
            ),
            target: b.target.celsius[1],
            boiling: b.target.boiling,
            fahrenheit: self.figures.place.fahrenheit,
        };
        html! {
            p.answer #baked {
                strong { (words::range(b.time)) }
                " in " (degrees_in(&words::new_bake(self.figures, &ask), self.o.home())) "."
            }
            div.pictures { figure { figcaption { "Core temperature in " (self.unit()) " against minutes: this bake and the range of its time (shaded), the known bake (dashed), the core that ends it (dotted)" } (warming("warming", &drawn)) } }
            p.hint { "The known pan was read as " (ask.known_pan.read) "." }
            (self.advice(&self.figures.remarks(self.on_record)))
            (self.advice(&b.advice))
            details {
                summary { "How this is worked out" }
                p { "Heat conduction into a body of the pan's shape, " (format!("{:.0} mm", 1000.0 * b.depths.1)) " deep when baked (" (format!("{:.0} mm", 1000.0 * b.depths.0)) " in the known bake), with a crust that stays at the boiling point until its water has left. The known bake sets how fast heat gets in: " (format!("{:.1}", b.speed)) " times the model's middle figures. By that alone: " (words::range(b.model)) "." }
                p { "The range is never less than 8 % to either side, nor less than 15 % in another shape, depth or pan: our own judgement, no source." }
                @if let Some((low, high)) = b.by_thickness {
                    p { "By the thinner or thicker way to the middle, to the power 1.3–1.7 (common practice, no source): " (words::ends(low.as_minutes(), high.as_minutes())) ". The range above holds both." }
                }
            }
        }
    }

    fn proof(&self) -> Markup {
        use HeatField as F;
        html! {
            section.sheet aria-labelledby="proof-h" data-k="proof" {
                h2 #proof-h { "Proof" }
                (self.sentence(&[
                    Say("A proof you know took "), Ask(F::ProofTime, "A proof you know took"),
                    Say(" with the dough at "), Ask(F::ProofAt, "Its dough was at"), Say("."),
                ]))
                (self.sentence(&[
                    Say("Now "), Ask(F::ProofPiece, "Weight in one piece"),
                    Say(" in one piece, at "), Ask(F::DoughWanted, "Dough after mixing"),
                    Say(" after mixing, stands "), Ask(F::Stays, "Where the dough stands now"), Say("."),
                ]))
                p.hint { "Places one after another, the last one without a time until it is ready: " (self.example(F::Stays)) "." }
                (self.proofed())
            }
        }
    }

    fn proofed(&self) -> Markup {
        let ask = match self.figures.proof() {
            Ok(Some(ask)) => ask,
            Ok(None) => {
                return html! { p { "Type where the dough stands, and how far it gets follows." } };
            }
            Err(e) => return self.missing(&e),
        };
        let p = match proof(&ask) {
            Ok(p) => p,
            Err(e) => return self.trouble(&e),
        };
        html! {
            p.answer #proofed { strong { (sentence(&words::wait(p.wait))) } }
            table.ledger.stack {
                thead { tr { th scope="col" { "Place" } th scope="col" { "Time" } th scope="col" { "Of the proof" } th scope="col" { "Dough at its end" } } }
                tbody {
                    @for l in &p.legs {
                        tr {
                            td.full { (self.told(&words::place(&l.leg))) }
                            td data-h="Time" { @if let Some(h) = l.leg.hours { (recipe::heat::clock(60.0 * h)) } @else { "until ready" } }
                            td data-h="Of the proof" { (words::percent(l.share)) }
                            td data-h="Dough at its end" { @if l.leg.hours.is_some() { (self.told(&words::between(l.ends_at))) } @else { "–" } }
                        }
                    }
                }
            }
            div.pictures { figure { figcaption { "Where the dough stands: its temperature, and how much of the proof growth has done (likely)" } (rising("rising", &p.points, self.figures.place.fahrenheit)) } }
            (self.advice(&p.advice))
        }
    }

    fn dough(&self) -> Markup {
        use HeatField as F;
        html! {
            section.sheet aria-labelledby="water-h" data-k="water" {
                h2 #water-h { "Water of the dough" }
                (self.sentence(&[
                    Say("In a room of "), Ask(F::Room, "Room"),
                    Say(", "), Ask(F::FlourMass, "Flour and starch"),
                    Say(" of flour and starch at "), Ask(F::Flour, "Flour is at"),
                    Say(", "), Ask(F::OtherMass, "Eggs, fat and the rest"),
                    Say(" of eggs, fat and the rest at "), Ask(F::Other, "Eggs and fat are at"),
                    Say(", and "), Ask(F::WaterMass, "Water, or what is warmed"),
                    Say(" of water or what is warmed, from a tap at "), Ask(F::Tap, "Tap water"), Say("."),
                ]))
                (self.sentence(&[
                    Say("Preferment at "), Ask(F::Preferment, "Preferment, if any"),
                    Say("; friction "), Ask(F::Friction, "Friction, if known"),
                    Say(", or by a measured dough "), Ask(F::Measured, "Or a measured dough"), Say("."),
                ]))
                p.hint { "The dough after mixing stands under Proof. Friction is a difference: 9 °F is 5 °C. A measured dough: itself, its room, flour and water, as " (self.example(F::Measured)) "." }
                (self.watered())
            }
        }
    }

    fn watered(&self) -> Markup {
        let ask = match self.figures.dough() {
            Ok(ask) => ask,
            Err(e) => return self.missing(&e),
        };
        let d = match dough(&ask) {
            Ok(d) => d,
            Err(e) => return self.trouble(&e),
        };
        html! {
            p.answer #watered { strong { (sentence(&self.told(&words::water(&d)))) } " By heat balance: " (self.told(&words::balance(&ask, &d))) "." }
            p { "By the rule of " @if d.n == 4 { "four" } @else { "three" } ": water at " (self.told(&words::both(d.rule))) ". " span.hint { (words::rule(&ask, &d, self.figures.place.fahrenheit)) } }
            (self.advice(&d.advice))
        }
    }

    fn facts(&self) -> Markup {
        let settings = &self.o.settings;
        let pans: Vec<String> = settings
            .pans
            .iter()
            .map(ToString::to_string)
            .chain(
                [HeatField::KnownPan, HeatField::Pan]
                    .iter()
                    .filter_map(|f| self.figures.value(*f))
                    .map(|v| v.words),
            )
            .collect();
        let here = offered(&settings.oven, &pans, settings.altitude);
        let height = Altitude::of(settings.altitude)
            .ok()
            .filter(|a| a.metres >= recipe::leaven::LEAST);
        html! {
            section.sheet aria-labelledby="facts-h" data-k="facts" {
                h2 #facts-h { "Your oven and pans" }
                @if let Some(a) = &height { p { (self.told(&words::height(a))) ". " span.hint { "[" (Altitude::source()) "]" } } }
                ul {
                    @for f in here { li { strong { (sentence(f.what).trim_end_matches('.')) } ": " (self.told(f.words)) " " span.hint { "[" (f.source) "]" } } }
                }
                p.hint { "Offered by what the " a href="/kitchen#settings" { "Kitchen page" } " says of oven, pans and height." }
                details {
                    summary { "Of any oven" }
                    ul {
                        @for f in facts().iter().filter(|f| f.when == "any") { li { strong { (sentence(f.what).trim_end_matches('.')) } ": " (self.told(f.words)) " " span.hint { "[" (f.source) "]" } } }
                    }
                    p.hint { "Pans: " @for (i, m) in Make::ALL.iter().enumerate() { @if i > 0 { ", " } (m.name()) } "." }
                }
            }
        }
    }

    fn unit(&self) -> &'static str {
        if self.figures.place.fahrenheit {
            "°F"
        } else {
            "°C"
        }
    }

    fn missing(&self, e: &AskError) -> Markup {
        match e {
            AskError::Missing(_) | AskError::ByColour(_) => {
                html! { p { (sentence(&self.told(&e.to_string()))) } }
            }
            // It says what was typed as it was typed.
            AskError::Wrong { .. } => {
                html! { p.trouble role="alert" { (sentence(&e.to_string())) } }
            }
        }
    }

    fn trouble(&self, e: &HeatError) -> Markup {
        html! { p.trouble role="alert" { (sentence(&self.told(&e.to_string()))) } }
    }

    fn advice(&self, all: &[Advice]) -> Markup {
        html! {
            @if !all.is_empty() {
                ul.advice {
                    @for a in all { li { (self.told(a.words.trim_end_matches('.'))) ". " span.hint { "[" (self.told(&a.source)) "]" } } }
                }
            }
        }
    }
}
