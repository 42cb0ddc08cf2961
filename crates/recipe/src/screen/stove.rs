//! What harms at the stove: hot oil, and beans that are not boiled hard.

use super::Caution;
use crate::recipe::FactKind;
use crate::sentences::each;
use crate::weigh::Formula;

/// Fat this hot, °C, is fat to fry in.
const FRYING: std::ops::RangeInclusive<f64> = 140.0..=205.0;

const OIL: Caution = Caution {
    code: "hot_oil",
    text: "Hot oil: fill a deep pan a third at most, dry what goes in, lower it in gently and never leave the pan. If it smokes, turn the heat off. Never put water on burning oil: cover it, turn the heat off if you can reach it, leave and call the fire service. Oil that has fried wheat holds gluten: fry in fresh oil. Usual advice; local rules come first.",
    source: "advice of fire services, from memory",
};
const BEANS: Caution = Caution {
    code: "raw_kidney_beans",
    text: "Dried kidney beans hold a toxin (phytohaemagglutinin) that only a hard boil destroys: soak them for 5 hours or overnight, throw that water away, and boil them hard in fresh water for 10 minutes at least (the FDA says 30) before they simmer. A slow cooker does not get hot enough. Usual advice; local rules come first.",
    source: "FDA, Bad Bug Book, and UK advice of 10 minutes, from memory",
};

/// The cautions of a recipe that fries in deep oil or cooks dried kidney beans.
pub(super) fn cautions(formula: &Formula) -> Vec<Caution> {
    let recipe = &formula.recipe;
    let lines = recipe.components.iter().flat_map(|c| &c.lines);
    let lines: Vec<String> = lines.map(|l| l.clean.to_lowercase()).collect();
    let steps: Vec<String> = recipe.steps.iter().map(|s| s.text.to_lowercase()).collect();
    let mut out = Vec::new();
    let says_deep = |text: &String| {
        let mut after = text
            .match_indices("deep")
            .map(|(at, w)| &text[at + w.len()..]);
        after.any(|rest| {
            let rest = rest.trim_start_matches([' ', '-']);
            ["fry", "frie", "fat"].iter().any(|w| rest.starts_with(w))
        })
    };
    let fat = |said: &str| {
        let mut words = said.split(|c: char| !c.is_alphabetic());
        let oven = said.contains("oven") || said.contains("bake") || said.contains("roast");
        !oven && words.any(|w| matches!(w, "oil" | "fat" | "lard" | "dripping" | "fryer"))
    };
    let hot = recipe.steps.iter().any(|s| {
        let hot = s.facts.iter().filter(|f| match &f.kind {
            FactKind::Temperature { value, .. } => FRYING.contains(&value.likely().as_celsius()),
            _ => false,
        });
        let hot: Vec<&str> = hot.filter_map(|f| s.text.get(f.span.clone())).collect();
        let said: Vec<String> = each(&s.text).map(str::to_lowercase).collect();
        said.iter()
            .any(|said| fat(said) && hot.iter().any(|h| said.contains(&h.to_lowercase())))
    });
    if hot || lines.iter().chain(&steps).any(says_deep) {
        out.push(OIL);
    }
    let ready = ["tin", "can ", "cans", "canned", "jar", "cooked", "drained"];
    let beans = |l: &&String| l.contains("kidney bean") && !ready.iter().any(|w| l.contains(w));
    let soaked = || {
        steps
            .iter()
            .any(|s| s.contains("soak") && s.contains("bean"))
    };
    let dried =
        |l: &String| l.contains("dried") || l.contains("dry ") || l.contains("soaked") || soaked();
    if lines.iter().filter(beans).any(dried) {
        out.push(BEANS);
    }
    out
}
