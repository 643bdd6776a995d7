package checks

import (
	"rinsewright/model"
	"rinsewright/model/network"
)

// missingKey names a property of a record as missing.
func missingKey(r model.Record, key string) network.Missing {
	return network.Missing{Record: r.RecordID(), Key: key}
}
