package lineup_test

import (
	"maps"
	"slices"

	"rinsewright/model"
)

func sorted[V any](m map[model.ID]V) []model.ID { return slices.Sorted(maps.Keys(m)) }
