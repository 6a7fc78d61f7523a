"""More changes under which no dangerous plan gets a better verdict: facts, days, versions, worse pots."""

from __future__ import annotations

import re
from typing import Any

from tests.danger.harness import read, write
from tests.danger.laws import Book, day_after, every_scent, law, rule

# --- notes, days, what the plan does not use --------------------

LOOK = (
    "note: {name}\nplan: {plan}\nlook: at the cut\non: 2026-10-0{day}\nbatch: OLD-1\npoured: 2026-10-01\n"
    "portions:\n  {portion}: {{edge: clean, strength: strong, gel: none}}\nremarks: Mild, no sting at all.\n"
)


@law(by_text=True)
def own_look_says_mild(book: Book) -> bool:
    plan = read(book.plan)
    text = LOOK.format(name="2026-10-02-a-cut", plan=plan["plan"], day=2, portion=plan["portions"][0]["name"])
    return book.add("notes/2026-10-02-a-cut.yaml", text)


@law(by_text=True)
def damaged_note(book: Book) -> bool:
    return book.add("notes/2026-10-03-torn.yaml", "note: [torn\n")


@law("older papers", by_text=True)
def a_month_later(book: Book) -> bool:
    book.today = day_after(book.today, 31)
    return True


@law("older papers", by_text=True)
def four_years_later(book: Book) -> bool:
    book.today = day_after(book.today, 4 * 365)
    return True


@law("older papers")
def certificates_three_years_older(book: Book) -> bool:
    def older(scent: dict[str, Any]) -> None:
        limit = scent.get("limit in bar")
        if isinstance(limit, dict) and str(limit.get("dated", ""))[:3] == "202":
            limit["dated"] = f"{int(limit['dated'][:4]) - 3}{limit['dated'][4:]}"

    return every_scent(book, older)


@law()
def prices_and_stock_added(book: Book) -> bool:
    return every_scent(book, lambda scent: scent.update({"price": "9 per 100 g", "on hand": "900 g"}))


@law()
def day_bought_added(book: Book) -> bool:
    return every_scent(book, lambda scent: scent.update({"bought": "2026-09-01"}))


@law()
def good_words_seen(book: Book) -> bool:
    seen = [{"on": "2026-08-01", "what": "Never a sting, at any dose."}]
    return every_scent(book, lambda scent: scent.update({"seen": seen}))


@law()
def soothing_tag_added(book: Book) -> bool:
    return every_scent(book, lambda scent: scent.update({"tags": [*scent.get("tags", []), "skin safe"]}))


@law("less known")
def evidence_hearsay(book: Book) -> bool:
    return every_scent(book, lambda scent: scent.update({"evidence": "hearsay"}))


@law()
def unused_scent_added(book: Book) -> bool:
    facts = {"for skin": "yes", "limit in bar": {"most": "90 %"}}
    return book.data("scents.yaml", lambda data: data.update({"mild-cloud": facts}))


@law()
def unused_oil_added(book: Book) -> bool:
    return book.data("oils.yaml", lambda data: data.update({"babassu": {"saponification": "245 to 256"}}))


@law(by_text=True)
def unused_plan_added(book: Book) -> bool:
    return book.add(
        "plans/zz-another.yaml", "plan: zz-another\nfor: home\nportions:\n  - {name: a, share: 100 %}\n"
    )


@law()
def usual_words_added(book: Book) -> bool:
    return book.data("usual.yaml", lambda data: data.update({"currency": "crowns", "hands": "2"}))


# --- versions, layers, goals --------------------


@law()
def mild_version_added(book: Book) -> bool:
    plan = read(book.plan)
    scent, portion = next(iter(plan["scents"]["blend"])), plan["portions"][0]["name"]
    mild = {"doses": {portion: {scent: "0.1 % of portion oils"}}}
    return book.data("plan", lambda data: data.setdefault("variations", {}).update({"mild": mild}))


@law("a stronger version beside it")
def strong_version_added(book: Book) -> bool:
    plan = read(book.plan)
    scent, portion = next(iter(plan["scents"]["blend"])), plan["portions"][0]["name"]
    strong = {"doses": {portion: {scent: "6 % of portion oils"}}}
    return book.data("plan", lambda data: data.setdefault("variations", {}).update({"strong": strong}))


@law()
def another_swirl(book: Book) -> bool:
    return book.text("plan", lambda text: text.replace("pour: in-pot swirl", "pour: hanger swirl"))


@law()
def order_stated(book: Book) -> bool:
    names = [portion["name"] for portion in read(book.plan)["portions"]]
    return book.data("plan", lambda data: data.setdefault("order", names))


@law()
def touching_stated(book: Book) -> bool:
    names = [portion["name"] for portion in read(book.plan)["portions"]]
    return len(names) == 2 and book.data("plan", lambda data: data.setdefault("touching", [names]))


@law()
def goals_stated(book: Book) -> bool:
    return book.data("plan", lambda data: data.update({"prefer": ["few weighings", "wide margin"]}))


@law()
def premixes_stated(book: Book) -> bool:
    return book.data("plan", lambda data: data.update({"premixes": "2"}))


@law()
def weighed_together(book: Book) -> bool:
    names = list(read(book.plan)["scents"]["blend"])
    return len(names) > 1 and book.data("plan", lambda data: data.update({"weigh together": [names]}))


@law()
def fluid_for_longer(book: Book) -> bool:
    return book.data("plan", lambda data: data["process"].update({"stays fluid": "50 min"}))


@law()
def warmer_room(book: Book) -> bool:
    return book.data("plan", lambda data: data["process"].update({"room": "23 °C"}))


# --- worse by a stated order --------------------


@law("an addition that nobody knows")
def unknown_additive(book: Book) -> bool:
    return book.data(
        "plan", lambda data: data["recipe"].setdefault("additives", {}).update({"glimmerwort": "2 g"})
    )


@law("water that leaves the bar")
def water_among_the_additives(book: Book) -> bool:
    return book.data(
        "plan", lambda data: data["recipe"].setdefault("additives", {}).update({"distilled water": "15 g"})
    )


@law("a loss that can only make it stricter")
def cure_loss_zero(book: Book) -> bool:
    return book.data("plan", lambda data: data["process"].update({"cure loss": "0 %"}))


@law("more lye")
def five_per_cent_more_lye(book: Book) -> bool:
    def more(plan: dict[str, Any]) -> None:
        lye = plan["recipe"]["lye"]
        mass = re.fullmatch(r"(\d+(?:\.\d+)?) (g|oz)", lye["NaOH"])
        if mass:
            lye["NaOH"] = f"{float(mass[1]) * 1.05:.12g} {mass[2]}"

    return book.data("plan", more)


@law("purer lye")
def purity_hundred(book: Book) -> bool:
    def purer(plan: dict[str, Any]) -> None:
        if plan["recipe"]["lye"]["NaOH"] and plan["recipe"]["lye"].get("purity") == "99 %":
            plan["recipe"]["lye"]["purity"] = "100 %"

    return book.data("plan", purer)


@law("a coarser scale")
def coarser_lye_scale(book: Book) -> bool:
    return book.data("usual.yaml", lambda data: data.update({"lye scale step": "5 g"}))


@law("lower limits")
def limits_a_tenth_lower(book: Book) -> bool:
    def lower(scent: dict[str, Any]) -> None:
        most = re.fullmatch(r"(\d+(?:\.\d+)?) %", scent["limit in bar"]["most"]) if limit_of(scent) else None
        if most:
            scent["limit in bar"]["most"] = f"{float(most[1]) * 0.9:.12g} %"

    return every_scent(book, lower)


def limit_of(scent: dict[str, Any]) -> bool:
    """Whether a limit is written down as a mapping."""
    return isinstance(scent.get("limit in bar"), dict)


@law("more scent")
def load_a_tenth_higher(book: Book) -> bool:
    def higher(plan: dict[str, Any]) -> None:
        load = re.fullmatch(r"(\d+(?:\.\d+)?) (%.*|oz ppo)", plan["scents"]["load"])
        if load:
            plan["scents"]["load"] = f"{float(load[1]) * 1.1:.12g} {load[2]}"

    return book.data("plan", higher)


@law("for sale instead of home", by_text=True)
def for_sale_after_all(book: Book) -> bool:
    return book.text("plan", lambda text: re.sub(r"(?m)^for: home$", "for: sale", text))


@law("less known")
def sheets_not_complete(book: Book) -> bool:
    def less(scent: dict[str, Any]) -> None:
        if isinstance(scent.get("allergen sheet"), dict):
            scent["allergen sheet"]["complete"] = "no"

    return every_scent(book, less)


@law("less known")
def skin_not_said(book: Book) -> bool:
    return every_scent(book, lambda scent: [scent.pop(each, None) for each in ("for skin", "limit in bar")])


@law("less known")
def speed_not_known(book: Book) -> bool:
    return every_scent(book, lambda scent: scent.pop("acceleration", None))


@law("a banned constituent more")
def banned_constituent_added(book: Book) -> bool:
    def banned(scent: dict[str, Any]) -> None:
        if isinstance(scent.get("allergen sheet"), dict):
            scent["allergen sheet"]["atranol"] = "0.1 %"

    return every_scent(book, banned)


@law("stricter", by_text=True)
def many_own_stops(book: Book) -> bool:
    names = [f"own-{number}" for number in range(12)]
    return book.add(
        "rules/mine/many.yaml", "".join(rule(name, "stop", "superfat: at least -99 %") for name in names)
    )


def turned(book: Book, name: str) -> bool:
    file = book.file(name)
    data = read(file)
    if not isinstance(data, dict) or len(data) < 2:
        return False
    write(file, dict(reversed(data.items())))
    return True


@law()
def plan_in_another_order(book: Book) -> bool:
    return turned(book, "plan")


@law()
def shelf_in_another_order(book: Book) -> bool:
    return turned(book, "scents.yaml") and turned(book, "oils.yaml")
