//! Leavening in the gluten-free version: soda neither left over nor idle, powder at its cap.

#![allow(clippy::panic, reason = "tests stop by panicking")]

use larder::Larder;
use quantity::Locale;
use recipe::leaven::Verdict;
use recipe::read::{Reader, recipe};
use recipe::rework::{Kept, Options, PinnedLine, Rework, rework};
use recipe::weigh;

fn larder() -> Larder {
    Larder::built_in().expect("the built-in tables")
}

fn with(text: &str, options: &Options) -> Rework {
    let larder = larder();
    let read = recipe(text, &Reader::new(&larder, Locale::Us)).expect("a recipe");
    let formula = weigh::formula(read, &larder, Locale::Us).expect("a formula");
    rework(formula, &larder, options)
}

fn reworked(text: &str) -> Rework {
    with(text, &Options::default())
}

fn grams(r: &Rework, key: &str) -> f64 {
    r.components[0]
        .lines
        .iter()
        .filter(|l| l.key == key && l.kept != Kept::Dropped)
        .filter_map(|l| l.grams)
        .map(|g| g.likely().as_grams())
        .sum()
}

fn soda_changes(r: &Rework) -> usize {
    let changes = &r.components[0].changes;
    changes.iter().filter(|c| c.what == "soda").count()
}

const CAKE: &str = "Cocoa soda cake\n\n250 g plain flour\n250 g sugar\n6 g baking soda\n100 g buttermilk\n150 g milk\n2 eggs\n100 g butter\n\nMix and bake in a cake tin at 180 C for 40 minutes.\n";

/// An acid without a weight, or a thing the larder does not know, may take all of the soda: nothing
/// is said for sure, and the soda stays.
#[test]
fn soda_beside_what_has_no_weight_is_left_alone() {
    for (line, name) in [
        ("some buttermilk", "buttermilk"),
        ("30 g zorblat powder", "zorblat powder"),
    ] {
        let text = CAKE.replace("100 g buttermilk", line);
        let r = reworked(&text);
        assert_eq!(soda_changes(&r), 0, "{line}");
        assert_eq!(grams(&r, "baking_soda"), 6.0, "{line}");
        let raising = r.raising(0, &larder()).expect("leavened");
        let is = &raising.after.leavening;
        assert_eq!(is.verdict(), Verdict::SodaLeft, "{line}");
        assert!(!is.is_sure() && !raising.before.is_sure(), "{line}");
        assert!(
            is.words()
                .contains(&format!("Not counted, and may take soda: {name}"))
        );
        // Powder for all of the soda is still an answer; acid for what is left over is not.
        let acid = |s: &&recipe::leaven::Swap| s.from.contains("without acid");
        assert!(!raising.after.swaps.iter().any(|s| acid(&s)), "{line}");
        assert!(!raising.after.swaps.is_empty(), "{line}");
    }
}

/// By hand: 100 g of buttermilk take 0.85 g of soda; 5.15 g are left over. They gave half their gas
/// by heat, so powder for 2.575 g: 2.575 ÷ 0.27 = 9.54 g, below 6 % of 250 g.
#[test]
fn left_over_soda_becomes_powder_with_as_much_gas() {
    let r = reworked(CAKE);
    assert!((grams(&r, "baking_soda") - 0.85).abs() < 0.01);
    assert!((grams(&r, "baking_powder") - 9.54).abs() < 0.05);
    assert_eq!(soda_changes(&r), 1);
    let raising = r.raising(0, &larder()).expect("leavened");
    assert_eq!(raising.before.verdict(), Verdict::SodaLeft);
    assert_eq!(raising.after.leavening.verdict(), Verdict::Even);
    let gas =
        |l: &recipe::leaven::Leavening| (l.gas.likely() + l.gas_by_heat.likely()).as_millilitres();
    let (was, is) = (gas(&raising.before), gas(&raising.after.leavening));
    assert!((was / is - 1.0).abs() < 0.01, "{was} {is}");
    let c = r.components[0]
        .changes
        .iter()
        .find(|c| c.what == "soda")
        .expect("a change");
    assert!(c.rule.contains("÷ 0.27") && c.source.contains("from memory"));
}

/// The cap of 6 % (project rule R8.1) holds however much soda is left over.
#[test]
fn powder_in_place_of_soda_stays_under_the_cap() {
    let r = reworked(&CAKE.replace("6 g baking soda", "15 g baking soda"));
    let most = 0.06 * 250.0;
    assert!(grams(&r, "baking_powder") <= most + 0.01);
    let rule = &r.components[0].changes.iter().find(|c| c.what == "soda");
    assert!(rule.expect("a change").rule.contains("held to 6 %"));
}

#[test]
fn even_soda_is_left_alone() {
    let r = reworked(
        &CAKE
            .replace("6 g baking soda", "2.2 g baking soda")
            .replace("100 g buttermilk\n150 g milk", "250 g buttermilk"),
    );
    assert_eq!(soda_changes(&r), 0);
    assert!((grams(&r, "baking_soda") - 2.2).abs() < 1e-6);
}

/// In biscuits left-over soda is for colour and spread.
#[test]
fn biscuits_keep_their_soda() {
    let text = "Ginger biscuits\n\n200 g plain flour\n3 g baking soda\n100 g butter\n100 g sugar\n50 g golden syrup\n\nRoll into balls and bake the cookies on a sheet for 12 minutes.\n";
    let r = reworked(text);
    assert_eq!(soda_changes(&r), 0);
    assert!((grams(&r, "baking_soda") - 3.0).abs() < 1e-6);
    let raising = r.raising(0, &larder()).expect("leavened");
    assert!(raising.left_is_meant, "{:?}", r.components[0].style);
    assert!(raising.sentences()[0].contains("meant"));
}

#[test]
fn held_soda_is_not_touched() {
    let pin = PinnedLine {
        component: String::new(),
        line: "baking_soda".to_owned(),
        hold: recipe::rework::Hold::Grams(6.0),
    };
    let options = Options {
        pins: vec![pin],
        ..Options::default()
    };
    let r = with(CAKE, &options);
    assert_eq!(soda_changes(&r), 0);
    assert!((grams(&r, "baking_soda") - 6.0).abs() < 1e-9);
}

/// Powder at its cap of 6 % and buttermilk without soda: soda on the idle acid makes up the gas.
#[test]
fn soda_helps_where_powder_is_capped() {
    let text = "Muffins\n\n250 g plain flour\n100 g sugar\n14.5 g baking powder\n300 g buttermilk\n2 eggs\n80 g butter\n\nFill a muffin tin and bake for 20 minutes.\n";
    let r = reworked(text);
    let powder = grams(&r, "baking_powder");
    assert!((powder - 15.0).abs() < 0.01, "{powder}");
    // Wanted 14.5 × 1.15 = 16.675; short 1.675 g of powder, 0.45 g of soda.
    assert!((grams(&r, "baking_soda") - 1.675 * 0.27).abs() < 0.01);
    assert_eq!(soda_changes(&r), 1);
}

/// 20 g of powder on 250 g of flour is 8 %: more than the cap, and said so.
#[test]
fn powder_above_its_cap_is_said_to_be_above() {
    let text = "Muffins\n\n250 g plain flour\n100 g sugar\n20 g baking powder\n300 g buttermilk\n2 eggs\n80 g butter\n\nFill a muffin tin and bake for 20 minutes.\n";
    let r = reworked(text);
    let changes = r.components.iter().flat_map(|c| &c.changes);
    let rules: Vec<&str> = changes
        .filter(|c| c.what == "soda")
        .map(|c| c.rule.as_str())
        .collect();
    assert!(
        rules
            .iter()
            .any(|r| r.contains("is 8 %, above its cap of 6 %")),
        "{rules:?}"
    );
}

#[test]
fn nothing_is_said_where_nothing_leavens() {
    let r = reworked("Gravy\n\n20 g plain flour\n20 g butter\n400 g milk\n\nWhisk and simmer.\n");
    assert!(r.raising(0, &larder()).is_none());
    assert!(r.raising(7, &larder()).is_none());
}

/// Soda that softens figs before the batter is mixed is no leavening of it: it stays, and that is said.
#[test]
fn soda_on_soaked_fruit_stays_as_it_is() {
    let cake = |soaks: &str| {
        reworked(&format!(
            "Fig cake\n\n200 g dried figs, chopped\n5 g baking soda\n200 g strong hot tea\n85 g butter\n150 g dark muscovado sugar\n2 eggs\n180 g self-raising flour\n\nMethod\n1. {soaks}\n2. Cream the butter and sugar, beat in the eggs. Fold in the flour and the figs.\n3. Bake at 180 C in a 20 cm square tin for 40 minutes.\n"
        ))
    };
    let r =
        cake("Put the figs in a bowl with the soda, pour over the tea and leave for 15 minutes.");
    assert_eq!(grams(&r, "baking_soda"), 5.0);
    let c = &r.components[0];
    let soda = c
        .changes
        .iter()
        .find(|c| c.what == "soda")
        .expect("it is said");
    assert!(
        soda.to.ends_with("as it is") && soda.rule.contains("step 1 softens"),
        "{soda:?}"
    );
    let raising = r.raising(0, &larder()).expect("leavened").sentences();
    assert!(
        raising.iter().any(|s| s.contains("softens the fruit")),
        "{raising:?}"
    );
    // Sifted with the flour it is there to raise.
    let r = cake("Soak the figs in the tea. Sift the flour with the soda.");
    assert!(grams(&r, "baking_soda") < 1.0);
}
