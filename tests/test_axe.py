"""The check for accessibility finds what is planted, and nothing on a page without a fault."""

import pytest
from axe import violations
from playwright.sync_api import Browser

#: a page without a fault; {} is where one is planted
SOUND = """<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Sheet</title>
<meta name="viewport" content="width=device-width,initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'">
</head><body><main><h1>Sheet</h1>{}</main></body></html>"""
#: fault -> the rule that it breaks, and the criterion of WCAG that this rule stands for
PLANTED = {
    '<img src="data:,">': "image-alt",  # 1.1.1
    '<input type="text">': "label",  # 4.1.2
    "<button></button>": "button-name",  # 4.1.2
    "<ul><p>one</p></ul>": "list",  # 1.3.1
    '<p aria-labelledby="none" role="nothing">text</p>': "aria-roles",  # 4.1.2
}


def rules(browser: Browser, page_html: str) -> list[str]:
    """Return the rules that a page breaks."""
    page = browser.new_page()
    page.set_content(page_html)
    found = violations(page)
    page.close()
    return [each.partition(":")[0] for each in found]


def test_nothing_is_found_on_a_sound_page(browser: Browser) -> None:
    assert rules(browser, SOUND.format("<p>All is well.</p>")) == []


@pytest.mark.parametrize("fault", PLANTED)
def test_planted_fault_is_found(browser: Browser, fault: str) -> None:
    assert PLANTED[fault] in rules(browser, SOUND.format(fault))


def test_pale_text_is_found(browser: Browser) -> None:
    # W3C, understanding criterion 1.4.3: #777 on white is 4.48:1, #767676 is 4.54:1; 4.5:1 is asked for.
    pale = SOUND.replace("default-src 'none'", "style-src 'unsafe-inline'")
    assert rules(browser, pale.format('<p style="color:#777">pale</p>')) == ["color-contrast"]
    assert rules(browser, pale.format('<p style="color:#767676">just enough</p>')) == []


def test_small_control_is_found(browser: Browser) -> None:
    # WCAG 2.2, criterion 2.5.8 (AA): at least 24 px by 24 px, or spaced so.
    tiny = SOUND.replace("default-src 'none'", "style-src 'unsafe-inline'").format(
        "<style>button { display: block; box-sizing: border-box; padding: 0; width: 12px; height: 12px; }</style>"
        "<button>a</button><button>b</button>"
    )
    assert set(rules(browser, tiny)) == {"target-size"}


def test_page_without_language_and_title_is_found(browser: Browser) -> None:
    bare = SOUND.replace(' lang="en"', "").replace("<title>Sheet</title>", "").format("")
    assert {"html-has-lang", "document-title"} <= set(rules(browser, bare))


def test_places_are_named(browser: Browser) -> None:
    page = browser.new_page()
    page.set_content(SOUND.format('<input id="lot" type="text">'))
    (found,) = violations(page)
    page.close()
    assert found.startswith("label: #lot: ")
