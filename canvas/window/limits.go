package window

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"rinsewright/checks"
)

// ownLimits is a set of limits of the user's own. A circuit names it by the name
// that stands in its file, as it names a set that the program carries; where the
// file lies is kept with the program's settings, so that a circuit that is handed
// on holds no path of somebody's disk.
type ownLimits struct {
	path    string
	profile *checks.Profile
}

// readLimits loads the sets of the user's own that were loaded before. A file
// that is gone or no longer fits is left out: a circuit that names it says so.
func (w *Window) readLimits() {
	for _, path := range w.app.Preferences().StringList(prefLimits) {
		if p, err := loadLimits(path); err == nil {
			w.putLimits(ownLimits{path, p})
		}
	}
}

func loadLimits(path string) (*checks.Profile, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	p, err := checks.LoadProfile(f)
	if err != nil {
		return nil, err
	}
	if checks.Builtin(p.Name) != nil {
		return nil, fmt.Errorf("the limits are named %q, as those that the program carries: give them a name of their own in the file", p.Name)
	}
	return p, nil
}

// putLimits takes a set in, in place of one of the same name.
func (w *Window) putLimits(l ownLimits) {
	w.limits = slices.DeleteFunc(w.limits, func(o ownLimits) bool { return o.profile.Name == l.profile.Name })
	w.limits = append(w.limits, l)
	slices.SortFunc(w.limits, func(a, b ownLimits) int {
		if a.profile.Name < b.profile.Name {
			return -1
		}
		return 1
	})
}

// askLimits asks for a file with limits and checks the circuit against them.
func (w *Window) askLimits() {
	w.chooseFile(choice{title: "Limits from a file", confirm: "Use", start: withSlash(w.folder()), ending: ".json"}, w.useLimits)
}

// useLimits loads a set of limits and checks the circuit against it.
func (w *Window) useLimits(path string) {
	p, err := loadLimits(path)
	if err != nil {
		w.tellDialog("These limits cannot be used", filepath.Base(path)+": "+err.Error())
		return
	}
	w.takeLimits(ownLimits{path, p})
	same := w.circuit().Header().Profile == p.Name
	if err := w.setProfile(p.Name); err != nil {
		w.tellIf(err)
		return
	}
	w.props.again()
	if same { // the file has changed, the circuit has not
		w.result = nil
		w.check(0)
	}
	w.tellHint("Limits: " + w.limitsTitle(p.Name))
}

// takeLimits takes a set in, keeps where it lies for the next start and puts it into
// the menu.
func (w *Window) takeLimits(l ownLimits) {
	w.putLimits(l)
	var paths []string
	for _, l := range w.limits {
		paths = append(paths, l.path)
	}
	w.app.Preferences().SetStringList(prefLimits, paths)
	w.menu = w.makeMenu()
	w.win.SetMainMenu(w.menu)
}

// profileNamed gives a set of limits by name, or nil.
func (w *Window) profileNamed(name string) *checks.Profile {
	if p := checks.Builtin(name); p != nil {
		return p
	}
	for _, l := range w.limits {
		if l.profile.Name == name {
			return l.profile
		}
	}
	return nil
}

// profile gives the limits of the present circuit: those it names, or those of
// the program while these are not at hand.
func (w *Window) profile() *checks.Profile {
	if p := w.profileNamed(w.circuit().Header().Profile); p != nil {
		return p
	}
	return checks.Builtin(checks.DefaultProfile)
}

// lacksLimits says that the circuit names limits that are not at hand.
func (w *Window) lacksLimits() bool { return w.profileNamed(w.circuit().Header().Profile) == nil }

// limitsNames lists all sets of limits that can be had.
func (w *Window) limitsNames() []string {
	out := checks.Profiles()
	for _, l := range w.limits {
		out = append(out, l.profile.Name)
	}
	return out
}

// limitsTitle is how a set of limits is called, with its file if it has one.
func (w *Window) limitsTitle(name string) string {
	for _, l := range w.limits {
		if l.profile.Name == name {
			return l.profile.Title + ", " + filepath.Base(l.path)
		}
	}
	if p := checks.Builtin(name); p != nil {
		return p.Title
	}
	return name
}

// limitsSource tells where a set of limits comes from.
func (w *Window) limitsSource(name string) string {
	for _, l := range w.limits {
		if l.profile.Name == name {
			return l.path
		}
	}
	if checks.Builtin(name) != nil {
		return "the program"
	}
	return "not at hand"
}
