package proof_test

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/gcode"
	"blockwright/gcode/route"
)

var allMutants = flag.Bool("mutants", false, "try every mutant, not a draw of them")

// A mutant is a program with one fault in it.
type mutant struct {
	kind string
	line int // counted from 1
	was  string
	text []byte
}

var (
	wordRE = regexp.MustCompile(`[A-Z]-?[0-9.]+`)
	arcRE  = regexp.MustCompile(`^G[23] `)
)

// mutants of a program, by kind. Comments stay as they are: no machine reads them.
func mutants(text []byte) map[string][]mutant {
	lines := strings.Split(strings.TrimSuffix(string(text), "\n"), "\n")
	out := map[string][]mutant{}
	add := func(kind string, i int, with ...string) {
		n := append(append(append([]string{}, lines[:i]...), with...), lines[i+1:]...)
		out[kind] = append(out[kind], mutant{kind, i + 1, lines[i], []byte(strings.Join(n, "\n") + "\n")})
	}
	for i, l := range lines {
		if strings.HasPrefix(l, "(") {
			continue
		}
		add("line dropped", i)
		if i+1 < len(lines) && !strings.HasPrefix(lines[i+1], "(") {
			n := append([]string{}, lines...)
			n[i], n[i+1] = n[i+1], n[i]
			out["lines swapped"] = append(out["lines swapped"], mutant{"lines swapped", i + 1, l, []byte(strings.Join(n, "\n") + "\n")})
		}
		for _, at := range wordRE.FindAllStringIndex(l, -1) {
			w := l[at[0]:at[1]]
			v, err := strconv.ParseFloat(w[1:], 64)
			if err != nil {
				panic(err)
			}
			for _, d := range []float64{0.003, -0.003} {
				s := strconv.FormatFloat(v+d, 'f', 5, 64)
				add("word "+w[:1]+" ±0.003", i, l[:at[0]]+w[:1]+s+l[at[1]:])
			}
			lost := strings.TrimSpace(strings.ReplaceAll(l[:at[0]]+l[at[1]:], "  ", " "))
			if lost != "" {
				add("word "+w[:1]+" lost", i, lost)
			}
			if w[0] == 'I' || w[0] == 'J' {
				add("sign of "+w[:1], i, l[:at[0]]+w[:1]+strconv.FormatFloat(-v, 'f', -1, 64)+l[at[1]:])
			}
		}
		if arcRE.MatchString(l) {
			add("G2 for G3", i, map[byte]string{'2': "G3", '3': "G2"}[l[1]]+l[2:])
		}
		if strings.HasPrefix(l, "G0 ") {
			add("G1 for G0", i, "G1"+l[2:])
		}
		if strings.HasPrefix(l, "G1 ") {
			add("G0 for G1", i, "G0"+l[2:])
		}
		if strings.Contains(l, "M3") {
			add("M4 for M3", i, strings.Replace(l, "M3", "M4", 1))
		}
		add("line twice", i, l, l)
	}
	return out
}

// Every program with one fault is reported, or an independent simulation of it
// shows that it does no harm. 300 are drawn, of every kind alike; -mutants tries
// all.
func TestMutants(t *testing.T) {
	tabs := roughTool(3.175)
	tabs.ZeroTop, tabs.Spring, tabs.Overtravel = true, true, 2
	screws := roughTool(3.175)
	screws.Hold = route.Screws
	pocket := facingLike(0)
	pocket.Pockets = pocket.Pockets[:1]
	thickLayers := roughTool(3.175)
	thickLayers.StepDown = 3
	total := 0
	for _, w := range []*trade{
		{name: "tabs", jobs: []route.Job{blockLike(0, 0)}, tool: tabs, dialect: gcode.RS274NGC()},
		{name: "pockets", jobs: []route.Job{pocket}, tool: thickLayers, dialect: gcode.RS274NGC()},
		{name: "screws", jobs: []route.Job{blockLike(0, 0)}, tool: screws, dialect: gcode.Grbl(), inch: true},
	} {
		t.Run(w.name, func(t *testing.T) {
			text := w.print(t)
			found, _, ms := w.judge(text)
			require.Empty(t, found)
			good := newBench(w, ms)
			good.good = nil // look at the good program itself, once
			require.Empty(t, good.harm(ms), "the simulation finds fault with the good program")
			good.good = ms
			rnd := rand.New(rand.NewPCG(20, uint64(len(text))))
			kinds := mutants(text)
			count, both, harmless := 0, 0, map[string]int{}
			sure := 20
			if len(w.jobs[0].Pockets) > 0 {
				sure = 5 // each takes long to look at
			}
			for _, kind := range sortedKeys(kinds) {
				all := kinds[kind]
				n := 8
				if len(w.jobs[0].Pockets) > 0 {
					n = 5
				}
				if *allMutants {
					n = len(all)
				}
				rnd.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
				for _, m := range all[:min(n, len(all))] {
					count++
					found, _, ms := w.judge(m.text)
					if len(found) > 0 {
						if strings.HasPrefix(kind, "word") && both < sure && good.harm(ms) != "" {
							both++ // the simulation has eyes of its own
						}
						continue
					}
					harmless[kind]++
					if testing.Verbose() {
						t.Logf("harmless: %s, line %d %q", m.kind, m.line, m.was)
					}
					if why := good.harm(ms); why != "" {
						assert.Fail(t, fmt.Sprintf("%s in line %d, %q, is not reported: %s", m.kind, m.line, m.was, why))
					}
				}
			}
			t.Log(count, "mutants; not reported and shown harmless:", harmless)
			t.Log("reported words in which the simulation sees harm too:", both)
			assert.GreaterOrEqual(t, both, sure)
			total += count
		})
	}
	assert.GreaterOrEqual(t, total, 300)
}
