//! The problem in the words of a constraint solver, but of no particular one: whole-number
//! variables, clauses over bounds, sums and shared capacities.

/// The place of a variable in its model.
pub(super) type Var = usize;

/// A variable and what is added to it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Shifted {
    pub var: Var,
    pub plus: i32,
}

impl Shifted {
    /// `self ≥ value`.
    pub(super) const fn at_least(self, value: i32) -> Atom {
        Atom {
            var: self.var,
            least: true,
            value: value - self.plus,
        }
    }

    /// `self ≤ value`.
    pub(super) const fn at_most(self, value: i32) -> Atom {
        Atom {
            var: self.var,
            least: false,
            value: value - self.plus,
        }
    }
}

/// `var ≥ value` or `var ≤ value`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) struct Atom {
    pub var: Var,
    pub least: bool,
    pub value: i32,
}

impl Atom {
    /// The opposite.
    pub(super) const fn not(self) -> Self {
        Self {
            var: self.var,
            least: !self.least,
            value: if self.least {
                self.value - 1
            } else {
                self.value + 1
            },
        }
    }
}

/// What a variable may be: `low ..= high`, and one value beyond.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Domain {
    pub low: i32,
    pub high: i32,
    /// Somewhere after `high`: where an activity lies that is left out.
    pub parked: Option<i32>,
}

/// `Σ weight · var ≤ at_most`, whenever `when` holds of a flag.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Sum {
    pub terms: Vec<(i32, Var)>,
    pub at_most: i32,
    pub when: Option<Atom>,
}

/// Activities of fixed lengths that share a capacity, whenever `when` holds of a flag.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Shared {
    /// Start, length, amount.
    pub tasks: Vec<(Var, i32, i32)>,
    pub capacity: i32,
    pub when: Option<Atom>,
}

/// `of` is the greatest of some variables, or the least.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Extreme {
    pub of: Var,
    pub among: Vec<Shifted>,
    pub least: bool,
}

/// The variables and what binds them.
#[derive(Debug, Clone, Default)]
pub(super) struct Model {
    pub domains: Vec<Domain>,
    pub clauses: Vec<Vec<Atom>>,
    pub sums: Vec<Sum>,
    pub shared: Vec<Shared>,
    pub extremes: Vec<Extreme>,
}

impl Model {
    /// A variable of `low ..= high`.
    pub(super) fn var(&mut self, low: i32, high: i32) -> Var {
        self.domains.push(Domain {
            low,
            high,
            parked: None,
        });
        self.domains.len() - 1
    }

    /// A variable of `low ..= high`, or parked.
    pub(super) fn parking(&mut self, low: i32, high: i32, parked: i32) -> Var {
        self.domains.push(Domain {
            low,
            high,
            parked: Some(parked),
        });
        self.domains.len() - 1
    }

    /// A variable of 0 or 1.
    pub(super) fn flag(&mut self) -> Var {
        self.var(0, 1)
    }

    /// At least one of these.
    pub(super) fn clause(&mut self, atoms: Vec<Atom>) {
        self.clauses.push(atoms);
    }

    /// `to − from ≥ least`, whenever `when` holds of a flag.
    pub(super) fn apart(&mut self, from: Shifted, to: Shifted, least: i32, when: Option<Atom>) {
        let at_most = to.plus - from.plus - least;
        if from.var == to.var {
            // The same variable: true or false whatever it is.
            if at_most < 0 {
                self.clause(when.map(Atom::not).into_iter().collect());
            }
            return;
        }
        self.sums.push(Sum {
            terms: vec![(1, from.var), (-1, to.var)],
            at_most,
            when,
        });
    }
}

/// The flag is 1.
pub(super) const fn is(flag: Var) -> Atom {
    Atom {
        var: flag,
        least: true,
        value: 1,
    }
}

/// The flag is 0.
pub(super) const fn is_not(flag: Var) -> Atom {
    Atom {
        var: flag,
        least: false,
        value: 0,
    }
}
