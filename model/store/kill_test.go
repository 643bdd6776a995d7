package store

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
)

// kills is how often a saving program is killed; -kills 1000 takes some minutes.
var kills = flag.Int("kills", 60, "how often a program is killed while it saves, and while it keeps a copy")

// saverVariable makes the test program a saver: it names what is done and the
// file that it is done to.
const saverVariable = "RINSEWRIGHT_TEST_SAVER"

func TestMain(m *testing.M) {
	if how, path, ok := strings.Cut(os.Getenv(saverVariable), " "); ok {
		saveForever(how, path)
	}
	os.Exit(m.Run())
}

// saveForever saves one version after another and says which ones are done, until
// it is killed. It begins behind the version that is there.
func saveForever(how, path string) {
	at := path
	if how == "autosave" {
		at = AutosavePath(path)
	}
	n := 0
	if data, err := os.ReadFile(at); err == nil {
		if n, err = versionOf(data); err != nil {
			fmt.Println("broken", err)
			os.Exit(1)
		}
	}
	for {
		n++
		var err error
		if how == "autosave" {
			err = Autosave(path, version(n))
		} else {
			err = Save(path, version(n))
		}
		if err != nil {
			fmt.Println("failed", err)
			os.Exit(1)
		}
		fmt.Println(n)
	}
}

// version gives contents that tell whether they are whole: their number, their
// length, and the SHA-256 of what follows. From few bytes up to 2 MB.
func version(n int) []byte {
	r := rand.New(rand.NewPCG(uint64(n), 7))
	body := bytes.Repeat([]byte(fmt.Sprintf("version %d\n", n)), 1+r.IntN(1<<r.IntN(18)))
	sum := sha256.Sum256(body)
	return append([]byte(fmt.Sprintf("%d %d %s\n", n, len(body), hex.EncodeToString(sum[:]))), body...)
}

// versionOf gives the number of a version that is whole.
func versionOf(data []byte) (int, error) {
	head, body, _ := bytes.Cut(data, []byte("\n"))
	fields := strings.Fields(string(head))
	if len(fields) != 3 {
		return 0, fmt.Errorf("%d bytes that begin with %q", len(data), head[:min(len(head), 80)])
	}
	n, err := strconv.Atoi(fields[0])
	sum := sha256.Sum256(body)
	if err != nil || strconv.Itoa(len(body)) != fields[1] || hex.EncodeToString(sum[:]) != fields[2] {
		return 0, fmt.Errorf("%d bytes that do not fit %q", len(body), head)
	}
	return n, nil
}

func TestVersionOfTellsATornFile(t *testing.T) {
	for n := 1; n < 50; n++ {
		whole := version(n)
		if got, err := versionOf(whole); err != nil || got != n {
			t.Fatalf("version %d is read as %d: %v", n, got, err)
		}
		mixed := append(bytes.Clone(version(n + 50)[:20]), whole[20:]...)
		for _, torn := range [][]byte{{}, whole[:len(whole)-1], whole[:len(whole)/2], append(bytes.Clone(whole), 'x'), mixed} {
			if got, err := versionOf(torn); err == nil {
				t.Errorf("%d bytes made of version %d pass as version %d", len(torn), n, got)
			}
		}
	}
}

// A program is killed (SIGKILL) at a moment of chance while it saves: the file is
// always one version, whole, and never older than the last one that was reported
// as saved. The same for the copy kept against a crash, which leaves the file
// itself alone. What the killed saving leaves behind is swept by a later one.
func TestKilledWhileSaving(t *testing.T) {
	program, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	for _, how := range []string{"save", "autosave"} {
		t.Run(how, func(t *testing.T) {
			t.Parallel()
			path := filepath.Join(t.TempDir(), name)
			saved := path
			if how == "autosave" {
				put(t, path, old)
				saved = AutosavePath(path)
			}
			r := rand.New(rand.NewPCG(11, uint64(len(how))))
			last, torn := 0, 0
			for i := range *kills {
				last = max(last, killed(t, program, how, path, time.Duration(r.IntN(15_000))*time.Microsecond))
				n, err := versionAt(saved)
				if err != nil {
					t.Fatalf("kill %d: the file holds neither version: %v", i, err)
				}
				if n < last {
					t.Fatalf("kill %d: version %d was reported as saved, the file is version %d", i, last, n)
				}
				if how == "autosave" {
					holds(t, path, old)
				} else if n, err := versionAt(BackupPath(path)); err != nil || n < last-1 {
					t.Fatalf("kill %d: the backup is version %d (%v), the file %d", i, n, err, last)
				}
				torn += aged(t, saved)
			}
			t.Logf("%d kills, %d temporary files left behind, %d versions saved", *kills, torn, last)
			if last < *kills/2 || torn < *kills/20 {
				t.Errorf("%d kills, %d temporary files left behind, %d versions saved: too few to tell anything", *kills, torn, last)
			}
			if err := Save(path, []byte(fresh)); err != nil {
				t.Fatal(err)
			}
			if err := Autosave(path, []byte(fresh)); err != nil {
				t.Fatal(err)
			}
			for entry := range strings.SplitSeq(names(t, filepath.Dir(path)), " ") {
				if strings.Contains(entry, ".saving-") {
					t.Errorf("%s is left behind for ever", entry)
				}
			}
		})
	}
}

// killed lets a saver work for a while once it has begun, kills it, and gives the
// last version that it reported; 0 if it had no time for any.
func killed(t *testing.T, program, how, path string, after time.Duration) int {
	t.Helper()
	c := exec.Command(program)
	c.Env = append(os.Environ(), saverVariable+"="+how+" "+path)
	out, err := c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	time.AfterFunc(after+startOfSaver, func() { c.Process.Kill() })
	last := 0
	for s := bufio.NewScanner(out); s.Scan(); {
		n, err := strconv.Atoi(s.Text())
		if err != nil {
			t.Fatalf("the saver says: %s", s.Text())
		}
		last = n
	}
	c.Wait() // its error is the kill
	return last
}

// startOfSaver is about what the test program needs until it saves.
const startOfSaver = 5 * time.Millisecond

// versionAt is versionOf for a file; 0 for no file.
func versionAt(path string) (int, error) {
	data, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return 0, nil
	}
	if err != nil {
		return 0, err
	}
	return versionOf(data)
}

// aged makes the temporary files of savings of a file old enough to be swept, and
// counts those that were not so yet.
func aged(t *testing.T, path string) int {
	t.Helper()
	list, err := filepath.Glob(filepath.Join(filepath.Dir(path), ".*.saving-*"))
	if err != nil {
		t.Fatal(err)
	}
	count := 0
	long := time.Now().Add(-2 * staleAfter)
	for _, p := range list {
		if info, err := os.Stat(p); err == nil && info.ModTime().After(long.Add(time.Minute)) {
			count++
			if err := os.Chtimes(p, long, long); err != nil {
				t.Fatal(err)
			}
		}
	}
	return count
}
