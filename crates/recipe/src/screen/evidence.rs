//! What the kitchen's own evidence makes of a food's verdict.
//!
//! Strictest first. A label that names gluten, or a test above 20 ppm, makes any food contain
//! gluten. Nothing makes a food free that contains gluten. A label, a certificate or a test below
//! 20 ppm settles what only the label could tell, as 'labelled gluten-free' on the line does: the
//! verdict stays 'check the label', and the reason says what was seen and when.

use super::cautions::FERMENTED;
use super::judge::{Judged, KEEP, is_oats, judge, label_can_clear};
use super::sum::LIMIT;
use super::words::{self, Force};
use larder::{Allergen, Certainty, Evidence, EvidenceKind, FoodId, Gluten, Larder};

/// There is no clock here: no date is too old, every date is shown.
const LABELS_CHANGE: &str = "labels change: read it again on each new pack";
const ONE_TEST: &str = "one test of one lot";

/// The judgement of a food, with what the kitchen knows of it.
pub(super) struct Known {
    pub judged: Judged,
    /// The upper bound a test gives, ppm.
    pub ppm: Option<f64>,
    /// The evidence counts as 'labelled gluten-free' on the line.
    pub settled: bool,
    /// The test the bound rests on, in words.
    pub test: Option<String>,
}

/// Judges a food.
///
/// # Arguments
/// * `labelled` — the line says that it is bought labelled gluten-free.
/// * `alone` — the words of the line can mean no other food. Evidence is about one food: where
///   two are possible it settles nothing.
pub(super) fn known(
    larder: &Larder,
    id: FoodId,
    certainty: Certainty,
    labelled: bool,
    alone: bool,
) -> Known {
    let food = larder.food(id);
    let plain = |judged| Known {
        judged,
        ppm: None,
        settled: false,
        test: None,
    };
    let Some(own) = larder.own(id) else {
        return plain(judge(food, certainty, labelled));
    };
    let evidence = own.gluten.as_ref();
    if let Some(e) = evidence.filter(|e| e.says_gluten()) {
        // No word of the line clears it: the pack in the house says otherwise.
        let mut judged = judge(food, certainty, false);
        judged.verdict = Gluten::Contains;
        judged.reason = format!("{}; {LABELS_CHANGE}", e.words());
        judged.open = true;
        return plain(judged);
    }
    if food.gluten != Gluten::Contains
        && let Some(reason) = named(larder, id)
    {
        let mut judged = judge(food, certainty, false);
        (judged.verdict, judged.reason, judged.open) = (Gluten::Contains, reason, true);
        return plain(judged);
    }
    let oats = larder.kin(id).iter().any(|k| is_oats(larder.food(k.food)));
    let sure = certainty == Certainty::Sure && alone;
    let fermented = is_fermented(larder, id);
    let settled =
        food.gluten != Gluten::Contains && sure && evidence.is_some_and(|e| settles(e, fermented));
    let mut judged = judge(food, certainty, labelled || settled);
    if let Some(e) = evidence {
        let mut seen = e.words();
        if e.ppm().is_some() {
            seen = format!("{seen} ({ONE_TEST})");
        }
        seen = format!("{seen}; {LABELS_CHANGE}");
        let mut remark = |text: String| {
            judged.note = Some(match judged.note.take() {
                Some(n) => format!("{n}; {text}"),
                None => text,
            });
        };
        match food.gluten {
            // Cleared by the line, as 'gluten-free wheat starch' is.
            Gluten::Contains if judged.verdict != Gluten::Contains => remark(seen),
            Gluten::Contains => remark(format!(
                "{seen}. That does not clear {}: if a gluten-free product is meant, name that product",
                food.name
            )),
            Gluten::Check if settled && labelled => judged.reason = format!("{KEEP}; {seen}"),
            Gluten::Check if settled => judged.reason = seen,
            Gluten::Free if settled => judged.reason = format!("{}; {seen}", judged.reason),
            _ if !sure => remark(format!("{seen}. That is about {} alone", food.name)),
            _ if fermented && e.ppm().is_some() => remark(format!(
                "{seen}. No test measures gluten reliably in fermented food: go by the label"
            )),
            _ => {
                remark(format!(
                    "{seen}. {LIMIT:.0} ppm is not below {LIMIT:.0}: it settles nothing"
                ));
                if judged.verdict == Gluten::Free {
                    judged.verdict = Gluten::Check;
                    judged.reason = "check the label".to_owned();
                }
                judged.open = true;
            }
        }
    }
    if oats && judged.verdict != Gluten::Contains {
        judged.verdict = Gluten::Check;
        judged.open = true;
        let text = "its name says oats: most coeliacs tolerate oats labelled gluten-free, not all do; Australia and New Zealand do not allow oats as gluten-free";
        judged.note = Some(match judged.note.take() {
            Some(n) => format!("{n}; {text}"),
            None => text.to_owned(),
        });
    }
    let ppm = evidence.filter(|_| settled).and_then(Evidence::ppm);
    Known {
        judged,
        ppm,
        settled,
        test: ppm
            .and(evidence)
            .map(|e| format!("{}: {}, {ONE_TEST}", food.name, e.words())),
    }
}

/// The gluten grains that the kitchen's evidence names in a food, and how it knows: 'named on the
/// label of ground cinnamon'. They come from the words kept with the evidence; where those name
/// none, wheat stands for it. None where no evidence says gluten.
#[must_use]
pub fn on_the_label(larder: &Larder, id: FoodId) -> (Vec<Allergen>, String) {
    let evidence = larder.own(id).and_then(|o| o.gluten.as_ref());
    let Some(e) = evidence.filter(|e| e.says_gluten()) else {
        return (Vec::new(), String::new());
    };
    let mut grains: Vec<Allergen> = words::scan(&e.note)
        .into_iter()
        .filter_map(|h| h.allergen)
        .collect();
    let oats = |w: &str| w.eq_ignore_ascii_case("oats") || w.eq_ignore_ascii_case("oat");
    if e.note.split(|c: char| !c.is_alphanumeric()).any(oats) {
        grains.push(Allergen::Oats);
    }
    grains.sort_unstable();
    grains.dedup();
    let name = &larder.food(id).name;
    let label = e.kind == EvidenceKind::NamesGluten;
    let why = match (grains.is_empty(), label) {
        (false, true) => format!("named on the label of {name}"),
        (false, false) => format!("named with a test of {name}"),
        (true, true) => format!(
            "the label of {name} names gluten; the grain was not noted, so it is taken for wheat"
        ),
        (true, false) => format!(
            "a test of {name} found gluten; the grain is not known, so it is taken for wheat"
        ),
    };
    if grains.is_empty() {
        grains.push(Allergen::Wheat);
    }
    (grains, why)
}

/// Whether the kitchen has read 'gluten-free' on the label of a food, or on a certificate.
pub(super) fn reads_free(larder: &Larder, id: FoodId) -> bool {
    larder
        .own(id)
        .and_then(|o| o.gluten.as_ref())
        .is_some_and(|e| matches!(e.kind, EvidenceKind::Labelled | EvidenceKind::Certificate))
}

/// Whether the kitchen has read 'gluten-free' on the label of a food, or on a certificate, and that
/// settles what only the label could tell.
pub(super) fn known_labelled(
    larder: &Larder,
    id: FoodId,
    certainty: Certainty,
    alone: bool,
) -> bool {
    reads_free(larder, id) && known(larder, id, certainty, false, alone).settled
}

/// Whether evidence settles what only a label can tell. 20 ppm is the first figure that the US
/// limit ('below 20') shuts out.
fn settles(evidence: &Evidence, fermented: bool) -> bool {
    match evidence.kind {
        EvidenceKind::Labelled | EvidenceKind::Certificate => true,
        EvidenceKind::Test { ppm } => ppm < LIMIT && !fermented,
        EvidenceKind::NamesGluten => false,
    }
}

/// Foods that no test can speak for.
///
/// # Source
/// 85 FR 49240, 13 August 2020 (seen).
fn is_fermented(larder: &Larder, id: FoodId) -> bool {
    let fermented = |id| FERMENTED.contains(&larder.food(id).key.as_str());
    fermented(id) || larder.kin(id).iter().any(|k| fermented(k.food))
}

/// Why the kitchen's own names for a food say that gluten is in it: they name a gluten grain, or
/// a food that no label clears.
fn named(larder: &Larder, id: FoodId) -> Option<String> {
    let own = larder.own(id)?;
    let names = own.name.iter().chain(&own.also);
    let word = names
        .flat_map(|n| words::scan(n))
        .find(|h| h.force == Force::Contains && !h.sold_free);
    if let Some(hit) = word {
        return Some(format!("its name says '{}', which holds gluten", hit.word));
    }
    let kin = larder
        .kin(id)
        .iter()
        .filter(|k| k.sure)
        .map(|k| larder.food(k.food))
        .find(|f| f.gluten == Gluten::Contains && !label_can_clear(f))?;
    let free = |n: &String| words::labelled(n, &(0..n.len()), &(0..n.len()));
    let denied = own.name.iter().chain(&own.also).any(free);
    (!denied).then(|| format!("its name says {}, which contains gluten", kin.name))
}
