package network

import (
	"bytes"
	"encoding/json"
	"math/rand/v2"
	"os/exec"
	"path/filepath"
	"testing"

	"yearmark/testdata/need"
)

// question and answer are what testdata/z3.cjs reads and writes.
type question struct {
	Points int       `json:"points"`
	Edges  [][3]int  `json:"edges"`
	Tight  bool      `json:"tight"`
	Years  [][2]*int `json:"years,omitempty"`
}

type answer struct {
	Sat   bool  `json:"sat"`
	Wrong []int `json:"wrong"`
}

// ask puts the questions to z3 in one run of Node.
func ask(t *testing.T, questions []question) []answer {
	t.Helper()
	folder := need.Npm(t, "z3-solver")
	input, err := json.Marshal(questions)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(need.Node(t), filepath.Join("testdata", "z3.cjs"))
	cmd.Env = append(cmd.Environ(), "NODE_PATH="+filepath.Join(folder, "node_modules"))
	var complaint bytes.Buffer
	cmd.Stdin, cmd.Stderr = bytes.NewReader(input), &complaint
	output, err := cmd.Output()
	if err != nil {
		t.Fatalf("z3: %v\n%s", err, complaint.Bytes())
	}
	var answers []answer
	if err := json.Unmarshal(output, &answers); err != nil || len(answers) != len(questions) {
		t.Fatalf("z3 gave %d answers to %d questions: %v", len(answers), len(questions), err)
	}
	return answers
}

func questionOf(points int, edges []Edge) question {
	q := question{Points: points, Edges: [][3]int{}}
	for _, e := range edges {
		q.Edges = append(q.Edges, [3]int{int(e.From), int(e.To), int(e.Max)})
	}
	return q
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
// on one in fifteen of those that hold; and of one conflict in eight that its statements
// are refused, and accepted without any one of them.
func TestAgainstZ3(t *testing.T) {
	const networks = 2000
	var questions []question
	var names []string
	var want []bool
	put := func(name string, sat bool, q question) {
		questions, names, want = append(questions, q), append(names, name), append(want, sat)
	}
	held := 0
	for seed := range uint64(networks) {
		r := rand.New(rand.NewPCG(seed, 7))
		n := randomNetwork(r)
		if seed%2 == 1 {
			n = anyNetwork(r)
		}
		s, conflict := n.Solve()
		q := questionOf(n.Points(), n.Edges())
		if conflict == nil {
			if held++; held%15 == 0 {
				q.Tight, q.Years = true, guesses(n, s)
			}
			put("network", true, q)
			continue
		}
		put("network", false, q)
		if seed%16 > 1 {
			continue
		}
		of := only(n.Edges(), conflict.Tags)
		put("conflict", false, questionOf(n.Points(), of))
		for _, tag := range conflict.Tags {
			put("conflict without one", true, questionOf(n.Points(), without(of, tag)))
		}
	}
	if held < networks/5 || held > networks*4/5 {
		t.Errorf("%d of %d networks hold: the verdicts say little", held, networks)
	}
	for i, a := range ask(t, questions) {
		if a.Sat != want[i] {
			t.Errorf("%s %d: z3 says %v, want %v: %v", names[i], i, a.Sat, want[i], questions[i].Edges)
		}
		if len(a.Wrong) > 0 {
			t.Errorf("%s %d: z3 finds other years for points %v: %v", names[i], i, a.Wrong, questions[i].Edges)
		}
	}
}

// guesses gives the solved years of every point but the origin; nil stands for no bound.
func guesses(n *Network, s *Solution) (years [][2]*int) {
	for p := Point(1); int(p) < n.Points(); p++ {
		var pair [2]*int
		if year, ok := s.Earliest(p); ok {
			pair[0] = &year
		}
		if year, ok := s.Latest(p); ok {
			pair[1] = &year
		}
		years = append(years, pair)
	}
	return years
}
