package patch_test

import (
	"strings"
	"testing"

	"lampblack/patch"
)

func bank(rows ...[]float64) patch.Patch {
	return patch.Patch{Modules: []patch.Module{{Name: "glass", Kind: "bank", Rows: rows}}}
}

func TestRowsAreReadAsTheyWereWritten(t *testing.T) {
	for _, p := range []patch.Patch{bank(), bank([]float64{0.1, -5.999999999999999}, []float64{64, 0})} {
		got, err := patch.Load(p.JSON(), kinds)
		if err != nil || !got.Equal(p) {
			t.Errorf("%v: read %v from\n%s", err, got, p.JSON())
		}
	}
	if none, two := bank(), bank([]float64{1, 0}, []float64{2, -6}); none.SameSound(two) || none.Equal(two) {
		t.Error("rows left out are not told from rows that are there")
	}
}

func TestEveryFaultOfTheRowsIsTold(t *testing.T) {
	for _, test := range []struct {
		p    patch.Patch
		says string
	}{
		{bank(), ""},
		{bank(make([][]float64, 5)...), "there are 5 partials"},
		{bank([]float64{1}), "row 1 has 1 numbers; it needs 2"},
		{bank([]float64{1, 0}, []float64{100, 0}), "row 2, ratio: 100 x is out of range"},
		{bank([]float64{1, 3}), "row 1, level: 3.0 dB is out of range"},
		{patch.Patch{Modules: []patch.Module{{Name: "s", Kind: "slow", Rows: [][]float64{{1}}}}}, "slow has no table"},
	} {
		err := test.p.Validate(kinds)
		if (err == nil) != (test.says == "") || err != nil && !strings.Contains(err.Error(), test.says) {
			t.Errorf("%v gives %q, want %q", test.p.Modules[0].Rows, err, test.says)
		}
	}
	for _, bad := range []string{`"rows": 3`, `"rows": [3]`, `"rows": [["1 x", "0 dB"]]`, `"rows": [[1,2,3,4,5,6,7,8,9]]`} {
		file := strings.Replace(string(bank().JSON()), `"kind": "bank"`, `"kind": "bank", `+bad, 1)
		if _, err := patch.Load([]byte(file), kinds); err == nil {
			t.Errorf("%s was read", bad)
		}
		if check(schema(t), []byte(file)) == nil {
			t.Errorf("the schema accepts %s", bad)
		}
	}
}

func TestRowsCompareInWords(t *testing.T) {
	for want, pair := range map[string][2]patch.Patch{
		"":                       {bank(), bank([]float64{1, 0}, []float64{2, -6})}, // as the kind starts
		"glass: partials 2 -> 1": {bank(), bank([]float64{1, 0})},
		"glass: partials, level of row 2 -6.0 dB -> -12.0 dB": {bank(), bank([]float64{1, 0}, []float64{2, -12})},
	} {
		var lines []string
		for _, c := range patch.Compare(pair[0], pair[1], kinds) {
			lines = append(lines, c.String())
		}
		if got := strings.Join(lines, "; "); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
