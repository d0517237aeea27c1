"""What is broken for the rules of the family `writing`."""

import re
from collections.abc import Iterator

from audit_breakages.breakage import Breakage, Harmless, procedure_paths, text_of

BLEED = "procedures/filling/bleed-cleaner-line.yaml"
BLEND = "procedures/batch/blend-milk-line-cleaner.yaml"
DESCALER = "procedures/batch/blend-descaler.yaml"
DEGREASER = "procedures/batch/blend-degreaser.yaml"
RINSE = "procedures/cleaning/clean-mixing-tank.yaml"
RINSE_DEGREASER = "procedures/cleaning/clean-degreaser-tank.yaml"
BY_HAND = "procedures/breakdown/fill-by-hand.yaml"
START = "procedures/safety/start-of-day.yaml"
END = "procedures/safety/end-of-day.yaml"
LOCK_MIXER = "procedures/lockout/lock-out-mixer.yaml"
LOCK_PUMP = "procedures/lockout/lock-out-transfer-pump.yaml"
BOOK = "procedures/plant/book.yaml"
EQUIPMENT = "procedures/plant/equipment.yaml"

#: a text on one line, not quoted and not folded
LINE = r"(?m)^ *(?:- )?{key}: (?P<text>[A-Z][^\"':>\n]*[.?!])$(?P<next>\n.*)"
#: a limit of a text with its unit
LIMIT = re.compile(
    r"(?m)^ *(?:- )?(?P<line>(?:check|hold|do|how|until|if): .*?(?:at|shows?|reads?|than|within|passes) [0-9.]+) "
    r"(?:L|kg|g|°C|mS/cm|min|s|cm)(?P<rest>(?: or (?:less|more|higher))?[.,;].*|(?: or less| or more)?)$"
)


def lines(path: str, key: str) -> Iterator[str]:
    """Return the texts of a file under a key, each once in the file; a step has a name of its own."""
    whole = text_of(path)
    for found in re.finditer(LINE.format(key=key), whole):
        has_name = key in ("note", "hold", "stop_safely") or found["next"].strip().startswith("step: ")
        if has_name and whole.count(f"{key}: {found['text']}\n") == 1:
            yield found["text"]


def firsts(key: str) -> Iterator[tuple[str, str]]:
    """Return of each procedure the first such text, with the path of the procedure."""
    for path in procedure_paths():
        yield from ((path, text) for text in list(lines(path, key))[:1])


def broken(what: str, path: str, key: str, old: str, new: str, code: str) -> Breakage:
    """Return the breakage that puts one text in the place of another."""
    where = path.rpartition("/")[2].removesuffix(".yaml")
    return Breakage(f"{what} in {where}", path, f"{key}: {old}\n", f"{key}: {new}\n", code, f"{key}: {new}")


def small(text: str) -> str:
    """Return a text that begins with a small letter, unless it begins with a tag."""
    return text[0].lower() + text[1:] if text[1:2].islower() or text[1:2] == " " else text


def not_begun_with_verb() -> Iterator[Breakage]:
    subjects = ("You must", "The operator should", "Somebody has to")
    for number, (path, text) in enumerate(firsts("do")):
        new = f"{subjects[number % len(subjects)]} {small(text)}"
        yield broken("a step about a person", path, "do", text, new, "not-verb-first")


def second_actions() -> Iterator[Breakage]:
    more = (", then call the lead.", " and wipe the bench.", ". Write the time on the card.", ", put the lid on.")
    for number, (path, text) in enumerate(firsts("do")):
        new = text.removesuffix(".") + more[number % len(more)]
        if "\nemergency: yes\n" not in text_of(path):
            yield broken("a second action", path, "do", text, new, "two-actions")


def conditions_behind() -> Iterator[Breakage]:
    for path in procedure_paths():
        for text in lines(path, "do"):
            turned = re.fullmatch(r"If ([^,.]+), ([^,.]+)\.", text)
            if turned:
                new = f"{turned[2][0].upper()}{turned[2][1:]} if {turned[1]}."
                yield broken("a condition behind its action", path, "do", text, new, "condition-last")
                break


def units_left_out() -> Iterator[Breakage]:
    for path in procedure_paths():
        for found in list(LIMIT.finditer(text_of(path)))[:2]:
            old = found[0].strip().removeprefix("- ")
            new = f"{found['line']}{found['rest']}"
            if text_of(path).count(f"{old}\n") == 1:
                what = f"a number without unit in {path.rpartition('/')[2]}: {found['line']}"
                yield Breakage(what, path, f"{old}\n", f"{new}\n", "limit-without-unit", new)


def steps_in_notes() -> Iterator[Breakage]:
    hidden = ("Call the lead.", "Shut the valve first.", "If it smells, leave the room.", "It is 30 °C at most.")
    for number, path in enumerate(procedure_paths()):
        for text in [text for text in lines(path, "note") if f"- note: {text}" in text_of(path)][:1]:
            yield broken(
                "a step or limit", path, "note", text, f"{text} {hidden[number % len(hidden)]}", "step-in-note"
            )


def unread_values() -> Iterator[Breakage]:
    for path in procedure_paths():
        for text in lines(path, "check"):
            unread = re.sub(r"\b(?:G-)?T1 (?=reads|shows|stands at)(?=.*°C)", "The liquid ", text)
            if unread != text:
                yield broken(f"nothing is named where {text}", path, "check", text, unread, "instrument-unnamed")


def vague_words() -> Iterator[Breakage]:
    words = ("There is enough light.", "It looks satisfactory.", "Some drops are harmless.", "The light is adequate.")
    for number, (path, text) in enumerate(firsts("check")):
        yield broken("a vague word", path, "check", text, f"{text} {words[number % len(words)]}", "vague-amount")


def long_sentences() -> Iterator[Breakage]:
    tail = ", and nobody has left anything on the floor, on the bench, on the step or in the way to the door."
    for path, text in firsts("hold"):
        yield broken("a long sentence", path, "hold", text, text.removesuffix(".") + tail, "sentence-long")


def actions_in_checks() -> Iterator[Breakage]:
    done = ("Wipe it with a dry cloth.", "Open the drawer.", "If it is wet, dry it.", "Press the lid down.")
    for number, (path, text) in enumerate(firsts("check")):
        yield broken("an action", path, "check", text, f"{done[number % len(done)]} {text}", "action-in-check")


def short_forms() -> Iterator[Breakage]:
    short = ("Mind your PPE.", "See the SDS.", "The QC card hangs there.", "V19 stays as it is.")
    for number, (path, text) in enumerate(firsts("check")):
        yield broken(
            "a short form", path, "check", text, f"{text} {short[number % len(short)]}", "abbreviation-undefined"
        )


def several_questions() -> Iterator[Breakage]:
    for path in procedure_paths():
        for found in re.finditer(r"(?m)^ *- choose: (.+\?)$", text_of(path)):
            what = f"a second question after {found[1]}"
            yield broken(what, path, "choose", found[1], f"{found[1]} Is it safe?", "choose-unclear")


def remedies_without_action() -> Iterator[Breakage]:
    for path in procedure_paths():
        remedy = re.search(r"\n  - sign: .+\n    do: (.+)\n(?!    go_to)", text_of(path))
        if remedy and text_of(path).count(f"do: {remedy[1]}\n") == 1:
            new = "It may be the seal. That has happened before."
            yield broken("a remedy without action", path, "do", remedy[1], new, "remedy-without-action")


GENERATED = (
    *not_begun_with_verb(),
    *second_actions(),
    *conditions_behind(),
    *units_left_out(),
    *steps_in_notes(),
    *unread_values(),
    *vague_words(),
    *long_sentences(),
    *actions_in_checks(),
    *short_forms(),
    *several_questions(),
    *remedies_without_action(),
)

#: seen by a person, one by one
WRITTEN = (
    Breakage(
        "a valve and a pump in one step",
        RINSE,
        "- do: If P1 or M1 runs, press its stop. Start nothing.",
        "- do: If P1 or M1 runs, press its stop and shut V2.",
        "two-actions",
        "do: If P1 or M1 runs",
    ),
    Breakage(
        "shutting goes with stopping",
        LOCK_MIXER,
        "- do: Press stop at the wall switch, so that M1 cannot start when the plug is in.",
        "- do: Press stop at the wall switch. Lock it.",
        "two-actions",
        "do: Press stop at the wall switch",
    ),
    Breakage(
        "the condition of a pump stands behind it",
        BLEND,
        "how: about 2 kg a minute; if it smells strong, let go",
        "how: about 2 kg a minute; let go if it smells strong",
        "condition-last",
        "how: about 2 kg a minute",
    ),
    Breakage(
        "a stop with its condition behind",
        "procedures/safety/small-spill.yaml",
        "If in doubt, leave by the nearest door.",
        "Leave by the nearest door if in doubt.",
        "condition-last",
        "stop_safely",
    ),
    Breakage(
        "a long stop",
        DEGREASER,
        "stop_safely: Trigger off, jug down, valves and G-hatch shut, G-M1 off 1 min later,",
        "stop_safely: Trigger off, jug down on the tray, all of the valves and G-hatch shut, G-M1 off 1 min later,",
        "sentence-long",
        "stop_safely",
    ),
    Breakage(
        "a pressure that nothing shows",
        LOCK_PUMP,
        "In that minute nothing dripped. Tapped with a finger, G1 stands at 0.",
        "In that minute nothing dripped. The line is under less than 0.05 bar.",
        "instrument-unnamed",
        "check: In that minute",
    ),
    Breakage(
        "and with or until a rinse is enough",
        RINSE_DEGREASER,
        "until: the heel does not foam and the pH paper shows the colour of softened water",
        "until: the heel does not foam and the pH paper shows the colour of softened water or is pale",
        "and-or-mixed",
        "until: the heel does not foam",
    ),
    Breakage(
        "and with or in a condition",
        RINSE,
        "- do: If a hose is screwed or clipped in, hang it back in its place, end up.",
        "- do: If a hose is screwed or clipped in and drips, hang it back in its place, end up.",
        "and-or-mixed",
        "do: If a hose is screwed",
    ),
    Breakage(
        "and with or in an answer",
        BLEND,
        "- if: Anything else",
        "- if: Anything else, or water and inhibitor",
        "and-or-mixed",
        "if: Anything else",
    ),
    Breakage(
        "no twice in a check",
        END,
        "- check: No cloth, rag or paper lies about. The lidded bins are shut.",
        "- check: No cloth is not in its bin. The lidded bins are shut.",
        "double-negative",
        "check: No cloth",
    ),
    Breakage(
        "no and unless in a hold",
        RINSE_DEGREASER,
        "Nobody reaches inside and nobody uses a cleaner.",
        "Nobody uses a cleaner unless it was asked for.",
        "double-negative",
        "hold: The lead has decided.",
    ),
    Breakage(
        "no and without in a caution",
        BY_HAND,
        "avoid: Tail in the pail, guard down, body to the side of the nozzle.",
        "avoid: Tail in the pail, guard down, never without the shield.",
        "double-negative",
        "avoid: Tail in the pail",
    ),
    Breakage(
        "two answers are the same",
        BY_HAND,
        "- if: Stop for today",
        "- if: Go on, filling",
        "choose-unclear",
        "if: Go on, filling",
    ),
    Breakage(
        "no question is asked",
        BY_HAND,
        "- choose: What has the lead decided?",
        "- choose: The lead has decided.",
        "choose-unclear",
        "choose: The lead has decided.",
    ),
    Breakage(
        "a short form is spelled out no more",
        BOOK,
        "  PP: polypropylene\n",
        "",
        "abbreviation-undefined",
        "made_of: PP with ceramic shaft and EPDM seals, magnetic drive, no metal in the liquid",
        EQUIPMENT,
    ),
    Breakage(
        "a check is softened",
        START,
        "- check: The seal of the spill kit is whole.",
        "- check: The seal of the spill kit should be whole.",
        "order-softened",
        "check: The seal",
    ),
    Breakage(
        "a step is done if possible",
        LOCK_MIXER,
        "- do: Tighten the clamp screws of the mixer head by hand.",
        "- do: Tighten the clamp screws of the mixer head by hand, if possible.",
        "order-softened",
        "do: Tighten the clamp",
    ),
    Breakage(
        "a remedy is asked for",
        DESCALER,
        "do: Step back, nobody walks through it.",
        "do: Please step back, nobody walks through it.",
        "order-softened",
        "do: Please",
    ),
)
BREAKAGES: tuple[Breakage, ...] = (*GENERATED, *WRITTEN)
HARMLESS: tuple[Harmless, ...] = (
    Harmless(
        "a sentence of twenty words",
        BLEED,
        "- do: Hold the red sample cup under N1 until it is half full.",
        "- do: Hold the red sample cup by its handle under the end of N1 until the level is at half height.",
    ),
    Harmless(
        "a time before the verb",
        RINSE,
        "- do: Take the tank label off V2.",
        "- do: After the hold, slowly take the tank label off V2.",
    ),
    Harmless(
        "both hands before the verb",
        START,
        "- do: Push the lever of the eyewash and let it run for 3 minutes.",
        "- do: Using one hand, push the lever of the eyewash and let it run for 3 minutes.",
    ),
    Harmless(
        "at the same time, in other words",
        BY_HAND,
        "- do: Draw the bottle away, with the drip cup held under N2.",
        "- do: Draw the bottle away while the other hand holds the drip cup under N2.",
    ),
    Harmless(
        "a count without unit",
        START,
        "- check: Both jets are clear, even and as high as each other. It runs hands off.",
        "- check: Both jets are clear, even and as high as each other. At least 2 dust caps hang beside them.",
    ),
    Harmless(
        "a range with one unit",
        LOCK_MIXER,
        "- do: Press start at the wall switch of M1 for 3 s.",
        "- do: Press start at the wall switch of M1 for 2 to 3 s, no more than once.",
    ),
    Harmless(
        "a fact more in a note",
        RINSE,
        "- note: About 1.5 L of cleaner stays in the cone and about 4 L in the line. The first rinse is strong.",
        "- note: The first rinse is strong. About 1.5 L of cleaner stays in the cone, and about 4 L in the line.",
    ),
    Harmless(
        "an inscription of short words",
        END,
        "- check: G1 stands at 0.",
        "- check: G1 stands at 0. The switch of the filler is at OFF, and no DO NOT OPERATE tag hangs on it.",
    ),
    Harmless(
        "another good verb",
        BLEND,
        "- do: Unscrew the small bung of the hypochlorite drum.",
        "- do: Undo the small bung of the hypochlorite drum.",
    ),
    Harmless(
        "the condition with its comma, in other words",
        LOCK_PUMP,
        "- do: If a valve is open now, shut it, V3 last.",
        "- do: Where a valve is open now, shut it, V3 last.",
    ),
    Harmless(
        "a lot read aloud in a check",
        BLEND,
        "- check: The label of the can says scale inhibitor. Read the lot aloud.",
        "- check: Read the label of the can aloud, its lot too. It says scale inhibitor.",
    ),
    Harmless(
        "an answer in more words",
        BY_HAND,
        "- if: Stop for today",
        "- if: Stop for today, less than a carton is left",
    ),
)
