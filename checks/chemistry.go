package checks

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"sync"

	"rinsewright/assets"
	"rinsewright/model"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

// chemistry is what the program knows of chemicals beside seals, walls and soils:
// data, each line with its standing.
type chemistry struct {
	bands     []band
	materials []stands
	seals     map[string][]stands // by name of the material in capitals
}

// band is the usual strength and temperature of a step.
type band struct {
	Purpose     model.Purpose  `json:"purpose"`
	Chemical    model.Chemical `json:"chemical,omitempty"` // empty: water
	Soil        model.Soil     `json:"soil,omitempty"`     // empty: any other
	Strength    *[2]float64    `json:"strength_pct,omitempty"`
	Temperature *[2]float64    `json:"temperature_C,omitempty"`
	Citation
}

// stands is the most that a material stands of an agent.
type stands struct {
	Material    model.Material `json:"material,omitempty"`
	Chemical    model.Chemical `json:"chemical,omitempty"`
	Agent       string         `json:"agent,omitempty"` // of a seal: a chemical or "water"
	Strength    float64        `json:"strength_most_pct"`
	Temperature float64        `json:"temperature_most_C"`
	Why         string         `json:"why,omitempty"`
	Citation
}

func (s stands) strength() quantity.Strength       { return quantity.Strength(s.Strength / 100) }
func (s stands) temperature() quantity.Temperature { return quantity.Celsius(s.Temperature) }

const ofWater = "water"

// chemistryData is loaded once; a test holds that it can be.
var chemistryData = sync.OnceValue(func() *chemistry {
	c, err := loadChemistry()
	if err != nil {
		panic("checks: embedded chemistry: " + err.Error())
	}
	return c
})

func loadChemistry() (*chemistry, error) {
	var bands struct {
		About     string
		Bands     []band
		Materials []stands
	}
	var seals struct {
		About string
		Seals []struct {
			Seal     string
			Names    []string
			Stands   []stands
			Standing string
		}
	}
	for name, into := range map[string]any{"bands": &bands, "seals": &seals} {
		b, err := assets.Files.ReadFile("chemistry/" + name + ".json")
		if err != nil {
			return nil, err
		}
		if err := json.Unmarshal(b, into); err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
	}
	out := &chemistry{bands: bands.Bands, materials: bands.Materials, seals: map[string][]stands{}}
	for _, b := range out.bands {
		if err := checkStanding(b.Source, b.Standing); err != nil {
			return nil, fmt.Errorf("band of %s: %w", b.Purpose, err)
		}
		for _, ends := range []*[2]float64{b.Strength, b.Temperature} {
			if ends != nil && ends[0] > ends[1] {
				return nil, fmt.Errorf("band of %s: %v is above %v", b.Purpose, ends[0], ends[1])
			}
		}
	}
	for _, m := range out.materials {
		if err := checkStanding(m.Source, m.Standing); err != nil {
			return nil, fmt.Errorf("%s: %w", m.Material, err)
		}
	}
	for _, s := range seals.Seals {
		if err := checkStanding("", s.Standing); err != nil {
			return nil, fmt.Errorf("seal %s: %w", s.Seal, err)
		}
		for _, name := range s.Names {
			for _, row := range s.Stands {
				row.Citation = Citation{Standing: s.Standing}
				out.seals[strings.ToUpper(name)] = append(out.seals[strings.ToUpper(name)], row)
			}
		}
	}
	return out, nil
}

// bandOf gives the band of a soil, else of any soil; false where nobody knows one.
func (c *chemistry) bandOf(purpose model.Purpose, agent string, soil model.Soil) (band, bool) {
	for _, of := range []model.Soil{soil, ""} {
		i := slices.IndexFunc(c.bands, func(b band) bool {
			return b.Purpose == purpose && b.Soil == of && (string(b.Chemical) == agent || b.Chemical == "" && agent == ofWater)
		})
		if i >= 0 {
			return c.bands[i], true
		}
	}
	return band{}, false
}

// sealStands gives what a sealing material stands of an agent; known is false for a
// material that is not in the table, ok for an agent that is not.
func (c *chemistry) sealStands(seal, agent string) (row stands, known, ok bool) {
	rows, known := c.seals[strings.ToUpper(strings.TrimSpace(seal))]
	for _, r := range rows {
		if r.Agent == agent {
			return r, true, true
		}
	}
	return stands{}, known, false
}

// agentOf gives the chemical that a step sends, "water" for water; empty where the
// step sends no liquid of the table. Alkali is taken as sodium hydroxide and acid as
// nitric acid where nobody tells; of a disinfectant it must be told.
func agentOf(step *model.Step) (string, []network.Missing) {
	medium, known := step.Medium.Get()
	if !known {
		return "", []network.Missing{missingKey(step, "medium")}
	}
	if water(medium) {
		return ofWater, nil
	}
	if !chemical(medium) {
		return "", nil
	}
	if c, told := step.Chemical.Get(); told {
		return string(c), nil
	}
	switch medium {
	case model.Alkali:
		return string(model.SodiumHydroxide), nil
	case model.Acid:
		return string(model.NitricAcid), nil
	}
	return "", []network.Missing{missingKey(step, "chemical")}
}

// chemicalNames are the chemicals as sentences name them.
var chemicalNames = map[string]string{
	string(model.SodiumHydroxide): "sodium hydroxide", string(model.NitricAcid): "nitric acid", string(model.PhosphoricAcid): "phosphoric acid",
	string(model.PeraceticAcid): "peracetic acid", string(model.SodiumHypochlorite): "sodium hypochlorite", ofWater: "water",
}

// chemicalName names a chemical in a sentence.
func chemicalName(agent string) string {
	if name, ok := chemicalNames[agent]; ok {
		return name
	}
	return agent
}
