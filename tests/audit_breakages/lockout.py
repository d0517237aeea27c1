"""What is broken for the rules of the family `lockout`."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

import yaml

from audit_breakages.breakage import Breakage, Harmless, text_of

BOOK = "procedures/plant/book.yaml"
EQUIPMENT = "procedures/plant/equipment.yaml"
FOLDER = "procedures/lockout"
DEGREASER, DESCALER, DRUMS = "lock-out-degreaser-side", "lock-out-descaler-pump", "lock-out-drum-pumps"
MIXER, PUMP = "lock-out-mixer", "lock-out-transfer-pump"
#: procedure -> the machines that hands go into
MACHINES = {
    DEGREASER: ("G-P1", "G-M1", "G-P2"),
    DESCALER: ("D-P1",),
    DRUMS: ("P2", "P3"),
    MIXER: ("M1",),
    PUMP: ("P1",),
}
#: procedure -> where the start is tried for the last time, and the last lock of the machine that is tried there
TRIES = {DEGREASER: "try-drum-pump", DESCALER: "try-start", DRUMS: "try-p3", MIXER: "try-start", PUMP: "try-start"}
LAST_LOCKS = {DEGREASER: "G-P2-plug", DESCALER: "D-V1-lock", DRUMS: "P3-plug", MIXER: "V1-lock", PUMP: "V1-lock"}
#: procedure -> point -> the step that switches off or unplugs what its lock keeps
SWITCHED_OFF = {
    DEGREASER: {"G-P1-switch": "switch-off", "G-M1-plug": "pull-mixer-plug", "G-P2-plug": "pull-drum-pump-plug"},
    DESCALER: {"D-P1-switch": "switch-off"},
    DRUMS: {"P2-plug": "pull-plug-p2", "P3-plug": "pull-plug-p3"},
    MIXER: {"M1-plug": "pull-plug"},
    PUMP: {"P1-switch": "switch-off"},
}
#: procedure -> where something stored is let go, and the lock that must be on by then
LET_GO = {
    DEGREASER: ("hose-runs-back", "G-P2-plug"),
    DESCALER: ("let-it-run", "D-V1-lock"),
    DRUMS: ("hoses-run-back", "P2-plug"),
    MIXER: ("wait-for-drive", "M1-plug"),
    PUMP: ("let-it-run", "V2-lock"),
}
EXEMPTION = """\
    lockout_exemption:
      no_stored_energy: yes
      one_source: yes
      isolating_ends_it: yes
      locked_during_work: yes
      one_lock: yes
      under_own_control: yes
      no_hazard_to_others: yes
      no_accident_before: yes
      decided_by: workshop-lead
      date: 2026-11-26
"""
WORK = "step: do-the-work"
HOLD = "step: locked-and-proved"


@dataclass(frozen=True)
class Block:
    """A step of a lockout procedure as it is written."""

    procedure: str
    #: its kind and what stands behind it
    kind: str
    value: str
    name: str
    text: str

    def broken(self, what: str, new: str, code: str, at: str = "") -> Breakage:
        """Return the breakage that puts other text in place of the step."""
        where = at or f"step: {self.name}"
        return Breakage(f"{self.name} of {self.procedure} {what}", path(self.procedure), self.text, new, code, where)

    def without(self, part: str, what: str, code: str, at: str = "") -> Breakage:
        """Return the breakage that takes a part out of the step."""
        assert self.text.count(part) == 1, (self.name, part)
        return self.broken(what, self.text.replace(part, ""), code, at)

    def saying(self, words: str, what: str, code: str, at: str = "") -> Breakage:
        """Return the breakage that lets the step ask for something else."""
        return self.broken(what, self.text.replace(self.value, words, 1), code, at)


def path(procedure: str) -> str:
    return f"{FOLDER}/{procedure}.yaml"


def blocks(procedure: str) -> tuple[Block, ...]:
    """Return the steps of a procedure until those that are entered only when sent there."""
    steps = text_of(path(procedure)).partition("\nsteps:\n")[2].partition("    entered: when sent here\n")[0]
    return tuple(_block(procedure, text) for text in re.findall(r"(?m)^  - .*\n(?:    .*\n)*", steps))


def _block(procedure: str, text: str) -> Block:
    kind, value = re.findall(r"^  - (\S+): (.*)\n", text)[0]
    named = re.findall(r"(?m)^    step: (\S+)$", text)
    return Block(procedure, kind, value, named[0] if named else f"{kind}-{value.lower()}", text)


def block(procedure: str, name: str) -> Block:
    (found,) = (each for each in blocks(procedure) if each.name == name)
    return found


def moved_down(procedure: str, name: str, behind: str, code: str, at: str) -> Breakage:
    """Return the breakage that puts a step behind a later one."""
    text, first, last = text_of(path(procedure)), block(procedure, name).text, block(procedure, behind).text
    begin, end = text.index(first), text.index(last) + len(last)
    old = text[begin:end]
    what = f"{name} of {procedure} comes after {behind}"
    return Breakage(what, path(procedure), old, old.removeprefix(first) + first, code, at)


def moved_up(procedure: str, name: str, before: str, code: str, at: str) -> Breakage:
    """Return the breakage that puts a step in front of an earlier one."""
    text, first, last = text_of(path(procedure)), block(procedure, before).text, block(procedure, name).text
    begin, end = text.index(first), text.index(last) + len(last)
    old = text[begin:end]
    what = f"{name} of {procedure} comes before {before}"
    return Breakage(what, path(procedure), old, last + old.removesuffix(last), code, at)


def taken_out() -> Iterator[Breakage]:
    """Return what is missing before hands go in, each thing alone."""
    missing = "lockout-element-missing"
    for name, machines in MACHINES.items():
        yield block(name, "tell-before").broken("is missing", "", missing, WORK)
        yield block(name, "sources-agree").broken("is missing", "", missing, WORK)
        yield block(name, "keys-in-pocket").broken("is missing", "", "lockout-proof", WORK)
        for tag in machines:
            yield block(name, f"stop-{tag.lower()}").broken("is missing", "", missing, WORK)
        for point, step in SWITCHED_OFF[name].items():
            yield block(name, step).broken("is missing", "", missing, f"lock: {point}")


def of_locks() -> Iterator[Breakage]:
    """Return locks that are not put on, that nobody knows whose they are, or that anybody takes off."""
    for name in MACHINES:
        locks = [each for each in blocks(name) if each.kind == "lock"]
        for each in locks:
            yield each.broken("is missing", "", "energy-source-forgotten", WORK)
        tag, who = ", tag with name, date, reason", "only the person who put it on"
        yield locks[0].without(tag, "has no tag", "lockout-element-missing", f"lock: {locks[0].value}")
        unlock = next(each for each in blocks(name) if each.kind == "unlock")
        new = unlock.text.replace(who, "slowly")
        yield unlock.broken("is for anybody", new, "lockout-release", f"unlock: {unlock.value}")


def of_sources() -> Iterator[Breakage]:
    """Return sources of energy that no step lets go, or that no step proves to be gone."""
    for name in MACHINES:
        for each in blocks(name):
            for state in ("dissipated", "verified"):
                lines = re.findall(rf"(?m)^      - .* {state}\n", each.text.partition("    leaves:\n")[2])
                if lines:
                    new = each.text.replace(lines[0], "").removesuffix("    leaves:\n")
                    what = f"leaves nothing {state}"
                    yield each.broken(what, new.replace("    leaves:\n    ", "    "), "energy-source-forgotten", WORK)


def of_proofs() -> Iterator[Breakage]:
    """Return proofs that are no steps, and holds that do not repeat them."""
    tried = {DEGREASER: "each start tried, ", DRUMS: "both triggers tried, ", MIXER: ", start tried"}
    relieved = {DEGREASER: "no pressure, ", DESCALER: "no pressure, ", PUMP: "G1 at 0, "}
    for name in MACHINES:
        hold, at_try = block(name, "locked-and-proved"), f"step: {TRIES[name]}"
        seen = block(name, "nothing-moves")
        new = re.sub(r"    finds:\n(?:      - .*\n)+", "", seen.text).replace(seen.value, "The second person is there.")
        yield seen.broken("looks at nothing", new, "lockout-proof", at_try)
        yield hold.without("keys in the pocket, ", "does not say the keys", "lockout-proof")
        yield hold.without(tried.get(name, "start tried, "), "does not say the try", "lockout-proof")
        if name in relieved:
            yield hold.without(relieved[name], "does not say the pressure", "lockout-proof")
        locked = re.findall(r" and \S+ locked\n", hold.text)[0]
        yield hold.broken("names one lock less", hold.text.replace(locked, " locked\n"), "lockout-proof")
    for name, stop in ((DEGREASER, "try-stops"), (DESCALER, "try-stop"), (MIXER, "try-stop"), (PUMP, "try-stop")):
        each = block(name, stop)
        yield each.saying("Look at the clock.", "looks at the clock", "lockout-proof", f"step: {TRIES[name]}")
    for name, step in ((DESCALER, "line-is-empty"), (DEGREASER, "line-is-empty"), (PUMP, "gauge-at-zero")):
        each = block(name, step)
        finds = each.text[each.text.index("    finds:\n") : each.text.index("    second_person:")]
        yield each.without(finds, "finds nothing", "lockout-proof", WORK)


def of_return() -> Iterator[Breakage]:
    """Return ways back to service that are cut short."""
    for name in MACHINES:
        unlocks = [each for each in blocks(name) if each.kind == "unlock"]
        first, last = f"unlock: {unlocks[0].value}", f"unlock: {unlocks[-1].value}"
        words = "The second person is still there."
        yield block(name, "tools-away").saying(words, "looks at nothing", "lockout-release", first)
        yield block(name, "people-clear").saying(words, "looks at nobody", "lockout-release", first)
        yield block(name, "tell-after").broken("is missing", "", "lockout-release", last)


def of_order() -> Iterator[Breakage]:
    """Return elements in each other's place."""
    order = "lockout-order"
    for name, machines in MACHINES.items():
        yield moved_up(name, f"stop-{machines[0].lower()}", "tell-before", order, "step: tell-before")
        yield moved_down(name, f"lock-{LAST_LOCKS[name].lower()}", TRIES[name], order, f"step: {TRIES[name]}")
        step, point = LET_GO[name]
        yield moved_down(name, f"lock-{point.lower()}", step, order, f"step: {step}")
        for point, off in SWITCHED_OFF[name].items():
            yield moved_up(name, f"lock-{point.lower()}", off, order, f"lock: {point}")
        off = next(iter(SWITCHED_OFF[name].values()))
        yield moved_up(name, off, f"stop-{machines[0].lower()}", order, f"step: {off}")


def of_people() -> Iterator[Breakage]:
    """Return lockouts that are for one person and one shift only."""
    for name in MACHINES:
        text = text_of(path(name))
        first = re.findall(r"\nif_it_goes_wrong:\n  - (sign: .*)\n", text)[0]
        for sign in re.findall(r"  - sign: (?:The shift|More than one).*\n    do: .*\n", text):
            what = f"{name} does not say: {sign.split(': ')[1].partition(chr(10))[0]}"
            yield Breakage(what, path(name), sign, "", "lockout-group", first)


def of_machines() -> Iterator[Breakage]:
    """Return sources of the wrong form, machines without a lockout procedure, exemptions that are not true."""
    equipment: dict[str, Any] = yaml.safe_load(text_of(EQUIPMENT))["equipment"]
    for name, machines in MACHINES.items():
        work = block(name, "do-the-work")
        for tag in machines:
            kind = f"  {tag}:\n    kind: {equipment[tag]['kind']}\n"
            less = [each for each in machines if each != tag]
            instead = f"    works_on: [{', '.join(less)}]\n" if less else ""
            new = re.sub(r"    works_on: .*\n", instead, work.text)
            yield replace(
                work.broken(f"leaves {tag} out", new, "lockout-procedure-missing", f"{tag}:"), at_path=EQUIPMENT
            )
            what = f"{tag} is said to be exempt"
            answer = "one_source: yes" if tag == "P1" else "no_stored_energy: yes"
            yield Breakage(f"{what}, {answer}", EQUIPMENT, kind, kind + EXEMPTION, "lockout-exemption", answer)
            yield from _of_forms(tag, equipment[tag]["energy_sources"])


def _of_forms(tag: str, sources: list[dict[str, str]]) -> Iterator[Breakage]:
    forms = [each["form"] for each in sources]
    for each in sources:
        form = each["form"]
        if form in ("electrical", "liquid", "pressure") and forms.count(form) == 1 and (form != "liquid" or "P" in tag):
            keys = ("name", "form", "source", "magnitude", "isolate_at")
            old = "\n        ".join(f"{key}: {each[key]}" for key in keys)
            what = f"{tag} has no source of form {form}"
            new = old.replace(f"form: {form}", "form: heat")
            yield Breakage(what, EQUIPMENT, f"- {old}\n", f"- {new}\n", "energy-source-undeclared", f"{tag}:")


def of_inspections() -> Iterator[Breakage]:
    """Return inspections by the person who was watched, of long ago, and of nearly a year ago."""
    for name in MACHINES:
        old = f"  - procedure: {name}\n    date: 2026-11-26\n    by: lockout-inspector\n"
        for what, part, new, code in (
            ("inspected itself", "by: lockout-inspector", "by: authorised-person", "lockout-inspection"),
            ("was inspected too long ago", "date: 2026-11-26", "date: 2025-11-20", "lockout-inspection"),
            ("has to be inspected soon", "date: 2026-11-26", "date: 2025-12-10", "lockout-inspection-due"),
        ):
            yield Breakage(f"{name} {what}", BOOK, old, old.replace(part, new), code, new)


WRITTEN = (
    Breakage(
        "nobody looks at the sight tube again before hands go in",
        path(MIXER),
        block(MIXER, "look-again").text,
        "",
        "lockout-verify-again",
        WORK,
    ),
    Breakage(
        "nobody looks at the hoses again before hands go in",
        path(DRUMS),
        "      - P2.liquid and P3.liquid verified\n    if_not: not-safe\n  - do: Do the work",
        "      - P2 and P3 stopped\n    if_not: not-safe\n  - do: Do the work",
        "lockout-verify-again",
        WORK,
    ),
    Breakage(
        "an open valve of the line lets nothing out of the hose of another pump",
        path(DEGREASER),
        "      - G-V3 open\n      - G-P2.liquid verified\n",
        "      - G-V3 open\n",
        "lockout-verify-again",
        WORK,
    ),
    Breakage(
        "the mixer is started before people are told",
        path(MIXER),
        "  - section: return\n    title: Back to service\n",
        "  - section: return\n    title: Back to service\n  - start: M1\n    step: start-m1-early\n",
        "lockout-release",
        "step: start-m1-early",
    ),
    Breakage(
        "a source of the mixer has no form",
        EQUIPMENT,
        "      - name: drive-charge\n        form: charge\n",
        "      - name: drive-charge\n",
        "energy-form-missing",
        "name: drive-charge",
    ),
    Breakage(
        "a source of the transfer pump has no form",
        EQUIPMENT,
        "      - name: water\n        form: liquid\n",
        "      - name: water\n",
        "energy-form-missing",
        "name: water",
    ),
    Breakage(
        "a valve is locked that nobody has shut",
        path(MIXER),
        "  - shut: V1\n  - shut: V2\n  - shut: V4\n  - do: Pull",
        "  - shut: V2\n  - shut: V4\n  - do: Pull",
        "lockout-element-missing",
        "lock: V1-lock",
    ),
    Breakage(
        "the suction of the transfer pump is locked, and nobody has shut it",
        path(PUMP),
        "  - shut: V1\n  - shut: V2\n  - shut: V4\n  - do: Turn",
        "  - shut: V1\n  - shut: V4\n  - do: Turn",
        "lockout-element-missing",
        "lock: V2-lock",
    ),
    Breakage(
        "a new source of the transfer pump that its lockout does not know",
        EQUIPMENT,
        "      - name: water\n        form: liquid\n",
        "      - name: motor-heat\n        form: heat\n        source: Heat of the motor\n"
        "        magnitude: Up to 70 °C\n        isolate_at: P1-switch\n"
        "        release: It cools down in 30 min.\n        verify: It is warm to the hand.\n"
        "      - name: water\n        form: liquid\n",
        "energy-source-forgotten",
        WORK,
        path(PUMP),
    ),
)
BREAKAGES: tuple[Breakage, ...] = (
    *taken_out(),
    *of_locks(),
    *of_sources(),
    *of_proofs(),
    *of_return(),
    *of_order(),
    *of_people(),
    *of_machines(),
    *of_inspections(),
    *WRITTEN,
)
HARMLESS: tuple[Harmless, ...] = (
    Harmless(
        "the try of the start in other words",
        path(MIXER),
        "Press start at the wall switch of M1 for 3 s.",
        "Push the green start button of M1 for 3 s.",
    ),
    Harmless(
        "the keys in other words",
        path(PUMP),
        "Put the three keys into your own pocket. They stay there.",
        "Keep all three keys in your own pocket.",
    ),
    Harmless(
        "the proof of the try in other words",
        path(DESCALER),
        "Nothing moved, hummed or lit up. Nothing runs from D-N1.",
        "D-P1 does not turn, and D-N1 stays dry.",
    ),
    Harmless(
        "two locks in the other order",
        path(DRUMS),
        block(DRUMS, "lock-p2-plug").text + block(DRUMS, "lock-p3-plug").text,
        block(DRUMS, "lock-p3-plug").text + block(DRUMS, "lock-p2-plug").text,
    ),
    Harmless(
        "tools and people in other words",
        path(DRUMS),
        "All tools and parts are off the pumps. Every coupling and joint is closed.",
        "No tool lies on the pumps, and both covers are back.",
    ),
    Harmless(
        "whose lock it is in other words",
        path(MIXER),
        "  - unlock: V1-lock\n    how: only the person who put it on\n",
        "  - unlock: V1-lock\n    how: each takes off their own lock only\n",
    ),
    Harmless(
        "several people are not allowed instead",
        path(DRUMS),
        "  - sign: More than one person works at the pumps\n"
        "    do: Each puts their own lock and tag on both boxes, and keeps the key. The last lock off ends it.\n",
        "  - sign: Somebody wants to help\n    do: Say no. Only one person works at the pumps.\n",
    ),
    Harmless(
        "the change of shift in other words",
        path(DESCALER),
        "The next authorised person puts their own locks on before the first ones come off.",
        "Let the next person hang their own locks beside yours before yours come off.",
    ),
    Harmless(
        "one more person is told",
        path(PUMP),
        block(PUMP, "tell-before").text,
        block(PUMP, "tell-before").text
        + "  - notify: workshop-lead\n    about: that P1 stands still until further notice\n    step: tell-lead-too\n",
    ),
    Harmless(
        "the hold says more",
        path(DESCALER),
        "Switch, D-V1 locked, keys in the pocket, start tried, no pressure, D-V3 open.",
        "Switch and D-V1 locked and tagged, both keys in the pocket, start tried, no pressure, D-V3 open.",
    ),
    Harmless(
        "an inspection in another week",
        BOOK,
        f"  - procedure: {DESCALER}\n    date: 2026-11-26\n",
        f"  - procedure: {DESCALER}\n    date: 2026-11-28\n",
    ),
    Harmless(
        "a source is described in more detail",
        EQUIPMENT,
        "        magnitude: Runs on for up to 30 s after stop\n",
        "        magnitude: Runs on for up to 30 s after stop, longer with an empty tank\n",
    ),
)
