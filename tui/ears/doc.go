// Package ears hears a meter's continuity beep in the sound of a garage.
//
// It is pure up to its edges: Calibrate learns the meter's tone from three
// seconds of sound, a Hearer turns samples into BeepStart and BeepEnd, and
// Steps turns those into one reading a step (beep, silence or flicker). Times
// are samples since the first one, never a wall clock, so the same sound
// always gives the same readings. Samples are float64 in -1..1, one channel.
//
// # How to wire it
//
//	rec, err := ears.Start(ctx, argv, 16000)  // argv from cmdline.Split(flag)
//	defer rec.Close()                         // kills the recorder
//	ear := ears.New(rec.Sound, ears.DefaultPace())
//	go ear.Idle(stop)                         // until the builder asks for ears; wait for its end
//	tone, err := ear.Learn(3 * time.Second)   // "touch the probes together now"
//	err = ear.Use(tone)                       // or a tone kept from before
//	n := ear.Begin(hands)                     // a step of the sweep begins, once it has been said
//	heard, err := ear.Next()                  // blocks; run it in a tea.Cmd
//	if heard.Number == n { ... }              // else of a step already left
//
// A WAV file or any other pipe is read with Open(reader, rate) in place of
// Start; Paced plays a file in its own time, as if it were live. Next returns each time a beep starts or ends and each time a step has
// its reading; the caller enters the reading, calls Begin for the next step and
// Next again. Keep calling Next also while no step is on, so that the recorder's
// pipe never fills with old sound. Begin and Cancel may be called from another
// goroutine than Next. Next returns io.EOF when the sound ends; with a recorder,
// rec.Close then says why. The package starts no goroutine of its own.
//
// A reading made by ear is an ordinary one: Beep is mapping.Sounded, Silence is
// mapping.Silent, Flickered is mapping.Flicker.
package ears
