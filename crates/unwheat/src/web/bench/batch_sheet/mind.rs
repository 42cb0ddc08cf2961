//! What is to mind: gluten that is left, raw egg and flour, labels to read.

use super::{Caution, Part};
use crate::web::page::sentence;
use larder::{Allergen, FoodId, Function, Gluten, Larder};
use recipe::rework::Kept;
use recipe::screen::core_cautions;
use recipe::sheet::Worked;

/// What in the rework contains gluten, each once; nothing where the screen found none.
#[must_use]
pub fn gluten(w: &Worked, larder: &Larder) -> Vec<String> {
    if w.rework_screening.verdict != Gluten::Contains {
        return Vec::new();
    }
    let mut out: Vec<String> = Vec::new();
    for f in &w.rework_screening.findings {
        let name = f.food.map_or(&f.words, |food| &larder.food(food).name);
        if f.verdict == Gluten::Contains && !out.contains(name) {
            out.push(name.clone());
        }
    }
    if out.is_empty() {
        out.push("see the Screen page".to_owned());
    }
    out
}

/// That there is gluten in it, in a sentence.
#[must_use]
pub fn still(what: &str, gluten: &[String]) -> String {
    format!("{what} still contains gluten: {}.", gluten.join(", "))
}

/// Cautions that count for what is in a component.
pub fn of_part(w: &Worked, larder: &Larder, place: usize) -> Vec<Caution> {
    let lines = lines(w, place, 0);
    let foods = || {
        let foods = lines.iter().filter_map(|(f, _)| *f);
        foods.map(|f| larder.food(f))
    };
    // Ground nuts of a filling are no flour of it.
    let dough = w.rework.components.get(place).is_some_and(|c| c.is_dough());
    cautions(w, |c| match c.code {
        "raw_flour" => {
            // Nor is the starch that thickens one.
            let filling = |f: Function| matches!(f, Function::NutFlour | Function::Starch);
            foods().any(|f| f.is_flour_phase() && (dough || !filling(f.function())))
        }
        "raw_egg" => foods().any(|f| {
            let egg = |a: &(Allergen, bool)| a.0 == Allergen::Egg;
            f.does(Function::Egg) && f.allergens.iter().any(egg)
        }),
        code => lines.iter().any(|(food, name)| {
            let said = core_cautions(food.map(|f| larder.food(f)), name);
            said.iter().any(|s| s.code == code)
        }),
    })
}

/// What no component can be shown to hold, 'or one egg', is said for all.
pub fn of_no_part(w: &Worked, parts: &[Part]) -> Vec<Caution> {
    let told = |text: &str| {
        parts
            .iter()
            .any(|p| p.cautions.iter().any(|c| c.text == text))
    };
    let mut out = cautions(w, |c| !told(c.text));
    out.extend(w.rework_screening.method.iter().map(|m| Caution {
        short: "gluten named".to_owned(),
        text: format!("{} Ask what is meant before it goes in.", sentence(m)),
    }));
    out
}

fn cautions(w: &Worked, counts: impl Fn(&recipe::screen::Caution) -> bool) -> Vec<Caution> {
    w.rework_screening
        .cautions
        .iter()
        .filter(|c| matches!(c.code, "raw_egg" | "raw_flour") || c.is_of_meat())
        .filter(|c| counts(c))
        .map(|c| Caution {
            short: c.code.replace('_', " "),
            text: c.text.to_owned(),
        })
        .collect()
}

/// Labels of a component that are still to be read: what, and why.
pub fn labels(w: &Worked, place: usize) -> Vec<String> {
    let mut out: Vec<String> = w
        .rework_screening
        .open()
        .filter(|f| f.component == place)
        .map(|f| format!("{}: {}", f.words, f.reason))
        .collect();
    out.sort();
    out.dedup();
    out
}

/// Foods of a component with their names, those of the components it takes along.
fn lines(w: &Worked, place: usize, depth: usize) -> Vec<(Option<FoodId>, &str)> {
    let Some(c) = w.rework.components.get(place).filter(|_| depth < 8) else {
        return Vec::new();
    };
    let mut out = Vec::new();
    for l in c.lines.iter().filter(|l| l.kept != Kept::Dropped) {
        out.push((l.food, l.name.as_str()));
        if let (true, Some(b)) = (l.blend, &c.blend) {
            out.extend(b.parts.iter().chain(&b.binders).map(|p| (Some(p.0), "")));
        }
        if let Some(other) = l.component {
            out.extend(lines(w, other, depth + 1));
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::super::example::{planned, worked};
    use super::*;

    #[test]
    fn what_is_to_mind_stands_with_what_holds_it() {
        let text = worked(
            "Custard tart\n\nFor the pastry:\n200 g plain flour\n100 g butter\n30 g water\n\n\
             For the filling:\n3 eggs\n300 g cream\n50 g sugar\n20 g flaked almonds, to serve\n\n\
             Method\n1. Make the pastry.\n2. Bake for 40 minutes.\n",
        );
        let plan = planned(&text, 1.0);
        let minds = |name: &str| {
            let part = plan.components.iter().find(|c| c.name.contains(name));
            let part = part.unwrap_or_else(|| panic!("{:?}", plan.components));
            part.cautions
                .iter()
                .map(|c| c.short.clone())
                .collect::<Vec<_>>()
        };
        assert_eq!(minds("pastry"), ["raw flour"]);
        assert_eq!(minds("filling"), ["raw egg"]);
        assert!(plan.cautions.is_empty());
        let almonds = plan
            .items()
            .find(|l| l.name.contains("almond"))
            .expect("almonds");
        assert_eq!(almonds.purpose.as_deref(), Some("to serve"));
        assert!(plan.gluten.is_empty());
    }

    /// A crust is golden before the sausage in it is done.
    #[test]
    fn meat_in_a_bake_is_done_by_its_middle() {
        let text = worked(
            "Sausage pie\n\nPastry:\n300 g plain flour\n150 g butter\n60 g water\n\n\
             Filling:\n680 g pork sausages, cut into chunks\n2 leeks\n200 g diced turkey thigh\n\n\
             Method\n1. Brown the sausages.\n2. Fill, cover and bake 40 minutes until deep golden.\n",
        );
        let plan = planned(&text, 1.0);
        let part = |name: &str| {
            let part = plan.components.iter().find(|c| c.name.contains(name));
            &part.expect(name).cautions
        };
        let short: Vec<&str> = part("illing").iter().map(|c| c.short.as_str()).collect();
        assert_eq!(short, ["raw poultry", "sausage or mince"]);
        assert!(part("illing")[1].text.contains("71 °C (160 °F)"));
        assert!(part("astry").iter().all(|c| c.short == "raw flour"));
    }

    /// Ground nuts are flour in a cake, not in a filling.
    #[test]
    fn a_filling_of_nuts_holds_no_raw_flour() {
        for nuts in [
            "150 g hazelnuts, toasted and ground",
            "150 g ground hazelnuts",
            // Nor does the starch that thickens fruit.
            "250 g raspberries\n2 tbsp cornstarch",
        ] {
            let text = worked(&format!(
                "Nut rolls\n\nFor the dough:\n500 g bread flour\n7 g yeast\n250 g water\n\n\
                 For the filling:\n{nuts}\n80 g sugar\n60 g butter\n",
            ));
            let plan = planned(&text, 1.0);
            let filling = plan.components.iter().find(|c| c.name.contains("filling"));
            let filling = filling.expect("the filling");
            assert!(filling.cautions.is_empty(), "{nuts} {:?}", filling.cautions);
            assert!(plan.cautions.is_empty(), "{nuts} {:?}", plan.cautions);
        }
        let cake = worked("Almond cake\n\n200 g ground almonds\n150 g sugar\n100 g butter\n");
        let plan = planned(&cake, 1.0);
        let cautions: Vec<&str> = plan
            .components
            .iter()
            .flat_map(|c| &c.cautions)
            .map(|c| c.short.as_str())
            .collect();
        assert_eq!(cautions, ["raw flour"]);
    }

    #[test]
    fn gluten_that_is_left_is_named() {
        let text = worked(
            "Malt bars\n\n200 g malted milk balls\n100 g butter\n80 g honey\n\n1. Bake for 20 minutes.\n",
        );
        let plan = planned(&text, 1.0);
        assert_eq!(
            still("This version", &plan.gluten),
            "This version still contains gluten: malted milk balls."
        );
    }
}
