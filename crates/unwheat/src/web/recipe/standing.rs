//! Where a recipe stands: the first stage that still has something to do, and what that is.

use super::Leaf;
use crate::web::larder_page::says_neither;
use larder::{FoodId, Gluten, Larder};
use recipe::sheet::{SheetError, Worked};
use recipe::weigh::Basis;
use recipe::{Doubt, DoubtCode};
use store::Summary;

/// What comes next: the stage, a sentence, the words of the button that leads there.
type Next = (Leaf, String, &'static str);

/// Where a recipe stands.
pub struct Standing {
    /// The stage that has something to do.
    pub to: Leaf,
    /// What comes next, in a sentence.
    pub next: String,
    /// Words of the button that leads there.
    pub to_words: &'static str,
    /// Only labels hold it up: what comes once they are read.
    after: Option<Next>,
    /// Lines whose grams are reckoned from cups, spoons or pieces.
    reckoned: u32,
    /// No version is saved yet: whoever works on it sees its stages for the first time.
    new: bool,
    read: u32,
    weigh: u32,
    screen: u32,
    rework: u32,
    bakes: u32,
    /// Gluten is left in it, or its method names some.
    gluten: bool,
}

impl Standing {
    /// The stage as the list of recipes keeps it.
    pub fn stage(&self) -> &'static str {
        if self.gluten && self.to == Leaf::Screen {
            "gluten"
        } else {
            self.to.slug()
        }
    }
    /// Things to look at on a page.
    pub fn count(&self, leaf: Leaf) -> u32 {
        match leaf {
            Leaf::Read => self.read,
            Leaf::Weigh => self.weigh,
            Leaf::Screen => self.screen,
            Leaf::Rework => self.rework,
            Leaf::Bakes => self.bakes,
            _ => 0,
        }
    }
    /// Whether only labels hold it up on this page, which is behind Screen: they take a walk to the
    /// shop, and the work goes on meanwhile.
    pub fn is_past_labels(&self, leaf: Leaf) -> bool {
        let at = |l: Leaf| Leaf::ALL.iter().position(|x| *x == l);
        self.after.is_some() && at(leaf) > at(Leaf::Screen)
    }
    /// Where the work can go on while labels are open: offered beside them on the Screen page.
    pub fn goes_on(&self, leaf: Leaf) -> Option<(Leaf, &'static str)> {
        let (to, _, words) = self.after.as_ref().filter(|_| leaf == Leaf::Screen)?;
        Some((*to, *words))
    }
    /// The stage after this one that has something to see, where nothing up to there is to be settled and
    /// no version is saved yet: whoever converts a recipe sees what it weighs and what carries gluten before
    /// the rework.
    fn in_order(&self, leaf: Leaf) -> Option<Next> {
        let at = |l: Leaf| Leaf::ALL.iter().position(|x| *x == l);
        let weigh = leaf == Leaf::Read && self.reckoned > 0;
        let to = if weigh { Leaf::Weigh } else { Leaf::Screen };
        if !self.new || at(leaf) >= at(Leaf::Screen) || at(self.to) <= at(to) {
            return None;
        }
        Some(if weigh {
            let next = things(
                self.reckoned,
                "Next: look through the weights. One is reckoned from a cup, a spoon or a piece.",
                "Next: look through the weights. {n} are reckoned from cups, spoons or pieces.",
            );
            (to, next, "See the weights")
        } else {
            let next = match self.screen {
                0 => "Next: see what carries gluten, and the allergens.".to_owned(),
                n => things(
                    n,
                    "Next: see what carries gluten, and the label to be read.",
                    "Next: see what carries gluten, and the {n} labels to be read.",
                ),
            };
            (to, next, "See the screening")
        })
    }
    /// What comes next, as a page says it.
    pub fn next_on(&self, leaf: Leaf) -> Next {
        if let Some(next) = self.in_order(leaf) {
            return next;
        }
        match &self.after {
            Some((to, next, words)) if self.is_past_labels(leaf) => match leaf {
                Leaf::Bench if self.bakes == 0 => (
                    leaf,
                    "Next: bake a test. Start a batch below.".to_owned(),
                    *words,
                ),
                Leaf::Bakes if self.bakes == 0 => {
                    (Leaf::Bench, "Next: bake a test.".to_owned(), "To the bench")
                }
                _ => (*to, next.clone(), *words),
            },
            _ => (self.to, self.next.clone(), self.to_words),
        }
    }
    /// All of them before the bench.
    pub fn to_check(&self) -> u32 {
        self.read + self.weigh + self.screen + self.rework
    }
}

/// A sentence about one thing, or about several.
fn things(n: u32, one: &str, many: &str) -> String {
    if n == 1 {
        one.to_owned()
    } else {
        many.replace("{n}", &n.to_string())
    }
}

/// A remark rather than a question: nothing hangs on an answer.
pub fn is_remark(doubt: &Doubt) -> bool {
    matches!(
        doubt.code,
        DoubtCode::NotInFormula | DoubtCode::Optional | DoubtCode::ToTaste
    )
}

/// Whether a doubt of weighing is asked about where the text is read: what cannot be meant is a slip
/// in it.
pub fn is_slip(doubt: &Doubt) -> bool {
    doubt.code == DoubtCode::UnlikelyAmount
}

/// Open questions of reading: lines, steps and the recipe as a whole.
fn reading(w: &Worked) -> u32 {
    let recipe = &w.formula.recipe;
    let slips = w.formula.doubts.iter().map(|d| &d.2).filter(|d| is_slip(d));
    let lines = recipe
        .components
        .iter()
        .flat_map(|c| &c.lines)
        .flat_map(|l| &l.doubts);
    lines
        .chain(&recipe.doubts)
        .chain(slips)
        .filter(|d| !is_remark(d))
        .count() as u32
}

/// Open questions of weighing: its doubts, and lines without grams.
fn weighing(w: &Worked) -> u32 {
    let asked = |d: &&(usize, usize, Doubt)| !is_remark(&d.2) && !is_slip(&d.2);
    let doubts = w.formula.doubts.iter().filter(asked).count();
    let bare = w
        .formula
        .components
        .iter()
        .enumerate()
        .flat_map(|(c, x)| x.items.iter().map(move |i| (c, i)))
        .filter(|(c, i)| {
            i.in_formula
                && i.grams.is_none()
                && !w.formula.doubts.iter().any(|d| d.0 == *c && d.1 == i.line)
                && !w.formula.recipe.components[*c].lines[i.line]
                    .doubts
                    .iter()
                    .chain(&w.formula.recipe.components[*c].lines[i.line].settled)
                    .any(|_| true)
        })
        .count();
    (doubts + bare) as u32
}

/// Lines whose grams are reckoned: the recipe has not stated them, and the baker has not weighed them.
fn reckoned(w: &Worked) -> u32 {
    let items = w.formula.components.iter().flat_map(|c| &c.items);
    let is = |b: &Basis| b.is_reckoned();
    items
        .filter(|i| i.in_formula && i.basis.as_ref().is_some_and(is))
        .count() as u32
}

/// Components whose style is asked about: what is a filling and no dough shows on every page.
fn styles(w: &Worked) -> u32 {
    let components = w.rework.components.iter();
    components
        .flat_map(|c| &c.doubts)
        .filter(|d| d.code == DoubtCode::StyleUnsure)
        .count() as u32
}

/// Labels that leave something open in the gluten-free version, and how many of them were read and settle
/// nothing.
fn labels(w: &Worked, larder: &Larder) -> (u32, u32) {
    let mut foods: Vec<_> = w
        .rework_screening
        .open()
        .filter(|f| f.settled(larder).is_none())
        // One food is one label, whatever it is called on its lines.
        .map(|f| {
            (
                f.food,
                if f.food.is_none() {
                    f.words.as_str()
                } else {
                    ""
                },
            )
        })
        .collect();
    foods.sort_unstable();
    foods.dedup();
    let read = |f: &&(Option<FoodId>, &str)| f.0.is_some_and(|f| says_neither(larder, f));
    (foods.len() as u32, foods.iter().filter(read).count() as u32)
}

/// What comes next where nothing is open.
fn settled(versions: u32, bakes: u32) -> Next {
    if versions == 0 {
        let words = "Next: look through the gluten-free version and save it.";
        (Leaf::Rework, words.to_owned(), "See the rework")
    } else if bakes == 0 {
        (Leaf::Bench, "Next: bake a test.".to_owned(), "To the bench")
    } else {
        let words = "Next: change one thing and bake again, or make the card.";
        (Leaf::Card, words.to_owned(), "Make the card")
    }
}

/// Where a recipe stands.
pub fn standing(
    worked: &Result<Worked, SheetError>,
    larder: &Larder,
    versions: u32,
    bakes: u32,
) -> Standing {
    let Ok(w) = worked else {
        return Standing {
            to: Leaf::Read,
            next: "The text cannot be worked with yet: see what it says below.".to_owned(),
            to_words: "See the text",
            after: None,
            reckoned: 0,
            new: versions == 0,
            read: 1,
            weigh: 0,
            screen: 0,
            rework: 0,
            bakes,
            gluten: false,
        };
    };
    let (read, weigh) = (reading(w), weighing(w));
    let (screen, unsettled) = labels(w, larder);
    let rework = styles(w);
    let (to, next, to_words) = if read > 0 {
        (
            Leaf::Read,
            things(
                read,
                "Next: settle one question about what was read.",
                "Next: settle {n} questions about what was read.",
            ),
            "Settle them",
        )
    } else if weigh > 0 {
        (
            Leaf::Weigh,
            things(
                weigh,
                "Next: one weight is unsure.",
                "Next: {n} weights are unsure.",
            ),
            "See the weights",
        )
    } else if rework > 0 {
        (
            Leaf::Rework,
            things(
                rework,
                "Next: say what one part is: which dough or batter, or only a filling.",
                "Next: say what {n} parts are: which dough or batter, or only a filling.",
            ),
            "Say it",
        )
    } else if w.rework_screening.verdict == Gluten::Contains {
        (
            Leaf::Screen,
            "Next: this version still contains gluten. See where, and change those lines in the text."
                .to_owned(),
            "See where",
        )
    } else if !w.rework_screening.method.is_empty() {
        (
            Leaf::Screen,
            "Next: its method or a note names gluten that no line holds. See where, and mend the words or add the line."
                .to_owned(),
            "See where",
        )
    } else if screen > 0 && screen == unsettled {
        (
            Leaf::Screen,
            things(
                unsettled,
                "Next: one label was read and leaves it open: ask the maker, or take one labelled gluten-free.",
                "Next: {n} labels were read and leave it open: ask the makers, or take ones labelled gluten-free.",
            ),
            "See the labels",
        )
    } else if screen > 0 {
        (
            Leaf::Screen,
            things(
                screen - unsettled,
                "Next: one label is to be read before you bake for anyone.",
                "Next: {n} labels are to be read before you bake for anyone.",
            ),
            "See the labels",
        )
    } else {
        settled(versions, bakes)
    };
    let only_labels = to == Leaf::Screen
        && w.rework_screening.verdict != Gluten::Contains
        && w.rework_screening.method.is_empty();
    Standing {
        to,
        next,
        to_words,
        after: only_labels.then(|| settled(versions, bakes)),
        reckoned: reckoned(w),
        new: versions == 0,
        read,
        weigh,
        screen,
        rework,
        bakes,
        gluten: w.rework_screening.verdict == Gluten::Contains
            || !w.rework_screening.method.is_empty(),
    }
}

/// What the list of recipes knows of one.
pub fn summary(
    worked: &Result<Worked, SheetError>,
    title: Option<&str>,
    larder: &Larder,
    versions: u32,
    bakes: u32,
) -> Summary {
    let standing = standing(worked, larder, versions, bakes);
    let untitled = || "Untitled recipe".to_owned();
    let Ok(w) = worked else {
        return Summary {
            title: title.map_or_else(untitled, str::to_owned),
            stage: standing.stage().to_owned(),
            to_check: standing.to_check(),
            ..Summary::default()
        };
    };
    let recipe = &w.formula.recipe;
    let mut styles: Vec<String> = w
        .rework
        .components
        .iter()
        .filter_map(|c| c.style)
        .map(|s| s.style.key().to_owned())
        .collect();
    styles.dedup();
    let mut words: Vec<&str> = w
        .formula
        .components
        .iter()
        .flat_map(|c| &c.items)
        .filter_map(|i| i.food)
        .flat_map(|f| [larder.food(f).name.as_str(), larder.plain_name(f)])
        .collect();
    words.sort_unstable();
    words.dedup();
    Summary {
        title: recipe
            .title
            .clone()
            .or_else(|| title.map(str::to_owned))
            .filter(|t| !t.trim().is_empty())
            .map_or_else(untitled, |t| card::quiet(&t)),
        stage: standing.stage().to_owned(),
        styles,
        to_check: standing.to_check(),
        components: recipe
            .components
            .iter()
            .map(|c| c.name.clone())
            .filter(|n| !n.is_empty())
            .collect(),
        words: words.join(" "),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use quantity::Locale;
    use recipe::sheet::{Sheet, work};

    /// What a part is, is asked on the Rework page and counted there, until it is said.
    #[test]
    fn a_part_of_unsure_style_is_counted() {
        let larder = Larder::built_in().expect("the built-in tables");
        let at = |filling: &str| {
            let text = format!(
                "Nut slice\n\nFor the dough:\n300 g plain flour\n150 g butter\n100 g sugar\n1 egg\n\n\
                 For the filling:\n150 g ground hazelnuts\n{filling}80 g sugar\n60 g butter\n"
            );
            let w = work(&Sheet::new(&text, Locale::Us), &[], &larder, &[]);
            standing(&w, &larder, 0, 0)
        };
        let asked = at("30 g plain flour\n");
        assert_eq!(asked.count(Leaf::Rework), 1);
        assert!(asked.to == Leaf::Rework && asked.next.contains("what one part is"));
        assert_eq!(at("").count(Leaf::Rework), 0);
    }

    /// Labels come before the rework is saved, and do not stand in the way of the bench.
    #[test]
    fn labels_come_in_their_order_and_hide_nothing() {
        let larder = Larder::built_in().expect("the built-in tables");
        let text = "Vanilla muffins\n\n250 g plain flour\n2 tsp baking powder\n1 tsp vanilla extract\n120 ml milk\n100 g butter\n2 eggs\n150 g sugar\n";
        let w = work(&Sheet::new(text, Locale::Uk), &[], &larder, &[]);
        let at = |versions, bakes| standing(&w, &larder, versions, bakes);
        let fresh = at(0, 0);
        assert!(fresh.count(Leaf::Screen) > 0 && fresh.to == Leaf::Screen);
        assert_eq!(fresh.next_on(Leaf::Weigh).0, Leaf::Screen);
        assert_eq!(fresh.goes_on(Leaf::Screen).map(|g| g.0), Some(Leaf::Rework));
        assert!(fresh.next_on(Leaf::Rework).1.contains("save it"));
        assert!(fresh.next_on(Leaf::Bench).1.contains("bake a test"));
        assert!(at(1, 0).next_on(Leaf::Bakes).1.contains("bake a test"));
        assert!(at(1, 1).next_on(Leaf::Bakes).1.contains("bake again"));
    }

    /// A newcomer goes through the stages in order: from Read to the weights where there is something to see,
    /// and never past what carries gluten.
    #[test]
    fn no_stage_with_something_to_see_is_passed() {
        let larder = Larder::built_in().expect("the built-in tables");
        let at = |text: &str, versions| {
            let w = work(&Sheet::new(text, Locale::Uk), &[], &larder, &[]);
            standing(&w, &larder, versions, 0)
        };
        let path = |s: &Standing| -> Vec<Leaf> {
            let leaves = [Leaf::Read, Leaf::Weigh, Leaf::Screen];
            leaves.map(|l| s.next_on(l).0).to_vec()
        };
        let cups = "Plain rounds\n\n2 cups plain flour\n60 g butter\n140 g milk\n";
        let s = at(cups, 0);
        assert!(
            s.next_on(Leaf::Read).1.contains("reckoned from a cup"),
            "{}",
            s.next_on(Leaf::Read).1
        );
        assert_eq!(path(&s), [Leaf::Weigh, Leaf::Screen, Leaf::Rework]);
        // All in grams: there is nothing to see on Weigh that the text has not said.
        let grams = cups.replace("2 cups", "260 g");
        assert_eq!(
            path(&at(&grams, 0)),
            [Leaf::Screen, Leaf::Screen, Leaf::Rework]
        );
        // A version is saved: it was looked through.
        let saved = at(cups, 1);
        assert_eq!(path(&saved), [saved.to; 3]);
        // A part whose kind is asked on Rework lies behind Screen, not before it.
        let part = "Nut slice\n\nFor the dough:\n300 g plain flour\n150 g butter\n100 g sugar\n1 egg\n\n\
                    For the filling:\n150 g ground hazelnuts\n30 g plain flour\n80 g sugar\n60 g butter\n";
        let s = at(part, 0);
        assert_eq!(
            (s.to, path(&s)),
            (Leaf::Rework, vec![Leaf::Weigh, Leaf::Screen, Leaf::Rework])
        );
    }

    /// What only the method brushes on is a question; what its line says to be for brushing is none.
    #[test]
    fn an_egg_that_only_the_method_sets_aside_is_asked_about() {
        let larder = Larder::built_in().expect("the built-in tables");
        for (egg, asked) in [("1 egg, beaten", 1), ("1 egg, to brush", 0)] {
            let text = format!(
                "Pie crust\n\n300 g plain flour\n150 g butter\n80 g water\n{egg}\n\nRub in, bind, roll out and brush with egg.\n"
            );
            let w = work(&Sheet::new(&text, Locale::Uk), &[], &larder, &[]);
            assert_eq!(
                standing(&w, &larder, 0, 0).count(Leaf::Read),
                asked,
                "{egg}"
            );
        }
    }
}
