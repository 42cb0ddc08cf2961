//! Formulating blends: what must hold of every answer, and answers worked out another way.

use larder::{FoodId, Larder};
use recipe::formulate::{
    Aim, Answer, Ask, FormulateError, Limit, MakeUp, Property, Target, Wanted, Wish, formulate,
    usual, why,
};
use recipe::rework::blend::house;
use recipe::rework::style::Style;
use recipe::{Holds, LeftOut};
use std::sync::LazyLock;

static LARDER: LazyLock<Larder> =
    LazyLock::new(|| Larder::built_in().expect("the built-in tables"));

fn food(key: &str) -> FoodId {
    LARDER.by_key(key).expect(key)
}

fn style(key: &str) -> Style {
    Style::from_key(key).expect(key)
}

fn wanted(style: &str) -> Wanted {
    Wanted {
        style: style.to_owned(),
        ..Wanted::default()
    }
}

fn error(wanted: &Wanted) -> String {
    match wanted.ask(&LARDER, &house(&LARDER)) {
        Err(e) => e.to_string(),
        Ok(ask) => formulate(&ask, &LARDER).expect_err("a clash").to_string(),
    }
}

#[test]
fn every_style_has_three_different_blends_inside_all_limits() {
    for style in Style::all() {
        let ask = Ask::new(Aim::Style(style), &LARDER);
        let found = formulate(&ask, &LARDER).unwrap();
        assert_eq!(found.blends.len(), 3, "{}", style.key());
        for b in &found.blends {
            let sum: f64 = b.parts.iter().map(|p| p.1).sum();
            assert_eq!(sum, 100.0);
            assert!(b.parts.len() <= 4);
            for ((f, whole), c) in b.parts.iter().map(|p| {
                let c = ask.candidates.iter().find(|c| c.food == p.0);
                (p, c.expect("a candidate"))
            }) {
                assert!((c.low..=c.high).contains(whole), "{}", LARDER.food(*f).key);
                let exact = b.exact.iter().find(|p| p.0 == *f).unwrap().1;
                assert!((whole - exact).abs() <= 1.0);
            }
        }
        for (i, a) in found.blends.iter().enumerate() {
            for b in &found.blends[..i] {
                let new = |a: &[(FoodId, f64)], b: &[(FoodId, f64)]| {
                    let other = |p: &&(FoodId, f64)| !b.iter().any(|q| q.0 == p.0);
                    a.iter().filter(other).count()
                };
                let differ = new(&a.exact, &b.exact).max(new(&b.exact, &a.exact));
                assert!(differ >= 2, "{}", style.key());
            }
        }
    }
}

/// Nothing that is left out, and nothing of which only the label can say that it is free of it.
#[test]
fn what_is_left_out_is_in_no_blend() {
    for left_out in LeftOut::ALL {
        let mut ask = Ask::new(Aim::Style(style("muffin_quick_bread")), &LARDER);
        ask.candidates = recipe::formulate::whole_larder(&LARDER);
        ask.left_out = vec![left_out];
        for b in formulate(&ask, &LARDER).unwrap().blends {
            for (f, _) in b.parts {
                assert_eq!(left_out.in_food(f, &LARDER), Holds::No, "{left_out}");
            }
        }
    }
}

/// Harm no. 3 of the trade notes: no allergen slips in unasked; no. 4: buckwheat is no wheat.
#[test]
fn the_usual_flours_bring_no_allergen_and_no_gluten() {
    let all = usual(&LARDER);
    assert!(all.iter().any(|c| c.food == food("buckwheat_flour")));
    for c in all {
        let food = LARDER.food(c.food);
        assert_ne!(food.gluten, larder::Gluten::Contains, "{}", food.key);
        assert!(
            food.allergens.iter().all(|(_, check)| *check),
            "{}",
            food.key
        );
    }
    let mut ask = Ask::new(Aim::Style(style("lean_bread")), &LARDER);
    ask.candidates[0].food = food("all_purpose_flour");
    let found = formulate(&ask, &LARDER).unwrap();
    assert_eq!(
        found.barred,
        [(food("all_purpose_flour"), "it contains gluten".to_owned())]
    );
}

/// Source: a blend that is wanted is its own nearest blend.
#[test]
fn a_blend_is_rebuilt_as_it_is_where_nothing_is_missing() {
    for b in house(&LARDER) {
        let like = Wanted {
            like: b.key.to_string(),
            flours: Some(8),
            starch: Some((0.0, 100.0)),
            ..Wanted::default()
        };
        let ask = like.ask(&LARDER, &house(&LARDER)).unwrap();
        let found = formulate(&ask, &LARDER).unwrap();
        let best = &found.blends[0];
        assert!(best.distance < 1e-6, "{}: {}", b.key, best.distance);
        for (f, percent) in &b.parts {
            let ours = best.parts.iter().find(|p| p.0 == *f).map_or(0.0, |p| p.1);
            assert_eq!(ours, *percent, "{}", b.key);
        }
    }
}

/// A gram of fibre on top of a blend that lacks nothing else brings it nearer, and is said so.
#[test]
fn a_fibre_comes_on_top_of_the_flours() {
    let w = Wanted {
        only: ["white rice flour", "tapioca starch", "oat fibre"]
            .map(str::to_owned)
            .to_vec(),
        ..wanted("lean_bread")
    };
    let found = formulate(&w.ask(&LARDER, &[]).unwrap(), &LARDER).unwrap();
    let best = &found.blends[0];
    assert_eq!(best.on_top.len(), 1, "{best:?}");
    assert_eq!(best.on_top[0].0, food("oat_fibre"));
    assert!((0.5..=5.5).contains(&best.on_top[0].1), "{best:?}");
    assert_eq!(best.parts.iter().map(|p| p.1).sum::<f64>(), 100.0);
    let bare = Wanted {
        not: vec!["oat fibre".to_owned()],
        ..w
    };
    let bare = formulate(&bare.ask(&LARDER, &[]).unwrap(), &LARDER).unwrap();
    assert!(best.distance < bare.blends[0].distance);
}

#[test]
fn a_flour_that_ran_out_is_made_up_for() {
    let bread = house(&LARDER)
        .into_iter()
        .find(|b| b.key == "bread")
        .unwrap();
    let like = Wanted {
        like: "bread".to_owned(),
        not: vec!["millet flour".to_owned()],
        ..Wanted::default()
    };
    let ask = like.ask(&LARDER, &house(&LARDER)).unwrap();
    let found = formulate(&ask, &LARDER).unwrap();
    let best = &found.blends[0];
    assert!(best.parts.iter().all(|p| p.0 != food("millet_flour")));
    // Millet simply left out and the rest raised to 100 % is no nearer.
    let rest: Vec<(FoodId, f64)> = bread
        .parts
        .iter()
        .filter(|p| p.0 != food("millet_flour"))
        .copied()
        .collect();
    let target = Target::near(MakeUp::of(&bread.parts, &LARDER).unwrap());
    let naive = target.distance(&MakeUp::of(&rest, &LARDER).unwrap());
    assert!(best.distance <= naive, "{} against {naive}", best.distance);
}

/// Source: Pearson's square (University of Guelph, dairy education pages) with USDA SR28 20648
/// and 20068: 8.43 and 0.19 % protein to that of one third and two thirds.
#[test]
fn two_flours_agree_with_the_pearson_square() {
    let parts = [
        (food("sorghum_flour"), 30.0),
        (food("tapioca_starch"), 70.0),
    ];
    let mut ask = Ask::new(Aim::Blend(parts.to_vec()), &LARDER);
    ask.candidates
        .retain(|c| parts.iter().any(|p| p.0 == c.food));
    ask.candidates
        .iter_mut()
        .for_each(|c| (c.low, c.high) = (0.0, 100.0));
    ask.starch = (0.0, 100.0);
    let best = formulate(&ask, &LARDER).unwrap().blends.remove(0);
    let protein = best.makeup.get(Property::Protein);
    let (high, low) = (8.43, 0.19);
    let share = 100.0 * (protein - low) / (high - low);
    assert!((best.parts.iter().find(|p| p.0 == parts[0].0).unwrap().1 - share).abs() < 0.01);
}

/// Source: the definition, by trying every share of three flours in whole percents.
#[test]
fn no_whole_percents_of_the_same_flours_are_much_nearer() {
    let mut ask = Ask::new(Aim::Style(style("rolled_cookie")), &LARDER);
    let three = ["white_rice_flour", "sorghum_flour", "tapioca_starch"].map(food);
    ask.candidates.retain(|c| three.contains(&c.food));
    ask.most = 3;
    let best = formulate(&ask, &LARDER).unwrap().blends.remove(0);
    let target = Target::of_style(style("rolled_cookie"));
    let exact = target.distance(&MakeUp::of(&best.exact, &LARDER).unwrap());
    let mut nearest = f64::INFINITY;
    for rice in 10..=60 {
        for sorghum in (10..=40).chain([0]) {
            let tapioca = 100 - rice - sorghum;
            if !(20..=40).contains(&tapioca) || rice + tapioca + sorghum != 100 {
                continue;
            }
            let parts: Vec<(FoodId, f64)> = three
                .iter()
                .zip([rice, sorghum, tapioca])
                .map(|(f, p)| (*f, f64::from(p)))
                .filter(|p| p.1 > 0.0)
                .collect();
            nearest = nearest.min(target.distance(&MakeUp::of(&parts, &LARDER).unwrap()));
        }
    }
    assert!(exact <= nearest + 1e-9, "{exact} against {nearest}");
    assert!(
        best.distance - nearest < 0.02,
        "{} {nearest}",
        best.distance
    );
}

#[test]
fn the_cheapest_is_cheaper_and_no_further_than_it_may_be() {
    let price = [
        ("white_rice_flour", 3.0),
        ("brown_rice_flour", 3.6),
        ("sorghum_flour", 4.8),
        ("tapioca_starch", 5.5),
        ("corn_starch", 2.4),
        ("potato_starch", 3.2),
    ]
    .map(|(f, p)| (f.to_owned(), p));
    let mut asked = Wanted {
        only: price.iter().map(|p| p.0.clone()).collect(),
        price: price.to_vec(),
        ..wanted("lean_bread")
    };
    let nearest = formulate(&asked.ask(&LARDER, &[]).unwrap(), &LARDER).unwrap();
    asked.cheapest_within = Some(nearest.blends[0].distance + 0.4);
    let ask = asked.ask(&LARDER, &[]).unwrap();
    assert!(matches!(ask.wish, Wish::Cheapest { .. }));
    let cheapest = formulate(&ask, &LARDER).unwrap();
    let cost = |o: &recipe::formulate::Outcome| o.blends[0].cost_per_kg.unwrap();
    assert!(cost(&cheapest) < cost(&nearest));
    let target = Target::of_style(style("lean_bread"));
    let far = target.distance(&MakeUp::of(&cheapest.blends[0].exact, &LARDER).unwrap());
    assert!(far <= asked.cheapest_within.unwrap() + 1e-6);
    // What lies on the distance is said with what a tenth more of it would save.
    let within = |b: &&recipe::formulate::Bound| matches!(b.limit, Limit::Within(_));
    assert!(cheapest.blends[0].bounds.iter().find(within).unwrap().price > 0.0);
}

#[test]
fn why_no_sorghum_has_an_answer() {
    let ask = Ask::new(Aim::Style(style("lean_bread")), &LARDER);
    let best = formulate(&ask, &LARDER).unwrap().blends.remove(0);
    for c in &ask.candidates {
        match why(c.food, &ask, &LARDER).unwrap() {
            Answer::Used {
                percent, without, ..
            } => {
                assert!(best.parts.contains(&(c.food, percent)));
                let without = without.unwrap();
                assert!(without.parts.iter().all(|p| p.0 != c.food));
                assert!(without.distance >= best.distance - 0.02);
            }
            Answer::Further { with, .. } => {
                assert!(with.parts.iter().any(|p| p.0 == c.food));
                // In whole percents the order may turn by a hair.
                assert!(with.distance >= best.distance - 0.02);
            }
            other => panic!("{other:?}"),
        }
    }
    assert!(matches!(
        why(food("soy_flour"), &ask, &LARDER).unwrap(),
        Answer::Barred(_)
    ));
    let mut small = ask.clone();
    small.left_out = vec![LeftOut::Rice];
    let Answer::Barred(reason) = why(food("white_rice_flour"), &small, &LARDER).unwrap() else {
        panic!("rice is left out");
    };
    assert_eq!(reason, "rice is left out");
}

#[test]
fn a_clash_names_both_sides() {
    let pair = |name: &str, percent| (name.to_owned(), percent);
    let mut w = wanted("lean_bread");
    w.least = vec![pair("sorghum flour", 60.0), pair("millet flour", 50.0)];
    let words = error(&w);
    assert!(words.contains("sorghum flour at least 60 %"), "{words}");
    assert!(words.contains("millet flour at least 50 %"), "{words}");

    let mut w = wanted("lean_bread");
    w.only = vec!["white rice flour".to_owned(), "tapioca starch".to_owned()];
    w.starch = Some((70.0, 80.0));
    let words = error(&w);
    assert!(words.contains("tapioca starch at most 40 %"), "{words}");
    assert!(words.contains("starches at least 70 %"), "{words}");

    let mut w = wanted("lean_bread");
    w.left_out = vec!["rice".to_owned()];
    w.least = vec![pair("white rice flour", 20.0)];
    let words = error(&w);
    assert!(
        words.contains("white rice flour is to be used, but rice is left out"),
        "{words}"
    );

    let mut w = wanted("lean_bread");
    w.flours = Some(1);
    let words = error(&w);
    assert!(words.contains("with 1 flour, with 2 they can"), "{words}");

    let mut w = wanted("lean_bread");
    (w.starch, w.flours) = (Some((50.0, 40.0)), Some(4));
    assert!(error(&w).contains("starches at least 50 % together; starches at most 40 % together"));

    let mut w = wanted("lean_bread");
    w.cheapest_within = Some(0.5);
    assert!(error(&w).contains("white rice flour: it has no price"));

    let mut w = wanted("lean_bread");
    w.most = vec![pair("sorghum flour", 120.0)];
    assert!(error(&w).contains("the greatest share of sorghum flour is 120: give 0 to 100 %"));
}

#[test]
fn what_is_not_known_is_said() {
    let mut w = wanted("ryebread");
    assert!(error(&w).contains("no style is called 'ryebread'"));
    w.style.clear();
    assert!(error(&w).contains("nothing to come near to"));
    w.like = "qwerty".to_owned();
    assert!(
        error(&w).contains("the blends are plain, bread"),
        "{}",
        error(&w)
    );
    let mut w = wanted("lean_bread");
    w.left_out = vec!["gluten".to_owned()];
    assert!(error(&w).contains("'gluten' is nothing that can be left out"));
    let nothing = Ask::new(Aim::Blend(vec![(food("white_rice_flour"), 0.0)]), &LARDER);
    assert_eq!(formulate(&nothing, &LARDER), Err(FormulateError::EmptyAim));
}
