package network

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"yearmark/testdata/need"
)

// ask puts scripts in SMT-LIB to z3 in one run of Node, and gives what it says to each.
func ask(t *testing.T, scripts []string) []string {
	t.Helper()
	folder := need.Npm(t, "z3-solver")
	cmd := exec.Command(need.Node(t), filepath.Join("testdata", "z3.cjs"))
	cmd.Env = append(cmd.Environ(), "NODE_PATH="+filepath.Join(folder, "node_modules"))
	var complaint bytes.Buffer
	cmd.Stdin, cmd.Stderr = strings.NewReader(strings.Join(scripts, "\n")), &complaint
	output, err := cmd.Output()
	if err != nil {
		t.Fatalf("z3: %v\n%s", err, complaint.Bytes())
	}
	answers := strings.Split(string(output), "\n")
	if len(answers) != len(scripts) {
		t.Fatalf("z3 gave %d answers to %d scripts", len(answers), len(scripts))
	}
	return answers
}

// script asks z3 whether the constraints can hold, and then, one after the
// other, whether they can with each of the further claims. Point 0 is year zero.
func script(points int, edges []Edge, further ...string) string {
	var b strings.Builder
	b.WriteString("(push)")
	for p := range points {
		fmt.Fprintf(&b, "(declare-const x%d Int)", p)
	}
	for _, e := range edges {
		fmt.Fprintf(&b, "(assert (<= (- x%d x%d) %s))", e.To, e.From, number(int(e.Max)))
	}
	b.WriteString("(check-sat)")
	for _, f := range further {
		fmt.Fprintf(&b, "(push)(assert %s)(check-sat)(pop)", f)
	}
	b.WriteString("(pop)")
	return b.String()
}

// number writes a whole number as SMT-LIB does.
func number(n int) string {
	if n < 0 {
		return fmt.Sprintf("(- %d)", -n)
	}
	return fmt.Sprint(n)
}

// tightness gives claims that prove every bound of a solution, and what z3
// must say to them: a point can have its earliest year but none before it, or
// any however far back where nothing bounds it; and so for the latest.
func tightness(points int, s *Solution) (claims, want []string) {
	claim := func(answer, relation string, p Point, year int) {
		claims = append(claims, fmt.Sprintf("(%s (- x%d x0) %s)", relation, p, number(year)))
		want = append(want, answer)
	}
	const beyond = 1 << 20 // years past any that is stated
	for p := Point(1); int(p) < points; p++ {
		if year, ok := s.Earliest(p); ok {
			claim("sat", "=", p, year)
			claim("unsat", "<", p, year)
		} else {
			claim("sat", "<", p, -beyond)
		}
		if year, ok := s.Latest(p); ok {
			claim("sat", "=", p, year)
			claim("unsat", ">", p, year)
		} else {
			claim("sat", ">", p, beyond)
		}
	}
	return claims, want
}

// anyNetwork is a random network without the shape of records.
func anyNetwork(r *rand.Rand) *Network {
	n := New()
	for range 2 + r.IntN(10) {
		n.AddPoint()
	}
	for tag := range Tag(r.IntN(3 * n.Points())) {
		from, to := Point(r.IntN(n.Points())), Point(r.IntN(n.Points()))
		if from != to {
			n.Constrain(from, to, r.IntN(60)-20, tag+1)
		}
	}
	return n
}

// TestAgainstZ3 compares 2,000 random networks with the npm library z3-solver:
// the verdict on all of them; the tightest years of every point, proved by z3,
// on every fourth of those that hold; and of every second conflict that its
// statements are refused, and accepted without any one of them.
func TestAgainstZ3(t *testing.T) {
	need.Long(t)
	const networks = 2000
	var scripts, want []string
	put := func(answer, question string) {
		scripts, want = append(scripts, question), append(want, answer)
	}
	held := 0
	for seed := range uint64(networks) {
		r := rand.New(rand.NewPCG(seed, 7))
		n := randomNetwork(r)
		if seed%2 == 1 {
			n = anyNetwork(r)
		}
		s, conflict := n.Solve()
		if conflict == nil {
			var claims, answers []string
			if held++; held%4 == 0 {
				claims, answers = tightness(n.Points(), s)
			}
			put(strings.Join(append([]string{"sat"}, answers...), " "), script(n.Points(), n.Edges(), claims...))
			continue
		}
		put("unsat", script(n.Points(), n.Edges()))
		if seed%4 > 1 {
			continue
		}
		of := only(n.Edges(), conflict.Tags)
		put("unsat", script(n.Points(), of))
		for _, tag := range conflict.Tags {
			put("sat", script(n.Points(), without(of, tag)))
		}
	}
	if held < networks/5 || held > networks*4/5 {
		t.Errorf("%d of %d networks hold: the verdicts say little", held, networks)
	}
	for i, answer := range ask(t, scripts) {
		if answer != want[i] {
			t.Errorf("z3 says %q, want %q: %s", answer, want[i], scripts[i])
		}
	}
}
