package catalogue

import (
	"fmt"
	"io/fs"
	"math"
	"path"
	"sort"

	"rinsewright/model"
	"rinsewright/model/quantity"
)

// Tube is one size of a published table.
type Tube struct {
	Size    model.TubeSize // "EN 10357-A DN50"
	Series  string         // "EN 10357-A"
	Nominal string         // "DN50"
	Short   string         // as a drawing labels it: "DN50", "Ø51", "1 1/2\""
	Outside quantity.Bore
	Wall    quantity.Bore
	Source  string // where the row comes from and how well it is known
}

// Inside gives the inside diameter, the outside less two walls.
func (t Tube) Inside() quantity.Bore { return t.Outside - 2*t.Wall }

// Area gives the area of the bore in m².
func (t Tube) Area() float64 { return BoreArea(t.Inside()) }

// BoreArea gives the area of a circle of diameter d in m².
func BoreArea(d quantity.Bore) float64 { return math.Pi / 4 * float64(d) * float64(d) }

type tubeTable struct {
	Series string    `json:"series"`
	Title  string    `json:"title"`
	Unit   string    `json:"nominal_unit,omitempty"` // printed before the nominal size: "DN"
	Before string    `json:"label_before,omitempty"` // around the nominal size on a drawing
	After  string    `json:"label_after,omitempty"`
	Source string    `json:"source"`
	Sizes  []tubeRow `json:"sizes"`
}

type tubeRow struct {
	Nominal string  `json:"nominal"`
	Outside float64 `json:"od_mm"`
	Wall    float64 `json:"wall_mm"`
	Source  string  `json:"source,omitempty"` // where it differs from the table's
}

func (c *Catalogue) loadTubes(files fs.FS) error {
	names, err := fs.Glob(files, "tubes/*.json")
	if err != nil {
		return err
	}
	sort.Strings(names)
	for _, name := range names {
		var t tubeTable
		if err := readStrict(files, name, &t); err != nil {
			return err
		}
		for _, row := range t.Sizes {
			tube := Tube{
				Size: model.TubeSize(t.Series + " " + t.Unit + row.Nominal), Series: t.Series, Nominal: t.Unit + row.Nominal,
				Short:   t.Before + t.Unit + row.Nominal + t.After,
				Outside: quantity.Millimetres(row.Outside), Wall: quantity.Millimetres(row.Wall), Source: row.Source,
			}
			if tube.Source == "" {
				tube.Source = t.Source
			}
			if tube.Inside() <= 0 || tube.Wall <= 0 {
				return fmt.Errorf("%s: %s: no bore is left", path.Base(name), tube.Size)
			}
			if _, twice := c.bySize[string(tube.Size)]; twice {
				return fmt.Errorf("%s: %s stands twice", path.Base(name), tube.Size)
			}
			c.bySize[string(tube.Size)] = len(c.tubes)
			c.tubes = append(c.tubes, tube)
		}
	}
	return nil
}

// Tubes gives all tube sizes, table by table, in the order of the tables.
func (c *Catalogue) Tubes() []Tube { return c.tubes }

// Tube gives the tube of a size.
func (c *Catalogue) Tube(size model.TubeSize) (Tube, bool) {
	i, ok := c.bySize[string(size)]
	if !ok {
		return Tube{}, false
	}
	return c.tubes[i], true
}

// Series gives the sizes of the table that size is of, smallest bore first.
func (c *Catalogue) Series(size model.TubeSize) []Tube {
	of, ok := c.Tube(size)
	if !ok {
		return nil
	}
	var out []Tube
	for _, t := range c.tubes {
		if t.Series == of.Series {
			out = append(out, t)
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Inside() < out[j].Inside() })
	return out
}
