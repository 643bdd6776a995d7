package checks

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// Kind gives the catalogue entry of a part, or nil.
func (s *Snapshot) Kind(p model.Part) *catalogue.Kind {
	if p == nil {
		return nil
	}
	return s.Catalogue.Kind(p.Meta().Kind)
}

// Has says whether a part's kind has a trait.
func (s *Snapshot) Has(p model.Part, trait string) bool {
	k := s.Kind(p)
	return k != nil && k.Has(trait)
}

// namesakes counts the records that go by one name.
type namesakes struct {
	tags  map[string]int // parts and runs
	steps map[string]int // steps by name
}

var namesakesOf = NewFact("namesakes", func(s *Snapshot) *namesakes {
	out := &namesakes{tags: map[string]int{}, steps: map[string]int{}}
	for _, p := range s.Circuit.Parts() {
		out.tags[p.Meta().Tag]++
	}
	for _, r := range s.Circuit.Runs() {
		out.tags[r.Tag]++
	}
	for _, st := range s.Circuit.Steps() {
		out.steps[st.Name]++
	}
	return out
})

// Name tells a reader which record an id is: its tag, or what it is and between
// what. Where several records go by the name, what tells them apart is added.
func (s *Snapshot) Name(id model.ID) string {
	switch r := s.Circuit.Record(id).(type) {
	case model.Part:
		tag := r.Meta().Tag
		switch {
		case tag == "":
			return "untagged " + s.title(r) + s.between(r, "")
		case namesakesOf.Of(s).tags[tag] > 1:
			return tag + " (" + s.title(r) + s.between(r, "") + ")"
		}
		return tag
	case *model.Run:
		between := "run from " + s.endName(r.From, r.To) + " to " + s.endName(r.To, r.From)
		switch {
		case r.Tag == "":
			return between
		case namesakesOf.Of(s).tags[r.Tag] > 1:
			return r.Tag + " (" + between + ")"
		}
		return r.Tag
	case *model.Step:
		return s.stepName(r)
	case *model.Deviation:
		return "deviation from " + r.Rule + s.ofDeviation(r)
	case *model.Mark:
		return fmt.Sprintf("mark %d", r.Number)
	case *model.Header:
		return "the circuit"
	}
	return string(id)
}

// ofDeviation tells where an accepted finding is: " at V-12"; empty if the
// deviation tells no place.
func (s *Snapshot) ofDeviation(d *model.Deviation) string {
	if len(d.Places) == 0 {
		return ""
	}
	at := d.Places[0]
	switch {
	case s.Circuit.Record(at.Element) != nil:
		return " at " + s.Where(at)
	case d.Was != "":
		return " at " + d.Was
	}
	return " at " + string(at.Element)
}

// stepName names a step, with its programme where another step has its name.
func (s *Snapshot) stepName(step *model.Step) string {
	out := "step " + step.Name
	if step.Name == "" {
		number := 1
		for _, other := range s.Circuit.Steps() {
			if other == step {
				break
			}
			if other.Programme == step.Programme {
				number++
			}
		}
		out = fmt.Sprintf("step number %d", number)
	}
	if step.Programme != "" && namesakesOf.Of(s).steps[step.Name] > 1 {
		out += " of " + step.Programme
	}
	return out
}

// title tells what a part is: "short-outlet tee".
func (s *Snapshot) title(p model.Part) string {
	if k := s.Kind(p); k != nil {
		return lower(k.Title)
	}
	return string(p.Class())
}

// between tells between which tagged parts a part stands: " between FT-1 and
// V-2", " at T-1", or nothing. Except is left out.
func (s *Snapshot) between(p model.Part, except string) string {
	var near []string
	for _, run := range s.Circuit.RunsAt(p.RecordID()) {
		for _, ends := range [2][2]model.End{{run.From, run.To}, {run.To, run.From}} {
			if ends[0].Part != p.RecordID() {
				continue
			}
			if tag := s.nearestTag(p.RecordID(), ends[1].Part); tag != "" && tag != except && tag != p.Meta().Tag && !slices.Contains(near, tag) {
				near = append(near, tag)
			}
		}
	}
	switch len(near) {
	case 0:
		return ""
	case 1:
		return " at " + near[0]
	}
	return " between " + near[0] + " and " + near[1]
}

// nearestTag gives the tag of a part, or, where it has none, of the nearest one
// beyond it that has; empty if there is none close by.
func (s *Snapshot) nearestTag(from, at model.ID) string {
	const far = 8 // untagged parts in a row
	seen := []model.ID{from}
	queue := []model.ID{at}
	for len(queue) > 0 && len(seen) <= far {
		id := queue[0]
		queue = queue[1:]
		part := s.Circuit.Part(id)
		if part == nil || slices.Contains(seen, id) {
			continue
		}
		if tag := part.Meta().Tag; tag != "" {
			return tag
		}
		seen = append(seen, id)
		queue = append(queue, s.joinedTo(id)...)
	}
	return ""
}

// endName names the part at one end of a run; other is the far end.
func (s *Snapshot) endName(e, other model.End) string {
	if e.Loose() {
		return "nowhere"
	}
	part := s.Circuit.Part(e.Part)
	if part == nil {
		return string(e.Part)
	}
	except := ""
	if far := s.Circuit.Part(other.Part); far != nil {
		except = far.Meta().Tag
	}
	switch tag := part.Meta().Tag; {
	case tag == "":
		return "the untagged " + s.title(part) + s.between(part, except)
	case namesakesOf.Of(s).tags[tag] > 1:
		at, _, _ := strings.Cut(s.between(part, except), " and ")
		return tag + strings.Replace(at, " between ", " at ", 1)
	default:
		return tag
	}
}

// Where tells a place in words.
func (s *Snapshot) Where(p model.Place) string {
	out := s.Name(p.Element)
	if p.Port != "" {
		out += s.portWords(p)
	}
	if p.First > 0 {
		if r := s.Circuit.Run(p.Element); r != nil && len(r.Stretches) > 1 {
			out += ", stretch " + Number(float64(p.First)).Text(0)
			if p.Last > p.First {
				out += " to " + Number(float64(p.Last)).Text(0)
			}
		}
	}
	if p.Key != "" {
		out += ", " + s.PropertyLabel(p.Element, p.Key)
	}
	return out
}

// portWords gives what follows the name of a part to say which port or seat of
// it is meant: ", Discharge", " towards V-2", ", seat towards TE-1". Other points
// inside a part only the part itself need know.
func (s *Snapshot) portWords(p model.Place) string {
	part := s.Circuit.Part(p.Element)
	k := s.Kind(part)
	if k == nil {
		return ", " + p.Port
	}
	if port, ok := k.Port(p.Port); ok {
		switch towards := s.towards(part, port.Name); {
		case port.Title != "":
			return ", " + port.Title
		case len(k.Ports) == 1:
			return ""
		case towards != "":
			return towards
		default:
			_, way := port.PortAt(part.Meta())
			return ", port " + sideOf(way)
		}
	}
	for _, in := range k.Inner {
		if in.Name == p.Port && in.Role == catalogue.RoleSeat {
			return ", seat" + s.seatTowards(part, k, in.Name)
		}
	}
	return ""
}

// towards tells what runs join a port to: " towards V-2".
func (s *Snapshot) towards(part model.Part, port string) string {
	var to []string
	for _, run := range s.Circuit.RunsAt(part.RecordID()) {
		for _, ends := range [2][2]model.End{{run.From, run.To}, {run.To, run.From}} {
			if ends[0].Part != part.RecordID() || ends[0].Port != port {
				continue
			}
			other := s.Circuit.Part(ends[1].Part)
			if other == nil {
				continue
			}
			if name := cmp.Or(s.nearestTag(part.RecordID(), other.RecordID()), s.title(other)); !slices.Contains(to, name) {
				to = append(to, name)
			}
		}
	}
	if len(to) == 0 {
		return ""
	}
	return " towards " + list(to)
}

// seatTowards tells to which neighbour a seat looks: across what is always open
// to one port; or, for a seat within a branching valve, across the seat itself.
func (s *Snapshot) seatTowards(part model.Part, k *catalogue.Kind, seat string) string {
	for _, across := range []bool{false, true} {
		if port := portFrom(k, seat, across); port != "" {
			if to := s.towards(part, port); to != "" {
				return to
			}
		}
	}
	return ""
}

// portFrom gives the port that a point inside a part leads to without passing
// the crossing of a tee: across paths that no position shuts, and first across
// one that a position opens, if so asked. Empty if there is none.
func portFrom(k *catalogue.Kind, point string, across bool) string {
	seen := []string{point}
	for i := 0; i < len(seen); i++ {
		if hasPort(k, seen[i]) {
			return seen[i]
		}
		for _, path := range k.Paths {
			next := ""
			switch seen[i] {
			case path.From:
				next = path.To
			case path.To:
				next = path.From
			}
			shuts := len(path.OpenIn) > 0
			if next == "" || slices.Contains(seen, next) || shuts != (across && i == 0) || isTee(k, next) {
				continue
			}
			seen = append(seen, next)
		}
	}
	return ""
}

func isTee(k *catalogue.Kind, point string) bool {
	for _, in := range k.Inner {
		if in.Name == point {
			return in.Role == catalogue.RoleTee
		}
	}
	return false
}

// sideOf tells where a port lies in the drawing.
func sideOf(way model.Point) string {
	switch {
	case way.X < 0:
		return "on the left"
	case way.X > 0:
		return "on the right"
	case way.Y < 0:
		return "at the top"
	}
	return "at the bottom"
}

// PropertyLabel gives the words for a property, by its key in the circuit file.
func (s *Snapshot) PropertyLabel(id model.ID, key string) string {
	if k := s.Kind(s.Circuit.Part(id)); k != nil {
		if p, ok := k.Property(key); ok {
			return strings.ToLower(p.Label)
		}
	}
	if label, ok := recordLabels[key]; ok {
		return label
	}
	for _, k := range s.Catalogue.Kinds() { // of the whole circuit: what any kind calls it
		if p, ok := k.Property(key); ok {
			return strings.ToLower(p.Label)
		}
	}
	return key
}

// recordLabels are the words for properties of runs, steps and all parts.
var recordLabels = map[string]string{
	"elevation_m": "elevation", "size": "tube size", "stretches": "lengths of the stretches", "length_m": "length",
	"rise_m": "rise", "flow_m3h": "flow", "medium": "medium", "source": "source", "destination": "destination",
	"positions": "position", "temperature_C": "temperature", "strength_pct": "strength", "time_min": "time",
	"purpose": "purpose", "carries": "medium carried", "normal": "normal position", "kind": "kind",
	"cleans": "what it cleans", "steps": "wash steps",
}

// lower writes a title inside a sentence.
func lower(title string) string {
	if title == "" {
		return title
	}
	return strings.ToLower(title[:1]) + title[1:]
}
