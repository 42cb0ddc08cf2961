//! What makes what, drawn on the Weigh and Rework pages: parts within parts, and what is baked together.

use super::component_name;
use crate::web::picture;
use maud::Markup;
use recipe::rework::{Counted, Kept, Rework};
use recipe::sheet::Worked;

/// What makes what after the rework; nothing where no part meets another.
pub fn reworked(r: &Rework) -> Option<Markup> {
    let parts = r.components.iter().map(|c| {
        let lines = c.lines.iter().filter(|l| l.kept != Kept::Dropped);
        let lines = lines.map(|l| (l.component, l.grams));
        picture::Component::new(component_name(&c.name), c.makes, lines)
    });
    drawn(parts.collect(), baked_together(r, false))
}

/// What makes what, as weighed; nothing where no part meets another.
pub fn weighed(w: &Worked) -> Option<Markup> {
    let parts = w.formula.components.iter().map(|c| {
        let lines = c.items.iter().map(|i| (i.component, i.grams));
        picture::Component::new(component_name(&c.name), c.makes, lines)
    });
    drawn(parts.collect(), baked_together(&w.rework, true))
}

fn drawn(
    mut parts: Vec<picture::Component>,
    together: Option<picture::Component>,
) -> Option<Markup> {
    parts.extend(together);
    let meet = parts.iter().any(|p| !p.uses.is_empty());
    meet.then(|| picture::flow("flow", &parts))
}

/// What is baked together, where that is more than one part; what is within another comes with it. Nothing
/// where only a share of a part goes in: what becomes of the rest is not said.
///
/// # Arguments
/// * `original` — in the grams of the original, not of the rework.
fn baked_together(r: &Rework, original: bool) -> Option<picture::Component> {
    let pan = r.panful_round(r.last_baked(|_| true)?);
    let shared = |c: &(usize, Counted)| matches!(c.1, Counted::Share(..));
    if pan.counted.iter().any(shared) {
        return None;
    }
    let inside = pan.grams(r);
    let goes = |part: usize| {
        let mut others = pan.parts.iter().filter(|p| **p != part);
        let within = others.any(|p| {
            let mut lines = r.components[*p].lines.iter();
            lines.any(|l| l.component == Some(part) && l.kept != Kept::Dropped)
        });
        !within && inside[part] > 0.0
    };
    let grams = |part: usize| {
        let (makes, used) = match original {
            true => {
                let c = &r.formula.components[part];
                (c.makes, c.used)
            }
            false => (r.components[part].makes, r.components[part].used),
        };
        makes.likely().as_grams() - used.map_or(0.0, |u| u.likely().as_grams())
    };
    let parts = pan.parts.iter().copied().filter(|p| goes(*p));
    let uses: Vec<picture::Use> = parts
        .map(|of| picture::Use {
            of,
            grams: grams(of),
        })
        .filter(|u| u.grams > 0.0)
        .collect();
    (uses.len() > 1).then(|| picture::Component {
        name: "The bake".to_owned(),
        makes: uses.iter().map(|u| u.grams).sum(),
        uses,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use larder::Larder;
    use quantity::Locale;
    use recipe::sheet::{Sheet, work};

    /// A filling, a batter and crumbs in one tin are a picture; the icing that goes over is no part of it.
    #[test]
    fn parts_that_are_baked_together_are_drawn() {
        let larder = Larder::built_in().expect("the built-in tables");
        let text = "Plum tray cake\n\nFilling\n300 g plums\n40 g sugar\n\nCrumbs\n100 g plain flour\n60 g butter\n50 g sugar\n\n\
            Batter\n300 g plain flour\n2 tsp baking powder\n150 g butter\n150 g sugar\n3 eggs\n120 ml milk\n\n\
            Icing\n100 g icing sugar\n1 tbsp water\n\n\
            Cook the plums with the sugar for the filling. Cool.\n\nRub the butter into the flour and sugar for the crumbs.\n\n\
            Beat the batter. Spread it in a 20 x 30 cm tin, spoon the filling over and scatter the crumbs on top. Bake at 180 C for 45 minutes. Cool.\n\n\
            Mix the icing and drizzle it over the cake.\n";
        let w = work(&Sheet::new(text, Locale::Uk), &[], &larder, &[]).expect("it works");
        let told = weighed(&w)
            .expect("a picture")
            .into_string()
            .replace('\u{a0}', " ");
        // 300 + 40 g and 100 + 60 + 50 g, as they are written.
        assert!(
            told.contains("Filling, 340 g: 340 g into The bake."),
            "{told}"
        );
        assert!(
            told.contains("Crumbs, 210 g: 210 g into The bake."),
            "{told}"
        );
        assert!(told.contains("into The bake. The bake,"), "{told}");
        assert!(!told.contains("Icing, 115 g: "), "{told}");
        let alone = "Plain cake\n\n300 g plain flour\n150 g butter\n150 g sugar\n3 eggs\n\nBake at 180 C.\n";
        let w = work(&Sheet::new(alone, Locale::Uk), &[], &larder, &[]).expect("it works");
        assert!(weighed(&w).is_none() && reworked(&w.rework).is_none());
    }
}
