package store_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"rinsewright/model"
	"rinsewright/model/circuitfile"
	"rinsewright/model/store"
)

// A circuit is saved, opened, and saved again only if nobody else has been at
// the file meanwhile.
func Example() {
	folder, err := os.MkdirTemp("", "circuits")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(folder)
	path := filepath.Join(folder, "oat.circuit.json")

	text, err := circuitfile.Encode(model.New("Oat line 2"))
	if err != nil {
		fmt.Println(err)
		return
	}
	if err := store.Save(path, text); err != nil {
		fmt.Println(err)
		return
	}
	c, err := circuitfile.ReadFile(path)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(c.Header().Name)

	seen := store.PrintOf(text)
	os.WriteFile(path, []byte("{}"), 0o644) // another program
	_, err = store.SaveIfUnchanged(path, text, seen)
	fmt.Println(errors.Is(err, store.ErrChanged))
	fmt.Println(err)
	// Output:
	// Oat line 2
	// true
	// oat.circuit.json was not saved: it would overwrite the work of others (another program has changed the file since it was opened)
}
