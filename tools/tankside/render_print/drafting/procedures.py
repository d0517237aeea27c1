"""Other sheets of a procedure: key steps for the wall, a banner, a lockout sheet, a training sheet."""

from dataclasses import replace
from fractions import Fraction

from tankside.edition.sheets import SheetEdition
from tankside.model.facts import Plant
from tankside.model.reading import MM_PER_POINT
from tankside.render_print.draft import Draft
from tankside.render_print.drafting.drawings import placed
from tankside.render_print.drafting.setting import Setting
from tankside.render_print.fit import Misfit
from tankside.render_print.frame import BOLD, Around, Frame, around
from tankside.render_print.measuring import line_count
from tankside.views.procedures import ProcedureView, procedure_view
from tankside.views.sheets.key_steps import actions, key_steps_view
from tankside.views.sheets.lockout import lockout_view
from tankside.views.sheets.observation import training_view
from tankside.views.wording import Sentence

#: lines of a banner, its title and whom to call among them
MOST_LINES = 7
#: by what a line that goes on is indented, and the sign of the telephone with its margin, as sheet.css has them
INDENT_EM, SIGN_MM = Fraction(9, 10), 28


def _shown(setting: Setting, sheet: SheetEdition) -> ProcedureView:
    assert sheet.edition is not None
    return procedure_view(sheet.edition, setting.facts, setting.say, is_laminated=True)


def wall_sheet(setting: Setting, sheet: SheetEdition) -> Draft:
    """Return the key steps and limits of a procedure."""
    view = key_steps_view(_shown(setting, sheet), sheet, setting.say)
    shown = around(view, is_draft=bool(setting.stamps))
    html = setting.filled("sheet-wall.html", sheet, shown, view=view, of=str(sheet.entry.of))
    return setting.draft(sheet, setting.frame(sheet, shown), html)


def banner(setting: Setting, sheet: SheetEdition) -> Draft:
    """Return the banner of an emergency."""
    view = key_steps_view(_shown(setting, sheet), sheet, setting.say)
    shown, lines = around(view, is_draft=bool(setting.stamps)), actions(view)
    own = setting.frame(sheet, shown)
    call = setting.say("call", number=setting.facts.emergency_number)
    misfits = () if setting.is_bound else _too_many(own, shown.title, lines, call)
    html = setting.filled("sheet-banner.html", sheet, shown, view=view, lines=lines)
    return setting.draft(sheet, own, html, misfits)


def _too_many(own: Frame, title: str, lines: tuple[Sentence, ...], call: str) -> tuple[Misfit, ...]:
    """Return a misfit when a banner has too many lines; steps are taken off its end until it would fit."""
    indent = INDENT_EM * own.points * MM_PER_POINT
    width = own.paper.text_mm
    taken = [line_count(((run.text, BOLD) for run in words), own.points, width, indent) for words in lines]
    fixed = line_count(((title, BOLD),), own.points, width) + line_count(((call, BOLD),), own.points, width - SIGN_MM)
    total, over = fixed + sum(taken), 0
    while over < len(taken) and fixed + sum(taken[: len(taken) - over]) > MOST_LINES:
        over += 1
    return (Misfit("lines", takes=total, too_many=over),) if total > MOST_LINES else ()


def lockout_sheet(setting: Setting, sheet: SheetEdition, plant: Plant) -> Draft:
    """Return the lockout sheet of a machine."""
    view = lockout_view(sheet, _shown(setting, sheet), plant, setting.say)
    shown = Around(view.control, view.scenario, (view.stop_safely,), is_draft=bool(setting.stamps))
    own = setting.frame(sheet, shown)
    # A machine by itself shows no way to it.
    drawing = placed(view.diagram, own, setting.read_from(sheet)) if len(view.diagram.pieces) > 1 else None
    html = setting.filled("sheet-lockout.html", sheet, shown, view=view, by=str(sheet.entry.by), drawing=drawing)
    is_small = drawing is not None and not drawing.is_legible and not setting.is_bound
    return setting.draft(sheet, own, html, (Misfit("small"),) if is_small else ())


def training_sheet(setting: Setting, sheet: SheetEdition, plant: Plant) -> Draft:
    """Return the training sheet of a procedure."""
    view = training_view(sheet, _shown(setting, sheet), plant, setting.say)
    shown = replace(around(view.shown, is_draft=bool(setting.stamps)), marks="marks-training")
    html = setting.filled("sheet-training.html", sheet, shown, view=view)
    return setting.draft(sheet, setting.frame(sheet, shown), html)
