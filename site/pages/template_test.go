package pages

import (
	"fmt"
	"html/template"
	"reflect"
	"strings"
	"testing"
	"text/template/parse"
)

// TestTemplatesFitTheirViews walks every branch of every template, run or not,
// and follows each field through the Go type it is executed with.
func TestTemplatesFitTheirViews(t *testing.T) {
	for _, c := range []struct {
		set  templateSet
		view any
	}{
		{homeSet, homeView{}}, {essaySet, essayView{}},
		{indexSet, indexView{}}, {dateSet, dateView{}}, {searchSet, searchView{}}, {openSet, openView{}},
		{oddsSet, oddsView{}}, {checksSet, checksView{}}, {dataSet, dataView{}}, {editionsSet, editionsView{}},
		{censusSet, censusView{}},
	} {
		w := walker{set: c.set.parse(), seen: map[string]bool{}}
		root := reflect.TypeOf(c.view)
		w.template("main", root)
		for _, trouble := range w.troubles {
			t.Errorf("%s: %s", c.set.name, trouble)
		}
		if len(w.seen) < 1 {
			t.Errorf("%s: only %d templates walked", c.set.name, len(w.seen))
		}
	}
}

// TestTheWalkerFindsFaults gives the walker templates that do not fit.
func TestTheWalkerFindsFaults(t *testing.T) {
	for _, text := range []string{
		`{{.Nam}}`, `{{if .About}}{{.Nothing}}{{end}}`, `{{range .Next}}{{.Name}}{{end}}`, `{{with .Text}}{{.Body}}{{end}}`,
		`{{range $i, $x := .Next}}{{$x.Address}}{{end}}`, `{{define "x"}}{{.Gone}}{{end}}{{template "x" .Text}}`, `{{.Text.HTML.More}}`,
	} {
		w := walker{set: template.Must(template.New("t").Parse(text)), seen: map[string]bool{}}
		w.template("t", reflect.TypeOf(essayView{}))
		if len(w.troubles) != 1 {
			t.Errorf("%s: %d faults found, want 1", text, len(w.troubles))
		}
	}
}

type walker struct {
	set      *template.Template
	seen     map[string]bool
	vars     []variable
	troubles []string
}

type variable struct {
	name string
	of   reflect.Type
}

func (w *walker) trouble(format string, args ...any) {
	w.troubles = append(w.troubles, fmt.Sprintf(format, args...))
}

// template walks a named template with a type for its dot, each pair once.
func (w *walker) template(name string, dot reflect.Type) {
	key := name + " " + fmt.Sprint(dot)
	if w.seen[key] {
		return
	}
	w.seen[key] = true
	t := w.set.Lookup(name)
	if t == nil || t.Tree == nil {
		w.trouble("no template %q", name)
		return
	}
	outer := w.vars
	w.vars = []variable{{"$", dot}}
	w.list(t.Tree.Root, dot)
	w.vars = outer
}

func (w *walker) list(l *parse.ListNode, dot reflect.Type) {
	if l == nil {
		return
	}
	for _, n := range l.Nodes {
		w.node(n, dot)
	}
}

func (w *walker) node(n parse.Node, dot reflect.Type) {
	depth := len(w.vars)
	switch n := n.(type) {
	case *parse.ActionNode:
		w.pipe(n.Pipe, dot)
		return // variables declared here live on
	case *parse.IfNode:
		w.pipe(n.Pipe, dot)
		w.list(n.List, dot)
		w.list(n.ElseList, dot)
	case *parse.WithNode:
		inner := w.pipe(n.Pipe, dot)
		w.list(n.List, inner)
		w.list(n.ElseList, dot)
	case *parse.RangeNode:
		element := w.rangeOver(n, dot)
		w.list(n.List, element)
		w.list(n.ElseList, dot)
	case *parse.TemplateNode:
		inner := reflect.TypeOf((*any)(nil)).Elem()
		if n.Pipe != nil {
			inner = w.pipe(n.Pipe, dot)
		}
		if inner != nil {
			w.template(n.Name, inner)
		}
	}
	w.vars = w.vars[:depth]
}

func (w *walker) rangeOver(n *parse.RangeNode, dot reflect.Type) reflect.Type {
	over := w.plain(n.Pipe, dot)
	if over == nil {
		return nil
	}
	if k := over.Kind(); k != reflect.Slice && k != reflect.Array && k != reflect.Map {
		w.trouble("%s: ranges over %s", n.Pipe, over)
		return nil
	}
	element := over.Elem()
	switch declared := n.Pipe.Decl; len(declared) {
	case 1:
		w.vars = append(w.vars, variable{declared[0].Ident[0], element})
	case 2:
		w.vars = append(w.vars, variable{declared[0].Ident[0], reflect.TypeOf(0)}, variable{declared[1].Ident[0], element})
	}
	return element
}

// pipe gives the type of a pipeline and notes the variables it declares.
func (w *walker) pipe(p *parse.PipeNode, dot reflect.Type) reflect.Type {
	of := w.plain(p, dot)
	for _, d := range p.Decl {
		w.vars = append(w.vars, variable{d.Ident[0], of})
	}
	return of
}

// plain gives the type of a pipeline, or nil where it cannot be told.
func (w *walker) plain(p *parse.PipeNode, dot reflect.Type) reflect.Type {
	var of reflect.Type
	for _, c := range p.Cmds {
		for i, arg := range c.Args {
			if t := w.argument(arg, dot); i == 0 {
				of = t
			}
		}
	}
	return of
}

func (w *walker) argument(n parse.Node, dot reflect.Type) reflect.Type {
	switch n := n.(type) {
	case *parse.DotNode:
		return dot
	case *parse.FieldNode:
		return w.fields(dot, n.Ident, n.String())
	case *parse.VariableNode:
		for i := len(w.vars) - 1; i >= 0; i-- {
			if w.vars[i].name == n.Ident[0] {
				return w.fields(w.vars[i].of, n.Ident[1:], n.String())
			}
		}
		w.trouble("%s: no such variable", n)
	case *parse.PipeNode:
		return w.plain(n, dot)
	case *parse.ChainNode:
		return w.fields(w.argument(n.Node, dot), n.Field, n.String())
	}
	return nil
}

func (w *walker) fields(t reflect.Type, names []string, whole string) reflect.Type {
	for _, name := range names {
		if t == nil {
			return nil
		}
		if m, ok := t.MethodByName(name); ok {
			t = m.Type.Out(0)
			continue
		}
		for t.Kind() == reflect.Pointer {
			t = t.Elem()
		}
		if t.Kind() != reflect.Struct {
			w.trouble("%s: %s has no fields", whole, t)
			return nil
		}
		f, ok := t.FieldByName(name)
		if !ok || !f.IsExported() && !f.Anonymous {
			w.trouble("%s: %s has no field %s", whole, strings.TrimPrefix(t.String(), "pages."), name)
			return nil
		}
		t = f.Type
	}
	return t
}
