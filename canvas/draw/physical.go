package draw

import (
	"encoding/binary"
	"hash/crc32"
	"io"
)

// physical puts the chunk pHYs, which states the resolution, behind the header
// of a PNG file on its way to w (PNG specification, W3C, 11.3.5.3).
type physical struct {
	w        io.Writer
	perMetre uint32
	passed   int
}

// headerEnd is the length of the signature and of the chunk IHDR.
const headerEnd = 8 + 4 + 4 + 13 + 4

func (p *physical) Write(b []byte) (int, error) {
	done := 0
	if p.passed < headerEnd {
		done = min(headerEnd-p.passed, len(b))
		n, err := p.w.Write(b[:done])
		p.passed += n
		if err != nil {
			return n, err
		}
		if p.passed < headerEnd {
			return done, nil
		}
		if _, err := p.w.Write(p.chunk()); err != nil {
			return done, err
		}
	}
	n, err := p.w.Write(b[done:])
	return done + n, err
}

func (p *physical) chunk() []byte {
	b := binary.BigEndian.AppendUint32(nil, 9)
	b = append(b, "pHYs"...)
	b = binary.BigEndian.AppendUint32(b, p.perMetre)
	b = binary.BigEndian.AppendUint32(b, p.perMetre)
	b = append(b, 1) // per metre
	return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(b[4:]))
}
