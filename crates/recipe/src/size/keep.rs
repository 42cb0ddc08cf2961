//! How what is left over of a component keeps.

use crate::rework::{Kept, Rework};

/// How what is left over keeps.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Keeping {
    /// What to do with it.
    pub text: &'static str,
    /// Where that comes from.
    pub source: &'static str,
}

/// Said with every one of them.
pub const LOCAL_RULES: &str =
    "Go by your local food rules where they are stricter, and when in doubt throw it out.";

const PRACTICE: &str = "common practice, no source";
const USDA: &str = "US Department of Agriculture, consumer advice: 2 hours out, 3 to 4 days cold; \
                    freezing is common practice";

const MEAT: &str =
    "US Department of Agriculture, consumer advice: 2 hours out; days in the cold from memory";

/// Whether a component holds meat or fish, or takes in one that does.
fn holds_meat(rework: &Rework, at: usize) -> bool {
    let c = &rework.components[at];
    let live = c.lines.iter().filter(|l| l.kept != Kept::Dropped);
    let mut used = live.filter_map(|l| l.component);
    !c.meat.is_empty() || used.any(|u| holds_meat(rework, u))
}

/// How a component keeps, raw or as it was made. What is not known to hold nothing that spoils is
/// never said to keep.
pub(super) fn keeping(rework: &Rework, at: usize) -> Keeping {
    let c = &rework.components[at];
    let style = c.style.map_or("", |s| s.style.key());
    let holds = rework.egg_or_milk(at);
    let perishable = holds == Some(true);
    let meat = holds_meat(rework, at);
    let yeast = c.reworked.yeast > 0.0 || c.style.is_some_and(|s| s.style.is_yeast_dough());
    let (text, source) = match style {
        _ if meat => (
            "With meat or fish: no more than 2 hours out of the fridge, 1 hour above 32 °C; covered at 5 °C or below, use it within 1 to 2 days raw, 3 to 4 days cooked, or freeze it. It is cooked before anybody eats of it.",
            MEAT,
        ),
        _ if yeast && perishable => (
            "Raw dough with egg or milk: cover it and chill it at once, at 5 °C or below; bake it within 24 hours, or freeze it up to a month. It goes on rising until it is cold.",
            PRACTICE,
        ),
        _ if holds.is_none() || c.holds_unknown() => (
            "Not everything in it is known here: keep it as if it held egg or milk, no more than 2 hours out of the fridge, covered at 5 °C or below; use it within 1 to 2 days, and look at the labels.",
            PRACTICE,
        ),
        _ if yeast => (
            "Raw dough: cover it and chill it at once; bake it within 2 days, or freeze it up to a month. It goes on rising until it is cold.",
            PRACTICE,
        ),
        "butter_cake" | "sponge_cake" | "muffin_quick_bread" | "pancake_crepe" | "choux" => (
            "Bake it now, in another tin or as small ones: a batter loses its lift while it stands. Freeze it baked, not raw.",
            PRACTICE,
        ),
        "potato_dough" => (
            "Raw, it slackens and greys as it stands: shape and cook it now, or freeze the pieces apart from each other. Cooked: no more than 2 hours out of the fridge, covered at 5 °C or below, within 3 to 4 days.",
            PRACTICE,
        ),
        "crumb_streusel" | "pie_pastry" | "rolled_cookie" | "drop_cookie" | "cracker" | "pasta"
            if perishable =>
        {
            (
                "Raw, with egg or milk: cover it and chill it at 5 °C or below; use it within 2 days, or freeze it up to 2 months. Not to be eaten raw.",
                PRACTICE,
            )
        }
        "crumb_streusel" | "pie_pastry" | "rolled_cookie" | "drop_cookie" | "cracker" | "pasta" => {
            (
                "Raw: cover it and chill it; use it within 4 days, or freeze it up to 2 months. Raw flour is not to be eaten.",
                PRACTICE,
            )
        }
        _ if perishable => (
            "With egg or milk: no more than 2 hours out of the fridge, 1 hour above 32 °C; covered at 5 °C or below use it within 3 to 4 days, or freeze it. One with raw egg is cooked before anybody eats of it.",
            USDA,
        ),
        _ => ("Cover it and chill it; use it within a week.", PRACTICE),
    };
    Keeping { text, source }
}
