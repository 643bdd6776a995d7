package checks

import (
	"rinsewright/model"
	"rinsewright/model/network"
)

// Missing names a property, by its key in the circuit file, that was never
// entered; see [Pass.NotAssessed].
func Missing(record model.ID, key string) network.Missing {
	return network.Missing{Record: record, Key: key}
}

// missingKey names a property of a record as missing.
func missingKey(r model.Record, key string) network.Missing {
	return Missing(r.RecordID(), key)
}
