//! What is no dough or batter keeps its liquid, and no free liquid falls far.

use larder::Larder;
use quantity::Locale;
use recipe::DoubtCode;
use recipe::rework::style::Style;
use recipe::rework::{Kept, Options, Rework, ReworkedComponent, rework};
use std::sync::OnceLock;

fn larder() -> &'static Larder {
    static LARDER: OnceLock<Larder> = OnceLock::new();
    LARDER.get_or_init(|| Larder::built_in().expect("the built-in tables"))
}

fn reworked(title: &str, ingredients: &str, style: Option<&str>) -> Rework {
    let text = format!("{title}\n\nIngredients\n{ingredients}\n");
    let reader = recipe::read::Reader::new(larder(), Locale::Us);
    let read = recipe::read::recipe(&text, &reader).expect("reads");
    let formula = recipe::weigh::formula(read, larder(), Locale::Us).expect("weighs");
    let styles = style
        .map(|s| (String::new(), Style::from_key(s).expect("a style")))
        .into_iter()
        .collect();
    let options = Options {
        styles,
        ..Options::default()
    };
    rework(formula, larder(), &options)
}

/// Low, likely and high grams of a line.
fn grams(c: &ReworkedComponent, name: &str) -> [f64; 3] {
    let line = c.lines.iter().find(|l| l.name == name).expect("the line");
    assert_ne!(line.kept, Kept::Dropped);
    let g = line.grams.expect("weighed");
    [g.low(), g.likely(), g.high()].map(quantity::Mass::as_grams)
}

fn water_change(c: &ReworkedComponent) -> &recipe::rework::Change {
    c.changes
        .iter()
        .find(|x| x.what == "water")
        .expect("a change")
}

const PLUMS: &str = "500 g plums\n142 g water\n100 g sugar\n30 g butter\n";

#[test]
fn a_fruit_filling_keeps_its_water_whatever_it_is_taken_for() {
    // Flour of about a twentieth, then of about an eighth with five times its weight of water.
    for flour in ["40 g flour", "110 g flour"] {
        for style in ["butter_cake", "muffin_quick_bread", "pie_pastry"] {
            let r = reworked("Plums", &format!("{PLUMS}{flour}"), Some(style));
            let c = &r.components[0];
            assert_eq!(grams(c, "water"), [142.0; 3], "{flour} {style}");
            let said = water_change(c);
            assert!(said.rule.contains("no dough or batter"), "{}", said.rule);
            assert!(
                c.lines.iter().all(|l| l.name != "xanthan gum"),
                "{flour} {style}"
            );
        }
    }
    // Without a style by hand a doubt asks what it is.
    let r = reworked("Plum cake", &format!("{PLUMS}110 g flour"), None);
    let c = &r.components[0];
    let choice = c.style.expect("flour");
    assert_eq!(grams(c, "water"), [142.0; 3]);
    assert!(
        choice.style.key() == "roux_sauce"
            || c.doubts.iter().any(|d| d.code == DoubtCode::StyleUnsure),
        "{choice:?}"
    );
}

#[test]
fn what_is_a_batter_still_has_its_binder_and_its_water_moved() {
    // A rich fruit cake: a tenth of flour, and a batter all the same.
    let cake = "225 g flour\n225 g butter\n225 g brown sugar\n4 eggs\n900 g raisins\n100 ml milk";
    let r = reworked("Fruit cake", cake, Some("butter_cake"));
    let c = &r.components[0];
    assert!(!water_change(c).rule.contains("no dough or batter"));
    assert!(c.lines.iter().any(|l| l.name == "xanthan gum"));
    // Egg whites carry a sponge that is a seventh flour.
    let angel = "120 g flour\n360 g egg whites\n300 g sugar";
    let r = reworked("Angel sponge", angel, None);
    assert!(
        !water_change(&r.components[0])
            .rule
            .contains("no dough or batter")
    );
}

/// The water of much fruit counts in the hydration, so a tenth of all water may be half of the
/// milk: the milk itself gives a tenth, and its range no more.
#[test]
fn the_free_liquid_gives_a_tenth_at_most() {
    for (fruit, milk) in [(300, 120), (350, 90), (400, 60), (450, 40)] {
        let text = format!(
            "250 g flour\n100 g sugar\n80 g butter\n1 egg\n2 tsp baking powder\n{fruit} g blueberries\n{milk} g milk"
        );
        let r = reworked("Blueberry muffins", &text, Some("muffin_quick_bread"));
        let c = &r.components[0];
        let [low, likely, high] = grams(c, "whole milk");
        let least = 0.9 * f64::from(milk) - 1e-9;
        assert!(low >= least && likely >= least, "{fruit}: {low} {likely}");
        assert!(low <= likely && likely <= high);
    }
    let r = reworked(
        "Blueberry muffins",
        "250 g flour\n100 g sugar\n80 g butter\n1 egg\n2 tsp baking powder\n450 g blueberries\n40 g milk",
        Some("muffin_quick_bread"),
    );
    let said = water_change(&r.components[0]);
    assert!(said.source.contains("a tenth at the most"), "{said:?}");
    // A yeast dough still follows the style's range as far as it leads.
    let dough = reworked(
        "Bread",
        "500 g flour\n650 g water\n7 g yeast\n9 g salt",
        None,
    );
    assert!(grams(&dough.components[0], "water")[1] < 650.0);
}

#[test]
fn meat_and_eggs_with_a_little_flour_are_no_sure_pasta() {
    for meat in [100, 250, 500, 900] {
        let r = reworked(
            "Dinner",
            &format!("200 g almond flour\n2 eggs\n{meat} g chicken breast"),
            None,
        );
        let c = &r.components[0];
        assert!(c.style.expect("flour").confidence < 0.6);
        assert!(c.doubts.iter().any(|d| d.code == DoubtCode::StyleUnsure));
    }
}

#[test]
fn a_trace_is_no_amount() {
    let r = reworked(
        "Bread",
        "500 g flour\n350 g water\n7 g yeast\n0.01 g caster sugar\n9 g salt",
        None,
    );
    let c = &r.components[0];
    assert_eq!((c.original.sugar, c.reworked.sugar), (0.0, 0.0));
    assert!(c.original.salt > 1.7);
}
