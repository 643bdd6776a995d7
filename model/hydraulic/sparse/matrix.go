package sparse

import (
	"fmt"
	"math"
)

// Matrix is a symmetric matrix with the entries of a [Pattern], and its factor in
// the same place. Not for use from several goroutines at once.
type Matrix struct {
	p     *Pattern
	value []float64
	work  []float64
}

// NotPositive is the error of a matrix that is not positive definite.
type NotPositive struct{ Unknown int }

func (e *NotPositive) Error() string {
	return fmt.Sprintf("sparse: the matrix is not positive definite at unknown %d", e.Unknown)
}

// NewMatrix makes a matrix of zeros.
func (p *Pattern) NewMatrix() *Matrix {
	return &Matrix{p: p, value: make([]float64, p.size), work: make([]float64, p.n)}
}

// Reset makes every entry zero.
func (m *Matrix) Reset() { clear(m.value) }

// AddDiagonal adds g to the diagonal entry of unknown i.
func (m *Matrix) AddDiagonal(i int, g float64) { m.value[m.p.diagonal[i]] += g }

// Join takes a conductance g of edge e from the entry between its ends. Their
// diagonal entries are to be added to as well.
func (m *Matrix) Join(e int, g float64) { m.value[m.p.between[e]] -= g }

// Factor replaces the matrix by its Cholesky factor. The error is a
// [NotPositive]; the matrix is then of no use until the next Reset.
func (m *Matrix) Factor() error {
	p := m.p
	for s := range p.super {
		n := &p.super[s]
		block := m.value[n.base : int(n.base)+len(n.rows)*int(n.width)]
		for i := range n.updates {
			u := &n.updates[i]
			m.subtract(block, n.first, &p.super[u.from], u)
		}
		if c := dense(block, len(n.rows), int(n.width)); c >= 0 {
			return m.notPositive(n.first + int32(c))
		}
	}
	return nil
}

func (m *Matrix) notPositive(row int32) error {
	for v, k := range m.p.place {
		if k == row {
			return &NotPositive{v}
		}
	}
	return &NotPositive{-1}
}

// subtract takes from the block of a supernode, whose first column is told, the
// product of the rows of an earlier supernode d with those of them that are columns
// of it.
func (m *Matrix) subtract(block []float64, first int32, d *supernode, u *update) {
	w, low := int(d.width), int(u.low)
	source := m.value[int(d.base)+low*w : int(d.base)+len(d.rows)*w]
	columns := d.rows[low:u.high]
	at := u.at
	if w == 1 {
		source = source[:len(at)]
		for c, r := range columns {
			a, column := source[c], r-first
			for i := c; i < len(at); i++ {
				block[at[i]+column] -= a * source[i]
			}
		}
		return
	}
	for c := 0; c < len(columns); c += 2 {
		column := columns[c] - first
		a := source[c*w : c*w+w]
		if c+1 == len(columns) {
			for r := c; r < len(at); r++ {
				block[at[r]+column] -= dot(a, source[r*w:r*w+w])
			}
			break
		}
		b := source[c*w+w : c*w+2*w]
		second := columns[c+1] - first
		block[at[c]+column] -= dot(a, a)
		r := c + 1
		for ; r+1 < len(at); r += 2 {
			p, q, s, t := dots(a, b, source[r*w:r*w+w], source[r*w+w:r*w+2*w])
			upper, under := at[r], at[r+1]
			block[upper+column] -= p
			block[upper+second] -= q
			block[under+column] -= s
			block[under+second] -= t
		}
		if r < len(at) {
			last := source[r*w : r*w+w]
			block[at[r]+column] -= dot(a, last)
			block[at[r]+second] -= dot(b, last)
		}
	}
}

// dense factorises a block of rows of width entries whose upper square is the
// diagonal block. The diagonal of the factor is left as its inverse. It gives the
// column that is not positive, or -1.
func dense(block []float64, rows, width int) int {
	for c := 0; c < width; c += 2 {
		a := block[c*width : c*width+c]
		if c+1 == width {
			pivot := block[c*width+c] - dot(a, a)
			if !(pivot > 0) {
				return c
			}
			inverse := 1 / math.Sqrt(pivot)
			block[c*width+c] = inverse
			for r := c + 1; r < rows; r++ {
				block[r*width+c] = (block[r*width+c] - dot(a, block[r*width:r*width+c])) * inverse
			}
			break
		}
		// Two columns at once: the square on the diagonal first, then the rows below.
		b := block[(c+1)*width : (c+1)*width+c]
		pivot := block[c*width+c] - dot(a, a)
		if !(pivot > 0) {
			return c
		}
		first := 1 / math.Sqrt(pivot)
		block[c*width+c] = first
		beside := (block[(c+1)*width+c] - dot(a, b)) * first
		block[(c+1)*width+c] = beside
		second := block[(c+1)*width+c+1] - dot(b, b) - beside*beside
		if !(second > 0) {
			return c + 1
		}
		other := 1 / math.Sqrt(second)
		block[(c+1)*width+c+1] = other
		r := c + 2
		for ; r+1 < rows; r += 2 {
			upper, under := block[r*width:r*width+c+2], block[(r+1)*width:(r+1)*width+c+2]
			p, q, s, t := dots(a, b, upper[:c], under[:c])
			x := (upper[c] - p) * first
			upper[c], upper[c+1] = x, (upper[c+1]-q-x*beside)*other
			x = (under[c] - s) * first
			under[c], under[c+1] = x, (under[c+1]-t-x*beside)*other
		}
		if r < rows {
			row := block[r*width : r*width+c+2]
			x := (row[c] - dot(a, row[:c])) * first
			row[c], row[c+1] = x, (row[c+1]-dot(b, row[:c])-x*beside)*other
		}
	}
	return -1
}

func dot(a, b []float64) float64 {
	b = b[:len(a)]
	var s float64
	for i, x := range a {
		s += x * b[i]
	}
	return s
}

// dots gives the four products of the rows a, b with the rows c, d: a·c, b·c,
// a·d, b·d. Four sums at once keep the adder busy.
func dots(a, b, c, d []float64) (ac, bc, ad, bd float64) {
	b, c, d = b[:len(a)], c[:len(a)], d[:len(a)]
	for i, x := range a {
		y, u, v := b[i], c[i], d[i]
		ac += x * u
		bc += y * u
		ad += x * v
		bd += y * v
	}
	return ac, bc, ad, bd
}

// Solve solves for the right-hand side b and puts the answer in x; both have an
// entry for each unknown and may be the same. Factor comes first.
func (m *Matrix) Solve(b, x []float64) {
	p, y := m.p, m.work
	for v, k := range p.place {
		y[k] = b[v]
	}
	for s := range p.super {
		n := &p.super[s]
		w := int(n.width)
		block := m.value[n.base : int(n.base)+len(n.rows)*w]
		if w == 1 {
			t := y[n.first] * block[0]
			y[n.first] = t
			block = block[1:]
			for i, r := range n.rows[1:] {
				y[r] -= t * block[i]
			}
			continue
		}
		own := y[n.first : int(n.first)+w]
		for c := range own {
			own[c] = (own[c] - dot(own[:c], block[c*w:c*w+c])) * block[c*w+c]
		}
		block = block[w*w:]
		for i, r := range n.rows[w:] {
			y[r] -= dot(own, block[i*w:i*w+w])
		}
	}
	for s := len(p.super) - 1; s >= 0; s-- {
		n := &p.super[s]
		w := int(n.width)
		block := m.value[n.base : int(n.base)+len(n.rows)*w]
		if w == 1 {
			t := y[n.first]
			for i, r := range n.rows[1:] {
				t -= y[r] * block[i+1]
			}
			y[n.first] = t * block[0]
			continue
		}
		own := y[n.first : int(n.first)+w]
		below := block[w*w:]
		for i, r := range n.rows[w:] {
			t := y[r]
			for c, v := range below[i*w : i*w+w] {
				own[c] -= v * t
			}
		}
		for c := w - 1; c >= 0; c-- {
			own[c] *= block[c*w+c]
			for k := 0; k < c; k++ {
				own[k] -= block[c*w+k] * own[c]
			}
		}
	}
	for v, k := range p.place {
		x[v] = y[k]
	}
}
