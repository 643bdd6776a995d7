package compare_test

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"
	"time"

	"rinsewright/model"
)

// generator makes circuits and edits with any value that a file can hold.
type generator struct {
	*rand.Rand
	count int
	refs  []model.ID // parts that may be named
}

// circuit makes a circuit of all sorts of record. Some parts are never edited by
// their users' sides, so that runs and steps can name them.
func (g *generator) circuit(size int) *model.Circuit {
	all := model.Records{Header: &model.Header{Name: "base"}}
	for i := range size {
		p := model.NewPart(model.Classes()[i%len(model.Classes())])
		g.fill(p, g.id("p"))
		all.Parts = append(all.Parts, p)
		g.refs = append(g.refs, p.RecordID())
	}
	for range size {
		r := &model.Run{}
		g.fill(r, g.id("r"))
		all.Runs = append(all.Runs, r)
	}
	for range 1 + size/3 {
		s, d, m, a := &model.Step{}, &model.Deviation{}, &model.Mark{}, &model.Answer{}
		g.fill(s, g.id("s"))
		g.fill(d, g.id("d"))
		g.fill(m, g.id("m"))
		m.Number = g.count // no two share one
		g.fill(a, g.id("a"))
		all.Steps, all.Deviations, all.Marks, all.Answers = append(all.Steps, s), append(all.Deviations, d), append(all.Marks, m), append(all.Answers, a)
	}
	c, err := all.Circuit()
	if err != nil {
		panic(err)
	}
	return c
}

func (g *generator) id(letter string) model.ID {
	g.count++
	return model.ID(fmt.Sprintf("%s%05d", letter, g.count))
}

func (g *generator) fill(r model.Record, id model.ID) {
	g.fields(reflect.ValueOf(r).Elem(), 0.5)
	switch r := r.(type) { // what a file demands
	case *model.Mark:
		g.set(reflect.ValueOf(&r.Class).Elem())
	case *model.Answer:
		g.set(reflect.ValueOf(&r.Reply).Elem())
	}
	name(r, id)
}

// name gives a record an id; the header has none of its own.
func name(r model.Record, id model.ID) {
	if f := reflect.ValueOf(r).Elem().FieldByName("ID"); f.IsValid() {
		f.SetString(string(id))
	}
}

func (g *generator) fields(v reflect.Value, chance float64) {
	for i := range v.NumField() {
		if v.Type().Field(i).Anonymous {
			g.fields(v.Field(i), chance)
		} else if g.Float64() < chance {
			g.set(v.Field(i))
		}
	}
}

// set gives a value something else, from few enough that two sides often agree.
func (g *generator) set(v reflect.Value) {
	if get, ok := v.Type().MethodByName("Get"); ok && v.Kind() == reflect.Struct && strings.HasPrefix(v.Type().Name(), "Opt[") {
		if g.IntN(4) == 0 {
			v.SetZero()
			return
		}
		x := reflect.New(get.Type.Out(0)).Elem()
		g.set(x)
		v.Addr().Interface().(interface{ Set(any) }).Set(x.Interface())
		return
	}
	switch x := v.Addr().Interface().(type) {
	case *model.Date:
		*x = model.DateOf(time.Date(2026, 1, 1+g.IntN(4), 0, 0, 0, 0, time.UTC))
		return
	case *model.Moment:
		*x = model.MomentOf(time.Date(2026, 1, 1, g.IntN(20), 0, 0, 0, time.UTC))
		return
	case *model.ID:
		if len(g.refs) > 0 {
			*x = g.refs[g.IntN(len(g.refs))]
		}
		return
	case *model.Turn:
		*x = model.Turn(g.IntN(4))
		return
	}
	switch v.Kind() {
	case reflect.String:
		if c, ok := v.Interface().(interface{ Choices() []string }); ok {
			v.SetString(c.Choices()[g.IntN(len(c.Choices()))])
			return
		}
		v.SetString([]string{"", "V-12", "oat drink", "EN 10357-A DN50", "open", "x"}[g.IntN(6)])
	case reflect.Bool:
		v.SetBool(g.IntN(2) == 0)
	case reflect.Int:
		v.SetInt(int64(g.IntN(5)))
	case reflect.Float64:
		v.SetFloat(float64(g.IntN(5)) / 8)
	case reflect.Slice:
		v.SetZero()
		for range g.IntN(4) {
			e := reflect.New(v.Type().Elem()).Elem()
			g.set(e)
			v.Set(reflect.Append(v, e))
		}
	case reflect.Map:
		v.SetZero()
		for range g.IntN(4) {
			if v.IsNil() {
				v.Set(reflect.MakeMap(v.Type()))
			}
			v.SetMapIndex(reflect.ValueOf(g.refs[g.IntN(len(g.refs))]), reflect.ValueOf([]string{"open", "shut", "left"}[g.IntN(3)]))
		}
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		g.set(v.Elem())
	case reflect.Struct:
		g.fields(v, 0.6)
	default:
		panic("no random value for " + v.Type().String())
	}
}

// edited gives a circuit after some random changes: fields, new records, and
// records deleted. Parts are deleted only if so asked.
func (g *generator) edited(t testing.TB, c *model.Circuit, changes int, parts bool) *model.Circuit {
	t.Helper()
	for range changes {
		all := c.All()
		r := all[g.IntN(len(all))]
		ch := model.Change{Before: r}
		_, isPart := r.(model.Part)
		switch g.IntN(6) {
		case 0: // delete
			if r.RecordID() == model.HeaderID || isPart && !parts {
				continue
			}
		case 1: // add
			ch.Before = nil
			next := model.Clone(r)
			if r.RecordID() == model.HeaderID {
				continue
			}
			letter := string(r.RecordID()[0])
			id := model.ID(fmt.Sprintf("%s%05d", letter, 50000+g.IntN(40000)))
			name(next, id)
			if m, ok := next.(*model.Mark); ok {
				m.Number = 1000 + g.IntN(1_000_000)
			}
			if c.Record(id) != nil {
				continue
			}
			ch.After = next
		default:
			next := model.Clone(r)
			g.set(g.field(reflect.ValueOf(next).Elem()))
			name(next, r.RecordID())
			if m, ok := next.(*model.Mark); ok {
				m.Number = r.(*model.Mark).Number
			}
			ch.After = next
		}
		after, err := c.Apply(model.Edit{Changes: []model.Change{ch}})
		if err != nil {
			t.Fatal(err)
		}
		c = after
	}
	return c
}

// field gives some field of a record, those of what every part has among them.
func (g *generator) field(v reflect.Value) reflect.Value {
	for {
		i := g.IntN(v.NumField())
		if v.Type().Field(i).Anonymous {
			return g.field(v.Field(i))
		}
		if v.Type().Field(i).Name != "ID" {
			return v.Field(i)
		}
	}
}
