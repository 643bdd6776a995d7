package store

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

var noSpace error = syscall.ENOSPC

var errKilled = errors.New("killed")

// failing is a disk on which one step fails, or on which everything fails from
// one step on, as if the program had been killed there. Half of what is being
// written at that step is on the disk.
type failing struct {
	system
	at    int // the step that fails, from 1; 0 for none
	kill  bool
	err   error
	count int
	log   []string
}

func (d *failing) step(what string) error {
	d.count++
	d.log = append(d.log, what)
	if d.count == d.at || d.kill && d.at > 0 && d.count > d.at {
		return d.err
	}
	return nil
}

func (d *failing) Stat(path string) (fs.FileInfo, error) {
	if err := d.step("look"); err != nil {
		return nil, err
	}
	return d.system.Stat(path)
}

func (d *failing) ReadFile(path string) ([]byte, error) {
	if err := d.step("read"); err != nil {
		return nil, err
	}
	return d.system.ReadFile(path)
}

func (d *failing) Create(path string, mode fs.FileMode) (file, error) {
	if err := d.step("create"); err != nil {
		return nil, err
	}
	f, err := d.system.Create(path, mode)
	return &failingFile{f, d}, err
}

func (d *failing) Rename(from, to string) error {
	if err := d.step("rename"); err != nil {
		return err
	}
	return d.system.Rename(from, to)
}

func (d *failing) Remove(path string) error {
	if err := d.step("remove"); err != nil {
		return err
	}
	return d.system.Remove(path)
}

func (d *failing) SyncFolder(path string) error {
	if err := d.step("sync folder"); err != nil {
		return err
	}
	return d.system.SyncFolder(path)
}

type failingFile struct {
	file
	d *failing
}

func (f *failingFile) Write(b []byte) (int, error) {
	if err := f.d.step("write"); err != nil {
		n, _ := f.file.Write(b[:len(b)/2])
		return n, err
	}
	return f.file.Write(b)
}

func (f *failingFile) Chmod(mode fs.FileMode) error {
	if err := f.d.step("permissions"); err != nil {
		return err
	}
	return f.file.Chmod(mode)
}

func (f *failingFile) Sync() error {
	if err := f.d.step("sync"); err != nil {
		return err
	}
	return f.file.Sync()
}

func (f *failingFile) Close() error {
	err := f.d.step("close")
	if closed := f.file.Close(); err == nil {
		err = closed
	}
	return err
}

const (
	oldest = "the version before the old one"
	old    = "the old version, in full"
	fresh  = "the new version, in full and longer"
)

// started gives a folder with an old file and its backup.
func started(t *testing.T) (folder, path string) {
	folder = t.TempDir()
	path = filepath.Join(folder, name)
	put(t, path, old)
	put(t, BackupPath(path), oldest)
	return folder, path
}

func TestTheStepsOfSaving(t *testing.T) {
	_, path := started(t)
	d := &failing{}
	if err := save(d, path, []byte(fresh), 0, true); err != nil {
		t.Fatal(err)
	}
	want := "look, read, create, write, permissions, sync, close, " + // the new version
		"create, write, permissions, sync, close, rename, " + // the backup
		"rename, sync folder"
	if got := strings.Join(d.log, ", "); got != want {
		t.Errorf("steps\n%s\nwant\n%s", got, want)
	}
}

// steps counts the steps of saving over an old file.
func steps(t *testing.T) int {
	_, path := started(t)
	d := &failing{}
	if err := save(d, path, []byte(fresh), 0, true); err != nil {
		t.Fatal(err)
	}
	return d.count
}

func TestAFailureAtAnyStepLeavesTheOldFile(t *testing.T) {
	last := steps(t)
	for at := 1; at <= last; at++ {
		folder, path := started(t)
		d := &failing{at: at, err: &fs.PathError{Op: "write", Path: path, Err: noSpace}}
		err := save(d, path, []byte(fresh), 0, true)
		what := d.log[at-1]
		var e *Error
		if !errors.As(err, &e) || !errors.Is(err, noSpace) {
			t.Errorf("step %d (%s): error %v does not tell of the failure", at, what, err)
			continue
		}
		want := old
		if at == last { // the new file is there, only its name may not be safe yet
			want = fresh
		}
		if e.Written != (at == last) {
			t.Errorf("step %d (%s): the error says written: %v", at, what, e.Written)
		}
		holds(t, path, want)
		if b, err := os.ReadFile(BackupPath(path)); err != nil || string(b) != oldest && string(b) != old {
			t.Errorf("step %d (%s): the backup holds %q (%v)", at, what, b, err)
		}
		if got, want := names(t, folder), name+" "+name+".bak"; got != want {
			t.Errorf("step %d (%s): the folder holds %s, want %s", at, what, got, want)
		}
	}
}

func TestAKillAtAnyStepLeavesOneVersionWhole(t *testing.T) {
	last := steps(t)
	for at := 1; at <= last; at++ {
		_, path := started(t)
		d := &failing{at: at, kill: true, err: errKilled}
		if err := save(d, path, []byte(fresh), 0, true); !errors.Is(err, errKilled) {
			t.Fatalf("step %d: %v", at, err)
		}
		what := d.log[at-1]
		got, err := os.ReadFile(path)
		if err != nil || string(got) != old && string(got) != fresh {
			t.Errorf("killed at step %d (%s): the file holds %q (%v)", at, what, got, err)
		}
		if b, err := os.ReadFile(BackupPath(path)); err != nil || string(b) != oldest && string(b) != old {
			t.Errorf("killed at step %d (%s): the backup holds %q (%v)", at, what, b, err)
		}
		if err := Save(path, []byte(fresh)); err != nil {
			t.Errorf("killed at step %d (%s): the next saving fails: %v", at, what, err)
		}
		holds(t, path, fresh)
	}
}

func TestAFailureLeavesNoNewFile(t *testing.T) {
	count := &failing{}
	if err := save(count, filepath.Join(t.TempDir(), name), []byte(fresh), 0, true); err != nil {
		t.Fatal(err)
	}
	for at := 1; at < count.count; at++ { // the last step syncs the folder
		folder := t.TempDir()
		d := &failing{at: at, err: syscall.EACCES}
		if err := save(d, filepath.Join(folder, name), []byte(fresh), 0, true); !errors.Is(err, fs.ErrPermission) {
			t.Errorf("step %d: error %v", at, err)
		}
		if got := names(t, folder); got != "" {
			t.Errorf("step %d (%s): the folder holds %s", at, d.log[at-1], got)
		}
	}
}
