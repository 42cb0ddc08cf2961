//! What is judged of one food: by the larder, by what a label can clear, by doubtful words.

use larder::{Allergen, Certainty, Food, Gluten};
use std::ops::Range;

/// What is judged of one food on a line.
pub(super) struct Judged {
    pub verdict: Gluten,
    pub reason: String,
    pub open: bool,
    pub note: Option<String>,
    /// Contains by nature, and only the label makes it a thing to check.
    pub cleared: bool,
}

pub(super) const KEEP: &str = "bought labelled gluten-free: keep the label";

/// Foods that no label makes gluten-free, or that no region lets carry one: the grains, their
/// flours, and malt (US, Canada, Australia and New Zealand shut it out at any ppm).
///
/// # Source
/// 21 CFR 101.91, FDR B.24.018, Standard 1.2.7 (seen, as summaries).
const NO_LABEL_CLEARS: [&str; 31] = [
    "vital_wheat_gluten",
    "wheat_bran",
    "wheat_germ",
    "wheat_starch",
    "rye_flakes",
    "rye_grain",
    "malted_barley_flour",
    "pearl_barley",
    "bulgur",
    "freekeh",
    "farro",
    "spelt_grain",
    "wheat_berries",
    "wheat_flakes",
    "barley_flakes",
    "multigrain_flakes",
    "malt_syrup",
    "dry_malt_extract",
    "malted_milk_powder",
    "malted_milk_balls",
    "malt_vinegar",
    "seitan",
    "hydrolysed_wheat_protein",
    "baking_spray_with_flour",
    "rye_sourdough_starter",
    "barley_tea",
    "barley_miso",
    "wheat_germ_oil",
    "communion_wafer",
    "rye_bread",
    "wheat_cereal_biscuits",
];

pub(super) fn label_can_clear(food: &Food) -> bool {
    if food.key == "wheat_starch_gf" {
        return true;
    }
    !food.is_flour_phase() && !NO_LABEL_CLEARS.contains(&food.key.as_str())
}

pub(super) fn has(food: &Food, allergen: Allergen) -> bool {
    food.allergens.iter().any(|(a, _)| *a == allergen)
}

/// Foods sold as oats, or made of them.
pub(super) fn is_oats(food: &Food) -> bool {
    food.allergens.contains(&(Allergen::Oats, false))
}

pub(super) fn judge(food: &Food, certainty: Certainty, labelled: bool) -> Judged {
    let sure = certainty == Certainty::Sure;
    let mut notes = Vec::new();
    if food.gluten != Gluten::Free {
        // Where a food's figures come from says nothing about its gluten.
        let of_figures =
            |n: &&str| n.starts_with("composition is") || n.contains("SR28") || n.contains("% fat");
        let said = food.note.split("; ").filter(|n| !n.is_empty());
        notes.extend(said.filter(|n| !of_figures(n)).map(str::to_owned));
    }
    let regional = is_oats(food)
        || food.key == "wheat_starch_gf"
        || food.key == "matzo"
        || food.key == "matzo_meal";
    if is_oats(food) && labelled {
        // Most foods of oats say as much in their own words.
        notes.retain(|n| !n.contains("coeliacs") && !n.contains("Australia"));
        notes.push("most coeliacs tolerate oats labelled gluten-free, not all do; Australia and New Zealand do not allow oats as gluten-free".to_owned());
    }
    let (mut verdict, mut reason, mut cleared) = (food.gluten, food.gluten_reason.clone(), false);
    match food.gluten {
        Gluten::Contains if labelled && label_can_clear(food) => {
            (verdict, reason, cleared) = (Gluten::Check, KEEP.to_owned(), true);
        }
        Gluten::Contains if labelled => notes.push(format!(
            "'gluten-free' on the line does not clear {}: if a gluten-free product is meant, name that product",
            food.name
        )),
        Gluten::Check if labelled => reason = KEEP.to_owned(),
        _ => {}
    }
    if !sure {
        let doubt = match certainty {
            Certainty::Near => "the name is only like a known one",
            Certainty::Tie => "the name fits more than one food",
            _ => "the name is known only in part",
        };
        if verdict == Gluten::Free {
            verdict = Gluten::Check;
            reason = format!("{doubt}: check the label");
        } else {
            notes.push(doubt.to_owned());
        }
    }
    let open = match verdict {
        Gluten::Contains => true,
        // Two foods that answer to one name are both settled by the label on it.
        Gluten::Check => !labelled || regional || !(sure || certainty == Certainty::Tie),
        Gluten::Free => false,
    };
    let note = (!notes.is_empty()).then(|| notes.join("; "));
    Judged {
        verdict,
        reason,
        open,
        note,
        cleared,
    }
}

/// Cheeses that are plain as a piece and hold anticaking starch when bought grated.
const CHEESES: [&str; 9] = [
    "cheddar",
    "mozzarella",
    "mozzarella_low",
    "gruyere",
    "swiss_cheese",
    "monterey_jack",
    "parmesan",
    "feta",
    "halloumi",
];

/// Why the words of a line make a food doubtful that is free by nature.
///
/// # Source
/// The project's gluten classes, from memory: ready-grated cheese, malt vinegar.
pub(super) fn doubtful(food: &Food, text: &str, span: &Range<usize>) -> Option<&'static str> {
    let before = text.get(..span.start).unwrap_or_default().to_lowercase();
    let name = text
        .get(span.clone())
        .filter(|s| !s.is_empty())
        .unwrap_or(text)
        .to_lowercase();
    let grated = |s: &str| ["grated", "shredded"].iter().any(|w| s.contains(w));
    if CHEESES.contains(&food.key.as_str()) && (grated(&before) || grated(&name)) {
        return Some(
            "bought grated it may hold an anticaking starch: grate it yourself, or check the label",
        );
    }
    let kinds = ["white", "distilled", "spirit", "clear"];
    if food.key == "white_vinegar" && !kinds.iter().any(|k| before.contains(k) || name.contains(k))
    {
        return Some(
            "'vinegar' without its kind may be malt vinegar, which holds gluten: say which",
        );
    }
    None
}
