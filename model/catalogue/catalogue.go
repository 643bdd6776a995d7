package catalogue

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"io/fs"
	"path"
	"sort"
	"sync"

	"rinsewright/assets"
)

// Catalogue is a set of kinds and tube sizes. It never changes once loaded.
type Catalogue struct {
	kinds  []*Kind // in the order of the store of parts
	byName map[string]*Kind
	tubes  []Tube
	bySize map[string]int
}

// Builtin gives the catalogue that the program carries with it.
var Builtin = sync.OnceValue(func() *Catalogue {
	c, err := Load(assets.Files)
	if err != nil {
		panic("catalogue: embedded data: " + err.Error()) // held by a test
	}
	return c
})

// Load reads the kinds in kinds/*.json (each file one list of kinds) and the
// tube tables in tubes/*.json. The error names the file and the kind.
func Load(files fs.FS) (*Catalogue, error) {
	c := &Catalogue{byName: map[string]*Kind{}, bySize: map[string]int{}}
	if err := c.loadKinds(files); err != nil {
		return nil, err
	}
	if err := c.loadTubes(files); err != nil {
		return nil, err
	}
	return c, nil
}

func (c *Catalogue) loadKinds(files fs.FS) error {
	names, err := fs.Glob(files, "kinds/*.json")
	if err != nil {
		return err
	}
	sort.Strings(names)
	for _, name := range names {
		var list []*Kind
		if err := readStrict(files, name, &list); err != nil {
			return err
		}
		for _, k := range list {
			if err := k.validate(); err != nil {
				return fmt.Errorf("%s: kind %q: %w", path.Base(name), k.Name, err)
			}
			if c.byName[k.Name] != nil {
				return fmt.Errorf("%s: kind %q stands twice", path.Base(name), k.Name)
			}
			c.byName[k.Name] = k
			c.kinds = append(c.kinds, k)
		}
	}
	return nil
}

func readStrict(files fs.FS, name string, into any) error {
	b, err := fs.ReadFile(files, name)
	if err != nil {
		return err
	}
	d := json.NewDecoder(bytes.NewReader(b))
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		return fmt.Errorf("%s: %w", path.Base(name), err)
	}
	if _, err := d.Token(); err != io.EOF {
		return fmt.Errorf("%s: text after the end", path.Base(name))
	}
	return nil
}

// Kinds gives all kinds in the order of the store of parts.
func (c *Catalogue) Kinds() []*Kind { return c.kinds }

// Kind gives the kind of a name, or nil.
func (c *Catalogue) Kind(name string) *Kind { return c.byName[name] }
