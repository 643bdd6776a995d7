package checks

import (
	"io/fs"
	"strings"
	"testing"

	"rinsewright/assets"
	"rinsewright/model"
)

func TestChemistryLoads(t *testing.T) {
	c, err := loadChemistry()
	if err != nil {
		t.Fatal(err)
	}
	for _, b := range c.bands {
		if b.Strength == nil && b.Temperature == nil {
			t.Errorf("band of %s for %q says nothing", b.Purpose, b.Soil)
		}
		known := b.Soil == ""
		for _, s := range b.Soil.Choices() {
			known = known || s == string(b.Soil)
		}
		if !known {
			t.Errorf("soil %q is no choice", b.Soil)
		}
	}
	for _, purpose := range []struct {
		of    model.Purpose
		agent model.Chemical
	}{{model.AlkaliWash, model.SodiumHydroxide}, {model.AcidWash, model.NitricAcid}, {model.AcidWash, model.PhosphoricAcid},
		{model.Disinfection, model.PeraceticAcid}, {model.Disinfection, model.SodiumHypochlorite}} {
		if _, ok := c.bandOf(purpose.of, string(purpose.agent), "never-heard-of"); !ok {
			t.Errorf("no band of %s for %s for any soil", purpose.of, purpose.agent)
		}
	}
}

// Every material of a seal is told for every chemical that a step can send, so that
// none passes in silence.
func TestSealsAreToldForEveryChemical(t *testing.T) {
	c, err := loadChemistry()
	if err != nil {
		t.Fatal(err)
	}
	if len(c.seals) < 8 {
		t.Fatalf("%d names of seals", len(c.seals))
	}
	agents := append(model.Chemical("").Choices(), ofWater)
	for seal := range c.seals {
		for _, agent := range agents {
			if _, _, ok := c.sealStands(seal, agent); !ok {
				t.Errorf("%s: nothing of %s", seal, agent)
			}
		}
	}
	for _, agent := range agents {
		if chemicalName(agent) == agent && strings.Contains(agent, "-") {
			t.Errorf("%s has no name for sentences", agent)
		}
	}
	for _, steel := range model.Material("").Choices() {
		for _, agent := range model.Chemical("").Choices() {
			if _, ok := c.wallStands(model.Material(steel), agent); !ok {
				t.Errorf("%s: nothing of %s", steel, agent)
			}
		}
	}
	if names, err := fs.Glob(assets.Files, "chemistry/*.json"); err != nil || len(names) != 2 {
		t.Errorf("%v, %v", names, err)
	}
}
