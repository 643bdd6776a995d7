package sizing

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io/fs"
	"math"
	"slices"
	"sync"

	"rinsewright/assets"
)

// Prices are the unit prices of a first estimate, with the usual bands of the shares.
type Prices struct {
	About    string  `json:"about"`
	Currency string  `json:"currency"`
	Standing string  `json:"standing"`
	Items    []Price `json:"items"`
	Bands    []Band  `json:"bands"`
}

// Price is one unit price.
type Price struct {
	Key   string  `json:"key"`
	Group string  `json:"group"` // of cost, that its share is told of
	Label string  `json:"label"`
	Price float64 `json:"price"` // a unit, 0 or more
	Unit  string  `json:"unit"`
}

// Band is the usual share of a group in the cost of a station, in per cent.
type Band struct {
	Group    string  `json:"group"`
	Least    float64 `json:"least"`
	Most     float64 `json:"most"`
	Standing string  `json:"standing"`
}

// DefaultPrices gives the prices that the program carries, which are invented. It is
// a copy.
func DefaultPrices() *Prices {
	p := *defaultPrices()
	p.Items = slices.Clone(p.Items)
	return &p
}

var defaultPrices = sync.OnceValue(func() *Prices {
	p, err := LoadPrices(assets.Files)
	if err != nil {
		panic("sizing: embedded data: " + err.Error()) // held by a test
	}
	return p
})

// LoadPrices reads prices.json. The error names the key.
func LoadPrices(files fs.FS) (*Prices, error) {
	b, err := fs.ReadFile(files, "prices.json")
	if err != nil {
		return nil, err
	}
	d := json.NewDecoder(bytes.NewReader(b))
	d.DisallowUnknownFields()
	p := new(Prices)
	if err := d.Decode(p); err != nil {
		return nil, fmt.Errorf("prices.json: %w", err)
	}
	seen := map[string]bool{}
	for _, i := range p.Items {
		if i.Key == "" || i.Group == "" || i.Label == "" || i.Unit == "" || seen[i.Key] || !goodPrice(i.Price) {
			return nil, fmt.Errorf("prices.json: %q lacks something, stands twice or has no price", i.Key)
		}
		seen[i.Key] = true
	}
	for _, key := range billed {
		if !seen[key] {
			return nil, fmt.Errorf("prices.json: there is no price for %s", key)
		}
	}
	return p, nil
}

func goodPrice(x float64) bool { return x >= 0 && !math.IsInf(x, 0) && !math.IsNaN(x) }

// Set gives the prices with another one for a key. It refuses a key that there is not
// and what is no price.
func (p *Prices) Set(key string, price float64) (*Prices, error) {
	if !goodPrice(price) {
		return nil, fmt.Errorf("a price is a number from 0 on")
	}
	next := *p
	next.Items = slices.Clone(p.Items)
	for i := range next.Items {
		if next.Items[i].Key == key {
			next.Items[i].Price = price
			return &next, nil
		}
	}
	return nil, fmt.Errorf("there is no price for %q", key)
}

func (p *Prices) band(group string) (Band, bool) {
	for _, b := range p.Bands {
		if b.Group == group {
			return b, true
		}
	}
	return Band{}, false
}
