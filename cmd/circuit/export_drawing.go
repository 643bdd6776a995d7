package main

import (
	"context"
	"fmt"
	"math"
	"path/filepath"
	"strconv"
	"strings"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/scene"
	"rinsewright/canvas/sheet"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/flow"
	"rinsewright/model/network"
)

// noSheet is the --sheet that sets the drawing on no paper.
const noSheet = "none"

// defaultSheet is the paper of a PDF for which none is named.
const defaultSheet = "A3"

// sheetOptions are those of one call that say how a drawing is set.
type sheetOptions struct {
	paper, lie, scale string
	frames            bool
}

// set gives the options of a sheet; false if the drawing is set on none.
func (s sheetOptions) set(suffix string) (sheet.Options, bool, error) {
	var out sheet.Options
	paper := s.paper
	if paper == "" {
		paper = noSheet
		if suffix == ".pdf" || s.frames || s.scale != "" || s.lie != "" {
			paper = defaultSheet
		}
	}
	if paper == noSheet {
		if s.frames || s.scale != "" || s.lie != "" {
			return out, false, fmt.Errorf("--scale, --lie and --frames ask for a sheet: name one with --sheet, as A3")
		}
		return out, false, nil
	}
	var err error
	if out.Format, err = sheet.Find(paper); err != nil {
		return out, false, fmt.Errorf("--sheet: %w, or %s", err, noSheet)
	}
	switch s.lie {
	case "":
	case "landscape":
		out.Orientation = sheet.Landscape
	case "portrait":
		out.Orientation = sheet.Portrait
	default:
		return out, false, fmt.Errorf("--lie is landscape or portrait, not %q", s.lie)
	}
	if s.frames {
		out.Split = sheet.ByFrame
	}
	out.Scale, err = scaleOf(s.scale)
	return out, true, err
}

// scaleOf reads a scale: "0.5", "50%" and "1:2" are the same; "" and "fit" are 0.
func scaleOf(text string) (float64, error) {
	bad := fmt.Errorf("--scale is fit, a number as 0.5, a share as 50%% or a ratio as 1:2, from 0.1 to 4; not %q", text)
	text = strings.TrimSpace(text)
	if text == "" || text == "fit" {
		return 0, nil
	}
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(s), ",", ".", 1), 64)
		if err != nil {
			return math.NaN()
		}
		return v
	}
	var v float64
	if a, b, ok := strings.Cut(text, ":"); ok {
		v = number(a) / number(b)
	} else if a, ok := strings.CutSuffix(text, "%"); ok {
		v = number(a) / 100
	} else {
		v = number(text)
	}
	if !(v >= 0.1 && v <= 4) {
		return 0, bad
	}
	return v, nil
}

// writeDrawing gives the files of a drawing: one, or for formats that hold one
// sheet a file as many as there are sheets, numbered before the ending.
func writeDrawing(ctx context.Context, to string, c *model.Circuit, opt exportOptions) ([]draw.File, []string, error) {
	suffix := strings.ToLower(filepath.Ext(to))
	onSheet, sheets, err := opt.sheet.set(suffix)
	if err != nil {
		return nil, nil, err
	}
	step, err := stepNamed(c, opt.step)
	if err != nil {
		return nil, nil, err
	}
	cat := catalogue.Builtin()
	plant := network.Build(c, cat)
	scenery := scene.Of(plant, step)
	remark := ""
	if opt.values != scene.NoValue {
		solution, err := flow.Solve(plant, plant.Heights(), step, flow.Options{})
		if err != nil {
			return nil, nil, fmt.Errorf("step %s: %w", step.Name, err)
		}
		scenery.Values = scene.Values(solution, opt.values, opt.system)
		remark = scene.Remark(solution, opt.values, opt.system)
	}
	picture := draw.Circuit(c, cat, scenery)
	var marks []draw.Mark
	heading := ""
	if opt.findings {
		if marks, heading, err = findingMarks(ctx, c, step, opt); err != nil {
			return nil, nil, err
		}
	}
	var notes []string
	pages := []*draw.Picture{picture}
	if sheets {
		draw.Findings(picture, marks)
		onSheet.Step, onSheet.Flow, onSheet.NoLegend = step, scenery.Flow, opt.plain
		onSheet.Heading, onSheet.Marks = heading, marks
		onSheet.Shown = strings.Join(append(draw.StepWords(step, opt.system), words(remark)...), "  ·  ")
		book, err := sheet.Set(c, cat, picture, onSheet)
		if err != nil {
			return nil, nil, err
		}
		pages, notes = book.Pages, book.Notes
	} else {
		if remark != "" {
			draw.Remark(picture, remark)
		}
		if opt.findings {
			draw.Findings(picture, marks)
			draw.FindingList(picture, heading, marks)
		}
		if !opt.plain {
			draw.Caption(picture, c, step, opt.system)
		}
	}
	palette := draw.Light
	if opt.dark {
		palette = draw.Dark
	}
	h := c.Header()
	about := draw.About{Title: h.Name, Author: h.Author, Subject: strings.Join(draw.StepWords(step, opt.system), ", ")}
	out, err := draw.Files(to, pages, palette, about, opt.dpi)
	return out, notes, err
}

func words(s string) []string {
	if s == "" {
		return nil
	}
	return []string{s}
}
