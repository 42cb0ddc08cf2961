//! Binders and protein where gums, psyllium or egg are left out.

use crate::LeftOut;
use crate::household::percent;
use crate::rework::balance::Balance;
use crate::rework::engine::Work;
use crate::rework::style::Style;
use larder::FoodId;
use quantity::{Mass, Spread};

/// What one part of psyllium is worth in xanthan.
const PSYLLIUM_IN_XANTHAN: f64 = 0.4;
/// What one part of xanthan is worth in ground flax or chia.
const XANTHAN_IN_FLAX: f64 = 3.0;
/// Gums together at most, percent of the flour phase.
const MOST_GUM: f64 = 2.0;
/// HPMC for a dough that is rolled to a sheet and has no psyllium, percent of the flour phase.
const SHEET_HPMC: f64 = 1.0;
const SOURCE: &str = "rules table, section 12 and R6: common practice, no source";

impl Work<'_> {
    /// Doses what stands in for psyllium: gum, with HPMC where the dough is rolled to a sheet, or
    /// ground flax or chia where gums are left out too. That gums become psyllium is done where
    /// doses are worked out.
    ///
    /// # Inputs
    /// - `flour`: the flour phase, g.
    /// - `psyllium`: what would be dosed, percent of it.
    /// - `gum`: gums that are there or dosed, percent of it.
    ///
    /// # Returns
    /// Whether anything was dosed.
    pub(in crate::rework) fn without_psyllium(
        &mut self,
        style: Style,
        flour: f64,
        psyllium: f64,
        gum: f64,
    ) -> bool {
        if psyllium <= 0.0 {
            return false;
        }
        let xanthan = psyllium * PSYLLIUM_IN_XANTHAN;
        if self.leaves_out(LeftOut::Gum) {
            let seeds = ["flaxseed_ground", "chia_ground"];
            let Some(seed) = seeds.iter().find_map(|k| self.larder.by_key(k)) else {
                return false;
            };
            return self.dose(
                seed,
                flour,
                xanthan * XANTHAN_IN_FLAX,
                "without gums and psyllium: 1 % of xanthan is worth 3 % of ground flax or chia; it holds less gas, so bake a test",
            );
        }
        let room = (MOST_GUM - gum).max(0.0);
        let mut rule = "without psyllium: 1 % of it is worth 0.4 % of xanthan".to_owned();
        if xanthan > room {
            rule.push_str("; gums stay at 2 % or below, and the dough holds less gas");
        }
        let mut made = self
            .larder
            .by_key("xanthan_gum")
            .is_some_and(|x| self.dose(x, flour, xanthan.min(room), &rule));
        let sheet = matches!(style.key(), "laminated" | "pizza_flatbread" | "pasta");
        if let Some(hpmc) = self.larder.by_key("hpmc").filter(|_| sheet) {
            made |= self.dose(
                hpmc,
                flour,
                SHEET_HPMC,
                "a dough rolled to a sheet without psyllium takes 1 % of HPMC",
            );
        }
        made
    }

    fn dose(&mut self, food: FoodId, flour: f64, share: f64, rule: &str) -> bool {
        let more = Mass::grams(flour * share / 100.0);
        if more.as_grams() < 0.3 || !self.add(food, Spread::exact(more), None) {
            return false;
        }
        let to = format!(
            "{} {} ({} of the flour)",
            self.grams(food, more),
            self.larder.food(food).name,
            percent(share)
        );
        self.change("binder", "psyllium".to_owned(), to, None, rule, SOURCE);
        true
    }

    /// Says that the protein stays where it is, where egg white would have lifted it.
    pub(in crate::rework) fn protein_without_egg(&mut self, style: Style, b: &Balance) {
        let Some(range) = style.range("flour_protein") else {
            return;
        };
        if !style.is_yeast_dough() || b.flour_protein >= range.value.low().get() {
            return;
        }
        let now = percent(b.flour_protein);
        self.change(
            "protein",
            now.clone(),
            now,
            Some(format!("{}–{} %", range.value.low().get(), range.value.high().get())),
            "egg white would lift it, and egg is left out: a blend with chickpea flour in place of a tenth of its starch does it without",
            "rules R7.1: common practice, no source",
        );
    }
}
