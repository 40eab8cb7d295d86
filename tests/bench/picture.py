"""Draws the figures of service_bench as a picture.

    picture.py FIGURES.json PICTURE.svg

Bars by length and hatching alone, so that it reads without colour.
"""

import json
import sys
from xml.sax.saxutils import escape

LEFT = 230
BAR = 420
ROW = 22
WIDTH = 780

HATCHES = {"turnstone": "#222", "floor": "url(#floor)", "other": "url(#other)"}

HEAD = """<svg xmlns="http://www.w3.org/2000/svg" width="{width}"
 height="{height}" viewBox="0 0 {width} {height}" role="img"
 font-family="sans-serif" font-size="13" fill="#222">
<title>{title}</title>
<defs>
<pattern id="floor" width="6" height="6" patternUnits="userSpaceOnUse">
<rect width="6" height="6" fill="#fff"/>
<path d="M0 6L6 0" stroke="#222"/></pattern>
<pattern id="other" width="5" height="5" patternUnits="userSpaceOnUse">
<rect width="5" height="5" fill="#fff"/>
<circle cx="2.5" cy="2.5" r="1" fill="#222"/></pattern>
</defs>
<rect width="{width}" height="{height}" fill="#fff"/>"""


def number(value):
    """About three digits, thousands apart."""
    if value >= 100:
        return f"{value:,.0f}".replace(",", " ")
    return f"{value:.3g}"


class Picture:
    def __init__(self):
        self.parts = []
        self.y = 16

    def text(self, x, y, words, extra=""):
        self.parts.append(f'<text x="{x}" y="{y}" {extra}>{escape(words)}</text>')

    def heading(self, words):
        self.y += 26
        self.text(16, self.y, words, 'font-weight="bold"')
        self.y += 8

    def bars(self, rows, unit):
        """rows: (label, value, kind)."""
        longest = max(value for _, value, _ in rows)
        for label, value, kind in rows:
            length = max(1, BAR * value / longest)
            self.parts.append(
                f'<rect x="{LEFT}" y="{self.y + 4}" width="{length:.1f}" '
                f'height="{ROW - 7}" fill="{HATCHES[kind]}" stroke="#222"/>'
            )
            self.text(LEFT - 8, self.y + 16, label, 'text-anchor="end"')
            self.text(LEFT + length + 6, self.y + 16, f"{number(value)} {unit}".rstrip())
            self.y += ROW

    def legend(self):
        self.y += 14
        x = LEFT
        for kind, words in [
            ("turnstone", "turnstone"),
            ("floor", "floor: does nothing else"),
            ("other", "another way"),
        ]:
            self.parts.append(
                f'<rect x="{x}" y="{self.y}" width="22" height="13" '
                f'fill="{HATCHES[kind]}" stroke="#222"/>'
            )
            self.text(x + 28, self.y + 12, words)
            x += 60 + 7 * len(words)
        self.y += 24

    def svg(self, title):
        head = HEAD.format(width=WIDTH, height=self.y + 12, title=escape(title))
        return "\n".join([head, *self.parts, "</svg>", ""])


def rate_rows(figures, callers):
    names = {
        "disk": ("disk alone", "floor"),
        "echo unary": ("wire alone, calls", "floor"),
        "turnstone unary": ("turnstone, calls", "turnstone"),
        "echo stream": ("wire alone, streams", "floor"),
        "turnstone stream": ("turnstone, streams", "turnstone"),
    }
    cells = {
        cell["what"]: cell
        for cell in figures["cells"]
        if cell["callers"] == callers
    }
    return [
        (label, cells[what]["per_second"], kind)
        for what, (label, kind) in names.items()
    ]


def lone_rows(figures):
    fewest = min(cell["callers"] for cell in figures["cells"])
    cells = {
        cell["what"]: cell
        for cell in figures["cells"]
        if cell["callers"] == fewest
    }

    def half(what):
        return cells[what]["micros"]["p50"] / 1000

    return [
        ("one durable commit", half("disk"), "floor"),
        ("wire alone", half("echo unary"), "floor"),
        ("turnstone", half("turnstone unary"), "turnstone"),
    ]


def growth_rows(probes, key, words):
    return [
        (f"{number(probe[key])} {words}", probe["server_cpu_micros"], "turnstone")
        for probe in probes
    ]


def draw(figures):
    picture = Picture()
    most = max(cell["callers"] for cell in figures["cells"])
    machine = figures["machine"]
    picture.text(
        16,
        picture.y + 6,
        f"One run on {machine['processors']} processors, client included; "
        "turnstone answers when the event is durable",
    )
    picture.y += 6
    picture.legend()
    picture.heading(f"Events a second, {most} callers")
    site = figures["own_tables"]["cells"][-1]
    picture.bars(
        rate_rows(figures, most)
        + [("own tables, a few queries", site["per_second"], "other")],
        "",
    )
    picture.heading("How long a lone caller waits: median, milliseconds")
    picture.bars(lone_rows(figures), "ms")
    picture.heading("Processor time per event as the programme grows")
    picture.bars(
        growth_rows(figures["by_participants"], "participants", "participants")
        + growth_rows(figures["by_history"], "events_each", "events each"),
        "µs",
    )
    picture.heading("Ten rules alone, questions answered a second")
    rules = figures["rules_alone"]
    picture.bars(
        [
            ("turnstone", rules["questions_per_second"], "turnstone"),
            ("CLIPS", rules["questions_per_second_clips"], "other"),
        ],
        "",
    )
    return picture.svg("turnstone beside the floors it stands on")


def main(source, target):
    with open(source, encoding="utf-8") as file:
        figures = json.load(file)
    with open(target, "w", encoding="utf-8") as file:
        file.write(draw(figures))


if __name__ == "__main__":
    if len(sys.argv) != 3:
        sys.exit(__doc__)
    main(*sys.argv[1:])
