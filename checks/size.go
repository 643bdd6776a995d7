package checks

import (
	"rinsewright/model"
	"rinsewright/model/quantity"
)

// sizeOf gives the tube size that a part has under a key. Looking the key up as
// a property would do the same, but this is asked for every end of every run.
func sizeOf(part model.Part, key string) quantity.Opt[model.TubeSize] {
	var size, second quantity.Opt[model.TubeSize]
	secondKey := "second_size"
	switch p := part.(type) {
	case *model.Vessel:
		size, second, secondKey = p.Size, p.InletSize, "inlet_size"
	case *model.Pump:
		size, second, secondKey = p.Size, p.OutletSize, "outlet_size"
	case *model.Exchanger:
		size, second, secondKey = p.Size, p.ServiceSize, "service_size"
	case *model.Valve:
		size, second = p.Size, p.SecondSize
	case *model.Fitting:
		size, second = p.Size, p.SecondSize
	case *model.Spray:
		size = p.Size
	case *model.Instrument:
		size = p.Size
	case *model.Terminal:
		size = p.Size
	case *model.Object:
		size = p.Size
	}
	switch key {
	case "size":
		return size
	case secondKey:
		return second
	}
	return quantity.Opt[model.TubeSize]{}
}
