package heat

import (
	"math"

	"rinsewright/model"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
	"rinsewright/model/thermal"
	"rinsewright/model/vessel"
)

// TankVolume gives what stands in a tank: at its level, else its working volume.
func TankVolume(tank *model.Vessel) (Volume, []network.Missing) {
	if level, told := tank.Level.Get(); told {
		if body, missing, err := vessel.Of(tank); len(missing) == 0 && err == nil {
			return body.At(level), nil
		}
	}
	if v, told := tank.Working.Get(); told {
		return v, nil
	}
	return 0, []network.Missing{{Record: tank.ID, Key: "working_volume_L"}}
}

// HoldUp gives what a route holds beside vessels, as far as it is known, and what is
// missing to know all of it.
func HoldUp(p *network.Plant, r *network.Route) (Volume, []network.Missing) {
	var sum Volume
	var missing []network.Missing
	for e := range p.Edges {
		if !r.InFlow[e] {
			continue
		}
		if _, ok := p.Circuit.Part(p.Edges[e].Part).(*model.Vessel); ok {
			continue
		}
		if v, known := p.Edges[e].Volume.Get(); known {
			sum += v
		} else {
			missing = append(missing, p.Edges[e].Missing...)
		}
	}
	return sum, missing
}

// shellOf gives the area of a vessel's steel: the shell over the whole height and two
// flat ends. A dished end adds about a tenth to its own area and takes as much from the
// shell.
func shellOf(v *model.Vessel) (Area, []network.Missing) {
	d, okD := v.Diameter.Get()
	h, okH := v.Height.Get()
	var missing []network.Missing
	if !okD {
		missing = append(missing, network.Missing{Record: v.ID, Key: "diameter_m"})
	}
	if !okH {
		missing = append(missing, network.Missing{Record: v.ID, Key: "height_m"})
	}
	return Area(math.Pi*float64(d)*float64(h) + math.Pi/2*float64(d*d)), missing
}

// steel adds up the steel of the tubes and vessels that warm up with the circuit, as far
// as it is known, in kg, and what is missing to know all of it.
func (w *work) steel() (float64, []network.Missing) {
	sum := 0.0
	var missing []network.Missing
	for e := range w.p.Edges {
		edge := &w.p.Edges[e]
		if edge.Run == "" || !w.sol.Route.InFlow[e] {
			continue
		}
		length, known := edge.Length.Get()
		tube, sized := w.p.Catalogue.Tube(w.p.Circuit.Run(edge.Run).Size.Or(""))
		switch {
		case known && length == 0:
		case !known:
			missing = append(missing, network.Missing{Record: edge.Run, Key: "stretches"})
		case !sized:
			missing = append(missing, network.Missing{Record: edge.Run, Key: "size"})
		default:
			sum += thermal.SteelOf(tube.Outside, tube.Wall, length)
		}
	}
	for _, v := range w.vessels {
		area, gone := shellOf(v)
		wall, told := v.Wall.Get()
		if !told {
			gone = append(gone, network.Missing{Record: v.ID, Key: "wall_mm"})
		}
		missing = append(missing, gone...)
		if len(gone) == 0 {
			sum += float64(area) * float64(wall) * thermal.SteelDensity
		}
	}
	return sum, missing
}
