package draw

import (
	"bytes"
	"fmt"
	"path/filepath"
	"strings"
)

// File is a file to be written.
type File struct {
	Path string
	Data []byte
}

// Files renders pages for a path in the format that its ending names: .pdf, .svg,
// .png (dpi dots per inch) or .dxf. A PDF holds all pages; of the others each
// page is a file of its own, numbered before the ending if there are several. The
// error is that of the writer, or of an ending that is none of these.
func Files(path string, pages []*Picture, pal Palette, about About, dpi float64) ([]File, error) {
	ending := filepath.Ext(path)
	var write Writer
	switch strings.ToLower(ending) {
	case ".pdf":
		var b bytes.Buffer
		err := WritePages(&b, pages, pal, about)
		return []File{{path, b.Bytes()}}, err
	case ".svg":
		write = WriteSVG
	case ".png":
		write = PNG(dpi)
	case ".dxf":
		write = WriteDXF
	default:
		return nil, fmt.Errorf("%q is no format of a drawing", ending)
	}
	var out []File
	for i, p := range pages {
		name := path
		if len(pages) > 1 {
			name = fmt.Sprintf("%s-%d%s", strings.TrimSuffix(path, ending), i+1, ending)
		}
		var b bytes.Buffer
		if err := write(&b, p, pal); err != nil {
			return nil, err
		}
		out = append(out, File{name, b.Bytes()})
	}
	return out, nil
}
