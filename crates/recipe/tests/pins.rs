//! Held lines: nothing moves them, the rest is solved around them.

mod common;

use common::{EXAMPLES, formula, larder};
use proptest::prelude::*;
use proptest::sample::select;
use recipe::rework::blend::{Blend, OwnBlend};
use recipe::rework::{
    Hold, Kept, Options, PinnedLine, Rework, ReworkedComponent, ReworkedLine, rework,
};

const MORE: [&str; 3] = [
    LOAF,
    "Fat rascals\n\n400 g self-rising flour\n100 g butter\n60 g sugar\n2 eggs\n1 g xanthan gum\n",
    "Damper\n\n300 g bread flour\n100 g sourdough starter\n30 g rum\n90 g whole milk\n6 g salt\n2 tsp zorbal crystals\n",
];

/// A dough with a preferment.
const LOAF: &str = "Loaf\n\nPoolish:\n150 g bread flour\n150 g water\n1 g instant yeast\n\nDough:\n350 g bread flour\n180 g water\n300 g poolish\n8 g salt\n\nMix the poolish. Mix the dough with the poolish.\n";

fn free(text: &str) -> Rework {
    rework(formula(text), larder(), &Options::default())
}

fn held(text: &str, pins: Vec<PinnedLine>) -> Rework {
    let options = Options {
        pins,
        ..Options::default()
    };
    options.check().expect("pins that can be");
    rework(formula(text), larder(), &options)
}

fn pin(component: &str, line: &str, grams: f64) -> PinnedLine {
    PinnedLine {
        component: component.to_owned(),
        line: line.to_owned(),
        hold: Hold::Grams(grams),
    }
}

fn g_of(pin: &PinnedLine) -> f64 {
    match pin.hold {
        Hold::Grams(g) => g,
        _ => f64::NAN,
    }
}

fn g(line: &ReworkedLine) -> f64 {
    line.grams.map_or(f64::NAN, |x| x.likely().as_grams())
}

#[track_caller]
fn line<'a>(c: &'a ReworkedComponent, key: &str) -> &'a ReworkedLine {
    let found = c.lines.iter().find(|l| l.key == key);
    let keys: Vec<&str> = c.lines.iter().map(|l| l.key.as_str()).collect();
    found.ok_or(keys).expect("the line")
}

fn hydration(c: &ReworkedComponent) -> f64 {
    c.reworked.hydration.expect("flour").likely().get()
}

/// Every line that weighs something, with a weight to hold it at.
fn all(r: &Rework) -> Vec<PinnedLine> {
    r.components
        .iter()
        .flat_map(|c| {
            let live = c.lines.iter().filter(|l| l.kept != Kept::Dropped);
            live.filter(|l| l.grams.is_some())
                .map(|l| pin(&c.name, &l.key, g(l)))
        })
        .collect()
}

#[track_caller]
fn adds_up(r: &Rework) {
    for c in &r.components {
        let sum: f64 = c
            .lines
            .iter()
            .filter(|l| l.in_formula && l.kept != Kept::Dropped && l.grams.is_some())
            .map(g)
            .sum();
        let makes = c.makes.likely().as_grams();
        assert!((sum - makes).abs() < 1e-6, "{}: {sum} and {makes}", c.name);
    }
}

#[test]
fn keys_are_one_of_each() {
    for text in EXAMPLES.into_iter().chain(MORE) {
        for c in free(text).components {
            let mut keys: Vec<&str> = c.lines.iter().map(|l| l.key.as_str()).collect();
            assert!(keys.iter().all(|k| !k.is_empty()), "{keys:?}");
            keys.sort_unstable();
            let before = keys.len();
            keys.dedup();
            assert_eq!(keys.len(), before, "{}: {keys:?}", c.name);
        }
    }
}

/// What the engine chose, held at just that, changes nothing: one line or all of them.
#[test]
fn holding_what_was_chosen_changes_nothing() {
    for text in EXAMPLES.into_iter().chain(MORE) {
        let before = free(text);
        let pins = all(&before);
        let mut sets: Vec<Vec<PinnedLine>> = pins.iter().map(|p| vec![p.clone()]).collect();
        sets.push(pins);
        for set in sets {
            let after = held(text, set.clone());
            assert_eq!(after.idle_pins, Vec::new());
            adds_up(&after);
            for (a, b) in before.components.iter().zip(&after.components) {
                assert_eq!(a.lines.len(), b.lines.len(), "{} {set:?}", a.name);
                for (x, y) in a.lines.iter().zip(&b.lines) {
                    assert_eq!(x.key, y.key);
                    assert_eq!(x.kept, y.kept, "{}", x.key);
                    let same = x.grams.is_none() && y.grams.is_none();
                    assert!(same || (g(x) - g(y)).abs() < 1e-6, "{}: {set:?}", x.key);
                    if let Some(would) = y.pinned {
                        assert!((would.likely().as_grams() - g(x)).abs() < 1e-6, "{}", x.key);
                    }
                }
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    /// Any lines at any weights: they weigh that, the rest adds up, nothing panics.
    #[test]
    fn held_lines_weigh_what_they_are_held_at(
        text in select([EXAMPLES.as_slice(), MORE.as_slice()].concat()),
        picks in proptest::collection::vec((any::<prop::sample::Index>(), prop_oneof![
            Just(0.0), 0.01..3.0f64, Just(1.0)
        ]), 1..6),
    ) {
        let before = free(text);
        let pins = all(&before);
        let mut set: Vec<PinnedLine> = Vec::new();
        for (index, factor) in picks {
            let p = index.get(&pins);
            let factor = if p.line == "blend" { factor.max(0.05) } else { factor };
            if !set.iter().any(|s| s.component == p.component && s.line == p.line) {
                set.push(pin(&p.component, &p.line, g_of(p) * factor));
            }
        }
        let after = held(text, set.clone());
        adds_up(&after);
        for p in &set {
            if after.idle_pins.contains(p) {
                continue;
            }
            let c = after.components.iter().find(|c| c.name == p.component).expect("it");
            let l = line(c, &p.line);
            prop_assert!(l.held);
            prop_assert_eq!(g(l), g_of(p));
            prop_assert!(c.changes.iter().any(|x| x.what == "pin"));
        }
        // Everything held where it came to rest: nothing moves any more.
        let mut rest = set.clone();
        for p in all(&after) {
            if !rest.iter().any(|s| s.component == p.component && s.line == p.line) {
                rest.push(p);
            }
        }
        let again = held(text, rest);
        for (a, b) in after.components.iter().zip(&again.components) {
            prop_assert_eq!(a.lines.len(), b.lines.len());
            for x in &a.lines {
                let y = line(b, &x.key);
                let same = x.grams.is_none() && y.grams.is_none();
                prop_assert!(same || (g(x) - g(y)).abs() < 1e-6, "{}: {} and {}", x.key, g(x), g(y));
            }
        }
        // Only lines the engine itself adds can be gone: a line of the recipe is never idle.
        for idle in &after.idle_pins {
            let added = ["psyllium_powder", "xanthan_gum", "egg_white_powder", "water"];
            prop_assert!(added.contains(&idle.line.as_str()), "{idle:?}");
        }
        for l in after.components.iter().flat_map(|c| &c.lines) {
            prop_assert!(l.grams.is_none_or(|x| x.low().as_grams() >= -1e-9), "{l:?}");
        }
    }
}

const BUNS: &str = "Buns\n\n500 g bread flour\n200 g whole milk\n120 g water\n7 g instant yeast\n8 g salt\n40 g butter\n";

#[test]
fn of_two_liquids_the_other_moves() {
    let before = &free(BUNS).components[0];
    let r = held(BUNS, vec![pin("", "whole_milk", 150.0)]);
    let c = &r.components[0];
    assert_eq!(g(line(c, "whole_milk")), 150.0);
    assert!(
        (hydration(c) - hydration(before)).abs() < 0.5,
        "{}",
        hydration(c)
    );
    // Both held: the wetness is what they give, and a doubt says that it leaves the range.
    let r = held(
        BUNS,
        vec![pin("", "whole_milk", 50.0), pin("", "water", 60.0)],
    );
    let c = &r.components[0];
    assert!(hydration(c) < 30.0);
    assert!(
        c.doubts
            .iter()
            .any(|d| d.code == recipe::DoubtCode::OutOfRange)
    );
    let said = &c
        .changes
        .iter()
        .find(|x| x.what == "pin")
        .expect("a pin")
        .rule;
    assert!(said.contains("leaves the style's"), "{said}");
}

/// The dough counts a preferment as it is held, and takes all of one that grew.
#[test]
fn a_held_preferment_flows_on() {
    let before = free(LOAF);
    let named = |r: &Rework, name: &str| -> ReworkedComponent {
        let found = r.components.iter().find(|c| c.name.contains(name));
        found.expect("the component").clone()
    };
    let dough = named(&before, "dough").name;
    let r = held(LOAF, vec![pin(&dough, "use:poolish", 200.0)]);
    let (a, b) = (named(&before, "dough"), named(&r, "dough"));
    assert_eq!(g(line(&b, "use:poolish")), 200.0);
    let flour = |c: &ReworkedComponent| c.reworked.flour.likely().as_grams();
    // A hundred grams of poolish less: fifty of its flour.
    assert!(
        (flour(&a) - flour(&b) - 50.0).abs() < 1.0,
        "{} {}",
        flour(&a),
        flour(&b)
    );
    let left = named(&r, "poolish")
        .left
        .expect("some left")
        .likely()
        .as_grams();
    assert!((left - 101.0).abs() < 2.0, "{left}");
}

/// Wetness and binder follow the flour that is held.
#[test]
fn the_rest_follows_the_blend() {
    let before = &free(BUNS).components[0];
    let r = held(BUNS, vec![pin("", "blend", 400.0)]);
    let c = &r.components[0];
    assert_eq!(c.reworked.flour.likely().as_grams(), 400.0);
    let of = |c: &ReworkedComponent| g(line(c, "psyllium_powder")) / g(line(c, "blend"));
    assert!((of(c) - of(before)).abs() < 1e-9);
    let would = line(c, "blend").pinned.expect("what it would be");
    assert_eq!(would.likely().as_grams(), 500.0);
}

#[test]
fn a_held_binder_is_made_up_only_below_the_range() {
    let share = |c: &ReworkedComponent, key: &str| {
        let line = c
            .lines
            .iter()
            .find(|l| l.key == key && l.kept != Kept::Dropped);
        line.map_or(0.0, |l| 100.0 * g(l) / 500.0)
    };
    let of = |pins| held(BUNS, pins).components.remove(0);
    let usual = share(&free(BUNS).components[0], "xanthan_gum");
    // In the range of 2.9 to 17.1 %: the gum stays as it is.
    let c = of(vec![pin("", "psyllium_powder", 18.0)]);
    assert!((share(&c, "xanthan_gum") - usual).abs() < 1e-9);
    // Below: the gum fills up to the lower end.
    let c = of(vec![pin("", "psyllium_powder", 5.0)]);
    let sum = share(&c, "psyllium_powder") + 2.5 * share(&c, "xanthan_gum");
    let low = c
        .style
        .expect("a style")
        .style
        .range("psyllium")
        .expect("a range");
    assert!((sum - low.value.low().get()).abs() < 1e-9, "{sum}");
    // Left out.
    let c = of(vec![pin("", "psyllium_powder", 0.0)]);
    let gone = line(&c, "psyllium_powder");
    assert_eq!(gone.kept, Kept::Dropped);
    assert!(gone.held && gone.pinned.is_some());
    assert!(share(&c, "xanthan_gum") > usual);
}

#[test]
fn a_pin_without_its_line_is_idle() {
    let lost = pin("", "whole_milk#7", 10.0);
    let merged = pin("", "bread_flour", 100.0);
    let elsewhere = pin("icing", "water", 10.0);
    let pins = vec![lost, merged, elsewhere];
    assert_eq!(held(BUNS, pins.clone()).idle_pins, pins);
}

#[test]
fn contradictions_are_refused() {
    let check = |pins: Vec<PinnedLine>| {
        let options = Options {
            pins,
            ..Options::default()
        };
        options.check().map_err(|e| e.to_string())
    };
    let twice = check(vec![
        pin("dough", "water", 310.0),
        pin("dough", "water", 320.5),
    ]);
    let said = twice.expect_err("refused");
    for part in ["'dough'", "'water'", "310 g", "320.5 g"] {
        assert!(said.contains(part), "{said}");
    }
    assert!(check(vec![pin("", "water", 1.0), pin("", "water", 1.0)]).is_ok());
    for (line, grams) in [("water", -1.0), ("water", 1e6), ("blend", 0.0)] {
        assert!(check(vec![pin("", line, grams)]).is_err(), "{line} {grams}");
    }
}

/// An own blend stands in by key, and by style; its binders are lines of their own.
#[test]
fn an_own_blend_is_used() {
    let own = |styles: &[&str]| -> Blend {
        let own = OwnBlend {
            key: "own_shop".to_owned(),
            name: "shop blend".to_owned(),
            parts: vec![
                ("white_rice_flour".to_owned(), 60.0),
                ("tapioca_starch".to_owned(), 40.0),
            ],
            binders: vec![
                ("guar_gum".to_owned(), 0.4),
                ("xanthan_gum".to_owned(), 1.0),
            ],
            cup_grams: Some(130.0),
            styles: styles.iter().map(|s| (*s).to_owned()).collect(),
            note: String::new(),
        };
        own.blend(larder()).expect("a blend")
    };
    let with = |styles: &[&str], blends: &[(&str, &str)]| {
        let options = Options {
            own: vec![own(styles)],
            blends: blends
                .iter()
                .map(|(c, k)| ((*c).to_owned(), (*k).to_owned()))
                .collect(),
            ..Options::default()
        };
        rework(formula(BUNS), larder(), &options)
            .components
            .remove(0)
    };
    let key = |c: &ReworkedComponent| c.blend.as_ref().expect("a blend").key.to_string();
    assert_eq!(key(&with(&[], &[])), "bread");
    let style = with(&[], &[]).style.expect("a style").style.key();
    assert_eq!(key(&with(&[style], &[])), "own_shop");
    assert_eq!(
        key(&with(&[], &[("", "own_shop"), ("", "rice_free")])),
        "rice_free"
    );
    let c = with(&[], &[("", "rice_free"), ("", "own_shop")]);
    assert_eq!(key(&c), "own_shop");
    assert!((g(line(&c, "guar_gum")) - 2.0).abs() < 1e-9);
    // Guar counts towards the gum that the blend has: 1 % of 500 g less 2 g.
    assert!((g(line(&c, "xanthan_gum")) - 3.0).abs() < 1e-9);
    // Out of a jar, the binders come with the flours: 500 g, 2 g of guar and 5 g of xanthan.
    let jar = c.from_jar(quantity::Mass::grams(500.0), larder());
    assert_eq!(
        jar.as_deref(),
        Some(
            "flours alone; of a jar mixed with what binds take 507 g, and 2 g less of guar gum, no xanthan gum, of which the jar brings 2 g too much"
        )
    );
    // A blend that is gone: the usual one, and the change says so.
    let c = with(&[], &[("", "own_lost")]);
    assert_eq!(key(&c), "bread");
    assert!(c.changes.iter().any(|x| x.what == "blend"));
}

/// Nothing takes out again what a jar was mixed with.
#[test]
fn a_jar_with_a_binder_that_is_left_out_is_not_for_the_recipe() {
    let jar = |grams: f64| {
        let c = &held(BUNS, vec![pin("", "psyllium_powder", grams)]).components[0];
        c.from_jar(quantity::Mass::grams(500.0), larder())
            .expect("words")
    };
    for grams in [0.0, 10.0] {
        let says = jar(grams);
        assert!(
            says.contains("a jar mixed with psyllium husk powder is not for this recipe"),
            "{says}"
        );
        assert!(!says.contains("take 5"), "{says}");
    }
    assert!(
        jar(25.0).contains("and 25 g less of psyllium husk powder"),
        "{}",
        jar(25.0)
    );
}

/// Where every liquid is held, the change goes from the original's wetness to what they give, and
/// nothing says that formulas led there.
#[test]
fn a_held_wetness_is_said_to_be_held() {
    let text = "Damper\n\n300 g plain flour\n180 g water\n6 g salt\n7 g instant yeast\n\nMix, rise and bake.\n";
    let r = held(text, vec![pin("", "water", 260.0)]);
    let c = &r.components[0];
    let water = c
        .changes
        .iter()
        .find(|c| c.what == "water")
        .expect("a change");
    assert_ne!(water.from, water.to);
    assert!(water.from.starts_with("60"), "{}", water.from);
    let says = c.wetness().expect("a dough");
    assert!(
        says.contains("87 % of the flour") || says.contains("86 % of the flour"),
        "{says}"
    );
    assert!(!says.contains("lead one to expect (likely"), "{says}");
}

/// 'Three quarters of the original's grams' is said until the baker has decided, as is 'hold back a tenth' of the butter.
#[test]
fn what_to_begin_with_is_not_said_of_what_is_held() {
    let said = |r: &Rework| {
        let changes = &r.components[0].changes;
        let swap = changes.iter().find(|c| c.what == "hidden gluten");
        swap.expect("a swap").rule.clone()
    };
    let malt = "Loaf\n\n500 g bread flour\n7 g instant yeast\n60 g barley malt syrup\n300 g water\n8 g salt\n";
    assert!(said(&free(malt)).contains("three quarters of the original's grams"));
    let less = held(malt, vec![pin("", "molasses", 45.0)]);
    assert_eq!(said(&less), "less malty, darker");
    let base = "Crumb\n\n90 g plain flour\n100 g graham cracker crumbs\n60 g unsalted butter\n40 g sugar\n";
    assert!(said(&free(base)).contains("hold back a tenth"));
    // The sugar says nothing of the butter.
    let sugar = held(base, vec![pin("", "granulated_sugar", 30.0)]);
    assert!(said(&sugar).contains("hold back a tenth"));
    let less = held(base, vec![pin("", "unsalted_butter", 54.0)]);
    assert_eq!(
        said(&less),
        "crumbs of gluten-free biscuits often need less butter"
    );
}

/// Biscuits labelled gluten-free have no make-up in the larder: 60 g butter are 81 % fat, 49 g or 54 % of 90 g flour,
/// and what the crumbs hold comes on top.
#[test]
fn fat_and_sugar_of_what_stands_on_a_label_are_not_known() {
    let of = |crumbs: &str| {
        let text = format!("Crumb\n\n90 g plain flour\n{crumbs}\n60 g unsalted butter\n");
        let r = free(&text);
        let c = r.components.into_iter().next().expect("a part");
        (
            c.reworked.at_least(),
            c.original.at_least(),
            c.reworked.fat,
            c.on_the_label(larder()),
        )
    };
    let (after, before, fat, said) = of("30 g graham cracker crumbs");
    assert_eq!((after, before), ("at least ", ""));
    assert!((fat - 54.1).abs() < 0.1, "{fat}");
    let said = said.expect("a sentence");
    assert!(
        said.contains("labelled gluten-free stands on the label alone"),
        "{said}"
    );
    let (after, before, _, said) = of("30 g sugar");
    assert_eq!((after, before, said), ("", "", None));
}
