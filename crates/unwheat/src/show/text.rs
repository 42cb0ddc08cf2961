//! The terminal's pages, 80 columns wide.

use super::Style;
use super::table::{Side, paragraph, table};
use larder::allergen::Regime;
use larder::{Gluten, Larder};
use quantity::{Locale, Ratio, Spread};
use recipe::household::{
    Scale, household, is_fine, measure_of_blend, of_flour, percent, scale_grams, spread_grams,
};
use recipe::rework::{Balance, Kept, LeftOutSummary, Rework, ReworkedComponent};
use recipe::screen::Screening;
use recipe::weigh::{Formula, Weighed};
use recipe::{Doubt, Line, LineKind, Recipe};

use Side::{Left, Right};

fn title(recipe: &Recipe, style: &Style) -> String {
    let mut out = String::new();
    if let Some(t) = &recipe.title {
        out.push_str(&heading(t, style));
    }
    if let Some(m) = &recipe.makes {
        out.push_str(&super::plain(&m.text));
        out.push('\n');
    }
    if let Some(s) = recipe.source.words() {
        out.push_str(&paragraph("", &format!("From: {s}")));
    }
    out
}

fn component_head(name: &str, style: &Style) -> String {
    if name.is_empty() {
        "\n".to_owned()
    } else {
        format!("\n{}", heading(&name.to_uppercase(), style))
    }
}

/// A heading, broken where it is wider than the page.
fn heading(text: &str, style: &Style) -> String {
    let lines = super::table::wrap(text, super::table::WIDTH);
    lines.iter().map(|l| style.heading(l) + "\n").collect()
}

fn doubts<'a>(list: impl Iterator<Item = (String, &'a Doubt)>, style: &Style) -> String {
    let mut out = String::new();
    for (place, d) in list {
        let place = if place.is_empty() {
            String::new()
        } else {
            format!("{place}: ")
        };
        out.push_str(&paragraph(
            "  ? ",
            &format!("{place}{}{}", d.message, option_for(d)),
        ));
    }
    if out.is_empty() {
        out
    } else {
        format!("\n{}\n{out}", style.mark("To check"))
    }
}

/// The option that answers a doubt here.
fn option_for(doubt: &Doubt) -> &'static str {
    match doubt.code {
        recipe::DoubtCode::StyleUnsure => " (with --style)",
        recipe::DoubtCode::LocaleUnsure => " (with --locale uk or --locale au)",
        recipe::DoubtCode::GumInMix => {
            " (write 'with gum in it' or 'without gum' behind it in the recipe)"
        }
        _ => "",
    }
}

/// `unwheat read`.
pub fn read(recipe: &Recipe, larder: &Larder, style: &Style) -> String {
    let mut out = title(recipe, style);
    for c in &recipe.components {
        out.push_str(&component_head(&c.name, style));
        let rows: Vec<Vec<String>> = c.lines.iter().flat_map(|l| read_rows(l, larder)).collect();
        out.push_str(&table(
            &["line", "amount", "read as"],
            &[Left, Left, Left],
            &[38, 19, 19],
            &rows,
        ));
    }
    if !recipe.steps.is_empty() {
        out.push_str(&format!("\n{}\n", style.heading("METHOD")));
    }
    for s in &recipe.steps {
        let lead = format!("{:>2}. ", s.number);
        out.push_str(&paragraph(&lead, &s.text));
        let mut facts: Vec<&str> = s
            .facts
            .iter()
            .filter_map(|f| s.text.get(f.span.clone()))
            .collect();
        facts.dedup();
        if !facts.is_empty() {
            out.push_str(&paragraph("    = ", &facts.join(" · ")));
        }
    }
    if !recipe.notes.is_empty() {
        out.push_str(&format!("\n{}\n", style.heading("NOTES")));
        for n in &recipe.notes {
            out.push_str(&paragraph("  ", n));
        }
    }
    let lines = recipe.components.iter().flat_map(|c| &c.lines);
    let all = lines
        .flat_map(|l| {
            l.doubts
                .iter()
                .map(|d| (format!("line {}, '{}'", l.number, l.clean.trim()), d))
        })
        .chain(
            recipe
                .steps
                .iter()
                .flat_map(|s| s.doubts.iter().map(|d| (format!("step {}", s.number), d))),
        )
        .chain(recipe.doubts.iter().map(|d| (String::new(), d)));
    out.push_str(&doubts(all, style));
    out
}

fn read_rows(l: &Line, larder: &Larder) -> Vec<Vec<String>> {
    if l.kind != LineKind::Ingredient {
        return vec![vec![
            l.clean.trim().to_owned(),
            String::new(),
            "(kept as a note)".to_owned(),
        ]];
    }
    l.items
        .iter()
        .enumerate()
        .map(|(i, item)| {
            let amounts: Vec<String> = item
                .amounts
                .iter()
                .map(|a| l.words(&a.span).trim().to_owned())
                .collect();
            let food = match (&item.food, &item.reference) {
                (_, Some(r)) => format!("the {}", r.name),
                (Some(m), _) => larder.food(m.food).name.clone(),
                _ => "?".to_owned(),
            };
            let text = if i == 0 {
                l.clean.trim().to_owned()
            } else {
                String::new()
            };
            vec![text, amounts.join(" · "), food]
        })
        .collect()
}

/// One line of `weigh --lines`.
pub fn line(l: &Line, weighed: &[Weighed], more: &[Doubt], larder: &Larder) -> String {
    let mut out = paragraph("", l.clean.trim());
    for w in weighed {
        let food = w
            .food
            .map_or("?".to_owned(), |f| larder.food(f).name.clone());
        let grams = w.grams.map_or("not weighed".to_owned(), |g| {
            spread_grams(g, w.food.is_some_and(|f| is_fine(larder, f)))
        });
        let basis = w
            .basis
            .as_ref()
            .map_or(String::new(), |b| format!(" [{}]", b.words()));
        out.push_str(&paragraph("  = ", &format!("{grams} {food}{basis}")));
    }
    for d in l.doubts.iter().chain(more) {
        out.push_str(&paragraph("  ? ", &d.message));
    }
    out
}

/// The doubts of a formula with their lines.
fn formula_doubts(f: &Formula) -> impl Iterator<Item = (String, &Doubt)> {
    let place = |c: usize, l: usize| {
        f.recipe.components[c]
            .lines
            .get(l)
            .map_or(String::new(), |l| format!("'{}'", l.clean.trim()))
    };
    let read = f
        .recipe
        .components
        .iter()
        .flat_map(|c| &c.lines)
        .flat_map(|l| {
            l.doubts
                .iter()
                .map(move |d| (format!("'{}'", l.clean.trim()), d))
        });
    read.chain(f.doubts.iter().map(move |(c, l, d)| (place(*c, *l), d)))
        .chain(f.recipe.doubts.iter().map(|d| (String::new(), d)))
}

/// `unwheat weigh`.
pub fn weigh(f: &Formula, larder: &Larder, style: &Style) -> String {
    let mut out = title(&f.recipe, style);
    for (c, component) in f.components.iter().enumerate() {
        out.push_str(&component_head(&component.name, style));
        let rows: Vec<Vec<String>> = component
            .items
            .iter()
            .map(|w| {
                let line = &f.recipe.components[c].lines[w.line];
                let name = match (w.food, w.component) {
                    (Some(x), _) => larder.food(x).name.clone(),
                    (None, Some(x)) => format!("the {}", f.components[x].name),
                    _ => format!("? {}", line.clean.trim()),
                };
                let fine = w.food.is_some_and(|x| is_fine(larder, x));
                let back = w
                    .food
                    .zip(w.grams)
                    .and_then(|(x, g)| household(larder, x, g.likely(), f.locale));
                vec![
                    w.grams.map_or("–".to_owned(), |g| spread_grams(g, fine)),
                    name,
                    back.map_or(String::new(), |h| h.shown()),
                    share(w.percent.filter(|_| component.is_dough())),
                    w.basis
                        .as_ref()
                        .map_or(String::new(), recipe::weigh::Basis::words),
                ]
            })
            .collect();
        out.push_str(&table(
            &["grams", "ingredient", "household", "flour", "basis"],
            &[Right, Left, Left, Right, Left],
            &[18, 18, 12, 6, 18],
            &rows,
        ));
        out.push_str(&makes(component.makes, component.used, component.left));
        if let Some(h) = component.hydration.filter(|_| component.is_dough()) {
            out.push_str(&paragraph(
                "",
                &format!(
                    "Flour {} g; hydration {}, all water counted.",
                    scale_grams(component.flour.likely(), false),
                    hydration(h)
                ),
            ));
        }
        if component.unweighed > 0 {
            let n = component.unweighed;
            out.push_str(&format!(
                "{n} {} not weighed.\n",
                if n == 1 { "line is" } else { "lines are" }
            ));
        }
    }
    out.push_str(&doubts(formula_doubts(f), style));
    out
}

fn makes(
    makes: Spread<quantity::Mass>,
    used: Option<Spread<quantity::Mass>>,
    left: Option<Spread<quantity::Mass>>,
) -> String {
    let mut text = format!("Makes {} raw", spread_grams(makes, false));
    if let (Some(u), Some(l)) = (used, left) {
        text.push_str(&format!(
            "; {} is used, {} left over",
            spread_grams(u, false),
            spread_grams(l, false)
        ));
    }
    paragraph("", &format!("{text}."))
}

fn hydration(h: Spread<Ratio>) -> String {
    let (l, m, u) = (h.low().get(), h.likely().get(), h.high().get());
    if u - l < 1.0 {
        format!("{m:.0} %")
    } else {
        format!("{m:.0} % ({l:.0}–{u:.0})")
    }
}

fn share(p: Option<Spread<Ratio>>) -> String {
    p.and_then(of_flour).unwrap_or_default()
}

/// `unwheat screen`.
pub fn screening(
    s: &Screening,
    components: &[&str],
    title: Option<&str>,
    larder: &Larder,
    style: &Style,
) -> String {
    let mut out = String::new();
    if let Some(t) = title {
        out.push_str(&heading(t, style));
    }
    out.push_str(&findings(s, components, larder, style, false));
    out
}

/// Gluten and allergens, shared by screen and rework.
fn findings(
    s: &Screening,
    components: &[&str],
    larder: &Larder,
    style: &Style,
    short: bool,
) -> String {
    let mut out = format!(
        "\n{}: {}\n",
        style.heading("GLUTEN"),
        style.mark(s.verdict.words())
    );
    let shown: Vec<_> = s
        .findings
        .iter()
        .filter(|f| !short || f.verdict != Gluten::Free)
        .collect();
    let free = s.findings.len() - shown.len();
    let rows: Vec<Vec<String>> = {
        let mut sorted = shown;
        sorted.sort_by_key(|f| f.verdict);
        sorted
            .iter()
            .map(|f| {
                let part = components.get(f.component).copied().unwrap_or("");
                let words = if part.is_empty() {
                    f.words.clone()
                } else {
                    format!("{} ({part})", f.words)
                };
                let reason = match &f.note {
                    Some(n) => format!("{}; {n}", f.reason),
                    None => f.reason.clone(),
                };
                vec![f.verdict.words().to_owned(), words, reason]
            })
            .collect()
    };
    if !rows.is_empty() {
        out.push_str(&table(
            &["verdict", "line", "why"],
            &[Left, Left, Left],
            &[15, 28, 33],
            &rows,
        ));
    }
    if free > 0 {
        out.push_str(&format!(
            "{free} other {} free by nature.\n",
            if free == 1 {
                "ingredient is"
            } else {
                "ingredients are"
            }
        ));
    }
    let milled = s.milled(larder);
    if !milled.is_empty() {
        out.push_str(&paragraph(
            "",
            &format!(
                "Free by nature, but milled or packed beside wheat; buy labelled gluten-free: {}.",
                milled.join(", ")
            ),
        ));
    }
    for m in &s.method {
        out.push_str(&paragraph("  ! ", m));
    }
    out.push_str(
        &paragraph("Gluten of the finished food: ", &s.ppm.words())
            .replace("                             ", "  "),
    );
    let most = if short { 3 } else { s.ppm.unknown.len() };
    for u in s.ppm.unknown.iter().take(most) {
        out.push_str(&paragraph("  ? ", u));
    }
    if s.ppm.unknown.len() > most {
        let more = s.ppm.unknown.len() - most;
        out.push_str(&format!("  ? and {more} more: see unwheat screen\n"));
    }
    out.push_str(&format!("\n{}\n", style.heading("ALLERGENS")));
    for &r in Regime::ALL {
        let st = s.statement(r);
        let contains = if st.contains.is_empty() {
            "nothing on its list is certain".to_owned()
        } else {
            st.contains.join(", ")
        };
        out.push_str(&paragraph("  ", &format!("{}: {contains}.", r.name())));
        if !short {
            for c in &st.check {
                out.push_str(&paragraph("    ? ", c));
            }
            for n in &st.notes {
                out.push_str(&paragraph("    · ", n));
            }
        }
    }
    if short {
        let st = s.statement(Regime::Eu);
        if !st.check.is_empty() {
            out.push_str(&paragraph(
                "  ? ",
                &format!(
                    "check labels, for what {} list: {}",
                    Regime::Eu.name(),
                    st.check.join("; ")
                ),
            ));
        }
    }
    if !s.cautions.is_empty() {
        out.push_str(&format!("\n{}\n", style.heading("CAUTIONS")));
        for c in &s.cautions {
            out.push_str(&paragraph("  ! ", c.text));
        }
    }
    out
}

/// What stands behind a style: '. Behind it: 12 published formulas and 1 pair.'
fn behind(style: recipe::rework::style::Style) -> String {
    recipe::evidence::shipped()
        .of(style)
        .map_or(String::new(), |b| {
            format!(
                ". Behind it: {}.",
                recipe::evidence::behind(b.formulas, b.pairs)
            )
        })
}

/// `unwheat rework`.
pub fn rework(r: &Rework, s: &Screening, larder: &Larder, locale: Locale, style: &Style) -> String {
    let mut out = title(&r.formula.recipe, style);
    for said in r.left_out().iter().flat_map(LeftOutSummary::sentences) {
        out.push_str(&paragraph("", &sentence(&said)));
    }
    for (i, c) in r.components.iter().enumerate() {
        out.push_str(&component_head(&c.name, style));
        if let Some(choice) = c.style {
            let sure = (choice.confidence * 100.0).round();
            let next = choice
                .next
                .filter(|_| sure < 90.0)
                .map_or(String::new(), |n| format!("; else {}", n.name()));
            let how = if choice.confidence >= 1.0 && choice.next.is_none() {
                "as you said".to_owned()
            } else {
                format!("{sure:.0} % sure{next}")
            };
            out.push_str(&paragraph(
                "",
                &format!(
                    "Style: {} ({how}){}",
                    choice.style.name(),
                    if c.wetness().is_some() {
                        String::new()
                    } else {
                        behind(choice.style)
                    }
                ),
            ));
        }
        let rows = side_by_side(r, i, c, larder, locale);
        out.push_str(&table(
            &["original", "gluten-free", "grams", "household", "flour"],
            &[Left, Left, Right, Left, Right],
            &[19, 19, 16, 12, 6],
            &rows,
        ));
        if let Some(b) = &c.blend {
            out.push_str(&blend_words(b, c, larder, locale));
        }
        out.push_str(&makes(c.makes, c.used, c.left));
        let missing = c.unweighed();
        if missing > 0 {
            out.push_str(&format!(
                "{missing} {} not weighed and not in that.\n",
                if missing == 1 { "line is" } else { "lines are" }
            ));
        }
        if c.is_dough() {
            out.push_str(&balance_table(&c.original, &c.reworked, larder));
            if let Some(wetness) = c.wetness() {
                out.push_str(&paragraph("", &wetness));
            }
        }
        if let Some(b) = c.binding.as_ref().filter(|_| c.is_dough()) {
            out.push_str(&format!("{}\n", style.heading("Binder")));
            out.push_str(&paragraph("  ", &sentence(&b.summary())));
            for words in b.lines(c.style.map_or("", |s| s.style.name())) {
                out.push_str(&paragraph("  • ", &sentence(&words)));
            }
        }
        if !c.changes.is_empty() {
            out.push_str(&format!("{}\n", style.heading("Changes")));
        }
        for x in &c.changes {
            let range = x
                .range
                .as_ref()
                .map_or(String::new(), |r| format!(" Range {r}."));
            out.push_str(&paragraph(
                "  • ",
                &format!(
                    "{}: {} → {}.{range} {} [{}]",
                    x.what,
                    x.from,
                    x.to,
                    sentence(&x.rule),
                    x.source
                ),
            ));
        }
        if let Some(raising) = r.raising(i, larder) {
            let text = super::leaven::raising(&raising, larder);
            if !text.is_empty() {
                out.push_str(&format!("{}\n{text}", style.heading(raising.title())));
            }
        }
        if !c.method_notes.is_empty() {
            out.push_str(&format!("{}\n", style.heading("Method")));
        }
        for n in &c.method_notes {
            let words = n.words(&r.formula.recipe);
            let text = match (n.step, words, &n.aid) {
                (Some(step), Some(words), Some(aid)) => {
                    let words: Vec<&str> = words.split_whitespace().collect();
                    let (words, instead, look) = (words.join(" "), &aid.instead, &aid.look_for);
                    let step = r.formula.recipe.step_label(step);
                    format!("Step {step}, ‘{words}’: {instead} Look for: {look}.")
                }
                _ => n.shown(&r.formula.recipe),
            };
            out.push_str(&paragraph("  • ", &text));
        }
        for d in &c.doubts {
            out.push_str(&paragraph(
                "  ? ",
                &format!("{}{}", d.message, option_for(d)),
            ));
        }
    }
    for clash in r.clashes() {
        out.push_str(&paragraph("  ! ", &clash.to_string()));
    }
    for pin in &r.idle_pins {
        out.push_str(&paragraph(
            "  ? ",
            &format!(
                "'{}' was to be held at {}, but there is no such line: nothing is held there",
                pin.line, pin.hold
            ),
        ));
    }
    let names: Vec<&str> = r.components.iter().map(|c| c.name.as_str()).collect();
    out.push_str(&findings(s, &names, larder, style, true));
    out.push_str(&doubts(formula_doubts(&r.formula), style));
    out.push_str(&paragraph("\n", "An untested conversion: a starting point for a test bake. Weigh, bake, write down, change one thing.").replace("\n\n", "\n"));
    out
}

/// `unwheat rework --why`: why one line or figure of a component is what it is.
pub fn why(
    component: &str,
    what: &str,
    changes: &[&recipe::rework::Change],
    style: &Style,
) -> String {
    let mut out = component_head(component, style);
    if changes.is_empty() {
        out.push_str(&paragraph(
            "",
            &format!(
                "{} is as in the original: nothing was changed.",
                sentence(what).trim_end_matches('.')
            ),
        ));
    }
    for x in changes {
        let moved = if x.from == x.to {
            x.to.clone()
        } else {
            format!("{} → {}", x.from, x.to)
        };
        out.push_str(&paragraph(
            "",
            &format!("{}: {moved}", sentence(&x.what).trim_end_matches('.')),
        ));
        out.push_str(&paragraph("  Rule: ", &sentence(&x.rule)));
        if let Some(range) = &x.range {
            out.push_str(&paragraph("  Range: ", range));
        }
        out.push_str(&paragraph("  Source: ", &x.source));
        for sum in &x.sums {
            out.push_str(&paragraph("    ", sum));
        }
    }
    out
}

fn sentence(rule: &str) -> String {
    let mut c = rule.chars();
    let first: String = c
        .next()
        .map(|x| x.to_uppercase().collect())
        .unwrap_or_default();
    format!("{first}{}.", c.as_str())
}

fn side_by_side(
    r: &Rework,
    i: usize,
    c: &ReworkedComponent,
    larder: &Larder,
    locale: Locale,
) -> Vec<Vec<String>> {
    let was = |l: &recipe::rework::ReworkedLine| r.was(i, l, larder);
    let merged = |l: &recipe::rework::ReworkedLine| c.blend.is_some() && l.is_in_blend(larder);
    let mut rows = Vec::new();
    let mut shown = None;
    for l in &c.lines {
        if l.kept == Kept::Dropped {
            // The first flour stands beside the blend that replaces it.
            if shown != Some(l.origin) || !merged(l) {
                let to = match (merged(l), l.origin) {
                    (true, _) => "(in the blend)".to_owned(),
                    (false, Some(_)) => "(left out)".to_owned(),
                    (false, None) => format!("({}: left out)", l.name),
                };
                rows.push(vec![
                    was(l),
                    to,
                    String::new(),
                    String::new(),
                    String::new(),
                ]);
            }
            continue;
        }
        if l.blend {
            shown = Some(l.origin);
        }
        let old = if l.blend {
            c.lines
                .iter()
                .find(|d| merged(d) && d.origin == l.origin)
                .map_or(String::new(), was)
        } else {
            was(l)
        };
        let mark = match l.kept {
            _ if l.held => "= ",
            Kept::Same => "",
            Kept::Changed => "* ",
            _ => "+ ",
        };
        let name = match l.component {
            Some(x) => format!("the {}", r.components[x].name),
            None => l.name.clone(),
        };
        let aside = match (r.beside(i, l), l.held) {
            (None, false) => String::new(),
            (None, true) => " (held)".to_owned(),
            (Some(beside), false) => format!(" ({beside})"),
            (Some(beside), true) => format!(" (held, {beside})"),
        };
        let fine = l.food.is_some_and(|f| is_fine(larder, f));
        rows.push(vec![
            old,
            format!("{mark}{name}{aside}"),
            l.grams.map_or("–".to_owned(), |g| spread_grams(g, fine)),
            r.household(i, l, larder, locale)
                .map_or(String::new(), |h| h.shown()),
            share(l.percent.filter(|_| c.is_dough())),
        ]);
    }
    rows
}

fn blend_words(
    b: &recipe::rework::blend::Blend,
    c: &ReworkedComponent,
    larder: &Larder,
    locale: Locale,
) -> String {
    let portions = c.blend_weighed(&Scale::default());
    let whole = quantity::Mass::grams(portions.iter().map(|p| p.grams).sum());
    let parts: Vec<String> = portions
        .iter()
        .map(|p| {
            let name = &larder.food(p.food).name;
            format!("{} g {name} ({:.0} %)", p.grams, p.percent)
        })
        .collect();
    let cup = measure_of_blend(larder, b, locale).map_or(String::new(), |(measure, g)| {
        format!(
            " {measure} weighs about {} g ({}–{}), {}.",
            scale_grams(g.likely(), false),
            scale_grams(g.low(), false),
            scale_grams(g.high(), false),
            if b.cup_grams.is_some() {
                b.cup_basis()
            } else {
                "calculated from its parts"
            }
        )
    });
    let jar = b.from_jar(whole, larder);
    let jar = jar.map_or(String::new(), |w| format!(" It is {w}."));
    paragraph(
        "",
        &format!(
            "{}: {}.{cup}{jar}",
            sentence(&b.name).trim_end_matches('.'),
            parts.join(", ")
        ),
    )
}

fn balance_table(a: &Balance, b: &Balance, larder: &Larder) -> String {
    let h = |x: &Balance| x.hydration.map_or("–".to_owned(), hydration);
    let p = percent;
    let binders = |x: &Balance| {
        let list: Vec<String> = x
            .binders
            .iter()
            .map(|(f, v)| format!("{} {}", larder.food(*f).name, p(*v)))
            .collect();
        if list.is_empty() {
            "none".to_owned()
        } else {
            list.join(", ")
        }
    };
    let mut rows = vec![
        vec![
            "flour phase".to_owned(),
            spread_grams(a.flour, false),
            spread_grams(b.flour, false),
        ],
        vec!["hydration".to_owned(), h(a), h(b)],
        vec![
            "starch ingredients".to_owned(),
            p(a.starch_share),
            p(b.starch_share),
        ],
        vec![
            "flour protein".to_owned(),
            p(a.flour_protein),
            p(b.flour_protein),
        ],
        vec!["binder".to_owned(), binders(a), binders(b)],
    ];
    for (name, x, y) in [
        ("fat", a.fat, b.fat),
        ("sugar", a.sugar, b.sugar),
        ("egg", a.egg, b.egg),
        ("salt", a.salt, b.salt),
        ("yeast (as dry)", a.yeast, b.yeast),
        ("leavening", a.leavening, b.leavening),
    ] {
        if x > 0.0 || y > 0.0 {
            rows.push(vec![name.to_owned(), p(x), p(y)]);
        }
    }
    table(
        &["balance, % of flour", "before", "after"],
        &[Left, Right, Right],
        &[22, 26, 28],
        &rows,
    )
}
