package store

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
)

const name = "oat.circuit.json"

func put(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// holds tells that a file holds a text; "" stands for no file.
func holds(t *testing.T, path, want string) {
	t.Helper()
	got, err := os.ReadFile(path)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		t.Fatal(err)
	}
	if string(got) != want {
		t.Errorf("%s holds %q, want %q", filepath.Base(path), got, want)
	}
}

// names lists a folder.
func names(t *testing.T, folder string) string {
	t.Helper()
	list, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, e := range list {
		out = append(out, e.Name())
	}
	return strings.Join(out, " ")
}

func TestSave(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, name)
	for _, step := range []struct{ write, backup, folder string }{
		{"one", "", name},
		{"two", "one", name + " " + name + ".bak"},
		{"two", "one", name + " " + name + ".bak"}, // saving twice does not cost the backup
		{"three", "two", name + " " + name + ".bak"},
	} {
		if err := Save(path, []byte(step.write)); err != nil {
			t.Fatal(err)
		}
		holds(t, path, step.write)
		holds(t, BackupPath(path), step.backup)
		if got := names(t, folder); got != step.folder {
			t.Errorf("after %q the folder holds %s, want %s", step.write, got, step.folder)
		}
	}
}

func TestSaveKeepsPermissions(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("Windows has no such permissions")
	}
	path := filepath.Join(t.TempDir(), name)
	put(t, path, "old")
	if err := os.Chmod(path, 0o660); err != nil { // wider than the usual mask allows a new file
		t.Fatal(err)
	}
	if err := Save(path, []byte("new")); err != nil {
		t.Fatal(err)
	}
	for _, p := range []string{path, BackupPath(path)} {
		info, err := os.Stat(p)
		if err != nil {
			t.Fatal(err)
		}
		if info.Mode().Perm() != 0o660 {
			t.Errorf("%s has permissions %o, want 660", filepath.Base(p), info.Mode().Perm())
		}
	}
}

func TestSaveFollowsALink(t *testing.T) {
	folder := t.TempDir()
	real, link := filepath.Join(folder, name), filepath.Join(folder, "link.circuit.json")
	put(t, real, "old")
	if err := os.Symlink(name, link); err != nil {
		t.Skip("no links here: ", err)
	}
	if err := Save(link, []byte("new")); err != nil {
		t.Fatal(err)
	}
	holds(t, real, "new")
	if info, err := os.Lstat(link); err != nil || info.Mode()&fs.ModeSymlink == 0 {
		t.Error("the link was replaced by a file")
	}
}

// What the system refuses of itself, without injection. Permissions do not bind
// the administrator, so they are tried with injection below.
func TestSaveRefused(t *testing.T) {
	folder := t.TempDir()
	put(t, filepath.Join(folder, "file"), "")
	if err := os.Mkdir(filepath.Join(folder, "folder"), 0o755); err != nil {
		t.Fatal(err)
	}
	protected := filepath.Join(folder, "protected.circuit.json")
	put(t, protected, "issued")
	if err := os.Chmod(protected, 0o444); err != nil {
		t.Fatal(err)
	}
	before := names(t, folder)
	tests := []struct{ desc, path, want string }{
		{"no such folder", filepath.Join(folder, "none", name), "oat.circuit.json was not saved: there is no folder "},
		{"a file for a folder", filepath.Join(folder, "file", name), "there is no folder "},
		{"a folder for a file", filepath.Join(folder, "folder"), "its name belongs to a folder or a device"},
		{"a read-only file", protected, "the file is marked read-only"},
		{"too long a name", filepath.Join(folder, strings.Repeat("x", 300)), "its name is too long"},
	}
	for _, tt := range tests {
		err := Save(tt.path, []byte("new"))
		var e *Error
		if !errors.As(err, &e) || e.Written || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: error %v, want one with %q", tt.desc, err, tt.want)
		}
	}
	if after := names(t, folder); after != before {
		t.Errorf("the folder holds %s, before it held %s", after, before)
	}
	holds(t, protected, "issued")
}

func TestReason(t *testing.T) {
	tests := []struct {
		err  error
		want string
	}{
		{syscall.EROFS, "the folder plant can only be read"},
		{syscall.EACCES, "you have no permission to write in the folder plant"},
		{syscall.EPERM, "you have no permission to write in the folder plant"},
		{noSpace, "the disk is full"},
		{syscall.EDQUOT, "your share of the disk is full"},
		{syscall.EIO, "the disk reports a fault"},
		{syscall.EFBIG, "it is larger than the disk or your limits allow"},
		{errors.New("other"), "the system refused"},
	}
	for _, tt := range tests {
		err := explained(filepath.Join("plant", name), &fs.PathError{Op: "write", Path: "x", Err: tt.err})
		if want := name + " was not saved: " + tt.want + " ("; !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%v is told as %q, want %q", tt.err, err, want)
		}
		if !errors.Is(err, tt.err) {
			t.Errorf("%v is not wrapped", tt.err)
		}
	}
}
