// Package sheet sets a drawing on sheets of paper to hand over: border and zones,
// title block, table of revisions, legend of the symbols and media used, and, where
// one sheet is not enough, several with connectors where a run goes on.
//
// A sheet is a [draw.Picture] of the size of the paper, so that every writer
// renders it. The package knows no window and no format of file.
package sheet
