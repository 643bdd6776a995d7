package service_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
	"rinsewright/model/network/networktest"
	. "rinsewright/model/quantity"
	"rinsewright/model/service"
)

// plant is water, a pump, a valve to a filler and one to a branch that stays shut,
// with a programme of three steps and one that nobody told how often it runs.
func plant(t *testing.T, header func(*model.Header), steps func([]*model.Step)) *network.Plant {
	s := networktest.New(t)
	s.Part("W", "water-supply", `"medium":"water"`)
	s.Part("P", "centrifugal-pump", `"serviced":"2026-01-31","seal":"EPDM"`)
	s.Part("T", "tee", networktest.Stubs)
	s.Part("V", "butterfly-valve", networktest.Seats+`,"normal":"closed"`)
	s.Part("X", "butterfly-valve", networktest.Seats+`,"normal":"closed","seal":"EPDM"`)
	s.Part("F", "filler-line", `"length_m":3`)
	s.Part("G", "filler-line", `"length_m":3`)
	s.Part("D", "sewer-drain", "")
	s.Part("E", "sewer-drain", "")
	s.Run("W.a", "P.a", 2)
	s.Run("P.b", "T.a", 2)
	s.Run("T.b", "V.a", 2)
	s.Run("T.branch", "X.a", 1)
	s.Run("X.b", "G.a", 1)
	s.Run("G.b", "E.a", 1)
	s.Run("V.b", "F.a", 1)
	s.Run("F.b", "D.a", 6)
	step := func(id, programme string, order int, minutes float64) *model.Step {
		return &model.Step{ID: model.ID(id), Programme: programme, Order: order, Name: id, Source: "W", Destination: "D",
			Time: Some(Duration(60 * minutes)), Positions: map[model.ID]string{"V": "open"}, Running: []model.ID{"P"}}
	}
	list := []*model.Step{step("s1", "A", 1, 5), step("s2", "A", 2, 20), step("s3", "A", 3, 10)}
	list[1].Positions, list[1].Running = nil, nil // stands still: the valve shut, the pump at rest
	if steps != nil {
		steps(list)
	}
	p := s.Plant()
	h := model.Clone(p.Circuit.Header())
	if header != nil {
		header(h)
	}
	changes := []model.Change{model.Replacing(p.Circuit.Header(), h)}
	for _, x := range list {
		changes = append(changes, model.Adding(x))
	}
	c, err := p.Circuit.Apply(model.Edit{Changes: changes})
	if err != nil {
		t.Fatal(err)
	}
	return network.Build(c, catalogue.Builtin())
}

func often(perWeek float64) func(*model.Header) {
	return func(h *model.Header) {
		h.Programmes = []model.Frequency{{Name: "A", PerWeek: Some(model.Plain(perWeek))}}
	}
}

func wear(t *testing.T, p *network.Plant, id model.ID) service.Wear {
	t.Helper()
	for _, w := range service.Of(p).Wears {
		if w.Part == id {
			return w
		}
	}
	t.Fatalf("%s is not told", id)
	return service.Wear{}
}

// Worked by hand: the pump runs 5 + 10 min a run and 7 runs a week, 105 min; it
// starts and stops twice a run, 4 × 7 = 28. The valve opens and shuts twice, 28; in
// the second step no way is open, so 105 min again. The shut branch valve has a wet
// seat for as long, and never moves.
func TestWeekByHand(t *testing.T) {
	p := plant(t, often(7), nil)
	for _, x := range []struct {
		id    model.ID
		times float64
	}{{"P", 28}, {"V", 28}, {"X", 0}} {
		w := wear(t, p, x.id)
		if h, ok := w.Hours.Get(); !ok || math.Abs(float64(h)-105*60) > 1e-6 || w.Least != h {
			t.Errorf("%s runs %v s, known %v; want %d", x.id, h, ok, 105*60)
		}
		if n, ok := w.Switchings.Get(); !ok || n != x.times {
			t.Errorf("%s switches %v times, known %v; want %v", x.id, n, ok, x.times)
		}
		if len(w.Missing) > 0 || w.Optional {
			t.Errorf("%s: %+v", x.id, w)
		}
	}
	if left := service.Of(p).Left; len(left) != 1 || left[0].Step != "s2" || left[0].Why == "" {
		t.Errorf("left out %+v, want s2 with the reason", left)
	}
}

// A time that nobody told leaves the figure unknown, with the rest as what is known:
// 10 min × 7. How often it switches is known all the same.
func TestUnknownTimeIsNotZero(t *testing.T) {
	w := wear(t, plant(t, often(7), func(s []*model.Step) { s[0].Time = Opt[Duration]{} }), "P")
	if w.Hours.Known() || math.Abs(float64(w.Least)-70*60) > 1e-6 {
		t.Errorf("hours %v, least %v", w.Hours, w.Least)
	}
	if !slices.Equal(w.Missing, []network.Missing{{Record: "s1", Key: "time_min"}}) {
		t.Errorf("missing %+v", w.Missing)
	}
	if n, ok := w.Switchings.Get(); !ok || n != 28 {
		t.Errorf("switchings %v %v", n, ok)
	}
}

func TestUnknownFrequencyIsNotZero(t *testing.T) {
	w := wear(t, plant(t, nil, nil), "P")
	if w.Hours.Known() || w.Switchings.Known() || !slices.Contains(w.Missing, network.Missing{Record: model.HeaderID, Key: "programmes"}) {
		t.Errorf("%+v", w)
	}
	// One that is told never to run needs no times.
	w = wear(t, plant(t, often(0), func(s []*model.Step) { s[0].Time = Opt[Duration]{} }), "P")
	if h, ok := w.Hours.Get(); !ok || h != 0 || len(w.Missing) > 0 {
		t.Errorf("never run: %+v", w)
	}
}

func TestOptionalStepsAreTold(t *testing.T) {
	if w := wear(t, plant(t, often(7), func(s []*model.Step) { s[2].Optional = Some(true) }), "P"); !w.Optional {
		t.Error("the optional step is not told")
	}
}

// A valve whose position nobody told leaves what lies behind it unknown.
func TestDoubtfulPosition(t *testing.T) {
	p := plant(t, often(7), nil)
	v := model.Clone(p.Circuit.Part("X").(*model.Valve))
	v.Normal = Opt[string]{}
	c, err := p.Circuit.Apply(model.Edit{Changes: []model.Change{model.Replacing(p.Circuit.Part("X"), v)}})
	if err != nil {
		t.Fatal(err)
	}
	w := wear(t, network.Build(c, catalogue.Builtin()), "X")
	if w.Switchings.Known() || !slices.Contains(w.Missing, network.Missing{Record: "X", Key: "normal"}) {
		t.Errorf("%+v", w)
	}
}

func interval(hours, times, months float64) func(*model.Header) {
	return func(h *model.Header) {
		often(7)(h)
		iv := model.Interval{Kind: "centrifugal-pump"}
		set := func(o *Opt[model.Plain], x float64) {
			if x > 0 {
				*o = Some(model.Plain(x))
			}
		}
		set(&iv.Hours, hours)
		set(&iv.Switchings, times)
		set(&iv.Months, months)
		h.Service = []model.Interval{iv}
	}
}

// Worked by hand from 2026-01-31: 1.75 h a week; 17.5 h take 10 weeks, 70 days, to
// 2026-04-11. 28 switchings a week; 56 take 14 days, to 2026-02-14. One month ends on
// the last day of February, the 28th.
func TestDueByHand(t *testing.T) {
	for _, x := range []struct {
		hours, times, months float64
		day                  model.Date
		by                   service.Cause
	}{
		{17.5, 0, 0, "2026-04-11", service.ByHours},
		{0, 56, 0, "2026-02-14", service.BySwitchings},
		{0, 0, 1, "2026-02-28", service.ByMonths},
		{0, 0, 12, "2027-01-31", service.ByMonths},
		{17.5, 56, 1, "2026-02-14", service.BySwitchings},
		{17.5, 0, 1, "2026-02-28", service.ByMonths},
	} {
		p := plant(t, interval(x.hours, x.times, x.months), nil)
		w := wear(t, p, "P")
		for _, today := range []model.Date{"2026-02-01", x.day, "2028-01-01"} {
			d := service.Next(p.Circuit, &w, today)
			if d.Day != x.day || d.By != x.by || d.Over != (today == "2028-01-01") || d.Assumed || !d.Set {
				t.Errorf("%+v on %s: %+v", x, today, d)
			}
		}
	}
}

// What is not known makes the day one that is not exceeded at least by what is known.
func TestDueIsNotAssessed(t *testing.T) {
	p := plant(t, interval(17.5, 0, 0), func(s []*model.Step) { s[0].Time = Opt[Duration]{} })
	w := wear(t, p, "P")
	d := service.Next(p.Circuit, &w, "2026-02-01")
	// 70 min a week are known: 15 weeks, 105 days.
	if d.Day != "2026-05-16" || !d.Assumed || len(d.Missing) == 0 {
		t.Errorf("%+v", d)
	}
	x := wear(t, p, "X")
	if d := service.Next(p.Circuit, &x, "2026-02-01"); d.Set || d.Day != "" {
		t.Errorf("no interval is set for valves: %+v", d)
	}
	pump := model.Clone(p.Circuit.Part("P").(*model.Pump))
	pump.Serviced = Opt[model.Date]{}
	c, err := p.Circuit.Apply(model.Edit{Changes: []model.Change{model.Replacing(p.Circuit.Part("P"), pump)}})
	if err != nil {
		t.Fatal(err)
	}
	if d := service.Next(c, &w, "2026-02-01"); d.Day != "" || !slices.Contains(d.Missing, network.Missing{Record: "P", Key: "serviced"}) {
		t.Errorf("never serviced: %+v", d)
	}
}

func TestSpares(t *testing.T) {
	var got []string
	for _, s := range service.Spares(plant(t, nil, nil).Circuit) {
		got = append(got, fmt.Sprint(s.Kind, " ", s.Seal, " ", s.Parts))
	}
	want := []string{"butterfly-valve  [V]", "butterfly-valve EPDM [X]", "centrifugal-pump EPDM [P]"}
	if !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

// The demo plant: the parts' figures are known where and only where all is told.
func TestKnownOrMissing(t *testing.T) {
	for _, p := range []*network.Plant{plant(t, often(7), nil), plant(t, nil, nil)} {
		for _, w := range service.Of(p).Wears {
			if (w.Hours.Known() && (w.Switchings.Known() || !w.Switches)) != (len(w.Missing) == 0) {
				t.Errorf("%s: hours %v, switchings %v, missing %v", w.Part, w.Hours.Known(), w.Switchings.Known(), w.Missing)
			}
		}
	}
}
