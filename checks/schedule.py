#!/usr/bin/env python3
"""Makes the instances of checks/schedule_*.json and has their optima proven by CP-SAT of OR-tools.

Run once, by hand; nothing of the product or its tests runs it:

    pip install ortools==9.15.6755
    python3 checks/schedule.py [folder of PSPLIB .sm files]
    python3 checks/schedule.py --prove checks/schedule_together.json

The second proves the instances of a file anew. Those of `schedule_together.json` are days of several
batches as `recipe::plan` puts them, every longest wait, gap and limit with its price.

The model below was written for CP-SAT (interval variables, its own cumulative and no-overlap,
optional intervals) and shares nothing with the one in `numeric::schedule`. The generators use
Python's Mersenne Twister with the seeds written here.

Fields of an instance: `span` [from, to], `span_give` (price of sooner and later, 0: never);
`activities` each with `len` [least, most], and, where it
has them, `start` and `end` [earliest, latest], `give` (price, 0: never; 1 unless said), `needs`
[[resource, amount, state, brings]] (`brings`: it needs no change of state before it), `avoids` [[calendar, whole|start|end]], `optional`; `lags`
[[from, s|e, to, s|e, least, most, give]]; `resources` with `capacity`, `change` (minutes or
table), `taken` [[from, to, amount]], `give`; `calendars` with `closed` and `give`; `choices`
[[activities, least, most]]; `follows` [[when, then]]; `goals` [[[weight, term, ...]]]; and what
CP-SAT proved: `optimum` of each goal given those before it, or `price` of the cheapest way out.
"""

import json
import random
import sys
from pathlib import Path

from ortools.sat.python import cp_model
import ortools

SOLVER = f"OR-tools CP-SAT {ortools.__version__}"
HERE = Path(__file__).parent


def pair(value):
    return value if value is not None else [None, None]


class Model:
    """A problem in CP-SAT; `soft`: rules with a price give way."""

    def __init__(self, p, soft=False):
        self.p, self.m = p, cp_model.CpModel()
        self.soft, self.paid = soft, []
        m = self.m
        low, high = p["span"]
        sooner, later = p.get("span_give", [0, 0])
        wide = 4 * (high - low)
        begin, finish = low - self.slack(sooner, wide), high + self.slack(later, wide)
        if soft:
            low, high = low - wide * bool(sooner), high + wide * bool(later)
        self.low, self.high = low, high
        self.start, self.end, self.there, self.interval = [], [], [], []
        for i, a in enumerate(p["activities"]):
            s = m.NewIntVar(low, high, f"s{i}")
            e = m.NewIntVar(low, high, f"e{i}")
            d = m.NewIntVar(*a["len"], f"d{i}")
            there = m.NewBoolVar(f"p{i}")
            if not a.get("optional"):
                m.Add(there == 1)
            self.start.append(s)
            self.end.append(e)
            self.there.append(there)
            self.interval.append(m.NewOptionalIntervalVar(s, d, e, there, f"i{i}"))
            m.Add(s >= begin).OnlyEnforceIf(there)
            m.Add(e <= finish).OnlyEnforceIf(there)
            for var, window in ((s, a.get("start")), (e, a.get("end"))):
                earliest, latest = pair(window)
                if earliest is not None:
                    m.Add(var + self.slack(a.get("give", 1)) >= earliest).OnlyEnforceIf(there)
                if latest is not None:
                    m.Add(var - self.slack(a.get("give", 1)) <= latest).OnlyEnforceIf(there)
        for f, fe, t, te, least, most, give in p.get("lags", []):
            x = self.start[f] if fe == "s" else self.end[f]
            y = self.start[t] if te == "s" else self.end[t]
            both = [self.there[f], self.there[t]]
            if least is not None:
                m.Add(y - x + self.slack(give) >= least).OnlyEnforceIf(both)
            if most is not None:
                m.Add(y - x - self.slack(give) <= most).OnlyEnforceIf(both)
        for c, calendar in enumerate(p.get("calendars", [])):
            for a, b in calendar["closed"]:
                later = self.slack(calendar["give"], b - a)
                sooner = self.slack(calendar["give"], b - a)
                for i, activity in enumerate(p["activities"]):
                    for cal, kept in activity.get("avoids", []):
                        if cal != c:
                            continue
                        before = m.NewBoolVar("")
                        s, e = self.start[i], self.end[i]
                        out = {"whole": e, "start": s + 1, "end": e}[kept]
                        back = {"whole": s, "start": s, "end": e}[kept]
                        m.Add(out <= a + later).OnlyEnforceIf([before, self.there[i]])
                        m.Add(back >= b - sooner).OnlyEnforceIf([before.Not(), self.there[i]])
        for among, least, most in p.get("choices", []):
            m.Add(sum(self.there[i] for i in among) >= least)
            m.Add(sum(self.there[i] for i in among) <= most)
        for when, then in p.get("follows", []):
            m.AddImplication(self.there[when], self.there[then])
        for r, resource in enumerate(p.get("resources", [])):
            self.resource(r, resource)

    def slack(self, give, most=None):
        if not self.soft or not give:
            return 0
        v = self.m.NewIntVar(0, most if most is not None else 8 * (self.high - self.low), "")
        self.paid.append((give, v))
        return v

    def resource(self, r, resource):
        m, intervals, amounts, states = self.m, [], [], []
        for i, a in enumerate(self.p["activities"]):
            for which, amount, state, *brings in a.get("needs", []):
                if which == r:
                    intervals.append(self.interval[i])
                    amounts.append(amount)
                    if state is not None:
                        states.append((i, state, any(brings)))
        for a, b, amount in resource.get("taken", []):
            intervals.append(m.NewFixedSizeIntervalVar(a, b - a, ""))
            amounts.append(amount)
        capacity = resource["capacity"]
        if intervals:
            more = self.slack(resource.get("give", 0), max(0, sum(amounts) - capacity))
            m.AddCumulative(intervals, amounts, capacity + more)
        change = resource.get("change", 0)
        minutes = lambda a, b: change if isinstance(change, int) else change[a][b]
        for x, (i, a, ours) in enumerate(states):
            for j, b, theirs in states[x + 1 :]:
                if a != b:
                    first = m.NewBoolVar("")
                    both = [self.there[i], self.there[j]]
                    m.Add(self.start[j] >= self.end[i] + (0 if theirs else minutes(a, b))).OnlyEnforceIf(
                        [first, *both]
                    )
                    m.Add(self.start[i] >= self.end[j] + (0 if ours else minutes(b, a))).OnlyEnforceIf(
                        [first.Not(), *both]
                    )

    def term(self, term):
        m = self.m
        kind, rest = term[0], term[1:]
        wide = 4 * (abs(self.low) + abs(self.high))
        if kind == "first_start":
            v = m.NewIntVar(self.low, self.high, "")
            parts = []
            for s, p in zip(self.start, self.there):
                w = m.NewIntVar(self.low, self.high, "")
                m.Add(w == s).OnlyEnforceIf(p)
                m.Add(w == self.high).OnlyEnforceIf(p.Not())
                parts.append(w)
            m.AddMinEquality(v, parts)
            return v
        if kind == "last_end":
            v = m.NewIntVar(self.low, self.high, "")
            parts = []
            for e, p in zip(self.end, self.there):
                w = m.NewIntVar(self.low, self.high, "")
                m.Add(w == e).OnlyEnforceIf(p)
                m.Add(w == self.low).OnlyEnforceIf(p.Not())
                parts.append(w)
            m.AddMaxEquality(v, parts)
            return v
        if kind == "skipped":
            return 1 - self.there[rest[0]]
        if kind in ("start", "end"):
            x = (self.start if kind == "start" else self.end)[rest[0]]
            v = m.NewIntVar(-wide, wide, "")
            m.Add(v == x).OnlyEnforceIf(self.there[rest[0]])
            m.Add(v == 0).OnlyEnforceIf(self.there[rest[0]].Not())
            return v
        i = rest[0]
        if kind == "lag_over":
            f, fe, t, te, *_ = self.p["lags"][i]
            x = self.start[f] if fe == "s" else self.end[f]
            y = self.start[t] if te == "s" else self.end[t]
            by, both = y - x - rest[1], [self.there[f], self.there[t]]
        else:
            s, e, both = self.start[i], self.end[i], [self.there[i]]
            by = {
                "longer_than": e - s - rest[1],
                "shorter_than": rest[1] - (e - s),
                "ends_before": rest[1] - e,
                "ends_after": e - rest[1],
                "starts_before": rest[1] - s,
                "starts_after": s - rest[1],
            }[kind]
        plain = m.NewIntVar(-wide, wide, "")
        m.Add(plain == by).OnlyEnforceIf(both)
        for there in both:
            m.Add(plain == 0).OnlyEnforceIf(there.Not())
        v = m.NewIntVar(0, wide, "")
        m.AddMaxEquality(v, [plain, 0])
        return v

    def solve(self, seconds=300.0):
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 2
        solver.parameters.max_time_in_seconds = seconds
        return solver, solver.Solve(self.m)


def optimum(p):
    """The least of each goal, given those before; None: infeasible."""
    model = Model(p)
    values = []
    for goal in p["goals"]:
        total = sum(w * model.term(t) for w, *t in goal)
        model.m.Minimize(total)
        solver, status = model.solve()
        if status == cp_model.INFEASIBLE:
            return None
        if status != cp_model.OPTIMAL:
            raise SystemExit(f"{p['id']}: not proven")
        value = round(solver.ObjectiveValue())
        values.append(value)
        model.m.Add(total == value)
    return values


def price(p):
    """The least price of giving way; None: what never gives way clashes."""
    model = Model(p, soft=True)
    model.m.Minimize(sum(w * v for w, v in model.paid))
    solver, status = model.solve()
    if status == cp_model.INFEASIBLE:
        return None
    if status != cp_model.OPTIMAL:
        raise SystemExit(f"{p['id']}: not proven")
    return round(solver.ObjectiveValue())


def progen(seed, n, nc, rf, rs, resources=4):
    """As Kolisch, Sprecher and Drexl (1995) describe theirs: network complexity (arcs per
    activity), resource factor (share of resources an activity needs), resource strength (from 0,
    just enough for the greediest activity, to 1, enough for the earliest schedule). Lengths 1-10,
    amounts 1-10. Our own code and numbers, not their program."""
    rng = random.Random(seed)
    length = [rng.randint(1, 10) for _ in range(n)]
    arcs = set()
    for j in range(3, n):
        arcs.add((rng.randrange(max(0, j - 12), j), j))
    for i in range(n - 3):
        if not any(a == i for a, _ in arcs):
            arcs.add((i, rng.randrange(i + 1, min(n, i + 13))))
    tries = 0
    while len(arcs) < nc * n and tries < 10_000:
        tries += 1
        i = rng.randrange(n - 1)
        j = rng.randrange(i + 1, min(n, i + 13))
        reach = closure(n, arcs)
        if (i, j) not in reach:
            arcs.add((i, j))
    need = [[0] * resources for _ in range(n)]
    wanted = round(rf * n * resources)
    cells = [(i, r) for i in range(n) for r in range(resources)]
    rng.shuffle(cells)
    for i, r in cells[:wanted]:
        need[i][r] = rng.randint(1, 10)
    early = [0] * n
    for j in range(n):
        early[j] = max([early[i] + length[i] for i, k in arcs if k == j], default=0)
    horizon = sum(length)
    capacity = []
    for r in range(resources):
        least = max(need[i][r] for i in range(n))
        peak = max(
            sum(need[i][r] for i in range(n) if early[i] <= t < early[i] + length[i])
            for t in range(horizon)
        )
        capacity.append(max(1, least + round(rs * max(0, peak - least))))
    return {
        "id": f"progen-{seed}",
        "made": f"n {n}, NC {nc}, RF {rf}, RS {rs}, seed {seed}",
        "span": [0, horizon],
        "activities": [
            {
                "len": [length[i], length[i]],
                "needs": [[r, need[i][r], None] for r in range(resources) if need[i][r]],
            }
            for i in range(n)
        ],
        "lags": [[i, "e", j, "s", 0, None, 0] for i, j in sorted(arcs)],
        "resources": [{"capacity": c} for c in capacity],
        "goals": [[[1, "last_end"]]],
    }


def closure(n, arcs):
    after = [set() for _ in range(n)]
    for i in reversed(range(n)):
        for a, j in arcs:
            if a == i:
                after[i] |= {j} | after[j]
    return {(i, j) for i in range(n) for j in after[i]}


def with_most(seed, n, **how):
    """The same with start-to-start lags in both directions: RCPSP/max."""
    p = progen(seed, n, **how)
    rng = random.Random(seed + 1)
    length = [a["len"][0] for a in p["activities"]]
    p["id"] = f"max-{seed}"
    p["made"] += ", start-to-start lags, some with a longest"
    lags = []
    for i, _, j, *_ in p["lags"]:
        least = rng.randint(length[i] // 2, length[i] + 4)
        most = least + rng.randint(2, 18) if rng.random() < 0.35 else None
        lags.append([i, "s", j, "s", least, most, 0])
    p["lags"] = lags
    p["span"] = [0, 3 * p["span"][1]]
    return p


def kitchen(seed, recipes=3, steps=6, tight=1.0):
    """Days in a kitchen, made up: chains of hands-on steps and waits, one pair of hands, an oven
    that has one temperature at a time, a mixer, shelves, quiet hours, steps that may be left out,
    one of two ways to prove, waits of variable length."""
    rng = random.Random(seed)
    days = 2
    span = [0, days * 1440]
    acts, lags, choices, follows, goals = [], [], [], [], []
    serve = span[1] - rng.randint(240, 600)
    HANDS, OVEN, MIXER, SHELF = range(4)
    waits, extras = [], []
    five = lambda a, b: 5 * rng.randint(a // 5, b // 5)
    for _ in range(recipes):
        last = None
        for step in range(steps):
            minutes = five(5, 40)
            act = {
                "len": [minutes, minutes],
                "needs": [[HANDS, 1, None]],
                "avoids": [[0, "whole"]],
            }
            if rng.random() < 0.3:
                act["needs"].append([MIXER, 1, None])
            acts.append(act)
            me = len(acts) - 1
            if last is not None:
                least = five(0, 60)
                most = least + five(10, 90) if rng.random() < 0.5 else None
                lags.append([last, "e", me, "s", least, most, 0])
                if most is not None:
                    waits.append((len(lags) - 1, least))
            last = me
            kind = rng.random()
            if kind < 0.25:
                # A cold wait of variable length on a shelf, straight after.
                least = five(120, 480)
                acts.append(
                    {
                        "len": [least, 2 * least],
                        "needs": [[SHELF, rng.randint(1, 2), None]],
                        "avoids": [[0, "end"]],
                    }
                )
                lags.append([last, "e", len(acts) - 1, "s", 0, 10, 0])
                last = len(acts) - 1
            elif kind < 0.5:
                # The oven, at a temperature.
                minutes = five(20, 60)
                acts.append(
                    {
                        "len": [minutes, minutes],
                        "needs": [[OVEN, 1, rng.randint(0, 2)]],
                        "avoids": [[0, rng.choice(["whole", "start"])]],
                    }
                )
                lags.append([last, "e", len(acts) - 1, "s", 0, 15, 0])
                last = len(acts) - 1
            elif kind < 0.65:
                # A step that may be left out, beside the chain.
                minutes = five(10, 30)
                acts.append(
                    {
                        "len": [minutes, minutes],
                        "needs": [[HANDS, 1, None]],
                        "avoids": [[0, "whole"]],
                        "optional": True,
                    }
                )
                extra = len(acts) - 1
                lags.append([last, "e", extra, "s", 0, 120, 0])
                extras.append(extra)
            elif kind < 0.8:
                # One of two ways: short and warm, or long and cold.
                warm, cold = five(40, 80), five(480, 720)
                for minutes, needs in ((warm, []), (cold, [[SHELF, 1, None]])):
                    acts.append(
                        {
                            "len": [minutes, minutes],
                            "needs": needs,
                            "avoids": [[0, "end"]],
                            "optional": True,
                        }
                    )
                    lags.append([last, "e", len(acts) - 1, "s", 0, 10, 0])
                one, two = len(acts) - 2, len(acts) - 1
                choices.append([[one, two], 1, 1])
                acts.append(
                    {"len": [10, 10], "needs": [[HANDS, 1, None]], "avoids": [[0, "whole"]]}
                )
                lags.append([one, "e", len(acts) - 1, "s", 0, 20, 0])
                lags.append([two, "e", len(acts) - 1, "s", 0, 20, 0])
                lags.append([last, "e", len(acts) - 1, "s", warm, None, 0])
                last = len(acts) - 1
        acts[last]["end"] = [None, serve]
        if rng.random() < 0.5:
            acts[last]["end"][0] = serve - rng.choice([60, 180, 360])
    if len(extras) > 1:
        follows.append([extras[0], extras[1]])
    begin = int(serve - tight * rng.randint(900, 1500))
    give = [0, 0]
    if seed % 2:
        span, give = [begin, span[1]], [1, 0]
    else:
        for a in acts:
            a["start"] = [begin, None]
    quiet = [[d * 1440 + 1320, d * 1440 + 1860] for d in range(-1, days)]
    goals.append([[5, "skipped", e] for e in extras] or [[1, "last_end"]])
    goals.append([[-1, "first_start"]])
    goals.append([[1, "lag_over", lag, over] for lag, over in waits] or [[1, "last_end"]])
    return {
        "id": f"kitchen-{seed}",
        "made": f"{recipes} recipes of {steps} stages, tightness {tight}, seed {seed}",
        "span": span,
        "span_give": give,
        "activities": acts,
        "lags": lags,
        "resources": [
            {"capacity": 1, "give": 60},
            {"capacity": 2, "change": [[0, 10, 20], [15, 0, 10], [30, 15, 0]]},
            {"capacity": 1},
            {"capacity": 3, "taken": [[600, 900, 1]]},
        ],
        "calendars": [{"closed": quiet, "give": 1}],
        "choices": choices,
        "follows": follows,
        "goals": goals,
    }


def sm(path):
    """A PSPLIB single-mode file."""
    text = path.read_text().splitlines()
    at = lambda words: next(i for i, l in enumerate(text) if words in l)
    jobs = int(text[at("jobs (incl.")].split(":")[1])
    rows = text[at("PRECEDENCE RELATIONS") + 2 :][:jobs]
    lags = []
    for row in rows:
        job, _, _, *after = map(int, row.split())
        lags += [[job - 1, "e", j - 1, "s", 0, None, 0] for j in after]
    rows = text[at("REQUESTS/DURATIONS") + 3 :][:jobs]
    acts = []
    for row in rows:
        _, _, length, *needs = map(int, row.split())
        needs = [[r, n, None] for r, n in enumerate(needs) if n]
        acts.append({"len": [length, length], "needs": needs})
    capacity = list(map(int, text[at("RESOURCEAVAILABILITIES") + 2].split()))
    return {
        "id": path.stem,
        "made": "PSPLIB, Kolisch and Sprecher 1996",
        "span": [0, sum(a["len"][0] for a in acts)],
        "activities": acts,
        "lags": lags,
        "resources": [{"capacity": c} for c in capacity],
        "goals": [[[1, "last_end"]]],
    }


def write(name, note, instances):
    lines = ",\n".join(json.dumps(i, separators=(",", ":")) for i in instances)
    head = {"made_by": "checks/schedule.py", "solver": SOLVER, "note": note}
    head = json.dumps(head)[1:-1]
    (HERE / name).write_text("{" + head + ', "instances": [\n' + lines + "\n]}\n")
    print(name, len(instances))


def prove(path):
    file = json.loads(Path(path).read_text())
    for p in file["instances"]:
        p["price"] = price(p)
        print(p["id"], p["price"], flush=True)
    write(Path(path).name, file["note"], file["instances"])


def main():
    if sys.argv[1:2] == ["--prove"]:
        return prove(sys.argv[2])
    projects = [sm(f) for d in sys.argv[1:] for f in sorted(Path(d).glob("j30*.sm"))]
    seed = 0
    for nc in (1.5, 1.8, 2.1):
        for rf in (0.25, 0.5, 0.75, 1.0):
            for rs in (0.2, 0.5, 0.7):
                seed += 1
                projects.append(progen(seed, 30, nc, rf, rs))
    for p in projects:
        p["optimum"] = optimum(p)
        print(p["id"], p["made"], p["optimum"], flush=True)
    write("schedule_projects.json", "Projects of 30 activities: least time to the last end.", projects)

    lagged, seed = [], 100
    while len(lagged) < 30:
        seed += 1
        rs = (0.2, 0.3, 0.5)[seed % 3]
        p = with_most(seed, 20, nc=1.8, rf=0.75, rs=rs)
        p["optimum"] = optimum(p)
        if p["optimum"] is not None:
            lagged.append(p)
    write("schedule_lags.json", "Projects of 20 activities with longest lags.", lagged)

    days, impossible, seed = [], [], 500
    while len(days) < 30 or len(impossible) < 30:
        seed += 1
        tight = (1.0, 0.8, 0.5)[seed % 3]
        p = kitchen(seed, recipes=2 + seed % 2, steps=4 + seed % 3, tight=tight)
        p["optimum"] = optimum(p)
        if p["optimum"] is not None:
            if len(days) < 30:
                days.append(p)
            continue
        del p["optimum"]
        p["price"] = price(p)
        if len(impossible) < 30:
            impossible.append(p)
    write("schedule_days.json", "Days in a kitchen, made up; three goals in order.", days)
    write(
        "schedule_impossible.json",
        "Days that cannot be; price null: what never gives way clashes.",
        impossible,
    )


if __name__ == "__main__":
    main()
