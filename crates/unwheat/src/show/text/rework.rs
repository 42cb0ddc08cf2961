//! `unwheat rework`: the gluten-free version beside the original, and why.

use super::screen::findings;
use super::{
    boiled_down, component_head, doubts, formula_doubts, hydration, makes, option_for, share, title,
};
use crate::show::Style;
use crate::show::table::{Side, paragraph, table};
use larder::Larder;
use quantity::{Locale, degrees_in, scales_of};
use recipe::household::{
    Scale, WEIGH_IT, is_fine, measure_of_blend, percent, scale_grams, spread_grams,
};
use recipe::rework::{Balance, Kept, LeftOutSummary, Rework, ReworkedComponent};
use recipe::screen::Screening;

use Side::{Left, Right};

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
pub fn rework(
    r: &Rework,
    before: &Screening,
    s: &Screening,
    larder: &Larder,
    locale: Locale,
    style: &Style,
) -> String {
    let told = |words: &str| degrees_in(words, locale);
    let mut out = title(&r.formula.recipe, style);
    for said in r.left_out().iter().flat_map(LeftOutSummary::sentences) {
        out.push_str(&paragraph("", &sentence(&said)));
    }
    let listed = r.components.iter().enumerate();
    for (i, c) in listed.filter(|(_, c)| c.is_listed()) {
        out.push_str(&component_head(&c.name, style));
        if let Some(choice) = c.style {
            out.push_str(&paragraph(
                "",
                &format!(
                    "Style: {}{}",
                    choice.words(),
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
        out.push_str(&boiled_down(&r.formula, i));
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
            let unsaid = [c.water_left_out(larder), c.on_the_label(larder)];
            for said in unsaid.iter().flatten() {
                out.push_str(&paragraph("", said));
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
            let words = format!(
                "{}: {} → {}.{range} {} [{}]",
                x.what,
                x.from,
                x.to,
                sentence(&x.rule),
                x.source
            );
            out.push_str(&paragraph("  • ", &told(&words)));
        }
        if let Some(raising) = r.raising(i, larder) {
            let text = crate::show::leaven::raising(&raising, larder, locale);
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
                    let whose = n.whose(&c.method_notes, &r.formula.recipe);
                    format!("{whose}Step {step}, ‘{words}’: {instead} Look for: {look}.")
                }
                _ => n.told(&c.method_notes, &r.formula.recipe, false),
            };
            out.push_str(&paragraph("  • ", &told(&text)));
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
    out.push_str(&findings(s, &names, larder, locale, style, Some(before)));
    out.push_str(&doubts(formula_doubts(&r.formula), style));
    out.push_str(&paragraph("\n", "An untested conversion: a starting point for a test bake. Weigh, bake, write down, change one thing.").replace("\n\n", "\n"));
    out
}

/// `unwheat rework --why`: why one line or figure of a component is what it is.
pub fn why(
    component: &str,
    what: &str,
    changes: &[&recipe::rework::Change],
    locale: Locale,
    style: &Style,
) -> String {
    let told = |words: &str| degrees_in(words, locale);
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
            &told(&format!(
                "{}: {moved}",
                sentence(&x.what).trim_end_matches('.')
            )),
        ));
        out.push_str(&paragraph("  Rule: ", &told(&sentence(&x.rule))));
        if let Some(range) = &x.range {
            out.push_str(&paragraph("  Range: ", &told(range)));
        }
        out.push_str(&paragraph("  Source: ", &x.source));
        for sum in &x.sums {
            out.push_str(&paragraph("    ", &scales_of(sum, locale)));
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
            r.household(i, l, larder, locale).map_or_else(
                || match l.grams {
                    Some(_) if l.component.is_none() => WEIGH_IT.to_owned(),
                    _ => String::new(),
                },
                |h| h.shown(),
            ),
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
    let jar = c.from_jar(whole, larder);
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
            "flour".to_owned(),
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
            let shown = |b: &Balance, v: f64| {
                let least = if matches!(name, "fat" | "sugar") {
                    b.at_least()
                } else {
                    ""
                };
                format!("{least}{}", p(v))
            };
            rows.push(vec![name.to_owned(), shown(a, x), shown(b, y)]);
        }
    }
    table(
        &["balance, % of flour", "before", "after"],
        &[Left, Right, Right],
        &[22, 26, 28],
        &rows,
    )
}
