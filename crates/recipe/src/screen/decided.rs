//! The words of a line over which a decision stands: what they name is still looked at.

use super::evidence::known;
use super::words::{self, Force};
use super::{Entry, Finding};
use larder::{Allergen, Certainty, FoodId, Gluten, Larder};
use quantity::Locale;
use std::ops::Range;

/// What the words as pasted name.
pub(super) struct Named {
    pub verdict: Gluten,
    /// `None` where the line is judged no better without it: its grain is told all the same.
    pub finding: Option<Finding>,
    /// What it brings, with where that comes from.
    pub allergens: Vec<(Allergen, String)>,
}

/// The grains of gluten: one does not stand for another.
const GRAINS: [Allergen; 4] = [
    Allergen::Wheat,
    Allergen::Rye,
    Allergen::Barley,
    Allergen::Oats,
];

const MEND: &str =
    "if it is not meant, change the line in the text itself; no decision hides what it says";

impl Finding {
    /// Whether it is of words that a decision put others in place of: only a change of the text
    /// takes it away.
    #[must_use]
    pub fn is_of_pasted_words(&self) -> bool {
        self.reason.ends_with(MEND)
    }
}

/// What the words as pasted name that is worse than what was found of the line so far, or of another
/// grain.
///
/// # Arguments
/// * `e` — the entry of the words.
/// * `here` — foods the line is already judged by.
/// * `findings` — what was found so far, of all lines.
pub(super) fn search(
    e: &Entry<'_>,
    here: &[FoodId],
    findings: &[Finding],
    larder: &Larder,
    locale: Locale,
) -> Vec<Named> {
    let mut worst = findings
        .iter()
        .filter(|f| (f.component, f.line) == (e.component, e.line))
        .map(|f| f.verdict)
        .min();
    let mut out: Vec<Named> = Vec::new();
    let mut names: Vec<Range<usize>> = Vec::new();
    let brought = |a: &Allergen| {
        here.iter()
            .any(|f| larder.food(*f).allergens.contains(&(*a, false)))
    };
    let mut say = |verdict: Gluten, words: &str, food, reason, from: Vec<(Allergen, String)>| {
        if worst.is_some_and(|w| w <= verdict) {
            let grain = |(a, _): &(Allergen, String)| GRAINS.contains(a) && !brought(a);
            out.push(Named {
                verdict,
                finding: None,
                allergens: from.into_iter().filter(grain).collect(),
            });
            return;
        }
        worst = Some(verdict);
        let finding = Finding {
            component: e.component,
            line: e.line,
            words: words.to_owned(),
            food,
            verdict,
            reason,
            labelled: false,
            open: true,
            note: None,
        };
        out.push(Named {
            verdict,
            finding: Some(finding),
            allergens: from,
        });
    };
    let whole = larder.find(e.text, locale);
    for (id, span) in larder.names().mentions(e.text, locale) {
        let food = larder.food(id);
        // A name of two foods, one of which the baker chose, names the chosen one.
        let chosen = whole.as_ref().is_some_and(|m| {
            m.certainty == Certainty::Tie
                && m.span.start < span.end
                && span.start < m.span.end
                && m.rivals.iter().chain([&m.food]).any(|f| here.contains(f))
        });
        let judged = known(larder, id, Certainty::Sure, false, true).judged;
        if judged.verdict == Gluten::Free || here.contains(&id) {
            names.push(span);
            continue;
        }
        // What the kitchen's evidence settles is no worse for standing under a decision.
        if chosen || !judged.open || words::labelled(e.text, &span, &words::breath(e.text, &span)) {
            continue;
        }
        let named = e.text.get(span).unwrap_or_default();
        let reason = match judged.verdict {
            Gluten::Contains => {
                format!("the line as pasted names '{named}', which holds gluten: {MEND}")
            }
            _ => format!("the line as pasted names '{named}': check the label, or {MEND}"),
        };
        let from = food
            .allergens
            .iter()
            .map(|(a, _)| (*a, food.name.clone()))
            .collect();
        say(judged.verdict, named, Some(id), reason, from);
    }
    for hit in words::scan(e.text) {
        let inside = |k: &Range<usize>| k.start <= hit.span.start && hit.span.end <= k.end;
        if names.iter().any(inside)
            || words::labelled(e.text, &hit.span, &words::breath(e.text, &hit.span))
        {
            continue;
        }
        let verdict = match hit.force {
            Force::Contains | Force::BareFlour => Gluten::Contains,
            Force::Check => Gluten::Check,
        };
        let reason = match hit.force {
            Force::Contains => format!(
                "the line as pasted says '{}', which holds gluten: {MEND}",
                hit.word
            ),
            Force::BareFlour => format!(
                "the line as pasted says 'flour' without its kind, which is wheat flour: {MEND}"
            ),
            Force::Check => format!(
                "the line as pasted says '{}': check the label, or {MEND}",
                hit.word
            ),
        };
        let from = hit
            .allergen
            .map(|a| (a, format!("'{}' on the line", hit.word)))
            .into_iter()
            .collect();
        say(verdict, &hit.word, None, reason, from);
    }
    out
}
