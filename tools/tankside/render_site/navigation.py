"""What the theme's frame shows on every page."""

from collections.abc import Iterable, Mapping

from tankside.render_site import addresses
from tankside.render_site.content import Content
from tankside.render_site.pages import families, family_title
from tankside.render_site.shells import Page


def navigation(content: Content, hand_written: Iterable[str]) -> list[object]:
    """Return what stands in the navigation: families, not procedures, so that a large book stays quick to read."""
    say = content.say
    by_family = [{family_title(name): _shell(addresses.family(name))} for name in families(content)]
    return [
        {say("home"): _shell(addresses.HOME)},
        {say("procedures"): by_family},
        {say("checklists"): _shell(addresses.CHECKLISTS)},
        {say("materials"): _shell(addresses.MATERIALS)},
        {say("equipment"): _shell(addresses.EQUIPMENT)},
        {say("line-diagram"): _shell(addresses.LINE_DIAGRAM)},
        {say("meeting"): _shell(addresses.MEETING)},
        {say("charts"): _shell(addresses.CHARTS)},
        {say("formulas"): _shell(addresses.FORMULAS)},
        {say("sheets"): _shell(addresses.SHEETS)},
        {say("signs"): _shell(addresses.SIGNS)},
        {say("audit"): _shell(addresses.AUDIT)},
        {say("audit-rules"): _shell(addresses.RULES)},
        {say("standards"): _shell(addresses.STANDARDS)},
        {say("assessments"): _shell(addresses.ASSESSMENTS)},
        *(path for path in hand_written if "/" not in path),
    ]


def _shell(address: str) -> str:
    return Page(address, "").shell_path


def frame_words(content: Content) -> Mapping[str, str]:
    """Return the words that the theme's frame shows on every page."""
    keys = ("menu", "search", "search-none", "search-off", "emergency", "law")
    words = {f"word_{key.replace('-', '_')}": content.say(key) for key in keys}
    return {**words, "word_scenario": str(content.book.plant.facts.scenario or "")}
