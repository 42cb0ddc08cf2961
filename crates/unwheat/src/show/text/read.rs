//! `unwheat read`: the recipe as it was read.

use super::{component_head, doubts, title};
use crate::show::Style;
use crate::show::table::{Side, paragraph, table};
use larder::{FoodId, Larder};
use recipe::household::{is_fine, spread_grams};
use recipe::weigh::Weighed;
use recipe::{Amount, Doubt, Line, LineKind, Recipe};

use Side::Left;

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
        .flat_map(|(i, item)| {
            let words = |a: &Amount| l.words(&a.span).trim().to_owned();
            // '1 yolk + 1 tbsp cream' has a row for each.
            let further: Vec<(FoodId, &Amount)> = item.further().collect();
            let own = |a: &&Amount| !further.iter().any(|(_, f)| std::ptr::eq(*f, *a));
            let amounts: Vec<String> = item.amounts.iter().filter(own).map(words).collect();
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
            let first = vec![text, amounts.join(" · "), food];
            let more = further.iter().map(|(food, a)| {
                let name = larder.food(*food).name.clone();
                vec![String::new(), words(a), name]
            });
            let more: Vec<Vec<String>> = more.collect();
            std::iter::once(first).chain(more)
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
        let back = w.measured(larder, larder.locale());
        let back = back.map_or(String::new(), |h| format!(": {}", h.shown()));
        out.push_str(&paragraph("  = ", &format!("{grams} {food}{back}{basis}")));
    }
    for d in l.doubts.iter().chain(more) {
        out.push_str(&paragraph("  ? ", &d.message));
    }
    out
}
