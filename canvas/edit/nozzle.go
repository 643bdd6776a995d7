package edit

import (
	"fmt"
	"math"
	"strings"

	"rinsewright/canvas/place"
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// PortAt finds the port nearest to a point within a tolerance in mm, whether a
// run ends on it or not.
func (d *Drawing) PortAt(at model.Point, tolerance float64) Hit {
	return d.nearestPort(at, tolerance, func(model.Part, place.Port) bool { return true })
}

// nearestPort finds the nearest port within a tolerance that passes.
func (d *Drawing) nearestPort(at model.Point, tolerance float64, passes func(model.Part, place.Port) bool) Hit {
	best, hit := tolerance, Hit{}
	for i, e := range d.extentsOf() {
		if e.reach.Distance(at) > best {
			continue
		}
		p := d.circuit.Parts()[i]
		for _, port := range place.Ports(p, d.kindOf(p)) {
			if dist := distance(port.Place, at); dist <= best && passes(p, port) {
				best = dist
				hit = Hit{Kind: HitPort, ID: p.RecordID(), Port: port.Name, At: port.Place}
			}
		}
	}
	return hit
}

// PortName gives what a port of a part is called: "T-103 Vent", "V-121 port b".
// A part with one port is called by its name alone, unless the port has a title.
func (d *Drawing) PortName(part model.ID, port string) string {
	p := d.circuit.Part(part)
	if p == nil {
		return ""
	}
	name := d.name(p)
	k := d.kindOf(p)
	if k == nil {
		return name + " port " + port
	}
	q, ok := k.Port(port)
	switch {
	case ok && q.Title != "":
		return name + " " + q.Title
	case len(k.Ports) == 1:
		return name
	}
	return name + " port " + port
}

// services tells what a port of a service is for.
var services = map[string]string{
	"process": "liquid", "steam": "steam", "condensate": "condensate", "air": "air", "signal": "a signal",
}

// TellPort says what a port is called and what it is for: "T-103 Vent, for air,
// free".
func (d *Drawing) TellPort(part model.ID, port string) string {
	text := d.PortName(part, port)
	p := d.circuit.Part(part)
	if p == nil {
		return text
	}
	if k := d.kindOf(p); k != nil {
		if q, ok := k.Port(port); ok {
			if what := services[q.Service]; what != "" {
				text += ", for " + what
			}
			if p.Class() == model.ClassVessel {
				switch q.Role {
				case "in":
					text += ", inlet"
				case "out":
					text += ", outlet"
				}
			}
		}
	}
	if d.PortFree(part, port) {
		return text + ", free"
	}
	return text + ", joined"
}

// Misfit says why a run from one port to another makes no sense, empty if it
// does. Liquid that a pump or a spray device sends into the vent of a vessel
// gets nowhere; a valve on a vent may well be meant.
func (d *Drawing) Misfit(a, b model.End) string {
	p, portA, okA := d.portOf(a)
	q, portB, okB := d.portOf(b)
	if !okA || !okB || !d.misfit(p, portA, q, portB) {
		return ""
	}
	dry, wet, service := a, b, portA.Service
	if portA.Service == "process" {
		dry, wet, service = b, a, portB.Service
	}
	return fmt.Sprintf("%s takes %s, no process liquid: %s does not belong on it", d.PortName(dry.Part, dry.Port), services[service], d.PortName(wet.Part, wet.Port))
}

// misfit says whether of two ports one is a nozzle without liquid and the other
// there for liquid only.
func (d *Drawing) misfit(p model.Part, a catalogue.Port, q model.Part, b catalogue.Port) bool {
	if a.Service == b.Service {
		return false
	}
	return dryNozzle(p, a) && d.carriesLiquid(q, b) || dryNozzle(q, b) && d.carriesLiquid(p, a)
}

// Caution is what should be said of a run that is allowed: liquid does not pass
// a nozzle for air. Empty if there is nothing to say.
func (d *Drawing) Caution(a, b model.End) string {
	for _, way := range [][2]model.End{{a, b}, {b, a}} {
		p, port, ok := d.portOf(way[0])
		if !ok || !dryNozzle(p, port) {
			continue
		}
		if _, other, known := d.portOf(way[1]); known && other.Service == "process" {
			return d.PortName(way[0].Part, way[0].Port) + " takes " + services[port.Service] + ", no process liquid"
		}
	}
	return ""
}

func (d *Drawing) portOf(e model.End) (model.Part, catalogue.Port, bool) {
	p := d.circuit.Part(e.Part)
	if p == nil {
		return nil, catalogue.Port{}, false
	}
	k := d.kindOf(p)
	if k == nil {
		return p, catalogue.Port{}, false
	}
	port, ok := k.Port(e.Port)
	return p, port, ok
}

// dryNozzle says whether a port of a vessel or a vent holds no liquid.
func dryNozzle(p model.Part, port catalogue.Port) bool {
	return port.Service != "process" && (p.Class() == model.ClassVessel || p.Class() == model.ClassTerminal && port.Role == "any")
}

// carriesLiquid says whether a port is there for liquid and nothing else. What
// stands in a line (valves, fittings, instruments) may stand in a line of air;
// what belongs on a nozzle of its own does not.
func (d *Drawing) carriesLiquid(p model.Part, port catalogue.Port) bool {
	if port.Service != "process" {
		return false
	}
	if _, mounts := Mounts(d.kindOf(p)); mounts {
		return true
	}
	switch p.Class() {
	case model.ClassPump, model.ClassSpray, model.ClassObject, model.ClassExchanger, model.ClassVessel, model.ClassTerminal:
		return true
	}
	return false
}

// meant pairs what a kind is with the names and titles of the nozzles that are
// there for it, the best first.
var meant = []struct {
	trait string
	words []string
}{
	{catalogue.TraitSpray, []string{"spray"}},
	{catalogue.TraitHatch, []string{"hatch", "nozzle"}},
	{catalogue.TraitAgitator, []string{"agitator", "nozzle"}},
	{catalogue.TraitLevelHigh, []string{"high"}},
	{catalogue.TraitLevelLow, []string{"low"}},
	{catalogue.TraitLevel, []string{"level"}},
	{catalogue.TraitVent, []string{"vent", "nozzle"}},
	{catalogue.TraitRelief, []string{"vent", "nozzle"}},
}

// Mounts says whether parts of a kind belong on a nozzle of a vessel, and the
// words of the nozzles that are meant for them.
func Mounts(k *catalogue.Kind) (words []string, ok bool) {
	if k == nil {
		return nil, false
	}
	for _, m := range meant {
		if k.Has(m.trait) && (len(k.Ports) == 1 || k.Class == model.ClassSpray) {
			return m.words, true
		}
	}
	return nil, false
}

// nozzleRank tells how well a nozzle suits a kind: lower is better, never from
// notMeant on.
func nozzleRank(words []string, port catalogue.Port) int {
	name, title := strings.ToLower(port.Name), strings.ToLower(port.Title)
	for i, w := range words {
		switch {
		case strings.HasPrefix(name, w):
			return 2 * i
		case strings.Contains(title, w):
			return 2*i + 1
		}
	}
	return notMeant
}

const notMeant = 100

// reserved says whether a nozzle is there for a kind of its own, so that others
// take it only when they are put right on it.
func reserved(port catalogue.Port) bool {
	for _, m := range meant {
		if w := m.words[0]; strings.HasPrefix(strings.ToLower(port.Name), w) {
			return true
		}
	}
	return false
}

// mounting is how a part comes onto a nozzle.
type mounting struct {
	vessel model.ID
	nozzle place.Port
	port   catalogue.Port // of the part
	pose   Pose
}

// mountOn finds the free nozzle that a part of a kind takes when it is dropped on
// a vessel: one that is meant for it before one that merely fits, the nearest of
// equal ones. Not ok where the kind does not belong on vessels, no vessel lies
// there, or nothing free fits.
func (d *Drawing) mountOn(k *catalogue.Kind, at model.Point, lie Pose, tolerance float64) (m mounting, ok bool) {
	words, belongs := Mounts(k)
	if !belongs {
		return m, false
	}
	v := d.vesselAt(at, tolerance)
	if v == nil {
		return m, false
	}
	best := math.Inf(1)
	for _, nozzle := range place.Ports(v, d.kindOf(v)) {
		if !d.PortFree(v.RecordID(), nozzle.Name) {
			continue
		}
		port, pose, fits := poseOn(k, nozzle, lie)
		if !fits {
			continue
		}
		rank := nozzleRank(words, nozzle.Port)
		if rank == notMeant && (reserved(nozzle.Port) || nozzle.Required || nozzle.Role == "out") {
			continue
		}
		if cost := float64(rank)*1e4 + distance(nozzle.Place, at); cost < best {
			best, ok = cost, true
			m = mounting{vessel: v.RecordID(), nozzle: nozzle, port: port, pose: pose}
		}
	}
	return m, ok
}

// besideVessel is how far in mm from a vessel's box a part still counts as
// dropped on it: what stands on a nozzle lies outside the box.
const besideVessel = 7.5

// vesselAt gives the smallest vessel at a place.
func (d *Drawing) vesselAt(at model.Point, tolerance float64) model.Part {
	var best model.Part
	area := math.Inf(1)
	for i, e := range d.extentsOf() {
		p := d.circuit.Parts()[i]
		if p.Class() != model.ClassVessel || e.box.Distance(at) > max(tolerance, besideVessel) {
			continue
		}
		if a := e.box.Width() * e.box.Height(); a < area {
			best, area = p, a
		}
	}
	return best
}

// poseOn gives how a part must lie so that a port of it meets a nozzle face to
// face: as it lies now if it can, else turned.
func poseOn(k *catalogue.Kind, nozzle place.Port, lie Pose) (catalogue.Port, Pose, bool) {
	for turn := range model.Turn(4) {
		pose := Pose{Turn: (lie.Turn + turn) % 4, Mirrored: lie.Mirrored}
		item := &model.Item{Turn: pose.Turn, Mirrored: pose.Mirrored}
		for _, port := range k.Ports {
			at, faces := port.PortAt(item)
			if port.Service != nozzle.Service || faces.Add(nozzle.Faces) != (model.Point{}) {
				continue
			}
			if port.Role == nozzle.Role && port.Role != "any" {
				continue // two inlets or two outlets
			}
			pose.At = nozzle.Place.Sub(at)
			return port, pose, true
		}
	}
	return catalogue.Port{}, lie, false
}
