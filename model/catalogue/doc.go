// Package catalogue knows the kinds of parts and the tube tables. Both are
// data; adding a kind or a tube table needs no code.
package catalogue
