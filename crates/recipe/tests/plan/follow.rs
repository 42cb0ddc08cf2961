//! A baker's own figures of a step go with its words, however the method is rewritten.

use super::{at, of, sheet};
use recipe::plan::{AddedStep, StepChange, Tasks};
use recipe::sheet::{Change, Sheet};

const DOUGH: &str = "Seed rolls\n\n500 g bread flour\n320 g water\n7 g instant yeast\n9 g salt\n";

fn with(method: &str) -> Sheet {
    let mut s = sheet(DOUGH);
    rewrite(&mut s, method);
    s
}

fn rewrite(s: &mut Sheet, method: &str) {
    let text = Some(method.to_owned());
    s.change(&Change::Method { text }).expect("a method");
}

/// Puts a figure to the task of a step, as the Plan page does.
#[track_caller]
fn decide(s: &mut Sheet, step: usize, what: &str, to: StepChange) -> Vec<Change> {
    let t = of(s, 1.0);
    let task = t
        .list
        .iter()
        .find(|t| t.step == Some(step) && t.what == what);
    let step = task.expect("the task").key.clone();
    let change = Change::SetStep {
        words: t.words(&step).map(str::to_owned),
        step,
        to,
    };
    let back = change.inverse(s);
    s.change(&change).expect("a figure");
    back
}

/// Steps that are left out.
fn out(t: &Tasks) -> Vec<Option<usize>> {
    let all = t.list.iter().filter(|t| t.left_out);
    all.map(|t| t.step).collect()
}

const METHOD: &str = "Mix for 5 minutes.\nChill for 1 hour.\nShape into rolls.\nChill the rolls for 30 minutes.\nBake at 220 °C for 25 minutes.";

#[test]
fn a_step_put_before_another_does_not_take_its_switch() {
    let mut s = with(METHOD);
    decide(&mut s, 4, "chill", StepChange::LeftOut(true));
    assert_eq!(out(&of(&s, 1.0)), [Some(4)]);
    // The first chill is taken out, then another is put in before both.
    rewrite(
        &mut s,
        "Mix for 5 minutes.\nShape into rolls.\nChill the rolls for 30 minutes.\nBake at 220 °C for 25 minutes.",
    );
    assert_eq!(out(&of(&s, 1.0)), [Some(3)]);
    rewrite(
        &mut s,
        &format!("Chill the water for 20 minutes.\n{METHOD}"),
    );
    let t = of(&s, 1.0);
    assert_eq!(out(&t), [Some(5)]);
    assert!(t.idle.is_empty());
    let mut keys: Vec<&str> = t.list.iter().map(|t| t.key.as_str()).collect();
    keys.sort_unstable();
    keys.dedup();
    assert_eq!(keys.len(), t.list.len(), "a key for each");
    // A few words of it changed: still the same step.
    rewrite(
        &mut s,
        &METHOD.replace("Chill the rolls for 30", "Chill the shaped rolls for 40"),
    );
    assert_eq!(out(&of(&s, 1.0)), [Some(4)]);
}

#[test]
fn a_step_that_says_something_else_is_not_left_out_for_the_one_before() {
    let mut s = with(METHOD);
    decide(&mut s, 4, "chill", StepChange::LeftOut(true));
    let key = s.steps[0].step.clone();
    let others = "Whisk everything.\nCool it in the fridge overnight, 8 hours.\nChill the tin 10 minutes and fill it.\nBake at 180 °C for 50 minutes.";
    rewrite(&mut s, others);
    let t = of(&s, 1.0);
    assert_eq!(out(&t), []);
    assert_eq!(t.idle, [key]);
    // It counts again where the words come back.
    rewrite(&mut s, METHOD);
    assert_eq!(out(&of(&s, 1.0)), [Some(4)]);
}

#[test]
fn a_figure_put_to_the_new_step_is_alone_there_and_undone_whole() {
    let mut s = with(
        "Mix for 5 minutes.\nChill for 1 hour, covered with a cloth.\nBake at 220 °C for 25 minutes.",
    );
    decide(&mut s, 2, "chill", StepChange::Least(Some(90.0)));
    decide(&mut s, 2, "chill", StepChange::Racks(Some(2)));
    rewrite(
        &mut s,
        "Mix for 5 minutes.\nChill the tin until wanted.\nBake at 220 °C for 25 minutes.",
    );
    let before = s.clone();
    let back = decide(&mut s, 2, "chill", StepChange::LeftOut(true));
    assert_eq!(s.steps.len(), 1);
    assert_eq!((s.steps[0].least, s.steps[0].racks), (None, None));
    for change in back {
        s.change(&change).expect("undone");
    }
    assert_eq!(s, before);
}

#[test]
fn an_added_step_follows_the_step_it_was_put_behind() {
    let mut s = with(METHOD);
    let t = of(&s, 1.0);
    let behind = t.list.iter().find(|t| t.step == Some(4)).expect("a chill");
    let words = t.words(&behind.key).map(str::to_owned);
    let (name, after) = ("Brush with oil".to_owned(), behind.key.clone());
    let to = StepChange::Added(Some(AddedStep { name, after }));
    let step = "own:1".to_owned();
    s.change(&Change::SetStep { step, words, to })
        .expect("a step");
    rewrite(&mut s, &METHOD.replace("Chill for 1 hour.\n", ""));
    let t = of(&s, 1.0);
    let own = t.task("own:1").expect("the step");
    assert_eq!(
        own.after
            .iter()
            .map(|&a| t.list[a].step)
            .collect::<Vec<_>>(),
        [Some(3)]
    );
    rewrite(&mut s, "Mix for 5 minutes.\nBake at 220 °C for 25 minutes.");
    assert_eq!(of(&s, 1.0).idle, ["own:1"]);
}

/// Figures kept before words were go by the key alone.
#[test]
fn figures_without_words_go_by_their_key() {
    let mut s = with(METHOD);
    let (step, to) = (":chill#2".to_owned(), StepChange::LeftOut(true));
    s.change(&Change::SetStep {
        step,
        words: None,
        to,
    })
    .expect("a figure");
    assert_eq!(out(&of(&s, 1.0)), [Some(4)]);
    let json = serde_json::to_string(&s).expect("JSON");
    assert!(!json.contains("words"), "{json}");
}

/// 'Keeps 2 days in a cool place' was a wait of 48 hours before serving.
#[test]
fn how_long_a_cake_keeps_is_no_wait() {
    let cake = "Sponge\n\n200 g plain flour\n200 g sugar\n200 g butter\n4 eggs\n\nMethod\n1. Cream the butter and sugar, beat in the eggs and fold in the flour.\n2. Bake for 25 minutes at 180 °C. Cool on a rack for 1 hour.";
    let usual = |text: &str| -> f64 {
        let t = of(&sheet(text), 1.0);
        t.done()
            .map(|(_, t)| t.hands.usual + t.wait.map_or(0.0, |w| w.span.usual))
            .sum()
    };
    let once = usual(cake);
    for keeps in [
        "Keeps 2 days in a cool place.",
        "Will keep for 3 days in the fridge.",
        "The sponge can be made 2 days ahead.",
        "It freezes well for 2 months.",
        "Freezes well.",
        "Store in an airtight tin for up to 4 days.",
        "Store in the fridge for 3 days.",
        "Can be frozen for up to a month.",
    ] {
        let text = format!("{cake} {keeps}");
        assert_eq!(
            usual(&text),
            once,
            "{keeps}: {:?}",
            of(&sheet(&text), 1.0).list
        );
        let text = format!("{cake}\n3. {keeps}");
        assert!(usual(&text) <= once + 10.0, "{keeps}");
    }
    // What is done in the fridge is done.
    for wait in [
        "Chill for 2 hours.",
        "Keep in the fridge for 2 hours before cutting.",
    ] {
        assert!(usual(&format!("{cake} {wait}")) > once + 60.0, "{wait}");
    }
}

/// Worked by hand: 'and zest' names what is creamed, it is no work of its own.
#[test]
fn a_step_is_named_by_what_it_is_done_to() {
    for zest in ["zest", "the zest of the lemon", "lemon zest"] {
        let t = of(
            &sheet(&format!(
                "Lemon cake\n\n200 g plain flour\n150 g caster sugar\n100 g butter, softened\n2 eggs\nzest of 1 lemon\n1 tsp baking powder\n\n1. Cream the butter, sugar and {zest} for 3 minutes.\n2. Beat in the eggs. Fold in the flour and baking powder.\n3. Bake at 180 °C for 40 minutes in a 20 cm tin.\n"
            )),
            1.0,
        );
        let cream = t.list.iter().find(|t| t.what == "cream");
        let name = cream.map(|t| t.name.as_str());
        assert_eq!(name, Some("Cream butter and sugar …"), "{zest}");
    }
}

/// 'Which keeps the crust soft' is no word of how long it keeps: the bake and the kneading it stands in are
/// work, with the minutes that are said.
#[test]
fn work_that_keeps_something_soft_is_planned() {
    let t = of(
        &sheet(
            "Soft rolls\n\n500 g bread flour\n7 g yeast\n10 g salt\n330 g water\n\n1. Mix and knead for 8 minutes, which keeps the crumb open.\n2. Let rise 1 hour.\n3. Bake at 200 °C for 20 minutes over a dish of water, which keeps the crust soft.\n",
        ),
        1.0,
    );
    let bake = &t.list[at(&t, ":bake")];
    let wait = bake.wait.expect("a bake waits").span;
    assert!(wait.least >= 20.0 && wait.most <= 25.0, "{bake:?}");
    assert_eq!(bake.step, Some(3));
    let knead = t.list.iter().filter(|t| t.step == Some(1));
    let hands: f64 = knead.map(|t| t.hands.usual).sum();
    assert!(hands >= 8.0, "{:?}", t.list);
}
