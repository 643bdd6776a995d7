package edit

import (
	"fmt"

	"rinsewright/model"
	"rinsewright/model/catalogue"
)

func (d *Drawing) kindNamed(name string) (*catalogue.Kind, error) {
	k := d.cat.Kind(name)
	if k == nil {
		return nil, fmt.Errorf("the catalogue has no kind %q", name)
	}
	return k, nil
}

// Place adds a part of a kind with the next free tag. The pose is taken as it
// is; see [Snapped].
func (d *Drawing) Place(kind string, pose Pose) (model.Edit, error) {
	k, err := d.kindNamed(kind)
	if err != nil {
		return model.Edit{}, err
	}
	f := d.draft()
	p, err := k.New(f.newID("p"), pose.At)
	if err != nil {
		return model.Edit{}, err
	}
	m := p.Meta()
	m.Turn, m.Mirrored, m.Tag = pose.Turn, pose.Mirrored, f.nextTag(k.Prefix)
	f.put(p)
	return f.edit("place " + f.called(k, m.Tag)), nil
}

// PlaceOnRun puts a part of a kind into a run, at the place of its line nearest
// to at: the run becomes two, which keep its size and, together, its stretches;
// the part takes the run's size, and its elevation where the run tells it. It
// is an error for a kind that cannot stand in a run; see [InLine].
func (d *Drawing) PlaceOnRun(kind string, run model.ID, at model.Point) (model.Edit, error) {
	k, err := d.kindNamed(kind)
	if err != nil {
		return model.Edit{}, err
	}
	r := d.circuit.Run(run)
	if r == nil {
		return model.Edit{}, fmt.Errorf("there is no run %s", run)
	}
	f := d.draft()
	p, _, err := f.insert(k, f.nextTag(k.Prefix), r, at, nil)
	if err != nil {
		return model.Edit{}, err
	}
	return f.edit("place " + f.called(k, p.Meta().Tag) + " in " + d.name(r)), nil
}

func (d *Drawing) called(k *catalogue.Kind, tag string) string {
	if tag != "" {
		return tag
	}
	return lowerFirst(k.Title)
}
