package isolation

import "rinsewright/model"

// Policy says what a site relies on. The zero value is the cautious one.
type Policy struct {
	Automatic  bool // a single valve moved by air or current counts as a barrier
	Regulating bool // so does a regulating or steam control valve
	Check      bool // so does a check valve, against flow that it does not pass
	Single     bool // one shut valve is enough against hot caustic, acid, disinfectant, steam and gas
}

// Ask says what is to be worked on.
type Ask struct {
	Work   []model.ID // parts and runs
	Policy Policy
	Pin    []model.ID // valves that are to be shut in any case
	Forbid []model.ID // valves that must not be relied on
	After  model.ID   // step that ran last; empty: any step may have
	Most   int        // plans wanted at most; 0 stands for 3
}

// dangerous says whether two barriers are wanted against a medium.
func dangerous(m model.Medium) bool {
	switch m {
	case model.Alkali, model.Acid, model.Disinfect, model.Steam, model.Gas:
		return true
	}
	return false
}
