//! Binding in words.

use super::{Binding, Gives, InMix, Kind};
use crate::household::{self, percent_figure};

/// Words of a label or a line that say gum is not in it.
const NONE: [&str; 10] = [
    "no gum",
    "without gum",
    "gum-free",
    "gum free",
    "free of gum",
    "no xanthan",
    "without xanthan",
    "without added gum",
    "no added gum",
    "no added xanthan",
];

/// Words that name a gum or what works as one.
const GUM: [&str; 6] = ["xanthan", "guar", "gum", "psyllium", "hpmc", "cellulose"];

/// Whether words say that gum is in a mix: `None` when they say nothing of it.
///
/// # Example
/// ```
/// use recipe::rework::binder::does_gum_say;
/// assert_eq!(does_gum_say("300 g flour blend, with gum in it"), Some(true));
/// assert_eq!(does_gum_say("flour blend (no xanthan gum)"), Some(false));
/// assert_eq!(does_gum_say("flour blend"), None);
/// ```
#[must_use]
pub fn does_gum_say(words: &str) -> Option<bool> {
    let words = words.to_lowercase();
    if NONE.iter().any(|w| words.contains(w)) {
        return Some(false);
    }
    words
        .split(|c: char| !c.is_alphanumeric())
        .any(|w| GUM.contains(&w.trim_end_matches('s')) || w.ends_with("cellulose"))
        .then_some(true)
}

/// A percentage; below what is shown it is 0.
fn percent(p: f64) -> String {
    if p < 0.005 {
        "0 %".to_owned()
    } else {
        household::percent(p)
    }
}

impl Gives {
    /// What it gives in words: `egg, 18 % of the flour: about 0.31 % xanthan (0.07–0.85)`.
    #[must_use]
    pub fn words(&self, lead: super::Lead) -> String {
        let head = format!("{}, {} of the flour", self.name, percent(self.percent));
        match (self.mix, self.worth) {
            (Some(InMix::Unknown), Some(_)) => {
                return format!("{head}: check the label for gum; taken to hold its own");
            }
            (Some(InMix::Unknown), None) => {
                return format!("{head}: check the label for gum; counted as nothing");
            }
            (Some(InMix::Gum), Some(_)) => {
                return format!("{head}: holds gum, so its share of the flour is taken as dosed");
            }
            (Some(InMix::Gum), None) => {
                return format!("{head}: holds gum, how much is not known; counted as nothing");
            }
            (Some(InMix::None), _) => return format!("{head}: holds no gum"),
            (None, _) => {}
        }
        let Some(worth) = self.worth else {
            return format!("{head}: no figure for its strength, counted as nothing");
        };
        let (low, likely, high) = (worth.low().get(), worth.likely().get(), worth.high().get());
        if likely < 0.005 {
            return if high < 0.005 {
                format!("{head}: binds next to nothing")
            } else {
                format!("{head}: no figure found, counted as nothing")
            };
        }
        let counted = self.counted.likely().get();
        let of = if low < likely || likely < high {
            format!(" ({}–{})", percent_figure(low), percent(high))
        } else {
            String::new()
        };
        let part = if counted < likely - 0.005 {
            format!(
                ", {} counted: half of the usual gum at the most",
                percent(counted)
            )
        } else {
            String::new()
        };
        if self.kind == Kind::Psyllium && lead == super::Lead::Psyllium && self.percent == likely
            || self.kind == Kind::Gum && lead == super::Lead::Xanthan && self.percent == likely
        {
            return head;
        }
        format!(
            "{head}: about {} {}{of}{part}",
            percent(likely),
            lead.name()
        )
    }
}

impl Binding {
    /// What is there of what is wanted, in one sentence.
    #[must_use]
    pub fn summary(&self) -> String {
        let lead = self.lead.name();
        let (sum, range) = (self.sum, self.range);
        let spread = if sum.high().get() - sum.low().get() > 0.005 {
            format!(
                " ({}–{})",
                percent_figure(sum.low().get()),
                percent_figure(sum.high().get())
            )
        } else {
            String::new()
        };
        let wanted = if self.wanted < 0.005 {
            "none is wanted".to_owned()
        } else {
            format!("{} is wanted", percent(self.wanted))
        };
        let missing = if self.missing > 0.005 {
            let slight = if self.is_slight {
                ", too little to weigh"
            } else {
                ""
            };
            format!(", {} is missing{slight}", percent(self.missing))
        } else {
            String::new()
        };
        let worth = if sum.likely().get() < 0.005 {
            "nothing in it is counted".to_owned()
        } else {
            format!("worth {} {lead}{spread}", percent(sum.likely().get()))
        };
        format!(
            "{worth}; {wanted}{missing}; the style’s range is {}–{}",
            percent_figure(range.low().get()),
            percent(range.high().get())
        )
    }

    /// All of it in words: each food, the published formulas, the water.
    #[must_use]
    pub fn lines(&self, style: &str) -> Vec<String> {
        let gives = self.gives.iter().map(|g| g.words(self.lead));
        gives
            .chain(self.published.map(|p| p.words(style)))
            .chain(self.water_words())
            .collect()
    }

    /// What is said of the water, where binders take some up.
    #[must_use]
    pub fn water_words(&self) -> Option<String> {
        let w = self.water()?;
        let g = |m: quantity::Mass| household::scale_grams(m, false);
        Some(format!(
            "the binders take up about {} g of water ({}–{} g); the recipe’s water is set for flours and binders together, so no more is added for them",
            g(w.likely()),
            g(w.low()),
            g(w.high())
        ))
    }
}
