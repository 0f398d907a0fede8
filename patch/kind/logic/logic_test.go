package logic

import (
	"testing"

	"lampblack/patch/kind/rig"
)

// line is a gate written as characters, ten samples each: # is up.
func line(s string) rig.Wave {
	return func(n int) float64 {
		if n/10 < len(s) && s[n/10] == '#' {
			return 1
		}
		return 0
	}
}

func run(rule string, count float64, a, b string) (out string, y [][]float64) {
	y = rig.New(Kind()).Choose("rule", rule).Set("count", count, "").Feed("a", line(a)).Feed("b", line(b)).Run(10 * len(a))
	for n := 0; n < 10*len(a); n += 10 {
		out += map[float64]string{0: "-", 1: "#"}[y[0][n]]
	}
	return out, y
}

// The truth tables of Boolean algebra, and the flip-flops by their definition.
func TestRulesAreTheirTruthTables(t *testing.T) {
	for _, c := range []struct {
		rule       string
		count      float64
		a, b, want string
	}{
		{"and", 2, "--##", "-#-#", "---#"},
		{"or", 2, "--##", "-#-#", "-###"},
		{"xor", 2, "--##", "-#-#", "-##-"},
		{"not", 2, "--##", "-#-#", "##--"},
		{"latch", 2, "-#---#-#--#-", "---#------#-", "-##--#####--"},
		{"toggle", 2, "-#-#-#-#-#-#-", "------------#", "-##--##--##--"},
		{"toggle", 2, "-#-#-#-#-", "--#------", "-#-##--##"},
		{"divide", 1, "-#-#-##-#", "---------", "-#-#-##-#"},
		{"divide", 3, "#-##-#-#-#-#-#", "--------------", "#------#-----#"},
		{"divide", 3, "#-#-#-#-#-#-#-", "---#----------", "#---#-----#---"},
	} {
		got, y := run(c.rule, c.count, c.a, c.b)
		if got != c.want {
			t.Errorf("%s of %g:\na    %s\nb    %s\nout  %s\nwant %s", c.rule, c.count, c.a, c.b, got, c.want)
		}
		for n := range y[0] {
			rises := y[0][n] == 1 && (n == 0 || y[0][n-1] == 0)
			if y[1][n] != 1-y[0][n] || (y[2][n] == 1) != rises {
				t.Fatalf("%s: sample %d: out %g, inverse %g, trigger %g", c.rule, n, y[0][n], y[1][n], y[2][n])
			}
		}
	}
}

// Arithmetic: a divider of n passes one in n, for as long as you like.
func TestADividerOfNPassesOneInN(t *testing.T) {
	clock := func(n int) float64 { return float64(n / 5 % 2) }
	for _, n := range []int{1, 2, 7, 64} {
		y := rig.New(Kind()).Choose("rule", "divide").Set("count", float64(n), "").Feed("a", clock).Out("trigger", 10*64*7*5)
		sum := 0.0
		for _, v := range y {
			sum += v
		}
		if sum != float64(64*7*5/n) {
			t.Errorf("of %d beats a divider of %d passes %g", 64*7*5, n, sum)
		}
	}
}

func TestTheCountMayMove(t *testing.T) {
	clock := func(n int) float64 { return float64(n / 5 % 2) }
	r := rig.New(Kind()).Choose("rule", "divide").Feed("a", clock).Move("count", "", func(n int) float64 {
		if n < 10*20 {
			return 10
		}
		return 4
	})
	y, last := r.Out("trigger", 10*60), 0
	for n := range y {
		if y[n] == 1 {
			if gap := (n - last) / 10; n > 5 && gap != 10 && n < 200 || n > 300 && gap != 4 {
				t.Errorf("at sample %d it passes after %d gates", n, gap)
			}
			last = n
		}
	}
}

func BenchmarkLogic(b *testing.B) {
	for _, rule := range []string{"and", "divide"} {
		b.Run(rule, rig.New(Kind()).Choose("rule", rule).Feed("a", rig.Sine(1000)).Feed("b", rig.Sine(700)).Bench)
	}
}
