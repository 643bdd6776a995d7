//go:build mutate

package checks_test

import (
	"go/ast"
	"reflect"
)

// rewrite puts another expression in the place of each one under a node, the inner ones
// first. What is assigned to, declared or its address taken is left as it is.
func rewrite(n ast.Node, with func(ast.Expr) ast.Expr) {
	seen := map[any]bool{}
	walk(reflect.ValueOf(n), with, seen)
}

var expression = reflect.TypeFor[ast.Expr]()

func walk(v reflect.Value, with func(ast.Expr) ast.Expr, seen map[any]bool) {
	switch v.Kind() {
	case reflect.Interface:
		if v.IsNil() {
			return
		}
		walk(v.Elem(), with, seen)
		if v.Type() == expression && v.CanSet() {
			old := v.Interface().(ast.Expr)
			if now := with(old); now != old {
				v.Set(reflect.ValueOf(now))
			}
		}
	case reflect.Pointer:
		if v.IsNil() || seen[v.Interface()] {
			return
		}
		seen[v.Interface()] = true
		switch n := v.Interface().(type) {
		case *ast.Object, *ast.Scope, *ast.CommentGroup, *ast.FuncType, *ast.Ident:
			return
		case *ast.UnaryExpr:
			if n.Op.String() == "&" {
				return
			}
		case *ast.CompositeLit:
			for i := range n.Elts {
				walk(reflect.ValueOf(n.Elts).Index(i), with, seen)
			}
			return
		case *ast.SelectorExpr: // x.y: only x may hold something
			walk(reflect.ValueOf(&n.X).Elem(), func(e ast.Expr) ast.Expr {
				if _, name := e.(*ast.Ident); name {
					return e
				}
				return with(e)
			}, seen)
			return
		}
		walk(v.Elem(), with, seen)
	case reflect.Struct:
		for i := range v.NumField() {
			walk(v.Field(i), with, seen)
		}
	case reflect.Slice:
		for i := range v.Len() {
			walk(v.Index(i), with, seen)
		}
	}
}
