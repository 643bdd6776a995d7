package group

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"sort"
	"strings"
	"sync"

	"rinsewright/assets"
	"rinsewright/model/catalogue"
	"rinsewright/model/store"
)

// Builtin gives the groups that the program carries, the largest headings
// first and under each the smallest group first.
var Builtin = sync.OnceValue(func() []*Group {
	list, err := Load(assets.Files, catalogue.Builtin())
	if err != nil {
		panic("group: embedded data: " + err.Error()) // held by a test
	}
	return list
})

// Named gives the group of a name that the program carries, or nil.
func Named(name string) *Group {
	for _, g := range Builtin() {
		if g.Name == name {
			return g
		}
	}
	return nil
}

// Load reads the groups in groups/*.json. The error names the file.
func Load(files fs.FS, cat *catalogue.Catalogue) ([]*Group, error) {
	names, err := fs.Glob(files, "groups/*.json")
	if err != nil {
		return nil, err
	}
	sort.Strings(names)
	var out []*Group
	for _, name := range names {
		b, err := fs.ReadFile(files, name)
		if err != nil {
			return nil, err
		}
		g, err := decoded(path.Base(name), b, cat)
		if err != nil {
			return nil, err
		}
		out = append(out, g)
	}
	inOrder(out)
	return out, nil
}

func decoded(name string, data []byte, cat *catalogue.Catalogue) (*Group, error) {
	g, err := Decode(name, data)
	if err != nil {
		return nil, err
	}
	if err := g.Check(cat); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if g.Name+".json" != name {
		return nil, fmt.Errorf("%s: is named %q", name, g.Name)
	}
	return g, nil
}

// inOrder brings groups with the same heading together, the heading of the largest
// first, and under each the smallest first.
func inOrder(list []*Group) {
	size := func(g *Group) int { return len(g.Circuit.Parts()) }
	largest := map[string]int{}
	for _, g := range list {
		largest[g.Heading] = max(largest[g.Heading], size(g))
	}
	slices.SortStableFunc(list, func(a, b *Group) int {
		return cmp.Or(largest[b.Heading]-largest[a.Heading], strings.Compare(a.Heading, b.Heading), size(a)-size(b), strings.Compare(a.Title, b.Title))
	})
}

// maxFiles is how many of a user's groups are read.
const maxFiles = 500

// ReadFolder reads the user's groups in a folder. A folder that is not there holds
// none. A file that cannot be read or placed is left out and told among the
// problems.
func ReadFolder(dir string, cat *catalogue.Catalogue) (groups []*Group, problems []error) {
	entries, err := os.ReadDir(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, []error{err}
	}
	for _, e := range entries {
		if e.IsDir() || filepath.Ext(e.Name()) != ".json" || strings.HasPrefix(e.Name(), ".") {
			continue
		}
		if len(groups) == maxFiles {
			problems = append(problems, fmt.Errorf("%s: more than %d groups; the rest is left out", dir, maxFiles))
			break
		}
		b, err := os.ReadFile(filepath.Join(dir, e.Name()))
		if err == nil {
			var g *Group
			if g, err = decoded(e.Name(), b, cat); err == nil {
				g.Own = true
				groups = append(groups, g)
				continue
			}
		}
		problems = append(problems, err)
	}
	inOrder(groups)
	return groups, problems
}

// ErrTaken says that a folder has a group of that name already.
var ErrTaken = errors.New("there is a group of that name already")

// Save writes a group into a folder, which is made if it is not there. Where a group
// of the same name stands there already, the error wraps [ErrTaken] unless replace is
// set; the old one is then kept as a backup.
func Save(dir string, g *Group, replace bool) error {
	text, err := Encode(g)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return err
	}
	to := filepath.Join(dir, g.Name+".json")
	if _, err := os.Lstat(to); err == nil && !replace {
		return fmt.Errorf("%s: %w", g.Title, ErrTaken)
	}
	return store.Save(to, text)
}

// Remove deletes the user's group of a name from a folder. A group that is not there
// is an error that wraps [fs.ErrNotExist].
func Remove(dir, name string) error {
	if !named.MatchString(name) {
		return fmt.Errorf("%q is not the name of a group", name)
	}
	return os.Remove(filepath.Join(dir, name+".json"))
}
