package report

import (
	"fmt"
	"strings"

	"rinsewright/canvas/draw"
	"rinsewright/model"
	"rinsewright/model/checklist"
)

// Mark is a reviewer's mark as a report tells it.
type Mark struct {
	ID          model.ID        `json:"id"`
	Number      int             `json:"number"`
	Class       model.MarkClass `json:"class"`
	State       model.MarkState `json:"state"`
	Where       string          `json:"where"`
	Record      model.ID        `json:"record,omitempty"`
	Adrift      bool            `json:"adrift,omitempty"` // what it was pinned to is gone
	Text        string          `json:"text,omitempty"`
	Finding     string          `json:"finding,omitempty"`
	Rule        string          `json:"rule,omitempty"`
	FindingNow  string          `json:"finding_now,omitempty"` // "open", "accepted", "not there"
	Attachments []string        `json:"attachments,omitempty"`
	History     []model.Entry   `json:"history,omitempty"`

	sign draw.Pin
}

func (m *maker) marks() error {
	state := map[string]string{}
	for i := range m.of.Result.NotAssessed {
		state[m.of.Result.NotAssessed[i].ID] = "not assessed"
	}
	for i := range m.of.Result.Accepted {
		state[m.of.Result.Accepted[i].ID] = "accepted"
	}
	for i := range m.of.Result.Findings {
		state[m.of.Result.Findings[i].ID] = "open"
	}
	for _, k := range m.Circuit.Marks() {
		x := Mark{ID: k.ID, Number: k.Number, Class: k.Class, State: k.State(), Where: m.pinned(k), Record: k.Pin.On, Adrift: m.Circuit.Adrift(k), Text: k.Text,
			Finding: k.Finding, Rule: k.Rule, Attachments: k.Attachments, History: k.History,
			sign: draw.Pin{Mark: k.ID, Class: k.Class, Number: k.Number, Settled: settled(k)}}
		if k.Finding != "" {
			if x.FindingNow = state[k.Finding]; x.FindingNow == "" {
				x.FindingNow = "not there"
			}
		}
		m.out.Marks = append(m.out.Marks, x)
		if err := m.step(1, "marks"); err != nil {
			return err
		}
	}
	return nil
}

// pinned tells where a mark sits.
func (m *maker) pinned(k *model.Mark) string {
	switch p := k.Pin; {
	case m.Circuit.Adrift(k) && p.Was != "":
		return "was on " + p.Was + ", which is gone"
	case m.Circuit.Adrift(k):
		return "what it was on is gone"
	case p.On != "":
		return m.Name(p.On)
	case p.To != nil:
		return "an area of the drawing"
	case p.At != nil:
		return "a place on the drawing"
	}
	return "the circuit as a whole"
}

// Checklist is what was asked and answered.
type Checklist struct {
	Counts map[model.Reply]int `json:"counts"`
	Lists  []CheckList         `json:"lists"`
	Loose  []Answer            `json:"answers_to_nothing,omitempty"` // to questions that are not asked, or about what is gone
}

// CheckList is one list of questions.
type CheckList struct {
	Name  string   `json:"name"`
	Title string   `json:"title"`
	About string   `json:"about,omitempty"`
	Asked []Answer `json:"questions"`
}

// Answer is one question with its answer; open where there is none.
type Answer struct {
	ID       model.ID    `json:"id,omitempty"` // of the answer
	Question string      `json:"question"`     // id
	Group    string      `json:"group,omitempty"`
	Text     string      `json:"text,omitempty"`
	On       model.ID    `json:"on,omitempty"`
	Where    string      `json:"where"`
	Reply    model.Reply `json:"answer"`
	Whole    bool        `json:"answered_for_all,omitempty"`
	Wanted   string      `json:"evidence_wanted,omitempty"`
	Evidence string      `json:"evidence,omitempty"`
	By       string      `json:"by,omitempty"`
	Date     model.Date  `json:"date,omitempty"`
	Source   string      `json:"source,omitempty"`
}

func (m *maker) checklists() error {
	lists := checklist.For(m.profileName())
	items := checklist.Items(m.Circuit, lists)
	out := &Checklist{Counts: checklist.Counts(items)}
	of := map[string]int{} // by question, its list
	for i, l := range lists {
		out.Lists = append(out.Lists, CheckList{Name: l.Name, Title: l.Title, About: l.About})
		for _, q := range l.Questions {
			of[q.ID] = i
		}
	}
	for i := range items {
		it := &items[i]
		a := Answer{Question: it.Question.ID, Group: it.Question.Group, Text: it.Question.Text, On: it.On, Where: "the circuit", Reply: it.Reply(), Whole: it.Whole,
			Wanted: it.Question.Evidence, Source: it.Question.Cites()}
		if it.On != "" {
			a.Where = m.Name(it.On)
		}
		if x := it.Answer; x != nil {
			a.ID, a.Evidence, a.By, a.Date = x.ID, x.Evidence, x.By, x.Date
		}
		l := &out.Lists[of[a.Question]]
		l.Asked = append(l.Asked, a)
	}
	for _, x := range checklist.Unasked(m.Circuit, lists) {
		a := Answer{ID: x.ID, Question: x.Question, On: x.On, Where: "the circuit", Reply: x.Reply, Evidence: x.Evidence, By: x.By, Date: x.Date}
		if x.On != "" {
			a.Where = "what is gone (" + string(x.On) + ")"
			if m.Circuit.Record(x.On) != nil {
				a.Where = m.Name(x.On)
			}
		}
		out.Loose = append(out.Loose, a)
	}
	m.out.Asked = out
	return m.step(1, "checklists")
}

func replyWords(r model.Reply) string {
	if r == model.ReplyNone {
		return "not applicable"
	}
	return string(r)
}

// historyWords tells one line of a mark's history.
func historyWords(e model.Entry) string {
	out := strings.TrimSuffix(strings.Replace(string(e.At), "T", " ", 1), "Z")
	if len(out) > 16 {
		out = out[:16] + " UTC"
	}
	if e.By != "" {
		out = strings.TrimSpace(out + " " + e.By)
	}
	if s, ok := e.State.Get(); ok {
		out += ": " + string(s)
	}
	if e.Text != "" {
		out += fmt.Sprintf(" (%s)", e.Text)
	}
	return out
}
