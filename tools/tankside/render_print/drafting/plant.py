"""Sheets of the plant: charts, labels of containers, the line diagram."""

from dataclasses import replace
from fractions import Fraction
from itertools import zip_longest

from tankside.drawing.plots import plot_svg
from tankside.edition.sheets import SheetEdition
from tankside.model.facts import Plant
from tankside.model.reading import MM_PER_POINT
from tankside.render_print.draft import Draft
from tankside.render_print.drafting.drawings import largest, placed
from tankside.render_print.drafting.setting import Setting
from tankside.render_print.fit import Misfit
from tankside.render_print.frame import BOLD, LINE, PLAIN, TITLE_POINTS, Around, Frame
from tankside.render_print.measuring import line_count, width_mm
from tankside.render_print.media import svg_address
from tankside.texts import Words
from tankside.views.charts import Grid, chart_view
from tankside.views.sheets.control import plant_control
from tankside.views.sheets.label import LabelView, label_view
from tankside.views.sheets.plant import PlantView, plant_view

#: a label with its edges and the line along which it is cut; its text, and the size of its name, as sheet.css has them
LABEL_MM, LABEL_TEXT_MM, LABEL_CUT_MM, NAME_REM = 93, 82, 3, Fraction(3, 2)
#: of a label: a pictogram with its words, boxes to fill in and small print
PICTOGRAM_MM, REST_MM = 22, 36
#: a table of two columns with more rows than this is folded: its second half stands beside the first
ROWS_UNFOLDED = 14
#: what a cell of a chart keeps free at its sides, with its line, as sheet.css has it
CELL_MM = Fraction(63, 10)


def chart_sheet(setting: Setting, sheet: SheetEdition, plant: Plant) -> Draft:
    """Return a chart of the plant."""
    assert sheet.chart is not None
    view = chart_view(plant, sheet.chart, setting.say)
    shown = Around(plant_control(sheet, view.title, plant), plant.facts.scenario, marks="marks-none")
    around = setting.frame(sheet, shown)
    grids = tuple(_folded(each, around) for each in view.grids)
    plot = None if view.plot is None else svg_address(plot_svg(view.plot))
    html = setting.filled("sheet-chart.html", sheet, shown, view=view, grids=grids, plot=plot)
    return setting.draft(sheet, around, html)


def _folded(grid: Grid, around: Frame) -> Grid:
    """Return a table of two columns with its second half beside the first where it is long and there is room."""
    if len(grid.columns) != 2 or len(grid.rows) <= ROWS_UNFOLDED:
        return grid
    half = -(-len(grid.rows) // 2)
    nothing = ("",) * len(grid.columns)
    rows = ((*left, *right) for left, right in zip_longest(grid.rows[:half], grid.rows[half:], fillvalue=nothing))
    folded = replace(grid, columns=grid.columns * 2, rows=tuple(rows))
    return folded if _width_mm(folded, around.points) <= around.paper.text_mm else grid


def _width_mm(grid: Grid, points: int) -> Fraction:
    """Return how wide a table is when nothing in it is broken."""
    columns = zip(grid.columns, *grid.rows, strict=True)
    return sum((max(width_mm(((cell, BOLD),), points) + CELL_MM for cell in column) for column in columns), Fraction(0))


def container_label(setting: Setting, sheet: SheetEdition, plant: Plant) -> Draft:
    """Return labels of a material, to be cut apart."""
    view = label_view(sheet, plant, setting.say)
    shown = Around(view.control, view.scenario, marks="marks-label")
    around = setting.frame(sheet, shown)
    columns = int((around.paper.text_mm + LABEL_CUT_MM) // LABEL_MM)
    title = line_count(((shown.title, BOLD),), TITLE_POINTS, around.paper.text_mm)
    room = around.paper.height_mm - around.first_top_mm - around.bottom_mm - title * TITLE_POINTS * LINE * MM_PER_POINT
    rows = max(1, int(room // _label_height(view, around.points, setting.say)))
    html = setting.filled("sheet-label.html", sheet, shown, view=view, columns=columns, rows=rows)
    return setting.draft(sheet, around, html)


def _label_height(view: LabelView, points: int, say: Words) -> Fraction:
    """Return how high a label is [mm]; rather too much than too little."""
    said = [(each, PLAIN) for each in view.says] + [(say("label-never", groups=", ".join(view.never)), BOLD)]
    lines = sum(line_count((each,), points, Fraction(LABEL_TEXT_MM)) + Fraction(1, 4) for each in said)
    name = line_count(((view.name, BOLD),), int(points * NAME_REM), Fraction(LABEL_TEXT_MM)) * NAME_REM
    # The signal word stands beside the pictograms, which stand under each other.
    word = NAME_REM if view.signal_word and not view.pictograms else 0
    pictures = len(view.pictograms) * PICTOGRAM_MM
    return (lines + name + word) * points * LINE * MM_PER_POINT + pictures + REST_MM


def plant_sheet(setting: Setting, sheet: SheetEdition, plant: Plant) -> Draft:
    """Return the line diagram of the plant with its tags: the whole where it can be read, else each side."""
    view = plant_view(sheet, plant, setting.say)
    shown = Around(view.control, view.scenario, marks="marks-none")
    around = _best(setting, sheet, shown, view)
    distance = setting.read_from(sheet)
    whole, *sides = ((title, placed(each, around, distance, as_large=True)) for title, each in view.drawings)
    drawings = (whole, *sides) if whole[1].is_legible or not sides else tuple(sides)
    misfits = tuple(Misfit("small") for _, each in drawings if not each.is_legible and not setting.is_bound)
    html = setting.filled("sheet-plant.html", sheet, shown, view=view, drawings=drawings)
    return setting.draft(sheet, around, html, misfits[:1])


def _best(setting: Setting, sheet: SheetEdition, shown: Around, view: PlantView) -> Frame:
    """Return the frame of the paper, upright or across, on which the smallest lettering is largest."""
    frames = [setting.frame(sheet, shown, is_landscape=each) for each in (False, True)]
    drawings = [drawing for _, drawing in view.drawings[1:] or view.drawings]
    return max(frames, key=lambda around: min(largest(each, around) for each in drawings))
