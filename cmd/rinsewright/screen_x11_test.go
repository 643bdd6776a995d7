package main

import (
	"bytes"
	"encoding/binary"
	"testing"
)

// answer is what a server says to a client that it lets in, laid out after the X
// Window System Protocol, X11 Release 6, chapter 8: 8 bytes of head, 32 fixed
// bytes, the vendor, the pixmap formats of 8 bytes each, then the screens.
func answer(vendor string, formats int, width, height uint16) []byte {
	body := make([]byte, 32)
	binary.LittleEndian.PutUint16(body[16:], uint16(len(vendor)))
	body[20] = 1
	body[21] = byte(formats)
	body = append(body, vendor...)
	for len(body)%4 != 0 {
		body = append(body, 0)
	}
	body = append(body, make([]byte, 8*formats)...)
	screen := make([]byte, 40)
	binary.LittleEndian.PutUint16(screen[20:], width)
	binary.LittleEndian.PutUint16(screen[22:], height)
	body = append(body, screen...)
	head := []byte{1, 0, 11, 0, 0, 0, 0, 0}
	binary.LittleEndian.PutUint16(head[6:], uint16(len(body)/4))
	return append(head, body...)
}

func TestFirstScreen(t *testing.T) {
	for _, vendor := range []string{"", "abc", "The X.Org Foundation"} {
		w, h, err := firstScreen(bytes.NewReader(answer(vendor, 7, 1920, 1080)))
		if err != nil || w != 1920 || h != 1080 {
			t.Errorf("%q: %d by %d, %v", vendor, w, h, err)
		}
	}
	good := answer("abc", 2, 800, 600)
	for n := range len(good) {
		if w, h, err := firstScreen(bytes.NewReader(good[:n])); err == nil {
			t.Errorf("%d bytes of an answer give %d by %d", n, w, h)
		}
	}
	refused := append([]byte{0}, good[1:]...)
	if _, _, err := firstScreen(bytes.NewReader(refused)); err == nil {
		t.Error("a refusal is taken for an answer")
	}
}

func TestKeyFor(t *testing.T) {
	entry := func(display, name, key string) []byte {
		b := []byte{1, 0}
		for _, s := range []string{"host", display, name, key} {
			b = binary.BigEndian.AppendUint16(b, uint16(len(s)))
			b = append(b, s...)
		}
		return b
	}
	data := append(entry("1", "MIT-MAGIC-COOKIE-1", "one"), entry("7", "MIT-MAGIC-COOKIE-1", "seven")...)
	if name, key := keyFor(data, "7"); name != "MIT-MAGIC-COOKIE-1" || key != "seven" {
		t.Errorf("key %q %q", name, key)
	}
	for n := range len(data) {
		keyFor(data[:n], "9") // a cut file must not be read beyond its end
	}
	if _, key := keyFor(data, "9"); key != "" {
		t.Errorf("a key %q for another display", key)
	}
}

func TestHello(t *testing.T) {
	b := hello("MIT-MAGIC-COOKIE-1", "0123456789abcdef")
	if len(b) != 12+20+16 || len(b)%4 != 0 || b[0] != 'l' {
		t.Errorf("%d bytes: % x", len(b), b)
	}
}
