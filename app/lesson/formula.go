package lesson

import (
	"errors"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"slices"
	"strconv"
	"strings"

	"lampblack/patch"
)

// maxFormula bounds an expression, and with it how deep it can be nested.
const maxFormula = 200

var functions = map[string]struct {
	arguments int
	of        func(x []float64) float64
}{
	"abs":   {1, func(x []float64) float64 { return math.Abs(x[0]) }},
	"sqrt":  {1, func(x []float64) float64 { return math.Sqrt(x[0]) }},
	"exp":   {1, func(x []float64) float64 { return math.Exp(x[0]) }},
	"ln":    {1, func(x []float64) float64 { return math.Log(x[0]) }},
	"log2":  {1, func(x []float64) float64 { return math.Log2(x[0]) }},
	"log10": {1, func(x []float64) float64 { return math.Log10(x[0]) }},
	"dB":    {1, func(x []float64) float64 { return 20 * math.Log10(math.Abs(x[0])) }},
	"sin":   {1, func(x []float64) float64 { return math.Sin(x[0]) }},
	"cos":   {1, func(x []float64) float64 { return math.Cos(x[0]) }},
	"pow":   {2, func(x []float64) float64 { return math.Pow(x[0], x[1]) }},
	"J":     {2, func(x []float64) float64 { return math.Jn(int(math.Round(max(-1000, min(x[0], 1000)))), x[1]) }},
}

// formula is an expression that has been read: + - * / ( ), numbers, pi,
// functions and names.
type formula struct{ root ast.Expr }

// readFormula reads an expression that may use those names.
func readFormula(text string, names map[string]Variable) (formula, error) {
	if len(text) > maxFormula {
		return formula{}, fmt.Errorf("the formula has %d letters; allowed are %d", len(text), maxFormula)
	}
	e, err := parser.ParseExpr(text)
	if err != nil {
		return formula{}, fmt.Errorf("%q is no formula; it is written like 20*log10(m/2)", text)
	}
	f := formula{e}
	trial := map[string]float64{}
	for name := range names {
		trial[name] = 1
	}
	_, err = f.value(trial)
	if errors.Is(err, errNoNumber) {
		err = nil // with other numbers it may be one
	}
	return f, err
}

var errNoNumber = errors.New("the formula gives no number for these settings")

// value works the expression out.
func (f formula) value(of map[string]float64) (float64, error) {
	v, err := evaluate(f.root, of)
	if err == nil && (math.IsNaN(v) || math.IsInf(v, 0)) {
		err = errNoNumber
	}
	return v, err
}

func evaluate(e ast.Expr, of map[string]float64) (float64, error) {
	switch e := e.(type) {
	case *ast.ParenExpr:
		return evaluate(e.X, of)
	case *ast.BasicLit:
		if e.Kind == token.INT || e.Kind == token.FLOAT {
			if v, err := strconv.ParseFloat(e.Value, 64); err == nil {
				return v, nil
			}
		}
		return 0, fmt.Errorf("%s is no decimal number", e.Value)
	case *ast.Ident:
		if v, ok := of[e.Name]; ok {
			return v, nil
		}
		if e.Name == "pi" {
			return math.Pi, nil
		}
		return 0, fmt.Errorf("%q is not known here; \"where\" says which control or cord it is", e.Name)
	case *ast.UnaryExpr:
		v, err := evaluate(e.X, of)
		if e.Op == token.SUB {
			v = -v
		} else if e.Op != token.ADD {
			err = fmt.Errorf("%s is no sign of a formula", e.Op)
		}
		return v, err
	case *ast.BinaryExpr:
		return binary(e, of)
	case *ast.CallExpr:
		return call(e, of)
	}
	return 0, errors.New("only numbers, names, + - * / ( ) and functions make a formula")
}

func binary(e *ast.BinaryExpr, of map[string]float64) (float64, error) {
	x, err := evaluate(e.X, of)
	if err != nil {
		return 0, err
	}
	y, err := evaluate(e.Y, of)
	if err != nil {
		return 0, err
	}
	switch e.Op {
	case token.ADD:
		return x + y, nil
	case token.SUB:
		return x - y, nil
	case token.MUL:
		return x * y, nil
	case token.QUO:
		return x / y, nil
	}
	return 0, fmt.Errorf("%s is no sign of a formula; a power is written pow(x, y)", e.Op)
}

func call(e *ast.CallExpr, of map[string]float64) (float64, error) {
	name, _ := e.Fun.(*ast.Ident)
	if name == nil {
		return 0, errors.New("a function is written like sqrt(x)")
	}
	f, ok := functions[name.Name]
	if !ok {
		var known []string
		for n := range functions {
			known = append(known, n)
		}
		slices.Sort(known)
		return 0, fmt.Errorf("there is no function %q; there are %s", name.Name, strings.Join(known, ", "))
	}
	if len(e.Args) != f.arguments {
		return 0, fmt.Errorf("%s wants %d numbers; it got %d", name.Name, f.arguments, len(e.Args))
	}
	x := make([]float64, len(e.Args))
	for i, a := range e.Args {
		var err error
		if x[i], err = evaluate(a, of); err != nil {
			return 0, err
		}
	}
	return f.of(x), nil
}

// values takes a question's variables from a patch.
func (q Question) values(p patch.Patch) (map[string]float64, error) {
	of := map[string]float64{}
	for name, v := range q.Where {
		s, err := v.setting(p)
		if err != nil {
			return nil, err
		}
		if s.Unit != v.Unit {
			return nil, fmt.Errorf("%s is written in %s; the question counts in %s", v, unitWords(s.Unit), unitWords(v.Unit))
		}
		of[name] = s.Value
	}
	return of, nil
}

func unitWords(unit string) string {
	if unit == "" {
		return "bare numbers"
	}
	return unit
}

// String names the variable as a lesson's file does.
func (v Variable) String() string {
	if v.Control != (patch.Socket{}) {
		return v.Control.String()
	}
	return patch.Cord{From: v.From, To: v.To}.String()
}

// setting returns what a variable stands at.
func (v Variable) setting(p patch.Patch) (patch.Setting, error) {
	if v.Control == (patch.Socket{}) {
		for _, c := range p.Cords {
			if c.From == v.From && c.To == v.To {
				return c.Depth, nil
			}
		}
		return patch.Setting{}, fmt.Errorf("the patch has no cord %s", v)
	}
	c := controlOf(p, v.Control)
	if c == nil {
		return patch.Setting{}, errors.New(noControl(p, v.Control))
	}
	if s, ok := p.Module(v.Control.Module).Settings[v.Control.Name]; ok {
		return s, nil
	}
	return c.Default(), nil
}
