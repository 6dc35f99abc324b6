package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"bellout/storage"
	"bellout/tui"
	"bellout/tui/cmdline"
	"bellout/tui/ears"
	"bellout/tui/voice"
)

// listenRate is the rate of a raw recording, in samples a second, unless it is
// a WAV and says so itself: enough for the beep of any meter (2 to 4 kHz).
const listenRate = 16000

// openEars listens to a recorder's pipe, or to a WAV file. The closer ends it
// and says what was wrong with the recorder, if anything.
func openEars(ctx context.Context, spec string) (tui.Ears, func() error, error) {
	hint := `for example: --listen "arecord -q -t raw -f S16_LE -r 16000 -c 1"`
	if strings.EqualFold(filepath.Ext(spec), ".wav") {
		f, err := openPlain(spec)
		var special *problem
		switch {
		case errors.As(err, &special):
			return nil, nil, special
		case err != nil:
			return nil, nil, &problem{code: exitFailed, text: fmt.Sprintf("reading %s: %v", spec, storage.Reason(err)),
				hint: "check the name of the recording", err: err}
		}
		tape, err := openTape(f)
		if err != nil {
			f.Close()
			return nil, nil, inputProblem("--listen: "+err.Error(), "give a WAV recording, or the command of a recorder")
		}
		return tape, f.Close, nil
	}
	argv, err := cmdline.Split(spec)
	if err != nil {
		return nil, nil, usageProblem("--listen: "+err.Error(), hint)
	}
	rec, err := ears.Start(ctx, argv, listenRate)
	if err != nil {
		return nil, nil, &problem{code: exitFailed, text: "--listen: " + err.Error(), hint: hint, err: err}
	}
	return tui.NewEars(ears.New(rec.Sound, ears.DefaultPace())), rec.Close, nil
}

// openTape plays a WAV file in its own time: its head says how much of it is a
// second, then it is read anew from the start.
func openTape(f *os.File) (tui.Ears, error) {
	head, err := ears.Open(f, listenRate)
	if err != nil {
		return nil, err
	}
	if _, err := f.Seek(0, io.SeekStart); err != nil {
		return nil, storage.Reason(err)
	}
	sound, err := ears.Open(ears.Paced(f, head.BytesPerSecond()), listenRate)
	if err != nil {
		return nil, err
	}
	return tui.NewTape(ears.New(sound, ears.DefaultPace())), nil
}

// openVoice speaks through a program that takes text on its standard input.
func openVoice(spec string) (*voice.Voice, error) {
	hint := `for example: --speak "espeak-ng"`
	argv, err := cmdline.Split(spec)
	if err != nil {
		return nil, usageProblem("--speak: "+err.Error(), hint)
	}
	v, err := voice.New(argv, voice.OnStdin)
	if err != nil {
		return nil, usageProblem("--speak: "+err.Error(), hint)
	}
	return v, nil
}
