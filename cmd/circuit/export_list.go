package main

import (
	"bytes"
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"rinsewright/canvas/draw"
	"rinsewright/checks"
	"rinsewright/checks/listing"
	"rinsewright/checks/lists"
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// findingList is the list of findings beside those of package lists.
const findingList = "findings"

func listNames() string { return strings.Join(append(lists.Names(), findingList), ", ") }

// writeList writes one list, or in a workbook all of them.
func writeList(ctx context.Context, to string, c *model.Circuit, opt exportOptions) ([]draw.File, []string, error) {
	suffix := strings.ToLower(filepath.Ext(to))
	names := []string{opt.list}
	switch {
	case opt.list == "" && suffix == ".xlsx":
		names = append(lists.Names(), findingList)
	case opt.list == "":
		names = []string{findingList}
	case opt.list != findingList && !slices.Contains(lists.Names(), opt.list):
		return nil, nil, fmt.Errorf("--list is one of %s, not %q", listNames(), opt.list)
	}
	if opt.step != "" {
		return nil, nil, fmt.Errorf("--step is of drawings: a list tells all steps")
	}
	var b bytes.Buffer
	if names[0] == findingList && suffix != ".xlsx" {
		result, err := findingsOf(ctx, c, opt.profile)
		if err != nil {
			return nil, nil, err
		}
		if suffix == ".csv" {
			err = listing.WriteCSV(&b, c, result, checks.Rules(), opt.system)
		} else {
			err = listing.WriteJSON(&b, result)
		}
		return []draw.File{{Path: to, Data: b.Bytes()}}, nil, err
	}
	s := &checks.Snapshot{Circuit: c, Catalogue: catalogue.Builtin()}
	var tables []*lists.Table
	for _, name := range names {
		if name == findingList {
			result, err := findingsOf(ctx, c, opt.profile)
			if err != nil {
				return nil, nil, err
			}
			tables = append(tables, listing.FindingTable(c, result, checks.Rules(), opt.system))
			continue
		}
		tables = append(tables, lists.Make(name, s, opt.system))
	}
	var notes []string
	for _, t := range tables {
		if suffix == ".csv" { // which has no room for them
			notes = append(notes, t.Remarks...)
		}
	}
	var err error
	switch suffix {
	case ".csv":
		err = listing.WriteTableCSV(&b, tables[0])
	case ".xlsx":
		err = listing.WriteXLSX(&b, c.Header(), tables)
	default:
		err = listing.WriteTableJSON(&b, tables[0])
	}
	return []draw.File{{Path: to, Data: b.Bytes()}}, notes, err
}
