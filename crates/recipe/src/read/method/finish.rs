//! What goes on after the bake, listed among the dough's own lines: 'sandwich with the jam and cream'.

use super::apart::line_words;
use super::wash::{ALL, IN_THE_DOUGH};
use crate::aside::taking;
use crate::line::{Item, Line, Purpose};
use crate::read::Reader;
use crate::recipe::{Activity, Recipe, Step};
use crate::sentences::{sentences, words};
use larder::{Food, Function};

/// Words that take foods without their names, and the kinds of food that they may take.
const KINDS: [(&[&str], &[Function]); 5] = [
    (&["fat", "shortening"], &[Function::Fat]),
    (
        &["liquid", "wet"],
        &[Function::Liquid, Function::Water, Function::Egg],
    ),
    (
        &["fruit", "nut", "seed", "chip"],
        &[
            Function::Fruit,
            Function::Chocolate,
            Function::Nut,
            Function::Seed,
            Function::Inclusion,
        ],
    ),
    (
        &["spice", "flavouring", "flavoring", "seasoning", "herb"],
        &[Function::Flavour, Function::Spice],
    ),
    (&["dry"], &[Function::Sugar, Function::Spice]),
];

/// Sets the foods of a floury part beside the formula that the method names only after the part's last bake:
/// they are none of its dough. Each line is asked about.
pub(crate) fn set_aside(recipe: &mut Recipe, owners: &[usize], reader: &Reader<'_>) {
    for c in 0..recipe.components.len() {
        let own = recipe.steps.iter().zip(owners).rev();
        let mut own = own.filter(|(_, owner)| **owner == c).map(|(step, _)| step);
        let Some((how, _)) = own.find_map(heated) else {
            continue;
        };
        // What is boiled last is a filling, a sauce, gnocchi.
        if how == Activity::Boil {
            continue;
        }
        let mut steps = recipe.steps.iter().enumerate().rev();
        let last = steps.find_map(|(s, step)| {
            let (last, end) = heated(step)?;
            (last == Activity::Bake || owners[s] == c).then_some((s, end))
        });
        let Some((step, end)) = last else { continue };
        let said = Around::of(&recipe.steps, step, end);
        for l in finishing(recipe, c, &said, reader) {
            let line = &mut recipe.components[c].lines[l];
            let shown = line.named();
            let says = format!(
                "'{shown}' goes on after the bake, as the method names it nowhere before: screened, but not counted in the formula"
            );
            line.set_aside(0..line.items.len(), Purpose::Finishing, says);
        }
    }
}

/// The last heat of a step, and where its words end.
fn heated(step: &Step) -> Option<(Activity, usize)> {
    let heats = [Activity::Bake, Activity::Fry, Activity::Boil];
    let found = step.facts.iter().filter_map(|f| {
        let how = heats.into_iter().find(|a| f.does(*a))?;
        Some((how, f.span.end))
    });
    found.max_by_key(|f| f.1)
}

/// The words of a method around a bake.
struct Around {
    /// Up to the sentence that ends it, that too, as written, in small letters, a blank around each.
    text: String,
    /// The same without a plural's 's'.
    before: Vec<String>,
    /// Behind that sentence.
    after: Vec<String>,
}

impl Around {
    fn of(steps: &[Step], bake: usize, end: usize) -> Self {
        let text = steps[bake].text.as_str();
        let cut = sentences(text).into_iter().find(|r| r.end >= end);
        let (same, rest) = text.split_at(cut.map_or(text.len(), |r| r.end));
        let all = |steps: &[Step]| -> String {
            let texts = steps.iter().map(|s| taking(&s.text).into_owned() + " ");
            texts.collect()
        };
        let before = all(&steps[..bake]) + &taking(same);
        let after = taking(rest).into_owned() + " " + &all(&steps[bake + 1..]);
        let lower = before.to_lowercase();
        let plain = lower.split(|c: char| !c.is_alphanumeric());
        let plain: Vec<&str> = plain.filter(|w| !w.is_empty()).collect();
        Self {
            text: format!(" {} ", plain.join(" ")),
            before: words(&before),
            after: words(&after),
        }
    }

    /// Whether a word before the bake takes a food without its name: 'rub in the fat'.
    fn takes(&self, food: &Food) -> bool {
        KINDS.iter().any(|(said, kinds)| {
            kinds.iter().any(|k| food.does(*k))
                && said.iter().any(|w| self.before.iter().any(|b| b == w))
        })
    }
}

/// The lines of a floury part that are named only behind its bake.
fn finishing(recipe: &Recipe, c: usize, said: &Around, reader: &Reader<'_>) -> Vec<usize> {
    let part = &recipe.components[c];
    let foods = |line: &Line| {
        let items = line.items.iter();
        let found: Vec<&Food> = items
            .filter_map(|i| Some(reader.larder.food(i.food.as_ref()?.food)))
            .collect();
        found
    };
    let floury = |f: &&Food| f.is_flour_phase() && f.function() != Function::Starch;
    let is_floury = part.lines.iter().any(|l| foods(l).iter().any(floury));
    if !is_floury || ALL.iter().any(|w| said.text.contains(&format!(" {w} "))) {
        return Vec::new();
    }
    // 'Warm milk' is milk: how a food is does not call it.
    let named = |line: &Line| -> Vec<String> {
        let mut names = line_words(line);
        names.retain(|w| !reader.larder.names().is_remark(w));
        names
    };
    let lines = recipe.components.iter().flat_map(|p| &p.lines);
    let all: Vec<Vec<String>> = lines.map(named).collect();
    let is_last = |l: &usize| {
        let line = &part.lines[*l];
        let foods = foods(line);
        let of_formula = |i: &Item| i.purpose == Purpose::Formula && i.reference.is_none();
        let kept = line.clean.to_lowercase().contains(IN_THE_DOUGH);
        let known = !foods.is_empty() && foods.len() == line.items.len();
        let name = named(line);
        // What no other line is called by.
        let is_own = |w: &&String| all.iter().filter(|n| n.contains(w)).count() == 1;
        let (own, shared): (Vec<&String>, Vec<&String>) = name.iter().partition(is_own);
        line.items.iter().all(of_formula)
            && !kept
            && known
            && foods.iter().all(|f| may_finish(f) && !said.takes(f))
            && !own.iter().any(|w| said.before.contains(w))
            && own.iter().any(|w| said.after.contains(w))
            // 'Both sugars'.
            && !shared.iter().any(|w| said.text.contains(&format!(" {w}s ")))
    };
    let (last, rest): (Vec<usize>, Vec<usize>) = (0..part.lines.len()).partition(is_last);
    // A method that says 'mix, knead, bake' takes without a name.
    let mixed = |l: &&usize| {
        named(&part.lines[**l])
            .iter()
            .any(|w| said.before.contains(w))
    };
    if 2 * rest.iter().filter(mixed).count() > rest.len() {
        last
    } else {
        Vec::new()
    }
}

/// Whether a food may be put on a bake: no flour, nor what raises or binds.
fn may_finish(food: &Food) -> bool {
    let does = [
        Function::Leavening,
        Function::Yeast,
        Function::Salt,
        Function::Water,
        Function::Binder,
    ];
    !food.is_flour_phase() && !does.contains(&food.function())
}

#[cfg(test)]
mod tests {
    use crate::line::Purpose;
    use crate::read::Reader;
    use larder::Larder;
    use quantity::Locale;

    /// The lines that are set aside.
    fn finish(lines: &str, method: &str) -> Vec<String> {
        let larder = Larder::built_in().expect("the built-in tables");
        let reader = Reader::new(&larder, Locale::Uk);
        let text = format!("Trial\n\n{lines}\n\nMethod\n{method}\n");
        let recipe = crate::read::recipe(&text, &reader).expect("reads");
        let lines = recipe.components.iter().flat_map(|c| &c.lines);
        lines
            .filter(|l| l.items.iter().any(|i| i.purpose == Purpose::Finishing))
            .map(|l| l.words(&l.items[0].name).to_owned())
            .collect()
    }

    const CAKE: &str = "200 g butter\n200 g caster sugar\n4 eggs\n200 g self-raising flour\n6 tbsp plum jam\n150 ml double cream\n1 tbsp icing sugar";
    const MIXED: &str = "1. Cream the butter and sugar, beat in the eggs, fold in the flour.\n2. Bake at 180C for 25 minutes. Cool.";

    #[test]
    fn what_is_named_only_behind_the_bake_is_none_of_the_dough() {
        let whole = format!(
            "{MIXED}\n3. Whip the cream. Sandwich with jam and cream, dust with icing sugar."
        );
        assert_eq!(
            finish(CAKE, &whole),
            ["plum jam", "double cream", "icing sugar"]
        );
        let one_step = "Cream the butter and sugar, beat in the eggs, fold in the flour. Bake at 180C for 25 minutes. When cool sandwich with the jam.";
        assert_eq!(finish(CAKE, one_step), ["plum jam"]);
    }

    #[test]
    fn what_the_dough_may_hold_stays_in_it() {
        let milk = "250 g plain flour\n180 ml warm milk\n50 g butter\n1 egg\n100 g icing sugar\n1 tbsp milk";
        let iced = "1. Mix the flour, milk, butter and egg.\n2. Bake at 190 C for 20 minutes.\n3. Whisk the icing sugar with milk, spread over the warm rolls.";
        assert!(!finish(milk, iced).contains(&"warm milk".to_owned()));
        let terse = "1. Mix, knead, rest for 30 minutes.\n2. Roll out and fry for 2 minutes a side.\n3. Brush with the ghee.";
        assert!(
            finish(
                "300 g self-raising flour\n150 g yoghurt\n2 tbsp ghee\n50 ml water",
                terse
            )
            .is_empty()
        );
        let gnocchi = "1. Bake the potatoes at 200C for 1 hour, rice them.\n2. Work in the egg and the flour.\n3. Boil the gnocchi for 2 minutes.";
        assert!(finish("1 kg potatoes\n250 g plain flour\n1 egg", gnocchi).is_empty());
        let stew = "1. Toss the beef in the flour and fry.\n2. Add the stock and stout and simmer for 2 hours.";
        assert!(
            finish(
                "500 g beef\n30 g plain flour\n200 ml stout\n400 ml beef stock",
                stew
            )
            .is_empty()
        );
        let all = "1. Beat all the ingredients together.\n2. Bake at 180C for 25 minutes.\n3. Serve with cream and jam.";
        assert!(finish(CAKE, all).is_empty());
        // The fat of the rubbing in is the butter.
        let scones = "225 g self-raising flour\n50 g butter\n150 ml milk";
        let fat = "1. Rub the fat into the flour, stir in the milk.\n2. Bake at 220C for 12 minutes.\n3. Split and serve with butter.";
        assert!(finish(scones, fat).is_empty());
        // What the second bake has is baked.
        let tart = "200 g plain flour\n100 g butter\n50 ml water\n300 ml cream\n3 eggs";
        let twice = "1. Rub the butter into the flour, add the water. Line a tin and bake blind for 15 minutes.\n2. Whisk the eggs and cream, pour in and bake for 30 minutes.";
        assert!(finish(tart, twice).is_empty());
        let sugars = "250 g plain flour\n120 g butter\n100 g brown sugar\n50 g white sugar\n1 egg";
        let both = "1. Cream the butter and sugars, beat in the egg and flour.\n2. Bake at 180C for 12 minutes.\n3. Dust with white sugar.";
        assert!(finish(sugars, both).is_empty());
    }
}
