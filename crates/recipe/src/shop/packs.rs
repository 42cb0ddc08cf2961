//! Which packs to buy: the cheapest whole packs that hold enough.

/// Less than this many grams short is enough: what arithmetic leaves behind, not a weight.
const ENOUGH: f64 = 1e-6;
/// Money nearer than this is the same.
const SAME: f64 = 1e-9;
/// Choices looked at before the best one so far is taken. Packs that shops sell need a few
/// hundred.
const MOST_LOOKS: usize = 200_000;

/// Whole packs to buy.
#[derive(Debug, Clone, PartialEq)]
pub struct Packs {
    /// How many of each pack, in the order the packs were given.
    pub counts: Vec<usize>,
    /// Grams in them together.
    pub grams: f64,
    /// Money for them together.
    pub amount: f64,
    /// No cheaper choice holds enough. Always so but for many packs of nearly one price a gram.
    pub proven: bool,
}

/// The cheapest whole packs that hold at least so many grams: a covering problem in whole
/// numbers, searched in full.
///
/// # Inputs
/// - `need`: grams to have; 0 or less buys nothing.
/// - `packs`: grams and money of each pack that can be bought, any number of times; both above 0
///   and finite.
///
/// # Returns
/// `None` without packs, or where a figure is none. Packs are tried from the cheapest gram up,
/// larger packs first; a branch is left as soon as the money so far and the cheapest gram of what
/// is still to try come to no less than the best choice. Of equally cheap choices the first one
/// found is kept.
///
/// # Source
/// Branch and bound on the linear bound of a knapsack cover. Checked against HiGHS and against
/// every combination in `checks/packs.tsv`.
///
/// # Example
/// ```
/// use recipe::shop::cheapest;
/// // 1.7 kg from bags of 500 g at 1.40 and of 1.5 kg at 3.30.
/// let packs = cheapest(1700.0, &[(500.0, 1.4), (1500.0, 3.3)]).expect("packs");
/// assert_eq!(packs.counts, [1, 1]);
/// assert_eq!(packs.grams, 2000.0);
/// ```
#[must_use]
pub fn cheapest(need: f64, packs: &[(f64, f64)]) -> Option<Packs> {
    let good = |v: f64| v.is_finite() && v > 0.0;
    if packs.is_empty() || !need.is_finite() || !packs.iter().all(|(g, a)| good(*g) && good(*a)) {
        return None;
    }
    let mut order: Vec<usize> = (0..packs.len()).collect();
    order.sort_by(|a, b| {
        let gram = |i: usize| packs[i].1 / packs[i].0;
        gram(*a)
            .total_cmp(&gram(*b))
            .then(packs[*b].0.total_cmp(&packs[*a].0))
    });
    let mut search = Search {
        packs: order.iter().map(|i| packs[*i]).collect(),
        taken: vec![0; packs.len()],
        best: None,
        looks: 0,
    };
    search.from(0, need, 0.0);
    let proven = search.looks <= MOST_LOOKS;
    let (amount, taken) = search.best?;
    let mut counts = vec![0; packs.len()];
    for (place, n) in order.into_iter().zip(taken) {
        counts[place] = n;
    }
    let grams = counts.iter().zip(packs).map(|(n, p)| *n as f64 * p.0).sum();
    Some(Packs {
        counts,
        grams,
        amount,
        proven,
    })
}

struct Search {
    /// Grams and money, the cheapest gram first.
    packs: Vec<(f64, f64)>,
    taken: Vec<usize>,
    best: Option<(f64, Vec<usize>)>,
    looks: usize,
}

impl Search {
    /// Tries all counts of the packs from a place on.
    fn from(&mut self, place: usize, need: f64, spent: f64) {
        self.looks += 1;
        if need <= ENOUGH {
            self.keep(spent);
            return;
        }
        let Some((grams, amount)) = self.packs.get(place).copied() else {
            return;
        };
        let most = ((need - ENOUGH) / grams).ceil() as usize;
        let next = self.packs.get(place + 1).map(|(g, a)| a / g);
        for count in (0..=most).rev() {
            if self.looks > MOST_LOOKS {
                break;
            }
            let left = need - count as f64 * grams;
            let so_far = spent + count as f64 * amount;
            self.taken[place] = count;
            if left <= ENOUGH {
                self.keep(so_far);
                continue;
            }
            // The grams that are left cost at least the next cheapest gram: fewer of this pack
            // only cost more.
            let Some(gram) = next else { break };
            let bound = so_far + left * gram;
            if self.best.as_ref().is_some_and(|b| bound >= b.0 - SAME) {
                break;
            }
            self.from(place + 1, left, so_far);
        }
        self.taken[place] = 0;
    }

    fn keep(&mut self, amount: f64) {
        if self.best.as_ref().is_none_or(|b| amount < b.0 - SAME) {
            self.best = Some((amount, self.taken.clone()));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Every combination up to the count of each pack that covers the need alone.
    fn by_hand(need: f64, packs: &[(f64, f64)]) -> f64 {
        fn all(need: f64, packs: &[(f64, f64)], spent: f64, best: &mut f64) {
            if need <= 0.0 {
                *best = best.min(spent);
                return;
            }
            let Some(((g, a), rest)) = packs.split_first() else {
                return;
            };
            for n in 0..=((need / g).ceil() as usize) {
                all(need - n as f64 * g, rest, spent + n as f64 * a, best);
            }
        }
        let mut best = f64::INFINITY;
        all(need, packs, 0.0, &mut best);
        best
    }

    #[test]
    fn agrees_with_another_solver() {
        let mut rows = 0;
        for line in include_str!("../../../../checks/packs.tsv").lines() {
            if line.starts_with('#') || line.starts_with("id\t") {
                continue;
            }
            let cells: Vec<&str> = line.split('\t').collect();
            let need: f64 = cells[1].parse().expect("grams");
            let packs: Vec<(f64, f64)> = cells[2]
                .split(' ')
                .map(|p| {
                    let (g, a) = p.split_once('@').expect("grams@money");
                    (g.parse().expect("grams"), a.parse().expect("money"))
                })
                .collect();
            let want: f64 = cells[3].parse().expect("money");
            let got = cheapest(need, &packs).expect("packs");
            assert!(got.proven, "{line}");
            assert!((got.amount - want).abs() < 1e-6, "{line}: {got:?}");
            assert!(got.grams >= need - 1e-6, "{line}: {got:?}");
            rows += 1;
        }
        assert!(rows >= 40, "{rows}");
    }

    #[test]
    fn nothing_to_buy_and_nothing_to_buy_it_in() {
        let none = cheapest(0.0, &[(500.0, 1.0)]).expect("no packs");
        assert_eq!((none.counts[0], none.amount), (0, 0.0));
        assert_eq!(cheapest(-20.0, &[(500.0, 1.0)]).expect("none").counts, [0]);
        assert_eq!(cheapest(10.0, &[]), None);
        assert_eq!(cheapest(f64::NAN, &[(500.0, 1.0)]), None);
        assert_eq!(cheapest(10.0, &[(0.0, 1.0)]), None);
    }

    #[test]
    fn a_hair_over_a_pack_is_one_pack() {
        let need = 0.1 + 0.2 + 499.7;
        assert_eq!(cheapest(need, &[(500.0, 1.0)]).expect("one").counts, [1]);
    }

    #[test]
    fn many_sachets_of_nearly_one_price_end_soon() {
        let packs = [
            (7.0, 0.7),
            (8.0, 0.8001),
            (9.0, 0.9),
            (11.0, 1.1001),
            (13.0, 1.3),
        ];
        let got = cheapest(20_000.3, &packs).expect("packs");
        assert!(got.grams >= 20_000.3);
        assert!(got.amount <= 2_000.03 + 1.3, "{got:?}");
    }

    proptest! {
        #[test]
        fn no_combination_is_cheaper(
            need in 1.0..3_000.0f64,
            packs in prop::collection::vec((100.0..1_500.0f64, 0.2..9.0f64), 1..4),
        ) {
            let got = cheapest(need, &packs).expect("packs");
            let want = by_hand(need, &packs);
            prop_assert!(got.proven);
            prop_assert!((got.amount - want).abs() < 1e-6, "{got:?} {want}");
            prop_assert!(got.grams >= need - 1e-6);
            // One pack fewer of any kind is not enough, or it would have been cheaper.
            for (n, p) in got.counts.iter().zip(&packs) {
                prop_assert!(*n == 0 || got.grams - p.0 < need);
            }
        }
    }
}
