"""What is broken for the rules of the family `stopping`: the words of the safe stop, and what it leaves."""

import re
from collections.abc import Iterator
from pathlib import PurePosixPath

from audit_breakages.breakage import Breakage, Harmless, procedure_paths, text_of

BLEND = "procedures/batch/blend-milk-line-cleaner.yaml"
BLEND_DEGREASER = "procedures/batch/blend-degreaser.yaml"
HOLD = "procedures/batch/hold-a-lot.yaml"
BY_HAND = "procedures/breakdown/fill-by-hand.yaml"
MIXING = "procedures/cleaning/clean-mixing-tank.yaml"
DESCALER = "procedures/cleaning/clean-descaler-tank.yaml"
DEGREASER = "procedures/cleaning/clean-degreaser-tank.yaml"
BLEED = "procedures/filling/bleed-cleaner-line.yaml"
BLEED_DESCALER = "procedures/filling/bleed-descaler-line.yaml"
LOCK_MIXER = "procedures/lockout/lock-out-mixer.yaml"
LOCK_PUMP = "procedures/lockout/lock-out-transfer-pump.yaml"
END = "procedures/safety/end-of-day.yaml"
LAST = "procedures/safety/last-look.yaml"
START = "procedures/safety/start-of-day.yaml"
TELLS = re.compile(
    r",? *(?:step back, )?(?:Step back, )?(?:call|tell|Tell) the (?:second person|lead)(?:, nobody fills)?"
)
AT = "stop_safely:"


def stem(path: str) -> str:
    return PurePosixPath(path).stem


def stop(path: str) -> str:
    """Return the one line of a procedure that says how to stop safely."""
    (found,) = re.findall(r"^stop_safely: .*\n", text_of(path), re.MULTILINE)
    return str(found)


def claims(path: str) -> str:
    """Return what the safe stop leaves, as claims; nothing where a procedure claims nothing."""
    return "".join(re.findall(r"^stop_leaves:\n(?:  - .*\n)+", text_of(path), re.MULTILINE))


def long_ones() -> Iterator[Breakage]:
    for path in procedure_paths():
        old = stop(path)
        more = (
            "Read the whole page once more. Sit down for a while. Then look at all of it again, each piece by itself."
        )
        new = f"{old.rstrip()} {more}\n"
        yield Breakage(f"the stop of {stem(path)} is a story", path, old, new, "stop-safely-long", AT)


def claimless() -> Iterator[Breakage]:
    """Return each procedure that changes the plant, with nothing said of what its stop leaves."""
    for path in procedure_paths():
        acts = re.search(r"^ *- (?:open|start|move|add|lock): ", text_of(path), re.MULTILINE)
        if claims(path) and acts is not None:
            what = f"nothing says what the stop of {stem(path)} leaves"
            yield Breakage(what, path, claims(path), "", "stop-not-proved", AT)


def silent() -> Iterator[Breakage]:
    """Return each procedure with a second person in the room whose stop tells somebody, without that."""
    for path in procedure_paths():
        text, old = text_of(path), stop(path)
        if "\nsecond_person: in the room\n" in text and "\nemergency: yes\n" not in text and TELLS.search(old):
            new = TELLS.sub("", old)
            yield Breakage(f"the stop of {stem(path)} tells nobody", path, old, new, "stop-calls-nobody", AT)


def unproved() -> Iterator[Breakage]:
    """Return stops that leave out what a step of their procedure opens or starts."""
    for path, what, old, new in (
        (BLEED, "P1", "  - P1 stopped\n  - V2", "  - V2"),
        (BLEED, "V2", "  - V2 and V3 shut\namounts:\n", "  - V3 shut\namounts:\n"),
        (BY_HAND, "V5", "  - V5 and V2 shut\n", "  - V2 shut\n"),
        (DESCALER, "D-P1", "stop_leaves:\n  - D-P1 stopped\n", "stop_leaves:\n"),
        (DEGREASER, "G-P1", "stop_leaves:\n  - G-P1 stopped\n", "stop_leaves:\n"),
        (MIXING, "P1", "stop_leaves:\n  - P1 stopped\n", "stop_leaves:\n"),
        (MIXING, "the hatch", "  - hatch-250 shut\namounts:\n", "amounts:\n"),
        (BLEND, "P3", "  - P1, P2 and P3 stopped\n", "  - P1 and P2 stopped\n"),
    ):
        yield Breakage(f"the stop of {stem(path)} leaves {what}", path, old, new, "stop-not-proved", AT)


def unsaid() -> Iterator[Breakage]:
    """Return stops whose words leave out what their claims promise."""
    for path, old, new in (
        (BLEED, "P1 off, V2 and V3 shut", "V2 and V3 shut"),
        (BLEED, "P1 off, V2 and V3 shut", "P1 off, V3 shut"),
        (BY_HAND, "P1 off, let V5 go, V2 shut", "P1 off, V2 shut"),
        (MIXING, "V1 to V5 shut, hatch clamped", "V1 to V5 shut"),
        (MIXING, "V1 to V5 shut, hatch clamped", "V1 to V4 shut, hatch clamped"),
        (DESCALER, "D-P1 off, ", ""),
        (DEGREASER, "G-V1, G-V2, G-V3 and G-hatch shut", "G-V1, G-V3 and G-hatch shut"),
        (BLEND, "P1 and triggers off", "Triggers off"),
        (BLEND, "P1 and triggers off", "P1 off"),
        (BLEND_DEGREASER, "Trigger off, jug down", "Jug down"),
        (BLEND_DEGREASER, ", G-M1 off 1 min later", ""),
        (HOLD, "Pumps and M1 off", "M1 off"),
        (LOCK_MIXER, "M1 off, valves and hatch shut", "M1 off, hatch shut"),
        (LOCK_PUMP, "P1 off, V1 to V5 shut", "P1 off"),
        (END, "Pumps and mixers off", "Mixers off"),
        (LAST, "Valves and hatches shut, dressed for their side. ", ""),
        (START, "Pumps, mixers and water off", "Pumps and water off"),
    ):
        line = stop(path)
        assert line.count(old) == 1, (path, old)
        what = f"the stop of {stem(path)} says {new or 'less'}"
        yield Breakage(what, path, line, line.replace(old, new), "stop-says-other", AT)


BREAKAGES: tuple[Breakage, ...] = (*long_ones(), *claimless(), *silent(), *unproved(), *unsaid())
HARMLESS: tuple[Harmless, ...] = (
    Harmless(
        "a stop in other order",
        BLEED,
        "P1 off, V2 and V3 shut, step back, call the second person.",
        "P1 off, V3 and V2 shut. Step back, shout to the second person.",
    ),
    Harmless(
        "valves as a row in place of each",
        DEGREASER,
        "G-P1 off, G-V1, G-V2, G-V3 and G-hatch shut",
        "Pump off, G-V1 to G-V3 and the hatch shut",
    ),
    Harmless(
        "all valves and the hatch by what they are called",
        MIXING,
        "P1 off, V1 to V5 shut, hatch clamped, step back, call the second person.",
        "Pump off, valves and hatch shut, step back, call the second person.",
    ),
    Harmless(
        "what runs and what is open",
        END,
        "Pumps and mixers off, valves and hatches shut, the exhaust runs on, tell the second person.",
        "Stop what runs, shut what is open, the exhaust runs on, tell the second person.",
    ),
    Harmless(
        "who is told in other words",
        BLEED_DESCALER,
        "step back, call the second person.",
        "step back and tell the other person.",
    ),
    Harmless(
        "claims in other order",
        BLEED,
        "  - P1 stopped\n  - V2 and V3 shut\n",
        "  - V2 and V3 shut\n  - P1 stopped\n",
    ),
)
