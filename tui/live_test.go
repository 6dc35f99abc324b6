package tui

import (
	"strings"
	"testing"
)

// A battery's voltage is no diode: nothing is recorded, wherever it is typed.
func TestAPodThatIsLive(t *testing.T) {
	const live = "12.4 V means that the pod is live: take its plug off or battery minus off, then read again"
	r := newRig(t, started(examplePod()), func(o *Options) { o.Quiet = true })
	for _, text := range []string{"3 2 dip=main 12.4V", "12.4V", "1 1 12400mV", "12.4v"} {
		r.press("/")
		r.enter(text)
		r.sees(live)
		r.press("esc")
	}
	r.press("m", "m", "/")
	r.enter("0.6 12.4")
	r.sees(live)
	r.press("esc")
	if n := len(r.a.ses.work.Readings); n != 0 {
		t.Fatalf("%d readings of a live pod", n)
	}
	r.press("/")
	r.enter("2.9")
	back := newRig(t, r.keep.log, func(o *Options) { o.Quiet = true })
	back.press("/")
	back.enter("3 2 12.4V")
	back.sees(live)
	if n := len(back.a.ses.work.Readings); n != 1 {
		t.Fatalf("%d readings, one was taken", n)
	}

	out, _ := talk(t, started(examplePod()), "3 2 12.4V\nquit\n", nil)
	if flat := strings.Join(strings.Fields(out), " "); !strings.Contains(flat, live) || strings.Contains(flat, "taken: ") {
		t.Errorf("in lines:\n%s", out)
	}
}
