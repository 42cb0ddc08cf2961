//! The ways to scoop an amount of one unit: for every whole number and usual fraction that a cookbook
//! says, the fewest scoops of it. They depend on the fractions in the drawer alone, not on what a
//! scoop holds, so they are made once.

use super::{MOST_SCOOPS, fraction};
use std::sync::OnceLock;

/// Parts of a unit: halves, thirds, quarters and eighths are whole in them.
pub(super) const PARTS: u32 = 24;

/// What the scoops of a unit are fractions with the numerator 1 of, largest first.
pub(super) const UNDERS: [u8; 5] = [1, 2, 3, 4, 8];

/// The fewest scoops that make an amount of one unit.
#[derive(Debug, Clone, Copy)]
pub(super) struct Way {
    /// The amount in parts of the unit.
    pub(super) parts: u32,
    /// How many of each of [`UNDERS`].
    pub(super) counts: [u8; UNDERS.len()],
    pub(super) scoops: u32,
    pub(super) kinds: usize,
    /// The smallest scoop used, by its place in [`UNDERS`].
    pub(super) smallest: usize,
}

impl Way {
    fn new(counts: [u8; UNDERS.len()]) -> Self {
        let with = || counts.iter().zip(UNDERS).filter(|(n, _)| **n > 0);
        Self {
            parts: with()
                .map(|(n, u)| u32::from(*n) * PARTS / u32::from(u))
                .sum(),
            counts,
            scoops: with().map(|(n, _)| u32::from(*n)).sum(),
            kinds: with().count(),
            smallest: counts.iter().rposition(|n| *n > 0).unwrap_or(0),
        }
    }
    /// Whether an eighth is among the scoops.
    pub(super) fn has_eighth(&self) -> bool {
        self.counts[UNDERS.len() - 1] > 0
    }
    /// Whether a cookbook would say it: a whole number or one with a usual fraction, and an eighth by
    /// itself or beside one other fraction.
    fn is_said(&self) -> bool {
        if self.has_eighth() {
            return self.kinds == self.scoops as usize && self.kinds <= 2 && self.counts[0] == 0;
        }
        fraction(self.parts).is_some()
    }
    fn rank(&self) -> (u32, usize, usize) {
        (self.scoops, self.kinds, self.smallest)
    }
}

/// The ways of a unit whose scoops have these of [`UNDERS`] (bit 0 the first), smallest amount first.
pub(super) fn ways(drawer: u8) -> &'static [Way] {
    static ALL: OnceLock<Vec<Vec<Way>>> = OnceLock::new();
    let all = ALL.get_or_init(|| (0..1 << UNDERS.len()).map(of_drawer).collect());
    &all[usize::from(drawer)]
}

fn of_drawer(drawer: u8) -> Vec<Way> {
    let mut all = Vec::new();
    take(drawer, 0, MOST_SCOOPS, &mut [0; UNDERS.len()], &mut all);
    all.retain(Way::is_said);
    all.sort_by_key(|w| (w.parts, w.rank()));
    all.dedup_by_key(|w| w.parts);
    all
}

/// Every handful of at most `left` more scoops from the place `from` on.
fn take(drawer: u8, from: usize, left: u32, counts: &mut [u8; UNDERS.len()], all: &mut Vec<Way>) {
    if left == 0 {
        return;
    }
    for i in (from..UNDERS.len()).filter(|i| drawer & 1 << i != 0) {
        counts[i] += 1;
        all.push(Way::new(*counts));
        take(drawer, i, left - 1, counts, all);
        counts[i] -= 1;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: of a half and a quarter cup, five scoops say up to 2½ cups, in quarters; ¾ is one of each,
    /// 1¼ two halves and a quarter.
    #[test]
    fn each_amount_takes_the_fewest_scoops() {
        let all = ways(0b01010);
        let said: Vec<(u32, u32)> = all.iter().map(|w| (w.parts, w.scoops)).collect();
        let fewest = [1, 1, 2, 2, 3, 3, 4, 4, 5, 5];
        let want: Vec<_> = (1..).map(|n| 6 * n).zip(fewest).collect();
        assert_eq!(said, want);
        assert_eq!(all[4].counts, [0, 2, 0, 1, 0]);
    }

    /// No half with a third, no eighth with a whole or twice.
    #[test]
    fn what_no_cookbook_says_is_no_way() {
        let parts = |drawer| ways(drawer).iter().map(|w| w.parts).collect::<Vec<_>>();
        assert!(!parts(0b00110).contains(&20));
        assert!(parts(0b00110).contains(&16));
        let eighths = [3, 6, 9, 12, 15, 18];
        assert!(parts(0b11011).starts_with(&eighths), "{:?}", parts(0b11011));
        assert!(!parts(0b11011).contains(&27));
        assert!(parts(0).is_empty());
    }
}
