package checktest

import (
	"fmt"
	"strconv"
	"strings"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/quantity"
)

// Sketch makes a circuit from lines of text:
//
//	part V-1 butterfly-valve size=DN50 seat_a_mm=60    a part: tag, kind, properties
//	run r1 P-1.b V-1.a DN50 2/0 1.5/-0.015             a run: id, ends, size, stretches as length/rise in m
//	run r2 V-1.b X-1.a DN50 face                       two parts face to face
//	run r3 V-2.b - DN50                                a loose end; no stretches told
//	step s1 alkali-wash from=T-1 to=T-1 flow_m3h=10.6 cleans=T-2,F-1 running=P-1 V-1=open
//	deviation d1 open-end@p-1:b reason=flushed_by_hand by=A._Reviewer date=2026-01-31 expires=2027-01-31 gravest=fix steps=s1
//	set V-1 seat_a_mm=200 normal=                      changes a record; empty: unknown
//	drop V-1                                           takes a record out again
//	want V-1 dead-leg "4 D"                            adds a want to the record's note
//	want-not-assessed V-1 dead-leg "seat"
//	profile pharma                                     limits of the circuit
//	note Worked by hand: 200 > 1.5 * 50                note of the circuit
//	# a remark                                         and empty lines are left out
//
// Properties have their keys of the circuit file and are in metric units. The
// id of a part is its tag in lower case, of a tube "DN50" stands for
// "EN 10357-A DN50" and "in" after a nominal size for ASME BPE: "1/2in"; other
// sizes are written with _ for blanks: "ISO_2037_51", as is an end condition:
// ends_on=AT-1_below_2. Parts stand in rows in the
// order of their lines.
func Sketch(text string) (*model.Circuit, error) {
	s := &sketch{records: map[model.ID]model.Record{}, header: &model.Header{Name: "case"}}
	for i, line := range strings.Split(text, "\n") {
		if err := s.line(strings.TrimSpace(line)); err != nil {
			return nil, fmt.Errorf("line %d: %q: %w", i+1, strings.TrimSpace(line), err)
		}
	}
	c := model.New("case")
	edit := model.Edit{Label: "sketch", Changes: []model.Change{model.Replacing(c.Header(), s.header)}}
	for _, id := range s.order {
		if r := s.records[id]; r != nil {
			edit.Changes = append(edit.Changes, model.Adding(r))
		}
	}
	return c.Apply(edit)
}

type sketch struct {
	header  *model.Header
	records map[model.ID]model.Record
	order   []model.ID
	steps   int
	parts   int
}

func (s *sketch) line(line string) error {
	verb, rest, _ := strings.Cut(line, " ")
	words := strings.Fields(rest)
	need := map[string]int{"part": 2, "run": 3, "step": 2, "set": 1, "drop": 1, "profile": 1, "deviation": 2, "want": 2, "want-not-assessed": 2}
	if len(words) < need[verb] {
		return fmt.Errorf("%s needs %d words", verb, need[verb])
	}
	switch verb {
	case "", "#":
		return nil
	case "note":
		s.header.Note = joined(s.header.Note, rest)
	case "profile":
		s.header.Profile = words[0]
	case "part":
		return s.part(words)
	case "run":
		return s.run(words)
	case "step":
		return s.step(words)
	case "deviation":
		return s.deviation(words)
	case "set":
		return s.set(words)
	case "drop":
		id := idOf(words[0])
		if s.records[id] == nil {
			return fmt.Errorf("there is no %s", id)
		}
		s.records[id] = nil
	case "want", "want-not-assessed":
		_, what, _ := strings.Cut(rest, " ")
		return s.note(idOf(words[0]), verb+" "+strings.TrimSpace(what))
	default:
		return fmt.Errorf("%q is not a word of a sketch", verb)
	}
	return nil
}

func joined(a, b string) string {
	if a == "" {
		return b
	}
	return a + "\n" + b
}

func idOf(tag string) model.ID { return model.ID(strings.ToLower(tag)) }

func (s *sketch) add(r model.Record) {
	if _, ok := s.records[r.RecordID()]; !ok {
		s.order = append(s.order, r.RecordID())
	}
	s.records[r.RecordID()] = r
}

func (s *sketch) part(words []string) error {
	kind := catalogue.Builtin().Kind(words[1])
	if kind == nil {
		return fmt.Errorf("no kind %q", words[1])
	}
	at := model.Point{X: float64(25 + 40*(s.parts%8)), Y: float64(25 + 50*(s.parts/8))}
	s.parts++
	p, err := kind.New(idOf(words[0]), at)
	if err != nil {
		return err
	}
	p.Meta().Tag = words[0]
	r, err := withProperties(p, words[2:])
	if err != nil {
		return err
	}
	s.add(r)
	return nil
}

func withProperties(r model.Record, words []string) (model.Record, error) {
	for _, w := range words {
		key, value, ok := strings.Cut(w, "=")
		if !ok {
			return nil, fmt.Errorf("%q is not key=value", w)
		}
		if key == "tag" {
			switch r := r.(type) {
			case model.Part:
				r.Meta().Tag = value
			case *model.Run:
				r.Tag = value
			}
			continue
		}
		prop, found := model.FindProperty(r, key)
		if !found {
			return nil, fmt.Errorf("no property %q", key)
		}
		if strings.HasSuffix(key, "size") {
			value = sizeOf(value)
		}
		next, err := prop.WithText(r, value, quantity.Metric)
		if err != nil {
			return nil, err
		}
		r = next
	}
	return r, nil
}

// sizeOf writes a short tube size in full.
func sizeOf(short string) string {
	switch {
	case strings.HasPrefix(short, "DN"):
		return "EN 10357-A " + short
	case strings.HasSuffix(short, "in"):
		return "ASME BPE " + strings.ReplaceAll(strings.TrimSuffix(short, "in"), "_", " ")
	}
	return strings.ReplaceAll(short, "_", " ")
}

func (s *sketch) run(words []string) error {
	r := &model.Run{ID: model.ID(words[0])}
	var err error
	if r.From, err = endOf(words[1], 0); err != nil {
		return err
	}
	if r.To, err = endOf(words[2], 20); err != nil {
		return err
	}
	for _, w := range words[3:] {
		length, rise, isStretch := strings.Cut(w, "/")
		switch {
		case w == "face":
			r.Stretches = []model.Stretch{{Length: quantity.Some(quantity.Length(0)), Rise: quantity.Some(quantity.Length(0))}}
		case strings.HasPrefix(w, "carries="):
			r.Carries = quantity.Some(model.Medium(strings.TrimPrefix(w, "carries=")))
		case isStretch && !strings.HasSuffix(w, "in"):
			var st model.Stretch
			if st.Length, err = number(length); err != nil {
				return err
			}
			if st.Rise, err = number(rise); err != nil {
				return err
			}
			r.Stretches = append(r.Stretches, st)
		default:
			r.Size = quantity.Some(model.TubeSize(sizeOf(w)))
		}
	}
	s.add(r)
	return nil
}

// deviation reads one; its finding tells the rule and the place.
func (s *sketch) deviation(words []string) error {
	rule, at, ok := strings.Cut(words[1], "@")
	if !ok {
		return fmt.Errorf("%q is not RULE@PLACE", words[1])
	}
	d := &model.Deviation{ID: model.ID(words[0]), Rule: rule, Finding: words[1]}
	element, port, _ := strings.Cut(at, ":")
	d.Places = []model.Place{model.PlaceOfPort(model.ID(element), port)}
	for _, w := range words[2:] {
		key, value, ok := strings.Cut(w, "=")
		if !ok {
			return fmt.Errorf("%q is not key=value", w)
		}
		value = strings.ReplaceAll(value, "_", " ")
		switch key {
		case "reason":
			d.Reason = value
		case "by":
			d.By = value
		case "date":
			d.Date = model.Date(value)
		case "expires":
			d.Expires = model.Date(value)
		case "gravest":
			d.Gravest = quantity.Some(model.Grade(value))
		case "steps":
			d.Steps = idsOf(value)
		default:
			return fmt.Errorf("%q is not a key of a deviation", key)
		}
	}
	s.add(d)
	return nil
}

// number reads a length in m; "?" is unknown.
func number(text string) (quantity.Opt[quantity.Length], error) {
	if text == "?" {
		return quantity.Opt[quantity.Length]{}, nil
	}
	x, err := strconv.ParseFloat(text, 64)
	return quantity.Some(quantity.Length(x)), err
}

func endOf(text string, x float64) (model.End, error) {
	if text == "-" {
		return model.End{At: &model.Point{X: x}}, nil
	}
	part, port, ok := strings.Cut(text, ".")
	if !ok {
		return model.End{}, fmt.Errorf("%q is not PART.PORT", text)
	}
	return model.End{Part: idOf(part), Port: port}, nil
}

func (s *sketch) step(words []string) error {
	s.steps++
	st := &model.Step{ID: model.ID(words[0]), Order: s.steps, Name: words[1], Positions: map[model.ID]string{}}
	st.Purpose = quantity.Some(model.Purpose(words[1]))
	if m, ok := mediumOf[model.Purpose(words[1])]; ok {
		st.Medium = quantity.Some(m)
	}
	return s.stepWords(st, words[2:])
}

func (s *sketch) stepWords(st *model.Step, words []string) error {
	for _, w := range words {
		key, value, ok := strings.Cut(w, "=")
		if !ok {
			return fmt.Errorf("%q is not key=value", w)
		}
		switch key {
		case "from":
			st.Source = idOf(value)
		case "to":
			st.Destination = idOf(value)
		case "cleans":
			st.Cleans = idsOf(value)
		case "running":
			st.Running = idsOf(value)
		case "programme":
			st.Programme = value
		case "name":
			st.Name = value
		case "ends_on":
			st.EndsOn = strings.ReplaceAll(value, "_", " ")
		default:
			if _, isProperty := model.FindProperty(st, key); isProperty {
				r, err := withProperties(st, []string{w})
				if err != nil {
					return err
				}
				st = r.(*model.Step)
				continue
			}
			if p, isPart := s.records[idOf(key)].(model.Part); !isPart || p.Class() != model.ClassValve {
				return fmt.Errorf("%q is neither a property of a step nor a valve", key)
			}
			if st.Positions == nil {
				st.Positions = map[model.ID]string{}
			}
			st.Positions[idOf(key)] = value
		}
	}
	s.add(st)
	return nil
}

// mediumOf is the medium that a step has unless told otherwise.
var mediumOf = map[model.Purpose]model.Medium{
	model.FirstRinse: model.Recovered, model.AlkaliWash: model.Alkali, model.RinseBetween: model.Water,
	model.AcidWash: model.Acid, model.Disinfection: model.Disinfect, model.FinalRinse: model.Water,
	model.Production: model.Product, model.AirBlow: model.Air,
}

func idsOf(list string) []model.ID {
	var out []model.ID
	for _, tag := range strings.Split(list, ",") {
		if tag != "" {
			out = append(out, idOf(tag))
		}
	}
	return out
}

func (s *sketch) set(words []string) error {
	id := idOf(words[0])
	r := s.records[id]
	switch r := r.(type) {
	case nil:
		return fmt.Errorf("there is no %s", id)
	case *model.Step:
		return s.stepWords(model.Clone(r), words[1:])
	}
	next, err := withProperties(r, words[1:])
	if err != nil {
		return err
	}
	s.records[id] = next
	return nil
}

func (s *sketch) note(id model.ID, text string) error {
	if id == model.HeaderID {
		s.header.Note = joined(s.header.Note, text)
		return nil
	}
	switch r := s.records[id].(type) {
	case model.Part:
		r.Meta().Note = joined(r.Meta().Note, text)
	case *model.Run:
		r.Note = joined(r.Note, text)
	case *model.Step:
		r.Note = joined(r.Note, text)
	case *model.Deviation:
		r.Note = joined(r.Note, text)
	default:
		return fmt.Errorf("there is no %s", id)
	}
	return nil
}
