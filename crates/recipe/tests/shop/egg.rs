//! Eggs as they are bought.

use super::{TODAY, line, make, own, text, total, with};
use larder::Stock;
use quantity::Locale;
use recipe::shop::{Shelf, cost, cost_of_original, list};

/// An egg of 64 g in its shell is one egg: 12 % is shell (SR28 01123), so 56.3 g are used; an egg of the table
/// is 44 to 56 g. A weight beside a count that agrees only so is with the shell too, and one that agrees is not.
#[test]
fn an_egg_weighed_in_its_shell_is_one_egg() {
    let larder = super::built_in();
    for (words, grams, count) in [
        ("1 egg (64 g in its shell)", 64.0 * 0.88, 1),
        ("1 egg (64 g)", 64.0 * 0.88, 1),
        ("64 g egg, in the shell", 64.0 * 0.88, 1),
        ("2 eggs (about 120 g with shells)", 120.0 * 0.88, 2),
        ("1 egg (50 g)", 50.0, 1),
        ("100 g beaten egg", 100.0, 2),
        ("64 g beaten egg", 64.0, 2),
        ("500 g beaten egg", 500.0, 10),
        ("530 g beaten egg", 530.0, 11),
    ] {
        let made = make(&text(&["200 g plain flour", words]), larder, Locale::Uk);
        let l = list(&[made.times(1.0)], larder, &Shelf::default());
        let egg = line(&l, "egg");
        let used = egg.needed.expect("a weight").likely().as_grams();
        assert!((used - grams).abs() < 0.1, "{words}: {used}");
        assert_eq!(egg.pieces, Some(count), "{words}");
    }
}

/// Eggs are sold by the egg: six large ones of 56 g in the UK are a box of six, whose eggs are of no size, and
/// cost what it costs; with the four yolks of another recipe, from eggs of no size, they are ten.
#[test]
fn six_large_eggs_are_a_box_of_six() {
    let mut entries = own(&[("egg", "6 eggs", 1.80)], "GBP", Locale::Uk);
    let six = entries[0].price.as_mut().expect("a price");
    six.pack = "6 eggs".to_owned();
    let mut twelve = six.clone();
    twelve.pack = "box of 12 eggs".to_owned();
    twelve.pack_grams *= 2.0;
    twelve.amount = 3.20;
    entries[0].packs = vec![twelve];
    let larder = with(&entries);
    let cake = make(
        &text(&["300 g plain flour", "6 large eggs"]),
        &larder,
        Locale::Uk,
    );
    let curd = make(&text(&["200 g sugar", "4 egg yolks"]), &larder, Locale::Uk);
    let l = list(&[cake.times(1.0)], &larder, &Shelf::default());
    let pay = |l: &recipe::shop::List| l.pay.get("GBP").expect("pounds").likely().get();
    assert!((pay(&l) - 1.80).abs() < 1e-9, "{:?}", line(&l, "egg"));
    assert_eq!(line(&l, "egg").pieces, Some(6));
    assert!(!line(&l, "egg").may_run_short);
    assert!(line(&l, "egg").left.expect("known").as_grams().abs() < 1e-6);
    let both = list(
        &[cake.times(1.0), curd.times(1.0)],
        &larder,
        &Shelf::default(),
    );
    assert_eq!(line(&both, "egg").pieces, Some(10));
    assert!((pay(&both) - 3.20).abs() < 1e-9);
    // Four in the larder are four of them, and six are all of the cake's.
    for (stock, pieces, paid) in [(4.0, 6, 1.80), (6.0, 0, 0.0)] {
        let mut entries = entries.clone();
        entries[0].stock = Some(Stock {
            grams: stock * 50.0 / 0.88,
            date: TODAY.to_owned(),
        });
        let larder = with(&entries);
        let l = if pieces > 0 {
            list(
                &[cake.times(1.0), curd.times(1.0)],
                &larder,
                &Shelf::default(),
            )
        } else {
            list(&[cake.times(1.0)], &larder, &Shelf::default())
        };
        let bought: usize = line(&l, "egg").packs.iter().map(|p| p.count * 6).sum();
        assert_eq!(bought, pieces, "{stock} in stock");
        let paid_for = l.pay.get("GBP").map_or(0.0, |p| p.likely().get());
        assert!((paid_for - paid).abs() < 1e-9, "{paid_for}");
    }
    for c in [
        cost(&cake.times(1.0), &larder, TODAY),
        cost_of_original(&cake.rework.formula, &[1.0], &larder, TODAY),
    ] {
        assert!((total(&c, "GBP") - 1.80).abs() < 1e-9, "{:?}", c.total);
    }
}

/// Two large eggs and 7 g of another are three to crack; what rounding makes over, 2 of 2.04, is none.
#[test]
fn a_bit_of_a_third_egg_is_a_third_egg() {
    let larder = super::built_in();
    let made = make(
        &text(&["300 g plain flour", "3 large eggs"]),
        larder,
        Locale::Us,
    );
    for (times, count) in [(1.0, 3), (2.14 / 3.0, 3), (2.04 / 3.0, 2), (0.1, 1)] {
        let l = list(&[made.times(times)], larder, &Shelf::default());
        assert_eq!(line(&l, "egg").pieces, Some(count), "{times}");
    }
}

/// By hand: three leeks of 283.5 g in all × 1.48 are 4.44 of them, five to buy, 419.6 g.
#[test]
fn what_is_counted_and_weighed_is_bought_by_that_weight() {
    let larder = super::built_in();
    let counted = "3 medium leeks (about 10 oz), sliced";
    let made = |words: &str| make(&text(&["300 g plain flour", words]), larder, Locale::Us);
    // Without the count the weight is that in the bowl, and its trim is bought with it.
    let l = list(
        &[made("1 lb leeks, sliced").times(1.0)],
        larder,
        &Shelf::default(),
    );
    assert!(line(&l, "leek").trim.is_some());
    let l = list(&[made(counted).times(1.48)], larder, &Shelf::default());
    let leek = line(&l, "leek");
    assert_eq!(leek.pieces, Some(5), "{leek:?}");
    let bought = leek.bought.expect("a weight").likely().as_grams();
    assert!((bought - 283.5 * 1.48).abs() < 1.0, "{bought}");
}

/// Six eggs of a box of six at 1.80 are 1.80 whatever each weighs; four or five are 1.20 to 1.50, for that range is
/// of the count. Zest of a lemon that is pressed for its juice costs nothing more: one lemon at 0.40; the zest of
/// two more lemons is priced by its grams still.
#[test]
fn counted_eggs_cost_no_range_and_a_lemon_is_paid_once() {
    let mut entries = own(
        &[("egg", "6 eggs", 1.80), ("lemon", "1 lemon", 0.40)],
        "GBP",
        Locale::Uk,
    );
    entries[0].price.as_mut().expect("a price").pack = "6 eggs".to_owned();
    let larder = with(&entries);
    let money = |lines: &[&str]| {
        let made = make(&text(lines), &larder, Locale::Uk);
        let both = [
            cost_of_original(&made.rework.formula, &[1.0], &larder, TODAY),
            cost(&made.times(1.0), &larder, TODAY),
        ];
        both.map(|c| {
            let pounds = c.total.get("GBP").expect("pounds");
            (
                pounds.low().get(),
                pounds.likely().get(),
                pounds.high().get(),
            )
        })
    };
    for (low, likely, high) in money(&["300 g plain flour", "6 large eggs"]) {
        assert!((likely - 1.80).abs() < 1e-9);
        assert!(high - low < 1e-9, "{low} to {high}");
    }
    for (low, _, high) in money(&["300 g plain flour", "4-5 large eggs"]) {
        assert!(low < 1.25 && high > 1.45, "{low} to {high}");
    }
    let juice = money(&["300 g plain flour", "juice of 1 lemon"]);
    let both = money(&["300 g plain flour", "juice of 1 lemon", "zest of 1 lemon"]);
    let more = money(&["300 g plain flour", "juice of 1 lemon", "zest of 3 lemons"]);
    for n in 0..2 {
        assert!((both[n].1 - juice[n].1).abs() < 1e-9, "{both:?}");
        assert!(more[n].1 > both[n].1, "{more:?}");
    }
}
