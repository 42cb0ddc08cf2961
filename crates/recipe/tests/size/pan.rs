//! Pans: what fills them, how full and how deep, and what is warned about.

use super::{CAKE, buns, larder, makes, near, part, refused, sized, worked};
use recipe::size::pan::OwnPan;
use recipe::size::{Ask, Pans, PartSize, Pieces, SizeError, Target, size};

/// H03: a whole-grain baking class page: 450 g of dough in a tin of 8 × 3.5 × 3 in, 84 cubic
/// inches; in one of 9 × 4 × 4 in, 144 cubic inches, 771.4 g (the page rounds to 770), × 1.714.
#[test]
fn from_one_tin_to_another_by_volume() {
    let w = worked("Loaf\n\n250 g bread flour\n195 g water\n5 g salt\n4 g instant yeast\n");
    let pans = |words: &str| Pans::of(words, &[]).expect("a pan");
    let batch = sized(
        &w,
        Target::FromPan {
            from: Pans {
                fill: Some(0.6),
                ..pans("loaf 8x3.5x3 in")
            },
            to: Pans {
                fill: Some(0.6),
                ..pans("pullman_9x4x4")
            },
            keep_depth: false,
        },
    );
    near(batch.factor, 1.714, 0.0005);
    near(450.0 * batch.factor, 771.4, 0.5);
}

/// By the area where the depth is kept: a 9 × 9 in and a 13 × 9 in tin, 81 and 117 square inches.
#[test]
fn from_one_tin_to_another_as_deep() {
    let w = worked(CAKE);
    let pans = |words: &str| Pans::of(words, &[]).expect("a pan");
    let ask = Target::FromPan {
        from: pans("square_9x2"),
        to: pans("rect_13x9x2"),
        keep_depth: true,
    };
    let batch = sized(&w, ask);
    near(batch.factor, 117.0 / 81.0, 1e-9);
    let change = batch.pans.expect("pans").depth_change.expect("measures");
    near(change, 1.0, 1e-9);
}

/// Tins in centimetres are to one another as they are written, (20/23)² and (25/23)²: not as 8, 9 and 10 inches, nor
/// as the cups of a chart, which gave × 0.812 and × 1.375.
#[test]
fn tins_of_one_shape_go_by_their_measures() {
    let w = worked(CAKE);
    let pans = |words: &str| Pans::of(words, &[]).expect("a pan");
    let factor = |from: &str, to: &str, keep_depth| {
        let (from, to) = (pans(from), pans(to));
        let ask = Target::FromPan {
            from,
            to,
            keep_depth,
        };
        sized(&w, ask).factor
    };
    for (to, side) in [("round 20x5 cm", 20.0_f64), ("round 25x5 cm", 25.0)] {
        for keep_depth in [false, true] {
            let times = factor("round 23x5 cm", to, keep_depth);
            near(times, (side / 23.0).powi(2), 1e-9);
        }
    }
    // A basin of 1.7 litres in place of one of 1.2: 1700 / 1200, not as one of 2 pints.
    let (from, to) = ("1.2 litre pudding basin", "1.7 litre pudding basin");
    near(factor(from, to, false), 17.0 / 12.0, 1e-9);
}

/// R16.4: a depth half as much again takes 1.5^1.4 = 1.76 times the time, at 10 °C less.
#[test]
fn a_deeper_batter_is_warned_about() {
    let w = worked(CAKE);
    let pans = |words: &str| Pans::of(words, &[]).expect("a pan");
    let ask = Target::FromPan {
        from: pans("round 23x4 cm"),
        to: pans("round 23x6 cm"),
        keep_depth: false,
    };
    let batch = sized(&w, ask);
    near(batch.factor, 1.5, 1e-9);
    let depth = batch.cautions.iter().find(|c| c.code == "depth");
    let depth = depth.expect("a caution");
    assert!(depth.text.contains("about 1.8 times"), "{}", depth.text);
    assert_eq!(depth.source, "common practice, no source");
}

/// Worked by hand: what the oven takes is taken of dough, filling and crumbs together, as they are weighed
/// out of it; of an icing that goes on afterwards nothing.
#[test]
fn the_oven_takes_of_all_that_is_in_the_pan() {
    let text = "Stollen\n\nMakes 1 loaf\n\nDough:\n500 g bread flour\n250 g whole milk\n100 g butter\n7 g yeast\n\nFilling:\n250 g marzipan\n\nIcing:\n100 g icing sugar\n20 g water\n\n1. Mix the dough, let it rise for 1 hour.\n2. Roll it out, spread with the filling and roll it up. Bake for 45 minutes at 180 C.\n3. Stir the icing and brush the loaf with it.\n";
    let w = worked(text);
    let batch = sized(&w, Ask::times(1.0));
    let pieces = batch.pieces.expect("one loaf");
    let whole = pieces.whole.expect("with its parts");
    let grams = |name: &str| makes(part(&batch, name));
    let (dough, filling, icing) = (grams("dough"), grams("filling"), grams("icing"));
    // Of the dough two parts in 102 stay in the bowl: those of the piece alone.
    let dough = dough / 1.02;
    near(whole.raw.likely().as_grams(), dough + filling + icing, 1e-6);
    let style = w.rework.components[0].style.expect("a style").style;
    let loss = style
        .range("bake_loss")
        .expect("a loss")
        .value
        .likely()
        .get()
        / 100.0;
    let baked = whole.baked.expect("a loss is known").likely().as_grams();
    near(baked, (dough + filling) * (1.0 - loss) + icing, 1e-6);
}

/// How full a pan is and how deep are one statement: of upright sides the same share, by hand 55 % of 75 mm
/// are 41 mm; round a tube too. Shape has the same height.
#[test]
fn how_full_and_how_deep_agree() {
    use recipe::shape::{Kind, ShapeAsk, dough_of};
    let w = worked(
        "Cake\n\n300 g plain flour\n225 g butter\n300 g sugar\n4 eggs\n2 tsp baking powder\n\nMix and bake.\n",
    );
    for (words, deep) in [
        ("round 23x7.5 cm", 75.0),
        ("bundt 10x3.5", 88.9),
        ("9x13 in", 50.8),
        ("pie 9x1.25", 31.75),
    ] {
        let pans = Pans {
            pan: words.to_owned(),
            water: None,
            count: 1,
            fill: None,
            full: false,
        };
        let batch = sized(&w, Target::Pan(pans));
        let p = batch.pans.clone().expect("a pan");
        let (fill, depth) = (p.fill.likely().get(), p.depth.expect("measures"));
        if words.starts_with("pie") {
            assert!(depth / deep > fill, "{words}: {depth} {fill}");
        } else {
            near(depth / deep, fill, 1e-3);
        }
        // Of a tube Shape has no measures.
        if !words.starts_with("bundt") {
            let dough = dough_of(&w.rework, &batch, 0, Kind::Fit);
            let ask = ShapeAsk::new(Kind::Fit).with("pan", words);
            let shaped = ask.shaped(&dough).expect("a fit");
            let high = shaped.measure("high").expect("a height").value;
            near(high.likely().get(), depth, 0.02 * depth);
        }
    }
}

/// Twelve muffins into a tin of six large ones are six, each a sixth of what goes in less 2 % in the bowl, by
/// hand; and pieces of another weight are as many as were asked for.
#[test]
fn a_tin_of_hollows_makes_as_many_pieces() {
    let w = worked(
        "Muffins\n\nMakes 12 muffins\n\n280 g plain flour\n3 tsp baking powder\n150 g caster sugar\n2 large eggs\n240 ml buttermilk\n120 g butter\n\nMix and bake in a muffin tin.\n",
    );
    let pans = Pans {
        pan: "muffin_jumbo".to_owned(),
        water: None,
        count: 1,
        fill: None,
        full: false,
    };
    let batch = sized(&w, Target::Pan(pans));
    let pieces = batch.pieces.expect("six");
    near(pieces.count, 6.0, 1e-9);
    near(
        pieces.each.as_grams(),
        makes(&batch.components[0]) / 6.0 / 1.02,
        1e-6,
    );
    assert_eq!(batch.count, Some((6.0, 6.0)));
    let pieces = Pieces {
        count: Some(20.0),
        each: Some(50.0),
        baked: false,
    };
    let batch = sized(&w, Target::Pieces(pieces));
    assert_eq!(batch.count, Some((20.0, 20.0)));
    // A loaf is no muffins: 'about 10 muffins' had been said of one.
    let batch = sized(&w, Target::Pan(Pans::of("loaf 9x5", &[]).expect("a pan")));
    assert_eq!((batch.count, batch.pieces), (None, None));
    let tin = recipe::size::pan::find("muffin tin of 6", &[])
        .expect_err("two of them")
        .to_string();
    assert!(
        tin.contains("large muffin tin of 6, 3 × 1.5 in or"),
        "{tin}"
    );
}

/// A pastry for a larger tin, by hand (28 ÷ 23)² × 3 ÷ 2.5 of what the method's own is lined with; without one
/// it is asked for.
#[test]
fn a_pastry_goes_from_the_tin_of_its_method() {
    let text = "Tart\n\nPastry:\n200 g plain flour\n100 g butter\n50 g water\n\nFilling:\n300 g apples\n\n1. Rub the butter into the flour, bind with the water and line a 23 x 2.5 cm tart tin.\n2. Fill with the apples and bake for 40 minutes.\n";
    let pans = Pans {
        pan: "tart 28x3 cm".to_owned(),
        water: None,
        count: 1,
        fill: None,
        full: false,
    };
    let of = |text: &str| worked(text);
    let batch = sized(&of(text), Target::Pan(pans.clone()));
    near(batch.factor, (28.0f64 / 23.0).powi(2) * 3.0 / 2.5, 0.03);
    let alone = text.replace("\nFilling:\n300 g apples\n", "");
    let alone = sized(&of(&alone), Target::Pan(pans.clone()));
    assert!(alone.pans.is_none(), "how full it is says nothing");
    let error = refused(
        &of(&text.replace("a 23 x 2.5 cm tart tin", "a tart tin")),
        Target::Pan(pans),
    );
    assert!(matches!(error, SizeError::Lined { .. }), "{error}");
    // A depth of ours is a guess with its range, beside the question. By hand: a 24 cm tart tin is taken 2.5 cm
    // deep as those of the table, so (28 ÷ 24)² × 3 ÷ 2.5 = 1.633; 2 to 5 cm deep it is 2.042 to 0.817.
    let guessed = text
        .replace("23 x 2.5 cm", "24 cm")
        .replace("300 g apples", "300 g apples\n2 eggs");
    let pans = Pans {
        pan: "tart 28x3 cm".to_owned(),
        water: None,
        count: 1,
        fill: None,
        full: false,
    };
    let batch = sized(&of(&guessed), Target::Pan(pans));
    near(batch.factor, (28.0f64 / 24.0).powi(2) * 3.0 / 2.5, 0.03);
    let (low, high) = batch.range.expect("a range");
    assert!(low < 0.83 && high > 2.0, "{low} {high}");
    let said = batch.sums.join("; ");
    assert!(
        said.contains("its depth is assumed (such tins are 2 to 5 cm deep)")
            && said.contains("Measure yours"),
        "{said}"
    );
}

/// A crust that lines a basin goes by its surface. By hand: 1700 ÷ 1200 = 1.41667 for what fills it, and
/// 1.41667^(2/3) = 1.2614 for the crust; two of 1.2 litres hold and cover twice as much.
#[test]
fn a_crust_goes_by_the_surface_of_its_basin() {
    let text = "Pudding\n\nPastry:\n200 g plain flour\n100 g suet\n100 g water\n\nFilling:\n500 g beef\n100 g onions\n\n1. Mix the pastry and line a 1.2 litre pudding basin with it.\n2. Fill with the beef and onions and steam for 4 hours.\n";
    let pans = |words: &str, count| Pans {
        count,
        ..Pans::read(words, &[]).expect(words)
    };
    for (tin, count, pastry, filling) in [
        ("1.7 litre pudding basin", 1, 1.2614, 1.4167),
        ("1.2 litre pudding basin", 2, 2.0, 2.0),
    ] {
        let target = Target::FromPan {
            from: pans("1.2 litre pudding basin", 1),
            to: pans(tin, count),
            keep_depth: false,
        };
        let batch = sized(&worked(text), target);
        near(part(&batch, "pastry").factor, pastry, 1e-3);
        near(part(&batch, "filling").factor, filling, 1e-3);
    }
}

/// A pastry goes by what it covers and a filling by what the tin holds. By hand (python 3): 23 cm × 3 takes
/// π/4·23² + π·23·3 = 632.2 cm² of pastry and 1,246 mL; 28 × 3 879.6 cm² and 1,847 mL; six of 10 × 2 848.2 cm²
/// and 942 mL; 30 × 20 × 3 900.0 cm² and 1,800 mL.
#[test]
fn a_pastry_goes_by_what_it_covers() {
    let text = "Tart\n\nServes 8\n\nPastry:\n200 g plain flour\n100 g butter\n50 g water\n\nFilling:\n300 g cream\n4 eggs\n\n1. Rub the butter into the flour, bind with the water and line a 23 x 3 cm tart tin.\n2. Whisk the filling, pour it into the pastry case and bake for 40 minutes at 170 C.\n";
    let pans = |words: &str| Pans::read(words, &[]).expect(words);
    for (tin, pastry, filling) in [
        ("tart 28x3 cm", 1.3913, 1.4820),
        ("tartlet_10x2cm", 1.3416, 0.7561),
        ("30x20x3 cm", 1.4235, 1.4441),
    ] {
        let from_method = sized(&worked(text), Target::Pan(pans(tin)));
        near(part(&from_method, "pastry").factor, pastry, 1e-4);
        near(part(&from_method, "filling").factor, filling, 1e-4);
        near(from_method.factor, filling, 1e-4);
        let said = from_method.sums.join("; ");
        assert!(said.contains("the pastry, as thick as before: "), "{said}");
        // Of the pastry alone, its own.
        let mut ask: Ask = Target::FromPan {
            from: pans("tart 23x3 cm"),
            to: pans(tin),
            keep_depth: false,
        }
        .into();
        ask.part = Some("pastry".to_owned());
        let alone = sized(&worked(text), ask);
        near(alone.factor, pastry, 1e-4);
        near(part(&alone, "filling").factor, filling, 1e-4);
    }
    // Crumbs that are only pressed on the base go by that: (25 ÷ 20)².
    let text = "Cheesecake\n\nBase:\n200 g digestive biscuits\n80 g butter\n\nFilling:\n600 g cream cheese\n4 eggs\n150 g sugar\n\n1. Crush the biscuits with the butter and press into a 20 x 7 cm springform tin.\n2. Beat the filling, pour it over the base and bake for 50 minutes at 160 C.\n";
    let of = |text: &str| {
        let target = Target::FromPan {
            from: pans("springform 20x7 cm"),
            to: pans("springform 25x5 cm"),
            keep_depth: false,
        };
        let batch = sized(&worked(text), target);
        (part(&batch, "base").factor, part(&batch, "filling").factor)
    };
    let (base, filling) = of(text);
    near(base, 1.5625, 1e-4);
    near(filling, 1.5625 * 5.0 / 7.0, 1e-4);
    // Up the sides: (π/4·25² + π·25·5) ÷ (π/4·20² + π·20·7) = 883.6 ÷ 754.0.
    let (base, _) = of(&text.replace("press into a", "press up the sides of a"));
    near(base, 1.1719, 1e-4);
}

/// 1.3 kg went into a tart tin of about a litre without a word, 'between 0.756 and 0.756'. By hand:
/// π × 10² × 2.5 cm³ = 785 mL, of which 90 % is 707 mL; (20 ÷ 23)² = 0.756.
#[test]
fn a_case_with_more_in_it_than_its_tin_holds_is_warned_about() {
    let text = "Pear tart\n\nSweet pastry:\n200 g plain flour\n100 g butter\n60 g icing sugar\n1 egg yolk\n\nFrangipane:\n125 g butter\n125 g caster sugar\n2 eggs\n125 g ground almonds\n25 g plain flour\n\nFruit:\n400 g pears\n\n1. Rub the butter into the flour and sugar, bind with the yolk, chill for 30 minutes and line a 23cm (9-inch) loose-bottomed tart tin with the sweet pastry. Bake blind at 200 °C for 15 minutes.\n2. Cream the butter and sugar for the frangipane, beat in the eggs and fold in the almonds.\n3. Spread the frangipane in the case, press in the pears and bake at 180 °C for 40 minutes.\n";
    let batch = sized(
        &worked(text),
        Target::Pan(Pans::read("20 cm tart tin", &[]).expect("a pan")),
    );
    near(batch.factor, (20.0f64 / 23.0).powi(2), 1e-3);
    let of = &batch.sums[0];
    assert!(of.contains("23 × 2.5 cm: its depth is assumed"), "{of}");
    assert_eq!(batch.range, None, "equal ends are one figure");
    let pans = batch.pans.expect("the tin");
    let parts = batch.components.iter().map(|c| c.makes.likely().as_grams());
    near(pans.grams.as_grams(), parts.sum(), 1e-6);
    assert!(pans.fill.likely().get() > 1.0, "{:?}", pans.fill);
    // It is as full as the recipe has its own.
    let full = batch.cautions.iter().find(|c| c.code == "as_full");
    let words = &full.expect("too full").text;
    assert!(
        words.contains("more than 2.5 cm, type it too, as 'loose-bottomed tart tin 20x3.5 cm'"),
        "{words}"
    );
    let deep =
        |across| Pans::read(&format!("loose-bottomed tart tin {across}x5 cm"), &[]).expect("a pan");
    let deep = sized(
        &worked(text),
        Target::FromPan {
            from: deep(23),
            to: deep(20),
            keep_depth: false,
        },
    );
    let words: Vec<&str> = deep.cautions.iter().map(|c| c.code).collect();
    assert!(
        !words.contains(&"overfull") && !words.contains(&"shallow"),
        "{words:?}"
    );
}

/// Butter cake, 0.82 g/mL, half to six tenths of a pan charted at 8 cups: 1,893 mL × 0.55 × 0.82.
#[test]
fn a_pan_takes_its_volume_times_fill_times_density() {
    let w = worked(CAKE);
    let batch = sized(&w, Target::Pan(Pans::of("round_9x2", &[]).expect("a pan")));
    near(makes(&batch.components[0]), 1893.0 * 0.55 * 0.82, 0.1);
    let pans = batch.pans.as_ref().expect("pans");
    near(pans.fill.likely().get(), 0.55, 1e-9);
    // Depth: 55 % of 2 inches; a tin charted to hold less than its measures is filled as much higher.
    near(pans.depth.expect("measures"), 0.55 * 50.8, 0.01);
    let two = sized(
        &w,
        Target::Pan(Pans {
            count: 2,
            ..Pans::of("round_9x2", &[]).expect("a pan")
        }),
    );
    near(two.factor, 2.0 * batch.factor, 1e-9);
}

/// A tin measured with water, and yeast dough at 0.525 g to the mL of it.
#[test]
fn an_own_tin_by_its_water() {
    let own = [OwnPan {
        name: "the blue tin".to_owned(),
        water: Some(1440.0),
    }];
    let w = worked("Loaf\n\n500 g bread flour\n350 g water\n10 g salt\n7 g instant yeast\n");
    let ask = Ask::from(Target::Pan(Pans::of("The blue tin", &own).expect("own")));
    let batch = sized(&w, ask.clone());
    near(makes(&batch.components[0]), 1440.0 / 0.9982 * 0.525, 0.01);
    // It is kept with the ask: the kitchen may forget the tin.
    let json = serde_json::to_string(&ask).expect("JSON");
    let again: Ask = serde_json::from_str(&json).expect("an ask");
    assert_eq!(sized(&w, again).factor, batch.factor);
}

#[test]
fn a_pan_that_is_too_full_is_warned_about() {
    let ask = Target::Pan(Pans {
        fill: Some(0.95),
        ..Pans::of("round_9x2", &[]).expect("a pan")
    });
    let batch = sized(&worked(CAKE), ask);
    assert!(batch.cautions.iter().any(|c| c.code == "overfull"));
}

/// '2 x 20' to '2 x 23' was × 1.15, and '2 x 23 cm sandwich tin' a tin 2 cm across. By area
/// 23² ÷ 20² = 1.3225; each tin has half of the batch.
#[test]
fn a_count_before_a_pan_counts_pans() {
    let read = |words: &str| Pans::read(words, &[]).expect(words);
    for (from, to, factor) in [
        ("2 x 20 cm sandwich tin", "2 x 23 cm sandwich tin", 1.3225),
        (
            "two 20 cm sandwich tins",
            "a pair of 23 cm sandwich tins",
            1.3225,
        ),
        ("20 cm sandwich tin", "2 x 20 cm sandwich tin", 2.0),
        ("2 20 cm sandwich tins", "23 cm sandwich tin", 1.3225 / 2.0),
    ] {
        for keep_depth in [false, true] {
            let (from, to) = (read(from), read(to));
            let batch = sized(
                &worked(CAKE),
                Target::FromPan {
                    from,
                    to,
                    keep_depth,
                },
            );
            near(batch.factor, factor, 1e-6);
        }
    }
    let pans = |words| {
        let batch = sized(&worked(CAKE), Target::Pan(read(words)));
        batch.pans.expect("pans")
    };
    let (one, two) = (pans("23 cm sandwich tin"), pans("2 x 23 cm sandwich tin"));
    near(two.each().as_grams(), one.grams.as_grams(), 1e-6);
    near(two.depth.expect("deep"), one.depth.expect("deep"), 1e-6);
    near(two.fill.likely().get(), one.fill.likely().get(), 1e-9);
}

const ROLLS: &str = "Walnut Rolls\nMakes 12\n\nDough\n4 1/2 cups bread flour\n1 cup milk\n100 g butter\n2 eggs\n80 g sugar\n7 g instant yeast\n6 g salt\n\nWalnut filling\n200 g walnuts\n120 g brown sugar\n100 g butter\n\nGlaze\n150 g icing sugar\n30 g milk\n\nMethod\n1. Knead the dough for 8 minutes and let it rise for 1 hour.\n2. Mix the filling.\n3. Roll the dough out, spread with the filling, roll up, cut into 12 and set them in a 9x13-inch pan.\n4. Bake for 25 minutes at 190 °C.\n5. Whisk the glaze and drizzle it over the rolls.\n";

/// Volumes worked by hand: the sum of grams over density of what is baked in the pan, by the density of
/// enriched dough (1.12) and of fillings (1.10), over the 3,312 mL that the pan is charted at.
#[test]
fn the_filling_goes_into_the_pan_with_the_dough() {
    let w = worked(ROLLS);
    assert_eq!(
        w.rework.panful(0).parts,
        [0, 1],
        "the glaze is poured over the bake"
    );
    let (dough, filling) = (w.rework.components[0].makes, w.rework.components[1].makes);
    let (dough, filling) = (dough.likely().as_grams(), filling.likely().as_grams());
    let own = sized(&w, Target::Pan(Pans::of("9x13", &[]).expect("a pan")));
    near(own.factor, 1.0, 1e-12);
    let pans = own.pans.as_ref().expect("pans");
    near(pans.grams.as_grams(), dough + filling, 1e-9);
    near(
        pans.fill.likely().get(),
        (dough / 1.12 + filling / 1.10) / 3312.0,
        1e-6,
    );
    // The same on the Shape page.
    let known = recipe::shape::batch_says(&w.rework, &own, 0, recipe::shape::Kind::Roll);
    assert_eq!(known["filling"].text, format!("{filling:.0} g"));
    let fit = recipe::shape::dough_of(&w.rework, &own, 0, recipe::shape::Kind::Fit)
        .grams
        .expect("weighed");
    near(fit.likely().as_grams(), dough + filling, 1e-9);
    // Another pan, 8 × 8 in of 13 × 9 in as deep, is in place of that; filled as suits it takes 0.525 g of all of it
    // to the mL of its charted 1,893.
    let square = || Pans::of("square_8x2", &[]).expect("a pan");
    let other = sized(&w, Target::Pan(square()));
    near(other.factor, 64.0 / 117.0, 1e-6);
    let full = true;
    let other = sized(&w, Target::Pan(Pans { full, ..square() }));
    near(other.factor, 1893.0 * 0.525 / (dough + filling), 1e-6);
    let two = sized(
        &w,
        Target::Pan(Pans {
            count: 2,
            ..Pans::of("9x13", &[]).expect("a pan")
        }),
    );
    near(two.factor, 2.0, 1e-12);
    // The dough alone is the dough alone.
    let ask = Ask {
        only: true,
        ..Target::Pan(Pans::of("9x13", &[]).expect("a pan")).into()
    };
    let only = size(&w.rework, &ask, larder()).expect("sized");
    near(
        only.pans.expect("pans").grams.as_grams(),
        only.factor * dough,
        1e-6,
    );
}

/// What makes more than the original and more than suits is made smaller for the recipe's own pan, and
/// the note says the same.
#[test]
fn a_conversion_that_overfills_its_own_pan_is_made_smaller() {
    let text = "Loaf\n\n700 g bread flour\n420 g water\n10 g salt\n7 g instant yeast\n\nMethod\n1. Knead for 10 minutes, shape and set in a 9x5x3 inch loaf pan.\n2. Let rise for 1 hour and bake for 40 minutes at 200 °C.\n";
    let w = worked(text);
    let (was, is) = (
        700.0 + 420.0 + 10.0 + 7.0,
        w.rework.components[0].makes.likely().as_grams(),
    );
    let own = sized(&w, Target::Pan(Pans::of("loaf_9x5x3", &[]).expect("a pan")));
    near(own.factor, was / is, 1e-9);
    let note = w.rework.components[0]
        .method_notes
        .iter()
        .find(|n| n.rule == "more in the pan");
    let note = &note.expect("it makes more").text;
    assert!(
        note.contains(&format!("or make × {:.2}", was / is)),
        "{note}"
    );
    assert!(note.contains("at any size"), "{note}");
}

#[test]
fn what_goes_on_after_the_bake_is_not_in_the_pan() {
    let cake = |steps: &str| {
        let text = format!(
            "Cake\n\nCake\n225 g flour\n225 g sugar\n225 g butter\n4 eggs\n10 g baking powder\n\nCrumb topping\n60 g flour\n40 g sugar\n40 g butter\n\nFilling\n200 g jam\n\nMethod\n{steps}"
        );
        worked(&text).rework.panful(0).parts.clone()
    };
    let after = "1. Pour the batter into a 23 cm round tin, scatter with the crumb topping and bake for 30 minutes.\n2. Cool, split and spread with the filling.\n";
    assert_eq!(cake(after), [0, 1]);
    // No step names either: crumbs are baked on, a cake is filled when it is cold.
    assert_eq!(cake("1. Bake for 30 minutes.\n"), [0, 1]);
}

const CHEESECAKE: &str = "Cheesecake\n\nServes 10\n\nFor the base:\n200 g digestive biscuits\n85 g butter, melted\n\nFilling:\n680 g cream cheese\n150 g sugar\n16 g plain flour\n3 eggs\n115 g sour cream\n\nFruit:\n450 g plums\n25 g sugar\n\nCrumbs:\n95 g plain flour\n70 g brown sugar\n57 g butter\n\nDirections\nMix biscuits and butter, press into the bottom of a 9-inch springform pan and bake 10 minutes at 325°F.\nRub the crumb ingredients together.\nToss plums with sugar.\nBeat cream cheese and sugar, beat in flour, then eggs and sour cream.\nPour over the base, lay on the plums, scatter with the crumbs.\nBake 60-65 minutes until the edge is set.\n";

/// A filling fills its tin with the base, the fruit and the crumbs: its own tin is × 1, and another
/// goes by what the two hold, never by the filling alone.
#[test]
fn a_cheesecake_fills_its_tin_with_all_its_parts() {
    let w = worked(CHEESECAKE);
    let filling = w.rework.components.iter().position(|c| c.name == "filling");
    let panful = w.rework.panful(filling.expect("a filling"));
    assert_eq!(panful.parts.len(), 4, "{panful:?}");
    assert!(panful.set);
    assert!(panful.own().is_some(), "{panful:?}");
    let at = |pan: &str| {
        sized(
            &w,
            Target::Pan(Pans {
                pan: pan.to_owned(),
                water: None,
                count: 1,
                fill: None,
                full: false,
            }),
        )
        .factor
    };
    near(at("springform 9x2.5"), 1.0, 1e-9);
    let small = at("20x6.5 cm springform");
    assert!((0.6..0.9).contains(&small), "{small}");
}

/// A part of which nothing is made goes into no pan: it is refused.
#[test]
fn none_of_a_part_fills_no_pan() {
    let ask = Ask {
        target: Target::Pan(Pans {
            pan: "loaf 9x5".to_owned(),
            water: None,
            count: 1,
            fill: None,
            full: false,
        }),
        part: Some("crumbs".to_owned()),
        only: true,
        parts: [("crumbs".to_owned(), PartSize::Enough)].into(),
        ..Ask::default()
    };
    assert!(size(&buns().rework, &ask, larder()).is_err());
}

/// A shortbread that is pressed in covers the base alone, by hand 30·20 ÷ 20² = 1.5; a lid is told not to be in
/// the sum.
#[test]
fn a_pressed_crust_lies_flat_and_a_lid_is_told() {
    let sums = |text: &str, pan: &str| {
        let to = Pans::of(pan, &[]).expect("a pan");
        sized(&worked(text), Target::Pan(to)).sums.join("; ")
    };
    let slice = "Caramel Slice\n\nShortbread crust\n200 g plain flour\n100 g butter\n50 g sugar\n\nCaramel\n400 g condensed milk\n100 g butter\n\n1. Rub the butter into the flour and sugar and press into a 20 x 20 x 4 cm tin. Bake at 180 °C for 20 minutes.\n2. Boil the caramel, pour over the crust.\n";
    let flat = sums(slice, "30x20x4 cm");
    assert!(flat.contains("600 cm² ÷ 400 cm² of base = × 1.5"), "{flat}");
    let up = slice.replace("press into a", "press over the base and up the sides of a");
    assert!(sums(&up, "30x20x4 cm").contains("of base and side"));
    let pie = "Apple Pie\n\nPastry\n400 g plain flour\n200 g butter\n80 g water\n\nFilling\n800 g apples\n100 g sugar\n\n1. Rub the butter into the flour, add the water. Roll out two thirds and line a 30 x 3 cm pie dish.\n2. Fill with the apples and sugar. Roll out the rest for a lid and cover.\n3. Bake at 190 °C for 45 minutes.\n";
    let lid = "nothing added for the rim; a lid is not in it";
    assert!(sums(pie, "pie 24x3 cm").contains(lid));
    assert!(!sums(&pie.replace("for a lid", "thinly"), "pie 24x3 cm").contains(lid));
}

/// A batter for a 33 × 23 cm tin goes into one 5 cm deep, a sponge that is rolled up into a shallow one; a
/// depth that the method says behind the tin is its depth.
#[test]
fn a_tin_is_as_deep_as_what_is_baked_in_it() {
    let tin = |title: &str, tin: &str| {
        let text = format!(
            "{title}\n\n250 g plain flour\n200 g butter\n220 g sugar\n4 eggs\n2 tsp baking powder\n\n1. Grease {tin}.\n2. Mix all, scrape it in and bake at 180C for 30 minutes.\n"
        );
        let w = worked(&text);
        let said = w.rework.panful(0).said.clone().expect("a tin");
        said.pan.called()
    };
    for (title, words, called) in [
        (
            "Oat brownies",
            "a 33x23cm/13x9in tin",
            "oblong tin, 13 × 9 × 2 in",
        ),
        (
            "Oat brownies",
            "a 33x23cm brownie tin",
            "oblong tin, 13 × 9 × 2 in",
        ),
        (
            "Hazel Swiss roll",
            "a 33x23cm tin",
            "sponge-roll tin, 33 × 23 × 2 cm",
        ),
        (
            "Tray",
            "a 20 x 30cm baking tin, 2.5cm deep",
            "oblong tin, 30 × 20 × 2.5 cm",
        ),
        (
            "Tray",
            "a 23cm springform (7 cm deep)",
            "springform, 23 × 7 cm",
        ),
        (
            "Tray",
            "a half sheet pan",
            "half sheet, inside, 17 × 12 × 1 in",
        ),
        ("Tray", "a lamington tin", "lamington tin, 30 × 20 × 3 cm"),
        (
            "Tray",
            "a deep 20cm square cake tin",
            "deep square tin, 20 × 20 × 7.5 cm",
        ),
    ] {
        assert_eq!(tin(title, words), called, "{title}: {words}");
    }
    // What is served beside it says nothing of the tin, what is rolled up does.
    for (step, called) in [
        (
            "a 33x23cm tin. Serve beside Swiss roll",
            "oblong tin, 13 × 9 × 2 in",
        ),
        (
            "a 33x23cm tin. Roll the sponge up while warm",
            "sponge-roll tin, 33 × 23 × 2 cm",
        ),
    ] {
        assert_eq!(tin("Hazel traybake", step), called, "{step}");
    }
}

/// Crumbs that are pressed into the base cover it alone, whatever they are called: by hand 26² ÷ 20² = 1.69; up
/// the sides of 6.5 cm it is (26² + 4·26·6.5) ÷ (20² + 4·20·6.5) = 1.47.
#[test]
fn pressed_crumbs_cover_what_the_step_says() {
    let sums = |name: &str, press: &str| {
        let text = format!(
            "Lime cheesecake\n\n{name}\n200 g digestive biscuits\n90 g butter\n\nFilling\n600 g cream cheese\n150 g sugar\n3 eggs\n\n1. Crush the biscuits, stir in the butter. {press}\n2. Beat the filling, pour it over and bake at 150 °C for 50 minutes.\n"
        );
        let pans = Pans::read("26x6.5 cm springform", &[]).expect("a tin");
        sized(&worked(&text), Target::Pan(pans)).sums.join(" ")
    };
    for name in ["Crumb crust", "Biscuit crust", "Base", "Shell"] {
        let base = "Press into the base of a 20x6.5 cm springform tin.";
        assert!(
            sums(name, base).contains("of base = × 1.69"),
            "{name}: {}",
            sums(name, base)
        );
        let sides = "Press over the base and up the sides of a 20x6.5 cm springform tin.";
        assert!(
            sums(name, sides).contains("of base and side = × 1.47"),
            "{name}: {}",
            sums(name, sides)
        );
    }
    for press in [
        "Press onto the base and the sides of a 20x6.5 cm springform tin.",
        "Line a 20x6.5 cm springform tin with it. Press baking paper onto the base and fill with beans.",
        "Stamp out a round and lay it over the base of a 20x6.5 cm springform tin.",
    ] {
        let said = sums("Biscuit crust", press);
        assert!(
            said.contains("of base and side = × 1.47"),
            "{press}: {said}"
        );
    }
}

/// The rhubarb of a topping whose jam goes on at the end is pressed in before the bake, and was in
/// no pan. By hand: butter, sugar, two eggs of 50 g, almonds and flour are about 490 g, with the rhubarb,
/// its jam and almonds 374 g more.
#[test]
fn fruit_that_is_pressed_in_is_in_the_pan() {
    let tart = |topping: &str, with: &str| {
        let text = format!(
            "Rhubarb tart\n\nPastry\n200 g plain flour\n110 g butter\n2 tbsp water\n\nFrangipane\n120 g butter\n120 g caster sugar\n2 medium eggs\n120 g ground almonds\n25 g plain flour\n\nTopping\n{topping}\n3 tbsp apricot jam\n\n1. Rub the butter into the flour, add the water. Line a 23x3.5 cm tart tin.\n2. Cream the butter and sugar, beat in the eggs, fold in the almonds and flour.\n3. Spread in the case, {with}. Bake at 180 °C for 40 minutes.\n4. Warm the jam and brush over the tart.\n"
        );
        let w = worked(&text);
        let at = w
            .rework
            .components
            .iter()
            .position(|c| c.name == "frangipane");
        let at = at.expect("a part");
        w.rework.panful(at).words(&w.rework)
    };
    let pressed = tart("300 g rhubarb", "press in the rhubarb");
    assert!(pressed.contains("topping"), "{pressed}");
    let cream = tart("300 g double cream", "level it. Cream is for later");
    assert!(!cream.contains("topping"), "{cream}");
}

/// What a step scatters over the dough before the bake is baked with it, whatever it is called.
#[test]
fn what_is_strewn_over_is_in_the_pan() {
    let text = "Kolaches\n\nDough\n500 g bread flour\n250 g milk\n80 g butter\n60 g sugar\n2 eggs\n7 g instant yeast\n\nPosypka\n60 g plain flour\n50 g sugar\n40 g butter\n\n1. Knead the dough and let rise 1 hour.\n2. Rub the butter into the flour and sugar of the posypka.\n3. Set the dough in a 9x13-inch pan, scatter the posypka over all and bake at 190 °C for 25 minutes.\n";
    let w = worked(text);
    assert_eq!(w.rework.panful(0).parts, [0, 1]);
    // Strewn once it is baked, it is in no pan.
    let behind = text.replace(
        ", scatter the posypka over all and bake at 190 °C for 25 minutes.",
        " and bake at 190 °C for 25 minutes. Scatter the posypka over.",
    );
    assert_eq!(worked(&behind).rework.panful(0).parts, [0]);
}
