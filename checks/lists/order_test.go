package lists

import (
	"slices"
	"testing"
)

func TestByTag(t *testing.T) {
	got := []string{"V-10", "", "V-2", "P-1", "V-2B", "V-02", "V-2A"}
	slices.SortFunc(got, byTag)
	want := []string{"P-1", "V-2", "V-2A", "V-2B", "V-02", "V-10", ""}
	if !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}
