//! The Card page: what is published, as it will print.

use super::read::says;
use super::screen::regime;
use super::{Leaf, Open, change_to, component_name, fields, open};
use crate::show::heat::oven;
use crate::web::app::{App, Shared, run};
use crate::web::bakes::{baked_of, was_made};
use crate::web::bench::Bench;
use crate::web::bench::batch_sheet::{BatchSheet, Line, Part, batch_sheet};
use crate::web::fault::Fault;
use crate::web::kitchen::{ask_law, oven_words, scale, to_law};
use crate::web::page::{self, sentence};
use axum::extract::{Path, State};
use axum::http::header;
use axum::response::{IntoResponse, Response};
use card::CardOptions;
use maud::{Markup, html};
use quantity::{Locale, Temperature, degrees_in, listed};
use recipe::plan::{Deeds, InNotes, LeftToPage, span_words, tasks};
use recipe::sheet::{Change, Sheet, Worked};
use recipe::size::Ask;
use recipe::{FactKind, Heat};

/// The page's body.
pub fn body(app: &App, o: &Open, w: &Worked) -> Result<Markup, Fault> {
    let ovens = ovens(o, w);
    let others = bakes_of(app, o, w)?;
    let left = o.standing().to_check();
    Ok(html! {
        section.sheet {
            h2 { "The card" }
            @if !w.batch.is_plain() {
                p { "For readers it is made out for × " (recipe::size::times(w.batch.factor)) " of the recipe, asked for: " (w.batch.asked) ". " a href=(o.at(Leaf::Size)) { "Change the size" } }
                (written_for(app, o, w))
            }
            @if left > 0 {
                p.trouble { (left) @if left == 1 { " thing is" } @else { " things are" } " still to be looked at; the card says so where it matters." }
            }
            @if o.bakes == 0 { p { "Not baked yet: the card calls it an untested conversion." } }
            @else if others.len() as u32 >= o.bakes { p { "Not baked yet as it stands now: the card says of what the bakes were." } }
            (super::versions::since(o))
            p.hint { "The first part is for readers, in your own words and measures; the second, printed on pages of its own, is for you. The steps of the source are never printed: write yours below." }
            @if !ovens.is_empty() || !o.settings.oven_note.is_empty() {
                p { "Your oven: " @for (i, words) in ovens.iter().enumerate() { @if i > 0 { "; " } (words) } @if !ovens.is_empty() { "." }
                    @if !o.settings.oven_note.is_empty() { " " (page::sentence(&o.settings.oven_note)) } }
            }
            p.hint { "Allergens as listed in: " (regime(o).name()) ". " (to_law()) }
            (ask_law(app, &o.settings, regime(o), &o.at(Leaf::Card)))
            div.row {
                a.button.do href={ "/recipe/" (o.row.id) "/card.html?print=readers" } { "Open to print" }
                a.button href={ "/recipe/" (o.row.id) "/card.html?print=both" } { "Print with the developer’s sheet" }
                a.button href={ "/recipe/" (o.row.id) "/card.html?keep" } download { "Keep as a file" }
                a.button.plain href={ "/recipe/" (o.row.id) "/figures.json" } download { "All figures as JSON" }
            }
        }
        div.spread.even {
            section.sheet aria-labelledby="own-h" {
                h2 #own-h { "Your words on it" }
                (method_form(app, o, w))
                (line_form(app, o, &CREDIT, o.draft.sheet.credit.as_deref(), w.formula.recipe.source.words()))
                (line_form(app, o, &MAKES, o.draft.sheet.makes.as_deref(), w.formula.recipe.makes.as_ref().map(|m| m.text.clone())))
                @if w.batch.factor.is_normal() && (w.batch.factor - 1.0).abs() > 1e-9 {
                    p.hint data-k="makes-at" { "‘Makes’ is of the recipe at × 1. The card is for × " (recipe::size::times(w.batch.factor)) ", and counts it up or down." }
                }
                (keeping_form(app, o, w))
            }
            (beside(w, o.home()))
        }
        // Always at the same address, so that a change moves nothing in it: `card.js` brings the newest.
        iframe.card data-k="card" src={ "/recipe/" (o.row.id) "/card.html" } title={ "The card of " (o.title()) } {}
    })
}

/// For what size and tin the method is written, and the baker's answer that it suits the one that is made.
fn written_for(app: &App, o: &Open, w: &Worked) -> Markup {
    let sheet = &o.draft.sheet;
    let own = sheet.method.as_deref().unwrap_or_default();
    let Some(words) = card::written_for(own, &w.batch, &w.rework) else {
        return html! {};
    };
    let suits = sheet.method_suits_size();
    let size = sheet.size.clone().filter(|_| !suits);
    let change = serde_json::to_string(&Change::MethodSuits { size }).unwrap_or_default();
    html! {
        @if suits { p data-k="written-for" { "You said that the words of your method suit this size." } }
        @else { p data-k="written-for" { (words) @if !own.trim().is_empty() { " The card says so, too, until your words suit this size." } } }
        @if !own.trim().is_empty() {
            form method="post" action=(change_to(o)) data-live data-k="method-suits" {
                (fields(app, o, Leaf::Card))
                p { button.small #method-suits name="change" value=(change) { @if suits { "Say it again on the card" } @else { "My words suit this size" } } }
            }
        }
    }
}

/// Whether two plans weigh the same: the same lines, each within half a percent.
fn weighs_as(a: &BatchSheet, b: &BatchSheet) -> bool {
    fn lines(a: &[Line], b: &[Line]) -> bool {
        a.len() == b.len()
            && a.iter().zip(b).all(|(a, b)| {
                let grams = |l: &Line| l.exact.or(l.grams);
                let close = match (grams(a), grams(b)) {
                    (Some(x), Some(y)) => (x - y).abs() <= (0.005 * x.max(y)).max(0.05),
                    (x, y) => x == y,
                };
                let parts = a.parts.is_empty() || b.parts.is_empty() || lines(&a.parts, &b.parts);
                a.name == b.name && close && parts
            })
    }
    // At the bench they stand as the hours of that batch begin them.
    let same = |a: &Part| {
        let mut of_b = b.components.iter();
        of_b.any(|b| a.name == b.name && lines(&a.lines, &b.lines))
    };
    a.components.len() == b.components.len() && a.components.iter().all(same)
}

/// Whether a batch that was made so weighs as a sheet does, worked, in the size it was made in.
pub fn is_of(o: &Open, (w, sheet): (&Worked, &Sheet), then: &BatchSheet, factor: f64) -> bool {
    let larder = &o.pantry.larder;
    let ask = then.size.clone().unwrap_or_else(|| Ask::times(factor));
    w.batch_at(&ask, larder).is_ok_and(|sized| {
        let now = batch_sheet(w, sheet, larder, &o.settings, &sized);
        weighs_as(then, &now)
    })
}

/// What the bakes on record were bakes of, for those with other figures than now: 'version 1'.
fn bakes_of(app: &App, o: &Open, w: &Worked) -> Result<Vec<String>, Fault> {
    let mut out = Vec::new();
    for batch in app.kitchen.batches_of(o.row.id)? {
        if !was_made(&batch) {
            continue;
        }
        let bench = Bench::of(batch)?;
        let same = is_of(o, (w, &o.draft.sheet), &bench.plan, bench.batch.factor);
        if same {
            continue;
        }
        // As the record of the bake has it: a version that weighs the same counts.
        out.push(match baked_of(app, o, &bench)?.number() {
            Some(v) if o.draft.saved_as == Some(v) => format!("version {v} with other figures"),
            Some(v) => format!("version {v}"),
            None => "an unsaved draft".to_owned(),
        });
    }
    Ok(out)
}

/// The method, and what in it stands in the source.
fn method_form(app: &App, o: &Open, w: &Worked) -> Markup {
    let own = o.draft.sheet.method.as_deref().unwrap_or_default();
    let theirs: Vec<&str> = steps(w).map(|s| s.text.as_str()).collect();
    let borrowed = card::borrowed(own, &theirs);
    let notes = in_notes(w, &o.draft.sheet, o.home());
    let begin = Change::Method {
        text: Some(notes.join("\n")),
    };
    let begin = serde_json::to_string(&begin).unwrap_or_default();
    html! {
        @if own.is_empty() && !notes.is_empty() {
            form method="post" action=(change_to(o)) data-live data-k="begin-method" {
                (fields(app, o, Leaf::Card))
                p { button name="change" value=(begin) { "Begin with the steps in note form" } }
                p.hint { "A list of what is done, as reworked, with none of the source's words: write each in yours." }
            }
        }
        form method="post" action=(change_to(o)) data-live data-k="method" {
            (fields(app, o, Leaf::Card))
            (says(&Change::Method { text: None }))
            label for="method" { "Your method, in your own words" }
            textarea.tall #method name="value" rows="14" aria-describedby="method-hint" data-typed data-empties { (own) }
            p.hint #method-hint { "One step a line; the card numbers them. A short line that ends in a colon is a heading." }
            noscript { p { button { "Keep the method" } } }
        }
        @if let Some(words) = no_oven(w, &o.draft.sheet, o.home()) { p.trouble data-k="oven" { (words) } }
        @let planned = tasks(w, &o.draft.sheet, 1.0);
        @let missing = InNotes::of(&planned, &w.rework).not_named(own);
        @if !missing.is_empty() { p.trouble data-k="not-named" { "The method does not say when these go in: " (listed(&missing)) "." } }
        @if planned.own_method { (left_to_page(&planned.left_to_page)) }
        @for words in planned.unsaid.values() { p.trouble data-k={ "no-step " (words) } { (words) } }
        @let unsaid = card::left_unsaid(own, &w.rework);
        @if !unsaid.is_empty() {
            div.trouble data-k="unsaid" {
                p { "Not in your method, so the card says it under Cautions:" }
                ul { @for words in unsaid { li { (words) } } }
            }
        }
        (in_source("borrowed", &borrowed))
    }
}

/// That the own method names no oven heat, in this kitchen's degrees.
fn no_oven(w: &Worked, sheet: &Sheet, home: Locale) -> Option<String> {
    let own = sheet.method.as_deref().unwrap_or_default();
    let words = card::names_no_oven(own, &w.rework)?;
    Some(degrees_in(&words, home))
}

/// The tasks of the rework as notes, in the order of the method, each stretch of a part under its name: 'Rise,
/// 45 to 60 min'.
fn in_notes(w: &Worked, sheet: &Sheet, home: Locale) -> Vec<String> {
    let tasks = tasks(w, sheet, 1.0);
    let notes = InNotes::of(&tasks, &w.rework);
    let mut out = Vec::new();
    let mut of: Option<&str> = None;
    for t in tasks.as_noted() {
        let deeds = notes.deeds(t);
        if deeds == Deeds::default() && t.wait.is_none() {
            continue;
        }
        // The oven is heated for whatever goes in.
        if of != Some(&*t.of) && !t.of.is_empty() && t.what != "preheat" {
            out.push(format!("{}:", component_name(&t.of)));
            of = Some(&t.of);
        }
        out.extend(deeds.first.iter().map(|d| page::capital(d)));
        if let Some(name) = deeds.name {
            out.push(name);
        } else {
            let mut note = t.name.clone();
            if let Some(wait) = &t.wait {
                note = format!("{note}, {}", span_words(wait.span));
                if let Some(c) = wait.oven {
                    let at = oven(Temperature::celsius(c));
                    note = format!("{note}, at {}", degrees_in(&at, home));
                }
            }
            out.push(note);
        }
        out.extend(deeds.then.iter().map(|d| page::capital(d)));
    }
    out
}

/// That words of one's own stand in the source.
fn in_source(k: &str, borrowed: &[&str]) -> Markup {
    html! {
        @if !borrowed.is_empty() {
            p.trouble role="status" data-k=(k) {
                "These words stand in the source: "
                @for (i, words) in borrowed.iter().enumerate() {
                    @if i > 0 { "; " }
                    q { (words.split_whitespace().collect::<Vec<_>>().join(" ")) }
                }
                ". Say it your way."
            }
        }
    }
}

/// How it keeps, in one's own words, beside what the source says of it.
fn keeping_form(app: &App, o: &Open, w: &Worked) -> Markup {
    let own = o.draft.sheet.keeping.as_deref().unwrap_or_default();
    let theirs = recipe::keeping::said(&w.formula.recipe);
    html! {
        form method="post" action=(change_to(o)) data-live data-k="keeping" {
            (fields(app, o, Leaf::Card))
            (says(&Change::Keeping { text: None }))
            label for="keeping" { "How it keeps" }
            input.wide #keeping name="value" value=(own) aria-describedby="keeping-hint" data-typed data-empties;
            p.hint #keeping-hint {
                "Such as: two days wrapped, then toasted. "
                @if theirs.is_empty() { "Nothing is printed while it is empty." }
                @else { "For your eyes, said of the wheat bake: " @for (i, s) in theirs.iter().enumerate() { @if i > 0 { "; " } q { (s) } } ". Write what yours does; theirs is never printed." }
            }
            noscript { p { button.small { "Keep it" } } }
        }
        (in_source("keeping-borrowed", &card::worded_alike(own, &recipe::keeping::told(&w.formula.recipe))))
    }
}

/// A field of one line that stands over what was read.
struct Field {
    k: &'static str,
    label: &'static str,
    hint: &'static str,
    change: Change,
}

const CREDIT: Field = Field {
    k: "credit",
    label: "Credit",
    hint: "Whom to thank.",
    change: Change::Credit { text: None },
};

const MAKES: Field = Field {
    k: "makes",
    label: "What it makes, printed on the card",
    hint: "Pieces or servings of the recipe once, such as: Makes 12 buns.",
    change: Change::Makes { text: None },
};

fn line_form(app: &App, o: &Open, f: &Field, own: Option<&str>, read: Option<String>) -> Markup {
    let hint = format!("{}-hint", f.k);
    // With words of one's own the recipe has those: what the text says is on the Read page.
    let read = read.filter(|_| own.is_none());
    html! {
        form method="post" action=(change_to(o)) data-live data-k=(f.k) {
            (fields(app, o, Leaf::Card))
            (says(&f.change))
            label for=(f.k) { (f.label) }
            input.wide id=(f.k) name="value" value=(own.unwrap_or_default()) aria-describedby=(hint) data-typed data-empties;
            p.hint id=(hint) {
                (f.hint) " "
                @if own.is_some() { "Empty it to go by the text again." }
                @else if let Some(read) = &read { "As read: " (sentence(read)) }
                @else { "The text does not say." }
            }
            noscript { p { button.small { "Keep it" } } }
        }
    }
}

/// The source's steps, taken-in recipes' too.
fn steps(w: &Worked) -> impl Iterator<Item = &recipe::Step> {
    w.formula.recipe.steps.iter()
}

/// What to do differently and, folded, the source's method: in sight while one's own is written.
fn beside(w: &Worked, home: Locale) -> Markup {
    let recipe = &w.formula.recipe;
    let many = w.rework.components.len() > 1;
    let noted = || {
        w.rework
            .components
            .iter()
            .filter(|c| !c.method_notes.is_empty())
    };
    html! {
        section.sheet aria-labelledby="notes-h" {
            h2 #notes-h { "What to do differently" }
            @if noted().next().is_none() { p { "Nothing is noted for this recipe." } }
            @for c in noted() {
                @if many { h3.part { (component_name(&c.name)) } }
                ul { @for n in card::notes(c, recipe) { li { (quantity::scales_of(&n, home)) } } }
            }
            @if steps(w).next().is_some() {
                details data-k="theirs" {
                    summary { "Their method, for your eyes: do not copy its wording" }
                    ol {
                        @for s in steps(w) {
                            @let (number, of) = recipe.step_in_method(s.number);
                            @let label = recipe.step_label(s.number);
                            li value=[label.parse::<usize>().ok()] style=[label.parse::<usize>().is_err().then_some("list-style: none")] {
                                @if let Some(of) = of && number == 1 { em { "From ‘" (of) "’. " } }
                                (s.text)
                            }
                        }
                    }
                }
            }
        }
    }
}

/// What the plan, which is read from the baker's own method, takes from the page's, and what it has not.
pub(super) fn left_to_page(left: &LeftToPage) -> Markup {
    html! {
        p.hint data-k="planned" { "The plan is read from your method." }
        @if !left.taken.is_empty() {
            div.hint data-k="no-time" {
                p { "Your words say no time for these; the plan takes it from the step they stand for:" }
                ul { @for words in &left.taken { li { (words) } } }
            }
        }
        @if !left.lost.is_empty() {
            div.trouble data-k="lost" {
                p { "The method that was read has these, and your words have not, so the plan has not either. Write a step for each that is done:" }
                ul { @for words in &left.lost { li { (words) } } }
            }
        }
    }
}

/// The oven temperatures of the baker's own method, else of the source's, in the kitchen's own oven:
/// '180 °C (350 °F) is in your fan oven 160 °C (320 °F)'.
fn ovens(o: &Open, w: &Worked) -> Vec<String> {
    let mut out = Vec::new();
    let own = recipe::own_method::steps(o.draft.sheet.method.as_deref().unwrap_or_default());
    let own = own.iter().flat_map(|s| &s.steps);
    let own: Vec<recipe::Step> = own.map(|text| recipe::read::step(1, text, None)).collect();
    let theirs = &w.formula.recipe.steps;
    let steps = if own.is_empty() { theirs } else { &own };
    for fact in steps.iter().flat_map(|s| &s.facts) {
        let FactKind::Temperature {
            value,
            of: Heat::Oven,
        } = &fact.kind
        else {
            continue;
        };
        let celsius = value.likely().as_celsius();
        if let Some(words) = oven_words(&o.settings, celsius) {
            let words = format!("{} is {words}", oven(value.likely()));
            let words = degrees_in(&words, o.home());
            if !out.contains(&words) {
                out.push(words);
            }
        }
    }
    out
}

/// Who reworked what the card shows: of a saved version who saved it, of a draft who bakes here.
fn writer(app: &App, o: &Open) -> Result<Option<String>, Fault> {
    let versions = match o.draft.saved_as {
        Some(_) => app.kitchen.versions(o.row.id)?,
        None => Vec::new(),
    };
    let saved = versions
        .into_iter()
        .find(|v| Some(v.number) == o.draft.saved_as);
    let who = saved.map_or_else(|| o.settings.baker.clone(), |v| v.who);
    Ok(Some(who).filter(|w| !w.is_empty()))
}

/// The options a kitchen's card is made with.
fn options(app: &App, o: &Open, w: &Worked) -> Result<CardOptions, Fault> {
    Ok(CardOptions {
        locale: o.draft.sheet.locale(),
        drawer: Some(o.drawer()),
        home: Some(o.home()),
        scale: scale(&o.settings),
        regime: regime(o),
        today: Some(page::day(app.now())),
        writer: writer(app, o)?,
        url: None,
        bakes: o.bakes,
        bakes_of: bakes_of(app, o, w)?,
        makes: o.draft.sheet.makes.clone(),
        keeping: o.draft.sheet.keeping.clone(),
        batch: Some(w.batch.clone()).filter(|b| !b.is_plain()),
        method: o.draft.sheet.method.clone(),
        method_suits: o.draft.sheet.method_suits_size(),
        no_step: tasks(w, &o.draft.sheet, 1.0).unsaid,
        readers_only: false,
    })
}

/// The card itself; `?keep` to keep it as a file with its style inside.
pub async fn file(
    State(app): State<Shared>,
    Path(id): Path<i64>,
    query: axum::extract::RawQuery,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let o = open(app, id)?;
        let w = o
            .worked()
            .map_err(|e| Fault::bad(format!("{e}\n  mend the text on the Read page first")))?;
        let keep = query.0.as_deref() == Some("keep");
        let print = Print::of(query.0.as_deref().unwrap_or_default());
        let larder = &o.pantry.larder;
        let options = CardOptions {
            readers_only: print == Some(Print::Readers),
            ..options(app, &o, w)?
        };
        let kind = (header::CONTENT_TYPE, "text/html; charset=utf-8".to_owned());
        if keep {
            let name = file_name(o.title());
            let page = card::html(&w.rework, &w.rework_screening, larder, &options);
            let page = page::marked_card(app, page)?;
            return Ok((
                [
                    kind,
                    (
                        header::CONTENT_DISPOSITION,
                        format!("attachment; filename=\"{name}.html\""),
                    ),
                ],
                page,
            )
                .into_response());
        }
        let page = card::html_with(
            &w.rework,
            &w.rework_screening,
            larder,
            &options,
            card::Look::Linked("/assets/card.css"),
        );
        let mut page = page::marked_card(app, page)?;
        if let Some(print) = print {
            let bar = print.bar(&o).into_string();
            page = page.replacen("<body>", &format!("<body>{bar}"), 1);
        }
        Ok(([kind], page).into_response())
    })
    .await
}

/// What is opened to print.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Print {
    /// The reader's sheet alone.
    Readers,
    /// The developer's with it.
    Both,
}

impl Print {
    /// What an address asks for; nothing where the card is shown or kept.
    fn of(query: &str) -> Option<Self> {
        match form_urlencoded::parse(query.as_bytes())
            .find(|q| q.0 == "print")?
            .1
            .as_ref()
        {
            "both" => Some(Self::Both),
            _ => Some(Self::Readers),
        }
    }

    /// The bar over the card, which is not printed.
    fn bar(self, o: &Open) -> Markup {
        let at = |print: &str| format!("/recipe/{}/card.html?print={print}", o.row.id);
        let now = |is: Self| (self == is).then_some("page");
        html! {
            link rel="stylesheet" href="/assets/print-bar.css";
            script type="module" src="/assets/print-bar.js" {}
            nav.print-bar aria-label="Printing" {
                a href=(o.at(Leaf::Card)) { "‹ Back to Card" }
                span {
                    a href=(at("readers")) aria-current=[now(Self::Readers)] { "For readers" }
                    a href=(at("both")) aria-current=[now(Self::Both)] { "With the developer’s sheet" }
                }
                button #print type="button" hidden { "Print" }
                noscript { "Print with your browser’s own menu." }
            }
        }
    }
}

/// All figures, as `unwheat rework --json` prints them.
pub async fn json(State(app): State<Shared>, Path(id): Path<i64>) -> Result<Response, Fault> {
    run(app, move |app| {
        let o = open(app, id)?;
        let w = o
            .worked()
            .map_err(|e| Fault::bad(format!("{e}\n  mend the text on the Read page first")))?;
        let out = crate::show::json::rework(
            &w.rework,
            &w.screening,
            &w.rework_screening,
            &o.pantry.larder,
            o.draft.sheet.locale(),
        );
        let name = format!("attachment; filename=\"{}.json\"", file_name(o.title()));
        Ok((
            [
                (header::CONTENT_TYPE, "application/json".to_owned()),
                (header::CONTENT_DISPOSITION, name),
            ],
            serde_json::to_string_pretty(&out).map_err(Fault::inside)?,
        )
            .into_response())
    })
    .await
}

/// A title as a file's name: letters, digits and strokes.
pub fn file_name(title: &str) -> String {
    let mut out = String::new();
    for c in title.chars() {
        if c.is_ascii_alphanumeric() {
            out.push(c.to_ascii_lowercase());
        } else if !out.ends_with('-') && !out.is_empty() {
            out.push('-');
        }
    }
    let out = out.trim_matches('-');
    if out.is_empty() {
        "recipe".to_owned()
    } else {
        out.chars().take(60).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 160 to 170 °C are 325 to 340 °F on a dial.
    #[test]
    fn an_oven_that_is_not_named_is_told_in_the_kitchens_degrees() {
        let text = "Tea cake\n\n200 g plain flour\n100 g butter\n100 g sugar\n2 eggs\n\n1. Mix.\n2. Bake at 170 °C for 35 minutes.\n";
        let larder = larder::Larder::built_in().expect("the built-in tables");
        let said = |locale| {
            let mut sheet = Sheet::new(text, locale);
            sheet.method = Some("Mix all.\nBake until done.".to_owned());
            let w = recipe::sheet::work(&sheet, &[], &larder, &[]).expect("a recipe");
            no_oven(&w, &sheet, locale).expect("no heat is named")
        };
        let us = said(Locale::Us);
        assert!(us.contains("325 °F / 160 °C to 340 °F / 170 °C"), "{us}");
        let uk = said(Locale::Uk);
        assert!(
            uk.contains("160 °C to 170 °C") && !uk.contains("°F"),
            "{uk}"
        );
    }

    /// As a baker does them: the filling before the pie it goes into, the oven before the egg wash that the bake
    /// waits for, and every cut, knot and dusting of the method among them.
    #[test]
    fn notes_stand_in_the_order_of_the_work_and_leave_no_handwork_out() {
        let larder = larder::Larder::built_in().expect("the built-in tables");
        let notes = |text: &str| {
            let sheet = Sheet::new(text, Locale::Uk);
            let w = recipe::sheet::work(&sheet, &[], &larder, &[]).expect("a recipe");
            in_notes(&w, &sheet, Locale::Uk)
        };
        let at = |notes: &[String], words: &str| {
            let found = notes.iter().position(|n| n.starts_with(words));
            found.unwrap_or_else(|| panic!("no {words}: {notes:?}"))
        };
        let pie = notes(
            "Leek pasties\n\nPastry\n300 g plain flour\n150 g butter\n4 tbsp cold water\n\nFilling\n3 leeks\n40 g butter\n100 ml double cream\n\nEgg wash\n1 egg\n\n1. Rub the butter into the flour, add the water and bring together. Chill for 1 hour.\n2. Melt the butter, soften the leeks for 15 minutes and stir in the cream. Cool completely.\n3. Roll out the pastry, cut six rounds, fill and crimp.\n4. Brush with the egg wash and bake at 200C for 30 minutes. Cool for 20 minutes, then slice.\n",
        );
        assert!(
            at(&pie, "Melt unsalted butter; soften leek") < at(&pie, "Roll out pastry; cut; fill"),
            "{pie:?}"
        );
        assert!(
            at(&pie, "Heat the oven") < at(&pie, "Brush with egg wash"),
            "{pie:?}"
        );
        assert!(
            at(&pie, "Brush with egg wash") < at(&pie, "Bake"),
            "{pie:?}"
        );
        assert!(at(&pie, "Cool, 20") < at(&pie, "Slice"), "{pie:?}");
        let knots = notes(
            "Seed knots\n\n500 g strong white flour\n7 g instant yeast\n10 g salt\n320 ml water\n\n1. Mix and knead for 10 minutes. Rise for 1 hour.\n2. Divide into 10, roll each to a rope and tie a knot. Prove for 45 minutes.\n3. Dust with rice flour, slash the tops and bake at 220C for 18 minutes.\n",
        );
        let work = at(&knots, "Divide");
        assert!(
            knots[work].contains("roll") && knots[work].ends_with("tie"),
            "{knots:?}"
        );
        let slash = knots
            .iter()
            .position(|n| n.to_lowercase().contains("slash"));
        assert!(
            slash.is_some() && slash < Some(at(&knots, "Bake")),
            "{knots:?}"
        );
        // It is hot before the last work on what is risen.
        assert!(Some(at(&knots, "Heat the oven")) < slash, "{knots:?}");
        assert!(
            at(&knots, "Rise") < at(&knots, "Heat the oven"),
            "{knots:?}"
        );
    }

    /// By hand: each verb of the steps once, in their order, with the foods that the list has for it; the stout is the
    /// beer that replaces it, the yolk of '1 egg plus 1 yolk' is a line of its own, the counter is not dusted, and the
    /// plums that another part's step takes are not mixed before.
    #[test]
    fn notes_name_every_food_and_leave_no_clause_out() {
        let larder = larder::Larder::built_in().expect("the built-in tables");
        let notes = |text: &str| {
            let sheet = Sheet::new(text, Locale::Uk);
            let w = recipe::sheet::work(&sheet, &[], &larder, &[]).expect("a recipe");
            let notes = in_notes(&w, &sheet, Locale::Uk).join("\n");
            let tasks = tasks(&w, &sheet, 1.0);
            let missing = InNotes::of(&tasks, &w.rework).not_named(&notes);
            assert!(missing.is_empty(), "{missing:?}: {notes}");
            assert!(!notes.contains('…'), "{notes}");
            let less = notes.replace("molasses", "").replace("poppy seeds", "");
            (notes, InNotes::of(&tasks, &w.rework).not_named(&less))
        };
        let (stew, less) = notes(
            "Shin stew with a lid\n\n800g beef shin, in chunks\n2 tbsp plain flour\n3 tbsp sunflower oil\n2 onions, sliced\n2 sticks celery, chopped\n1 tsp mixed spice\n300ml stout\n400ml beef stock\n2 tsp malt extract\n\nToss the beef in the flour. Heat the oil in a pan and brown the meat in batches, about 10 minutes, then lift out. Soften the onions and celery, stir in the mixed spice, then pour in the stout and let it bubble for 2 minutes. Return the meat with the stock and malt extract, bring to a simmer, cover and cook in the oven at 150C for 3 hours.\n",
        );
        for said in [
            "toss stewing beef",
            "brown ",
            "lift out",
            "celery",
            "stir in mixed spice",
            "pour in beer",
            "bubble, ",
            "return ",
            "molasses",
            "bring to a simmer",
        ] {
            assert!(stew.to_lowercase().contains(said), "{said}: {stew}");
        }
        assert_eq!(less, ["molasses"], "{stew}");
        let (kuchen, less) = notes(
            "Plum slab\n\nDough\n350 g plain flour\n50 g sugar\n7 g instant yeast\n180 ml milk\n1 large egg plus 1 yolk\n70 g butter\n\nPoppy custard\n200 g cream cheese\n60 g brown sugar\n30 g poppy seeds\n1 egg\n\nFruit\n700 g plums\n1 tbsp cornflour\n\n1. Stir the flour, sugar and yeast together. Add the milk, egg and yolk and knead with the dough hook for 4 minutes. Add the butter and knead until smooth, 8 minutes.\n2. Let rise until doubled, 1 hour.\n3. Beat the cream cheese and brown sugar until smooth, then beat in the poppy seeds and egg.\n4. Grease a tin. Dust the counter with flour, roll the dough to fit and press it into the tin. Spread with the custard. Toss the plums with the cornflour and set them on top.\n5. Bake at 190C for 40 minutes.\n",
        );
        for said in [
            "egg and egg yolk",
            "beat in poppy seeds and egg",
            "toss plum and",
            "oil the bench",
            "spread with custard",
        ] {
            assert!(kuchen.contains(said), "{said}: {kuchen}");
        }
        assert!(
            !kuchen.to_lowercase().contains("dust") && !kuchen.contains("Fruit:"),
            "{kuchen}"
        );
        assert_eq!(less, ["poppy seeds"], "{kuchen}");
    }

    #[test]
    fn a_bake_with_other_hours_weighs_the_same() {
        let part = |name: &str, grams: f64| Part {
            name: name.to_owned(),
            lines: vec![Line {
                name: "sugar".to_owned(),
                grams: Some(grams),
                ..Line::default()
            }],
            ..Part::default()
        };
        let sheet = |components: Vec<Part>| BatchSheet {
            components,
            ..BatchSheet::default()
        };
        let now = sheet(vec![part("filling", 40.0), part("dough", 60.0)]);
        let then = sheet(vec![part("dough", 60.0), part("filling", 40.0)]);
        assert!(weighs_as(&then, &now));
        let other = sheet(vec![part("dough", 40.0), part("filling", 60.0)]);
        assert!(!weighs_as(&other, &now));
    }
}
