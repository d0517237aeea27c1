"""How badly a caution says people are hurt: by the hazard statements of what reaches them, and by its own words."""

import re
from collections.abc import Iterable, Mapping

from tankside.audit.reading.hazard_statements import codes_of
from tankside.model.facts import Material

#: the signal words of ANSI Z535.6, the weakest first
WORDS = ("notice", "caution", "warning", "danger")
#: hazard statements of what could kill or injure seriously; which ones is judged by what they say of the body
SERIOUS = "H300 H301 H304 H310 H311 H314 H318 H330 H331 H334 H340 H350 H360 H370 H372"
#: hazard statements of what could injure slightly or moderately
MODERATE = "H302 H303 H305 H312 H313 H315 H316 H317 H319 H320 H332 H333 H335 H336 H341 H351 H361 H362 H371 H373"
_LEAST: Mapping[str, str] = {
    **dict.fromkeys(MODERATE.split(), "caution"),
    **dict.fromkeys(SERIOUS.split(), "warning"),
}
#: parts of the body, and people; no word that a machine has, too, such as head, back, mouth
_BODY = r"(?:eyes?|skin|fingers?|hands|arms|feet|toes?|legs|lungs?|throat|backs|bones?|hair|limbs?)"
_PEOPLE = r"(?:people|persons?|somebody|someone|anybody|anyone|whoever|operators?|you|your)"
_NOT = r"(?<!not )(?<!never )(?<!cannot )"
#: what could kill or injure seriously, in words; filters blind, and a meter has a fatal error
_SERIOUS_WORDS = re.compile(
    rf"\b{_NOT}(?:kill(?:s|ed)?(?! (?:the|its)\b)|deadly|fatal(?! error)|lethal|death|suffocat\w+|electrocut\w+"
    r"|(?<!filter )(?<!screen )blind(?:s|ed|ness)?(?! (?:flanges?|the|off)\b)|amputat\w+|paralys\w+"
    rf"|burns? (?:the )?(?:lungs|(?:{_BODY} and )?{_BODY} deeply)|(?:loses?|loss of) (?:an? )?(?:sight|{_BODY})"
    rf"|(?:crush|tear|sever)(?:e?s)?(?: and \w+)? (?:off )?(?:the |your )?{_BODY})\b",
    re.IGNORECASE,
)
#: any injury, in words; what may also happen to equipment counts when it happens to a body
_INJURY_WORDS = re.compile(
    rf"\b{_NOT}(?:injur\w+|bruis\w+|scald\w*|cough\w*|irritat\w+|rash"
    r"|(?:burn|cut|pinch|strain|scratch|sting|hurt|hit|shock|poison|splash|spray|reach)(?:e?s)?"
    rf" (?:(?:the|your|into|in|on) )*(?:{_BODY}|{_PEOPLE}))\b",
    re.IGNORECASE,
)
#: any word that may be about people, for a text that is to be about none
_PERSONAL = re.compile(
    rf"\b(?:{_BODY}|{_PEOPLE}|hand|arm|leg|back|head|face|nose|mouth|body|who|one|nobody|everybody|others?"
    r"|breath\w*|burn\w*|hurt\w*|harm\w*"
    r"|poison\w*|toxic|gas|fumes?|fire|explo\w+|burst\w*|spray\w*|splash\w*|slip\w*|falls?|pain\w*|shock\w*|stings?"
    r"|acid|alkali|corros\w+)\b",
    re.IGNORECASE,
)
#: what is not people
_PROPERTY = re.compile(
    r"\b(?:pumps?|mixers?|machines?|equipment|bearings?|seals?|gaskets?|impellers?|shafts?|motors?|couplings?|hoses?"
    r"|lines?|tanks?|valves?|filters?|scales?|meters?|instruments?|electrodes?|batch(?:es)?|products?|lots?|bottles?"
    r"|labels?|caps?|readings?|strength|yield|rinses?)\b",
    re.IGNORECASE,
)


def is_weaker(word: str, than: str) -> bool:
    """Return whether a signal word is weaker than another."""
    return WORDS.index(word) < WORDS.index(than)


def strongest(words: Iterable[str]) -> str:
    """Return the strongest of some signal words, the weakest of all for none."""
    return max(words, key=WORDS.index, default=WORDS[0])


def least_for(material: Material) -> str:
    """Return the weakest signal word that fits what a material does to people."""
    return strongest(_LEAST.get(code, WORDS[0]) for code in codes_of(material))


def least_said(harm: str) -> tuple[str, str]:
    """Return the weakest signal word that fits what a text says of harm, and the words that ask for it."""
    for word, pattern in (("warning", _SERIOUS_WORDS), ("caution", _INJURY_WORDS)):
        found = pattern.search(harm)
        if found:
            return word, found[0]
    return WORDS[0], ""


def is_property_alone(harm: str) -> bool:
    """Return whether a text says what happens to equipment or product, and has no word that may be about people."""
    return bool(_PROPERTY.search(harm)) and not _PERSONAL.search(harm) and not least_said(harm)[1]
