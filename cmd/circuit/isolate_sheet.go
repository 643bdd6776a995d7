package main

import (
	"bytes"
	"fmt"
	"path/filepath"
	"strings"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/scene"
	"rinsewright/canvas/sheet"
	"rinsewright/model/isolation"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
	"rinsewright/model/store"
)

// planTable writes the order of work of a plan as CSV, the caution in its last row.
func planTable(b *bytes.Buffer, p *network.Plant, pl *isolation.Plan, s quantity.System) {
	writeRow(b, isolation.Columns)
	for _, row := range pl.Rows(p, s) {
		writeRow(b, row)
	}
	caution := make([]string, len(isolation.Columns))
	caution[4] = isolation.Caution
	writeRow(b, caution)
}

// writePlan writes a plan to a file: a .csv holds the order of work, any format of
// drawings the plan sheets, on the paper named.
func writePlan(to, paper string, p *network.Plant, pl *isolation.Plan, ask isolation.Ask, s quantity.System) ([]string, error) {
	if !pl.Found {
		return nil, fmt.Errorf("no plan: %s", pl.Why)
	}
	if strings.EqualFold(filepath.Ext(to), ".csv") {
		var b bytes.Buffer
		planTable(&b, p, pl, s)
		return []string{to}, store.Save(to, b.Bytes())
	}
	format, err := sheet.Find(paper)
	if err != nil {
		return nil, fmt.Errorf("--sheet: %w", err)
	}
	opt, signs := scene.Isolation(p, pl, ask.Work)
	picture := draw.Circuit(p.Circuit, p.Catalogue, opt)
	var names []string
	for _, id := range ask.Work {
		names = append(names, isolation.PlaceName(p, id))
	}
	title := "Isolation of " + strings.Join(names, ", ")
	book, err := sheet.SetSigned(p.Circuit, p.Catalogue, picture, signs, sheet.Options{Format: format, Shown: title, SectionsTitle: "points, order of work, signatures",
		Sections: sheet.PlanSections(p, pl, signs, s), Caution: isolation.Caution, Keys: scene.IsolationKey(pl), Signs: signLegend()})
	if err != nil {
		return nil, err
	}
	h := p.Circuit.Header()
	files, err := draw.Files(to, book.Pages, draw.Light, draw.About{Title: title, Author: h.Author, Subject: h.Name}, 200)
	if err != nil {
		return nil, err
	}
	var written []string
	for _, f := range files {
		if err := store.Save(f.Path, f.Data); err != nil {
			return written, err
		}
		written = append(written, f.Path)
	}
	return written, nil
}

// signLegend gives the signs of a plan with their words.
func signLegend() []sheet.SignEntry {
	var out []sheet.SignEntry
	for _, s := range scene.SignWords() {
		out = append(out, sheet.SignEntry{Sign: s.Sign, Words: s.Words})
	}
	return out
}
