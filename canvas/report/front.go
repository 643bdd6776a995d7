package report

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strings"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/place"
	"rinsewright/canvas/scene"
	"rinsewright/checks"
	"rinsewright/model"
	"rinsewright/model/checklist"
	"rinsewright/model/circuitfile"
)

// Fact is one thing told: what it is, its text in the reader's units, and the
// record and the property that it is of, where there is one.
type Fact struct {
	Label string   `json:"label"`
	Text  string   `json:"text"`
	ID    model.ID `json:"id,omitempty"`
	Key   string   `json:"key,omitempty"`
}

// Cover is what the title block of the circuit says, and who made the report when.
type Cover struct {
	Title     string           `json:"title"`
	Plant     string           `json:"plant,omitempty"`
	Customer  string           `json:"customer,omitempty"`
	Project   string           `json:"project,omitempty"`
	Number    string           `json:"drawing_number,omitempty"`
	Revision  string           `json:"revision,omitempty"`
	Date      string           `json:"date,omitempty"`
	Author    string           `json:"author,omitempty"`
	Note      string           `json:"note,omitempty"`
	Revisions []model.Revision `json:"revisions,omitempty"`
	Made      model.Date       `json:"made,omitempty"`
	By        string           `json:"by,omitempty"`
}

// Scope is what was checked, against what.
type Scope struct {
	File    string         `json:"file,omitempty"`
	Digest  string         `json:"sha256"` // of the circuit as its file is written
	Program string         `json:"program,omitempty"`
	Counted []Fact         `json:"counted"`
	Rules   int            `json:"rules"` // that were applied
	Profile string         `json:"profile"`
	Title   string         `json:"profile_title"`
	About   string         `json:"profile_about,omitempty"`
	Asked   string         `json:"profile_asked,omitempty"` // by the circuit, where it is not at hand
	Limits  []Limit        `json:"limits"`
	Changed []ChangedLimit `json:"limits_changed,omitempty"`
	Failed  []string       `json:"rules_failed,omitempty"`
}

// Limit is a limit of the profile with its standing.
type Limit struct {
	Name     string `json:"limit"`
	Label    string `json:"label"`
	Value    string `json:"value"`
	Source   string `json:"source"`
	Standing string `json:"standing"`
}

// ChangedLimit is a limit that the circuit changes, and what became of it.
type ChangedLimit struct {
	Name    string     `json:"limit"`
	Label   string     `json:"label,omitempty"`
	Was     string     `json:"was"`
	Is      string     `json:"is"`
	Reason  string     `json:"reason"`
	By      string     `json:"by"`
	Date    model.Date `json:"date"`
	Refused string     `json:"refused,omitempty"`
}

// Summary counts what the report tells.
type Summary struct {
	checks.Counts
	Marks        map[model.MarkClass]int `json:"marks_open"` // by class, those neither done nor rejected
	MarksInAll   int                     `json:"marks"`
	OpenAnswers  int                     `json:"questions_open"`
	NoAnswers    int                     `json:"questions_no"`
	QuestionsAll int                     `json:"questions"`
}

func (m *maker) front() error {
	h := m.Circuit.Header()
	m.out.Cover = Cover{h.Name, h.Plant, h.Customer, h.Project, h.DrawingNumber, h.Revision, h.Date, h.Author, h.Note, h.Revisions, m.opt.Day, m.opt.By}
	if err := m.scope(); err != nil {
		return err
	}
	m.summary()
	m.out.Cautions = m.cautions()
	m.draw()
	return m.step(1, "cover and drawing")
}

func (m *maker) scope() error {
	c := m.Circuit
	data, err := circuitfile.Encode(c)
	if err != nil {
		return fmt.Errorf("report: %w", err)
	}
	digest := sha256.Sum256(data)
	s := &m.out.Scope
	s.File, s.Program, s.Digest = m.opt.File, m.opt.Version, hex.EncodeToString(digest[:])
	s.Rules = len(m.of.Rules)
	s.Profile, s.Title, s.About = m.of.Profile.Name, m.of.Profile.Title, m.of.Profile.About
	if asked := c.Header().Profile; asked != "" && !strings.EqualFold(asked, m.of.Profile.Name) {
		s.Asked = asked
	}
	s.Counted = []Fact{
		{Label: "Parts", Text: fmt.Sprint(len(c.Parts()))},
		{Label: "Pipe runs", Text: fmt.Sprint(len(c.Runs()))},
		{Label: "Wash programmes", Text: fmt.Sprint(len(programmesOf(c)))},
		{Label: "Steps", Text: fmt.Sprint(len(c.Steps()))},
	}
	for _, l := range m.of.Profile.Limits() {
		s.Limits = append(s.Limits, Limit{l.Name, l.Label, l.Value.Text(m.system), citation(l.Source), l.Source.Standing})
	}
	for _, l := range m.of.Result.Limits {
		label := l.Label
		if label == "" {
			label = l.Name
		}
		s.Changed = append(s.Changed, ChangedLimit{l.Name, label, l.Was.Text(m.system), l.Is.Text(m.system), l.Reason, l.By, l.Date, l.Refused})
	}
	for _, e := range m.of.Result.Errors {
		s.Failed = append(s.Failed, fmt.Sprintf("%s: %s", e.Rule, e.Error))
	}
	return nil
}

// citation gives a source without its standing, which is told beside it.
func citation(c checks.Citation) string {
	switch {
	case c.Source == "":
		return ""
	case c.Clause == "":
		return c.Source
	}
	return c.Source + ", " + c.Clause
}

func (m *maker) summary() {
	s := Summary{Counts: m.of.Result.Counts, Marks: map[model.MarkClass]int{}}
	for _, k := range m.Circuit.Marks() {
		s.MarksInAll++
		if !settled(k) {
			s.Marks[k.Class]++
		}
	}
	items := checklist.Items(m.Circuit, checklist.For(m.profileName()))
	counts := checklist.Counts(items)
	s.QuestionsAll, s.OpenAnswers, s.NoAnswers = len(items), counts[model.ReplyOpen], counts[model.ReplyNo]
	m.out.Summary = s
}

// profileName is the profile by which checklists are chosen: that of the circuit.
func (m *maker) profileName() string {
	if name := m.Circuit.Header().Profile; name != "" {
		return name
	}
	return m.of.Profile.Name
}

func settled(k *model.Mark) bool {
	return k.State() == model.MarkDone || k.State() == model.MarkRejected
}

// draw makes the picture of the circuit with the numbers of findings and marks.
func (m *maker) draw() {
	m.bare = draw.Circuit(m.Circuit, m.Catalogue, scene.Of(checks.Plant.Of(m.Snapshot), nil))
	p := &draw.Picture{}
	p.Append(m.bare, model.Point{})
	if m.has(Findings) {
		var signs []draw.Mark
		for i := range m.of.Result.Findings {
			f := &m.of.Result.Findings[i]
			signs = append(signs, draw.Mark{Place: f.At, Severity: draw.Severity(f.Severity), Number: i + 1})
		}
		draw.Findings(p, signs)
	}
	if m.has(Marks) {
		draw.Pins(p, PinsOf(m.drawing))
	}
	p.Bounds = p.Bounds.Grown(4)
	m.out.picture = p
}

// PinsOf gives the marks of a circuit as they stand on its drawing. One on the
// circuit as a whole has no place.
func PinsOf(d interface {
	Circuit() *model.Circuit
	PinPlace(*model.Mark) (model.Point, bool)
}) []draw.Pin {
	var out []draw.Pin
	for _, k := range d.Circuit().Marks() {
		at, ok := d.PinPlace(k)
		if !ok {
			continue
		}
		pin := draw.Pin{Mark: k.ID, Class: k.Class, Number: k.Number, Settled: settled(k), At: at}
		if k.Pin.On == "" && k.Pin.At != nil && k.Pin.To != nil {
			r := place.Spanned(*k.Pin.At, *k.Pin.To)
			pin.Area = &r
		}
		out = append(out, pin)
	}
	return out
}

func (m *maker) has(c Chapter) bool {
	for _, x := range m.out.Chapters {
		if x == c {
			return true
		}
	}
	return false
}

// cautions are the usual ones for what the steps send.
func (m *maker) cautions() []string {
	sends := map[model.Medium]bool{}
	hot := false
	for _, s := range m.Circuit.Steps() {
		sends[s.Medium.Or("")] = true
		if t, ok := s.Temperature.Get(); ok && t.Celsius() >= 60 { // common practice, no source
			hot = true
		}
	}
	out := []string{"This report is an aid for qualified people. It replaces no survey of the plant, no risk assessment and no licensed practice. Verify every length, height, size and valve on site before relying on a result.",
		"A finding that is absent proves nothing: see what was not assessed, and what each rule says it does not see."}
	if sends[model.Alkali] {
		out = append(out, "Caustic burns skin and eyes, hot caustic at once and deep. Dose concentrate into cold water, never water into concentrate.")
	}
	if sends[model.Acid] {
		out = append(out, "Acid burns skin and eyes; with hypochlorite it gives chlorine, with caustic it boils up. Rinse between them.")
	}
	if sends[model.Disinfect] {
		out = append(out, "Disinfectants irritate eyes and lungs; keep them from acid and from caustic.")
	}
	if hot || sends[model.Steam] {
		out = append(out, "Hot liquid and steam scald; a closed vessel that is rinsed cold after a hot wash can be drawn in: keep its vent open.")
	}
	return append(out, "Vessels are confined spaces. Before work on the plant, shut off, drain, depressurise and lock out after the site's rules; local codes, safety data sheets and suppliers' data come first.")
}
