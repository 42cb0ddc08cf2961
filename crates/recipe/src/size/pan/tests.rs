//! The table of pans, and pans by their words.

use super::*;

#[track_caller]
fn pan(words: &str) -> Pan {
    find(words, &[]).unwrap_or_else(|e| panic!("{words}: {e}"))
}

#[track_caller]
fn holds(words: &str, want: f64) {
    let got = pan(words).geometric().expect("measures").as_millilitres();
    assert!((got - want).abs() <= 1.0, "{words}: {got} mL, not {want}");
}

/// Volumes computed by numpy 2.4 from the measures in inches × 16.387064 mL: rows H01 and the
/// geometric column of the trade table of pans that this project's table began with.
#[test]
fn geometric_volumes_are_those_of_arithmetic() {
    for (key, ml) in [
        ("round_6x2", 927.0),
        ("round_8x1.5", 1236.0),
        ("round_8x2", 1647.0),
        ("round_9x1.5", 1564.0),
        ("round_9x2", 2085.0),
        ("round_10x2", 2574.0),
        ("spring_9x2.5", 2606.0),
        ("spring_9x3", 3127.0),
        ("spring_10x2.5", 3218.0),
        ("square_8x2", 2098.0),
        ("square_9x2", 2655.0),
        ("square_10x2", 3277.0),
        ("rect_11x7x2", 2524.0),
        ("rect_13x9x2", 3835.0),
        ("jelly_15.5x10.5x1", 2667.0),
        ("jelly_17.5x12.5x1", 3585.0),
        ("half_sheet", 3343.0),
        ("quarter_sheet", 1671.0),
        ("loaf_8x4x2.5", 1311.0),
        ("loaf_8.5x4.5x2.5", 1567.0),
        ("loaf_9x5x3", 2212.0),
        ("pullman_9x4x4", 2360.0),
        ("pullman_13x4x4", 3409.0),
        // A part of a cone with a base of 7.25 in.
        ("pie_9x1.25", 1066.0),
        ("muffin_std", 12.0 * 91.5),
    ] {
        holds(key, ml);
    }
}

/// H02: a chart never says what arithmetic says; both are in the range.
#[test]
fn charted_and_geometric_differ_and_are_both_in_the_range() {
    for pan in all() {
        let (Some(charted), Some(geometric)) = (pan.charted, pan.geometric()) else {
            continue;
        };
        let charted = charted.scaled(f64::from(pan.hollows));
        assert_ne!(charted.likely(), geometric, "{}", pan.key);
        let v = pan.volume();
        assert!(
            v.holds(charted.likely()) && v.holds(geometric),
            "{}",
            pan.key
        );
    }
    let cups = |key: &str| pan(key).volume().likely().as_millilitres() / 236.588;
    for (key, want) in [
        ("round_9x2", 8.0),
        ("rect_13x9x2", 14.0),
        ("loaf_9x5x3", 8.0),
    ] {
        assert!((cups(key) - want).abs() < 0.01, "{key}");
    }
}

/// The chart of the 11 × 7 in pan says 6 cups where arithmetic says 10.7.
#[test]
fn a_doubted_chart_is_a_low_end_and_no_more() {
    let p = pan("rect_11x7x2");
    assert_eq!(p.basis(), Basis::Geometric);
    let v = p.volume();
    assert!(v.low().as_millilitres() < 1421.0 && v.likely().as_millilitres() > 2000.0);
}

#[test]
fn every_row_is_whole() {
    assert!(all().len() >= 60, "{}", all().len());
    let mut keys: Vec<&str> = all().iter().map(|p| p.key.as_str()).collect();
    keys.sort_unstable();
    keys.dedup();
    assert_eq!(keys.len(), all().len());
    for p in all() {
        assert!(p.volume().likely().as_millilitres() > 20.0, "{}", p.key);
        assert!(p.volume().likely().as_millilitres() < 12_000.0, "{}", p.key);
        let fill = p.fill;
        assert!(
            fill.low().get() >= 0.4 && fill.high().get() <= 0.9,
            "{}",
            p.key
        );
        assert!(!p.source.is_empty() && !p.usual_in.is_empty(), "{}", p.key);
        let found = pan(&p.key);
        assert_eq!(&found, p);
    }
}

#[test]
fn pans_are_found_by_words() {
    for (words, key) in [
        ("round_9x2", "round_9x2"),
        ("Round 9x2", "round_9x2"),
        ("loaf 9x5", "loaf_9x5x3"),
        ("9 x 5 inch loaf", "loaf_9x5x3"),
        ("9-inch springform 3", "spring_9x3"),
        ("13x9", "rect_13x9x2"),
        ("half sheet", "half_sheet"),
        ("spring 26 cm", "spring_26x6.5cm"),
        ("24 cm springform", "spring_24x6.5cm"),
        ("20 cm deep square", "square_20x7.5cm"),
        ("lamington", "lamington_30x20x3cm"),
        ("bundt 10x3.5", "bundt_10x3.5"),
        ("loaf tin 900 g, 23 × 13 cm", "loaf_23x13x7cm"),
    ] {
        assert_eq!(pan(words).key, key, "{words}");
    }
    // Two sides in either order, three too; round ones; what is typed with a kind stays it.
    for (words, key) in [
        ("9x13 in", "rect_13x9x2"),
        ("13x9in", "rect_13x9x2"),
        ("5 x 9 in", "loaf_9x5x3"),
        ("23x13 cm", "loaf_23x13x7cm"),
        ("13x23cm", "loaf_23x13x7cm"),
        ("9\"x13\"x2\"", "rect_13x9x2"),
        ("9x13x2 in", "rect_13x9x2"),
        ("9x2in", "round_9x2"),
        ("loaf tin, 9 × 5 × 3 in (23 × 13 × 8 cm)", "loaf_9x5x3"),
        ("20x20x7.5 cm", "square_20x7.5cm"),
    ] {
        assert_eq!(pan(words).key, key, "{words}");
    }
    // The pan of the table, with the measures as they are written.
    for (words, mm) in [("23 x 5 cm", 230.0), ("Ø 22.9 × 5.1 cm", 229.0)] {
        let (written, table) = (pan(words), pan("round_9x2"));
        assert_eq!(written.charted, table.charted, "{words}");
        let across = Length::millimetres(mm);
        assert_eq!(written.outline, Outline::Round { across }, "{words}");
        assert_eq!(pan(&written.key), written, "{words}");
    }
    let low = pan("round 9x1in");
    assert_eq!(
        (low.name.as_str(), low.fill.low().get()),
        ("round tin", 0.5)
    );
    // Inches across and centimetres deep are both taken.
    let both = pan("round 9 in x 6 cm");
    assert_eq!(both.depth, Some(Length::millimetres(60.0)));
    assert!(matches!(both.outline, Outline::Round { across } if across == Length::inches(9.0)));
    // One of no standard size is worked out.
    let odd = pan("round 22 x 7 cm");
    let ml = odd.geometric().expect("measures").as_millilitres();
    assert!((ml - 2660.9).abs() < 0.1, "{ml}");
    assert_eq!(odd.words(), "round tin, 22 × 7 cm");
    // As it was typed: the tin is no 24 cm one.
    assert_eq!(
        pan("round 23,5 x 5,5 cm").words(),
        "round tin, 23.5 × 5.5 cm"
    );
}

/// What bakers write for a tin or several, and what is said where it is not enough.
#[test]
fn pans_are_counted_and_found() {
    use crate::size::Pans;
    for (words, count, pan) in [
        ("two 20 cm sandwich tins", 2, "sandwich tin, 20 × 4 cm"),
        (
            "3 x round 8x2 in tins",
            3,
            "round tin, 8 × 2 in (20 × 5 cm)",
        ),
        (
            "12-hole muffin tin",
            1,
            "muffin tin of 12, 2.75 × 1.25 in (7 × 3 cm)",
        ),
        (
            "two 12-hole muffin tins",
            2,
            "muffin tin of 12, 2.75 × 1.25 in (7 × 3 cm)",
        ),
        ("six 10cm tartlet tins", 6, "tartlet tin, 10 × 2 cm"),
        ("4 x 10 x 2 cm tartlet tins", 4, "tartlet tin, 10 × 2 cm"),
        ("tartlet_10x2cm", 1, "tartlet tins, 6, 10 × 2 cm"),
        ("tartlet tins", 1, "tartlet tins, 6, 10 × 2 cm"),
        ("6 tartlet tins", 6, "tartlet tin, 10 × 2 cm"),
        ("tartlet tin", 1, "tartlet tin, 10 × 2 cm"),
        (
            "33x23cm/13x9in tin",
            1,
            "oblong tin, 13 × 9 × 2 in (33 × 23 × 5 cm)",
        ),
        (
            "33x23cm swiss roll tin",
            1,
            "sponge-roll tin, 33 × 23 × 2 cm",
        ),
        ("12-hole friand tin", 1, "friand tin of 12, 1/2 cup"),
        ("26 x 3 cm flan tin", 1, "tart tin, 26 × 3 cm"),
        ("23cm springform tin (7cm deep)", 1, "springform, 23 × 7 cm"),
        (
            "2 x 450g/1lb loaf tins",
            2,
            "loaf tin, '1 lb', 15 × 9 × 7 cm",
        ),
        (
            "13x4x4 in pullman with its lid",
            1,
            "lidded loaf tin, 13 × 4 × 4 in (33 × 10 × 10 cm)",
        ),
        ("12-hole bun tin", 1, "shallow bun tin of 12, 6.5 × 2 cm"),
        ("a lamington tin", 1, "lamington tin, 30 × 20 × 3 cm"),
        (
            "quarter sheet pan",
            1,
            "quarter sheet, inside, 12 × 8.5 × 1 in (30 × 22 × 2.5 cm)",
        ),
        ("9-inch pie plate", 1, "pie dish, 9 × 1.25 in (23 × 3 cm)"),
        (
            "a deep 20cm square cake tin",
            1,
            "deep square tin, 20 × 20 × 7.5 cm",
        ),
        (
            "2.5cm deep 20 x 30 cm tin",
            1,
            "oblong tin, 30 × 20 × 2.5 cm",
        ),
        ("23cm (9in) round tin, 5cm deep", 1, "round tin, 23 × 5 cm"),
        (
            "33 x 23 x 5 cm brownie tin",
            1,
            "oblong tin, 33 × 23 × 5 cm",
        ),
        (
            "10 x 2 inch cast iron skillet",
            1,
            "skillet, 10 × 2 in (25 × 5 cm)",
        ),
        ("23cm/9in x 5cm/2in round tin", 1, "round tin, 23 × 5 cm"),
        ("2 x 23cm/9in sandwich tins", 2, "sandwich tin, 23 × 4 cm"),
        (
            "nine-inch by two-inch round tin",
            1,
            "round tin, 9 × 2 in (23 × 5 cm)",
        ),
    ] {
        let pans = Pans::read(words, &[]).unwrap_or_else(|e| panic!("{words}: {e}"));
        let one = pans.pan().expect(words);
        assert_eq!((pans.count, one.words().as_str()), (count, pan), "{words}");
        let hollows = if words.contains("12-hole") {
            12
        } else if words.contains("tartlet_") || words == "tartlet tins" {
            6
        } else {
            1
        };
        assert_eq!(one.hollows, hollows, "{words}");
    }
    assert_eq!(pan("10 cm tartlet tin").hollows, 1);
    // A basin is filled as those of the table are, whatever it holds.
    for (words, share) in [
        ("1.5 litre pudding basin", (0.7, 0.8)),
        ("12.1 litre mould", (0.5, 0.6)),
    ] {
        let fill = pan(words).fill;
        assert_eq!((fill.low().get(), fill.high().get()), share, "{words}");
    }
    let said = |words: &str| Pans::read(words, &[]).expect_err(words).to_string();
    assert!(said("two 9-inch round pans").contains("or '2 x round tin, 9 × 2 in'"));
    assert!(said("3 x 8-inch tins").contains("'3 x "));
    // A heart holds what water says.
    for words in ["heart-shaped tin", "heart tin 20x5 cm", "petal tin"] {
        let e = find(words, &[]).expect_err(words).to_string();
        assert!(e.contains(&format!("'{words}, 1500 g water'")), "{e}");
        let measured = find(&format!("{words}, 1500 g water"), &[]).expect(words);
        assert!((measured.volume().likely().as_millilitres() - 1502.7).abs() < 0.1);
    }
    // A sheet is as deep as sheets are, an inch; said with how to write one where it has to be known.
    let sheet = find("40 x 30 cm baking sheet", &[]).expect_err("no depth");
    assert!(
        sheet.to_string().contains("usually 1 to 2.5 cm deep"),
        "{sheet}"
    );
    assert!(find("40 x 30 cm baking sheet, 2 cm deep", &[]).is_ok());
    for (words, mm) in [
        ("40 x 30 cm baking sheet", [400.0, 300.0, 25.0]),
        ("sheet pan 18x13 in", [457.2, 330.2, 25.4]),
        ("baking tray 36x28", [360.0, 280.0, 25.0]),
        ("Swiss roll tin 14x10 in", [355.6, 254.0, 25.4]),
    ] {
        let pan = Pans::read(words, &[]).and_then(|p| p.pan()).expect(words);
        let is: Vec<f64> = pan.sides().collect();
        assert!(
            is.iter().zip(mm).all(|(a, b)| (a - b).abs() < 0.1),
            "{words}: {is:?}"
        );
    }
    for words in [
        "33x23cm square tin",
        "four 12cm tartlet tins",
        "10-inch cast iron skillet",
    ] {
        assert!(
            said(words).starts_with("the depth of '"),
            "{words}: {}",
            said(words)
        );
    }
    // No small muffin tin of the table has 12: it is no tin of full ones.
    assert!(said("12-hole mini muffin tin").contains("as in '12 x 60 g water'"));
    for words in [
        "12-cup large muffin pan",
        "12-cup small muffin pan",
        "12-cup mini muffin tin",
        "9 cup jumbo muffin pan",
        "mini cupcake tin of 12",
    ] {
        let number = if words.starts_with('9') { 9 } else { 12 };
        let want = format!("what a hollow of '{words}' holds is not known");
        assert!(said(words).starts_with(&want), "{}", said(words));
        assert!(said(words).contains(&format!("'{number} x 60 g water'")));
    }
    assert_eq!(pan("12-cup bundt").hollows, 1);
    assert!(said("pain de mie tin").contains("lidded loaf tin, 13 × 4 × 4 in"));
    assert!(said("4-hole yorkshire pudding tin").contains("as in '4 x 60 g water'"));
    assert!(said("22cm savarin mould").contains("1500 g water"));
    assert!(said("Ring tin 24x6 cm").contains("'Ring tin 24x6 cm, 1500 g water'"));
    // 'Tin/9in' is no size in another unit.
    assert_eq!(super::typed::without_twin("round tin/9in"), "round tin/9in");
    // π/4·24²·6 = 2,714 cm³ hold 2,709 g of water; a tube takes some of it.
    assert!(find("Ring tin 24x6 cm, 2700 g water", &[]).is_ok());
    let more = find("Ring tin 24x6 cm, 15000 g water", &[]).expect_err("too much");
    assert!(more.to_string().contains("less than 2709 g"), "{more}");
    // π/4·(24² − 6²)·8 = 3,393 cm³, of which such a tin holds 0.88; a tube wider than the tin is none.
    let ring = pan("ring tin 24x8 cm, tube 6 cm");
    let geometric = ring.geometric().expect("measures").as_millilitres();
    assert!((geometric - 3392.9).abs() < 0.1, "{geometric}");
    assert!((ring.volume().likely().as_millilitres() - 0.88 * 3392.9).abs() < 0.1);
    assert_eq!(ring.tube(), Some(Length::millimetres(60.0)));
    assert_eq!(ring.words(), "ring tin, 24 × 8 cm, tube 6 cm");
    for again in [ring.typed(), ring.called()] {
        let again = pan(&again);
        assert_eq!((again.outline, again.depth), (ring.outline, ring.depth));
    }
    for words in [
        "ring tin 24x8 cm with a 6 cm tube",
        "ring tin, 24 x 8 cm (6 cm tube)",
        "24x8 cm ring tin with a tube of 6 cm",
        "ring tin 24x8 cm; tube 60 mm across",
    ] {
        assert_eq!(pan(words).geometric(), ring.geometric(), "{words}");
    }
    for tube in ["30", "23.9", "17", "0"] {
        let said = said(&format!("ring tin 24x8 cm, tube {tube} cm"));
        assert!(said.starts_with(&format!("a tube of {tube} cm")), "{said}");
        assert!(said.contains("up to 16 cm"), "{said}");
    }
    // A tube that leaves 1,500 g of water of π/4·24²·6 = 2,714 cm³.
    let ring = pan("Ring tin 24x6 cm, 1500 g water");
    let hole = (2714.3 - 1502.7) / 6.0 / (PI / 4.0);
    let tube = ring.tube().expect("a tube").as_millimetres() / 10.0;
    assert!((tube - hole.sqrt()).abs() < 0.01, "{tube}");
}

#[test]
fn what_is_no_pan_is_explained() {
    let said = |words: &str| find(words, &[]).expect_err(words).to_string();
    assert!(said("23x11 cm").contains("write 'round 23x11 cm', or all three"));
    assert!(said("big tin 9x5x3 in").contains("'big' is not understood"));
    assert!(said("round 9x0").contains("a pan of depth 0 holds nothing"));
    assert!(said("loaf 900x5x3").contains("is no pan's"));
    for words in ["-20x5 cm", "round 20x-5 cm", "-5 g water", "loaf −9x5 in"] {
        assert!(
            said(words).contains("is below nothing"),
            "{words}: {}",
            said(words)
        );
    }
    assert!(said("500 kg water").contains("from 5 g to 50 kg"));
    assert!(said("wok").contains("write its kind and measures"));
    assert!(said("wok 36x9 cm").contains("'wok' is not understood"));
    assert!(said("round 9").contains("round tin, 9 × 1.5 in or round tin, 9 × 2 in"));
    assert!(said("bundt").contains("fluted ring tin, 7.5 × 3 in or"));
    assert!(said("").contains("no pan is called"));
}

#[test]
fn a_whole_number_and_a_fraction_are_one_measure() {
    let one = find("loaf 8 1/2 x 4 1/2 x 2 1/2 in", &[]).expect("a pan");
    let same = find("loaf 8.5 x 4.5 x 2.5 in", &[]).expect("a pan");
    assert_eq!((one.outline, one.depth), (same.outline, same.depth));
    let round = find("round 9 1/2 x 2 in", &[]).expect("a pan");
    assert_eq!(
        round.outline,
        Outline::Round {
            across: Length::inches(9.5)
        }
    );
}

#[test]
fn a_pan_of_the_kitchen_may_say_its_water() {
    for (line, name, water) in [
        ("the blue tin, 1440 g water", "the blue tin", Some(1440.0)),
        ("loaf 9x5, 1.5 kg of water", "loaf 9x5", Some(1500.0)),
        ("Round 23 cm: 2000 g Water", "Round 23 cm", Some(2000.0)),
        (
            "loaf tin 900 g, 23 × 13 cm",
            "loaf tin 900 g, 23 × 13 cm",
            None,
        ),
        ("loaf tin, 900 g", "loaf tin, 900 g", None),
        ("muffin tin", "muffin tin", None),
        ("Green ring, 1450 mL", "Green ring", Some(1447.39)),
        ("Green ring: 1.45 litres", "Green ring", Some(1447.39)),
        ("Green ring, 1,45 l", "Green ring", Some(1447.39)),
        ("odd, some water", "odd, some water", None),
    ] {
        let pan = OwnPan::read(line);
        let water_g = pan.water.map(|g| (g * 100.0).round() / 100.0);
        assert_eq!((pan.name.as_str(), water_g), (name, water), "{line}");
    }
}

/// 1 g of water at 20 °C is 1.0018 mL (density 0.9982, CRC handbook, from memory).
#[test]
fn an_own_pan_holds_its_water() {
    let own = [
        OwnPan {
            name: "Blue loaf 9x5".to_owned(),
            water: Some(1440.0),
        },
        OwnPan {
            name: "old tin".to_owned(),
            water: None,
        },
    ];
    let blue = find("blue loaf 9X5", &own).expect("own");
    let v = blue.volume();
    assert_eq!(v.low(), v.high());
    assert!((v.likely().as_millilitres() - 1442.6).abs() < 0.1);
    assert!(blue.area().is_some(), "its size is in its name");
    let error = find("old tin", &own).expect_err("not measured").to_string();
    assert!(error.contains("fill it to the rim with water"), "{error}");
}

/// A pan that is no standard one is read again as it is, to a hundredth of a millimetre.
#[test]
fn every_kind_is_found_by_what_it_is_typed_as() {
    for words in [
        "round 22.5 x 7 cm",
        "springform 21.5 x 6.7 cm",
        "sandwich 19 x 4.2 cm",
        "tart 27.3 x 2.8 cm",
        "pie 21.2 x 3.3 cm",
        "loaf 21.3 x 10.7 x 6.6 cm",
        "pullman 31 x 9.3 x 9.3 cm",
        "square 21.5 x 4.6 cm",
        "oblong 31 x 21.7 x 4.4 cm",
        "traybake 31 x 21.7 x 4.4 cm",
        "jelly 41 x 27 x 2.2 cm",
        "sheet 41.5 x 31 x 1.7 cm",
        "tray 41.5 x 31 x 1.7 cm",
        "box 21.3 x 10.7 x 6.6 cm",
        "bundt 9 1/4 x 3 1/8 in",
        "round 8 3/4 x 2 1/4 in",
        "13x8x2 1/2 in",
    ] {
        let Ok(one) = find(words, &[]) else {
            continue;
        };
        let again = pan(&one.typed());
        assert_eq!((again.name, again.fill), (one.name, one.fill), "{words}");
        assert_eq!(
            (again.outline, again.depth),
            (one.outline, one.depth),
            "{words}"
        );
    }
}

/// What is offered by name can be typed again, and no key is shown.
#[test]
fn every_pan_is_found_by_what_it_is_called() {
    for pan in all() {
        let found = find(&pan.called(), &[]).map(|p| p.called());
        assert_eq!(found.as_ref(), Ok(&pan.called()), "{}", pan.key);
    }
    for words in ["muffin tin", "round 9", "muffen", "loaf"] {
        let error = find(words, &[]).expect_err(words).to_string();
        assert!(!error.contains('_'), "{error}");
    }
}

/// A tart pan of an American recipe is one in inches, with whatever is said of its bottom.
#[test]
fn a_tart_pan_in_inches_stays_in_inches() {
    for (words, shown) in [
        ("9-inch fluted tart pan with removable bottom", "9 × 1 in"),
        ("11 inch tart pan", "11 × 1 in"),
        ("23 cm loose-bottomed tart tin", "23 × 2.5 cm"),
    ] {
        let pan = find(words, &[]).expect(words);
        assert!(
            pan.words().contains(&format!(", {shown}")),
            "{}",
            pan.words()
        );
    }
}

/// A pan as bakers write it into their own method, without a unit: inches.
#[test]
fn an_own_method_names_its_pan_without_a_unit() {
    use super::said::Said;
    for (text, key) in [
        ("Spread in a 9x9 pan and bake 60 minutes.", "square_9x2"),
        ("Butter a 9 x 9 pan.", "square_9x2"),
        ("Bake in a 9 by 13 pan for 50 minutes.", "rect_13x9x2"),
        ("Scrape into a greased 9x13 baking dish.", "rect_13x9x2"),
    ] {
        let own = crate::own_method::steps(text);
        let said = Said::of_steps(&own);
        let all: Vec<&str> = said.iter().map(|s| s.pan.key.as_str()).collect();
        assert_eq!(all, [key], "{text}");
    }
}
