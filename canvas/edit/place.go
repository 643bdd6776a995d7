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
// is; see [Snapped]. Its ports are joined to free ports that face them at the
// same place, face to face, and to loose ends of runs that lie there.
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
	f.join([]model.Part{p})
	return f.edit("place " + d.called(k, m.Tag)), nil
}

// FitsRun says whether [Drawing.PlaceOnRun] can put a part of the kind on a run.
func FitsRun(k *catalogue.Kind) bool { return InLine(k) || Taps(k) }

// PlaceOnRun puts a part of a kind on a run, at the place of its line nearest to
// the pose. A kind that can stand in a run (see [InLine]) parts it in two, which
// keep its size and, together, its stretches; the part takes the run's size, and
// its elevation where the run tells it; of the pose only the place counts. A kind
// with one port (see [Taps]) comes on the branch of a tee, as far as can be with
// the turn of the pose. Other kinds are an error.
func (d *Drawing) PlaceOnRun(kind string, run model.ID, pose Pose) (model.Edit, error) {
	k, err := d.kindNamed(kind)
	if err != nil {
		return model.Edit{}, err
	}
	r := d.circuit.Run(run)
	if r == nil {
		return model.Edit{}, fmt.Errorf("there is no run %s", run)
	}
	f := d.draft()
	tag := f.nextTag(k.Prefix)
	if Taps(k) {
		if _, err := f.tap(k, tag, r, pose.At, pose); err != nil {
			return model.Edit{}, err
		}
		return f.edit("place " + d.called(k, tag) + " on " + d.name(r)), nil
	}
	if _, _, err := f.insert(k, tag, r, pose.At, nil); err != nil {
		return model.Edit{}, err
	}
	return f.edit("place " + d.called(k, tag) + " in " + d.name(r)), nil
}

func (d *Drawing) called(k *catalogue.Kind, tag string) string {
	if tag != "" {
		return tag
	}
	return lowerFirst(k.Title)
}
