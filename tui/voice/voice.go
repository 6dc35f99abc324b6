package voice

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

// Way says how the text reaches the speech program.
type Way int

// The two ways.
const (
	OnStdin Way = iota
	AsArgument
)

// Bounds on a speech program: no instruction is longer than a minute of
// speaking or a thousand characters.
const (
	longestSpeech = time.Minute
	longestText   = 1000
	mostFailures  = 3
)

// Voice speaks through one command. Its methods may be called by any goroutine.
type Voice struct {
	argv []string
	way  Way

	mu      sync.Mutex
	wake    *sync.Cond
	next    string
	pending bool
	cut     context.CancelFunc // ends what is being said
	closed  bool
	started bool
	failed  int
	trouble error
	done    chan struct{}
}

// New makes a voice of a command, which is looked up but not started yet.
func New(argv []string, way Way) (*Voice, error) {
	if len(argv) == 0 || argv[0] == "" {
		return nil, errors.New("no speech command was given: name a program that speaks what it is given")
	}
	if _, err := exec.LookPath(argv[0]); err != nil {
		return nil, fmt.Errorf("the speech program %q was not found: install it, or leave the voice off", argv[0])
	}
	v := &Voice{argv: argv, way: way, done: make(chan struct{})}
	v.wake = sync.NewCond(&v.mu)
	return v, nil
}

// Say speaks a text and returns at once; what is being said is broken off. A
// text with nothing to say in it only breaks off.
func (v *Voice) Say(text string) {
	v.mu.Lock()
	defer v.mu.Unlock()
	if v.closed || v.failed >= mostFailures {
		return
	}
	v.next, v.pending = clean(text), true
	if v.cut != nil {
		v.cut()
	}
	if !v.started {
		v.started = true
		go v.speak()
	}
	v.wake.Broadcast()
}

// Wait returns when all that was given to Say has been said or was broken off.
func (v *Voice) Wait() {
	if v.argv == nil {
		return
	}
	v.mu.Lock()
	defer v.mu.Unlock()
	for (v.pending || v.cut != nil) && !v.closed && v.failed < mostFailures {
		v.wake.Wait()
	}
}

// Trouble gives what went wrong since the last call, once; nil if all is well.
func (v *Voice) Trouble() error {
	v.mu.Lock()
	defer v.mu.Unlock()
	err := v.trouble
	v.trouble = nil
	return err
}

// Close breaks off and ends the voice. It waits until the program is gone, at
// most two seconds. Closing twice does no harm.
func (v *Voice) Close() {
	v.mu.Lock()
	v.closed = true
	if v.cut != nil {
		v.cut()
	}
	started := v.started
	v.wake.Broadcast()
	v.mu.Unlock()
	if !started {
		return
	}
	select {
	case <-v.done:
	case <-time.After(2 * time.Second):
	}
}

// speak says one text after the other until the voice is closed. A panic here
// must not leave the terminal raw, so it becomes trouble like any other.
func (v *Voice) speak() {
	defer close(v.done)
	defer func() {
		if p := recover(); p != nil {
			v.mu.Lock()
			defer v.mu.Unlock()
			v.failed, v.trouble = mostFailures, fmt.Errorf("the voice broke down and is off now: %v", p)
			v.wake.Broadcast()
		}
	}()
	for {
		v.mu.Lock()
		for !v.pending && !v.closed {
			v.wake.Wait()
		}
		if v.closed {
			v.mu.Unlock()
			return
		}
		text := v.next
		v.pending = false
		ctx, cut := context.WithTimeout(context.Background(), longestSpeech)
		v.cut = cut
		v.mu.Unlock()
		var err error
		if text != "" {
			err = v.run(ctx, text)
		}
		v.mu.Lock()
		broken := errors.Is(ctx.Err(), context.Canceled)
		v.cut = nil
		cut()
		switch {
		case broken:
		case err == nil:
			v.failed = 0
		default:
			v.failed++
			v.trouble = fmt.Errorf("the speech program failed: %w", err)
			if v.failed >= mostFailures {
				v.trouble = fmt.Errorf("the speech program failed %d times and is off now: %w", v.failed, err)
			}
		}
		v.wake.Broadcast()
		v.mu.Unlock()
	}
}

// run starts the program with the text and waits for it.
func (v *Voice) run(ctx context.Context, text string) error {
	args := v.argv[1:]
	if v.way == AsArgument {
		args = append(args[:len(args):len(args)], text)
	}
	cmd := exec.CommandContext(ctx, v.argv[0], args...)
	// A child that keeps our pipe must not keep us.
	cmd.WaitDelay = 500 * time.Millisecond
	if v.way == OnStdin {
		cmd.Stdin = strings.NewReader(text + "\n")
	}
	return cmd.Run()
}

// clean keeps what can be spoken: one line, no control or format characters,
// no leading dash that a program would take for an option.
func clean(text string) string {
	text = strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case !unicode.IsPrint(r):
			return -1
		}
		return r
	}, strings.ToValidUTF8(text, ""))
	text = strings.TrimLeft(strings.Join(strings.Fields(text), " "), "- ")
	if rs := []rune(text); len(rs) > longestText {
		text = string(rs[:longestText])
	}
	return text
}
