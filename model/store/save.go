package store

import (
	"bytes"
	"crypto/rand"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
)

// BackupPath gives the path at which [Save] keeps the previous version of a
// file: "oat.circuit.json.bak" beside "oat.circuit.json".
func BackupPath(path string) string { return path + ".bak" }

// Save puts data in the file at path, which need not be there yet. The version
// that it replaces is kept at [BackupPath]; a file that holds data already is
// left as it is, with its backup. The permissions of the file stay; a link is
// followed, so that what it leads to is replaced. A file marked read-only is
// refused. The error is an [Error].
func Save(path string, data []byte) error {
	path = resolved(path)
	sweep(path)
	return save(system{}, path, data, 0, true)
}

// Replace is Save without a backup, for what can be made again: a drawing, a
// list.
func Replace(path string, data []byte) error {
	path = resolved(path)
	sweep(path)
	return save(system{}, path, data, 0, false)
}

// mostLinks is how many links are followed, one after another, before they count
// as a ring.
const mostLinks = 40

// resolved follows a link, also one to a file that is not there yet; a path that
// is no link stays as it is.
func resolved(path string) string {
	for range mostLinks {
		if real, err := filepath.EvalSymlinks(path); err == nil {
			return real
		}
		to, err := os.Readlink(path)
		if err != nil {
			return path
		}
		if !filepath.IsAbs(to) {
			folder := filepath.Dir(path)
			if real, err := filepath.EvalSymlinks(folder); err == nil {
				folder = real // ".." leads out of where the folder really is
			}
			to = filepath.Join(folder, to)
		}
		path = to
	}
	return path
}

// save puts data at path. mode are the permissions it is to have; 0 for those of
// the file that is there.
func save(d disk, path string, data []byte, mode fs.FileMode, keep bool) error {
	old, now, err := present(d, path)
	if err != nil {
		return explained(path, err)
	}
	if mode == 0 {
		mode = now
	}
	if old != nil && bytes.Equal(old, data) && mode == now {
		return nil
	}
	temporary, err := written(d, path, data, mode)
	if err != nil {
		return explained(path, err)
	}
	if keep && old != nil {
		if err := keepBackup(d, path, old, mode); err != nil {
			d.Remove(temporary)
			return explained(path, err)
		}
	}
	if err := d.Rename(temporary, path); err != nil {
		d.Remove(temporary)
		return explained(path, err)
	}
	if err := d.SyncFolder(filepath.Dir(path)); err != nil {
		return unsure(path, err)
	}
	return nil
}

// present gives what the file holds now (nil if there is none) and its
// permissions (0 if there is none).
func present(d disk, path string) ([]byte, fs.FileMode, error) {
	info, err := d.Stat(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, 0, nil
	}
	if err != nil {
		return nil, 0, err
	}
	if !info.Mode().IsRegular() {
		return nil, 0, errNotAFile
	}
	if info.Mode().Perm()&0o200 == 0 {
		return nil, 0, errReadOnly // renaming would get round it
	}
	data, err := d.ReadFile(path)
	if err != nil {
		return nil, 0, err
	}
	if data == nil {
		data = []byte{}
	}
	return data, info.Mode().Perm(), nil
}

// keepBackup puts the old version at the path of the backup. It is copied, not
// linked: not every file system has links.
func keepBackup(d disk, path string, old []byte, mode fs.FileMode) error {
	temporary, err := written(d, path, old, mode)
	if err != nil {
		return err
	}
	if err := d.Rename(temporary, BackupPath(path)); err != nil {
		d.Remove(temporary)
		return err
	}
	return nil
}

// written writes data to a new file in the folder of path, makes it safe on the
// disk and gives its name. Nothing is left behind on an error.
func written(d disk, path string, data []byte, mode fs.FileMode) (string, error) {
	folder, name := filepath.Split(path)
	temporary := filepath.Join(folder, temporaryPrefix(name)+rand.Text()[:temporaryLetters])
	start := mode
	if start == 0 {
		start = 0o666 // less what the user's mask takes away
	}
	f, err := d.Create(temporary, start)
	if err != nil {
		return "", err
	}
	if err := fill(f, data, mode); err != nil {
		f.Close()
		d.Remove(temporary)
		return "", err
	}
	if err := f.Close(); err != nil {
		d.Remove(temporary)
		return "", err
	}
	return temporary, nil
}

func fill(f file, data []byte, mode fs.FileMode) error {
	if _, err := f.Write(data); err != nil {
		return err
	}
	if mode != 0 {
		if err := f.Chmod(mode); err != nil && !errors.Is(err, errors.ErrUnsupported) {
			return err
		}
	}
	return f.Sync()
}

// removed deletes a file; none is as good.
func removed(path string) error {
	if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}
