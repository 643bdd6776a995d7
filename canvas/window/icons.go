package window

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"

	"rinsewright/checks"
)

// svg makes an icon of a 24 by 24 drawing whose colour follows the theme.
func svg(name, body string, colour fyne.ThemeColorName) fyne.Resource {
	text := `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 24 24">` + body + `</svg>`
	res := fyne.NewStaticResource(name+".svg", []byte(text))
	if colour == "" {
		return theme.NewThemedResource(res)
	}
	return theme.NewColoredResource(res, colour)
}

// Severities differ by shape as well as by colour: an octagon, a triangle, a
// disc, and an empty ring for what could not be judged.
var (
	iconStop = svg("stop", `<path d="M7.6 1.5h8.8l6.1 6.1v8.8l-6.1 6.1H7.6l-6.1-6.1V7.6z M6.5 10.4v3.2h11v-3.2z" fill="#000000" fill-rule="evenodd"/>`, colorStop)
	iconFix  = svg("fix", `<path d="M12 1.8 L23 21.5 H1 Z M10.8 8.6 v6.6 h2.4 v-6.6 Z M10.8 16.8 v2.4 h2.4 v-2.4 Z" fill="#000000" fill-rule="evenodd"/>`, colorFix)
	iconNote = svg("note", `<path d="M12 2 C6.5 2 2 6.5 2 12 C2 17.5 6.5 22 12 22 C17.5 22 22 17.5 22 12 C22 6.5 17.5 2 12 2 Z M10.8 6.4 h2.4 v2.4 h-2.4 Z M10.8 10.4 h2.4 v7.2 h-2.4 Z" fill="#000000" fill-rule="evenodd"/>`, colorNote)
	iconOpen = svg("open", `<path d="M12 2 C6.5 2 2 6.5 2 12 C2 17.5 6.5 22 12 22 C17.5 22 22 17.5 22 12 C22 6.5 17.5 2 12 2 Z M12 4.6 C16.1 4.6 19.4 7.9 19.4 12 C19.4 16.1 16.1 19.4 12 19.4 C7.9 19.4 4.6 16.1 4.6 12 C4.6 7.9 7.9 4.6 12 4.6 Z M7.5 10.8 h9 v2.4 h-9 Z" fill="#000000" fill-rule="evenodd"/>`, colorUnknown)

	iconSelect = svg("select", `<path d="M5 2.5 L19.5 13 L13 14 L16.2 20.6 L13.4 22 L10.2 15.2 L5 19.6 Z" fill="#000000"/>`, "")
	iconRun    = svg("run", `<path d="M2 15 h3 v6 H2 Z M19 3 h3 v6 h-3 Z M5 16.6 h6 V4.6 h8 v2.8 h-5.2 v12 H5 Z" fill="#000000"/>`, "")
	iconFrame  = svg("frame", `<path d="M2 2 h7 v2.4 H4.4 V9 H2 Z M22 2 v7 h-2.4 V4.4 H15 V2 Z M2 22 v-7 h2.4 v4.6 H9 V22 Z M22 22 h-7 v-2.4 h4.6 V15 H22 Z M8 8 h8 v8 H8 Z" fill="#000000"/>`, "")
	iconSnap   = svg("snap", `<path d="M3 3 h3 v3 H3 Z M10.5 3 h3 v3 h-3 Z M18 3 h3 v3 h-3 Z M3 10.5 h3 v3 H3 Z M18 10.5 h3 v3 h-3 Z M3 18 h3 v3 H3 Z M10.5 18 h3 v3 h-3 Z M18 18 h3 v3 h-3 Z M8.5 8.5 h7 v7 h-7 Z" fill="#000000"/>`, "")
)

// severityIcon gives the mark of a severity.
func severityIcon(s checks.Severity) fyne.Resource {
	switch s {
	case checks.Stop:
		return iconStop
	case checks.Fix:
		return iconFix
	}
	return iconNote
}

func severityColour(s checks.Severity) fyne.ThemeColorName {
	switch s {
	case checks.Stop:
		return colorStop
	case checks.Fix:
		return colorFix
	}
	return colorNote
}
