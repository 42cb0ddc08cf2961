//! What was left out, in words for cards, terminal and pages.

use super::StillHolds;
use crate::rework::reworked::Rework;
use crate::{Holds, LeftOut};
use quantity::listed;

/// What a rework can say of what was left out, and what it cannot.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LeftOutSummary {
    /// Nothing in the recipe surely holds these any more. Labels may still have to be read.
    pub made_without: Vec<LeftOut>,
    /// What still holds what was to be left out: component, line.
    pub still: Vec<(usize, StillHolds)>,
    /// Foods whose label has to tell, and what to look for.
    pub labels: Vec<(String, Vec<LeftOut>)>,
    /// Words of the original's steps that name what is left out: 'butter the tin'.
    pub steps: Vec<&'static str>,
}

/// Words by which a method names what is left out, mostly without an amount.
const NAMED: [(LeftOut, &[&str]); 4] = [
    (
        LeftOut::Dairy,
        &[
            "butter",
            "buttered",
            "milk",
            "yoghurt",
            "yogurt",
            "cheese",
            "buttermilk",
        ],
    ),
    (LeftOut::Egg, &["egg", "eggs", "yolk", "yolks", "whites"]),
    (
        LeftOut::TreeNuts,
        &[
            "almonds",
            "walnuts",
            "hazelnuts",
            "pecans",
            "nuts",
            "coconut",
        ],
    ),
    (LeftOut::RefinedSugar, &["sugar"]),
];

impl LeftOutSummary {
    /// What it is made without, and the labels to check. Never 'free from'.
    ///
    /// # Returns
    /// `None` where nothing could be left out wholly.
    #[must_use]
    pub fn made(&self) -> Option<String> {
        if self.made_without.is_empty() {
            return None;
        }
        let without: Vec<&str> = self.made_without.iter().map(|w| w.plain()).collect();
        // Labels that matter to what is said to be left out.
        let matters =
            |l: &&(String, Vec<LeftOut>)| l.1.iter().any(|w| self.made_without.contains(w));
        let labels: Vec<&str> = self
            .labels
            .iter()
            .filter(matters)
            .map(|l| l.0.as_str())
            .collect();
        let check = match labels.as_slice() {
            [] => "; check every label".to_owned(),
            [one] => format!("; check the label of {one}"),
            many => format!("; check the labels of {}", listed(many)),
        };
        Some(format!("made without {}{check}", listed(&without)))
    }

    /// Sentences for the reader of the card: what it is made without and the labels to check; what
    /// still holds what was to be left out.
    #[must_use]
    pub fn sentences(&self) -> Vec<String> {
        let still = self
            .still
            .iter()
            .map(|(_, s)| format!("{} still holds {}: {}", s.name, s.what.plain(), s.why));
        self.made()
            .into_iter()
            .chain(still)
            .chain(self.steps())
            .collect()
    }

    /// That the original's steps name what is left out, where they do.
    #[must_use]
    pub fn steps(&self) -> Option<String> {
        (!self.steps.is_empty()).then(|| {
            format!(
                "the original's steps still speak of {}: take what the list has in its place, for tins and brushing too",
                listed(&self.steps)
            )
        })
    }
}

impl Rework {
    /// What was left out besides gluten, over all components.
    ///
    /// # Returns
    /// `None` where nothing was to be left out.
    #[must_use]
    pub fn left_out(&self) -> Option<LeftOutSummary> {
        if self.left_out.is_empty() {
            return None;
        }
        let all = || {
            let each = self.components.iter().enumerate();
            each.flat_map(|(c, x)| x.still_holds.iter().map(move |s| (c, s)))
        };
        let mut still: Vec<(usize, StillHolds)> = Vec::new();
        for (c, s) in all().filter(|(_, s)| s.holds == Holds::Yes) {
            // Twice in one part is said once.
            if !still
                .iter()
                .any(|(x, t)| (*x, &t.name, t.what) == (c, &s.name, s.what))
            {
                still.push((c, s.clone()));
            }
        }
        let sure = |w: &LeftOut| still.iter().any(|(_, s)| s.what == *w);
        let made_without = self.left_out.iter().copied().filter(|w| !sure(w)).collect();
        let mut labels: Vec<(String, Vec<LeftOut>)> = Vec::new();
        for (_, s) in all().filter(|(_, s)| s.holds == Holds::Check) {
            match labels.iter_mut().find(|(n, _)| *n == s.name) {
                Some((_, what)) if what.contains(&s.what) => {}
                Some((_, what)) => what.push(s.what),
                None => labels.push((s.name.clone(), vec![s.what])),
            }
        }
        let text: Vec<String> = self
            .formula
            .recipe
            .steps
            .iter()
            .map(|s| s.text.to_lowercase())
            .collect();
        let named = |word: &&'static str| {
            let mut words = text
                .iter()
                .flat_map(|t| t.split(|c: char| !c.is_alphabetic()));
            words.any(|w| w == *word)
        };
        let steps = NAMED
            .iter()
            .filter(|(what, _)| self.left_out.contains(what))
            .flat_map(|(_, words)| *words)
            .copied()
            .filter(|w| named(w))
            .collect();
        Some(LeftOutSummary {
            made_without,
            still,
            labels,
            steps,
        })
    }
}
