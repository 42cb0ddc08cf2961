//! How much dough there is in a pan where none is typed.

use super::super::Advice;
use super::super::given::Given;
use super::super::notes::HeatField;
use super::super::pan::{Outline, Pan};
use super::super::typed::grams;
use super::{Figures, Origin, grams_words};
use crate::shape::Dough;
use crate::size::{pan, times};
use quantity::{Mass, Spread};

impl Figures<'_> {
    /// That what the recipe makes does not go into its pan as its measures have it.
    #[must_use]
    pub fn too_much(&self) -> Option<Advice> {
        let g = self
            .given
            .filter(|g| g.once_unweighed == 0 && g.rest_in.is_none())?;
        let pan = self.pan(HeatField::KnownPan).ok()??;
        let each = self.each_once(g);
        let holds = pan.holds?.likely().as_millilitres();
        if each.as_grams() / holds <= FITS.1 {
            return None;
        }
        let whose = g
            .pan_assumed
            .as_ref()
            .map_or(String::new(), |a| format!(", and {a}"));
        Some(Advice::new(
            format!(
                "The recipe makes {} for one {}, which holds {holds:.0} mL to the rim{whose}: measure how deep yours is and type it with it",
                grams_words(each),
                pan.read
            ),
            "follows from the recipe",
        ))
    }

    /// The dough of the bake to come where none is typed: as much as in the known bake, or in a pan that is
    /// typed what a batch of another size makes. Where so much does not go into the new pan, as much as fills
    /// it as far. Nothing for a piece without a pan, whose size says its weight.
    pub(super) fn kept_dough(&self) -> Option<(String, Origin, Option<String>)> {
        if let Some((pan, count)) = self.sized() {
            let g = self.given.filter(|g| g.unweighed == 0)?;
            let each = g.makes * (1.0 / f64::from(*count));
            let why = match count {
                1 => OF_THE_BATCH.to_owned(),
                n => format!("{OF_THE_BATCH}, in each of {n} {}", pan.are()),
            };
            let fits = !self.overfull(pan, each);
            return fits.then(|| (grams_words(each), Origin::Worked, Some(why)));
        }
        let known = self.value(HeatField::KnownDough);
        let known_pan = self.pan(HeatField::KnownPan).ok()?;
        let typed = self.notes.contains_key(HeatField::Pan.key());
        let new = self.pan(HeatField::Pan).ok()?.filter(|_| typed);
        let Some(new) = new else {
            let known = known?;
            let whole = self.resized().map(|g| {
                let (times, all) = (times(g.times), grams_words(g.makes));
                format!("as in the known bake: the batch at ×{times} makes {all} in all")
            });
            return Some((known.words, Origin::Known, whole));
        };
        if matches!(new.outline, Outline::Free { .. }) {
            return None;
        }
        let count = self.typed_pans(HeatField::Pan);
        let resized = self.resized();
        let (each, why) = match (&resized, &known) {
            (Some(g), _) => {
                // One pan that is typed is each of as many as the size has, else the recipe.
                let as_sized = g.sized.as_ref().map_or(g.pans, |s| s.1);
                let pans = if count > 1 { count } else { as_sized };
                let each = g.makes * (1.0 / f64::from(pans));
                let whose = format!("for the batch at ×{}", times(g.times));
                let why = match pans {
                    1 => whose,
                    n => format!("{whose}, in each of {n} {}", new.are()),
                };
                (each, Some(why))
            }
            (None, Some(known)) => {
                let each = grams(&known.words).ok()?;
                // From so many pans to one goes all that was in them.
                if count > 1 || self.typed_pans(HeatField::KnownPan) > 1 {
                    let all = each * f64::from(self.known_pans());
                    let why = match count {
                        1 => format!("what goes into {} known pans", self.known_pans()),
                        n => format!("{} over {n} pans", grams_words(all)),
                    };
                    (all * (1.0 / f64::from(count)), Some(why))
                } else {
                    (each, None)
                }
            }
            (None, None) => return None,
        };
        if (count == 1 || resized.is_some()) && self.overfull(&new, each) {
            let known = grams(&known?.words).ok()?;
            let as_full = known * (new.volume() / known_pan?.volume());
            let whose = resized.map_or(String::new(), |g| {
                format!(" of the batch at ×{}", times(g.times))
            });
            let why = format!(
                "as full as the known pan, since {}{whose} do not go into this one",
                grams_words(each)
            );
            return Some((grams_words(as_full), Origin::Worked, Some(why)));
        }
        Some(match why {
            Some(why) => (grams_words(each), Origin::Worked, Some(why)),
            None => (known?.words, Origin::Known, None),
        })
    }

    /// What goes into the new pan, as it is fitted into it: as doubtful in weight as the recipe's, where none is
    /// typed.
    pub(super) fn body(&self, dough: Option<Mass>) -> Dough {
        let typed = self.notes.contains_key(HeatField::PanDough.key());
        let given = self.given.filter(|_| self.style.is_none());
        let doubt = given.and_then(|g| g.body.grams).filter(|_| !typed);
        let grams = dough.map(|d| match doubt {
            Some(all) => all.scaled(d.as_grams() / all.likely().as_grams()),
            None => Spread::exact(d),
        });
        match given {
            Some(g) => Dough {
                grams,
                ..g.body.clone()
            },
            None => Dough::of_style(self.style, grams),
        }
    }

    /// Whether so much does not go into a pan: more than fills it as far as the known one is.
    fn overfull(&self, pan: &Pan, dough: Mass) -> bool {
        let known_pan = self.pan(HeatField::KnownPan).ok().flatten();
        let known = self.value(HeatField::KnownDough);
        let known = known.and_then(|k| grams(&k.words).ok());
        pan.overfull(
            dough,
            self.body(None).density,
            known.zip(known_pan.as_ref()),
        )
    }

    /// What the recipe says, where the batch makes another amount of it than once the recipe, all of it is
    /// weighed, and it is not shared over hollows, of which there are more then.
    fn resized(&self) -> Option<&Given> {
        let other = |g: &&Given| (g.times - 1.0).abs() > SAME_SIZE;
        let hollows = |g: &Given| g.pan.as_ref().is_some_and(|p| p.are() == "hollows");
        let given = self.given.filter(|g| g.unweighed == 0 && !hollows(g));
        given.filter(other)
    }

    /// The pan of the batch's size, and how many, where no other is typed; but where it is the recipe's own and
    /// no bake in it is typed, since the recipe's time holds then.
    pub(super) fn sized(&self) -> Option<&(Pan, u32)> {
        let sized = self.given?.sized.as_ref()?;
        let known = self.pan(HeatField::KnownPan).ok().flatten();
        let typed = self.notes.contains_key(HeatField::Pan.key());
        let own_bake = self.notes.contains_key(HeatField::KnownPan.key());
        (!typed && (own_bake || known.is_none_or(|k| k.typed != sized.0.typed))).then_some(sized)
    }

    /// So many pans are typed for a field; 1 where it has no count.
    fn typed_pans(&self, field: HeatField) -> u32 {
        let words = self.notes.get(field.key()).map_or("", String::as_str);
        pan::counted(words, self.pans).map_or(1, |c| c.0)
    }

    /// So many pans the known bake is in: as many as are typed, else as the method names.
    pub(super) fn known_pans(&self) -> u32 {
        match self.typed_pans(HeatField::KnownPan) {
            1 => self.given.map_or(1, |g| g.pans),
            typed => typed,
        }
    }

    /// What goes into one of the pans of the known bake.
    fn each_once(&self, g: &Given) -> Mass {
        g.once * (1.0 / f64::from(self.known_pans()))
    }

    /// Whether the recipe's own bake is a thin one in its tin: no other tin or dough is typed for it.
    pub(super) fn is_thin(&self, g: &Given) -> bool {
        let typed = [HeatField::KnownPan, HeatField::KnownDough];
        let typed = typed.iter().any(|f| self.notes.contains_key(f.key()));
        let known = g.pan.as_ref().filter(|_| !typed);
        known.is_some_and(|pan| {
            let ml = self.each_once(g).as_grams() / self.body(None).density.likely().get();
            ml > 0.0 && ml * 1e-6 / pan.area() < THIN
        })
    }

    /// The recipe's dough, where all of it goes into its one pan.
    pub(super) fn fitting(&self, g: &Given) -> Option<Mass> {
        let pan = self.pan(HeatField::KnownPan).ok()??;
        if matches!(pan.outline, Outline::Free { .. }) || g.rest_in.is_some() {
            return None;
        }
        let each = self.each_once(g);
        let full = each.as_grams() * 1e-6 / pan.volume();
        let least = if pan::is_flat(&pan.read) {
            FITS.0
        } else {
            LEAST_IN_A_TIN
        };
        (least..=FITS.1).contains(&full).then_some(each)
    }
}

/// What the weights of a batch rest on.
pub(super) const OF_THE_BATCH: &str = "what this batch weighs";

/// What the weight in the recipe's own pan rests on.
pub(super) fn made_once(g: &Given, pans: u32) -> String {
    match pans {
        1 => "what the recipe makes".to_owned(),
        n => format!(
            "what the recipe makes, in each of {n} {}",
            g.pan.as_ref().map_or("pans", Pan::are)
        ),
    }
}

/// Batches within this of once the recipe are of its size.
const SAME_SIZE: f64 = 0.005;
/// A batch between these shares of its pan's volume, 1 g to 1 mL, is in one pan; what is less on a sheet lies there in
/// pieces.
const FITS: (f64, f64) = (0.25, 1.0);
/// Thinner than this, in m, fingers and biscuits in a tin are crisp right through (our own judgement, no source).
const THIN: f64 = 0.015;
/// The same of a tin: bars and fingers are pressed into it a finger thick.
const LEAST_IN_A_TIN: f64 = 0.05;
