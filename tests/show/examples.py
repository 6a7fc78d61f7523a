"""Results as a check might give them, for the tests of how they are shown."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from blendwise.answers.answer import Range
from blendwise.answers.assign.result import AssignResult, Conflict, Pour, Premix, Tight
from blendwise.answers.check.result import CheckResult, Fact, PortionGrams, UnusedAcceptance
from blendwise.answers.levers.result import Lever
from blendwise.facts.assumed import assumed
from blendwise.facts.columns import Missing
from blendwise.judge.findings.finding import Finding, Where
from blendwise.records.place import Spot

BROWNS = Finding(
    rule="browning-shows-in-light",
    level="conflict",
    status="broken",
    looks_at="portion",
    subject=("milk",),
    measure="browning band",
    value="tan",
    relation="at most",
    limit="ivory",
    unit="",
    because="Vanillin and its kin brown for weeks after the pour, and a light portion shows it.",
    try_="Move the browning scent to a darker portion.",
    basis="common practice",
    evidence="supplier",
    limit_measure="planned band",
    where=Where(Spot("plans/column.yaml", 12), Spot("rules/browning.yaml", 3)),
)
OVER_LIMIT = replace(
    BROWNS,
    rule="limit-in-bar",
    level="stop",
    looks_at="batch",
    subject=("batch",),
    measure="scent in the bar",
    value=0.0500004,
    relation="at most",
    limit=0.05,
    unit="% of finished bar",
    limit_measure="",
    because="The certificate says so",
    try_="Lower the load",
    basis="certificate",
    evidence="",
)
VANILLIN = Missing("vetiver", "vanillin")
WAITS = replace(BROWNS, status="undecided", value=None, low="ivory", high=None, missing=(VANILLIN,))
WAITS_TOO = replace(WAITS, rule="ring", level="caution", subject=("sage",))
ACCEPTED = replace(BROWNS, status="accepted", accepted_because="I want them to melt together.")

CHECK = CheckResult(
    plan="column",
    file="plans/column.yaml",
    purpose="sale",
    today=date(2026, 3, 14),
    findings=(BROWNS, OVER_LIMIT, WAITS, WAITS_TOO, ACCEPTED),
    grams=(
        PortionGrams("milk", 385.0, 548.24, {"tonka": 0.0, "lime": 13.475}),
        PortionGrams("sage", 275.0, 391.6, {"tonka": 11.0, "lime": 2.5}),
        PortionGrams("soil", 165.0, 234.96, {}),
    ),
    rules=41,
    rules_off=1,
    assumptions=(assumed("spread evenly", scents=("vetiver",), portions=("sage", "soil")),),
    unused_acceptances=(
        UnusedAcceptance("contrast-thin", "sage and brick", "Nothing broken.", Spot("plans/column.yaml", 30)),
    ),
    working=(
        Fact("portion", "milk", "scent dose", 0.035, 0.035, "% of portion oils", evidence="own cup"),
        Fact("scent", "vetiver", "vanillin", None, None, "% of the scent", missing=(VANILLIN,)),
        Fact("batch", "batch", "minutes fluid", 18.0, float("inf"), "min"),
    ),
)
CLEAN = replace(CHECK, findings=(replace(BROWNS, level="hint"),), unused_acceptances=())

ASSIGN = AssignResult(
    plan="column",
    file="plans/column.yaml",
    status="proven",
    scale_step=0.5,
    scale_step_stated=False,
    premixes=(Premix("premix 1", {"tonka": 11.0, "vetiver": 5.5}, 0.045),),
    portions=(
        Pour("sage", {"premix 1": 16.5}, {"tonka": 11.0, "vetiver": 5.5}, 0.06, 2, Range(18.0, 22.5), 3.25),
        Pour("milk", {}, {}, 0.0, 1),
    ),
    tight=(Tight("sage", "rate-guard", "sage", 2.0, "g more"),),
    runner_up=(Pour("sage", {}, {"tonka": 11.0}, 0.04),),
    runner_up_costs="One weighing more.",
    seconds=0.01,
    check=CLEAN,
)
NOTHING = AssignResult(
    plan="column",
    file="plans/column.yaml",
    status="nothing fits",
    scale_step=1.0,
    scale_step_stated=True,
    conflicts=(
        Conflict("rule", "browning-shows-in-light", "milk", Spot("rules/browning.yaml", 3)),
        Conflict("plan", "only", "tonka in milk", Spot("plans/column.yaml", 20)),
    ),
    conflicts_kind="proved",
    levers=(
        Lever(
            "browning-shows-in-light",
            "",
            "another colour or band",
            "band",
            {"portion": "milk", "band": "cream"},
            20.0,
            sound=True,
            plan="plan: column\n",
        ),
    ),
)
