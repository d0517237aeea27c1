"""Hands at a machine that is not isolated, or that is moved while it is (29 CFR 1910.147(d) and (e))."""

from breakages.breakage import BLEED, BY_HAND, LOCK_MIXER, LOCK_PUMP, Breakage

LOCKS = (
    Breakage(
        "hands in the pump without a lock",
        BLEED,
        """\
    step: pail-away
    exposes: [milk-line-cleaner]
""",
        """\
    step: pail-away
    works_on: [P1]
    exposes: [milk-line-cleaner]
""",
        "not-isolated",
        "pail-away",
        says="'P1.mains'",
    ),
    Breakage(
        "pressure not let go before hands go in",
        LOCK_PUMP,
        "      - P1.liquid-head, P1.water and P1.trapped-pressure dissipated\n",
        "      - P1.liquid-head and P1.water dissipated\n",
        "not-isolated",
        "do-the-work",
        says="'P1.trapped-pressure'",
    ),
    Breakage(
        "charge of the drive not waited for",
        LOCK_MIXER,
        """\
    leaves:
      - M1.drive-charge dissipated
""",
        "",
        "not-isolated",
        "do-the-work",
        says="'M1.drive-charge'",
    ),
    Breakage(
        "pump not locked before it is tried",
        LOCK_PUMP,
        """\
  - lock: P1-switch
    how: at OFF, own padlock on, tag with name, date, reason
""",
        """\
  - do: Look at P1-switch.
    step: lock-p1-switch
""",
        "verified-early",
        "try-start",
        says="'P1-switch'",
    ),
    Breakage(
        "valve unlocked before it is proved",
        LOCK_PUMP,
        """\
  - open: V3
    how: by its hand lever, slowly, into the catch
""",
        """\
  - unlock: V2-lock
    step: unlock-too-early
  - open: V3
    how: by its hand lever, slowly, into the catch
""",
        "verified-early",
        "watch-for-drops",
        says="'V2-lock'",
    ),
    Breakage(
        "proved before it is locked",
        LOCK_PUMP,
        """\
    leaves:
      - P1.mains dissipated
""",
        """\
    leaves:
      - P1.mains dissipated
      - P1.mains verified
""",
        "verified-early",
        "switch-off",
        says="'P1.mains'",
    ),
    Breakage(
        "lock forgotten and believed to be on",
        LOCK_MIXER,
        """\
  - lock: V1-lock
    how: own padlock on, tag with name, date, reason
""",
        """\
  - do: Look at V1-lock.
    step: lock-v1-lock
""",
        "not-as-believed",
        "locked-and-proved",
        says="V1-lock locked",
    ),
    Breakage(
        "started while locked",
        LOCK_MIXER,
        """\
  - do: Press start at the wall switch of M1 for 3 s.
    step: try-start
""",
        """\
  - start: M1
    step: try-start
""",
        "locked-piece",
        "try-start",
        says="'M1-plug'",
    ),
    Breakage(
        "opened while locked",
        LOCK_PUMP,
        """\
  - unlock: V2-lock
    how: only the person who put it on
""",
        """\
  - do: Look at V2-lock.
    step: unlock-v2-lock
""",
        "locked-piece",
        "open-v2-leak",
        says="'V2-lock'",
    ),
    Breakage(
        "valve opened that is out of order",
        BY_HAND,
        """\
  - open: V5
    step: open-v5-bleed
""",
        """\
  - open: V3
    step: open-v5-bleed
""",
        "locked-piece",
        "open-v5-bleed",
        says="'V3'",
    ),
    Breakage(
        "locked while the valve stands open",
        LOCK_PUMP,
        "  - shut: V2\n  - shut: V4\n",
        "  - open: V2\n    step: shut-v2\n  - shut: V4\n",
        "not-isolated",
        "do-the-work",
        says="not shut at 'V2'",
    ),
)
