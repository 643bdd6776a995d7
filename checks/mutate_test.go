//go:build mutate

package checks_test

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"go/ast"
	"go/constant"
	"go/format"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"rinsewright/checks"
)

var (
	mutateOnly = flag.String("only", "", "rules to mutate, a regular expression; empty: all")
	mutateMost = flag.Int("survivors", -1, "fail if more mutants survive; below zero: never")
)

// TestMutants spoils the logic of every rule, one place at a time, and runs the cases of
// that rule: they must notice. In each rule file every comparison is turned into its
// neighbour, every term of && and || is left out, and every number and named constant is
// swapped for the next one. All mutants are compiled at once, by an overlay of the
// sources, and switched on one after the other. The survivors are listed, with a demo or
// random circuit that shows them where there is one: those want a case. The others are
// mostly guards against what a circuit cannot hold, and limits met to the last bit.
//
//	go test -tags mutate -run TestMutants -v ./checks [-only dead-leg]
func TestMutants(t *testing.T) {
	m := newMutator(t)
	files, err := filepath.Glob("rule_*.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		m.file(t, file)
	}
	bin := m.build(t)
	rules := []*checks.Rule{}
	only := regexp.MustCompile(*mutateOnly)
	for _, r := range checks.Rules() {
		if only.MatchString(r.Name) {
			rules = append(rules, r)
		}
	}
	var lock sync.Mutex
	var wg sync.WaitGroup
	next := make(chan *checks.Rule)
	lived := map[int]string{} // survivors, with what shows them
	ran, shown := 0, 0
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for r := range next {
				sites := m.sites["rule_"+strings.ReplaceAll(r.Name, "-", "_")+".go"]
				survivors := runMutants(t, bin, r.Name, sites)
				lock.Lock()
				ran += len(sites)
				maps.Copy(lived, survivors)
				lock.Unlock()
			}
		})
	}
	for _, r := range rules {
		next <- r
	}
	close(next)
	wg.Wait()
	for id := range m.what {
		by, lives := lived[id]
		switch {
		case by != "":
			shown++
			t.Logf("survives: %s; shown by %s", m.what[id], by)
		case lives:
			t.Logf("survives: %s", m.what[id])
		}
	}
	t.Logf("%d of %d mutants survive the cases; of these %d change what is found in a demo or random circuit", len(lived), ran, shown)
	if *mutateMost >= 0 && len(lived) > *mutateMost {
		t.Errorf("%d mutants survive, at most %d may", len(lived), *mutateMost)
	}
}

// mutator rewrites rule files so that each mutant can be switched on by its number.
type mutator struct {
	dir   string
	fset  *token.FileSet
	info  *types.Info
	pkg   *types.Package
	asts  map[string]*ast.File
	what  []string         // by mutant
	sites map[string][]int // by file: its mutants
	over  map[string]string
	inUse map[string]bool // packages that the file in hand imports, by name
}

func newMutator(t *testing.T) *mutator {
	t.Helper()
	here, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	m := &mutator{dir: t.TempDir(), fset: token.NewFileSet(), asts: map[string]*ast.File{}, sites: map[string][]int{}, over: map[string]string{}}
	names, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	var all []*ast.File
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(m.fset, filepath.Join(here, name), nil, parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		m.asts[name] = f
		all = append(all, f)
	}
	m.info = &types.Info{Types: map[ast.Expr]types.TypeAndValue{}, Uses: map[*ast.Ident]types.Object{}}
	conf := types.Config{Importer: importer.ForCompiler(m.fset, "source", nil)}
	if m.pkg, err = conf.Check("rinsewright/checks", m.fset, all, m.info); err != nil {
		t.Fatal(err)
	}
	return m
}

// number gives a new mutant a number.
func (m *mutator) number(file string, at token.Pos, what string) int {
	id := len(m.what)
	p := m.fset.Position(at)
	m.what = append(m.what, fmt.Sprintf("%s:%d:%d: %s", file, p.Line, p.Column, what))
	m.sites[file] = append(m.sites[file], id)
	return id
}

var flips = map[token.Token]token.Token{token.LSS: token.LEQ, token.LEQ: token.LSS, token.GTR: token.GEQ, token.GEQ: token.GTR, token.EQL: token.NEQ, token.NEQ: token.EQL}

func (m *mutator) file(t *testing.T, name string) {
	t.Helper()
	f := m.asts[name]
	m.inUse = map[string]bool{}
	for _, imp := range f.Imports {
		path, _ := strconv.Unquote(imp.Path.Value)
		m.inUse[path[strings.LastIndex(path, "/")+1:]] = true
	}
	for _, d := range f.Decls {
		ast.Inspect(d, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.FuncDecl:
				m.body(name, n.Body)
				return false
			case *ast.FuncLit:
				m.body(name, n.Body)
				return false
			}
			return true
		})
	}
	f.Comments = nil
	var b bytes.Buffer
	if err := format.Node(&b, m.fset, f); err != nil {
		t.Fatal(err)
	}
	to := filepath.Join(m.dir, name)
	if err := os.WriteFile(to, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	m.over[m.fset.Position(f.Pos()).Filename] = to
}

// body puts the mutants of a function in, from the inside out.
func (m *mutator) body(file string, body *ast.BlockStmt) {
	skip := map[ast.Expr]bool{}
	ast.Inspect(body, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.ArrayType:
			if n.Len != nil {
				skip[n.Len] = true
			}
		case *ast.GenDecl:
			if n.Tok == token.CONST {
				for _, s := range n.Specs {
					for _, v := range s.(*ast.ValueSpec).Values {
						ast.Inspect(v, func(x ast.Node) bool {
							if e, ok := x.(ast.Expr); ok {
								skip[e] = true
							}
							return true
						})
					}
				}
			}
		case *ast.SelectorExpr:
			skip[n.Sel] = true
		case *ast.KeyValueExpr:
			if id, ok := n.Key.(*ast.Ident); ok {
				skip[id] = true
			}
		}
		return true
	})
	rewrite(body, func(e ast.Expr) ast.Expr {
		if skip[e] {
			return e
		}
		return m.mutated(file, e)
	})
}

// mutated gives an expression with its mutants, or itself.
func (m *mutator) mutated(file string, e ast.Expr) ast.Expr {
	switch e := e.(type) {
	case *ast.BinaryExpr:
		if to, ok := flips[e.Op]; ok {
			id := m.number(file, e.OpPos, fmt.Sprintf("%s becomes %s", e.Op, to))
			other := *e
			other.Op = to
			return either(id, &other, e)
		}
		if e.Op == token.LAND || e.Op == token.LOR {
			out := *e
			out.X, out.Y = m.dropped(file, e, e.X, "left"), m.dropped(file, e, e.Y, "right")
			return &out
		}
	case *ast.BasicLit:
		tv := m.info.Types[e]
		if tv.Value == nil || e.Kind != token.INT && e.Kind != token.FLOAT || tv.Type == nil {
			return e
		}
		name, ok := m.typeName(tv.Type)
		if !ok {
			return e
		}
		other := constant.BinaryOp(tv.Value, token.ADD, constant.MakeInt64(1)).ExactString()
		if strings.Contains(other, "/") {
			x, _ := constant.Float64Val(constant.BinaryOp(tv.Value, token.ADD, constant.MakeInt64(1)))
			other = fmt.Sprint(x)
		}
		id := m.number(file, e.Pos(), e.Value+" becomes "+other)
		return pickOne(id, name, &ast.BasicLit{Kind: e.Kind, Value: e.Value}, &ast.BasicLit{Kind: token.FLOAT, Value: other})
	case *ast.Ident:
		return m.constant(file, e, m.info.Uses[e])
	case *ast.SelectorExpr:
		return m.constant(file, e, m.info.Uses[e.Sel])
	}
	return e
}

// dropped leaves a term of && or || out.
func (m *mutator) dropped(file string, of *ast.BinaryExpr, term ast.Expr, side string) ast.Expr {
	id := m.number(file, of.OpPos, fmt.Sprintf("the term to the %s of %s is left out", side, of.Op))
	if of.Op == token.LAND {
		return paren(&ast.BinaryExpr{X: isOn(id, token.EQL), Op: token.LOR, Y: paren(term)})
	}
	return paren(&ast.BinaryExpr{X: isOn(id, token.NEQ), Op: token.LAND, Y: paren(term)})
}

// constant swaps a named constant for the next one of its type and package.
func (m *mutator) constant(file string, e ast.Expr, object types.Object) ast.Expr {
	c, ok := object.(*types.Const)
	if !ok || c.Pkg() == nil || c.Parent() != c.Pkg().Scope() {
		return e
	}
	var like []*types.Const
	for _, name := range c.Pkg().Scope().Names() {
		other, ok := c.Pkg().Scope().Lookup(name).(*types.Const)
		if ok && types.Identical(other.Type(), c.Type()) && (other.Exported() || c.Pkg() == m.pkg) && prefix(other.Name()) == prefix(c.Name()) {
			like = append(like, other)
		}
	}
	slices.SortFunc(like, func(a, b *types.Const) int { return int(a.Pos()) - int(b.Pos()) })
	i := slices.Index(like, c)
	if len(like) < 2 || i < 0 {
		return e
	}
	other := like[(i+1)%len(like)]
	t := m.info.Types[e].Type
	if t == nil {
		t = c.Type()
	}
	name, ok := m.typeName(t)
	if !ok {
		return e
	}
	var swap ast.Expr = ast.NewIdent(other.Name())
	if c.Pkg() != m.pkg {
		swap = &ast.SelectorExpr{X: ast.NewIdent(c.Pkg().Name()), Sel: ast.NewIdent(other.Name())}
	}
	id := m.number(file, e.Pos(), c.Name()+" becomes "+other.Name())
	return pickOne(id, name, e, swap)
}

// prefix is the first word of a name: traits are swapped for traits.
func prefix(name string) string {
	for i, r := range name {
		if i > 0 && r >= 'A' && r <= 'Z' {
			return name[:i]
		}
	}
	return ""
}

// typeName gives the type of a constant as the file in hand can write it.
func (m *mutator) typeName(t types.Type) (string, bool) {
	if b, ok := t.(*types.Basic); ok && b.Info()&types.IsUntyped != 0 {
		return "", false // a piece of a constant expression
	}
	if _, ok := t.Underlying().(*types.Basic); !ok {
		return "", false
	}
	can := true
	name := types.TypeString(t, func(p *types.Package) string {
		if p == m.pkg {
			return ""
		}
		can = can && m.inUse[p.Name()]
		return p.Name()
	})
	return name, can
}

func isOn(id int, op token.Token) ast.Expr {
	return paren(&ast.BinaryExpr{X: ast.NewIdent("Mutant"), Op: op, Y: &ast.BasicLit{Kind: token.INT, Value: strconv.Itoa(id)}})
}

func paren(e ast.Expr) ast.Expr { return &ast.ParenExpr{X: e} }

// either is one expression while a mutant is on, else another.
func either(id int, on, off ast.Expr) ast.Expr {
	return paren(&ast.BinaryExpr{
		X:  paren(&ast.BinaryExpr{X: isOn(id, token.EQL), Op: token.LAND, Y: paren(on)}),
		Op: token.LOR,
		Y:  paren(&ast.BinaryExpr{X: isOn(id, token.NEQ), Op: token.LAND, Y: paren(off)}),
	})
}

func pickOne(id int, typeName string, off, on ast.Expr) ast.Expr {
	return &ast.CallExpr{Fun: &ast.IndexExpr{X: ast.NewIdent("mutantPick"), Index: ast.NewIdent(typeName)},
		Args: []ast.Expr{&ast.BasicLit{Kind: token.INT, Value: strconv.Itoa(id)}, off, on}}
}

const mutantSource = `package checks

// Mutant is the number of the mutant that is on.
var Mutant = -1

func mutantPick[T any](id int, off, on T) T {
	if Mutant == id {
		return on
	}
	return off
}
`

const mutantTest = `package checks_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"

	"rinsewright/assets"
	"rinsewright/checks"
	"rinsewright/checks/checktest"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
)

// elsewhere are circuits that no case is made of.
func elsewhere(t *testing.T) (names []string, list []*model.Circuit) {
	demos, err := assets.Files.ReadDir("demo")
	if err != nil {
		t.Fatal(err)
	}
	for i, demo := range demos {
		b, _ := assets.Files.ReadFile("demo/" + demo.Name())
		c, err := circuitfile.Decode(demo.Name(), b)
		if err != nil {
			t.Fatal(err)
		}
		names, list = append(names, demo.Name(), demo.Name()+" broken"), append(list, c, broken(rand.New(rand.NewPCG(uint64(i), 2)), c))
	}
	for seed := range uint64(25) {
		names, list = append(names, fmt.Sprint("random ", seed)), append(list, randomCircuit(rand.New(rand.NewPCG(seed, 1))))
	}
	return names, list
}

func TestOneMutantAfterTheOther(t *testing.T) {
	rule := checks.Find(checks.Rules(), os.Getenv("MUTANT_RULE"))
	rules := []*checks.Rule{rule}
	if rule.Last || rule.Audit {
		rules = checks.Rules()
	}
	told, err := os.OpenFile(os.Getenv("MUTANT_TOLD"), os.O_APPEND|os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	judge := func(c *model.Circuit) []byte {
		r, err := checks.RunOn(context.Background(), "2026-01-01", c, catalogue.Builtin(), checks.Builtin("dairy"), rules)
		if err != nil {
			t.Fatal(err)
		}
		b, _ := json.Marshal(r)
		return b
	}
	names, circuits := elsewhere(t)
	var want [][]byte
	for _, c := range circuits {
		want = append(want, judge(c))
	}
	for _, text := range strings.Fields(os.Getenv("MUTANT_IDS")) {
		checks.Mutant, _ = strconv.Atoi(text)
		fmt.Fprintln(told, "on", text)
		if !t.Run(text, func(t *testing.T) { checktest.Run(t, rule, "testdata") }) {
			continue
		}
		fmt.Fprintln(told, "lives", text)
		for i, c := range circuits {
			if !bytes.Equal(judge(c), want[i]) {
				fmt.Fprintln(told, "shown", text, names[i])
				break
			}
		}
	}
	fmt.Fprintln(told, "done")
}
`

func (m *mutator) build(t *testing.T) string {
	t.Helper()
	here, _ := os.Getwd()
	for name, text := range map[string]string{"mutant.go": mutantSource, "mutant_test.go": mutantTest} {
		to := filepath.Join(m.dir, name)
		if err := os.WriteFile(to, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		m.over[filepath.Join(here, name)] = to
	}
	// The other tests are not needed.
	names, _ := filepath.Glob("*_test.go")
	for _, name := range names {
		if name != "random_test.go" { // it makes circuits
			m.over[filepath.Join(here, name)] = ""
		}
	}
	b, err := json.Marshal(map[string]any{"Replace": m.over})
	if err != nil {
		t.Fatal(err)
	}
	overlay, bin := filepath.Join(m.dir, "overlay.json"), filepath.Join(m.dir, "mutants.test")
	if err := os.WriteFile(overlay, b, 0o600); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command("go", "test", "-vet=off", "-c", "-overlay", overlay, "-o", bin, ".").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	return bin
}

// mutantTime is what a mutant may take before it counts as caught: it does not end.
const mutantTime = 30 * time.Second

// runMutants gives those mutants of a rule that its cases do not notice, with a circuit
// that is none of the cases and shows them, empty for none. A mutant that
// brings the process down or never ends is noticed.
func runMutants(t *testing.T, bin, rule string, ids []int) map[int]string {
	lived := map[int]string{}
	for len(ids) > 0 {
		told, err := os.CreateTemp(filepath.Dir(bin), "told")
		if err != nil {
			t.Error(err)
			return lived
		}
		told.Close()
		texts := make([]string, len(ids))
		for i, id := range ids {
			texts[i] = strconv.Itoa(id)
		}
		ctx, cancel := context.WithCancel(context.Background())
		cmd := exec.CommandContext(ctx, bin, "-test.run", "TestOneMutantAfterTheOther", "-test.timeout", "0")
		cmd.Env = append(os.Environ(), "MUTANT_RULE="+rule, "MUTANT_TOLD="+told.Name(), "MUTANT_IDS="+strings.Join(texts, " "))
		over := make(chan struct{})
		go func() { // ends what stands still
			size, since := int64(-1), time.Now()
			for {
				select {
				case <-over:
					return
				case <-time.After(time.Second):
				}
				if at, err := os.Stat(told.Name()); err == nil && at.Size() != size {
					size, since = at.Size(), time.Now()
				}
				if time.Since(since) > mutantTime {
					cancel()
				}
			}
		}()
		_ = cmd.Run() // it fails where a mutant was caught
		close(over)
		cancel()
		text, err := os.ReadFile(told.Name())
		if err != nil {
			t.Error(err)
			return lived
		}
		last, done := -1, false
		for line := range strings.Lines(string(text)) {
			f := strings.Fields(line)
			switch f[0] {
			case "done":
				done = true
			case "on":
				last, _ = strconv.Atoi(f[1])
			case "lives":
				id, _ := strconv.Atoi(f[1])
				lived[id] = ""
			case "shown":
				id, _ := strconv.Atoi(f[1])
				lived[id] = strings.Join(f[2:], " ")
			}
		}
		if last < 0 {
			t.Errorf("%s: no mutant ran", rule)
			return lived
		}
		ids = ids[slices.Index(ids, last)+1:]
		if done {
			break
		}
	}
	return lived
}
