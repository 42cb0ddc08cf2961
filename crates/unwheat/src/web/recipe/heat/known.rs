//! Bakes on record, offered as the known bake of the Heat page.

use super::super::read::says;
use super::super::{Leaf, Open, change_to, fields};
use crate::web::app::App;
use crate::web::bakes::{Kept, facts, kept};
use crate::web::bench::{Bake, batch_sheet::times};
use crate::web::page::day;
use maud::{Markup, html};
use quantity::{Mass, Temperature, scales_of};
use recipe::density;
use recipe::heat::{Figures, HeatError, HeatField, HeatNotes, Pan, degrees_words, oven_words};
use recipe::sheet::Change;

/// More are on the Bakes page.
const MOST: usize = 3;

/// The bakes of this recipe that say how long they took, newest first.
pub fn timed(o: &Open) -> impl Iterator<Item = Kept> {
    let all = kept(&o.records).into_iter();
    all.filter(|k| k.bake.minutes.is_some())
}

/// Those bakes, one button each.
pub fn offers(app: &App, o: &Open, figures: &Figures<'_>) -> Markup {
    let timed: Vec<Kept> = timed(o).take(MOST).collect();
    html! {
        @if !timed.is_empty() {
            ul.records {
                @for k in &timed {
                    @let says = says_of(k, figures);
                    li {
                        a href={ "/recipe/" (o.row.id) "/bakes/" (k.id) } { "Bake " (k.number) } ", " (day(k.finished)) ", × " (times(k.factor)) ": " (scales_of(&words(&k.bake), o.home())) ". "
                        @if let Some(Err(e)) = pan_of(&k.bake, figures) { "Its pan is not understood: " (e) ". " }
                        @if taken(&says, figures.notes) { span.tag { "taken" } } @else { (take(app, o, k, says)) }
                    }
                }
            }
        }
    }
}

fn take(app: &App, o: &Open, k: &Kept, says_of: HeatNotes) -> Markup {
    html! {
        form method="post" action=(change_to(o)) data-live data-k={ "known-" (k.id) } {
            (fields(app, o, Leaf::Heat))
            (says(&Change::KnownBake { says: says_of }))
            button.small { "Take it as the bake you know" span.unseen { ", bake " (k.number) } }
        }
    }
}

/// Pan, oven, minutes and core of a record, as far as they are known.
fn words(bake: &Bake) -> String {
    const SHOWN: [&str; 4] = ["Pan or tin", "Oven", "How long", "In the middle"];
    let facts = facts(bake);
    let all: Vec<String> = SHOWN
        .iter()
        .filter_map(|name| {
            let value = facts.iter().find(|f| f.name == *name)?.value.clone()?;
            Some(match *name {
                "In the middle" => format!("middle {value}"),
                "Oven" if bake.oven == "fan" => format!("fan {value}"),
                _ => value,
            })
        })
        .collect();
    all.join(", ")
}

/// The pan of a record; `None` where none was noted.
fn pan_of(bake: &Bake, figures: &Figures<'_>) -> Option<Result<Pan, HeatError>> {
    let noted = Some(&bake.pan).filter(|p| !p.trim().is_empty());
    noted.map(|p| Pan::read_in(p, figures.pans))
}

fn taken(says: &HeatNotes, notes: &HeatNotes) -> bool {
    HeatField::KNOWN
        .iter()
        .all(|f| says.get(f.key()) == notes.get(f.key()))
}

/// A record in the figures of a known bake. Its weight is the weighed one, where so much goes into one
/// such pan; what nobody weighed is not offered as the bake's own.
fn says_of(k: &Kept, figures: &Figures<'_>) -> HeatNotes {
    let bake = &k.bake;
    let fahrenheit = figures.place.fahrenheit;
    let pan = pan_of(bake, figures).and_then(Result::ok);
    let oven = bake.oven_c.map(|c| {
        let words = oven_words(Temperature::celsius(c), fahrenheit);
        if bake.oven == "fan" {
            format!("fan {words}")
        } else {
            words
        }
    });
    let given = figures.given;
    let pans = given.map_or(1, |g| g.pans);
    let tin = pan.as_ref().or(given.and_then(|g| g.pan.as_ref()));
    let goes_in = |m: &Mass| {
        let recipe = given.and_then(|g| Some((g.once * (1.0 / f64::from(pans)), g.pan.as_ref()?)));
        let density = given.map_or_else(|| density::of_style(None).value, |g| g.body.density);
        tin.is_some_and(|p| p.holds.is_some() && !p.overfull(*m, density, recipe))
    };
    let weight = bake
        .raw_g
        .map(Mass::grams)
        .map(|m| m * (1.0 / f64::from(pans)))
        .filter(goes_in);
    [
        (HeatField::KnownPan, pan.map(|_| bake.pan.clone())),
        (HeatField::KnownOven, oven),
        (
            HeatField::KnownTime,
            bake.minutes.map(|m| format!("{m:.0} min")),
        ),
        (
            HeatField::KnownDough,
            weight.map(|m| format!("{:.0} g", m.as_grams())),
        ),
        (
            HeatField::Core,
            bake.core_c.map(|c| degrees_words(c, fahrenheit)),
        ),
    ]
    .into_iter()
    .filter_map(|(f, words)| Some((f.key().to_owned(), words?)))
    .collect()
}
