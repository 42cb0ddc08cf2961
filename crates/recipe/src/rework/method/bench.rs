//! Notes on flour that only dusts: in a step, or kept for it in the list.

use super::{Aid, MethodNote, Notes, PRACTICE};
use crate::recipe::{Activity, Fact, FactKind, Step};
use crate::sentences::{sentence, words};

impl Notes<'_> {
    /// Dusting in words that no cue knows: only the list of ingredients may say with what.
    pub(super) fn dusting(&mut self, step: &Step) {
        let n = step.number;
        let dusts = |f: &&Fact| f.kind == FactKind::Doing(Activity::Dust);
        let tin = |note: &MethodNote| note.step == Some(n) && note.rule == "line the tin";
        let Some(fact) = step.facts.iter().find(dusts) else {
            return;
        };
        // 'Sprinkle over the flour' of a sauce thickens it.
        if self.list.iter().any(tin) || self.about.style.is_thickened() {
            return;
        }
        // The note says where the flour is spoken of: in the step, or only in the list.
        let does = if names_flour(step) {
            "dusts with flour"
        } else if self.bench_line().is_some() {
            "dusts, and the list of ingredients has flour for it"
        } else {
            "dusts and does not say with what"
        };
        let (instead, look_for) = if dusts_a_tin(step, fact) {
            (
                "no wheat flour for dusting. Oil the tins well, or line them; where they must be dusted, rice flour will do.",
                "a thin even film",
            )
        } else {
            (
                "no wheat flour for dusting. Oil the bench, pin and hands, or roll between two sheets. Dry flour makes seams that do not close.",
                "dough that lets go of an oiled hand",
            )
        };
        let aid = Aid {
            found: "dust",
            span: fact.span.clone(),
            instead: instead.to_owned(),
            look_for: look_for.to_owned(),
        };
        self.answer(n, does, "no bench flour", PRACTICE, aid);
    }

    /// Flour that an ingredient line keeps for the bench, where no step spoke of it.
    pub(super) fn bench_lines(&mut self) {
        if let Some(what) = self.bench_line() {
            self.say(
                None,
                "no bench flour",
                PRACTICE,
                format!(
                    "The list of ingredients has flour {what}: no wheat flour for dusting. Oil, two sheets, or a little rice flour."
                ),
            );
        }
    }

    /// What an ingredient line keeps flour for, beside the dough: 'for dusting'.
    fn bench_line(&self) -> Option<String> {
        const BENCH: &[&str] = &[
            "for dusting",
            "to dust",
            "for flouring",
            "for rolling",
            "for kneading",
            "for the counter",
            "for the bench",
            "for the board",
            "for the work",
            "for the surface",
            "for the table",
            "for the tin",
            "for the pan",
            "for the top",
            "for your hands",
        ];
        const OTHERS: &[&str] = &[
            "rice flour",
            "corn flour",
            "cornflour",
            "potato flour",
            "gluten-free",
        ];
        self.lines().iter().find_map(|line| {
            let text = line.clean.to_lowercase();
            let flour = text.find("flour")?;
            let what = BENCH
                .iter()
                .find(|b| text.find(**b).is_some_and(|at| at > flour))?;
            let wheat = !OTHERS.iter().any(|o| text.contains(o));
            wheat.then(|| match *what {
                "to dust" => "to dust with".to_owned(),
                "for the work" => "for the work surface".to_owned(),
                w => w.to_owned(),
            })
        })
    }
}

/// Whether it is a tin that a step dusts: 'buttered and floured pudding basins'.
fn dusts_a_tin(step: &Step, fact: &Fact) -> bool {
    const TINS: [&str; 9] = [
        "basin",
        "mould",
        "mold",
        "tin",
        "pan",
        "dish",
        "ramekin",
        "springform",
        "bundt",
    ];
    let said = words(sentence(&step.text, fact.span.start));
    said.iter().any(|w| TINS.contains(&w.as_str()))
        && !said
            .iter()
            .any(|w| matches!(w.as_str(), "board" | "surface" | "counter" | "bench"))
}

/// Whether the sentence in which a step dusts names flour: 'a floured board'.
fn names_flour(step: &Step) -> bool {
    let dusts = |f: &&Fact| f.kind == FactKind::Doing(Activity::Dust);
    step.facts.iter().filter(dusts).any(|f| {
        let said = sentence(&step.text, f.span.start);
        said.to_lowercase().contains("flour")
    })
}
