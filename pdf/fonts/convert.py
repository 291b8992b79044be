"""Makes the fonts of package pdf: a subset of STIX Two as TrueType.

    python3 convert.py FOLDER

FOLDER holds STIXTwoText-Regular.otf, STIXTwoText-Bold.otf,
STIXTwoText-Italic.otf and STIXTwoMath-Regular.otf, version 2.13 b171 (those of
the Go module codeberg.org/go-fonts/stix v0.3.0, each in a folder of its own, are
found too). The results are written beside this script. It needs fontTools.

The sources draw letters with cubic curves (table CFF); the writer of PDF takes
quadratic ones (table glyf). The curves are approximated to 1/1000 of the size.
"""

import pathlib
import sys

from fontTools.pens.cu2quPen import Cu2QuPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont, newTable

TOLERANCE = 1.0  # units of the font, 1000 of which are the size

LETTERS = [
    (0x20, 0x7E), (0xA0, 0x17F),        # Basic Latin, Latin-1, Latin Extended-A
    (0x192, 0x192), (0x1A0, 0x1A1), (0x1AF, 0x1B0), (0x218, 0x21B),  # hooks, horns, commas below
    (0x2C6, 0x2C7), (0x2D8, 0x2DD),     # accents
    (0x384, 0x3CE), (0x3D1, 0x3D6), (0x3F5, 0x3F5),  # Greek
    (0x401, 0x40C), (0x40E, 0x44F), (0x451, 0x45C), (0x45E, 0x45F), (0x490, 0x491),  # Cyrillic
    (0x1E80, 0x1E85), (0x1E9E, 0x1E9E), (0x1EA0, 0x1EF9),  # Welsh, capital sharp s, Vietnamese
    (0x2010, 0x2015), (0x2018, 0x2022), (0x2026, 0x2026), (0x2030, 0x2033),
    (0x2039, 0x203A), (0x2044, 0x2044),
    (0x2070, 0x209C), (0x20AC, 0x20AC),  # raised and lowered figures, the euro
    (0x2103, 0x2103), (0x2113, 0x2113), (0x2116, 0x2116), (0x2122, 0x2122), (0x2126, 0x2126),
    (0x2153, 0x215E), (0x2212, 0x2212), (0x2219, 0x2219),
]
SIGNS = [
    (0x20, 0x20), (0x2190, 0x2195), (0x21CC, 0x21CC), (0x21D0, 0x21D4), (0x21C4, 0x21C4), (0x21CB, 0x21CB),
    (0x2200, 0x220B), (0x220F, 0x221E), (0x2220, 0x222B), (0x2234, 0x2237), (0x223C, 0x223C),
    (0x2243, 0x2248), (0x2260, 0x2265), (0x226A, 0x226B), (0x2282, 0x2287), (0x2295, 0x2299),
    (0x22A5, 0x22A5), (0x22C5, 0x22C5), (0x2300, 0x2300), (0x2308, 0x230B),
    (0x2500, 0x2502), (0x25A0, 0x25A1), (0x25AA, 0x25AB), (0x25B2, 0x25B3), (0x25BC, 0x25BD),
    (0x25C6, 0x25C7), (0x25CB, 0x25CB), (0x25CF, 0x25CF), (0x2605, 0x2606), (0x2610, 0x2612),
    (0x2640, 0x2642), (0x2713, 0x2713), (0x27E8, 0x27E9), (0x27F5, 0x27FA), (0x29B5, 0x29B5), (0xFFFD, 0xFFFD),
]

FACES = {
    "STIXTwoText-Regular": LETTERS,
    "STIXTwoText-Bold": LETTERS,
    "STIXTwoText-Italic": LETTERS,
    "STIXTwoMath-Regular": SIGNS,
}


def pairs(font):
    """Returns the kerning of printable ASCII as {(left, right): units}."""
    cmap = font.getBestCmap()
    names = {cmap[c] for c in range(0x21, 0x7F) if c in cmap}
    kern = {}
    gpos = font["GPOS"].table
    lookups = {i for f in gpos.FeatureList.FeatureRecord if f.FeatureTag == "kern" for i in f.Feature.LookupListIndex}
    for i in sorted(lookups):
        for sub in gpos.LookupList.Lookup[i].SubTable:
            sub = getattr(sub, "ExtSubTable", sub)
            if sub.LookupType != 2:
                continue
            for at, left in enumerate(sub.Coverage.glyphs):
                if left not in names:
                    continue
                if sub.Format == 1:
                    values = {p.SecondGlyph: p.Value1 for p in sub.PairSet[at].PairValueRecord}
                else:
                    row = sub.Class1Record[sub.ClassDef1.classDefs.get(left, 0)].Class2Record
                    values = {n: row[sub.ClassDef2.classDefs.get(n, 0)].Value1 for n in names}
                for right, value in values.items():
                    advance = getattr(value, "XAdvance", 0) if value else 0
                    if right in names and (sub.Format == 1 or advance):
                        kern.setdefault((left, right), advance)
    return {k: v for k, v in kern.items() if v}


def convert(source, target, ranges):
    font = TTFont(source)
    kern = pairs(font)
    options = Options()
    options.layout_features = []
    options.name_IDs = [0, 1, 2, 3, 4, 5, 6, 13, 14]
    options.name_languages = [0x409]
    options.notdef_outline = True
    options.glyph_names = False
    options.drop_tables += ["GSUB", "GPOS", "GDEF", "MATH", "DSIG"]
    subset = Subsetter(options)
    subset.populate(unicodes=[c for low, high in ranges for c in range(low, high + 1)])
    subset.subset(font)

    glyphs, order = font.getGlyphSet(), font.getGlyphOrder()
    outlines = {}
    for name in order:
        pen = TTGlyphPen(None)
        glyphs[name].draw(Cu2QuPen(pen, TOLERANCE, reverse_direction=True))
        outlines[name] = pen.glyph()
    font["loca"] = newTable("loca")
    font["glyf"] = glyf = newTable("glyf")
    glyf.glyphOrder, glyf.glyphs = order, outlines
    glyf.compile(font)
    for name in order:  # the left bearing is that of the new outline
        font["hmtx"][name] = (font["hmtx"][name][0], getattr(outlines[name], "xMin", 0))
    maxp = font["maxp"]
    maxp.tableVersion = 0x00010000
    maxp.maxZones = 1
    for field in ("maxTwilightPoints", "maxStorage", "maxFunctionDefs", "maxInstructionDefs", "maxStackElements", "maxSizeOfInstructions"):
        setattr(maxp, field, 0)
    maxp.maxComponentElements = 0
    del font["CFF "]
    if "VORG" in font:
        del font["VORG"]
    font["post"].formatType = 3.0
    font["post"].extraNames, font["post"].mapping = [], {}
    font.sfntVersion = "\x00\x01\x00\x00"

    kept = {k: v for k, v in kern.items() if k[0] in outlines and k[1] in outlines}
    if kept:
        from fontTools.ttLib.tables._k_e_r_n import KernTable_format_0

        table = KernTable_format_0()
        table.version, table.coverage, table.apple, table.kernTable = 0, 1, False, kept
        font["kern"] = newTable("kern")
        font["kern"].version, font["kern"].kernTables = 0, [table]
    font.recalcTimestamp = False
    font.save(target)
    print(target.name, target.stat().st_size, "bytes", len(order), "glyphs", len(kept), "pairs")


def main():
    folder, here = pathlib.Path(sys.argv[1]), pathlib.Path(__file__).parent
    for name, ranges in FACES.items():
        (source,) = folder.rglob(name + ".otf")
        convert(source, here / (name + ".ttf"), ranges)


main()
