package draw

import (
	"image/color"
	"math"
	"strings"
)

// file puts the sections together. Numbers of groups are those of the published
// DXF reference of release 2000.
func (d *dxf) file(modelSpace, paperSpace int) string {
	root, group := d.handle(), d.handle()
	blocks := d.blockSection(modelSpace, paperSpace)
	tables := d.tables(modelSpace, paperSpace)
	var b strings.Builder
	put(&b, 999, "Rinsewright")
	section := func(name string, body func()) {
		put(&b, 0, "SECTION")
		put(&b, 2, name)
		body()
		put(&b, 0, "ENDSEC")
	}
	section("HEADER", func() {
		for _, v := range []struct {
			name  string
			code  int
			value any
		}{{"$ACADVER", 1, "AC1015"}, {"$DWGCODEPAGE", 3, "ANSI_1252"}, {"$INSUNITS", 70, 4}, {"$MEASUREMENT", 70, 1},
			{"$LUNITS", 70, 2}, {"$LTSCALE", 40, 1.0}, {"$LWDISPLAY", 290, 1}, {"$HANDSEED", 5, hex(d.last + 0x100)}} {
			put(&b, 9, v.name)
			put(&b, v.code, v.value)
		}
		for _, v := range []struct {
			name string
			x, y float64
		}{{"$EXTMIN", 0, 0}, {"$EXTMAX", d.origin.Width(), d.origin.Height()}} {
			put(&b, 9, v.name)
			put(&b, 10, v.x)
			put(&b, 20, v.y)
			put(&b, 30, 0.0)
		}
	})
	section("CLASSES", func() {})
	section("TABLES", func() { b.WriteString(tables) })
	section("BLOCKS", func() { b.WriteString(blocks) })
	section("ENTITIES", func() { b.WriteString(d.entities.String()) })
	section("OBJECTS", func() {
		dictionary := func(handle, owner int) {
			put(&b, 0, "DICTIONARY")
			put(&b, 5, hex(handle))
			put(&b, 330, hex(owner))
			put(&b, 100, "AcDbDictionary")
			put(&b, 281, 1)
		}
		dictionary(root, 0)
		put(&b, 3, "ACAD_GROUP")
		put(&b, 350, hex(group))
		dictionary(group, root)
	})
	put(&b, 0, "EOF")
	return b.String()
}

// blockSection gives the two spaces, which are blocks too, and the symbols.
func (d *dxf) blockSection(modelSpace, paperSpace int) string {
	var b strings.Builder
	d.to, d.layer = &b, "0"
	for _, space := range []struct {
		name   string
		record int
	}{{"*Model_Space", modelSpace}, {"*Paper_Space", paperSpace}} {
		d.owner = space.record
		d.blockBegin(space.name)
		d.blockEnd()
	}
	return b.String() + d.inBlocks.String()
}

// tables gives layers, line types, the style of texts and what else a reader
// expects.
func (d *dxf) tables(modelSpace, paperSpace int) string {
	var b strings.Builder
	next := 0
	table := func(name string, entries int, body func(owner int)) {
		next++ // tables have the handles from 1
		owner := next
		put(&b, 0, "TABLE")
		put(&b, 2, name)
		put(&b, 5, hex(owner))
		put(&b, 330, "0")
		put(&b, 100, "AcDbSymbolTable")
		put(&b, 70, entries)
		if name == "DIMSTYLE" {
			put(&b, 100, "AcDbDimStyleTable")
			put(&b, 71, 0)
		}
		body(owner)
		put(&b, 0, "ENDTAB")
	}
	entry := func(kind string, owner, handle int, class, name string) {
		put(&b, 0, kind)
		put(&b, 5, hex(handle))
		put(&b, 330, hex(owner))
		put(&b, 100, "AcDbSymbolTableRecord")
		put(&b, 100, class)
		put(&b, 2, name)
		if kind != "BLOCK_RECORD" {
			put(&b, 70, 0)
		}
	}
	table("VPORT", 0, func(int) {})
	table("LTYPE", 3+len(d.dashes), func(owner int) {
		for _, name := range []string{"ByBlock", "ByLayer", "Continuous"} {
			entry("LTYPE", owner, d.handle(), "AcDbLinetypeTableRecord", name)
			put(&b, 3, "")
			put(&b, 72, 65)
			put(&b, 73, 0)
			put(&b, 40, 0.0)
		}
		for _, dash := range d.dashes {
			entry("LTYPE", owner, d.handle(), "AcDbLinetypeTableRecord", d.lineType(dash))
			sum := 0.0
			for _, v := range dash {
				sum += v
			}
			put(&b, 3, "")
			put(&b, 72, 65)
			put(&b, 73, len(dash))
			put(&b, 40, sum)
			for i, v := range dash {
				if i%2 == 1 {
					v = -v // a gap
				}
				put(&b, 49, v)
				put(&b, 74, 0)
			}
		}
	})
	table("LAYER", len(d.layers), func(owner int) {
		for _, name := range d.layers {
			entry("LAYER", owner, d.handle(), "AcDbLayerTableRecord", name)
			put(&b, 62, 7)
			put(&b, 6, "Continuous")
		}
	})
	table("STYLE", 1, func(owner int) {
		entry("STYLE", owner, d.handle(), "AcDbTextStyleTableRecord", "STANDARD")
		for _, v := range []struct {
			code  int
			value any
		}{{40, 0.0}, {41, 1.0}, {50, 0.0}, {71, 0}, {42, tagHeight}, {3, "arial.ttf"}, {4, ""}} {
			put(&b, v.code, v.value)
		}
	})
	table("VIEW", 0, func(int) {})
	table("UCS", 0, func(int) {})
	table("APPID", 1, func(owner int) { entry("APPID", owner, d.handle(), "AcDbRegAppTableRecord", "ACAD") })
	table("DIMSTYLE", 0, func(int) {})
	table("BLOCK_RECORD", 2+len(d.order), func(owner int) {
		entry("BLOCK_RECORD", owner, modelSpace, "AcDbBlockTableRecord", "*Model_Space")
		entry("BLOCK_RECORD", owner, paperSpace, "AcDbBlockTableRecord", "*Paper_Space")
		for _, block := range d.order {
			entry("BLOCK_RECORD", owner, block.record, "AcDbBlockTableRecord", block.name)
		}
	})
	return b.String()
}

// indexed gives one of the numbered colours of the format, 10 to 249: twenty-four
// hues, each in five steps of brightness, full and paled by half.
func indexed(n int) color.RGBA {
	value := []float64{255, 165, 127, 76, 38}[n%10/2]
	pale := 0.0
	if n%2 == 1 {
		pale = 0.5
	}
	hue := float64(n/10-1) * 15
	part := func(shift float64) uint8 {
		// A colour's share over the hue: full for a third of the circle, none for
		// another, and rising or falling evenly between.
		at := math.Mod(hue+shift, 360)
		share := min(max(math.Abs(at-180)/60-1, 0), 1)
		return uint8(value * (pale + (1-pale)*share))
	}
	return color.RGBA{part(0), part(240), part(120), 255}
}

// nearestIndex gives the numbered colour nearest to c; greys among them.
func nearestIndex(c color.RGBA) int {
	best, least := 7, math.Inf(1)
	try := func(n int, r color.RGBA) {
		dr, dg, db := float64(r.R)-float64(c.R), float64(r.G)-float64(c.G), float64(r.B)-float64(c.B)
		if far := dr*dr + dg*dg + db*db; far < least {
			best, least = n, far
		}
	}
	try(8, rgb(0x808080))
	try(9, rgb(0xC0C0C0))
	for n := 10; n < 250; n++ {
		try(n, indexed(n))
	}
	return best
}
