//! Which shapes the words of a method give a component.

use super::Kind;
use super::method::{rolls_up, sheet};
use crate::recipe::{FactKind, Recipe, Step};
use crate::rework::owners;
use crate::sentences::{each, sentences, words};
use crate::size::pan::Said;

/// A shape that a step of the method asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Offer {
    /// The shape.
    pub kind: Kind,
    /// The step's number.
    pub step: usize,
}

/// Which shapes the method asks for of a component, each with the first step that does.
///
/// # Returns
/// Nothing where the words tell of none: a batter in one tin, a filling.
///
/// # Example
/// ```
/// # use quantity::Locale;
/// # let larder = larder::Larder::built_in().expect("the built-in tables");
/// # use recipe::shape::{Kind, offers};
/// let text = "Biscuits\n\n250 g flour\n125 g butter\n80 g sugar\n\n1. Mix.\n2. Roll out 5 mm thick and stamp out with a 6 cm cutter.\n";
/// let reader = recipe::read::Reader::new(&larder, Locale::Metric);
/// let recipe = recipe::read::recipe(text, &reader).expect("a recipe");
/// let offers = offers(&recipe, 0);
/// assert_eq!((offers[0].kind, offers[0].step), (Kind::CutOuts, 2));
/// ```
#[must_use]
pub fn offers(recipe: &Recipe, component: usize) -> Vec<Offer> {
    let owners = owners(recipe);
    let mine = recipe.steps.iter().zip(&owners);
    let mine = mine.filter(|(_, owner)| **owner == component);
    let mine: Vec<&Step> = mine.map(|(step, _)| step).collect();
    let mut out: Vec<Offer> = Vec::new();
    let mut put = |kind: Kind, step: &Step| {
        if !out.iter().any(|o| o.kind == kind) {
            let step = step.number;
            out.push(Offer { kind, step });
        }
    };
    for step in &mine {
        for sentence in sentences(&step.text) {
            if let Some(kind) = asked(&step.text[sentence]) {
                put(kind, step);
            }
        }
        if sheet(step, Kind::Sheet).is_some() && !mine.iter().any(|s| rolls_up(&s.text)) {
            put(Kind::Sheet, step);
        }
    }
    // Layers are put together by a step of the filling as often as not.
    let stacks = recipe.steps.iter().find(|s| stacked(&s.text));
    if let Some(step) = stacks.filter(|_| mine.iter().any(|s| layers_of(s).is_some())) {
        put(Kind::Layers, step);
    }
    out
}

/// The cakes of a step that are put on one another: so many tins, or one that is split into so many. Loaves and
/// what is baked in hollows are not.
pub(super) fn layers_of(step: &Step) -> Option<u32> {
    let flat = |said: &Said| said.pan.hollows == 1 && !said.pan.name.contains("loaf");
    let tins = step.facts.iter().filter_map(|fact| match fact.kind {
        FactKind::Pan { .. } => Said::of_fact(step, fact)
            .filter(flat)
            .map(|said| said.count),
        _ => None,
    });
    let tins = tins.max().filter(|n| *n > 1);
    let split = each(&step.text).find_map(|sentence| {
        let words = words(sentence);
        let any = |list: &[&str]| words.iter().any(|w| list.contains(&w.as_str()));
        let number = words.windows(2).find_map(|w| {
            let n = quantity::number_word(&w[0]).or_else(|| w[0].parse().ok());
            n.filter(|n| w[1] == "layer" && (2..=12).contains(n))
        });
        // 'Into layers', 'into even layers'; 'through the layers of butter' is none.
        let mut runs = words.windows(3);
        let into = runs.any(|w| w[0] == "into" && w[1..].iter().any(|w| w == "layer"));
        let flat = number.is_some() || into || any(&["horizontally"]);
        (flat && any(&["split", "halve", "slice", "cut"])).then(|| number.unwrap_or(2))
    });
    split.or(tins)
}

/// Words before a layer that is no cake: 'in an even layer', 'a thin layer of jam'.
const SPREAD: [&str; 8] = [
    "even", "thin", "thick", "single", "smooth", "flat", "level", "in",
];

/// Whether a step puts cakes on one another.
fn stacked(text: &str) -> bool {
    let words = words(text);
    let sandwiches = words.windows(2).any(|w| {
        w[0] == "sandwich" && matches!(w[1].as_str(), "the" | "them" | "together" | "with")
    });
    let layer = |at: usize| {
        let before = &words[at.saturating_sub(2)..at];
        let spread = before.iter().any(|w| SPREAD.contains(&w.as_str()));
        words[at] == "layer" && !spread && words.get(at + 1).is_none_or(|w| w != "of")
    };
    sandwiches || (0..words.len()).any(layer)
}

/// What is twisted and no plait: 'twist the edges', 'do not twist the cutter'.
const NO_PLAIT: [&str; 9] = [
    "of", "edge", "end", "rim", "top", "corner", "paper", "cutter", "peel",
];

/// Whether a plait that is made already is brushed or glazed: 'brush the hot plait with the syrup'.
fn only_brushed(words: &[String]) -> bool {
    const ON: [&str; 7] = [
        "brush", "glaze", "drizzle", "sprinkle", "spoon", "dust", "pour",
    ];
    let named = |w: &String| w.starts_with("plait") || w.starts_with("braid");
    let at = words.iter().position(named);
    at.is_some_and(|at| {
        let before = &words[at.saturating_sub(4)..at];
        before.iter().any(|w| ON.contains(&w.as_str()))
    })
}

/// Whether strands are twisted round one another.
fn twisted(words: &[String]) -> bool {
    let twist = |w: &String| matches!(w.as_str(), "twist" | "twisted");
    let at = words.iter().position(twist);
    at.is_some_and(|at| {
        let mut what = words[at + 1..].iter().take(4);
        !what.any(|w| NO_PLAIT.contains(&w.as_str()))
    })
}

/// The shape that a sentence asks for.
fn asked(sentence: &str) -> Option<Kind> {
    let words = words(sentence);
    let has = |any: &[&str]| words.iter().any(|w| any.contains(&w.as_str()));
    // 'Into a ball' is all of it; 'a round tin' is none.
    let many = |any: &[&str]| {
        let mut words = sentence.split(|c: char| !c.is_alphanumeric());
        words.any(|w| any.iter().any(|p| w.eq_ignore_ascii_case(p)))
    };
    let runs = |run: &[&str]| {
        words
            .windows(run.len())
            .any(|w| w.iter().zip(run).all(|(a, b)| a == b))
    };
    let tin = has(&["tin", "pan", "dish", "case", "mould", "mold", "ring"]);
    let pastry = has(&["pastry", "dough", "crumb", "mixture"]);
    // 'Roll out … and line a tart pan' needs no word for the pastry, unless it is lined with paper.
    let rolled = has(&["roll"]) && !has(&["paper", "parchment", "foil"]);
    let lines = has(&["line", "ease", "fit", "drape"]) && (has(&["pastry", "dough"]) || rolled);
    let presses = has(&["press", "pressing"]) && has(&["side"]) && pastry;
    if rolls_up(sentence) {
        Some(Kind::Roll)
    } else if has(&["plait", "plaited", "braid", "braided"]) && !only_brushed(&words)
        || twisted(&words)
    {
        Some(Kind::Plait)
    } else if has(&["lattice"]) {
        Some(Kind::Lattice)
    } else if has(&["doughnut", "donut"]) && has(&["cutter"])
        || runs(&["into", "ring"])
        || runs(&["into", "a", "ring"])
    {
        Some(Kind::Ring)
    } else if has(&["cutter", "stamp"]) || runs(&["cut", "out"]) {
        Some(Kind::CutOuts)
    } else if (lines || presses) && tin {
        Some(Kind::Lining)
    } else if has(&["shape", "form", "roll", "divide"])
        && many(&["balls", "buns", "rounds", "patties", "discs", "disks"])
    {
        Some(Kind::Round)
    } else {
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use larder::Larder;
    use quantity::Locale;

    fn offered(text: &str) -> Vec<Vec<(Kind, usize)>> {
        let larder = Larder::built_in().expect("the built-in tables");
        let reader = crate::read::Reader::new(&larder, Locale::Metric);
        let recipe = crate::read::recipe(text, &reader).expect("a recipe");
        let each = |c| {
            offers(&recipe, c)
                .iter()
                .map(|o| (o.kind, o.step))
                .collect()
        };
        (0..recipe.components.len()).map(each).collect()
    }

    fn dough(method: &str) -> Vec<(Kind, usize)> {
        let text = format!("Bake\n\n500 g flour\n300 g water\n7 g yeast\n\nMethod\n{method}\n");
        offered(&text).remove(0)
    }

    /// What the texts ask for, by reading them.
    #[test]
    fn the_words_of_a_method_offer_a_shape() {
        for (method, want) in [
            (
                "1. Knead.\n2. Roll to a 40 x 30 cm rectangle, spread with jam and roll up from a long side.",
                vec![(Kind::Roll, 2)],
            ),
            (
                "1. Divide in three, roll each into a rope and plait them.",
                vec![(Kind::Plait, 1)],
            ),
            (
                "1. Mix.\n2. Divide into 12 and shape into balls.",
                vec![(Kind::Round, 2)],
            ),
            (
                "1. Roll out 1 cm thick and cut out with a doughnut cutter.",
                vec![(Kind::Ring, 1)],
            ),
            (
                "1. Roll out the pastry. Line a 23 cm tart tin with the pastry and trim. Lay the rest over in a lattice.",
                vec![(Kind::Lining, 1), (Kind::Lattice, 1)],
            ),
            (
                "1. Roll out to a 30 x 20 cm rectangle and cut into squares.",
                vec![(Kind::Sheet, 1)],
            ),
            (
                "1. Line a 23 cm tin with paper. Scrape in the batter and bake.",
                vec![],
            ),
            ("1. Drop spoonfuls on a tray, well apart.", vec![]),
            ("1. Shape into a ball and let rise 1 hour.", vec![]),
            ("1. Simmer with a twist of lemon peel; form a well.", vec![]),
            (
                "1. Lay the lid on and twist the pastry edges to seal.",
                vec![],
            ),
            (
                "1. Cut out with a 6 cm cutter; do not twist the cutter.",
                vec![(Kind::CutOuts, 1)],
            ),
            (
                "1. Twist the two strands round one another.",
                vec![(Kind::Plait, 1)],
            ),
            ("1. Brush the hot plait with the syrup twice.", vec![]),
            (
                "1. Roll out 3 mm thick and line a 23 cm fluted tart tin.",
                vec![(Kind::Lining, 1)],
            ),
        ] {
            assert_eq!(dough(method), want, "{method}");
        }
    }

    #[test]
    fn cakes_that_are_put_on_one_another_are_layers() {
        const CAKE: &str = "Cake\n\nFor the cake\n300 g flour\n300 g butter\n300 g sugar\n5 eggs\n\nFor the cream\n400 g double cream\n30 g icing sugar\n\nMethod\n";
        for (method, want) in [
            (
                "1. Divide the batter between three 20 cm round tins and bake for 25 minutes.\n2. Whip the cream and sugar.\n3. Put one layer on a plate, spread with cream and repeat.",
                vec![(Kind::Layers, 3)],
            ),
            (
                "1. Scrape the batter into a 20 cm round tin and bake for 45 minutes.\n2. Split the cold cake into two layers.\n3. Whip the cream and sugar and sandwich the cake with it.",
                vec![(Kind::Layers, 2)],
            ),
            (
                "1. Scrape the batter into two 20 cm round tins and bake for 25 minutes.\n2. Whip the cream and serve it beside.",
                vec![],
            ),
            (
                "1. Divide between two 900 g loaf tins in an even layer and bake for 50 minutes.\n2. Whip the cream.",
                vec![],
            ),
            (
                "1. Divide between two 20 cm round tins in an even layer and bake.\n2. Whip the cream and serve it beside.",
                vec![],
            ),
            (
                "1. Scrape into a 20 cm round tin and bake.\n2. Cut through the layers of butter with a sharp knife.",
                vec![],
            ),
        ] {
            let all = offered(&format!("{CAKE}{method}\n"));
            assert_eq!(all[0], want, "{method}");
            assert_eq!(all[1], [], "{method}");
        }
    }
}
