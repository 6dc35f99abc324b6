package voice

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// TestMain lets the test binary stand in for a speech program, which writes
// what it was given to a file.
func TestMain(m *testing.M) {
	kind := os.Getenv("VOICE_TEST_SPEAKER")
	if kind == "" {
		os.Exit(m.Run())
	}
	said := fmt.Sprintf("args %q", os.Args[1:])
	if kind == "stdin" {
		b, _ := io.ReadAll(os.Stdin)
		said = fmt.Sprintf("stdin %q", b)
	}
	out, err := os.OpenFile(os.Getenv("VOICE_TEST_FILE"), os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o600)
	if err != nil {
		os.Exit(9)
	}
	fmt.Fprintln(out, said)
	out.Close()
	switch kind {
	case "hangs":
		time.Sleep(time.Minute)
	case "slow":
		time.Sleep(300 * time.Millisecond)
	case "fails":
		os.Exit(4)
	}
	os.Exit(0)
}

func speaker(t *testing.T, kind string, way Way, more ...string) (*Voice, func() string) {
	t.Helper()
	file := filepath.Join(t.TempDir(), "said")
	t.Setenv("VOICE_TEST_SPEAKER", kind)
	t.Setenv("VOICE_TEST_FILE", file)
	v, err := New(append([]string{os.Args[0]}, more...), way)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(v.Close)
	return v, func() string {
		b, _ := os.ReadFile(file)
		return string(b)
	}
}

// until waits for something that another process does.
func until(t *testing.T, what string, ok func() bool) {
	t.Helper()
	for end := time.Now().Add(10 * time.Second); time.Now().Before(end); time.Sleep(5 * time.Millisecond) {
		if ok() {
			return
		}
	}
	t.Fatalf("never came: %s", what)
}

func TestWays(t *testing.T) {
	const hard = "--rate $(touch x); `y` \"z\"\x1b[31m\nred"
	v, said := speaker(t, "stdin", OnStdin)
	v.Say(hard)
	want := `stdin "rate $(touch x); ` + "`y`" + ` \"z\"[31m red\n"` + "\n"
	until(t, "the text on stdin", func() bool { return said() == want })

	v, said = speaker(t, "args", AsArgument, "-v", "slow")
	v.Say(hard)
	want = `args ["-v" "slow" "rate $(touch x); ` + "`y`" + ` \"z\"[31m red"]` + "\n"
	until(t, "the text as last argument", func() bool { return said() == want })
	if err := v.Trouble(); err != nil {
		t.Error(err)
	}
}

// TestNextBreaksOff: a hanging speaker is cut by the next text, and Say and
// Close never wait for it.
func TestNextBreaksOff(t *testing.T) {
	v, said := speaker(t, "hangs", AsArgument)
	v.Say("one")
	until(t, "one", func() bool { return strings.Contains(said(), "one") })
	begun := time.Now()
	for range 50 {
		v.Say("lost on the way")
	}
	v.Say("two")
	if d := time.Since(begun); d > 500*time.Millisecond {
		t.Errorf("saying took %v", d)
	}
	until(t, "two", func() bool { return strings.Contains(said(), "two") })
	if n := strings.Count(said(), "lost"); n > 5 {
		t.Errorf("%d of 50 texts that were overtaken were spoken", n)
	}
	begun = time.Now()
	v.Close()
	v.Close()
	if d := time.Since(begun); d > 1500*time.Millisecond {
		t.Errorf("closing took %v", d)
	}
	if v.Trouble() != nil {
		t.Error("a closed voice complains")
	}
	v.Say("after the end")
	if strings.Contains(said(), "after") {
		t.Error("a closed voice spoke")
	}
}

// TestWait: what was said last has been said to its end, and a voice that is
// broken off, closed or off keeps nobody waiting.
func TestWait(t *testing.T) {
	v, said := speaker(t, "slow", AsArgument)
	v.Wait()
	v.Say("one")
	begun := time.Now()
	v.Wait()
	if d := time.Since(begun); d < 300*time.Millisecond || !strings.Contains(said(), "one") {
		t.Errorf("it waited %v, and %q was said", d, said())
	}
	v.argv[0] = "no-such-speaker-here"
	v.Say("two")
	v.Wait() // for one that failed as well
	if v.Trouble() == nil {
		t.Error("a speaker that is not there is no trouble")
	}
	v, said = speaker(t, "hangs", AsArgument)
	v.Say("one")
	until(t, "one", func() bool { return strings.Contains(said(), "one") })
	done := make(chan struct{})
	go func() { v.Wait(); close(done) }()
	v.Close()
	select {
	case <-done:
	case <-time.After(5 * time.Second):
		t.Error("it waits for a voice that is closed")
	}
}

// TestFails: trouble is told once each, and after three it is off for good.
func TestFails(t *testing.T) {
	v, said := speaker(t, "fails", AsArgument)
	for i := 1; i <= 3; i++ {
		v.Say(fmt.Sprintf("text %d", i))
		var err error
		until(t, "trouble", func() bool { err = v.Trouble(); return err != nil })
		if off := strings.Contains(err.Error(), "off now"); off != (i == 3) {
			t.Errorf("failure %d: %v", i, err)
		}
		if v.Trouble() != nil {
			t.Error("trouble was told twice")
		}
	}
	v.Say("text 4")
	if strings.Contains(said(), "text 4") {
		t.Error("it goes on after three failures")
	}
}

func TestMissingAndEmpty(t *testing.T) {
	for _, argv := range [][]string{nil, {""}, {"no-such-speaker-here", "x"}} {
		if _, err := New(argv, OnStdin); err == nil {
			t.Errorf("%q was taken", argv)
		}
	}
	w, said := speaker(t, "stdin", OnStdin)
	w.Say("  \n ")
	w.Close()
	if said() != "" {
		t.Error("an empty text was spoken")
	}
}
