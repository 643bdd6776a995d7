package network

import (
	"math"

	"rinsewright/model"
	. "rinsewright/model/quantity"
)

// Venting finds where air is trapped when liquid fills the wetted edges in the
// line-ups, one after the other: [Plant.Draining] upside down. Air at a point gets
// out if it need not dip below its level on the way to the open air: a vent, the
// mouth of a sewer drain, an open leak outlet, a vessel that is vented, or the
// destination of the step. That the flow may sweep air along is not counted.
//
// The inside of a vessel counts with the height of its top and is not looked at
// itself. Volumes in m³, heights in m, with the tolerance of Draining.
func (p *Plant) Venting(h *Heights, wetted []bool, lineUps []*LineUp) *Venting {
	d := newDrainage(p, h, wetted)
	d.turnOver()
	for _, l := range lineUps {
		open := make([]bool, len(l.Open))
		for e, o := range l.Open {
			open[e] = o || p.Edges[e].Path < 0
		}
		d.through(open, append(p.ends(l, open, isAir), p.ventedVessels()...))
	}
	d.judge()
	for e := range d.state {
		if p.Edges[e].Path < 0 {
			d.state[e] = empty
		}
	}
	v := &Venting{Vented: make([]bool, len(p.Nodes)), Toward: d.toward}
	for n := range v.Vented {
		v.Vented[n] = !math.IsInf(d.low[n], 1)
	}
	for _, b := range d.pools() {
		k := Pocket{Edges: b.Edges, Highest: b.Lowest, Under: b.Over, Volume: b.Volume, NoVent: b.NoDrain, Way: b.Way, Missing: b.Missing}
		if z, ok := b.Level.Get(); ok {
			k.Level = Some(-z)
		}
		v.Pockets = append(v.Pockets, k)
	}
	v.Vague, v.Missing = d.vague()
	return v
}

// turnOver changes the sign of all heights, with vessels at their top.
func (d *drainage) turnOver() {
	for n := range d.height {
		if d.p.is(n, isVessel) {
			top := nan
			if v, ok := d.p.Circuit.Parts()[d.p.partOf[n]].(*model.Vessel); ok {
				top = float64(v.Height.Or(Length(nan)))
			}
			d.height[n] += top
		}
		d.height[n] = -d.height[n]
	}
}

// ventedVessels gives the insides of the vessels that are open to air through a
// vent that cannot be shut.
func (p *Plant) ventedVessels() []int {
	var out []int
	for n := range p.Nodes {
		if !p.is(n, isVessel) {
			continue
		}
		if v, ok := p.Circuit.Parts()[p.partOf[n]].(*model.Vessel); ok && v.Vented.Or(false) {
			out = append(out, n)
		}
	}
	return out
}
