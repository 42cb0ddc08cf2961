//! The model put to the solver, and questions to it. The only file that knows which solver it is.

use super::model::{Atom, Model, Var};
use pumpkin_conflict_resolvers::resolvers::ResolutionResolver;
use pumpkin_constraints as constraints;
use pumpkin_core::Solver;
use pumpkin_core::branching::branchers::autonomous_search::AutonomousSearch;
use pumpkin_core::branching::{Brancher, BrancherEvent, SelectionContext};
use pumpkin_core::options::SolverOptions;
use pumpkin_core::predicate;
use pumpkin_core::predicates::Predicate;
use pumpkin_core::results::{
    ProblemSolution, SatisfactionResultUnderAssumptions, SolutionReference,
};
use pumpkin_core::statistics::StatisticLogger;
use pumpkin_core::termination::TerminationCondition;
use pumpkin_core::variables::{AffineView, DomainId, Literal, TransformableVariable};
use std::cell::Cell;
use std::rc::Rc;

/// Room set aside for learned clauses to begin with, MB; it grows.
const ROOM: usize = 2;

/// Which way time is gone through where nothing better is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Way {
    /// What may start first goes first, as early as it can.
    Forward,
    /// What may start last goes last, as late as it can.
    Backward,
}

/// What is decided first, while nothing has been learned.
#[derive(Debug, Clone)]
pub(super) struct Order {
    /// Set to these first, one after the other.
    pub first: Vec<Atom>,
    /// Then the times, by the way.
    pub times: Vec<Var>,
    pub way: Way,
    /// Then these, where they are still open; the rest are set to the least they can be.
    pub last: Vec<Atom>,
}

/// An answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Answer {
    /// A value for every variable.
    Yes(Vec<i32>),
    /// There is none, proven.
    No,
    /// The steps ran out.
    Unknown,
}

/// Steps taken, and how many there may be.
#[derive(Debug)]
pub(super) struct Meter {
    pub taken: u64,
    pub until: u64,
    /// Whether the step before was a decision: see [`Watched`].
    decided: Rc<Cell<bool>>,
}

impl TerminationCondition for Meter {
    fn should_stop(&mut self) -> bool {
        let decided = self.decided.replace(false);
        if decided && self.taken >= self.until {
            return true;
        }
        self.taken += 1;
        false
    }
}

/// Tells the meter of every decision. The solver cannot be asked anything more once it was stopped
/// with no decision standing (pumpkin-core 0.5 stays in its timed-out state at the root), so it is
/// stopped right after one.
#[derive(Debug)]
struct Watched<B> {
    inner: B,
    decided: Rc<Cell<bool>>,
}

impl<B: Brancher> Brancher for Watched<B> {
    fn next_decision(&mut self, context: &mut SelectionContext) -> Option<Predicate> {
        let decision = self.inner.next_decision(context);
        self.decided.set(decision.is_some());
        decision
    }

    fn log_statistics(&self, logger: StatisticLogger) {
        self.inner.log_statistics(logger);
    }

    fn on_conflict(&mut self) {
        self.inner.on_conflict();
    }

    fn on_backtrack(&mut self) {
        self.inner.on_backtrack();
    }

    fn on_solution(&mut self, solution: SolutionReference) {
        self.inner.on_solution(solution);
    }

    fn on_unassign_integer(&mut self, variable: DomainId, value: i32) {
        self.inner.on_unassign_integer(variable, value);
    }

    fn on_appearance_in_conflict_predicate(&mut self, predicate: Predicate) {
        self.inner.on_appearance_in_conflict_predicate(predicate);
    }

    fn on_restart(&mut self) {
        self.inner.on_restart();
    }

    fn synchronise(&mut self, context: &mut SelectionContext) {
        self.inner.synchronise(context);
    }

    fn is_restart_pointless(&mut self) -> bool {
        self.inner.is_restart_pointless()
    }

    fn subscribe_to_events(&self) -> Vec<BrancherEvent> {
        self.inner.subscribe_to_events()
    }
}

/// A model put to the solver.
pub(super) struct Engine {
    solver: Solver,
    vars: Vec<DomainId>,
    brancher: Watched<AutonomousSearch<InOrder>>,
    resolver: ResolutionResolver,
    /// How many steps were taken over all questions.
    pub meter: Meter,
}

impl Engine {
    /// Puts a model to the solver.
    pub(super) fn new(model: &Model, order: &Order, steps: u64) -> Self {
        let mut solver = Solver::with_options(SolverOptions {
            memory_preallocated: ROOM,
            ..SolverOptions::default()
        });
        let vars: Vec<DomainId> = model
            .domains
            .iter()
            .map(|d| solver.new_bounded_integer(d.low, d.parked.unwrap_or(d.high)))
            .collect();
        let decided = Rc::new(Cell::new(false));
        let inner = AutonomousSearch::new(InOrder {
            first: order
                .first
                .iter()
                .map(|a| predicate_of(&vars, *a))
                .collect(),
            times: order.times.iter().map(|v| vars[*v]).collect(),
            way: order.way,
            last: order.last.iter().map(|a| predicate_of(&vars, *a)).collect(),
            rest: vars.clone(),
        });
        let mut engine = Self {
            solver,
            vars,
            brancher: Watched {
                inner,
                decided: Rc::clone(&decided),
            },
            resolver: ResolutionResolver::default(),
            meter: Meter {
                taken: 0,
                until: steps,
                decided,
            },
        };
        engine.post(model);
        engine
    }

    fn post(&mut self, model: &Model) {
        let tag = self.solver.new_constraint_tag();
        for (at, domain) in model.domains.iter().enumerate() {
            if let Some(parked) = domain.parked
                && parked > domain.high + 1
            {
                let v = self.vars[at];
                self.solver
                    .add_clause([predicate![v <= domain.high], predicate![v >= parked]], tag);
            }
        }
        for clause in &model.clauses {
            if self.dead() {
                return;
            }
            let atoms: Vec<Predicate> = clause.iter().map(|a| self.predicate(*a)).collect();
            self.solver.add_clause(atoms, tag);
        }
        for sum in &model.sums {
            if self.dead() {
                return;
            }
            if sum.terms.is_empty() && sum.at_most >= 0 {
                // Nothing to add up, which is never too much: the solver takes no such sum.
                continue;
            }
            let tag = self.solver.new_constraint_tag();
            if sum.terms.is_empty() {
                if sum.at_most < 0 {
                    let never = sum.when.map(|flag| self.predicate(flag.not()));
                    self.solver.add_clause(never, tag);
                }
                continue;
            }
            let terms: Vec<AffineView<DomainId>> = sum
                .terms
                .iter()
                .map(|(weight, v)| self.vars[*v].scaled(*weight))
                .collect();
            let posted = constraints::less_than_or_equals(terms, sum.at_most, tag);
            let poster = self.solver.add_constraint(posted);
            match sum.when {
                Some(flag) => poster.implied_by(literal(&self.vars, flag)),
                None => poster.post(),
            }
        }
        for shared in &model.shared {
            if self.dead() {
                return;
            }
            let tag = self.solver.new_constraint_tag();
            let starts: Vec<DomainId> = shared.tasks.iter().map(|t| self.vars[t.0]).collect();
            let posted = constraints::cumulative(
                starts,
                shared.tasks.iter().map(|t| t.1).collect::<Vec<i32>>(),
                shared.tasks.iter().map(|t| t.2).collect::<Vec<i32>>(),
                shared.capacity,
                tag,
            );
            let poster = self.solver.add_constraint(posted);
            match shared.when {
                Some(flag) => poster.implied_by(literal(&self.vars, flag)),
                None => poster.post(),
            }
        }
        for extreme in &model.extremes {
            if self.dead() {
                return;
            }
            let tag = self.solver.new_constraint_tag();
            let among: Vec<AffineView<DomainId>> = extreme
                .among
                .iter()
                .map(|s| self.vars[s.var].scaled(1).offset(s.plus))
                .collect();
            let of = self.vars[extreme.of].scaled(1);
            if extreme.least {
                let posted = constraints::minimum(among, of, tag);
                self.solver.add_constraint(posted).post();
            } else {
                let posted = constraints::maximum(among, of, tag);
                self.solver.add_constraint(posted).post();
            }
        }
    }

    /// Whether it is already clear that there is no answer.
    pub(super) fn dead(&self) -> bool {
        self.solver.is_inconsistent()
    }

    /// The least a variable can be for all that is known without searching.
    pub(super) fn low(&self, var: Var) -> i32 {
        self.solver.lower_bound(&self.vars[var])
    }

    /// The most a variable can be for all that is known without searching.
    pub(super) fn high(&self, var: Var) -> i32 {
        self.solver.upper_bound(&self.vars[var])
    }

    /// From now on, this holds.
    pub(super) fn always(&mut self, atom: Atom) {
        if !self.dead() {
            let tag = self.solver.new_constraint_tag();
            let atom = self.predicate(atom);
            self.solver.add_clause([atom], tag);
        }
    }

    /// A value for every variable while these hold.
    pub(super) fn ask(&mut self, holding: &[Atom]) -> Answer {
        if self.dead() {
            return Answer::No;
        }
        if self.meter.taken >= self.meter.until {
            return Answer::Unknown;
        }
        let holding: Vec<Predicate> = holding.iter().map(|a| self.predicate(*a)).collect();
        let answer = self.solver.satisfy_under_assumptions(
            &mut self.brancher,
            &mut self.meter,
            &mut self.resolver,
            &holding,
        );
        match answer {
            SatisfactionResultUnderAssumptions::Satisfiable(found) => {
                let solution = found.solution();
                Answer::Yes(
                    self.vars
                        .iter()
                        .map(|v| solution.get_integer_value(*v))
                        .collect(),
                )
            }
            SatisfactionResultUnderAssumptions::UnsatisfiableUnderAssumptions(_)
            | SatisfactionResultUnderAssumptions::Unsatisfiable(_) => Answer::No,
            SatisfactionResultUnderAssumptions::Unknown(_) => Answer::Unknown,
        }
    }

    fn predicate(&self, atom: Atom) -> Predicate {
        predicate_of(&self.vars, atom)
    }
}

fn predicate_of(vars: &[DomainId], atom: Atom) -> Predicate {
    let v = vars[atom.var];
    if atom.least {
        predicate![v >= atom.value]
    } else {
        predicate![v <= atom.value]
    }
}

/// A flag, or its opposite, as the solver's literal.
fn literal(vars: &[DomainId], flag: Atom) -> Literal {
    let positive = Literal::new(vars[flag.var]);
    if flag.least { positive } else { !positive }
}

/// Decides in a fixed order of preference where the learned one has nothing to say.
#[derive(Debug)]
struct InOrder {
    first: Vec<Predicate>,
    times: Vec<DomainId>,
    way: Way,
    last: Vec<Predicate>,
    rest: Vec<DomainId>,
}

impl Brancher for InOrder {
    fn next_decision(&mut self, context: &mut SelectionContext) -> Option<Predicate> {
        let open = |wanted: &[Predicate]| {
            let mut wanted = wanted.iter();
            wanted
                .find(|p| !context.is_predicate_assigned(**p))
                .copied()
        };
        if let Some(p) = open(&self.first) {
            return Some(p);
        }
        let unset = self.times.iter().filter(|v| !context.is_integer_fixed(**v));
        let chosen = match self.way {
            Way::Forward => unset
                .min_by_key(|v| (context.lower_bound(**v), context.upper_bound(**v)))
                .map(|v| predicate![v <= context.lower_bound(*v)]),
            Way::Backward => unset
                .max_by_key(|v| (context.upper_bound(**v), context.lower_bound(**v)))
                .map(|v| predicate![v >= context.upper_bound(*v)]),
        };
        chosen.or_else(|| open(&self.last)).or_else(|| {
            self.rest
                .iter()
                .find(|v| !context.is_integer_fixed(**v))
                .map(|v| predicate![v <= context.lower_bound(*v)])
        })
    }

    fn on_solution(&mut self, _: SolutionReference) {}

    fn is_restart_pointless(&mut self) -> bool {
        false
    }

    fn subscribe_to_events(&self) -> Vec<BrancherEvent> {
        Vec::new()
    }
}
