//! The Versions page: what was saved, by whom and why; any two side by side. And the components
//! of other recipes that this one uses, each at the version it was taken in with.

use super::parts::refuse_ring;
use super::{Leaf, Open, component_name, fields, open};
use crate::web::app::{App, Shared, run};
use crate::web::bench::batch_sheet::more_or_less;
use crate::web::fault::Fault;
use crate::web::figures::{Figures, Line, Part, figures};
use crate::web::larder_page::typed::{Typed, signed, unsigned};
use crate::web::page::{self, back_to, capital, moment};
use crate::web::post::Post;
use axum::extract::{Path, State};
use axum::response::Response;
use larder::Larder;
use maud::{Markup, html};
use quantity::{Mass, listed};
use recipe::household::{is_fine, percent, scale_grams, weight};
use recipe::own_method::Differing;
use recipe::rework::style::Style;
use recipe::sheet::{Change, Difference, PartUse, Sheet};
use store::StoreError;

/// The page's body. `form`: what stands in the form that saves, with why it was not taken.
pub fn body(app: &App, o: &Open, form: &Typed) -> Result<Markup, Fault> {
    let mut versions = app.kitchen.versions(o.row.id)?;
    versions.sort_by_key(|v| std::cmp::Reverse(v.number));
    let used = app.kitchen.uses_of(&o.row.uid)?;
    Ok(html! {
        section.sheet aria-labelledby="save" {
            h2 #save { "Save a version" }
            @if let Some(words) = form.trouble("rev") { p.trouble role="alert" { (words) } }
            @if let Some(n) = o.draft.saved_as {
                p { "Nothing has changed since version " (n) "." }
            } @else {
                p.hint { "A version is never changed again. Later ones stand beside it." }
                form method="post" action={ "/recipe/" (o.row.id) "/save" } {
                    (fields(app, o, Leaf::Versions))
                    (signed(form, "Save", &["first conversion", "less milk, dough was slack", "as baked"]))
                }
            }
        }
        section.sheet aria-labelledby="saved" {
            h2 #saved { "Saved" }
            @if versions.is_empty() { p { "No version yet. The draft is kept as you type all the same." } } @else {
                form #work-on method="post" action={ "/recipe/" (o.row.id) "/return" } {
                    (page::seal(app))
                    input type="hidden" name="rev" value=(o.draft.rev);
                }
                form method="get" action={ "/recipe/" (o.row.id) "/compare" } {
                    table.ledger.stack {
                        thead { tr { th scope="col" { "Version" } th scope="col" { "Why" } th scope="col" { "Who and when" } th scope="col" { "Compare" } th scope="col" { span.unseen { "Go back to it" } } } }
                        tbody {
                            @for (i, v) in versions.iter().enumerate() {
                                tr id={ "v" (v.number) } tabindex="-1" {
                                    td.n { (v.number) }
                                    td { (v.why) }
                                    td { (v.who) br; small { (moment(v.at)) } }
                                    td {
                                        label.tick { input type="radio" name="a" value=(v.number) checked[i == versions.len().min(2) - 1]; "from" }
                                        label.tick { input type="radio" name="b" value=(v.number) checked[i == 0 && versions.len() > 1]; "to" }
                                    }
                                    td { button.small form="work-on" name="number" value=(v.number) { "Work on this one" } }
                                }
                            }
                            tr {
                                td { "draft" } td { "as it is now" } td {}
                                td { label.tick { input type="radio" name="b" value="draft" checked[versions.len() == 1]; "to" } }
                                td {}
                            }
                        }
                    }
                    button { "Compare" }
                }
            }
        }
        @if !used.is_empty() {
            section.sheet {
                h2 { "Used in" }
                ul { @for (id, title, version) in used { li { a href={ "/recipe/" (id) "/read" } { (title) } ", version " (version) " of this" } } }
            }
        }
        (bin_form(app, o))
    })
}

fn bin_form(app: &App, o: &Open) -> Markup {
    html! {
        form method="post" action={ "/recipe/" (o.row.id) "/bin" } {
            (page::seal(app))
            @if o.row.binned.is_some() { button name="way" value="out" { "Take it out of the bin" } }
            @else { button.plain name="way" value="in" { "Put this recipe in the bin" } }
        }
    }
}

/// Recipes in the list of those to take in, the newest first.
const MOST_ON_OFFER: u32 = 500;

/// Components of other recipes used here, and the form that takes one in.
pub fn parts(app: &App, o: &Open) -> Result<Markup, Fault> {
    let mut rows = Vec::new();
    for part in &o.draft.sheet.parts {
        rows.push((part, app.kitchen.newest(&part.recipe)?));
    }
    let mut choices = app.kitchen.parts_on_offer(o.row.id, MOST_ON_OFFER)?;
    choices.retain(|c| !o.draft.sheet.parts.iter().any(|p| p.recipe == c.recipe));
    let change = |c: &Change| serde_json::to_string(c).unwrap_or_default();
    Ok(html! {
        section.sheet data-k="parts" aria-labelledby="parts" {
            h2 #parts { "Components of other recipes" }
            @if rows.is_empty() { p.hint { "A base dough or a filling that you use in many places can be a recipe of its own. Taken in here, it stays at the version you take until you move it." } }
            ul {
                @for (part, newest) in rows {
                    li {
                        @match &newest {
                            Some((id, n, title)) => {
                                a href={ "/recipe/" (id) "/versions" } { (title) } ", version " (part.version)
                                @if *n > part.version {
                                    " " span.tag.warn { "version " (n) " exists" } " "
                                    form.inline method="post" action=(super::change_to(o)) data-live data-k={ "part-" (part.recipe) } {
                                        (fields(app, o, Leaf::Read))
                                        button.small name="change" value=(change(&Change::TakePart { part: PartUse { recipe: part.recipe.clone(), version: *n, title: title.clone() } })) { "Move to version " (n) }
                                    }
                                }
                            }
                            None => { (part.title) ", version " (part.version) ": no longer there" }
                        }
                        " "
                        form.inline method="post" action=(super::change_to(o)) data-live data-k={ "leave-" (part.recipe) } {
                            (fields(app, o, Leaf::Read))
                            button.small.plain name="change" value=(change(&Change::LeavePart { recipe: part.recipe.clone() })) { "Take it out" }
                        }
                    }
                }
            }
            @if !choices.is_empty() {
                form.row method="post" action={ "/recipe/" (o.row.id) "/part" } {
                    (fields(app, o, Leaf::Read))
                    div { label for="part" { "Use another recipe in this one" } select #part name="part" aria-describedby="part-hint" { @for c in choices { option value=(c.recipe) { (c.title) ", version " (c.version) } } } }
                    button { "Take it in" }
                    p.hint #part-hint { "Its newest saved version is put in as a part; a line of yours that names it is then weighed by it." }
                }
            }
        }
    })
}

/// Takes in the newest version of another recipe.
pub async fn take_part(
    State(app): State<Shared>,
    Path(id): Path<i64>,
    post: Post,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let o = open(app, id)?;
        let uid = post.text("part").to_owned();
        let (_, version, title) = app
            .kitchen
            .newest(&uid)?
            .ok_or_else(|| Fault::bad("that recipe has no saved version: save one first"))?;
        let part = PartUse {
            recipe: uid,
            version,
            title,
        };
        refuse_ring(app, &o.row, &part)?;
        let change = Change::TakePart { part };
        let mut sheet = o.draft.sheet.clone();
        sheet
            .change(&change)
            .map_err(|e| Fault::bad(e.to_string()))?;
        put(app, &o, &sheet, &change.words(), &change.field())?;
        Ok(back_to(&format!("{}#parts", o.at(Leaf::Read))))
    })
    .await
}

/// Puts a changed sheet into the draft, unless another window was faster.
pub fn put(
    app: &App,
    o: &Open,
    sheet: &recipe::sheet::Sheet,
    words: &str,
    field: &str,
) -> Result<(), Fault> {
    let summary = super::change::summarise(app, o, sheet);
    let put = app.kitchen.put_draft(
        o.row.id,
        o.draft.rev,
        sheet,
        words,
        field,
        false,
        &summary,
        app.now(),
    );
    match put {
        Ok(_) => Ok(()),
        Err(StoreError::Moved { .. }) => Err(Fault::bad(
            "another window changed this recipe just now: load the page again and do it once more",
        )),
        Err(e) => Err(e.into()),
    }
}

/// Saves the draft as a version.
pub async fn save(
    State(app): State<Shared>,
    Path(id): Path<i64>,
    post: Post,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let o = open(app, id)?;
        let mut form = Typed::sent(&post, ["why", "who"]);
        let (why, who) = (post.text("why"), post.text("who"));
        unsigned(&mut form);
        let back = |words: Option<&str>| {
            let mut form = form.clone();
            if let Some(words) = words {
                form.wrong("rev", words);
            }
            let main =
                html! { (super::head(app, &o, Leaf::Versions)) (body(app, &o, &form)?) };
            super::around(app, &o, Leaf::Versions, &main)
        };
        if form.is_wrong() {
            return back(None);
        }
        let Ok(w) = o.worked() else {
            return back(Some(
                "The text cannot be worked with yet: mend it on the Read page, then save.",
            ));
        };
        let given: u64 = post.text("rev").parse().unwrap_or(0);
        if given != o.draft.rev {
            return back(Some(
                "Another window changed this recipe since you opened this page. Look through it, then save.",
            ));
        }
        let snapshot = serde_json::to_value(figures(w, &o.pantry.larder)).map_err(Fault::inside)?;
        let saved = match app.kitchen.save_version(
            id,
            given,
            who,
            why,
            &snapshot,
            env!("CARGO_PKG_VERSION"),
            app.now(),
        ) {
            Ok(number) => number,
            Err(StoreError::Moved { .. }) => {
                return back(Some(
                    "Another window changed this recipe just now. Look through it, then save.",
                ));
            }
            Err(e) => return Err(e.into()),
        };
        app.signed_by(who)?;
        let after = open(app, id)?;
        let summary = super::change::summarise(app, &after, &after.draft.sheet);
        app.kitchen.refresh_summary(id, &summary)?;
        Ok(back_to(&format!("{}#v{saved}", o.at(Leaf::Versions))))
    })
    .await
}

/// Makes a saved version the draft; the draft before can be had back by undo.
pub async fn go_back(
    State(app): State<Shared>,
    Path(id): Path<i64>,
    post: Post,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let o = open(app, id)?;
        let number: u32 = post.text("number").parse().unwrap_or(0);
        let version = app.kitchen.version(id, number)?;
        put(
            app,
            &o,
            &version.sheet,
            &format!("version {number} taken up again"),
            "whole",
        )?;
        Ok(back_to(&o.at(Leaf::Rework)))
    })
    .await
}

/// Into the bin, or out of it.
pub async fn bin(
    State(app): State<Shared>,
    Path(id): Path<i64>,
    post: Post,
) -> Result<Response, Fault> {
    run(app, move |app| {
        if post.text("way") == "out" {
            app.kitchen.unbin_recipe(id, app.now())?;
            Ok(back_to(&format!("/recipe/{id}/read")))
        } else {
            app.kitchen.bin_recipe(id, app.now())?;
            Ok(back_to("/bin"))
        }
    })
    .await
}

/// Two versions, or a version and the draft, line by line.
pub async fn compare(
    State(app): State<Shared>,
    Path(id): Path<i64>,
    query: axum::extract::RawQuery,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let o = open(app, id)?;
        let (mut a, mut b) = (String::new(), String::new());
        for (k, v) in form_urlencoded::parse(query.0.unwrap_or_default().as_bytes()) {
            match &*k {
                "a" => a = v.into_owned(),
                "b" => b = v.into_owned(),
                _ => {}
            }
        }
        let (before, one) = of(app, &o, &a)?;
        let (after, two) = of(app, &o, &b)?;
        let decided = before.differences(&after);
        let main = html! {
            (super::head(app, &o, Leaf::Versions))
            section.sheet {
                h2 { (capital(&name(&a))) " to " (name(&b)) }
                (decisions(&decided))
                h3 { "The figures" }
                @if one.same(&two) { p { "No figure of the formula differs." } }
                (side_by_side(&one, &two, &o.pantry.larder))
                p { a href=(o.at(Leaf::Versions)) { "All versions" } }
            }
        };
        super::around(app, &o, Leaf::Versions, &main)
    })
    .await
}

/// The way from one state to another: a version's number, or 'draft'.
pub fn comparing(o: &Open, a: u32, b: &str) -> String {
    format!("/recipe/{}/compare?a={a}&b={b}", o.row.id)
}

/// A link to what has changed since the version before what stands here, where there is one.
pub fn since(o: &Open) -> Markup {
    let (before, now) = match (o.draft.saved_as, o.draft.based_on) {
        (Some(n), _) => (n.saturating_sub(1), n.to_string()),
        (None, based) => (based.unwrap_or(o.row.versions), "draft".to_owned()),
    };
    html! {
        @if before > 0 { p { a href=(comparing(o, before, &now)) { "What changed since version " (before) } } }
    }
}

fn name(which: &str) -> String {
    if which == "draft" {
        "the draft".to_owned()
    } else {
        format!("version {which}")
    }
}

/// What was decided otherwise, in words.
fn decisions(all: &[Difference]) -> Markup {
    html! {
        h3 { "What was decided" }
        @if all.is_empty() { p { "Both hold the same text and the same decisions." } } @else {
            ul {
                @for d in all {
                    li {
                        (d.name)
                        @match (&d.from, &d.to) {
                            (Some(from), Some(to)) => { ": " (from) " → " b { (to) } },
                            (None, Some(to)) => { ": " b { (to) } },
                            _ => ":",
                        }
                        @if d.to.is_none() { (lines(&d.lines)) }
                    }
                }
            }
        }
    }
}

/// The lines of a text that differ, under their headings.
fn lines(all: &[Differing]) -> Markup {
    let mut parts: Vec<(&Option<String>, Vec<&Differing>)> = Vec::new();
    for line in all {
        match parts.last_mut() {
            Some((heading, lines)) if *heading == &line.heading => lines.push(line),
            _ => parts.push((&line.heading, vec![line])),
        }
    }
    html! {
        @if all.is_empty() { " only its spacing changed" }
        @for (heading, lines) in parts {
            @if let Some(h) = heading { p.hint { (h) ":" } }
            ul.differing {
                @for l in lines {
                    li {
                        @match (&l.was, &l.is) {
                            (Some(was), Some(is)) if was == is => { (is) " " span.tag { "moved here" } }
                            (Some(was), Some(is)) => { (was) " → " b { (is) } }
                            (None, Some(is)) => { b { (is) } " " span.tag { "added" } }
                            (was, _) => { del { (was.as_deref().unwrap_or_default()) } " " span.tag { "taken out" } }
                        }
                    }
                }
            }
        }
    }
}

fn of(app: &App, o: &Open, which: &str) -> Result<(Sheet, Figures), Fault> {
    if which == "draft" {
        let w = o.worked().map_err(|e| Fault::bad(e.to_string()))?;
        return Ok((o.draft.sheet.clone(), figures(w, &o.pantry.larder)));
    }
    let number: u32 = which
        .parse()
        .map_err(|_| Fault::bad("choose two versions to compare"))?;
    let version = app.kitchen.version(o.row.id, number)?;
    let saved: Figures = serde_json::from_value(version.figures).map_err(Fault::inside)?;
    Ok((version.sheet, saved.in_words_of(&o.pantry.larder)))
}

/// Says so when the same sheet gives other figures today than when it was saved: the larder or
/// the program has changed since.
pub fn drift(app: &App, o: &Open) -> Result<Markup, Fault> {
    let (Some(n), Ok(w)) = (o.draft.saved_as, o.worked()) else {
        return Ok(html! {});
    };
    let version = app.kitchen.version(o.row.id, n)?;
    // Versions that came from elsewhere may hold no figures: nothing to compare with.
    let then: Option<Figures> = serde_json::from_value(version.figures).ok();
    let larder = &o.pantry.larder;
    let now = figures(w, larder);
    let drifted = then.filter(|t| !t.same(&now));
    Ok(html! {
        @if let Some(then) = drifted {
            p.trouble {
                "You have changed nothing since version " (n) ", but its figures have changed" (changed(&moves(&then.in_words_of(larder), &now, larder))) ". The larder, a blend or the program is not what it was then. "
                a href={ "/recipe/" (o.row.id) "/compare?a=" (n) "&b=draft" } { "See what changed" }
            }
        }
    })
}

/// What the moves are, behind 'its figures have changed': where none is seen at the digits shown, that.
fn changed(moves: &str) -> String {
    if moves.is_empty() {
        return " by less than is shown".to_owned();
    }
    format!(": {moves}")
}

/// The three largest moves from figures to others: styles, then hydration, then lines by their share.
fn moves(then: &Figures, now: &Figures, larder: &Larder) -> String {
    const TOLD: usize = 3;
    let one = then.components.len().max(now.components.len()) < 2;
    let mut first = Vec::new();
    let mut lines = Vec::new();
    let mut names: Vec<&str> = now.components.iter().map(|c| c.name.as_str()).collect();
    names.extend(
        then.components
            .iter()
            .map(|c| c.name.as_str())
            .filter(|n| now.component(n).is_none()),
    );
    for n in names {
        let (x, y) = (then.component(n), now.component(n));
        let of = |what: &str| match n {
            _ if one => what.to_owned(),
            "" => format!("{what} of the recipe"),
            n => format!("{what} of the {n}"),
        };
        let (Some(p), Some(q)) = (x, y) else {
            first.push(format!(
                "‘{}’ {}",
                component_name(n),
                if x.is_some() { "is gone" } else { "is new" }
            ));
            continue;
        };
        if p.style != q.style {
            first.push(format!(
                "{} from {} to {}",
                of("the style"),
                style(x),
                style(y)
            ));
        }
        if let (Some(a), Some(b)) = (p.hydration, q.hydration)
            && percent(a) != percent(b)
        {
            let (a, b) = (percent(a), percent(b));
            let a = a.trim_end_matches(" %");
            first.push(format!("{} from {a} to {b}", of("the hydration")));
        }
        for line in Figures::lines(x, y).iter().filter(|l| is_seen(l, larder)) {
            let fine = is_fine_line(line, larder);
            let words = match line.grams {
                [Some(_), None] if !q.lines.iter().any(|l| l.0 == line.key) => {
                    format!("{} is left out", of(&line.name))
                }
                [None, Some(h)] if !p.lines.iter().any(|l| l.0 == line.key) => {
                    format!("{} is new ({})", of(&line.name), shown(Some(h), fine))
                }
                [g, h] => format!(
                    "{} from {} to {}",
                    of(&line.name),
                    shown(g, fine),
                    shown(h, fine)
                ),
            };
            let [g, h] = line.grams.map(|g| g.unwrap_or(0.0));
            lines.push(((g - h).abs() / g.max(h).max(f64::MIN_POSITIVE), words));
        }
    }
    lines.sort_by(|a, b| b.0.total_cmp(&a.0));
    first.extend(lines.into_iter().map(|l| l.1));
    let more = first.len().saturating_sub(TOLD);
    first.truncate(TOLD);
    if more > 0 {
        first.push(format!("{more} more"));
    }
    listed(&first)
}

/// Whether a line's food is weighed to a tenth. A key is the food's; a second line of it ends in '#2'.
fn is_fine_line(line: &Line<'_>, larder: &Larder) -> bool {
    let food = larder.by_key(line.key.split('#').next().unwrap_or_default());
    food.is_some_and(|f| is_fine(larder, f))
}

/// Whether a line has moved by what its figures show.
fn is_seen(line: &Line<'_>, larder: &Larder) -> bool {
    let fine = is_fine_line(line, larder);
    let [from, to] = line.grams.map(|g| shown(g, fine));
    from != to
}

/// Grams as the other pages show them.
fn shown(g: Option<f64>, fine: bool) -> String {
    g.map_or("–".to_owned(), |g| weight(Mass::grams(g), fine))
}

/// What lies between two weights as they are shown; nothing where they are shown alike.
fn between(from: f64, to: f64, fine: bool) -> String {
    let seen = |g: f64| scale_grams(Mass::grams(g), fine).parse().unwrap_or(g);
    more_or_less(seen(to) - seen(from))
}

/// The make-up of a component's blend in words.
fn made_of(c: Option<&Part>) -> Option<String> {
    let parts = &c?.made_of;
    let words: Vec<String> = parts.iter().map(|(n, s)| format!("{n} {s} %")).collect();
    (!words.is_empty()).then(|| words.join(", "))
}

fn style(c: Option<&Part>) -> &'static str {
    c.and_then(|c| Style::from_key(c.style.as_deref()?))
        .map_or("none", Style::name)
}

fn side_by_side(a: &Figures, b: &Figures, larder: &Larder) -> Markup {
    let mut names: Vec<&str> = a.components.iter().map(|c| c.name.as_str()).collect();
    for c in &b.components {
        if !names.contains(&c.name.as_str()) {
            names.push(&c.name);
        }
    }
    html! {
        @for n in names {
            @let (x, y) = (a.component(n), b.component(n));
            h3.part { (component_name(n)) }
            table.ledger.compared {
                caption.unseen { (component_name(n)) }
                thead { tr { th scope="col" { "Line" } th.f scope="col" { "From" } th.f scope="col" { "To" } th.f scope="col" { "Change" } } }
                tbody {
                    @for line in Figures::lines(x, y) {
                        @let [g, h] = line.grams;
                        @let fine = is_fine_line(&line, larder);
                        tr.gone[h.is_none()] {
                            td { (line.name) @if is_seen(&line, larder) || line.name.contains('→') { " " span.tag { "changed" } } }
                            td.f { (shown(g, fine)) }
                            td.f { (shown(h, fine)) }
                            td.f { @if let (Some(g), Some(h)) = (g, h) { (between(g, h, fine)) } }
                        }
                    }
                    @if let (Some(p), Some(q)) = (made_of(x), made_of(y)) {
                        @if p != q {
                            tr { td colspan="4" { "Blend: " (p) " → " (q) " " span.tag { "changed" } } }
                        }
                    }
                    @if style(x) != style(y) {
                        tr { td colspan="4" { "Style: " (style(x)) " → " (style(y)) " " span.tag { "changed" } } }
                    }
                    @let of = [x, y].map(|c| c.and_then(|c| c.hydration));
                    @if of.iter().any(Option::is_some) {
                        tr.sum {
                            td { "Hydration" }
                            @for h in of { td.f { (h.map_or("–".to_owned(), percent)) } }
                            td.f {}
                        }
                    }
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_lies_between_is_that_of_the_figures_shown() {
        // 512.4 and 540.5 are shown as 512 and 541.
        for (from, to, fine, words) in [
            (512.4, 540.5, false, "+29 g"),
            (8.0, 6.64, true, "−1.4 g"),
            (512.1, 512.4, false, ""),
        ] {
            assert_eq!(between(from, to, fine), words);
        }
    }

    #[test]
    fn what_moved_most_is_said() {
        let larder = Larder::built_in().expect("the built-in tables");
        let part = |name: &str, hydration, lines: &[(&str, f64)]| Part {
            name: name.to_owned(),
            hydration,
            lines: lines
                .iter()
                .map(|(n, g)| ((*n).to_owned(), (*n).to_owned(), Some(*g)))
                .collect(),
            ..Part::default()
        };
        let then = Figures {
            components: vec![
                part(
                    "dough",
                    Some(78.2),
                    &[("water", 390.0), ("psyllium_husk", 14.0), ("oats", 5.0)],
                ),
                part("glaze", None, &[("water", 20.0)]),
            ],
        };
        let now = Figures {
            components: vec![
                part(
                    "dough",
                    Some(84.0),
                    &[("water", 420.0), ("psyllium_husk", 18.0), ("salt", 9.0)],
                ),
                part("glaze", None, &[("water", 20.04)]),
            ],
        };
        assert_eq!(
            moves(&then, &now, &larder),
            "the hydration of the dough from 78 to 84 %, salt of the dough is new (9 g), oats of the dough is left out and 2 more"
        );
        let alone = |h, g| Figures {
            components: vec![part("", Some(h), &[("water", g)])],
        };
        assert_eq!(
            moves(&alone(78.0, 390.0), &alone(78.3, 391.5), &larder),
            "water from 390 g to 392 g"
        );
        // 41.8 and 42.3 are both 42 g: that is no 'from 42 g to 42 g'.
        assert_eq!(
            moves(&alone(78.0, 41.8), &alone(79.0, 42.3), &larder),
            "the hydration from 78 to 79 %"
        );
        let table = side_by_side(&alone(78.0, 41.8), &alone(78.0, 42.3), &larder).into_string();
        assert!(!table.contains("changed"), "{table}");
        // A move below the digits shown is told as one.
        let unseen = moves(&alone(78.0, 390.0), &alone(78.004, 390.02), &larder);
        assert_eq!(changed(&unseen), " by less than is shown");
        assert_eq!(changed("water is new (9 g)"), ": water is new (9 g)");
    }
}
