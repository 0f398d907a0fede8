package lesson

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"strconv"
	"strings"

	"lampblack/patch"
)

// Working returns the theory's formula with the numbers of a patch in it, as it
// is worked out by hand: "abs(506.5 − 500)". It is empty if the theory has no
// formula of its own. An error says which number the patch does not have.
func (q Question) Working(p patch.Patch) (string, error) {
	if q.Theory.Value == "" {
		return "", nil
	}
	of, err := q.values(p)
	if err != nil {
		return "", err
	}
	e, err := parser.ParseExpr(q.Theory.Value)
	if err != nil {
		return "", fmt.Errorf("%q is no formula", q.Theory.Value)
	}
	return written(e, of), nil
}

var signs = map[token.Token]string{token.ADD: " + ", token.SUB: " − ", token.MUL: " × ", token.QUO: "/"}

// written writes an expression with numbers for names.
func written(e ast.Expr, of map[string]float64) string {
	switch e := e.(type) {
	case *ast.ParenExpr:
		return "(" + written(e.X, of) + ")"
	case *ast.BasicLit:
		return e.Value
	case *ast.Ident:
		v, known := of[e.Name]
		if !known {
			return strings.ReplaceAll(e.Name, "pi", "π")
		}
		return short(v)
	case *ast.UnaryExpr:
		return strings.TrimSpace(signs[e.Op]) + written(e.X, of)
	case *ast.BinaryExpr:
		return written(e.X, of) + signs[e.Op] + written(e.Y, of)
	case *ast.CallExpr:
		var numbers []string
		for _, a := range e.Args {
			numbers = append(numbers, written(a, of))
		}
		return written(e.Fun, of) + "(" + strings.Join(numbers, ", ") + ")"
	}
	return ""
}

// short writes a number to five digits, a negative one in brackets: it may
// stand behind a sign.
func short(v float64) string {
	text := strconv.FormatFloat(math.Abs(v), 'g', 5, 64)
	if v < 0 {
		return "(−" + text + ")"
	}
	return text
}
