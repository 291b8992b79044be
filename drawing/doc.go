// Package drawing holds pictures made of a few plain shapes and writes them as
// SVG.
//
// A picture is a canvas of a size with shapes upon it, painted in their order:
// lines, polylines, polygons, rectangles, circles and text. Lengths are in units
// of the canvas, x to the right, y downwards, from the upper left corner. A role
// says what a colour is for (ink, fill A, accent B); the theme of the writer
// turns it into colours for light, dark and paper. Text is made of runs
// (package chem), so that formulas keep their subscripts and charges.
//
// Nothing in a picture belongs to SVG: a writer of another format needs the
// shapes, Theme and the widths of letters alone.
//
// The format is SVG 1.1 (W3C Recommendation, 2011) with what HTML pages allow
// besides; contrast follows WCAG 2.2 (1.4.3, 1.4.11). What a picture shows and
// how it is said in words is left to package diagram.
package drawing
