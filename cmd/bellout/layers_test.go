package main

import (
	"encoding/json"
	"errors"
	"io"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// layerRules says what each package of the project may import, tests aside:
// own packages by their first folder, and the outside modules that only one
// layer may use. The longest prefix counts.
var layerRules = []struct {
	prefix string
	own    []string
	banned []string // import paths, with all that is under them
}{
	{"bellout/mapping", []string{"mapping"}, []string{"os", "time", "net", screens1, screens2, screens3, store}},
	{"bellout/inference", []string{"inference", "mapping"}, []string{"os", "time", "net", screens1, screens2, screens3, store}},
	{"bellout/storage", []string{"storage", "mapping"}, []string{"net", screens1, screens2, screens3}},
	{"bellout/tui", []string{"tui", "mapping", "inference", "storage"}, []string{"net", store}},
	{"bellout/cmd", []string{"cmd", "tui", "mapping", "inference", "storage"}, []string{"net", screens1, screens2, screens3, store}},
}

const (
	screens1 = "github.com/charmbracelet/bubbletea"
	screens2 = "github.com/charmbracelet/lipgloss"
	screens3 = "github.com/charmbracelet/bubbles"
	store    = "go.etcd.io/bbolt"
)

// exceptions are imports that the rule would refuse, each with its reason.
var exceptions = map[[2]string]string{
	{"bellout/inference/simbench", "time"}: "test code in a folder of its own: it times the engine",
	{"bellout/mapping/page", "time"}:       "the PDF writer must be told a date; it is told none",
	{"bellout/mapping/sheet/ink", "time"}:  "the same",
}

type listed struct {
	ImportPath string
	Imports    []string
}

// TestLayers holds the rule of the layers: mapping stands on the ground,
// inference and storage know mapping only, tui uses all three, cmd wires.
func TestLayers(t *testing.T) {
	packages := goList(t)
	if len(packages) < 5 {
		t.Fatalf("go list shows %d packages only", len(packages))
	}
	for _, p := range packages {
		found := false
		for _, rule := range layerRules {
			if !under(p.ImportPath, rule.prefix) {
				continue
			}
			found = true
			for _, bad := range violations(p, rule.own, rule.banned) {
				t.Errorf("%s imports %s", p.ImportPath, bad)
			}
		}
		if !found {
			t.Errorf("%s is in no layer: the top level holds cmd, tui, mapping, inference and storage", p.ImportPath)
		}
	}
}

func violations(p listed, own, banned []string) []string {
	var out []string
	for _, imp := range p.Imports {
		if rest, ours := strings.CutPrefix(imp, "bellout/"); ours {
			if top, _, _ := strings.Cut(rest, "/"); !slices.Contains(own, top) {
				out = append(out, imp)
			}
		}
		if exceptions[[2]string{p.ImportPath, imp}] != "" {
			continue
		}
		if slices.ContainsFunc(banned, func(b string) bool { return under(imp, b) }) {
			out = append(out, imp)
		}
	}
	return out
}

// TestLayerRuleBites plants imports that break the rule.
func TestLayerRuleBites(t *testing.T) {
	for _, c := range []struct{ from, imp string }{
		{"bellout/mapping/plan", "bellout/inference"},
		{"bellout/mapping", "time"},
		{"bellout/inference", "bellout/storage"},
		{"bellout/inference", "os"},
		{"bellout/inference", "go.etcd.io/bbolt"},
		{"bellout/storage", "bellout/inference"},
		{"bellout/storage", "github.com/charmbracelet/bubbles/list"},
		{"bellout/cmd/bellout", "github.com/charmbracelet/bubbletea"},
		{"bellout/tui", "net/http"},
	} {
		for _, rule := range layerRules {
			if under(c.from, rule.prefix) && len(violations(listed{c.from, []string{c.imp}}, rule.own, rule.banned)) != 1 {
				t.Errorf("%s importing %s is not noticed", c.from, c.imp)
			}
		}
	}
}

func under(path, prefix string) bool {
	return path == prefix || strings.HasPrefix(path, prefix+"/")
}

func goList(t *testing.T) []listed {
	t.Helper()
	out, err := exec.Command("go", "list", "-e", "-json=ImportPath,Imports", "bellout/...").Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	var all []listed
	for dec := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p listed
		err := dec.Decode(&p)
		if errors.Is(err, io.EOF) {
			return all
		}
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, p)
	}
}
