//! Butter folded into a dough that rests cold: the folds wait for it, and their rests are in the fridge.

use super::{at, comes_after, of, sheet};
use recipe::plan::{Place, Tasks};

const SNAILS: &str = r"Orange Blossom Cream Snails
From my grandmother's tin box. Makes 12.

For the dough
3 1/2 cups all-purpose flour, plus more for dusting
1/4 cup sugar
1 packet (2 1/4 tsp) active dry yeast
1 tsp kosher salt
3/4 cup whole milk, lukewarm
2 large eggs
1/2 stick unsalted butter, very soft
zest of 1 orange

For the lamination
1 1/2 sticks cold butter

For the pastry cream
1 1/2 cups whole milk
4 egg yolks
1/3 cup sugar
3 Tbsp all-purpose flour
1 tsp orange blossom water
1 oz white chocolate

For the streusel
3 oz all-purpose flour
1/3 cup packed brown sugar
4 Tbsp cold butter
pinch of salt

1 egg, beaten, for egg wash

Day 1: Mix the yeast with the milk and a spoon of the sugar and leave 10 minutes until foamy. Knead everything for the dough for 8 minutes by machine. Let rise 1 hour at room temperature, then chill overnight, 8 to 12 hours.
Make the pastry cream: heat the milk, whisk yolks, sugar and flour, pour on the milk, cook 2 minutes until thick. Stir in chocolate and orange blossom water. Cover and chill.
Day 2: Beat the cold butter into a 6-inch square. Roll dough to 8 x 16 inches, lock in the butter and give three single folds, chilling 30 minutes between each.
Roll to a 12 x 16 inch rectangle, spread with the cream, roll up from the long side and cut into 12. Set on two lined sheets. Proof 1 1/2 hours until puffy.
Brush with the egg, scatter the streusel over. Bake at 375°F for 22-25 minutes. Cool on a rack 30 minutes before serving.
";
const OWN: &str =
    "Yeast: warm the milk to lukewarm, stir in the yeast and a spoon of the sugar, wait 10 minutes.
Whisk in the psyllium and let it gel for 2 minutes.
Beat in flour blend, eggs, soft butter, salt and zest with the paddle for 4 minutes.
Chill overnight, 10 hours.
Pastry cream: boil milk, whisk with yolks, sugar and rice flour, cook 2 minutes, chill.
Fold in the cold butter with two folds, chilling 30 minutes after each.
Roll to 12 x 24 inches, spread the cream, roll up and cut into 12.
Proof 45 minutes.
Brush with egg, scatter the streusel. Bake at 375°F for 28 minutes.
Cool 45 minutes.";
const PARTS: &str = "Dough:
Warm the milk to lukewarm, stir in the yeast and a spoon of the sugar, wait 10 minutes.
Whisk in the psyllium and let it gel for 2 minutes.
Beat in flour blend, eggs, soft butter, salt and zest with the paddle for 4 minutes.
Chill overnight, 10 hours.
Pastry cream:
Boil the milk, whisk with yolks, sugar and rice flour, cook 2 minutes, chill.
Dough:
Roll the dough out, lay on the cold butter, fold once, chill 30 minutes.
Roll out again, fold, chill 30 minutes.
Roll to 12 x 24 inches, spread the cream, roll up and cut into 12.
Proof 45 minutes.
Brush with egg, scatter the streusel. Bake at 375°F for 28 minutes.
Cool 45 minutes.";

fn own(method: &str) -> Tasks {
    let mut s = sheet(SNAILS);
    s.method = Some(method.to_owned());
    of(&s, 1.0)
}

/// Minutes of the waits in the fridge of a part, shortest, in their order.
fn chills(t: &Tasks, of: &str) -> Vec<f64> {
    let mine = t.done().filter(|(_, t)| t.of == of);
    let waits = mine.filter_map(|(_, t)| t.wait);
    waits
        .filter(|w| w.place == Place::Fridge)
        .map(|w| w.span.least)
        .collect()
}

/// The folds and the rolling out were work of the pastry cream while the dough was cold.
#[test]
fn folds_and_rolling_wait_for_the_dough_and_the_cream() {
    let t = own(OWN);
    assert_eq!(chills(&t, "dough"), [600.0, 30.0, 30.0]);
    let (fold, again) = (at(&t, "dough:fold"), at(&t, "dough:roll"));
    let (roll, cream) = (at(&t, "dough:roll#2"), at(&t, "pastry cream:chill"));
    assert!(comes_after(&t, fold, at(&t, "dough:chill")));
    assert!(comes_after(&t, again, at(&t, "dough:chill#2")));
    assert!(comes_after(&t, roll, at(&t, "dough:chill#3")));
    assert!(comes_after(&t, roll, cream));
    assert!(t.list[fold].hands.usual < 20.0, "30 minutes are a wait");
    assert!(
        t.done()
            .all(|(_, t)| t.of != "pastry cream" || !t.name.to_lowercase().contains("roll"))
    );
    // The butter is beaten flat before it is folded in.
    let flat = at(&t, "lamination:roll");
    assert_eq!(t.list[flat].name, "Beat the butter flat");
    assert!(comes_after(&t, fold, flat) && !comes_after(&t, at(&t, "dough:mix"), flat));
    assert!(
        t.list
            .iter()
            .all(|t| t.of != "lamination" || t.what != "mix")
    );
}

/// Three folds were one 'Mix butter, roll' with one chill, and 'Mix (lamination)' beside it.
#[test]
fn each_fold_is_work_and_a_chill() {
    let t = of(&sheet(SNAILS), 1.0);
    let lock = at(&t, "dough:roll");
    assert_eq!(t.list[lock].name, "Roll dough, lock in butter, fold");
    assert_eq!(t.list[at(&t, "dough:roll#2")].name, "Roll, fold: 2 of 3");
    let third = at(&t, "dough:roll#3");
    assert_eq!(t.list[third].name, "Roll, fold: 3 of 3");
    assert!(comes_after(&t, third, lock));
    let between = |from: &str, to: &str| (at(&t, from)..at(&t, to)).len();
    assert_eq!(
        between("dough:roll", "dough:roll#2"),
        2,
        "work and one chill"
    );
    assert_eq!(
        between("dough:roll#2", "dough:roll#3"),
        2,
        "work and one chill"
    );
    let butter: Vec<&str> = t
        .list
        .iter()
        .filter(|t| t.of == "lamination")
        .map(|t| t.what)
        .collect();
    assert_eq!(
        butter,
        ["weigh", "roll"],
        "beaten flat while the dough is cold"
    );
    assert!(comes_after(&t, lock, at(&t, "lamination:roll")));
}

#[test]
fn folds_under_headings_stay_with_their_dough() {
    let t = own(PARTS);
    assert_eq!(chills(&t, "dough"), [600.0, 30.0, 30.0]);
    assert!(comes_after(
        &t,
        at(&t, "dough:roll#3"),
        at(&t, "pastry cream:chill")
    ));
    assert!(comes_after(
        &t,
        at(&t, "dough:roll"),
        at(&t, "lamination:roll")
    ));
}

/// The roll took the page's 8 × 16 in though the baker's own method says 12 × 24 in.
#[test]
fn a_roll_goes_by_the_bakers_own_method() {
    let larder = larder::Larder::built_in().expect("the built-in tables");
    let mut s = sheet(SNAILS);
    let sides = |s: &recipe::sheet::Sheet| {
        let w = recipe::sheet::work(s, &[], &larder, &[]).expect("a recipe");
        let (by, _) = recipe::plan::by_own_method(&w, s);
        let says = recipe::shape::method_says(&by, 0, recipe::shape::Kind::Roll);
        [&says["length"], &says["width"]].map(|s| s.text.clone())
    };
    assert_eq!(sides(&s), ["12 in", "16 in"], "the sheet that is rolled up");
    s.method = Some(OWN.to_owned());
    assert_eq!(sides(&s), ["12 in", "24 in"]);
}

/// 'No longer than 12 h 59 min' beside 'up to 24 h in the fridge does no harm'.
#[test]
fn a_cold_wait_is_limited_in_half_hours() {
    let t = own(OWN);
    let waits = t
        .done()
        .filter(|(_, t)| t.of == "dough" && t.what == "chill");
    let mut limited = 0;
    for (_, chill) in waits {
        let told = chill.notes.join(" ");
        let most = chill.wait.expect("a wait").span.most;
        assert!(
            !(told.contains("No longer than") && told.contains("no harm")),
            "{told}"
        );
        if told.contains("No longer than") {
            limited += 1;
            assert!(most % 30.0 == 0.0, "{most}: {told}");
        }
    }
    assert!(limited > 0, "24 h are shared by three waits");
}

/// By the method's own words: each fold stands between two chills.
#[test]
fn a_fold_again_behind_a_chill_is_not_lost() {
    for (again, said) in [
        ("Roll and fold twice more", "Roll, fold 2 times more"),
        ("Roll and fold again", "Roll, fold again"),
    ] {
        let t = of(
            &sheet(&format!(
                "Rough puff squares\n\nPastry\n300 g plain flour\n200 g butter\n120 ml water\n\n1. Cut the butter into the flour, add the water. Roll to a rectangle and fold in three. Chill for 20 minutes. {again}. Chill for 30 minutes.\n2. Roll out, cut into squares and bake at 200 °C for 20 minutes.\n"
            )),
            1.0,
        );
        let first = t.list.iter().filter(|t| t.step == Some(1));
        let names: Vec<&str> = first.map(|t| t.name.as_str()).collect();
        assert!(
            names.ends_with(&["First chill", said, "Second chill"]),
            "{names:?}"
        );
    }
}

const CRESCENTS: &str = r"Breakfast crescents

Makes 12

For the dough
500 g strong white flour
50 g caster sugar
10 g salt
7 g instant yeast
30 g soft butter
280 ml cold milk

For the layers
280 g cold butter

Wash
1 egg yolk
1 tbsp milk

1. Mix the flour, sugar, salt, yeast, soft butter and milk to a dough and knead for 4 minutes. Chill overnight, 10 to 14 hours.
2. Roll the dough to a 26 cm square, lay the butter on it, fold the corners over and seal.
3. Roll out to 60 x 20 cm and fold in three. Chill for 30 minutes. Repeat the rolling and folding twice more, chilling for 30 minutes after each turn.
4. Roll out to 60 x 30 cm and cut into 12 long triangles. Roll up from the wide side.
5. Leave to rise for 2 hours until puffy. Brush with the wash.
6. Bake at 200 °C for 18-20 minutes until golden. Cool on a rack.
";

/// What of a dough comes between its night in the fridge and its rise, by kind.
fn between(t: &Tasks) -> Vec<&'static str> {
    let mine = t
        .done()
        .filter(|(_, t)| t.of == "dough")
        .map(|(_, t)| t.what);
    let all: Vec<&str> = mine.collect();
    let night = all.iter().position(|w| *w == "chill").expect("a night");
    let rise = all.iter().position(|w| *w == "rise").expect("a rise");
    all[night + 1..rise].to_vec()
}

/// The butter of 'layers' was mixed in the bake, the third chill was missing, and the sheet was to be rolled up with
/// thread.
#[test]
fn a_butter_by_any_name_is_flat_before_it_is_folded_in() {
    let s = sheet(CRESCENTS);
    let t = of(&s, 1.0);
    let layers: Vec<&str> = t
        .list
        .iter()
        .filter(|t| t.of == "layers")
        .map(|t| t.what)
        .collect();
    assert_eq!(layers, ["weigh", "roll"]);
    assert!(comes_after(&t, at(&t, "dough:roll"), at(&t, "layers:roll")));
    // The butter goes in, then three turns and a chill behind each; then it is rolled out and cut.
    let turns = ["roll", "roll", "chill", "roll", "chill", "roll", "chill"];
    assert_eq!(between(&t)[..7], turns);
    assert_eq!(chills(&t, "dough"), [600.0, 30.0, 30.0, 30.0]);
    let larder = larder::Larder::built_in().expect("the built-in tables");
    let w = recipe::sheet::work(&s, &[], &larder, &[]).expect("a recipe");
    let dough = &w.rework.components[0];
    assert_eq!(dough.style.map(|s| s.style.key()), Some("laminated"));
    assert!(
        dough
            .method_notes
            .iter()
            .all(|n| !n.text.contains("thread"))
    );
}

/// 'Repeat twice more' was five minutes of work without a rest.
#[test]
fn what_is_repeated_is_the_fold_and_its_rest() {
    let repeat =
        "Repeat the rolling and folding twice more, chilling for 30 minutes after each turn.";
    for (said, names) in [
        (
            "Repeat twice more.",
            ["Roll, fold: 2 of 3", "Roll, fold: 3 of 3"],
        ),
        (
            "\n4. Repeat the rolling, folding and chilling two more times.",
            ["Roll, fold: 2 of 3", "Roll, fold: 3 of 3"],
        ),
        (
            "\n4. Give the dough a second turn, chill 30 minutes, then a third turn and chill for 30 minutes.",
            ["Roll, fold: second turn", "Roll, fold: third turn"],
        ),
    ] {
        let text = CRESCENTS.replace(repeat, said);
        let text = if said.starts_with('\n') {
            text.replace("6. Bake", "7. Bake")
                .replace("5. Leave", "6. Leave")
                .replace("4. Roll out", "5. Roll out")
        } else {
            text
        };
        let t = of(&sheet(&text), 1.0);
        assert_eq!(chills(&t, "dough"), [600.0, 30.0, 30.0, 30.0], "{said}");
        for name in names {
            let found: Vec<_> = t.list.iter().filter(|t| t.name == name).collect();
            assert_eq!(found.len(), 1, "{said}: {name}");
        }
    }
    // A verb is no turn, and one count of folds is no second one.
    let t = of(
        &sheet(&CRESCENTS.replace(
            "Chill for 30 minutes. Repeat",
            "Turn it round. Chill for 30 minutes. Repeat",
        )),
        1.0,
    );
    assert_eq!(chills(&t, "dough").len(), 4);
}
