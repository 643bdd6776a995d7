package quantity

// Opt is a value that may be unknown. The zero Opt is unknown: a property that
// was never entered stays absent in the file and makes a check say "not
// assessed" rather than pass with a zero.
type Opt[T any] struct {
	value T
	known bool
}

// Some gives a known value.
func Some[T any](v T) Opt[T] { return Opt[T]{value: v, known: true} }

// Get gives the value and whether it is known.
func (o Opt[T]) Get() (T, bool) { return o.value, o.known }

// Known says whether the value is known.
func (o Opt[T]) Known() bool { return o.known }

// Or gives the value, or def where it is unknown.
func (o Opt[T]) Or(def T) T {
	if o.known {
		return o.value
	}
	return def
}

// IsZero says whether the value is unknown; encoding/json leaves such a field
// out under the option omitzero.
func (o Opt[T]) IsZero() bool { return !o.known }

// Set makes o the known value v, which must be a T. It serves code that finds
// fields by name; other code uses [Some].
func (o *Opt[T]) Set(v any) { *o = Some(v.(T)) }
