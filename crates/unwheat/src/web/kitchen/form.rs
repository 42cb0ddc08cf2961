//! The form of the settings.

use super::page;
use super::settings::LAWS;
use super::typed::{COUNTS, FINE, OFTEN, OVENS, STEPS, THEMES, Typed};
use crate::web::app::App;
use crate::web::recipe::read::locale_select;
use maud::{Markup, html};
use quantity::Locale;

fn select(id: &str, rows: &[(&str, &str)], now: &str, unit: &str) -> Markup {
    html! {
        select id=(id) name=(id) {
            @if !rows.iter().any(|r| r.0 == now) { option value=(now) selected { (now) " " (unit) } }
            @for (value, words) in rows { option value=(value) selected[*value == now] { (words) } }
        }
    }
}

fn line(typed: &Typed, id: &'static str, words: &str, value: &str, hint: &str) -> Markup {
    let trouble = typed.trouble(id);
    let about = format!("{id}-about");
    html! {
        div {
            label for=(id) { (words) }
            input id=(id) name=(id) value=(value) autocomplete="off" aria-describedby=(about) aria-invalid=[trouble.map(|_| "true")];
            p.hint id=(about) { @if let Some(t) = trouble { span.trouble { (t) } } @else { (hint) } }
        }
    }
}

/// The form.
pub fn form(app: &App, typed: &Typed) -> Markup {
    let drawer = typed.drawer();
    let regimes: Vec<(&str, &str)> = LAWS.iter().map(|r| (r.word(), r.name())).collect();
    html! {
        form.sheet.settings method="post" action="/kitchen" aria-labelledby="settings" {
            (page::seal(app))
            h2 #settings { "Settings" }
            @if !typed.troubles.is_empty() { p.trouble role="alert" { "Not saved yet: see " @if typed.troubles.len() == 1 { "the field" } @else { "the fields" } " marked below." } }
            div.groups {
                fieldset {
                    legend { "Names" }
                    (line(typed, "kitchen", "The kitchen", &typed.kitchen, "Stands at the top of every page."))
                    (line(typed, "baker", "You", &typed.baker, "Signs versions, bakes and cards."))
                }
                fieldset {
                    legend { "Measures and labels" }
                    div {
                        label for="locale" { "Cups and spoons of new recipes" }
                        (locale_select("locale", "locale", typed.locale.parse().unwrap_or(Locale::Us)))
                        p.hint { "Each recipe can have its own, on its Read page." }
                    }
                    div {
                        label for="regime" { "Allergens by the law of" }
                        (select("regime", &regimes, &typed.regime, ""))
                        p.hint { "Which allergens cards name, and in which words. It comes with the measures when you first choose these; after that, only you change it." }
                    }
                    (line(typed, "currency", "Currency of prices", &typed.currency, "Three letters, such as EUR, GBP or AUD. Prices already noted keep theirs."))
                }
                fieldset {
                    legend { "Scales" }
                    div {
                        label for="step" { "The scale shows" }
                        (select("step", &STEPS, &typed.step, "g"))
                    }
                    div {
                        label for="fine" { "The fine scale shows" }
                        (select("fine", &FINE, &typed.fine, "g"))
                        p.hint { "For yeast, salt and gums. Grams on cards and at the bench are rounded to what your scales show; where that would be too far off, finer figures are given all the same." }
                    }
                }
                fieldset {
                    legend { "Cups and spoons in the drawer" }
                    div.boxes {
                        @for s in &drawer {
                            label.tick { input type="checkbox" name="scoop" value=(s) checked[typed.scoops.contains(s)]; (quantity::signs(s)) }
                            input type="hidden" name="shown" value=(s);
                        }
                    }
                    p.hint { "Amounts that are worked out are given in these, and what they cannot measure closely enough in grams alone. A line that stays as a recipe has it keeps its own words (2⅔ cups)" @if typed.locale != Locale::Uk.key() { ", and butter of US recipes its sticks" } "." }
                }
                fieldset {
                    legend { "Oven" }
                    div.boxes {
                        @for (key, words) in OVENS {
                            label.tick { input type="radio" name="oven" value=(key) checked[typed.oven == key]; (words) }
                        }
                    }
                    (line(typed, "oven_note", "What to know about it", &typed.oven_note, "For instance: runs 10 °C hot, the left side is faster."))
                    (line(typed, "altitude", "Metres above the sea", &typed.altitude, "Higher up water boils cooler, and no core comes as hot. 0 is right below 900 m."))
                }
                fieldset {
                    legend { "Pans and tins" }
                    div {
                        label for="pans" { "Yours, one to a line" }
                        textarea.short #pans name="pans" aria-describedby="pans-hint" placeholder="blue loaf tin 23 x 13 cm, 1440 g water" { (typed.pans) }
                        @if let Some(words) = typed.trouble("pans") { p.trouble role="alert" { (words) } }
                        p.hint #pans-hint { "Offered on the Size page, and when you write down what a bake was made in. Surest is the water a pan holds to the rim, weighed and written behind a comma: blue loaf tin, 1440 g water. Several of one are counted in front, for planning: 2 x 20 cm sandwich tin. Bakes of a day that want the same pan follow each other." }
                    }
                }
                fieldset.planning {
                    legend { "Planning" }
                    div.counts {
                        @for (count, value) in COUNTS.iter().zip(&typed.counts) {
                            (line(typed, count.id, count.words, value, ""))
                        }
                    }
                    (line(typed, "quiet", "Quiet hours", &typed.quiet, "Nobody works then; a dough may rise. As in 22:00-07:00, or 'none'."))
                }
                fieldset {
                    legend { @if app.own.is_none() { "Screen and backups" } @else { "Screen" } }
                    div {
                        label for="theme" { "Colours" }
                        (select("theme", &THEMES, &typed.theme, ""))
                    }
                    @if app.own.is_none() {
                        div {
                            label for="often" { "Back up, while unwheat runs" }
                            (select("often", &OFTEN, &typed.often, "hours"))
                        }
                        (line(typed, "keep", "Backups kept", &typed.keep, "The oldest go first."))
                    } @else {
                        // The demo keeps none.
                        input type="hidden" name="often" value=(typed.often);
                        input type="hidden" name="keep" value=(typed.keep);
                    }
                }
            }
            button.do { "Save settings" }
        }
    }
}
