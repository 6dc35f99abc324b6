package ears

import (
	"context"
	"errors"
	"fmt"
	"os/exec"
	"strings"
	"sync"
	"time"
	"unicode"
)

// Recorder is a running program that writes sound to its standard output.
type Recorder struct {
	Sound  *Sound
	cmd    *exec.Cmd
	cancel context.CancelFunc
	errs   *tail
	once   sync.Once
	err    error
}

// Start runs a recorder, argv as given and never through a shell, and reads
// its sound: raw 16-bit little-endian samples of one channel at rate a second,
// or WAV. It waits for the first samples. The recorder is killed when ctx ends
// or Close is called.
func Start(ctx context.Context, argv []string, rate int) (*Recorder, error) {
	if len(argv) == 0 || argv[0] == "" {
		return nil, errors.New("no recorder command was given: name a program that writes sound to its standard output")
	}
	ctx, cancel := context.WithCancel(ctx)
	cmd := exec.CommandContext(ctx, argv[0], argv[1:]...)
	// A grandchild that keeps the pipe open must not keep us.
	cmd.WaitDelay = 500 * time.Millisecond
	errs := &tail{}
	cmd.Stderr = errs
	out, err := cmd.StdoutPipe()
	if err != nil {
		cancel()
		return nil, fmt.Errorf("the recorder cannot be started: %w", err)
	}
	if err := cmd.Start(); err != nil {
		cancel()
		return nil, fmt.Errorf("the recorder %q cannot be started: check that it is installed and spelt right (%w)", argv[0], err)
	}
	r := &Recorder{cmd: cmd, cancel: cancel, errs: errs}
	// Closing the pipe frees a read that a grandchild's open end would hold.
	stop := context.AfterFunc(ctx, func() { _ = out.Close() })
	r.Sound, err = Open(out, rate)
	if err != nil {
		stop()
		if why := r.Close(); why != nil {
			return nil, why
		}
		return nil, err
	}
	return r, nil
}

// Close kills the recorder and waits for it. It returns nil when the recorder
// was still running well, else one sentence with what the recorder said.
func (r *Recorder) Close() error {
	r.once.Do(func() {
		r.cancel()
		err := r.cmd.Wait()
		var exit *exec.ExitError
		if errors.As(err, &exit) && exit.ExitCode() > 0 {
			said := r.errs.String()
			if said == "" {
				said = "it gave no reason"
			}
			r.err = fmt.Errorf("the recorder stopped with code %d: %s", exit.ExitCode(), said)
		}
	})
	return r.err
}

// tail keeps the last line that a program wrote to its standard error.
type tail struct {
	mu  sync.Mutex
	buf []byte
}

// Write keeps the end of what comes.
func (t *tail) Write(p []byte) (int, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.buf = append(t.buf, p...)
	if len(t.buf) > 2048 {
		t.buf = append(t.buf[:0], t.buf[len(t.buf)-2048:]...)
	}
	return len(p), nil
}

// String is the last line, cleaned of anything that a terminal would obey.
func (t *tail) String() string {
	t.mu.Lock()
	defer t.mu.Unlock()
	lines := strings.Split(strings.TrimSpace(strings.ToValidUTF8(string(t.buf), "")), "\n")
	clean := strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return -1
		}
		return r
	}, lines[len(lines)-1])
	if rs := []rune(clean); len(rs) > 200 {
		clean = string(rs[:200])
	}
	return strings.TrimSpace(clean)
}
