//! Psyllium is left to gel in the liquid: how long by its kind, and after the yeast of that liquid or its heating.

use crate::recipe::Step;
use crate::sentences::{each, words};
use quantity::{Spread, Time};

/// How long the psyllium of a part gels, and when: R6.7 of the rules of the trade, common practice
/// without a source: whisked into the liquid before the dry mix, powder 1–3 minutes, whole husk
/// 5–15.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gel {
    /// Low, likely, high.
    pub minutes: Spread<Time>,
    /// Whole husk is in it.
    pub husk: bool,
    /// The step that stands the yeast in the liquid or heats it: the psyllium goes in after it, for yeast
    /// does not come up in a gel, and a gel is not heated before there is a dough.
    pub after: Option<usize>,
    /// That step heats the liquid, and no yeast stands in it.
    heats: bool,
}

/// Whether a step heats its liquid before flour is in it: 'heat the milk with the butter'.
fn heats_liquid(text: &str) -> bool {
    let before = text.find("flour").unwrap_or(text.len());
    each(&text[..before]).map(words).any(|said| {
        let heats =
            |w: &String| matches!(w.as_str(), "heat" | "scald" | "warm" | "simmer" | "boil");
        let liquid = |w: &String| matches!(w.as_str(), "milk" | "buttermilk" | "cream" | "water");
        let at = said.iter().position(heats);
        at.is_some_and(|at| said[at + 1..].iter().take(4).any(liquid) && said[at + 1] == "the")
    })
}

/// Signs that yeast comes up in a liquid, flour not yet in.
const COMES_UP: [&str; 8] = [
    "foam",
    "froth",
    "bubbl",
    "dissolve",
    "let stand",
    "leave to stand",
    "and leave",
    "activate",
];

impl Gel {
    /// Of a part with psyllium as powder, as husk, or neither.
    pub(in crate::rework) fn of(powder: bool, husk: bool, steps: &[&Step]) -> Option<Self> {
        let [low, likely, high] = match (powder, husk) {
            (false, false) => return None,
            (_, true) => [5.0, 10.0, 15.0],
            (true, false) => [1.0, 2.0, 3.0],
        };
        let of = |m: f64| Time::minutes(m);
        let comes_up = |s: &&&Step| {
            let text = s.text.to_lowercase();
            let Some(yeast) = text.find("yeast") else {
                return false;
            };
            let before = text.find("flour").unwrap_or(text.len());
            let mut signs = COMES_UP.iter().filter_map(|w| text.find(w));
            yeast < before && signs.any(|at| at < before)
        };
        let yeast = steps.iter().find(comes_up).map(|s| s.number);
        // Where the flour goes in with the same step its work is not cut there.
        let mixes = |s: &&&Step| {
            const FLOUR_IS_IN: [&str; 7] = [
                "flour",
                "dough",
                "everything",
                "ingredients",
                "knead",
                "rise",
                "bake",
            ];
            let text = s.text.to_lowercase();
            FLOUR_IS_IN.iter().any(|w| text.contains(w))
        };
        let mut early = steps.iter().take_while(|s| !mixes(s));
        let heated = early.find(|s| heats_liquid(&s.text.to_lowercase()));
        let heated = heated.map(|s| s.number);
        Some(Self {
            minutes: Spread::new(of(low), of(likely), of(high)),
            husk,
            after: yeast.or(heated),
            heats: yeast.is_none() && heated.is_some(),
        })
    }

    /// What to do, in a sentence; `less` of the liquid is held back.
    pub(super) fn words(&self, less: &str) -> String {
        let time = if self.husk {
            "5–15 minutes (whole husk)"
        } else {
            "1–3 minutes (powder)"
        };
        match self.after {
            Some(n) if self.heats => format!(
                "Step {n} heats the liquid: that first, and let it cool to lukewarm. Then whisk the psyllium into it{less} and let it gel, {time}, before the flours."
            ),
            Some(n) => format!(
                "Step {n} stands the yeast in the liquid: that first. Then whisk the psyllium into the liquid{less} and let it gel, {time}, before the flours."
            ),
            None => format!(
                "Before anything else: whisk the psyllium into the liquid{less} and let it gel, {time}."
            ),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::read;

    #[test]
    fn yeast_comes_up_before_the_psyllium_gels() {
        let gel = |text: &str, husk: bool| {
            let step = read::step(1, text, None);
            Gel::of(!husk, husk, &[&step]).expect("psyllium")
        };
        let foams = "Stir the yeast and some sugar into the warm milk and let stand until foamy, 10 minutes.";
        assert_eq!(gel(foams, false).after, Some(1));
        assert_eq!(gel(foams, false).minutes.high().as_minutes(), 3.0);
        assert_eq!(gel(foams, true).minutes.low().as_minutes(), 5.0);
        for dry in [
            "Mix the flour, yeast and salt, then add the milk and let stand 10 minutes.",
            "Mix the yeast with the flour until bubbles form.",
            "Whisk the milk.",
        ] {
            assert_eq!(gel(dry, false).after, None, "{dry}");
        }
        let sprinkled =
            "Sprinkle the yeast over the warm water and leave 5 minutes. Beat in the flour.";
        assert_eq!(gel(sprinkled, false).after, Some(1));
        let heated =
            "Heat the milk with the butter until it melts. Beat in the flour and the yeast.";
        assert_eq!(
            gel(heated, false).after,
            None,
            "its work goes on with the flour"
        );
        let heated = gel("Heat the milk with the butter.", false);
        assert_eq!(heated.after, Some(1));
        assert!(heated.words("").contains("cool to lukewarm"));
        let syrup = [
            "Mix and let rise.",
            "Bake for 30 minutes. Meanwhile, boil the water and sugar.",
        ];
        let steps = syrup.map(|text| read::step(1, text, None));
        let of = Gel::of(true, false, &[&steps[0], &steps[1]]).expect("psyllium");
        assert_eq!(of.after, None, "the syrup's water");
        for not in [
            "Heat the oven. Mix the flour and water.",
            "Mix in warm water.",
            "Mix the flour and milk. Boil the water.",
        ] {
            assert_eq!(gel(not, false).after, None, "{not}");
        }
        assert!(Gel::of(false, false, &[]).is_none());
        assert!(gel(foams, false).words("").contains("1–3 minutes (powder)"));
    }
}
