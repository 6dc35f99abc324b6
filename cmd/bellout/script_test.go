package main

import (
	"bufio"
	"bytes"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"bellout/mapping"
	"bellout/storage"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"bellout": main,
		"simpod":  func() { os.Exit(simPodMain()) },
		"hold":    func() { os.Exit(holdMain()) },
		"damage":  func() { os.Exit(damageMain()) },
	})
}

// TestScripts runs the scripts in testdata/script; each is a process of its
// own. The fixtures are at $PODS, the example job at $EXAMPLE.
func TestScripts(t *testing.T) {
	root, err := filepath.Abs("../../testdata")
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		RequireExplicitExec: true,
		Condition:           condition,
		Cmds:                map[string]func(*testscript.TestScript, bool, []string){"exec-code": execCode},
		Setup: func(e *testscript.Env) error {
			e.Setenv("PODS", filepath.Join(root, "pods"))
			e.Setenv("EXAMPLE", filepath.Join(root, "example"))
			e.Setenv("HOME", e.WorkDir)
			e.Setenv(storage.FolderVariable, filepath.Join(e.WorkDir, "jobs"))
			return nil
		},
	})
}

// condition adds "root" to the conditions of the scripts: root may write
// anywhere, so that a folder cannot be shut to it.
func condition(name string) (bool, error) {
	if name == "root" {
		return os.Geteuid() == 0, nil
	}
	return false, fmt.Errorf("unknown condition %q", name)
}

// execCode is the script command "exec-code N program args...": it runs the
// program, which must end with exactly this code, and saves what it prints.
func execCode(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exec-code N program args...")
	}
	got := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		var exit *exec.ExitError
		if !errors.As(err, &exit) {
			ts.Fatalf("%v", err)
		}
		got = exit.ExitCode()
	}
	if fmt.Sprint(got) != args[0] {
		ts.Fatalf("exit code %d, want %s", got, args[0])
	}
}

// simPodMain is the command simpod of the scripts: it starts bellout rig with
// the arguments after its own flags and answers it from a *.pod file.
//
//	-stop N        hang up after N answers
//	-kill N        kill bellout once its line after answer N is there; then the
//	               job (-job) must hold exactly what was acknowledged
//	-say N TEXT    send TEXT as answer N
func simPodMain() int {
	f := flag.NewFlagSet("simpod", flag.ExitOnError)
	pod := f.String("pod", "", "the pod")
	leads := f.String("leads", "pair", "pair or bunch")
	stop := f.Int("stop", 0, "hang up after so many answers")
	kill := f.Int("kill", 0, "kill after so many answers")
	job := f.String("job", "", "the job file to look into after a kill")
	sayAt := f.Int("at", 0, "answer to replace")
	say := f.String("say", "", "what to say instead")
	_ = f.Parse(os.Args[1:])
	s, err := newSimPod(*pod, map[string]mapping.Leads{"pair": mapping.PairLeads, "bunch": mapping.BunchLeads}[*leads])
	if err != nil {
		fmt.Fprintln(os.Stderr, "simpod:", err)
		return 99
	}
	c := exec.Command("bellout", append([]string{"rig"}, f.Args()...)...)
	c.Stderr = os.Stderr
	in, err1 := c.StdinPipe()
	out, err2 := c.StdoutPipe()
	if err1 != nil || err2 != nil || c.Start() != nil {
		fmt.Fprintln(os.Stderr, "simpod: bellout does not start")
		return 99
	}
	lines := bufio.NewScanner(out)
	lines.Buffer(nil, 1<<20)
	answers := 0
	for lines.Scan() {
		if *kill > 0 && answers == *kill {
			_ = c.Process.Kill()
			_ = c.Wait()
			return checkKept(*job, s)
		}
		reply, done, err := s.answer(lines.Bytes())
		if err != nil {
			fmt.Fprintln(os.Stderr, "simpod:", err)
			_ = c.Process.Kill()
			return 99
		}
		if done {
			fmt.Printf("%s\n", lines.Bytes())
			break
		}
		if *stop > 0 && answers == *stop {
			_ = in.Close()
			break
		}
		answers++
		if answers == *sayAt {
			reply = []byte(*say + "\n")
		}
		_, _ = in.Write(reply)
	}
	err = c.Wait()
	if s.last != nil {
		verdict := "right in every setting"
		if err := s.judge(); err != nil {
			verdict = "WRONG: " + err.Error()
		}
		fmt.Println("the map is " + verdict)
	}
	if exit := (*exec.ExitError)(nil); errors.As(err, &exit) {
		fmt.Printf("exit code %d\n", exit.ExitCode())
		return exit.ExitCode()
	}
	return 0
}

// checkKept holds a job after a kill to what was acknowledged: an answer is
// acknowledged by the line that follows it.
func checkKept(path string, s *simPod) int {
	entries, err := storage.Read(path)
	if err != nil {
		fmt.Fprintln(os.Stderr, "simpod:", err)
		return 98
	}
	var kept []string
	for _, e := range entries {
		if e.Reading != nil {
			kept = append(kept, e.Reading.Continuity().String())
		}
	}
	if fmt.Sprint(kept) != fmt.Sprint(s.said) {
		fmt.Fprintf(os.Stderr, "simpod: acknowledged %v, kept %v\n", s.said, kept)
		return 97
	}
	fmt.Println("killed; all that was acknowledged is kept")
	return 0
}

// holdMain is the command hold of the scripts: "hold JOB program args..." runs
// the program while another process, this one, has the job open.
func holdMain() int {
	s, err := storage.Open(os.Args[1])
	if err != nil {
		fmt.Fprintln(os.Stderr, "hold:", err)
		return 99
	}
	c := exec.Command(os.Args[2], os.Args[3:]...)
	c.Stdout, c.Stderr = os.Stdout, os.Stderr
	err = c.Run()
	if cerr := s.Close(); cerr != nil {
		fmt.Fprintln(os.Stderr, "hold:", cerr)
		return 99
	}
	code := 0
	if exit := (*exec.ExitError)(nil); errors.As(err, &exit) {
		code = exit.ExitCode()
	}
	fmt.Printf("exit code %d\n", code)
	return 0
}

// damageMain is the command damage of the scripts: it wipes everything behind
// the two pages that a job file begins with, or spoils one word all over a file.
func damageMain() int {
	const twoPages = 2 * 4096
	text, err := os.ReadFile(os.Args[1])
	switch {
	case err != nil:
	case len(os.Args) > 2:
		word := []byte(os.Args[2])
		text = bytes.ReplaceAll(text, word, bytes.Repeat([]byte("x"), len(word)))
	case len(text) > twoPages:
		clear(text[twoPages:])
	}
	if err == nil {
		err = os.WriteFile(os.Args[1], text, 0o600)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "damage:", err)
		return 99
	}
	return 0
}
