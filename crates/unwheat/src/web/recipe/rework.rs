//! The Rework page: original and gluten-free side by side, every change with its reason, any
//! figure held by typing in it.

use super::read::{question, says};
use super::weigh::{low_high, typed};
use super::{Leaf, Open, change_to, component_name, fields, flow, measures};
use crate::show::leaven;
use crate::show::size::NOT_KNOWN;
use crate::web::app::App;
use crate::web::bakes::noted;
use crate::web::blends::Wanted;
use crate::web::page::sentence;
use crate::web::picture;
use larder::{Function, Larder};
use maud::{Markup, html};
use quantity::{Locale, Mass, degrees_in, scales_of};
use recipe::DoubtCode;
use recipe::household::{
    Scale, WEIGH_IT, come_within, is_fine, kept_cups, measure_of_blend, of_flour, percent,
    percent_figure, scale_grams,
};
use recipe::leaven::{Altitude, LEAST};
use recipe::rework::binder::Binding;
use recipe::rework::style::Style;
use recipe::rework::{
    BINDER, Balance, HYDRATION, Hold, Kept, Rework, ReworkedComponent, ReworkedLine,
};
use recipe::screen::{Caution, core_cautions};
use recipe::sheet::{Change, Worked, answers_gum, answers_rework};

/// The page's body.
pub fn body(app: &App, o: &Open, w: &Worked) -> Markup {
    let r = &w.rework;
    let touched = r
        .components
        .iter()
        .any(|c| c.original.flour.likely().as_grams() > 0.0 || !c.changes.is_empty());
    html! {
        @if !touched {
            section.sheet { p { "No flour and nothing else with gluten was found, so nothing is changed here. Look at the Screen page for what labels must say." } }
        }
        @if touched { @for t in &o.pantry.troubles {
            p.trouble { "Not in use now: " (sentence(t)) " " a href="/blends" { "See the blends" } " or " a href="/larder?own=1" { "your own foods" } }
        } }
        (noted(o))
        (super::leave_out::panel(app, o, r))
        @if !o.draft.sheet.pins.is_empty() {
            form.row.mid method="post" action=(change_to(o)) data-live data-k="unpin" {
                (fields(app, o, Leaf::Rework))
                span { (o.draft.sheet.pins.len()) @if o.draft.sheet.pins.len() == 1 { " figure is held." } @else { " figures are held." } }
                button.small name="change" value=(serde_json::to_string(&Change::Unpin).unwrap_or_default()) { "Let all go" }
            }
        }
        @for (i, c) in r.components.iter().enumerate().filter(|(_, c)| c.is_listed()) { (component(app, o, w, i, c)) }
        @if let Some(drawn) = flow::reworked(r) {
            section.sheet aria-labelledby="flow-h" {
                h2 #flow-h { "What makes what, gluten-free" }
                div.pictures { figure { (drawn) } }
            }
        }
        p.hint { "An untested conversion: a starting point for a test bake. Weigh, bake, write down, change one thing." }
    }
}

fn component(app: &App, o: &Open, w: &Worked, i: usize, c: &ReworkedComponent) -> Markup {
    let r = &w.rework;
    let larder = &o.pantry.larder;
    let dough = c.is_dough();
    let id = format!("c{i}");
    html! {
        section.sheet aria-labelledby=(id) data-k=(id) {
            div.between {
                h2 id=(id) { (component_name(&c.name)) }
                @if c.style.is_some() { div.row { (style_form(app, o, i, c)) (blend_form(app, o, i, c)) } }
            }
            @if let Some(s) = c.style {
                p.hint {
                    @if s.fits_none.is_some() { (sentence(&s.words())) " " }
                    @else if s.next.is_some() { "Taken for " (s.words()) ". " }
                    @if s.fits_none.is_none() { a href={ "/blends/work-out?style=" (s.style.key()) "&" (Wanted::query(o, &c.name)) } { "Work out a blend for this style" } }
                }
            }
            (ledger(app, o, r, i, c, dough))
            @if let Some(b) = &c.blend { (blend_words(b, c, larder, o.drawer().locale())) }
            p {
                @if c.makes.likely().as_grams() <= 0.0 { (NOT_KNOWN.trim_end_matches('.')) }
                @else { "Makes " span.n { (scale_grams(c.makes.likely(), false)) " g" } " raw" }
                @if let (Some(u), Some(l)) = (c.used, c.left) {
                    "; " span.n { (scale_grams(u.likely(), false)) " g" } " is used, " span.n { (scale_grams(l.likely(), false)) " g" } " left over"
                }
                "." @if let Some(before) = r.formula.boiled_down(i) { " " (before) }
            }
            @if dough { (figures(app, o, i, c)) }
            @for said in of_meat(c, larder) {
                p.trouble { (scales_of(said.text, o.home())) " " small { "Source: " (sentence(said.source)) } }
            }
            @for clash in &c.clashes { p.trouble role="alert" { (sentence(&clash.to_string())) } }
            @let missing = c.unweighed();
            @if missing > 0 {
                p.trouble { (missing) @if missing == 1 { " line is" } @else { " lines are" } " not weighed, and in none of the figures here." }
            }
            @if let Some(wetness) = c.wetness().filter(|_| dough) { p.hint { (wetness) " " a href=(evidence_of(c)) { "What stands behind it" } } }
            @if dough {
                @for said in [c.water_left_out(larder), c.on_the_label(larder)].into_iter().flatten() { p.hint { (said) } }
            }
            @for d in &c.doubts {
                @let offered = if d.code == DoubtCode::GumInMix { answers_gum(d, &w.formula.recipe, i, c) } else { answers_rework(d, c) };
                @if matches!(d.code, DoubtCode::StyleUnsure | DoubtCode::GumInMix) && !offered.is_empty() {
                    ul.doubts { (question(app, o, Leaf::Rework, None, d, &offered, None)) }
                } @else { p.trouble { (sentence(&d.message)) } }
            }
            @if dough {
                div.pictures {
                    figure { figcaption { "Balance, % of flour, with the style’s range" } (balance(&id, c, larder)) }
                    figure { figcaption { "Where the water comes from" } (water(&id, w, i, c, larder)) }
                    @if let Some(b) = &c.blend { figure { figcaption { "The blend" } (blend_picture(&id, b, larder)) } }
                    @if let Some(b) = &c.binding { (binding(&id, b)) }
                }
                @if let Some(b) = &c.binding {
                    details {
                        summary { "Binder in words" }
                        p { (sentence(&b.summary())) }
                        ul { @for words in b.lines(c.style.map_or("", |s| s.style.name())) { li { (sentence(&words)) } } }
                    }
                }
            }
            @if !c.changes.is_empty() {
                details open[i == 0] {
                    summary { "Changes and reasons (" (c.changes.len()) ")" }
                    ul.changes {
                        @for x in &c.changes {
                            (reason(x, o.home()))
                        }
                    }
                }
            }
            @if let Some(raising) = r.raising(i, larder) {
                (leavening(&raising, o, i == 0))
                (up_there(o, r, i, larder))
            }
            (super::method::notes(i, c, &w.formula.recipe, o.home()))
        }
    }
}

/// How hot the meat, poultry and fish of a component get in the middle, each kind once.
fn of_meat(c: &ReworkedComponent, larder: &Larder) -> Vec<Caution> {
    let lines = c.lines.iter().filter(|l| l.kept != Kept::Dropped);
    let all = lines.flat_map(|l| core_cautions(l.food.map(|f| larder.food(f)), &l.name));
    let mut out: Vec<Caution> = all.collect();
    out.sort_by_key(|c| c.text);
    out.dedup_by_key(|c| c.text);
    out
}

/// Soda against acid, the gas, and what slows yeast or decides a syrup.
fn leavening(r: &recipe::rework::Raising, o: &Open, open: bool) -> Markup {
    let told = |words: &str| sentence(&degrees_in(words, o.home()));
    let sentences = r.sentences();
    let figures = r.figures(&o.pantry.larder);
    let cautions: Vec<(&str, &str)> = r
        .after
        .cautions
        .iter()
        .map(|c| (c.words.as_str(), c.source))
        .chain(r.after.remarks.iter().map(|c| (c.words.as_str(), c.source)))
        .collect();
    if sentences.is_empty() && cautions.is_empty() {
        return Markup::default();
    }
    html! {
        details open[open] {
            summary { (r.title()) }
            ul.changes {
                @for s in &sentences { li { (told(s)) } }
                @for (words, source) in cautions { li { (told(words)) " " small { "Source: " (sentence(source)) } } }
                @if !sentences.is_empty() && !figures.is_empty() { li { small { "Sources: " (told(&figures)) } } }
            }
        }
    }
}

/// What changes at the kitchen's height, where that is high enough.
fn up_there(o: &Open, r: &recipe::rework::Rework, i: usize, larder: &Larder) -> Markup {
    let height = Altitude::of(o.settings.altitude).ok();
    let Some(height) = height.filter(|a| a.metres >= LEAST) else {
        return Markup::default();
    };
    let changed = r.up_there(i, larder, &height);
    html! {
        details open[i == 0] {
            summary { (format!("At {:.0} m", height.metres)) }
            p { (degrees_in(&leaven::height(&height), o.home())) }
            @if !changed.is_empty() {
                ul.changes { @for c in &changed { li { (sentence(&leaven::corrected(c))) } } }
                p.hint { "The first figure is the table's, the second is for that height: change the table if you bake there. Source: " (Altitude::source()) "; yeast: common practice, no source. The height is set on the " a href="/kitchen#settings" { "Kitchen page" } "." }
            }
        }
    }
}

/// The style's row on the page of evidence.
fn evidence_of(c: &ReworkedComponent) -> String {
    c.style.map_or("/evidence".to_owned(), |s| {
        format!("/evidence#{}", s.style.key())
    })
}

fn style_form(app: &App, o: &Open, i: usize, c: &ReworkedComponent) -> Markup {
    let set = o.draft.sheet.styles.get(&c.name);
    let mut styles: Vec<Style> = Style::all().collect();
    if c.goes_on_a_bake() {
        styles.sort_by_key(|s| s.key() != "filling");
    }
    html! {
        form method="post" action=(change_to(o)) data-live data-k={ "style" (i) } {
            (fields(app, o, Leaf::Rework))
            (says(&Change::Style { component: c.name.clone(), style: None }))
            label for={ "style" (i) } { "Style" }
            select id={ "style" (i) } name="value" {
                option value="" selected[set.is_none()] {
                    "as it looks" @if set.is_none() { @if let Some(s) = c.style { ": " (s.style.name()) } }
                }
                @for s in styles { option value=(s.key()) selected[set.is_some_and(|k| k == s.key())] { (s.name()) } }
            }
            noscript { button.small { "Take" } }
        }
    }
}

fn blend_form(app: &App, o: &Open, i: usize, c: &ReworkedComponent) -> Markup {
    let set = o.draft.sheet.blends.get(&c.name);
    html! {
        form method="post" action=(change_to(o)) data-live data-k={ "blend" (i) } {
            (fields(app, o, Leaf::Rework))
            (says(&Change::Blend { component: c.name.clone(), blend: None }))
            label for={ "blend" (i) } { "Blend" }
            select id={ "blend" (i) } name="value" {
                option value="" selected[set.is_none()] {
                    "by style" @if set.is_none() { @if let Some(b) = &c.blend { ": " (b.name) } }
                }
                @for b in o.blends() { option value=(b.key) selected[set.is_some_and(|k| *k == b.key)] { (b.name) @if b.own { " (own)" } } }
            }
            noscript { button.small { "Take" } }
        }
    }
}

fn ledger(app: &App, o: &Open, r: &Rework, i: usize, c: &ReworkedComponent, dough: bool) -> Markup {
    let larder = &o.pantry.larder;
    let merged = |l: &ReworkedLine| c.blend.is_some() && l.is_in_blend(larder);
    let mut shown = None;
    let worked_out = o.drawer().locale();
    html! {
        table.ledger.stack {
            caption { "Type a figure to hold it: grams, 4 %, 2 eggs, 1 packet or none; everything else follows. " (cups(worked_out)) " " (come_within(worked_out)) @if let Some(words) = kept_cups(o.draft.sheet.locale(), worked_out) { " " (words) } }
            thead { tr {
                th scope="col" { "Original" } th scope="col" { "Gluten-free" } th.f scope="col" { "Grams" } th.f.low-high scope="col" { "Low–high" }
                th scope="col" { "In " (measures(o)) } @if dough { th.f scope="col" { "% of flour" } }
            } }
            tbody {
                @for l in &c.lines {
                    @if l.kept == Kept::Dropped {
                        @if shown != Some(l.origin) || !merged(l) {
                            tr.gone data-k={ "x" (l.key) } {
                                td.full.first { del { (r.was(i, l, larder)) } }
                                td {
                                    @if merged(l) { "in the blend" } @else { @if l.origin.is_none() { (l.name) " " } "left out" }
                                    @if let Some(n) = &l.note { br; small { (n) } }
                                    @if l.held {
                                        " " form method="post" action=(change_to(o)) data-live data-k={ "u" (l.key) } {
                                            (fields(app, o, Leaf::Rework))
                                            button.small.plain name="change" value=(serde_json::to_string(&pin(c, &l.key)).unwrap_or_default()) aria-label={ "held at none: let go " (l.name) } {
                                                "held at none: let go"
                                            }
                                        }
                                    }
                                }
                                td {} td.low-high {} td {} @if dough { td {} }
                            }
                        }
                    } @else {
                        @if l.blend { ({ shown = Some(l.origin); "" }) }
                        @let old = if l.blend {
                            c.lines.iter().find(|d| merged(d) && d.origin == l.origin).map_or(String::new(), |d| r.was(i, d, larder))
                        } else { r.was(i, l, larder) };
                        (row(app, o, r, i, c, l, &old, dough))
                    }
                }
            }
        }
    }
}

#[allow(clippy::too_many_arguments, reason = "one row of one table")]
fn row(
    app: &App,
    o: &Open,
    r: &Rework,
    i: usize,
    c: &ReworkedComponent,
    l: &ReworkedLine,
    old: &str,
    dough: bool,
) -> Markup {
    let larder = &o.pantry.larder;
    let fine = l.food.is_some_and(|f| is_fine(larder, f));
    let name = match l.component {
        Some(x) => format!("the {}", r.components[x].name),
        None => l.name.clone(),
    };
    let letgo = pin(c, &l.key);
    let at = c.holds.get(&l.key).filter(|_| l.held);
    let whys = c.whys_of(l);
    let id = format!("p{i}-{}", l.key.replace([' ', '#', ':', '\''], "_"));
    let household = r.household(i, l, larder, o.drawer());
    html! {
        tr.held[l.pinned.is_some()] data-k=(id) {
            td.full.last data-h=[(!old.is_empty()).then_some("original")] { (old) }
            td.full.first {
                @if l.kept == Kept::New { span.tag { "new" } " " } @else if l.kept == Kept::Changed { span.tag { "changed" } " " }
                (name)
                @if let Some(words) = r.beside(i, l) { " " span.tag.line { (words) } }
                @if let Some(n) = &l.note { br; small { (n) } }
                (why(&id, &name, &whys, o.home()))
            }
            td.f data-h="grams" {
                @if let Some(g) = l.grams {
                    @let (value, grey) = typed(g, fine);
                    @if l.component.is_some() { (scale_grams(g.likely(), fine)) } @else {
                        form method="post" action=(change_to(o)) data-live data-k={ "h" (id) } {
                            (fields(app, o, Leaf::Rework))
                            (says(&letgo))
                            input.f id=(id) name="value" value=(value) placeholder=[grey] data-typed aria-label={ "Grams of " (name) ", type to hold" };
                        }
                    }
                } @else { span.tag.warn { "not weighed" } }
            }
            td.f.low-high {
                @if let Some(would) = l.pinned {
                    span.letgo { span.tag { "held" @if let Some(h) = at.and_then(other_than_grams) { " at " (h) } }
                    form method="post" action=(change_to(o)) data-live data-k={ "u" (id) } {
                        (fields(app, o, Leaf::Rework))
                        button.small.plain name="change" value=(serde_json::to_string(&letgo).unwrap_or_default()) aria-label={ "let go: " (scale_grams(would.likely(), fine)) " g of " (name) } {
                            "let go: " (scale_grams(would.likely(), fine)) " g"
                        }
                    } }
                } @else if let Some(g) = l.grams {
                    span.range { (low_high(g, fine)) }
                }
            }
            td data-h=(measures(o)) {
                @if let Some(h) = household { span.n.m { (h.shown()) } }
                @else if l.grams.is_some() && l.component.is_none() { span.range { (WEIGH_IT) } }
            }
            @if dough {
                td.f data-h="of flour" { @if let Some(p) = l.percent.and_then(of_flour) { (p) } }
            }
        }
    }
}

/// The change that lets a line or figure go; a field puts a figure into it.
fn pin(c: &ReworkedComponent, line: &str) -> Change {
    Change::Pin {
        component: c.name.clone(),
        line: line.to_owned(),
        hold: None,
    }
}

/// What a line is held at, where its grams do not say it: `4 %`, `2 eggs`.
fn other_than_grams(hold: &Hold) -> Option<String> {
    match hold {
        Hold::Grams(_) => None,
        hold => Some(hold.to_string()),
    }
}

/// Rule, range, source and arithmetic of what was changed.
fn why(id: &str, name: &str, whys: &[&recipe::rework::Change], home: Locale) -> Markup {
    html! {
        @if !whys.is_empty() {
            details.why data-k={ "why-" (id) } {
                summary aria-label={ "Why " (name) "?" } { "why?" }
                ul.changes { @for x in whys { (reason(x, home)) } }
            }
        }
    }
}

/// One change with its reason and arithmetic.
fn reason(x: &recipe::rework::Change, home: Locale) -> Markup {
    let told = |words: &str| degrees_in(words, home);
    html! {
        li {
            span.what { (component_name(&x.what)) } ": "
            @if x.from == x.to { (told(&x.to)) } @else { (told(&x.from)) " → " strong { (told(&x.to)) } }
            @if let Some(range) = &x.range { " " span.range { "range " (told(range)) } }
            br; (sentence(&told(&x.rule))) " " small { "Source: " (sentence(&x.source)) }
            @if !x.sums.is_empty() { ul.sums { @for s in &x.sums { li { (scales_of(s, home)) } } } }
        }
    }
}

/// Hydration and binder, held by typing in them.
fn figures(app: &App, o: &Open, i: usize, c: &ReworkedComponent) -> Markup {
    let now = |what: &str| match what {
        HYDRATION => c.reworked.hydration.map_or(0.0, |h| h.likely().get()),
        _ => c.reworked.binder_percent(),
    };
    html! {
        div.row.figures {
            @for (what, name) in [(HYDRATION, "Hydration"), (BINDER, "Binder")] {
                @let held = c.figures.iter().find(|f| f.what == what);
                @let id = format!("p{i}-{what}");
                @let letgo = pin(c, what);
                form.row method="post" action=(change_to(o)) data-live data-k={ "h" (id) } {
                    (fields(app, o, Leaf::Rework))
                    (says(&letgo))
                    label for=(id) { (name) ", % of flour" }
                    input.f.short id=(id) name="value" value=(percent_figure(now(what))) data-typed aria-label={ (name) ", percent of the flour, type to hold" };
                }
                @if let Some(f) = held {
                    form.row method="post" action=(change_to(o)) data-live data-k={ "u" (id) } {
                        (fields(app, o, Leaf::Rework))
                        span.tag { "held at " (f.hold) }
                        button.small.plain name="change" value=(serde_json::to_string(&letgo).unwrap_or_default()) aria-label={ "Let " (what) " go" } {
                            "let go" @if let Some(w) = f.would { ": " (percent(w)) }
                        }
                    }
                }
            }
            @let whys = c.whys(HYDRATION, &o.pantry.larder).unwrap_or_default();
            (why(&format!("w{i}"), "the hydration", &whys, o.home()))
        }
    }
}

/// How much a cup and a tablespoon hold here.
fn cups(locale: Locale) -> &'static str {
    match locale {
        Locale::Us => "A cup is 237 mL, a tablespoon 15 mL.",
        Locale::Au => "A cup is 250 mL, a tablespoon 20 mL.",
        Locale::Metric => "A cup is 250 mL, a tablespoon 15 mL.",
        Locale::Uk => "A tablespoon is 15 mL, a teaspoon 5 mL.",
    }
}

fn blend_words(
    b: &recipe::rework::blend::Blend,
    c: &ReworkedComponent,
    larder: &Larder,
    locale: Locale,
) -> Markup {
    let portions = c.blend_weighed(&Scale::default());
    let whole = Mass::grams(portions.iter().map(|p| p.grams).sum());
    html! {
        p {
            strong { (component_name(&b.name)) } ": "
            @for (n, p) in portions.iter().enumerate() {
                @if n > 0 { ", " }
                span.n { (p.grams) " g" } " " (larder.food(p.food).name) " (" (format!("{:.0}", p.percent)) " %)"
            }
            "."
            @if let Some((measure, cup)) = measure_of_blend(larder, b, locale) {
                " " (measure) " of it weighs " span.n { (scale_grams(cup.likely(), false)) " g" }
                @if b.cup_grams.is_some() { ", measured in this kitchen." }
                @else { " " span.range { "(" (low_high(cup, false)) ")" } ", calculated from its parts." }
            }
            @if let Some(jar) = c.from_jar(whole, larder) { " It is " (jar) "." }
        }
    }
}

/// Name, before, after, and the published range.
type BalanceRow = (&'static str, f64, f64, Option<(f64, f64)>);

fn balance(id: &str, c: &ReworkedComponent, larder: &Larder) -> Markup {
    let style = c.style.map(|s| s.style);
    let _ = larder;
    let range = |parameter: &str| {
        style
            .and_then(|s| s.range(parameter))
            .map(|r| (r.value.low().get(), r.value.high().get()))
    };
    let h = |b: &Balance| b.hydration.map_or(0.0, |h| h.likely().get());
    let (a, b) = (&c.original, &c.reworked);
    let rows: Vec<BalanceRow> = vec![
        ("hydration", h(a), h(b), range("hydration_eff")),
        (
            "starch",
            a.starch_share,
            b.starch_share,
            range("starch_share"),
        ),
        ("flour protein", a.flour_protein, b.flour_protein, None),
        ("binder", a.binder_percent(), b.binder_percent(), None),
        ("fat", a.fat, b.fat, None),
        ("sugar", a.sugar, b.sugar, None),
        ("egg", a.egg, b.egg, None),
        ("salt", a.salt, b.salt, None),
        ("yeast, as dry", a.yeast, b.yeast, None),
        ("leavening", a.leavening, b.leavening, None),
    ];
    let shown = || rows.iter().filter(|r| r.1 > 0.0 || r.2 > 0.0);
    let side = |of: fn(&BalanceRow) -> f64| picture::Parts {
        shares: shown().map(|r| picture::Share::new(r.0, of(r))).collect(),
    };
    let ranges: Vec<picture::Range> = shown()
        .filter_map(|r| {
            r.3.map(|(low, high)| picture::Range {
                part: r.0.to_owned(),
                low,
                high,
            })
        })
        .collect();
    picture::balance(
        &format!("{id}-balance"),
        &side(|r| r.1),
        &side(|r| r.2),
        &ranges,
    )
}

/// What holds it together.
fn binding(id: &str, b: &Binding) -> Markup {
    let bound = picture::Bound {
        of: b.lead.name().to_owned(),
        gives: b
            .gives
            .iter()
            .map(|g| picture::Share::new(g.name.clone(), g.counted.likely().get()))
            .collect(),
        sum: (b.sum.low().get(), b.sum.high().get()),
        range: (b.range.low().get(), b.range.high().get()),
        wanted: b.wanted,
    };
    html! {
        figure {
            figcaption { "Binder: what holds it together" }
            (picture::binding(&format!("{id}-binding"), &bound))
        }
    }
}

/// Water by what brings it, in the original and after.
fn water(id: &str, w: &Worked, i: usize, c: &ReworkedComponent, larder: &Larder) -> Markup {
    let of = |food: larder::FoodId, g: Mass| {
        let f = larder.food(food);
        if f.is_flour_phase() || !recipe::weigh::counts_as_wet(larder, food) {
            return None;
        }
        let water = larder.composition(food).water? / 100.0 * g.as_grams();
        (water > 0.0).then(|| (f.name.clone(), water))
    };
    let before: Vec<(String, f64)> = w.formula.components[i]
        .items
        .iter()
        .filter(|x| x.in_formula)
        .filter_map(|x| x.counted())
        .filter_map(|(food, g)| of(food, g.likely()))
        .collect();
    let after: Vec<(String, f64)> = c
        .lines
        .iter()
        .filter(|x| x.in_formula && x.kept != Kept::Dropped)
        .filter_map(|x| x.counted())
        .filter_map(|(food, g)| of(food, g.likely()))
        .collect();
    let side = |flour: &quantity::Spread<Mass>, sources: Vec<(String, f64)>| picture::Water {
        flour: flour.likely().as_grams(),
        sources: sources
            .into_iter()
            .map(|(name, grams)| picture::Share::new(name, grams))
            .collect(),
    };
    picture::water(
        &format!("{id}-water"),
        &side(&c.original.flour, before),
        &side(&c.reworked.flour, after),
    )
}

/// The make-up of a blend.
pub fn blend_picture(id: &str, b: &recipe::rework::blend::Blend, larder: &Larder) -> Markup {
    let part = |(f, s): &(larder::FoodId, f64), kind: picture::Kind| picture::Part {
        name: larder.food(*f).name.clone(),
        share: *s,
        kind,
    };
    let parts: Vec<picture::Part> = b
        .parts
        .iter()
        .map(|p| {
            let starch = larder.food(p.0).function() == Function::Starch;
            part(
                p,
                if starch {
                    picture::Kind::Starch
                } else {
                    picture::Kind::Flour
                },
            )
        })
        .chain(b.binders.iter().map(|p| part(p, picture::Kind::Binder)))
        .collect();
    picture::blend(&format!("{id}-blend"), &parts)
}

#[cfg(test)]
mod tests {
    use super::cups;
    use quantity::{Hold, Locale, Quantity, Unit};

    /// The words say what the units hold.
    #[test]
    fn cups_hold_what_is_said() {
        for locale in Locale::ALL {
            // A UK kitchen has spoons and a jug, no cups.
            let words = match locale {
                Locale::Uk => [(Unit::Tbsp, "tablespoon is"), (Unit::Tsp, "teaspoon")],
                _ => [(Unit::Cup, "cup is"), (Unit::Tbsp, "tablespoon")],
            };
            for (unit, word) in words {
                let Hold::Volume(v) = unit.hold(locale) else {
                    continue;
                };
                let ml = format!("{word} {:.0} mL", v.likely().value());
                assert!(cups(locale).contains(&ml), "{locale:?}: {ml}");
            }
        }
    }
}
