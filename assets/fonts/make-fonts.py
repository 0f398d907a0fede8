#!/usr/bin/env python3
"""Makes the program's fonts from Debian's Linux Libertine (package
fonts-linuxlibertine 5.3.0-6, OFL 1.1) with Debian's python3-fonttools.

    apt-get install fonts-linuxlibertine python3-fonttools
    /usr/bin/python3 make-fonts.py

What is changed, and why each font has a name of its own (OFL 1.1, clause 3:
"Linux Libertine" is a reserved font name):

  all      only the characters that the program shows (latin, some greek,
           arrows, signs), so that the program stays small
  Caps     lower case drawn as small capitals and everything set a little
           wider, since a text on the screen can't ask for the feature
  Figures  tabular lining figures whatever the context, signs as wide as a
           figure, no ligatures: columns of numbers stand under each other
"""
import os

from fontTools import subset
from fontTools.ttLib import TTFont

SOURCE = "/usr/share/fonts/opentype/linux-libertine/"

CHARACTERS = (
    [c for c in range(0x20, 0x7F)]
    + [c for c in range(0xA0, 0x180)]  # Latin-1, Latin Extended-A
    + [0x218, 0x219, 0x21A, 0x21B, 0x1E9E]
    + [ord(c) for c in "αβγδεθλμπρστφψωΓΔΘΛΠΣΦΩ"]
    + [ord(c) for c in "‐‑‒–—‘’‚“”„†‡•…‰′″‹›⁄€−×÷±√∞≈≠≤≥·←↑→↓↔♯♭♮½¼¾⅛⅜⅝⅞⅓⅔★▷□●○◦№™"]
    + [0x2009, 0x202F]  # thin spaces
)


def single(font, tag):
    """The glyph substitutions of a feature for latin text, as a dictionary."""
    found = {}
    table = font["GSUB"].table
    for record in table.FeatureList.FeatureRecord:
        if record.FeatureTag != tag:
            continue
        for number in record.Feature.LookupListIndex:
            for part in table.LookupList.Lookup[number].SubTable:
                part = getattr(part, "ExtSubTable", part)
                for plain, other in getattr(part, "mapping", {}).items():
                    if (plain, other) != ("i", "idotaccent.sc"):  # Turkish keeps its dot, others don't
                        found.setdefault(plain, other)
    return found


def rename(font, name, style):
    postscript = name.replace(" ", "") + "-" + style
    for record in list(font["name"].names):
        if record.nameID not in (0, 7, 13, 14):  # keep copyright, trademark and licence
            font["name"].removeNames(nameID=record.nameID)
    words = {1: name, 2: style, 3: postscript, 4: name + " " + style, 5: "Version 1.000", 6: postscript,
             10: "Made from Linux Libertine 5.3.0 by make-fonts.py; Linux Libertine is a reserved font name of its authors."}
    for number, text in words.items():
        font["name"].setName(text, number, 3, 1, 0x409)
        font["name"].setName(text, number, 1, 0, 0)
    if "CFF " in font:
        font["CFF "].cff.fontNames = [postscript]
        top = font["CFF "].cff.topDictIndex[0]
        top.FullName, top.FamilyName = name + " " + style, name


def cut(font, features):
    options = subset.Options()
    options.layout_features = features
    options.name_IDs = ["*"]
    options.notdef_outline = True
    options.hinting = False
    options.drop_tables += ["FFTM", "BASE"]
    cutter = subset.Subsetter(options)
    cutter.populate(unicodes=CHARACTERS)
    cutter.subset(font)


def make_caps(font):
    small = single(font, "smcp")
    for table in font["cmap"].tables:
        for code, glyph in list(table.cmap.items()):
            # Only letters change: an ampersand or hyphen keeps its usual shape.
            if glyph in small and chr(code).islower():
                table.cmap[code] = small[glyph]


def track(font, units):
    """Sets every glyph that advances wider by units, half at each side."""
    glyphs = font.getGlyphSet()
    from fontTools.pens.t2CharStringPen import T2CharStringPen
    from fontTools.pens.transformPen import TransformPen
    strings = font["CFF "].cff.topDictIndex[0].CharStrings
    for name in font.getGlyphOrder():
        width, bearing = font["hmtx"][name]
        if not width:
            continue
        pen = T2CharStringPen(width + units, glyphs)
        glyphs[name].draw(TransformPen(pen, (1, 0, 0, 1, units // 2, 0)))
        old = strings[name]
        strings[name] = pen.getCharString(private=old.private, globalSubrs=old.globalSubrs)
        font["hmtx"][name] = (width + units, bearing + units // 2)


def make_figures(font):
    """Gives signs the advance of a figure, centred."""
    from fontTools.pens.t2CharStringPen import T2CharStringPen
    from fontTools.pens.transformPen import TransformPen
    cmap, glyphs = font.getBestCmap(), font.getGlyphSet()
    strings = font["CFF "].cff.topDictIndex[0].CharStrings
    wide = font["hmtx"][cmap[ord("0")]][0]
    for sign in "+−±=":
        name = cmap[ord(sign)]
        width, bearing = font["hmtx"][name]
        shrink = min(1, wide / width)
        pen = T2CharStringPen(wide, glyphs)
        shift = (wide - width * shrink) / 2
        glyphs[name].draw(TransformPen(pen, (shrink, 0, 0, 1, shift, 0)))
        old = strings[name]
        strings[name] = pen.getCharString(private=old.private, globalSubrs=old.globalSubrs)
        font["hmtx"][name] = (wide, int(bearing * shrink + shift))


def make(source, name, style, features, *steps):
    font = TTFont(SOURCE + source, recalcTimestamp=False)
    for step in (s for s in steps if s in (make_caps,)):
        step(font)  # before the cut, which would drop what no character reaches
    cut(font, features)
    for step in (s for s in steps if s not in (make_caps,)):
        step(font)
    rename(font, name, style)
    path = os.path.join(os.path.dirname(os.path.abspath(__file__)), (name + "-" + style).replace(" ", "") + ".otf")
    font.save(path)
    print(os.path.basename(path), os.path.getsize(path), "bytes")


KERNED = ["kern", "liga", "ccmp", "mark", "mkmk", "locl"]
make("LinLibertine_R.otf", "Lampblack Text", "Regular", KERNED)
make("LinLibertine_RI.otf", "Lampblack Text", "Italic", KERNED)
make("LinLibertine_RZ.otf", "Lampblack Text", "Semibold", KERNED)
make("LinLibertine_R.otf", "Lampblack Caps", "Regular", ["kern", "ccmp", "mark"], make_caps, lambda f: track(f, 50))
make("LinLibertine_R.otf", "Lampblack Figures", "Regular", ["ccmp"], make_figures)
