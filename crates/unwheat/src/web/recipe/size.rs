//! The Size page: type any one figure, the rest follow.

use super::read::says;
use super::{Leaf, Open, change_to, component_name, fields, measures};
use crate::show::size::{FAR_OFF, at_hand, eggs, heading, is_egg, makes, off, signed};
use crate::web::app::App;
use crate::web::kitchen::counted;
use crate::web::kitchen::scale;
use crate::web::page::sentence;
use larder::Gluten;
use maud::{Markup, html};
use quantity::{Locale, Mass, Volume, degrees_in, lengths_in};
use recipe::household::{WEIGH_IT, percent, scale_grams};
use recipe::sheet::{Change, Worked};
use recipe::size::pan::{OwnPan, Pan, all, by_key};
use recipe::size::times;
use recipe::size::{
    Ask, Batch, BatchComponent, BatchLine, Have, LOCAL_RULES, OnScale, Pans, PartSize, Pieces,
    Target,
};

/// The kitchen's own pans, as its settings keep them.
pub fn own_pans(lines: &[String]) -> Vec<OwnPan> {
    lines.iter().map(|l| own_pan(l)).collect()
}

/// A pan of a line, without how many of it there are.
pub fn own_pan(line: &str) -> OwnPan {
    let pan = OwnPan::read(line);
    match counted(line) {
        Ok(many) => OwnPan {
            name: many.name,
            ..pan
        },
        Err(_) => pan,
    }
}

/// What stays of an ask when another figure is typed.
fn with(o: &Open, target: Target, part: Option<&str>) -> Ask {
    let now = o.draft.sheet.size.clone().unwrap_or_default();
    let kept = now.only && (part.is_none() || part == now.part.as_deref());
    Ask {
        target,
        part: match (part, kept) {
            (Some(part), _) => Some(part.to_owned()),
            (None, true) => now.part,
            (None, false) => None,
        },
        only: kept,
        parts: now.parts,
        whole_eggs: now.whole_eggs,
    }
}

fn asks(ask: Ask) -> Change {
    Change::Size { ask: Some(ask) }
}

fn json(change: &Change) -> String {
    serde_json::to_string(change).unwrap_or_default()
}

/// A field of its own form: its name, and what it shows.
struct Field<'a> {
    id: &'a str,
    label: &'a str,
    value: String,
    hint: &'a str,
    list: Option<&'static str>,
    wide: bool,
}

fn field(app: &App, o: &Open, f: &Field<'_>, ask: Ask) -> Markup {
    html! {
        form.size-field method="post" action=(change_to(o)) data-live data-k=(f.id) {
            (fields(app, o, Leaf::Size))
            (says(&asks(ask)))
            label for=(f.id) { (f.label) }
            input.f[!f.wide].short[!f.wide].long[f.wide] id=(f.id) name="value" value=(f.value) placeholder=(f.hint) list=[f.list] inputmode=[(!f.wide).then_some("decimal")] autocomplete="off" data-typed[!f.wide];
        }
    }
}

/// The page's body.
pub fn body(app: &App, o: &Open, w: &Worked) -> Markup {
    let batch = &w.batch;
    html! {
        section.sheet aria-labelledby="size-h" data-k="size" {
            h2 #size-h { "How much of it" }
            // Each has a key: what is being typed in stands, whatever comes or goes above it.
            div data-k="asked" { (asked(app, o, w)) }
            div.row.size-fields data-k="figures" { (figures(app, o, batch)) }
            @if w.formula.recipe.makes.as_ref().is_none_or(|m| m.count.is_none()) {
                p.hint data-k="no-count" { "The recipe does not say how many it makes or serves: " a href={ (o.at(Leaf::Card)) "#makes" } { "say it on the Card page" } ", and pieces and servings can be asked for." }
            }
            div data-k="pans" { (pans_and_more(app, o, w)) }
            div data-k="ways" { (ways(app, o, w)) }
            @for c in &batch.cautions { p.trouble data-k={ "mind-" (c.code) } { (lengths_in(&degrees_in(&c.text, o.home()), o.home())) " " small { "Source: " (sentence(c.source)) } } }
        }
        @for (i, c) in batch.components.iter().enumerate().filter(|(i, _)| w.rework.components[*i].is_listed()) { (component(app, o, w, i, c)) }
        datalist #pans {
            @for p in own_pans(&o.settings.pans) { option value=(p.name) { @if let Some(g) = p.water { (scale_grams(Mass::grams(g), false)) " g of water" } } }
            @for p in all() { option value=(p.called()) {} }
        }
    }
}

/// The size that a page is of, where it is not the recipe once.
pub fn of_size(o: &Open) -> Markup {
    html! {
        @if let Some(w) = o.worked().ok().filter(|w| !w.batch.is_plain()) {
            p data-k="of-size" { "For × " span.n { (times(w.batch.factor)) } " of the recipe, asked for: " (w.batch.asked) ". " a href=(o.at(Leaf::Size)) { "Change the size" } }
        }
    }
}

/// What was asked for, how it comes about, and how it is taken back.
fn asked(app: &App, o: &Open, w: &Worked) -> Markup {
    let batch = &w.batch;
    let ask = o.draft.sheet.size.as_ref();
    html! {
        @if let Some(refused) = &w.size_refused {
            p.trouble role="alert" { "What was asked for cannot be had: " (refused.to_string()) ". The recipe once is shown." }
        }
        @match ask {
            Some(ask) => div.row.mid {
                p { "You asked for " strong { (ask.to_string()) } ". This size is used for shape, heat, plan, shop, bench, card and days." }
                form method="post" action=(change_to(o)) data-live data-k="back" {
                    (fields(app, o, Leaf::Size))
                    button.small name="change" value=(json(&Change::Size { ask: None })) { "Take it back: the recipe once" }
                }
            },
            None => p { "The recipe once. Type any one figure; everything else follows from it." },
        }
        p {
            "× " span.n { (times(batch.factor)) }
            @if let Some((low, high)) = batch.range { " " span.range { "(between " (times(low)) " and " (times(high)) ")" } }
            @if let Some(makes) = makes(batch) { ": " (makes) }
            "."
        }
        @if !batch.sums.is_empty() { details { summary { "How it comes about" } ul.sums { @for s in &batch.sums { li { (s) } } } } }
        @if !batch.at_hand.is_empty() {
            ul.plain-list { @for h in &batch.at_hand { li {
                (h.name) ": " span.n { (scale_grams(h.have, false)) " g" } " at hand, " span.n { (scale_grams(h.takes, false)) " g" } " used"
                ", " @if h.limits { strong { (at_hand(h)) } } @else { (at_hand(h)) } "."
            } } }
        }
        @if let Some(p) = &batch.pans {
            @let v = p.pan.volume();
            @let ml = |v: Volume| format!("{:.0}", v.as_millilitres());
            p {
                @if p.count > 1 { (p.count) " × " } (sentence(&p.pan.words()).trim_end_matches('.')) ": " span.n { (ml(v.likely())) " mL" }
                @if v.low() != v.high() { " " span.range { "(" (ml(v.low())) "–" (ml(v.high())) ")" } }
                @if p.count > 1 { " each" }
                ", " (p.pan.basis().words()) "; with " span.n { (scale_grams(p.grams, false)) " g" } " of " (p.what)
                @if p.count > 1 { ", " span.n { (scale_grams(p.each(), false)) " g" } " in each," }
                " " span.n { (percent(100.0 * p.fill.likely().get())) } " filled"
                @if let Some(mm) = p.depth { ", " span.n { (format!("{mm:.0}")) " mm" } " deep" }
                "."
                @if let Some(words) = &p.not_counted { " " (words) }
            }
        }
    }
}

/// A count to a tenth.
fn tenth(n: f64) -> String {
    ((n * 10.0).round() / 10.0).to_string()
}

/// The figures that everything follows from.
fn figures(app: &App, o: &Open, batch: &Batch) -> Markup {
    let main = &batch.components[batch.main];
    let of = match main.name.as_str() {
        "" => "all of it".to_owned(),
        name => name.to_owned(),
    };
    let pieces = batch.pieces;
    let count = pieces.map_or(String::new(), |p| times(p.count));
    let each = pieces.map_or(String::new(), |p| scale_grams(p.each, false));
    let servings = batch
        .count
        .filter(|_| batch.servings)
        .map_or(String::new(), |(low, high)| tenth(f64::midpoint(low, high)));
    let grams = |m: Mass| scale_grams(m, false);
    let asked = match o.draft.sheet.size.as_ref().map(|a| &a.target) {
        Some(Target::Pieces(p)) => *p,
        _ => Pieces::default(),
    };
    let dough = format!("Weight of {of}, g");
    let flour = format!("Flour in {of}, g");
    html! {
            (field(app, o, &Field { id: "times", label: "Times the recipe", value: times(batch.factor), hint: "1.5", list: None, wide: false }, with(o, Target::Times(0.0), None)))
            (field(app, o, &Field { id: "pieces", label: "Pieces", value: count, hint: "12", list: None, wide: false },
                with(o, Target::Pieces(Pieces { count: Some(0.0), ..asked }), None)))
            (field(app, o, &Field { id: "each", label: "A piece, g", value: each, hint: "60", list: None, wide: false },
                with(o, Target::Pieces(Pieces { count: pieces.map(|p| p.count.round()).filter(|n| *n >= 1.0), each: Some(0.0), baked: false }), None)))
            @if batch.servings { (field(app, o, &Field { id: "servings", label: "Servings", value: servings, hint: "8", list: None, wide: false }, with(o, Target::Servings(0.0), None))) }
            (field(app, o, &Field { id: "dough", label: &dough, value: grams(main.makes.likely()), hint: "900", list: None, wide: false }, with(o, Target::Makes(0.0), None)))
            @if main.flour.likely().as_grams() > 0.0 {
                (field(app, o, &Field { id: "flour", label: &flour, value: grams(main.flour.likely()), hint: "400", list: None, wide: false }, with(o, Target::Flour(0.0), None)))
            }
    }
}

/// A pan that is still to be named.
fn no_pan() -> Pans {
    Pans {
        pan: String::new(),
        water: None,
        count: 1,
        fill: None,
        full: false,
    }
}

/// The pan that the method names, with what of it is assumed.
fn method_pan(w: &Worked) -> Option<String> {
    let panful = w.rework.panful(w.batch.main);
    let said = panful.said.as_ref().filter(|_| panful.rest_in.is_none())?;
    let many = match said.count {
        1 => String::new(),
        n => format!("{n} × "),
    };
    let assumed = said.assumed().map_or(String::new(), |a| format!(": {a}"));
    Some(format!("{many}{}{assumed}", said.pan.called()))
}

/// A pan as it can be typed again: one of the table by its name and measures.
fn named(pans: &Pans) -> String {
    let known = by_key(&pans.pan);
    known.map_or_else(|| pans.pan.clone(), Pan::called)
}

/// Pans, a sheet, what is at hand.
fn pans_and_more(app: &App, o: &Open, w: &Worked) -> Markup {
    let batch = &w.batch;
    let now = o.draft.sheet.size.as_ref().map(|a| &a.target);
    let (to, from) = match now {
        Some(Target::Pan(to)) => (Some(to), None),
        Some(Target::FromPan { from, to, .. }) => (Some(to), Some(from)),
        _ => (None, None),
    };
    let shown = |p: Option<&Pans>| {
        p.map_or(String::new(), |p| match p.count {
            1 => named(p),
            n => format!("{n} x {}", named(p)),
        })
    };
    let keep = matches!(
        now,
        Some(Target::FromPan {
            keep_depth: true,
            ..
        })
    );
    let (sheet, have) = match now {
        Some(Target::Sheet { typed, .. }) if !typed.is_empty() => (typed.clone(), String::new()),
        Some(Target::Sheet {
            long, wide, thick, ..
        }) => (
            format!(
                "{} x {} cm, {} mm",
                times(*long),
                times(*wide),
                times(*thick)
            ),
            String::new(),
        ),
        Some(Target::Have(list)) => {
            let words = list.iter().map(Have::words);
            (String::new(), words.collect::<Vec<_>>().join(", "))
        }
        _ => (String::new(), String::new()),
    };
    // A pan typed beside one it comes from keeps that.
    let into = match from {
        Some(from) => Target::FromPan {
            from: from.clone(),
            to: no_pan(),
            keep_depth: keep,
        },
        None => Target::Pan(no_pan()),
    };
    let (pans, pan, sheets) = match o.home() {
        Locale::Us => (
            "loaf 9x5, 2 x round 9x2 in",
            "round 8x2 in",
            "16 x 12 in, ¼ in",
        ),
        _ => (
            "loaf 23x13x7 cm, 2 x round 23x5 cm",
            "round 20x5 cm",
            "40 x 30 cm, 5 mm",
        ),
    };
    html! {
        div.row.size-fields {
            (field(app, o, &Field { id: "pan", label: "For a pan", value: shown(to), hint: pans, list: Some("pans"), wide: true }, with(o, into, None)))
            (field(app, o, &Field { id: "from", label: "in place of the pan", value: shown(from), hint: pan, list: Some("pans"), wide: true },
                with(o, Target::FromPan { from: no_pan(), to: to.cloned().unwrap_or_else(no_pan), keep_depth: keep }, None)))
            @if let (Some(from), Some(to)) = (from, to) {
                @let ask = with(o, Target::FromPan { from: from.clone(), to: to.clone(), keep_depth: !keep }, None);
                (tick(app, o, "keep-depth", "keep the depth", keep, ask))
            }
            (field(app, o, &Field { id: "sheet", label: "A sheet to roll out", value: sheet, hint: sheets, list: None, wide: true },
                with(o, Target::Sheet { long: 0.0, wide: 0.0, thick: 0.0, typed: String::new() }, None)))
            (field(app, o, &Field { id: "have", label: "What there is", value: have, hint: "210 g butter, 3 eggs", list: None, wide: true }, with(o, Target::Have(Vec::new()), None)))
        }
        @if let Some(methods) = method_pan(w) {
            p.hint {
                "The method names: " (methods) "."
                @if let Some(Target::Pan(to)) = now { @if to.full { " This pan is filled as suits it, whatever that one is." } @else { " This pan is in place of it, and as full." } }
            }
            @if let Some(Target::Pan(to)) = now {
                @let ask = with(o, Target::Pan(Pans { full: !to.full, fill: None, ..to.clone() }), None);
                (tick(app, o, "full", "as full as suits the pan", to.full, ask))
            }
        }
        @if batch.pans.is_some() { p.hint { "How full: common practice for gluten-free doughs and batters, no source. Surest is your own pan, and of a heart, a flower or a tin with steep slopes the only way: fill it to the rim with water on the scale and write 1500 g water here, or its name and that on the Kitchen page." } }
    }
}

/// A box that is ticked by a button, so that it works without scripts.
fn tick(app: &App, o: &Open, id: &str, words: &str, on: bool, ask: Ask) -> Markup {
    let ask = Some(ask).filter(|a| !a.is_plain());
    html! {
        form method="post" action=(change_to(o)) data-live data-k=(id) {
            (fields(app, o, Leaf::Size))
            button.tickbox id=(id) name="change" value=(json(&Change::Size { ask })) role="checkbox" aria-checked=(on) { (words) }
        }
    }
}

/// Whole eggs; components alone, or in an amount of their own.
fn ways(app: &App, o: &Open, w: &Worked) -> Markup {
    let now = o.draft.sheet.size.clone().unwrap_or_default();
    let batch = &w.batch;
    html! {
        @if !batch.eggs.is_empty() {
            div.row.mid {
                p {
                    "Eggs: " @for (i, e) in batch.eggs.iter().enumerate() { @if i > 0 { ", " } (eggs(e)) } "."
                    @if let Some(whole) = batch.whole_eggs.filter(|w| w.off.abs() <= FAR_OFF) { " × " (times(whole.factor)) " takes whole ones, " (signed(whole.off)) "." }
                    @if let Some(moved) = batch.moved { " Moved by " (signed(moved)) " for whole ones." }
                }
                @if batch.whole_eggs.is_some() || now.whole_eggs {
                    (tick(app, o, "whole-eggs", "whole eggs", now.whole_eggs, Ask { whole_eggs: !now.whole_eggs, ..now.clone() }))
                }
            }
        }
        @if batch.components.len() > 1 {
            @let used = |c: &BatchComponent| w.rework.components.iter().any(|x| x.name == c.name && x.used.is_some());
            div.row.mid {
                @for (i, c) in batch.components.iter().enumerate().filter(|(_, c)| used(c)) {
                    @let on = now.parts.get(&c.name) == Some(&PartSize::Enough);
                    @let ask = {
                        let mut ask = now.clone();
                        if on { ask.parts.remove(&c.name); } else { ask.parts.insert(c.name.clone(), PartSize::Enough); }
                        ask
                    };
                    (tick(app, o, &format!("enough{i}"), &format!("exactly enough {}", c.name), on, ask))
                }
                @for (i, c) in batch.components.iter().enumerate().filter(|(i, _)| w.rework.components[*i].is_listed()) {
                    @let on = now.only && (now.part.as_deref() == Some(&c.name) || now.part.is_none() && i == batch.main);
                    @let ask = Ask { part: (!on).then(|| c.name.clone()), only: !on, ..now.clone() };
                    (tick(app, o, &format!("only{i}"), &format!("only {}", if c.name.is_empty() { "the main part".to_owned() } else { recipe::the_part(&c.name) }), on, ask))
                }
            }
        }
    }
}

fn component(app: &App, o: &Open, w: &Worked, i: usize, c: &BatchComponent) -> Markup {
    let id = format!("s{i}");
    let scale = scale(&o.settings);
    // Where no line has a weight, what they make is not known, and no zero.
    let weighed = c.makes.likely().as_grams() > 0.0;
    let lines = c.on(&scale, &o.pantry.larder);
    let is_off = |lines: &[OnScale]| lines.iter().any(|on| !off(on).is_empty());
    let rounded = is_off(&lines);
    let all = &w.batch.components;
    let anywhere = || all.iter().any(|c| is_off(&c.on(&scale, &o.pantry.larder)));
    html! {
        section.sheet aria-labelledby=(id) data-k=(id) {
            @if c.factor <= 0.0 {
                h2 id=(id) { (component_name(&c.name)) ": not made" }
            } @else {
                div.between {
                    h2 id=(id) { (component_name(&c.name)) " × " (times(c.factor)) }
                    (field(app, o, &Field { id: &format!("makes{i}"), label: "Weight of it raw, g", value: if weighed { scale_grams(c.makes.likely(), false) } else { String::new() }, hint: if weighed { "900" } else { "?" }, list: None, wide: false },
                        with(o, Target::Makes(0.0), Some(&c.name))))
                }
                table.ledger.stack {
                    @if i == 0 { caption { "Type the grams of any line, and everything follows." @if anywhere() { " What rounding to the scale misses is in percent of the flour." } } }
                    @else { caption.unseen { (component_name(&c.name)) } }
                    thead { tr { th scope="col" { (sentence(heading(c)).trim_end_matches('.')) } th.f scope="col" { "Grams" } th scope="col" { "In " (measures(o)) } @if rounded { th.f scope="col" { "Rounding" } } } }
                    tbody { @for (l, on) in c.lines.iter().zip(&lines) { (line(app, o, w, i, c, l, on, rounded)) } }
                }
                @if let (Some(used), Some(left)) = (c.used, c.left) {
                    p { span.n { (scale_grams(used.likely(), false)) " g" } " of it is used, "
                        @if let Some(short) = c.short() { strong { (scale_grams(short, false)) " g short" } "." }
                        @else { span.n { (scale_grams(left.likely(), false)) " g" } " left over." }
                    }
                }
                @if let Some(k) = c.keeping { p.hint { "What is left: " (degrees_in(k.text, o.home())) " " (LOCAL_RULES) " Source: " (sentence(k.source)) } }
            }
        }
    }
}

#[allow(clippy::too_many_arguments, reason = "one row of one table")]
fn line(
    app: &App,
    o: &Open,
    w: &Worked,
    i: usize,
    c: &BatchComponent,
    l: &BatchLine,
    on: &OnScale,
    rounded: bool,
) -> Markup {
    let larder = &o.pantry.larder;
    let batch = &w.batch;
    let id = format!("l{i}-{}", l.key.replace([' ', '#', ':', '\''], "_"));
    let name = match l.component.and_then(|x| batch.components.get(x)) {
        Some(other) => format!("the {}", other.name),
        None => l.name.clone(),
    };
    let drawer = o.drawer().beside(scale(&o.settings));
    let household = batch.household(&w.rework, i, l, larder, drawer);
    let of = &w.rework.components[i];
    let blend = of
        .blend
        .as_ref()
        .filter(|b| of.lines[l.at].blend && b.parts.len() > 1);
    let scale = scale(&o.settings);
    html! {
        tr data-k=(id) {
            td.full.first {
                (name)
                @match l.gluten {
                    Gluten::Contains => { " " span.tag.warn { "contains gluten" } },
                    Gluten::Check => { " " span.tag.warn { "check the label" } },
                    Gluten::Free => {},
                }
                @if let Some(words) = w.rework.beside(i, &of.lines[l.at]) { " " span.tag.line { (words) } }
                @if let (Some(b), Some(whole)) = (blend, on.grams) {
                    br; small { @for (n, p) in b.weighed_out(&scale, whole).iter().enumerate() { @if n > 0 { ", " } (p.grams) " g " (larder.food(p.food).name) } }
                    @if let Some(jar) = of.from_jar(Mass::grams(whole), larder) { br; small { (jar) } }
                }
            }
            td.f data-h="grams" {
                @if l.component.is_some() { @if let Some(g) = on.grams { (g) } }
                @else if let Some(g) = on.grams {
                    form method="post" action=(change_to(o)) data-live data-k={ "h" (id) } {
                        (fields(app, o, Leaf::Size))
                        (says(&asks(with(o, Target::Line { line: l.key.clone(), grams: 0.0 }, Some(&c.name)))))
                        input.f id=(id) name="value" value=(g) inputmode="decimal" autocomplete="off" data-typed aria-label={ "Grams of " (name) };
                    }
                    @if on.finer { small { "finer than your scale" } }
                }
                @else if let Some(words) = on.words() { (words) }
                @else { span.tag.warn { "not weighed" } }
            }
            td data-h=(measures(o)) {
                @match (household, on.grams, l.component) {
                    (Some(h), _, None) => span.n.m { (if is_egg(batch, l) { h.words } else { h.shown() }) },
                    (None, Some(_), None) => span.range { (WEIGH_IT) },
                    _ => {},
                }
            }
            @if rounded {
                td.f data-h="rounding" { @let missed = off(on); @if !missed.is_empty() { span.range { (missed) " %" } } }
            }
        }
    }
}
