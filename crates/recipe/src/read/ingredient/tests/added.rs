//! Weights of each piece, what is added beside the dough, what a food is fried or rolled in, and numbers behind a dash.

use super::{foods, larder};
use crate::line::{Line, Purpose};
use crate::read::Reader;
use crate::{DoubtCode, weigh};
use quantity::Locale;

fn line(text: &str, locale: Locale) -> Line {
    Reader::new(larder(), locale).line(text)
}

/// Likely grams of each food of a line.
fn grams(text: &str, locale: Locale) -> Vec<f64> {
    let (weighed, _) = weigh::line(&line(text, locale), larder(), locale);
    let grams = weighed
        .iter()
        .map(|w| w.grams.map_or(0.0, |g| g.likely().as_grams()));
    grams.collect()
}

/// Count × weight, by hand; an ounce is 28.35 g.
#[test]
fn a_weight_of_each_is_times_their_number() {
    for (text, want) in [
        ("2 tins tomatoes, 400 g each", 800.0),
        ("3 sausages, 80 g each", 240.0),
        ("3 bars dark chocolate, 100 g each", 300.0),
        ("4 bananas, 100 g each, mashed", 400.0),
        ("4 bananas of 100 g apiece", 400.0),
        ("8 chicken thighs (about 100g each)", 800.0),
        ("4 squares (1 oz each) dark chocolate", 113.4),
        ("8 zorpel fillets (about 100g each)", 800.0),
        // Of all: the weight is said once.
        ("2 leeks (about 300 g)", 300.0),
        ("3 sausages, 240 g", 240.0),
    ] {
        let got = grams(text, Locale::Uk);
        assert!((got[0] - want).abs() < 0.1, "{text}: {got:?}");
    }
    let squares = line("4 squares (1 oz each) dark chocolate", Locale::Us);
    assert!(!squares.doubts(DoubtCode::LooseMeasure));
    assert!(!line("3 x 400 g tins tomatoes", Locale::Uk).doubts(DoubtCode::SizeOnLabel));
    // Of each food, not of each onion.
    let l = line("2 onions, 1 tbsp each butter and oil", Locale::Uk);
    assert_eq!(foods(&l), ["onion", "unsalted_butter", "vegetable_oil"]);
}

/// A carton says what an egg weighs in its shell, 12 % of it (SR28): 3 × 59 × 0.88 = 155.8 g. What is no
/// carton's is with the shell only where eggs of their class weigh so: 2 × 64 × 0.88 = 112.6 g.
#[test]
fn a_cartons_egg_is_weighed_in_its_shell() {
    for (text, locale, want) in [
        ("3 x 59g eggs", Locale::Au, 155.8),
        ("3 x 59g eggs", Locale::Uk, 155.8),
        ("2 eggs, 64 g each", Locale::Us, 112.6),
        ("3 eggs (50 g each)", Locale::Us, 150.0),
    ] {
        let got = grams(text, locale)[0];
        assert!((got - want).abs() < 1.0, "{text}: {got}");
    }
}

/// What is added for something else is an item of its own: counted, screened and bought, not in the dough.
#[test]
fn what_is_added_beside_the_dough_is_its_own() {
    for (text, amounts, food, purpose) in [
        (
            "4 large eggs, plus 1 for glazing",
            [4.0, 1.0],
            "egg",
            Purpose::Brushing,
        ),
        (
            "4 eggs and 1 for glazing",
            [4.0, 1.0],
            "egg",
            Purpose::Brushing,
        ),
        (
            "4 eggs plus 1 yolk for glazing",
            [4.0, 1.0],
            "egg_yolk",
            Purpose::Brushing,
        ),
        (
            "100 ml milk, plus 2 tbsp for brushing",
            [100.0, 2.0],
            "whole_milk",
            Purpose::Brushing,
        ),
        (
            "100 ml milk, plus 2 tbsp (30 ml) to glaze",
            [100.0, 2.0],
            "whole_milk",
            Purpose::Brushing,
        ),
        // 20 g of it are no butter of the dough, however they are prepared.
        (
            "60 g butter, soft, plus 20 g, melted, for brushing the top",
            [60.0, 20.0],
            "unsalted_butter",
            Purpose::Brushing,
        ),
        (
            "200 g bread flour, plus extra 50 g for rolling",
            [200.0, 50.0],
            "bread_flour",
            Purpose::Dusting,
        ),
        (
            "200 g bread flour + an extra 50 g for dusting",
            [200.0, 50.0],
            "bread_flour",
            Purpose::Dusting,
        ),
    ] {
        let l = line(text, Locale::Uk);
        let own: Vec<f64> = l.items.iter().map(|i| i.amounts[0].low).collect();
        assert_eq!(own, amounts, "{text}");
        assert_eq!(foods(&l)[1], food, "{text}");
        let purposes = [l.items[0].purpose, l.items[1].purpose];
        assert_eq!(purposes, [Purpose::Formula, purpose], "{text}");
        assert!(!l.doubts(DoubtCode::TwoOnLine), "{text}: {:?}", l.doubts);
    }
    for text in [
        "50 ml milk plus 1 tbsp more if needed",
        "200 g flour, plus extra for dusting",
        "3 eggs plus 1 yolk",
        "1 cup plus 2 tbsp flour",
    ] {
        assert_eq!(line(text, Locale::Uk).items.len(), 1, "{text}");
    }
}

/// A second food with an amount behind 'in' or 'with' is weighed; water that may be poured off is not.
#[test]
fn what_a_food_is_fried_or_rolled_in_is_read() {
    for (text, want) in [
        ("100 g bread crumbs fried in 60 g butter", vec![100.0, 60.0]),
        ("200 g plain flour mixed with 50 g sugar", vec![200.0, 50.0]),
        ("1 kg potatoes boiled", vec![1000.0]),
        ("200 g rice cooked in 500 g water", vec![200.0]),
        ("2 mangoes (500 g), diced in 1 cm cubes", vec![500.0]),
    ] {
        assert_eq!(grams(text, Locale::Uk), want, "{text}");
    }
    let l = line("100g dried figs, rolled in flour", Locale::Uk);
    assert_eq!(foods(&l), ["figs_dried", "all_purpose_flour"]);
    assert_eq!(l.items[1].purpose, Purpose::Dusting);
    for text in [
        "100 g dates, rolled in coconut",
        "100 g figs rolled in rice flour",
    ] {
        assert_eq!(line(text, Locale::Uk).items.len(), 1, "{text}");
    }
}

/// 'Onions - 2' counts the food before the dash.
#[test]
fn a_number_behind_a_dash_counts() {
    for (text, count, food) in [
        ("Potatoes - 4 medium", 4.0, "potato"),
        ("Onions - 2", 2.0, "onion"),
        ("Onions – 2 large, sliced", 2.0, "onion"),
        ("Green chillies - 2", 2.0, "jalapeno"),
        ("Eggs : 3", 3.0, "egg"),
        ("Amchur - 1 tsp", 1.0, "amchur"),
    ] {
        let l = line(text, Locale::Uk);
        assert_eq!(foods(&l), [food], "{text}");
        let counts: Vec<f64> = l.items[0].amounts.iter().map(|a| a.low).collect();
        assert_eq!(counts, [count], "{text}");
    }
    // A measure is no count of what it is behind.
    assert!(
        line("Butter - 2 cm cubes", Locale::Uk).items[0]
            .amounts
            .is_empty()
    );
}

/// Half a quantity of what is below is of that part, larder food or not.
#[test]
fn a_quantity_of_something_is_of_a_part() {
    let l = line("half quantity of jam (below)", Locale::Uk);
    let r = l.items[0].reference.as_ref().expect("a part");
    assert_eq!(r.name, "jam");
    assert!(l.items[0].food.is_none());
}
