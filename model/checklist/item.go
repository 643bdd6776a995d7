package checklist

import (
	"slices"

	"rinsewright/model"
)

// Item is one question as it stands for one circuit, part or run.
type Item struct {
	Question *Question
	On       model.ID      // part or run; empty: the circuit
	Answer   *model.Answer // nil: none was given
	Whole    bool          // the answer was given for all at once, not for this part or run
}

// Reply gives the answer; open where none was given.
func (i *Item) Reply() model.Reply {
	if i.Answer == nil {
		return model.ReplyOpen
	}
	return i.Answer.Reply
}

// Items lists what the questions of some lists ask of a circuit, in the order of
// the lists, of a question per part in order of id. An answer for a part or run
// counts before one that was given for all. Of several answers to one thing the
// one of the latest date counts.
func Items(c *model.Circuit, lists []*List) []Item {
	given := answers(c)
	var out []Item
	for _, l := range lists {
		for i := range l.Questions {
			q := &l.Questions[i]
			for _, on := range asked(c, q) {
				item := Item{Question: q, On: on, Answer: given[about{q.ID, on}]}
				if item.Answer == nil && on != "" {
					item.Answer = given[about{q.ID, ""}]
					item.Whole = item.Answer != nil
				}
				out = append(out, item)
			}
		}
	}
	return out
}

type about struct {
	question string
	on       model.ID
}

func answers(c *model.Circuit) map[about]*model.Answer {
	out := map[about]*model.Answer{}
	for _, a := range c.Answers() {
		at := about{a.Question, a.On}
		if old := out[at]; old == nil || a.Date >= old.Date { // they are in order of id
			out[at] = a
		}
	}
	return out
}

func asked(c *model.Circuit, q *Question) []model.ID {
	switch q.Per {
	case PerPart:
		var out []model.ID
		for _, p := range c.Parts() {
			if slices.Contains(q.Classes, p.Class()) {
				out = append(out, p.RecordID())
			}
		}
		return out
	case PerRun:
		var out []model.ID
		for _, r := range c.Runs() {
			out = append(out, r.ID)
		}
		return out
	}
	return []model.ID{""}
}

// Unasked gives the answers of a circuit to questions that the lists do not ask of
// it, or about parts and runs that are gone, in the order of the circuit. They are
// kept; a report tells them.
func Unasked(c *model.Circuit, lists []*List) []*model.Answer {
	used := map[about]bool{}
	for _, item := range Items(c, lists) {
		used[about{item.Question.ID, item.On}] = true
		used[about{item.Question.ID, ""}] = true
	}
	var out []*model.Answer
	for _, a := range c.Answers() {
		if !used[about{a.Question, a.On}] {
			out = append(out, a)
		}
	}
	return out
}

// Counts counts items by their reply.
func Counts(items []Item) map[model.Reply]int {
	out := map[model.Reply]int{}
	for i := range items {
		out[items[i].Reply()]++
	}
	return out
}
