//! `unwheat weigh`: the recipe in grams.

use super::{boiled_down, component_head, doubts, formula_doubts, hydration, makes, share, title};
use crate::show::Style;
use crate::show::table::{Side, paragraph, table};
use larder::Larder;
use recipe::household::{WEIGH_IT, is_fine, scale_grams, spread_grams};
use recipe::weigh::Formula;

use Side::{Left, Right};

/// `unwheat weigh`.
pub fn weigh(f: &Formula, larder: &Larder, style: &Style) -> String {
    let mut out = title(&f.recipe, style);
    let listed = f.components.iter().enumerate();
    for (c, component) in listed.filter(|(_, c)| c.is_listed()) {
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
                let back = w.measured(larder, f.locale);
                vec![
                    w.grams.map_or("–".to_owned(), |g| spread_grams(g, fine)),
                    name,
                    match back {
                        Some(h) => h.shown(),
                        None if w.grams.is_some() && w.food.is_some() => WEIGH_IT.to_owned(),
                        None => String::new(),
                    },
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
        out.push_str(&boiled_down(f, c));
        if let Some(h) = component.hydration.filter(|_| component.is_dough()) {
            out.push_str(&paragraph(
                "",
                &format!(
                    "Flour {} g; hydration {}, {}.",
                    scale_grams(component.flour.likely(), false),
                    hydration(h),
                    component.water_words(larder)
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
