package sheets

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"yearmark/testdata/need"
)

// officeSettings are ways in which somebody at LibreOffice opens and saves a
// table; each step is a filter to read by and what to save as. The numbers of a
// filter: sign between cells, quotes, character set (76 UTF-8, 65535 UTF-16),
// first line, columns, language (1033 American, 1031 German),
// quote every text, read dates and the like as such (LibreOffice help, "CSV
// Filter Parameters").
var officeSettings = map[string][][2]string{
	"its own defaults":       {{"", "csv"}},
	"by way of XLSX and ODS": {{"", "xlsx"}, {"", "ods"}, {"", "csv"}},
	"semicolons, every text in quotes, dates read as such": {{
		"Text - txt - csv (StarCalc):44,34,76,1,,1033,false,true", "csv:Text - txt - csv (StarCalc):59,34,76,1,,1033,true,true"}},
	"German, tabs, UTF-16, dates read as such": {{
		"Text - txt - csv (StarCalc):44,34,76,1,,1031,false,true", "csv:Text - txt - csv (StarCalc):9,34,65535,1,,1031,false,true"}},
}

// addedRows are rows that somebody writes below each table of the small
// register, and what the new record or the new line of a record is to hold.
var addedRows = map[string]struct{ orders, want string }{
	"makers":            {"add maker tarn name \"Tarn Archery\" place Tarnside trading 1950/1970 trading-cites \"list-1955, p. 1\"", "trading: {span: 1950/1970, cites: [\"list-1955, p. 1\"]}\n"},
	"models":            {"add model dipper name Dipper maker orrest made 1961–1964 made-cites \"list-1965, p. 5\"", "name: Dipper\nmaker: orrest\nmade: {span: 1961/1964, cites: [\"list-1965, p. 5\"]}\n"},
	"claims":            {"add model heron feature draw-weight range \"20–25 lb\" span 1955 cites \"list-1955, p. 9\"", "{spec: draw-weight, range: 20..25 lb, span: 1955, cites: [\"list-1955, p. 9\"]}"},
	"sources":           {"add source book-2001 name \"The “Bows” of Tarnside; 2nd ed.\" kind book issued 2001", "name: The “Bows” of Tarnside; 2nd ed.\nkind: book\nissued: 2001\n"},
	"examples":          {"add model wren seen 2020-03-04 weight-mark \"X35 @ 28\" riser-wood elm mark \"ring | star\" draw-weight 41,5", "seen: 2020-03-04"},
	"features":          {"add feature riser-wood value yew value-name Yew tell \"Orange, with \\\"pins\\\"\"", "{id: yew, name: Yew, tell:"},
	"attributed":        {"add example 0007 span 1958 by \"Its owner\" cites \"letter-1990, sheet 2\"", `{span: 1958, by: Its owner, cites: ["letter-1990, sheet 2"]}`},
	"history":           {"add example 0007 on 2020-03 what Restrung", "{on: 2020-03, what: Restrung}"},
	"sales":             {"add example 0007 on 2021 price \"£14 10s 6d\"", `- {on: 2021, price: "£14 10s 6d"}`},
	"people":            {"add maker orrest name \"Ben Orrest\" role bowyer", "- {name: Ben Orrest, role: bowyer}"},
	"says-nothing":      {"add maker orrest feature riser-wood because \"Whatever lay about\" cites letter-1990", `{feature: riser-wood, because: Whatever lay about, cites: ["letter-1990"]}`},
	"never-seen-models": {"add model heron feature riser-wood value oak when \"mark: star, ring\" span 1960 of 30 cites letter-1990", `{feature: riser-wood, value: oak, when: {mark: [star, ring]}, span: 1960, of: 30, cites: ["letter-1990"]}`},
	"counted-models":    {"add model heron feature riser-wood value oak with 4 of 6 note \"of no year\" cites letter-1990", `{feature: riser-wood, value: oak, with: 4, of: 6, note: of no year, cites: ["letter-1990"]}`},
	"counted-makers":    {"add maker orrest feature riser-wood value elm with 0 of 6 cites letter-1990", `{feature: riser-wood, value: elm, with: 0, of: 6, cites: ["letter-1990"]}`},
	"never-seen-makers": {"add maker orrest feature riser-wood value elm except heron cites letter-1990", `{feature: riser-wood, value: elm, except: [heron], cites: ["letter-1990"]}`},
	"places":            {"add source letter-1990 at \"sheet 3\" says \"=And last: beech\" own no", `{at: sheet 3, says: "=And last: beech", own: false}`},
}

// TestLibreOfficeKeepsTables opens and saves every table of the demonstration in
// a real LibreOffice: read in again, none changes anything. Rows written below
// the tables of the small register are taken.
func TestLibreOfficeKeepsTables(t *testing.T) {
	office := need.Office(t)
	large, small := demonstration(t), register(t)
	tables, rows := map[string][]byte{}, map[string]int{}
	for _, table := range Tables(facts(t, large)) {
		file := table.Name + ".csv"
		tables[file] = written(t, table)
		rows[file] = len(gridOf(t, table).rows) - 1
	}
	for _, table := range Tables(facts(t, small)) {
		if table.Name == "special-orders" { // one a maker, and the register's only maker has it
			continue
		}
		orders := table.Name + "\n" + addedRows[table.Name].orders
		tables["added-"+table.Name+".csv"] = append([]byte(byteOrderMark), changed(t, small, orders)...)
	}
	profile := "-env:UserInstallation=file://" + t.TempDir()
	for name, steps := range officeSettings {
		for file, data := range saved(t, []string{office, profile}, steps, tables) {
			added, isAdded := strings.CutPrefix(strings.TrimSuffix(file, ".csv"), "added-")
			if !isAdded {
				if p, err := Prepare(load(t, large), file, data); err != nil || len(p.Changes)+p.Edited+p.Added > 0 || p.Same != rows[file] {
					t.Errorf("%s, %s: %+v, %v", name, file, p, err)
				}
				continue
			}
			p, err := Prepare(load(t, small), file, data)
			if err != nil || p.Added != 1 || p.Edited != 0 || len(p.Changes) != 1 || !strings.Contains(string(p.Changes[0].After), addedRows[added].want) {
				t.Errorf("%s, %s: %+v, %v", name, file, p, err)
			}
		}
	}
}

// saved takes tables through the steps and gives them as they come out.
func saved(t *testing.T, office []string, steps [][2]string, tables map[string][]byte) map[string][]byte {
	t.Helper()
	folder := t.TempDir()
	for name, data := range tables {
		if err := os.WriteFile(filepath.Join(folder, name), data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for _, step := range steps {
		files, err := filepath.Glob(filepath.Join(folder, "*.*"))
		if err != nil {
			t.Fatal(err)
		}
		to := t.TempDir()
		arguments := []string{office[1], "--headless", "--convert-to", step[1], "--outdir", to}
		if step[0] != "" {
			arguments = append(arguments, "--infilter="+step[0])
		}
		if out, err := exec.CommandContext(t.Context(), office[0], append(arguments, files...)...).CombinedOutput(); err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
		folder = to
	}
	now := map[string][]byte{}
	for name := range tables {
		data, err := os.ReadFile(filepath.Join(folder, name))
		if err != nil {
			t.Fatal(err)
		}
		now[name] = data
	}
	return now
}
