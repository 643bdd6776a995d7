//go:build window

package main_test

import (
	"bytes"
	"flag"
	"fmt"
	"image"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"testing"
	"time"
)

// With -update the picture of the README is made anew:
//
//	go test -tags window ./cmd/rinsewright -run Pictures -update
var update = flag.Bool("update", false, "write the picture of the README")

const readmePicture = "../../assets/screenshot/window.png"

// TestPictures shows the demo in the sizes and looks that the program promises,
// and holds that the drawing is there: the board is filled with its paper and
// the liquids of the three tanks are seen.
func TestPictures(t *testing.T) {
	for _, size := range []string{"1280x800", "1920x1080"} {
		for _, look := range []string{"light", "dark"} {
			t.Run(size+" "+look, func(t *testing.T) {
				s := startOn(t, size, map[string]any{"look": look}, filepath.Join("..", "..", "assets", "demo", "oat-drink-station-faults.circuit.json"))
				_, n := s.wait(0, "window", named("ready"))
				s.resize(size)
				s.wait(n, "checks", named("checks"))
				s.do("key", "Home")
				before := s.picture()
				for range 2 {
					n = s.count()
					s.do("key", "F8")
					s.wait(n, "a finding", named("finding"))
				}
				// A finding is brought near; the picture shows the whole.
				n = s.count()
				s.do("key", "Home")
				s.wait(n, "the whole in view", named("view"))
				img := s.settled(before)
				if got := fmt.Sprintf("%dx%d", img.Bounds().Dx(), img.Bounds().Dy()); got != size {
					t.Errorf("the picture is %s", got)
				}
				b := s.last("view")
				board := image.Rect(int(b.number("x")), int(b.number("y")), int(b.number("x")+b.number("width")), int(b.number("y")+b.number("height")))
				if !board.In(img.Bounds()) || board.Dx() < img.Bounds().Dx()/3 || board.Dy() < img.Bounds().Dy()/3 {
					t.Errorf("the board takes %v of %v", board, img.Bounds())
				}
				seen := map[string]int{}
				for y := board.Min.Y; y < board.Max.Y; y++ {
					for x := board.Min.X; x < board.Max.X; x++ {
						seen[hue(img, x, y)]++
					}
				}
				for _, want := range []string{"green", "violet", "orange"} { // water, alkali, acid
					if seen[want] < 100 {
						t.Errorf("%d pixels are %s; the tank is not seen", seen[want], want)
					}
				}
				if *update && size == "1280x800" && look == "light" {
					write(t, img)
				}
			})
		}
	}
}

// hue names the colour of a pixel, where it is one of the liquids of the demo.
func hue(img image.Image, x, y int) string {
	r, g, b, _ := img.At(x, y).RGBA()
	r, g, b = r>>8, g>>8, b>>8
	switch {
	case g > r+40 && g > b+20:
		return "green"
	case r > g+30 && b > g+30:
		return "violet"
	case r > 150 && r > g+60 && g > b+30:
		return "orange"
	}
	return ""
}

// resize gives the window the whole screen; there is no window manager to do it.
func (s *screen) resize(size string) {
	s.t.Helper()
	var w, h string
	for i := range size {
		if size[i] == 'x' {
			w, h = size[:i], size[i+1:]
		}
	}
	s.do("search", "--sync", "--onlyvisible", "--name", "Rinsewright", "windowmove", "0", "0", "windowsize", "--sync", w, h)
}

// picture takes a picture of the screen.
func (s *screen) picture() image.Image {
	s.t.Helper()
	c := exec.Command("import", "-window", "root", "png:-")
	c.Env = append(os.Environ(), "DISPLAY="+s.display)
	out, err := c.Output()
	if err != nil {
		s.t.Fatalf("import: %v", err)
	}
	img, err := png.Decode(bytes.NewReader(out))
	if err != nil {
		s.t.Fatal(err)
	}
	return img
}

// settled takes pictures until one differs from that of before and the next is
// the same again.
func (s *screen) settled(before image.Image) image.Image {
	s.t.Helper()
	last := before
	for end := time.Now().Add(deadline); time.Now().Before(end); time.Sleep(100 * time.Millisecond) {
		now := s.picture()
		if reflect.DeepEqual(now, last) && !reflect.DeepEqual(now, before) {
			return now
		}
		last = now
	}
	s.t.Fatal("the picture does not change, or does not come to rest")
	return nil
}

func write(t *testing.T, img image.Image) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(readmePicture), 0o755); err != nil {
		t.Fatal(err)
	}
	f, err := os.Create(readmePicture)
	if err != nil {
		t.Fatal(err)
	}
	if err := png.Encode(f, img); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
}
