module rinsewright

go 1.26.0

require (
	fyne.io/fyne/v2 v2.7.1 // indirect
	github.com/fogleman/gg v1.3.0 // indirect
	github.com/golang/freetype v0.0.0-20170609003504-e2365dfdc4a0 // indirect
	golang.org/x/image v0.47.0 // indirect
)
