package circuitfile

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"time"

	"rinsewright/model"
	"rinsewright/model/quantity"
)

// randomCircuit makes a circuit with parts of every class, each property known
// with the given chance. Its values are those that a user could enter; whether
// the circuit makes sense does not matter here.
func randomCircuit(rng *rand.Rand, parts int, chance float64) *model.Circuit {
	g := generator{rng, chance, 0}
	var ps []model.Part
	for i := range parts {
		classes := model.Classes()
		p := model.NewPart(classes[i%len(classes)])
		g.fill(reflect.ValueOf(p).Elem())
		ps = append(ps, p)
	}
	var runs []*model.Run
	for range parts {
		r := filled[model.Run](&g)
		if rng.IntN(2) == 0 {
			r.From, r.To = model.End{Part: ps[rng.IntN(parts)].RecordID(), Port: "a"}, model.End{Part: ps[rng.IntN(parts)].RecordID(), Port: "b"}
		}
		runs = append(runs, r)
	}
	all := model.Records{Header: filled[model.Header](&g), Parts: ps, Runs: runs}
	for range 1 + parts/20 {
		all.Steps = append(all.Steps, filled[model.Step](&g))
	}
	if g.Float64() < chance { // not every circuit is audited
		for range 1 + parts/10 {
			all.Deviations = append(all.Deviations, filled[model.Deviation](&g))
			all.Marks = append(all.Marks, filled[model.Mark](&g))
			all.Answers = append(all.Answers, filled[model.Answer](&g))
		}
	}
	c, err := all.Circuit()
	if err != nil {
		panic(err)
	}
	return c
}

func filled[R any](g *generator) *R {
	r := new(R)
	g.fill(reflect.ValueOf(r).Elem())
	return r
}

type generator struct {
	*rand.Rand
	chance float64
	count  int
}

func (g *generator) fill(v reflect.Value) {
	for i := range v.NumField() {
		f := v.Type().Field(i)
		if f.Anonymous {
			g.fill(v.Field(i))
			continue
		}
		key, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		if options == "" || g.Float64() < g.chance {
			g.set(v.Field(i), key)
		}
	}
}

func (g *generator) set(v reflect.Value, key string) {
	if key == "id" {
		g.count++
		v.SetString(fmt.Sprintf("x%06d-%04x", g.count, g.IntN(1<<16)))
		return
	}
	if inner, ok := known(v.Type()); ok {
		x := reflect.New(inner).Elem()
		g.set(x, key)
		v.Addr().Interface().(interface{ Set(any) }).Set(x.Interface())
		return
	}
	if v.Type() == reflect.TypeFor[model.Point]() {
		v.Set(reflect.ValueOf(g.point()))
		return
	}
	switch v.Type() {
	case reflect.TypeFor[model.Date]():
		v.SetString(string(model.DateOf(g.time())))
		return
	case reflect.TypeFor[model.Moment]():
		v.SetString(string(model.MomentOf(g.time())))
		return
	case reflect.TypeFor[model.Plain]():
		least, most, _ := model.Bounds(key, v.Type())
		v.SetFloat(g.number(least, most))
		return
	}
	switch v.Kind() {
	case reflect.String:
		if c, ok := v.Interface().(interface{ Choices() []string }); ok {
			v.SetString(c.Choices()[g.IntN(len(c.Choices()))])
			return
		}
		v.SetString(g.words())
	case reflect.Bool:
		v.SetBool(g.IntN(2) == 0 || v.Type() == reflect.TypeFor[bool]() && key == "mirrored")
	case reflect.Int:
		least, most, _ := model.Bounds(key, v.Type())
		v.SetInt(int64(least) + g.Int64N(int64(most-least)+1))
	case reflect.Float64:
		u, _ := quantity.FileUnit(v.Type())
		least, most, _ := model.Bounds(key, v.Type())
		v.SetFloat(u.ToSI(g.number(least, most)))
	case reflect.Slice:
		for range 1 + g.IntN(3) {
			e := reflect.New(v.Type().Elem()).Elem()
			g.set(e, key)
			v.Set(reflect.Append(v, e))
		}
	case reflect.Map:
		v.Set(reflect.MakeMap(v.Type()))
		for range 1 + g.IntN(3) {
			v.SetMapIndex(reflect.ValueOf(model.ID(g.words())), reflect.ValueOf(g.words()))
		}
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		g.set(v.Elem(), key)
	case reflect.Struct:
		g.fill(v)
	default:
		panic("no random value for " + v.Type().String())
	}
}

// time gives some second of the years 0 to 9999, which is all that the form of a
// date can tell.
func (g *generator) time() time.Time {
	const from, to = -62167219200, 253402300799
	return time.Unix(from+g.Int64N(to-from+1), 0).UTC()
}

func (g *generator) point() model.Point {
	return model.Point{X: float64(g.IntN(4_000_000)-2_000_000) / 1000, Y: float64(g.IntN(4000)) / 2}
}

// number gives a number of up to nine figures, often a bound or zero.
func (g *generator) number(least, most float64) float64 {
	switch g.IntN(12) {
	case 0:
		return least
	case 1:
		return most
	case 2:
		return max(least, 0)
	}
	scale := math.Pow10(g.IntN(9))
	x := math.Round(g.Float64()*1e9) / 1e9 * scale
	x, _ = parse(fmt.Sprintf("%.9g", x))
	if least < 0 && g.IntN(2) == 0 {
		x = -x
	}
	return min(max(x, least), most)
}

func parse(s string) (x float64, err error) {
	_, err = fmt.Sscan(s, &x)
	return x, err
}

var someWords = []string{"V-12", "oat drink", "Größe", "<&>", `"quoted"`, `back\slash`, "tab\tnew\nline", "水",
	"\u2028", "\x00", "a", "EN 10357-A DN50", "\ufffd", "🥛"}

func (g *generator) words() string {
	n := 1 + g.IntN(3)
	out := make([]string, n)
	for i := range out {
		out[i] = someWords[g.IntN(len(someWords))]
	}
	return strings.Join(out, " ")
}
