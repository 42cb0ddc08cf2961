//! The settings, on one form.

use super::super::recipe::read::{LOCALES, locale_select};
use super::{is_here, page, whole};
use crate::day::clock::Night;
use crate::web::app::{App, Shared, locale, run};
use crate::web::fault::Fault;
use crate::web::page::back_to;
use crate::web::post::Post;
use axum::extract::{ConnectInfo, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use larder::allergen::Regime;
use maud::{Markup, html};
use quantity::household::scoops;
use quantity::{Locale, figure};
use recipe::leaven::Altitude;
use recipe::plan::{LONGEST_CHANGE, MOST_OF_ANY, OwnPans};
use recipe::size::pan::OwnPan;
use std::net::SocketAddr;
use store::Settings;

/// Longest name, in letters.
const LONGEST: usize = 80;

const STEPS: [(&str, &str); 4] = [("0.1", "0.1 g"), ("1", "1 g"), ("2", "2 g"), ("5", "5 g")];
const FINE: [(&str, &str); 3] = [("0", "none"), ("0.1", "0.1 g"), ("0.01", "0.01 g")];
const OVENS: [(&str, &str); 3] = [("still", "still, no fan"), ("fan", "fan"), ("gas", "gas")];
const THEMES: [(&str, &str); 3] = [
    ("auto", "as the device has it"),
    ("light", "light"),
    ("dark", "dark"),
];
const OFTEN: [(&str, &str); 5] = [
    ("1", "every hour"),
    ("6", "every 6 hours"),
    ("24", "every day"),
    ("72", "every 3 days"),
    ("168", "every week"),
];

/// Something that the kitchen has so many of.
struct Count {
    id: &'static str,
    words: &'static str,
    least: u32,
    most: u32,
    get: fn(&Settings) -> u32,
    put: fn(&mut Settings, u32),
}

const COUNTS: [Count; 7] = [
    Count {
        id: "hands",
        words: "Pairs of hands",
        least: 1,
        most: MOST_OF_ANY,
        get: |s| s.hands,
        put: |s, n| s.hands = n,
    },
    Count {
        id: "ovens",
        words: "Ovens",
        least: 0,
        most: MOST_OF_ANY,
        get: |s| s.ovens,
        put: |s, n| s.ovens = n,
    },
    Count {
        id: "oven_racks",
        words: "Racks in each oven",
        least: 1,
        most: MOST_OF_ANY,
        get: |s| s.oven_racks,
        put: |s, n| s.oven_racks = n,
    },
    Count {
        id: "mixers",
        words: "Mixers",
        least: 0,
        most: MOST_OF_ANY,
        get: |s| s.mixers,
        put: |s, n| s.mixers = n,
    },
    Count {
        id: "oven_change",
        words: "Minutes for an oven to change its heat",
        least: 0,
        most: LONGEST_CHANGE,
        get: |s| s.oven_change,
        put: |s, n| s.oven_change = n,
    },
    Count {
        id: "fridge_shelves",
        words: "Free fridge shelves",
        least: 0,
        most: MOST_OF_ANY,
        get: |s| s.fridge_shelves,
        put: |s, n| s.fridge_shelves = n,
    },
    Count {
        id: "freezer_shelves",
        words: "Free freezer shelves",
        least: 0,
        most: MOST_OF_ANY,
        get: |s| s.freezer_shelves,
        put: |s, n| s.freezer_shelves = n,
    },
];

/// The kitchen that days are planned with.
pub fn planned_with(s: &Settings) -> recipe::plan::Kitchen {
    let kitchen = recipe::plan::Kitchen {
        hands: s.hands,
        ovens: s.ovens,
        racks: s.oven_racks,
        mixers: s.mixers,
        fridge: s.fridge_shelves,
        freezer: s.freezer_shelves,
        oven_change: s.oven_change,
        pans: Vec::new(),
    };
    // What the form refuses now may be kept from before: such a pan is not counted.
    let known = s.pans.iter().map(|line| OwnPan::read(line).name);
    let known: Vec<String> = known.filter(|p| OwnPans::read(p).is_ok()).collect();
    kitchen
        .clone()
        .with_pans(known.iter().map(String::as_str))
        .unwrap_or(kitchen)
}

/// Its quiet hours.
pub fn night(s: &Settings) -> Night {
    Night::read(&s.quiet).unwrap_or(Night { from: 0, to: 0 })
}

/// What stands in the form, as typed.
pub struct Typed {
    kitchen: String,
    baker: String,
    locale: String,
    regime: String,
    step: String,
    fine: String,
    scoops: Vec<String>,
    oven: String,
    oven_note: String,
    altitude: String,
    pans: String,
    /// In the order of [`COUNTS`].
    counts: Vec<String>,
    quiet: String,
    currency: String,
    theme: String,
    keep: String,
    often: String,
    /// Field and what is wrong with it.
    troubles: Vec<(&'static str, String)>,
}

impl Typed {
    /// The settings as they stand.
    pub fn of(s: &Settings) -> Self {
        Self {
            kitchen: s.kitchen.clone(),
            baker: s.baker.clone(),
            locale: s.locale.clone(),
            regime: s.regime.clone(),
            step: s.scale_step.to_string(),
            fine: s.fine_scale_step.to_string(),
            scoops: s.scoops.clone(),
            oven: s.oven.clone(),
            oven_note: s.oven_note.clone(),
            altitude: s.altitude.to_string(),
            pans: s.pans.join("\n"),
            counts: COUNTS.iter().map(|c| (c.get)(s).to_string()).collect(),
            quiet: s.quiet.clone(),
            currency: s.currency.clone(),
            theme: s.theme.clone(),
            keep: s.backups_keep.to_string(),
            often: s.backup_hours.to_string(),
            troubles: Vec::new(),
        }
    }

    fn sent(post: &Post) -> Self {
        let text = |name: &str| post.text(name).to_owned();
        Self {
            kitchen: text("kitchen"),
            baker: text("baker"),
            locale: text("locale"),
            regime: text("regime"),
            step: text("step"),
            fine: text("fine"),
            scoops: post.all("scoop").into_iter().map(str::to_owned).collect(),
            oven: text("oven"),
            oven_note: text("oven_note"),
            // Not sent: as it was. Emptied: at the sea.
            altitude: match (post.has("altitude"), post.text("altitude")) {
                (false, _) => String::new(),
                (true, "") => "0".to_owned(),
                (true, metres) => metres.to_owned(),
            },
            pans: post.raw("pans").replace("\r\n", "\n"),
            counts: COUNTS.iter().map(|c| text(c.id)).collect(),
            quiet: text("quiet"),
            currency: text("currency").to_uppercase(),
            theme: text("theme"),
            keep: text("keep"),
            often: text("often"),
            troubles: Vec::new(),
        }
    }

    /// Whose scoops the form shows.
    fn drawer(&self) -> Vec<String> {
        let locale = self.locale.parse().unwrap_or(Locale::Us);
        scoops(locale).iter().map(|s| s.name()).collect()
    }

    /// The settings that this makes of `before`. What the form does not show stays.
    fn settings(&mut self, before: &Settings, drawer: &[String]) -> Settings {
        let mut new = before.clone();
        for (field, text, what) in [
            ("kitchen", &self.kitchen, "The kitchen's name"),
            ("baker", &self.baker, "Your name"),
            ("oven_note", &self.oven_note, "The note"),
        ] {
            if text.chars().count() > LONGEST {
                let words = format!("{what} is too long: {LONGEST} letters at most.");
                self.troubles.push((field, words));
            }
        }
        new.kitchen.clone_from(&self.kitchen);
        new.baker.clone_from(&self.baker);
        new.oven_note.clone_from(&self.oven_note);
        let pans = self.pans.lines().map(str::trim).filter(|p| !p.is_empty());
        new.pans = pans.map(str::to_owned).collect();
        if new.pans.len() > 200 || new.pans.iter().any(|p| p.chars().count() > LONGEST) {
            let words =
                format!("Pans: one to a line, {LONGEST} letters each and 200 lines at most.");
            self.troubles.push(("pans", words));
        }
        let mut read = new
            .pans
            .iter()
            .map(|line| OwnPans::read(&OwnPan::read(line).name));
        if let Some(words) = read.find_map(Result::err) {
            self.troubles.push(("pans", format!("Pans: {words}.")));
        }
        self.plan(&mut new);
        if let Ok(l) = self.locale.parse::<Locale>() {
            new.locale = l.key().to_owned();
        }
        self.law(before, &mut new);
        for (rows, text, into) in [
            (&STEPS[..], &self.step, &mut new.scale_step),
            (&FINE[..], &self.fine, &mut new.fine_scale_step),
        ] {
            if let (true, Ok(v)) = (rows.iter().any(|r| r.0 == text), text.parse()) {
                *into = v;
            }
        }
        for (rows, text, into) in [
            (&OVENS, &self.oven, &mut new.oven),
            (&THEMES, &self.theme, &mut new.theme),
        ] {
            if rows.iter().any(|r| r.0 == text) {
                into.clone_from(text);
            }
        }
        new.scoops.retain(|s| !drawer.contains(s));
        new.scoops
            .extend(drawer.iter().filter(|s| self.scoops.contains(s)).cloned());
        if self.currency.len() == 3 && self.currency.bytes().all(|b| b.is_ascii_uppercase()) {
            new.currency.clone_from(&self.currency);
        } else {
            let words = "A currency has three letters, such as EUR, GBP or AUD.";
            self.troubles.push(("currency", words.to_owned()));
        }
        let height = match self.altitude.as_str() {
            "" => Some(before.altitude),
            text => figure(text.trim_end_matches('m').trim_end()),
        };
        match height.map(Altitude::of) {
            Some(Ok(at)) => new.altitude = at.metres,
            _ => {
                let words = "Write metres above the sea, from 0 to 6000: 5,000 feet are 1524.";
                self.troubles.push(("altitude", words.to_owned()));
            }
        }
        match self.keep.parse::<u32>() {
            Ok(n) if (1..=365).contains(&n) => new.backups_keep = n,
            _ => {
                let words = "Keep from 1 to 365 backups: write a whole number.";
                self.troubles.push(("keep", words.to_owned()));
            }
        }
        if let (true, Ok(n)) = (OFTEN.iter().any(|r| r.0 == self.often), self.often.parse()) {
            new.backup_hours = n;
        }
        new
    }

    /// What days are planned with.
    fn plan(&mut self, new: &mut Settings) {
        // A field that was not sent, or is left empty, stays as it was.
        for (count, text) in COUNTS.iter().zip(&self.counts) {
            if text.trim().is_empty() {
                continue;
            }
            match text.trim().parse::<u32>() {
                Ok(n) if (count.least..=count.most).contains(&n) => {
                    (count.put)(new, n);
                }
                _ => {
                    let words = format!(
                        "{}: write a whole number from {} to {}.",
                        count.words, count.least, count.most
                    );
                    self.troubles.push((count.id, words));
                }
            }
        }
        match Night::read(&self.quiet) {
            Ok(_) if self.quiet.trim().is_empty() => {}
            Ok(night) => new.quiet = night.words(),
            Err(words) => self
                .troubles
                .push(("quiet", format!("Quiet hours: {words}."))),
        }
    }

    /// The label law: as chosen by hand; else the country's own where its measures are chosen for
    /// the first time; else as it was.
    fn law(&self, before: &Settings, new: &mut Settings) {
        let usual = Settings::default();
        // Kitchens of before this was kept: what is not the first value was chosen.
        let set =
            before.regime_set || (&before.locale, &before.regime) != (&usual.locale, &usual.regime);
        match Regime::from_word(&self.regime) {
            Some(law) if law.word() != before.regime => choose(new, law),
            _ if !set && new.locale != before.locale => choose(new, Regime::usual(locale(new))),
            _ => {}
        }
    }

    fn trouble(&self, field: &str) -> Option<&str> {
        let found = self.troubles.iter().find(|t| t.0 == field);
        found.map(|t| t.1.as_str())
    }
}

fn choose(settings: &mut Settings, law: Regime) {
    law.word().clone_into(&mut settings.regime);
    settings.regime_set = true;
}

/// The law in force, and that of the kitchen's measures where it is another.
fn laws(settings: &Settings) -> (Regime, Option<Regime>) {
    let now = Regime::from_word(&settings.regime).unwrap_or(Regime::Us);
    let usual = Regime::usual(locale(settings));
    (now, Some(usual).filter(|u| *u != now))
}

/// What was kept, in words.
pub fn saved(settings: &Settings, with_law: bool) -> String {
    let law = laws(settings).0.name();
    if with_law {
        format!("Saved. With these measures, allergens go by the law of: {law}.")
    } else {
        "Saved.".to_owned()
    }
}

/// The law of the kitchen's measures for one press, where another is in force.
pub fn offer(app: &App, settings: &Settings) -> Markup {
    let (now, other) = laws(settings);
    let measures = LOCALES.iter().find(|l| l.0 == locale(settings).key());
    html! {
        @if let (Some(law), Some((_, measures))) = (other, measures) {
            form.next method="post" action="/kitchen/law" {
                (page::seal(app))
                span { "Your measures are " (measures) "; allergens go by the law of: " (now.name()) "." }
                button.small name="regime" value=(law.word()) { "Go by that of: " (law.name()) }
            }
        }
    }
}

/// The currency of a kitchen's country.
fn usual_currency(settings: &Settings) -> &'static str {
    match locale(settings) {
        Locale::Us => "USD",
        Locale::Uk => "GBP",
        Locale::Au => "AUD",
        Locale::Metric => "EUR",
    }
}

/// The currency of the kitchen's measures for one press, where prices are still in the first one.
/// Prices already kept stay in theirs.
pub fn offer_currency(app: &App, settings: &Settings) -> Markup {
    let usual = usual_currency(settings);
    let first = Settings::default().currency;
    html! {
        @if settings.currency == first && usual != first {
            form.next method="post" action="/kitchen/currency" {
                (page::seal(app))
                span { "New prices are asked in " (first) "." }
                button.small { "Ask them in " (usual) }
            }
        }
    }
}

/// Takes the currency of the kitchen's measures.
pub async fn put_currency(State(app): State<Shared>, _: Post) -> Result<Response, Fault> {
    run(app, move |app| {
        let mut new = app.settings()?.as_ref().clone();
        usual_currency(&new).clone_into(&mut new.currency);
        app.set_settings(&new)?;
        Ok(back_to("/kitchen?saved#last"))
    })
    .await
}

/// Puts a law in force.
pub async fn put_law(State(app): State<Shared>, post: Post) -> Result<Response, Fault> {
    run(app, move |app| {
        let law = Regime::from_word(post.text("regime"));
        let law =
            law.ok_or_else(|| Fault::bad("no label law is called so: choose one of the list"))?;
        let mut new = app.settings()?.as_ref().clone();
        choose(&mut new, law);
        app.set_settings(&new)?;
        Ok(back_to("/kitchen?saved#last"))
    })
    .await
}

/// Keeps what was sent.
pub async fn keep(
    State(app): State<Shared>,
    ConnectInfo(peer): ConnectInfo<SocketAddr>,
    post: Post,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let mut typed = Typed::sent(&post);
        // The boxes that were on the page, whatever measures were chosen meanwhile.
        let shown: Vec<String> = post.all("shown").into_iter().map(str::to_owned).collect();
        let before = app.settings()?;
        let new = typed.settings(&before, &shown);
        if !typed.troubles.is_empty() {
            let page = whole(app, is_here(peer), &typed, None, None)?;
            return Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response());
        }
        app.set_settings(&new)?;
        // Said where it was not asked for.
        Ok(back_to(
            if new.regime != before.regime && new.regime != typed.regime {
                "/kitchen?saved-law#last"
            } else {
                "/kitchen?saved#last"
            },
        ))
    })
    .await
}

/// Puts the settings back as they were before the last change; the same again redoes it.
pub async fn undo(
    State(app): State<Shared>,
    ConnectInfo(peer): ConnectInfo<SocketAddr>,
    post: Post,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let now = app.settings()?;
        let before = app.kitchen.settings_before()?;
        match before.filter(|b| changes(b, &now).join("; ") == post.text("what")) {
            Some(before) => {
                app.set_settings(&before)?;
                Ok(back_to("/kitchen?undone#last"))
            }
            None => {
                let words =
                    "The settings were changed in another window. This is how they stand now.";
                let told = html! { p.trouble role="alert" { (words) } };
                let page = whole(app, is_here(peer), &Typed::of(&now), None, Some(&told))?;
                Ok((StatusCode::CONFLICT, page).into_response())
            }
        }
    })
    .await
}

/// What the last change of the settings changed, with its undo.
pub fn last(app: &App) -> Result<Markup, Fault> {
    let Some(before) = app.kitchen.settings_before()? else {
        return Ok(html! {});
    };
    let what = changes(&before, &*app.settings()?);
    if what.is_empty() {
        return Ok(html! {});
    }
    Ok(html! {
        form.next #last tabindex="-1" method="post" action="/kitchen/undo" {
            (page::seal(app))
            input type="hidden" name="what" value=(what.join("; "));
            span { "Changed last: " (what.join("; ")) "." }
            button.small { "Undo" }
        }
    })
}

/// What differs between two states of the settings: a field and its values each.
fn changes(before: &Settings, after: &Settings) -> Vec<String> {
    let (a, b) = (Typed::of(before), Typed::of(after));
    let regime =
        |word: &str| Regime::from_word(word).map_or(word.to_owned(), |r| r.name().to_owned());
    let mut out = Vec::new();
    let mut step = |what: &str, x: &str, y: &str| {
        let say = |v: &str| if v.is_empty() { "nothing" } else { v }.to_owned();
        if x != y {
            out.push(format!("{what}: {} → {}", say(x), say(y)));
        }
    };
    step("kitchen", &a.kitchen, &b.kitchen);
    step("you", &a.baker, &b.baker);
    step(
        "cups and spoons",
        in_words(&LOCALES, &a.locale),
        in_words(&LOCALES, &b.locale),
    );
    step(
        "allergens by the law of",
        &regime(&a.regime),
        &regime(&b.regime),
    );
    step("currency", &a.currency, &b.currency);
    step(
        "scale",
        in_words(&STEPS, &a.step),
        in_words(&STEPS, &b.step),
    );
    step(
        "fine scale",
        in_words(&FINE, &a.fine),
        in_words(&FINE, &b.fine),
    );
    step("oven", in_words(&OVENS, &a.oven), in_words(&OVENS, &b.oven));
    step("note on the oven", &a.oven_note, &b.oven_note);
    step("metres above the sea", &a.altitude, &b.altitude);
    step("pans", &before.pans.join(", "), &after.pans.join(", "));
    for (count, (x, y)) in COUNTS.iter().zip(a.counts.iter().zip(&b.counts)) {
        step(&count.words.to_lowercase(), x, y);
    }
    step("quiet hours", &a.quiet, &b.quiet);
    step(
        "colours",
        in_words(&THEMES, &a.theme),
        in_words(&THEMES, &b.theme),
    );
    step(
        "backups",
        in_words(&OFTEN, &a.often),
        in_words(&OFTEN, &b.often),
    );
    step("backups kept", &a.keep, &b.keep);
    for (what, from, to) in [
        ("into the drawer", &a.scoops, &b.scoops),
        ("out of the drawer", &b.scoops, &a.scoops),
    ] {
        let moved: Vec<&str> = to
            .iter()
            .filter(|s| !from.contains(s))
            .map(String::as_str)
            .collect();
        if !moved.is_empty() {
            out.push(format!("{what}: {}", moved.join(", ")));
        }
    }
    out
}

/// The words of a choice; itself where it is not offered.
fn in_words<'a>(rows: &[(&'a str, &'a str)], now: &'a str) -> &'a str {
    rows.iter().find(|r| r.0 == now).map_or(now, |r| r.1)
}

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
    let regimes = [Regime::Eu, Regime::Us, Regime::Ca, Regime::Anz];
    let regimes: Vec<(&str, &str)> = regimes.iter().map(|r| (r.word(), r.name())).collect();
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
                            label.tick { input type="checkbox" name="scoop" value=(s) checked[typed.scoops.contains(s)]; (s) }
                            input type="hidden" name="shown" value=(s);
                        }
                    }
                    p.hint { "Recipes are given in these only. What they cannot measure closely enough is given in grams alone." }
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
                fieldset {
                    legend { "Planning" }
                    div.spread.even {
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
