use super::{Kind, binder, binders, does_gum_say, published};
use crate::rework::pins::XANTHAN_IN_PSYLLIUM;
use crate::rework::style::Style;
use larder::{Larder, Status};

fn worth(key: &str) -> f64 {
    let row = binder(key).expect("a row");
    row.worth.expect("a strength").likely().get()
}

#[track_caller]
fn near(a: f64, b: f64, off: f64) {
    assert!((a - b).abs() <= off, "{a} is not {b}");
}

/// The project's trade rules R6.5, tagged common practice: 1 g xanthan = 1 g guar (cold) to
/// 1.5 g; = 2.5 g psyllium powder; = 3 g ground flax or chia. 0.85 g of psyllium powder does the
/// work of 1 g of whole husk: common practice, no source.
#[test]
fn strengths_are_those_of_the_rules() {
    near(worth("xanthan_gum"), 1.0, 0.0);
    near(worth("guar_gum"), 1.0, 0.0);
    let guar = binder("guar_gum").and_then(|b| b.worth).expect("guar");
    near(1.0 / guar.low().get(), 1.5, 0.01);
    near(1.0 / worth("psyllium_powder"), 2.5, 1e-9);
    near(1.0 / worth("psyllium_powder"), XANTHAN_IN_PSYLLIUM, 1e-9);
    near(
        worth("psyllium_husk") / worth("psyllium_powder"),
        0.85,
        1e-9,
    );
    near(1.0 / worth("flaxseed_ground"), 3.0, 0.01);
    near(1.0 / worth("chia_ground"), 3.0, 0.01);
    // Section 12: 6 % of the flour, cooked, for 1 % of xanthan.
    near(1.0 / worth("pregelatinised_rice_flour"), 6.0, 0.02);
    for key in [
        "xanthan_gum",
        "guar_gum",
        "psyllium_powder",
        "flaxseed_ground",
        "egg",
    ] {
        let row = binder(key).expect("a row");
        assert_eq!(row.status, Status::CommonPractice, "{key}");
        assert!(row.source.contains("common practice, no source"), "{key}");
    }
}

/// R6.2, R6.3, R7.2: psyllium 8 % at work, gums 2 %, egg white powder 6 %, all common practice.
#[test]
fn caps_are_those_of_the_rules() {
    let cap = |k: &str| binder(k).and_then(|b| b.cap);
    assert_eq!(cap("psyllium_powder"), Some(8.0));
    assert_eq!(cap("psyllium_husk"), Some(8.0));
    assert_eq!(cap("xanthan_gum"), Some(2.0));
    assert_eq!(cap("guar_gum"), Some(2.0));
    assert_eq!(cap("egg_white_powder"), Some(6.0));
}

/// White solids: of a 50 g egg 33 g are white at 12.43 % solids, dried white has 8.54 % water
/// (USDA SR28 01123, 01124, 01136).
#[test]
fn egg_is_worth_its_white_solids() {
    let of_solids = worth("egg") * 50.0 / (33.0 * 0.1243);
    near(worth("egg_white"), 0.1243 * of_solids, 0.001);
    near(worth("egg_white_powder"), 0.9146 * of_solids, 0.005);
    near(worth("whole_egg_powder"), 4.0 * worth("egg"), 1e-9);
    // What replaces a 50 g egg (section 12): 3 g psyllium to 7 g flax; never more than the high.
    let row = binder("egg").and_then(|b| b.worth).expect("egg");
    near(row.high().get(), 7.0 / 3.0 / 50.0, 0.001);
    assert!(row.likely().get() < 3.0 / 2.5 / 50.0);
}

/// Check B11: 25 g of psyllium take 112.5 to 135 g of water (4.5 to 5.4 g per g: US pat. appl.
/// 2007/0264405, seen). Every figure of water is the larder's own.
#[test]
fn water_is_that_of_the_larder() {
    let larder = Larder::built_in().expect("the built-in tables");
    let water = |k: &str| binder(k).and_then(|b| b.water).expect("water");
    for husk in ["psyllium_husk", "psyllium_powder"] {
        near(25.0 * water(husk).low().get(), 112.5, 1e-9);
        near(25.0 * water(husk).likely().get(), 135.0, 1e-9);
    }
    for row in binders() {
        if row.food == "milk_solids" {
            continue;
        }
        let food = larder.by_key(row.food);
        assert!(food.is_some(), "{} is not in the larder", row.food);
        let listed = food.and_then(|f| larder.absorption(f)).map(|a| a.water);
        if row.water.is_some() {
            assert_eq!(row.water, listed, "{}", row.food);
        }
        assert!(!row.source.is_empty(), "{}", row.food);
        let hydrates = !matches!(row.kind, Kind::Other | Kind::Milk | Kind::Mix);
        assert!(!hydrates || !row.hydrate.is_empty(), "{}", row.food);
    }
}

/// Every binder of the larder has a row, so that none is counted as nothing unsaid.
#[test]
fn every_binder_of_the_larder_has_a_row() {
    let larder = Larder::built_in().expect("the built-in tables");
    for id in larder.ids() {
        let food = larder.food(id);
        if food.function() == larder::Function::Binder {
            assert!(binder(&food.key).is_some(), "{}", food.key);
        }
    }
}

#[test]
fn published_formulas_say_where_binders_are_rare() {
    let rare = |k: &str| published(k).expect("formulas").is_rare();
    for style in [
        "choux",
        "sponge_cake",
        "crumb_streusel",
        "roux_sauce",
        "drop_cookie",
    ] {
        assert!(rare(style), "{style}");
    }
    assert!(!rare("lean_bread") && !rare("rolled_cookie"));
    let muffin = published("muffin_quick_bread").expect("formulas");
    assert!(muffin.words("muffin").starts_with("2 of 12 published"));
    assert!(Style::all().count() > 10);
}

#[test]
fn labels_say_whether_gum_is_in_it() {
    for (words, says) in [
        ("300 g gluten-free flour blend", None),
        ("300 g gluten-free flour (with xanthan gum)", Some(true)),
        ("gf flour, contains Guar", Some(true)),
        ("gf flour, no xanthan gum", Some(false)),
        ("gum-free flour blend", Some(false)),
        ("methylcellulose in it", Some(true)),
        ("gumbo spice", None),
    ] {
        assert_eq!(does_gum_say(words), says, "{words}");
    }
}
