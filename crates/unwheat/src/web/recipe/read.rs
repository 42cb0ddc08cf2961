//! The Read page: the text beside what was read of it, open questions first.

use super::standing::{is_remark, is_slip};
use super::weigh::typed;
use super::{Leaf, Open, change_to, component_name, fields};
use crate::web::app::App;
use crate::web::bakes::noted;
use crate::web::fault::Fault;
use crate::web::no_recipe;
use larder::{FoodId, Larder};
use maud::{Markup, html};
use quantity::Locale;
use recipe::household::is_fine;
use recipe::read::{
    Reader, Unlisted, apart, divided, is_page, may_head, portions, unlisted, unmarked,
};
use recipe::rework::owners;
use recipe::sheet::{
    Answer, Change, LineKey, SheetError, Worked, answers, answers_whole, item_of, key_of, place_of,
};
use recipe::{Amount, Doubt, DoubtCode, Item, Line, LineKind, Recipe};

/// Whose cups and spoons, in words.
pub const LOCALES: [(&str, &str); 4] = [
    ("us", "US cups, sticks and ounces"),
    ("uk", "UK spoons and pints"),
    ("metric", "metric cups (250 mL)"),
    ("au", "Australian cups and 20 mL tablespoons"),
];

/// The text cannot be worked with: why, and the text to mend.
pub fn broken(app: &App, o: &Open, e: &SheetError) -> Markup {
    let why = match e {
        SheetError::Read(e) => no_recipe::why(e),
        e => e.to_string(),
    };
    html! {
        div.spread data-k="spread" {
            section.sheet data-k="text" {
                h2 data-k="broken" { "This text cannot be worked with yet" }
                p.trouble data-k="why" role="alert" { (why) }
                (text_form(app, o, true))
            }
        }
    }
}

/// The page's body.
pub fn body(app: &App, o: &Open, w: &Worked) -> Result<Markup, Fault> {
    let recipe = &w.formula.recipe;
    let larder = &o.pantry.larder;
    let locale = o.draft.sheet.locale();
    let ask = |d: &Doubt| {
        let heading = as_heading(o, recipe, d).into_iter();
        let answers: Vec<Answer> = heading.chain(answers_whole(d, recipe, locale)).collect();
        let more = as_lines(app, o, w, d);
        question(app, o, Leaf::Read, None, d, &answers, more)
    };
    // A part of its own changes what is asked of its lines.
    let of_a_part = |d: &&Doubt| d.code == DoubtCode::PartByMethod;
    let mut open: Vec<Markup> = recipe.doubts.iter().filter(of_a_part).map(ask).collect();
    for (c, l, d) in w.formula.doubts.iter().filter(|d| is_slip(&d.2)) {
        let line = &recipe.components[*c].lines[*l];
        let offered = answers(d, recipe, *c, *l, larder, locale);
        let more = by_hand(app, o, Leaf::Read, line, d, &key_of(recipe, *c, *l));
        open.push(question(app, o, Leaf::Read, Some(line), d, &offered, more));
    }
    let others = recipe
        .doubts
        .iter()
        .filter(|d| !is_remark(d) && !of_a_part(d));
    open.extend(others.map(ask));
    let mut settled: Vec<Markup> = recipe
        .settled
        .iter()
        .map(|d| {
            reopen(
                app,
                o,
                Leaf::Read,
                "the recipe",
                d,
                &Change::AcceptWhole {
                    code: d.code.code().to_owned(),
                    yes: false,
                },
            )
        })
        .collect();
    for (c, component) in recipe.components.iter().enumerate() {
        for (l, line) in component.lines.iter().enumerate() {
            for d in line.doubts.iter().filter(|d| !is_remark(d)) {
                let mut offered = answers(d, recipe, c, l, larder, locale);
                let is_own = recipe.own_components.is_none_or(|own| c < own);
                if is_own && may_head(component, l) {
                    offered.extend(heads(o, line, d));
                }
                let more = by_hand(app, o, Leaf::Read, line, d, &key_of(recipe, c, l));
                open.push(question(app, o, Leaf::Read, Some(line), d, &offered, more));
            }
            let key = key_of(recipe, c, l);
            for d in &line.settled {
                settled.push(reopen(
                    app,
                    o,
                    Leaf::Read,
                    unmarked(&line.text),
                    d,
                    &Change::Accept {
                        line: key.clone(),
                        code: d.code.code().to_owned(),
                        yes: false,
                    },
                ));
            }
        }
    }
    for step in &recipe.steps {
        for d in &step.doubts {
            settled.push(html! { li { "Step " (step.number) ": " (d.message) } });
        }
    }
    Ok(html! {
        @if !o.parts.lost.is_empty() {
            p.trouble role="alert" { "A component of another recipe is no longer there: " (o.parts.lost.join(", ")) ". Take it out below, or put that recipe back from the bin." }
        }
        @if !w.stale.is_empty() {
            section.sheet {
                p { "Decisions kept for lines that are no longer in the text: "
                    (w.stale.iter().map(|k| format!("'{}'", unmarked(&k.text))).collect::<Vec<_>>().join(", "))
                    ". They hold again if the line comes back." }
            }
        }
        @if !open.is_empty() {
            section.sheet data-k="settle" aria-labelledby="settle" {
                h2 #settle { "To settle" }
                ul.doubts { @for q in open { (q) } }
            }
        }
        (noted(o))
        div.spread data-k="spread" {
            section.sheet data-k="text" aria-labelledby="text-h" {
                div.between data-k="text-top" {
                    h2 #text-h { "The text" }
                    (locale_form(app, o))
                }
                @if let Some(s) = recipe.source.words() { p.hint data-k="from" { "From: " (s) } }
                ol.pasted data-k="pasted" { @for l in o.draft.sheet.text.lines() { li { (l) } } }
                (text_form(app, o, false))
                details {
                    summary { "As it first came" }
                    p.hint { "Kept for ever, private, never printed on a card." }
                    pre.both tabindex="0" { (app.kitchen.original(o.row.id)?) }
                }
            }
            section.sheet aria-labelledby="read-h" {
                div.between {
                    h2 #read-h { "As it was read" }
                    (title_form(app, o))
                }
                @if let Some(m) = &recipe.makes { p { (m.text) } }
                @for (c, component) in recipe.components.iter().enumerate() {
                    @if recipe.components.len() > 1 || !component.name.is_empty() { h3.part { (component_name(&component.name)) } }
                    table.ledger.stack {
                        thead { tr { th scope="col" { "Line" } th.f scope="col" { "Amount" } th scope="col" { "Food" } th scope="col" { span.unseen { "Change" } } } }
                        tbody {
                            @for (l, line) in component.lines.iter().enumerate() {
                                (row(app, o, w, line, &key_of(recipe, c, l)))
                            }
                        }
                    }
                }
                @if !recipe.steps.is_empty() {
                    h3.part { "Method" }
                    p.hint { "For your eyes: steps are read for times, heat and what changes without gluten. They are never printed on a card." }
                    ol {
                        @for s in &recipe.steps {
                            li value=(s.number) {
                                (s.text)
                                @let facts = facts(s);
                                @if !facts.is_empty() { br; small { (facts) } }
                            }
                        }
                    }
                }
                @if !recipe.notes.is_empty() {
                    h3.part { "Not used" }
                    ul { @for n in &recipe.notes { li { (n) } } }
                    @if o.draft.sheet.keeping.is_none() && !recipe::keeping::said(recipe).is_empty() {
                        p.hint { "How it keeps can stand on the card, in your own words. " a href={ (o.at(Leaf::Card)) "#keeping" } { "Write it" } }
                    }
                }
                @if !settled.is_empty() {
                    details.settled {
                        summary { "Settled and remarks (" (settled.len()) ")" }
                        ul { @for s in settled { (s) } }
                    }
                }
            }
        }
        (super::versions::parts(app, o)?)
    })
}

fn facts(step: &recipe::Step) -> String {
    let mut found: Vec<&str> = step
        .facts
        .iter()
        .filter_map(|f| step.text.get(f.span.clone()))
        .collect();
    found.dedup();
    found.join(" · ")
}

fn row(app: &App, o: &Open, w: &Worked, line: &Line, key: &LineKey) -> Markup {
    let larder = &o.pantry.larder;
    let k = format!("{}/{}/{}", key.component, key.nth, key.text);
    if line.kind != LineKind::Ingredient {
        return html! {
            tr.gone data-k=(k) {
                td { (unmarked(&line.text)) }
                td {} td { "kept as a note" }
                td { (reread(app, o, line, key)) }
            }
        };
    }
    html! {
        @for (i, item) in line.items.iter().enumerate() {
            @let (amounts, food) = found(line, item, larder);
            tr data-k={ (k) "/" (i) } {
                td.full.first {
                    @if i == 0 {
                        (unmarked(&line.text))
                        @if let Some(as_) = &line.read_as { br; small { "read as: " (as_) } }
                    }
                }
                td.f { span.m { (amounts) } }
                td {
                    (food)
                    @if let Some(p) = item.purpose.words() { " " span.tag.line { (p) } }
                    @if item.optional { " " span.tag.line { "optional" } }
                    @if line.doubts.iter().any(|d| !is_remark(d)) && i == 0 { " " span.tag.warn { "to settle" } }
                }
                td { @if i == 0 { (reread(app, o, line, key)) } }
            }
        }
        @if line.items.is_empty() {
            tr data-k=(k) { td { (unmarked(&line.text)) } td {} td { "nothing read" } td { (reread(app, o, line, key)) } }
        }
        @let _ = w;
    }
}

/// The amounts read of an ingredient, and its food.
fn found(line: &Line, item: &Item, larder: &Larder) -> (String, String) {
    let further: Vec<(FoodId, &Amount)> = item.further().collect();
    let own = |a: &&Amount| !further.iter().any(|(_, f)| std::ptr::eq(*f, *a));
    let amounts = item.amounts.iter().filter(own);
    let amounts = amounts.map(|a| line.words(&a.span).trim());
    let mut food = match (&item.food, &item.reference) {
        (_, Some(r)) => format!("the {}", r.name),
        (Some(m), _) => larder.food(m.food).name.clone(),
        _ => "not known".to_owned(),
    };
    // '1 yolk + 1 tbsp cream'.
    for (more, amount) in &further {
        let name = &larder.food(*more).name;
        food.push_str(&format!(" + {} {name}", line.words(&amount.span).trim()));
    }
    (amounts.collect::<Vec<_>>().join(" · "), food)
}

/// How a line was read, for whoever is asked to take it so: '1¾ cups · 420 ml buttermilk, 434 g'.
fn as_read(o: &Open, line: &Line) -> Option<String> {
    let f = &o.worked().ok()?.formula;
    let here = |l: &Line| l.number == line.number && l.text == line.text;
    let (weighed, l) = f
        .recipe
        .components
        .iter()
        .zip(&f.components)
        .find_map(|(c, weighed)| Some((weighed, c.lines.iter().position(here)?)))?;
    let larder = &o.pantry.larder;
    let of = |(i, item): (usize, &Item)| {
        let (amounts, food) = found(line, item, larder);
        let own = weighed
            .items
            .iter()
            .find(|x| (x.line, x.item, x.part) == (l, i, 0));
        let grams = own.and_then(|x| {
            let fine = x.food.is_some_and(|food| is_fine(larder, food));
            let (grams, pinch) = typed(x.grams?, fine);
            Some(pinch.map_or(format!("{grams} g"), str::to_owned))
        });
        let grams = grams.unwrap_or("not weighed".to_owned());
        let words = format!("{amounts} {food}");
        format!("{}, {grams}", words.trim())
    };
    let all: Vec<String> = line.items.iter().enumerate().map(of).collect();
    (!all.is_empty()).then(|| all.join("; "))
}

/// The fields that change how a line is read.
fn reread(app: &App, o: &Open, line: &Line, key: &LineKey) -> Markup {
    let food = line
        .items
        .first()
        .and_then(|i| i.food.as_ref())
        .map(|m| o.pantry.larder.food(m.food).name.clone())
        .unwrap_or_default();
    let id = slug(key);
    html! {
        details.line-edit {
            summary { "Change" span.unseen { " " (line.text.trim()) } }
            form method="post" action=(change_to(o)) data-live data-k={ "as-" (id) } {
                (fields(app, o, Leaf::Read))
                (says(&Change::ReadAs { line: key.clone(), text: None }))
                label for={ "as-" (id) } { "Read it as if it said" }
                div.row {
                    input id={ "as-" (id) } name="value" value=(line.read_as.as_deref().unwrap_or(line.text.trim()));
                    button.small { "Read so" }
                }
            }
            form method="post" action=(change_to(o)) data-live data-k={ "note-" (id) } {
                (fields(app, o, Leaf::Read))
                @if line.read_as.is_some() {
                    button.small.plain name="change" value=(serde_json::to_string(&Change::ReadAs { line: key.clone(), text: None }).unwrap_or_default()) { "Read it as it stands" }
                } @else {
                    button.small.plain name="change" value=(serde_json::to_string(&Change::ReadAs { line: key.clone(), text: Some(String::new()) }).unwrap_or_default()) { "It is no ingredient" }
                }
            }
            form method="post" action=(change_to(o)) data-live data-k={ "food-" (id) } {
                (fields(app, o, Leaf::Read))
                (says(&Change::Food { line: key.clone(), place: 0, food: None }))
                label for={ "food-" (id) } { "It is" }
                div.row {
                    input id={ "food-" (id) } name="value" list="foods" value=(food);
                    button.small { "Take this food" }
                }
            }
        }
    }
}

/// A change as a hidden field; the form's value is put into it.
pub fn says(change: &Change) -> Markup {
    html! { input type="hidden" name="change" value=(serde_json::to_string(change).unwrap_or_default()); }
}

/// A short id for a line's fields.
pub fn slug(key: &LineKey) -> String {
    // FNV-1a: a name for the page, nothing more.
    let mut h: u64 = 0xcbf2_9ce4_8422_2325;
    for b in key
        .component
        .bytes()
        .chain([0])
        .chain(key.text.bytes())
        .chain([key.nth as u8])
    {
        h = (h ^ u64::from(b)).wrapping_mul(0x0100_0000_01b3);
    }
    format!("{h:x}")
}

/// What tells the questions about a line's ingredients apart; nothing for the first.
fn nth(item: usize) -> String {
    match item {
        0 => String::new(),
        n => format!("-{n}"),
    }
}

/// A question with its answers, one click each.
pub fn question(
    app: &App,
    o: &Open,
    leaf: Leaf,
    line: Option<&Line>,
    doubt: &Doubt,
    answers: &[Answer],
    more: Option<Markup>,
) -> Markup {
    let k = format!(
        "q-{}-{}{}",
        line.map_or(String::new(), |l| format!("{}{}", l.number, l.text)),
        doubt.code.code(),
        line.map_or(String::new(), |l| nth(item_of(doubt, l)))
    );
    let takes_as_read = answers
        .iter()
        .any(|a| a.words.starts_with("take it as read"));
    html! {
        li.doubt data-k=(k) {
            @if let Some(line) = line { div.quote { (marked(line, doubt)) } }
            p { (crate::web::page::sentence(&doubt.message)) }
            @if takes_as_read && let Some(read) = line.and_then(|l| as_read(o, l)) { p.hint { "As read: " strong { (read) } "." } }
            form.row method="post" action=(change_to(o)) data-live data-k={ "f" (k) } {
                (fields(app, o, leaf))
                @for (i, a) in answers.iter().enumerate() {
                    button.small.plain[i > 0 && matches!(a.change, Change::Accept { .. } | Change::AcceptWhole { .. })]
                        name="change" value=(serde_json::to_string(&a.change).unwrap_or_default())
                        title=[a.why.as_deref()] { (crate::web::page::capital(&a.words)) }
                }
            }
            @if let Some(more) = more { (more) }
        }
    }
}

/// Fields for an answer that no button holds: another food for a doubtful name, own grams for a
/// doubtful amount.
pub fn by_hand(
    app: &App,
    o: &Open,
    leaf: Leaf,
    line: &Line,
    doubt: &Doubt,
    key: &LineKey,
) -> Option<Markup> {
    use DoubtCode as D;
    let item = item_of(doubt, line);
    let id = format!("{}-{}{}", slug(key), doubt.code.code(), nth(item));
    match doubt.code {
        D::UnknownIngredient | D::NamePartlyKnown | D::NameTie | D::NameNear | D::NameByLocale => {
            let change = Change::Food {
                line: key.clone(),
                place: item,
                food: None,
            };
            let name = line
                .items
                .get(item)
                .map_or("", |i| line.words(&i.name).trim());
            Some(html! {
                form.row.mid method="post" action=(change_to(o)) data-live data-k={ "hand-" (id) } {
                    (fields(app, o, leaf))
                    (says(&change))
                    label for={ "hand-" (id) } { "or it is" }
                    input id={ "hand-" (id) } name="value" list="foods" placeholder="a food of the larder";
                    button.small { "Take this food" }
                    @if doubt.code == D::UnknownIngredient { a href=(larder_link(o, name, Leaf::Read)) { "put it in the larder" } }
                }
            })
        }
        D::NoAmount
        | D::MissingUnit
        | D::LooseMeasure
        | D::OldMeasure
        | D::NoWeight
        | D::SizeOnLabel
        | D::ImpossibleNumber
        | D::UnlikelyAmount
        | D::WeightAsBought
        | D::TwinDisagrees => {
            let change = Change::Grams {
                line: key.clone(),
                place: place_of(doubt, line),
                grams: None,
            };
            Some(html! {
                form.row.mid method="post" action=(change_to(o)) data-live data-k={ "hand-" (id) } {
                    (fields(app, o, leaf))
                    (says(&change))
                    label for={ "hand-" (id) } { "or weigh it: grams" }
                    input.f id={ "hand-" (id) } name="value" inputmode="decimal" size="7";
                    button.small { "Use my weight" }
                }
            })
        }
        _ => None,
    }
}

/// The answer that writes into the text: a line set aside is the method, lines made by themselves are parts, what
/// is taken of a line has one of its own.
fn as_heading(o: &Open, recipe: &Recipe, doubt: &Doubt) -> Option<Answer> {
    let text = &o.draft.sheet.text;
    // A doubt of a recipe taken in is about that recipe's text.
    if doubt.message.starts_with("in '") {
        return None;
    }
    let (words, text) = match doubt.code {
        DoubtCode::MaybeMethod => {
            let at = doubt.span.as_ref()?.start;
            let (before, behind) = (text.get(..at)?, text.get(at..)?);
            let with = format!("{before}\nMethod\n{behind}");
            ("it is part of the method".to_owned(), with)
        }
        DoubtCode::PartByMethod if !is_page(text) => {
            let parts = apart(&recipe.alone());
            let heading = |n: usize| parts.iter().find(|p| p.line == n + 1);
            let mut with = String::new();
            for (n, line) in text.split_inclusive('\n').enumerate() {
                if let Some(p) = heading(n) {
                    let parted = with.is_empty() || with.ends_with("\n\n");
                    let blank = if parted { "" } else { "\n" };
                    with.push_str(&format!("{blank}For the {}\n", p.name));
                }
                with.push_str(line);
            }
            let names: Vec<&str> = parts.iter().map(|p| p.name.as_str()).collect();
            let words = match names.as_slice() {
                [one] => format!("make them a part: {one}"),
                all => format!("make them parts: {}", all.join(", ")),
            };
            (words, with)
        }
        DoubtCode::LineInTwo if !is_page(text) => {
            let reader = Reader::new(&o.pantry.larder, o.draft.sheet.locale());
            let recipe = recipe.alone();
            let with = divided(text, &recipe, &portions(&recipe, &reader))?;
            ("write them on lines of their own".to_owned(), with)
        }
        _ => return None,
    };
    Some(Answer {
        words,
        change: Change::Text { text },
        why: None,
    })
}

/// The answer that a line without an amount is the heading of what stands behind it: a colon says so in the text.
fn heads(o: &Open, line: &Line, doubt: &Doubt) -> Option<Answer> {
    let text = &o.draft.sheet.text;
    let asked = matches!(
        doubt.code,
        DoubtCode::NoAmount | DoubtCode::UnknownIngredient
    );
    if !asked || is_page(text) {
        return None;
    }
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    let own = lines.get_mut(line.number.checked_sub(1)?)?;
    if own.trim() != line.text.trim() {
        return None;
    }
    *own = format!("{}:", own.trim_end());
    let mut with = lines.join("\n");
    if text.ends_with('\n') {
        with.push('\n');
    }
    Some(Answer {
        words: "it is a heading of what follows".to_owned(),
        change: Change::Text { text: with },
        why: Some("a colon is put behind it in the text".to_owned()),
    })
}

/// The answers that amounts of the method go into the food: each is written below the lines of the
/// part that its step is about.
fn as_lines(app: &App, o: &Open, w: &Worked, doubt: &Doubt) -> Option<Markup> {
    let text = &o.draft.sheet.text;
    // Lines of a saved page stand in no text, those of recipes taken in not in this one.
    let theirs = doubt.message.starts_with("in '");
    if doubt.code != DoubtCode::InMethodOnly || is_page(text) || theirs {
        return None;
    }
    let recipe = &*w.formula.recipe.alone();
    let reader = Reader::new(&o.pantry.larder, o.draft.sheet.locale());
    let owners = owners(recipe);
    let button = |found: &Unlisted| {
        let step = recipe.steps.iter().position(|s| s.number == found.step)?;
        let part = recipe.components.get(*owners.get(step)?)?;
        let numbers = part.lines.iter().map(|l| l.number);
        let last = numbers.max().filter(|n| *n > 0)?;
        let mut lines: Vec<&str> = text.lines().collect();
        lines.insert(last.min(lines.len()), &found.words);
        let change = Change::Text {
            text: lines.join("\n"),
        };
        let words = match part.name.as_str() {
            "" => format!("Put {} among the ingredients", found.words),
            name => format!("Put {} among the ingredients of the {name}", found.words),
        };
        let key = format!("unlisted-{}-{}", found.step, found.words);
        Some(one_click(app, o, &key, &change, &words))
    };
    let all: Vec<Markup> = unlisted(recipe, &reader)
        .iter()
        .filter_map(button)
        .collect();
    (!all.is_empty()).then(|| html! { @for one in &all { (one) } })
}

/// A change of the sheet as a button.
fn one_click(app: &App, o: &Open, key: &str, change: &Change, words: &str) -> Markup {
    html! {
        form.row.mid method="post" action=(change_to(o)) data-live data-k=(key) {
            (fields(app, o, Leaf::Read))
            button.small name="change" value=(serde_json::to_string(change).unwrap_or_default()) { (words) }
        }
    }
}

/// Where a food that the larder does not know is put in, and back again.
pub fn larder_link(o: &Open, name: &str, back: Leaf) -> String {
    let query = form_urlencoded::Serializer::new(String::new())
        .append_pair("name", name)
        .append_pair("back", &o.at(back))
        .finish();
    format!("/larder/new?{query}")
}

/// A line with the doubtful words marked.
fn marked(line: &Line, doubt: &Doubt) -> Markup {
    let text = line.clean.as_str();
    match &doubt.span {
        Some(s)
            if s.start < s.end
                && text.is_char_boundary(s.start)
                && s.end <= text.len()
                && text.is_char_boundary(s.end) =>
        {
            html! { (text[..s.start].trim_start()) mark { (&text[s.clone()]) } (&text[s.end..]) }
        }
        _ => html! { (text.trim()) },
    }
}

/// A settled question, to open again.
pub fn reopen(
    app: &App,
    o: &Open,
    leaf: Leaf,
    what: &str,
    doubt: &Doubt,
    change: &Change,
) -> Markup {
    html! {
        li {
            strong { (what) } ": " (crate::web::page::sentence(&doubt.message)) " "
            form method="post" action=(change_to(o)) data-live data-k={ "re-" (what) (doubt.code.code()) } {
                (fields(app, o, leaf))
                button.small.plain name="change" value=(serde_json::to_string(change).unwrap_or_default()) { "Open it again" }
            }
        }
    }
}

/// The text in a field. It has one place in the page whatever the text says, so that the focus stays in it while a
/// text is typed that cannot be read yet.
fn text_form(app: &App, o: &Open, open: bool) -> Markup {
    html! {
        details data-k="change-text" open[open] {
            summary { "Change the text" }
            form method="post" action=(change_to(o)) data-live data-k="text" {
                (fields(app, o, Leaf::Read))
                (says(&Change::Text { text: String::new() }))
                label for="text" { "The recipe's text" }
                textarea.tall #text name="value" rows="18" spellcheck="false" data-typed { (o.draft.sheet.text) }
                p.hint { "It is read again as you type." }
                noscript { p { button { "Read it again" } } }
            }
        }
    }
}

fn title_form(app: &App, o: &Open) -> Markup {
    html! {
        details {
            summary { "Rename" }
            form.row method="post" action=(change_to(o)) data-live data-k="title" {
                (fields(app, o, Leaf::Read))
                (says(&Change::Title { title: None }))
                label for="title" { "Title" }
                input.grow #title name="value" value=(o.title());
                button.small { "Rename" }
            }
        }
    }
}

fn locale_form(app: &App, o: &Open) -> Markup {
    let now = o.draft.sheet.locale();
    html! {
        form.row.mid method="post" action=(change_to(o)) data-live data-k="locale" {
            (fields(app, o, Leaf::Read))
            (says(&Change::Locale { locale: now.key().to_owned() }))
            label for="locale" { "Measures" }
            (locale_select("locale", "value", now))
            noscript { button.small { "Read so" } }
        }
    }
}

/// A choice of measures.
pub fn locale_select(id: &str, name: &str, now: Locale) -> Markup {
    html! {
        select id=(id) name=(name) {
            @for (key, words) in LOCALES { option value=(key) selected[key == now.key()] { (words) } }
        }
    }
}
