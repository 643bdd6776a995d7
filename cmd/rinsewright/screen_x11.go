package main

import (
	"encoding/binary"
	"errors"
	"io"
	"net"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// screenSize gives the size in pixels of the X screen that the program is shown
// on; not ok where there is none that can be asked. It reads the answer to the
// first message of a connection (X Window System Protocol, X11 Release 6, chapter
// 8, Connection Setup).
func screenSize() (width, height int, ok bool) {
	display := os.Getenv("DISPLAY")
	number, _, _ := strings.Cut(strings.TrimPrefix(display, ":"), ".")
	if !strings.HasPrefix(display, ":") || number == "" {
		return 0, 0, false // another machine's screen
	}
	conn, err := net.DialTimeout("unix", "/tmp/.X11-unix/X"+number, time.Second)
	if err != nil {
		return 0, 0, false
	}
	defer conn.Close()
	if err := conn.SetDeadline(time.Now().Add(time.Second)); err != nil {
		return 0, 0, false
	}
	name, key := authority(number)
	if _, err := conn.Write(hello(name, key)); err != nil {
		return 0, 0, false
	}
	width, height, err = firstScreen(conn)
	return width, height, err == nil
}

// hello is the first message of a client.
func hello(name, key string) []byte {
	b := []byte{'l', 0}
	b = binary.LittleEndian.AppendUint16(b, 11)
	b = binary.LittleEndian.AppendUint16(b, 0)
	b = binary.LittleEndian.AppendUint16(b, uint16(len(name)))
	b = binary.LittleEndian.AppendUint16(b, uint16(len(key)))
	b = append(b, 0, 0)
	for _, s := range []string{name, key} {
		b = append(b, s...)
		b = append(b, make([]byte, pad(len(s)))...)
	}
	return b
}

func pad(n int) int { return (4 - n%4) % 4 }

var errNoScreen = errors.New("the X server tells of no screen")

// firstScreen reads the size of the first screen in a server's answer.
func firstScreen(r io.Reader) (width, height int, err error) {
	head := make([]byte, 8)
	if _, err := io.ReadFull(r, head); err != nil {
		return 0, 0, err
	}
	if head[0] != 1 {
		return 0, 0, errNoScreen
	}
	body := make([]byte, 4*int(binary.LittleEndian.Uint16(head[6:])))
	if _, err := io.ReadFull(r, body); err != nil {
		return 0, 0, err
	}
	const fixed, format, sizeAt = 32, 8, 20
	if len(body) < fixed || body[20] == 0 {
		return 0, 0, errNoScreen
	}
	vendor := int(binary.LittleEndian.Uint16(body[16:]))
	at := fixed + vendor + pad(vendor) + format*int(body[21]) + sizeAt
	if len(body) < at+4 {
		return 0, 0, errNoScreen
	}
	return int(binary.LittleEndian.Uint16(body[at:])), int(binary.LittleEndian.Uint16(body[at+2:])), nil
}

// authority gives the name and the key with which the server of a display lets
// clients in; both empty where none is kept.
func authority(number string) (name, key string) {
	path := os.Getenv("XAUTHORITY")
	if path == "" {
		home, err := os.UserHomeDir()
		if err != nil {
			return "", ""
		}
		path = filepath.Join(home, ".Xauthority")
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return "", ""
	}
	return keyFor(data, number)
}

// keyFor finds the key of a display in an authority file: entries of a family and
// four strings (address, display, name, key), each with its length before it.
func keyFor(data []byte, number string) (name, key string) {
	next := func() string {
		if len(data) < 2 {
			data = nil
			return ""
		}
		n := int(binary.BigEndian.Uint16(data))
		data = data[2:]
		if n > len(data) {
			data = nil
			return ""
		}
		s := string(data[:n])
		data = data[n:]
		return s
	}
	for len(data) > 2 {
		data = data[2:] // family
		next()          // address
		display, n, k := next(), next(), next()
		if n == "MIT-MAGIC-COOKIE-1" && (display == number || display == "") {
			return n, k
		}
	}
	return "", ""
}
