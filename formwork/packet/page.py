"""The packet's front page: one HTML file that needs nothing else, readable on a telephone without a network.

Pictures stand in the page itself, as data, so that the file can be sent on alone; every other file is linked.
"""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Iterable, Sequence
from html import escape
from typing import assert_never

from formwork.packet.blocks import Block, Line, Points, Section, Steps, Table
from formwork.packet.documents import Described
from formwork.packet.sections import passes, sections, verdict
from formwork.plan import Plan
from formwork.record import record


@record
class Picture:
    """An SVG to show on the page.

    Attributes:
        title: under it.
        svg: the drawing.
        link: file that a click opens; empty where there is none.
    """

    title: str
    svg: str
    link: str = ""


_STYLE = """
:root { color-scheme: light; --ink: #23282b; --soft: #5c666b; --rule: #cfd3d0; --paper: #f6f5f1; --sheet: #ffffff;
  --good: #2f6b4f; --bad: #a3341f; }
* { box-sizing: border-box; }
body { margin: 0 auto; max-width: 66rem; padding: 1.2rem 1rem 4rem; background: var(--paper); color: var(--ink);
  font: 16px/1.5 system-ui, sans-serif; }
h1 { font-size: 1.6rem; line-height: 1.25; margin: 0 0 .4rem; }
h2 { font-size: 1.15rem; margin: 2.2rem 0 .6rem; padding-top: .6rem; border-top: 1px solid var(--rule); }
p { margin: .5rem 0; }
.verdict { font-weight: 600; color: var(--good); }
.verdict.bad { color: var(--bad); }
nav { margin: 1rem 0; font-size: .95rem; }
nav a { display: inline-block; padding: .35rem .7rem .35rem 0; }
a { color: inherit; text-decoration-color: var(--soft); text-underline-offset: .15em; }
.wide { overflow-x: auto; }
table { border-collapse: collapse; background: var(--sheet); font-size: .92rem; font-variant-numeric: tabular-nums; }
th, td { padding: .35rem .7rem; text-align: left; vertical-align: top; border-bottom: 1px solid var(--rule); }
th { color: var(--soft); font-weight: 600; white-space: nowrap; }
.n { text-align: right; white-space: nowrap; }
ul, ol { padding-left: 1.4rem; }
li { margin: .25rem 0; overflow-wrap: anywhere; }
li:target { background: var(--sheet); font-weight: 600; outline: .15rem solid var(--ink); outline-offset: .3rem; }
pre { background: var(--sheet); padding: .6rem .8rem; overflow-x: auto; font-size: .88rem; }
.pictures { display: grid; gap: 1rem; grid-template-columns: repeat(auto-fit, minmax(min(100%, 20rem), 1fr)); }
figure { margin: 0; background: var(--sheet); border: 1px solid var(--rule); padding: .6rem; }
figure img { display: block; width: 100%; max-height: 26rem; object-fit: contain; }
figcaption { margin-top: .4rem; color: var(--soft); font-size: .9rem; }
@media print { body { background: none; padding: 0; max-width: none; font-size: 10pt; } nav { display: none; }
  h2 { break-after: avoid; } table, figure { break-inside: avoid; } .wide { overflow: visible; } }
""".strip()


def page(plan: Plan, listing: Described, pictures: Sequence[Picture]) -> str:
    """The front page: verdict, pictures, every section, and a link to every file.

    Args:
        plan: the plan.
        listing: files to link, each with a line of what it is.
        pictures: drawings to show at the top.
    """
    opening, *rest = sections(plan)
    body = [
        f"<h1>{escape(opening.title)}</h1>",
        *(_verdict(plan) if block == Line(verdict(plan)) else _block(block) for block in opening.blocks),
        _contents(rest),
        _pictures(pictures),
        *(_section(section) for section in rest),
        _files(listing),
    ]
    head = (
        '<meta charset="utf-8">\n<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{escape(plan.project.title)}</title>\n<style>\n{_STYLE}\n</style>"
    )
    content = "\n".join(part for part in body if part)
    return (
        f'<!doctype html>\n<html lang="en">\n<head>\n{head}\n</head>\n<body>\n{content}\n</body>\n</html>\n'
    )


def _verdict(plan: Plan) -> str:
    grade = "verdict" if passes(plan) else "verdict bad"
    return f'<p class="{grade}">{escape(verdict(plan))}</p>'


def _contents(rest: Iterable[Section]) -> str:
    links = "\n".join(f'<a href="#{section.name}">{escape(section.title)}</a>' for section in rest)
    return f'<nav>\n{links}\n<a href="#files">Files</a>\n</nav>'


def _pictures(pictures: Sequence[Picture]) -> str:
    if not pictures:
        return ""
    figures = "\n".join(_figure(picture) for picture in pictures)
    return f'<div class="pictures">\n{figures}\n</div>'


def _figure(picture: Picture) -> str:
    data = b64encode(picture.svg.encode()).decode()
    image = f'<img alt="{escape(picture.title)}" src="data:image/svg+xml;base64,{data}">'
    if picture.link:
        image = f'<a href="{_href(picture.link)}">{image}</a>'
    return f"<figure>{image}<figcaption>{escape(picture.title)}</figcaption></figure>"


def _href(path: str) -> str:
    from urllib.parse import quote  # noqa: PLC0415 - only where a page is written

    return quote(path)


def _section(section: Section) -> str:
    blocks = "\n".join(_block(block) for block in section.blocks)
    return f'<section id="{section.name}">\n<h2>{escape(section.title)}</h2>\n{blocks}\n</section>'


def _block(block: Block) -> str:
    match block:
        case Table():
            return _table(block)
        case Points():
            mark = "ol" if block.numbered else "ul"
            places = block.anchors or ("",) * len(block.lines)
            items = "".join(_item(*one) for one in zip(block.lines, places, strict=True))
            return f"<{mark}>{items}</{mark}>"
        case Line():
            return f"<p>{escape(block.text)}</p>"
        case Steps():
            lines = "\n".join(block.lines)
            return f"<p>{escape(block.title)}</p>\n<pre>{escape(lines)}</pre>"
        case _:
            assert_never(block)


def _item(line: str, place: str) -> str:
    return f'<li id="{place}">{escape(line)}</li>' if place else f"<li>{escape(line)}</li>"


def _table(table: Table) -> str:
    def row(cells: tuple[str, ...], tag: str) -> str:
        inner = "".join(
            f'<{tag} class="n">{escape(text)}</{tag}>'
            if i in table.right
            else f"<{tag}>{escape(text)}</{tag}>"
            for i, text in enumerate(cells)
        )
        return f"<tr>{inner}</tr>"

    rows = "\n".join(row(cells, "td") for cells in table.rows)
    return (
        f'<div class="wide"><table>\n<thead>{row(table.headings, "th")}</thead>\n'
        f"<tbody>\n{rows}\n</tbody>\n</table></div>"
    )


def _files(listing: Described) -> str:
    items = "\n".join(
        f'<li><a href="{_href(name)}">{escape(name)}</a>: {escape(about)}</li>' for name, about in listing
    )
    return f'<section id="files">\n<h2>Files</h2>\n<ul>\n{items}\n</ul>\n</section>'
