// Package draw makes one description of a drawing, a [Picture] in millimetres,
// and renders it: to the screen, to PNG and to SVG.
//
// [Circuit] makes the picture of a circuit. A picture names colours by their
// role; a [Palette] says what they look like, in light or dark. The symbols of
// parts stay references to their kind, which the screen draws from stored
// images and a [Writer] takes apart into lines with [Symbol.Figures].
//
// What is made for paper is added to the picture: [Findings] marks places,
// [FindingList] tells them beneath the drawing, [Caption] sets title and legend.
//
// The package knows no window and no rule.
package draw
